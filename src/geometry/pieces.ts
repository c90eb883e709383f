/** Boards that their cuts leave in several pieces, or of which nothing is left: found on the solids, so that no way there is missed. */
import type { Bounds } from '../model/types.ts';
import { joinedSets } from './joined.ts';
import { boundsOf } from './place.ts';
import type { PlacedPart } from './types.ts';

/** A copy that isn't one piece; 0 pieces where nothing is left. Bounds are those of the whole. */
export interface BrokenPart {
  readonly copy: string;
  readonly pieces: number;
  readonly bounds: Bounds;
}

/** Copies that aren't one piece, in the order of the parts. */
export function findBroken(parts: readonly PlacedPart[]): BrokenPart[] {
  return parts.flatMap((part) => {
    const pieces = piecesOf(part);
    return pieces === 1 ? [] : [{ copy: part.copy, pieces, bounds: boundsOf(part.vertices) }];
  });
}

/** How many surfaces that don't touch the triangles make up. */
export function piecesOf({ triangles, vertices }: Pick<PlacedPart, 'triangles' | 'vertices'>): number {
  const { find, join } = joinedSets(vertices.length);
  for (const [a, b, c] of triangles) {
    join(a, b);
    join(a, c);
  }
  return new Set(triangles.map(([a]) => find(a))).size;
}
