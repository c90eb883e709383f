/**
 * What is least: cost first, then the number of boards. Both in one whole number a board, so that one search settles both and a
 * bound can be rounded up.
 */
import type { Grid } from './grid.ts';
import type { Laid } from './laid.ts';

/** How boards are weighed. */
export interface Weighing {
  /** Weight of a board, by stock: its price in `unit`s times `step`, and one for the board. */
  readonly boards: readonly number[];
  /** What a weight of one `step` costs. */
  readonly unit: number;
  readonly step: number;
  /** Most boards that a layout of no higher cost can have; 0 where boards aren't counted. */
  readonly most: number;
  /** True where weights are whole numbers, so that a bound may be rounded up. */
  readonly whole: boolean;
}

/** Beyond this the arithmetic of the optimiser no longer tells one board from none. */
const LARGEST = 1e7;

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Prices as whole multiples of the largest amount that divides them all; nothing where they share none of any use. */
function wholePrices(prices: readonly number[]): { counts: number[]; unit: number } | undefined {
  for (const scale of [1, 10, 100, 1000, 10_000]) {
    const counts = prices.map((price) => Math.round(price * scale));
    if (counts.some((value, index) => Math.abs(value - (prices[index] as number) * scale) > 1e-7)) continue;
    const shared = counts.reduce((g, value) => gcd(g, value), 0);
    if (shared === 0) return undefined;
    return { counts: counts.map((value) => value / shared), unit: shared / scale };
  }
  return undefined;
}

/** Weighs boards by their prices. `start` is a layout to beat; its missing pieces make the count of boards unsure. */
export function weigh(grid: Grid, start: Laid): Weighing {
  const prices = grid.stocks.map(({ stock }) => stock.price);
  const one = prices[0] as number;
  // one price for all: the fewest boards are the cheapest
  if (prices.every((price) => price === one))
    return { boards: prices.map(() => 1), unit: one, step: 1, most: 0, whole: true };
  const exact = wholePrices(prices);
  const counts = exact?.counts ?? prices;
  const unit = exact?.unit ?? 1;
  const pieces = grid.pieces.reduce((sum, piece) => sum + piece.demand, 0);
  const total = start.boards.reduce((sum, { stock }) => sum + (counts[stock] as number), 0);
  const cheapest = Math.min(...counts);
  const complete = start.missing.every((count) => count === 0);
  const most = complete && cheapest > 0 ? Math.min(pieces, Math.floor(total / cheapest + 1e-9)) : pieces;
  const step = most + 1;
  if (exact !== undefined && step * Math.max(total, ...counts) <= LARGEST)
    return { boards: counts.map((value) => value * step + 1), unit, step, most, whole: true };
  return { boards: [...counts], unit, step: 1, most: 0, whole: exact !== undefined };
}

/** A bound on the weight, rounded up as far as the arithmetic can be trusted. */
export function roundedBound(weighing: Weighing, bound: number): number {
  return weighing.whole ? Math.ceil(bound - 1e-6 - 1e-9 * Math.abs(bound)) : bound;
}

/** The bound on the cost that a (rounded) bound on the weight means. */
export function costBound(weighing: Weighing, bound: number): number {
  const steps = (bound - weighing.most) / weighing.step;
  return Math.max(0, weighing.whole ? Math.ceil(steps - 1e-9) : steps) * weighing.unit;
}
