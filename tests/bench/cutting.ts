/**
 * Times and gaps of board layouts: furniture jobs as a plan brings them, and academic ones that are much harder. Times are those of
 * the machine; layouts and gaps are the same on all.
 */
import { layoutBoards } from '../../src/cutting/boards/boards.ts';
import { loadSolver } from '../../src/cutting/highs.ts';
import { layoutSheets } from '../../src/cutting/sheets/sheets.ts';
import type { SheetJob } from '../../src/cutting/sheets/types.ts';
import type { BoardItem, BoardJob, BoardStock } from '../../src/cutting/types.ts';
import { cabinets } from '../cutting/support/cabinets.ts';
import { classJob } from '../cutting/support/classes.ts';
import { cases as published } from '../cutting/support/published.ts';
import { randomFrom } from '../cutting/support/random.ts';

type Size = readonly [length: number, quantity: number, width?: number];

const items = (sizes: readonly Size[]): BoardItem[] =>
  sizes.map(([length, quantity, width], index) => ({
    id: `part ${index + 1}`,
    length,
    quantity,
    ...(width === undefined ? {} : { width }),
  }));

/** A job in inches on boards sold by the foot; invented prices, a little more a foot for the longer ones. */
function inches(width: number, foot: number, sizes: readonly Size[]): BoardJob {
  const stocks = [6, 8, 10, 12, 16].map((feet): BoardStock => {
    const price = Math.round(feet * foot * (1 + (feet - 6) * 0.012) * 100) / 100;
    return { id: `${feet} ft`, length: feet * 12, width, price };
  });
  return { items: items(sizes), stocks, kerf: 0.125, endTrim: 0.25, resolution: 1 / 64 };
}

/** The same in millimetres, on lengths of 2.4 to 5.4 m. */
function millimetres(width: number, metre: number, sizes: readonly Size[]): BoardJob {
  const stocks = [2400, 3000, 3600, 4200, 4800, 5400].map(
    (length): BoardStock => ({
      id: `${length}`,
      length,
      width,
      price: Math.round(length * metre) / 1000,
    }),
  );
  return { items: items(sizes), stocks, kerf: 3, endTrim: 5, resolution: 0.1 };
}

/** A plan of a hundred parts on four stocks: slats, rails, posts and strips in the proportions of a garden shed's door side. */
function hundredParts(): BoardJob[] {
  const random = randomFrom(2026);
  const sizes = (count: number, pieces: number, from: number, to: number, ripped: number): Size[] =>
    Array.from({ length: count }, (_, index) => {
      const quantity = Math.max(1, Math.round(pieces / count) + random(-1, 1));
      const length = random(from * 16, to * 16) / 16;
      return index < ripped ? [length, quantity, random(16, 40) / 16] : [length, quantity];
    });
  return [
    inches(3.5, 0.75, sizes(10, 30, 10, 70, 2)),
    inches(5.5, 0.95, sizes(9, 30, 12, 64, 2)),
    inches(3.5, 0.6, sizes(9, 25, 6, 48, 3)),
    inches(7.25, 1.4, sizes(6, 15, 14, 60, 2)),
  ];
}

/** The same in millimetres, where the yard asks so much a metre whatever the length: many layouts cost the same, and few are best. */
function hundredByTheMetre(): BoardJob[] {
  const random = randomFrom(2028);
  const sizes = (count: number, pieces: number, from: number, to: number, ripped: number): Size[] =>
    Array.from({ length: count }, (_, index) => {
      const quantity = Math.max(1, Math.round(pieces / count) + random(-1, 1));
      const length = random(from * 25, to * 25);
      const width = Math.round(random(16, 40) * 1.6);
      return index < ripped ? [length, quantity, width] : [length, quantity];
    });
  return [
    millimetres(89, 2.25, sizes(10, 30, 10, 70, 2)),
    millimetres(140, 2.85, sizes(9, 30, 12, 64, 2)),
    millimetres(89, 1.8, sizes(9, 25, 6, 48, 3)),
    millimetres(184, 4.2, sizes(6, 15, 14, 60, 2)),
  ];
}

/** Parts all of different lengths, more than any plan has: the hardest that could come. */
function allDifferent(number: number): BoardJob {
  const random = randomFrom(number);
  const sizes = Array.from({ length: 22 }, (_, index): Size => {
    const length = random(6 * 16, 60 * 16) / 16;
    const quantity = random(1, 5);
    return index % 4 === 0 ? [length, quantity, random(20, 44) / 16] : [length, quantity];
  });
  return inches(5.5, 0.85, sizes);
}

/** Triplets as Falkenauer (1996) describes them: boards of 1000 that three pieces each fill exactly, so that n/3 is the optimum. */
function triplets(count: number): BoardJob {
  const random = randomFrom(7);
  const lengths: number[] = [];
  for (let board = 0; board < count / 3; board++) {
    const first = random(380, 490);
    const second = random(250, Math.floor((1000 - first) / 2));
    lengths.push(first, second, 1000 - first - second);
  }
  return {
    items: items(lengths.map((length) => [length, 1] as const)),
    stocks: [{ id: 'bin', length: 1000, width: 1, price: 1 }],
    kerf: 0,
    endTrim: 0,
    resolution: 1,
  };
}

/** Uniform sizes of 20 to 100 in boards of 150 (Falkenauer 1996), or of another range in boards of another length. */
function uniform(count: number, from = 20, to = 100, length = 150): BoardJob {
  const random = randomFrom(count);
  return {
    items: items(Array.from({ length: count }, () => [random(from, to), 1] as const)),
    stocks: [{ id: 'bin', length, width: 1, price: 1 }],
    kerf: 0,
    endTrim: 0,
    resolution: 1,
  };
}

const furniture: readonly (readonly [name: string, jobs: readonly BoardJob[]])[] = [
  [
    'potting bench, inches',
    [
      inches(3.5, 0.7, [
        [35.25, 2, 1.5],
        [47.25, 2, 1.5],
        [16.5, 4, 1.5],
      ]),
      inches(3.5, 0.55, [
        [39, 2],
        [44.5, 2],
        [18, 6],
      ]),
      inches(5.5, 0.85, [
        [48, 3],
        [48, 1, 3.25],
        [46, 3],
        [46, 2],
        [48, 1],
      ]),
    ],
  ],
  [
    'potting bench, millimetres',
    [
      millimetres(95, 1.9, [
        [881, 2, 45],
        [1181, 2, 45],
        [420, 4, 45],
      ]),
      millimetres(90, 1.4, [
        [975, 2],
        [1112, 2],
        [455, 6],
      ]),
      millimetres(140, 2.3, [
        [1200, 3],
        [1200, 1, 82],
        [1150, 5],
        [1200, 1],
      ]),
    ],
  ],
  [
    'bookcase',
    [
      inches(11.25, 2.6, [
        [71.25, 2],
        [34.5, 5, 10.5],
        [34.5, 1],
        [36, 1],
      ]),
      inches(2.5, 0.5, [
        [36, 2],
        [64.75, 2, 1.5],
        [33, 1],
      ]),
    ],
  ],
  [
    'work bench of construction lumber',
    [
      inches(3.5, 0.62, [
        [33, 8],
        [57, 4],
        [21, 9],
        [25.5, 4],
        [12.25, 6],
      ]),
      inches(5.5, 0.98, [
        [72, 5],
        [72, 1, 2.75],
        [60, 4],
      ]),
    ],
  ],
  [
    'slatted bed',
    [
      inches(3.5, 0.55, [
        [60.5, 14],
        [20.25, 4],
        [77.5, 3],
        [11, 6],
      ]),
      inches(7.25, 1.5, [
        [80, 2],
        [62, 2],
        [12.5, 4, 2.25],
        [12.5, 4, 3.5],
      ]),
    ],
  ],
  ['a hundred parts', hundredParts()],
  ['a hundred parts, by the metre', hundredByTheMetre()],
  ['22 lengths, all different', [allDifferent(11)]],
  ['22 lengths, all different, again', [allDifferent(12)]],
];

const academic: readonly (readonly [name: string, jobs: readonly BoardJob[]])[] = [
  ...published.map(({ name, job }) => [name, [job]] as const),
  ['triplets, 60 pieces', [triplets(60)]],
  ['triplets, 120 pieces', [triplets(120)]],
  ['uniform, 120 pieces', [uniform(120)]],
  ['uniform, 250 pieces', [uniform(250)]],
  // classes as Schwerin and Wäscher (1997) and Scholl, Klein and Jürgens (1997) describe them
  ['150 to 200 in 1000, 120 pieces', [uniform(120, 150, 200, 1000)]],
  ['267 to 400 in 1000, 100 pieces', [uniform(100, 267, 400, 1000)]],
  ['15 to 271 in 1000, 100 pieces', [uniform(100, 15, 271, 1000)]],
];

/** Five cases of a class of 40 parts; the gap is over all of them. */
const classes = (kind: number): SheetJob[] => [1, 2, 3, 4, 5].map((number) => classJob(kind, 40, number));

const sheets: readonly (readonly [name: string, jobs: readonly SheetJob[]])[] = [
  ['sheets: 12 parts', [cabinets(3, 12)]],
  ['sheets: 30 parts', [cabinets(4, 30)]],
  ['sheets: 60 parts, hardly room on three', [cabinets(5, 60)]],
  ['sheets: 60 parts, others', [cabinets(6, 60)]],
  ['sheets: 60 parts, proved by prices', [cabinets(9, 60)]],
  ['sheets: 60 parts, one after the other', [cabinets(8, 60)]],
  ...[1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map(
    (kind) => [`sheets: class ${kind}, 5 × 40 parts`, classes(kind)] as const,
  ),
];

/** Lays each case out; of a plan with several stocks the times are added and the largest gap is given. */
export async function benchCutting(): Promise<{ name: string; ms: number; gap: number }[]> {
  const solver = await loadSolver();
  const boards = [...furniture, ...academic].map(([name, jobs]) => {
    const start = performance.now();
    const results = jobs.map((job) => layoutBoards(job, solver));
    const ms = performance.now() - start;
    return { name, ms, gap: Math.max(...results.map((result) => result.gap)) };
  });
  return [
    ...boards,
    ...sheets.map(([name, jobs]) => {
      const start = performance.now();
      const results = jobs.map((job) => layoutSheets(job, solver));
      const ms = performance.now() - start;
      const cost = results.reduce((sum, result) => sum + result.cost, 0);
      const bound = results.reduce((sum, result) => sum + result.bound, 0);
      return { name, ms, gap: bound > 0 ? (cost - bound) / bound : 0 };
    }),
  ];
}
