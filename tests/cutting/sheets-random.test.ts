/**
 * Random sheet jobs: against trying every way of cutting where that is possible, against the lower bound where it isn't. Numbers of
 * failing cases are in the messages.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  checkSheets,
  layoutSheets,
  loadSolver,
  type SheetJob,
  type SheetStock,
  type Solver,
} from '../../src/cutting/index.ts';
import { leastByCutting } from './support/by-cutting.ts';
import { randomFrom } from './support/random.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** Two to five parts on sheets so small that one or two of them are needed; every third time of sizes that share no step. */
function tiny(number: number): SheetJob {
  const random = randomFrom(number);
  const odd = (): number => (number % 3 === 0 ? random(0, 96) / 97 : 0);
  const items: SheetJob['items'][number][] = [];
  for (let left = random(2, 5); left > 0; ) {
    const quantity = Math.min(left, random(1, 2));
    left -= quantity;
    items.push({
      id: `item ${items.length}`,
      length: random(8, 60) + odd(),
      width: random(8, 40) + odd(),
      quantity,
      turnable: random(0, 1) === 1,
    });
  }
  const stocks: SheetStock[] = [
    { id: 'whole', length: 100, width: 60, price: 10 },
    { id: 'half', length: 50, width: 60, price: random(5, 7) },
  ].slice(0, random(1, 2));
  return { items, stocks, kerf: random(0, 2), edgeTrim: number % 4 === 0 ? 1 : 0, stages: random(2, 4) };
}

describe('tiny jobs against trying every way of cutting', () => {
  const CASES = 150;
  it(`${CASES} jobs of up to five parts: the same cost`, () => {
    let proved = 0;
    let several = 0;
    let levels = 0;
    for (let number = 1; number <= CASES; number++) {
      const job = tiny(number);
      const result = layoutSheets(job, solver);
      const least = leastByCutting(job);
      expect(checkSheets(job, result), `case ${number}`).toEqual([]);
      if (least === undefined) {
        expect(result.status, `case ${number}`).toBe('impossible');
        continue;
      }
      expect(result.cost, `case ${number}`).toBeCloseTo(least, 6);
      expect(result.bound, `case ${number}`).toBeLessThanOrEqual(least + 1e-6);
      if (result.status === 'proved best') proved++;
      if (result.sheets > 1) several++;
      // a proof within the levels is no claim about deeper cuts, and one of all cuts holds for these too
      if (result.boundFor === 'levels') levels++;
    }
    // enough of them need more than one sheet to be a test, and what is claimed to be proved was tried out
    expect(proved).toBeGreaterThan(CASES * 0.9);
    expect(several).toBeGreaterThan(CASES * 0.15);
    expect(levels).toBeGreaterThan(2);
  }, 300_000);
});

/** Parts of furniture on sheets of 1220 × 2440 mm: sides, shelves, backs, drawers, in 5 to 30 pieces. */
function furniture(number: number): SheetJob {
  const random = randomFrom(number + 500);
  const items = Array.from({ length: random(3, 9) }, (_, index) => ({
    id: `item ${index}`,
    length: random(15, 180) * 10,
    width: random(8, 80) * 10,
    quantity: random(1, 4),
    turnable: random(0, 2) === 0,
  }));
  const stocks: SheetStock[] = [
    { id: 'whole', length: 2440, width: 1220, price: 60 },
    ...(number % 4 === 0
      ? [
          { id: 'half', length: 1220, width: 1220, price: 34 },
          { id: 'quarter', length: 1220, width: 610, price: 19 },
        ]
      : []),
  ];
  return {
    items,
    stocks,
    kerf: 3,
    edgeTrim: number % 2 === 0 ? 5 : 0,
    stages: 3 + (number % 2),
    useful: 150,
  };
}

describe('jobs of furniture against the lower bound', () => {
  const CASES = 200;
  it(`${CASES} jobs: nearly all proved, at most 0.5 % above the bound in all`, () => {
    let proved = 0;
    let cost = 0;
    let bound = 0;
    for (let number = 1; number <= CASES; number++) {
      const job = furniture(number);
      const result = layoutSheets(job, solver);
      expect(checkSheets(job, result), `case ${number}`).toEqual([]);
      expect(result.unplaced, `case ${number}`).toEqual([]);
      expect(result.cost, `case ${number}`).toBeLessThanOrEqual(result.bound + 60 + 1e-6);
      // the area with kerf is a bound that needs no programme: price of a whole sheet by its share
      const area = job.items.reduce((sum, item) => sum + item.quantity * item.length * item.width, 0);
      expect(result.bound, `case ${number}`).toBeGreaterThanOrEqual(((60 * area) / (2440 * 1220)) * 0.99);
      cost += result.cost;
      bound += result.bound;
      if (result.status === 'proved best') proved++;
    }
    expect(proved).toBeGreaterThanOrEqual(CASES - 2);
    expect(cost).toBeLessThanOrEqual(bound * 1.005);
  }, 900_000);
});

it('finds room for all parts on the only sheet there is, where filling by rules leaves some out', () => {
  // thirteen parts that take 82 % of the sheet
  const job = furniture(39);
  const only: SheetJob = { ...job, stocks: [{ ...(job.stocks[0] as SheetStock), limit: 1 }] };
  const result = layoutSheets(only, solver);
  expect(checkSheets(only, result)).toEqual([]);
  expect(result).toMatchObject({ status: 'proved best', sheets: 1, unplaced: [] });
});

/** Anything that a caller may ask for: odd sizes, several sheets with and without limits, some for nothing, deep and shallow cuts. */
function anything(number: number): SheetJob {
  const random = randomFrom(number * 7 + 3);
  const odd = random(0, 2) === 0 ? (): number => random(0, 999) / 1000 : (): number => 0;
  const items = Array.from({ length: random(1, 12) }, (_, index) => ({
    id: `item ${index}`,
    length: random(20, 2600) / random(1, 3) + odd(),
    width: random(20, 1300) / random(1, 4) + odd(),
    quantity: random(0, 6),
    turnable: random(0, 1) === 1,
  }));
  const stocks = Array.from({ length: random(1, 4) }, (_, index): SheetStock => {
    const price = random(0, 6) === 0 ? 0 : random(500, 9000) / 100;
    const limited = price === 0 || random(0, 2) === 0;
    const size = { length: random(300, 2500), width: random(300, 1300) };
    return { id: `sheet ${index}`, ...size, price, ...(limited ? { limit: random(0, 4) } : {}) };
  });
  return {
    items,
    stocks,
    kerf: random(0, 4),
    edgeTrim: random(0, 2) * 5,
    stages: random(2, 7),
    useful: 100,
    ...(random(0, 3) === 0 ? { liftable: random(2, 20) * 1e5 } : {}),
  };
}

it('60 jobs of any kind pass the check, with and without what can be had', () => {
  const seen = new Set<string>();
  for (let number = 1; number <= 60; number++) {
    const job = anything(number);
    const result = layoutSheets(job, solver);
    expect(checkSheets(job, result), `case ${number}`).toEqual([]);
    seen.add(`${result.status}, ${result.boundFor}`);
  }
  expect(seen.size).toBeGreaterThanOrEqual(4);
}, 300_000);
