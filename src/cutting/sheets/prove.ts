/**
 * Cheaper layouts within the cap on levels of cuts, or the proof that there are none.
 *
 * First prices by column generation: with them sheets that cost less than the layout in hand must be worth what all parts are worth,
 * and often none are. Where some could be, a cheaper layout can lose only little of that worth; all sheets that lose no more are built from
 * blocks, and an integer programme looks for a set of them that holds all parts. All of it ends on counts; where a limit was met, what was
 * found is still a layout, and the bound stays what it was.
 */
import type { Solver } from '../highs.ts';
import { chosenSheets, wasteFor } from './chosen.ts';
import { bestPrices, type Prices } from './columns.ts';
import type { Filled } from './fill.ts';
import type { Yard } from './kinds.ts';
import { areaScale, leastCost, mostFor, type Scale, strongest } from './scales.ts';
import type { Sheets } from './search.ts';
import { stackSheets } from './stacking.ts';
import { inSteps, type Steps, stepsOf } from './steps.ts';
import { Worths } from './worths.ts';

/** What was found within the levels. */
export interface Proof {
  /** A layout that costs less; nothing where none was found. */
  readonly sheets?: Sheets;
  /** What no layout within the levels costs less than; at most the cost that was to be beaten. */
  readonly bound: number;
  /** The prices that were found; they hold whatever is to be beaten. */
  readonly prices?: Prices;
  /** Additions of the dynamic programme. */
  readonly work: number;
}

/** When to give up. */
export interface Limits {
  /** Additions of the dynamic programme. */
  readonly work: number;
  /** Comparisons of blocks with pieces, and blocks made. */
  readonly looks: number;
  readonly blocks: number;
  /** Ways to fill a sheet among which an integer programme may choose where direct search gave up. */
  readonly ways: number;
}

/** Finest steps of the longest side. */
const STEPS = 6000;
/** The coarsest steps, as times the finest. */
const COARSEST = 48;
/** Entries of a table beyond which prices are sought with coarser steps, and beyond which no blocks are built. */
const COARSE = 25_000;
const MOST_ENTRIES = 6_000_000;
const DEEP = 6;
/** Scales that are taken together with the prices. */
const MOST_SCALES = 5;

/**
 * A layout that costs less than `below`.
 *
 * @param scales that hold for all layouts
 * @param known sheets to start the prices from
 * @param more prices from an earlier try; a cost from which on layouts are looked for, where cheaper ones are out of the question
 */
export function cheaperSheets(
  yard: Yard,
  below: number,
  scales: readonly Scale[],
  known: readonly Filled[],
  solver: Solver,
  limits: Limits,
  more: { readonly prices?: Prices; readonly from?: number } = {},
): Proof {
  const sound = strongest(yard.sizes, [...scales, areaScale(yard)], MOST_SCALES);
  const from = more.from ?? 0;
  let least = leastCost(yard.sizes, sound, from);
  let prices = more.prices;
  let tables: Worths | undefined;
  let spent = 0;
  const proof = (sheets?: Sheets): Proof => ({
    bound: Math.min(least, below),
    ...(sheets && { sheets }),
    ...(prices && { prices }),
    work: spent + (tables?.work ?? 0),
  });
  if (least >= below - 1e-5) return proof();
  const fine = stepsOf(yard, STEPS);
  const steps = coarser(yard, fine);
  const enough = (prices: Prices): boolean => {
    least = Math.max(least, leastCost(yard.sizes, [prices, ...sound], from));
    return least >= below - 1e-5;
  };
  tables = new Worths(steps, yard.stages);
  prices ??= bestPrices(yard, tables, known, solver, limits.work, enough);
  if (prices === undefined || least >= below - 1e-5) return proof();
  if (steps !== fine) {
    spent = tables.work;
    tables = new Worths(fine, yard.stages);
  }
  if (tables.entries * Math.min(yard.stages, DEEP) > MOST_ENTRIES) return proof();
  prices = { ...prices, rooms: tables.compute(prices.kinds) };
  if (enough(prices)) return proof();
  // cost by cost from the least that sheets could come to: the less a layout may cost, the fewer sheets can be in it
  let looks = 0;
  while (least < below - 1e-5) {
    const left = { ...limits, looks: limits.looks - looks };
    const { found, none, ...spent } = atCost(yard, fine, tables, prices, sound, least, left, solver);
    looks += spent.looks;
    if (found !== undefined) return proof(found);
    if (!none) return proof();
    least = leastCost(yard.sizes, [prices, ...sound], least + 1e-4);
  }
  return proof();
}

/** Shares of the loss that single blocks may have: all of it, then less where that is too much to go through. */
const SHARES = [1, 0.25];

/** A layout of a given cost; `none` where it is proved that there is none; and the comparisons that it took. */
function atCost(
  yard: Yard,
  steps: Steps,
  tables: Worths | undefined,
  prices: Prices,
  scales: readonly Scale[],
  cost: number,
  limits: Limits,
  solver: Solver,
): { readonly found?: Sheets; readonly none: boolean; readonly looks: number } {
  const most = cost + 1e-4;
  const loss = mostFor(yard.sizes, most, prices.rooms, scales) - prices.total + 1e-7 * prices.total;
  const waste = wasteFor(yard, steps, most);
  let looks = 0;
  for (const share of SHARES) {
    const budget = { loss, waste, share, looks: limits.looks, blocks: limits.blocks };
    const stacked = stackSheets(yard, steps, tables, prices.kinds, budget);
    looks += stacked.looks;
    if (stacked.full) continue;
    const { sheets, none } = chosenSheets(yard, steps, stacked, prices, most, limits.ways, solver);
    if (sheets !== undefined) return { found: sheets, none: false, looks };
    return { none: none && stacked.complete, looks };
  }
  return { none: false, looks };
}

/**
 * A layout that costs no more than `cost`, for sheets that hardly hold the parts: by their areas alone, which is quick. `none` where it
 * is proved that there is none.
 */
export function tightSheets(
  yard: Yard,
  cost: number,
  solver: Solver,
  limits: Limits,
): { readonly found?: Sheets; readonly none: boolean } {
  const kinds = yard.kinds.map(({ length, width }) => length * width);
  const prices: Prices = { ...areaScale(yard), kinds, least: 0 };
  return atCost(yard, stepsOf(yard, STEPS), undefined, prices, [], cost, limits, solver);
}

/** Coarser steps that keep the tables small: of these the ones by which parts lose least of their size and sheets most. */
function coarser(yard: Yard, fine: Steps): Steps {
  if (new Worths(fine, 2).entries <= COARSE) return fine;
  const kept = Array.from({ length: COARSEST - 1 }, (_, n) => {
    const steps = inSteps(yard, fine.step * (n + 2));
    const area = (x: number, y: number): number => Math.max(x, 1) * Math.max(y, 1);
    const parts = steps.lies.reduce(
      (sum, { kind, x, y }) => sum + area(x, y) * (fine.demands[kind] as number),
      0,
    );
    const sheets = steps.rooms.reduce((sum, { x, y }) => sum + area(x, y), 0);
    return { steps, share: parts / sheets };
  });
  kept.sort((a, b) => b.share - a.share || a.steps.step - b.steps.step);
  const small = kept.find(({ steps }) => new Worths(steps, 2).entries <= COARSE);
  return small?.steps ?? fine;
}
