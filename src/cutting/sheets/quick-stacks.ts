/**
 * Good ways to fill one sheet from many parts: blocks built as in `stacking.ts`, but of each size of block only the densest are kept, so
 * that sixty parts take a fraction of a second. Nothing is proved by it.
 */
import { Blocks } from './blocks.ts';
import { SAME, type Yard } from './kinds.ts';
import type { Steps } from './steps.ts';
import type { Axis } from './worths.ts';

/** How much is kept. */
export interface Width {
  /** Blocks of one direction and level. */
  readonly blocks: number;
  /** Blocks with the same first piece. */
  readonly states: number;
  /** Share of a block that may be waste. */
  readonly loss: number;
}

/** Sheets, those of most worth first. */
export interface QuickSheets {
  readonly blocks: Blocks;
  /** By size of sheet. */
  readonly sheets: readonly (readonly number[])[];
  readonly looks: number;
}

/**
 * @param left parts still needed, by kind
 * @param worths of the kinds: what makes one sheet better than another
 */
export function quickSheets(
  yard: Yard,
  steps: Steps,
  left: readonly number[],
  worths: readonly number[],
  sizes: readonly number[],
  width: Width,
): QuickSheets {
  const quick = new Quick(yard, steps, left, width);
  const { blocks } = quick;
  const parts: number[] = [];
  steps.lies.forEach((lie, index) => {
    if ((left[lie.kind] as number) > 0) parts.push(blocks.part(lie, index, worths[lie.kind] as number));
  });
  let ripped: number[] = [];
  let crosscut: number[] = [];
  for (let level = 1; level < Math.min(yard.stages, MOST_LEVELS); level++) {
    const rips = quick.stacks('rip', level, [...parts, ...crosscut]);
    const crosscuts = quick.stacks('crosscut', level, [...parts, ...ripped]);
    ripped = rips;
    crosscut = crosscuts;
  }
  const sheets = yard.sizes.map((_, size) =>
    sizes.includes(size)
      ? [
          ...quick.sheets('rip', size, [...parts, ...crosscut]),
          ...quick.sheets('crosscut', size, [...parts, ...ripped]),
        ].sort((a, b) => (blocks.worth[b] as number) - (blocks.worth[a] as number) || a - b)
      : [],
  );
  return { blocks, sheets, looks: quick.looks };
}

/** More levels bring little for what they take. */
const MOST_LEVELS = 4;
/** Blocks are kept by their area, in classes of a factor of √2. */
const CLASSES_A_DOUBLING = 2;
/** A piece that fills less of its own strip than this share of what a block must fill can't be made up for. */
const POOREST = 0.8;
/** A sheet's states for each of a block's. */
const SHEET_STATES = 15;

class Quick {
  readonly blocks: Blocks;
  readonly #yard: Yard;
  readonly #steps: Steps;
  readonly #width: Width;
  looks = 0;

  constructor(yard: Yard, steps: Steps, left: readonly number[], width: Width) {
    this.#yard = yard;
    this.#steps = steps;
    this.#width = width;
    this.blocks = new Blocks(left);
  }

  stacks(axis: Axis, level: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const rip = axis === 'rip';
    const own = rip ? blocks.x : blocks.y;
    const other = rip ? blocks.y : blocks.x;
    const most = Math.max(...this.#steps.rooms.map((room) => (rip ? room.y : room.x)));
    const sorted = [...ids].sort(
      (a, b) =>
        (own[b] as number) - (own[a] as number) || (other[b] as number) - (other[a] as number) || a - b,
    );
    const sides = sorted.map((id) => own[id] as number);
    const extents = sorted.map((id) => other[id] as number);
    const areas = sorted.map((id) => blocks.area[id] as number);
    const least = 1 - this.#width.loss;
    blocks.forget();
    const made: number[] = [];
    for (let lead = 0; lead < sorted.length; lead++) {
      const side = sides[lead] as number;
      const states = [sorted[lead] as number];
      for (let n = lead; n < sorted.length; n++) {
        const at = sides[n] as number;
        if (level === 1 ? at !== side : at < side * POOREST * least) break;
        const piece = sorted[n] as number;
        const extent = extents[n] as number;
        const area = areas[n] as number;
        if (area < POOREST * least * side * extent) continue;
        for (let s = 0; s < states.length; s++) {
          const state = states[s] as number;
          this.looks++;
          const all = extent + ((rip ? blocks.y[state] : blocks.x[state]) as number);
          if (all > most) continue;
          if ((blocks.area[state] as number) + area < least * side * all) continue;
          if (!blocks.within(state, piece)) continue;
          const block = rip
            ? blocks.add(state, piece, axis, side, all)
            : blocks.add(state, piece, axis, all, side);
          if (block === undefined) continue;
          made.push(block);
          if (states.length < this.#width.states) states.push(block);
        }
      }
    }
    return this.#densest(made.filter((block) => blocks.dead[block] === 0));
  }

  /** Of blocks of like area those of most worth for it. */
  #densest(made: readonly number[]): number[] {
    const { blocks } = this;
    const classes = new Map<number, number[]>();
    const rates = new Map<number, number>();
    for (const block of made) {
      const box = (blocks.x[block] as number) * (blocks.y[block] as number);
      rates.set(block, (blocks.worth[block] as number) / box);
      const key = Math.floor(Math.log2(box) * CLASSES_A_DOUBLING);
      const list = classes.get(key);
      if (list) list.push(block);
      else classes.set(key, [block]);
    }
    const each = Math.ceil(this.#width.blocks / Math.max(1, classes.size));
    return [...classes.keys()]
      .sort((a, b) => a - b)
      .flatMap((key) =>
        (classes.get(key) as number[])
          .sort((a, b) => (rates.get(b) as number) - (rates.get(a) as number) || a - b)
          .slice(0, each),
      );
  }

  sheets(axis: Axis, size: number, ids: readonly number[]): number[] {
    const { blocks } = this;
    const rip = axis === 'rip';
    const room = this.#steps.rooms[size] as Steps['rooms'][number];
    const [length, most] = rip ? [room.x, room.y] : [room.y, room.x];
    const extentOf = (id: number): number => (rip ? blocks.y[id] : blocks.x[id]) as number;
    const strips = ids
      .filter((id) => (blocks.x[id] as number) <= room.x && (blocks.y[id] as number) <= room.y)
      .filter((id) => this.#liftable(axis, size, id))
      .map((id) => ({ id, rate: (blocks.worth[id] as number) / extentOf(id) }))
      .sort((a, b) => b.rate - a.rate || a.id - b.id)
      .slice(0, this.#width.blocks)
      .sort((a, b) => extentOf(b.id) - extentOf(a.id) || a.id - b.id);
    const best = Math.max(0, ...strips.map(({ rate }) => rate));
    const least = best * most * (1 - 2 * this.#width.loss);
    blocks.forget();
    const states = [blocks.empty(axis, length)];
    const made: number[] = [];
    for (const { id } of strips) {
      const extent = extentOf(id);
      const worth = blocks.worth[id] as number;
      for (let s = 0; s < states.length; s++) {
        const state = states[s] as number;
        this.looks++;
        if (blocks.dead[state] === 1) continue;
        const all = extent + extentOf(state);
        if (all > most || (blocks.worth[state] as number) + worth + best * (most - all) < least) continue;
        if (!blocks.within(state, id)) continue;
        if (states.length > this.#width.states * SHEET_STATES) break;
        const block = rip
          ? blocks.add(state, id, axis, length, all)
          : blocks.add(state, id, axis, all, length);
        if (block === undefined) continue;
        made.push(block);
        states.push(block);
      }
    }
    return made.filter((block) => blocks.dead[block] === 0);
  }

  #liftable(axis: Axis, size: number, piece: number): boolean {
    const { liftable, job, sizes } = this.#yard;
    if (liftable === Infinity || this.blocks.parts[piece] === 1) return true;
    const sheet = sizes[size] as Yard['sizes'][number];
    const { step } = this.#steps;
    const [l, w] =
      axis === 'rip'
        ? [sheet.length, (this.blocks.y[piece] as number) * step]
        : [(this.blocks.x[piece] as number) * step, sheet.width];
    return (l - job.kerf) * (w - job.kerf) <= liftable + SAME;
  }
}
