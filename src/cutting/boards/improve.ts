/** From the bound and a first layout to the best layout: searches that grow until the two meet or a limit comes. */

import type { Solver } from '../highs.ts';
import { type Choice, chooseBoards, lay } from './choose.ts';
import { dive } from './dive.ts';
import { firstFitFrom } from './first-fit.ts';
import type { Grid } from './grid.ts';
import { fillingsWorth } from './knapsack.ts';
import { type Laid, settle, type Weights, weightOf } from './laid.ts';
import { type BoardColumn, boardFillers, ColumnSet, type Master, type RowPlan } from './master.ts';
import { refill } from './refill.ts';
import { roundedBound, type Weighing } from './weighing.ts';

/** The best layout so far and the bound that it is held against. */
export interface Better {
  readonly laid: Laid;
  /** On the weight of any layout, rounded up where weights are whole. */
  readonly bound: number;
}

/** How much is done to improve a layout. Work of a search is its pivots times its columns. */
export interface Effort {
  /** How often all boards are filled anew. */
  readonly rounds: number;
  /** First among the columns that came up with the bound and in diving … */
  readonly first: number;
  /** … then, looking for a better layout, among the likeliest columns … */
  readonly look: { readonly columns: number; readonly work: number };
  /** … then, for a proof, among all that a better layout could use, if they are not more than these. */
  readonly prove: { readonly columns: number; readonly work: number };
}

/** For the cost. */
export const FULL: Effort = {
  rounds: 60,
  first: 300_000,
  look: { columns: 1200, work: 1_000_000 },
  prove: { columns: 8000, work: 6_000_000 },
};
/** For the number of boards, once all is done for the cost. */
export const LITTLE: Effort = {
  rounds: 20,
  first: 60_000,
  look: { columns: 600, work: 200_000 },
  prove: { columns: 2000, work: 300_000 },
};
/** Most nodes and pivots of one search. */
const NODES = 3000;
const PIVOTS = 8000;

/** Improves a first layout and its bound until they meet or the work is used up. */
export function improve(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  weighing: Weighing,
  master: Master,
  first: Better,
  effort: Effort,
  solver: Solver,
): Better {
  let { laid, bound } = first;
  const weight = (): number => weightOf(laid, weights);
  const open = (): boolean => weight() > bound + 1e-9 * Math.max(1, bound);
  const keep = (next: Laid | undefined): void => {
    if (next !== undefined && weightOf(next, weights) < weight() - 1e-9) laid = next;
  };
  const least = weighing.whole ? 1 : 0;
  const gap = weighing.whole ? 0.999 : 1e-7 * Math.max(1, bound);
  const search = (choice: Choice, work: number, prove: boolean): number => {
    const pivots = Math.min(PIVOTS, Math.ceil(work / (choice.boards.length + choice.sections.length)));
    const target = bound + (weighing.whole ? 0.5 : gap);
    const limits = { nodes: NODES, pivots, gap, target, prove };
    const chosen = chooseBoards(grid, plan, weights, choice, laid, solver, limits);
    keep(chosen.laid);
    return chosen.bound;
  };
  const slack = (): number => weight() - least - master.bound;

  if (open()) keep(roundedDown(grid, weights, master));
  if (open()) keep(refill(grid, weights, laid, bound, effort.rounds));
  const columns = new ColumnSet();
  columns.addAll(master);
  if (open()) keep(dive(grid, weights, master, weight() - least, columns, solver));
  if (open()) {
    columns.addLaid(grid, laid.boards);
    search(columns, effort.first, false);
  }
  if (open() && !listColumns(grid, weights, master, slack(), effort.look.columns, true).complete) {
    const likely = likeliest(grid, weights, master, slack(), effort.look.columns).columns;
    likely.addLaid(grid, laid.boards);
    likely.addAll(columns);
    search(likely, effort.look.work, false);
  }
  if (open()) {
    const listed = listColumns(grid, weights, master, slack(), effort.prove.columns, true);
    if (listed.complete) {
      listed.columns.addLaid(grid, laid.boards);
      const proved = search(listed.columns, effort.prove.work, true);
      // all that could be better was listed: the search's own bound holds, up to the layout in hand
      bound = Math.max(bound, Math.min(roundedBound(weighing, proved), weight()));
    }
  }
  return { laid, bound };
}

/** As many columns as are allowed of those within the slack: all, or those within a smaller slack. */
export function likeliest(
  grid: Grid,
  weights: Weights,
  master: Master,
  slack: number,
  most: number,
): { columns: ColumnSet; complete: boolean } {
  const all = listColumns(grid, weights, master, slack, most, true);
  if (all.complete) return all;
  let low = 0;
  let high = slack;
  let best = new ColumnSet();
  for (let n = 0; n < 8; n++) {
    const middle = (low + high) / 2;
    const some = listColumns(grid, weights, master, middle, most, true);
    if (some.complete) {
      low = middle;
      best = some.columns;
    } else high = middle;
  }
  return { columns: best, complete: false };
}

/** The whole boards of the linear optimum, and the rest by the longest-first rule. */
function roundedDown(grid: Grid, weights: Weights, master: Master): Laid {
  const whole = master.values.map((value) => Math.floor(value + 1e-6));
  const laid = settle(grid, lay(grid, master, whole));
  return firstFitFrom(grid, weights.boards, laid);
}

/**
 * All columns whose worth comes within `slack` of what they cost, at the worths of the bound: no other can be part of a layout that
 * weighs no more than the bound and the slack. With `full` only those that nothing can be added to.
 */
export function listColumns(
  grid: Grid,
  weights: Weights,
  master: Master,
  slack: number,
  limit: number,
  full: boolean,
): { columns: ColumnSet; complete: boolean } {
  const columns = new ColumnSet();
  let complete = true;
  const room = slack + 1e-6 + 1e-9 * Math.abs(slack);
  grid.widths.forEach((width, index) => {
    width.kinds.forEach((kind, at) => {
      if (kind.piece !== undefined) return;
      const strips = width.strips.filter(
        (strip) => (grid.pieces[strip.piece]?.size ?? Infinity) <= kind.size,
      );
      const fillers = strips.map((strip) => ({
        size: strip.across,
        worth: master.worths.pieces[strip.piece] as number,
        bound: grid.pieces[strip.piece]?.demand ?? 0,
      }));
      const least = (master.worths.sections[index]?.[at] as number) - room;
      const listed = fillingsWorth(fillers, width.across, least, limit, full);
      complete &&= listed.complete;
      for (const filling of listed.fillings) {
        const pieces = filling
          .map(([strip, count]) => [strips[strip]?.piece as number, count] as const)
          .sort((a, b) => a[0] - b[0]);
        // without a strip of its own length it is a way to rip a shorter section
        if (pieces.some(([piece]) => grid.pieces[piece]?.size === kind.size))
          columns.addSection({ width: index, kind: at, pieces });
      }
    });
  });
  grid.stocks.forEach((stock, index) => {
    const fillers = boardFillers(grid, stock.width, master.worths);
    const least = (weights.boards[index] as number) - (master.worths.limits[index] as number) - room;
    const listed = fillingsWorth(
      fillers,
      stock.capacity,
      least,
      Math.max(0, limit - columns.boards.length),
      full,
    );
    complete &&= listed.complete;
    for (const kinds of listed.fillings) columns.addBoard({ stock: index, kinds } satisfies BoardColumn);
  });
  return { columns, complete };
}
