/** Jobs of some parts of a job, and sheets given by their trees of cuts. */
import type { Filled } from './fill.ts';
import type { Kind, Yard } from './kinds.ts';
import { type KindTree, treeOf } from './tree.ts';

/** A smaller job, with the kinds and sizes of the whole one that it names. */
export interface Part {
  readonly yard: Yard;
  readonly kinds: readonly number[];
  readonly sizes: readonly number[];
}

/** The job of some parts, on some sheets. */
export function partYard(yard: Yard, left: readonly number[], limits: readonly number[]): Part {
  const kinds = yard.kinds.flatMap((_, kind) => ((left[kind] as number) > 0 ? [kind] : []));
  const sizes = yard.sizes.flatMap((_, size) => ((limits[size] as number) > 0 ? [size] : []));
  return {
    yard: {
      ...yard,
      kinds: kinds.map((kind) => ({ ...(yard.kinds[kind] as Kind), demand: left[kind] as number })),
      sizes: sizes.map((size) => ({
        ...(yard.sizes[size] as Yard['sizes'][number]),
        limit: limits[size] as number,
      })),
    },
    kinds,
    sizes,
  };
}

/** A sheet of a smaller job, in the kinds and sizes of the whole one. */
export function widened(yard: Yard, part: Part, sheet: Filled): Filled {
  const named = (tree: KindTree): KindTree =>
    tree.kind === 'part'
      ? { ...tree, part: part.kinds[tree.part] as number }
      : tree.kind === 'split'
        ? { ...tree, pieces: tree.pieces.map(named) }
        : tree;
  return filledBy(yard, part.sizes[sheet.size] as number, named(treeOf(part.yard, sheet)));
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
