/** Joints by housing: lengths, housings and notches worked by hand in the comments; mm. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { BoxCut } from '../../src/model/shape.ts';
import type { Plan } from '../../src/model/types.ts';
import { proofPlan } from '../../src/proof/index.ts';
import { lineText } from '../../src/text.ts';
import { mm } from '../../src/units.ts';
import { type Blocks, box, built, hardware, line, metric, part, said, shop } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const boxes = (plan: Plan, key: string, copy = 0): BoxCut[] =>
  (part(plan, key).copies[copy]?.shape ?? []).filter((one): one is BoxCut => one.kind === 'box');
const volume = (plan: Plan, id: string): number =>
  placeParts(plan, solids).find((one) => one.copy === id)?.volume ?? 0;
const notes = (plan: Plan, key: string): string[] =>
  cutList(plan)
    .rows.filter((row) => row.part === key)
    .flatMap((row) => row.notes.map(lineText));
const overlapsOf = (plan: Plan) => findOverlaps(placeParts(plan, solids), solids);

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
      'mirror image of the one above',
      'housing in the right for the shelf: 18 mm wide, 6 mm deep, 250 mm from the bottom, stopped 50 mm before the back',
    ]);
    expect(notes(plan, 'shelf')).toEqual(['both ends go 6 mm into the side']);
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
    const plan = built(of, metric);
    const cuts = cutList(plan);
    const layouts = { boards: [], kerf: mm(3), proofs: [], stops: [] };
    const input = { plan, joinery: findJoinery(plan, []), cutList: cuts, layouts, overlaps: [] };
    return proofPlan(input)
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
