/** Small vector arithmetic on plain triples. */

/** A point or a direction of the piece or of a board's own frame, mm. */
export type Triple = readonly [x: number, y: number, z: number];

export const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const add = (a: Triple, b: Triple): Triple => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

export const subtract = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const scale = (a: Triple, factor: number): Triple => [a[0] * factor, a[1] * factor, a[2] * factor];

export const cross = (a: Triple, b: Triple): Triple => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

export const norm = (a: Triple): number => Math.hypot(a[0], a[1], a[2]);

/** The vector at length one; a vector without length stays as it is. */
export function unit(a: Triple): Triple {
  const length = norm(a);
  return length === 0 ? a : scale(a, 1 / length);
}

/** Two unit vectors that make a right-handed frame with a unit vector: `first × second = axis`. */
export function acrossAxis(axis: Triple): { first: Triple; second: Triple } {
  const helper: Triple = Math.abs(axis[0]) < 0.8 ? [1, 0, 0] : [0, 1, 0];
  const first = unit(cross(helper, axis));
  return { first, second: cross(axis, first) };
}
