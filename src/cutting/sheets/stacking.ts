/**
 * All blocks that a good layout could have in it, level by level, and from them all ways to fill a sheet.
 *
 * A block is kept only while it is worth little less than the best that could lie in its place: if a layout must be worth so much in
 * all, its blocks can lose no more than what that leaves over (reduced costs; the worths come from `Worths`, which know of no limit
 * on the number of parts, the blocks do). Where the loss allowed is what a cheaper layout may lose, and no limit was met, nothing is
 * missing, and what can't be built from these sheets can't be cut in that many levels.
 */
import { Blocks, PART } from './blocks.ts';
import { type Choice, firstWithin, inOrder, minimum } from './choice.ts';
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
  const { full, looks } = stacking;
  return { blocks, sheets: full ? [] : sheets, full, complete: !full && budget.share >= 1, looks };
}

class Stacking {
  readonly blocks: Blocks;
  readonly #yard: Yard;
  readonly #steps: Steps;
  readonly #worths: Worths | undefined;
  readonly #budget: Budget;
  /** True where nothing may be missing. */
  readonly #complete: boolean;
  #looks = 0;

  constructor(yard: Yard, steps: Steps, worths: Worths | undefined, budget: Budget) {
    this.#yard = yard;
    this.#steps = steps;
    this.#worths = worths;
    this.#budget = budget;
    this.#complete = budget.share >= 1;
    this.blocks = new Blocks(steps.demands);
  }

  get looks(): number {
    return this.#looks;
  }

  get full(): boolean {
    return this.#looks > this.#budget.looks || this.blocks.count > this.#budget.blocks;
  }

  /**
   * Blocks of two or more pieces side by side, as long as the longest of them; on the first level all are of one length. Lengths are gone
   * through from the shortest, and pieces kept by their extents, the worthiest first: only those that lose little beside one so long are
   * looked at.
   */
  stacks(axis: Axis, level: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const { x, y } = blocks;
    const { rooms } = this.#steps;
    const rip = axis === 'rip';
    const [own, across] = rip ? [x, y] : [y, x];
    const longest = Math.max(...rooms.map((room) => (rip ? room.x : room.y)));
    const most = Math.max(...rooms.map((room) => (rip ? room.y : room.x)));
    const list = ids.filter((id) => (own[id] as number) <= longest && (across[id] as number) <= most);
    list.sort((a, b) => (own[a] as number) - (own[b] as number) || a - b);
    // the most that a block so long and so wide could be worth; nothing to compare with where there are no tables
    const table = this.#worths?.table(axis, level);
    const lengths = rip ? this.#worths?.along : this.#worths?.across;
    const widths = rip ? this.#worths?.across : this.#worths?.along;
    const stride = widths?.sums.length ?? 0;
    const loss = table ? this.#budget.share * this.#budget.loss : Infinity;
    const shelf = new Map<number, number[]>();
    blocks.forget();
    const made: number[] = [];
    for (let from = 0; from < list.length && !this.full; ) {
      const side = own[list[from] as number] as number;
      let to = from;
      if (level === 1) shelf.clear();
      for (; to < list.length && own[list[to] as number] === side; to++)
        this.#shelve(shelf, across, list[to] as number);
      const leads = list.slice(from, to);
      from = to;
      const row = table && lengths ? (lengths.at[side] as number) * stride : 0;
      const mostWorth = (extent: number): number =>
        (table as Float64Array)[row + ((widths as { at: Int32Array }).at[extent] as number)] as number;
      const choice = this.#beside(shelf, leads, [own, across], table && mostWorth, loss);
      if (choice.leads === 0) continue;
      this.#combine(axis, side, most, choice, table && mostWorth, loss, made);
    }
    return this.full ? [] : made.filter((block) => blocks.dead[block] === 0);
  }

  /** Puts a piece among those of its extent, in order of worth. */
  #shelve(shelf: Map<number, number[]>, across: Int32Array, id: number): void {
    const worth = this.#worths ? this.blocks.worth : this.blocks.area;
    const extent = across[id] as number;
    const list = shelf.get(extent);
    if (list === undefined) {
      shelf.set(extent, [id]);
      return;
    }
    let low = 0;
    let high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((worth[list[middle] as number] as number) >= (worth[id] as number)) low = middle + 1;
      else high = middle;
    }
    list.splice(low, 0, id);
  }

  /** What may lie beside one of the pieces of a given length, themselves among it. */
  #beside(
    shelf: ReadonlyMap<number, readonly number[]>,
    leads: readonly number[],
    [own, across]: readonly [Int32Array, Int32Array],
    mostWorth: ((extent: number) => number) | undefined,
    loss: number,
  ): Choice {
    const { worth, area } = this.blocks;
    const { waste } = this.#budget;
    const side = own[leads[0] as number] as number;
    const byWorth = mostWorth !== undefined && !this.#complete;
    // what the best of the leads leaves for the others to lose
    let rest = -Infinity;
    for (const id of leads) {
      const box = side * (across[id] as number);
      const left = byWorth
        ? loss - mostWorth(across[id] as number) + (worth[id] as number)
        : waste - box + (area[id] as number);
      if (left > rest) rest = left;
    }
    const found: number[] = [];
    const lost: number[] = [];
    if (rest < 0) return inOrder(this.blocks, found, lost, across, 0, 0);
    // the leads first
    for (const id of leads) {
      const box = side * (across[id] as number);
      const less = mostWorth ? mostWorth(across[id] as number) - (worth[id] as number) : 0;
      const empty = box - (area[id] as number);
      if (less > loss || empty > waste) continue;
      found.push(id);
      lost.push(byWorth ? less : empty);
    }
    const count = found.length;
    const mostLoss = byWorth ? rest : loss;
    const mostWaste = byWorth ? waste : rest;
    for (const [extent, list] of shelf) {
      const box = side * extent;
      const top = mostWorth ? mostWorth(extent) : box;
      const least = mostWorth ? top - mostLoss : box - mostWaste;
      for (const id of list) {
        const is = (mostWorth ? worth[id] : area[id]) as number;
        if (is < least) break;
        const empty = box - (area[id] as number);
        if (empty > mostWaste || own[id] === side) continue;
        found.push(id);
        lost.push(byWorth ? top - is : empty);
      }
    }
    return inOrder(this.blocks, found, lost, across, count, byWorth ? loss : waste);
  }

  /**
   * Sets of pieces side by side, each once: a first one of the full length, then others in the order of the choice. What they lose by
   * themselves adds up: areas always, worths nearly so, since the tables repeat parts as often as they like; where nothing may be missing
   * it is areas that are added.
   */
  #combine(
    axis: Axis,
    side: number,
    most: number,
    choice: Choice,
    mostWorth: ((extent: number) => number) | undefined,
    loss: number,
    made: number[],
  ): void {
    const { blocks } = this;
    const { ids, own, extent, worth, area, leads } = choice;
    const { waste } = this.#budget;
    const byWorth = mostWorth !== undefined && !this.#complete;
    const states: number[] = [];
    const last: number[] = [];
    const wide: number[] = [];
    for (let n = 0; n < leads; n++) {
      states.push(ids[n] as number);
      last.push(n);
      wide.push(extent[n] as number);
    }
    const narrowest = minimum(extent);
    for (let s = 0; s < states.length && !this.full; s++) {
      const state = states[s] as number;
      const before = wide[s] as number;
      if (before + narrowest > most || blocks.dead[state] === 1) continue;
      const stateWorth = blocks.worth[state] as number;
      const stateArea = blocks.area[state] as number;
      const rest = byWorth
        ? loss - ((mostWorth as (extent: number) => number)(before) - stateWorth)
        : waste - (side * before - stateArea);
      const from = last[s] as number;
      for (let part = 0; part < 2; part++) {
        const start = part === 0 ? from : Math.max(from, leads);
        const end = part === 0 ? leads : ids.length;
        for (let n = firstWithin(own, start, end, rest); n < end; n++) {
          this.#looks++;
          const all = before + (extent[n] as number);
          if (all > most) continue;
          if (mostWorth && mostWorth(all) - stateWorth - (worth[n] as number) > loss) continue;
          if (side * all - stateArea - (area[n] as number) > waste) continue;
          const piece = ids[n] as number;
          if (!blocks.within(state, piece)) continue;
          const block =
            axis === 'rip'
              ? blocks.add(state, piece, axis, side, all)
              : blocks.add(state, piece, axis, all, side);
          if (block === undefined) continue;
          made.push(block);
          states.push(block);
          last.push(n);
          wide.push(all);
        }
      }
    }
  }

  /** Ways to fill a sheet with pieces side by side. */
  sheets(axis: Axis, size: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const rip = axis === 'rip';
    const room = this.#steps.rooms[size] as Steps['rooms'][number];
    const [length, most] = rip ? [room.x, room.y] : [room.y, room.x];
    const [own, across] = rip ? [blocks.x, blocks.y] : [blocks.y, blocks.x];
    const { loss, waste } = this.#budget;
    const worths = this.#worths;
    const held =
      worths &&
      ((extent: number) => (rip ? worths.ripWorth(size, extent) : worths.crosscutWorth(size, extent)));
    const least = worths ? worths.most(size) - loss : room.x * room.y - waste;
    const found: number[] = [];
    const lost: number[] = [];
    for (const id of ids) {
      const extent = across[id] as number;
      if ((own[id] as number) > length || extent > most || !this.#liftable(axis, size, id)) continue;
      const empty = length * extent - (blocks.area[id] as number);
      const worth = held ? held(extent) - (blocks.worth[id] as number) : 0;
      if (empty > waste || worth > loss) continue;
      found.push(id);
      lost.push(held && !this.#complete ? worth : empty);
    }
    const choice = inOrder(this.blocks, found, lost, across, 0, held && !this.#complete ? loss : waste);
    const narrowest = minimum(choice.extent);
    blocks.forget();
    const states = [blocks.empty(axis, length)];
    const last = [0];
    const wide = [0];
    const made: number[] = [];
    const byWorth = held !== undefined && !this.#complete;
    for (let s = 0; s < states.length; s++) {
      const state = states[s] as number;
      const before = wide[s] as number;
      if (before + narrowest > most || blocks.dead[state] === 1) continue;
      const stateWorth = blocks.worth[state] as number;
      const stateArea = blocks.area[state] as number;
      const rest = byWorth ? stateWorth + held(most - before) - least : waste - (length * before - stateArea);
      for (
        let n = firstWithin(choice.own, last[s] as number, choice.ids.length, rest);
        n < choice.ids.length;
        n++
      ) {
        this.#looks++;
        const all = before + (choice.extent[n] as number);
        if (all > most) continue;
        if (held && stateWorth + (choice.worth[n] as number) + held(most - all) < least) continue;
        if (length * all - stateArea - (choice.area[n] as number) > waste) continue;
        const piece = choice.ids[n] as number;
        if (!blocks.within(state, piece)) continue;
        const block = rip
          ? blocks.add(state, piece, axis, length, all)
          : blocks.add(state, piece, axis, all, length);
        if (block === undefined) continue;
        made.push(block);
        states.push(block);
        last.push(n);
        wide.push(all);
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
