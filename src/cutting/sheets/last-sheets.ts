/**
 * Layouts of sheets that lose hardly anything: all but the last two are drawn from the sheets that are worth most by the prices of the
 * parts, and what is left is laid out on the last two together, by building all good sheets of it and looking for a pair that holds
 * everything. Tried often with other first sheets, this finds layouts that fill sheets to 95 or 97 %, where filling one after the other
 * leaves too much for the last ones. Nothing is proved by it.
 */
import type { Solver } from '../highs.ts';
import { blockTree } from './block-tree.ts';
import { chosenSheets, wasteFor } from './chosen.ts';
import type { Prices } from './columns.ts';
import type { Filled } from './fill.ts';
import { finerPrices } from './finer.ts';
import { fits, type Size, type Yard } from './kinds.ts';
import { costOf, numbersFrom, type Sheets } from './search.ts';
import { type Stacked, stackSheets } from './stacking.ts';
import { inSteps, type Steps, stepsOf } from './steps.ts';
import { filledBy, type Part, partYard, widened } from './subset.ts';
import { Worths } from './worths.ts';

/**
 * Comparisons, with a few for each block, after which no more is begun; those for the first sheets at each step, and those of the last two,
 * many and few in turn: many find more, few leave time for other first sheets.
 */
const LOOKS = 22_000_000;
const EACH = 4;
const FIRST_LOOKS = 2_000_000;
const FIRST_BLOCKS = 80_000;
const EFFORTS = [
  { looks: 1_000_000, blocks: 100_000 },
  { looks: 300_000, blocks: 40_000 },
];
/** What first sheets may lose, as a share of the largest; and shares of it that one of their blocks may, as far as they go. */
const LOSS = 0.02;
const FIRST_SHARES = [0.005, 0.01, 0.02, 0.04, 0.08, 0.15, 0.3];
/** Sheets of a size that are drawn from, and draws. */
const MOST_FIRSTS = 2500;
const DRAWS = 1000;
/**
 * How many sets of parts can be picked from what the first sheets leave, as a natural logarithm: where it is few, they hardly ever fill two
 * sheets; where it is many, too few of the sheets can be gone through. And how much of that a loss of all of the first sheets is worth: what
 * they lose the last ones can't. Measured on cabinets of sixty parts.
 */
const VARIETY = 12;
const LOST = 500;
/** Shares of what the last sheets may lose that one of their blocks may: least first, as far as that is not too much to go through. */
const SHARES = [0.02, 0.03, 0.05, 0.08, 0.12, 0.2, 0.3, 0.5];
/** How much further the next share may take it: no further where more comparisons than this part of the limit were needed. */
const FURTHER = 1 / 6;
/** Sets of sheets that are thought of. */
const SETS = 20_000;
/** Finest steps of the longest side. */
const STEPS = 6000;
/** More levels bring little for what they take. */
const MOST_LEVELS = 5;
/** Kinds of parts beyond which there are too many sheets to go through. */
export const MOST_KINDS = 30;
/** Entries of a table beyond which finer prices are too much work. */
const MOST_ENTRIES = 1_000_000;

/** First sheets, and what they leave of the parts. */
interface Draw {
  readonly blocks: readonly number[];
  readonly left: readonly number[];
}

/**
 * A layout that costs less than the one in hand, as good as was found, and finer prices; the same where there are too many kinds of parts
 * or sizes to go through.
 *
 * @param bound what no layout costs less than
 */
export function sheetsByFinerPrices(
  whole: Yard,
  found: Sheets,
  bound: number,
  prices: Prices,
  solver: Solver,
): { readonly sheets: Sheets; readonly prices: Prices } {
  const yard = { ...whole, stages: Math.min(whole.stages, MOST_LEVELS) };
  const steps = stepsOf(yard, STEPS);
  const tables = new Worths(steps, yard.stages);
  if (tables.entries > MOST_ENTRIES) return { sheets: found, prices };
  const finer = finerPrices(yard, steps, tables, prices.kinds, found.sheets, solver);
  let best = found;
  for (;;) {
    const cost = costOf(yard, best.sheets);
    if (cost <= bound + 1e-5) break;
    const better = lastSheets(yard, steps, tables, finer, bound, cost, solver);
    if (better === undefined) break;
    best = better;
  }
  // rooms of fewer levels than allowed would be no bound
  return { sheets: best, prices: yard.stages < whole.stages ? prices : finer };
}

/** A layout that costs less than `below`; nothing where none was found. */
function lastSheets(
  yard: Yard,
  steps: Steps,
  tables: Worths,
  prices: Prices,
  bound: number,
  below: number,
  solver: Solver,
): Sheets | undefined {
  const set = roomiest(yard, prices, bound, below);
  if (set === undefined) return undefined;
  // one place a sheet, the largest first
  const room = (size: number): number => prices.rooms[size] as number;
  const places = set
    .flatMap((count, size) => new Array<number>(count).fill(size))
    .sort((a, b) => room(b) - room(a) || a - b);
  const last = lastCount(yard, places.map(room));
  return new LastSheets(yard, steps, tables, prices, solver).laidOut(
    places.slice(0, places.length - last),
    places.slice(places.length - last),
  );
}

/** How many sheets are laid out together: two, or as many of the smallest as have so much variety in them by their share of all. */
function lastCount({ kinds }: Yard, rooms: readonly number[]): number {
  const all = varietyOf(kinds.map(({ demand }) => demand));
  const total = rooms.reduce((sum, room) => sum + room, 0);
  let held = 0;
  let count = 0;
  for (const room of [...rooms].reverse()) {
    held += room;
    if (count >= 2 && (all * held) / total > VARIETY + 0.5) break;
    count++;
  }
  return count;
}

/** How many sets can be picked from parts, as a natural logarithm. */
const varietyOf = (counts: readonly number[]): number =>
  counts.reduce((sum, count) => sum + Math.log(count + 1), 0);

/** Of the sets of sheets that cost less the one that can hold most: how many of each size. Nothing where none has room for all parts. */
function roomiest(yard: Yard, prices: Prices, bound: number, below: number): readonly number[] | undefined {
  const { sizes, kinds } = yard;
  const parts = kinds.reduce((sum, { demand }) => sum + demand, 0);
  let best: readonly number[] | undefined;
  let most = prices.total * (1 - 1e-9);
  let tries = 0;
  const counts: number[] = [];
  const choose = (size: number, money: number, held: number): void => {
    if (++tries > SETS) return;
    if (size === sizes.length) {
      if (held <= most || below - money < bound - 1e-4) return;
      most = held;
      best = [...counts];
      return;
    }
    const { stock, limit } = sizes[size] as Size;
    const high = Math.min(limit, parts, stock.price > 0 ? Math.floor(money / stock.price) : Infinity);
    // what costs nothing is taken
    for (let count = high; count >= (stock.price > 0 ? 0 : high); count--) {
      counts[size] = count;
      choose(size + 1, money - count * stock.price, held + count * (prices.rooms[size] as number));
    }
  };
  choose(0, below - 2e-5, 0);
  return best;
}

class LastSheets {
  readonly #yard: Yard;
  readonly #steps: Steps;
  readonly #tables: Worths;
  readonly #prices: Prices;
  readonly #solver: Solver;
  readonly #random = numbersFrom(21);
  #looks = 0;
  /** Place of the first share that is tried for the last sheets, by effort: not far below the one that was right for those before. */
  readonly #shares = EFFORTS.map(() => 0);

  constructor(yard: Yard, steps: Steps, tables: Worths, prices: Prices, solver: Solver) {
    this.#yard = yard;
    this.#steps = steps;
    this.#tables = tables;
    this.#prices = prices;
    this.#solver = solver;
  }

  laidOut(first: readonly number[], last: readonly number[]): Sheets | undefined {
    const demands = this.#yard.kinds.map(({ demand }) => demand);
    const stacked = first.length > 0 ? this.#firsts() : undefined;
    if (first.length > 0 && stacked === undefined) return undefined;
    const draws = stacked ? this.#draws(stacked, first, last, demands) : [{ blocks: [], left: demands }];
    for (const [turn, { blocks, left }] of draws.entries()) {
      if (this.#looks > LOOKS) break;
      const rest = this.#last(left, last, turn % EFFORTS.length);
      if (rest === undefined) continue;
      const sheets = [...rest];
      blocks.forEach((block, place) => {
        const size = first[place] as number;
        const tree = blockTree(this.#yard, this.#steps, (stacked as Stacked).blocks, size, block);
        if (tree !== undefined) sheets.push(filledBy(this.#yard, size, tree));
      });
      if (sheets.length === rest.length + blocks.length) {
        return { sheets, missing: demands.map(() => 0) };
      }
    }
    return undefined;
  }

  /** The sheets that lose least. */
  #firsts(): Stacked | undefined {
    const { rooms, kinds } = this.#prices;
    let stacked: Stacked | undefined;
    for (const share of FIRST_SHARES) {
      const loss = LOSS * Math.max(...rooms);
      const budget = { loss, share, waste: Infinity, looks: FIRST_LOOKS, blocks: FIRST_BLOCKS };
      const more = stackSheets(this.#yard, this.#steps, this.#tables, kinds, budget);
      this.#looks += more.looks + more.blocks.count * EACH;
      if (more.full) break;
      stacked = more;
    }
    return stacked;
  }

  /** First sheets drawn by chance, all different in what they leave, the best to go on from first. */
  #draws(
    { blocks, sheets }: Stacked,
    first: readonly number[],
    last: readonly number[],
    demands: readonly number[],
  ): Draw[] {
    const lists = this.#yard.sizes.map((_, size) => {
      const list = sheets.filter((sheet) => sheet.size === size).map(({ block }) => block);
      if (list.length <= MOST_FIRSTS) return list;
      list.sort((a, b) => (blocks.worth[b] as number) - (blocks.worth[a] as number) || a - b);
      return list.slice(0, MOST_FIRSTS);
    });
    // what all sheets may lose, and what the first ones could hold
    const { rooms, total } = this.#prices;
    const roomOf = (places: readonly number[]): number =>
      places.reduce((sum, size) => sum + (rooms[size] as number), 0);
    const room = roomOf(first);
    const slack = room + roomOf(last) - total * (1 - 1e-7);
    const found = new Map<string, Draw & { readonly far: number }>();
    const within = (block: number, left: readonly number[]): boolean =>
      left.every((count, kind) => blocks.held(block, kind) <= count);
    for (let n = 0; n < DRAWS; n++) {
      const left = [...demands];
      const drawn: number[] = [];
      let open = lists;
      for (const size of first) {
        open = open.map((list) => list.filter((block) => within(block, left)));
        const list = open[size] as readonly number[];
        const block = list[Math.floor(this.#random() * list.length)];
        if (block === undefined) break;
        drawn.push(block);
        left.forEach((count, kind) => {
          left[kind] = count - blocks.held(block, kind);
        });
      }
      if (drawn.length < first.length) continue;
      const lost = room - drawn.reduce((sum, block) => sum + (blocks.worth[block] as number), 0);
      if (lost > slack) continue;
      const far = Math.abs(varietyOf(left) - VARIETY) + (LOST * lost) / Math.max(room, 1e-9);
      found.set(left.join(), { blocks: drawn, left, far });
    }
    return [...found.values()].sort((a, b) => a.far - b.far);
  }

  /** What is left laid out on the last sheets. */
  #last(left: readonly number[], last: readonly number[], effort: number): readonly Filled[] | undefined {
    if (left.every((count) => count === 0)) return [];
    const part = this.#rest(left, last);
    const { yard } = part;
    if (!yard.kinds.every((kind) => yard.sizes.some((size) => size.limit > 0 && fits(kind, size))))
      return undefined;
    const kinds = part.kinds.map((kind) => this.#prices.kinds[kind] as number);
    const total = yard.kinds.reduce((sum, { demand }, kind) => sum + demand * (kinds[kind] as number), 0);
    const { rooms } = this.#prices;
    const loss = last.reduce((sum, size) => sum + (rooms[size] as number), 0) - total * (1 - 1e-7);
    const cost = last.reduce((sum, size) => sum + (yard.sizes[size] as Size).stock.price, 0) + 1e-4;
    const steps = inSteps(yard, this.#steps.step);
    const waste = wasteFor(yard, steps, cost);
    if (loss < 0 || waste < 0) return undefined;
    const stacked = this.#stacked(yard, steps, kinds, { loss, waste }, effort);
    if (stacked === undefined) return undefined;
    const prices = { kinds, rooms, total, least: 0 };
    const { sheets } = chosenSheets(yard, steps, stacked, prices, cost, 0, this.#solver);
    return sheets?.sheets.map((sheet) => widened(this.#yard, part, sheet));
  }

  /** As many sheets of the rest as can be gone through, the best ones at least. */
  #stacked(
    yard: Yard,
    steps: Steps,
    kinds: readonly number[],
    lost: { readonly loss: number; readonly waste: number },
    effort: number,
  ): Stacked | undefined {
    const limits = EFFORTS[effort] as (typeof EFFORTS)[number];
    const before = this.#shares[effort] as number;
    let stacked: Stacked | undefined;
    for (let place = Math.max(0, before - 2); place < SHARES.length; place++) {
      const budget = { ...lost, ...limits, share: SHARES[place] as number };
      const more = stackSheets(yard, steps, this.#tables, kinds, budget);
      this.#looks += more.looks + more.blocks.count * EACH;
      if (more.full) {
        if (stacked === undefined) this.#shares[effort] = Math.max(0, before - 2);
        break;
      }
      stacked = more;
      this.#shares[effort] = place;
      if (more.looks > limits.looks * FURTHER || more.blocks.count > limits.blocks * FURTHER) break;
    }
    return stacked;
  }

  /** The job of the rest; all sizes keep their places, since the tables go by them. */
  #rest(left: readonly number[], last: readonly number[]): Part {
    const { sizes } = this.#yard;
    const part = partYard(
      this.#yard,
      left,
      sizes.map(() => 1),
    );
    const limits = sizes.map((_, size) => last.filter((place) => place === size).length);
    const limited = sizes.map((size, index) => ({ ...size, limit: limits[index] as number }));
    return { ...part, yard: { ...part.yard, sizes: limited } };
  }
}
