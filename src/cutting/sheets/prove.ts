/**
 * The best layout within the cap on levels of cuts, or how far the one in hand may be from it.
 *
 * First prices by column generation: with them sheets that cost less than the layout in hand must be worth what all parts are worth,
 * and often none are. Where some could be, a cheaper layout can lose only little of that worth; all sheets that lose no more are built from
 * blocks, and an integer programme looks for a set of them that holds all parts. Both end on counts; where a limit was met, what was found
 * is still a layout, and the bound stays what it was.
 */
import type { Column, Solver } from '../highs.ts';
import { blockTree } from './block-tree.ts';
import { bestPrices, type Prices } from './columns.ts';
import type { Filled } from './fill.ts';
import type { Yard } from './kinds.ts';
import { filledBy, withoutSurplus } from './pick.ts';
import { leastCost, mostFor, type Scale } from './scales.ts';
import { costOf, type Sheets } from './search.ts';
import { type Stacked, stackSheets } from './stacking.ts';
import { inSteps, type Steps, stepsOf } from './steps.ts';
import { Worths } from './worths.ts';

/** What was found within the levels. */
export interface Proof {
  readonly sheets: Sheets;
  /** No layout with so few levels of cuts costs less. */
  readonly bound: number;
}

/** Finest steps of the longest side. */
const STEPS = 6000;
/** Entries of a table beyond which prices are sought with coarser steps, and beyond which none are. */
const COARSE = 60_000;
const MOST_ENTRIES = 1_500_000;
/** Additions of the dynamic programme in all. */
const WORK = 150_000_000;
/** Limits of the search for blocks, and of the integer programme over sheets. */
const LOOKS = 8_000_000;
const BLOCKS = 250_000;
const MOST_SHEETS = 12_000;
const LIMITS = { nodes: 2000, pivots: 60_000, gap: 1e-6 };

/**
 * @param found a layout that holds all parts
 * @param bound a bound on the cost whatever the layout, and the scales that it comes from
 */
export function proveSheets(
  yard: Yard,
  found: Sheets,
  bound: { readonly cost: number; readonly scales: readonly Scale[] },
  solver: Solver,
): Proof {
  const cost = costOf(yard, found.sheets);
  let least = bound.cost;
  const fine = stepsOf(yard, STEPS);
  const steps = coarser(yard, fine);
  const enough = (prices: Prices): boolean => {
    least = Math.max(least, leastCost(yard.sizes, [prices, ...bound.scales], solver));
    return least >= cost - 1e-5;
  };
  const known = found.sheets;
  let worths = new Worths(steps, yard.stages);
  let prices = bestPrices(yard, worths, known, solver, WORK, enough);
  if (prices === undefined || least >= cost - 1e-5) return { sheets: found, bound: Math.min(least, cost) };
  if (steps !== fine) {
    worths = new Worths(fine, yard.stages);
    if (worths.entries > MOST_ENTRIES) return { sheets: found, bound: least };
    const rooms = worths.compute(prices.kinds);
    prices = { ...prices, rooms };
    if (enough(prices)) return { sheets: found, bound: Math.min(least, cost) };
  } else worths.compute(prices.kinds);
  const stacked = stackSheets(yard, fine, worths, prices.kinds, {
    loss: mostFor(yard.sizes, cost, prices.rooms, bound.scales, solver) - prices.total + 1e-7 * prices.total,
    waste: wasteFor(yard, fine, cost, solver),
    looks: LOOKS,
    blocks: BLOCKS,
  });
  return chosen(yard, fine, stacked, found, least, solver);
}

/** Steps so much coarser that the tables stay small. */
function coarser(yard: Yard, fine: Steps): Steps {
  const { entries } = new Worths(fine, 2);
  return entries <= COARSE ? fine : inSteps(yard, fine.step * Math.ceil(Math.sqrt(entries / COARSE)));
}

/** How much of the sheets that cost less may stay empty, in steps². */
function wasteFor(yard: Yard, steps: Steps, cost: number, solver: Solver): number {
  const rooms = steps.rooms.map(({ x, y }) => x * y);
  const parts = new Map(steps.lies.map((lie) => [lie.kind, lie.x * lie.y]));
  const total = steps.demands.reduce((sum, demand, kind) => sum + demand * (parts.get(kind) ?? 0), 0);
  return mostFor(yard.sizes, cost, rooms, [], solver) - total + 1e-6 * total;
}

/** The cheapest set of the sheets that were built, where it is cheaper than the layout in hand. */
function chosen(
  yard: Yard,
  steps: Steps,
  stacked: Stacked,
  found: Sheets,
  bound: number,
  solver: Solver,
): Proof {
  const cost = costOf(yard, found.sheets);
  const { blocks, complete } = stacked;
  const none: Proof = { sheets: found, bound: complete ? cost : bound };
  const { sheets } = stacked;
  if (sheets.length === 0) return none;
  if (sheets.length > MOST_SHEETS) return { sheets: found, bound };
  const rows = yard.kinds.map(({ demand }) => ({ lower: demand }));
  const limits = yard.sizes.map(({ limit }) =>
    Number.isFinite(limit) ? rows.push({ upper: limit } as never) - 1 : undefined,
  );
  const answer = solver.integer(
    {
      rows,
      columns: sheets.map(({ size, block }): Column => {
        const own: number[] = [];
        const values: number[] = [];
        for (let kind = 0; kind < yard.kinds.length; kind++) {
          const count = blocks.counts[block * blocks.kinds + kind] as number;
          if (count === 0) continue;
          own.push(kind);
          values.push(count);
        }
        const limit = limits[size];
        if (limit !== undefined) {
          own.push(limit);
          values.push(1);
        }
        return { cost: (yard.sizes[size] as Yard['sizes'][number]).stock.price, rows: own, values };
      }),
    },
    LIMITS,
  );
  if (answer.status === 'impossible') return none;
  const raised = complete ? Math.max(bound, Math.min(cost, answer.bound)) : bound;
  if (answer.values === undefined || (answer.objective as number) >= cost - 1e-5)
    return { sheets: found, bound: raised };
  const picked: Filled[] = [];
  for (const [index, { size, block }] of sheets.entries()) {
    const count = Math.round(answer.values[index] as number);
    if (count === 0) continue;
    const tree = blockTree(yard, steps, blocks, size, block);
    if (tree === undefined) return { sheets: found, bound: raised };
    for (let n = 0; n < count; n++) picked.push(filledBy(yard, size, tree));
  }
  const better = withoutSurplus(yard, picked);
  return better === undefined ? { sheets: found, bound: raised } : { sheets: better, bound: raised };
}
