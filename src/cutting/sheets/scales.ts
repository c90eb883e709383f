/** Scales: what parts are worth in all and what a sheet of each size can hold of it; and what sheets must cost by them. */
import type { Solver } from '../highs.ts';
import type { Size } from './kinds.ts';

/** A measure of parts by which no sheet holds more than its room: area is one. */
export interface Scale {
  /** By size of sheet. */
  readonly rooms: readonly number[];
  /** Of all parts. */
  readonly total: number;
}

/** Limits of the small integer programmes here. */
const LIMITS = { nodes: 2000, pivots: 20_000, gap: 1e-6 };
/** Worths nearer than this share are equal. */
const EQUAL = 1e-6;

/** The least that sheets cost by one scale, were parts of sheets for sale; Infinity where the limits are too low. */
export function linearLeast(sizes: readonly Size[], rooms: readonly number[], total: number): number {
  const order = sizes
    .map(({ stock, limit }, index) => ({ price: stock.price, limit, room: rooms[index] as number }))
    .filter(({ room }) => room > 0)
    .sort((a, b) => a.price / a.room - b.price / b.room);
  let left = total;
  let cost = 0;
  for (const { price, limit, room } of order) {
    if (left <= 0) break;
    const count = Math.min(limit, left / room);
    cost += count * price;
    left -= count * room;
  }
  return left > EQUAL * total ? Infinity : cost;
}

/**
 * The least cost of whole sheets that can hold what all scales say has to be held, within their limits. A scale by itself gives the
 * bound of its linear programme; together they know that no part of a sheet can be bought.
 */
export function leastCost(sizes: readonly Size[], scales: readonly Scale[], solver: Solver): number {
  const sound = scales.filter(({ total }) => total > 0);
  if (sound.length === 0) return 0;
  const only = sizes.length === 1 ? sizes[0] : undefined;
  if (only !== undefined) {
    const count = Math.max(
      ...sound.map(({ rooms, total }) => Math.ceil(total / (rooms[0] as number) - EQUAL)),
    );
    return count * only.stock.price;
  }
  const answer = solver.integer(
    {
      rows: sound.map(() => ({ lower: 1 - EQUAL })),
      columns: sizes.map((size, index) => ({
        cost: size.stock.price,
        ...(Number.isFinite(size.limit) ? { upper: size.limit } : {}),
        rows: sound.map((_, row) => row),
        values: sound.map(({ rooms, total }) => (rooms[index] as number) / total),
      })),
    },
    LIMITS,
  );
  // limits that are too low make it impossible: the search says so better than a bound
  if (answer.status === 'impossible') return 0;
  if (answer.status === 'optimal' && answer.objective !== undefined)
    return Math.round(answer.objective * 1e6) / 1e6;
  return Math.max(0, answer.bound - 1e-6);
}

/**
 * The most that sheets can hold by a scale for less than a cost; −Infinity where none can be had that also hold what the other scales
 * ask for.
 */
export function mostFor(
  sizes: readonly Size[],
  cost: number,
  rooms: readonly number[],
  scales: readonly Scale[],
  solver: Solver,
): number {
  const sound = scales.filter(({ total }) => total > 0);
  const largest = Math.max(...rooms, 1e-12);
  const answer = solver.integer(
    {
      rows: [{ upper: cost - 1e-5 }, ...sound.map(() => ({ lower: 1 - EQUAL }))],
      columns: sizes.map((size, index) => ({
        cost: -(rooms[index] as number) / largest,
        ...(Number.isFinite(size.limit) ? { upper: size.limit } : {}),
        rows: [0, ...sound.map((_, row) => row + 1)],
        values: [size.stock.price, ...sound.map((scale) => (scale.rooms[index] as number) / scale.total)],
      })),
    },
    LIMITS,
  );
  if (answer.status === 'impossible') return -Infinity;
  return -answer.bound * largest;
}
