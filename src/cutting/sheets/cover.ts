/**
 * A set of sheets that holds all parts, where there are few sheets and many ways to fill them: searched directly, which is quicker than
 * an integer programme. The part that fewest ways hold comes first.
 */

/** A way to fill a sheet. */
export interface Way {
  readonly size: number;
  readonly price: number;
  /** Parts by kind. */
  readonly counts: ArrayLike<number>;
  /** Worth of its parts. */
  readonly worth: number;
}

/** What a set may cost, and what each sheet can be worth: so many sheets must be worth what is still missing. */
export interface Cover {
  readonly demands: readonly number[];
  readonly worths: readonly number[];
  /** Most sheets of each size. */
  readonly limits: readonly number[];
  readonly cost: number;
  /** The most that a given sum can buy of worth. */
  readonly most: (money: number) => number;
}

/** Sets that are looked at before the search gives up. */
const TRIES = 400_000;

/** Places of the ways in a set; `none` where there is none, `unknown` where the search gave up. */
export function coverWith(ways: readonly Way[], cover: Cover): readonly number[] | 'none' | 'unknown' {
  const { demands, worths } = cover;
  const kinds = demands.length;
  const counts = new Int32Array(ways.length * kinds);
  ways.forEach((way, index) => {
    for (let n = 0; n < kinds; n++) counts[index * kinds + n] = way.counts[n] as number;
  });
  // of each kind the ways that hold it, the worthiest first: the others are too poor as soon as one is
  const order = ways.map((_, index) => index);
  order.sort((a, b) => (ways[b] as Way).worth - (ways[a] as Way).worth || a - b);
  const holding = demands.map((_, kind) =>
    Int32Array.from(order.filter((index) => (counts[index * kinds + kind] as number) > 0)),
  );
  const chosen: number[] = [];
  const left = Int32Array.from(demands);
  const limits = [...cover.limits];
  const prices = [...new Set(ways.map(({ price }) => price))];
  let tries = 0;
  const choose = (money: number): boolean => {
    // the kind that is hardest to place: fewest ways hold it
    let kind = -1;
    let worth = 0;
    for (let n = 0; n < kinds; n++) {
      if ((left[n] as number) <= 0) continue;
      worth += (left[n] as number) * (worths[n] as number);
      if (kind < 0 || (holding[n] as Int32Array).length < (holding[kind] as Int32Array).length) kind = n;
    }
    if (kind < 0) return true;
    if (worth > cover.most(money) + 1e-7 * worth) return false;
    // what the rest of the money can buy after a sheet of each price
    const rests = new Map(
      prices.map((price) => [price, price > money ? -Infinity : cover.most(money - price) + 1e-7 * worth]),
    );
    const most = Math.max(...rests.values());
    for (const index of holding[kind] as Int32Array) {
      const way = ways[index] as Way;
      // what this way leaves must be worth no more than the rest of the money can buy; it may hold more than is needed, so less counts
      if (worth - way.worth > most) break;
      if (++tries > TRIES) return false;
      const rest = rests.get(way.price) as number;
      if (worth - way.worth > rest || (limits[way.size] as number) <= 0) continue;
      const at = index * kinds;
      let gained = 0;
      for (let n = 0; n < kinds; n++) {
        const count = Math.min(left[n] as number, counts[at + n] as number);
        if (count > 0) gained += count * (worths[n] as number);
      }
      if (worth - gained > rest) continue;
      for (let n = 0; n < kinds; n++) left[n] = (left[n] as number) - (counts[at + n] as number);
      limits[way.size] = (limits[way.size] as number) - 1;
      chosen.push(index);
      if (choose(money - way.price)) return true;
      chosen.pop();
      limits[way.size] = (limits[way.size] as number) + 1;
      for (let n = 0; n < kinds; n++) left[n] = (left[n] as number) + (counts[at + n] as number);
    }
    return false;
  };
  if (choose(cover.cost)) return [...chosen];
  return tries > TRIES ? 'unknown' : 'none';
}
