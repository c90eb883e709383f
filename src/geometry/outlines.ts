/** Tools with curved or hollow outlines: a flat outline of lines and arcs through the board, a slot, a countersink, a rounded edge. */
import { polygonOf } from '../model/flat.ts';
import type { FlatPoint, Outline } from '../model/shape.ts';
import type { BlankSize, Vec3 } from '../model/types.ts';
import { facetCount, prismTool, type Role, SAGITTA, type Tool, type ToolFace } from './tools.ts';
import type { Round } from './types.ts';
import { acrossAxis, add, cross, dot, scale, subtract, unit } from './vectors.ts';

/** How far tools reach beyond the board, mm. */
const BEYOND = 2;

/** The body of an outline, from below the board to above it. Straight sides along the blank's own keep its roles; facets end at `stops`. */
export function outlineTool(
  outline: Outline,
  size: BlankSize,
  sagitta: number = SAGITTA,
  stops: readonly FlatPoint[] = [],
): Tool {
  const { points, stretch } = polygonOf(outline.start, outline.stretches, sagitta, stops);
  const [low, high] = [-BEYOND, size.thickness + BEYOND];
  const rounds = outline.stretches.map(({ arc }): Round | undefined =>
    arc ? { origin: [arc.centre[0], arc.centre[1], 0], axis: [0, 0, 1], radius: arc.radius } : undefined,
  );
  const sides = points.map((p, i) => {
    const q = points[(i + 1) % points.length] as FlatPoint;
    const round = rounds[stretch[i] as number];
    return { role: round ? ('cut' as const) : sideRole(p, q, size), ...(round ? { round } : {}) };
  });
  return flatTool(points, low, high, sides);
}

function sideRole(p: FlatPoint, q: FlatPoint, size: BlankSize): Role {
  const on = (axis: 0 | 1, at: number): boolean =>
    Math.abs(p[axis] - at) < 1e-6 && Math.abs(q[axis] - at) < 1e-6;
  if (on(0, 0) || on(0, size.length)) return 'end';
  return on(1, 0) || on(1, size.width) ? 'edge' : 'cut';
}

/** A prism over a flat polygon of any simple form, counter-clockwise, from z = low to high. */
function flatTool(
  points: readonly FlatPoint[],
  low: number,
  high: number,
  sides: readonly { readonly role: Role; readonly round?: Round }[],
): Tool {
  const n = points.length;
  const vertices: Vec3[] = [low, high].flatMap((z) => points.map(([x, y]): Vec3 => [x, y, z]));
  const triangles: [number, number, number][] = [];
  const face: number[] = [];
  const faces: ToolFace[] = [
    { normal: [0, 0, -1], offset: -low, role: 'cut' },
    { normal: [0, 0, 1], offset: high, role: 'cut' },
  ];
  for (const [a, b, c] of triangulated(points)) {
    triangles.push([a, c, b], [n + a, n + b, n + c]);
    face.push(0, 1);
  }
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [p, q] = [points[i] as FlatPoint, points[j] as FlatPoint];
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
    const normal: Vec3 = [(q[1] - p[1]) / length, (p[0] - q[0]) / length, 0];
    const side = sides[i] as (typeof sides)[number];
    face.push(faces.length, faces.length);
    faces.push({ normal, offset: normal[0] * p[0] + normal[1] * p[1], ...side });
    triangles.push([i, j, n + j], [i, n + j, n + i]);
  }
  return { vertices, triangles, face, faces };
}

/** Cuts a simple polygon, counter-clockwise, into triangles by clipping ears. */
export function triangulated(points: readonly FlatPoint[]): [number, number, number][] {
  const left = points.map((_, i) => i);
  const found: [number, number, number][] = [];
  const at = (i: number): FlatPoint => points[i] as FlatPoint;
  const turn = (a: FlatPoint, b: FlatPoint, c: FlatPoint): number =>
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  while (left.length > 3) {
    const n = left.length;
    let ear = -1;
    let flat = -1;
    for (let k = 0; k < n && ear < 0; k++) {
      const [i, j, m] = [left[(k + n - 1) % n], left[k], left[(k + 1) % n]] as [number, number, number];
      const bend = turn(at(i), at(j), at(m));
      if (Math.abs(bend) < 1e-12) flat = flat < 0 ? k : flat;
      if (bend <= 1e-12) continue;
      const blocked = left.some(
        (p) =>
          p !== i &&
          p !== j &&
          p !== m &&
          turn(at(i), at(j), at(p)) >= 0 &&
          turn(at(j), at(m), at(p)) >= 0 &&
          turn(at(m), at(i), at(p)) >= 0,
      );
      if (!blocked) ear = k;
    }
    // A point on a straight run goes as a flat triangle: the surface stays closed.
    const k = ear >= 0 ? ear : Math.max(flat, 0);
    found.push([left[(k + n - 1) % n] as number, left[k] as number, left[(k + 1) % n] as number]);
    left.splice(k, 1);
  }
  if (left.length === 3) found.push(left as [number, number, number]);
  return found;
}

/** The outline of a slot on its face, counter-clockwise seen along `axis`; for each side the end it starts at (0 `to`, 1 `from`), and whether it is of its arc. */
export function slotOutline(
  from: Vec3,
  to: Vec3,
  axis: Vec3,
  radius: number,
  sagitta: number,
): { readonly points: Vec3[]; readonly end: (readonly [0 | 1, boolean])[] } {
  const along = unit(subtract(to, from));
  const side = cross(axis, along);
  const half = facetCount(radius, sagitta) / 2;
  const points: Vec3[] = [];
  const end: (readonly [0 | 1, boolean])[] = [];
  for (const [centre, turn, which] of [
    [to, 0, 0],
    [from, Math.PI, 1],
  ] as const)
    for (let i = 0; i <= half; i++) {
      const angle = turn - Math.PI / 2 + (Math.PI * i) / half;
      const out = add(scale(along, radius * Math.cos(angle)), scale(side, radius * Math.sin(angle)));
      points.push(add(centre, out));
      end.push([which, i < half]);
    }
  return { points, end };
}

/** A slot with round ends, from outside its face so deep along the unit vector `axis`. */
export function slotTool(
  from: Vec3,
  to: Vec3,
  axis: Vec3,
  radius: number,
  depth: number,
  sagitta: number = SAGITTA,
): Tool {
  const { points, end } = slotOutline(from, to, axis, radius, sagitta);
  const rounds = [to, from].map((origin): Round => ({ origin, axis, radius }));
  const start = scale(axis, -BEYOND);
  return prismTool(
    points.map((p) => add(p, start)),
    scale(axis, depth + BEYOND),
    { sides: end.map(([which, round]) => (round ? { round: rounds[which] as Round } : {})) },
  );
}

/** A countersink: as wide as `radius` at `entry`, narrowing along `axis` to `least`. `tangent` is that of half its angle; `lean` is how far it leans, radians. */
export function coneTool(
  entry: Vec3,
  axis: Vec3,
  radius: number,
  least: number,
  tangent: number,
  sagitta: number = SAGITTA,
  lean = 0,
): Tool {
  // A leaning one starts so far out that its whole rim is out of the wood.
  const out = BEYOND + (radius * Math.sin(lean)) / Math.max(0.1, Math.cos(lean) - tangent * Math.sin(lean));
  const count = facetCount(radius + (out * tangent) / 2, sagitta);
  const { first, second } = acrossAxis(axis);
  const depth = (radius - least) / tangent;
  const round: Round = { origin: entry, axis, radius, widens: -tangent };
  const ring = (r: number, at: number): Vec3[] =>
    Array.from({ length: count }, (_, i) => {
      const angle = (2 * Math.PI * i) / count;
      return add(
        add(entry, scale(axis, at)),
        add(scale(first, r * Math.cos(angle)), scale(second, r * Math.sin(angle))),
      );
    });
  const vertices = [...ring(radius + out * tangent, -out), ...ring(least, depth)];
  const triangles: [number, number, number][] = [];
  const face: number[] = [];
  const faces: ToolFace[] = [
    { normal: scale(axis, -1), offset: -dot(axis, vertices[0] as Vec3), role: 'cut' },
    { normal: axis, offset: dot(axis, vertices[count] as Vec3), role: 'cut' },
  ];
  for (let i = 1; i + 1 < count; i++) {
    triangles.push([0, i + 1, i], [count, count + i, count + i + 1]);
    face.push(0, 1);
  }
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count;
    const [a, b, c] = [vertices[i], vertices[j], vertices[count + j]] as [Vec3, Vec3, Vec3];
    const normal = unit(cross(subtract(b, a), subtract(c, a)));
    face.push(faces.length, faces.length);
    faces.push({ normal, offset: dot(normal, a), role: 'cut', round });
    triangles.push([i, j, count + j], [i, count + j, count + i]);
  }
  return { vertices, triangles, face, faces };
}

/**
 * What rounding takes off an edge: from its tangent lines out to the edge. `a` and `b` are the ends of the edge, `one` and `other` the
 * outward normals of the two faces.
 */
export function roundTool(
  a: Vec3,
  b: Vec3,
  one: Vec3,
  other: Vec3,
  radius: number,
  sagitta: number = SAGITTA,
): Tool | undefined {
  const along = unit(subtract(b, a));
  const cosine = dot(one, other);
  if (cosine > 1 - 1e-6 || cosine < -1 + 1e-6) return undefined;
  // The axis of the rounding lies a radius inside both faces.
  const inward = scale(add(one, other), -radius / (1 + cosine));
  const centre = add(a, inward);
  const round: Round = { origin: centre, axis: along, radius };
  const right = dot(cross(one, other), along) > 0;
  const [from, to] = right ? [one, other] : [other, one];
  const sweep = Math.acos(Math.max(-1, Math.min(1, cosine)));
  const across = unit(subtract(to, scale(from, cosine)));
  const count = Math.max(2, Math.ceil((facetCount(radius, sagitta) * sweep) / (2 * Math.PI)));
  const apex = add(a, scale(add(one, other), BEYOND));
  const arc = Array.from({ length: count + 1 }, (_, i) => {
    const angle = (sweep * i) / count;
    return add(centre, add(scale(from, radius * Math.cos(angle)), scale(across, radius * Math.sin(angle))));
  });
  const lift = (p: Vec3, normal: Vec3): Vec3 => add(p, scale(normal, BEYOND));
  // Seen along the edge, the outline runs from the corner along the first face, back along the curve.
  const outline = [apex, lift(arc[count] as Vec3, to), ...[...arc].reverse(), lift(arc[0] as Vec3, from)];
  const sides = outline.map((_, i): { round?: Round } => (i >= 2 && i < 2 + count ? { round } : {}));
  const length = dot(subtract(b, a), along);
  const start = scale(along, -BEYOND);
  const shifted = outline.map((p) => add(p, start));
  return prismTool(shifted, scale(along, length + 2 * BEYOND), { sides });
}
