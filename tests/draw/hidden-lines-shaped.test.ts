/**
 * Hidden lines of shaped boards against rays: a board is its blank less its tools, all of them convex, so a ray towards the
 * viewer is a set of intervals. The rays use the planes of blanks and tools only, never the kernel's solids or the program's
 * faces and edges; those give the points that are tested.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { viewCurves } from '../../src/draw/lines/hidden-lines.ts';
import { frameTowards, project } from '../../src/draw/lines/project.ts';
import { arcPoints } from '../../src/draw/paper/arcs.ts';
import type { Point, ViewFrame, ViewLine } from '../../src/draw/types.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import {
  blankTool,
  boxTool,
  drillTool,
  planeTool,
  type Shaping,
  type Tool,
} from '../../src/geometry/tools.ts';
import type { PlacedPart, Round, SolidEdge } from '../../src/geometry/types.ts';
import { add, dot, norm, scale, subtract, unit } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import {
  benchBoxes,
  boxSolid,
  type PlainBox,
  pocketsAndDado,
  splayedLegs,
  straightBox,
} from '../geometry/scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

interface Shaped {
  readonly box: PlainBox;
  readonly shapings: readonly Shaping[];
}

type Span = readonly [from: number, to: number];

/** Where a ray from `p` is inside a convex tool of a box's frame; undefined where it misses. */
function inside(tool: Tool, box: PlainBox, p: Vec3, towards: Vec3): Span | undefined {
  const local = (v: Vec3): Vec3 => [dot(v, box.axes[0]), dot(v, box.axes[1]), dot(v, box.axes[2])];
  const [start, slope] = [local(subtract(p, box.corner)), local(towards)];
  let [from, to] = [0, Infinity];
  for (const face of tool.faces) {
    const height = dot(face.normal, start) - face.offset;
    const rise = dot(face.normal, slope);
    if (Math.abs(rise) < 1e-9) {
      if (height > -1e-6) return undefined;
    } else if (rise > 0) to = Math.min(to, -height / rise);
    else from = Math.max(from, -height / rise);
  }
  return to - from > 1e-6 ? [from, to] : undefined;
}

/** True where a ray from `p` meets wood of the board for more than a hundredth of a millimetre. */
function blocks({ box, shapings }: Shaped, p: Vec3, towards: Vec3): boolean {
  const [length, width, thickness] = box.size;
  const whole = inside(blankTool({ length, width, thickness }), box, p, towards);
  if (whole === undefined) return false;
  let wood: Span[] = [whole];
  for (const { tool } of shapings) {
    const gone = inside(tool, box, p, towards);
    if (gone === undefined) continue;
    wood = wood.flatMap(([a, b]): Span[] => [
      [a, Math.min(b, gone[0])],
      [Math.max(a, gone[1]), b],
    ]);
  }
  return wood.some(([a, b]) => b - a > 0.01);
}

/** A stretch of a line; `slack` is the sine by which its direction may be off: chords of an arc turn with it. */
type Straight = Pick<ViewLine, 'a' | 'b'> & { readonly slack?: number };

/** True where a visible line runs through the point in about the same direction. */
function drawn(
  lines: readonly Straight[],
  p: readonly [number, number],
  along: readonly [number, number],
): boolean {
  return lines.some(({ a, b, slack = 0.02 }) => {
    if (Math.min(a[0], b[0]) > p[0] + 0.02 || Math.max(a[0], b[0]) < p[0] - 0.02) return false;
    if (Math.min(a[1], b[1]) > p[1] + 0.02 || Math.max(a[1], b[1]) < p[1] - 0.02) return false;
    const [du, dv] = [b[0] - a[0], b[1] - a[1]];
    const length = Math.hypot(du, dv);
    const [pu, pv] = [p[0] - a[0], p[1] - a[1]];
    if (Math.abs(pu * dv - pv * du) > 0.02 * length) return false;
    const t = pu * du + pv * dv;
    if (t < -0.02 * length || t > length * (length + 0.02)) return false;
    return Math.abs(du * along[1] - dv * along[0]) < slack * length * Math.hypot(...along);
  });
}

/** A drill's facets as close to its cylinder as makes no difference; the program's own are coarse. */
function finely(boards: readonly Shaped[]): Shaped[] {
  return boards.map(({ box, shapings }) => ({
    box,
    shapings: shapings.map((shaping): Shaping => {
      const { vertices, faces } = shaping.tool;
      const round = faces[2]?.round;
      if (round === undefined) return shaping;
      const length = norm(subtract(vertices[vertices.length / 2] as Vec3, vertices[0] as Vec3));
      return { ...shaping, tool: drillTool(round.origin, round.axis, round.radius, length, 0.002) };
    }),
  }));
}

/** A point of an edge, moved onto the true cylinder where the edge is a chord of its rim. */
function onCurve(part: PlacedPart, edge: SolidEdge, p: Vec3): Vec3 {
  const [left, right] = [part.faces[edge.left], part.faces[edge.right]];
  if ((left?.round === undefined) === (right?.round === undefined)) return p;
  const [round, plane] = left?.round === undefined ? [right?.round, left] : [left.round, right];
  const { origin, axis, radius } = round as Round;
  const { normal, offset } = plane as { normal: Vec3; offset: number };
  if (Math.abs(dot(axis, normal)) < 1e-3) return p;
  const centre = add(origin, scale(axis, (offset - dot(origin, normal)) / dot(axis, normal)));
  const out = subtract(p, centre);
  return add(centre, scale(out, radius / norm(subtract(out, scale(axis, dot(out, axis))))));
}

/** Tests points of every sharp edge, about 15 mm apart; gives how many were tested and which were wrong. */
function compare(boards: readonly Shaped[], parts: readonly PlacedPart[], frame: ViewFrame) {
  const { lines, arcs } = viewCurves(parts, frame, { hidden: false });
  const visible: Straight[] = [
    ...lines,
    ...arcs.flatMap((arc) => {
      const points = arcPoints(arc, 0.001);
      return points.slice(1).map((b, i) => ({ a: points[i] as readonly [number, number], b, slack: 0.2 }));
    }),
  ];
  const fine = finely(boards);
  const wrong: string[] = [];
  let count = 0;
  for (const part of parts) {
    for (const edge of part.edges) {
      if (edge.smooth) continue;
      const [a, b] = [part.vertices[edge.a] as Vec3, part.vertices[edge.b] as Vec3];
      const [p, q] = [project(a, frame), project(b, frame)];
      const along = [q[0] - p[0], q[1] - p[1]] as const;
      if (Math.hypot(...along) < 0.3) continue;
      const n = Math.max(1, Math.ceil(Math.hypot(...along) / 15));
      for (let i = 0; i < n; i++) {
        const at = (t: number): Vec3 => onCurve(part, edge, add(a, scale(subtract(b, a), t)));
        const point = at((i + 0.47) / n);
        const [before, after] = [at((i + 0.46) / n), at((i + 0.48) / n)].map((x) => project(x, frame)) as [
          Point,
          Point,
        ];
        const tangent = [after[0] - before[0], after[1] - before[1]] as const;
        const seen = !fine.some((board) => blocks(board, point, frame.toViewer));
        count++;
        if (seen !== drawn(visible, project(point, frame), tangent))
          wrong.push(`${part.copy} at ${point.map((x) => x.toFixed(2))}: ${seen ? 'missing' : 'not hidden'}`);
      }
    }
  }
  return { count, wrong };
}

/** Four legs that lean outward both ways, cut level at floor and seat, rails between them, and a drilled seat on top. */
function stool(): Shaped[] {
  const cuts = (box: PlainBox, floor: number, seat: number): Shaping[] => {
    const down = box.axes.map((axis) => -axis[2]) as unknown as Vec3;
    const up = box.axes.map((axis) => axis[2]) as unknown as Vec3;
    const height = box.corner[2];
    const near: Vec3 = [box.size[0] / 2, box.size[1] / 2, box.size[2] / 2];
    return [
      { tool: planeTool(down, -(floor - height), near, 900, 'end'), does: 'cut' },
      { tool: planeTool(up, seat - height, near, 900, 'end'), does: 'cut' },
    ];
  };
  const boards: Shaped[] = [];
  for (const box of splayedLegs()) boards.push({ box, shapings: cuts(box, 0, 420) });
  for (const [i, y] of [
    [1, -109],
    [2, 90],
  ] as const)
    boards.push({ box: straightBox(`rail.${i}`, [-101, y, 300], [101, y + 19, 360]), shapings: [] });
  boards.push({
    box: straightBox('seat.1', [-190, -160, 420], [190, 160, 445]),
    shapings: [
      { tool: drillTool([190, 160, -1], [0, 0, 1], 25, 30), does: 'cut' },
      { tool: drillTool([60, 60, 26], unit([0.2, 0.1, -1]), 12, 60), does: 'cut' },
      { tool: boxTool([300, 40, 12], [340, 280, 26]), does: 'cut' },
      {
        tool: planeTool(unit([0, -1, 1]), dot(unit([0, -1, 1]), [0, 10, 25]), [190, 0, 25], 600),
        does: 'cut',
      },
    ],
  });
  return boards;
}

// No view along a diagonal of the piece: there edges of different boards fall on one line, and a hidden point on a drawn one.
const VIEWS = {
  'almost isometric': frameTowards([-1.03, -0.97, 0.91]),
  'from below': frameTowards([1.1, 0.93, -0.87]),
  oblique: frameTowards([0.31, -0.85, 0.23]),
};

const keys = Object.keys(VIEWS) as (keyof typeof VIEWS)[];

describe('hidden lines of shaped boards against rays', () => {
  it.each(keys)('agree on a stool with leaning legs, %s', (view) => {
    const boards = stool();
    const parts = boards.map(({ box, shapings }) => boxSolid(box, solids, shapings));
    const { count, wrong } = compare(boards, parts, VIEWS[view]);
    expect(count).toBeGreaterThan(500);
    expect(wrong.slice(0, 5)).toEqual([]);
  });

  it.each(keys)('agree within a thousandth on a bench with pocket holes and dadoes, %s', (view) => {
    const boards = benchBoxes().map((box) => ({ box, shapings: pocketsAndDado(box.size) }));
    const parts = boards.map(({ box, shapings }) => boxSolid(box, solids, shapings));
    const { count, wrong } = compare(boards, parts, VIEWS[view]);
    expect(count).toBeGreaterThan(5000);
    expect(wrong.length / count, wrong.slice(0, 5).join('\n')).toBeLessThan(1e-3);
  });
});
