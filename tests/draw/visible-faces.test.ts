import { beforeAll, describe, expect, it } from 'vitest';
import { loopArea, polygonArea } from '../../src/draw/lines/flat.ts';
import { frameTowards, viewFrame } from '../../src/draw/lines/project.ts';
import { viewFaces } from '../../src/draw/lines/visible-faces.ts';
import type { ViewFrame } from '../../src/draw/types.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { boxTool, drillTool, type Tool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { dot, unit } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { benchBoxes, boxSolid, drilledBench, scatteredBoxes, straightBox } from '../geometry/scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const isometric = viewFrame({ depth: 'front', side: 'left', height: 'above' });
const VIEWS = {
  front: viewFrame('front'),
  top: viewFrame('top'),
  isometric,
  oblique: frameTowards([0.31, -0.85, 0.23]),
};

const areaOf = (parts: readonly PlacedPart[], frame: ViewFrame): number =>
  viewFaces(parts, frame, solids).reduce((sum, face) => sum + polygonArea(face.loops), 0);

/** Area of the shadow of all parts, from the kernel's own projection of the whole solids. */
const shadowArea = (parts: readonly PlacedPart[], frame: ViewFrame): number =>
  polygonArea(
    solids.shadow(
      parts.map((part) => ({
        triangles: part.triangles,
        vertices: part.vertices.map(
          (p): Vec3 => [dot(p, frame.right), dot(p, frame.up), dot(p, frame.toViewer)],
        ),
      })),
    ),
  );

describe('visible faces', () => {
  // A cube in an isometric view: three rhombs of a^2 / sqrt(3) each, one for each side that is seen.
  it('of a cube are three equal rhombs with their own tones and grain', () => {
    const faces = viewFaces(
      [boxSolid(straightBox('cube.1', [0, 0, 0], [90, 90, 90]), solids)],
      isometric,
      solids,
    );
    expect(faces).toHaveLength(3);
    for (const face of faces) {
      expect(face.loops).toHaveLength(1);
      expect(face.loops[0]).toHaveLength(4);
      expect(polygonArea(face.loops)).toBeCloseTo(90 ** 2 / Math.sqrt(3), 9);
      expect(Math.hypot(...face.grain)).toBeCloseTo(Math.sqrt(2 / 3), 12);
    }
    expect(faces.map((face) => face.role).sort()).toEqual(['edge', 'end', 'wide']);
    expect(faces.map((face) => face.normal.map(Math.round).join()).sort()).toEqual([
      '-1,0,0',
      '0,-1,0',
      '0,0,1',
    ]);
  });

  it('of flush boards stay apart, and a board in the way leaves a hole', () => {
    const parts = [
      boxSolid(straightBox('a.1', [0, 0, 0], [100, 20, 60]), solids),
      boxSolid(straightBox('b.1', [100, 0, 0], [200, 20, 60]), solids),
      boxSolid(straightBox('c.1', [20, -40, 20], [60, -20, 40]), solids),
    ];
    const faces = viewFaces(parts, viewFrame('front'), solids);
    expect(faces.map((face) => [face.copy, face.loops.length, Math.round(polygonArea(face.loops))])).toEqual([
      ['a.1', 2, 100 * 60 - 40 * 20],
      ['b.1', 1, 6000],
      ['c.1', 1, 800],
    ]);
    // The hole runs the other way round than the outline.
    expect(faces[0]?.loops.map((loop) => Math.sign(loopArea(loop))).sort()).toEqual([-1, 1]);
  });

  it('of copies that are not asked for are left out, but still hide', () => {
    const parts = [
      boxSolid(straightBox('a.1', [0, 0, 0], [100, 20, 60]), solids),
      boxSolid(straightBox('b.1', [50, -20, 0], [150, -1, 60]), solids),
    ];
    const faces = viewFaces(parts, viewFrame('front'), solids, new Set(['a.1']));
    expect(faces.map((face) => [face.copy, polygonArea(face.loops)])).toEqual([['a.1', 3000]]);
  });

  it('of a drilled board show the hole, and through it what lies behind', () => {
    const drill = { tool: drillTool([50, 30, -1], [0, 0, 1], 12, 22), does: 'cut' } as const;
    const parts = [
      boxSolid(straightBox('over.1', [0, 0, 100], [100, 60, 120]), solids, [drill]),
      boxSolid(straightBox('under.1', [0, 0, 0], [100, 60, 20]), solids),
    ];
    const faces = viewFaces(parts, viewFrame('top'), solids);
    const hole = 6000 - polygonArea(faces.find((face) => face.copy === 'over.1')?.loops ?? []);
    expect(faces.map((face) => face.copy)).toEqual(['over.1', 'under.1']);
    // Facets lie at most 0.05 mm inside the circle: at least pi (12 - 0.05)^2, at most pi 12^2.
    expect(hole).toBeLessThanOrEqual(Math.PI * 12 ** 2);
    expect(hole).toBeGreaterThan(Math.PI * (12 - 0.05) ** 2);
    expect(polygonArea(faces[1]?.loops ?? [])).toBeCloseTo(hole, 3);
  });

  it('of a housing show its floor in front of nothing and behind its own side', () => {
    const housing = { tool: boxTool([40, -1, 10], [60, 61, 21]), does: 'cut' } as const;
    const part = boxSolid(straightBox('board.1', [0, 0, 0], [100, 60, 20]), solids, [housing]);
    // Seen along (-1, 0, 1): a wall of 10 hides 10 of the floor's 20; every area shrinks by sqrt(1/2).
    const frame = frameTowards([-1, 0, 1]);
    const faces = viewFaces([part], frame, solids).filter((face) => face.role === 'cut');
    const areas = faces.map((face) => polygonArea(face.loops)).sort((a, b) => a - b);
    expect(areas).toHaveLength(2);
    expect(areas[0]).toBeCloseTo(10 * 60 * Math.SQRT1_2, 2);
    expect(areas[1]).toBeCloseTo(10 * 60 * Math.SQRT1_2, 2);
  });

  describe('of holes', () => {
    /** A board with holes of all kinds in its upper face and one end, a peg that stands deep in the first. */
    const scene = (): PlacedPart[] => {
      const cut = (tool: Tool) => ({ tool, does: 'cut' }) as const;
      const board = boxSolid(straightBox('board.1', [0, 0, 0], [300, 100, 40]), solids, [
        cut(drillTool([50, 50, 41], [0, 0, -1], 20, 31)),
        cut(drillTool([120, 50, 41], [0, 0, -1], 16, 60)),
        cut(drillTool([120, 50, 41], [0, 0, -1], 25, 11)),
        // Leaning, and one that crosses another within the wood.
        cut(drillTool([200, 50, 41], unit([0.3, 0.2, -1]), 12, 30)),
        cut(drillTool([-1, 50, 25], [1, 0, 0], 8, 90)),
        cut(boxTool([240, 30, 25], [280, 70, 41])),
      ]);
      const peg = boxSolid(straightBox('peg.1', [40, 40, 10], [60, 60, 30]), solids, [
        { tool: drillTool([10, 10, -1], [0, 0, 1], 10, 30), does: 'keep' },
      ]);
      return [board, peg];
    };
    it.each(
      Object.entries({ ...VIEWS, below: frameTowards([0.2, 0.3, -1]), steep: frameTowards([-0.4, -0.3, 1]) }),
    )('fill the shadow of the whole once, %s', (_, frame) => {
      const parts = scene();
      expect(Math.abs(areaOf(parts, frame) / shadowArea(parts, frame) - 1)).toBeLessThan(1e-5);
    });

    it('a peg in a hole hides the floor behind it, and the rim hides the peg', () => {
      const faces = viewFaces(scene(), viewFrame('top'), solids);
      const area = (keep: (face: (typeof faces)[number]) => boolean): number =>
        faces.filter(keep).reduce((sum, face) => sum + polygonArea(face.loops), 0);
      // The peg's end, π 10²; the rest of the hole's floor, π 20² less that. Facets lie at most 0.05 mm inside.
      const peg = area(({ copy }) => copy === 'peg.1');
      expect(peg).toBeLessThan(Math.PI * 100);
      expect(peg).toBeGreaterThan(Math.PI * 9.95 ** 2);
      const floor = area(
        ({ copy, loops }) =>
          copy === 'board.1' && loops.every((loop) => loop.every(([u]) => u > 29 && u < 71)),
      );
      expect(floor + peg).toBeLessThan(Math.PI * 400);
      expect(floor + peg).toBeGreaterThan(Math.PI * 19.95 ** 2);
      // Steeply from the side the peg stands 10 below the rim: part of it is hidden.
      const steep = viewFaces(scene(), frameTowards([-1, 0, 1]), solids).filter(
        ({ copy }) => copy === 'peg.1',
      );
      const seen = steep.reduce((sum, face) => sum + polygonArea(face.loops), 0);
      expect(seen).toBeGreaterThan(10);
      expect(seen).toBeLessThan(Math.PI * 100 * Math.SQRT1_2 + 20 * 20 * Math.SQRT1_2);
    });
  });

  it('come out the same whatever pictures were made before: of fewer boards, of more, of others', () => {
    const parts = drilledBench(solids);
    const anew = (list: readonly PlacedPart[]): PlacedPart[] => list.map((part) => ({ ...part }));
    for (const frame of [isometric, VIEWS.front, VIEWS.oblique])
      for (const count of [3, 9, 9, 21, parts.length, 12, parts.length]) {
        const some = parts.slice(0, count);
        expect(viewFaces(some, frame, solids), `${count}`).toEqual(viewFaces(anew(some), frame, solids));
      }
    const odd = parts.filter((_, i) => i % 2 === 1);
    expect(viewFaces(odd, isometric, solids)).toEqual(viewFaces(anew(odd), isometric, solids));
  });

  // Reference: the union of the shadows of the solids, projected by the kernel. What is visible covers it once.
  describe('fill the shadow of the whole once', () => {
    it('for 24 scattered scenes, seeds from 500', () => {
      for (let i = 0; i < 24; i++) {
        const parts = scatteredBoxes(500 + i, 6 + i, 500).map((box) => boxSolid(box, solids));
        for (const [view, frame] of Object.entries(VIEWS)) {
          const off = Math.abs(areaOf(parts, frame) / shadowArea(parts, frame) - 1);
          expect(off, `seed ${500 + i}, ${view}`).toBeLessThan(1e-5);
        }
      }
    });

    it('for a bench of touching boards, plain and drilled', () => {
      for (const parts of [benchBoxes().map((box) => boxSolid(box, solids)), drilledBench(solids)]) {
        for (const [view, frame] of Object.entries(VIEWS)) {
          expect(Math.abs(areaOf(parts, frame) / shadowArea(parts, frame) - 1), view).toBeLessThan(1e-5);
        }
      }
    });
  });
});
