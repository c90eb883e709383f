/** Glue and finish by area, and what is left over; the sums are worked in the comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { packagesByArea } from '../../src/cutting/coverage.ts';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { keptPieces, materialUse } from '../../src/cutting/left-over.ts';
import type { Joinery } from '../../src/joinery/types.ts';
import type { HardwareUse } from '../../src/model/types.ts';
import { readHardware } from '../../src/read/hardware.ts';
import { boxPart, samplePlan, stock1x4 } from '../support/sample.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const none: Joinery = { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] };
const file = (covers: string, more = ''): ReturnType<typeof readHardware> =>
  readHardware(
    'content/hardware/finish.yaml',
    `oil:\n  name: Oil\n  package: 1\n  price: { USD: 20.00 }\n  covers: ${covers}\n${more}`,
  );
const use = (
  covers: string,
  count: number,
  more: Partial<HardwareUse> & { joint?: string } = {},
): HardwareUse => {
  const item = file(covers, more.joint ? `  fits: { joint: ${more.joint}, from: 3 mm, to: 100 mm }\n` : '')
    .value[0];
  if (item === undefined) throw new Error('the item was not read');
  return { item, count, origin: item.origin, ...(more.on ? { on: more.on } : {}) };
};

describe('finish by area', () => {
  /*
   * The sample bench in square inches: four legs of 1 1/2 × 3 1/2 × 17 1/4: 2 × (17.25·3.5 + 17.25·1.5 + 3.5·1.5) = 183 each, 732;
   * two aprons of 3/4 × 3 1/2 × 33: 2 × (115.5 + 24.75 + 2.625) = 285.75 each, 571.5;
   * two top boards of 3/4 × 5 1/2 × 40: 2 × (220 + 30 + 4.125) = 508.25, 1016.5; one 3 1/2 wide: 2 × (140 + 30 + 2.625) = 345.25.
   * In all 2665.25 in² = 1.7195 m² (1 in² = 645.16 mm²).
   */
  it('counts coats over the whole piece, in whole packages', () => {
    expect(packagesByArea(samplePlan, none, use('1.72 m2', 1))).toBe(1);
    expect(packagesByArea(samplePlan, none, use('1.71 m2', 1))).toBe(2);
    expect(packagesByArea(samplePlan, none, use('1.72 m2', 3))).toBe(3);
    // 1 sq ft = 144 in²: 2665.25 / 144 = 18.51
    expect(packagesByArea(samplePlan, none, use('18.6 sq ft', 1))).toBe(1);
    expect(packagesByArea(samplePlan, none, use('18.5 sq ft', 1))).toBe(2);
  });
  it('covers the part that it goes on alone', () => {
    // 571.5 in² = 0.3687 m²
    expect(packagesByArea(samplePlan, none, use('0.37 m2', 1, { on: 'apron.front' }))).toBe(1);
    expect(packagesByArea(samplePlan, none, use('0.36 m2', 1, { on: 'apron.front' }))).toBe(2);
  });
  it('leaves out what joints hide, and glues them', () => {
    const contact = {
      first: 'apron.1',
      second: 'leg.1',
      normal: [1, 0, 0] as const,
      area: 300_000,
      bounds: { min: [0, 0, 0] as const, max: [0, 0, 0] as const },
    };
    const joint = { join: 'apron', to: 'leg', by: 'glue' as const, origin: samplePlan.parts[0]!.origin };
    const glued: Joinery = { ...none, places: [{ joint, contact, count: 0 }] };
    // 1.7195 − 2 × 0.3 = 1.1195 m² are left for the finish; 0.3 m² take glue
    expect(packagesByArea(samplePlan, glued, use('1.12 m2', 1))).toBe(1);
    expect(packagesByArea(samplePlan, glued, use('1.11 m2', 1))).toBe(2);
    expect(packagesByArea(samplePlan, glued, use('0.3 m2', 1, { joint: 'glue' }))).toBe(1);
    expect(packagesByArea(samplePlan, glued, use('0.2 m2', 1, { joint: 'glue' }))).toBe(2);
  });
  it('an item that says nothing of area is counted as it is', () => {
    const { covers: _, ...item } = use('1 m2', 1).item;
    expect(packagesByArea(samplePlan, none, { ...use('1 m2', 4), item })).toBe(4);
  });
  /*
   * Two shelves of 30 × 9 in that run across, banded at the front and the left: 2 × (30 + 1 + 9 + 1) = 82 in, 6.83 ft, 2.0828 m. A face named
   * twice is one edge. Of a pair an edition takes its side.
   */
  it('banding is bought by the length of the edges, an inch longer each', () => {
    const shelves = boxPart('shelf', stock1x4, 'across', 'top', [
      [
        [0, 0, 0],
        [30, 9, 0.75],
      ],
      [
        [0, 0, 5],
        [30, 9, 5.75],
      ],
    ]);
    const plan = { ...samplePlan, parts: [{ ...shelves, banded: ['front', 'left', 'front'] as const }] };
    expect(packagesByArea(plan, none, use('7 ft', 1))).toBe(1);
    expect(packagesByArea(plan, none, use('6.8 ft', 1))).toBe(2);
    expect(packagesByArea(plan, none, use('7 ft | 1 m', 2))).toBe(2);
    const metric = { ...plan, edition: { ...plan.edition, side: 'right' as const } };
    expect(packagesByArea(metric, none, use('1 ft | 2.09 m', 1))).toBe(1);
    expect(packagesByArea(metric, none, use('1 ft | 2.08 m', 1))).toBe(2);
    expect(packagesByArea(samplePlan, none, use('7 ft', 1))).toBe(0);
  });
  it('an area that can not be read is a fault', () => {
    expect(file('10 litres').diagnostics[0]?.id).toBe('hardware-file.value');
  });
});

describe('what is left over', () => {
  /*
   * Boards bought (see layouts.test.ts): 2x4, 1x4 and 1x6 of 6 ft and 1x6 of 8 ft. Left over: of the 2x4 2 1/8 in, of the 1x4 5 3/8; of
   * the 8 ft 1x6 95 5/8 − 2 × 40 1/8 = 15 3/8, of the 6 ft one 71 5/8 − 40 1/8 = 31 1/2 in, both 12 in or more. The ripped third top
   * board lies on one of the two.
   */
  it('is listed where it is worth keeping, and the rest is waste', () => {
    const { value } = layOutPlan(samplePlan, cutList(samplePlan), solver);
    const kept = keptPieces(value);
    expect(kept.map((one) => [one.stock, one.count])).toEqual([
      ['1x6', 1],
      ['1x6', 1],
    ]);
    expect(kept.map((one) => one.length / 25.4)).toEqual([
      expect.closeTo(31.5, 6),
      expect.closeTo(15.375, 6),
    ]);
    // bought in in²: 72 × 3.5 × 2 + 72 × 5.5 + 96 × 5.5 = 1428; parts 4 × 17.25 × 3.5 + 2 × 33 × 3.5 + 2 × 40 × 5.5 + 40 × 3.5 = 1052.5;
    // kept (31.5 + 15.375) × 5.5 = 257.8125; waste 1 − 1310.3125 / 1428 = 8.241 %
    const used = materialUse(value);
    expect((used?.bought ?? 0) / 645.16e-6).toBeCloseTo(1428, 6);
    expect((used?.parts ?? 0) / 645.16e-6).toBeCloseTo(1052.5, 6);
    expect(used?.waste).toBeCloseTo(1 - 1310.3125 / 1428, 9);
  });
});
