/** Parts as they are seen in a frame: where each corner falls, and which faces look at the viewer. */
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
      const plane = round.endAt[end] as number;
      if (plane < 0 || seen.moved[vertex + end] === 1) continue;
      const [from, cylinder] = [part.vertices[end] as Vec3, round.rounds[surface] as Round];
      const to = turningPoint(cylinder, part.faces[plane] as SolidFace, from, frame.toViewer);
      // Further than a facet is wide, it would be another place.
      if (to === undefined || distance(from, to) > cylinder.radius) continue;
      seen.u[vertex + end] = dot(to, frame.right);
      seen.v[vertex + end] = dot(to, frame.up);
      seen.w[vertex + end] = dot(to, frame.toViewer);
      seen.moved[vertex + end] = 1;
    }
  }
}

const distance = (a: Vec3, b: Vec3): number => norm(subtract(a, b));
