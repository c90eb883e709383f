/** What a sheet can be worth, and the classes of bin packing cases, against published optima. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  checkSheets,
  layoutSheets,
  loadSolver,
  type SheetJob,
  type SheetPiece,
  type Solver,
} from '../../src/cutting/index.ts';
import { blockTree } from '../../src/cutting/sheets/block-tree.ts';
import { yardOf } from '../../src/cutting/sheets/kinds.ts';
import { stackSheets } from '../../src/cutting/sheets/stacking.ts';
import { stepsOf } from '../../src/cutting/sheets/steps.ts';
import { placed } from '../../src/cutting/sheets/tree.ts';
import { Worths } from '../../src/cutting/sheets/worths.ts';
import { classCase, classJob } from './support/classes.ts';
import { limited, unlimited, type ValueCase } from './support/guillotine.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** Deep enough for any layout of these cases: the tables end by themselves where a level more brings nothing. */
const LEVELS = 20;

/** A case as a job: each part as often as it may be cut, or as often as it fits. */
const jobOf = ({ length, width, parts }: ValueCase, turnable: boolean): SheetJob => ({
  items: parts.map(([l, w, , most], index) => ({
    id: `${index}`,
    length: l,
    width: w,
    quantity: most ?? Math.floor((length * width) / (l * w)),
    turnable,
  })),
  stocks: [{ id: 'sheet', length, width, price: 1 }],
  kerf: 0,
  edgeTrim: 0,
  stages: LEVELS,
});

describe('the most that a sheet can be worth, parts without limit (OR-Library, gcut)', () => {
  it.each(unlimited.map((one) => [one.name, one] as const))('%s', (_, one) => {
    for (const turnable of one.turned === undefined ? [false] : [false, true]) {
      const yard = yardOf(jobOf(one, turnable));
      const worths = new Worths(stepsOf(yard, 3000), LEVELS);
      const areas = yard.kinds.map((kind) => kind.length * kind.width);
      expect(worths.compute(areas)).toEqual([turnable ? one.turned : one.best]);
      // what it finds again adds up to the same
      const counts = worths.counts(0);
      expect(areas.reduce((sum, area, kind) => sum + area * (counts[kind] as number), 0)).toBe(
        turnable ? one.turned : one.best,
      );
    }
  });
});

describe('the most that a sheet can be worth, so many of each part (OR-Library, cgcut)', () => {
  it.each(limited.map((one) => [one.name, one] as const))(
    '%s',
    (_, one) => {
      const job = jobOf(one, false);
      const yard = yardOf(job);
      const kinds = yard.kinds.map(({ items }) => one.parts[Number(items[0]?.id)]?.[2] as number);
      const steps = stepsOf(yard, 3000);
      const worths = new Worths(steps, LEVELS);
      const [most] = worths.compute(kinds) as [number];
      expect(most).toBeGreaterThanOrEqual(one.best);
      // all sheets of that worth and more are built: none is worth more than the published one
      const budget = { loss: most - one.best, share: 1, waste: Infinity, looks: 1e9, blocks: 2e6 };
      const { blocks, sheets, complete } = stackSheets(yard, steps, worths, kinds, budget);
      expect(complete).toBe(true);
      expect(Math.max(...sheets.map(({ block }) => blocks.worth[block] as number))).toBe(one.best);
      // and it can be cut: the checker walks its tree
      const best = sheets.find(({ block }) => blocks.worth[block] === one.best) as { block: number };
      const tree = blockTree(yard, steps, blocks, 0, best.block);
      if (tree === undefined) throw new Error('a sheet without its cuts');
      const root = placed(tree, 0, 0, 0, (kind) => yard.kinds[kind]?.items[0]?.id as string);
      const items = job.items.map((item) => ({ ...item, quantity: countOf(root, item.id) }));
      const offcut = largestOf(root);
      expect(
        checkSheets(
          { ...job, items },
          {
            patterns: [{ stock: 'sheet', count: 1, root, ...(offcut && { offcut }) }],
            cost: 1,
            sheets: 1,
            bound: 1,
            boundFor: 'levels',
            status: 'proved best',
            gap: 0,
            unplaced: [],
          },
        ),
      ).toEqual([]);
      yard.kinds.forEach(({ demand, items: own }) => {
        expect(countOf(root, own[0]?.id as string)).toBeLessThanOrEqual(demand);
      });
    },
    120_000,
  );
});

const leaves = (piece: SheetPiece): SheetPiece[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leaves) : [piece];
const countOf = (root: SheetPiece, id: string): number =>
  leaves(root).filter((leaf) => leaf.kind === 'part' && leaf.item === id).length;
const largestOf = (root: SheetPiece): { length: number; width: number } | undefined =>
  leaves(root)
    .filter((leaf) => leaf.kind === 'offcut')
    .sort((a, b) => b.length * b.width - a.length * a.width)[0];

describe('classes of Berkey and Wang, and of Martello and Vigo', () => {
  it('are made as their generator makes them: first and last parts of published cases', () => {
    // from the published files of the ten classes, height by width as the generator makes them
    const made = (kind: number, parts: number, number: number): string[] => {
      const { sizes } = classCase(kind, parts, number);
      return [...sizes.slice(0, 4), ...sizes.slice(-2)].map(([high, wide]) => `${high}x${wide}`);
    };
    expect(made(1, 20, 1)).toEqual(['9x5', '2x4', '6x10', '7x5', '3x8', '7x8']);
    expect(made(6, 100, 10)).toEqual(['76x88', '23x22', '9x91', '57x82', '24x70', '34x91']);
    expect(made(7, 20, 3)).toEqual(['32x85', '26x25', '32x93', '46x96', '42x36', '17x66']);
    expect(made(8, 60, 5)).toEqual(['12x78', '96x29', '94x90', '89x47', '39x7', '45x29']);
    expect(made(9, 20, 1)).toEqual(['75x56', '77x97', '73x62', '84x98', '70x62', '42x10']);
    expect(made(10, 40, 10)).toEqual(['36x17', '26x18', '54x63', '64x72', '37x78', '86x90']);
  });

  /**
   * A layout whose count equals a bound that holds for all layouts is best, whoever counted before. 20 parts, the first three cases of
   * each class.
   */
  it('20 parts: at least 29 of 30 are proved best', () => {
    let proved = 0;
    for (let kind = 1; kind <= 10; kind++)
      for (let number = 1; number <= 3; number++) {
        const job = classJob(kind, 20, number);
        const result = layoutSheets(job, solver);
        expect(checkSheets(job, result), `class ${kind}, case ${number}`).toEqual([]);
        expect(result.sheets - result.bound, `class ${kind}, case ${number}`).toBeLessThanOrEqual(1);
        if (result.status === 'proved best') proved++;
      }
    expect(proved).toBeGreaterThanOrEqual(29);
  }, 300_000);
});
