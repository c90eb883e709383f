/** Boards of a plan by stock and species, with what is cut from them, and the job that they give the solver. */
import type { Plan } from '../model/types.ts';
import type { StockItem, StockLength } from '../read/types.ts';
import { INCH } from '../units.ts';
import { rowsByStock, type StockRows } from './stock-jobs.ts';
import type { BoardItem, BoardJob, CutList, CutListRow } from './types.ts';

/** Sizes nearer than this, in millimetres, are one size. */
export const SAME = 1e-6;

/** Boards of a stock in one species, with what is cut from them. */
export interface Lumber extends StockRows {
  /** The lengths that can be bought or are on hand, shortest first. */
  readonly sold: readonly StockLength[];
  /** True where a part of this length has no board that fits the vehicle or is there already: only one that the yard would cut. */
  readonly onlyInTheYard: (length: number) => boolean;
}

/** Width of a board that can be used: less what its rough edge loses, of a tongue-and-groove board with its tongue. */
export const usableWidth = (stock: StockItem): number => stock.width - (stock.rough ?? 0);

/** The grid on which lengths are compared: 1/64 in or 0.1 mm. */
export const resolution = (plan: Plan): number => (plan.edition.numbers.system === 'inch' ? INCH / 64 : 0.1);

/** All boards of a plan, in the order in which the cut list names them first. */
export function lumberOf(plan: Plan, cuts: CutList): Lumber[] {
  const longest = plan.edition.longestBoard ?? Infinity;
  // what is there already needs no vehicle
  const carried = (entry: StockLength): boolean => entry.own !== undefined || entry.length <= longest + SAME;
  return rowsByStock(plan, cuts, 'boards').map((group) => {
    const { stock, species } = group;
    const sold = stock.lengths
      .filter((entry) => entry.prices[species] !== undefined)
      .filter((entry) => carried(entry) || plan.stockList.yardCuts === true)
      .sort((a, b) => a.length - b.length);
    return {
      ...group,
      sold,
      onlyInTheYard: (length) =>
        sold.some((entry) => !carried(entry)) &&
        !sold.some((entry) => carried(entry) && entry.length >= length - SAME),
    };
  });
}

/** The solver's job for some rows of a stock. */
export function jobOf(plan: Plan, lumber: Lumber, rows: readonly CutListRow[]): BoardJob {
  return {
    items: rows.map((row): BoardItem => {
      const width = ripWidth(lumber.stock, row);
      return {
        id: row.letter,
        length: row.length,
        ...(width === undefined ? {} : { width }),
        quantity: row.quantity,
      };
    }),
    stocks: lumber.sold.map((entry) => ({
      id: entry.label,
      length: entry.length,
      width: usableWidth(lumber.stock),
      price: entry.prices[lumber.species] as number,
      ...(entry.own === undefined ? {} : { limit: entry.own }),
    })),
    kerf: plan.edition.kerf,
    endTrim: plan.stockList.endTrim,
    resolution: resolution(plan),
  };
}

/**
 * Width that a row takes of its board where other strips may lie beside it. A tongue-and-groove board that is ripped gives one part
 * only: what falls off has lost an edge.
 */
function ripWidth(stock: StockItem, row: CutListRow): number | undefined {
  if (stock.profile !== 'square' || row.width >= usableWidth(stock) - SAME) return undefined;
  return row.width;
}
