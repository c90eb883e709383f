/** From the bound and a first layout to the best layout: searches that grow until the two meet or a limit comes. */
import { type Choice, chooseBoards, lay } from './choose.ts';
import { firstFitFrom } from './first-fit.ts';
import type { Grid } from './grid.ts';
import type { Solver } from './highs.ts';
import { fillingsWorth } from './knapsack.ts';
import { type Laid, settle, type Weights, weightOf } from './laid.ts';
import { type BoardColumn, boardFillers, ColumnSet, type Master, type RowPlan } from './master.ts';
import { roundedBound, type Weighing } from './weighing.ts';

/** The best layout so far and the bound that it is held against. */
export interface Better {
  readonly laid: Laid;
  /** On the weight of any layout, rounded up where weights are whole. */
  readonly bound: number;
}

/** Nodes of the search among the columns that the bound was found with. */
const FIRST_NODES = 50;
/** Nodes of the search among all columns that a better layout could use. */
const LISTED_NODES = 50;
/** Most columns that are listed. */
const LISTED = 3_000;

export function improve(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  weighing: Weighing,
  master: Master,
  first: Better,
  solver: Solver,
): Better {
  let { laid, bound } = first;
  const open = (): boolean => weightOf(laid, weights) > bound + 1e-9 * Math.max(1, bound);
  const keep = (next: Laid | undefined): void => {
    if (next !== undefined && weightOf(next, weights) < weightOf(laid, weights) - 1e-9) laid = next;
  };
  const gap = weighing.whole ? 0.999 : 1e-7 * Math.max(1, bound);
  const search = (choice: Choice, nodes: number): number => {
    const target = weighing.whole ? bound + 0.5 : bound + gap;
    const chosen = chooseBoards(grid, plan, weights, choice, laid, solver, { nodes, gap, target });
    keep(chosen.laid);
    return chosen.bound;
  };

  if (open()) keep(roundedDown(grid, weights, master));
  if (open()) {
    const columns = new ColumnSet();
    for (const one of master.boards) columns.addBoard(one);
    for (const one of master.sections) columns.addSection(one);
    columns.addLaid(grid, laid.boards);
    search(columns, FIRST_NODES);
  }
  if (open()) {
    const slack = weightOf(laid, weights) - (weighing.whole ? 1 : 0) - master.bound;
    const listed = listColumns(grid, weights, master, slack, LISTED, true);
    listed.columns.addLaid(grid, laid.boards);
    for (const one of master.boards) listed.columns.addBoard(one);
    for (const one of master.sections) listed.columns.addSection(one);
    const proved = search(listed.columns, LISTED_NODES);
    // all that could be better was listed: the search's own bound holds, up to the layout in hand
    if (listed.complete)
      bound = Math.max(bound, Math.min(roundedBound(weighing, proved), weightOf(laid, weights)));
  }
  return { laid, bound };
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
      const least = (master.worths.kinds[index]?.[at] as number) - room;
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
