/** The surface of a part in convex pieces: its convex faces whole, the others by their triangles. */
import type { PlacedPart } from '../../geometry/types.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';

/** A convex piece of a surface, its corners counter-clockwise from outside. */
export interface Facet {
  readonly corners: readonly Vec3[];
  readonly normal: Vec3;
  readonly bounds: Bounds;
}

const known = new WeakMap<PlacedPart, readonly (readonly Facet[])[]>();

/** A part's facets by the numbers of their faces, found once for each part. */
function byFace(part: PlacedPart): readonly (readonly Facet[])[] {
  const found =
    known.get(part) ??
    part.faces.map((face) => {
      const pieces = face.convex
        ? [face.loops[0] as readonly number[]]
        : face.triangles.map((t) => part.triangles[t] as readonly number[]);
      return pieces.map((piece): Facet => {
        const corners = piece.map((c) => part.vertices[c] as Vec3);
        return { corners, normal: face.normal, bounds: boundsOf(corners) };
      });
    });
  known.set(part, found);
  return found;
}

/** All facets of a part. */
export const facetsOf = (part: PlacedPart): readonly Facet[] => byFace(part).flat();

/** The facets of one of its faces. */
export const facetsOfFace = (part: PlacedPart, face: number): readonly Facet[] => byFace(part)[face] ?? [];

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
