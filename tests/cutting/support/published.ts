/** Published cutting-stock data, used by tests and by the timing run. */
import type { BoardJob } from '../../../src/cutting/types.ts';

/** One stock of price 1, whole boards, no kerf. */
export function plainJob(
  length: number,
  sizes: readonly (readonly [length: number, quantity: number])[],
  resolution = 1,
): BoardJob {
  return {
    items: sizes.map(([size, quantity], index) => ({ id: `item ${index + 1}`, length: size, quantity })),
    stocks: [{ id: 'stock', length, width: 1, price: 1 }],
    kerf: 0,
    endTrim: 0,
    resolution,
  };
}

export interface PublishedCase {
  readonly name: string;
  readonly source: string;
  readonly job: BoardJob;
  /** Fewest boards, as published. */
  readonly boards: number;
}

const U120_00 = [
  42, 69, 67, 57, 93, 90, 38, 36, 45, 42, 33, 79, 27, 57, 44, 84, 86, 92, 46, 38, 85, 33, 82, 73, 49, 70, 59,
  23, 57, 72, 74, 69, 33, 42, 28, 46, 30, 64, 29, 74, 41, 49, 55, 98, 80, 32, 25, 38, 82, 30, 35, 39, 57, 84,
  62, 50, 55, 27, 30, 36, 20, 78, 47, 26, 45, 41, 58, 98, 91, 96, 73, 84, 37, 93, 91, 43, 73, 85, 81, 79, 71,
  80, 76, 83, 41, 78, 70, 23, 42, 87, 43, 84, 60, 55, 49, 78, 73, 62, 36, 44, 94, 69, 32, 96, 70, 84, 58, 78,
  25, 80, 58, 66, 83, 24, 98, 60, 42, 43, 43, 39,
];

export const cases: readonly PublishedCase[] = [
  {
    name: 'rolls of 100',
    source: 'V. Chvátal, Linear Programming (1983), chapter 13: 453, linear optimum 452.25',
    job: plainJob(100, [
      [45, 97],
      [36, 610],
      [31, 395],
      [14, 211],
    ]),
    boards: 453,
  },
  {
    name: 'paper rolls of 5600 mm',
    source: 'Wikipedia, "Cutting stock problem": 73 rolls, waste 0.401 %',
    job: plainJob(5600, [
      [1380, 22],
      [1520, 25],
      [1560, 12],
      [1710, 14],
      [1820, 18],
      [1880, 18],
      [1930, 20],
      [2000, 10],
      [2050, 12],
      [2100, 14],
      [2140, 16],
      [2150, 18],
      [2200, 20],
    ]),
    boards: 73,
  },
  {
    name: 'OR-Library u120_00',
    source: 'J. E. Beasley, OR-Library, file binpack1 (set of E. Falkenauer), problem u120_00: best 48',
    job: plainJob(
      150,
      U120_00.map((size) => [size, 1] as const),
    ),
    boards: 48,
  },
  {
    name: 'rolls of 94',
    source: 'textbook example in a solver vendor’s manual: linear optimum 160.95, integer 161',
    job: plainJob(
      94,
      [
        [17, 150],
        [21, 96],
        [22.5, 48],
        [24, 108],
        [29.5, 227],
      ],
      0.5,
    ),
    boards: 161,
  },
  {
    name: 'rolls of 20',
    source: 'textbook data, linear optimum 600.375; the integer one recomputed over all patterns: 601',
    job: plainJob(20, [
      [9, 511],
      [8, 301],
      [7, 263],
      [6, 383],
    ]),
    boards: 601,
  },
];
