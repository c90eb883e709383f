/**
 * Convex bodies with exact planes, cut by planes: a blank and its saw cuts, without the solid kernel. Enough to place leaning
 * boards, to find where boards touch, and to check that a cut leaves something.
 */
import { cross, dot, scale, subtract, type Triple, unit } from './vectors.ts';

/** A plane: what lies beyond it (`normal · p > offset`) is outside. Unit normal, mm. */
export interface Plane {
  readonly normal: Triple;
  readonly offset: number;
}

/** A face of a convex body: its corners counter-clockwise from outside, and a name of the caller's. */
export interface ConvexFace<T> extends Plane {
  readonly loop: readonly Triple[];
  readonly name: T;
}

/** A convex body as its faces; none where nothing is left. */
export type Convex<T> = readonly ConvexFace<T>[];

/** Corners nearer to a plane than this, mm, lie on it. */
const ON = 1e-7;

/** A rectangular body; `names` of its faces in the order x, y, z, the lower one first. */
export function convexBox<T>(min: Triple, max: Triple, names: readonly T[]): Convex<T> {
  const corner = (i: number, j: number, k: number): Triple => [
    i ? max[0] : min[0],
    j ? max[1] : min[1],
    k ? max[2] : min[2],
  ];
  const sides: readonly (readonly [Triple, readonly (readonly [number, number, number])[]])[] = [
    [
      [-1, 0, 0],
      [
        [0, 0, 0],
        [0, 0, 1],
        [0, 1, 1],
        [0, 1, 0],
      ],
    ],
    [
      [1, 0, 0],
      [
        [1, 0, 0],
        [1, 1, 0],
        [1, 1, 1],
        [1, 0, 1],
      ],
    ],
    [
      [0, -1, 0],
      [
        [0, 0, 0],
        [1, 0, 0],
        [1, 0, 1],
        [0, 0, 1],
      ],
    ],
    [
      [0, 1, 0],
      [
        [0, 1, 0],
        [0, 1, 1],
        [1, 1, 1],
        [1, 1, 0],
      ],
    ],
    [
      [0, 0, -1],
      [
        [0, 0, 0],
        [0, 1, 0],
        [1, 1, 0],
        [1, 0, 0],
      ],
    ],
    [
      [0, 0, 1],
      [
        [0, 0, 1],
        [1, 0, 1],
        [1, 1, 1],
        [0, 1, 1],
      ],
    ],
  ];
  return sides.map(([normal, loop], index) => {
    const points = loop.map(([i, j, k]) => corner(i, j, k));
    return { normal, offset: dot(normal, points[0] as Triple), loop: points, name: names[index] as T };
  });
}

/** What is left of a body on the inner side of a plane. The fresh face gets `name`. */
export function cutConvex<T>(body: Convex<T>, plane: Plane, name: T): Convex<T> {
  const height = (p: Triple): number => dot(plane.normal, p) - plane.offset;
  const heights = body.flatMap((face) => face.loop.map(height));
  if (!heights.some((h) => h > ON)) return body;
  if (!heights.some((h) => h < -ON)) return [];
  const kept: ConvexFace<T>[] = [];
  const rim: Triple[] = [];
  for (const face of body) {
    const loop = clipLoop(face.loop, plane);
    for (const p of loop) if (Math.abs(height(p)) <= ON * 10) rim.push(p);
    if (loop.length >= 3 && areaOf(loop) > 1e-9) kept.push({ ...face, loop });
  }
  const fresh = roundTrip(rim, plane.normal);
  if (fresh.length >= 3) kept.push({ ...plane, loop: fresh, name });
  return kept;
}

/** The part of a plane polygon on the inner side of a plane. */
export function clipLoop(loop: readonly Triple[], plane: Plane): Triple[] {
  const kept: Triple[] = [];
  loop.forEach((p, i) => {
    const q = loop[(i + 1) % loop.length] as Triple;
    const [a, b] = [dot(plane.normal, p) - plane.offset, dot(plane.normal, q) - plane.offset];
    if (a <= ON) kept.push(p);
    if ((a < -ON && b > ON) || (a > ON && b < -ON)) {
      const t = a / (a - b);
      kept.push([p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t, p[2] + (q[2] - p[2]) * t]);
    }
  });
  return kept;
}

/** Points on the rim of a convex polygon, each once, counter-clockwise seen from where the normal points. */
function roundTrip(points: readonly Triple[], normal: Triple): Triple[] {
  const once: Triple[] = [];
  for (const p of points)
    if (!once.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) < 1e-6)) once.push(p);
  const first = once[0];
  if (!first || once.length < 3) return [];
  const middle = scale(
    once.reduce((sum, p): Triple => [sum[0] + p[0], sum[1] + p[1], sum[2] + p[2]], [0, 0, 0]),
    1 / once.length,
  );
  const u = unit(subtract(first, middle));
  const v = cross(normal, u);
  const angle = (p: Triple): number => {
    const d = subtract(p, middle);
    return Math.atan2(dot(d, v), dot(d, u));
  };
  return once
    .map((p) => ({ p, a: angle(p) }))
    .sort((a, b) => a.a - b.a)
    .map(({ p }) => p);
}

/** Area of a plane polygon, mm². */
export function areaOf(loop: readonly Triple[]): number {
  const first = loop[0];
  if (!first) return 0;
  let sum: Triple = [0, 0, 0];
  for (let i = 1; i + 1 < loop.length; i++) {
    const part = cross(subtract(loop[i] as Triple, first), subtract(loop[i + 1] as Triple, first));
    sum = [sum[0] + part[0], sum[1] + part[1], sum[2] + part[2]];
  }
  return Math.hypot(sum[0], sum[1], sum[2]) / 2;
}

/** All corners of a body; shared ones come once for each face. */
export const cornersOf = <T>(body: Convex<T>): readonly Triple[] => body.flatMap((face) => [...face.loop]);

/** Least and greatest coordinate of some points along a direction. */
export function reach(
  points: readonly Triple[],
  along: Triple,
): { readonly low: number; readonly high: number } {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const p of points) {
    const value = dot(p, along);
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return { low, high };
}
