/** Parts as they are seen in a frame: where each corner falls, and which faces look at the viewer. */

import { sameAxis, turnAround, turnOn } from '../../geometry/rounds.ts';
import type { PlacedPart, Round, SolidFace } from '../../geometry/types.ts';
import { dot, norm, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import type { ViewFrame } from '../types.ts';
import { cavitiesOf } from './cavities.ts';
import { type Roundness, roundnessOf, turningPoint } from './rims.ts';

/** A face looks at the viewer from this cosine on; below it is seen edge-on. */
export const FACING = 3e-4;

/** The parts seen in a frame, in flat arrays. Vertices and faces are numbered through all parts. */
export interface Seen {
  readonly u: Float64Array;
  readonly v: Float64Array;
  /** Nearness: larger is nearer to the viewer. */
  readonly w: Float64Array;
  /** Number of a part's first vertex and first face. */
  readonly firstVertex: readonly number[];
  readonly firstFace: readonly number[];
  /** Per face: 1 looks at the viewer, -1 away, 0 edge-on. */
  readonly facing: Int8Array;
  /** Per face: 1 in a hole into which one can't see. */
  readonly blind: Uint8Array;
  /** Per vertex: 1 where it was moved to the place at which its curved surface turns away from the viewer. */
  readonly moved: Uint8Array;
}

/** One part seen in a frame, its vertices and faces numbered from nought; as in `Seen`. */
export type PartSeen = Omit<Seen, 'firstVertex' | 'firstFace'>;

/** Frames kept for each part: a plan's drawings look from few places, again and again. */
const MOST_FRAMES = 8;
const known = new WeakMap<PlacedPart, Map<string, PartSeen>>();

/** A frame as a text, for what is kept by it. */
export const frameKey = ({ right, up, toViewer }: ViewFrame): string => [...right, ...up, ...toViewer].join();

/** What is kept of a part for a frame; the oldest goes where there are too many. */
export function keptFor<T>(
  all: WeakMap<PlacedPart, Map<string, T>>,
  part: PlacedPart,
  key: string,
  make: () => T,
): T {
  const own = all.get(part) ?? new Map<string, T>();
  all.set(part, own);
  const had = own.get(key);
  if (had !== undefined) return had;
  const made = make();
  if (own.size >= MOST_FRAMES) for (const first of [...own.keys()].slice(0, 1)) own.delete(first);
  own.set(key, made);
  return made;
}

/** Projects all parts. */
export function seenFrom(parts: readonly PlacedPart[], frame: ViewFrame): Seen {
  const key = frameKey(frame);
  const all = parts.map((part) => partSeen(part, frame, key));
  let [vertexCount, faceCount] = [0, 0];
  const firstVertex: number[] = [];
  const firstFace: number[] = [];
  for (const part of parts) {
    firstVertex.push(vertexCount);
    firstFace.push(faceCount);
    vertexCount += part.vertices.length;
    faceCount += part.faces.length;
  }
  const seen: Seen = { ...emptySeen(vertexCount, faceCount), firstVertex, firstFace };
  all.forEach((own, p) => {
    for (const of of ['u', 'v', 'w'] as const) seen[of].set(own[of], firstVertex[p]);
    seen.moved.set(own.moved, firstVertex[p]);
    seen.facing.set(own.facing, firstFace[p]);
    seen.blind.set(own.blind, firstFace[p]);
  });
  return seen;
}

const emptySeen = (vertices: number, faces: number): PartSeen => ({
  u: new Float64Array(vertices),
  v: new Float64Array(vertices),
  w: new Float64Array(vertices),
  facing: new Int8Array(faces),
  blind: new Uint8Array(faces),
  moved: new Uint8Array(vertices),
});

/** Projects one part; kept for the frame. */
export const partSeen = (part: PlacedPart, frame: ViewFrame, key = frameKey(frame)): PartSeen =>
  keptFor(known, part, key, () => projected(part, frame));

function projected(part: PlacedPart, frame: ViewFrame): PartSeen {
  const seen = emptySeen(part.vertices.length, part.faces.length);
  const { u, v, w, facing } = seen;
  const [[rx, ry, rz], [ux, uy, uz], [tx, ty, tz]] = [frame.right, frame.up, frame.toViewer];
  part.vertices.forEach(([x, y, z], i) => {
    u[i] = x * rx + y * ry + z * rz;
    v[i] = x * ux + y * uy + z * uz;
    w[i] = x * tx + y * ty + z * tz;
  });
  part.faces.forEach(({ normal }, f) => {
    const cosine = normal[0] * tx + normal[1] * ty + normal[2] * tz;
    facing[f] = cosine > FACING ? 1 : cosine < -FACING ? -1 : 0;
  });
  markBlind(part, seen);
  const round = roundnessOf(part);
  if (round !== undefined) moveToTurn(part, round, seen, frame);
  return seen;
}

function markBlind(part: PlacedPart, { facing, blind }: PartSeen): void {
  const { of, mouths } = cavitiesOf(part);
  if (mouths.length === 0) return;
  const open = mouths.map((own) => own.some(({ face }) => facing[face] === 1));
  for (let face = 0; face < of.length; face++) {
    const hole = of[face] as number;
    if (hole >= 0 && !open[hole]) blind[face] = 1;
  }
}

/**
 * The outline of a curved surface runs along the facet edge next to where the surface turns away. Its ends go to that very place, so
 * that the outline is straight on the true curve and meets its rims there.
 */
function moveToTurn(part: PlacedPart, round: Roundness, seen: PartSeen, frame: ViewFrame): void {
  const isRing = (surface: number): boolean => round.rounds[surface]?.ring !== undefined;
  // Cylinders first: where one ends in a ring, the ring's outline begins at its own. Then the rings' edges round their axis, which an
  // outline follows row by row; then those along their sections.
  for (const pass of ['cylinders', 'round', 'along'] as const) {
    const rings = pass !== 'cylinders';
    if (rings && round.around.size === 0) return;
    for (const edge of part.edges) {
      const [left, right] = [round.roundOf[edge.left] as number, round.roundOf[edge.right] as number];
      const own = rings && isRing(left) ? edge.left : edge.right;
      const surface = round.roundOf[own] as number;
      if (surface < 0 || isRing(surface) !== rings || (rings ? !edge.smooth : left !== right)) continue;
      if ((seen.facing[edge.left] === 1) === (seen.facing[edge.right] === 1)) continue;
      if (rings && isRoundAxis(part, edge, round.rounds[surface] as Round) !== (pass === 'round')) continue;
      for (const end of [edge.a, edge.b]) {
        if (seen.moved[end] === 1) continue;
        const facing = (f: number): boolean => seen.facing[f] === 1;
        const to = rings
          ? ringTurnAt(part, round, own, end, frame, facing, pass === 'round')
          : turnAt(part, round, own, end, frame);
        if (to === undefined) continue;
        seen.u[end] = dot(to, frame.right);
        seen.v[end] = dot(to, frame.up);
        seen.w[end] = dot(to, frame.toViewer);
        seen.moved[end] = 1;
      }
    }
  }
}

/** True for an edge of a ring's facet that runs round its axis, not along its section. */
function isRoundAxis(part: PlacedPart, { a, b }: PlacedPart['edges'][number], { axis }: Round): boolean {
  const along = subtract(part.vertices[b] as Vec3, part.vertices[a] as Vec3);
  return Math.abs(dot(along, axis)) < 1e-3 * norm(along);
}

/** The most that an outline lies off the next row of a ring's facets, in radii: a little more than a row is high. */
const A_ROW = 0.6;
/** Surfaces that run into each other turn at one place, mm. */
const TOGETHER = 0.01;

/** A place where the outline passes; undefined where it lies further off than a facet is wide: that would be another place. */
const close = (from: Vec3, to: Vec3 | undefined, most: number): Vec3 | undefined =>
  to === undefined || distance(from, to) > most ? undefined : to;

/** Where the outline of a cylinder passes a vertex: on the plane that ends it, or where it runs into a ring. */
function turnAt(
  part: PlacedPart,
  round: Roundness,
  facet: number,
  vertex: number,
  { toViewer }: ViewFrame,
): Vec3 | undefined {
  const from = part.vertices[vertex] as Vec3;
  const own = round.rounds[round.roundOf[facet] as number] as Round;
  const turn = turning(part, round, from, toViewer);
  const plane = round.endAt[vertex] as number;
  if (plane >= 0)
    return close(from, turningPoint(own, part.faces[plane] as SolidFace, from, toViewer), own.radius);
  const rings = (round.around.get(vertex) ?? []).filter(
    (face) => round.rounds[round.roundOf[face] as number]?.ring !== undefined,
  );
  if (rings.length === 0) return undefined;
  const to = close(from, turn(facet), own.radius);
  // A wall below a rounding about its own axis, or a straight rounding that goes on in a curve.
  const goesOn = (face: number): boolean => {
    if (sameAxis(round.rounds[round.roundOf[face] as number] as Round, own)) return true;
    const there = turn(face);
    return to !== undefined && there !== undefined && distance(to, there) < TOGETHER;
  };
  return rings.every(goesOn) ? to : undefined;
}

/** Where the surfaces at a place turn away, each in its section through it; by the numbers of their facets. */
const turning =
  (part: PlacedPart, round: Roundness, from: Vec3, toViewer: Vec3) =>
  (facet: number): Vec3 | undefined => {
    const surface = round.rounds[round.roundOf[facet] as number];
    return surface && turnOn(surface, from, toViewer, (part.faces[facet] as SolidFace).normal);
  };

/**
 * Where the outline of a ring passes a vertex: in its section or round its axis, whichever is asked for first; where another surface that is
 * seen goes on, in the section where both turn.
 */
function ringTurnAt(
  part: PlacedPart,
  round: Roundness,
  facet: number,
  vertex: number,
  { toViewer }: ViewFrame,
  facing: (face: number) => boolean,
  inSection: boolean,
): Vec3 | undefined {
  const from = part.vertices[vertex] as Vec3;
  const surface = round.roundOf[facet] as number;
  const own = round.rounds[surface] as Round;
  const turn = turning(part, round, from, toViewer);
  const others = (round.around.get(vertex) ?? []).filter(
    (face) => round.roundOf[face] !== surface && facing(face),
  );
  const to = close(from, turn(facet), own.radius * A_ROW);
  if (others.length === 0) {
    const { normal } = part.faces[facet] as SolidFace;
    // No facet is longer than this, mm.
    const around = close(from, turnAround(own, from, toViewer, normal), Math.sqrt(own.ring ?? 0));
    return inSection ? (to ?? around) : (around ?? to);
  }
  if (to === undefined) return undefined;
  const agrees = (face: number): boolean => {
    const other = round.rounds[round.roundOf[face] as number];
    if (other === undefined) return false;
    if (other.ring === undefined && sameAxis(other, own)) return true;
    const there = turn(face);
    return there !== undefined && distance(to, there) < TOGETHER;
  };
  return others.every(agrees) ? to : undefined;
}

const distance = (a: Vec3, b: Vec3): number => norm(subtract(a, b));
