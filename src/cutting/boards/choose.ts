/** Choosing whole numbers of boards among given columns: the integer side of the layout. */

import type { Column, SearchLimits, Solver } from '../highs.ts';
import type { Grid, SectionKind } from './grid.ts';
import {
  board,
  type Laid,
  type LaidBoard,
  type LaidSection,
  section,
  settle,
  stockOf,
  type Weights,
  widthOf,
} from './laid.ts';
import {
  type BoardColumn,
  boardColumn,
  columnsOf,
  type RowPlan,
  type SectionColumn,
  sectionColumn,
} from './master.ts';

/** Columns to choose from. */
export interface Choice {
  readonly boards: readonly BoardColumn[];
  readonly sections: readonly SectionColumn[];
}

/** What a choice gave: the layout, if one was found, and a bound on all layouts made of these columns. */
export interface Chosen {
  readonly laid?: Laid;
  readonly bound: number;
}

/** The columns of a choice in the order of the programme: boards, sections, then missing pieces where boards are limited. */
export function choiceColumns(grid: Grid, plan: RowPlan, weights: Weights, choice: Choice): Column[] {
  const limited = grid.stocks.some((stock) => Number.isFinite(stock.limit));
  return [
    ...choice.boards.map((one) => boardColumn(grid, plan, weights, one)),
    ...choice.sections.map((one) => sectionColumn(plan, one)),
    ...(limited
      ? grid.pieces.map((_, index) => ({ cost: weights.missing, rows: [index], values: [1] }))
      : []),
  ];
}

/** The least layout made of the columns, searched from a layout known before. */
export function chooseBoards(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  choice: Choice,
  known: Laid,
  solver: Solver,
  limits: SearchLimits,
): Chosen {
  const columns = choiceColumns(grid, plan, weights, choice);
  const start = startOf(grid, choice, known, columns.length);
  const answer = solver.integer(
    { rows: plan.rows, columns, ...(start === undefined ? {} : { start }) },
    limits,
  );
  // the layout in hand is made of these columns, so that 'impossible' could only be trouble with numbers
  if (answer.values === undefined) return { bound: answer.status === 'impossible' ? 0 : answer.bound };
  return { laid: settle(grid, lay(grid, choice, answer.values)), bound: answer.bound };
}

/** A known layout as values of the columns; nothing where it uses a column that isn't among them. */
export function startOf(grid: Grid, choice: Choice, known: Laid, length: number): number[] | undefined {
  const boards = new Map(choice.boards.map((one, index) => [`${one.stock}:${one.kinds.join(';')}`, index]));
  const sections = new Map(
    choice.sections.map((one, index) => [`${one.width}/${one.kind}:${one.pieces.join(';')}`, index]),
  );
  const values = new Array<number>(length).fill(0);
  const count = (index: number | undefined): boolean => {
    if (index === undefined) return false;
    values[index] = (values[index] as number) + 1;
    return true;
  };
  for (const laid of known.boards) {
    const own = columnsOf(grid, laid);
    if (!count(boards.get(`${own.board.stock}:${own.board.kinds.join(';')}`))) return undefined;
    for (const part of own.sections) {
      const at = sections.get(`${part.width}/${part.kind}:${part.pieces.join(';')}`);
      if (!count(at === undefined ? undefined : choice.boards.length + at)) return undefined;
    }
  }
  const base = choice.boards.length + choice.sections.length;
  known.missing.forEach((missing, index) => {
    if (base + index < length) values[base + index] = missing;
  });
  return values;
}

/** Boards laid out from the values of their columns: each ripped section takes the next way of ripping for its length. */
export function lay(grid: Grid, choice: Choice, values: ArrayLike<number>): LaidBoard[] {
  const waiting = new Map<string, number[][]>();
  choice.sections.forEach((one, index) => {
    const times = Math.round(values[choice.boards.length + index] as number);
    const key = `${one.width}/${one.kind}`;
    const queue = waiting.get(key) ?? [];
    waiting.set(key, queue);
    for (let n = 0; n < times; n++)
      queue.push(one.pieces.flatMap(([piece, count]) => new Array<number>(count).fill(piece)));
  });
  const laid: LaidBoard[] = [];
  choice.boards.forEach((one, index) => {
    const times = Math.round(values[index] as number);
    const { kinds } = widthOf(grid, one.stock);
    const width = stockOf(grid, one.stock).width;
    for (let n = 0; n < times; n++) {
      const sections: LaidSection[] = [];
      for (const [kind, count] of one.kinds) {
        const { piece } = kinds[kind] as SectionKind;
        for (let m = 0; m < count; m++) {
          if (piece !== undefined) sections.push(section(grid, [piece], false));
          else {
            const strips = waiting.get(`${width}/${kind}`)?.shift();
            if (strips !== undefined) sections.push(section(grid, strips, true));
          }
        }
      }
      if (sections.length > 0) laid.push(board(one.stock, sections));
    }
  });
  return laid;
}
