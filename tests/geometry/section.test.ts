/** Sections against closed formulas: volumes and areas of what a plane leaves of boxes and drilled boards. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loopArea } from '../../src/draw/lines/flat.ts';
import { project, viewFrame } from '../../src/draw/lines/project.ts';
import { viewPicture } from '../../src/draw/lines/view.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { sectionParts } from '../../src/geometry/section.ts';
import { boxTool, drillTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { unit } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { boxSolid, straightBox } from './scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const board = (id: string, min: Vec3, max: Vec3, ...shapings: Shaping[]): PlacedPart =>
  boxSolid(straightBox(id, min, max), solids, shapings);

const cut = (tool: Shaping['tool']): Shaping => ({ tool, does: 'cut' });

/** Area of a part's section faces, seen along the plane's normal. */
function sectionArea(part: PlacedPart, normal: Vec3): number {
  const right = unit([normal[1], -normal[0], normal[0] === 0 && normal[1] === 0 ? 1 : 0]);
  const up: Vec3 = [
    normal[1] * right[2] - normal[2] * right[1],
    normal[2] * right[0] - normal[0] * right[2],
    normal[0] * right[1] - normal[1] * right[0],
  ];
  const frame = { right, up, toViewer: normal };
  return part.faces
    .filter((face) => face.role === 'section')
    .flatMap((face) => face.loops)
    .reduce((sum, loop) => sum + loopArea(loop.map((v) => project(part.vertices[v] as Vec3, frame))), 0);
}

describe('a section', () => {
  it('leaves what is behind the plane, and a face of the size of the cut', () => {
    const parts = [
      board('before.1', [0, 0, 0], [100, 20, 50]),
      board('across.1', [0, 20, 0], [100, 100, 50]),
      board('behind.1', [0, 100, 0], [100, 130, 50]),
    ];
    // The viewer stands in front: y = 60, normal towards him.
    const left = sectionParts(parts, { normal: [0, -1, 0], offset: -60 }, solids);
    expect(left.map((part) => part.copy)).toEqual(['across.1', 'behind.1']);
    expect(left[1]).toBe(parts[2]);
    const [across] = left as [PlacedPart];
    expect(across.bounds.min[1]).toBeCloseTo(60, 9);
    expect(across.volume).toBeCloseTo(100 * 40 * 50, 3);
    expect(sectionArea(across, [0, -1, 0])).toBeCloseTo(100 * 50, 6);
    expect(across.faces.map((face) => face.role).sort()).toEqual([
      'edge',
      'end',
      'end',
      'section',
      'wide',
      'wide',
    ]);
  });

  it('cuts at an angle: a box through its diagonal plane is half of it, the cut √2 as long', () => {
    const [half] = sectionParts(
      [board('a.1', [500, 700, 900], [600, 800, 940])],
      { normal: unit([1, 1, 0]), offset: (550 + 750) / Math.sqrt(2) },
      solids,
    ) as [PlacedPart];
    expect(half.volume).toBeCloseTo((100 * 100 * 40) / 2, 3);
    expect(sectionArea(half, unit([1, 1, 0]))).toBeCloseTo(100 * Math.SQRT2 * 40, 4);
  });

  it('halves holes: the cut face has gaps where they run, and their rims stay arcs', () => {
    const drilled = board(
      'a.1',
      [0, 0, 0],
      [200, 80, 30],
      cut(drillTool([50, 40, -1], [0, 0, 1], 12, 40)),
      cut(drillTool([140, 40, 31], [0, 0, -1], 20, 16)),
      cut(boxTool([90, -1, 20], [110, 81, 31])),
    );
    const plane = { normal: [0, -1, 0] as Vec3, offset: -40 };
    const [half] = sectionParts([drilled], plane, solids) as [PlacedPart];
    // The full cut, less a hole 24 wide right through, one 40 wide and 15 deep, a dado 20 wide and 10 deep.
    expect(sectionArea(half, plane.normal)).toBeCloseTo(200 * 30 - 24 * 30 - 40 * 15 - 20 * 10, 2);
    expect(Math.abs(half.volume / (drilled.volume / 2) - 1)).toBeLessThan(1e-6);
    const picture = viewPicture([half], viewFrame('top'), solids, { arcs: true, hidden: false });
    const turns = (picture.arcs ?? []).map((arc) => [arc.radii[0], arc.to - arc.from]);
    expect(turns.sort((a, b) => (a[0] as number) - (b[0] as number))).toEqual([
      [expect.closeTo(12, 6), expect.closeTo(Math.PI, 6)],
      [expect.closeTo(20, 6), expect.closeTo(Math.PI, 6)],
    ]);
    // Inside a halved hole no facet edge is drawn.
    const front = viewPicture([half], viewFrame('front'), solids, { arcs: true, hidden: false });
    const upright = front.lines.filter(({ a, b }) => Math.abs(a[0] - b[0]) < 1e-6);
    expect(upright.map(({ a }) => Math.round(a[0])).sort((a, b) => a - b)).toEqual([
      0, 38, 62, 90, 110, 120, 160, 200,
    ]);
  });

  it('keeps the joint between boards, and each its own faces to hatch', () => {
    const parts = [board('a.1', [0, 0, 0], [100, 80, 20]), board('b.1', [0, 0, 20], [100, 80, 60])];
    const left = sectionParts(parts, { normal: [0, -1, 0], offset: -30 }, solids);
    const picture = viewPicture(left, viewFrame('front'), solids, { hidden: false });
    const hatched = picture.faces.filter((face) => face.role === 'section');
    expect(hatched.map((face) => face.copy)).toEqual(['a.1', 'b.1']);
    expect(picture.lines.filter(({ a, b }) => a[1] === b[1] && Math.abs(a[1] - 20) < 1e-9)).toEqual([
      expect.objectContaining({ copies: ['a.1', 'b.1'] }),
    ]);
  });

  it('is nothing where all lies before the plane', () => {
    expect(
      sectionParts([board('a.1', [0, 0, 0], [10, 10, 10])], { normal: [0, 0, 1], offset: -5 }, solids),
    ).toEqual([]);
  });
});
