/** Tries the ways on which boards come out, with the solid kernel. */
import { type Exploded, movedPart } from '../../src/draw/apart/explode.ts';
import type { Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, scale } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';

/** Copies that meet something on their way out which they leave behind, tried at so many places of each move. */
export function collisions(
  parts: readonly PlacedPart[],
  { moves, rounds }: Exploded,
  solids: Solids,
  places = 40,
): string[] {
  const known = new Map(parts.map((part) => [part.copy, part]));
  const those = (copies: readonly string[]) => copies.map((copy) => known.get(copy) as PlacedPart);
  const bad: string[] = [];
  for (const { copy, copies, standing } of rounds.flat()) {
    const others = those(standing);
    let at: Vec3 = [0, 0, 0];
    const { way, held } = moves.get(copy) ?? { held: false };
    for (const move of held ? [] : (way?.moves ?? [])) {
      for (let i = 1; i <= places; i++) {
        const here = those(copies).map((part) => movedPart(part, add(at, scale(move, i / places))));
        const met = findOverlaps([...here, ...others], solids).filter(
          ({ first, second }) => copies.includes(first) !== copies.includes(second),
        );
        for (const { first, second } of met) bad.push(`${first} on ${second} at ${i}/${places} of ${move}`);
      }
      at = add(at, move);
    }
  }
  return bad;
}

/** What each departure leaves behind and takes along must be all that was together before: nothing is forgotten. */
export function forgotten(parts: readonly PlacedPart[], { rounds }: Exploded): string[] {
  const together = [new Set(parts.map((part) => part.copy))];
  const bad: string[] = [];
  for (const { copy, copies, standing } of rounds.flat()) {
    const whole = together.find((group) => group.has(copy));
    if (whole === undefined) continue;
    for (const each of whole)
      if (!copies.includes(each) && !standing.includes(each))
        bad.push(`${copy} leaves without a look at ${each}`);
    for (const each of copies) whole.delete(each);
    together.push(new Set(copies));
  }
  for (const group of together) if (group.size > 1) bad.push(`${[...group].join(', ')} are still together`);
  return bad;
}
