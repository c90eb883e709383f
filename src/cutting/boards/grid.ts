/**
 * A board job on whole numbers. Sizes are counted in steps of the job's resolution, pieces rounded up and boards down, and a saw kerf
 * is added to each piece and once to each board: n pieces fit where n·(L + k) ≤ U + k, which is n·L + (n − 1)·k ≤ U.
 *
 * A board is crosscut into sections. A section is either one piece as wide as the board, or is ripped into strips side by side; it is
 * then as long as its longest strip. The layouts are searched over these two kinds of section.
 */
import type { BoardItem, BoardJob, BoardStock } from '../types.ts';

/** Pieces that are cut alike, whatever items they belong to. */
export interface PieceType {
  /** Length and kerf in grid steps. */
  readonly size: number;
  /** Width in the job's unit; nothing where it is as wide as any board. */
  readonly width: number | undefined;
  /** How many are needed. */
  readonly demand: number;
  /** The items it stands for, in the job's order. */
  readonly items: readonly BoardItem[];
}

/** A board that can be had. */
export interface GridStock {
  readonly stock: BoardStock;
  /** Length that can be used and one kerf, in grid steps. */
  readonly capacity: number;
  /** The same before it was rounded down to what all lengths share: the offcut is measured by it. */
  readonly room: number;
  /** Index of its width. */
  readonly width: number;
  /** Infinity where there is no limit. */
  readonly limit: number;
}

/** What boards of one width can be crosscut into: a whole piece, or a section of a certain length that is ripped. */
export interface SectionKind {
  readonly size: number;
  /** Most of them that make sense in one board. */
  readonly bound: number;
  /** The piece, where it is as wide as the board; nothing for a section that is ripped. */
  readonly piece?: number;
}

/** A strip that can be ripped from a board of one width. */
export interface Strip {
  readonly piece: number;
  /** Width and kerf in grid steps. */
  readonly across: number;
}

/** All boards of one width. */
export interface GridWidth {
  readonly width: number;
  /** Width and one kerf in grid steps. */
  readonly across: number;
  readonly kinds: readonly SectionKind[];
  /** Strips, shortest first. */
  readonly strips: readonly Strip[];
}

/** A job on whole numbers. Its parts refer to each other by index. */
export interface Grid {
  readonly job: BoardJob;
  readonly pieces: readonly PieceType[];
  readonly stocks: readonly GridStock[];
  readonly widths: readonly GridWidth[];
  /** Steps of the resolution in one step of the grid: what all lengths are whole multiples of. */
  readonly shared: number;
  /** Ids of pieces that no board can hold, one entry a piece. */
  readonly unplaced: readonly string[];
}

/** Sizes nearer than this are the same size, in the job's unit. */
export const SAME = 1e-6;

const up = (value: number, step: number): number => Math.ceil(value / step - SAME);
const down = (value: number, step: number): number => Math.floor(value / step + SAME);
const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Length of a board that can be used: less its end trim and the kerf of that cut. In the job's unit. */
export function usableLength(job: Pick<BoardJob, 'kerf' | 'endTrim'>, length: number): number {
  return job.endTrim > 0 ? length - job.endTrim - job.kerf : length;
}

const isPositive = (value: number): boolean => Number.isFinite(value) && value > 0;
const isCount = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;

/** Most grid steps in a board's length, and most pieces in a job: beyond these a layout would take hours. */
const MOST_STEPS = 200_000;
const MOST_PIECES = 100_000;

/** Says what is wrong with a job that no layout could be made for; nothing where it is sound. */
export function jobFault(job: BoardJob): string | undefined {
  if (!isPositive(job.resolution)) return `resolution is not a positive number: ${job.resolution}`;
  if (!(Number.isFinite(job.kerf) && job.kerf >= 0)) return `kerf is not zero or more: ${job.kerf}`;
  if (!(Number.isFinite(job.endTrim) && job.endTrim >= 0))
    return `end trim is not zero or more: ${job.endTrim}`;
  const items = new Set<string>();
  for (const item of job.items) {
    if (items.has(item.id)) return `two items have the id ${item.id}`;
    items.add(item.id);
    if (!isPositive(item.length)) return `length of item ${item.id} is not a positive number: ${item.length}`;
    if (item.width !== undefined && !isPositive(item.width))
      return `width of item ${item.id} is not a positive number: ${item.width}`;
    if (!isCount(item.quantity)) return `quantity of item ${item.id} is not a whole number: ${item.quantity}`;
  }
  const pieces = job.items.reduce((sum, item) => sum + item.quantity, 0);
  if (pieces > MOST_PIECES) return `more than ${MOST_PIECES} pieces: ${pieces}`;
  const stocks = new Set<string>();
  for (const stock of job.stocks) {
    if (stocks.has(stock.id)) return `two stocks have the id ${stock.id}`;
    stocks.add(stock.id);
    if (!isPositive(stock.length) || !isPositive(stock.width))
      return `size of stock ${stock.id} is not positive`;
    if (stock.length > MOST_STEPS * job.resolution || stock.width > MOST_STEPS * job.resolution)
      return `resolution is too fine for stock ${stock.id}: more than ${MOST_STEPS} steps`;
    if (!(Number.isFinite(stock.price) && stock.price >= 0))
      return `price of stock ${stock.id} is not zero or more`;
    if (stock.limit !== undefined && !isCount(stock.limit))
      return `limit of stock ${stock.id} is not a whole number: ${stock.limit}`;
  }
  return undefined;
}

/** Brings a sound job (see `jobFault`) to the grid. */
export function gridOf(job: BoardJob): Grid {
  const step = job.resolution;
  const kerf = up(job.kerf, step);
  const trim = job.endTrim > 0 ? up(job.endTrim, step) + kerf : 0;
  const usable = job.stocks
    .map((stock) => ({ stock, length: down(stock.length, step) - trim }))
    .filter(({ stock, length }) => length > 0 && stock.limit !== 0)
    .filter(
      (one, index, all) => !all.some((other, at) => at !== index && makesNeedless(other, one, at < index)),
    );
  const widths = [...new Set(usable.map(({ stock }) => stock.width))].sort((a, b) => a - b);
  const fits = (item: BoardItem): boolean =>
    usable.some(
      ({ stock, length }) =>
        up(item.length, step) <= length && (item.width === undefined || item.width <= stock.width + SAME),
    );

  const types = new Map<
    string,
    { length: number; width: number | undefined; demand: number; items: BoardItem[] }
  >();
  const unplaced: string[] = [];
  for (const item of job.items) {
    if (item.quantity === 0) continue;
    if (!fits(item)) {
      for (let n = 0; n < item.quantity; n++) unplaced.push(item.id);
      continue;
    }
    const only = widths.length === 1 ? (widths[0] as number) : undefined;
    const full = item.width === undefined || (only !== undefined && Math.abs(item.width - only) <= SAME);
    const length = up(item.length, step);
    const key = `${length}|${full ? '' : (item.width as number).toFixed(6)}`;
    const type = types.get(key);
    if (type) {
      type.demand += item.quantity;
      type.items.push(item);
    } else
      types.set(key, { length, width: full ? undefined : item.width, demand: item.quantity, items: [item] });
  }
  // longest first, then widest: the order in which a builder lays boards out
  const sorted = [...types.values()].sort(
    (a, b) => b.length - a.length || (b.width ?? Infinity) - (a.width ?? Infinity),
  );

  // what all lengths share is one step of the grid
  const shared = Math.max(
    1,
    sorted.reduce((g, type) => gcd(g, type.length + kerf), 0),
  );
  const pieces = sorted.map(
    (type): PieceType => ({
      size: (type.length + kerf) / shared,
      width: type.width,
      demand: type.demand,
      items: type.items,
    }),
  );
  const stocks = usable.map(
    ({ stock, length }): GridStock => ({
      stock,
      capacity: Math.floor((length + kerf) / shared),
      room: (length + kerf) / shared,
      width: widths.indexOf(stock.width),
      limit: stock.limit ?? Infinity,
    }),
  );
  const longest = widths.map((_, index) =>
    Math.max(...stocks.filter((stock) => stock.width === index).map((stock) => stock.capacity)),
  );
  return {
    job,
    pieces,
    stocks,
    widths: widths.map((width, index) => gridWidth(width, pieces, longest[index] as number, kerf, step)),
    shared,
    unplaced,
  };
}

/** True where one board takes the place of another in every layout: as wide, no shorter, no dearer, and never short. */
function makesNeedless(
  one: { stock: BoardStock; length: number },
  other: { stock: BoardStock; length: number },
  earlier: boolean,
): boolean {
  if (one.stock.limit !== undefined || one.stock.width !== other.stock.width) return false;
  if (one.length < other.length || one.stock.price > other.stock.price) return false;
  return (
    one.length > other.length ||
    one.stock.price < other.stock.price ||
    other.stock.limit !== undefined ||
    earlier
  );
}

function gridWidth(
  width: number,
  pieces: readonly PieceType[],
  longest: number,
  kerf: number,
  step: number,
): GridWidth {
  const across = down(width, step);
  const kinds: SectionKind[] = [];
  const strips: Strip[] = [];
  const rips = new Map<number, number>();
  pieces.forEach((piece, index) => {
    if (piece.size > longest) return;
    if (piece.width === undefined || Math.abs(piece.width - width) <= SAME) {
      kinds.push({ size: piece.size, bound: piece.demand, piece: index });
    } else if (piece.width < width) {
      // a strip that is wider than the board by its rounding alone still comes out of it
      strips.push({ piece: index, across: Math.min(up(piece.width, step), across) + kerf });
      rips.set(piece.size, (rips.get(piece.size) ?? 0) + piece.demand);
    }
  });
  // a ripped section holds at least one strip of its own length, so there are no more of them than such strips
  for (const [size, bound] of rips) kinds.push({ size, bound });
  kinds.sort((a, b) => b.size - a.size || (a.piece ?? Infinity) - (b.piece ?? Infinity));
  strips.sort(
    (a, b) => (pieces[a.piece] as PieceType).size - (pieces[b.piece] as PieceType).size || a.piece - b.piece,
  );
  return { width, across: across + kerf, kinds, strips };
}

/** The same grid with other demands and limits: what is left to do after some boards were laid. Indices stay as they are. */
export function remaining(grid: Grid, demand: readonly number[], limits: readonly number[]): Grid {
  const pieces = grid.pieces.map((piece, index) => ({ ...piece, demand: demand[index] as number }));
  const widths = grid.widths.map((width) => {
    const rips = new Map<number, number>();
    for (const strip of width.strips) {
      const piece = pieces[strip.piece] as PieceType;
      rips.set(piece.size, (rips.get(piece.size) ?? 0) + piece.demand);
    }
    const kinds = width.kinds.map((kind) => ({
      ...kind,
      bound: kind.piece === undefined ? (rips.get(kind.size) ?? 0) : (demand[kind.piece] as number),
    }));
    return { ...width, kinds };
  });
  const stocks = grid.stocks.map((stock, index) => ({ ...stock, limit: limits[index] as number }));
  return { ...grid, pieces, widths, stocks };
}
