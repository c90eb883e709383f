/** Boards that several cuts together leave in pieces: counted on the solids. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findBroken } from '../../src/geometry/pieces.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import { proofPlan } from '../../src/proof/index.ts';
import { built, metric, shop } from '../resolve/shop.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const shelf = (shape: string) =>
  built(
    {
      parts: `shelf:
  stock: 18x145
  runs: across
  wide face: top
  at: { top: top, left: left, right: right, front: front }
  shape:
${shape}`,
    },
    metric,
  );

describe('cuts that meet', () => {
  it('leave two pieces, which is a fault at the last of them', () => {
    // two notches of 72.5 from both edges at one place
    const plan = shelf(`    - { notch: { left: 300 mm, right: 340 mm, back: 72.5 mm } }
    - { notch: { left: 300 mm, right: 340 mm, front: 72.5 mm } }`);
    const broken = findBroken(placeParts(plan, solids));
    expect(broken).toMatchObject([{ copy: 'shelf.1', pieces: 2 }]);
    const overlaps = broken.map(({ copy, pieces, bounds }) => ({
      first: copy,
      second: copy,
      volume: 0,
      bounds,
      pieces,
    }));
    const found = proofPlan({
      plan,
      joinery: findJoinery(plan, shop.hardware),
      cutList: { rows: [], letters: {}, volume: { value: 0, unit: 'm³' } },
      layouts: { boards: [], kerf: metric.kerf, proofs: [], stops: [] },
      overlaps,
    }).filter((one) => one.severity === 'error');
    expect(found.map((one) => [one.id, one.message])).toEqual([
      ['shape.pieces', 'expected cuts that leave "shelf" in one piece, found 2 pieces of shelf.1'],
    ]);
    expect(found[0]?.origin).toEqual(plan.parts[0]?.copies[0]?.shape[1]?.origin);
  });

  it('leave one piece where a bridge stays', () => {
    const plan = shelf(`    - { notch: { left: 300 mm, right: 340 mm, back: 70 mm } }
    - { notch: { left: 300 mm, right: 340 mm, front: 72.5 mm } }`);
    expect(findBroken(placeParts(plan, solids))).toEqual([]);
  });
});
