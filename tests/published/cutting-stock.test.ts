/** Published cutting-stock cases, through the project's own board layout. Sources stand beside the data in ../cutting/support/published.ts. */
import { beforeAll, describe, expect, it } from 'vitest';
import { layoutBoards } from '../../src/cutting/boards/boards.ts';
import { checkBoards } from '../../src/cutting/boards/check.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import type { BoardJob, BoardResult } from '../../src/cutting/types.ts';
import { cases } from '../cutting/support/published.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

describe('published cases', () => {
  for (const { name, source, job, boards } of cases)
    it(`${name}: ${boards} (${source})`, () => {
      const result = layoutBoards(job, solver);
      expect(result.boards).toBe(boards);
      expect(result.cost).toBe(boards);
      expect(result.bound).toBe(boards);
      expect(result.status).toBe('proved best');
      expect(result.gap).toBe(0);
      expect(checkBoards(job, result)).toEqual([]);
    });

  it('rolls of 100: waste at 453 is 8.336 % (computed from the data)', () => {
    const job = cases.find((one) => one.name === 'rolls of 100')?.job as BoardJob;
    const used = job.items.reduce((sum, item) => sum + item.length * item.quantity, 0);
    expect(used).toBe(41_524);
    const bought = layoutBoards(job, solver).boards * 100;
    expect(((bought - used) / bought) * 100).toBeCloseTo(8.336, 3);
  });

  it('paper rolls: waste at 73 is 0.401 % (the source says so)', () => {
    const job = cases.find((one) => one.name === 'paper rolls of 5600 mm')?.job as BoardJob;
    const used = job.items.reduce((sum, item) => sum + item.length * item.quantity, 0);
    const bought = layoutBoards(job, solver).boards * 5600;
    expect(((bought - used) / bought) * 100).toBeCloseTo(0.401, 3);
  });
});

/**
 * Kerf: n pieces take n·L + (n − 1)·k, and one kerf and the trim more where an end is trimmed.
 * Arithmetic; the sums stand beside each case.
 */
describe('kerf', () => {
  const boards = (
    board: number,
    length: number,
    quantity: number,
    kerf: number,
    step: number,
    trim = 0,
  ): number => layout(board, length, quantity, kerf, step, trim).boards;
  const layout = (
    board: number,
    length: number,
    quantity: number,
    kerf: number,
    resolution: number,
    endTrim: number,
  ): BoardResult =>
    layoutBoards(
      {
        items: [{ id: 'part', length, quantity }],
        stocks: [{ id: 'board', length: board, width: 3.5, price: 5 }],
        kerf,
        endTrim,
        resolution,
      },
      solver,
    );

  it('96 in and a kerf of 1/8 in', () => {
    expect(boards(96, 12, 7, 1 / 8, 1 / 64)).toBe(1);
    // 8 × 12 + 7 × 1/8 = 96.875
    expect(boards(96, 12, 8, 1 / 8, 1 / 64)).toBe(2);
    expect(boards(96, 24, 3, 1 / 8, 1 / 64)).toBe(1);
    // 4 × 24 + 3 × 1/8 = 96.375
    expect(boards(96, 24, 4, 1 / 8, 1 / 64)).toBe(2);
    // 4 × 23 7/8 + 3 × 1/8 = 95.875
    expect(boards(96, 23 + 7 / 8, 4, 1 / 8, 1 / 64)).toBe(1);
  });

  it('2400 mm and 8 ft, kerf 3 mm', () => {
    expect(boards(2400, 600, 3, 3, 0.1)).toBe(1);
    // 4 × 600 + 3 × 3 = 2409
    expect(boards(2400, 600, 4, 3, 0.1)).toBe(2);
    expect(boards(2438.4, 600, 4, 3, 0.1)).toBe(1);
    expect(boards(2440, 600, 4, 3, 0.1)).toBe(1);
    expect(boards(2400, 300, 7, 3, 0.1)).toBe(1);
    // 8 × 300 + 7 × 3 = 2421
    expect(boards(2400, 300, 8, 3, 0.1)).toBe(2);
  });

  it('a piece as long as the board needs no cut', () => {
    expect(boards(96, 96, 1, 1 / 8, 1 / 64)).toBe(1);
    // two of 47 15/16 and one kerf of 1/8 are 96 exactly: the last cut falls away
    expect(boards(96, 47 + 15 / 16, 2, 1 / 8, 1 / 64)).toBe(1);
  });

  it('a trimmed end costs the trim and one kerf', () => {
    // 4 × 23 3/4 + 3 × 1/8 = 95 3/8; with 1/2 trimmed and its kerf of 1/8: 96 exactly
    expect(boards(96, 23.75, 4, 1 / 8, 1 / 64, 0.5)).toBe(1);
    expect(boards(96, 23.75, 4, 1 / 8, 1 / 64, 0.5 + 1 / 64)).toBe(2);
    // 96 − 1/2 − 1/8 − 2 × 30 − 2 × 1/8 = 35 1/8 left over
    expect(layout(96, 30, 2, 1 / 8, 1 / 64, 0.5).patterns[0]?.offcut).toBeCloseTo(35.125, 9);
  });
});
