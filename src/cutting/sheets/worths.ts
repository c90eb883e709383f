/**
 * What the pieces of a sheet can be worth when each kind of part has a worth: the dynamic programme of Gilmore and Gomory (1965, "Multistage cutting
 * stock problems of two and more dimensions") for cuts of at most so many levels, on the sums of part sizes only.
 *
 * Level by level and for both directions of the last cut: a piece that is ripped is worth most when its width is filled best with
 * pieces of its length, each cut the other way with one level less; with the first level only parts of exactly that length count. A
 * part that has to be taken to its size takes a level for it, as everywhere here. How often a kind is used in one sheet is not limited,
 * so that no sheet that can be cut is worth more than what is found: that makes it a bound.
 */
import { type Lie, type Steps, sumsUpTo } from './steps.ts';

/** Worths nearer than this are equal. */
const EQUAL = 1e-12;

/** Direction of the cuts that made a piece's parts: pieces side by side along the sheet (crosscuts) or across it (rips). */
export type Axis = 'crosscut' | 'rip';

/** One side of all pieces: the lengths or the widths that occur. */
export interface Marks {
  readonly sums: Int32Array;
  /** Place of the largest sum that is no larger than a size. */
  readonly at: Int32Array;
}

function marksOf(steps: Steps, side: 'x' | 'y', room: number): Marks {
  const sums = sumsUpTo(
    steps.lies.map((lie) => ({ size: lie[side], count: steps.demands[lie.kind] as number })),
    room,
  );
  const at = new Int32Array(room + 1);
  let place = 0;
  for (let size = 0; size <= room; size++) {
    while (place + 1 < sums.length && (sums[place + 1] as number) <= size) place++;
    at[size] = place;
  }
  return { sums, at };
}

/** Tables of worths for one set of worths of the kinds; filled anew by `compute`. */
export class Worths {
  readonly along: Marks;
  readonly across: Marks;
  readonly #steps: Steps;
  readonly #levels: number;
  #kinds: readonly number[] = [];
  /** By level from 1: worth at [length][width] of a piece whose last cuts are rips, and at [width][length] where they are crosscuts. */
  #ripped: Float64Array[] = [];
  #crosscut: Float64Array[] = [];
  #last: { ripped: Float64Array; crosscut: Float64Array }[] = [];
  readonly #sizes: Int32Array;
  readonly #worths: Float64Array;
  /** The same of the row before. */
  readonly #oldSizes: Int32Array;
  readonly #oldWorths: Float64Array;
  /** Additions made so far. */
  work = 0;

  /** @param levels most levels of cuts, 2 or more */
  constructor(steps: Steps, levels: number) {
    this.#steps = steps;
    this.#levels = levels;
    this.along = marksOf(steps, 'x', Math.max(...steps.rooms.map(({ x }) => x)));
    this.across = marksOf(steps, 'y', Math.max(...steps.rooms.map(({ y }) => y)));
    const most = Math.max(this.along.sums.length, this.across.sums.length) + steps.lies.length;
    this.#sizes = new Int32Array(most);
    this.#worths = new Float64Array(most);
    this.#oldSizes = new Int32Array(most);
    this.#oldWorths = new Float64Array(most);
  }

  /** Levels in the tables: fewer than asked for where more levels bring nothing. */
  get levels(): number {
    return this.#ripped.length;
  }

  /** How large the tables are: entries a level. */
  get entries(): number {
    return this.along.sums.length * this.across.sums.length;
  }

  /** Fills the tables. @returns the most that a sheet of each size can be worth */
  compute(kinds: readonly number[]): number[] {
    if (this.#last.length > 0 && kinds.every((worth, kind) => worth === this.#kinds[kind]))
      return this.#steps.rooms.map((_, size) => this.most(size));
    this.#kinds = [...kinds];
    this.#ripped = [];
    this.#crosscut = [];
    const nx = this.along.sums.length;
    const ny = this.across.sums.length;
    for (let level = 1; level < this.#levels; level++) {
      const ripped = new Float64Array(nx * ny);
      const crosscut = new Float64Array(nx * ny);
      this.#rows('rip', level, ripped, this.across, nx);
      this.#rows('crosscut', level, crosscut, this.along, ny);
      const same =
        level > 1 &&
        equal(ripped, this.#ripped.at(-1) as Float64Array) &&
        equal(crosscut, this.#crosscut.at(-1) as Float64Array);
      if (same) break;
      this.#ripped.push(ripped);
      this.#crosscut.push(crosscut);
    }
    const level = this.#ripped.length + 1;
    this.#last = this.#steps.rooms.map(({ x, y }) => {
      const ripped = new Float64Array(ny);
      const crosscut = new Float64Array(nx);
      this.#fill(ripped, 0, this.across, this.#pieces('rip', level, this.along.at[x] as number), ny);
      this.#fill(crosscut, 0, this.along, this.#pieces('crosscut', level, this.across.at[y] as number), nx);
      return { ripped, crosscut };
    });
    return this.#steps.rooms.map((_, size) => this.most(size));
  }

  /** The most that a sheet of a size can be worth. */
  most(size: number): number {
    const { x, y } = this.#steps.rooms[size] as Steps['rooms'][number];
    return Math.max(this.ripWorth(size, y), this.crosscutWorth(size, x));
  }

  /** Worth of a strip as long as a sheet of a size, `y` wide, that is ripped first. */
  ripWorth(size: number, y: number): number {
    return (this.#last[size] as { ripped: Float64Array }).ripped[this.across.at[y] as number] as number;
  }

  /** Worth of the first `x` of the length of a sheet of a size, whole width, that is crosscut first. */
  crosscutWorth(size: number, x: number): number {
    return (this.#last[size] as { crosscut: Float64Array }).crosscut[this.along.at[x] as number] as number;
  }

  /** The table of a level: at [length][width] for rips, [width][length] for crosscuts. */
  table(axis: Axis, level: number): Float64Array {
    const tables = axis === 'rip' ? this.#ripped : this.#crosscut;
    return tables[Math.min(level, tables.length) - 1] as Float64Array;
  }

  /** How many of each kind lie in the sheet that is worth most. */
  counts(size: number): Int32Array {
    const counts = new Int32Array(this.#steps.demands.length);
    const { x, y } = this.#steps.rooms[size] as Steps['rooms'][number];
    const { ripped, crosscut } = this.#last[size] as { ripped: Float64Array; crosscut: Float64Array };
    const level = this.#ripped.length + 1;
    const ix = this.along.at[x] as number;
    const iy = this.across.at[y] as number;
    if ((ripped[iy] as number) >= (crosscut[ix] as number))
      this.#trace('rip', level, ix, iy, ripped, 0, counts);
    else this.#trace('crosscut', level, iy, ix, crosscut, 0, counts);
    return counts;
  }

  /**
   * The pieces that the cuts of a level can give from a piece of a given length (rips) or width (crosscuts), smallest first; each worth
   * more than all smaller ones. Left in the scratch arrays. @returns how many
   */
  #pieces(axis: Axis, level: number, fixed: number): number {
    const other = axis === 'rip' ? this.across : this.along;
    if (level === 1)
      return this.#parts(axis, (axis === 'rip' ? this.along : this.across).sums[fixed] as number);
    const table = (axis === 'rip' ? this.#crosscut : this.#ripped)[level - 2] as Float64Array;
    const stride = (axis === 'rip' ? this.along : this.across).sums.length;
    const { sums } = other;
    let count = 0;
    let best = EQUAL;
    for (let place = 1, at = stride + fixed; place < sums.length; place++, at += stride) {
      const worth = table[at] as number;
      if (worth <= best) continue;
      this.#sizes[count] = sums[place] as number;
      this.#worths[count++] = worth;
      best = worth + EQUAL;
    }
    return count;
  }

  #parts(axis: Axis, exact: number): number {
    const [own, other] = axis === 'rip' ? (['x', 'y'] as const) : (['y', 'x'] as const);
    const list = this.#steps.lies
      .filter((lie) => lie[own] === exact)
      .sort((a, b) => a[other] - b[other] || this.#worth(b) - this.#worth(a));
    let count = 0;
    let best = EQUAL;
    for (const lie of list) {
      const worth = this.#worth(lie);
      if (worth <= best) continue;
      this.#sizes[count] = lie[other];
      this.#worths[count++] = worth;
      best = worth + EQUAL;
    }
    return count;
  }

  #worth(lie: Lie): number {
    return this.#kinds[lie.kind] as number;
  }

  /** All rows of a table. Where a row can be made of the same pieces as the one before it is the same, which is often so. */
  #rows(axis: Axis, level: number, table: Float64Array, marks: Marks, rows: number): void {
    const width = marks.sums.length;
    let before = 0;
    for (let row = 1; row < rows; row++) {
      const count = this.#pieces(axis, level, row);
      let same = count === before;
      for (let n = 0; n < count; n++) {
        if (same && (this.#sizes[n] !== this.#oldSizes[n] || this.#worths[n] !== this.#oldWorths[n]))
          same = false;
        this.#oldSizes[n] = this.#sizes[n] as number;
        this.#oldWorths[n] = this.#worths[n] as number;
      }
      before = count;
      if (same) table.copyWithin(row * width, (row - 1) * width, row * width);
      else this.#fill(table, row * width, marks, count, width);
    }
  }

  /**
   * The knapsack over the sums of one side. A set of pieces is one piece, or its smallest, which is no longer than half of it, and the
   * others: only such pieces are added.
   */
  #fill(table: Float64Array, base: number, { sums, at }: Marks, count: number, end: number): void {
    if (count === 0) return;
    const sizes = this.#sizes;
    const worths = this.#worths;
    const out = table.subarray(base, base + end);
    let single = 0;
    let open = 0;
    let before = 0;
    let work = 0;
    for (let place = 1; place < end; place++) {
      const sum = sums[place] as number;
      while (open < count && 2 * (sizes[open] as number) <= sum) open++;
      while (single < count && (sizes[single] as number) <= sum) single++;
      work += open;
      let best = before;
      if (single > 0 && (worths[single - 1] as number) > best) best = worths[single - 1] as number;
      for (let n = 0; n < open; n++) {
        const all = (out[at[sum - (sizes[n] as number)] as number] as number) + (worths[n] as number);
        if (all > best) best = all;
      }
      out[place] = best;
      before = best;
    }
    this.work += work;
  }

  /** Finds again how a piece of a table is cut, by the very additions that made it. */
  #trace(
    axis: Axis,
    level: number,
    fixed: number,
    place: number,
    table: Float64Array,
    base: number,
    counts: Int32Array,
  ): void {
    const count = this.#pieces(axis, level, fixed);
    const sizes = this.#sizes.slice(0, count);
    const worths = this.#worths.slice(0, count);
    const { sums, at } = axis === 'rip' ? this.across : this.along;
    const exact = (axis === 'rip' ? this.along : this.across).sums[fixed] as number;
    let now = place;
    while (now > 0 && (table[base + now] as number) > EQUAL) {
      if (table[base + now] === table[base + now - 1]) {
        now--;
        continue;
      }
      const sum = sums[now] as number;
      const n = sizes.findIndex(
        (size, index) =>
          size <= sum &&
          (table[base + (at[sum - size] as number)] as number) + (worths[index] as number) ===
            table[base + now],
      );
      if (n < 0) throw new Error('a worth that no piece explains');
      const size = sizes[n] as number;
      if (level === 1) {
        const lie = this.#steps.lies.find(
          (one) =>
            (axis === 'rip' ? one.x === exact && one.y === size : one.y === exact && one.x === size) &&
            this.#worth(one) === worths[n],
        ) as Lie;
        counts[lie.kind] = (counts[lie.kind] as number) + 1;
      } else {
        const other = axis === 'rip' ? 'crosscut' : 'rip';
        const stride = (axis === 'rip' ? this.along : this.across).sums.length;
        const own = at[size] as number;
        const inner = (other === 'rip' ? this.#ripped : this.#crosscut)[level - 2] as Float64Array;
        this.#trace(other, level - 1, own, fixed, inner, own * stride, counts);
      }
      now = at[sum - size] as number;
    }
  }
}

function equal(a: Float64Array, b: Float64Array): boolean {
  for (let n = 0; n < a.length; n++) if (a[n] !== b[n]) return false;
  return true;
}
