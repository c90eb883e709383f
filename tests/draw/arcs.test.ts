/** Rims and outlines of curved surfaces against closed formulas (analytic geometry of the circle under parallel projection). */
import { beforeAll, describe, expect, it } from 'vitest';
import { viewCurves } from '../../src/draw/lines/hidden-lines.ts';
import { frameTowards, project, viewFrame } from '../../src/draw/lines/project.ts';
import { viewPicture } from '../../src/draw/lines/view.ts';
import { arcLength, arcPoint, arcPoints, isWhole } from '../../src/draw/paper/arcs.ts';
import type { ViewArc } from '../../src/draw/types.ts';
import { straightView } from '../../src/draw/views/straight.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { coneTool } from '../../src/geometry/outlines.ts';
import { drillTool, prismTool, SAGITTA, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart, Round } from '../../src/geometry/types.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { boxSolid, straightBox } from '../geometry/scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const ISO = viewFrame({ depth: 'front', side: 'left', height: 'above' });

const drilled = (id: string, min: Vec3, max: Vec3, ...shapings: Shaping[]): PlacedPart =>
  boxSolid(straightBox(id, min, max), solids, shapings);

const cut = (tool: Shaping['tool']): Shaping => ({ tool, does: 'cut' });

/** A disc of radius r and height h that stands on the floor at the origin: a blank cut down to it. */
function disc(r: number, h: number): PlacedPart {
  return drilled('seat.1', [-r - 5, -r - 5, 0], [r + 5, r + 5, h], {
    tool: drillTool([r + 5, r + 5, -1], [0, 0, 1], r, h + 2),
    does: 'keep',
  });
}

describe('arcs of a view', () => {
  it('are whole circles of the true radius where one looks along a through hole', () => {
    const board = drilled(
      'board.1',
      [0, 0, 0],
      [200, 100, 20],
      cut(drillTool([60, 40, -1], [0, 0, 1], 17.5, 30)),
    );
    const { arcs, lines } = viewCurves([board], viewFrame('top'));
    // The far rim lies exactly under the near one and is not drawn a second time.
    expect(arcs).toHaveLength(1);
    const [circle] = arcs as [ViewArc];
    expect(isWhole(circle)).toBe(true);
    expect(circle.hidden).toBe(false);
    expect(circle.centre[0]).toBeCloseTo(60, 6);
    expect(circle.centre[1]).toBeCloseTo(40, 6);
    expect(circle.radii[0]).toBeCloseTo(17.5, 9);
    expect(circle.radii[1]).toBeCloseTo(17.5, 9);
    expect(arcLength(circle)).toBeCloseTo(2 * Math.PI * 17.5, 6);
    // Four edges of the board, and no chord of the rim left over.
    expect(lines).toHaveLength(4);
  });

  it('are ellipses of the isometric circle: half axes r and r/√3, the long one level (top face)', () => {
    // Isometric ellipse of a circle in a level plane: minor over major is the sine of the view's height, 1/√3.
    const board = drilled(
      'board.1',
      [0, 0, 0],
      [200, 100, 20],
      cut(drillTool([60, 40, 10], [0, 0, 1], 30, 30)),
    );
    const { arcs } = viewCurves([board], ISO);
    const rim = arcs.find((arc) => isWhole(arc)) as ViewArc;
    expect(rim.radii[0]).toBeCloseTo(30, 6);
    expect(rim.radii[1]).toBeCloseTo(30 / Math.sqrt(3), 6);
    expect(Math.abs(Math.sin(rim.rotation))).toBeLessThan(1e-9);
    const centre = project([60, 40, 20], ISO);
    expect(Math.hypot(rim.centre[0] - centre[0], rim.centre[1] - centre[1])).toBeLessThan(1e-6);
    // The bottom of the hole, 10 mm lower: part seen through the rim, part hidden, together one whole ellipse.
    const bottom = arcs.filter((arc) => Math.abs(arc.centre[1] - centre[1]) > 1);
    expect(bottom.some((arc) => arc.hidden) && bottom.some((arc) => !arc.hidden)).toBe(true);
    expect(bottom.reduce((sum, arc) => sum + arc.to - arc.from, 0)).toBeCloseTo(2 * Math.PI, 6);
    // Worked by hand: the two ellipses meet where y is halfway between their centres, d = 10·cos 35.26° apart; the near stretch
    // of the lower one that is hidden by the rim runs between the angles whose sine is -(d/2)/ry.
    const d = 10 * Math.sqrt(2 / 3);
    const half = Math.asin(d / 2 / (30 / Math.sqrt(3)));
    const seen = bottom.filter((arc) => !arc.hidden).reduce((sum, arc) => sum + arc.to - arc.from, 0);
    // Facets stand in for the rim where it hides, to 0.05 mm: at the crossing that is at most 0.05/(r sin) of a radian.
    expect(Math.abs(seen - (Math.PI - 2 * half))).toBeLessThan(0.02);
  });

  it.each([
    ['isometric', ISO],
    ['oblique', frameTowards([0.31, -0.85, 0.23])],
    ['from the front', viewFrame('front')],
  ] as const)('meet the outline of a disc where the surface turns away, %s', (_, frame) => {
    const [r, h] = [190, 28];
    const { arcs, lines } = viewCurves([disc(r, h)], frame);
    const upright = lines.filter((line) => !line.hidden);
    // Where a cylinder turns away its normal is at right angles to its axis and to the direction of view.
    const across = Math.hypot(frame.toViewer[0], frame.toViewer[1]);
    const out: Vec3 = [-frame.toViewer[1] / across, frame.toViewer[0] / across, 0];
    for (const side of [-1, 1])
      for (const z of [0, h]) {
        const at = project([side * r * out[0], side * r * out[1], z], frame);
        const ends = [
          ...upright.flatMap(({ a, b }) => [a, b]),
          ...arcs.flatMap((arc) => (isWhole(arc) ? [] : [arcPoint(arc, arc.from), arcPoint(arc, arc.to)])),
        ].filter((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) < 1e-4);
        // The outline ends there, and so do both halves of the rim: below, one of them is hidden; above, one is on the outline of
        // the whole and the other isn't. From the front the rims are straight lines.
        const wanted = frame.toViewer[2] === 0 ? 2 : 3;
        expect(ends.length, `at ${at}`).toBe(wanted);
      }
  });

  it('agree with points of the true curve of a tilted hole, as near as those points are spaced', () => {
    const axis: Vec3 = [Math.sin(0.4), 0, Math.cos(0.4)];
    const board = drilled(
      'board.1',
      [0, 0, 0],
      [200, 100, 20],
      cut(drillTool([60 - 40 * axis[0], 40, -40 * axis[2]], axis, 12, 90)),
    );
    const frame = frameTowards([0.31, -0.85, 0.63]);
    const { arcs } = viewCurves([board], frame);
    expect(arcs.length).toBeGreaterThan(1);
    for (const arc of arcs)
      for (const p of arcPoints(arc, 0.05)) {
        // The points of the tilted cylinder in the planes z = 0 and z = 20, by their angle: the nearest must be this one.
        let nearest = Infinity;
        for (const z of [0, 20])
          for (let i = 0; i < 20000; i++) {
            const t = (2 * Math.PI * i) / 20000;
            const x = 60 + z * Math.tan(0.4) + (12 / Math.cos(0.4)) * Math.cos(t);
            const q = project([x, 40 + 12 * Math.sin(t), z], frame);
            nearest = Math.min(nearest, Math.hypot(p[0] - q[0], p[1] - q[1]));
          }
        expect(nearest).toBeLessThan(0.0021);
      }
  }, 60_000);

  it('draw a rounded end as a half circle that runs into its straight edges', () => {
    const [r, length] = [25, 200];
    const round: Round = { origin: [length - r, r, 0], axis: [0, 0, 1], radius: r };
    const outline: Vec3[] = [[0, 0, 0]];
    const sides: { round?: Round }[] = [{}];
    for (let i = 0; i <= 24; i++) {
      const t = -Math.PI / 2 + (Math.PI * i) / 24;
      outline.push([length - r + r * Math.cos(t), r + r * Math.sin(t), 0]);
      sides.push(i < 24 ? { round } : {});
    }
    outline.push([0, 2 * r, 0]);
    sides.push({});
    const board = drilled('slat.1', [0, 0, 0], [length, 2 * r, 12], {
      tool: prismTool(outline, [0, 0, 12], { sides }),
      does: 'keep',
    });
    const { arcs, lines } = viewCurves([board], viewFrame('top'));
    expect(arcs).toHaveLength(1);
    const [end] = arcs as [ViewArc];
    expect(end.radii).toEqual([r, r]);
    expect(end.outline).toBe(true);
    expect(arcLength(end)).toBeCloseTo(Math.PI * r, 3);
    // Two long edges and the square end; where the curve runs into them is no line.
    expect(lines.map(({ a, b }) => Math.hypot(b[0] - a[0], b[1] - a[1])).sort((p, q) => p - q)).toEqual([
      expect.closeTo(2 * r, 3),
      expect.closeTo(length - r, 3),
      expect.closeTo(length - r, 3),
    ]);
  });

  it('are in a picture only when asked for, and then its lines have no chords', () => {
    const board = drilled('board.1', [0, 0, 0], [90, 90, 9], cut(drillTool([45, 45, -1], [0, 0, 1], 20, 30)));
    const plain = viewPicture([board], viewFrame('top'), solids);
    const curved = viewPicture([board], viewFrame('top'), solids, { arcs: true });
    expect(plain.arcs).toBeUndefined();
    expect(plain.lines.length).toBeGreaterThan(20);
    expect(curved.lines).toHaveLength(4);
    expect(curved.arcs).toHaveLength(1);
  });

  it('join the rims of two boards drilled together, with both their names', () => {
    const hole = () => cut(drillTool([45, 45, -1], [0, 0, 1], 20, 30));
    const boards = [
      drilled('upper.1', [0, 0, 9], [90, 90, 18], hole()),
      drilled('lower.1', [0, 0, 0], [90, 90, 9], hole()),
    ];
    const { arcs } = viewCurves(boards, viewFrame('front'));
    expect(arcs).toEqual([]);
    const iso = viewCurves(boards, ISO).arcs.filter((arc) => arc.copies.length === 2);
    // Between the boards two rims are one.
    expect(iso.reduce((sum, arc) => sum + arc.to - arc.from, 0)).toBeCloseTo(2 * Math.PI, 5);
  });
});

describe('curves in which curved surfaces meet', () => {
  it('of two equal holes at right angles are two ellipses with half axes r and r √2', () => {
    // Cylinders x² + z² = r² and y² + z² = r² meet where x² = y²: in the planes x = ±y, which cut each in an ellipse.
    const r = 18;
    const cube = drilled(
      'cube.1',
      [-40, -40, -40],
      [40, 40, 40],
      cut(drillTool([40, 40, -1], [0, 0, 1], r, 82)),
      cut(drillTool([-1, 40, 40], [1, 0, 0], r, 82)),
    );
    const { arcs, lines } = viewCurves([cube], frameTowards([0.31, -0.85, 0.63]));
    const crossed = arcs.filter((arc) => arc.radii[0] > r + 0.5);
    expect(crossed.length).toBeGreaterThan(1);
    // Seen square to its plane each is as long as it is.
    for (const way of [1, -1]) {
      const square = viewCurves([cube], frameTowards([1, 0, way]));
      const seen = square.arcs.filter((arc) => Math.abs(arc.radii[0] - r * Math.SQRT2) < 1e-6);
      expect(seen.length).toBeGreaterThan(0);
      for (const arc of seen) expect(arc.radii[1]).toBeCloseTo(r, 6);
    }
    // No chord of them is left but for those next to where the two cross.
    const short = lines.filter(({ a, b }) => Math.hypot(a[0] - b[0], a[1] - b[1]) < 5);
    expect(short.length).toBeLessThan(30);
  });

  it('of two unequal holes lie on both cylinders, within a few thousandths of a millimetre', () => {
    const [r, s] = [20, 14];
    const cube = drilled(
      'cube.1',
      [-40, -40, -40],
      [40, 40, 40],
      cut(drillTool([40, 40, -1], [0, 0, 1], r, 82)),
      cut(drillTool([-1, 40, 40], [1, 0, 0], s, 82)),
    );
    const frame = viewFrame('front');
    const { lines } = viewCurves([cube], frame);
    // From the front, u is x and v is z: with y² = s² − z² on the narrow one, x² = r² − s² + z² on both.
    const inside = lines.filter(
      ({ a, b }) => Math.max(Math.abs(a[0]), Math.abs(b[0])) < r + 0.05 && Math.abs(a[0] - b[0]) > 1e-6,
    );
    const on = inside.filter(({ a, b }) => Math.abs(a[1]) < s + 0.01 && Math.abs(b[1]) < s + 0.01);
    expect(on.length).toBeGreaterThan(40);
    for (const { a, b } of on) {
      const middle = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as const;
      expect(Math.abs(Math.abs(middle[0]) - Math.sqrt(r * r - s * s + middle[1] ** 2))).toBeLessThan(0.004);
    }
  });

  it('of a countersink at a slant and its face are the ellipse of the cone', () => {
    // A cone of half angle 45 about an axis 20 degrees out of square: with K = 1 + tan² 45 the plane at `far` from the apex cuts it in an ellipse
    // with half axes √R/√α and √R, α = 1 − K sin² 20, R = K far² cos² 20 − far² + (K far cos 20 sin 20)²/α.
    const lean = (20 * Math.PI) / 180;
    const axis: Vec3 = [Math.sin(lean), 0, -Math.cos(lean)];
    const board = drilled(
      'board.1',
      [0, 0, 0],
      [200, 100, 40],
      cut(drillTool([100 - 60 * axis[0], 50, 40 - 60 * axis[2]], axis, 5, 150)),
      cut(coneTool([100, 50, 40], axis, 16, 5, 1, SAGITTA, lean)),
    );
    const { arcs } = viewCurves([board], viewFrame('top'));
    const far = 16 * Math.cos(lean);
    const [sine, cosine] = [Math.sin(lean), Math.cos(lean)];
    const alpha = 1 - 2 * sine * sine;
    const R = 2 * far ** 2 * cosine ** 2 - far ** 2 + (2 * far * cosine * sine) ** 2 / alpha;
    const rim = arcs.find((arc) => Math.abs(arc.radii[0] - Math.sqrt(R / alpha)) < 1e-6) as ViewArc;
    expect(rim).toBeDefined();
    expect(rim.radii[1]).toBeCloseTo(Math.sqrt(R), 6);
    expect(isWhole(rim)).toBe(true);
    // Its lowest and highest points lie on the lines of the cone in the plane of the lean: at 20 ± 45 degrees out of square to the face.
    const apex = [100 + 16 * axis[0], 40 + 16 * axis[2]] as const;
    const ends = [-1, 1].map((way) => apex[0] - (40 - apex[1]) * Math.tan(lean + (way * Math.PI) / 4));
    const [low, high] = [rim.centre[0] - rim.radii[0], rim.centre[0] + rim.radii[0]];
    expect([low, high].sort((p, q) => p - q)).toEqual(
      ends.sort((p, q) => p - q).map((x) => expect.closeTo(x, 6)),
    );
  });
});

describe('a rim too flat to show two sides', () => {
  /** A rim of 19 mm, its axis turned from the paper so that it looks `flat` times as high as it is wide. */
  const view = (flat: number, from: number, to: number, ratio = 0.1) =>
    straightView(
      {
        frame: { right: [1, 0, 0], up: [0, 0, 1], toViewer: [0, -1, 0] },
        lines: [],
        arcs: [
          {
            centre: [100, 50],
            radii: [9.5, 9.5 * flat],
            rotation: 0,
            from,
            to,
            hidden: false,
            copies: ['peg'],
            outline: true,
          },
        ],
        faces: [],
        min: [0, 0],
        max: [200, 100],
      },
      ratio,
    );

  it('is one line along it, as the end of a peg at ten degrees is in a view from above', () => {
    // At 1 : 10 it is 1.9 mm wide and 1.9 sin 10° = 0.33 mm high: less than the 0.7 mm that two lines need (ISO 128-2).
    const flat = Math.sin((10 * Math.PI) / 180);
    for (const to of [Math.PI, 2 * Math.PI]) {
      const { visible, arcs } = view(flat, 0, to);
      expect(arcs.visible).toEqual([]);
      const [ends] = visible;
      expect(visible).toHaveLength(1);
      expect(ends?.flat().map((value) => Math.round(value * 1000) / 1000)).toEqual(
        expect.arrayContaining([9.05, -5, 10.95, -5]),
      );
    }
    // Half of one side reaches from the middle to an end.
    const [half] = view(flat, 0, Math.PI / 2).visible;
    expect(half?.map(([x]) => Math.round(x * 1000) / 1000).sort()).toEqual([10, 10.95].sort());
  });

  it('is an arc at a scale that shows both, and nothing where it lies in the edge of a face', () => {
    expect(view(0.5, 0, Math.PI).arcs.visible).toHaveLength(1);
    expect(view(0.5, 0, Math.PI).visible).toEqual([]);
    expect(view(0, 0, Math.PI).visible).toEqual([]);
  });
});
