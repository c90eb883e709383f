/** Parts for which there is not enough on hand, and nothing is sold. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import type { CutListRow } from './types.ts';

/** Parts that only boards or sheets on hand could hold, of which there are too few. */
export function noneLeft(plan: Plan, rows: readonly CutListRow[], unplaced: readonly string[]): Diagnostic[] {
  return rows.flatMap((row) => {
    const missing = unplaced.filter((letter) => letter === row.letter).length;
    const part = plan.parts.find((candidate) => candidate.key === row.part);
    if (missing === 0 || part === undefined) return [];
    return [
      fault('stock.none-left', part.origin, {
        expected: `enough of ${row.stock.label} for ${row.quantity} of "${row.name}"`,
        found: `room for ${row.quantity - missing}: no size that is sold holds the rest, and what is on hand is used up`,
        hint: 'make it shorter, or add a size that is sold to the stock list',
        parts: [part.key],
        edition: plan.edition.key,
      }),
    ];
  });
}
