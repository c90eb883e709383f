/** Which of three tones a face has, and where on a curve one goes over into the next. */
import { normalOn } from '../../geometry/rounds.ts';
import { add, dot, scale } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { clippedBy } from '../lines/flat.ts';
import type { Point, ViewFace, ViewFrame } from '../types.ts';

/** 0 the lightest, 2 the darkest. */
export type Tone = 0 | 1 | 2;

type Loops = readonly (readonly Point[])[];

/** A level or upright face lies beyond this height of its normal. */
const LEVEL = 0.5;
/** An upright face that looks straight at the viewer counts as one to the left. */
const AHEAD = 1e-6;

/** Which of three tones a face gets: light comes from the upper left of the picture. */
export function toneOf(normal: Vec3, frame: ViewFrame): Tone {
  if (normal[2] > LEVEL) return 0;
  if (normal[2] < -LEVEL) return 2;
  return besideTone(dot(normal, frame.right) < AHEAD, frame);
}

/** The tone of an upright face. Seen from below there is no top: the left faces are then the lightest, and what looks down the darkest. */
function besideTone(left: boolean, { toViewer }: ViewFrame): Tone {
  const below = toViewer[2] < 0;
  return left ? (below ? 0 : 1) : below ? 1 : 2;
}

/** A face in pieces of one tone. Facets of a curve are parted where the curve itself goes over from one tone to the next. */
export function tonedPieces(
  face: ViewFace,
  frame: ViewFrame,
): { readonly tone: Tone; readonly loops: Loops }[] {
  if (face.surface === undefined) return [{ tone: toneOf(face.normal, frame), loops: face.loops }];
  const normals = face.loops.map((loop) =>
    loop.map((p) => normalAt(face, face.surface as CurvedSurface, p, frame)),
  );
  const tones = new Set(normals.flat().map((normal) => toneOf(normal, frame)));
  const [only] = tones;
  if (tones.size === 1 && only !== undefined) return [{ tone: only, loops: face.loops }];
  const made: { tone: Tone; loops: Loops }[] = [];
  let rest: Shape[] = face.loops.map((points, i) => ({ points, normals: normals[i] as Vec3[] }));
  const take = (tone: Tone, height: (normal: Vec3) => number): void => {
    const loops = rest.map((one) => cut(one, height)).filter((one) => one.points.length > 2);
    if (loops.length > 0) made.push({ tone, loops: loops.map((one) => one.points) });
    rest = rest.map((one) => cut(one, (normal) => -height(normal))).filter((one) => one.points.length > 2);
  };
  take(0, (normal) => normal[2] - LEVEL);
  take(2, (normal) => -LEVEL - normal[2]);
  take(besideTone(true, frame), (normal) => AHEAD - dot(normal, frame.right));
  if (rest.length > 0) made.push({ tone: besideTone(false, frame), loops: rest.map((one) => one.points) });
  return made;
}

type CurvedSurface = NonNullable<ViewFace['surface']>;

interface Shape {
  readonly points: readonly Point[];
  readonly normals: readonly Vec3[];
}

/** The true normal of a curve at a point of one of its facets in the view, on the side of the facet. */
function normalAt(
  { normal }: ViewFace,
  { round, offset }: CurvedSurface,
  [u, v]: Point,
  frame: ViewFrame,
): Vec3 {
  const flat = add(scale(frame.right, u), scale(frame.up, v));
  const w = (offset - dot(normal, flat)) / dot(normal, frame.toViewer);
  const own = normalOn(round, add(flat, scale(frame.toViewer, w)));
  return dot(own, normal) < 0 ? scale(own, -1) : own;
}

/** What of a shape has a height above nought, heights taken as even between its corners. */
function cut({ points, normals }: Shape, height: (normal: Vec3) => number): Shape {
  const heights = normals.map(height);
  // A corner's normal goes along as two more numbers of its place would.
  const kept = clippedBy(points, heights);
  return { points: kept, normals: clippedNormals(normals, heights) };
}

/** As `clippedBy`, for the normals at the corners. */
function clippedNormals(normals: readonly Vec3[], heights: readonly number[]): Vec3[] {
  const out: Vec3[] = [];
  normals.forEach((a, i) => {
    const b = normals[(i + 1) % normals.length] as Vec3;
    const [ha, hb] = [heights[i] as number, heights[(i + 1) % normals.length] as number];
    if (ha >= 0) out.push(a);
    if (ha >= 0 === hb >= 0) return;
    const t = ha / (ha - hb);
    out.push(add(scale(a, 1 - t), scale(b, t)));
  });
  return out;
}
