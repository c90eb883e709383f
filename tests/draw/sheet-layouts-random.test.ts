/** Sheet layouts of plans drawn by chance: no word or number lies over another, over a line or over a leader. */
import { beforeAll, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { Desk } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { composeSheets } from '../../src/draw/layouts/sheet-layouts.ts';
import type { Plan } from '../../src/model/types.ts';
import type { StockItem } from '../../src/read/types.ts';
import { mm } from '../../src/units.ts';
import { boards } from '../cutting/support/boards.ts';
import { randomFrom } from '../cutting/support/random.ts';
import { samplePlan, sampleStock, stock1x6 } from '../support/sample.ts';
import { overlaps } from './clear.ts';
import { metric } from './plans.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
  await loadSvg();
});

const size = (length: number, width: number, label: string) => ({
  length: mm(length),
  width: mm(width),
  label,
  prices: { pine: length / 40 },
});
const ply: StockItem = {
  ...stock1x6,
  key: 'ply-18',
  label: '18 mm plywood',
  thickness: mm(18),
  width: mm(2440),
  lengths: [],
  sheets: [size(1220, 1220, '1220 × 1220'), size(2440, 1220, '1220 × 2440')],
  grain: 'long',
};

/** Up to 24 parts of up to six kinds, from strips of 1 in to panels of 40 × 94 in, by the number of the plan. */
function planOf(number: number): Plan {
  const random = randomFrom(number);
  const parts = Array.from({ length: random(1, 6) }, (_, at) => {
    const width = random(16, 640) / 16;
    const sizes = Array.from({ length: random(1, 4) }, () => [random(32, 1500) / 16, width] as const);
    return boards(`part-${at}`, ply, sizes);
  });
  const edition = random(0, 1) === 0 ? samplePlan.edition : metric;
  return { ...samplePlan, edition, parts, stockList: { ...sampleStock, items: [ply] } };
}

/** Each of these once had words over words, or a leader through the number of a cut, as one plan in fifteen had. */
const NUMBERS = [15, 44, 81, 107, 126, 189, 202, 243, 263, 266];

it.each(NUMBERS)('keeps all lettering of plan %i clear, on the sheet and on a phone', (number) => {
  const plan = planOf(number);
  const layouts = layOutPlan(plan, cutList(plan), solver).value;
  const desk = new Desk({ ...workOf({ ...plan, parts: [] }), plan, layouts });
  for (const place of ['sheet', 'narrow'] as const) {
    const drawings = composeSheets(desk, place, []);
    expect(drawings.length).toBeGreaterThan(0);
    for (const one of drawings)
      expect(overlaps(readSvg(desk.finish(one, place).svg)), `${place} ${one.id}`).toEqual([]);
  }
});
