/**
 * Where curved surfaces end: an edge between a cylinder and a plane is a stretch of an ellipse in space, and the facets that stand for
 * the cylinder only tell which stretch. Found once for each placed part, whatever view it is drawn in.
 */

import { awayOn, heightOn, sameAxis, sameSurface } from '../geometry/rounds.ts';
import type { PlacedPart, Round, SolidFace } from '../geometry/types.ts';
import { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';

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
  /** Per face: the number of its cylinder, or -1 for a plane one. */
  readonly roundOf: Int32Array;
  readonly rounds: readonly Round[];
  /** Per vertex of a cylinder: the one plane face that ends it there; -1 where there is none or more than one. */
  readonly endAt: Int32Array;
  /** Per vertex of a ring's facet: all faces that meet there. */
  readonly around: ReadonlyMap<number, readonly number[]>;
}

/** A plane nearly along a cylinder's axis (sine of the angle) cuts it in straight lines. */
const ALONG = 1e-3;

const known = new WeakMap<PlacedPart, Roundness>();

/** The curved surfaces of a part and where they end; undefined where all its faces are plane. */
export function roundnessOf(part: PlacedPart): Roundness | undefined {
  if (part.faces.every((face) => face.round === undefined)) return undefined;
  const had = known.get(part);
  if (had !== undefined) return had;
  const found = roundness(part);
  known.set(part, found);
  return found;
}

function roundness(part: PlacedPart): Roundness {
  const rounds: Round[] = [];
  const roundOf = Int32Array.from(part.faces, ({ round }) => {
    if (round === undefined) return -1;
    const at = rounds.findIndex((other) => sameSurface(other, round));
    return at >= 0 ? at : rounds.push(round) - 1;
  });
  const endAt = new Int32Array(part.vertices.length).fill(-1);
  const spoiled = new Uint8Array(part.vertices.length);
  const rims: Rim[] = [];
  const numbers = new Map<number, number>();
  const rimOf = Int32Array.from(part.edges, ({ a, b, left, right }) => {
    const [roundLeft, roundRight] = [roundOf[left] as number, roundOf[right] as number];
    if (roundLeft === roundRight) return -1;
    if (roundLeft >= 0 && roundRight >= 0) {
      spoiled[a] = 1;
      spoiled[b] = 1;
      const between = rimOfTwo(
        rounds[roundLeft] as Round,
        rounds[roundRight] as Round,
        part.vertices[a] as Vec3,
      );
      if (between === undefined) return -1;
      const same = rims.findIndex(
        (rim) =>
          norm(subtract(rim.centre, between.centre)) < 1e-3 &&
          rim.round === between.round &&
          Math.abs(norm(rim.first) - norm(between.first)) < 1e-3,
      );
      return same >= 0 ? same : rims.push(between) - 1;
    }
    const [round, plane] = roundLeft >= 0 ? [roundLeft, right] : [roundRight, left];
    for (const vertex of [a, b]) {
      const before = endAt[vertex] as number;
      if (before >= 0 && !samePlane(part.faces[before] as SolidFace, part.faces[plane] as SolidFace))
        spoiled[vertex] = 1;
      endAt[vertex] = plane;
    }
    const key = round * part.faces.length + plane;
    const had = numbers.get(key);
    if (had !== undefined) return had;
    const rim = rimBetween(rounds[round] as Round, part.faces[plane] as SolidFace, part.vertices[a] as Vec3);
    const number = rim === undefined ? -1 : rims.push(rim) - 1;
    numbers.set(key, number);
    return number;
  });
  spoiled.forEach((is, vertex) => {
    if (is === 1) endAt[vertex] = -1;
  });
  const isRing = Array.from(roundOf, (n) => n >= 0 && rounds[n]?.ring !== undefined);
  return { rims, rimOf, roundOf, rounds, endAt, around: facesAround(part, isRing) };
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
  if (Math.abs(across) < ALONG) return undefined;
  const height = (plane.offset - dot(origin, plane.normal)) / across;
  if (round.widens !== undefined) {
    // A cone's rim is drawn as an arc where the plane is square to its axis only.
    return Math.abs(across) < 1 - 1e-9 ? undefined : circleAt(round, height, radius + round.widens * height);
  }
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

/** The circle in which two surfaces about one axis meet (a countersink its hole, a rounding its wall); others meet in curves that stay chords. */
function rimOfTwo(a: Round, b: Round, at: Vec3): Rim | undefined {
  if (!sameAxis(a, b)) return undefined;
  const straight = [a, b].find((one) => one.widens === undefined && one.ring === undefined);
  const round = straight ?? a;
  const radius = straight?.radius ?? dot(subtract(at, a.origin), awayOn(a, at));
  return circleAt(round, heightOn(round, at), radius);
}

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
