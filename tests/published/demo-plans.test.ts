/** Part sizes of the demo plans, worked by hand from the plan's text and the section of each board. */
import { describe, expect, test } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { printed, sizeText } from '../../src/units.ts';
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
    // others: slats 4 x (2 rails x 2 + 1), top boards 4 x (2 aprons x 2 + 2) less one at
    // each apron in the first, which reaches it over less than twice the least spacing, back boards 3 x (2 + 2), pot shelf 2 x 2 + 2 x 1
    expect(fasteners(plan)).toEqual({ 'pocket screws': 40, screws: 20 + 24 - 2 + 12 + 6 });
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
    expect(fasteners(plan)).toEqual({ 'pocket screws': 40, screws: 60 });
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

describe('window seat', () => {
  // Imperial: plywood 23/32 and 1/4, boards 3/4; outline 60 x 17-1/2 x 17, the underside of the lid at 17 - 23/32 = 16-9/32. Metric: plywood
  // 18 and 6.5, boards 20; 1500 x 450 x 430, the lid's underside at 412.
  const inch = planOf(shop, 'window-seat', 'imperial', 'standard');
  const metric = planOf(shop, 'window-seat', 'metric', 'standard');
  test.each([
    // behind overhang and frame, 1-1/2, to the back, 17-1/2; 40 to 450
    ['end', '0.71875 x 16 x 16.28125', '18 x 410 x 412'],
    // between the ends 60 - 2 x 1-15/32 = 57-1/16, and 1/4 into each; 1500 - 2 x 38 = 1424 and 6 into each. Deep from behind the front panel,
    // 1-3/4, to the back panel, 17-1/4; 46.5 to 443.5
    ['base', '0.71875 x 15.5 x 57.5625', '18 x 397 x 1436'],
    // from 1/4 down in the bottom, 3-1/2 + 23/32 - 1/4 = 3-31/32; from 95 + 18 - 6 = 107
    ['partition', '0.71875 x 15.5 x 12.3125', '18 x 397 x 305'],
    ['front-foot', '0.75 x 3.5 x 57.0625', '20 x 95 x 1424'],
    ['back-foot', '0.75 x 3.5 x 57.0625', '20 x 95 x 1424'],
    ['wall-rail', '0.75 x 3.5 x 57.0625', '20 x 95 x 1424'],
    // 3/8 into each end: 57-1/16 + 3/4; 1424 + 18. High from the underside of the bottom, 3-1/2, to the lid; 95 to 412
    ['back-panel', '0.25 x 12.78125 x 57.8125', '6.5 x 317 x 1442'],
    // up to 1 behind the top rail, whose lower edge is at 16-9/32 - 2-1/2; 412 - 70 + 25 = 367
    ['front-panel', '0.25 x 11.28125 x 57.8125', '6.5 x 272 x 1442'],
    ['stile', '0.75 x 2.5 x 12.78125', '20 x 70 x 317'],
    // 60 - 2 x 3/4 - 2 x 2-1/2; 1500 - 40 - 140
    ['top-rail', '0.75 x 2.5 x 53.5', '20 x 70 x 1320'],
    ['bottom-rail', '0.75 x 1.5 x 53.5', '20 x 45 x 1320'],
    // from 3-1/2 + 1-1/2 to 13-25/32; from 95 + 45 to 342
    ['mid-stile', '0.75 x 2.5 x 8.78125', '20 x 70 x 202'],
    // 2-1/4 less its edge of 3/4; 55 - 20
    ['strip', '0.71875 x 1.5 x 58.5', '18 x 35 x 1460'],
    ['strip-edge', '0.75 x 0.71875 x 60', '20 x 18 x 1500'],
    ['strip-end', '0.75 x 0.71875 x 1.5', '20 x 18 x 35'],
    // 17-1/2 - 2-1/4 - 1/16 = 15-3/16, less two edges of 3/4; 450 - 55 - 2 - 40
    ['lid', '0.71875 x 13.6875 x 58.5', '18 x 353 x 1460'],
    ['lid-end', '0.75 x 0.71875 x 13.6875', '20 x 18 x 353'],
    ['lid-front', '0.75 x 0.71875 x 60', '20 x 18 x 1500'],
    ['lid-back', '0.75 x 0.71875 x 60', '20 x 18 x 1500'],
    // from 3/4 behind the front panel, 2-1/2, to 1 before the back of the lid, 14-3/16; 66.5 to 368
    ['batten', '0.75 x 1.5 x 11.6875', '20 x 45 x 301.5'],
  ])('%s', (key, inches, millimetres) => {
    expect(sizes(inch, key)).toEqual([inches]);
    expect(sizes(metric, key)).toEqual([millimetres]);
  });

  test('fasteners', () => {
    // pockets: wall rail and two feet 2 x 2 each, the strip 4, top rail 2 x 2, bottom rail 2 x 1, middle stile 2 + 2; screws: 2 feet x 4, one
    // partition, 4 battens x 3; pins in the back: 2 ends x 4, bottom 6, rail 6, partition 3; in front: 2 x 3, 6, 3
    const expected = { 'pocket screws': 12 + 4 + 4 + 2 + 4, screws: 8 + 1 + 12, nails: 23 + 15 };
    expect(fasteners(inch)).toEqual(expected);
    expect(fasteners(metric)).toEqual(expected);
  });

  test.each(['imperial', 'metric'])('the long one has a bay more: %s', (edition) => {
    const plan = planOf(shop, 'window-seat', edition, 'long');
    const count = (key: string) => plan.parts.find((part) => part.key === key)!.copies.length;
    // 72 - 2-15/16 = 69-1/16 between the ends in bays of 30 at most: three; 1800 - 76 = 1724 in bays of 750: three
    expect([count('partition'), count('mid-stile'), count('batten')]).toEqual([2, 2, 6]);
    const base = plan.parts.find((part) => part.key === 'base')!.copies[0]!;
    const holes = base.shape.filter((one) => one.kind === 'hole').map((hole) => hole.entry[0]);
    expect(holes).toHaveLength(9);
    expect(plan.hardware.find(({ item }) => item.key === 'lid-hinge')?.count).toBe(3);
    // A hole keeps its edge of 12.5 and a batten its half width of 22.5 clear of every partition, 9 either side of its middle.
    const middles = (key: string) =>
      plan.parts
        .find((part) => part.key === key)!
        .copies.map(({ bounds }) => (bounds.min[0] + bounds.max[0]) / 2);
    for (const partition of middles('partition')) {
      for (const hole of holes) expect(Math.abs(base.bounds.min[0] + hole - partition)).toBeGreaterThan(25);
      for (const batten of middles('batten')) expect(Math.abs(batten - partition)).toBeGreaterThan(35);
    }
  });
});

describe('step stool', () => {
  // With the legs' angles a to the sides and b to the front, worked by hand. A leg runs along (tan a, tan b, 1), of length N; its front face holds
  // level lines, so its foot's corner is at left, front, floor, and its right face lies where x = s N cos b + tan a (sin b d + z), d square
  // behind its front face; its back where y = s / cos b + tan b z. s is its thickness.
  const rad = (degrees: number) => (degrees * Math.PI) / 180;
  const [a, b] = [rad(8), rad(6)];
  const [N, tan, sin, cos] = [Math.hypot(1, Math.tan(a), Math.tan(b)), Math.tan, Math.sin, Math.cos];
  const stools = [
    // Outline 18 x 13 x 10 under a seat of 1; legs 1-1/2, rails 2-1/2 x 3/4, 1/4 behind the faces of the legs, 1/4 into them.
    [
      'imperial',
      {
        unit: 25.4,
        width: 18,
        depth: 13,
        under: 9,
        leg: 1.5,
        rail: 2.5,
        thick: 0.75,
        inset: 0.25,
        deep: 0.25,
      },
    ],
    // 460 x 330 x 250 under a seat of 28; legs 45, rails 60 x 20, 6 behind the faces and 6 deep.
    [
      'metric',
      { unit: 1, width: 460, depth: 330, under: 222, leg: 45, rail: 60, thick: 20, inset: 6, deep: 6 },
    ],
  ] as const;
  test.each(stools)('%s', (edition, { unit, width, depth, under, leg, rail, thick, inset, deep }) => {
    const plan = planOf(shop, 'step-stool', edition);
    const length = (key: string) => plan.parts.find((part) => part.key === key)!.copies[0]!.cut.length / unit;
    // Both ends level: each edge under · N long, and the ends out of square by s in both ways.
    expect(length('leg')).toBeCloseTo(under * N + leg * (N * sin(b) + tan(a) * cos(b)), 6);
    // The long rail's lower front edge: its upper edge is planed level, the blank's width left at the back. It is placed at the foot of a
    // rail of that width upright. Its ends are square through the thickness, so its lower edge is its length; both ends go in so deep,
    // square to the leg: deep · N cos b along the rail.
    const z = under - rail * cos(b) + thick * sin(b);
    const y = (under - rail) * tan(b) + inset;
    const x = leg * N * cos(b) + tan(a) * (sin(b) * (cos(b) * y - sin(b) * z) + z);
    expect(length('long-rail')).toBeCloseTo(width - 2 * x + 2 * deep * N * cos(b), 6);
    // The end rail's lowest edge is its inner one.
    const low = under - rail * cos(a);
    expect(length('end-rail')).toBeCloseTo(
      depth - 2 * (leg / cos(b) + tan(b) * low) + (2 * deep) / cos(b),
      6,
    );
    // One end of each rail in each leg, and the seat by two screws in each end rail.
    for (const copy of plan.parts.find((part) => part.key === 'leg')!.copies)
      expect(copy.shape.filter((one) => one.kind === 'box').map((one) => one.face)).toEqual([
        'right',
        'back',
      ]);
    expect(fasteners(plan)).toEqual({ 'pocket screws': 4 });
  });
  test('as printed: 9-1/2, 13-5/8 and 9-1/8 in; 236, 335 and 217 mm', () => {
    // With a calculator, N = 1.015284. Inches: 9 N + 1.5 (0.106126 + 0.139771) = 9.506; d = 0.239, x = 1.5146 + 0.1405 (0.025 + 6.592) = 2.4446,
    // 18 - 4.889 + 0.505 = 13.616; low = 6.524, y = 1.508 + 0.686, 13 - 4.388 + 0.503 = 9.115. Millimetres: 225.39 + 11.07 = 236.5 less
    // a hair; x = 45.44 + 0.1405 (0.60 + 164.42) = 68.63, 460 - 137.26 + 12.12 = 334.9; low = 162.58, y = 45.25 + 17.09, 330 - 124.67 + 12.07 = 217.4.
    for (const [edition, printedLengths] of [
      ['imperial', ['9 1/2″', '13 5/8″', '9 1/8″']],
      ['metric', ['236', '335', '217']],
    ] as const) {
      const plan = planOf(shop, 'step-stool', edition);
      const lengths = ['leg', 'long-rail', 'end-rail'].map(
        (key) => cutList(plan).rows.find((row) => row.part === key)!.length,
      );
      expect(lengths.map((one) => sizeText(printed(one, plan.edition.numbers)).replace(' mm', ''))).toEqual(
        printedLengths,
      );
    }
  });
});

describe('holes in a row, in the cut list', () => {
  const noteOf = (slug: string, edition: 'imperial' | 'metric', key: string): string => {
    const rows = cutList(planOf(shop, slug, edition)).rows.filter(({ part }) => part === key);
    return rows.flatMap(({ notes }) => notes.map(lineText)).join('; ');
  };
  test.each([
    // room 60 - 2 x (3/4 + 23/32) = 57 1/16 in six parts: 9.5104, five of them 47.552; but 5 x 9 1/2 = 47 1/2
    ['window-seat', 'imperial', 'base', 'evenly over 47 9/16″'],
    // (1500 - 2 x (20 + 18)) / 6 = 237.33, five of them 1186.7; but 5 x 237 = 1185
    ['window-seat', 'metric', 'base', 'evenly over 1187 mm'],
    // 32 - 2 x 4 = 24 in four spaces; 810 - 2 x 105 = 600
    ['coat-rack', 'imperial', 'board', '6″ apart'],
    ['coat-rack', 'metric', 'board', '150 mm apart'],
  ] as const)('of %s, %s', (slug, edition, key, said) => {
    expect(noteOf(slug, edition, key)).toContain(said);
  });
});
