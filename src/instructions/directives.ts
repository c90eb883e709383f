/** Values inside running text: `:size[…]`, `:part[…]`, `:letter[…]`, `:count[…]`, `:angle[…]`, `:buy[…]`. */
import type { CutList } from '../cutting/types.ts';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { countFasteners, type Joinery, type JointPlace } from '../joinery/index.ts';
import type { Part, Plan } from '../model/types.ts';
import { nearest } from '../read/nearest.ts';
import type { HardwareItem } from '../read/types.ts';
import { type Run, text } from '../text.ts';
import { printed, printedAngle, sizeText } from '../units.ts';
import type { Inline } from './types.ts';
import { beginsSentence, capital, countWord, small } from './words.ts';

/** What a directive may ask about. `step` is the step it stands in: counts of fasteners are that step's there. */
export interface Context {
  readonly plan: Plan;
  readonly cutList: CutList;
  readonly joinery: Joinery;
  readonly step?: number;
}

export interface Asked {
  readonly name: string;
  /** Text between the brackets. */
  readonly label: string;
  /** Place of the label's first character. */
  readonly origin: Origin;
  /** Place behind its last character. */
  readonly end: Origin;
  /** Text of the paragraph so far, to know where a sentence begins. */
  readonly before: string;
}

type Answer = readonly Inline[] | Diagnostic;

/** One line a directive: what stands between the brackets, and how it prints. */
const ANSWERS: Readonly<Record<string, (asked: Asked, context: Context) => Answer>> = {
  size: sizeAnswer,
  angle: angleAnswer,
  part: partAnswer,
  letter: letterAnswer,
  count: countAnswer,
  buy: buyAnswer,
};

/** What may stand between the brackets of each. */
const EXAMPLES: Readonly<Record<string, string>> = {
  size: 'leg.length',
  angle: '12 deg',
  part: 'leg',
  letter: 'leg',
  count: 'leg',
  buy: 'utility-hook',
};

export const directiveNames = Object.keys(ANSWERS).sort();

/** What a directive prints, or what is wrong with it; `undefined` for a name that is none of ours. */
export function answer(asked: Asked, context: Context): Answer | undefined {
  const make = Object.hasOwn(ANSWERS, asked.name) ? ANSWERS[asked.name] : undefined;
  if (make && asked.label.trim() === '')
    return fault('directive.label', asked.origin, {
      expected: `:${asked.name}[…] with what it prints between its brackets, both of them on one line`,
      found: `:${asked.name} without it`,
      hint: `:${asked.name}[${EXAMPLES[asked.name] ?? ''}]`,
    });
  return make?.(asked, context);
}

/** The value of what stands between the brackets. */
function evaluated({ label, origin, end }: Asked, plan: Plan): ReturnType<Plan['evaluate']> {
  const result = plan.evaluate(label, origin);
  if (!result.problem) return result;
  return {
    ...result,
    problem: { ...result.problem, origin: wrapped(result.problem.origin, label, { origin, end }) },
  };
}

/**
 * A place in a label, counted on from its beginning as if it were one line, as the place in the file: an editor may have wrapped it.
 * What precedes a line in the middle of three isn't known here, a list's indent for instance; it takes the label's beginning.
 */
function wrapped(place: Origin, label: string, { origin, end }: Pick<Asked, 'origin' | 'end'>): Origin {
  const last = Math.max(label.lastIndexOf('\n'), label.lastIndexOf('\r'));
  const offset = place.column - origin.column;
  const typed = [...label];
  if (last < 0 || !/[\r\n]/.test(typed.slice(0, offset).join(''))) return place;
  const behind = typed.length - offset;
  return behind <= [...label.slice(last + 1)].length ? { ...end, column: end.column - behind } : origin;
}

function sizeAnswer(asked: Asked, { plan }: Context): Answer {
  const { quantity, problem } = evaluated(asked, plan);
  if (problem) return problem;
  if (quantity?.kind !== 'length') {
    return fault('directive.size', asked.origin, {
      expected: 'a length between the brackets of :size[…]',
      found: quantity ? `${article(quantity.kind)} (${asked.label})` : `"${asked.label}"`,
      hint: 'write a size, a part’s size or a formula, for instance :size[shelf-height] or :size[leg.length]',
    });
  }
  const size = printed(quantity.value, plan.edition.numbers);
  if (size.negative) {
    return fault('directive.size-negative', asked.origin, {
      expected: 'a size that is not below zero between the brackets of :size[…]',
      found: `${sizeText(size)} (${asked.label})`,
      hint: 'of two places the farther one comes first; check too that the parts lie as you mean',
      edition: plan.edition.key,
    });
  }
  return [{ kind: 'size', size }];
}

function angleAnswer(asked: Asked, { plan }: Context): Answer {
  const { quantity, problem } = evaluated(asked, plan);
  if (problem) return problem;
  if (quantity?.kind !== 'angle') {
    return fault('directive.angle', asked.origin, {
      expected: 'an angle between the brackets of :angle[…]',
      found: quantity ? `${article(quantity.kind)} (${asked.label})` : `"${asked.label}"`,
      hint: 'write an angle or a formula that gives one, for instance :angle[12 deg]',
    });
  }
  return [text(printedAngle(quantity.value))];
}

const article = (kind: string): string => (/^[aeiou]/.test(kind) ? `an ${kind}` : `a ${kind}`);

/** A part, or its first or last course: `back-board.first`. */
interface Named {
  readonly part: Part;
  readonly copies: ReadonlySet<string>;
}

function findPart(asked: Asked, plan: Plan): Named | Diagnostic {
  const [key, course] = asked.label.trim().split('.', 2);
  const part = plan.parts.find((item) => item.key === key);
  if (part && (course === undefined || (part.courses && (course === 'first' || course === 'last')))) {
    const number = course === 'first' ? 1 : part.courses?.count;
    const copies = part.copies.filter((copy) => course === undefined || copy.course === number);
    return { part, copies: new Set(copies.map((copy) => copy.id)) };
  }
  const keys = plan.parts.map((item) => item.key);
  const near = nearest(asked.label.trim(), keys);
  return fault('directive.part', asked.origin, {
    expected: `a part of this plan between the brackets of :${asked.name}[…]`,
    found: `"${asked.label}"`,
    hint: near === undefined ? `the parts are ${keys.join(', ')}` : `did you mean :${asked.name}[${near}]?`,
  });
}

const isPart = (value: Named | Diagnostic): value is Named => 'copies' in value;

/** Letters of a part's rows: two where its courses differ and none of them is named. */
function lettersOf({ part, copies }: Named, cutList: CutList): Run[] {
  const all = cutList.rows.filter((row) => row.part === part.key);
  const named = all.filter((row) => row.copies.some((copy) => copies.has(copy)));
  const letters = (copies.size < part.copies.length ? named : all).map((row) => row.letter);
  return letters.flatMap((letter, index): Run[] =>
    index === 0
      ? [{ kind: 'letter', letter }]
      : [text(index === letters.length - 1 ? ' and ' : ', '), { kind: 'letter', letter }],
  );
}

function partAnswer(asked: Asked, { plan, cutList }: Context): Answer {
  const named = findPart(asked, plan);
  if (!isPart(named)) return named;
  const { name } = named.part;
  const said = beginsSentence(asked.before) ? capital(name) : small(name);
  return [text(`${said} `), ...lettersOf(named, cutList)];
}

function letterAnswer(asked: Asked, { plan, cutList }: Context): Answer {
  const part = findPart(asked, plan);
  return isPart(part) ? lettersOf(part, cutList) : part;
}

const JOINT_KINDS = ['pocket screws', 'screws', 'nails', 'glue'] as const;

function countAnswer(asked: Asked, context: Context): Answer {
  const label = asked.label.trim();
  const count = countOf(label, context);
  const word = (value: number) =>
    text(beginsSentence(asked.before) ? capital(countWord(value)) : countWord(value));
  if (count === 0 && context.step !== undefined) return noneHere(label, asked, context);
  if (count !== undefined) return [word(count)];
  const { quantity, problem } = evaluated(asked, context.plan);
  if (quantity?.kind === 'number') return [word(quantity.value)];
  const known = [
    ...JOINT_KINDS.slice(0, 3),
    ...context.plan.parts.map((part) => part.key),
    ...context.plan.hardware.map((use) => use.item.key),
  ];
  const near = nearest(label, known);
  if (problem && near === undefined) return problem;
  return fault('directive.count', asked.origin, {
    expected: 'fasteners, a part or hardware to count between the brackets of :count[…]',
    found: `"${asked.label}"`,
    hint:
      near === undefined
        ? 'for instance :count[pocket screws] or :count[leg]'
        : `did you mean :count[${near}]?`,
  });
}

/** A step that counts fasteners which none of its joints has: what there is, and where the others are. */
function noneHere(label: string, asked: Asked, { joinery, step }: Context): Answer {
  const here = [...new Set(countFasteners(joinery.bySteps.get(step ?? 0) ?? []).map(({ kind }) => kind))];
  const there = [...joinery.bySteps].flatMap(([index, places]) =>
    countFasteners(places).some(({ kind }) => kind === label) ? [index] : [],
  );
  return fault('directive.none', asked.origin, {
    expected: `${label} in the joints of this step`,
    found: 'none',
    hint:
      here.length > 0
        ? `it has ${here.join(' and ')}: write :count[${here[0]}]`
        : there.length > 0
          ? `they come in step ${there.sort((a, b) => a - b).join(' and ')}, where the later of the joined parts is added`
          : 'leave it out, or write the joint',
  });
}

function countOf(label: string, { plan, joinery, step }: Context): number | undefined {
  if ((JOINT_KINDS as readonly string[]).includes(label)) {
    const places: readonly JointPlace[] =
      step === undefined ? joinery.places : (joinery.bySteps.get(step) ?? []);
    return countFasteners(places).reduce((sum, item) => sum + (item.kind === label ? item.count : 0), 0);
  }
  const part = plan.parts.find((item) => item.key === label);
  if (part) return part.copies.length;
  const uses = plan.hardware.filter((use) => use.item.key === label);
  return uses.length > 0 ? uses.reduce((sum, use) => sum + use.count, 0) : undefined;
}

function buyAnswer(asked: Asked, { plan, joinery }: Context): Answer {
  const key = asked.label.trim();
  const items: HardwareItem[] = [
    ...plan.hardware.map((use) => use.item),
    ...joinery.fasteners.map((use) => use.item),
  ];
  const item = items.find((candidate) => candidate.key === key);
  if (!item) {
    const keys = [...new Set(items.map((candidate) => candidate.key))];
    const near = nearest(key, keys);
    return fault('directive.buy', asked.origin, {
      expected: 'an item of this plan’s hardware between the brackets of :buy[…]',
      found: `"${asked.label}"`,
      hint:
        near === undefined
          ? `the plan uses ${keys.join(', ') || 'no hardware'}`
          : `did you mean :buy[${near}]?`,
    });
  }
  // in a sentence without what comes after a comma: what it is of and how it is sold stands in the lists
  const short = item.name.split(',', 1)[0] as string;
  const name = beginsSentence(asked.before) ? capital(short) : small(short);
  return item.link === undefined ? [text(name)] : [{ kind: 'link', href: item.link, children: [text(name)] }];
}
