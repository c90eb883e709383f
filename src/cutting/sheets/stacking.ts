/**
 * All blocks that a good layout could have in it, level by level, and from them all ways to fill a sheet.
 *
 * A block is kept only while it is worth little less than the best that could lie in its place: if a layout must be worth so much in
 * all, its blocks can lose no more than what that leaves over (reduced costs; the worths come from `Worths`, which know of no limit
 * on the number of parts, the blocks do). Where the loss allowed is what a cheaper layout may lose, and no limit was met, nothing is
 * missing, and what can't be built from these sheets can't be cut in that many levels.
 */
import { Blocks, PART } from './blocks.ts';
import { SAME, type Yard } from './kinds.ts';
import type { Steps } from './steps.ts';
import type { Axis, Worths } from './worths.ts';

/** What blocks may lose, and when to stop. */
export interface Budget {
  /** In worth: what a sheet may lack of the most it could be worth. */
  readonly loss: number;
  /** The share of it that one block may lose; below 1 sheets may be missing. */
  readonly share: number;
  /** In steps²: area of sheets that may stay empty. */
  readonly waste: number;
  /** Comparisons of a block with a piece. */
  readonly looks: number;
  /** Blocks made. */
  readonly blocks: number;
}

/** The sheets found: for each size the blocks that fill it. */
export interface Stacked {
  readonly blocks: Blocks;
  readonly sheets: readonly { readonly size: number; readonly block: number }[];
  /** True where a limit was met, and none are given. */
  readonly full: boolean;
  /** True where none can be missing. */
  readonly complete: boolean;
  /** Comparisons made. */
  readonly looks: number;
  /** Pieces seen, those among them that lose too much beside the first one to be compared at all. */
  readonly seen: number;
}

/** Parts and blocks that may lie side by side, with their sides as seen along the cuts. */
interface Pieces {
  readonly ids: Int32Array;
  /** Side along the cuts between them, and the one that adds up. */
  readonly side: Int32Array;
  readonly extent: Int32Array;
}

/**
 * All sheets that lose no more than the budget allows.
 *
 * @param worths filled for `kinds`; where absent, waste is all that counts
 */
export function stackSheets(
  yard: Yard,
  steps: Steps,
  worths: Worths | undefined,
  kinds: readonly number[],
  budget: Budget,
): Stacked {
  const stacking = new Stacking(yard, steps, worths, budget);
  const { blocks } = stacking;
  const parts = steps.lies.map((lie, index) => blocks.part(lie, index, kinds[lie.kind] as number));
  let ripped: number[] = [];
  let crosscut: number[] = [];
  let before = '';
  for (let level = 1; level < yard.stages && !stacking.full; level++) {
    const rips = stacking.stacks('rip', level, [...parts, ...crosscut]);
    const crosscuts = stacking.stacks('crosscut', level, [...parts, ...ripped]);
    ripped = rips;
    crosscut = crosscuts;
    // where a level more brings nothing, no further one does
    const now = `${blocks.mark(ripped)} ${blocks.mark(crosscut)}`;
    if (level > (worths?.levels ?? 1) && now === before) break;
    before = now;
  }
  const sheets: { size: number; block: number }[] = [];
  for (let size = 0; size < yard.sizes.length && !stacking.full; size++) {
    if ((yard.sizes[size] as Yard['sizes'][number]).limit <= 0) continue;
    for (const block of stacking.sheets('rip', size, [...parts, ...crosscut])) sheets.push({ size, block });
    for (const block of stacking.sheets('crosscut', size, [...parts, ...ripped]))
      sheets.push({ size, block });
  }
  const { full, looks, seen } = stacking;
  return { blocks, sheets: full ? [] : sheets, full, complete: !full && budget.share >= 1, looks, seen };
}

class Stacking {
  readonly blocks: Blocks;
  readonly #yard: Yard;
  readonly #steps: Steps;
  readonly #worths: Worths | undefined;
  readonly #budget: Budget;
  #looks = 0;
  seen = 0;

  constructor(yard: Yard, steps: Steps, worths: Worths | undefined, budget: Budget) {
    this.#yard = yard;
    this.#steps = steps;
    this.#worths = worths;
    this.#budget = budget;
    this.blocks = new Blocks(yard.kinds.length);
  }

  get looks(): number {
    return this.#looks;
  }

  get full(): boolean {
    return this.#looks > this.#budget.looks || this.blocks.count > this.#budget.blocks;
  }

  /** The pieces that fit into a room, longest side first. */
  #sorted(ids: readonly number[], axis: Axis, room: { x: number; y: number }, by: 'side' | 'extent'): Pieces {
    const { x, y } = this.blocks;
    const [own, other] = axis === 'rip' ? [x, y] : [y, x];
    const list = ids.filter((id) => (x[id] as number) <= room.x && (y[id] as number) <= room.y);
    const [first, second] = by === 'side' ? [own, other] : [other, own];
    list.sort(
      (a, b) =>
        (first[b] as number) - (first[a] as number) || (second[b] as number) - (second[a] as number) || a - b,
    );
    return {
      ids: Int32Array.from(list),
      side: Int32Array.from(list, (id) => own[id] as number),
      extent: Int32Array.from(list, (id) => other[id] as number),
    };
  }

  /**
   * Blocks of two or more pieces side by side. The longest piece comes first; the others, no longer than it, are added in order, each as
   * often as its parts are needed. On the first level all are of one length.
   */
  stacks(axis: Axis, level: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const { rooms } = this.#steps;
    const room = { x: Math.max(...rooms.map(({ x }) => x)), y: Math.max(...rooms.map(({ y }) => y)) };
    const pieces = this.#sorted(ids, axis, room, 'side');
    const most = axis === 'rip' ? room.y : room.x;
    const own = axis === 'rip' ? this.#worths?.along : this.#worths?.across;
    const other = axis === 'rip' ? this.#worths?.across : this.#worths?.along;
    // the most that a block so long and so wide could be worth; nothing to compare with where there are no tables
    const table = this.#worths?.table(axis, level);
    const at = other?.at ?? new Int32Array(0);
    const width = other?.sums.length ?? 0;
    blocks.forget();
    const made: number[] = [];
    const { waste, share } = this.#budget;
    const loss = share * this.#budget.loss;
    const { demands } = this.#steps;
    let seen = 0;
    for (let lead = 0; lead < pieces.ids.length && !this.full; lead++) {
      const side = pieces.side[lead] as number;
      const row = own === undefined ? 0 : (own.at[side] as number) * width;
      const states = [pieces.ids[lead] as number];
      for (let n = lead; n < pieces.ids.length; n++) {
        const piece = pieces.ids[n] as number;
        const extent = pieces.extent[n] as number;
        if (level === 1 && pieces.side[n] !== side) break;
        seen++;
        // what the piece alone loses beside one so long
        if (table && (table[row + (at[extent] as number)] as number) - (blocks.worth[piece] as number) > loss)
          continue;
        if (side * extent - (blocks.area[piece] as number) > waste) continue;
        for (let s = 0; s < states.length; s++) {
          const state = states[s] as number;
          this.#looks++;
          if (blocks.dead[state] === 1) continue;
          const all = extent + ((axis === 'rip' ? blocks.y[state] : blocks.x[state]) as number);
          if (all > most) continue;
          const worth = (blocks.worth[state] as number) + (blocks.worth[piece] as number);
          if (table && (table[row + (at[all] as number)] as number) - worth > loss) continue;
          if (side * all - (blocks.area[state] as number) - (blocks.area[piece] as number) > waste) continue;
          if (!blocks.within(state, piece, demands)) continue;
          const block =
            axis === 'rip'
              ? blocks.add(state, piece, axis, side, all)
              : blocks.add(state, piece, axis, all, side);
          if (block === undefined) continue;
          made.push(block);
          states.push(block);
        }
        if (this.full) break;
      }
    }
    this.seen += seen;
    return this.full ? [] : made.filter((block) => blocks.dead[block] === 0);
  }

  /** Ways to fill a sheet with pieces side by side. */
  sheets(axis: Axis, size: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const room = this.#steps.rooms[size] as Steps['rooms'][number];
    const pieces = this.#sorted(ids, axis, room, 'extent');
    const [length, most] = axis === 'rip' ? [room.x, room.y] : [room.y, room.x];
    const { loss, waste } = this.#budget;
    const { demands } = this.#steps;
    const worths = this.#worths;
    const least = worths ? worths.most(size) - loss : room.x * room.y - waste;
    blocks.forget();
    const empty = blocks.empty(axis, length);
    const states = [empty];
    const made: number[] = [];
    for (let n = 0; n < pieces.ids.length; n++) {
      const piece = pieces.ids[n] as number;
      const extent = pieces.extent[n] as number;
      if (!this.#liftable(axis, size, piece)) continue;
      for (let s = 0; s < states.length; s++) {
        const state = states[s] as number;
        this.#looks++;
        if (blocks.dead[state] === 1) continue;
        const all = extent + ((axis === 'rip' ? blocks.y[state] : blocks.x[state]) as number);
        if (all > most) continue;
        const worth = (blocks.worth[state] as number) + (blocks.worth[piece] as number);
        if (worths) {
          const over = most - all;
          const rest = axis === 'rip' ? worths.ripWorth(size, over) : worths.crosscutWorth(size, over);
          if (worth + rest < least) continue;
        }
        if (length * all - (blocks.area[state] as number) - (blocks.area[piece] as number) > waste) continue;
        if (!blocks.within(state, piece, demands)) continue;
        const block =
          axis === 'rip'
            ? blocks.add(state, piece, axis, length, all)
            : blocks.add(state, piece, axis, all, length);
        if (block === undefined) continue;
        made.push(block);
        states.push(block);
      }
      if (this.full) return [];
    }
    return made.filter(
      (block) =>
        blocks.dead[block] === 0 && ((worths ? blocks.worth[block] : blocks.area[block]) as number) >= least,
    );
  }

  /** Whether two hands can lift the piece as the first cuts leave it: across the whole sheet. */
  #liftable(axis: Axis, size: number, piece: number): boolean {
    const { liftable, job, sizes } = this.#yard;
    if (liftable === Infinity || this.blocks.axis[piece] === PART) return true;
    const sheet = sizes[size] as Yard['sizes'][number];
    const { step } = this.#steps;
    const [l, w] =
      axis === 'rip'
        ? [sheet.length, (this.blocks.y[piece] as number) * step]
        : [(this.blocks.x[piece] as number) * step, sheet.width];
    return (l - job.kerf) * (w - job.kerf) <= liftable + SAME;
  }
}
