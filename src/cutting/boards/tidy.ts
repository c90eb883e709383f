/**
 * Among layouts of the same least weight: the one with the longest single offcut, then the one with the fewest different patterns.
 * A builder keeps one long offcut rather than three short ones, and sets the stop block once for boards that are cut alike.
 */

import type { Column, Row, Solver } from '../highs.ts';
import { type Choice, choiceColumns, lay, startOf } from './choose.ts';
import type { Grid } from './grid.ts';
import { likeliest } from './improve.ts';
import {
  differentPatterns,
  type Laid,
  leftOver,
  longestOffcut,
  settle,
  stockOf,
  type Weights,
  weightOf,
  widthOf,
} from './laid.ts';
import { type BoardColumn, columnsOf, type Master, type RowPlan, rowOfKind } from './master.ts';

/** Limits of each of the two searches; work is pivots times columns. */
const SEARCH = { nodes: 500, pivots: 500, work: 250_000 };
/** Most columns that are tried, for the offcut and for the patterns. */
const OFFCUT_COLUMNS = 800;
const PATTERN_COLUMNS = 300;
/** Orders larger than this are left as they are: a factory's job, not a bench's. */
const MOST_BOARDS = 80;

/**
 * Tidies a complete layout; one that misses pieces stays as it is.
 * @returns a layout of the same weight, its longest offcut no shorter and its patterns no more than before
 */
export function tidy(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  master: Master,
  laid: Laid,
  solver: Solver,
): Laid {
  if (laid.boards.length === 0 || laid.missing.some((count) => count > 0)) return laid;
  const slack = Math.max(0, weightOf(laid, weights) - master.bound);
  const around = (most: number): Choice => {
    const { columns } = likeliest(grid, weights, master, slack, most);
    columns.addLaid(grid, laid.boards);
    return columns;
  };
  const longest = lengthenOffcut(grid, plan, weights, around(OFFCUT_COLUMNS), laid, solver);
  if (longest.boards.length > MOST_BOARDS) return longest;
  const choice = likeliest(grid, weights, master, slack, PATTERN_COLUMNS).columns;
  choice.addLaid(grid, longest.boards);
  return fewerPatterns(grid, plan, weights, choice, longest, solver);
}

/** True where `next` costs no more than `laid` and its longest offcut is no shorter. */
function noWorse(grid: Grid, weights: Weights, next: Laid, laid: Laid): boolean {
  return (
    next.missing.every((count) => count === 0) &&
    weightOf(next, weights) <= weightOf(laid, weights) + 1e-9 &&
    longestOffcut(grid, next) >= longestOffcut(grid, laid) - 1e-9
  );
}

/**
 * One board is filled by hand, so to speak: its sections are variables of their own, and as little as possible is put on it while all
 * boards together weigh no more than before.
 */
function lengthenOffcut(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  choice: Choice,
  laid: Laid,
  solver: Solver,
): Laid {
  const rows: Row[] = [...plan.rows];
  const next = (row: Row): number => rows.push(row) - 1;
  const weightRow = next({ upper: weightOf(laid, weights) });
  const oneRow = next({ lower: 1, upper: 1 });
  const roomRows = grid.widths.map(() => next({ lower: 0 }));

  const columns: Column[] = choiceColumns(grid, plan, weights, choice)
    .slice(0, choice.boards.length + choice.sections.length)
    .map((column) => ({
      cost: 0,
      rows: column.cost === 0 ? column.rows : [...column.rows, weightRow],
      values: column.cost === 0 ? column.values : [...column.values, column.cost],
    }));
  const base = columns.length;
  grid.stocks.forEach((stock, index) => {
    const limit = plan.limits[index];
    columns.push({
      cost: -stock.room,
      upper: 1,
      rows: [weightRow, oneRow, roomRows[stock.width] as number, ...(limit === undefined ? [] : [limit])],
      values: [weights.boards[index] as number, 1, stock.capacity, ...(limit === undefined ? [] : [1])],
    });
  });
  const content: { width: number; kind: number }[] = [];
  grid.widths.forEach((width, index) => {
    width.kinds.forEach((kind, at) => {
      content.push({ width: index, kind: at });
      const ripped = plan.rip !== undefined && kind.piece === undefined;
      columns.push({
        cost: kind.size,
        upper: kind.bound,
        rows: [
          rowOfKind(grid, plan, index, at),
          roomRows[index] as number,
          ...(ripped ? [plan.rip.row] : []),
        ],
        values: [1, -kind.size, ...(ripped ? [kind.size] : [])],
      });
    });
  });

  const start = offcutStart(grid, choice, content, laid, columns.length);
  const answer = solver.integer(
    { rows, columns, ...(start === undefined ? {} : { start }) },
    { ...limitsFor(columns.length), gap: 0.999 / grid.shared, prove: true },
  );
  const { values } = answer;
  if (values === undefined) return laid;
  const stock = grid.stocks.findIndex((_, index) => (values[base + index] as number) > 0.5);
  const byHand: BoardColumn = {
    stock,
    kinds: content
      .map(({ width, kind }, index) => ({
        width,
        kind,
        count: Math.round(values[base + grid.stocks.length + index] as number),
      }))
      .filter(({ width, count }) => count > 0 && width === stockOf(grid, stock).width)
      .map(({ kind, count }) => [kind, count] as const),
  };
  const found = settle(
    grid,
    lay(grid, { boards: [...choice.boards, byHand], sections: choice.sections }, [
      ...values.slice(0, choice.boards.length),
      1,
      ...values.slice(choice.boards.length, base),
    ]),
  );
  return noWorse(grid, weights, found, laid) ? found : laid;
}

const limitsFor = (columns: number): { nodes: number; pivots: number } => ({
  nodes: SEARCH.nodes,
  pivots: Math.min(SEARCH.pivots, Math.ceil(SEARCH.work / columns)),
});

/** The layout in hand, its board with the longest offcut taken as the one filled by hand. */
function offcutStart(
  grid: Grid,
  choice: Choice,
  content: readonly { width: number; kind: number }[],
  laid: Laid,
  length: number,
): number[] | undefined {
  const emptiest = laid.boards.reduce((best, one) =>
    leftOver(grid, one) > leftOver(grid, best) ? one : best,
  );
  const rest = [...laid.boards];
  rest.splice(rest.indexOf(emptiest), 1);
  const values = startOf(grid, choice, { boards: rest, missing: [] }, length);
  if (values === undefined) return undefined;
  const base = choice.boards.length + choice.sections.length;
  values[base + emptiest.stock] = 1;
  const own = columnsOf(grid, emptiest);
  const { width } = stockOf(grid, emptiest.stock);
  for (const [kind, count] of own.board.kinds) {
    const at = content.findIndex((entry) => entry.width === width && entry.kind === kind);
    values[base + grid.stocks.length + at] = count;
  }
  for (const part of own.sections) {
    const at = choice.sections.findIndex(
      (one) =>
        one.width === part.width && one.kind === part.kind && one.pieces.join(';') === part.pieces.join(';'),
    );
    if (at < 0) return undefined;
    values[choice.boards.length + at] = (values[choice.boards.length + at] as number) + 1;
  }
  return values;
}

/** The same weight and offcut with fewer patterns: each column that is used at all costs one. */
function fewerPatterns(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  choice: Choice,
  laid: Laid,
  solver: Solver,
): Laid {
  const now = differentPatterns(laid);
  if (now < 2) return laid;
  const rows: Row[] = [...plan.rows];
  const next = (row: Row): number => rows.push(row) - 1;
  const weightRow = next({ upper: weightOf(laid, weights) });
  const offcutRow = next({ lower: 1 });
  const longest = longestOffcut(grid, laid);
  const plain = choiceColumns(grid, plan, weights, choice).slice(
    0,
    choice.boards.length + choice.sections.length,
  );
  const columns: Column[] = plain.map((column, index) => {
    const one = choice.boards[index];
    if (one === undefined) return { ...column, cost: 0 };
    const left = stockOf(grid, one.stock).room - lengthOf(grid, one);
    const own = next({ upper: 0 });
    return {
      cost: 0,
      rows: [...column.rows, weightRow, own, ...(left >= longest - 1e-9 ? [offcutRow] : [])],
      values: [...column.values, column.cost, 1, ...(left >= longest - 1e-9 ? [1] : [])],
    };
  });
  const firstOwn = offcutRow + 1;
  choice.boards.forEach((one, index) => {
    columns.push({ cost: 1, upper: 1, rows: [firstOwn + index], values: [-mostTimes(grid, one)] });
  });
  const start = patternStart(grid, choice, laid, columns.length);
  const answer = solver.integer(
    { rows, columns, ...(start === undefined ? {} : { start }) },
    { ...limitsFor(columns.length), gap: 0.999 },
  );
  if (answer.values === undefined) return laid;
  const found = settle(grid, lay(grid, choice, answer.values));
  return noWorse(grid, weights, found, laid) && differentPatterns(found) < now ? found : laid;
}

const lengthOf = (grid: Grid, one: BoardColumn): number => {
  const { kinds } = widthOf(grid, one.stock);
  return one.kinds.reduce((sum, [kind, count]) => sum + count * (kinds[kind]?.size ?? 0), 0);
};

/** How often a board column can be used before it makes too much of all that is on it. */
function mostTimes(grid: Grid, one: BoardColumn): number {
  const { kinds } = widthOf(grid, one.stock);
  return Math.max(...one.kinds.map(([kind, count]) => Math.ceil((kinds[kind]?.bound ?? 0) / count)), 1);
}

function patternStart(grid: Grid, choice: Choice, laid: Laid, length: number): number[] | undefined {
  const values = startOf(grid, choice, laid, length);
  if (values === undefined) return undefined;
  const base = choice.boards.length + choice.sections.length;
  choice.boards.forEach((_, index) => {
    values[base + index] = (values[index] as number) > 0 ? 1 : 0;
  });
  return values;
}
