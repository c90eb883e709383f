/** A view cut out by a circle or a rectangle, against plane geometry worked in comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { clipPicture, type Window } from '../../src/draw/lines/clip.ts';
import { loopArea } from '../../src/draw/lines/flat.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { viewPicture } from '../../src/draw/lines/view.ts';
import { arcLength, arcPoint, isWhole } from '../../src/draw/paper/arcs.ts';
import type { ViewPicture } from '../../src/draw/types.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { drillTool } from '../../src/geometry/tools.ts';
import { boxSolid, straightBox } from '../geometry/scenes.ts';

let picture: ViewPicture;
beforeAll(async () => {
  const solids = await loadSolids();
  const board = boxSolid(straightBox('board.1', [0, 0, 0], [200, 100, 20]), solids, [
    { tool: drillTool([60, 50, -1], [0, 0, 1], 30, 30), does: 'cut' },
  ]);
  picture = viewPicture([board], viewFrame('top'), solids, { arcs: true });
});

const area = ({ faces }: ViewPicture): number =>
  faces.flatMap((face) => face.loops).reduce((sum, loop) => sum + loopArea(loop), 0);

describe('a detail of a view', () => {
  it('cuts lines, arcs and faces at a circle', () => {
    // About the corner (0, 0) with radius 50: two edges of 50; the hole, centred √(60² + 50²) = 78.1 away, reaches in.
    const window: Window = { kind: 'circle', centre: [0, 0], radius: 50 };
    const detail = clipPicture(picture, window);
    expect(detail.lines.map(({ a, b }) => Math.hypot(b[0] - a[0], b[1] - a[1]))).toEqual([
      expect.closeTo(50, 9),
      expect.closeTo(50, 9),
    ]);
    expect(detail.arcs).toHaveLength(1);
    const [arc] = detail.arcs as [NonNullable<ViewPicture['arcs']>[number]];
    // Where two circles cross: the half angle at the hole's centre by the law of cosines.
    const d = Math.hypot(60, 50);
    const half = Math.acos((d * d + 30 * 30 - 50 * 50) / (2 * d * 30));
    expect(arcLength(arc)).toBeCloseTo(2 * half * 30, 6);
    for (const t of [arc.from, arc.to]) expect(Math.hypot(...arcPoint(arc, t))).toBeCloseTo(50, 9);
    // A quarter circle less the lens that the hole takes off it.
    const other = Math.acos((d * d + 50 * 50 - 30 * 30) / (2 * d * 50));
    const lens = 30 * 30 * (half - Math.sin(2 * half) / 2) + 50 * 50 * (other - Math.sin(2 * other) / 2);
    expect(Math.abs(area(detail) / ((Math.PI * 2500) / 4 - lens) - 1)).toBeLessThan(2e-3);
    expect([detail.min, detail.max]).toEqual([
      [-50, -50],
      [50, 50],
    ]);
  });

  it('cuts at a rectangle, and keeps whole what lies within', () => {
    const detail = clipPicture(picture, { kind: 'rectangle', min: [20, 10], max: [250, 90] });
    expect(detail.arcs?.map(isWhole)).toEqual([true]);
    // Only the right end is left of the board's edges, 80 long.
    expect(detail.lines).toEqual([expect.objectContaining({ hidden: false, copies: ['board.1'] })]);
    expect(Math.abs((detail.lines[0]?.a[1] ?? 0) - (detail.lines[0]?.b[1] ?? 0))).toBeCloseTo(80, 9);
    expect(Math.abs(area(detail) / (180 * 80 - Math.PI * 900) - 1)).toBeLessThan(2e-3);
  });

  it('joins an arc over the angle where its turn begins', () => {
    // The right half of the hole: one arc of half a turn, not two of a quarter.
    const detail = clipPicture(picture, { kind: 'rectangle', min: [60, 0], max: [200, 100] });
    expect(detail.arcs).toHaveLength(1);
    expect((detail.arcs?.[0]?.to ?? 0) - (detail.arcs?.[0]?.from ?? 0)).toBeCloseTo(Math.PI, 9);
  });

  it('is empty beside the piece', () => {
    const detail = clipPicture(picture, { kind: 'circle', centre: [900, 900], radius: 50 });
    expect([detail.lines, detail.arcs, detail.faces]).toEqual([[], [], []]);
  });
});
