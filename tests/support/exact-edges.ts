/**
 * What a guided cutter takes off, as exact bodies of the reference kernel: along each stretch of an outline the profile is swept straight or
 * turned about the arc's centre. The way of the bearing is worked out here once more, from the outline's own lines and arcs.
 */
import type { OpenCascadeInstance, TopoDS_Shape } from 'replicad-opencascadejs';
import type { FlatPoint, FlatStretch } from '../../src/model/shape.ts';
import type { Vec3 } from '../../src/model/types.ts';

/** Work along a closed outline, counter-clockwise with the wood inside, on the face at a height; clockwise round a hole. */
export interface ExactEdge {
  readonly name: 'round' | 'chamfer';
  readonly size: number;
  readonly bearing: number;
  readonly start: FlatPoint;
  readonly stretches: readonly FlatStretch[];
  /** Height of the face, and whether the wood lies below it. */
  readonly z: number;
  readonly up: boolean;
}

type Keep = <H extends { delete(): void }>(handle: H) => H;
type Xy = readonly [number, number];

interface Way {
  from: Xy;
  to: Xy;
  readonly arc?: { readonly centre: Xy; readonly radius: number; readonly left: boolean };
}

const angleOf = (c: Xy, p: Xy): number => Math.atan2(p[1] - c[1], p[0] - c[0]);
const full = (angle: number): number => ((angle % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);

/** Out of the wood at an end of a way: to the right. */
function outward({ from, to, arc }: Way, at: Xy): Xy {
  if (arc) {
    const s = (arc.left ? 1 : -1) / arc.radius;
    return [(at[0] - arc.centre[0]) * s, (at[1] - arc.centre[1]) * s];
  }
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  return [(to[1] - from[1]) / long, (from[0] - to[0]) / long];
}

/** How far a point lies outside of a way's line or circle. */
function gap(way: Way, p: Xy): number {
  if (way.arc) {
    const far = Math.hypot(p[0] - way.arc.centre[0], p[1] - way.arc.centre[1]) - way.arc.radius;
    return way.arc.left ? far : -far;
  }
  const [x, y] = outward(way, way.from);
  return (p[0] - way.from[0]) * x + (p[1] - way.from[1]) * y;
}

/** The point that lies so far outside of both ways, by Newton's method from their corner. */
function between(a: Way, b: Way, far: number): Xy {
  const [p, q] = [outward(a, a.to), outward(b, b.from)];
  let at: Xy = [a.to[0] + (p[0] + q[0]) * far, a.to[1] + (p[1] + q[1]) * far];
  for (let i = 0; i < 50; i++) {
    const h = 1e-6;
    const f = [gap(a, at) - far, gap(b, at) - far] as const;
    const d = (way: Way, k: 0 | 1): number =>
      (gap(way, k === 0 ? [at[0] + h, at[1]] : [at[0], at[1] + h]) - gap(way, at)) / h;
    const [ax, ay, bx, by] = [d(a, 0), d(a, 1), d(b, 0), d(b, 1)];
    const det = ax * by - ay * bx;
    at = [at[0] - (f[0] * by - f[1] * ay) / det, at[1] - (f[1] * ax - f[0] * bx) / det];
  }
  return at;
}

/** The way of the bearing, inside corners rounded by it; with the turn at the end of each stretch. */
function guidedWay({ start, stretches, bearing }: ExactEdge): { ways: Way[]; turns: number[] } {
  const ways: Way[] = [];
  let from: Xy = start;
  for (const { to, arc } of stretches) {
    ways.push({
      from,
      to,
      ...(arc ? { arc: { centre: arc.centre, radius: arc.radius, left: arc.counterclockwise } } : {}),
    });
    from = to;
  }
  const out: Way[] = [];
  const turns: number[] = [];
  const turn = (a: Way, b: Way): number => {
    const [p, q] = [outward(a, a.to), outward(b, b.from)];
    return Math.atan2(p[0] * q[1] - p[1] * q[0], p[0] * q[0] + p[1] * q[1]);
  };
  const angles = ways.map((way, i) => turn(way, ways[(i + 1) % ways.length] as Way));
  ways.forEach((way, i) => {
    const next = ways[(i + 1) % ways.length] as Way;
    out.push(way);
    const angle = angles[i] as number;
    turns.push(angle < -1e-3 ? 0 : angle);
    if (angle > -1e-3) return;
    const centre = between(way, next, bearing / 2);
    const touch = (one: Way): Xy => {
      const foot = gap(one, centre);
      const [x, y] = one.arc
        ? [(centre[0] - one.arc.centre[0]) / (one.arc.radius + (one.arc.left ? foot : -foot)), 0]
        : outward(one, one.from);
      if (!one.arc) return [centre[0] - x * foot, centre[1] - y * foot];
      const { centre: c, radius } = one.arc;
      const long = Math.hypot(centre[0] - c[0], centre[1] - c[1]);
      return [c[0] + ((centre[0] - c[0]) / long) * radius, c[1] + ((centre[1] - c[1]) / long) * radius];
    };
    const [a, b] = [touch(way), touch(next)];
    way.to = a;
    next.from = b;
    out.push({ from: a, to: b, arc: { centre, radius: bearing / 2, left: false } });
    turns.push(0);
  });
  return { ways: out, turns };
}

/** Bodies that the cutter takes off, one for each stretch. */
export function edgeBodies(
  oc: OpenCascadeInstance,
  keep: Keep,
  edge: ExactEdge,
  place: { readonly point: (p: Vec3) => Vec3; readonly turn: (p: Vec3) => Vec3 },
): TopoDS_Shape[] {
  const { ways, turns } = guidedWay(edge);
  const sign = edge.up ? 1 : -1;
  const beyond = Math.min(2, edge.bearing / 4);
  return ways.map((way, i) => {
    const before = turns[(i + turns.length - 1) % turns.length] as number;
    const after = turns[i] as number;
    // Past an outside corner the cut runs on, so that two stretches meet in their mitre.
    const more = (angle: number): number => (angle > 1e-3 ? edge.size * Math.tan(angle / 2) + 0.5 : 0);
    const out = outward(way, way.from);
    const tangent: Xy = [-out[1], out[0]];
    const sweep = way.arc
      ? (way.arc.left ? 1 : -1) *
        (full(
          (way.arc.left ? 1 : -1) * (angleOf(way.arc.centre, way.to) - angleOf(way.arc.centre, way.from)),
        ) || 2 * Math.PI)
      : 0;
    const back = more(before);
    const start: Xy = way.arc ? way.from : [way.from[0] - tangent[0] * back, way.from[1] - tangent[1] * back];
    const point = (into: number, height: number) => {
      const own: Vec3 = [start[0] - out[0] * into, start[1] - out[1] * into, edge.z + sign * height];
      return keep(new oc.gp_Pnt(...place.point(own)));
    };
    const { size } = edge;
    const wire = keep(new oc.BRepBuilderAPI_MakeWire());
    const line = (a: ReturnType<typeof point>, b: ReturnType<typeof point>): void => {
      wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(a, b)).Edge()));
    };
    line(point(size, 2), point(size, 0));
    if (edge.name === 'chamfer') line(point(size, 0), point(0, -size));
    else {
      const middle = size * (1 - Math.SQRT1_2);
      const arc = keep(
        keep(new oc.GC_MakeArcOfCircle(point(size, 0), point(middle, -middle), point(0, -size))).Value(),
      );
      wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(arc)).Edge()));
    }
    line(point(0, -size), point(-beyond, -size));
    line(point(-beyond, -size), point(-beyond, 2));
    line(point(-beyond, 2), point(size, 2));
    const face = keep(keep(new oc.BRepBuilderAPI_MakeFace(keep(wire.Wire()), true)).Face());
    if (!way.arc) {
      const long = Math.hypot(way.to[0] - way.from[0], way.to[1] - way.from[1]) + back + more(after);
      const vector = place.turn([tangent[0] * long, tangent[1] * long, 0]);
      return keep(keep(new oc.BRepPrimAPI_MakePrism(face, keep(new oc.gp_Vec(...vector)))).Shape());
    }
    const { centre, radius } = way.arc;
    const axis = keep(
      new oc.gp_Ax1(
        keep(new oc.gp_Pnt(...place.point([centre[0], centre[1], edge.z]))),
        keep(new oc.gp_Dir(...place.turn([0, 0, Math.sign(sweep)]))),
      ),
    );
    const extra = more(after) / radius;
    return keep(keep(new oc.BRepPrimAPI_MakeRevol(face, axis, Math.abs(sweep) + extra, false)).Shape());
  });
}
