/** Where the wood of a board is: its blank after saw cuts, without its notches, housings and rabbets. Holes count as wood. */
import { surfacesOf } from '../joinery/surfaces.ts';
import type { Copy, Vec3 } from '../model/types.ts';
import type { Plane } from '../resolve/convex.ts';
import { dot } from '../resolve/vectors.ts';

/** The planes of a board's blank, outward. */
export const planesOf = (copy: Copy): readonly Plane[] => surfacesOf(copy).faces.filter(({ cut }) => cut < 0);

/** Tells of a place whether it lies in the wood of a board. */
export function woodAt(copy: Copy): (place: Vec3) => boolean {
  const { faces, taken } = surfacesOf(copy);
  const planes = faces.filter(({ cut }) => cut < 0);
  const within = (place: Vec3, body: readonly Plane[]): boolean =>
    body.every(({ normal, offset }) => dot(normal, place) < offset);
  return (place) => within(place, planes) && !taken.some((body) => within(place, body));
}
