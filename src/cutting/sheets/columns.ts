/**
 * A lower bound for layouts of at most so many levels of cuts: column generation (Gilmore and Gomory 1965; with several levels Puchinger and
 * Raidl 2007). A column is a sheet; a linear programme covers all parts at least cost, and its prices for the kinds of part are the worths with
 * which the dynamic programme looks for a sheet that is worth more than it costs. With any prices that there are on the way, sheets
 * must hold in all what the parts are worth; that is a bound too.
 */
import type { Column, Row, Solver } from '../highs.ts';
import type { Filled } from './fill.ts';
import type { Size, Yard } from './kinds.ts';
import { linearLeast, type Scale } from './scales.ts';
import type { Worths } from './worths.ts';

/** A bound is asked about again when it has grown by this factor. */
const GROWTH = 1.003;
/** Rounds before it ends in any case. */
const ROUNDS = 160;

/** Worths of the kinds, what all parts are worth in all, and what a sheet of each size can hold at most. */
export interface Prices extends Scale {
  readonly kinds: readonly number[];
  /** Least cost by these prices alone, were parts of sheets for sale. */
  readonly least: number;
}

/**
 * Prices for which the bound is highest.
 *
 * @param known sheets to start from
 * @param work additions of the dynamic programme after which it ends
 * @param enough asked for bounds that are clearly better than the last; true ends it
 */
export function bestPrices(
  yard: Yard,
  worths: Worths,
  known: readonly Pick<Filled, 'size' | 'counts'>[],
  solver: Solver,
  work: number,
  enough: (prices: Prices) => boolean,
): Prices | undefined {
  const { kinds, sizes } = yard;
  const rows: Row[] = kinds.map(({ demand }) => ({ lower: demand }));
  const limits = sizes.map(({ limit }) =>
    Number.isFinite(limit) ? rows.push({ upper: limit }) - 1 : undefined,
  );
  const dearest = Math.max(1, ...sizes.map((size) => size.stock.price));
  const column = ({ size, counts }: Pick<Filled, 'size' | 'counts'>): Column => {
    const own: number[] = [];
    const values: number[] = [];
    counts.forEach((count, kind) => {
      if (count === 0) return;
      own.push(kind);
      values.push(count);
    });
    const limit = limits[size];
    if (limit !== undefined) {
      own.push(limit);
      values.push(1);
    }
    return { cost: (sizes[size] as Size).stock.price, rows: own, values };
  };
  const programme = solver.linear(rows);
  let best: Prices | undefined;
  let asked = 0;
  const end = worths.work + work;
  try {
    // so that there is always an answer
    programme.add(kinds.map((_, kind): Column => ({ cost: dearest * 1000, rows: [kind], values: [1] })));
    programme.add(known.map(column));
    for (let round = 0; round < ROUNDS && worths.work < end; round++) {
      const optimum = programme.solve();
      if (optimum === undefined) return best;
      const now = kinds.map((_, kind) => Math.max(0, optimum.duals[kind] as number));
      const rooms = worths.compute(now);
      const total = kinds.reduce((sum, { demand }, kind) => sum + demand * (now[kind] as number), 0);
      const least = linearLeast(sizes, rooms, total);
      if (best === undefined || least > best.least + 1e-9) {
        best = { kinds: now, rooms, total, least };
        if (least > asked * GROWTH) {
          asked = least;
          if (enough(best)) return best;
        }
      }
      const columns = sizes.flatMap((size, index) => {
        const limit = limits[index];
        const spent = limit === undefined ? 0 : Math.min(0, optimum.duals[limit] as number);
        const over = (rooms[index] as number) + spent - size.stock.price;
        return over > 1e-7 * dearest ? [column({ size: index, counts: worths.counts(index) })] : [];
      });
      if (columns.length === 0) return best;
      programme.add(columns);
    }
    return best;
  } finally {
    programme.dispose();
  }
}
