/**
 * Column generation for boards (Gilmore and Gomory 1961, 1965): the linear programme over all ways to crosscut a board and all
 * ways to rip a section, without listing them. Its optimum is a lower bound on what the boards cost.
 *
 * Two kinds of columns. A board column says into which sections a board is crosscut; a section column says which strips are ripped
 * from a section. A row a piece asks that enough of it comes out; a row a length of ripped section asks that no more are ripped than
 * were crosscut; a row a limited stock keeps to its limit.
 */

import type { Column, LinearProgramme, Row, Solver } from '../highs.ts';
import type { Grid, SectionKind } from './grid.ts';
import { type Filler, type Filling, Knapsack } from './knapsack.ts';
import { type LaidBoard, pieceOf, stockOf, type Weights, widthOf } from './laid.ts';

/** A way to crosscut a board: counts of the section kinds of its width. */
export interface BoardColumn {
  readonly stock: number;
  readonly kinds: Filling;
}

/** A way to rip a section: counts of pieces. */
export interface SectionColumn {
  readonly width: number;
  /** Index of the section kind of that width. */
  readonly kind: number;
  readonly pieces: Filling;
}

/** Where the rows of the programme are. The pieces' rows come first, in order. */
export interface RowPlan {
  readonly rows: readonly Row[];
  /** Row of a ripped section, by width and kind; nothing for a whole piece. */
  readonly ripped: readonly (readonly (number | undefined)[])[];
  /** Row of a limited stock. */
  readonly limits: readonly (number | undefined)[];
  /** Row that asks for so much length of ripped sections in all; none where nothing is known of it. */
  readonly rip?: { readonly row: number; readonly least: number };
}

/** Prices that no column beats: what a piece and a ripped section are worth, and what one more limited board would save (0 or less). */
export interface Worths {
  readonly pieces: readonly number[];
  /** Of the strips that can be ripped from a section of a kind. */
  readonly sections: readonly (readonly number[])[];
  /** Of such a section in a board: the same, and what its length is worth where so much must be ripped in all. */
  readonly kinds: readonly (readonly number[])[];
  readonly limits: readonly number[];
}

/** What the linear programme gave. */
export interface Master {
  /** Lower bound on the weight of any layout. */
  readonly bound: number;
  readonly boards: readonly BoardColumn[];
  readonly sections: readonly SectionColumn[];
  /** Values of the columns at the optimum: boards, then sections. */
  readonly values: readonly number[];
  /** Of the best bound. */
  readonly worths: Worths;
}

/**
 * The rows of a grid's programme.
 * @param least length of ripped sections that every complete layout has at least, in grid steps (`leastRipped`); 0 where none is known
 */
export function rowPlan(grid: Grid, least = 0): RowPlan {
  const rows: Row[] = grid.pieces.map((piece) => ({ lower: piece.demand }));
  const next = (row: Row): number => rows.push(row) - 1;
  const ripped = grid.widths.map((width) =>
    width.kinds.map((kind) => (kind.piece === undefined ? next({ lower: 0 }) : undefined)),
  );
  const limits = grid.stocks.map((stock) =>
    Number.isFinite(stock.limit) ? next({ upper: stock.limit }) : undefined,
  );
  const rip = least > 0 ? { row: next({ lower: least }), least } : undefined;
  return { rows, ripped, limits, ...(rip ? { rip } : {}) };
}

/** A board column in the programme's form. */
export function boardColumn(grid: Grid, plan: RowPlan, weights: Weights, one: BoardColumn): Column {
  const width = stockOf(grid, one.stock).width;
  const rows: number[] = [];
  const values: number[] = [];
  for (const [kind, count] of one.kinds) {
    rows.push(rowOfKind(grid, plan, width, kind));
    values.push(count);
  }
  const limit = plan.limits[one.stock];
  if (limit !== undefined) {
    rows.push(limit);
    values.push(1);
  }
  const ripped = one.kinds.reduce((sum, [kind, count]) => sum + count * rippedSize(grid, width, kind), 0);
  if (plan.rip !== undefined && ripped > 0) {
    rows.push(plan.rip.row);
    values.push(ripped);
  }
  return { cost: weights.boards[one.stock] as number, rows, values };
}

/** The row that a section of a board counts for: of its piece, or of its length where it is ripped. */
export function rowOfKind(grid: Grid, plan: RowPlan, width: number, kind: number): number {
  return grid.widths[width]?.kinds[kind]?.piece ?? (plan.ripped[width]?.[kind] as number);
}

/** Length of a section kind that is ripped, in grid steps; 0 of a whole piece. */
export function rippedSize(grid: Grid, width: number, kind: number): number {
  const one = grid.widths[width]?.kinds[kind];
  return one === undefined || one.piece !== undefined ? 0 : one.size;
}

/** A section column in the programme's form. */
export function sectionColumn(plan: RowPlan, one: SectionColumn): Column {
  return {
    cost: 0,
    rows: [...one.pieces.map(([piece]) => piece), plan.ripped[one.width]?.[one.kind] as number],
    values: [...one.pieces.map(([, count]) => count), -1],
  };
}

/** Columns of a laid board: its own, and one a ripped section. */
export function columnsOf(grid: Grid, one: LaidBoard): { board: BoardColumn; sections: SectionColumn[] } {
  const width = stockOf(grid, one.stock).width;
  const { kinds } = widthOf(grid, one.stock);
  const counts = new Map<number, number>();
  const sections: SectionColumn[] = [];
  for (const part of one.sections) {
    const kind = kinds.findIndex((candidate) =>
      part.ripped
        ? candidate.piece === undefined && candidate.size === part.size
        : candidate.piece === part.pieces[0],
    );
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
    if (part.ripped) sections.push({ width, kind, pieces: tally(part.pieces) });
  }
  return { board: { stock: one.stock, kinds: [...counts].sort((a, b) => a[0] - b[0]) }, sections };
}

function tally(pieces: readonly number[]): Filling {
  const counts = new Map<number, number>();
  for (const piece of pieces) counts.set(piece, (counts.get(piece) ?? 0) + 1);
  return [...counts].sort((a, b) => a[0] - b[0]);
}

/** Columns collected, each once. */
export class ColumnSet {
  readonly boards: BoardColumn[] = [];
  readonly sections: SectionColumn[] = [];
  readonly #known = new Set<string>();

  addBoard(one: BoardColumn): boolean {
    return this.#isNew(`b${one.stock}:${one.kinds.join(';')}`) && this.boards.push(one) > 0;
  }

  addSection(one: SectionColumn): boolean {
    return this.#isNew(`s${one.width}/${one.kind}:${one.pieces.join(';')}`) && this.sections.push(one) > 0;
  }

  addAll(columns: Pick<Master, 'boards' | 'sections'>): void {
    for (const one of columns.boards) this.addBoard(one);
    for (const one of columns.sections) this.addSection(one);
  }

  addLaid(grid: Grid, boards: readonly LaidBoard[]): void {
    let last: LaidBoard | undefined;
    for (const laid of boards) {
      if (laid === last) continue;
      last = laid;
      const { board, sections } = columnsOf(grid, laid);
      this.addBoard(board);
      for (const part of sections) this.addSection(part);
    }
  }

  #isNew(key: string): boolean {
    if (this.#known.has(key)) return false;
    this.#known.add(key);
    return true;
  }
}

/** Rounds of pricing; the bound found so far stands where they run out. */
const ROUNDS = 600;

/** Solves the linear programme from the columns given, and adds to them those that it finds. */
export function solveMaster(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  columns: ColumnSet,
  solver: Solver,
): Master {
  const missing = grid.pieces.map(
    (_, index): Column => ({ cost: weights.missing, rows: [index], values: [1] }),
  );
  const programme = solver.linear(plan.rows);
  try {
    programme.add(missing);
    return generate(grid, plan, weights, columns, programme);
  } finally {
    programme.dispose();
  }
}

function generate(
  grid: Grid,
  plan: RowPlan,
  weights: Weights,
  columns: ColumnSet,
  programme: LinearProgramme,
): Master {
  const heaviest = Math.max(...weights.boards);
  /** The programme's own order of columns: true for a board, false for a section. */
  const order: boolean[] = [];
  const push = (boards: readonly BoardColumn[], sections: readonly SectionColumn[]): void => {
    programme.add([
      ...boards.map((one) => boardColumn(grid, plan, weights, one)),
      ...sections.map((one) => sectionColumn(plan, one)),
    ]);
    order.push(...boards.map(() => true), ...sections.map(() => false));
  };
  push(columns.boards, columns.sections);
  let bound = 0;
  let worths: Worths = {
    pieces: grid.pieces.map(() => 0),
    sections: grid.widths.map((width) => width.kinds.map(() => 0)),
    kinds: grid.widths.map((width) => width.kinds.map(() => 0)),
    limits: grid.stocks.map(() => 0),
  };
  let values: Float64Array = new Float64Array(0);
  for (let round = 0; round < ROUNDS; round++) {
    const optimum = programme.solve();
    if (optimum === undefined) break;
    values = optimum.values;
    const priced = price(grid, plan, weights, optimum.duals);
    if (priced.bound > bound) {
      bound = priced.bound;
      worths = priced.worths;
    }
    const boards = priced.boards.filter(
      ({ gain, column }) => gain > 1e-9 * heaviest && columns.addBoard(column),
    );
    const sections = priced.sections.filter(
      ({ gain, column }) => gain > 1e-9 * heaviest && columns.addSection(column),
    );
    if (boards.length + sections.length === 0 || optimum.objective - bound < 1e-9 * optimum.objective) break;
    push(
      boards.map(({ column }) => column),
      sections.map(({ column }) => column),
    );
  }
  const used = [...values].slice(grid.pieces.length);
  const boardValues = order.flatMap((isBoard, index) => (isBoard ? [used[index] ?? 0] : []));
  const sectionValues = order.flatMap((isBoard, index) => (isBoard ? [] : [used[index] ?? 0]));
  return {
    bound,
    boards: columns.boards,
    sections: columns.sections,
    values: [...boardValues, ...sectionValues],
    worths,
  };
}

interface Priced {
  readonly boards: readonly { readonly column: BoardColumn; readonly gain: number }[];
  readonly sections: readonly { readonly column: SectionColumn; readonly gain: number }[];
  readonly bound: number;
  readonly worths: Worths;
}

/** What the fillers of a board are worth: whole pieces and ripped sections. */
export function boardFillers(grid: Grid, width: number, worths: Pick<Worths, 'pieces' | 'kinds'>): Filler[] {
  return (grid.widths[width]?.kinds ?? []).map((kind: SectionKind, index) => ({
    size: kind.size,
    bound: kind.bound,
    worth:
      kind.piece === undefined
        ? (worths.kinds[width]?.[index] as number)
        : (worths.pieces[kind.piece] as number),
  }));
}

/** The best columns at these duals, and the bound that they prove (Farley 1990). */
function price(grid: Grid, plan: RowPlan, weights: Weights, duals: Float64Array): Priced {
  const pieces = grid.pieces.map((_, index) => Math.max(0, duals[index] as number));
  const limits = plan.limits.map((row) => (row === undefined ? 0 : Math.min(0, duals[row] as number)));
  const byLength = plan.rip === undefined ? 0 : Math.max(0, duals[plan.rip.row] as number);
  const sections: { column: SectionColumn; gain: number }[] = [];
  const strips = grid.widths.map((width, index) => {
    const knapsack = new Knapsack(width.across);
    const worths = new Array<number>(width.kinds.length).fill(0);
    let next = 0;
    // the shortest first: each length may hold all strips that are no longer
    for (let kind = width.kinds.length - 1; kind >= 0; kind--) {
      const { piece, size } = width.kinds[kind] as SectionKind;
      if (piece !== undefined) continue;
      for (; next < width.strips.length; next++) {
        const strip = width.strips[next] as { piece: number; across: number };
        const { size: length, demand } = pieceOf(grid, strip.piece);
        if (length > size) break;
        knapsack.add(strip.piece, {
          size: strip.across,
          worth: pieces[strip.piece] as number,
          bound: demand,
        });
      }
      const asked = Math.max(0, duals[plan.ripped[index]?.[kind] as number] as number);
      const worth = knapsack.worth(width.across);
      worths[kind] = Math.max(worth, asked);
      if (worth > asked)
        sections.push({
          column: { width: index, kind, pieces: knapsack.filling(width.across) },
          gain: worth - asked,
        });
    }
    return worths;
  });

  const kinds = strips.map((list, index) =>
    list.map((worth, kind) => worth + byLength * rippedSize(grid, index, kind)),
  );

  const boards: { column: BoardColumn; gain: number }[] = [];
  let scale = 1;
  grid.widths.forEach((_, index) => {
    const longest = Math.max(...grid.stocks.filter((s) => s.width === index).map((s) => s.capacity));
    const knapsack = new Knapsack(longest);
    boardFillers(grid, index, { pieces, kinds }).forEach((filler, kind) => {
      knapsack.add(kind, filler);
    });
    grid.stocks.forEach((stock, at) => {
      if (stock.width !== index) return;
      const worth = knapsack.worth(stock.capacity);
      const weight = weights.boards[at] as number;
      const limit = limits[at] as number;
      boards.push({
        column: { stock: at, kinds: knapsack.filling(stock.capacity) },
        gain: worth - (weight - limit),
      });
      if (worth + limit > 0) scale = Math.min(scale, weight / (worth + limit));
    });
  });
  const total =
    pieces.reduce((sum, worth, index) => sum + worth * pieceOf(grid, index).demand, 0) +
    limits.reduce((sum, worth, index) => (worth === 0 ? sum : sum + worth * stockOf(grid, index).limit), 0) +
    byLength * (plan.rip?.least ?? 0);
  return {
    boards,
    sections,
    bound: scale * total,
    worths: {
      pieces: pieces.map((worth) => worth * scale),
      sections: strips.map((list) => list.map((worth) => worth * scale)),
      kinds: kinds.map((list) => list.map((worth) => worth * scale)),
      limits: limits.map((worth) => worth * scale),
    },
  };
}
