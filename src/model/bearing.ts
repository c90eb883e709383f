/** A bearing that rolls along the sides of an outline: where it touches two of them, and the cut that it leaves there. mm. */
import type { Wall } from './face-outline.ts';
import type { FlatSide } from './flat-region.ts';
import type { FlatPoint } from './shape.ts';

/** A straight side of the way, the wood on its left. Where the cutter takes off `p`, the side lies `share · p` further in. */
export interface GuidedSide {
  readonly from: FlatPoint;
  readonly to: FlatPoint;
  readonly wall: Wall;
  readonly share: number;
  /** True on the half turn with which a run begins or ends, in the air but for its root. */
  readonly end?: boolean;
}

/** Sides shorter than this, mm, are none. */
export const HAIR = 1e-6;

export const isLong = ({ from, to }: Pick<GuidedSide, 'from' | 'to'>): boolean =>
  Math.hypot(to[0] - from[0], to[1] - from[1]) > HAIR;

/** A side of an outline as one of the way: of a facet the lines move in step with the circle they stand for. */
export function guidedSide({ from, to, of }: FlatSide<Wall>): GuidedSide {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (!of.arc) return { from, to, wall: of, share: 1 };
  const { centre, radius } = of.arc;
  const area = (to[0] - from[0]) * (centre[1] - from[1]) - (to[1] - from[1]) * (centre[0] - from[0]);
  return { from, to, wall: of, share: Math.abs(area) / length / radius };
}

export const directionOf = ({ from, to }: Pick<GuidedSide, 'from' | 'to'>): FlatPoint => {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};

/** Out of the wood: to the right of the way. */
export const outOf = (side: Pick<GuidedSide, 'from' | 'to'>): FlatPoint => {
  const [x, y] = directionOf(side);
  return [y, -x];
};

/** Out of the wood at a point of a wall: of an arc along its radius. */
export function outAt(side: GuidedSide, [x, y]: FlatPoint): FlatPoint {
  const { arc } = side.wall;
  if (!arc) return outOf(side);
  const [dx, dy] = [x - arc.centre[0], y - arc.centre[1]];
  const length = Math.hypot(dx, dy) * (arc.hollow ? -1 : 1);
  return [dx / length, dy / length];
}

/** Radius of the bearing, what the cutter takes off the face beyond it, and how far facets may lie off a curve; mm. */
export interface Cutter {
  readonly radius: number;
  readonly size: number;
  readonly sagitta: number;
}

/** Facets of the bearing's own circle about a centre, clockwise (the wood is outside) from one point to another. */
export function bearingSides(
  centre: FlatPoint,
  from: FlatPoint,
  to: FlatPoint,
  cutter: Cutter,
): GuidedSide[] {
  const { radius, size, sagitta } = cutter;
  const wall: Wall = { arc: { centre, radius, hollow: true } };
  const angle = (p: FlatPoint): number => Math.atan2(p[1] - centre[1], p[0] - centre[0]);
  const full = 2 * Math.PI;
  const sweep = (((angle(from) - angle(to)) % full) + full) % full;
  const step = Math.min(Math.PI / 8, 2 * Math.acos(Math.max(0, 1 - sagitta / (radius + size))));
  const count = Math.max(2, Math.ceil(sweep / step));
  const points = Array.from({ length: count + 1 }, (_, i): FlatPoint => {
    if (i === 0) return from;
    if (i === count) return to;
    const at = angle(from) - (sweep * i) / count;
    return [centre[0] + radius * Math.cos(at), centre[1] + radius * Math.sin(at)];
  });
  return points
    .slice(1)
    .map((point, i) => guidedSide({ from: points[i] as FlatPoint, to: point, of: wall }))
    .filter(isLong);
}

/** A line or circle that the bearing's middle keeps to along a wall. */
type Way = Line | Circle;

interface Line {
  readonly at: FlatPoint;
  readonly along: FlatPoint;
}

interface Circle {
  readonly centre: FlatPoint;
  readonly radius: number;
}

function wayAlong(side: GuidedSide, radius: number): Way {
  const { arc } = side.wall;
  if (arc) return { centre: arc.centre, radius: arc.hollow ? arc.radius - radius : arc.radius + radius };
  const out = outOf(side);
  return { at: [side.from[0] + out[0] * radius, side.from[1] + out[1] * radius], along: directionOf(side) };
}

/** The middle of a bearing that touches two walls, next to a place; with a radius below nought the point so far inside both. */
export function touching(
  a: GuidedSide,
  b: GuidedSide,
  next: FlatPoint,
  radius: number,
): FlatPoint | undefined {
  const found = meetingsOf(wayAlong(a, radius), wayAlong(b, radius));
  const far = (p: FlatPoint): number => Math.hypot(p[0] - next[0], p[1] - next[1]);
  return found.sort((p, q) => far(p) - far(q))[0];
}

function meetingsOf(one: Way, other: Way): FlatPoint[] {
  if ('at' in one) return 'at' in other ? ofLines(one, other) : ofLineAndCircle(one, other);
  if ('at' in other) return ofLineAndCircle(other, one);
  const [x, y] = [other.centre[0] - one.centre[0], other.centre[1] - one.centre[1]];
  const apart = Math.hypot(x, y);
  if (apart < 1e-9) return [];
  // Along the line of centres to the chord that the circles share, then half of it to either side.
  const along = (apart * apart + one.radius ** 2 - other.radius ** 2) / (2 * apart);
  const half = one.radius ** 2 - along * along;
  if (half < 0) return [];
  const [u, v] = [x / apart, y / apart];
  const middle: FlatPoint = [one.centre[0] + u * along, one.centre[1] + v * along];
  const h = Math.sqrt(half);
  return [
    [middle[0] - v * h, middle[1] + u * h],
    [middle[0] + v * h, middle[1] - u * h],
  ];
}

function ofLines(one: Line, other: Line): FlatPoint[] {
  const det = one.along[0] * other.along[1] - one.along[1] * other.along[0];
  if (Math.abs(det) < 1e-9) return [];
  const [x, y] = [other.at[0] - one.at[0], other.at[1] - one.at[1]];
  const t = (x * other.along[1] - y * other.along[0]) / det;
  return [[one.at[0] + one.along[0] * t, one.at[1] + one.along[1] * t]];
}

function ofLineAndCircle({ at, along }: Line, { centre, radius }: Circle): FlatPoint[] {
  const foot = (centre[0] - at[0]) * along[0] + (centre[1] - at[1]) * along[1];
  const [fx, fy] = [at[0] + along[0] * foot, at[1] + along[1] * foot];
  const half = radius ** 2 - (fx - centre[0]) ** 2 - (fy - centre[1]) ** 2;
  if (half < 0) return [];
  const h = Math.sqrt(half);
  return [
    [fx - along[0] * h, fy - along[1] * h],
    [fx + along[0] * h, fy + along[1] * h],
  ];
}

/**
 * Sides of one wall, in order, shortened to where the bearing about a centre touches it; and that place, on its facet. Undefined where
 * the bearing touches beyond the other end.
 */
export function trimmed(
  wall: readonly GuidedSide[],
  bearing: FlatPoint,
  which: 'start' | 'end',
): { readonly sides: GuidedSide[]; readonly at: FlatPoint } | undefined {
  const sides = which === 'end' ? [...wall].reverse() : wall;
  for (const [i, side] of sides.entries()) {
    // From the bearing's middle square to a plane wall; in line with the centre of an arc.
    const { arc } = side.wall;
    const through: FlatPoint = arc ? [bearing[0] - arc.centre[0], bearing[1] - arc.centre[1]] : outOf(side);
    const [dx, dy] = [side.to[0] - side.from[0], side.to[1] - side.from[1]];
    const [x, y] = [bearing[0] - side.from[0], bearing[1] - side.from[1]];
    const t = (x * through[1] - y * through[0]) / (dx * through[1] - dy * through[0]);
    const play = HAIR / Math.hypot(dx, dy);
    if (!(t > -play && t < 1 + play)) continue;
    const at: FlatPoint = [side.from[0] + dx * t, side.from[1] + dy * t];
    const cut = which === 'end' ? { ...side, to: at } : { ...side, from: at };
    const kept = [...(isLong(cut) ? [cut] : []), ...sides.slice(i + 1)];
    return { sides: which === 'end' ? kept.reverse() : kept, at };
  }
  return undefined;
}
