/** Part sizes of the demo plans, worked by hand from the plan's text and the section of each board. */
import { describe, expect, test } from 'vitest';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';

const shop = await shopOf(demoFiles());

/** `thickness x width x length` of a part's copies in the edition's unit, each once, in the order of the copies. */
function sizes(plan: Plan, key: string): string[] {
  const unit = plan.edition.numbers.system === 'inch' ? 25.4 : 1;
  const part = plan.parts.find((item) => item.key === key);
  const all = (part?.copies ?? []).map(({ cut }) =>
    [cut.thickness, cut.width, cut.length].map((value) => Number((value / unit).toFixed(6))).join(' x '),
  );
  return [...new Set(all)];
}

/** Fasteners by kind of joint, of all lengths together. */
const fasteners = (plan: Plan) => {
  const totals: Record<string, number> = {};
  for (const { kind, count } of findJoinery(plan, shop.hardware).fasteners)
    totals[kind] = (totals[kind] ?? 0) + count;
  return totals;
};

describe('potting bench, imperial', () => {
  const plan = planOf(shop, 'potting-bench', 'imperial');
  test.each([
    // worktop face at 36, board 3/4: its underside at 35-1/4; square legs ripped to the 1-1/2 thickness of a 2x4
    ['front-leg', ['1.5 x 1.5 x 35.25']],
    // 50 over all, the pot shelf 3/4 thick lies on top
    ['back-leg', ['1.5 x 1.5 x 49.25']],
    // depth 22: the front leg takes 1 to 2-1/2, the back leg 20-1/2 to 22; 18 between them
    ['end-apron', ['0.75 x 3.5 x 18']],
    ['low-rail', ['0.75 x 3.5 x 18']],
    // width 48: legs 1 to 2-1/2 and 45-1/2 to 47; 43 between them
    ['front-apron', ['0.75 x 3.5 x 43']],
    ['back-apron', ['0.75 x 3.5 x 43']],
    ['low-front-rail', ['0.75 x 3.5 x 43']],
    ['low-back-rail', ['0.75 x 3.5 x 43']],
    // from the back of the front apron, 1-3/4, to the front of the back apron, 20-1/2
    ['bearer', ['0.75 x 3.5 x 18.75']],
    ['low-bearer', ['0.75 x 3.5 x 18.75']],
    // front of the front legs, 1, to the back of the back legs, 22: 21 to fill with 5-1/2 boards and 1/2 gaps: four, the ends
    // (21 - 3 x 1/2 - 2 x 5-1/2) / 2 = 4-1/4; 48 - 2 x 1 long
    ['slat', ['0.75 x 4.25 x 46', '0.75 x 5.5 x 46']],
    // front to the back boards: 22 - 1-1/2 - 3/4 = 19-3/4; four with 1/4 gaps, the ends (19-3/4 - 3/4 - 11) / 2 = 4
    ['top-board', ['0.75 x 4 x 48', '0.75 x 5.5 x 48']],
    // from the top of the back apron, 35-1/4, to the pot shelf, 49-1/4
    ['cleat', ['0.75 x 1.5 x 14']],
    // 14 high: cover 5-1/8 twice, 3-3/4 left; the first without its tongue 5-1/8, then 5-3/8, the last 3-3/4 + 1/4
    ['back-board', ['0.75 x 5.125 x 46', '0.75 x 5.375 x 46', '0.75 x 4 x 46']],
    ['cap', ['0.75 x 5.5 x 48']],
  ])('%s', (key, expected) => expect(sizes(plan, key)).toEqual(expected));

  test('screws', () => {
    // pockets, two at each end of: 2 end aprons, 2 low end rails, 4 long rails, 2 bearers = 10 boards x 2 ends x 2
    // others: slats 4 x (2 rails x 2 + 1), top boards 4 x (2 aprons x 2 + 2), back boards 3 x (2 + 2), pot shelf 2 x 2 + 2 x 1
    expect(fasteners(plan)).toEqual({ 'pocket screws': 40, screws: 20 + 24 + 12 + 6 });
  });
});

describe('potting bench, metric', () => {
  const plan = planOf(shop, 'potting-bench', 'metric');
  test.each([
    // 900 less a 20 mm board; square legs of 45 mm
    ['front-leg', ['45 x 45 x 880']],
    ['back-leg', ['45 x 45 x 1250']],
    // 560 - 25 - 2 x 45 - 0 = 445
    ['end-apron', ['20 x 95 x 445']],
    // 1200 - 2 x 25 - 2 x 45 = 1060
    ['front-apron', ['20 x 95 x 1060']],
    // 445 + 45 - 20
    ['bearer', ['20 x 95 x 470']],
    // 560 - 25 = 535 with 145 mm boards and 12 mm gaps: four, the ends (535 - 36 - 290) / 2 = 104.5
    ['slat', ['20 x 104.5 x 1150', '20 x 145 x 1150']],
    // 560 - 45 - 23 = 492 with 145 mm boards and 6 mm gaps: four, the ends (492 - 18 - 290) / 2 = 92
    ['top-board', ['20 x 92 x 1200', '20 x 145 x 1200']],
    // 1270 - 20 - 880
    ['cleat', ['20 x 45 x 370']],
    // 370 with a cover of 135: 100 left; tongue 10
    ['back-board', ['23 x 135 x 1150', '23 x 145 x 1150', '23 x 110 x 1150']],
  ])('%s', (key, expected) => expect(sizes(plan, key)).toEqual(expected));

  test('screws: the same places, other lumber', () => {
    expect(fasteners(plan)).toEqual({ 'pocket screws': 40, screws: 62 });
  });
});

describe('nest box', () => {
  const inch = planOf(shop, 'nest-box', 'imperial');
  const metric = planOf(shop, 'nest-box', 'metric');
  test.each([
    ['back-panel', '0.75 x 5.5 x 15', '20 x 145 x 380'],
    // as high as the back of the box; the slope is cut from it
    ['side', '0.75 x 5.5 x 10.25', '20 x 145 x 260'],
    // the floor between the sides: 5-1/2 - 2 x 3/4; 145 - 2 x 20
    ['base', '0.75 x 5.5 x 4', '20 x 145 x 105'],
    // the sides' front edges, 5-1/2 tan 10 = 0.970 lower, less the gap for air, down to an eighth: 10.25 - 0.970 - 0.25 = 9.030;
    // 260 - 145 tan 10 (25.567) - 6 = 228.433, down to a millimetre
    ['front-panel', '0.75 x 5.5 x 9', '20 x 145 x 228'],
    ['roof', '0.75 x 5.5 x 7.75', '20 x 145 x 200'],
  ])('%s', (key, inches, millimetres) => {
    expect(sizes(inch, key)).toEqual([inches]);
    expect(sizes(metric, key)).toEqual([millimetres]);
  });

  /**
   * Published guidance for small birds that nest in holes. North America (table for chickadees, titmice and nuthatches, given by naturalists'
   * clubs): floor 4 x 4 in, 8 to 10 in deep, entrance 6 to 8 in above the floor, hole 1-1/8 in for chickadees. Britain (RSPB advice): lower
   * edge of the hole at least 125 mm above the floor, 28 mm for great tits; walls 15 mm or more (BTO guide).
   */
  test.each([
    [inch, 4 * 25.4],
    [metric, 100],
  ] as const)('the room inside follows published guidance', (plan, least) => {
    const bounds = (key: string) => plan.parts.find((part) => part.key === key)!.copies[0]!.bounds;
    const size = (name: string) => plan.sizes.find((item) => item.name === name)!.quantity.value;
    const floor = bounds('base');
    expect(floor.max[0] - floor.min[0]).toBeGreaterThanOrEqual(least - 1e-6);
    expect(floor.max[1] - floor.min[1]).toBeGreaterThanOrEqual(least);
    // Height inside, under the slope of the roof, at the back and at the front of the room.
    const under = plan.parts
      .find((part) => part.key === 'roof')!
      .copies[0]!.faces!.find((face) => face.side === 'reverse')!;
    const heightAt = (y: number) => (under.offset - under.normal[1] * y) / under.normal[2] - floor.max[2];
    for (const height of [heightAt(floor.min[1]), heightAt(floor.max[1])]) {
      expect(height).toBeGreaterThanOrEqual(8 * 25.4);
      expect(height).toBeLessThanOrEqual(10 * 25.4);
    }
    expect(heightAt(floor.max[1]) - heightAt(floor.min[1])).toBeCloseTo(
      (floor.max[1] - floor.min[1]) * Math.tan(Math.PI / 18),
      6,
    );
    // The hole that is bored is the one that is spoken of, its middle so high above the floor.
    const front = plan.parts.find((part) => part.key === 'front-panel')!.copies[0]!;
    const hole = front.shape.find((one) => one.kind === 'hole')!;
    expect(hole.diameter).toBeCloseTo(size('hole-size'), 9);
    expect(front.bounds.min[2] + hole.entry[0] - floor.max[2]).toBeCloseTo(size('hole-height'), 9);
    expect(size('hole-height')).toBeGreaterThanOrEqual(6 * 25.4);
    expect(size('hole-height')).toBeLessThanOrEqual(8 * 25.4);
    expect(size('hole-height') - size('hole-size') / 2).toBeGreaterThanOrEqual(125);
    expect(size('hole-size')).toBeGreaterThanOrEqual(28);
    expect(size('hole-size')).toBeLessThanOrEqual(1.125 * 25.4 + 0.01);
    expect(floor.max[2] - floor.min[2]).toBeGreaterThanOrEqual(15);
  });
});
