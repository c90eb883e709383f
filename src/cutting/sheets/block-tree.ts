/** From a block that fills a sheet to its tree of cuts, in the job's own sizes. */
import { type Blocks, PART, RIP } from './blocks.ts';
import { SAME, sidesWithout, trimmedBy, type Yard } from './kinds.ts';
import type { Lie, Steps } from './steps.ts';
import { inOrder, type KindTree } from './tree.ts';

/**
 * The tree of a sheet. Nothing where it can't be cut so after all, since it was found with sizes rounded down to steps: where the block is
 * a little too large, where parts of nearly one width need a level more, or where a first piece is a little too heavy.
 */
export function blockTree(
  yard: Yard,
  steps: Steps,
  blocks: Blocks,
  size: number,
  block: number,
): KindTree | undefined {
  const { stock } = yard.sizes[size] as Yard['sizes'][number];
  const lost = trimmedBy(yard.job);
  const tree = new Maker(yard, steps, blocks).laid(block, stock.length - lost, stock.width - lost);
  return tree !== undefined && levelsOf(tree) <= yard.stages && isLiftable(tree, yard.liftable)
    ? tree
    : undefined;
}

/** Levels of cuts of a tree. */
export const levelsOf = (tree: KindTree): number =>
  tree.kind === 'split' ? 1 + Math.max(...tree.pieces.map(levelsOf)) : 0;

const partsOf = (tree: KindTree): number =>
  tree.kind === 'split'
    ? tree.pieces.reduce((sum, piece) => sum + partsOf(piece), 0)
    : Number(tree.kind === 'part');

/** Whether the first cuts leave nothing that is too large and holds several parts. */
export const isLiftable = (tree: KindTree, most: number): boolean =>
  tree.kind !== 'split' ||
  tree.pieces.every((piece) => piece.length * piece.width <= most + SAME || partsOf(piece) < 2);

/** What a piece measures. */
export interface Sides {
  readonly length: number;
  readonly width: number;
}

class Maker {
  readonly #yard: Yard;
  readonly #steps: Steps;
  readonly #blocks: Blocks;
  readonly #known = new Map<number, Sides>();

  constructor(yard: Yard, steps: Steps, blocks: Blocks) {
    this.#yard = yard;
    this.#steps = steps;
    this.#blocks = blocks;
  }

  #lie(block: number): Lie {
    return this.#steps.lies[-1 - (this.#blocks.piece[block] as number)] as Lie;
  }

  /** What a block measures, without a kerf. */
  #sides(block: number): Sides {
    const known = this.#known.get(block);
    if (known !== undefined) return known;
    const made = this.#measured(block);
    this.#known.set(block, made);
    return made;
  }

  #measured(block: number): Sides {
    if (this.#blocks.axis[block] === PART) return sidesWithout(this.#yard, this.#lie(block));
    const pieces = this.#blocks.pieces(block).map((piece) => this.#sides(piece));
    const lengths = pieces.map(({ length }) => length);
    const widths = pieces.map(({ width }) => width);
    const added = (sides: readonly number[]): number =>
      sides.reduce((sum, side) => sum + side + this.#yard.job.kerf, -this.#yard.job.kerf);
    return this.#blocks.axis[block] === RIP
      ? { length: Math.max(...lengths), width: added(widths) }
      : { length: added(lengths), width: Math.max(...widths) };
  }

  /** A block in a piece of a given size, with what is left over beside it. */
  laid(block: number, length: number, width: number): KindTree | undefined {
    const own = this.#sides(block);
    if (own.length > length + SAME || own.width > width + SAME) return undefined;
    if (this.#blocks.axis[block] === PART)
      return partIn(this.#yard.job.kerf, this.#lie(block), own, { length, width });
    const rip = this.#blocks.axis[block] === RIP;
    const pieces: KindTree[] = [];
    for (const piece of this.#blocks.pieces(block)) {
      const sides = this.#sides(piece);
      const laid = rip ? this.laid(piece, length, sides.width) : this.laid(piece, sides.length, width);
      if (laid === undefined) return undefined;
      pieces.push(laid);
    }
    return sideBySide(this.#yard.job.kerf, rip ? 'rip' : 'crosscut', pieces, { length, width });
  }
}

/** A part in a piece that may be larger: its length is taken off first. */
export function partIn(
  kerf: number,
  { kind, turned }: { readonly kind: number; readonly turned: boolean },
  own: Sides,
  { length, width }: Sides,
): KindTree {
  const part: KindTree = { kind: 'part', part: kind, turned, ...own };
  const across =
    width - own.width > SAME ? sideBySide(kerf, 'rip', [part], { length: own.length, width }) : part;
  return length - own.length > SAME ? sideBySide(kerf, 'crosscut', [across], { length, width }) : across;
}

/** Pieces side by side in one that may be larger, with what is left over beside them. */
export function sideBySide(
  kerf: number,
  cut: 'rip' | 'crosscut',
  pieces: readonly KindTree[],
  { length, width }: Sides,
): KindTree {
  const taken = pieces.reduce((sum, piece) => sum + (cut === 'rip' ? piece.width : piece.length) + kerf, 0);
  const over = (cut === 'rip' ? width : length) - taken;
  const offcut: KindTree[] =
    over > SAME
      ? [{ kind: 'offcut', ...(cut === 'rip' ? { length, width: over } : { length: over, width }) }]
      : [];
  if (pieces.length === 1 && offcut.length === 0 && taken - kerf >= (cut === 'rip' ? width : length) - SAME)
    return pieces[0] as KindTree;
  return { kind: 'split', cut, length, width, pieces: inOrder(cut, [...pieces, ...offcut]) };
}
