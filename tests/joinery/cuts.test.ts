/** Where fasteners go, worked by hand from the sizes of the boards; pocket angle and bit as in check values T5.3 (practice, no source). */
import { describe, expect, test } from 'vitest';
import { spread } from '../../src/joinery/cuts.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Hole } from '../../src/model/shape.ts';
import type { Plan } from '../../src/model/types.ts';
import { built, metric, shop } from '../resolve/shop.ts';

/** Two posts 900 apart over all, a rail of 18 × 95 between them, its front 10 behind theirs. Metric: 1000 × 500 × 750. */
const plan = (joint: string): Plan =>
  built(
    {
      parts: `post:
  stock: 45x95
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left, front: front }
  copies: mirrored left-right
rail:
  stock: 18x95
  runs: across
  wide face: front
  between: post
  at: { top: top, front: front + 10 mm }`,
      joints: joint,
    },
    metric,
  );

const holes = (of: Plan, copy: string): Hole[] =>
  [...(findJoinery(of, shop.hardware).cuts?.get(copy) ?? [])].filter(
    (one): one is Hole => one.kind === 'hole',
  );

describe('spacing', () => {
  test('half a spacing from the edges, never more than 50 mm', () => {
    expect(spread(0, 100, 1)).toEqual([50]);
    expect(spread(0, 100, 2)).toEqual([25, 75]);
    expect(spread(0, 90, 3)).toEqual([15, 45, 75]);
    expect(spread(0, 600, 3)).toEqual([50, 300, 550]);
  });

  test('as far from the edges as a joint sets it back, where there is room', () => {
    const set = (setBack: string, count = 2) =>
      findJoinery(
        plan(
          `- { join: rail, to: post, by: pocket screws, count: ${count}, from: back, set back: ${setBack} }`,
        ),
        shop.hardware,
      );
    const heights = (setBack: string) => set(setBack).places[0]?.points?.map(({ at }) => at[2]);
    // The rail is 655 to 750 high.
    expect(heights('30 mm')).toEqual([expect.closeTo(685, 6), expect.closeTo(720, 6)]);
    expect(heights('10 mm')).toEqual([expect.closeTo(665, 6), expect.closeTo(740, 6)]);
    const said = ({ diagnostics }: ReturnType<typeof set>) =>
      diagnostics.map(({ message, hint }) => [message, hint]);
    expect(said(set('48 mm'))).toEqual([
      [
        'expected a set back below half of the 95 mm where rail and post meet, found 48 mm',
        'write a smaller one, or leave it out',
      ],
    ]);
    expect(said(set('60 mm'))).toHaveLength(1);
    expect(said(set('30 mm', 1))).toEqual([
      [
        'expected a set back of two or more fasteners: one stands in the middle, found count: 1',
        'leave set back out',
      ],
    ]);
  });

  test('fewer, where a joint names a least spacing that leaves no room for all', () => {
    const set = (more: string) =>
      findJoinery(
        plan(`- { join: rail, to: post, by: pocket screws, count: 5, from: back, ${more} }`),
        shop.hardware,
      );
    const heights = (more: string) => set(more).places[0]?.points?.map(({ at }) => Number(at[2].toFixed(3)));
    // 95 mm from 655: five are 19 apart, four 23.75 and half of that from the ends, three 31.667.
    expect(heights('least spacing: 19 mm')).toHaveLength(5);
    expect(heights('least spacing: 20 mm')).toEqual([666.875, 690.625, 714.375, 738.125]);
    expect(heights('least spacing: 31 mm')).toHaveLength(3);
    // 30 from the ends 35 are left between the outermost: two, since three would be 17.5 apart.
    expect(heights('least spacing: 20 mm, set back: 30 mm')).toEqual([685, 720]);
    expect(heights('least spacing: 36 mm, set back: 30 mm')).toEqual([702.5]);
    expect(set('least spacing: 36 mm, set back: 30 mm').diagnostics).toEqual([]);
    // What is counted and bought is what goes in: one at each of two ends.
    expect(set('least spacing: 90 mm').fasteners.map(({ count }) => count)).toEqual([2]);
  });
});

describe('pocket holes', () => {
  const of = plan('- { join: rail, to: post, by: pocket screws, count: 2, from: back }');
  const { places, diagnostics } = findJoinery(of, shop.hardware);

  test('come out in the middle of the thickness, a quarter of the width from each edge', () => {
    expect(diagnostics).toEqual([]);
    // The rail is 655 to 750 high: 655 + 95 / 4 and 750 - 95 / 4; 18 thick from 10 to 28: the middle at 19. Its left end at x = 45.
    expect(places[0]?.points?.map(({ at }) => at.map((v) => Number(v.toFixed(6))))).toEqual([
      [45, 19, expect.closeTo(655 + 23.75, 6)],
      [45, 19, expect.closeTo(750 - 23.75, 6)],
    ]);
    // towards the post, and from the back of the rail to its front
    const [x, y, z] = places[0]!.points![0]!.axis;
    expect(x).toBeCloseTo(-Math.cos(Math.PI / 12), 12);
    expect(y).toBeCloseTo(-Math.sin(Math.PI / 12), 12);
    expect(z).toBeCloseTo(0, 12);
  });

  test('are bored from the back with a 9.5 mm bit at 15 degrees', () => {
    const bored = holes(of, 'rail.1');
    expect(bored).toHaveLength(4);
    for (const one of bored) {
      expect(one.name).toBe('pocket');
      expect(one.face).toBe('back');
      expect(one.diameter).toBeCloseTo(9.5, 9);
      // The entry lies on the back (z = 0 of a board whose wide face looks to the front), 9 / tan 15 from the end.
      expect(one.entry[2]).toBeCloseTo(0, 9);
      const fromEnd = Math.min(one.entry[0], 910 - one.entry[0]);
      expect(fromEnd).toBeCloseTo(9 / Math.tan(Math.PI / 12), 6);
      // wide to the shoulder, then narrow and out of the end
      expect(one.beyond!.diameter).toBe(4);
      expect(one.depth! + one.beyond!.depth).toBeGreaterThan(9 / Math.sin(Math.PI / 12));
    }
    expect(holes(of, 'post.1')).toEqual([]);
  });

  test('bored from a face that the joint looks through are a fault', () => {
    const wrong = findJoinery(
      plan('- { join: rail, to: post, by: pocket screws, from: left }'),
      shop.hardware,
    );
    expect(wrong.diagnostics.map((one) => [one.id, one.message])).toEqual([
      [
        'joint.from',
        'expected pocket holes in a face of rail beside the joint: bottom, top, back, front, found left',
      ],
    ]);
  });
});

describe('screws', () => {
  test('pass the first board and have a pilot in the second', () => {
    const of = plan('- { join: post, to: rail, by: screws, count: 2, from: left, with: wood-screw-40 }');
    const { places, diagnostics } = findJoinery(of, shop.hardware);
    expect(diagnostics).toEqual([]);
    // In a row along the 95 of the rail's end, in the middle of its 18: y = 19.
    expect(places[0]?.points?.map(({ at }) => at.map((v) => Number(v.toFixed(6))))).toEqual([
      [45, 19, expect.closeTo(655 + 23.75, 6)],
      [45, 19, expect.closeTo(750 - 23.75, 6)],
    ]);
    const [clearance] = holes(of, 'post.1');
    expect(clearance).toMatchObject({ name: 'clearance', face: 'left' });
    expect(clearance!.depth).toBeUndefined();
    const pilots = holes(of, 'rail.1');
    expect(pilots.map((one) => one.name)).toEqual(['pilot', 'pilot', 'pilot', 'pilot']);
    expect(pilots[0]!.diameter).toBeLessThan(clearance!.diameter);
  });
});

describe('a panel in a rabbet', () => {
  // A side 18 thick and 95 deep with rabbets alike in front and behind, 6 in from its inside and 18 from its edge, so that their walls are in
  // line; a panel 18 thick lies in the rear one. Its edge meets the wall in 18 x 750, its face the ledge in 6 x 750 only.
  const rabbeted = (joint: string): Plan =>
    built(
      {
        parts: `side:
  stock: 18x95
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left, front: front }
  shape:
    - rabbet: { right: 6 mm, front: 18 mm }
    - rabbet: { right: 6 mm, back: 18 mm }
panel:
  stock: 18x95
  runs: up
  wide face: back
  at: { bottom: floor, top: top, left: side.right - 6 mm, back: side.back }`,
        joints: joint,
      },
      metric,
    );
  const meet = (joint: string) => findJoinery(rabbeted(joint), shop.hardware).places[0]!;

  test('is screwed through its face into the ledge, though its edge meets more of the wall', () => {
    const { contact, points } = meet('- { join: panel, to: side, by: screws, count: 3, from: back }');
    expect(contact.normal).toEqual([0, -1, 0]);
    expect(contact.area).toBeCloseTo(6 * 750, 6);
    // In the middle of the ledge, x = 15; the ledge lies at y = 95 - 18; 50 from the ends, and halfway.
    expect(points?.map(({ at }) => at.map((v) => Number(v.toFixed(6))))).toEqual([
      [15, 77, 50],
      [15, 77, 375],
      [15, 77, 700],
    ]);
  });

  test('is glued where it meets most, which is counted once', () => {
    const { contact } = meet('- { join: panel, to: side, by: glue }');
    expect(contact.area).toBeCloseTo(18 * 750, 6);
  });
});
