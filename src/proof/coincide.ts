/**
 * Two copies in the same place: a mirror about the middle of a part that stands in the middle, or a repeat without spacing.
 * Source: none needed, two boards can't be in one place.
 */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { Copy } from '../model/types.ts';
import type { Rule } from './types.ts';

const same = (a: Copy, b: Copy): boolean =>
  a.bounds.min.every((value, i) => Math.abs(value - (b.bounds.min[i] as number)) < 0.1) &&
  a.bounds.max.every((value, i) => Math.abs(value - (b.bounds.max[i] as number)) < 0.1);

export const coincide: Rule = ({ plan }) =>
  plan.parts.flatMap((part): Diagnostic[] => {
    for (const [i, a] of part.copies.entries()) {
      const twin = part.copies.slice(i + 1).find((b) => same(a, b));
      if (!twin) continue;
      return [
        fault('place.coincide', part.origin, {
          expected: `the copies of ${part.key} in places of their own`,
          found: `${a.id} and ${twin.id} in the same place`,
          hint: 'a part in the middle needs no mirrored copy: take the mirror out of copies, or move the part',
          parts: [part.key],
        }),
      ];
    }
    return [];
  });
