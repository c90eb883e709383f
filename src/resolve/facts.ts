/** What is known of a part before any size: its board, how the board lies, and which statements place it. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Direction, Edition, Face, PartSource, StockItem, Written } from '../read/types.ts';
import { DIRECTIONS, directionOf, FACES_OF, fromTo, thirdOf } from './directions.ts';
import { figure } from './quantities.ts';

export interface PartFacts {
  readonly source: PartSource;
  /** Undefined where the stock list has no such board; reported. */
  readonly stock: StockItem | undefined;
  readonly wideFace: Face;
  readonly thickAlong: Direction;
  readonly widthAlong: Direction;
  /** True where the board's lie was faulty; its statements aren't checked then. */
  readonly broken: boolean;
}

const DEFAULT_FACE: Readonly<Record<Direction, Face>> = { across: 'left', deep: 'front', up: 'top' };

/**
 * How the board lies. Where the author doesn't say: courses lie flat in the plane of laying; a direction with both faces given
 * is the width's; else the board stands on edge (running across or up it faces the front, running deep the left), as rails do.
 */
export function factsOf(
  part: PartSource,
  stock: StockItem | undefined,
  report: (diagnostic: Diagnostic) => void,
): PartFacts {
  const runs = part.runs.value;
  const lay = part.lay && part.lay.along !== runs ? part.lay : undefined;
  const others = DIRECTIONS.filter((direction) => direction !== runs);
  const usual = runs === 'deep' ? 'across' : 'deep';
  const both = others.filter((direction) => FACES_OF[direction].every((face) => part.at[face] !== undefined));
  const width = lay?.along ?? (both.length === 1 ? (both[0] as Direction) : thirdOf(runs, usual));
  const facts = (wideFace: Face, broken: boolean): PartFacts => ({
    source: part,
    stock,
    wideFace,
    thickAlong: directionOf(wideFace),
    widthAlong: thirdOf(runs, directionOf(wideFace)),
    broken,
  });
  const usualFace = DEFAULT_FACE[thirdOf(runs, width)];
  const parts = [part.key];
  if (part.lay && !lay) {
    const said = { expected: `courses laid in a direction across their length`, found: fromTo(runs) };
    const hint = `they run ${runs}: lay them ${others.map((one) => FACES_OF[one].join(' to ')).join(', or ')}`;
    report(fault('lay.along', part.lay.origin, { ...said, hint, parts }));
    return facts(usualFace, true);
  }
  const given = part.wideFace;
  if (!given) return facts(usualFace, false);
  const direction = directionOf(given.value);
  if (direction === runs || direction === lay?.along) {
    const fits = (lay ? [thirdOf(runs, lay.along)] : others).flatMap((one) => FACES_OF[one]);
    const why =
      direction === runs
        ? `"${part.key}" runs ${runs}, so an end looks there`
        : 'the courses lie side by side there';
    report(
      fault('part.wide-face', given.origin, {
        expected: `one of ${fits.join(', ')}`,
        found: given.value,
        hint: why,
        parts,
      }),
    );
    return facts(usualFace, true);
  }
  return facts(given.value, false);
}

const later = (a: Origin, b: Origin): Origin =>
  a.line > b.line || (a.line === b.line && a.column >= b.column) ? a : b;

/** What the statements checker needs to know of values, for the figures in its messages. */
export interface Measures {
  readonly edition: Edition;
  readonly report: (diagnostic: Diagnostic) => void;
  /** mm; undefined where unknown. */
  readonly size: (facts: PartFacts, direction: Direction, origin: Origin) => number | undefined;
  readonly lengthOf: (written: Written, what: string) => number | undefined;
}

/** Checks that each direction of a part is given once: a face and a size, or both faces; no less, no more. */
export function checkStatements(facts: PartFacts, measures: Measures): void {
  if (facts.broken) return;
  const across = facts.source.brace && thirdDirection(facts);
  for (const direction of DIRECTIONS) {
    if (across && direction !== across) {
      for (const [face, written] of givenFaces(facts.source, direction))
        measures.report(
          fault('part.overplaced', written.origin, {
            expected: `nothing more ${fromTo(direction)}, since "brace" gives "${facts.source.key}" its place there`,
            found: `${face} in "at"`,
            hint: `leave ${face} out`,
            parts: [facts.source.key],
          }),
        );
      continue;
    }
    // That a brace runs out of its own plane is said where its ends are.
    if (across && across === facts.source.runs.value) continue;
    if (direction === facts.source.runs.value) checkLength(facts, direction, measures);
    else checkSection(facts, direction, measures);
  }
}

function givenFaces(part: PartSource, direction: Direction): readonly (readonly [Face, Written])[] {
  return FACES_OF[direction].flatMap((face) => {
    const written = part.at[face];
    return written ? [[face, written] as const] : [];
  });
}

const example: Readonly<Record<Face, string>> = {
  left: 'left: left',
  right: 'right: right',
  front: 'front: front',
  back: 'back: back',
  bottom: 'bottom: floor',
  top: 'top: top',
};

function checkLength(facts: PartFacts, direction: Direction, measures: Measures): void {
  const { source } = facts;
  const { key, length, between } = source;
  const { report, edition } = measures;
  const faces = givenFaces(source, direction);
  const [low, high] = FACES_OF[direction];
  const parts = [key];
  if (between) {
    const extra = [
      ...faces.map(([face, written]) => [`${face} in "at"`, written] as const),
      ...(length ? [['length', length] as const] : []),
    ];
    for (const [what, written] of extra)
      report(
        fault('part.overplaced', written.origin, {
          expected: `nothing more ${fromTo(direction)}, since "between" gives "${key}" its place and length there`,
          found: what,
          hint: 'leave one of the two out',
          parts,
        }),
      );
    return;
  }
  const count = faces.length + (length ? 1 : 0);
  if (count === 2) return;
  if (count > 2 && length) {
    const [a, b] = [faces[0]?.[1] as Written, faces[1]?.[1] as Written];
    const from = measures.lengthOf(a, `${key}.${low}`);
    const to = measures.lengthOf(b, `${key}.${high}`);
    const stated = measures.lengthOf(length, `${key}.length`);
    const figures =
      from === undefined || to === undefined || stated === undefined
        ? ''
        : Math.abs(to - from - stated) < 0.01
          ? `, which say the same`
          : `: the faces are ${figure(to - from, edition.numbers)} apart, the length is ${figure(stated, edition.numbers)}`;
    report(
      fault('part.overplaced', later(later(a.origin, b.origin), length.origin), {
        expected: `two of ${low}, ${high} and length for "${key}"`,
        found: `all three${figures}`,
        hint: 'leave out the one that should follow from the others',
        parts,
      }),
    );
    return;
  }
  const face = faces[0]?.[0];
  const missing = face === undefined ? `${low} or ${high}` : face === low ? high : low;
  report(
    fault('part.unplaced', source.origin, {
      expected: length
        ? `a face that places "${key}" ${fromTo(direction)}: ${low} or ${high}`
        : face === undefined
          ? `a length and a face, or both faces, for "${key}" ${fromTo(direction)}`
          : `a second statement for the length of "${key}": ${missing} or length`,
      found: length ? 'its length alone' : face === undefined ? 'neither' : `${face} alone`,
      hint: length
        ? `add to "at", for example ${example[low]}`
        : face === undefined
          ? `add to "at", for example ${example[low]} and ${example[high]}; or write between: and the part it fits between`
          : `add ${example[missing as Face]} to "at", or write length:`,
      parts,
    }),
  );
}

function checkSection(facts: PartFacts, direction: Direction, measures: Measures): void {
  const { source, stock } = facts;
  const { key, rip, lay } = source;
  const faces = givenFaces(source, direction);
  const [low, high] = FACES_OF[direction];
  const isWidth = direction === facts.widthAlong;
  const parts = [key];
  if (isWidth && lay) {
    for (const [face, written] of faces)
      measures.report(
        fault('part.overplaced', written.origin, {
          expected: `nothing more ${fromTo(direction)}, since "from" and "to" say where the courses of "${key}" lie`,
          found: `${face} in "at"`,
          hint: `leave ${face} out`,
          parts,
        }),
      );
    return;
  }
  const takesBoth = isWidth && !rip && (!source.lean || isStraight(facts)) && !source.brace;
  if (faces.length === 1 || (faces.length === 2 && takesBoth)) return;
  const what = isWidth ? 'width' : 'thickness';
  if (faces.length === 0) {
    measures.report(
      fault('part.unplaced', source.origin, {
        expected: `a face that places "${key}" ${fromTo(direction)}: ${low} or ${high}`,
        found: 'neither',
        hint: `add to "at", for example ${example[low]}`,
        parts,
      }),
    );
    return;
  }
  const [a, b] = [faces[0]?.[1] as Written, faces[1]?.[1] as Written];
  const from = measures.lengthOf(a, `${key}.${low}`);
  const to = measures.lengthOf(b, `${key}.${high}`);
  const size = measures.size(facts, direction, a.origin);
  const { numbers } = measures.edition;
  const figures =
    from === undefined || to === undefined || size === undefined
      ? ''
      : Math.abs(to - from - size) < 0.01
        ? ''
        : `, which are ${figure(to - from, numbers)} apart`;
  const has = size === undefined ? '' : ` of ${figure(size, numbers)}`;
  measures.report(
    fault('part.overplaced', later(a.origin, b.origin), {
      expected: `${low} or ${high} for "${key}", whose ${what}${has} comes from ${isWidth && rip ? 'its rip' : (stock?.key ?? 'its stock')}`,
      found: `both${figures}`,
      hint: 'leave one of the two out',
      parts,
    }),
  );
}

/** True where a part's length keeps along its axis: it doesn't lean, or only rolls about its length. */
export const isStraight = ({ source, thickAlong }: PartFacts): boolean => {
  const { lean, runs } = source;
  if (!lean) return true;
  if (lean.kind === 'lean') return runs.value !== 'up';
  return (
    thickAlong === 'up' && !Object.keys(lean.angles).some((face) => directionOf(face as Face) === runs.value)
  );
};

/** The direction across the plane of a brace: the one that neither end names. */
export function thirdDirection(facts: PartFacts): Direction {
  const { brace, runs } = facts.source;
  const named = new Set<Direction>(
    [brace?.from, brace?.to].flatMap((end) =>
      Object.keys(end?.values ?? {}).map((key) =>
        (DIRECTIONS as readonly string[]).includes(key) ? (key as Direction) : directionOf(key as Face),
      ),
    ),
  );
  const left = DIRECTIONS.filter((direction) => !named.has(direction));
  return left[0] ?? thirdOf(runs.value, runs.value === 'up' ? 'across' : 'up');
}
