/** Scales: what parts are worth in all and what a sheet of each size can hold of it; and what sheets must cost by them. */
import type { Size, Yard } from './kinds.ts';

/** A measure of parts by which no sheet holds more than its room: area is one. */
export interface Scale {
  /** By size of sheet. */
  readonly rooms: readonly number[];
  /** Of all parts. */
  readonly total: number;
}

/** Areas, with kerf. */
export const areaScale = ({ kinds, sizes }: Pick<Yard, 'kinds' | 'sizes'>): Scale => ({
  rooms: sizes.map(({ length, width }) => length * width),
  total: kinds.reduce((sum, { length, width, demand }) => sum + demand * length * width, 0),
});

/** Worths nearer than this share are equal, and costs nearer than this. */
const EQUAL = 1e-6;
const CENT = 1e-5;
/** Numbers of sheets that are tried before a bound without whole sheets has to do. */
const TRIES = 20_000;

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

/** Scales as shares of what is needed: each must add up to one. */
interface Needs {
  readonly prices: readonly number[];
  readonly limits: readonly number[];
  /** By scale, by size. */
  readonly shares: readonly (readonly number[])[];
}

/** The scales by which sheets must cost most, were parts of them for sale. */
export function strongest(sizes: readonly Size[], scales: readonly Scale[], count: number): Scale[] {
  return scales
    .filter(({ total }) => total > 0)
    .map((scale) => ({ scale, least: linearLeast(sizes, scale.rooms, scale.total) }))
    .sort((a, b) => (a.least === b.least ? 0 : b.least - a.least))
    .slice(0, count)
    .map(({ scale }) => scale);
}

function needsOf(sizes: readonly Size[], scales: readonly Scale[]): Needs {
  const sound = scales.filter(({ total }) => total > 0);
  return {
    prices: sizes.map(({ stock }) => stock.price),
    limits: sizes.map(({ limit }) => limit),
    shares: sound.map(({ rooms, total }) => rooms.map((room) => room / total)),
  };
}

/** How many sheets of a size make up what is missing in all scales; Infinity where they can't. */
const countFor = (shares: Needs['shares'], size: number, missing: readonly number[]): number =>
  shares.reduce((most, share, scale) => {
    const need = (missing[scale] as number) - EQUAL;
    if (need <= 0) return most;
    const room = share[size] as number;
    return Math.max(most, room > 0 ? Math.ceil(need / room - 1e-9) : Infinity);
  }, 0);

/** How many sheets of a size are of use at most: more would help in no scale. */
const usefulCount = (shares: Needs['shares'], size: number, missing: readonly number[]): number =>
  shares.reduce((most, share, scale) => {
    const room = share[size] as number;
    return room > 0 ? Math.max(most, Math.ceil((missing[scale] as number) / room)) : most;
  }, 0);

/**
 * The least cost of whole sheets that can hold what all scales say has to be held, within their limits. A scale by itself gives the
 * bound of its linear programme; together they know that no part of a sheet can be bought. Infinity where the limits are too low.
 *
 * @param from costs below this are left out
 */
export function leastCost(all: readonly Size[], scales: readonly Scale[], from = 0): number {
  const [first] = strongest(all, scales, 1);
  if (first === undefined) return 0;
  // those that give most for their price come first, so that the first choices are good ones
  const order = all.map((_, size) => size);
  const rate = (size: number): number => {
    const room = first.rooms[size] as number;
    return room > 0 ? (all[size] as Size).stock.price / room : Infinity;
  };
  order.sort((a, b) => (rate(a) === rate(b) ? a - b : rate(a) - rate(b)));
  const sizes = order.map((size) => all[size] as Size);
  const inOrder = scales.map(({ rooms, total }) => ({
    rooms: order.map((size) => rooms[size] as number),
    total,
  }));
  const { prices, limits, shares } = needsOf(sizes, inOrder);
  // the cheapest that a share of each scale can be had for, from the sizes from each one on
  const rates = prices.map((_, first) =>
    shares.map((share) =>
      Math.min(
        ...prices.slice(first).map((price, n) => {
          const room = share[first + n] as number;
          return room > 0 ? price / room : Infinity;
        }),
      ),
    ),
  );
  let best = Infinity;
  let tries = 0;
  const choose = (size: number, missing: readonly number[], cost: number): void => {
    if (++tries > TRIES) return;
    const price = prices[size] as number;
    const limit = limits[size] as number;
    const wanted = countFor(shares, size, missing);
    if (size === prices.length - 1) {
      const count = Math.max(wanted, price > 0 ? Math.ceil((from - cost) / price - 1e-9) : 0);
      if (count <= limit && cost + count * price >= from - CENT) best = Math.min(best, cost + count * price);
      return;
    }
    // as many as are of use in some scale; one more than that where only the cost has to rise
    const rise = price > 0 ? (from - cost) / price + 1 : 0;
    const most = Math.min(limit, Math.max(usefulCount(shares, size, missing), rise));
    for (let count = Math.floor(most); count >= 0; count--) {
      const spent = cost + count * price;
      const left = missing.map((need, scale) => need - count * ((shares[scale] as number[])[size] as number));
      const rest = left.reduce((sum, need, scale) => {
        const rate = (rates[size + 1] as number[])[scale] as number;
        return need > EQUAL ? Math.max(sum, need * rate) : sum;
      }, 0);
      if (spent + rest < best - CENT) choose(size + 1, left, spent);
    }
  };
  choose(
    0,
    shares.map(() => 1),
    0,
  );
  const linear = linearLeast(all, first.rooms, first.total);
  if (tries > TRIES) return Math.max(linear, from);
  return Math.round(best * 1e6) / 1e6;
}

/** More sheets of one size than this are not thought of. */
const MANY = 2000;

/**
 * The most that sheets can hold by a scale for a cost at most; −Infinity where none can be had that also hold what the other scales
 * ask for.
 */
export function mostFor(
  sizes: readonly Size[],
  cost: number,
  rooms: readonly number[],
  scales: readonly Scale[],
): number {
  const { prices, limits, shares } = needsOf(sizes, scales);
  // what is on hand costs nothing and is always there
  const rates = prices.map((_, first) =>
    Math.max(
      ...prices.slice(first).map((price, n) => (price > 0 ? (rooms[first + n] as number) / price : 0)),
    ),
  );
  const free = prices.map((_, first) =>
    prices.slice(first).reduce((sum, price, n) => {
      const limit = limits[first + n] as number;
      return price > 0 ? sum : sum + (Number.isFinite(limit) ? limit : MANY) * (rooms[first + n] as number);
    }, 0),
  );
  let best = -Infinity;
  let tries = 0;
  const choose = (size: number, missing: readonly number[], left: number, held: number): void => {
    if (++tries > TRIES) return;
    if (size === prices.length) {
      if (missing.every((need) => need <= EQUAL)) best = Math.max(best, held);
      return;
    }
    if (held + (free[size] as number) + left * (rates[size] as number) <= best * (1 + 1e-12)) return;
    const price = prices[size] as number;
    const most = Math.min(limits[size] as number, price > 0 ? Math.floor(left / price + 1e-9) : MANY);
    for (let count = most; count >= 0; count--)
      choose(
        size + 1,
        missing.map((need, scale) => need - count * ((shares[scale] as number[])[size] as number)),
        left - count * price,
        held + count * (rooms[size] as number),
      );
  };
  choose(
    0,
    shares.map(() => 1),
    cost,
    0,
  );
  return tries > TRIES ? (free[0] as number) + cost * (rates[0] as number) : best;
}
