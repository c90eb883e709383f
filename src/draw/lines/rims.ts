/**
 * Where curved surfaces end: an edge between a cylinder and a plane is a stretch of an ellipse in space, and the facets that stand for
 * the cylinder only tell which stretch. Found once for each placed part, whatever view it is drawn in.
 */

import { awayOn, heightOn, sameAxis, sameSurface } from '../../geometry/rounds.ts';
import type { PlacedPart, Round, SolidFace } from '../../geometry/types.ts';
import { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { type Crossing, crossings } from './crossings.ts';

/** The ellipse in which a cylinder meets a plane: centre + first · cos t + second · sin t, mm. */
export interface Rim {
  /** The surface it ends; one of the two where it lies between a countersink and its hole. */
  readonly round: Round;
  readonly centre: Vec3;
  readonly first: Vec3;
  readonly second: Vec3;
}

/** What is round about a part. */
export interface Roundness {
  readonly rims: readonly Rim[];
  /** Per edge: the rim it is a chord of, or -1. */
  readonly rimOf: Int32Array;
  /** Rims that go all the way round, each with its edges. */
  readonly whole: ReadonlyMap<number, readonly number[]>;
  /** Per face: the number of its cylinder, or -1 for a plane one. */
  readonly roundOf: Int32Array;
  readonly rounds: readonly Round[];
  /** Per vertex of a cylinder: the one plane face that ends it there; -1 where there is none or more than one. */
  readonly endAt: Int32Array;
  /** Per edge: the curve that it is a chord of, where that is none of the rims. */
  readonly curveOf: ReadonlyMap<number, Crossing>;
  /** Per vertex of a ring's facet: all faces that meet there. */
  readonly around: ReadonlyMap<number, readonly number[]>;
}

/** A plane nearly along a cylinder's axis (sine of the angle) cuts it in straight lines. */
const ALONG = 1e-3;

const known = new WeakMap<PlacedPart, Roundness>();

/** What of the roundness of a part stays the same wherever its board lies: found once for all copies that share their edges. */
interface Layout {
  readonly roundOf: Int32Array;
  /** A face of each curved surface. */
  readonly facets: readonly number[];
  readonly rimOf: Int32Array;
  readonly whole: ReadonlyMap<number, readonly number[]>;
  /** An edge on each rim. */
  readonly chords: readonly number[];
  readonly endAt: Int32Array;
  readonly around: ReadonlyMap<number, readonly number[]>;
}

const layouts = new WeakMap<PlacedPart['edges'], Layout>();

/** The curved surfaces of a part and where they end; undefined where all its faces are plane. */
export function roundnessOf(part: PlacedPart): Roundness | undefined {
  const layout = layouts.get(part.edges) ?? layoutOf(part);
  layouts.set(part.edges, layout);
  if (layout.facets.length === 0) return undefined;
  const had = known.get(part);
  if (had !== undefined) return had;
  const { roundOf, rimOf, whole, endAt, around } = layout;
  const rounds = layout.facets.map((face) => part.faces[face]?.round as Round);
  const rims = layout.chords.map((edge) => rimOfEdge(part, edge, roundOf, rounds) as Rim);
  const curveOf = crossings(part, (face) => rounds[roundOf[face] as number], rimOf);
  const found: Roundness = { rims, rimOf, whole, roundOf, rounds, endAt, curveOf, around };
  known.set(part, found);
  return found;
}

function layoutOf(part: PlacedPart): Layout {
  const rounds: Round[] = [];
  const facets: number[] = [];
  const roundOf = Int32Array.from(part.faces, ({ round }, face) => {
    if (round === undefined) return -1;
    const at = rounds.findIndex((other) => sameSurface(other, round));
    if (at >= 0) return at;
    facets.push(face);
    return rounds.push(round) - 1;
  });
  const endAt = new Int32Array(part.vertices.length).fill(-1);
  const spoiled = new Uint8Array(part.vertices.length);
  const rims: Rim[] = [];
  const chords: number[] = [];
  const numbers = new Map<number, number>();
  const rimOf = Int32Array.from(part.edges, ({ a, b, left, right }, edge) => {
    const [roundLeft, roundRight] = [roundOf[left] as number, roundOf[right] as number];
    if (roundLeft === roundRight) return -1;
    const between = roundLeft >= 0 && roundRight >= 0;
    const [round, plane] = roundLeft >= 0 ? [roundLeft, right] : [roundRight, left];
    for (const vertex of [a, b]) {
      const before = endAt[vertex] as number;
      if (between) spoiled[vertex] = 1;
      else if (before >= 0 && !samePlane(part.faces[before] as SolidFace, part.faces[plane] as SolidFace))
        spoiled[vertex] = 1;
      if (!between) endAt[vertex] = plane;
    }
    const key = round * part.faces.length + plane;
    const had = between ? undefined : numbers.get(key);
    if (had !== undefined) return had;
    const rim = rimOfEdge(part, edge, roundOf, rounds);
    const same = rim && between ? rims.findIndex((other) => sameRim(other, rim)) : -1;
    if (same >= 0) return same;
    const number = rim === undefined ? -1 : rims.push(rim) - 1;
    if (rim) chords.push(edge);
    if (!between) numbers.set(key, number);
    return number;
  });
  spoiled.forEach((is, vertex) => {
    if (is === 1) endAt[vertex] = -1;
  });
  const isRing = Array.from(roundOf, (n) => n >= 0 && rounds[n]?.ring !== undefined);
  const whole = wholeRims(part, rimOf);
  return { roundOf, facets, rimOf, whole, chords, endAt, around: facesAround(part, isRing) };
}

/** Rims whose edges close: each of their vertices lies on two of them. */
function wholeRims(part: PlacedPart, rimOf: Int32Array): Map<number, number[]> {
  const edges = new Map<number, number[]>();
  rimOf.forEach((rim, edge) => {
    if (rim >= 0) edges.set(rim, [...(edges.get(rim) ?? []), edge]);
  });
  for (const [rim, own] of edges) {
    const ends = new Map<number, number>();
    for (const edge of own) {
      const { a, b } = part.edges[edge] as PlacedPart['edges'][number];
      for (const v of [a, b]) ends.set(v, (ends.get(v) ?? 0) + 1);
    }
    if (own.length < 8 || ends.size !== own.length || [...ends.values()].some((n) => n !== 2))
      edges.delete(rim);
  }
  return edges;
}

const sameRim = (a: Rim, b: Rim): boolean =>
  a.round === b.round &&
  norm(subtract(a.centre, b.centre)) < 1e-3 &&
  norm(subtract(a.first, b.first)) < 1e-3 &&
  norm(subtract(a.second, b.second)) < 1e-3;

/** The rim that an edge between two surfaces is a chord of. */
function rimOfEdge(
  part: PlacedPart,
  edge: number,
  roundOf: Int32Array,
  rounds: readonly Round[],
): Rim | undefined {
  const { a, b, left, right } = part.edges[edge] as PlacedPart['edges'][number];
  const [one, other] = [rounds[roundOf[left] as number], rounds[roundOf[right] as number]];
  const [from, to] = [part.vertices[a], part.vertices[b]] as [Vec3, Vec3];
  if (one && other) return rimOfTwo(one, other, scale(add(from, to), 0.5), from);
  if (one) return rimBetween(one, part.faces[right] as SolidFace, from);
  return other && rimBetween(other, part.faces[left] as SolidFace, from);
}

/** The faces that meet at each vertex of a ring. */
function facesAround(part: PlacedPart, isRing: readonly boolean[]): Map<number, number[]> {
  const found = new Map<number, number[]>();
  if (!isRing.includes(true)) return found;
  part.faces.forEach(({ triangles }, face) => {
    if (!isRing[face]) return;
    for (const t of triangles) for (const vertex of part.triangles[t] ?? []) found.set(vertex, []);
  });
  for (const { a, b, left, right } of part.edges)
    for (const vertex of [a, b])
      for (const face of [left, right]) {
        const faces = found.get(vertex);
        if (faces && !faces.includes(face)) faces.push(face);
      }
  return found;
}

const samePlane = (a: SolidFace, b: SolidFace): boolean =>
  dot(a.normal, b.normal) > 1 - 1e-9 && Math.abs(a.offset - b.offset) < 0.005;

function rimBetween(round: Round, plane: SolidFace, at: Vec3): Rim | undefined {
  const { origin, axis, radius } = round;
  const across = dot(axis, plane.normal);
  if (round.widens !== undefined && Math.abs(across) < 1 - 1e-9)
    return ellipseOfCone(round, round.widens, plane);
  if (Math.abs(across) < ALONG) return undefined;
  const height = (plane.offset - dot(origin, plane.normal)) / across;
  if (round.widens !== undefined) return circleAt(round, height, radius + round.widens * height);
  if (round.ring !== undefined) {
    if (Math.abs(across) < 1 - 1e-9) return undefined;
    // A plane square to the axis cuts a ring in two circles: the one that is next.
    const half = Math.sqrt(Math.max(0, radius * radius - height * height));
    const far = dot(subtract(at, origin), awayOn(round, at));
    return circleAt(round, height, round.ring + (far < round.ring ? -half : half));
  }
  const onto = (p: Vec3): Vec3 => scale(axis, -dot(p, plane.normal) / across);
  const { first, second } = acrossAxis(axis);
  return {
    round,
    centre: add(origin, scale(axis, height)),
    first: scale(add(first, onto(first)), radius),
    second: scale(add(second, onto(second)), radius),
  };
}

function circleAt(round: Round, height: number, radius: number): Rim {
  const { first, second } = acrossAxis(round.axis);
  return {
    round,
    centre: add(round.origin, scale(round.axis, height)),
    first: scale(first, radius),
    second: scale(second, radius),
  };
}

/** A plane that cuts all lines of a cone cuts it in an ellipse; one that doesn't in a curve without an end, which stays chords. */
function ellipseOfCone({ origin, axis, radius }: Round, widens: number, plane: SolidFace): Rim | undefined {
  const apex = subtract(origin, scale(axis, radius / widens));
  const { normal } = plane;
  const far = plane.offset - dot(normal, apex);
  const cosine = dot(axis, normal);
  // In the plane, from the foot of the apex: s down the steepest way of the axis, t across. With K = 1 + widens²,
  // far² + s² + t² = K (far · cosine + s · sine)².
  const steepest = subtract(axis, scale(normal, cosine));
  const sine = norm(steepest);
  const [first, K] = [scale(steepest, 1 / sine), 1 + widens * widens];
  const open = 1 - K * sine * sine;
  if (open < 1e-3) return undefined;
  const middle = (K * far * cosine * sine) / open;
  const square = K * far * far * cosine * cosine - far * far + open * middle * middle;
  if (!(square > 1e-9)) return undefined;
  const round: Round = { origin, axis, radius, widens };
  return {
    round,
    centre: add(add(apex, scale(normal, far)), scale(first, middle)),
    first: scale(first, Math.sqrt(square / open)),
    second: scale(cross(normal, first), Math.sqrt(square)),
  };
}

/**
 * Where two surfaces meet in a circle or ellipse: about one axis (a countersink its hole, a rounding its wall), and cylinders as wide as
 * each other whose axes cross. Other curves are refined (crossings.ts).
 */
function rimOfTwo(a: Round, b: Round, middle: Vec3, at: Vec3): Rim | undefined {
  const straight = [a, b].filter((one) => one.widens === undefined && one.ring === undefined);
  if (straight.length === 2 && Math.abs(a.radius - b.radius) < 1e-6) return rimOfCross(a, b, middle);
  if (!sameAxis(a, b)) return undefined;
  const [wall] = straight;
  const round = wall ?? a;
  const radius = wall?.radius ?? dot(subtract(at, a.origin), awayOn(a, at));
  return circleAt(round, heightOn(round, at), radius);
}

/** Equal cylinders with axes that cross meet in two ellipses, in the planes that halve the angles between the axes. */
function rimOfCross(a: Round, b: Round, at: Vec3): Rim | undefined {
  const upright = cross(a.axis, b.axis);
  const between = subtract(b.origin, a.origin);
  if (norm(upright) < 1e-3 || Math.abs(dot(between, unit(upright))) > 1e-3) return undefined;
  const along = dot(cross(between, b.axis), upright) / dot(upright, upright);
  const middle = add(a.origin, scale(a.axis, along));
  const off = (normal: Vec3): number => Math.abs(dot(normal, subtract(at, middle)));
  const [p, q] = [unit(add(a.axis, b.axis)), unit(subtract(a.axis, b.axis))];
  // Next to where the two ellipses cross either may be meant.
  if (Math.abs(off(p) - off(q)) < 0.02 * a.radius) return undefined;
  const normal = off(p) < off(q) ? p : q;
  return rimBetween(a, { ...NO_FACE, normal, offset: dot(normal, middle) }, at);
}

const NO_FACE: SolidFace = {
  normal: [0, 0, 1],
  offset: 0,
  role: 'cut',
  triangles: [],
  loops: [],
  convex: false,
};

/**
 * Where a cylinder turns away from the viewer, nearest to a point on it and in the plane of a face that ends it; undefined where the
 * axis points at the viewer, and for cones and rings.
 */
export function turningPoint(round: Round, end: SolidFace, near: Vec3, toViewer: Vec3): Vec3 | undefined {
  if (round.widens !== undefined || round.ring !== undefined) return undefined;
  const side = cross(round.axis, toViewer);
  const across = dot(round.axis, end.normal);
  if (norm(side) < 1e-6 || Math.abs(across) < ALONG) return undefined;
  const out = scale(unit(side), Math.sign(dot(side, subtract(near, round.origin))) * round.radius);
  const start = add(round.origin, out);
  return add(start, scale(round.axis, (end.offset - dot(start, end.normal)) / across));
}
