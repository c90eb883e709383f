import { beforeAll, describe, expect, it } from 'vitest';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { viewPicture } from '../../src/draw/lines/view.ts';
import { volumeOf } from '../../src/geometry/features.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placePart, placeParts, shapeBoard } from '../../src/geometry/place.ts';
import { blankTool, boxTool, drillTool, facetCount, planeTool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { cross, dot, norm, subtract, unit } from '../../src/geometry/vectors.ts';
import type { Frame, Vec3 } from '../../src/model/types.ts';
import { inches, mm } from '../../src/units.ts';
import { samplePlan } from '../support/sample.ts';
import {
  benchBoxes,
  boxSolid,
  type PlainBox,
  pocketsAndDado,
  scatteredBoxes,
  straightBox,
  turned,
} from './scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const board = { length: mm(200), width: mm(100), thickness: mm(20) };
const upright: Frame = {
  origin: [0, 0, 0],
  length: [1, 0, 0],
  width: [0, 1, 0],
  thickness: [0, 0, 1],
  mirrored: false,
};

/** A closed surface has each side of each triangle once in each direction; its planes hold its corners; normals look out. */
function checkSound(part: PlacedPart): void {
  const sides = new Set(part.triangles.flatMap(([a, b, c]) => [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]));
  expect(sides.size).toBe(part.triangles.length * 3);
  for (const side of sides) expect(sides.has(side.split(' ').reverse().join(' '))).toBe(true);
  expect(volumeOf(part.vertices, part.triangles)).toBeCloseTo(part.volume, 3);
  for (const face of part.faces) {
    expect(norm(face.normal)).toBeCloseTo(1, 12);
    for (const t of face.triangles) {
      const [a, b, c] = (part.triangles[t] as readonly number[]).map((i) => part.vertices[i] as Vec3) as [
        Vec3,
        Vec3,
        Vec3,
      ];
      for (const p of [a, b, c]) expect(Math.abs(dot(face.normal, p) - face.offset)).toBeLessThan(1e-6);
      const around = cross(subtract(b, a), subtract(c, a));
      if (norm(around) > 0.01) expect(dot(unit(around), face.normal)).toBeGreaterThan(0.999);
    }
  }
}

describe('placed boards', () => {
  it('of a plan come in the order of its parts and copies, each an exact box', () => {
    const parts = placeParts(samplePlan, solids);
    expect(parts.map((part) => part.copy)).toEqual(
      samplePlan.parts.flatMap((part) => part.copies.map((copy) => copy.id)),
    );
    const copies = samplePlan.parts.flatMap((part) => part.copies);
    parts.forEach((part, i) => {
      checkSound(part);
      const { size, bounds, frame } = copies[i] as (typeof copies)[number];
      expect(part.volume).toBeCloseTo(size.length * size.width * size.thickness, 4);
      for (const k of [0, 1, 2] as const) {
        expect(part.bounds.min[k]).toBeCloseTo(bounds.min[k], 9);
        expect(part.bounds.max[k]).toBeCloseTo(bounds.max[k], 9);
      }
      expect([part.vertices.length, part.faces.length, part.edges.length]).toEqual([8, 6, 12]);
      expect(part.edges.every((edge) => !edge.smooth)).toBe(true);
      // End grain looks along the length, wide faces along the thickness, edges along the width.
      const along: Record<string, Vec3> = { end: frame.length, edge: frame.width, wide: frame.thickness };
      expect(part.faces.map((face) => face.role).sort()).toEqual([
        'edge',
        'edge',
        'end',
        'end',
        'wide',
        'wide',
      ]);
      for (const face of part.faces)
        expect(Math.abs(dot(face.normal, along[face.role] as Vec3))).toBeCloseTo(1, 12);
    });
    // A leg of 3-1/2 x 1-1/2 x 17-1/4 in.
    expect(parts[0]?.volume).toBeCloseTo(inches(3.5) * inches(1.5) * inches(17.25), 4);
  });

  it('stay sound in a left-handed frame and mirrored', () => {
    const drill = { tool: drillTool([30, 25, -1], [0, 0, 1], 8, 22), does: 'cut' } as const;
    const own = shapeBoard(board, [drill], solids);
    for (const width of [
      [0, 1, 0],
      [0, -1, 0],
    ] as const) {
      for (const mirrored of [false, true]) {
        const frame: Frame = { ...upright, origin: [500, 300, 40], width, mirrored };
        const part = placePart(own, { copy: 'x.1', part: 'x', frame, size: board });
        checkSound(part);
        // The hole's middle: 25 from the first edge, or from the other one where the copy is mirrored.
        const across = 300 + width[1] * (mirrored ? 75 : 25);
        const round = part.faces.find((face) => face.round)?.round;
        expect(round?.origin[1]).toBeCloseTo(across, 9);
        const rim = part.vertices.filter((p) => p[0] > 515 && p[0] < 545).map((p) => p[1]);
        expect((Math.min(...rim) + Math.max(...rim)) / 2).toBeCloseTo(across, 6);
      }
    }
  });
});

describe('shaped boards', () => {
  // Closed forms: a prism over a regular n-gon of radius r has the area n/2 r^2 sin(2 pi / n).
  it('with a through hole lose the prism of the drill, and all but the sagitta of the cylinder', () => {
    const radius = 4.75;
    const n = facetCount(radius);
    const body = solids.shape(blankTool(board), [
      { tool: drillTool([50, 50, -5], [0, 0, 1], radius, 40), does: 'cut' },
    ]);
    const prism = (n / 2) * radius ** 2 * Math.sin((2 * Math.PI) / n) * 20;
    // The kernel measures in single precision.
    expect(body.volume / (200 * 100 * 20 - prism)).toBeCloseTo(1, 6);
    const own = shapeBoard(
      board,
      [{ tool: drillTool([50, 50, -5], [0, 0, 1], radius, 40), does: 'cut' }],
      solids,
    );
    expect(own.volume).toBeCloseTo(200 * 100 * 20 - prism, 6);
    const cylinder = Math.PI * radius ** 2 * 20;
    expect(prism).toBeLessThan(cylinder);
    expect(prism).toBeGreaterThan(Math.PI * (radius - 0.05) ** 2 * 20);
    expect(own.edges.filter((edge) => edge.smooth)).toHaveLength(n);
    expect(own.edges.filter((edge) => !edge.smooth)).toHaveLength(12 + 2 * n);
    expect(own.faces.filter((face) => face.round)).toHaveLength(n);
  });

  // A mitre of 45 degrees across the width takes half a prism: thickness x width^2 / 2.
  it('with a mitred end lose a triangle', () => {
    const normal: Vec3 = [Math.SQRT1_2, Math.SQRT1_2, 0];
    const tool = planeTool(normal, dot(normal, [200, 0, 0]), [200, 0, 0], 400, 'end');
    const own = shapeBoard(board, [{ tool, does: 'cut' }], solids);
    expect(own.volume).toBeCloseTo(200 * 100 * 20 - (100 * 100 * 20) / 2, 6);
    expect(own.faces.filter((face) => face.role === 'end')).toHaveLength(2);
    // Corners are exact, not single precision: 200 at the long side, 100 at the short one.
    expect(Math.max(...own.vertices.filter((p) => p[1] < 1).map((p) => p[0]))).toBeCloseTo(200, 10);
    expect(Math.max(...own.vertices.filter((p) => p[1] > 99).map((p) => p[0]))).toBeCloseTo(100, 10);
  });

  it('with a notch, a housing and a kept middle have the volumes of their boxes', () => {
    const notch = { tool: boxTool([150, -1, -1], [201, 40, 21]), does: 'cut' } as const;
    expect(shapeBoard(board, [notch], solids).volume).toBeCloseTo(200 * 100 * 20 - 50 * 40 * 20, 6);
    const housing = { tool: boxTool([80, -1, 12], [120, 101, 21]), does: 'cut' } as const;
    expect(shapeBoard(board, [notch, housing], solids).volume).toBeCloseTo(400000 - 40000 - 40 * 100 * 8, 6);
    const keep = { tool: boxTool([50, 10, -1], [120, 90, 21]), does: 'keep' } as const;
    expect(shapeBoard(board, [keep], solids).volume).toBeCloseTo(70 * 80 * 20, 6);
    const gone = { tool: boxTool([-1, -1, -1], [201, 101, 21]), does: 'cut' } as const;
    expect(shapeBoard(board, [gone], solids).triangles).toEqual([]);
  });

  it('join housings of one depth to one floor, and part a face that a groove divides', () => {
    const crossed = shapeBoard(
      board,
      [
        { tool: boxTool([80, -1, 10], [120, 101, 21]), does: 'cut' },
        { tool: boxTool([-1, 40, 10], [201, 60, 21]), does: 'cut' },
      ],
      solids,
    );
    const upward = crossed.faces.filter((face) => face.normal[2] > 0.9);
    expect(upward.filter((face) => face.role === 'cut')).toHaveLength(1);
    expect(upward.filter((face) => face.role === 'wide')).toHaveLength(4);
    expect(upward.find((face) => face.role === 'cut')?.loops[0]).toHaveLength(12);
  });

  it('stay sound with slanting pocket holes in any position', () => {
    scatteredBoxes(77, 12, 900).forEach((box) => {
      checkSound(boxSolid(box, solids, pocketsAndDado(box.size)));
    });
  });
});

describe('faulty bodies', () => {
  it('such as drills without a radius are no fault', () => {
    for (const radius of [0, Number.NaN]) {
      const part = boxSolid(straightBox('x.1', [0, 0, 0], [50, 20, 10]), solids, [
        { tool: drillTool([10, 10, -1], [0, 0, 1], radius, 12), does: 'cut' },
      ]);
      expect(part.volume).toBeCloseTo(50 * 20 * 10, 6);
    }
  });

  it('with sizes of nothing, or none at all, are empty and no fault', () => {
    for (const bad of [0, Number.NaN, Number.POSITIVE_INFINITY, -5]) {
      const part = boxSolid({ ...straightBox('x.1', [0, 0, 0], [10, 10, 10]), size: [bad, 10, 10] }, solids);
      const good = boxSolid(straightBox('y.1', [0, 0, 0], [10, 10, 10]), solids);
      expect(findOverlaps([part, good], solids).length).toBeLessThanOrEqual(1);
      const picture = viewPicture([part, good], viewFrame('front'), solids);
      expect(picture.lines.flatMap((line) => [...line.a, ...line.b]).every(Number.isFinite)).toBe(true);
    }
  });
});

describe('overlaps', () => {
  it('are found with volume and place', () => {
    const parts = [
      boxSolid(straightBox('a.1', [0, 0, 0], [100, 100, 20]), solids),
      boxSolid(straightBox('b.1', [90, 50, 10], [200, 150, 40]), solids),
      boxSolid(straightBox('c.1', [300, 0, 0], [400, 100, 20]), solids),
    ];
    const found = findOverlaps(parts, solids);
    expect(found.map((o) => [o.first, o.second])).toEqual([['a.1', 'b.1']]);
    expect(found[0]?.volume).toBeCloseTo(10 * 50 * 10, 2);
    [90, 50, 10].forEach((v, k) => {
      expect(found[0]?.bounds.min[k]).toBeCloseTo(v, 3);
    });
    [100, 100, 20].forEach((v, k) => {
      expect(found[0]?.bounds.max[k]).toBeCloseTo(v, 3);
    });
  });

  it('are none where boards touch, straight or turned in space', () => {
    expect(
      findOverlaps(
        benchBoxes().map((box) => boxSolid(box, solids)),
        solids,
      ),
    ).toEqual([]);
    for (const angle of [0.1, 0.37, 1.234]) {
      const axis = unit([1, 2, 0.5]);
      const turn = (box: PlainBox): PlainBox => ({
        ...box,
        corner: turned(box.corner, axis, angle),
        axes: box.axes.map((a) => turned(a, axis, angle)) as unknown as [Vec3, Vec3, Vec3],
      });
      expect(
        findOverlaps(
          benchBoxes().map((box) => boxSolid(turn(box), solids)),
          solids,
        ),
      ).toEqual([]);
      // A board pushed a millimetre into the next is found whatever the turn.
      const pushed = [
        straightBox('a.1', [0, 0, 0], [1000, 100, 20]),
        straightBox('b.1', [0, 99, 0], [1000, 200, 20]),
      ];
      const found = findOverlaps(
        pushed.map((box) => boxSolid(turn(box), solids)),
        solids,
      );
      expect(found[0]?.volume).toBeCloseTo(1000 * 1 * 20, -1);
    }
  });
});
