/**
 * Ends that go into a housing: the part is so much longer there. Where it meets its neighbour is what `between` or a face says; length
 * and faces in formulas are those of the whole board.
 */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Direction, Face, JointSource } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { DIRECTIONS, FACES_OF, mirrorDirection } from './directions.ts';
import type { PartFacts } from './facts.ts';
import { countOf, faceOf, outlineSize, spanOf, stepOf } from './placement.ts';
import { poseOf } from './pose.ts';
import type { PlaceValues } from './pose-types.ts';
import { figure } from './quantities.ts';
import type { HousedEnd, Span } from './types.ts';

/** An end this near to its neighbour's face meets it, mm. */
const MEETS = 0.02;
/** Most copies of a neighbour that are looked through for one that an end meets. */
const MOST_COPIES = 1000;

type End = HousedEnd['end'];

interface Housing {
  readonly index: number;
  readonly source: JointSource;
  readonly to: string;
}

/** The joints that house ends of a part, in the file's order. */
export const housingsOf = (
  { source: plan }: Pick<Context, 'source'>,
  { source }: PartFacts,
): readonly Housing[] =>
  plan.joints.flatMap((joint, index) =>
    joint.by.value === 'housing' && joint.join.text.trim() === source.key
      ? [{ index, source: joint, to: joint.to.text.trim() }]
      : [],
  );

/** How deep a joint's housing is, mm; undefined after a report. */
export function depthOf(context: Context, index: number, origin?: Origin): number | undefined {
  const joint = context.source.joints[index];
  const depth = joint?.depth;
  if (!joint || !depth) return undefined;
  const check = (value: number): Diagnostic | undefined =>
    value > 0
      ? undefined
      : fault('joint.depth', depth.origin, {
          expected: `a depth above 0 for the housing of "${joint.join.text.trim()}" in "${joint.to.text.trim()}"`,
          found: figure(value, context.edition.numbers),
          hint: 'a third of the board that it is cut into is usual',
        });
  return numberOf(context, `the depth of joint ${index + 1}`, depth, 'length', origin ?? depth.origin, check);
}

/** How far before faces of the second part a housing stops, mm. */
export function stopsOf(context: Context, index: number): PlaceValues {
  const stopped = context.source.joints[index]?.stopped?.values ?? {};
  const found = Object.entries(stopped).flatMap(([face, written]) => {
    if (!written) return [];
    const name = `where joint ${index + 1} stops before the ${face}`;
    const check = (value: number): Diagnostic | undefined =>
      value > 0
        ? undefined
        : fault('joint.stopped', written.origin, {
            expected: `a distance above 0 from the ${face}`,
            found: figure(value, context.edition.numbers),
            hint: `leave "${face}" out, so that the housing runs through there`,
          });
    const value = numberOf(context, name, written, 'length', written.origin, check);
    return value === undefined ? [] : [[face, value] as const];
  });
  return Object.fromEntries(found);
}

/** How much longer a part is at an end that lies against a given neighbour, mm: 0 where no joint houses it there. */
export function depthInto(
  context: Context,
  facts: PartFacts,
  neighbour: string,
  origin: Origin,
): number | undefined {
  const housing = housingsOf(context, facts).find((one) => one.to === neighbour);
  return housing ? depthOf(context, housing.index, origin) : 0;
}

/**
 * Where the copies of a part have their lower or higher faces along a direction, the first one first: what the others need is worked
 * out only when they are asked for.
 */
function* facesAlong(
  context: Context,
  facts: PartFacts,
  direction: Direction,
  looking: End,
  origin: Origin,
): Generator<number> {
  const faceIn = ({ low, high }: Span): number => (looking === 'low' ? low : high);
  const first = faceOf(context, facts, FACES_OF[direction][looking === 'low' ? 0 : 1], origin);
  if (first === undefined) return;
  yield first;
  let all: Span[] = [];
  for (const [index, rule] of facts.source.copies.entries()) {
    const along = rule.kind === 'mirrored' ? mirrorDirection(rule.across) : rule.along;
    if (along !== direction) continue;
    const span = spanOf(context, facts, direction, origin);
    if (!span) return;
    if (all.length === 0) all = [span];
    const more: Span[] = [];
    if (rule.kind === 'mirrored') {
      const size = outlineSize(context, direction, origin);
      if (size === undefined) return;
      more.push(...all.map(({ low, high }) => ({ low: size - high, high: size - low })));
    } else {
      const step = stepOf(context, facts, index, origin);
      const count = countOf(context, facts, index, origin);
      if (step === undefined || count === undefined) return;
      for (let i = 1; i < Math.min(count, MOST_COPIES); i++)
        more.push(...all.map(({ low, high }) => ({ low: low + i * step, high: high + i * step })));
    }
    if (all.length + more.length > MOST_COPIES) return;
    yield* more.map(faceIn);
    all = [...all, ...more];
  }
}

/** True where a neighbour has a face at a place, looking at the end. */
function meets(
  context: Context,
  direction: Direction,
  { to, source: joint }: Housing,
  end: End,
  at: number,
): boolean {
  const other = context.parts.get(to);
  if (!other) return false;
  const looking = end === 'low' ? 'high' : 'low';
  for (const face of facesAlong(context, other, direction, looking, joint.to.origin))
    if (Math.abs(face - at) < MEETS) return true;
  return false;
}

/**
 * How far an end that lies against a face goes in there, mm: 0 where no joint houses it.
 * @param direction across that face; the end looks to its lower or higher side
 * @param at where that face lies
 */
export function depthAt(
  context: Context,
  facts: PartFacts,
  direction: Direction,
  end: End,
  at: number,
  origin: Origin,
): number | undefined {
  const housing = housingsOf(context, facts).find((one) => meets(context, direction, one, end, at));
  return housing ? depthOf(context, housing.index, origin) : 0;
}

/** Every end of a part that goes into a housing. Undefined where a depth isn't known; reported. */
export function housedEnds(context: Context, facts: PartFacts): readonly HousedEnd[] | undefined {
  const { source } = facts;
  const housings = housingsOf(context, facts);
  if (housings.length === 0 || facts.broken) return [];
  const found: HousedEnd[] = [];
  for (const housing of housings) {
    const depth = depthOf(context, housing.index);
    const ends = depth === undefined ? undefined : endsOf(context, facts, housing, depth);
    if (depth === undefined || ends === undefined) return undefined;
    found.push(...ends.map((end) => ({ end, joint: housing.index, depth, to: housing.to })));
  }
  for (const [i, one] of found.entries()) {
    const other = found.slice(0, i).find((before) => before.end === one.end && clash(before, one));
    if (!other) continue;
    const { numbers } = context.edition;
    const face = FACES_OF[source.runs.value][one.end === 'low' ? 0 : 1];
    const joint = context.source.joints[one.joint] as JointSource;
    context.report(
      fault('joint.twice', (joint.depth ?? joint.by).origin, {
        expected: `one depth for the ${face} end of "${source.key}"`,
        found:
          other.to === one.to
            ? `two joints that house it in "${one.to}"`
            : `${figure(one.depth, numbers)}, and ${figure(other.depth, numbers)} in "${other.to}"`,
        hint: other.to === one.to ? 'leave one of the two out' : 'make the two depths the same',
        parts: [source.key, one.to],
      }),
    );
    return undefined;
  }
  return found;
}

const clash = (a: HousedEnd, b: HousedEnd): boolean => a.to === b.to || Math.abs(a.depth - b.depth) > MEETS;

/** The ends that one joint houses. */
function endsOf(
  context: Context,
  facts: PartFacts,
  housing: Housing,
  depth: number,
): readonly End[] | undefined {
  const { source } = facts;
  const { between, runs } = source;
  if (between) {
    const keys = endKeys(context, facts);
    return keys && (['low', 'high'] as const).filter((_, i) => keys[i] === housing.to);
  }
  if (source.brace) return braceEnds(context, facts, housing, depth);
  const ends: End[] = [];
  for (const [i, end] of (['low', 'high'] as const).entries()) {
    const face = FACES_OF[runs.value][i] as Face;
    const written = source.at[face];
    const whole = faceOf(context, facts, face, source.origin);
    if (whole === undefined) return undefined;
    // A face that follows from the length is that of the whole board.
    const at = written
      ? numberOf(context, `${source.key}.${face}`, written, 'length')
      : whole + (end === 'low' ? depth : -depth);
    if (at !== undefined && meets(context, runs.value, housing, end, at)) ends.push(end);
  }
  return ends;
}

/** Keys of the parts that the lower and the upper end of a part between others lie against. */
export function endKeys(context: Context, facts: PartFacts): readonly [string, string] | undefined {
  const { between = [], runs } = facts.source;
  const keys = between.map((one) => one.text.trim());
  const [first, second] = keys;
  if (first === undefined) return undefined;
  if (second === undefined) return [first, first];
  const [a, b] = between.map((written) => {
    const other = context.parts.get(written.text.trim());
    return other && spanOf(context, other, runs.value, written.origin);
  });
  if (!a || !b) return undefined;
  return a.low <= b.low ? [first, second] : [second, first];
}

/** The ends of a brace that lie so deep in a neighbour: each is cut to a plane along the piece's axes. */
function braceEnds(
  context: Context,
  facts: PartFacts,
  housing: Housing,
  depth: number,
): readonly End[] | undefined {
  const pose = poseOf(context, facts, facts.source.origin);
  const [low] = FACES_OF[facts.source.runs.value];
  return pose?.cuts.flatMap(({ face, plane: { normal, offset } }): End[] => {
    const axis = normal.findIndex((v) => Math.abs(v) > 1 - 1e-9);
    const direction = DIRECTIONS[axis];
    if (!direction) return [];
    const far = (normal[axis] as number) > 0;
    const at = far ? offset - depth : depth - offset;
    return meets(context, direction, housing, far ? 'high' : 'low', at)
      ? [face === low ? 'low' : 'high']
      : [];
  });
}
