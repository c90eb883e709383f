/** What covers leave of a convex face, without the kernel: most faces are hidden whole, or cut by few. */
import type { Loop } from '../../geometry/manifold.ts';
import { clippedBy, convexOverlap, loopArea } from './flat.ts';

/** More pieces than this are left to the kernel. */
const MOST = 40;

/** A cover with a convex outer loop and convex holes, all counter-clockwise. */
export interface Plate {
  readonly outer: Loop;
  readonly holes: readonly Loop[];
}

/** Pieces of a convex loop that covers leave, and which of them took something off. */
export interface ConvexRest {
  readonly pieces: readonly Loop[];
  readonly took: ReadonlySet<number>;
}

const known = new WeakMap<readonly Loop[], Plate | null>();

/** A polygon as a plate, where it is one: one outer loop, counter-clockwise, and holes, all of them convex. */
export function plateOf(loops: readonly Loop[]): Plate | undefined {
  const had = known.get(loops);
  if (had !== undefined) return had ?? undefined;
  const found = plate(loops);
  known.set(loops, found ?? null);
  return found;
}

function plate(loops: readonly Loop[]): Plate | undefined {
  let outer: Loop | undefined;
  const holes: Loop[] = [];
  for (const loop of loops) {
    const turned = loopArea(loop) < 0;
    const forward = turned ? [...loop].reverse() : loop;
    if (!isConvex(forward)) return undefined;
    if (turned) holes.push(forward);
    else if (outer === undefined) outer = loop;
    else return undefined;
  }
  return outer && { outer, holes };
}

/** True for a counter-clockwise loop without corners that point inward. */
export function isConvex(loop: Loop): boolean {
  const n = loop.length;
  for (let i = 0; i < n; i++) {
    const p = loop[i > 0 ? i - 1 : n - 1] as readonly [number, number];
    const q = loop[i] as readonly [number, number];
    const r = loop[i + 1 < n ? i + 1 : 0] as readonly [number, number];
    const au = q[0] - p[0];
    const av = q[1] - p[1];
    const bu = r[0] - q[0];
    const bv = r[1] - q[1];
    const sharp = -1e-7 * Math.sqrt((au * au + av * av) * (bu * bu + bv * bv)) - 1e-12;
    if (au * bv - av * bu <= sharp) return false;
  }
  return true;
}

/**
 * Takes plates off a convex counter-clockwise loop. Plates that overlap by less than `touch` mm take nothing, and strips thinner than
 * that are gone. Undefined where it comes to too many pieces.
 */
export function convexRest(loop: Loop, covers: readonly Plate[], touch: number): ConvexRest | undefined {
  let pieces: Loop[] = [loop];
  const took = new Set<number>();
  for (const [i, cover] of covers.entries()) {
    const next: Loop[] = [];
    for (const piece of pieces) {
      if (!convexOverlap(piece, cover.outer, touch)) {
        next.push(piece);
        continue;
      }
      const inHole = cover.holes.map((hole) => insideOf(piece, hole, touch));
      if (inHole.includes(piece)) {
        next.push(piece);
        continue;
      }
      took.add(i);
      outsideOf(piece, cover.outer, touch, next);
      for (const part of inHole) if (part !== undefined) next.push(part);
    }
    if (next.length === 0) return { pieces: [], took };
    if (next.length > MOST) return undefined;
    pieces = next;
  }
  return { pieces, took };
}

/** Adds the convex pieces of a loop outside a cover: what lies beyond each of its sides in turn. */
function outsideOf(loop: Loop, cover: Loop, touch: number, out: Loop[]): void {
  let left = loop;
  for (let i = 0; i < cover.length; i++) {
    const { heights, lowest, highest } = heightsOver(left, cover, i);
    if (lowest >= -touch) continue;
    if (highest <= touch) {
      out.push(left);
      return;
    }
    const beyond = clippedBy(
      left,
      heights.map((h) => -h),
    );
    if (beyond.length > 2 && loopArea(beyond) > touch * touch) out.push(beyond);
    left = clippedBy(left, heights);
    if (left.length < 3) return;
  }
}

/** The part of a convex loop within another; the loop itself where it all is, undefined where none is. */
export function insideOf(loop: Loop, hole: Loop, touch: number): Loop | undefined {
  let left = loop;
  for (let i = 0; i < hole.length; i++) {
    const { heights, lowest, highest } = heightsOver(left, hole, i);
    if (lowest >= -touch) continue;
    if (highest <= touch) return undefined;
    left = clippedBy(left, heights);
    if (left.length < 3) return undefined;
  }
  return left;
}

/** Distances of a loop's corners from a side of a counter-clockwise loop, positive within. */
function heightsOver(
  loop: Loop,
  of: Loop,
  side: number,
): { heights: number[]; lowest: number; highest: number } {
  const p = of[side] as readonly [number, number];
  const q = of[side + 1 < of.length ? side + 1 : 0] as readonly [number, number];
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const nu = length < 1e-9 ? 0 : (p[1] - q[1]) / length;
  const nv = length < 1e-9 ? 0 : (q[0] - p[0]) / length;
  const heights: number[] = new Array(loop.length);
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < loop.length; i++) {
    const r = loop[i] as readonly [number, number];
    const h = nu * (r[0] - p[0]) + nv * (r[1] - p[1]);
    heights[i] = h;
    if (h < lowest) lowest = h;
    if (h > highest) highest = h;
  }
  return { heights, lowest, highest };
}
