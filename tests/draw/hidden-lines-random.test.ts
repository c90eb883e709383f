import { beforeAll, describe, expect, it } from 'vitest';
import { viewLines } from '../../src/draw/lines/hidden-lines.ts';
import { frameTowards, viewFrame } from '../../src/draw/lines/project.ts';
import type { ViewLine } from '../../src/draw/types.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { benchBoxes, boxSolid, scatteredBoxes } from '../geometry/scenes.ts';
import { rayLengths } from './ray-oracle.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const VIEWS = {
  front: viewFrame('front'),
  top: viewFrame('top'),
  right: viewFrame('right'),
  isometric: viewFrame({ depth: 'front', side: 'left', height: 'above' }),
  oblique: frameTowards([0.31, -0.85, 0.23]),
};

const lengthOf = (lines: readonly ViewLine[], hidden: boolean): number =>
  lines
    .filter((line) => line.hidden === hidden)
    .reduce((sum, { a, b }) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);

// Reference: rays against slabs, in ray-oracle.ts. The bound of 0.1 % per view is the project's own (drawings.md).
describe('hidden lines against rays', () => {
  const FIRST_SEED = 20260;
  it(`agree on 60 scenes of boxes that stay clear of each other, seeds from ${FIRST_SEED}`, () => {
    let worst = 0;
    for (let i = 0; i < 60; i++) {
      const seed = FIRST_SEED + i;
      const boxes = scatteredBoxes(seed, 8 + (i % 9), 400);
      const parts = boxes.map((box) => boxSolid(box, solids));
      if (i < 10) expect(findOverlaps(parts, solids), `seed ${seed} doesn't overlap`).toEqual([]);
      for (const [view, frame] of Object.entries(VIEWS)) {
        const lines = viewLines(parts, frame);
        const rays = rayLengths(boxes, frame, 0.6);
        for (const [kind, hidden] of [
          ['visible', false],
          ['hidden', true],
        ] as const) {
          const off = Math.abs(lengthOf(lines, hidden) - rays[kind]) / (rays.visible + rays.hidden);
          worst = Math.max(worst, off);
          expect(
            off,
            `seed ${seed}, ${view}, ${kind}: ${lengthOf(lines, hidden)} against ${rays[kind]}`,
          ).toBeLessThan(1e-3);
        }
      }
    }
    console.log(`seeds ${FIRST_SEED} to ${FIRST_SEED + 59}: worst difference ${(worst * 100).toFixed(5)} %`);
  });

  it('agree on a bench of boards that are all flush or touching', () => {
    const boxes = benchBoxes();
    expect(
      findOverlaps(
        boxes.map((box) => boxSolid(box, solids)),
        solids,
      ),
    ).toEqual([]);
    const parts = boxes.map((box) => boxSolid(box, solids));
    expect(boxes.length).toBe(38);
    for (const [view, frame] of Object.entries(VIEWS)) {
      const lines = viewLines(parts, frame);
      const rays = rayLengths(boxes, frame, 4);
      expect(Math.abs(lengthOf(lines, false) / rays.visible - 1), `${view}, visible`).toBeLessThan(1e-3);
      expect(Math.abs(lengthOf(lines, true) / rays.hidden - 1), `${view}, hidden`).toBeLessThan(1e-3);
    }
  });
});
