/**
 * Prices made finer: those found with coarse steps are too low for some parts and too high for others, since sizes were rounded. Here they
 * are corrected by sheets that can be cut: all that lose hardly anything by the prices in hand enter a linear programme, whose prices may
 * differ from the best so far by a small share only (the boxstep method, Marsten, Hogan and Blankenship 1975), and so on a few times.
 */
import type { Column, Solver } from '../highs.ts';
import type { Prices } from './columns.ts';
import type { Filled } from './fill.ts';
import type { Size, Yard } from './kinds.ts';
import { linearLeast } from './scales.ts';
import { stackSheets } from './stacking.ts';
import type { Steps } from './steps.ts';
import type { Worths } from './worths.ts';

/** Times that prices are looked at. */
const ROUNDS = 5;
/** Share by which prices may differ from the best so far; a smaller one after each time that brought nothing. */
const BOX = 0.02;
const SHRINK = 0.6;
/** What sheets may lose that enter the programme, as a share of the largest; the share of it that one block may lose; most of a size. */
const LOSS = 0.01;
const SHARE = 0.3;
const MOST = 200;
const LOOKS = 1_500_000;
const BLOCKS = 50_000;

/**
 * Prices by which sheets must cost at least as much as by those given, were parts of sheets for sale.
 *
 * @param tables of the same steps; filled for the prices that are given back
 * @param known sheets to start with
 */
export function finerPrices(
  yard: Yard,
  steps: Steps,
  tables: Worths,
  prices: readonly number[],
  known: readonly Pick<Filled, 'size' | 'counts'>[],
  solver: Solver,
): Prices {
  const { kinds, sizes } = yard;
  const columns = new Map<string, Column>();
  const add = (size: number, counts: ArrayLike<number>): void => {
    const rows: number[] = [];
    const values: number[] = [];
    for (let kind = 0; kind < kinds.length; kind++)
      if ((counts[kind] as number) > 0) {
        rows.push(kind);
        values.push(counts[kind] as number);
      }
    const cost = (sizes[size] as Size).stock.price;
    columns.set(`${size}:${rows.join()}:${values.join()}`, { cost, rows, values });
  };
  for (const { size, counts } of known) add(size, counts);
  const measured = (now: readonly number[]): Prices => {
    const rooms = tables.compute(now);
    const total = kinds.reduce((sum, { demand }, kind) => sum + demand * (now[kind] as number), 0);
    return { kinds: now, rooms, total, least: linearLeast(sizes, rooms, total) };
  };
  let now = measured(prices);
  let best = now;
  let box = BOX;
  for (let round = 1; round < ROUNDS; round++) {
    const loss = LOSS * Math.max(...now.rooms);
    const budget = { loss, share: SHARE, waste: Infinity, looks: LOOKS, blocks: BLOCKS };
    const stacked = stackSheets(yard, steps, tables, now.kinds, budget);
    const { blocks } = stacked;
    for (let size = 0; size < sizes.length; size++) {
      add(size, tables.counts(size));
      const own = stacked.sheets.filter((sheet) => sheet.size === size).map(({ block }) => block);
      own.sort((a, b) => (blocks.worth[b] as number) - (blocks.worth[a] as number) || a - b);
      for (const block of own.slice(0, MOST)) add(size, blocks.counts(block));
    }
    const next = solved(yard, [...columns.values()], best.kinds, box, solver);
    if (next === undefined) break;
    now = measured(next);
    if (now.least > best.least) best = now;
    else box *= SHRINK;
  }
  if (now !== best) tables.compute(best.kinds);
  return best;
}

/** Prices by the programme of some sheets, near those given. */
function solved(
  { kinds }: Yard,
  columns: readonly Column[],
  near: readonly number[],
  box: number,
  solver: Solver,
): number[] | undefined {
  const programme = solver.linear(kinds.map(({ demand }) => ({ lower: demand })));
  try {
    programme.add(columns);
    // parts can be bought a little dearer and sold a little cheaper, which keeps their prices between the two
    programme.add(
      near.flatMap((price, kind): Column[] => [
        { cost: price * (1 + box) + 1e-9, rows: [kind], values: [1] },
        { cost: -price * (1 - box), rows: [kind], values: [-1] },
      ]),
    );
    const optimum = programme.solve();
    return optimum && kinds.map((_, kind) => Math.max(0, optimum.duals[kind] as number));
  } finally {
    programme.dispose();
  }
}
