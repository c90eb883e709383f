/** Two small jobs for the saw, worked by hand: boards that are cut and ripped, and a sheet. */
import { boardCuts, sectionsFrom } from '../../src/cutting/cuts.ts';
import { sheetCuts } from '../../src/cutting/sheets/sequence.ts';
import type { SheetJob, SheetPattern } from '../../src/cutting/sheets/types.ts';
import type { BoardLayout, CuttingLayouts, SheetLayout } from '../../src/cutting/types.ts';
import type { StockItem } from '../../src/read/types.ts';
import { inches, mm } from '../../src/units.ts';
import { stock1x6 } from './sample.ts';

export const kerf = inches(1 / 8);

/** Length, then strips as letter, offset, width, length; inches. */
export type Cut = readonly [length: number, strips: readonly (readonly [string, number, number, number])[]];

export function board(count: number, cuts: readonly Cut[]): BoardLayout {
  const sections = sectionsFrom(
    cuts.map(([length, strips]) => ({
      start: inches(0),
      length: inches(length),
      strips: strips.map(([letter, offset, width, long]) => ({
        letter,
        copyOf: letter,
        offset: inches(offset),
        width: inches(width),
        length: inches(long),
      })),
    })),
    kerf,
  );
  const used = cuts.reduce((sum, [length]) => sum + inches(length) + kerf, 0);
  const uncut = {
    stock: stock1x6,
    species: 'pine',
    boardLength: inches(96),
    lengthLabel: '8 ft',
    count,
    sections,
    offcut: mm(inches(96) - used),
    endTrim: inches(0),
    price: 6,
  };
  return { ...uncut, cuts: boardCuts(uncut, { kerf }) };
}

/**
 * Two boards of 96 × 5-1/2 in. Each: a length of 40 in, ripped into B (2-1/2 wide) and C (2-1/2 wide, only 30 long); a length of 30 in as
 * it is, D. What is left at the end: 96 − 40 − 30 − 2 · 1/8 = 25-3/4 in.
 */
export const layouts: CuttingLayouts = {
  boards: [
    board(2, [
      [
        40,
        [
          ['B', 0, 2.5, 40],
          ['C', 2.625, 2.5, 30],
        ],
      ],
      [30, [['D', 0, 5.5, 30]]],
    ]),
  ],
  kerf,
  proofs: [],
  stops: [],
};

export const place = (x: number, y: number, length: number, width: number) => ({ x, y, length, width });

/**
 * A sheet of 96 × 48 in. A rip at 20 in leaves a strip for two of A, 40 in long, and 15-3/4 in over; what is beyond it, 27-7/8 in wide, gives
 * B, 30 in long, and the rest.
 */
export const job: SheetJob = {
  items: [
    { id: 'A', length: 40, width: 20, quantity: 2, turnable: false },
    { id: 'B', length: 30, width: 27.875, quantity: 1, turnable: false },
  ],
  stocks: [{ id: 'whole', length: 96, width: 48, price: 60 }],
  kerf: 0.125,
  edgeTrim: 0,
};
export const pattern: SheetPattern = {
  stock: 'whole',
  count: 1,
  root: {
    kind: 'split',
    cut: 'rip',
    ...place(0, 0, 96, 48),
    pieces: [
      {
        kind: 'split',
        cut: 'crosscut',
        ...place(0, 0, 96, 20),
        pieces: [
          { kind: 'part', item: 'A', turned: false, ...place(0, 0, 40, 20) },
          { kind: 'part', item: 'A', turned: false, ...place(40.125, 0, 40, 20) },
          { kind: 'offcut', ...place(80.25, 0, 15.75, 20) },
        ],
      },
      {
        kind: 'split',
        cut: 'crosscut',
        ...place(0, 20.125, 96, 27.875),
        pieces: [
          { kind: 'part', item: 'B', turned: false, ...place(0, 20.125, 30, 27.875) },
          { kind: 'offcut', ...place(30.125, 20.125, 65.875, 27.875) },
        ],
      },
    ],
  },
};

export const plywood: StockItem = { ...stock1x6, key: 'ply', label: '3/4 plywood', sheets: [] };
export const sheet: SheetLayout = {
  stock: plywood,
  species: 'birch',
  sheetLength: inches(96),
  sheetWidth: inches(48),
  sizeLabel: '4 × 8 ft',
  count: 2,
  price: 60,
  edgeTrim: mm(0),
  root: pattern.root,
  cuts: sheetCuts(job, pattern).map((cut) => ({ ...cut, setting: inches(cut.setting) })),
  copyOf: {},
};
