/** The knapsack and the listing of fillings against counting all of them out. */
import { describe, expect, it } from 'vitest';
import { type Filler, fillingsWorth, Knapsack } from '../../src/cutting/boards/knapsack.ts';
import { randomFrom } from './support/random.ts';

/** All counts within the bounds and the capacity, one after the other. */
function* countedOut(fillers: readonly Filler[], capacity: number): Generator<number[]> {
  const [first, ...rest] = fillers;
  if (first === undefined) {
    yield [];
    return;
  }
  for (let count = 0; count <= first.bound && count * first.size <= capacity; count++)
    for (const others of countedOut(rest, capacity - count * first.size)) yield [count, ...others];
}

const sum = (fillers: readonly Filler[], counts: readonly number[], what: 'size' | 'worth'): number =>
  fillers.reduce((total, filler, index) => total + (counts[index] as number) * filler[what], 0);

const someFillers = (number: number): { fillers: Filler[]; capacity: number } => {
  const random = randomFrom(number);
  const fillers = Array.from({ length: random(1, 5) }, () => ({
    size: random(3, 20),
    // now and then worth nothing, and often in the proportion of the size, as in a cutting job
    worth: random(0, 5) === 0 ? 0 : random(1, 40) / 8,
    bound: random(1, 5),
  }));
  return { fillers, capacity: random(10, 60) };
};

describe('the knapsack', () => {
  it('finds the best filling of each capacity, in 200 random cases', () => {
    for (let number = 1; number <= 200; number++) {
      const { fillers, capacity } = someFillers(number);
      const knapsack = new Knapsack(capacity);
      fillers.forEach((filler, index) => {
        knapsack.add(index, filler);
      });
      for (const room of [capacity, Math.floor(capacity / 2), 2]) {
        const best = Math.max(
          ...[...countedOut(fillers, room)].map((counts) => sum(fillers, counts, 'worth')),
        );
        expect(knapsack.worth(room), `case ${number}`).toBeCloseTo(best, 9);
        const counts = fillers.map(
          (_, index) => knapsack.filling(room).find(([at]) => at === index)?.[1] ?? 0,
        );
        expect(sum(fillers, counts, 'worth'), `case ${number}`).toBeCloseTo(best, 9);
        expect(sum(fillers, counts, 'size'), `case ${number}`).toBeLessThanOrEqual(room);
        expect(counts.every((count, index) => count <= (fillers[index] as Filler).bound)).toBe(true);
      }
    }
  });
});

describe('the list of fillings', () => {
  it('has all that are worth enough, or of these all that are full, in 200 random cases', () => {
    for (let number = 1; number <= 200; number++) {
      const { fillers, capacity } = someFillers(number);
      const all = [...countedOut(fillers, capacity)].filter((counts) => counts.some((count) => count > 0));
      const worths = all.map((counts) => sum(fillers, counts, 'worth')).sort((a, b) => b - a);
      const least = (worths[Math.floor(worths.length / 3)] ?? 0) - 1e-6;
      const good = all.filter((counts) => sum(fillers, counts, 'worth') >= least);
      const full = good.filter((counts) => {
        const left = capacity - sum(fillers, counts, 'size');
        return fillers.every((filler, index) => counts[index] === filler.bound || filler.size > left);
      });
      for (const [wanted, onlyFull] of [
        [good, false],
        [full, true],
      ] as const) {
        const listed = fillingsWorth(fillers, capacity, least, 100_000, onlyFull);
        expect(listed.complete).toBe(true);
        const keys = listed.fillings.map((filling) =>
          fillers.map((_, index) => filling.find(([at]) => at === index)?.[1] ?? 0).join(),
        );
        expect(keys.sort(), `case ${number}`).toEqual(wanted.map((counts) => counts.join()).sort());
      }
    }
  });

  it('says where it stopped before the end', () => {
    const fillers = Array.from({ length: 6 }, () => ({ size: 5, worth: 1, bound: 4 }));
    const listed = fillingsWorth(fillers, 60, 0, 10, false);
    expect([listed.fillings.length, listed.complete]).toEqual([10, false]);
  });
});
