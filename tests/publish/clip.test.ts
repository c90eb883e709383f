/** The film of a piece coming apart: no board goes through another while it comes off, tried with the solid kernel frame by frame. */
import { describe, expect, it } from 'vitest';
import { type Exploded, explode, movedPart, orderOfSteps } from '../../src/draw/apart/explode.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { norm, subtract } from '../../src/geometry/vectors.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { clipOf, groupsOf, placeAt } from '../../src/publish/models/clip.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';

const solids = await loadSolids();
const shop = await shopOf(demoFiles());
const ISO = viewFrame({ depth: 'front', side: 'right', height: 'above' });

describe.each(['nest-box', 'step-stool', 'potting-bench'])('%s', (slug) => {
  const plan = planOf(shop, slug, 'metric');
  const parts = placeParts(plan, solids, findJoinery(plan, shop.hardware));
  const exploded: Exploded = explode(parts, orderOfSteps(plan, parts), ISO);
  const clip = clipOf(exploded);
  const end = Math.max(...[...clip.values()].map((keys) => keys.at(-1)?.at ?? 0));

  it('begins with the whole piece and ends as it is drawn apart', () => {
    for (const { copy } of parts) {
      const by = exploded.moves.get(copy)?.by as Vec3;
      const keys = clip.get(copy);
      if (keys === undefined) {
        expect(norm(by)).toBeLessThan(1e-6);
        continue;
      }
      expect(keys[0]).toEqual({ at: 0, by: [0, 0, 0] });
      expect(keys.at(-1)?.at).toBe(end);
      expect(norm(subtract(keys.at(-1)?.by as Vec3, by))).toBeLessThan(1e-6);
      for (const [i, key] of keys.entries()) if (i > 0) expect(key.at).toBeGreaterThan(keys[i - 1]?.at ?? 0);
    }
  });

  it('takes no board through another while it comes off', () => {
    // Half a second of rest, then a second for each group.
    const groups = groupsOf(exploded);
    const group = (copy: string): number => groups.findIndex((copies) => copies.includes(copy));
    for (let frame = 0; frame <= end * 20; frame++) {
      const at = frame / 20;
      const active = Math.floor(at - 0.5);
      const here = parts.map((part) => {
        const keys = clip.get(part.copy);
        return keys ? movedPart(part, placeAt(keys, at)) : part;
      });
      // Boards that are out already drift on with what they were fixed to; they may then pass through each other.
      const out = (copy: string): boolean => group(copy) >= 0 && group(copy) < active;
      const met = findOverlaps(here, solids).filter(({ first, second }) => !(out(first) && out(second)));
      expect(met, `at ${at} s`).toEqual([]);
    }
  });
});
