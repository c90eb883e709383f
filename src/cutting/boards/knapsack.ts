/**
 * The bounded knapsack, exactly: how a length is best filled with pieces of given size and worth, each at most so many times.
 *
 * A dynamic programme over the fillings that no other beats (Nemhauser and Ullmann 1969): a list of (size, worth) in which a larger
 * filling is always worth more. Sizes are whole numbers, so a list is never longer than the capacity.
 */

/** Something to fill with. */
export interface Filler {
  /** A whole number, 1 or more. */
  readonly size: number;
  readonly worth: number;
  readonly bound: number;
}

/** How many of each filler, as pairs of index and count, by index. */
export type Filling = readonly (readonly [index: number, count: number])[];

/** Worths nearer than this are equal. */
const EQUAL = 1e-11;

/** A list of unbeaten fillings, smallest first. */
interface Unbeaten {
  readonly sizes: number[];
  readonly worths: number[];
  /** What each was made of: a place in the record of choices, −1 for nothing. */
  readonly made: number[];
}

const NOTHING: Unbeaten = { sizes: [0], worths: [0], made: [-1] };

/** Adds to each filling `size` more for `worth`, and keeps those that are unbeaten. */
function merge(
  list: Unbeaten,
  size: number,
  worth: number,
  capacity: number,
  record: ((from: number) => number) | undefined,
): Unbeaten {
  const sizes: number[] = [];
  const worths: number[] = [];
  const made: number[] = [];
  const n = list.sizes.length;
  let old = 0;
  let grown = 0;
  let best = -Infinity;
  while (old < n || grown < n) {
    const oldSize = old < n ? (list.sizes[old] as number) : Infinity;
    const grownSize = grown < n ? (list.sizes[grown] as number) + size : Infinity;
    if (Math.min(oldSize, grownSize) > capacity) break;
    if (oldSize <= grownSize) {
      const value = list.worths[old] as number;
      const rival = oldSize === grownSize ? (list.worths[grown] as number) + worth : -Infinity;
      // of two fillings of one size the one with fewer choices stays, unless it is worth less
      if (value > best + EQUAL && value >= rival - EQUAL) {
        sizes.push(oldSize);
        worths.push(value);
        made.push(list.made[old] as number);
        best = value;
      }
      old++;
    } else {
      const value = (list.worths[grown] as number) + worth;
      if (value > best + EQUAL) {
        sizes.push(grownSize);
        worths.push(value);
        made.push(record === undefined ? -1 : record(list.made[grown] as number));
        best = value;
      }
      grown++;
    }
  }
  return { sizes, worths, made };
}

/** Splits a bound into parts from which each smaller number can be added up: 1, 2, 4 … and the rest. */
function* parts(bound: number): Generator<number> {
  let left = bound;
  for (let part = 1; left > 0; part *= 2) {
    const taken = Math.min(part, left);
    yield taken;
    left -= taken;
  }
}

/** Place of the last filling that is no larger than the capacity. The list starts with nothing, of size 0. */
function lastWithin(sizes: readonly number[], capacity: number): number {
  let low = 0;
  let high = sizes.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((sizes[middle] as number) <= capacity) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A knapsack that fillers are put to one after the other; the best filling can be asked for at any time. */
export class Knapsack {
  readonly #capacity: number;
  #list: Unbeaten = NOTHING;
  readonly #from: number[] = [];
  readonly #filler: number[] = [];
  readonly #count: number[] = [];

  /** @param capacity the largest that will be asked for */
  constructor(capacity: number) {
    this.#capacity = capacity;
  }

  /** Allows `filler` under `index` in the fillings. One that is worth nothing is passed over. */
  add(index: number, filler: Filler): void {
    if (filler.worth <= EQUAL) return;
    const bound = Math.min(filler.bound, Math.floor(this.#capacity / filler.size));
    for (const part of parts(bound)) {
      this.#list = merge(this.#list, part * filler.size, part * filler.worth, this.#capacity, (from) => {
        this.#from.push(from);
        this.#filler.push(index);
        this.#count.push(part);
        return this.#from.length - 1;
      });
    }
  }

  /** Worth of the best filling of a capacity. */
  worth(capacity: number): number {
    return capacity < 0 ? 0 : (this.#list.worths[lastWithin(this.#list.sizes, capacity)] as number);
  }

  /** The best filling of a capacity. */
  filling(capacity: number): Filling {
    const counts = new Map<number, number>();
    if (capacity < 0) return [];
    for (
      let at = this.#list.made[lastWithin(this.#list.sizes, capacity)] as number;
      at >= 0;
      at = this.#from[at] as number
    ) {
      const index = this.#filler[at] as number;
      counts.set(index, (counts.get(index) ?? 0) + (this.#count[at] as number));
    }
    return [...counts].sort((a, b) => a[0] - b[0]);
  }
}

/** What an enumeration gave. */
export interface Fillings {
  readonly fillings: readonly Filling[];
  /** False where a limit came before the end. */
  readonly complete: boolean;
}

/**
 * All fillings of a capacity that are worth `least` or more. With `full` only those to which no filler can be added.
 * Stops after `limit` fillings, or after a hundred times as many looks.
 */
export function fillingsWorth(
  fillers: readonly Filler[],
  capacity: number,
  least: number,
  limit: number,
  full: boolean,
): Fillings {
  // the best that the fillers from each one on can still add, at each capacity
  const rest: Unbeaten[] = new Array(fillers.length + 1);
  rest[fillers.length] = NOTHING;
  const amount: number[] = new Array(fillers.length + 1).fill(0);
  for (let i = fillers.length - 1; i >= 0; i--) {
    const filler = fillers[i] as Filler;
    const bound = Math.min(filler.bound, Math.floor(capacity / filler.size));
    let list = rest[i + 1] as Unbeaten;
    if (filler.worth > EQUAL)
      for (const part of parts(bound))
        list = merge(list, part * filler.size, part * filler.worth, capacity, undefined);
    rest[i] = list;
    amount[i] = (amount[i + 1] as number) + bound * filler.size;
  }

  const fillings: Filling[] = [];
  const chosen: [number, number][] = [];
  let looks = 0;
  let complete = true;
  /** @param open size of the smallest filler that could be added to what is chosen, were there room */
  const choose = (i: number, left: number, worth: number, open: number): void => {
    if (!complete) return;
    if (++looks > 100 * limit) {
      complete = false;
      return;
    }
    const list = rest[i] as Unbeaten;
    if (worth + (list.worths[lastWithin(list.sizes, left)] as number) < least - 1e-9) return;
    if (full && left - (amount[i] as number) >= open) return;
    if (i === fillers.length) {
      if (chosen.length === 0) return;
      if (fillings.length >= limit) complete = false;
      else fillings.push(chosen.map(([index, count]) => [index, count] as const));
      return;
    }
    const filler = fillers[i] as Filler;
    for (let count = Math.min(filler.bound, Math.floor(left / filler.size)); count >= 0; count--) {
      if (count > 0) chosen.push([i, count]);
      const stillOpen = count < filler.bound ? Math.min(open, filler.size) : open;
      choose(i + 1, left - count * filler.size, worth + count * filler.worth, stillOpen);
      if (count > 0) chosen.pop();
    }
  };
  choose(0, capacity, 0, Infinity);
  return { fillings, complete };
}
