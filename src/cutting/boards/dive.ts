/**
 * Diving: the boards that the linear optimum is surest of are laid for good, and what is left is optimised anew, until all pieces
 * have a board. The patterns found on the way are often those that the best layout needs.
 */

import type { Solver } from '../highs.ts';
import { firstFitFrom } from './first-fit.ts';
import { type Grid, remaining, type SectionKind } from './grid.ts';
import {
  board,
  type Laid,
  type LaidBoard,
  type LaidSection,
  section,
  settle,
  stockOf,
  type Weights,
  weightOf,
  widthOf,
} from './laid.ts';
import { type BoardColumn, ColumnSet, type Master, rowPlan, solveMaster } from './master.ts';

/** Most times that what is left is optimised anew. */
const DIVES = 80;

/**
 * Dives from a linear optimum.
 * @param limit gives up when the layout can't weigh less than this
 * @param found takes the columns that come up on the way
 */
export function dive(
  grid: Grid,
  weights: Weights,
  master: Master,
  limit: number,
  found: ColumnSet,
  solver: Solver,
): Laid {
  let laid: Laid = { boards: [], missing: grid.pieces.map((piece) => piece.demand) };
  let now = master;
  for (let n = 0; n < DIVES && laid.missing.some((count) => count > 0); n++) {
    const surest = surestBoards(grid, now);
    if (surest.length === 0) break;
    laid = settle(grid, [...laid.boards, ...surest]);
    const left = remaining(grid, laid.missing, limitsLeft(grid, laid.boards));
    const spent = weightOf({ boards: laid.boards, missing: [] }, weights);
    now = solveMaster(left, rowPlan(left), weights, fitting(left, found), solver);
    for (const one of now.boards) found.addBoard(one);
    for (const one of now.sections) found.addSection(one);
    if (spent + now.bound >= limit - 1e-6) break;
  }
  return firstFitFrom(grid, weights.boards, laid);
}

function limitsLeft(grid: Grid, boards: readonly LaidBoard[]): number[] {
  const limits = grid.stocks.map((stock) => stock.limit);
  for (const { stock } of boards) limits[stock] = (limits[stock] as number) - 1;
  return limits;
}

/** The columns that are still no more than what is left to do. */
function fitting(grid: Grid, found: ColumnSet): ColumnSet {
  const columns = new ColumnSet();
  for (const one of found.boards) {
    const { kinds } = widthOf(grid, one.stock);
    if (one.kinds.every(([kind, count]) => count <= (kinds[kind] as SectionKind).bound))
      columns.addBoard(one);
  }
  for (const one of found.sections)
    if (one.pieces.every(([piece, count]) => count <= (grid.pieces[piece]?.demand ?? 0)))
      columns.addSection(one);
  return columns;
}

/** All whole boards of the optimum; where there is none, the one that is nearest to a whole. */
function surestBoards(grid: Grid, master: Master): LaidBoard[] {
  const times: number[] = master.boards.map((_, index) =>
    Math.floor((master.values[index] as number) + 1e-6),
  );
  if (!times.some((count) => count > 0)) {
    let surest = -1;
    let most = 1e-6;
    master.boards.forEach((_, index) => {
      const value = master.values[index] as number;
      if (value > most + 1e-9) {
        most = value;
        surest = index;
      }
    });
    if (surest < 0) return [];
    times[surest] = 1;
  }
  const left = master.sections.map((_, index) => master.values[master.boards.length + index] as number);
  return master.boards.flatMap((one, index) =>
    Array.from({ length: times[index] as number }, () => laidFrom(grid, master, one, left)),
  );
}

/** A board of a column; each ripped section takes the way of ripping of which the optimum has most left. */
function laidFrom(grid: Grid, master: Master, one: BoardColumn, left: number[]): LaidBoard {
  const { kinds } = widthOf(grid, one.stock);
  const { width } = stockOf(grid, one.stock);
  const sections: LaidSection[] = [];
  for (const [kind, count] of one.kinds) {
    const { piece } = kinds[kind] as SectionKind;
    for (let n = 0; n < count; n++) {
      if (piece !== undefined) {
        sections.push(section(grid, [piece], false));
        continue;
      }
      let best = -1;
      master.sections.forEach((candidate, index) => {
        if (candidate.width !== width || candidate.kind !== kind) return;
        if (best < 0 || (left[index] as number) > (left[best] as number) + 1e-9) best = index;
      });
      if (best < 0) continue;
      left[best] = (left[best] as number) - 1;
      const { pieces } = master.sections[best] as (typeof master.sections)[number];
      sections.push(
        section(
          grid,
          pieces.flatMap(([index, times]) => new Array<number>(times).fill(index)),
          true,
        ),
      );
    }
  }
  return board(one.stock, sections);
}
