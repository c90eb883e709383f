/**
 * The way of a cutter whose bearing is guided along the outline of a face. It follows lines and arcs; into an inside corner the bearing
 * doesn't reach, and there the cut keeps the bearing's own radius; where the work stops along an edge, the cut ends as round as the cutter.
 * Rolling a disc round a shape is plain geometry (the closing of the shape by the disc). mm.
 */
import {
  bearingSides,
  type Cutter,
  directionOf,
  type GuidedSide,
  guidedSide,
  HAIR,
  outAt,
  outOf,
  touching,
  trimmed,
} from './bearing.ts';
import type { Wall } from './face-outline.ts';
import { crossing } from './flat.ts';
import type { FlatRegion, FlatSide } from './flat-region.ts';
import type { FlatPoint, Side } from './shape.ts';
import { outwardOf } from './sides.ts';

/** A way round, or along part of an outline. `moves[i]` is how the start of side i moves for each mm that is taken off. */
export interface GuidedRun {
  readonly sides: readonly GuidedSide[];
  readonly closed: boolean;
  /** One for each side; of an open run one more, for its end. */
  readonly moves: readonly FlatPoint[];
}

/**
 * Why a cutter can't follow. `curve`: an inside curve too tight for the bearing (of `radius`), or a gap; `tight`: at an outside curve or
 * corner no more than `most` can be taken off; `narrow`: the part is narrower than its cuts; `leans`: a wall that isn't square to the face;
 * `nothing`: no stretch looks that way.
 */
export type GuideFault =
  | { readonly kind: 'curve'; readonly radius?: number }
  | { readonly kind: 'tight'; readonly most: number }
  | { readonly kind: 'narrow' | 'leans' | 'nothing' };

export interface Guided {
  readonly runs: readonly GuidedRun[];
  /** Sides of the blank that aren't square to the face: worked along their straight edge. */
  readonly straight: readonly Side[];
  /** How many places keep the bearing's radius to be seen: inside corners, and ends along an edge. */
  readonly left: number;
  /** Where the bearing touches curved walls in inside corners: facets of these should end there. */
  readonly touches: readonly FlatPoint[];
}

/** Stretches that meet at less than this, radians, run into each other: two degrees, as in the solid. */
const SMOOTH = (2 * Math.PI) / 180;

/** An inside corner out of which the bearing stays by less than this, mm, is followed as good as it is. */
const NOTED = 0.1;

/** Facets of one wall, in order; `worked` where the cutter follows it. */
interface Stretch {
  readonly wall: Wall;
  readonly worked: boolean;
  sides: readonly GuidedSide[];
}

/** @param towards the sides of the blank that the worked stretches look to; all stretches where absent */
export function guidedRuns(
  outline: FlatRegion<Wall>,
  towards: readonly Side[] | undefined,
  cutter: Cutter,
): Guided | GuideFault {
  const runs: GuidedRun[] = [];
  const straight = new Set<Side>();
  const touches: FlatPoint[] = [];
  let left = 0;
  for (const loop of outline) {
    const stretches = stretchesOf(loop, towards);
    for (const { wall, sides } of stretches) {
      if (!wall.leans || !looksTo(sides, towards)) continue;
      if (wall.side === undefined) return { kind: 'leans' };
      straight.add(wall.side);
    }
    const hollows = stretches.flatMap(({ wall, worked }) =>
      worked && wall.arc?.hollow ? [wall.arc.radius] : [],
    );
    const tightest = Math.min(...hollows);
    if (tightest < cutter.radius - HAIR) return { kind: 'curve', radius: tightest };
    const found = loopRuns(stretches, cutter, touches);
    if (!found) return { kind: 'curve' };
    runs.push(...found.runs);
    left += found.left;
  }
  if (runs.length === 0 && straight.size === 0) return { kind: 'nothing' };
  const most = Math.min(...runs.map(mostOf));
  if (most < cutter.size - HAIR) return { kind: 'tight', most };
  return isNarrow(runs, cutter.size) ? { kind: 'narrow' } : { runs, straight: [...straight], left, touches };
}

function stretchesOf(loop: readonly FlatSide<Wall>[], towards: readonly Side[] | undefined): Stretch[] {
  const start = loop.findIndex((side, i) => loop[(i + loop.length - 1) % loop.length]?.of !== side.of);
  const found: { wall: Wall; sides: GuidedSide[] }[] = [];
  for (let i = 0; i < loop.length; i++) {
    const side = loop[(Math.max(0, start) + i) % loop.length] as FlatSide<Wall>;
    const last = found.at(-1);
    if (last && last.wall === side.of) last.sides.push(guidedSide(side));
    else found.push({ wall: side.of, sides: [guidedSide(side)] });
  }
  return found.map((one) => ({ ...one, worked: !one.wall.leans && looksTo(one.sides, towards) }));
}

/** True where the middle of a stretch looks to one of the sides: within 45 degrees, so that a quarter round is part of both its neighbours. */
function looksTo(sides: readonly GuidedSide[], towards: readonly Side[] | undefined): boolean {
  if (towards === undefined) return true;
  const out = middleOf(sides);
  const limit = Math.cos(Math.PI / 4) - 1e-3;
  return towards.some((side) => {
    const [x, y] = outwardOf(side);
    return x * out[0] + y * out[1] > limit;
  });
}

/** Where the middle of a stretch looks. */
function middleOf(sides: readonly GuidedSide[]): FlatPoint {
  const [first, last] = [sides[0], sides[sides.length - 1]] as [GuidedSide, GuidedSide];
  const { arc } = first.wall;
  if (!arc) return outOf(first);
  const sign = arc.hollow ? -1 : 1;
  const angle = (p: FlatPoint): number => Math.atan2(p[1] - arc.centre[1], p[0] - arc.centre[0]);
  const start = angle(first.from);
  const gap = sign * (angle(last.to) - start);
  const middle = start + (sign * (gap <= HAIR ? gap + 2 * Math.PI : gap)) / 2;
  return [sign * Math.cos(middle), sign * Math.sin(middle)];
}

/** The turn from one side to the next where they meet, radians: negative into an inside corner. */
function turnAt(one: GuidedSide, other: GuidedSide): number {
  const [a, b] = [outAt(one, one.to), outAt(other, other.from)];
  return Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
}

/** The runs of one loop; undefined where the bearing doesn't fit. */
function loopRuns(
  stretches: readonly Stretch[],
  cutter: Cutter,
  touches: FlatPoint[],
): { readonly runs: GuidedRun[]; readonly left: number } | undefined {
  const n = stretches.length;
  const at = (i: number): Stretch => stretches[(i + n) % n] as Stretch;
  if (!stretches.some((one) => one.worked)) return { runs: [], left: 0 };
  let left = 0;
  const turns = stretches.map((one, i) =>
    turnAt(one.sides.at(-1) as GuidedSide, at(i + 1).sides[0] as GuidedSide),
  );
  // Corners first: the bearing shortens the stretches on both sides.
  const corners: GuidedSide[][] = [];
  for (const [i, one] of stretches.entries()) {
    const other = at(i + 1);
    const inside = (turns[i] as number) < -SMOOTH && (one.worked || other.worked);
    const corner = inside ? cornerOf(one, other, cutter, touches) : [];
    if (!corner) return undefined;
    corners.push(corner);
    const off = cutter.radius * (1 / Math.cos((turns[i] as number) / 2) - 1);
    if (inside ? off > NOTED : one.worked !== other.worked && Math.abs(turns[i] as number) <= SMOOTH) left++;
  }
  if (stretches.some((one) => one.sides.length === 0)) return undefined;
  if (stretches.every((one) => one.worked)) {
    const sides = stretches.flatMap((one, i) => [...one.sides, ...(corners[i] as GuidedSide[])]);
    return { runs: [finished(sides, true)], left };
  }
  const runs: GuidedRun[] = [];
  const first = stretches.findIndex((one, i) => one.worked && !at(i - 1).worked);
  let run: GuidedSide[] = [];
  for (let i = first; i < first + n; i++) {
    if (!at(i).worked) continue;
    const { sides } = at(i);
    const [before, after] = [corners[(i + n - 1) % n], corners[i % n]] as [GuidedSide[], GuidedSide[]];
    if (!at(i - 1).worked) run = ending(sides[0] as GuidedSide, before, cutter, 'start');
    run.push(...sides);
    if (at(i + 1).worked) run.push(...after);
    else runs.push(finished([...run, ...ending(sides.at(-1) as GuidedSide, after, cutter, 'end')], false));
  }
  return { runs, left };
}

/** The bearing in an inside corner: shortens both stretches to where it touches them; undefined where it touches elsewhere first. */
function cornerOf(
  one: Stretch,
  other: Stretch,
  cutter: Cutter,
  touches: FlatPoint[],
): GuidedSide[] | undefined {
  const [a, b] = [one.sides.at(-1), other.sides[0]];
  if (!a || !b) return undefined;
  const centre = touching(a, b, a.to, cutter.radius);
  const end = centre && trimmed(one.sides, centre, 'end');
  const start = centre && trimmed(other.sides, centre, 'start');
  if (!end || !start) return undefined;
  for (const { wall } of [one, other]) {
    if (!wall.arc) continue;
    const [x, y] = [centre[0] - wall.arc.centre[0], centre[1] - wall.arc.centre[1]];
    const far = wall.arc.radius / Math.hypot(x, y);
    touches.push([wall.arc.centre[0] + x * far, wall.arc.centre[1] + y * far]);
  }
  one.sides = end.sides;
  other.sides = start.sides;
  return bearingSides(centre, end.at, start.at, cutter);
}

/** The half turn with which a run begins or ends: as round as the bearing, away from the wood. In an inside corner the bearing stands there. */
function ending(
  side: GuidedSide,
  corner: readonly GuidedSide[],
  cutter: Cutter,
  which: 'start' | 'end',
): GuidedSide[] {
  const at = which === 'start' ? side.from : side.to;
  const out = outAt(side, at);
  const { radius } = cutter;
  const centre = corner[0]?.wall.arc?.centre ?? [at[0] + out[0] * radius, at[1] + out[1] * radius];
  const away: FlatPoint = [2 * centre[0] - at[0], 2 * centre[1] - at[1]];
  const sides =
    which === 'start' ? bearingSides(centre, away, at, cutter) : bearingSides(centre, at, away, cutter);
  return sides.map((one) => ({ ...one, end: true }));
}

/** Into the wood: to the left of the way. */
const inOf = (side: GuidedSide): FlatPoint => {
  const [x, y] = outOf(side);
  return [-x, -y];
};

/** A run with the moves of its corners, so that each stays on the lines of both its sides, however much is taken off. */
function finished(sides: readonly GuidedSide[], closed: boolean): GuidedRun {
  const n = sides.length;
  const moves = Array.from({ length: closed ? n : n + 1 }, (_, i): FlatPoint => {
    const before = sides[closed ? (i + n - 1) % n : i - 1];
    return moveAt(
      before ?? (sides[i] as GuidedSide),
      sides[i] ?? (before as GuidedSide),
      before === undefined,
    );
  });
  return { sides, closed, moves };
}

/** How the corner between two sides moves for each mm: along the normal where they run into each other, else where their lines meet. */
function moveAt(one: GuidedSide, other: GuidedSide, first: boolean): FlatPoint {
  const at = first ? other.from : one.to;
  const [p, q] = [outAt(one, at), outAt(other, at)];
  const [a, b] = [inOf(one), inOf(other)];
  if (p[0] * q[0] + p[1] * q[1] > Math.cos(SMOOTH)) {
    const size = Math.hypot(p[0] + q[0], p[1] + q[1]);
    const [x, y] = [-(p[0] + q[0]) / size, -(p[1] + q[1]) / size];
    const long = (one.share / (a[0] * x + a[1] * y) + other.share / (b[0] * x + b[1] * y)) / 2;
    return [x * long, y * long];
  }
  const det = a[0] * b[1] - a[1] * b[0];
  return [(one.share * b[1] - other.share * a[1]) / det, (other.share * a[0] - one.share * b[0]) / det];
}

/** The start of side i of a run (of an open one also the end of its last side) where so much is taken off: in corners on both true curves. */
export function cornerAt({ sides, closed, moves }: GuidedRun, i: number, taken: number): FlatPoint {
  const [x, y] = sides[i]?.from ?? (sides.at(-1) as GuidedSide).to;
  const move = moves[i] as FlatPoint;
  const plain: FlatPoint = [x + move[0] * taken, y + move[1] * taken];
  const [one, other] = [sides[closed ? (i + sides.length - 1) % sides.length : i - 1], sides[i]];
  if (taken <= 0 || !one || !other || one.wall === other.wall || (!one.wall.arc && !other.wall.arc))
    return plain;
  if (Math.abs(turnAt(one, other)) < SMOOTH) return plain;
  const [begin, there] = [touching(one, other, [x, y], 0), touching(one, other, plain, -taken)];
  if (!begin || !there) return plain;
  // A wall cut off within a facet ends beside its true curve: the tool begins where the solid does.
  const [dx, dy] = [x - begin[0], y - begin[1]];
  const far = Math.hypot(there[0] + dx - plain[0], there[1] + dy - plain[1]);
  return far > taken ? plain : [there[0] + dx, there[1] + dy];
}

/** The way right round a closed line of sides. */
export const wayRound = (sides: readonly GuidedSide[]): GuidedRun => finished(sides, true);

/** The most that can be taken off before a side of the run has no length left. */
function mostOf({ sides, moves, closed }: GuidedRun): number {
  let most = Number.POSITIVE_INFINITY;
  sides.forEach((side, i) => {
    const [u, v] = directionOf(side);
    const [a, b] = [moves[i], moves[closed ? (i + 1) % sides.length : i + 1]] as [FlatPoint, FlatPoint];
    const shrinks = (a[0] - b[0]) * u + (a[1] - b[1]) * v;
    const length = Math.hypot(side.to[0] - side.from[0], side.to[1] - side.from[1]);
    if (shrinks > 1e-9) most = Math.min(most, length / shrinks);
  });
  return most;
}

/** True where inner borders of the cuts cross: the part is narrower there than the cuts on both its sides. */
function isNarrow(runs: readonly GuidedRun[], size: number): boolean {
  const inner = runs.map(({ sides, moves, closed }) => {
    const points = sides.flatMap(({ from, end }, i): FlatPoint[] => {
      if (end && (i === 0 || sides[i - 1]?.end)) return [];
      const move = moves[i] as FlatPoint;
      return [[from[0] + move[0] * size, from[1] + move[1] * size]];
    });
    return closed ? [...points, points[0] as FlatPoint] : points;
  });
  if (inner.some((points, i) => runs[i]?.closed && crossing(distinct(points.slice(1))) !== undefined))
    return true;
  return inner.some((points, i) => inner.slice(i + 1).some((others) => cross(points, others)));
}

/** A ring of points without those that fall together. */
const distinct = (points: readonly FlatPoint[]): FlatPoint[] =>
  points.filter((p, i) => {
    const q = points[(i + points.length - 1) % points.length] as FlatPoint;
    return Math.hypot(p[0] - q[0], p[1] - q[1]) > 1e-4;
  });

/** True where two ways cross anywhere. */
function cross(one: readonly FlatPoint[], other: readonly FlatPoint[]): boolean {
  const side = (a: FlatPoint, b: FlatPoint, p: FlatPoint): number =>
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  const apart = (a: FlatPoint, b: FlatPoint, c: FlatPoint, d: FlatPoint): boolean =>
    side(a, b, c) * side(a, b, d) >= -1e-9 || side(c, d, a) * side(c, d, b) >= -1e-9;
  return one
    .slice(1)
    .some((b, i) => other.slice(1).some((d, k) => !apart(one[i] as FlatPoint, b, other[k] as FlatPoint, d)));
}
