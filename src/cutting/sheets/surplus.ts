/** Sets of sheets that hold more than is needed. */
import type { Filled } from './fill.ts';
import type { Yard } from './kinds.ts';
import type { Sheets } from './search.ts';
import { filledBy } from './subset.ts';
import { type KindTree, without } from './tree.ts';

/** Takes out what is more than needed: from the emptiest sheets first. */
export function withoutSurplus(
  yard: Yard,
  chosen: readonly (Filled & { readonly tree: KindTree })[],
): Sheets {
  const surplus = yard.kinds.map((kind) => -kind.demand);
  for (const sheet of chosen)
    sheet.counts.forEach((count, kind) => {
      surplus[kind] = (surplus[kind] as number) + count;
    });
  const sheets: Filled[] = [];
  for (const sheet of [...chosen].sort((a, b) => a.area - b.area)) {
    const tree = without(sheet.tree, surplus, yard.job.kerf);
    if (tree.kind !== 'offcut') sheets.push(filledBy(yard, sheet.size, tree));
  }
  return { sheets, missing: surplus.map((count) => Math.max(0, -count)) };
}
