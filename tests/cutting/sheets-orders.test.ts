/** Of layouts of one cost that which is best to saw: against trying every way of cutting, and orders counted by hand. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  checkSheets,
  layoutSheets,
  loadSolver,
  type SheetJob,
  type Solver,
  sheetCuts,
} from '../../src/cutting/index.ts';
import { yardOf } from '../../src/cutting/sheets/kinds.ts';
import { allTrees } from '../../src/cutting/sheets/orders.ts';
import { trueSums } from '../../src/cutting/sheets/steps.ts';
import { settingsOf } from '../../src/cutting/sheets/tree.ts';
import { bestByCutting, type Sawn } from './support/orders-by-cutting.ts';
import { randomFrom } from './support/random.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** Two or three parts on a sheet; every third time of sizes that share no step. */
function few(number: number): SheetJob {
  const random = randomFrom(number + 700);
  const odd = (): number => (number % 3 === 0 ? random(0, 96) / 97 : 0);
  const items = Array.from({ length: random(2, 3) }, (_, index) => ({
    id: `item ${index}`,
    length: random(10, 60) + odd(),
    width: random(8, 40) + odd(),
    quantity: 1,
    turnable: random(0, 2) === 0,
  }));
  const stocks = [{ id: 'whole', length: 100, width: 60, price: 10 }];
  return { items, stocks, kerf: random(0, 2), edgeTrim: 0, stages: random(2, 4), useful: random(0, 1) * 12 };
}

describe('one sheet of few parts against trying every way of cutting', () => {
  it('the largest offcut, nearly always; of the same offcut settings and cuts as few as any, nearly always', () => {
    let cases = 0;
    let areas = 0;
    let settings = 0;
    let cuts = 0;
    for (let number = 1; number <= 30; number++) {
      const job = few(number);
      const best = bestByCutting(job);
      const result = layoutSheets(job, solver);
      expect(checkSheets(job, result), `case ${number}`).toEqual([]);
      const [pattern] = result.patterns;
      if (best === undefined || result.sheets !== 1 || pattern === undefined) continue;
      cases++;
      const { offcut } = pattern;
      const own: Sawn = {
        area: offcut ? offcut.length * offcut.width : 0,
        settings: settingsOf(pattern.root, job.kerf),
        cuts: sheetCuts(job, pattern).length,
      };
      // nothing better than the best there is
      expect(own.area, `case ${number}`).toBeLessThanOrEqual(best.area + 1e-6);
      if (own.area < best.area - 1e-6) continue;
      areas++;
      expect(own.settings, `case ${number}`).toBeGreaterThanOrEqual(best.settings);
      if (own.settings > best.settings) continue;
      settings++;
      expect(own.cuts, `case ${number}`).toBeGreaterThanOrEqual(best.cuts);
      if (own.cuts === best.cuts) cuts++;
    }
    expect(cases).toBeGreaterThan(25);
    // a search, but of so few parts it finds nearly always what there is
    expect(areas).toBeGreaterThanOrEqual(cases - 1);
    expect(settings).toBeGreaterThanOrEqual(areas - 1);
    expect(cuts).toBeGreaterThanOrEqual(settings - 1);
  }, 120_000);
});

describe('all orders of cuts', () => {
  const trees = (sides: readonly (readonly [length: number, width: number])[], stages: number): number => {
    const job: SheetJob = {
      items: sides.map(([length, width], index) => ({
        id: `${index}`,
        length,
        width,
        quantity: 1,
        turnable: false,
      })),
      stocks: [{ id: 'sheet', length: 1000, width: 1000, price: 1 }],
      kerf: 0,
      edgeTrim: 0,
      stages,
    };
    const yard = yardOf(job);
    return (
      allTrees(
        yard,
        0,
        yard.kinds.map(({ demand }) => demand),
      )?.length ?? -1
    );
  };
  it('are as many as there are series-parallel arrangements of so many different parts', () => {
    // OEIS A006351, labelled series-parallel networks: 1, 2, 8, 52, 472; nothing is cut so deep that the cap on levels counts
    const sides = [
      [100, 70],
      [110, 60],
      [130, 90],
      [140, 50],
      [150, 40],
    ] as const;
    expect([1, 2, 3, 4, 5].map((count) => trees(sides.slice(0, count), 12))).toEqual([1, 2, 8, 52, 472]);
  });
});

describe('sums of sizes that share no step', () => {
  it('are those of all sets, where no more than two come to one step', () => {
    // sets of 10.3 twice and 7.7: 7.7, 10.3, 18, 20.6, 28.3; 28.3 doesn't fit under 28
    expect(
      trueSums(
        [
          { size: 10.3, count: 2 },
          { size: 7.7, count: 1 },
        ],
        28,
        0.25,
      ).map((sum) => Math.round(sum * 10) / 10),
    ).toEqual([7.7, 10.3, 18, 20.6]);
  });
});
