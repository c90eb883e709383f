/** Where boards touch, read from their solids' faces: leaning and shaped boards too. */
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { acrossAxis, add, dot, scale } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';

/** A place where two boards touch. `normal` points from the first into the second; area in mm², of the rectangle both share; its middle, and
 * from there to two of its sides. */
export interface Touch {
  readonly first: number;
  readonly second: number;
  readonly normal: Vec3;
  readonly area: number;
  readonly middle: Vec3;
  readonly halves: readonly [Vec3, Vec3];
}

/** Faces this close, mm, and this nearly opposite (cosine) touch. */
const CLOSE = 0.05;
const OPPOSITE = -1 + 1e-6;
/** A contact narrower than this is an edge on an edge, mm. */
const LEAST = 0.5;

/** All contacts, by the parts' numbers: plane faces that lie on each other. */
export function touches(parts: readonly PlacedPart[]): Touch[] {
  const found: Touch[] = [];
  for (let i = 0; i < parts.length; i++) {
    for (let k = i + 1; k < parts.length; k++) {
      const [a, b] = [parts[i] as PlacedPart, parts[k] as PlacedPart];
      if (![0, 1, 2].every((axis) => reach(a, b, axis as 0 | 1 | 2) > -CLOSE)) continue;
      for (const face of a.faces) {
        if (face.round !== undefined) continue;
        for (const other of b.faces) {
          if (other.round !== undefined || dot(face.normal, other.normal) > OPPOSITE) continue;
          if (Math.abs(face.offset + other.offset) > CLOSE) continue;
          const shared = sharedRectangle(a, face, b, other);
          if (shared !== undefined) found.push({ first: i, second: k, normal: face.normal, ...shared });
        }
      }
    }
  }
  return found;
}

const reach = (a: PlacedPart, b: PlacedPart, axis: 0 | 1 | 2): number =>
  Math.min(a.bounds.max[axis], b.bounds.max[axis]) - Math.max(a.bounds.min[axis], b.bounds.min[axis]);

function sharedRectangle(
  a: PlacedPart,
  face: SolidFace,
  b: PlacedPart,
  other: SolidFace,
): Pick<Touch, 'area' | 'middle' | 'halves'> | undefined {
  const { first, second } = acrossAxis(face.normal);
  const span = (part: PlacedPart, of: SolidFace, axis: Vec3): [number, number] => {
    const at = of.loops.flat().map((v) => dot(part.vertices[v] as Vec3, axis));
    return [Math.min(...at), Math.max(...at)];
  };
  const shared = [first, second].map((axis) => {
    const [p, q] = [span(a, face, axis), span(b, other, axis)];
    return [Math.max(p[0], q[0]), Math.min(p[1], q[1])] as const;
  });
  if (shared.some(([from, to]) => to - from < LEAST)) return undefined;
  const [[u0, u1], [v0, v1]] = shared as [readonly [number, number], readonly [number, number]];
  const middle = add(
    scale(face.normal, face.offset),
    add(scale(first, (u0 + u1) / 2), scale(second, (v0 + v1) / 2)),
  );
  const halves = [scale(first, (u1 - u0) / 2), scale(second, (v1 - v0) / 2)] as const;
  return { area: (u1 - u0) * (v1 - v0), middle, halves };
}
