/** Parts as they are seen in a frame: where each corner falls, and which faces look at the viewer. */

import { sameAxis, turnOn } from '../geometry/rounds.ts';
import type { PlacedPart, Round, SolidFace } from '../geometry/types.ts';
import { dot, norm, subtract } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
import { type Roundness, roundnessOf, turningPoint } from './rims.ts';
import type { ViewFrame } from './types.ts';

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
  /** Per vertex: 1 where it was moved to the place at which its curved surface turns away from the viewer. */
  readonly moved: Uint8Array;
}

/** Projects all parts. */
export function seenFrom(parts: readonly PlacedPart[], frame: ViewFrame): Seen {
  let [vertexCount, faceCount] = [0, 0];
  const firstVertex: number[] = [];
  const firstFace: number[] = [];
  for (const part of parts) {
    firstVertex.push(vertexCount);
    firstFace.push(faceCount);
    vertexCount += part.vertices.length;
    faceCount += part.faces.length;
  }
  const [u, v, w] = [
    new Float64Array(vertexCount),
    new Float64Array(vertexCount),
    new Float64Array(vertexCount),
  ];
  const facing = new Int8Array(faceCount);
  const [[rx, ry, rz], [ux, uy, uz], [tx, ty, tz]] = [frame.right, frame.up, frame.toViewer];
  let [i, f] = [0, 0];
  for (const part of parts) {
    for (const [x, y, z] of part.vertices) {
      u[i] = x * rx + y * ry + z * rz;
      v[i] = x * ux + y * uy + z * uz;
      w[i++] = x * tx + y * ty + z * tz;
    }
    for (const { normal } of part.faces) {
      const cosine = normal[0] * tx + normal[1] * ty + normal[2] * tz;
      facing[f++] = cosine > FACING ? 1 : cosine < -FACING ? -1 : 0;
    }
  }
  const seen = { u, v, w, firstVertex, firstFace, facing, moved: new Uint8Array(vertexCount) };
  parts.forEach((part, p) => {
    const round = roundnessOf(part);
    if (round !== undefined) moveToTurn(part, round, seen, p, frame);
  });
  return seen;
}

/**
 * The outline of a curved surface runs along the facet edge next to where the surface turns away. Its ends go to that very place, so
 * that the outline is straight on the true curve and meets its rims there.
 */
function moveToTurn(part: PlacedPart, round: Roundness, seen: Seen, p: number, frame: ViewFrame): void {
  const [vertex, face] = [seen.firstVertex[p] as number, seen.firstFace[p] as number];
  for (const edge of part.edges) {
    const surface = round.roundOf[edge.left] as number;
    if (surface < 0 || surface !== round.roundOf[edge.right]) continue;
    if ((seen.facing[face + edge.left] === 1) === (seen.facing[face + edge.right] === 1)) continue;
    for (const end of [edge.a, edge.b]) {
      if (seen.moved[vertex + end] === 1) continue;
      const to = turnAt(part, round, surface, end, frame);
      if (to === undefined) continue;
      seen.u[vertex + end] = dot(to, frame.right);
      seen.v[vertex + end] = dot(to, frame.up);
      seen.w[vertex + end] = dot(to, frame.toViewer);
      seen.moved[vertex + end] = 1;
    }
  }
}

/** Surfaces that run into each other turn at one place, mm. */
const TOGETHER = 0.01;

/** Where the outline of a surface passes a vertex: on the plane that ends it, or between roundings that run into each other. */
function turnAt(
  part: PlacedPart,
  round: Roundness,
  surface: number,
  vertex: number,
  { toViewer }: ViewFrame,
): Vec3 | undefined {
  const from = part.vertices[vertex] as Vec3;
  const own = round.rounds[surface] as Round;
  const plane = round.endAt[vertex] as number;
  const close = (to: Vec3 | undefined): Vec3 | undefined =>
    // Further than a facet is wide, it would be another place.
    to === undefined || distance(from, to) > own.radius ? undefined : to;
  if (plane >= 0) return close(turningPoint(own, part.faces[plane] as SolidFace, from, toViewer));
  const within = (round.within.get(vertex) ?? []).map((number) => round.rounds[number] as Round);
  // The end of a round wall below a rounding: the rounding turns away there too.
  const wall = within.find((one) => one.widens === undefined && one.ring === undefined);
  if (wall && within.length > 1 && within.every((one) => sameAxis(one, wall)))
    return close(turnOn(wall, from, toViewer));
  const to = within.length > 0 ? close(turnOn(own, from, toViewer)) : undefined;
  if (to === undefined) return undefined;
  const together = within.every((one) => {
    const there = turnOn(one, from, toViewer);
    return there !== undefined && distance(to, there) < TOGETHER;
  });
  return together ? to : undefined;
}

const distance = (a: Vec3, b: Vec3): number => norm(subtract(a, b));
