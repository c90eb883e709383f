/** Boards laid out on the grid: the form in which a layout is built, compared and tidied before it is put into the job's own sizes. */
import type { Grid, GridStock, GridWidth, PieceType } from './grid.ts';

/** A crosscut of a board: one piece as wide as the board, or strips side by side. */
export interface LaidSection {
  /** Length and kerf in grid steps: that of its longest strip. */
  readonly size: number;
  /** Indices of its pieces, longest first. */
  readonly pieces: readonly number[];
  readonly ripped: boolean;
}

/** A board with its sections, longest first. */
export interface LaidBoard {
  readonly stock: number;
  readonly sections: readonly LaidSection[];
}

/** A whole layout. */
export interface Laid {
  readonly boards: readonly LaidBoard[];
  /** Pieces that found no board, by piece. */
  readonly missing: readonly number[];
}

/** What a layout is judged by: the weight of each board by stock, and of each missing piece. Whole numbers where prices allow. */
export interface Weights {
  readonly boards: readonly number[];
  readonly missing: number;
}

/** Weight of all boards and missing pieces. */
export function weightOf(laid: Laid, weights: Weights): number {
  return (
    laid.boards.reduce((sum, board) => sum + (weights.boards[board.stock] as number), 0) +
    laid.missing.reduce((sum, count) => sum + count * weights.missing, 0)
  );
}

/** The stock of an index. */
export const stockOf = (grid: Grid, index: number): GridStock => grid.stocks[index] as GridStock;
/** The piece of an index. */
export const pieceOf = (grid: Grid, index: number): PieceType => grid.pieces[index] as PieceType;
/** The width of a stock's index, with what its boards can be cut into. */
export const widthOf = (grid: Grid, stock: number): GridWidth =>
  grid.widths[stockOf(grid, stock).width] as GridWidth;

/** A section from its pieces, in order. */
export function section(grid: Grid, pieces: readonly number[], ripped: boolean): LaidSection {
  const sorted = [...pieces].sort((a, b) => a - b);
  return { size: Math.max(...sorted.map((index) => pieceOf(grid, index).size)), pieces: sorted, ripped };
}

const sectionKey = (one: LaidSection): string => `${one.ripped ? 'r' : 'p'}${one.pieces.join(',')}`;

/** Boards with the same key are cut alike. */
export const boardKey = (board: LaidBoard): string =>
  `${board.stock}:${board.sections.map(sectionKey).join(' ')}`;

/** A board with its sections in the order in which they are cut: longest first. */
export function board(stock: number, sections: readonly LaidSection[]): LaidBoard {
  const sorted = [...sections].sort(
    (a, b) =>
      b.size - a.size ||
      Number(a.ripped) - Number(b.ripped) ||
      (a.pieces[0] as number) - (b.pieces[0] as number) ||
      a.pieces.length - b.pieces.length ||
      (sectionKey(a) < sectionKey(b) ? -1 : 1),
  );
  return { stock, sections: sorted };
}

/** Room left at the end of a board and one kerf, in grid steps. */
export function leftOver(grid: Grid, one: LaidBoard): number {
  return stockOf(grid, one.stock).room - one.sections.reduce((sum, part) => sum + part.size, 0);
}

/** Of all boards the longest room left, with one kerf, in grid steps. */
export const longestOffcut = (grid: Grid, laid: Laid): number =>
  laid.boards.reduce((longest, one) => Math.max(longest, leftOver(grid, one)), 0);

/** How many boards are cut differently from all others. */
export const differentPatterns = (laid: Laid): number => new Set(laid.boards.map(boardKey)).size;

/**
 * Takes out what is more than needed. The emptiest boards give first, so that what they lose makes one long offcut; a board that
 * loses all is saved.
 */
export function settle(grid: Grid, boards: readonly LaidBoard[]): Laid {
  const surplus = grid.pieces.map((piece) => -piece.demand);
  for (const one of boards)
    for (const part of one.sections)
      for (const index of part.pieces) surplus[index] = (surplus[index] as number) + 1;
  const missing = surplus.map((count) => Math.max(0, -count));
  if (!surplus.some((count) => count > 0)) return { boards: [...boards], missing };
  const order = boards
    .map((one, index) => ({ one, index, left: leftOver(grid, one) }))
    .sort((a, b) => b.left - a.left || a.index - b.index);
  const settled: (LaidBoard | undefined)[] = [...boards];
  for (const { one, index } of order) {
    if (!one.sections.some((part) => part.pieces.some((piece) => (surplus[piece] as number) > 0))) continue;
    const sections: LaidSection[] = [];
    for (const part of one.sections) {
      const kept = part.pieces.filter((piece) => {
        if ((surplus[piece] as number) <= 0) return true;
        surplus[piece] = (surplus[piece] as number) - 1;
        return false;
      });
      if (kept.length > 0) sections.push(section(grid, kept, part.ripped));
    }
    settled[index] = sections.length > 0 ? board(one.stock, sections) : undefined;
  }
  return { boards: settled.filter((one) => one !== undefined), missing };
}
