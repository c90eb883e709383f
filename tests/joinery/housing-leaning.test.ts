/** Joints by housing of boards that lean and of braces: lengths and volumes worked by hand in the comments; mm. */

import { describe, expect, it } from 'vitest';
import { findJoinery } from '../../src/joinery/index.ts';
import type { BoxCut } from '../../src/model/shape.ts';
import type { Plan } from '../../src/model/types.ts';
import { type Blocks, box, built, metric, part, shop } from '../resolve/shop.ts';
import { fc } from '../support/random.ts';
import { boxes, overlapsOf, volume } from './housed.ts';

describe('rails housed in legs that lean both ways', () => {
  // Worked by hand. With tangents ta = tan 8 and tb = tan 6 the leg runs along (ta, tb, 1) / N, N = √(1 + ta² + tb²). Its front face holds
  // the piece's level line, so that its outward normal is (0, -cos 6, sin 6); that of its right face is square to both:
  // (1 / cos 6, -ta sin 6, -ta cos 6) / N. A rail that runs across meets it at n = 1 / (N cos 6), one that runs deep its back at cos 6.
  const [ta, tb] = [Math.tan((8 * Math.PI) / 180), Math.tan((6 * Math.PI) / 180)];
  const N = Math.sqrt(1 + ta * ta + tb * tb);
  const across = 1 / (N * Math.cos((6 * Math.PI) / 180));
  const deep = Math.cos((6 * Math.PI) / 180);
  const SECTION = 18 * 60;
  const STOOL = (joints: string): Blocks => ({
    sizes: 'outline: { width: 600 mm, depth: 400 mm, height: 400 mm }',
    parts: `leg:
  stock: 45x95
  rip: 45 mm
  runs: up
  wide face: front
  lean: { left: 8 deg, front: 6 deg }
  at: { bottom: floor, top: top, left: left, front: front }
  copies: mirrored left-right and front-back
long-rail:
  stock: 18x95
  rip: 60 mm
  runs: across
  wide face: front
  between: leg
  at: { top: top - 100 mm, front: leg.front + 270 mm * tan(6 deg) + 13 mm }
  copies: mirrored front-back
end-rail:
  stock: 18x95
  rip: 60 mm
  runs: deep
  wide face: left
  between: leg
  at: { top: top - 100 mm, left: leg.left + 270 mm * tan(8 deg) + 13 mm }
  copies: mirrored left-right`,
    joints,
  });
  const JOINTS = `- { join: long-rail, to: leg, by: housing, depth: 9 mm }
- { join: end-rail, to: leg, by: housing, depth: 6 mm }`;
  const plain = built(STOOL('[]'), metric);
  const plan = built(STOOL(JOINTS), metric);

  it('the rails are longer along their axis by what a square depth is there', () => {
    const long = (of: Plan, key: string) => part(of, key).copies[0]!.cut.length;
    expect(long(plan, 'long-rail') - long(plain, 'long-rail')).toBeCloseTo((2 * 9) / across, 9);
    expect(long(plan, 'end-rail') - long(plain, 'end-rail')).toBeCloseTo((2 * 6) / deep, 9);
    expect(part(plan, 'long-rail').housed).toEqual([
      { face: 'left', depth: 9, into: 'leg' },
      { face: 'right', depth: 9, into: 'leg' },
    ]);
  });

  it('each leg loses the oblique prisms of the two ends, section × depth / n', () => {
    const lost = (SECTION * 9) / across + (SECTION * 6) / deep;
    for (const copy of ['leg.1', 'leg.2', 'leg.3', 'leg.4']) {
      const whole = volume(plain, copy);
      expect(whole - volume(plan, copy), copy).toBeCloseTo(lost, 1);
    }
    for (const rail of ['long-rail.1', 'long-rail.2'])
      expect(volume(plan, rail) - volume(plain, rail)).toBeCloseTo((2 * SECTION * 9) / across, 1);
    expect(overlapsOf(plan)).toEqual([]);
  });

  it('stopped before the top of the leg, the rail is notched along the leg’s end', () => {
    // A rail as high as the legs, its upper edge level like their ends: the stop lies square to the leg's level end, 15 below it.
    const flush = (joint: string) =>
      built(
        {
          ...STOOL(joint),
          parts: STOOL('[]').parts.replaceAll('top - 100 mm', 'top').replaceAll('270', '370'),
        },
        metric,
      );
    const through = flush('- { join: long-rail, to: leg, by: housing, depth: 9 mm }');
    const stopped = flush(
      '- { join: long-rail, to: leg, by: housing, depth: 9 mm, stopped: { top: 15 mm } }',
    );
    // What is left in the leg is what the notch takes off the rail's end: 18 × 15 of its section, slanting as before.
    const left = (18 * 15 * 9) / across;
    expect(volume(stopped, 'leg.1') - volume(through, 'leg.1')).toBeCloseTo(left, 1);
    expect(volume(through, 'long-rail.1') - volume(stopped, 'long-rail.1')).toBeCloseTo(2 * left, 1);
    expect(overlapsOf(stopped)).toEqual([]);
    expect(boxes(stopped, 'long-rail').map(({ name }) => name)).toEqual(['notch', 'notch']);
  });

  it('its floor lies along the face, so deep, and its walls along the rail', () => {
    for (const copy of part(plan, 'leg').copies) {
      const cuts = copy.shape.filter((one): one is BoxCut => one.kind === 'box');
      expect(cuts.map(({ face, depth }) => [face, depth])).toEqual([
        ['right', 9],
        ['back', 6],
      ]);
      // In the leg's own frame x runs up it, y across, z out of its front. Square to the right is y, whichever way its frame counts.
      const [cut] = cuts;
      const floor = cut!.planes.find(({ normal }) => Math.abs(Math.abs(normal[1]) - 1) < 1e-9)!;
      expect(Math.min(Math.abs(floor.offset), 45 - Math.abs(floor.offset))).toBeCloseTo(9, 9);
      // The rail's upper edge is level: to the leg's own length its normal (0, 0, 1) makes 1 / N.
      expect(cut!.planes.filter(({ normal }) => Math.abs(Math.abs(normal[0]) - 1 / N) < 1e-9)).toHaveLength(
        2,
      );
    }
  });

  it('the glued area is that of the slanting end on its floor', () => {
    const glued = built(STOOL(`${JOINTS}\n- { join: long-rail, to: leg, by: glue }`), metric);
    const { places, diagnostics } = findJoinery(glued, shop.hardware);
    expect(diagnostics).toEqual([]);
    const glue = places.filter(({ joint }) => joint.by === 'glue');
    expect(glue).toHaveLength(4);
    for (const { contact } of glue) expect(contact.area).toBeCloseTo(SECTION / across, 6);
  });
});

describe('whatever the lean', () => {
  it('a leg loses the oblique prism of the end and nothing overlaps', () => {
    const tenth = (most: number) => fc.integer({ min: 0, max: most * 10 }).map((v) => v / 10);
    const upright = fc.constantFrom('', 'lean: { front: FRONT deg }');
    fc.assert(
      fc.property(
        tenth(12),
        tenth(12),
        fc.integer({ min: 3, max: 20 }),
        upright,
        (side, front, depth, lean) => {
          const mid = 270;
          const parts = `leg: { stock: 45x95, rip: 45 mm, runs: up, wide face: front, lean: { left: ${side} deg, front: ${front} deg }, at: { bottom: floor, top: 400 mm, left: left, front: front }, copies: mirrored left-right }
rail:
  stock: 18x95
  rip: 50 mm
  runs: across
  wide face: front
  between: leg
  ${lean.replace('FRONT', String(front))}
  at: { top: ${mid + 25} mm, front: leg.front + ${mid - 25} mm * tan(${front} deg) + 12 mm }`;
          const plain = built({ parts }, metric);
          const plan = built(
            { parts, joints: `- { join: rail, to: leg, by: housing, depth: ${depth} mm }` },
            metric,
          );
          // As above: the right face of a leg at n = 1 / (N cos b) across, for an upright rail and for one that leans along with it.
          const [ta, tb] = [side, front].map((angle) => Math.tan((angle * Math.PI) / 180)) as [
            number,
            number,
          ];
          const n = Math.hypot(1, tb) / Math.hypot(1, ta, tb);
          const lost = (18 * 50 * depth) / n;
          for (const leg of ['leg.1', 'leg.2'])
            expect(volume(plain, leg) - volume(plan, leg)).toBeCloseTo(lost, 0);
          const longer = part(plan, 'rail').copies[0]!.cut.length - part(plain, 'rail').copies[0]!.cut.length;
          expect(longer).toBeCloseTo((2 * depth) / n, 6);
          expect(overlapsOf(plan)).toEqual([]);
          expect(findJoinery(plan, []).places).toHaveLength(2);
        },
      ),
      { numRuns: 40, seed: 8 },
    );
  });
});

describe('a brace housed in a post and a beam', () => {
  const FRAME_OF = (joints: string): Blocks => ({
    parts: `post: { stock: 45x95, runs: up, wide face: front, at: { bottom: floor, top: top, left: left, front: front } }
beam: { stock: 45x95, runs: across, wide face: front, at: { left: post.right, right: right, top: top, front: front } }
brace:
  stock: 18x95
  rip: 70 mm
  runs: up
  wide face: front
  brace: { from: { left: post.right, up: beam.bottom - 300 mm }, to: { top: beam.bottom, across: post.right + 300 mm } }
  at: { front: front + 10 mm }`,
    joints,
  });
  it('at 45 degrees goes in so deep square to each, √2 times that along itself', () => {
    const plain = built(FRAME_OF('[]'), metric);
    const plan = built(
      FRAME_OF(`- { join: brace, to: post, by: housing, depth: 10 mm }
- { join: brace, to: beam, by: housing, depth: 12 mm }`),
      metric,
    );
    const long = (of: Plan) => part(of, 'brace').copies[0]!.cut.length;
    // On its middle line 300 √2, and 70 for the two slanting ends.
    expect(long(plain)).toBeCloseTo(300 * Math.SQRT2 + 70, 6);
    expect(long(plan)).toBeCloseTo(300 * Math.SQRT2 + 70 + 22 * Math.SQRT2, 6);
    // Oblique prisms of 70 × 18: section × depth / cos 45.
    expect(volume(plain, 'post.1') - volume(plan, 'post.1')).toBeCloseTo(70 * 18 * 10 * Math.SQRT2, 1);
    expect(volume(plain, 'beam.1') - volume(plan, 'beam.1')).toBeCloseTo(70 * 18 * 12 * Math.SQRT2, 1);
    expect(boxes(plan, 'post').map(({ face, depth }) => [face, depth])).toEqual([['right', 10]]);
    expect(boxes(plan, 'beam').map(({ face, depth }) => [face, depth])).toEqual([['bottom', 12]]);
    expect(overlapsOf(plan)).toEqual([]);
    expect(findJoinery(plan, shop.hardware).diagnostics).toEqual([]);
  });
});

describe('a leaning leg housed in a seat', () => {
  it('goes into its underside, upright by so much', () => {
    // Leaning 10 degrees to the left, both ends level: each edge is longer by 8 / cos 10.
    const parts = `leg: { stock: 45x95, rip: 45 mm, runs: up, wide face: front, lean: { left: 10 deg }, at: { bottom: floor, top: seat.bottom, left: left + 50 mm, front: front + 20 mm } }
seat: { stock: 45x95, runs: across, wide face: top, at: { top: 500 mm, left: left, right: right, front: front } }`;
    const plain = built({ parts }, metric);
    const plan = built({ parts, joints: '- { join: leg, to: seat, by: housing, depth: 8 mm }' }, metric);
    const c = Math.cos((10 * Math.PI) / 180);
    expect(part(plan, 'leg').copies[0]!.cut.length - part(plain, 'leg').copies[0]!.cut.length).toBeCloseTo(
      8 / c,
      9,
    );
    expect(box(part(plan, 'leg').copies[0])[2]).toEqual([0, 463]);
    expect(volume(plain, 'seat.1') - volume(plan, 'seat.1')).toBeCloseTo((45 * 45 * 8) / c, 1);
    expect(overlapsOf(plan)).toEqual([]);
  });
});
