/** Where the wood of a board is: its blank after saw cuts, without its notches, housings and rabbets. Holes count as wood. */
import { surfacesOf } from '../joinery/surfaces.ts';
import type { Copy, Vec3 } from '../model/types.ts';
import type { Plane } from '../resolve/convex.ts';
import { dot } from '../resolve/vectors.ts';

interface Wood {
  /** The planes of the blank, outward. */
  readonly planes: readonly Plane[];
  readonly at: (place: Vec3) => boolean;
}

/** Known already: several rules ask of the same boards, for each screw anew. */
const known = new WeakMap<Copy, Wood>();

const within = (place: Vec3, body: readonly Plane[]): boolean =>
  body.every(({ normal, offset }) => dot(normal, place) < offset);

/** The blank of a board, and what tells of a place whether it lies in its wood. */
export function woodOf(copy: Copy): Wood {
  const before = known.get(copy);
  if (before) return before;
  const { faces, taken } = surfacesOf(copy);
  const planes = faces.filter(({ cut }) => cut < 0);
  const at = (place: Vec3): boolean => within(place, planes) && !taken.some((body) => within(place, body));
  const made = { planes, at };
  known.set(copy, made);
  return made;
}
