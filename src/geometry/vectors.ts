/** Small vector arithmetic on plain triples. */
import type { Vec3 } from '../model/types.ts';

export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const scale = (a: Vec3, factor: number): Vec3 => [a[0] * factor, a[1] * factor, a[2] * factor];

export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

export const norm = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);

/** The vector at length one; a vector without length stays as it is. */
export function unit(a: Vec3): Vec3 {
  const length = norm(a);
  return length === 0 ? a : scale(a, 1 / length);
}

/** Two unit vectors that make a right-handed frame with a unit vector: `first × second = axis`. */
export function acrossAxis(axis: Vec3): { first: Vec3; second: Vec3 } {
  const helper: Vec3 = Math.abs(axis[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
  const first = unit(cross(helper, axis));
  return { first, second: cross(axis, first) };
}
