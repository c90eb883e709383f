/**
 * Board layouts of least cost: then of fewest boards, then with the longest single offcut, then with the fewest different patterns.
 *
 * Column generation gives a bound, an integer search over its columns a layout; where the two don't meet, all columns that a better
 * layout could use are listed and searched. Furniture-sized jobs are proved best in this way. Every search stops on counts, never on
 * the clock, so that a job gives the same layout each time; every layout passes the independent check.
 */

import type { Solver } from '../highs.ts';
import type { BoardJob, BoardResult } from '../types.ts';
import { assemble } from './assemble.ts';
import { checkBoards } from './check.ts';
import { firstFit } from './first-fit.ts';
import { type Grid, gridOf, jobFault } from './grid.ts';
import { type Better, FULL, improve, LITTLE } from './improve.ts';
import { type Laid, type Weights, weightOf } from './laid.ts';
import { ColumnSet, type RowPlan, rowPlan, solveMaster } from './master.ts';
import { leastRipped } from './ripped.ts';
import { tidy } from './tidy.ts';
import { costBound, roundedBound, type Weighing, weigh } from './weighing.ts';

/**
 * Lays the items of a job out on boards.
 *
 * Kerf: n pieces of length L need n·L + (n − 1)·kerf; where an end is trimmed, the trim and one kerf more. A board is crosscut into
 * sections, and a section may be ripped into strips side by side, shorter ones crosscut again.
 *
 * @param job sizes in one unit of the caller's choice; widths along the board are never turned
 * @param solver from `loadSolver()`
 * @returns patterns with counts, their cost, a lower bound on the cost, and a status: 'proved best', 'gap' with the gap, or
 *   'impossible' where pieces fit no board or the limits are too low: these are listed, one id a piece, and the rest is laid out
 * @throws RangeError where the job makes no sense (a size that is not a positive number, two items with one id)
 */
export function layoutBoards(job: BoardJob, solver: Solver): BoardResult {
  const fault = jobFault(job);
  if (fault !== undefined) throw new RangeError(fault);
  const result = layOut(job, solver);
  const faults = checkBoards(job, result);
  if (faults.length > 0) throw new Error(`a board layout failed its check: ${faults.join('; ')}`);
  return result;
}

function layOut(job: BoardJob, solver: Solver): BoardResult {
  const grid = gridOf(job);
  if (grid.pieces.length === 0) {
    const status = grid.unplaced.length > 0 ? 'impossible' : 'proved best';
    return { patterns: [], cost: 0, boards: 0, bound: 0, status, gap: 0, unplaced: grid.unplaced };
  }
  const found = search(grid, solver);
  if (found.laid.missing.some((count) => count > 0)) return withoutMissing(job, grid, found.laid, solver);
  const cost = found.laid.boards.reduce((sum, { stock }) => sum + (grid.stocks[stock]?.stock.price ?? 0), 0);
  const bound = Math.min(found.bound, cost);
  const gap = relativeGap(cost, bound);
  const proved = gap <= 1e-6;
  return {
    patterns: assemble(grid, found.laid),
    cost: roundedCost(cost),
    boards: found.laid.boards.length,
    bound: proved ? roundedCost(cost) : bound,
    status: grid.unplaced.length > 0 ? 'impossible' : proved ? 'proved best' : 'gap',
    gap: proved ? 0 : gap,
    unplaced: grid.unplaced,
  };
}

/** Sums of prices carry the noise of binary fractions: 0.1 + 0.2. */
const roundedCost = (cost: number): number => Math.round(cost * 1e6) / 1e6;

const relativeGap = (cost: number, bound: number): number =>
  cost <= bound ? 0 : bound > 0 ? (cost - bound) / bound : 1;

/** Where limits leave pieces out, the rest is laid out by itself, so that its cost has a bound of its own. */
function withoutMissing(job: BoardJob, grid: Grid, laid: Laid, solver: Solver): BoardResult {
  const left = new Map<string, number>();
  laid.missing.forEach((count, piece) => {
    let missing = count;
    // of items of one size those named last go without
    for (const item of [...(grid.pieces[piece]?.items ?? [])].reverse()) {
      const taken = Math.min(missing, item.quantity);
      if (taken > 0) left.set(item.id, taken);
      missing -= taken;
    }
  });
  const unplaced = job.items.flatMap((item) => new Array<string>(left.get(item.id) ?? 0).fill(item.id));
  const rest = layOut(
    {
      ...job,
      items: job.items.map((item) => ({ ...item, quantity: item.quantity - (left.get(item.id) ?? 0) })),
    },
    solver,
  );
  return { ...rest, status: 'impossible', unplaced: [...rest.unplaced, ...unplaced] };
}

function search(grid: Grid, solver: Solver): { laid: Laid; bound: number } {
  const rough = firstFit(
    grid,
    grid.stocks.map(({ stock }) => Math.max(stock.price, 1e-6)),
  );
  const weighing = weigh(grid, rough);
  const weights: Weights = { boards: weighing.boards, missing: penalty(grid, weighing.boards, rough) };
  const first = lighter(rough, firstFit(grid, weighing.boards), weights);
  const complete = first.missing.every((count) => count === 0);
  const plan = rowPlan(grid, complete ? leastRipped(grid, solver) : 0);
  const columns = new ColumnSet();
  columns.addLaid(grid, first.boards);
  const cheapest = byCost(grid, plan, weighing, weights, columns, first, solver);
  const master = solveMaster(grid, plan, weights, columns, solver);
  const bound = Math.max(roundedBound(weighing, master.bound), cheapest?.bound ?? 0);
  let best: Better = { laid: cheapest === undefined ? first : lighter(first, cheapest.laid, weights), bound };
  best = improve(grid, plan, weights, weighing, master, best, cheapest === undefined ? FULL : LITTLE, solver);
  const laid = tidy(grid, plan, weights, master, best.laid, solver);
  return { laid, bound: costBound(weighing, best.bound) };
}

/**
 * Cost by itself, and boards by themselves: no complete layout costs less than the one or has fewer boards than the other. Where
 * prices go by length this says more than the bound on both together, which trades a board for a fraction of a price. Nothing where
 * boards aren't counted beside the cost.
 */
function byCost(
  grid: Grid,
  plan: RowPlan,
  weighing: Weighing,
  weights: Weights,
  columns: ColumnSet,
  known: Laid,
  solver: Solver,
): Better | undefined {
  if (weighing.most === 0 || !weighing.whole || known.missing.some((count) => count > 0)) return undefined;
  const own = (boards: readonly number[]): Weights => ({ boards, missing: weights.missing });
  const costs = own(weighing.boards.map((weight) => (weight - 1) / weighing.step));
  const plain: Weighing = { ...weighing, boards: costs.boards, step: 1, most: 0 };
  const master = solveMaster(grid, plan, costs, columns, solver);
  const first = { laid: known, bound: roundedBound(plain, master.bound) };
  const best = improve(grid, plan, costs, plain, master, first, FULL, solver);
  const counts = new ColumnSet();
  counts.addAll(columns);
  const fewest = solveMaster(grid, plan, own(weighing.boards.map(() => 1)), counts, solver);
  return { laid: best.laid, bound: best.bound * weighing.step + roundedBound(plain, fewest.bound) };
}

const lighter = (a: Laid, b: Laid, weights: Weights): Laid =>
  weightOf(b, weights) < weightOf(a, weights) ? b : a;

/** Weight of a piece left out: more than any layout without it could save. */
function penalty(grid: Grid, boards: readonly number[], start: Laid): number {
  const pieces = grid.pieces.reduce((sum, piece) => sum + piece.demand, 0);
  const complete = start.missing.every((count) => count === 0);
  const most = complete
    ? start.boards.reduce((sum, { stock }) => sum + (boards[stock] as number), 0)
    : grid.stocks.reduce(
        (sum, stock, index) => sum + Math.min(stock.limit, pieces) * (boards[index] as number),
        0,
      );
  return most + 1;
}
