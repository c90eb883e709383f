/** An outline round a field of courses, as of a gable: what it leaves of each board, worked in the comments; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { built, metric, part, said } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

/**
 * Boards of 18 × 145 upright over the outline of 1000 × 500 × 750: six whole ones are 870, and 130 are left, so that seven have ends of
 * (145 + 130) / 2 = 137.5.
 */
const WALL = (steps: string): string => `wall:
  stock: 18x145
  runs: up
  wide face: front
  lay: left to right
  from: left
  to: right
  ends: shared
  at: { bottom: floor, top: top, front: front }
  shape:
    - outline:
        - start: { across: left, up: floor }
        - line: { across: right, up: floor }
${steps}
        - line: { across: left, up: floor }
`;
const GABLE = WALL(`        - line: { across: right, up: 350 mm }
        - line: { across: 500 mm, up: 750 mm }
        - line: { across: left, up: 350 mm }`);

describe('an outline round courses', () => {
  it('is sawn on each board that it meets', () => {
    const of = built({ parts: GABLE }, metric);
    const volumes = placeParts(of, solids).map((one) => one.volume / 18);
    // the eaves are 350 up and the ridge 750, 400 over 500: the first board is 350 to 350 + 0.8 · 137.5 = 460 high
    expect(volumes[0]).toBeCloseTo(137.5 * 405, 3);
    // the middle one begins at 137.5 + 2 · 145 = 427.5, 692 high, and rises 0.8 · 72.5 = 58 to the ridge
    expect(volumes[3]).toBeCloseTo(145 * 692 + (145 * 58) / 2, 3);
    // all together: 1000 × 350, and a triangle of 1000 × 400
    expect(volumes.reduce((sum, one) => sum + one, 0)).toBeCloseTo(350_000 + 200_000, 2);
  });

  it('makes each board as long as it reaches, so that none is bought for what is sawn away', () => {
    // 350 + 0.8 × 137.5, then 116 more for each 145, and the ridge; the same down the other side
    const of = built({ parts: GABLE }, metric);
    expect(part(of, 'wall').copies.map((copy) => copy.cut.length)).toEqual(
      [460, 576, 692, 750, 692, 576, 460].map((one) => expect.closeTo(one, 6)),
    );
    // placed solids and the model agree where each board ends
    placeParts(of, solids).forEach((solid, index) => {
      expect(solid.bounds.max[2]).toBeCloseTo(part(of, 'wall').copies[index]?.bounds.max[2] ?? 0, 5);
    });
  });

  it('makes boards that mirror each other one row and its image', () => {
    const rows = cutList(built({ parts: GABLE }, metric)).rows;
    // two ends, two pairs and the middle one; upright square boards turned over are their own mirror images
    expect(rows.map((row) => row.quantity).reduce((sum, one) => sum + one, 0)).toBe(7);
    expect(rows.map((row) => row.quantity)).toEqual([2, 2, 1, 2]);
  });

  it('leaves boards alone that lie within it', () => {
    // only the two upper corners, 100 × 100, come off the ends
    const of = built(
      {
        parts: WALL(`        - line: { across: right, up: 650 mm }
        - line: { across: 900 mm, up: top }
        - line: { across: 100 mm, up: top }
        - line: { across: left, up: 650 mm }`),
      },
      metric,
    );
    expect(part(of, 'wall').copies.map((copy) => copy.shape.length)).toEqual([1, 0, 0, 0, 0, 0, 1]);
    const volumes = placeParts(of, solids).map((one) => one.volume / 18);
    expect(volumes[0]).toBeCloseTo(137.5 * 750 - 5000, 3);
    expect(volumes[1]).toBeCloseTo(145 * 750, 3);
  });

  it('must leave some of each board, and have straight lines', () => {
    const none = WALL(`        - line: { across: 500 mm, up: 700 mm }`).replace(
      'across: right, up: floor',
      'across: 800 mm, up: floor',
    );
    expect(said({ parts: none }, metric).map((one) => one.replace(/^[0-9:]+ /, ''))).toEqual([
      'shape.nothing-left: expected an outline that leaves some of each board of "wall", found one that leaves a board none',
    ]);
    const curved = WALL(`        - line: { across: right, up: 350 mm }
        - arc: { across: left, up: 350 mm }
          through: { across: 500 mm, up: 750 mm }`);
    expect(said({ parts: curved }, metric)[0]).toMatch(/shape\.outside: expected an outline within "wall"/);
  });
});
