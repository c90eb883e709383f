/**
 * Random jobs against two other ways to the optimum: an arc-flow model in the same optimiser, and trying everything. Both are of the
 * test's own and share nothing with the layout but the job. The number of a failing case is in its message.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { layoutBoards } from '../../src/cutting/boards/boards.ts';
import { checkBoards } from '../../src/cutting/boards/check.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import type { BoardItem, BoardJob, BoardResult, BoardStock } from '../../src/cutting/types.ts';
import { arcFlow } from './support/arc-flow.ts';
import { byTrial } from './support/by-trial.ts';
import { randomFrom } from './support/random.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const longest = (result: BoardResult): number =>
  Math.max(0, ...result.patterns.map((pattern) => pattern.offcut));

/** Whole boards: 2 to 8 lengths, 1 to 4 stocks, kerf, and now and then a trim or limits. */
function wholeBoards(number: number): BoardJob {
  const random = randomFrom(number);
  const stocks = Array.from({ length: random(1, 4) }, (_, index): BoardStock => {
    const length = 40 + 15 * index + random(0, 10);
    const price = random(0, 3) === 0 ? length : Math.round(length * (0.8 + random(0, 8) / 20)) / 4;
    return {
      id: `stock ${index}`,
      length,
      width: 10,
      price,
      ...(number % 5 === 0 ? { limit: random(0, 4) } : {}),
    };
  });
  const shortest = Math.min(...stocks.map((stock) => stock.length));
  const items = Array.from(
    { length: random(2, 8) },
    (_, index): BoardItem => ({
      id: `item ${index}`,
      length: random(7, shortest - 8),
      quantity: random(1, 5),
    }),
  );
  return { items, stocks, kerf: random(0, 3), endTrim: number % 4 === 0 ? random(1, 4) : 0, resolution: 1 };
}

describe('whole boards against an arc-flow model', () => {
  const CASES = 300;
  it(`${CASES} random jobs: the same cost, number of boards and longest offcut`, () => {
    let impossible = 0;
    for (let number = 1; number <= CASES; number++) {
      const job = wholeBoards(number);
      const result = layoutBoards(job, solver);
      const other = arcFlow(job, solver);
      expect(checkBoards(job, result), `case ${number}`).toEqual([]);
      expect(result.unplaced.length, `case ${number}: pieces without a board`).toBe(other.missing);
      if (other.missing > 0) {
        impossible++;
        expect(result.status, `case ${number}`).toBe('impossible');
        continue;
      }
      expect(result.status, `case ${number}`).toBe('proved best');
      expect(result.cost, `case ${number}: cost`).toBeCloseTo(other.cost, 6);
      expect(result.boards, `case ${number}: boards`).toBe(other.boards);
      expect(longest(result), `case ${number}: longest offcut`).toBeCloseTo(other.offcut, 6);
    }
    // the cases are no test of limits if none of them bites
    expect(impossible).toBeGreaterThan(3);
  }, 300_000);
});

/** A few pieces of which some are ripped, in quarter inches. */
function ripped(number: number): BoardJob {
  const random = randomFrom(number + 1000);
  const width = [3.5, 5.5, 7.25][random(0, 2)] as number;
  const items: BoardItem[] = [];
  for (let left = random(3, 7); left > 0; ) {
    const quantity = Math.min(left, random(1, 3));
    left -= quantity;
    const narrow = random(0, 3) > 0;
    items.push({
      id: `item ${items.length}`,
      length: random(20, 160) / 4,
      ...(narrow ? { width: random(3, Math.floor(width * 4)) / 4 } : {}),
      quantity,
    });
  }
  const stocks = [
    { id: '4 ft', length: 48, width, price: random(2, 5) },
    { id: '6 ft', length: 72, width, price: random(5, 8) },
    { id: '8 ft', length: 96, width, price: random(7, 11) },
  ].slice(0, random(1, 3));
  return { items, stocks, kerf: 0.125, endTrim: number % 3 === 0 ? 0.25 : 0, resolution: 1 / 64 };
}

describe('rips and crosscuts against trying everything', () => {
  const CASES = 90;
  it(`${CASES} random jobs of up to seven pieces: the same cost, number of boards and longest offcut`, () => {
    let shared = 0;
    for (let number = 1; number <= CASES; number++) {
      const job = ripped(number);
      const result = layoutBoards(job, solver);
      const trial = byTrial(job);
      expect(checkBoards(job, result), `case ${number}`).toEqual([]);
      if (trial === undefined) {
        expect(result.status, `case ${number}`).toBe('impossible');
        continue;
      }
      expect(result.status, `case ${number}`).toBe('proved best');
      expect(result.cost, `case ${number}: cost`).toBeCloseTo(trial.cost, 6);
      expect(result.boards, `case ${number}: boards`).toBe(trial.boards);
      expect(longest(result), `case ${number}: longest offcut`).toBeCloseTo(trial.offcut, 6);
      if (result.patterns.some((pattern) => pattern.sections.some((part) => part.strips.length > 1)))
        shared++;
    }
    expect(shared).toBeGreaterThan(20);
  }, 300_000);
});

describe('the same job', () => {
  it('gives the same layout each time', () => {
    for (const number of [3, 12, 40, 77]) {
      const job = wholeBoards(number);
      expect(layoutBoards(job, solver)).toEqual(layoutBoards(job, solver));
    }
  });
});
