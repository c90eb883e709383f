/** Tries the ways on which boards come out, with the solid kernel. */
import { type Exploded, movedPart } from '../../src/draw/explode.ts';
import type { Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, scale } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';

/** Copies that meet something on their way out which still stands when they leave, tried at so many places of each move. */
export function collisions(
  parts: readonly PlacedPart[],
  exploded: Exploded,
  solids: Solids,
  places = 40,
): string[] {
  const standing = new Map(parts.map((part) => [part.copy, part]));
  const bad: string[] = [];
  for (const round of exploded.order) {
    for (const copy of round) {
      const part = standing.get(copy) as PlacedPart;
      const others = [...standing.values()].filter((other) => other !== part);
      let at: Vec3 = [0, 0, 0];
      const { way, held } = exploded.moves.get(copy) ?? { held: false };
      for (const move of held ? [] : (way?.moves ?? [])) {
        for (let i = 1; i <= places; i++) {
          const here = movedPart(part, add(at, scale(move, i / places)));
          const met = findOverlaps([here, ...others], solids).filter((pair) => pair.first === copy);
          if (met.length > 0) bad.push(`${copy} on ${met[0]?.second} at ${i}/${places} of ${move}`);
        }
        at = add(at, move);
      }
    }
    for (const copy of round) standing.delete(copy);
  }
  return bad;
}
