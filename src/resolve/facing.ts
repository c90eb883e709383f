/** The planes of the parts that another fits between: of leaning ones the very face, of straight ones a face along the axes. */
import type { Direction, Face, Written } from '../read/types.ts';
import type { Context } from './context.ts';
import type { Plane } from './convex.ts';
import { DIRECTIONS, directionOf, FACES_OF, isLow, mirrorDirection } from './directions.ts';
import type { PartFacts } from './facts.ts';
import { outlineSize, ruleAlong, spanOf, stepOf, target } from './placement.ts';
import { isPosed, poseOf } from './pose.ts';
import { axisOf } from './pose-axes.ts';
import type { Pose } from './pose-types.ts';
import { dot, scale, type Triple } from './vectors.ts';

/** A plane a board ends at (its normal out of that board), and the part it belongs to. */
export interface Facing {
  readonly plane: Plane;
  readonly part: string;
}

/** The two planes a part's length lies between, the lower first; undefined after a report. */
export function facingPlanes(context: Context, facts: PartFacts): readonly [Facing, Facing] | undefined {
  const { between = [], runs } = facts.source;
  const direction = runs.value;
  const others = between.map((written) => ({ written, other: target(context, written) }));
  const found = others.flatMap(({ written, other }) => {
    if (!other) return [];
    const span = spanOf(context, other, direction, written.origin);
    return span ? [{ written, other, low: span.low }] : [];
  });
  const [one] = found;
  if (!one) return undefined;
  if (found.length === 1) {
    const size = secondPlace(context, one.other, direction, one.written);
    if (!size) return undefined;
    const first = faceFor(context, one.other, direction, one.written);
    if (!first) return undefined;
    const otherLow =
      size.kind === 'mirrored'
        ? size.size - (spanOf(context, one.other, direction, one.written.origin)?.high ?? 0)
        : one.low + size.step;
    const isFirstLow = one.low <= otherLow;
    const near = first(isFirstLow ? 'high' : 'low');
    const source = first(
      size.kind === 'mirrored' ? (isFirstLow ? 'high' : 'low') : isFirstLow ? 'low' : 'high',
    );
    if (!near || !source) return undefined;
    const far =
      size.kind === 'mirrored'
        ? mirroredPlane(source, direction, size.size)
        : movedPlane(source, direction, size.step);
    const pair = [near, far].map((plane) => ({ plane, part: one.other.source.key }));
    return (isFirstLow ? pair : pair.reverse()) as unknown as readonly [Facing, Facing];
  }
  const sorted = [...found].sort((a, b) => a.low - b.low);
  const planes = sorted.map(({ other, written }, index) => {
    const plane = faceFor(context, other, direction, written)?.(index === 0 ? 'high' : 'low');
    return plane && { plane, part: other.source.key };
  });
  const [low, high] = planes;
  return low && high ? [low, high] : undefined;
}

/** Gives the plane of a part's lower or higher face along a direction, its normal into that part. */
function faceFor(
  context: Context,
  other: PartFacts,
  direction: Direction,
  written: Written,
): ((side: 'low' | 'high') => Plane | undefined) | undefined {
  const pose = isPosed(context, other) ? poseOf(context, other, written.origin) : undefined;
  if (isPosed(context, other) && !pose) return undefined;
  const span = spanOf(context, other, direction, written.origin);
  return (side) => {
    const face = FACES_OF[direction][side === 'low' ? 0 : 1];
    if (pose) {
      const plane = facePlane(other, pose, face);
      return { normal: scale(plane.normal, -1), offset: -plane.offset };
    }
    if (!span) return undefined;
    const normal = scale(axisOf(direction), side === 'low' ? 1 : -1);
    return { normal, offset: side === 'low' ? span.low : -span.high };
  };
}

/** The plane of a posed part's face, outward: of a cut end the cut. */
export function facePlane(facts: PartFacts, pose: Pose, face: Face): Plane {
  const cut = pose.cuts.find((one) => one.face === face);
  if (cut) return cut.plane;
  const { runs } = facts.source;
  const along = directionOf(face);
  const [vector, size] =
    along === runs.value
      ? [pose.length, pose.size.length]
      : along === facts.thickAlong
        ? [pose.thickness, pose.size.thickness]
        : [pose.width, pose.size.width];
  // The board's own vector looks along the axis or against it.
  const forward = dot(vector, axisOf(along)) > 0;
  const far = forward !== isLow(face);
  const normal = scale(vector, far ? 1 : -1);
  return { normal, offset: dot(normal, pose.origin) + (far ? size : 0) };
}

type Second =
  | { readonly kind: 'mirrored'; readonly size: number }
  | { readonly kind: 'moved'; readonly step: number };

function secondPlace(
  context: Context,
  other: PartFacts,
  direction: Direction,
  written: Written,
): Second | undefined {
  const index = ruleAlong(other, direction);
  const rule = other.source.copies[index];
  if (!rule) return undefined;
  if (rule.kind === 'mirrored') {
    const size = outlineSize(context, mirrorDirection(rule.across), written.origin);
    return size === undefined ? undefined : { kind: 'mirrored', size };
  }
  const step = stepOf(context, other, index, written.origin);
  return step === undefined ? undefined : { kind: 'moved', step };
}

/** A plane mirrored about the middle of the outline. */
function mirroredPlane({ normal, offset }: Plane, direction: Direction, size: number): Plane {
  const index = DIRECTIONS.indexOf(direction);
  const turned = normal.map((v, i) => (i === index ? -v : v)) as unknown as Triple;
  // n·p = d with p_i = size − q_i.
  return { normal: turned, offset: offset - (normal[index] as number) * size };
}

const movedPlane = ({ normal, offset }: Plane, direction: Direction, step: number): Plane => ({
  normal,
  offset: offset + (normal[DIRECTIONS.indexOf(direction)] as number) * step,
});
