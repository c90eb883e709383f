/**
 * Layouts of many parts, one sheet after the other: each is filled as well as can be from what is left, and what is left for the last two is
 * laid out with proof. Parts that ended in poorly filled sheets are worth more the next time, so that they are used sooner
 * (sequential value correction, Mukhacheva and others; Belov and Scheithauer 2006).
 */
import type { Solver } from '../highs.ts';
import { blockTree } from './block-tree.ts';
import type { Filled } from './fill.ts';
import type { Kind, Yard } from './kinds.ts';
import { cheaperSheets } from './prove.ts';
import { type QuickSheets, quickSheets, type Width } from './quick-stacks.ts';
import { areaScale, leastCost } from './scales.ts';
import { costOf, numbersFrom, type Sheets, searchSheets } from './search.ts';
import { type Steps, stepsOf } from './steps.ts';
import { filledBy, partYard, widened } from './subset.ts';

/** Finest steps of the longest side. */
const STEPS = 6000;
/** Times that a whole layout is made, and looks after which no more is begun. */
const PASSES = 4;
const LOOKS = 12_000_000;
/** What is laid out with proof: so many parts at most, on so many of the largest sheet by area. */
const LAST_PARTS = 32;
const LAST_SHEETS = 2.05;
/** Its limits: see `prove.ts`. */
const LAST_FILLING = 200_000;
const LAST = { work: 15_000_000, looks: 2_500_000, blocks: 50_000, ways: 0 };
/** Widths of the search in turn. */
const WIDTHS: readonly Width[] = [
  { blocks: 400, states: 80, loss: 0.03 },
  { blocks: 600, states: 100, loss: 0.03 },
  { blocks: 300, states: 60, loss: 0.05 },
  { blocks: 600, states: 120, loss: 0.02 },
];
/** Layouts before chance is let in: worths that differ by so much, and one of so many best sheets. */
const PLAIN = 2;
const NOISE = 0.06;
const RANKS = 2;
/** How much of a worth comes from the last time. */
const SHARE = 0.5;
/** How much more parts of a poorly filled sheet are worth at most. */
const MOST = 1.15;

const areaOf = (kind: Kind): number => kind.length * kind.width;

/**
 * A layout that costs less than the one in hand, as good as was found; the same where none was.
 *
 * @param passes times that a whole layout is made
 */
export function serialSheets(
  yard: Yard,
  found: Sheets,
  bound: number,
  prices: readonly number[] | undefined,
  solver: Solver,
  passes = PASSES,
): Sheets {
  const serial = new Serial(yard, solver, prices);
  let best = found;
  for (let pass = 0; pass < passes && serial.looks < LOOKS; pass++) {
    const cost = costOf(yard, best.sheets);
    if (cost <= bound + 1e-5) break;
    best = serial.pass(pass, cost) ?? best;
  }
  return best;
}

class Serial {
  readonly #yard: Yard;
  readonly #solver: Solver;
  readonly #steps: Steps;
  /** Worths of the kinds by areas and by prices, used in turn; `now` is what the last layouts made of them. */
  readonly #measures: readonly { readonly base: readonly number[]; now: number[] }[];
  readonly #random = numbersFrom(41);
  looks = 0;

  constructor(yard: Yard, solver: Solver, prices: readonly number[] | undefined) {
    this.#yard = yard;
    this.#solver = solver;
    this.#steps = stepsOf(yard, STEPS);
    const areas = yard.kinds.map(areaOf);
    this.#measures = [areas, ...(prices === undefined ? [] : [prices])].map((base) => ({
      base,
      now: [...base],
    }));
  }

  /** One layout. @returns it where it costs less than `below` */
  pass(number: number, below: number): Sheets | undefined {
    const { kinds, sizes } = this.#yard;
    const left = kinds.map(({ demand }) => demand);
    const limits = sizes.map(({ limit }) => limit);
    const made: Filled[] = [];
    let spent = 0;
    let better: Sheets | undefined;
    let tried = false;
    const measure = this.#measures[number % this.#measures.length] as {
      base: readonly number[];
      now: number[];
    };
    const worths = measure.now.map(
      (worth) => worth * (1 + (number < PLAIN ? 0 : NOISE * (this.#random() - 0.5))),
    );
    while (left.some((count) => count > 0)) {
      if (!tried && this.#isLast(left)) {
        tried = true;
        const rest = partYard(this.#yard, left, limits);
        const last = this.#last(rest.yard, below - spent);
        if (last !== undefined)
          better = {
            sheets: [...made, ...last.map((sheet) => widened(this.#yard, rest, sheet))],
            missing: kinds.map(() => 0),
          };
      }
      const next = this.#next(number, left, limits, worths);
      if (next === undefined) break;
      made.push(next);
      spent += (sizes[next.size] as Yard['sizes'][number]).stock.price;
      limits[next.size] = (limits[next.size] as number) - 1;
      next.counts.forEach((count, kind) => {
        left[kind] = (left[kind] as number) - count;
      });
    }
    if (left.every((count) => count === 0) && spent < below - 1e-5 && better === undefined)
      better = { sheets: made, missing: kinds.map(() => 0) };
    this.#correct(measure, made);
    return better;
  }

  /** A layout of what is left that costs less than `below`: found by filling where there is room enough, else with proof. */
  #last(rest: Yard, below: number): readonly Filled[] | undefined {
    const solver = this.#solver;
    if (leastCost(rest.sizes, [areaScale(rest)]) >= below - 1e-5) return undefined;
    const quick = searchSheets(rest, (cost) => cost < below - 1e-5, LAST_FILLING);
    const cost = costOf(rest, quick.sheets);
    if (quick.missing.every((count) => count === 0) && cost < below - 1e-5) return quick.sheets;
    return cheaperSheets(rest, below, [], [], solver, LAST).sheets?.sheets;
  }

  #isLast(left: readonly number[]): boolean {
    const { kinds, sizes } = this.#yard;
    const parts = left.reduce((sum, count) => sum + count, 0);
    const area = left.reduce((sum, count, kind) => sum + count * areaOf(kinds[kind] as Kind), 0);
    const largest = Math.max(...sizes.map((size) => size.length * size.width));
    return parts <= LAST_PARTS && area <= LAST_SHEETS * largest;
  }

  /** The sheet that holds most worth for its price; now and then the second or third of them. */
  #next(
    number: number,
    left: readonly number[],
    limits: readonly number[],
    worths: readonly number[],
  ): Filled | undefined {
    const { sizes } = this.#yard;
    const had = sizes.flatMap((_, size) => ((limits[size] as number) > 0 ? [size] : []));
    const width = WIDTHS[(number >> 1) % WIDTHS.length] as Width;
    const quick = quickSheets(this.#yard, this.#steps, left, worths, had, width);
    this.looks += quick.looks;
    let best: { size: number; block: number; rate: number } | undefined;
    const rank = number < PLAIN ? 0 : Math.floor(this.#random() * RANKS);
    for (const size of had) {
      const list = quick.sheets[size] as readonly number[];
      const block = list[Math.min(rank, list.length - 1)];
      if (block === undefined) continue;
      const { price } = (sizes[size] as Yard['sizes'][number]).stock;
      const rate = (quick.blocks.worth[block] as number) / Math.max(price, 1e-9);
      if (best === undefined || rate > best.rate) best = { size, block, rate };
    }
    return best && this.#filled(quick, best.size, best.block);
  }

  #filled(quick: QuickSheets, size: number, block: number): Filled | undefined {
    const tree = blockTree(this.#yard, this.#steps, quick.blocks, size, block);
    return tree && filledBy(this.#yard, size, tree);
  }

  /** Worths for the next time. */
  #correct(measure: { readonly base: readonly number[]; now: number[] }, made: readonly Filled[]): void {
    const { sizes } = this.#yard;
    measure.now = measure.now.map((before, kind) => {
      let parts = 0;
      let worth = 0;
      for (const sheet of made) {
        const count = sheet.counts[kind] as number;
        const size = sizes[sheet.size] as Yard['sizes'][number];
        parts += count;
        worth +=
          count * (measure.base[kind] as number) * Math.min(MOST, (size.length * size.width) / sheet.area);
      }
      return parts > 0 ? (1 - SHARE) * before + (SHARE * worth) / parts : before;
    });
  }
}
