/** Parts out of upright: places, sizes and end cuts, worked in the comments from the tangents of the angles; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { SawCut } from '../../src/model/shape.ts';
import type { Plan, Vec3 } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { type Blocks, box, built, metric, part, shop } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const rad = (angle: number): number => (angle * Math.PI) / 180;
const plan = (blocks: Blocks): Plan => built(blocks, metric);
const saws = (of: Plan, key: string): SawCut[] =>
  (part(of, key).copies[0]?.shape ?? []).filter((one): one is SawCut => one.kind === 'saw');

/** Solid and model say the same extents, and nothing is in anything else. */
function checkWhole(of: Plan): void {
  const placed = placeParts(of, solids);
  const copies = of.parts.flatMap((one) => one.copies);
  placed.forEach((solid, i) => {
    for (const end of ['min', 'max'] as const)
      solid.bounds[end].forEach((value, axis) => {
        expect(value, `${solid.copy} ${end} ${axis}`).toBeCloseTo(copies[i]!.bounds[end][axis]!, 5);
      });
  });
  expect(findOverlaps(placed, solids)).toEqual([]);
}

const LEG = (lean: string) => `leg:
  stock: 45x95
  rip: 45 mm
  runs: up
  wide face: front
  lean: ${lean}
  at: { bottom: floor, top: 400 mm, left: left + 100 mm, front: front + 100 mm }
  copies: mirrored left-right and front-back`;

describe('a mitre', () => {
  it('is spelt as the edition spells it, whichever way the plan does', () => {
    const LEVEL = LEG('{ left: 10 deg }').replace('  lean: { left: 10 deg }\n', '');
    for (const word of ['mitre', 'miter']) {
      const of = plan({ parts: `${LEVEL}\n  shape:\n    - { ${word}: top, angle: 10 deg, long: right }` });
      const spelt = (language: string): string | undefined =>
        cutList({ ...of, edition: { ...of.edition, language } })
          .rows[0]?.notes.map(lineText)
          .find((note) => note.includes('the top end'));
      expect(spelt('en-US')).toBe('miter the top end 10°, long side at the right');
      expect(spelt('en-GB')).toBe('mitre the top end 10°, long side at the right');
    }
  });
});

describe('a leg that leans one way', () => {
  const of = plan({ parts: LEG('{ left: 10 deg }') });
  it('stands on its written faces, its foot out to the left', () => {
    // Level section of a 45 leg at 10 degrees: 45 / cos 10 wide; the top stands 400 tan 10 to the right of the foot.
    const wide = 45 / Math.cos(rad(10));
    const [x, y, z] = box(part(of, 'leg').copies[0]);
    expect(x![0]).toBeCloseTo(100, 6);
    expect(x![1]).toBeCloseTo(100 + wide + 400 * Math.tan(rad(10)), 5);
    expect(y).toEqual([100, 145]);
    expect(z).toEqual([0, 400]);
  });
  it('is cut from a board that covers its longest points, its ends at 10 degrees, parallel', () => {
    // Each edge is 400 / cos 10 long; the ends are out of square by 45 tan 10.
    const { cut } = part(of, 'leg').copies[0]!;
    expect(cut.length).toBeCloseTo(400 / Math.cos(rad(10)) + 45 * Math.tan(rad(10)), 6);
    const [low, high] = saws(of, 'leg');
    expect([low!.face, high!.face]).toEqual(['bottom', 'top']);
    for (const one of [low!, high!]) {
      expect(one.saw.mitre).toBeCloseTo(10, 9);
      expect(one.saw.tilt).toBe(0);
    }
    expect(
      low!.plane.normal.map((v, i) => v + high!.plane.normal[i]!).map((v) => Math.abs(v) < 1e-12),
    ).toEqual([true, true, true]);
    expect(cutList(of).rows.map((row) => row.notes.map(lineText).join('; '))).toEqual([
      'rip to 45 mm; miter both ends 10°, parallel',
    ]);
  });
  it('has four copies that are one row: turned round, its mirror image is itself', () => {
    expect(cutList(of).rows.map((row) => row.quantity)).toEqual([4]);
    checkWhole(of);
  });
});

describe('a leg that leans two ways', () => {
  const of = plan({ parts: LEG('{ left: 8 deg, front: 5 deg }') });
  const [a, b] = [Math.tan(rad(8)), Math.tan(rad(5))];
  it('runs along (tan 8, tan 5, 1), its ends level', () => {
    const { frame, cut } = part(of, 'leg').copies[0]!;
    const long = Math.hypot(a, b, 1);
    [a / long, b / long, 1 / long].forEach((v, i) => {
      expect(frame.length[i]).toBeCloseTo(v, 12);
    });
    // Its wide face keeps its level lines along the piece: no part of the thickness points across.
    expect(frame.thickness[0]).toBeCloseTo(0, 12);
    // An edge from the floor to 400 is 400 sqrt(1 + tan² 8 + tan² 5) long; the blank covers both skews besides.
    expect(cut.length).toBeGreaterThan(400 * long);
    const level = frame.length.map((_, i) => (i === 2 ? 1 : 0)) as unknown as Vec3;
    const skew = [frame.width, frame.thickness].map((axis) => Math.abs(axis[2]) / frame.length[2]);
    expect(cut.length).toBeCloseTo(400 * long + 45 * skew[0]! + 45 * skew[1]!, 6);
    expect(level[2]).toBe(1);
  });
  it('has compound ends: the settings turn the level plane into the board’s frame', () => {
    const [low] = saws(of, 'leg');
    const { frame } = part(of, 'leg').copies[0]!;
    expect(low!.saw.tilt).toBeCloseTo((Math.asin(Math.abs(frame.thickness[2])) * 180) / Math.PI, 9);
    expect(low!.saw.mitre).toBeCloseTo(
      (Math.atan(Math.abs(frame.width[2] / frame.length[2])) * 180) / Math.PI,
      9,
    );
    expect(low!.saw.tilt).toBeCloseTo(5, 1);
    expect(low!.saw.mitre).toBeCloseTo(8, 1);
    // With parallel ends a leg is the same looked at from its other end: its mirror image is the leg turned end for end.
    expect(cutList(of).rows.map((row) => [row.name, row.quantity])).toEqual([['Leg', 4]]);
    checkWhole(of);
  });
  it('tapered on its inner sides is a pair and its mirror image', () => {
    const tapered = plan({
      parts: `${LEG('{ left: 8 deg, front: 5 deg }')}\n  shape:\n    - { taper: [right, back], end: bottom, by: 10 mm }`,
    });
    expect(cutList(tapered).rows.map((row) => [row.name, row.quantity])).toEqual([
      ['Leg', 2],
      ['Leg, mirrored', 2],
    ]);
    checkWhole(tapered);
  });
  it('gives its settings to formulas', () => {
    const { quantity } = of.evaluate('leg.tilt', { file: 'plan.md', line: 1, column: 1 });
    expect(quantity?.kind).toBe('angle');
    expect(quantity?.value).toBeCloseTo(saws(of, 'leg')[0]!.saw.tilt, 12);
  });
});

describe('a stool of leaning legs and rails between them', () => {
  const of = plan({
    sizes: 'outline: { width: 600 mm, depth: 400 mm, height: 418 mm }',
    parts: `seat:
  stock: 18x145
  runs: across
  wide face: top
  glue up: equal
  at: { top: top, left: left + 120 mm, right: right - 120 mm, front: front + 60 mm, back: back - 60 mm }
leg:
  stock: 45x95
  rip: 45 mm
  runs: up
  wide face: front
  lean: { left: 8 deg, front: 5 deg }
  at: { bottom: floor, top: seat.bottom, left: left + 50 mm, front: front + 20 mm }
  copies: mirrored left-right and front-back
long-rail:
  stock: 18x95
  runs: across
  wide face: front
  between: leg
  lean: { front: 5 deg, cut: none }
  at: { top: seat.bottom - 100 mm, front: leg.front + 40 mm }
  copies: mirrored front-back
side-rail:
  stock: 18x95
  runs: deep
  wide face: left
  between: leg
  at: { top: seat.bottom - 100 mm, left: leg.left + 65 mm }
  copies: mirrored left-right`,
    joints: `- { join: long-rail, to: leg, by: glue }
- { join: side-rail, to: leg, by: glue }
- { join: seat, to: leg, by: screws, count: 1, from: top }`,
  });

  it('has rails whose ends lie against the legs', () => {
    const rail = saws(of, 'long-rail');
    expect(rail.map((one) => one.against)).toEqual(['leg', 'leg']);
    const joinery = findJoinery(of, shop.hardware);
    expect(joinery.diagnostics.map((one) => one.message)).toEqual([]);
    const count = (join: string) => joinery.places.filter((place) => place.joint.join === join);
    expect(count('long-rail')).toHaveLength(4);
    expect(count('side-rail')).toHaveLength(4);
    expect(count('seat')).toHaveLength(4);
    // A rail's end of 95 by 18 lies wholly on the leg: the area is that of its slanting end.
    for (const { contact } of count('long-rail')) {
      expect(contact.area).toBeGreaterThan(95 * 18);
      expect(contact.area).toBeLessThan((95 * 18) / Math.cos(rad(12)));
    }
    checkWhole(of);
  });

  it('has a seat of equal boards, an inch or 25 mm longer', () => {
    // 400 - 120 = 280 deep: two boards of 140, half of the allowance each on the width
    const row = cutList(of).rows[0]!;
    expect([row.name, row.quantity, row.width, row.length]).toEqual(['Seat board', 2, 145, 385]);
    expect(row.panel).toEqual({ boards: 2, width: 280, length: 360 });
    expect(row.notes.map(lineText)).toEqual([
      '2 make a panel 280 mm × 360 mm: glue up, then trim; end grain up and down by turns',
    ]);
  });
});

describe('a sloping board', () => {
  const of = plan({
    parts: `roof:
  stock: 18x145
  runs: deep
  wide face: top
  length: 200 mm
  slope: { front: 15 deg, cut: back }
  at: { back: back, top: top, left: left }`,
  });
  it('falls to the front, its back end upright, its front end square', () => {
    const [, y, z] = box(part(of, 'roof').copies[0]);
    // The upper face lies 18 sin 15 further to the front than the underside, so at the upright back end it is the longer: 200.
    const [c, s] = [Math.cos(rad(15)), Math.sin(rad(15))];
    expect(y![1]).toBeCloseTo(500, 6);
    expect(500 - y![0]).toBeCloseTo(200 * c, 6);
    // From the upper back corner down to the lower front one, at the square front end: 200 sin 15 and 18 cos 15.
    expect(z![1]).toBeCloseTo(750, 6);
    expect(750 - z![0]).toBeCloseTo(200 * s + 18 * c, 6);
    expect(saws(of, 'roof')).toHaveLength(1);
    expect(saws(of, 'roof')[0]!.saw).toEqual({ mitre: 0, tilt: expect.closeTo(15, 9) });
    checkWhole(of);
  });
});

describe('a brace', () => {
  const of = plan({
    parts: `post: { stock: 45x95, runs: up, wide face: front, at: { bottom: floor, top: top, left: left, front: front } }
beam: { stock: 45x95, runs: across, wide face: front, at: { left: post.right, right: right, top: top, front: front } }
brace:
  stock: 45x95
  rip: 70 mm
  runs: up
  wide face: front
  brace: { from: { left: post.right, up: beam.bottom - 300 mm }, to: { top: beam.bottom, across: post.right + 300 mm } }
  at: { front: front }`,
    joints: `- { join: brace, to: post, by: screws }
- { join: brace, to: beam, by: screws }`,
  });
  it('of 45 degrees is 300 √2 long on its middle line, its ends cut against the post and the beam', () => {
    const { cut, bounds } = part(of, 'brace').copies[0]!;
    // Both ends at 45 degrees fall away to the outer side: each adds half of the width.
    expect(cut.length).toBeCloseTo(300 * Math.SQRT2 + 70, 6);
    expect(bounds.min[0]).toBeCloseTo(95, 6);
    expect(bounds.max[2]).toBeCloseTo(750 - 95, 6);
    for (const one of saws(of, 'brace')) expect(one.saw.mitre).toBeCloseTo(45, 9);
    const joinery = findJoinery(of, shop.hardware);
    expect(joinery.diagnostics.filter((one) => one.id === 'joint.apart')).toEqual([]);
    // The cut end is 70 √2 high and 45 deep.
    const surface = placeParts(of, solids)[2]!.faces.filter((face) => Math.abs(face.normal[0] + 1) < 1e-9);
    expect(surface).toHaveLength(1);
    checkWhole(of);
  });
});

describe('housings and notches', () => {
  const of = plan({
    parts: `side:
  stock: 18x145
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left, front: front }
  copies: mirrored left-right
  shape:
    - { housing: right, at: { bottom: 300 mm, top: 318 mm, front: front + 10 mm }, depth: 6 mm }
shelf:
  stock: 18x145
  rip: 135 mm
  runs: across
  wide face: top
  at: { bottom: 300 mm, left: side.right - 6 mm, right: right - side.right + 6 mm, back: side.back }`,
    joints: '- { join: shelf, to: side, by: glue }',
  });
  it('take a shelf that meets their floors', () => {
    const { places, diagnostics } = findJoinery(of, shop.hardware);
    expect(diagnostics.map((one) => one.message)).toEqual([]);
    // The end of the shelf: 135 by 18.
    expect(places.map((place) => place.contact.area)).toEqual([
      expect.closeTo(135 * 18, 6),
      expect.closeTo(135 * 18, 6),
    ]);
    checkWhole(of);
  });
  it('stopped at the front make a pair of the sides', () => {
    expect(cutList(of).rows.map((row) => row.name)).toEqual(['Side', 'Side, mirrored', 'Shelf']);
    expect(cutList(of).rows[0]!.notes.map(lineText)).toEqual([
      'housing in the right: 18 mm wide, 6 mm deep, 300 mm from the bottom, stopped before the front',
    ]);
  });
});
