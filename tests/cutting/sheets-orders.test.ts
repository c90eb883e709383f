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

describe('a sheet with sizes that share no step', () => {
  const item = (id: string, length: number, width: number): SheetJob['items'][number] => ({
    id,
    length,
    width,
    quantity: 1,
    turnable: false,
  });
  it('is crosscut first where that leaves more', () => {
    const job: SheetJob = {
      items: [
        item('A', 413.51, 406.4),
        item('B', 413.51, 406.4),
        item('C', 1462.13, 393.7),
        item('D', 312.73, 393.7),
        item('P', 1485.9, 38.1),
        item('S', 1485.9, 347.67),
      ],
      stocks: [{ id: 'whole', length: 2438.4, width: 1219.2, price: 79 }],
      kerf: 3.175,
      edgeTrim: 0,
      stages: 4,
      useful: 150,
    };
    // rows of A, B and D (413.51 × 2 + 312.73 + 2 kerfs = 1146.1), of C, S and P: 406.4 + 393.7 + 347.67 + 38.1 + 3 kerfs = 1195.395 of 1219.2;
    // the longest is 1485.9, so that a crosscut leaves 2438.4 − 1485.9 − 3.175 = 949.325 by the whole width, 1.157 m². A, B, C and D are too
    // long for one row (2602), so that rips need one of 406.4 and one of 393.7 and leave 1219.2 − 800.1 − 2 kerfs = 412.75 at most, 1.006 m²
    const result = layoutSheets(job, solver);
    expect(checkSheets(job, result)).toEqual([]);
    const [pattern] = result.patterns;
    expect(pattern?.offcut?.length).toBeCloseTo(949.325, 6);
    expect(pattern?.offcut?.width).toBeCloseTo(1219.2, 6);
  });
  it('takes three cuts for two long parts of one length, not one more for each', () => {
    const job: SheetJob = {
      items: [item('H', 1468.4, 324.6), item('J', 1468.4, 286.5)],
      stocks: [{ id: 'whole', length: 2438.4, width: 1219.2, price: 38 }],
      kerf: 3.175,
      edgeTrim: 0,
      stages: 4,
      useful: 150,
    };
    // ripped to 324.6 + 286.5 + 3.175 = 614.275, crosscut to 1468.4, ripped to 324.6, which leaves 286.5; two rips first would ask for a
    // crosscut of each strip
    const result = layoutSheets(job, solver);
    const [pattern] = result.patterns;
    expect(
      pattern &&
        sheetCuts(job, pattern).map(({ kind, setting }) => [kind, Math.round(setting * 1000) / 1000]),
    ).toEqual([
      ['rip', 614.275],
      ['crosscut', 1468.4],
      ['rip', 324.6],
    ]);
    // 1219.2 − 614.275 − 3.175
    expect(pattern?.offcut?.width).toBeCloseTo(601.75, 6);
  });
});
