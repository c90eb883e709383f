/** Round holes found in the solids, and their centre lines in a straight view (ISO 128-2: long dash, short dash, thin). */
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { project } from '../lines/project.ts';
import { roundnessOf } from '../lines/rims.ts';
import { line, type Mark } from '../paper/marks.ts';
import { distance, type Segment, times, unit } from '../paper/plane.ts';
import type { Point } from '../types.ts';
import type { StraightView } from './straight.ts';

/** A round hole in a part: a stretch of its middle line, in the piece, mm. */
export interface RoundHole {
  readonly copy: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
}

/** A centre line runs past its hole by this much, mm of paper. */
const PAST = 2.5;
/** Holes smaller than this on paper get no centre lines in the views of the whole, mm of radius. */
const LEAST = 1.2;

const known = new WeakMap<PlacedPart, readonly RoundHole[]>();

/** The round holes of a part: hollow cylinders that go more than three quarters round. */
export function roundHoles(part: PlacedPart): readonly RoundHole[] {
  const had = known.get(part);
  if (had !== undefined) return had;
  const found = holesOf(part);
  known.set(part, found);
  return found;
}

function holesOf(part: PlacedPart): RoundHole[] {
  const roundness = roundnessOf(part);
  if (roundness === undefined) return [];
  const facets = roundness.rounds.map((): SolidFace[] => []);
  for (const [f, face] of part.faces.entries()) facets[roundness.roundOf[f] as number]?.push(face);
  return roundness.rounds.flatMap(({ origin, axis, radius, ring }, number): RoundHole[] => {
    const own = facets[number] as SolidFace[];
    const points = own.flatMap((face) => face.loops.flat().map((v) => part.vertices[v] as Vec3));
    const first = own[0];
    const corner = points[0];
    // A worked rim is a ring about its hole, and no hole of its own.
    if (first === undefined || corner === undefined || ring !== undefined) return [];
    const off = subtract(corner, origin);
    if (dot(first.normal, subtract(off, scale(axis, dot(off, axis)))) > 0) return [];
    if (widestGap(own.map((face) => face.normal)) > Math.PI / 2) return [];
    const along = points.map((p) => dot(subtract(p, origin), axis));
    const at = (t: number): Vec3 => add(origin, scale(axis, t));
    return [{ copy: part.copy, from: at(Math.min(...along)), to: at(Math.max(...along)), radius }];
  });
}

/** The widest angle that no normal looks into, radians; normals all lie across one axis. */
function widestGap(normals: readonly Vec3[]): number {
  const first = normals[0] as Vec3;
  const other = normals.find((n) => Math.abs(dot(n, first)) < 0.95) ?? first;
  const across = subtract(other, scale(first, dot(other, first)));
  if (norm(across) < 1e-6) return 2 * Math.PI;
  const second = scale(across, 1 / norm(across));
  const angles = normals.map((n) => Math.atan2(dot(n, second), dot(n, first))).sort((a, b) => a - b);
  return Math.max(...angles.map((a, i) => (angles[i + 1] ?? (angles[0] as number) + 2 * Math.PI) - a));
}

/** Centre lines of holes in a straight view: a cross where a hole is seen end on, else a line along it. */
export function centreMarks(
  view: StraightView,
  parts: readonly PlacedPart[],
  which: 'seen end on' | 'all',
  place: (p: Point) => Point = ([u, v]) => [u * view.ratio, -v * view.ratio],
): Mark[] {
  const { frame } = view.picture;
  const onPaper = (p: Vec3): Point => place(project(p, frame));
  const crosses: { centre: Point; radius: number }[] = [];
  const along: Segment[] = [];
  for (const hole of parts.flatMap(roundHoles)) {
    const axis = subtract(hole.to, hole.from);
    const facing = Math.abs(dot(axis, frame.toViewer)) / norm(axis);
    const radius = hole.radius * view.ratio;
    if (facing > 0.9999) {
      const centre = onPaper(hole.from);
      const seen = [...view.arcs.visible, ...(which === 'all' ? view.arcs.hidden : [])].some(
        (arc) => distance(arc.centre, centre) < 0.05 && Math.abs(arc.radii[0] - radius) < 0.05,
      );
      if (!seen || (which === 'seen end on' && radius < LEAST)) continue;
      const known = crosses.find((c) => distance(c.centre, centre) < 0.05);
      if (known) known.radius = Math.max(known.radius, radius);
      else crosses.push({ centre, radius });
    } else if (which === 'all' && facing < 0.02) along.push([onPaper(hole.from), onPaper(hole.to)]);
  }
  const lines = [
    ...crosses.flatMap(({ centre: [x, y], radius }): Segment[] => {
      const reach = radius + Math.min(PAST, Math.max(1.2, radius));
      return [
        [
          [x - reach, y],
          [x + reach, y],
        ],
        [
          [x, y - reach],
          [x, y + reach],
        ],
      ];
    }),
    ...joined(along),
  ];
  return lines.length === 0 ? [] : [line('centre', ...lines)];
}

/** Lines on one middle line as one, run past their ends. */
function joined(segments: readonly Segment[]): Segment[] {
  const runs: { start: Point; way: Point; from: number; to: number }[] = [];
  for (const [a, b] of segments) {
    const size = distance(a, b);
    if (size < 0.01) continue;
    const way = unit([b[0] - a[0], b[1] - a[1]]);
    const known = runs.find((run) => {
      const off: Point = [a[0] - run.start[0], a[1] - run.start[1]];
      const aside = Math.abs(off[0] * run.way[1] - off[1] * run.way[0]);
      const at = off[0] * run.way[0] + off[1] * run.way[1];
      const parallel = Math.abs(way[0] * run.way[1] - way[1] * run.way[0]) < 1e-3;
      return parallel && aside < 0.05 && at > run.from - size - 3 && at < run.to + size + 3;
    });
    if (!known) {
      runs.push({ start: a, way, from: 0, to: size });
      continue;
    }
    for (const p of [a, b]) {
      const at = (p[0] - known.start[0]) * known.way[0] + (p[1] - known.start[1]) * known.way[1];
      known.from = Math.min(known.from, at);
      known.to = Math.max(known.to, at);
    }
  }
  const place = (start: Point, way: Point, at: number): Point => [
    start[0] + times(way, at)[0],
    start[1] + times(way, at)[1],
  ];
  return runs.map(
    ({ start, way, from, to }): Segment => [place(start, way, from - PAST), place(start, way, to + PAST)],
  );
}
