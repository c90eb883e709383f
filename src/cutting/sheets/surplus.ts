/** Sheets given by their trees of cuts, and sets of them that hold more than is needed. */
import type { Filled } from './fill.ts';
import type { Yard } from './kinds.ts';
import type { Sheets } from './search.ts';
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

/** A sheet from its tree of cuts. */
export function filledBy(yard: Yard, size: number, tree: KindTree): Filled & { readonly tree: KindTree } {
  const counts = new Int32Array(yard.kinds.length);
  const count = (piece: KindTree): void => {
    if (piece.kind === 'split') for (const one of piece.pieces) count(one);
    else if (piece.kind === 'part') counts[piece.part] = (counts[piece.part] as number) + 1;
  };
  count(tree);
  const area = yard.kinds.reduce(
    (sum, kind, index) => sum + kind.length * kind.width * (counts[index] as number),
    0,
  );
  return { size, placements: [], tree, counts, area };
}
