/**
 * The search for a layout of sheets: build one greedily, then take a few sheets apart and fill them anew, as long as that pays.
 * Work is counted in looks at a rectangle, never in seconds, and the numbers that vary the order come from a fixed start, so a job
 * repeats exactly.
 */
import { type Filled, fill, type Meter, type Rule } from './fill.ts';
import type { Kind, Yard } from './kinds.ts';

/** A whole layout: its sheets, and what found none, by kind. */
export interface Sheets {
  readonly sheets: readonly Filled[];
  readonly missing: readonly number[];
}

/** Looks at a rectangle before the search gives up, unless the caller says otherwise. */
const LOOKS = 700_000;
/** A job of few parts is searched through sooner: looks a part. */
const LOOKS_A_PART = 20_000;
/** Fillings of a sheet of which the best is taken. */
const TRIES = 12;

/** Numbers between 0 and 1 from a fixed start (a linear congruential generator, Park and Miller 1988). */
export function numbersFrom(start: number): () => number {
  let state = (start * 48_271 + 11) % 2_147_483_647;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** What a layout costs. */
export const costOf = (yard: Yard, sheets: readonly Filled[]): number =>
  sheets.reduce((sum, sheet) => sum + (yard.sizes[sheet.size] as Yard['sizes'][number]).stock.price, 0);

const areaOf = (kind: Kind): number => kind.length * kind.width;

/** The state of a search. */
class Search {
  readonly #yard: Yard;
  readonly #random: () => number;
  readonly meter: Meter = { looks: 0 };

  constructor(yard: Yard) {
    this.#yard = yard;
    this.#random = numbersFrom(7);
  }

  random(below: number): number {
    return Math.floor(this.#random() * below);
  }

  rule(): Rule {
    const fit = (['side', 'side', 'area', 'long'] as const)[this.random(4)] as Rule['fit'];
    const split = (['larger', 'larger', 'smaller', 'rip', 'crosscut'] as const)[
      this.random(5)
    ] as Rule['split'];
    return { fit, split };
  }

  /** Kinds, each as often as it is left, in an order that varies about one of a few good ones. */
  order(counts: readonly number[], noise: number): number[] {
    const by = this.random(4);
    const keys = this.#yard.kinds.map((kind) => {
      const base =
        by === 0
          ? areaOf(kind)
          : by === 1
            ? Math.max(kind.length, kind.width) ** 2
            : by === 2
              ? kind.length ** 2
              : kind.width ** 2;
      return base * (1 + noise * (this.#random() - 0.5));
    });
    const kinds = this.#yard.kinds.map((_, index) => index).filter((index) => (counts[index] as number) > 0);
    kinds.sort((a, b) => (keys[b] as number) - (keys[a] as number) || a - b);
    return kinds.flatMap((kind) => new Array<number>(counts[kind] as number).fill(kind));
  }

  /** Fills sheets until nothing is left or no sheet is to be had. */
  build(left: number[], limits: number[], noise: number): Sheets {
    const { sizes } = this.#yard;
    const sheets: Filled[] = [];
    while (left.some((count) => count > 0)) {
      const best = this.#nextSheet(left, limits, noise);
      if (best === undefined) break;
      sheets.push(best);
      limits[best.size] = (limits[best.size] as number) - 1;
      best.counts.forEach((count, kind) => {
        left[kind] = (left[kind] as number) - count;
      });
      if (sizes.length === 0) break;
    }
    return { sheets, missing: left };
  }

  /** The sheet that costs least for what it holds; of those that hold all that is left, the cheapest. */
  #nextSheet(left: readonly number[], limits: readonly number[], noise: number): Filled | undefined {
    const wanted = left.reduce((sum, count, kind) => sum + count * areaOf(this.#yard.kinds[kind] as Kind), 0);
    let best: Filled | undefined;
    let least = Infinity;
    this.#yard.sizes.forEach((size, index) => {
      if ((limits[index] as number) <= 0) return;
      const filled = this.fullest(index, left, wanted, noise);
      if (filled === undefined) return;
      // a sheet that holds all the rest costs its price for all the rest
      const rate =
        (size.stock.price + 1e-9 * size.length * size.width * 1e-6) / filled.area +
        (filled.area < wanted - 1e-6 ? 0 : -1e-15);
      if (rate < least - 1e-15) {
        least = rate;
        best = filled;
      }
    });
    return best;
  }

  /** The fullest of a few fillings. */
  fullest(size: number, left: readonly number[], wanted: number, noise: number): Filled | undefined {
    let best: Filled | undefined;
    for (let n = 0; n < TRIES; n++) {
      const filled = fill(this.#yard, size, this.order(left, noise), this.rule(), this.meter);
      if (filled.area <= 0) continue;
      if (best === undefined || filled.area > best.area + 1e-6) best = filled;
      if (best.area >= wanted - 1e-6) break;
    }
    return best;
  }
}

/** Sum of squares of how full the sheets are: it grows when one sheet is emptied into others. */
const unevenness = (yard: Yard, sheets: readonly Filled[]): number =>
  sheets.reduce((sum, sheet) => {
    const size = yard.sizes[sheet.size] as Yard['sizes'][number];
    return sum + (sheet.area / (size.length * size.width)) ** 2;
  }, 0);

const missingOf = (sheets: Sheets): number => sheets.missing.reduce((sum, count) => sum + count, 0);

/** Compares two layouts: fewest missing, then least cost, then the most uneven. Below 0 where the first is better. */
function compare(yard: Yard, a: Sheets, b: Sheets): number {
  return (
    missingOf(a) - missingOf(b) ||
    Math.round((costOf(yard, a.sheets) - costOf(yard, b.sheets)) * 1e6) ||
    unevenness(yard, b.sheets) - unevenness(yard, a.sheets)
  );
}

/**
 * Looks for a layout of least cost.
 *
 * @param reached says of a cost whether none lower is possible, so that the search may end
 * @param looks at a rectangle after which it ends
 */
export function searchSheets(yard: Yard, reached: (cost: number) => boolean, looks = LOOKS): Sheets {
  const search = new Search(yard);
  const demand = yard.kinds.map((kind) => kind.demand);
  const limits = yard.sizes.map((size) => size.limit);
  const done = (sheets: Sheets): boolean => missingOf(sheets) === 0 && reached(costOf(yard, sheets.sheets));
  let best = search.build([...demand], [...limits], 0);
  for (let n = 0; n < 20 && !done(best); n++) {
    const other = search.build([...demand], [...limits], 0.3 * (n % 4));
    if (compare(yard, other, best) < 0) best = other;
  }
  let now = best;
  let idle = 0;
  const parts = demand.reduce((sum, count) => sum + count, 0);
  const most = Math.min(looks, LOOKS_A_PART * parts);
  while (!done(best) && search.meter.looks < (missingOf(best) > 0 ? most / 8 : most)) {
    const next = takeApart(yard, search, now, limits, idle);
    const difference = compare(yard, next, now);
    // a step sideways now and then, so that it doesn't stay in the first hollow
    if (
      difference <= 0 ||
      (difference < 0.02 && costOf(yard, next.sheets) <= costOf(yard, now.sheets) + 1e-9)
    )
      now = next;
    idle = difference < 0 ? 0 : idle + 1;
    if (compare(yard, now, best) < 0) best = now;
    if (idle > 400) {
      now = best;
      idle = 0;
    }
    if (now.sheets.length === 0) break;
  }
  return best;
}

/** Takes one to three sheets apart, the emptier ones sooner, and builds them again. */
function takeApart(yard: Yard, search: Search, now: Sheets, limits: readonly number[], idle: number): Sheets {
  const count = Math.min(now.sheets.length, 1 + search.random(idle > 100 ? 4 : 3));
  const order = now.sheets
    .map((sheet, index) => {
      const size = yard.sizes[sheet.size] as Yard['sizes'][number];
      return { index, key: (sheet.area / (size.length * size.width)) * (0.3 + search.random(1000) / 1000) };
    })
    .sort((a, b) => a.key - b.key || a.index - b.index);
  const apart = new Set(order.slice(0, count).map(({ index }) => index));
  const left = [...now.missing];
  const free = [...limits];
  const kept: Filled[] = [];
  now.sheets.forEach((sheet, index) => {
    if (apart.has(index)) {
      sheet.counts.forEach((n, kind) => {
        left[kind] = (left[kind] as number) + n;
      });
    } else {
      kept.push(sheet);
      free[sheet.size] = (free[sheet.size] as number) - 1;
    }
  });
  const noise = [0.2, 0.5, 1, 2][search.random(4)] as number;
  const rebuilt = search.build(left, free, noise);
  return { sheets: [...kept, ...rebuilt.sheets], missing: rebuilt.missing };
}
