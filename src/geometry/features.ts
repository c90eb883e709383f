/**
 * From the kernel's triangles to the faces and edges a drawing needs. Faces are told apart by the tool they come from and get
 * its exact plane; corners are moved from the kernel's single precision to where those planes meet.
 */
import type { Vec3 } from '../model/types.ts';
import type { ShapedBody } from './manifold.ts';
import { normalOn, sameAxis } from './rounds.ts';
import type { Tool, ToolFace } from './tools.ts';
import type { Round, SolidEdge, SolidFace } from './types.ts';
import { add, cross, dot, norm, scale, subtract, unit } from './vectors.ts';

/** A shaped board in its own frame; its copies are this, placed. */
export interface ShapedPart {
  readonly vertices: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
  readonly faces: readonly SolidFace[];
  readonly edges: readonly SolidEdge[];
  /** mm³ */
  readonly volume: number;
}

/** Two planes are one within this: cosine of their angle, and mm between them. */
const SAME_PLANE = { cosine: 1 - 1e-9, offset: 0.005 };
/** A curve that meets a plane at less than 2 degrees runs into it: no line is drawn there. */
const TANGENT = Math.cos((2 * Math.PI) / 180);
/** The furthest a corner is moved, mm: more than single precision can be wrong, less than any real size. */
const SNAP = 0.01;

/** Faces, edges and exact corners of a shaped blank. `tools[0]` is the blank. */
export function features(body: ShapedBody, tools: readonly Tool[]): ShapedPart {
  const planes = body.triangles.map((_, t) => planeOf(body, tools, t));
  const opposite = neighbours(body);
  const group = coplanarGroups(planes, opposite);
  const vertices = exactCorners(body, planes, group);
  const faces = facesOf(body.triangles, vertices, planes, opposite, group);
  const edges: SolidEdge[] = [];
  body.triangles.forEach((triangle, t) => {
    for (let k = 0; k < 3; k++) {
      const other = opposite[t * 3 + k] as number;
      const [a, b] = [triangle[k] as number, triangle[(k + 1) % 3] as number];
      const left = group[t] as number;
      const right = other < 0 ? left : (group[Math.floor(other / 3)] as number);
      if (a > b || left === right) continue;
      // Where two roundings meet in a mitre they part from the same tangent: both ends of an edge must run in for it to be none.
      const smooth = [a, b].every((end) =>
        runsInto(faces[left] as SolidFace, faces[right] as SolidFace, vertices[end] as Vec3),
      );
      edges.push({ a, b, left, right, smooth });
    }
  });
  return { vertices, triangles: body.triangles, faces, edges, volume: volumeOf(vertices, body.triangles) };
}

/** The exact plane of a triangle, turned outward where the tool was taken away. */
function planeOf(body: ShapedBody, tools: readonly Tool[], t: number): ToolFace {
  const plane = tools[body.tool[t] as number]?.faces[body.face[t] as number] as ToolFace;
  if (!body.reversed[t]) return plane;
  return { ...plane, normal: scale(plane.normal, -1), offset: -plane.offset };
}

/** For each side of each triangle (3 t + k) the same side of the triangle next to it; -1 where the surface is open. */
function neighbours(body: ShapedBody): Int32Array {
  const count = body.vertices.length;
  const sides = new Map<number, number>();
  body.triangles.forEach((triangle, t) => {
    for (let k = 0; k < 3; k++)
      sides.set((triangle[k] as number) * count + (triangle[(k + 1) % 3] as number), t * 3 + k);
  });
  const opposite = new Int32Array(body.triangles.length * 3).fill(-1);
  body.triangles.forEach((triangle, t) => {
    for (let k = 0; k < 3; k++)
      opposite[t * 3 + k] =
        sides.get((triangle[(k + 1) % 3] as number) * count + (triangle[k] as number)) ?? -1;
  });
  return opposite;
}

/** Numbers the connected plane faces: triangles that share a side and a plane are one, whatever tool made them. */
function coplanarGroups(planes: readonly ToolFace[], opposite: Int32Array): number[] {
  const group = planes.map(() => -1);
  let next = 0;
  for (let start = 0; start < planes.length; start++) {
    if ((group[start] as number) >= 0) continue;
    const queue = [start];
    group[start] = next;
    for (let t = queue.pop(); t !== undefined; t = queue.pop()) {
      for (let k = 0; k < 3; k++) {
        const other = Math.floor((opposite[t * 3 + k] as number) / 3);
        if (other < 0 || (group[other] as number) >= 0) continue;
        if (!samePlane(planes[t] as ToolFace, planes[other] as ToolFace)) continue;
        group[other] = next;
        queue.push(other);
      }
    }
    next++;
  }
  return group;
}

function samePlane(a: ToolFace, b: ToolFace): boolean {
  if (a === b) return true;
  return dot(a.normal, b.normal) > SAME_PLANE.cosine && Math.abs(a.offset - b.offset) < SAME_PLANE.offset;
}

/** Moves each vertex the shortest way onto all the planes that meet there (up to three independent ones). */
function exactCorners(body: ShapedBody, planes: readonly ToolFace[], group: readonly number[]): Vec3[] {
  const meeting: Map<number, ToolFace>[] = body.vertices.map(() => new Map());
  body.triangles.forEach((triangle, t) => {
    for (const v of triangle) {
      const known = meeting[v] as Map<number, ToolFace>;
      if (!known.has(group[t] as number)) known.set(group[t] as number, planes[t] as ToolFace);
    }
  });
  return body.vertices.map((v, i) => ontoPlanes(v, [...(meeting[i] as Map<number, ToolFace>).values()]));
}

function ontoPlanes(vertex: Vec3, planes: readonly ToolFace[]): Vec3 {
  let move: Vec3 = [0, 0, 0];
  const basis: Vec3[] = [];
  const left = [...planes];
  while (left.length > 0 && basis.length < 3) {
    // The plane that adds most to those taken so far: the steadiest corner.
    let best = -1;
    let bestRest: Vec3 = [0, 0, 0];
    left.forEach((plane, i) => {
      let rest = plane.normal;
      for (const e of basis) rest = subtract(rest, scale(e, dot(plane.normal, e)));
      if (norm(rest) > norm(bestRest) + 1e-9) {
        best = i;
        bestRest = rest;
      }
    });
    if (best < 0 || norm(bestRest) < 0.02) break;
    const [plane] = left.splice(best, 1) as [ToolFace];
    const direction = unit(bestRest);
    const short = plane.offset - dot(plane.normal, add(vertex, move));
    move = add(move, scale(direction, short / dot(plane.normal, direction)));
    basis.push(direction);
  }
  return norm(move) > SNAP ? vertex : add(vertex, move);
}

function facesOf(
  triangles: ShapedBody['triangles'],
  vertices: readonly Vec3[],
  planes: readonly ToolFace[],
  opposite: Int32Array,
  group: readonly number[],
): SolidFace[] {
  const members: number[][] = [];
  group.forEach((g, t) => {
    const known = members[g];
    if (known) known.push(t);
    else members[g] = [t];
  });
  return members.map((own) => {
    const plane = planes[own[0] as number] as ToolFace;
    const loops = outlines(triangles, own, opposite, group).map((loop) =>
      withoutStraightPoints(loop, vertices, plane.normal),
    );
    return {
      normal: plane.normal,
      offset: plane.offset,
      role: plane.role,
      triangles: own,
      loops,
      convex: loops.length === 1 && isConvex(loops[0] as number[], vertices, plane.normal),
      ...(plane.round === undefined ? {} : { round: plane.round }),
    };
  });
}

/** The border of a group of triangles, walked from triangle to triangle, so that loops which touch at a corner stay apart. */
function outlines(
  triangles: ShapedBody['triangles'],
  own: readonly number[],
  opposite: Int32Array,
  group: readonly number[],
): number[][] {
  const inside = (side: number): number => {
    const other = opposite[side] as number;
    return other >= 0 && group[Math.floor(other / 3)] === group[Math.floor(side / 3)] ? other : -1;
  };
  const after = (side: number): number => (side % 3 === 2 ? side - 2 : side + 1);
  const done = new Set<number>();
  const loops: number[][] = [];
  for (const t of own) {
    for (let start = t * 3; start < t * 3 + 3; start++) {
      if (inside(start) >= 0 || done.has(start)) continue;
      const loop: number[] = [];
      let side = start;
      do {
        done.add(side);
        loop.push(triangles[Math.floor(side / 3)]?.[side % 3] as number);
        side = after(side);
        for (let next = inside(side); next >= 0; next = inside(side)) side = after(next);
      } while (side !== start && loop.length <= own.length * 3);
      loops.push(loop);
    }
  }
  return loops;
}

/** Sine of the turn at a corner of a loop: positive to the left, seen from outside. */
function turn(loop: readonly number[], i: number, vertices: readonly Vec3[], normal: Vec3): number {
  const n = loop.length;
  const [p, q, r] = [loop[(i + n - 1) % n], loop[i], loop[(i + 1) % n]].map(
    (v) => vertices[v as number] as Vec3,
  ) as [Vec3, Vec3, Vec3];
  return dot(cross(unit(subtract(q, p)), unit(subtract(r, q))), normal);
}

function withoutStraightPoints(loop: number[], vertices: readonly Vec3[], normal: Vec3): number[] {
  const kept = loop.filter((_, i) => Math.abs(turn(loop, i, vertices, normal)) > 1e-7);
  return kept.length < 3 ? loop : kept;
}

const isConvex = (loop: readonly number[], vertices: readonly Vec3[], normal: Vec3): boolean =>
  loop.every((_, i) => turn(loop, i, vertices, normal) > -1e-7);

/** True where two faces make no line of their own: facets of one curve, or a curve that runs into its neighbour. */
function runsInto(a: SolidFace, b: SolidFace, at: Vec3): boolean {
  if (a.round === undefined && b.round === undefined) return false;
  if (a.round !== undefined && b.round !== undefined && sameRound(a.round, b.round)) return true;
  return dot(normalAt(a, at), normalAt(b, at)) > TANGENT;
}

function sameRound(a: Round, b: Round): boolean {
  if (a === b) return true;
  if (a.widens !== undefined || b.widens !== undefined) return false;
  if (a.ring !== undefined || b.ring !== undefined) return false;
  if (Math.abs(a.radius - b.radius) > 1e-6 || Math.abs(dot(a.axis, b.axis)) < SAME_PLANE.cosine) return false;
  return sameAxis(a, b, SAME_PLANE.offset);
}

/** The true normal: of a facet that of the curve, on the facet's side. */
function normalAt(face: SolidFace, at: Vec3): Vec3 {
  if (face.round === undefined) return face.normal;
  const normal = normalOn(face.round, at);
  return dot(normal, face.normal) < 0 ? scale(normal, -1) : normal;
}

/** Volume inside a closed surface, mm³ (divergence theorem: the sum of signed tetrahedra). */
export function volumeOf(
  vertices: readonly Vec3[],
  triangles: readonly (readonly [number, number, number])[],
): number {
  let sum = 0;
  for (const [a, b, c] of triangles)
    sum += dot(vertices[a] as Vec3, cross(vertices[b] as Vec3, vertices[c] as Vec3));
  return sum / 6;
}
