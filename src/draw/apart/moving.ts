/** Parts moved without turning, and how far parts reach. */
import type { PlacedPart } from '../../geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';

/** A part moved by a vector, mm. */
export function movedPart(part: PlacedPart, by: Vec3): PlacedPart {
  if (norm(by) === 0) return part;
  const at = (p: Vec3): Vec3 => add(p, by);
  return {
    ...part,
    frame: { ...part.frame, origin: at(part.frame.origin) },
    vertices: part.vertices.map(at),
    faces: part.faces.map((face) => ({
      ...face,
      offset: face.offset + dot(face.normal, by),
      ...(face.round === undefined ? {} : { round: { ...face.round, origin: at(face.round.origin) } }),
    })),
    bounds: { min: at(part.bounds.min), max: at(part.bounds.max) },
  };
}

/** The middle of the box around parts. */
export function middleOfAll(parts: readonly PlacedPart[]): Vec3 {
  const { min, max } = spanOf(parts);
  return scale(add(min, max), 0.5);
}

/** The longest way across parts along the piece's axes, mm; 0 for none. */
export function extentOf(parts: readonly PlacedPart[]): number {
  if (parts.length === 0) return 0;
  const { min, max } = spanOf(parts);
  return Math.max(...subtract(max, min));
}

function spanOf(parts: readonly PlacedPart[]): Bounds {
  const at = (k: 0 | 1 | 2, side: 'min' | 'max'): number =>
    Math[side](...parts.map((part) => part.bounds[side][k]));
  return {
    min: [at(0, 'min'), at(1, 'min'), at(2, 'min')],
    max: [at(0, 'max'), at(1, 'max'), at(2, 'max')],
  };
}
