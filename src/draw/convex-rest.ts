/** What covers leave of a convex face, without the kernel: most faces are hidden whole, or cut by few. */
import type { Loop } from '../geometry/manifold.ts';
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
  return loop.every((q, i) => {
    const p = loop[(i + loop.length - 1) % loop.length] as readonly [number, number];
    const r = loop[(i + 1) % loop.length] as readonly [number, number];
    const [au, av, bu, bv] = [q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]];
    return au * bv - av * bu > -1e-7 * Math.hypot(au, av) * Math.hypot(bu, bv) - 1e-12;
  });
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
  const [pu, pv] = of[side] as readonly [number, number];
  const [qu, qv] = of[(side + 1) % of.length] as readonly [number, number];
  const length = Math.hypot(qu - pu, qv - pv);
  const [nu, nv] = length < 1e-9 ? [0, 0] : [(pv - qv) / length, (qu - pu) / length];
  const heights: number[] = [];
  let [lowest, highest] = [Infinity, -Infinity];
  for (const [u, v] of loop) {
    const h = nu * (u - pu) + nv * (v - pv);
    heights.push(h);
    if (h < lowest) lowest = h;
    if (h > highest) highest = h;
  }
  return { heights, lowest, highest };
}
