/** The surface of a part in convex pieces: its convex faces whole, the others by their triangles. */
import type { PlacedPart } from '../geometry/types.ts';
import type { Bounds, Vec3 } from '../model/types.ts';

/** A convex piece of a surface, its corners counter-clockwise from outside. */
export interface Facet {
  /** The number of its face in the part. */
  readonly face: number;
  readonly corners: readonly Vec3[];
  readonly normal: Vec3;
  readonly bounds: Bounds;
}

const known = new WeakMap<PlacedPart, readonly Facet[]>();

/** A part's facets, found once for each part. */
export function facetsOf(part: PlacedPart): readonly Facet[] {
  const found =
    known.get(part) ??
    part.faces.flatMap((face, number): Facet[] => {
      const pieces = face.convex
        ? [face.loops[0] as readonly number[]]
        : face.triangles.map((t) => part.triangles[t] as readonly number[]);
      return pieces.map((piece) => {
        const corners = piece.map((c) => part.vertices[c] as Vec3);
        return { face: number, corners, normal: face.normal, bounds: boundsOf(corners) };
      });
    });
  known.set(part, found);
  return found;
}

/** The box around points. */
export function boundsOf(corners: readonly Vec3[]): Bounds {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const p of corners)
    for (const k of [0, 1, 2] as const) {
      if (p[k] < min[k]) min[k] = p[k];
      if (p[k] > max[k]) max[k] = p[k];
    }
  return { min, max };
}
