/** Polygons of the view plane: area, clipping by a half-plane, and whether two convex ones overlap. */
import type { Loop } from '../../geometry/manifold.ts';

/** Signed area, mm²: positive counter-clockwise. */
export function loopArea(loop: Loop): number {
  let sum = 0;
  for (let i = 0; i < loop.length; i++) {
    const a = loop[i] as Corner;
    const b = loop[i + 1 < loop.length ? i + 1 : 0] as Corner;
    sum += a[0] * b[1] - b[0] * a[1];
  }
  return sum / 2;
}

/** Area of a polygon with its holes (clockwise), mm². */
export const polygonArea = (loops: readonly Loop[]): number =>
  loops.reduce((sum, loop) => sum + loopArea(loop), 0);

/** Length around a loop, mm. */
export function loopLength(loop: Loop): number {
  let sum = 0;
  for (let i = 0; i < loop.length; i++) {
    const [au, av] = loop[i] as readonly [number, number];
    const [bu, bv] = loop[(i + 1) % loop.length] as readonly [number, number];
    sum += Math.hypot(bu - au, bv - av);
  }
  return sum;
}

/** The part of a loop where `height` is positive; `height` is linear over the plane and given at each corner. */
export function clippedBy(loop: Loop, heights: readonly number[]): Loop {
  const out: Corner[] = [];
  for (let i = 0; i < loop.length; i++) {
    const j = i + 1 < loop.length ? i + 1 : 0;
    const a = loop[i] as Corner;
    const b = loop[j] as Corner;
    const ha = heights[i] as number;
    const hb = heights[j] as number;
    if (ha >= 0) out.push(a);
    if (ha >= 0 === hb >= 0) continue;
    const t = ha / (ha - hb);
    out.push([a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]);
  }
  return out;
}

/** True where two convex counter-clockwise loops overlap by more than `least` mm in every direction of their sides. */
export const convexOverlap = (a: Loop, b: Loop, least: number): boolean =>
  !apart(a, b, least) && !apart(b, a, least);

function apart(a: Loop, b: Loop, least: number): boolean {
  for (let i = 0; i < a.length; i++) {
    const p = a[i] as Corner;
    const q = a[i + 1 < a.length ? i + 1 : 0] as Corner;
    const du = q[0] - p[0];
    const dv = q[1] - p[1];
    const length = Math.sqrt(du * du + dv * dv);
    if (length < 1e-9) continue;
    const within = least * length;
    let beyond = false;
    for (let k = 0; k < b.length; k++) {
      const r = b[k] as Corner;
      if (du * (r[1] - p[1]) - dv * (r[0] - p[0]) <= within) continue;
      beyond = true;
      break;
    }
    if (!beyond) return true;
  }
  return false;
}

/** True where every point lies in the convex counter-clockwise loop or within `beyond` mm of it. */
export function convexCovers(loop: Loop, points: Loop, beyond: number): boolean {
  for (let i = 0; i < loop.length; i++) {
    const p = loop[i] as Corner;
    const q = loop[i + 1 < loop.length ? i + 1 : 0] as Corner;
    const du = q[0] - p[0];
    const dv = q[1] - p[1];
    const length = Math.sqrt(du * du + dv * dv);
    if (length < 1e-9) continue;
    const least = -beyond * length;
    for (let k = 0; k < points.length; k++) {
      const r = points[k] as Corner;
      if (du * (r[1] - p[1]) - dv * (r[0] - p[0]) < least) return false;
    }
  }
  return true;
}

/** Convex hull, counter-clockwise (monotone chain), without points on a straight run. */
export function convexHull(points: Loop): Loop {
  // Points on one upright line differ in their last digits; taken in that order they would spoil the chain.
  const column = (u: number): number => Math.round(u * 1e6);
  const sorted = [...points].sort((a, b) => column(a[0]) - column(b[0]) || a[1] - b[1]);
  const half = (list: Loop): Corner[] => {
    const chain: Corner[] = [];
    for (const r of list) {
      while (chain.length >= 2) {
        const p = chain[chain.length - 2] as Corner;
        const q = chain[chain.length - 1] as Corner;
        const base = Math.hypot(r[0] - p[0], r[1] - p[1]);
        if ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]) > 1e-6 * base) break;
        chain.pop();
      }
      chain.push(r);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Without points on a straight run or on top of each other, closer than `within` mm; empty where nothing is left. */
export function tidyLoop(loop: Loop, within: number): Loop {
  const points = [...loop];
  // One point goes at a time: of two on top of each other one has to stay.
  for (let i = 0; i < points.length && points.length >= 3; ) {
    const n = points.length;
    const [p, q, r] = [points[(i + n - 1) % n], points[i], points[(i + 1) % n]] as [Corner, Corner, Corner];
    if (!straight(p, q, r, within)) {
      i++;
      continue;
    }
    points.splice(i, 1);
    // The point before has a new neighbour.
    i = Math.max(0, i - 1);
  }
  return points.length < 3 ? [] : points;
}

type Corner = readonly [number, number];

function straight(p: Corner, q: Corner, r: Corner, within: number): boolean {
  if (Math.hypot(q[0] - p[0], q[1] - p[1]) < within) return true;
  const base = Math.hypot(r[0] - p[0], r[1] - p[1]);
  if (base < within) return true;
  return Math.abs((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / base <= within;
}
