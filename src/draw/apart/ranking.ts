/** Directions in which boards may leave a piece, and which of them are the better ones. */
import type { PlacedPart } from '../../geometry/types.ts';
import { dot, scale, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { extentOf, middleOfAll } from './moving.ts';
import type { Touch } from './touching.ts';

const AXES: readonly Vec3[] = [
  [0, 0, 1],
  [1, 0, 0],
  [-1, 0, 0],
  [0, -1, 0],
  [0, 1, 0],
  [0, 0, -1],
];

/** Directions boards may leave in: away from what it touches, along its own axes, along the piece's; each once. */
export function directionsOf({ frame }: PlacedPart, own: readonly Touch[]): Vec3[] {
  const { length, width, thickness } = frame;
  const all = [
    ...AXES,
    ...own.map((touch) => scale(touch.normal, -1)),
    ...[length, width, thickness].flatMap((axis) => [axis, scale(axis, -1)]),
  ];
  return all.filter((d, i) => all.findIndex((e) => dot(d, e) > 1 - 1e-6) === i);
}

/** Directions in which a board may leave, or several together, best first. */
export function rankedDirections(
  parts: readonly PlacedPart[],
  own: readonly Touch[],
  others: readonly PlacedPart[],
): readonly Vec3[] {
  const worth = worthOf(parts, own, others);
  return directionsOf(parts[0] as PlacedPart, own)
    .map((d, i) => ({ d, i, worth: worth(d) }))
    .sort((a, b) => b.worth - a.worth || a.i - b.i)
    .map(({ d }) => d);
}

/**
 * What a direction is worth to boards that leave together: straight off the largest contact, outward from the middle of what stands,
 * upward rather than downward, and the shorter way past the others.
 */
export function worthOf(
  parts: readonly PlacedPart[],
  own: readonly Touch[],
  others: readonly PlacedPart[],
): (d: Vec3) => number {
  const area = own.reduce((sum, touch) => sum + touch.area, 0);
  const all = [...parts, ...others];
  const size = extentOf(all);
  const outward = subtract(middleOfAll(parts), middleOfAll(all));
  return (d) => {
    const off = own.reduce((sum, touch) => sum + touch.area * Math.max(0, -dot(touch.normal, d)), 0);
    const back = Math.min(...parts.map((part) => spanAlong(part, d).back));
    const past = Math.max(0, ...others.map((other) => spanAlong(other, d).front - back));
    const straight = area === 0 ? 0 : off / area;
    return straight + (1.2 * dot(outward, d)) / size - (0.8 * past) / size - (d[2] < -0.5 ? 0.3 : 0);
  };
}

/** How far a board has to go along a direction until it is past another; 0 where it is already. */
export const lengthPast = (part: PlacedPart, other: PlacedPart, d: Vec3): number =>
  Math.max(0, spanAlong(other, d).front - spanAlong(part, d).back);

function spanAlong(part: PlacedPart, d: Vec3): { back: number; front: number } {
  let [back, front] = [Infinity, -Infinity];
  for (const p of part.vertices) {
    const at = dot(p, d);
    if (at < back) back = at;
    if (at > front) front = at;
  }
  return { back, front };
}
