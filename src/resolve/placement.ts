/** Where a part stands: its faces, one at a time, each from the statement that gives it or from the opposite face and the size. */
import type { Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import { quoted } from '../read/node.ts';
import type { CopySource, Direction, Face, Written } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { directionOf, FACES_OF, isLow, mirrorDirection, oppositeOf } from './directions.ts';
import type { PartFacts } from './facts.ts';
import { depthAt, depthInto, endKeys, housingsOf } from './housings.ts';
import { nameHint } from './names.ts';
import { bodyOf, extentOf, isPosed, placedFace } from './pose.ts';
import { figure } from './quantities.ts';
import type { Span } from './types.ts';

/** Size of the outline along a direction, mm; undefined after a report where it isn't above 0. */
export function outlineSize(context: Context, direction: Direction, origin?: Origin): number | undefined {
  const side = ({ across: 'width', deep: 'depth', up: 'height' } as const)[direction];
  const written = context.source.outline[side];
  return numberOf(context, `outline.${side}`, written, 'length', origin, (size) =>
    size > 0
      ? undefined
      : fault('outline.size', written.origin, { expected: `a ${side} above 0`, found: written.text }),
  );
}

/** The formula that gives a face outright: of `at`, or of a laid part's `from` and `to`. */
function statement({ source, widthAlong }: PartFacts, face: Face): Written | undefined {
  const { lay } = source;
  if (lay && directionOf(face) === widthAlong) return isLow(face) === lay.reversed ? lay.to : lay.from;
  return source.at[face];
}

/**
 * Coordinate of a face, mm from the outline's left, front or floor; of a laid part, of the whole field of its courses.
 * Undefined where it can't be known; the fault is reported, here or by the check of statements.
 */
export function faceOf(context: Context, facts: PartFacts, face: Face, origin: Origin): number | undefined {
  const { key, runs, between } = facts.source;
  const name = `${key}.${face}`;
  const given = statement(facts, face);
  const direction = directionOf(face);
  if (given) {
    const at = numberOf(context, name, given, 'length', origin);
    if (direction !== runs.value || between || at === undefined || housingsOf(context, facts).length === 0)
      return at;
    return context.graph.value(`${name} with its housing`, origin, () => {
      const depth = depthAt(context, facts, direction, isLow(face) ? 'low' : 'high', at, origin);
      return depth === undefined ? undefined : isLow(face) ? at - depth : at + depth;
    });
  }
  return context.graph.value(name, origin, () => {
    const posed = isPosed(context, facts);
    const known = posed ? placedFace(context, facts, face, origin) : 'elsewhere';
    if (known !== 'elsewhere') return known;
    if (direction === facts.source.runs.value && facts.source.between) {
      const span = betweenSpan(context, facts);
      return span && (isLow(face) ? span.low : span.high);
    }
    const other = oppositeOf(face);
    if (!statement(facts, other)) return undefined;
    const start = faceOf(context, facts, other, facts.source.origin);
    const size = posed
      ? extentOf(context, facts, direction, facts.source.origin)
      : sizeOf(context, facts, direction, facts.source.origin);
    if (start === undefined || size === undefined) return undefined;
    return isLow(face) ? start - size : start + size;
  });
}

const distance = (context: Context, facts: PartFacts, direction: Direction): number | undefined => {
  const [low, high] = FACES_OF[direction];
  const from = faceOf(context, facts, low, facts.source.origin);
  const to = faceOf(context, facts, high, facts.source.origin);
  return from === undefined || to === undefined ? undefined : to - from;
};

/** Size of a board along a direction: thickness, width (of a whole course, where laid) or length; mm. */
export function sizeOf(
  context: Context,
  facts: PartFacts,
  direction: Direction,
  origin: Origin,
): number | undefined {
  const { source, stock } = facts;
  const { key } = source;
  if (direction === facts.thickAlong) return stock?.thickness;
  const course = source.lay !== undefined && direction === facts.widthAlong;
  if (!course && isPosed(context, facts)) {
    const size = bodyOf(context, facts, origin)?.size;
    return direction === source.runs.value ? size?.length : size?.width;
  }
  if (direction === source.runs.value) {
    if (source.length) return numberOf(context, `${key}.length`, source.length, 'length', origin);
    // With one face and no length the check of statements says what is missing.
    if (!source.between && !FACES_OF[direction].every((face) => source.at[face])) return undefined;
    return context.graph.value(`${key}.length`, origin, () => distance(context, facts, direction));
  }
  if (source.rip) return numberOf(context, `${key}.width`, source.rip, 'length', origin);
  const both = FACES_OF[direction].every((face) => source.at[face]);
  if (both && !source.lay)
    return context.graph.value(`${key}.width`, origin, () => distance(context, facts, direction));
  // a sheet has no width of its own to give
  return stock?.sheets ? undefined : stock?.cover;
}

/** Name of a number of a rule for copies: `leg.spacing`, and for later rules `leg.spacing (rule 2)`. */
const ruleName = (facts: PartFacts, what: string, index: number): string =>
  `${facts.source.key}.${what}${index === 0 ? '' : ` (rule ${index + 1})`}`;

/** From a copy to the next under a rule of repetition; negative towards left, front or floor; mm. */
export function stepOf(
  context: Context,
  facts: PartFacts,
  index: number,
  origin: Origin,
): number | undefined {
  const { source } = facts;
  const rule = source.copies[index] as CopySource;
  if (rule.kind !== 'repeated') return undefined;
  const name = ruleName(facts, 'spacing', index);
  if (rule.spacing) return numberOf(context, name, rule.spacing, 'length', origin);
  const { to } = rule;
  if (!to) return undefined;
  return context.graph.value(name, origin, () => {
    const count = countOf(context, facts, index, origin);
    const end = numberOf(context, ruleName(facts, 'to', index), to, 'length');
    const [low, high] = FACES_OF[rule.along].map((face) => faceOf(context, facts, face, to.origin));
    if (count === undefined || end === undefined || low === undefined || high === undefined) return undefined;
    if (count < 2 || (end < high && end > low)) {
      const { numbers } = context.edition;
      context.report(
        fault('copies.to', to.origin, {
          expected: count < 2 ? 'two copies or more where "to" spaces them' : 'a place beyond the first copy',
          found:
            count < 2
              ? '1'
              : `${figure(end, numbers)}, within ${figure(low, numbers)} to ${figure(high, numbers)}`,
          parts: [source.key],
        }),
      );
      return undefined;
    }
    return (end >= high ? end - high : end - low) / (count - 1);
  });
}

/** Copies in all under a rule of repetition, the first included. */
export function countOf(
  context: Context,
  facts: PartFacts,
  index: number,
  origin: Origin,
): number | undefined {
  const rule = facts.source.copies[index] as CopySource;
  if (rule.kind !== 'repeated') return 2;
  return numberOf(context, ruleName(facts, 'copies', index), rule.count, 'count', origin);
}

const ruleDirection = (rule: CopySource): Direction =>
  rule.kind === 'mirrored' ? mirrorDirection(rule.across) : rule.along;

/** Index of the first rule that makes a copy along a direction; −1 where there is none. */
export const ruleAlong = (facts: PartFacts, direction: Direction): number =>
  facts.source.copies.findIndex((rule) => ruleDirection(rule) === direction);

/** The part a `between` names; undefined where there is none. */
export const target = (context: Context, written: Written): PartFacts | undefined =>
  context.parts.get(written.text.trim());

/** Checks the names of `between`, and that a part named alone has a second copy along the length. Once a part. */
export function checkBetween(context: Context, facts: PartFacts): void {
  const { key, between, runs } = facts.source;
  for (const written of between ?? []) {
    const other = target(context, written);
    if (!other) {
      context.report(
        fault('name.unknown', written.origin, {
          expected: 'the name of a part',
          found: quoted(written.text),
          ...nameHint(written.text, [...context.parts.keys()]),
          parts: [key],
        }),
      );
    } else if (between?.length === 1 && ruleAlong(other, runs.value) < 0) {
      const mirror = FACES_OF[runs.value].join('-');
      context.report(
        fault('between.one', written.origin, {
          expected: `a second "${other.source.key}" ${FACES_OF[runs.value].join(' to ')} of the first`,
          found: 'one',
          hint: `give "${other.source.key}" copies: mirrored ${mirror}; or write between: [${other.source.key}, another part]`,
          parts: [key, other.source.key],
        }),
      );
    }
  }
}

/** From the facing face of one part (or copy) to that of the other, along the length, and what goes into housings at both ends. */
export function betweenSpan(context: Context, facts: PartFacts): Span | undefined {
  const { between = [], runs, origin } = facts.source;
  const direction = runs.value;
  const spans = between.map((written): Span | undefined => {
    const other = target(context, written);
    return other && spanOf(context, other, direction, written.origin);
  });
  const [one, two] =
    spans.length === 1 ? [spans[0], secondCopy(context, between[0] as Written, direction, spans[0])] : spans;
  if (!one || !two) return undefined;
  const clear = one.low <= two.low ? { low: one.high, high: two.low } : { low: two.high, high: one.low };
  if (housingsOf(context, facts).length === 0) return clear;
  const keys = between.map((one) => one.text.trim());
  return context.graph.value(`${facts.source.key} between ${keys.join(' and ')}`, origin, () => {
    const [low, high] = (endKeys(context, facts) ?? []).map((key) => depthInto(context, facts, key, origin));
    return low === undefined || high === undefined
      ? undefined
      : { low: clear.low - low, high: clear.high + high };
  });
}

function secondCopy(
  context: Context,
  written: Written,
  direction: Direction,
  first: Span | undefined,
): Span | undefined {
  const other = target(context, written);
  const index = other ? ruleAlong(other, direction) : -1;
  if (!other || index < 0 || !first) return undefined;
  if (other.source.copies[index]?.kind === 'mirrored') {
    const size = outlineSize(context, direction, written.origin);
    return size === undefined ? undefined : { low: size - first.high, high: size - first.low };
  }
  const step = stepOf(context, other, index, written.origin);
  return step === undefined ? undefined : { low: first.low + step, high: first.high + step };
}

/** Both faces of a part along a direction. */
export function spanOf(
  context: Context,
  facts: PartFacts,
  direction: Direction,
  origin: Origin,
): Span | undefined {
  const [low, high] = FACES_OF[direction].map((face) => faceOf(context, facts, face, origin));
  return low === undefined || high === undefined ? undefined : { low, high };
}
