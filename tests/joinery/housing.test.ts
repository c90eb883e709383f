/** Joints by housing: lengths, housings and notches worked by hand in the comments; mm. */
import { describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';
import { findingsOf } from '../proof/findings.ts';
import { type Blocks, box, built, hardware, line, metric, part, said } from '../resolve/shop.ts';
import { boxes, notes, overlapsOf, volume } from './housed.ts';

/** A rail of 18 × 95 on edge between two upright legs of 45 × 95, all of the metric list; the outline is 1000 × 500 × 750. */
const LEGS = `leg:
  stock: 45x95
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left, front: front }
  copies: mirrored left-right
`;
const RAIL = `rail:
  stock: 18x95
  runs: across
  wide face: front
  between: leg
  at: { top: leg.top - 100 mm, front: front + 20 mm }
`;
const FRAME: Blocks = {
  parts: LEGS + RAIL,
  joints: '- { join: rail, to: leg, by: housing, depth: 15 mm }',
};

describe('a rail housed in two upright legs', () => {
  it('is longer by the depth at both ends', () => {
    // Between the legs 1000 - 2 * 45 = 910, and 15 at each end.
    const plan = built(FRAME, metric);
    expect(part(plan, 'rail').copies[0]?.cut.length).toBeCloseTo(940, 9);
    expect(box(part(plan, 'rail').copies[0])[0]).toEqual([30, 970]);
    expect(cutList(plan).rows.find((row) => row.part === 'rail')?.length).toBeCloseTo(940, 9);
  });

  it('cuts its section into each leg, so deep', () => {
    const plan = built(FRAME, metric);
    // The leg is 750 long, 95 wide from front to back, 45 thick. The rail lies 20 to 38 from the front and 555 to 650 up.
    expect(volume(plan, 'leg.1')).toBeCloseTo(750 * 95 * 45 - 15 * 18 * 95, 3);
    expect(volume(plan, 'leg.2')).toBeCloseTo(750 * 95 * 45 - 15 * 18 * 95, 3);
    const [cut] = boxes(plan, 'leg');
    expect(cut?.face).toBe('right');
    expect([cut?.min[0], cut?.max[0]]).toEqual([555, 650]);
    expect(cut?.depth).toBe(15);
    expect(overlapsOf(plan)).toEqual([]);
  });
});

/** Two sides 18 × 145 and a shelf 18 × 95 between them, 250 up. */
const CASE = (shelf: string, joint: string): Blocks => ({
  parts: `side:
  stock: 18x145
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left, front: front }
  copies: mirrored left-right
shelf:
  stock: 18x95
  runs: across
  wide face: top
  ${shelf}
`,
  joints: `- { join: shelf, to: side, by: housing, ${joint} }`,
});

describe('a shelf housed in the sides of a case', () => {
  const BETWEEN = 'between: side\n  at: { bottom: floor + 250 mm, front: front }';
  it('runs out where the shelf does: open at the front, 95 of 145 deep', () => {
    const plan = built(CASE(BETWEEN, 'depth: 6 mm'), metric);
    // 1000 - 2 * 18 + 2 * 6
    expect(part(plan, 'shelf').copies[0]?.cut.length).toBeCloseTo(976, 9);
    expect(volume(plan, 'side.1')).toBeCloseTo(750 * 145 * 18 - 6 * 18 * 95, 3);
    expect(boxes(plan, 'side')[0]?.stopped).toEqual(['back']);
    // 145 - 95 = 50 before the back.
    expect(notes(plan, 'side')).toEqual([
      'housing in the right for the shelf: 18 mm wide, 6 mm deep, 250 mm from the bottom, stopped 50 mm before the back',
      // its housing is in the left: naming the faces of A here would turn it round again
      'mirror image of A',
    ]);
    expect(notes(plan, 'shelf')).toEqual(['both ends go 6 mm into the side']);
  });

  it('and others with it in one line: each is a joint', () => {
    const low =
      '\nlow:\n  stock: 18x95\n  runs: across\n  wide face: top\n  between: side\n  at: { bottom: floor, front: front }\n';
    const { parts } = CASE(BETWEEN, '');
    const plan = built(
      { parts: parts + low, joints: '- { join: [shelf, low], to: side, by: housing, depth: 6 mm }' },
      metric,
    );
    // 1000 - 2 * 18 + 2 * 6, both of them, and two housings in each side
    for (const key of ['shelf', 'low']) expect(part(plan, key).copies[0]?.cut.length).toBeCloseTo(976, 9);
    expect(volume(plan, 'side.1')).toBeCloseTo(750 * 145 * 18 - 2 * 6 * 18 * 95, 3);
  });

  it('at an end of the sides it is said to be flush with it, and not 0 mm off; a rabbet says its width and its depth', () => {
    // the shelf's upper face is at the top of the sides; the rabbet is 9 of the width at the back, 10 of the thickness from the right
    const blocks = CASE('between: side\n  at: { top: side.top, front: front }', 'depth: 6 mm');
    const sides = String(blocks.parts).replace(
      '  copies: mirrored left-right\n',
      '  copies: mirrored left-right\n  shape:\n    - rabbet: { right: 10 mm, back: 9 mm }\n',
    );
    const plan = built({ ...blocks, parts: sides }, metric);
    expect(notes(plan, 'side').slice(0, 2)).toEqual([
      'rabbet in the right along the back: 9 mm wide, 10 mm deep',
      'housing in the right for the shelf: 18 mm wide, 6 mm deep, flush with the top, stopped 50 mm before the back',
    ]);
  });

  it('stopped, it leaves wood before it, and the shelf is notched to fit', () => {
    const plan = built(CASE(BETWEEN, 'depth: 6 mm, stopped: { front: 12 mm }'), metric);
    // The housing is 95 - 12 = 83 long; each end of the shelf loses 6 × 12 of its thickness.
    expect(volume(plan, 'side.1')).toBeCloseTo(750 * 145 * 18 - 6 * 18 * 83, 3);
    expect(volume(plan, 'shelf.1')).toBeCloseTo(976 * 95 * 18 - 2 * 6 * 12 * 18, 3);
    expect(notes(plan, 'side')[0]).toBe(
      'housing in the right for the shelf: 18 mm wide, 6 mm deep, 250 mm from the bottom, stopped 12 mm before the front and 50 mm before the back',
    );
    expect(notes(plan, 'shelf')).toEqual([
      '2 notches 6 mm of the length × 12 mm of the width, at the left front and right front',
      'both ends go 6 mm into the side',
    ]);
    expect(overlapsOf(plan)).toEqual([]);
  });

  it('meets the side by a face that is given, with the same length', () => {
    const at = 'at: { bottom: floor + 250 mm, front: front, left: side.right, right: right - side.right }';
    // side.right is 18; the other face is that of the mirrored side, 982.
    const plan = built(CASE(at, 'depth: 6 mm'), metric);
    expect(box(part(plan, 'shelf').copies[0])[0]).toEqual([12, 988]);
    expect(boxes(plan, 'side', 1)).toHaveLength(1);
  });

  it('with a length, that is the whole board; the face that is given is where it meets', () => {
    const at = 'length: 400 mm\n  at: { bottom: floor + 250 mm, front: front, left: side.right }';
    const plan = built(CASE(at, 'depth: 6 mm'), metric);
    expect(box(part(plan, 'shelf').copies[0])[0]).toEqual([12, 412]);
    expect(part(plan, 'shelf').housed).toEqual([{ face: 'left', depth: 6, into: 'side' }]);
  });

  it('with a length that reaches the other side, both ends are housed', () => {
    const at = 'length: 976 mm\n  at: { bottom: floor + 250 mm, front: front, left: side.right }';
    const plan = built(CASE(at, 'depth: 6 mm'), metric);
    expect(part(plan, 'shelf').housed?.map(({ face }) => face)).toEqual(['left', 'right']);
  });

  it('in rows, has a housing for each, said in one note', () => {
    const rows = `${BETWEEN}\n  copies: { repeated: 3, along: up, spacing: 150 mm }`;
    const plan = built(CASE(rows, 'depth: 6 mm'), metric);
    expect(volume(plan, 'side.2')).toBeCloseTo(750 * 145 * 18 - 3 * 6 * 18 * 95, 3);
    // From the bottom to each lower wall: 250, 400, 550.
    expect(notes(plan, 'side')[0]).toBe(
      '3 housings in the right for the shelf: 18 mm wide, 6 mm deep, 250 mm, 400 mm and 550 mm from the bottom, stopped 50 mm before the back',
    );
  });
});

describe('what goes with a housing', () => {
  const HALF = CASE('between: side\n  at: { bottom: floor + 250 mm, front: front }', 'depth: 6 mm');

  it('screws through the side pass what is left of it behind the floor', () => {
    const joints = `${HALF.joints}\n- { join: side, to: shelf, by: screws, count: 2, from: left }`;
    const thin = hardware('short', { fits: { joint: 'screws', from: mm(11), to: mm(13) } });
    const { places, diagnostics } = findJoinery(built({ ...HALF, joints }, metric), [thin]);
    expect(diagnostics).toEqual([]);
    // 18 - 6 = 12; the shelf's end stands at 12 from the left, the other at 988.
    const screws = places.filter(({ joint }) => joint.by === 'screws');
    expect(screws.map(({ fastener }) => fastener?.key)).toEqual(['short', 'short']);
    expect(screws.map(({ points }) => points?.map(({ at }) => at[0]))).toEqual([
      [12, 12],
      [988, 988],
    ]);
  });

  it('is a place without fasteners, in the step where the second part comes', () => {
    const plan = built(HALF, metric);
    const { places, fasteners } = findJoinery(plan, []);
    expect(places.map(({ joint, count }) => [joint.by, count])).toEqual([
      ['housing', 0],
      ['housing', 0],
    ]);
    expect(fasteners).toEqual([]);
    // Floor 18 × 95.
    for (const { contact } of places) expect(contact.area).toBeCloseTo(18 * 95, 6);
  });
});

describe('a divider that takes shelves from both sides', () => {
  /** A divider 18 thick in the middle of the 1000, and shelves to it from both sides at one height or two. */
  const BOTH = (depth: string, up: string): Blocks => ({
    parts: `side: { stock: 18x145, runs: up, wide face: left, at: { bottom: floor, top: top, left: left, front: front }, copies: mirrored left-right }
divider: { stock: 18x145, runs: up, wide face: left, at: { bottom: floor, top: top, left: 491 mm, front: front } }
shelf: { stock: 18x145, runs: across, wide face: top, between: [side, divider], at: { bottom: 250 mm, front: front } }
far-shelf: { stock: 18x145, runs: across, wide face: top, at: { left: divider.right, right: right - side.right, bottom: ${up}, front: front } }`,
    joints: `- { join: shelf, to: side, by: housing, depth: 6 mm }
- { join: shelf, to: divider, by: housing, depth: ${depth} }
- { join: far-shelf, to: divider, by: housing, depth: ${depth} }
- { join: far-shelf, to: side, by: housing, depth: 6 mm }`,
  });
  const webs = (of: Blocks) => {
    return findingsOf(built(of, metric))
      .filter(({ id }) => id === 'housing.web')
      .map(line);
  };

  it('has each shelf in its own housing, at the depth of its own joint', () => {
    const plan = built(BOTH('5 mm', '250 mm'), metric);
    // 18 to 491 is 473, and 6 and 5; 509 to 982 the same.
    expect(part(plan, 'shelf').copies[0]?.cut.length).toBeCloseTo(484, 9);
    expect(part(plan, 'far-shelf').copies[0]?.cut.length).toBeCloseTo(484, 9);
    expect(volume(plan, 'divider.1')).toBeCloseTo(750 * 145 * 18 - 2 * 5 * 18 * 145, 3);
    expect(notes(plan, 'divider')).toEqual([
      'housing in the left for the shelf: 18 mm wide, 5 mm deep, 250 mm from the bottom',
      'housing in the right for the far shelf: 18 mm wide, 5 mm deep, 250 mm from the bottom',
    ]);
    expect(notes(plan, 'shelf')).toEqual([
      'the left end goes 6 mm into the side',
      'the right end goes 5 mm into the divider',
    ]);
    expect(overlapsOf(plan)).toEqual([]);
  });

  it('keeps a third of its 18 between them, or the proof says so', () => {
    // 18 - 2 * 6 = 6 is a third; 18 - 2 * 8 = 2 is less. At other heights 18 - 8 = 10 is left behind each.
    expect(webs(BOTH('6 mm', '250 mm'))).toEqual([]);
    expect(webs(BOTH('8 mm', '250 mm'))).toEqual([
      '26:3 housing.web: expected a third of the 18 mm of "divider" left between its housings in the left and the right, found 2 mm',
    ]);
    expect(webs(BOTH('8 mm', '400 mm'))).toEqual([]);
    expect(webs(BOTH('13 mm', '400 mm')).map((one) => one.slice(one.indexOf('left')))).toEqual([
      'left behind its housing in the left, found 5 mm',
      'left behind its housing in the right, found 5 mm',
    ]);
  });
});

describe('sizes and housings', () => {
  it('say the whole board: length, left and right', () => {
    const plan = built(
      { ...FRAME, sizes: 'all: rail.length\nreach: rail.right - rail.left\nhole: rail.left' },
      metric,
    );
    const size = (name: string) => plan.sizes.find((one) => one.name === name)?.quantity.value;
    expect(size('all')).toBeCloseTo(940, 9);
    expect(size('reach')).toBeCloseTo(940, 9);
    expect(size('hole')).toBeCloseTo(30, 9);
  });

  it('that go in a circle are named', () => {
    expect(
      said({ ...FRAME, joints: '- { join: rail, to: leg, by: housing, depth: rail.length / 50 }' }, metric),
    ).toEqual([
      expect.stringContaining(
        'found the depth of joint 1 → rail.length → rail.left → rail between leg → the depth of joint 1',
      ),
    ]);
  });
});

describe('a housing that ends in a rabbet', () => {
  // A shelf of 18 x 75, from 20 behind the front edge of the legs to their back, 15 into each; along the front edge a rabbet 20 wide.
  const shelved = (depth: number): Plan =>
    built(
      {
        parts: `${LEGS}  shape:
    - rabbet: { right: ${depth} mm, front: 20 mm }
shelf:
  stock: 18x95
  rip: 75 mm
  runs: across
  wide face: top
  between: leg
  at: { bottom: floor + 100 mm, front: leg.front + 20 mm }
`,
        joints: '- { join: shelf, to: leg, by: housing, depth: 15 mm }',
      },
      metric,
    );
  const housing = (plan: Plan) => boxes(plan, 'leg').find(({ name }) => name === 'housing');

  it('runs out through one that is as deep, since nothing is left to stop before', () => {
    const plan = shelved(20);
    expect(housing(plan)?.stopped).toEqual([]);
    expect(notes(plan, 'leg').join('; ')).not.toContain('stopped');
    // The rabbet takes 20 x 20, the housing behind it 15 x 75 x 18.
    expect(volume(plan, 'leg.1')).toBeCloseTo(45 * 95 * 750 - 20 * 20 * 750 - 15 * 75 * 18, 3);
    expect(overlapsOf(plan)).toEqual([]);
  });

  it('stops at one that is less deep', () => {
    const plan = shelved(10);
    expect(housing(plan)?.stopped).toEqual(['front']);
    expect(volume(plan, 'leg.1')).toBeCloseTo(45 * 95 * 750 - 10 * 20 * 750 - 15 * 75 * 18, 3);
  });
});
