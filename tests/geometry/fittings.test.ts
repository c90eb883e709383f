/**
 * Hardware as it is fixed: places and volumes worked by hand in the comments; mm, boards of the metric test list, the outline of
 * 1000 × 500 × 750. Volumes of round bars by π r² l.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { diagnosticText } from '../../src/diagnostics.ts';
import { placeFittings } from '../../src/geometry/fittings.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Plan } from '../../src/model/types.ts';
import { type Blocks, hardware, metric, planText, shop, sourceOf } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const ITEMS = [
  hardware('hinge', { kind: 'hinge', outline: { length: 50, width: 38, thickness: 1.5, knuckle: 5 } }),
  hardware('hook', { kind: 'hook', outline: { length: 40, width: 28, thickness: 5 } }),
  hardware('plate', { outline: { length: 100, width: 20, thickness: 3 } }),
  hardware('peg', { kind: 'peg', outline: { length: 90, diameter: 20 } }),
  hardware('plain'),
];

function planOf(blocks: Blocks): Plan {
  const { value, diagnostics } = buildPlan(sourceOf(planText(blocks)), metric, { ...shop, hardware: ITEMS });
  if (!value) throw new Error(diagnostics.map(diagnosticText).join('\n'));
  return value;
}

const placed = (blocks: Blocks): readonly PlacedPart[] => placeFittings(planOf(blocks), solids);

const tidy = (value: number): number => Number(value.toFixed(3)) + 0;
/** `[[left, right], [front, back], [bottom, top]]` */
const box = ({ bounds }: PlacedPart) =>
  [0, 1, 2].map((k) => [tidy(bounds.min[k] as number), tidy(bounds.max[k] as number)]);

const LID = `lid: { stock: 18x145, runs: across, wide face: top, at: { left: left, right: right, front: front, top: top } }
strip: { stock: 18x145, runs: across, wide face: top, at: { left: left, right: right, front: lid.back + 2 mm, top: top } }`;

describe('a hinge in the gap behind a lid', () => {
  it('is shut: a leaf on each side, the knuckle above the gap, a sixth of the length from the ends', () => {
    const fittings = placed({ parts: LID, hardware: '- { item: hinge, count: 2, on: lid.back }' });
    expect(fittings.map(({ fitting }) => fitting?.on)).toEqual([
      ...['lid.1', 'strip.1', 'strip.1'],
      ...['lid.1', 'strip.1', 'strip.1'],
    ]);
    // 1000 / 6 = 166.667, 25 to each side. The gap of 2 from 145 to 147 leaves 1 for each leaf.
    // The knuckle of 5 lies on the top, 750; a leaf reaches half of 38 from its middle, 752.5, down to 733.5.
    const x = [141.667, 191.667];
    expect(fittings.slice(0, 3).map(box)).toEqual([
      [x, [145, 146], [733.5, 750]],
      [x, [146, 147], [733.5, 750]],
      [x, [143.5, 148.5], [750, 755]],
    ]);
    expect(box(fittings[3] as PlacedPart)[0]).toEqual([808.333, 858.333]);
    const pin = fittings[2] as PlacedPart;
    expect(pin.volume / (Math.PI * 2.5 ** 2 * 50)).toBeCloseTo(1, 1);
  });

  it('is as far from the ends as the plan sets it back, in one row with any more', () => {
    const fittings = placed({
      parts: LID,
      hardware: '- { item: hinge, count: 3, on: lid.back, set back: 100 mm }',
    });
    const middles = fittings.map((one) => tidy((one.bounds.min[0] + one.bounds.max[0]) / 2));
    expect([...new Set(middles)]).toEqual([100, 500, 900]);
  });

  it('lies in no board, nor in another piece of itself', () => {
    const plan = planOf({ parts: LID, hardware: '- { item: hinge, count: 2, on: lid.back }' });
    const all = [...placeParts(plan, solids), ...placeFittings(plan, solids)];
    expect(findOverlaps(all, solids)).toEqual([]);
  });
});

describe('a hinge where no board faces its leaf', () => {
  const CHEST = `wall: { stock: 18x145, runs: across, wide face: back, at: { left: left, right: right, bottom: floor, back: back } }
lid: { stock: 18x145, runs: across, wide face: top, at: { left: left, right: right, bottom: wall.top, back: back } }`;
  const HINGE = (more = '') => ({
    parts: CHEST,
    hardware: `- { item: hinge, count: 1, on: lid.back${more} }`,
  });

  it('lies flat over the line in which the boards meet', () => {
    const fittings = placed(HINGE());
    expect(fittings.map(({ fitting }) => fitting?.on)).toEqual(['lid.1', 'wall.1', 'wall.1']);
    // The lid lies from 145 to 163 on the wall. The knuckle's middle is 2.5 behind the face; where the leaf of 1.5 ends it is
    // √(2.5² − 1²) = 2.291 wide to each side. Half of 38 is 19: more than the lid is thick.
    expect(fittings.map(box)).toEqual([
      [
        [475, 525],
        [500, 501.5],
        [147.291, 163],
      ],
      [
        [475, 525],
        [500, 501.5],
        [126, 142.709],
      ],
      [
        [475, 525],
        [500, 505],
        [142.5, 147.5],
      ],
    ]);
  });

  it('looks the way the plan says', () => {
    // Nothing stands above the lid: one leaf and the knuckle, at its upper edge.
    expect(placed(HINGE(', knuckle: top')).map((one) => box(one)[2])).toEqual([
      [145, 160.709],
      [160.5, 165.5],
    ]);
  });
});

describe('other fittings', () => {
  const BOARD =
    'board: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, front: front + 100 mm, bottom: floor + 200 mm } }';
  const on = (use: string): readonly PlacedPart[] => placed({ parts: BOARD, hardware: `- { ${use} }` });

  it('are blocks on the face, half a spacing from its ends', () => {
    const plates = on('item: plate, count: 2, on: board.front');
    expect(plates.map(box)).toEqual([
      [
        [200, 300],
        [97, 100],
        [262.5, 282.5],
      ],
      [
        [700, 800],
        [97, 100],
        [262.5, 282.5],
      ],
    ]);
    expect(plates[0]?.volume).toBeCloseTo(100 * 20 * 3, 3);
  });

  it('run as the plan says, at its place', () => {
    const [plate] = on('item: plate, count: 1, on: board.back, runs: up, at: { across: 30 mm, up: 260 mm }');
    expect(box(plate as PlacedPart)).toEqual([
      [20, 40],
      [118, 121],
      [210, 310],
    ]);
  });

  it('are hooks with their bend up', () => {
    const [hook] = on('item: hook, count: 1, on: board.front');
    // A bar of 5 stands out 40 from 100; it is bent up 28 over all, its middle 2.5 above its underside.
    expect(box(hook as PlacedPart)).toEqual([
      [497.5, 502.5],
      [60, 100],
      [270, 298],
    ]);
    expect(hook?.volume).toBeCloseTo((40 * 5 + (28 - 5) * 5) * 5, 2);
  });

  it('stand nowhere without an outline, or without a part', () => {
    expect(on('item: plain, count: 2, on: board.front')).toEqual([]);
    expect(on('item: plate, count: 2')).toEqual([]);
  });

  it('go one on each copy, on the mirrored face of a mirrored one', () => {
    const sides =
      'side: { stock: 18x145, runs: up, wide face: right, at: { left: left, front: front, bottom: floor, top: top }, copies: mirrored left-right }';
    const plates = placed({ parts: sides, hardware: '- { item: plate, count: 2, on: side.right }' });
    // Inside both: on the right of the left one, on the left of the other.
    expect(plates.map((one) => [one.fitting?.on, box(one)[0]])).toEqual([
      ['side.1', [18, 21]],
      ['side.2', [979, 982]],
    ]);
  });
});

describe('pegs', () => {
  const rack = (hole: string): string => `rack:
  stock: 18x145
  runs: across
  wide face: front
  at: { left: left, right: right, front: front + 100 mm, bottom: floor }
  shape:
    - hole: front
      at: { across: 200 mm, up: 50 mm }
      diameter: 20 mm
      depth: 12 mm
      repeated: 3
      along: across
      spacing: 300 mm
${hole}`;
  const pegs = (hole = ''): readonly PlacedPart[] =>
    placed({ parts: rack(hole), hardware: '- { item: peg, count: 3, on: rack.front }' });

  it('stand in the holes of their diameter', () => {
    const [first, , last] = pegs();
    expect(box(first as PlacedPart)).toEqual([
      [190, 210],
      [10, 100],
      [40, 60],
    ]);
    expect(box(last as PlacedPart)[0]).toEqual([790, 810]);
    expect((first?.volume ?? 0) / (Math.PI * 100 * 90)).toBeCloseTo(1, 2);
  });

  it('lean as their holes do, and begin level with the face', () => {
    const [first] = pegs('      lean: { top: 10 deg }');
    // The middle of the end: 90 cos 10° = 88.633 before the face, 90 sin 10° = 15.628 up; the rim is 10 sin 10° = 1.736 and 10 cos 10° = 9.848 off.
    expect(first?.bounds.min[1]).toBeCloseTo(100 - 88.633 - 1.736, 1);
    expect(first?.bounds.max[1]).toBeCloseTo(100, 6);
    expect(first?.bounds.max[2]).toBeCloseTo(50 + 15.628 + 9.848, 1);
  });
});
