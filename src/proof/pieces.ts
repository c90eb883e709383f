/** Boards that their cuts leave in several pieces or that are cut away. The pieces are counted on the solids. Source: none needed. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { partOf } from './support.ts';
import type { Rule } from './types.ts';

/** One finding a part, at its last cut. */
export const pieces: Rule = ({ plan, overlaps }) => {
  const told = new Set<string>();
  return overlaps.flatMap((item): Diagnostic[] => {
    const part = partOf(plan, item.first);
    if (item.pieces === undefined || !part || told.has(part.key)) return [];
    told.add(part.key);
    const shape = part.copies.find((copy) => copy.id === item.first)?.shape ?? [];
    const last = shape.at(-1);
    return [
      fault('shape.pieces', last?.origin ?? part.origin, {
        expected: `cuts that leave "${part.key}" in one piece`,
        found: item.pieces === 0 ? 'that nothing of it is left' : `${item.pieces} pieces of ${item.first}`,
        hint: 'this cut and those before it meet: make one of them smaller',
        parts: [part.key],
      }),
    ];
  });
};
