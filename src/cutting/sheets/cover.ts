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
  const { demands } = cover;
  const holding = demands.map((_, kind) =>
    ways.flatMap(({ counts }, index) => ((counts[kind] as number) > 0 ? [index] : [])),
  );
  const chosen: number[] = [];
  const left = [...demands];
  const limits = [...cover.limits];
  let tries = 0;
  const choose = (money: number): boolean => {
    // the kind that is hardest to place: fewest ways hold it
    let kind = -1;
    let worth = 0;
    left.forEach((count, index) => {
      if (count <= 0) return;
      worth += count * (cover.worths[index] as number);
      if (kind < 0 || (holding[index] as number[]).length < (holding[kind] as number[]).length) kind = index;
    });
    if (kind < 0) return true;
    if (worth > cover.most(money) + 1e-7 * worth) return false;
    for (const index of holding[kind] as number[]) {
      if (++tries > TRIES) return false;
      const way = ways[index] as Way;
      if (way.price > money || (limits[way.size] as number) <= 0) continue;
      // what this way leaves must be worth no more than the rest of the money can buy; it may hold more than is needed, so less counts
      const rest = cover.most(money - way.price) + 1e-7 * worth;
      if (worth - way.worth > rest) continue;
      let gained = 0;
      for (let n = 0; n < left.length; n++)
        gained +=
          Math.min(Math.max(0, left[n] as number), way.counts[n] as number) * (cover.worths[n] as number);
      if (worth - gained > rest) continue;
      for (let n = 0; n < left.length; n++) left[n] = (left[n] as number) - (way.counts[n] as number);
      limits[way.size] = (limits[way.size] as number) - 1;
      chosen.push(index);
      if (choose(money - way.price)) return true;
      chosen.pop();
      limits[way.size] = (limits[way.size] as number) + 1;
      for (let n = 0; n < left.length; n++) left[n] = (left[n] as number) + (way.counts[n] as number);
    }
    return false;
  };
  if (choose(cover.cost)) return [...chosen];
  return tries > TRIES ? 'unknown' : 'none';
}
