/** Flat outlines of lines and arcs: their points, area and faults. Plain geometry in a plane, mm. */
import type { FlatPoint, FlatStretch } from './shape.ts';

/** A flat outline as a polygon; `stretch` says for each side which stretch it comes from. */
export interface FlatPolygon {
  readonly points: readonly FlatPoint[];
  readonly stretch: readonly number[];
}

/** Largest turn of one facet of an arc, radians. */
const TURN = Math.PI / 8;

/**
 * Points of an outline; facets of arcs lie off the true curve by at most `sagitta`. The last point isn't said again. `stops` are points on
 * arcs at which a facet ends.
 */
export function polygonOf(
  start: FlatPoint,
  stretches: readonly FlatStretch[],
  sagitta: number,
  stops: readonly FlatPoint[] = [],
): FlatPolygon {
  const points: FlatPoint[] = [];
  const stretch: number[] = [];
  let from = start;
  stretches.forEach(({ to, arc }, index) => {
    points.push(from);
    stretch.push(index);
    if (arc) {
      const fine = 2 * Math.acos(Math.max(0, 1 - sagitta / arc.radius));
      const begin = Math.atan2(from[1] - arc.centre[1], from[0] - arc.centre[0]);
      const turns = stopsOn(from, to, arc, stops);
      turns.forEach((turn, k) => {
        const before = turns[k - 1] ?? 0;
        const least = turns.length === 1 ? 2 : 1;
        const count = Math.min(
          360,
          Math.max(least, Math.ceil(Math.abs(turn - before) / Math.min(TURN, fine || TURN))),
        );
        for (let i = 1; i <= count; i++) {
          if (i === count && k === turns.length - 1) continue;
          const angle = begin + before + ((turn - before) * i) / count;
          points.push([
            arc.centre[0] + arc.radius * Math.cos(angle),
            arc.centre[1] + arc.radius * Math.sin(angle),
          ]);
          stretch.push(index);
        }
      });
    }
    from = to;
  });
  return { points, stretch };
}

/** How far an arc has turned at each point that lies on it, and at its end, radians. */
function stopsOn(
  from: FlatPoint,
  to: FlatPoint,
  arc: NonNullable<FlatStretch['arc']>,
  stops: readonly FlatPoint[],
): number[] {
  const sweep = sweepOf(from, to, arc);
  const on = stops.filter(
    (p) => Math.abs(Math.hypot(p[0] - arc.centre[0], p[1] - arc.centre[1]) - arc.radius) < 1e-6,
  );
  const turns = on
    .map((p) => sweepOf(from, p, arc))
    .filter((turn) => Math.abs(turn) > 1e-6 && Math.abs(turn) < Math.abs(sweep) - 1e-6)
    .sort((a, b) => Math.abs(a) - Math.abs(b));
  return [...turns.filter((turn, i) => Math.abs(turn - (turns[i - 1] ?? 0)) > 1e-6), sweep];
}

/** Facets of a full turn, a multiple of four, so that the chords stay within `sagitta` of the circle. */
export function facetsOfTurn(radius: number, sagitta: number): number {
  if (!(radius > sagitta)) return 12;
  const half = Math.acos(1 - sagitta / radius);
  return Math.min(360, Math.max(12, 4 * Math.ceil(Math.PI / half / 4)));
}

/** Signed angle an arc sweeps, radians: positive counter-clockwise. */
export function sweepOf(from: FlatPoint, to: FlatPoint, arc: NonNullable<FlatStretch['arc']>): number {
  const angle = (p: FlatPoint): number => Math.atan2(p[1] - arc.centre[1], p[0] - arc.centre[0]);
  const full = 2 * Math.PI;
  const turned = (((angle(to) - angle(from)) % full) + full) % full;
  return arc.counterclockwise ? turned || full : -(full - turned || full);
}

/** Signed area of a polygon, mm²: positive counter-clockwise. */
export const signedArea = (points: readonly FlatPoint[]): number =>
  points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length] as FlatPoint;
    return sum + x * v - u * y;
  }, 0) / 2;

/** The circle through three points; undefined where they lie on a line. */
export function circleThrough(
  a: FlatPoint,
  b: FlatPoint,
  c: FlatPoint,
): { readonly centre: FlatPoint; readonly radius: number; readonly counterclockwise: boolean } | undefined {
  const [bx, by, cx, cy] = [b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]];
  const d = 2 * (bx * cy - by * cx);
  const scale = Math.hypot(bx, by) * Math.hypot(cx, cy);
  if (Math.abs(d) < 1e-4 * scale || scale === 0) return undefined;
  const [b2, c2] = [bx * bx + by * by, cx * cx + cy * cy];
  const [x, y] = [(cy * b2 - by * c2) / d, (bx * c2 - cx * b2) / d];
  return { centre: [a[0] + x, a[1] + y], radius: Math.hypot(x, y), counterclockwise: d > 0 };
}

/** The first two sides of a polygon that cross, as their indices; undefined where none do. */
export function crossing(points: readonly FlatPoint[]): readonly [number, number] | undefined {
  const n = points.length;
  const side = (a: FlatPoint, b: FlatPoint, p: FlatPoint): number =>
    (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  for (let i = 0; i < n; i++) {
    const [a, b] = [points[i] as FlatPoint, points[(i + 1) % n] as FlatPoint];
    for (let k = i + 2; k < n; k++) {
      if (i === 0 && k === n - 1) continue;
      const [c, d] = [points[k] as FlatPoint, points[(k + 1) % n] as FlatPoint];
      if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0]))
        continue;
      if (side(a, b, c) * side(a, b, d) < -1e-9 && side(c, d, a) * side(c, d, b) < -1e-9) return [i, k];
    }
  }
  return undefined;
}

/** The same outline the other way round. */
export function turnedBack(start: FlatPoint, stretches: readonly FlatStretch[]): readonly FlatStretch[] {
  return [...stretches].reverse().map((stretch, index) => {
    const at = stretches.length - 1 - index;
    const to = at === 0 ? start : (stretches[at - 1] as FlatStretch).to;
    return stretch.arc
      ? { to, arc: { ...stretch.arc, counterclockwise: !stretch.arc.counterclockwise } }
      : { to };
  });
}
