/** Boards that take the same room. The volume comes from the solids. Source: none needed. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { partOf, print } from './support.ts';
import type { Rule } from './types.ts';

/** One finding a pair of parts: the largest overlap of their copies. Copies in the same place have their own rule. */
export const overlap: Rule = ({ plan, overlaps }) => {
  const worst = new Map<string, (typeof overlaps)[number]>();
  for (const item of overlaps) {
    if (item.pieces !== undefined) continue;
    const keys = [partOf(plan, item.first)?.key, partOf(plan, item.second)?.key];
    if (keys[0] === undefined || keys[1] === undefined) continue;
    const pair = [...keys].sort().join(' and ');
    const before = worst.get(pair);
    if (!before || before.volume < item.volume) worst.set(pair, item);
  }
  return [...worst.entries()].sort().flatMap(([, item]): Diagnostic[] => {
    const first = partOf(plan, item.first);
    const second = partOf(plan, item.second);
    if (!first || !second) return [];
    const [x, y, z] = item.bounds.max.map((value, i) => print(plan, value - (item.bounds.min[i] as number)));
    return [
      fault('place.overlap', second.origin, {
        expected: `${first.key} and ${second.key} beside each other`,
        found: `${item.first} and ${item.second} in the same room: ${x} across × ${y} deep × ${z} high`,
        hint: `move a face so that they touch, for instance by giving it as a face of ${first.key}`,
        parts: [first.key, second.key],
      }),
    ];
  });
};
