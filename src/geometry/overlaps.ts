/** Boards that are in each other: a fault of the plan, found by the proof. Boards that touch are none. */
import type { Bounds, Vec3 } from '../model/types.ts';
import type { Solids } from './manifold.ts';
import type { PlacedPart } from './types.ts';

/**
 * Two copies that share space. Volume in mm³, bounds in the piece's frame. With `pieces` a copy that its cuts leave in so many pieces,
 * named twice.
 */
export interface PartOverlap {
  readonly first: string;
  readonly second: string;
  readonly volume: number;
  readonly bounds: Bounds;
  readonly pieces?: number;
}

/** Less than this, mm³, is no overlap. */
const LEAST_VOLUME = 1;
/** Nor is a film thinner than this on average, mm: the kernel's single precision makes such films where boards touch. */
const LEAST_THICKNESS = 0.005;

/** All pairs of copies that overlap, in the order of the parts. */
export function findOverlaps(parts: readonly PlacedPart[], solids: Solids): PartOverlap[] {
  const pairs = boxPairs(parts);
  // The kernel works in single precision, so the bodies go to it around the middle of the piece.
  const middle = middleOf(parts);
  const bodies = parts.map((part) => ({
    vertices: part.vertices.map((p): Vec3 => [p[0] - middle[0], p[1] - middle[1], p[2] - middle[2]]),
    triangles: part.triangles,
  }));
  return solids.overlaps(bodies, pairs).flatMap((overlap, i) => {
    if (overlap === undefined || overlap.volume <= LEAST_VOLUME || overlap.thickness <= LEAST_THICKNESS)
      return [];
    const [first, second] = pairs[i] as [number, number];
    const back = (p: Vec3): Vec3 => [p[0] + middle[0], p[1] + middle[1], p[2] + middle[2]];
    return [
      {
        first: (parts[first] as PlacedPart).copy,
        second: (parts[second] as PlacedPart).copy,
        volume: overlap.volume,
        bounds: { min: back(overlap.bounds.min), max: back(overlap.bounds.max) },
      },
    ];
  });
}

/** Pairs whose boxes share more than a touch, lower index first, sorted: a sweep along x. */
function boxPairs(parts: readonly PlacedPart[]): [number, number][] {
  const order = parts
    .map((part, i) => ({ i, box: part.bounds }))
    .sort((a, b) => a.box.min[0] - b.box.min[0] || a.i - b.i);
  const pairs: [number, number][] = [];
  order.forEach(({ i, box }, at) => {
    for (let k = at + 1; k < order.length; k++) {
      const other = order[k] as { i: number; box: Bounds };
      if (other.box.min[0] >= box.max[0] - LEAST_THICKNESS) break;
      if ([1, 2].every((axis) => sharedSpan(box, other.box, axis) > LEAST_THICKNESS))
        pairs.push(i < other.i ? [i, other.i] : [other.i, i]);
    }
  });
  return pairs.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
}

const sharedSpan = (a: Bounds, b: Bounds, axis: number): number =>
  Math.min(a.max[axis] as number, b.max[axis] as number) -
  Math.max(a.min[axis] as number, b.min[axis] as number);

function middleOf(parts: readonly PlacedPart[]): Vec3 {
  const mean = (axis: number): number => {
    let [low, high] = [Infinity, -Infinity];
    for (const part of parts) {
      low = Math.min(low, part.bounds.min[axis] as number);
      high = Math.max(high, part.bounds.max[axis] as number);
    }
    return parts.length === 0 ? 0 : (low + high) / 2;
  };
  return [mean(0), mean(1), mean(2)];
}
