/**
 * A set of sheets, of those that were built, that holds all parts: searched directly, and by an integer programme where there are many.
 */
import type { Column, Row, Solver } from '../highs.ts';
import { blockTree } from './block-tree.ts';
import type { Prices } from './columns.ts';
import { coverWith, type Way } from './cover.ts';
import type { Yard } from './kinds.ts';
import { mostFor } from './scales.ts';
import type { Sheets } from './search.ts';
import type { Stacked } from './stacking.ts';
import type { Steps } from './steps.ts';
import { filledBy } from './subset.ts';
import { withoutSurplus } from './surplus.ts';

/** Limits of the integer programme over sheets. */
const MOST_SHEETS = 12_000;
const LIMITS = { nodes: 400, pivots: 20_000, gap: 1e-6 };

/** How much of the sheets that cost less may stay empty, in steps². */
export function wasteFor(yard: Yard, steps: Steps, below: number): number {
  const rooms = steps.rooms.map(({ x, y }) => x * y);
  const parts = new Map(steps.lies.map((lie) => [lie.kind, lie.x * lie.y]));
  const total = steps.demands.reduce((sum, demand, kind) => sum + demand * (parts.get(kind) ?? 0), 0);
  return mostFor(yard.sizes, below, rooms, []) - total + 1e-6 * total;
}

/**
 * A set of the sheets that were built that costs no more than `most`; `none` where no set of them does.
 *
 * @param programme ways to fill a sheet among which an integer programme may choose where direct search gave up
 */
export function chosenSheets(
  yard: Yard,
  steps: Steps,
  stacked: Stacked,
  prices: Prices,
  most: number,
  programme: number,
  solver: Solver,
): { readonly sheets?: Sheets; readonly none: boolean } {
  const { blocks, sheets } = stacked;
  if (sheets.length === 0) return { none: true };
  if (sheets.length > MOST_SHEETS) return { none: false };
  const ways = sheets.map(
    ({ size, block }): Way => ({
      size,
      price: (yard.sizes[size] as Yard['sizes'][number]).stock.price,
      counts: blocks.counts(block),
      worth: blocks.worth[block] as number,
    }),
  );
  const buys = new Map<number, number>();
  const set = coverWith(ways, {
    demands: steps.demands,
    worths: prices.kinds,
    limits: yard.sizes.map(({ limit }) => limit),
    cost: most,
    most: (money) => {
      const key = Math.round(money * 1e4);
      const known = buys.get(key) ?? mostFor(yard.sizes, money, prices.rooms, []);
      buys.set(key, known);
      return known;
    },
  });
  if (set === 'none') return { none: true };
  const counts =
    set !== 'unknown'
      ? counted(set)
      : ways.length > programme
        ? 'unknown'
        : byProgramme(yard, ways, most, solver);
  if (counts === 'none') return { none: true };
  if (counts === 'unknown') return { none: false };
  const picked: ReturnType<typeof filledBy>[] = [];
  for (const [index, count] of counts) {
    const { size, block } = sheets[index] as Stacked['sheets'][number];
    const tree = blockTree(yard, steps, blocks, size, block);
    if (tree === undefined) return { none: false };
    for (let n = 0; n < count; n++) picked.push(filledBy(yard, size, tree));
  }
  return { sheets: withoutSurplus(yard, picked), none: false };
}

function counted(places: readonly number[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const place of places) counts.set(place, (counts.get(place) ?? 0) + 1);
  return counts;
}

/** The same by an integer programme, for sets of many sheets. */
function byProgramme(
  yard: Yard,
  ways: readonly Way[],
  most: number,
  solver: Solver,
): Map<number, number> | 'none' | 'unknown' {
  const rows: Row[] = yard.kinds.map(({ demand }) => ({ lower: demand }));
  const limits = yard.sizes.map(({ limit }) =>
    Number.isFinite(limit) ? rows.push({ upper: limit }) - 1 : undefined,
  );
  const columns = ways.map(({ size, price, counts }): Column => {
    const own: number[] = [];
    const values: number[] = [];
    for (let kind = 0; kind < counts.length; kind++)
      if ((counts[kind] as number) > 0) {
        own.push(kind);
        values.push(counts[kind] as number);
      }
    const limit = limits[size];
    return {
      cost: price,
      rows: limit === undefined ? own : [...own, limit],
      values: limit === undefined ? values : [...values, 1],
    };
  });
  const answer = solver.integer({ rows, columns }, LIMITS);
  if (answer.status === 'impossible' || answer.bound > most) return 'none';
  if (answer.values === undefined || (answer.objective as number) > most) return 'unknown';
  return new Map(
    ways.flatMap((_, index) => {
      const count = Math.round(answer.values?.[index] ?? 0);
      return count > 0 ? [[index, count] as const] : [];
    }),
  );
}
