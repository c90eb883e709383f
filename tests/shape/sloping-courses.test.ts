/** Courses on a slope, as of a roof: how many, how wide and where, worked in the comments from the slope's sine and cosine; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { box, built, metric, part, said, shop } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const ANGLE = 15;
const [C, S] = [Math.cos((ANGLE * Math.PI) / 180), Math.sin((ANGLE * Math.PI) / 180)];
/** Outline 1000 × 500 × 750; boards of 18 × 145. */
const ROOF = (lay: string, more: string, runs = 'across'): string => `roof:
  stock: 18x145
  runs: ${runs}
  lay: ${lay}
  gap: 5 mm
  ends: last
${more}
`;
const ACROSS = (lay: string, from: string, to: string, falls: string): string =>
  ROOF(
    lay,
    `  from: ${from}\n  to: ${to}\n  slope: { ${falls}: ${ANGLE} deg }\n  at: { top: top, left: left, right: right }`,
  );

/** Volume by volume the boards are whole and none is in another; bounds of solids and model agree. */
function checkWhole(of: Plan, key: string, volume: number): void {
  const placed = placeParts(of, solids);
  expect(findOverlaps(placed, solids)).toEqual([]);
  const own = placed.filter((one) => one.copy.startsWith(`${key}.`));
  expect(own.reduce((sum, one) => sum + one.volume, 0)).toBeCloseTo(volume, 2);
  const copies = of.parts.flatMap((one) => one.copies);
  placed.forEach((solid, i) => {
    for (const end of ['min', 'max'] as const)
      solid.bounds[end].forEach((value, axis) => {
        expect(value).toBeCloseTo(copies[i]!.bounds[end][axis]!, 5);
      });
  });
}

describe('courses across a slope', () => {
  /*
   * The upper edge of the field lies 18 sin 15 behind its lower one, so that 500 from front to back are w cos 15 + 18 sin 15:
   * w = (500 − 4.6587) / 0.965926 = 512.815. Three boards of 145 and three gaps of 5 leave 512.815 − 450 = 62.815 for the fourth.
   */
  const WIDE = (500 - 18 * S) / C;
  const of = built({ parts: ACROSS('front to back', 'front', 'back', 'back') }, metric);
  it('fill the slope, not what lies under it', () => {
    expect(WIDE).toBeCloseTo(512.815, 3);
    expect(part(of, 'roof').courses).toMatchObject({ count: 4, gap: 5, full: 145, first: 145 });
    expect(part(of, 'roof').courses?.last).toBeCloseTo(WIDE - 450, 6);
    expect(cutList(of).rows.map((row) => [row.name, row.quantity, row.length])).toEqual([
      ['Roof', 3, 1000],
      ['Last roof', 1, 1000],
    ]);
    expect(cutList(of).rows[1]!.notes.map(lineText)).toEqual(['rip to 63 mm', 'measure first']);
  });
  it('lie one behind the other down the slope, the first at the front, from face to face', () => {
    part(of, 'roof').copies.forEach((copy, index) => {
      const [x, y, z] = box(copy);
      const wide = index === 3 ? WIDE - 450 : 145;
      expect(x).toEqual([0, 1000]);
      // lower front corner 150 cos 15 further back and 150 sin 15 lower each time; the first has its upper front corner at the top
      expect(y![0]).toBeCloseTo(150 * index * C, 6);
      expect(y![1]).toBeCloseTo(150 * index * C + wide * C + 18 * S, 6);
      expect(z![1]).toBeCloseTo(750 - 150 * index * S, 6);
      expect(z![0]).toBeCloseTo(750 - 150 * index * S - 18 * C - wide * S, 6);
    });
    expect(box(part(of, 'roof').copies[3])[1]![1]).toBeCloseTo(500, 6);
    checkWhole(of, 'roof', 1000 * 18 * (WIDE - 15));
  });
  it('may begin at the back, and fall to the front', () => {
    const turned = built({ parts: ACROSS('back to front', 'back', 'front', 'front') }, metric);
    const [first, , , last] = part(turned, 'roof').copies;
    // the mirror image of the other: the first course ends at the back, the last one, ripped, begins at the front
    expect(box(first)[1]![1]).toBeCloseTo(500, 6);
    expect(box(first)[2]![1]).toBeCloseTo(750, 6);
    expect(box(last)[1]![0]).toBeCloseTo(0, 6);
    expect(last?.cut.width).toBeCloseTo(WIDE - 450, 6);
    checkWhole(turned, 'roof', 1000 * 18 * (WIDE - 15));
  });
  it('rest on what is cut to the slope', () => {
    // Underside at the front 18 cos 15 below the top; a post 100 behind the front is 100 tan 15 shorter on its front.
    const posts = `post:
  stock: 45x95
  runs: up
  wide face: left
  at: { bottom: floor, top: top - 18 mm * cos(15 deg) - 100 mm * tan(15 deg), left: left + 100 mm, front: front + 100 mm }
  shape:
    - { mitre: top, angle: 15 deg, long: front }
`;
    const stands = built(
      {
        parts: ACROSS('front to back', 'front', 'back', 'back') + posts,
        joints: '- { join: roof, to: post, by: screws, count: 1, from: top, with: wood-screw-40 }',
      },
      metric,
    );
    // the post reaches from 100 to 195: under the first board, to 140.1, and under the second
    const { places } = findJoinery(stands, shop.hardware);
    expect(places.map(({ contact }) => contact.first)).toEqual(['roof.1', 'roof.2']);
    // 4 mm too short it is 4 cos 15 = 3.86 from them, 4 mm too long so far in them: said square to the faces
    const off = (by: string): string[] =>
      findJoinery(
        built(
          {
            parts:
              ACROSS('front to back', 'front', 'back', 'back') +
              posts.replace('top: top -', `top: top ${by} -`),
            joints: '- { join: roof, to: post, by: screws, count: 1, from: top, with: wood-screw-40 }',
          },
          metric,
        ),
        shop.hardware,
      ).diagnostics.map(({ message }) => message.replace(/^.*found /, ''));
    expect(off('- 4 mm')).toEqual(['faces that look at each other and are 4 mm apart']);
    expect(off('+ 4 mm')).toEqual(['faces that look at each other and are 4 mm in each other']);
    expect(off('- 20 mm')).toEqual(['faces that look at each other and are 19 mm apart']);
  });
});

describe('courses that run down a slope', () => {
  it('are laid side by side, each as long as the slope', () => {
    // 1000 wide: six boards of 145 and six gaps leave 100. An upright cut of 18 adds 18 tan 15 to 500 / cos 15.
    const more = `  from: left\n  to: right\n  slope: { back: ${ANGLE} deg }\n  at: { top: top, front: front, back: back }`;
    const of = built({ parts: ROOF('left to right', more, 'deep') }, metric);
    const { copies, courses } = part(of, 'roof');
    expect(courses).toMatchObject({ count: 7, full: 145 });
    expect(courses?.last).toBeCloseTo(100, 6);
    copies.forEach((copy, index) => {
      const [x, y, z] = box(copy);
      expect(x![0]).toBeCloseTo(150 * index, 6);
      expect(x![1]).toBeCloseTo(150 * index + (index === 6 ? 100 : 145), 6);
      expect([y![0], y![1]]).toEqual([expect.closeTo(0, 6), expect.closeTo(500, 6)]);
      expect(z![1]).toBeCloseTo(750, 6);
      expect(copy.cut.length).toBeCloseTo(500 / C + (18 * S) / C, 6);
    });
    // upright ends: the section that is seen from the side is a parallelogram of 500 by 18 / cos 15
    checkWhole(of, 'roof', (970 * 500 * 18) / C);
  });
});

describe('courses that can’t be', () => {
  const faults = (slope: string): readonly string[] =>
    said(
      {
        parts: ROOF(
          'front to back',
          `  from: front\n  to: back\n  slope: ${slope}\n  at: { top: top, left: left, right: right }`,
        ),
      },
      metric,
    ).map((one) => one.replace(/^[0-9:]+ /, ''));
  it('slope two ways, or have their edges cut', () => {
    expect(faults('{ back: 15 deg, left: 5 deg }')).toEqual([
      'lean.courses: expected courses of "roof" that slope one way: along their length or across it, found both',
    ]);
    expect(faults('{ back: 15 deg, cut: front }')).toEqual([
      'lean.cut: expected an end of "roof": left, right, found front',
    ]);
  });
});
