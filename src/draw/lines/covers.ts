/**
 * What lies in front of a face: whole parts by their outlines, or their single faces. Everything in the view plane, mm of the piece, with
 * heights over the face's own plane to tell before from behind.
 */
import type { Loop, Solids } from '../../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { dot } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import type { Point, ViewFrame } from '../types.ts';
import { cavitiesOf, outerFaces } from './cavities.ts';
import { plateOf } from './convex-rest.ts';
import { clippedBy, convexCovers, convexHull, convexOverlap } from './flat.ts';
import { IN_FRONT } from './occluders.ts';
import { outlineOf, type SeenFaces } from './outlines.ts';
import { keptFor, type PartSeen, partSeen } from './seen.ts';

/** Polygons that only touch within this, mm, don't cover each other. */
export const TOUCH = 1e-3;

/** A face that looks at the viewer, in the view plane. */
export interface FlatFace {
  readonly own: FlatPart;
  readonly number: number;
  /** Its corners in the piece. */
  readonly corners: readonly Vec3[];
  readonly face: SolidFace;
  readonly loops: readonly Loop[];
  readonly box: Box;
}

/** A whole part seen from the viewer. */
export interface FlatPart extends SeenFaces {
  readonly faces: readonly FlatFace[];
  /** The same by their numbers in the part. */
  readonly byNumber: readonly (FlatFace | undefined)[];
  readonly hull: Loop;
  readonly box: Box;
  readonly convex: boolean;
  /** Its outline; of other than convex parts made when first needed. */
  outline?: readonly Loop[];
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** Something in front of a face. `convex` where it is one convex loop. */
export interface Cover {
  readonly loops: readonly Loop[];
  readonly convex: boolean;
}

const known = new WeakMap<PlacedPart, Map<string, FlatPart>>();

/** A part in the view plane; kept for the frame. */
export const flatPart = (part: PlacedPart, frame: ViewFrame, key: string): FlatPart =>
  keptFor(known, part, key, () => flattened(part, partSeen(part, frame, key)));

function flattened(part: PlacedPart, seen: PartSeen): FlatPart {
  const points: Point[] = new Array(part.vertices.length);
  const point = (i: number): Point => {
    points[i] ??= [seen.u[i] as number, seen.v[i] as number];
    return points[i] as Point;
  };
  const loops = (f: number): Loop[] => (part.faces[f] as SolidFace).loops.map((loop) => loop.map(point));
  // What lies in holes lies within the hull of the rest.
  const { within } = cavitiesOf(part);
  const border: Point[] = [];
  for (let i = 0; i < within.length; i++) if (within[i] === 0) border.push(point(i));
  const hull = convexHull(border);
  const convex = isConvexPart(part);
  const faces: FlatFace[] = [];
  const byNumber: (FlatFace | undefined)[] = new Array(part.faces.length);
  const own: FlatPart = {
    part,
    faces,
    byNumber,
    facing: seen.facing,
    loops,
    hull,
    box: boxOf(hull),
    convex,
    ...(convex ? { outline: [hull] } : {}),
  };
  part.faces.forEach((face, number) => {
    if (seen.facing[number] !== 1 || seen.blind[number] === 1) return;
    const flat = loops(number);
    const made: FlatFace = {
      own,
      number,
      corners: cornersOf(part, face.loops),
      face,
      loops: flat,
      box: boxOfAll(flat),
    };
    faces.push(made);
    byNumber[number] = made;
  });
  return own;
}

export const cornersOf = (part: PlacedPart, loops: readonly (readonly number[])[]): Vec3[] =>
  loops.flatMap((loop) => loop.map((i) => part.vertices[i] as Vec3));

/** Height of a point over a face's plane, mm. */
export const above = (p: Vec3, face: SolidFace): number => dot(face.normal, p) - face.offset;

const convexParts = new WeakMap<PlacedPart['edges'], boolean>();

/** True where no corner of a part stands above any of its faces; found once, whatever the view. */
function isConvexPart(part: PlacedPart): boolean {
  const known = convexParts.get(part.edges);
  if (known !== undefined) return known;
  const convex = part.faces.every((face) => part.vertices.every((p) => above(p, face) <= TOUCH));
  convexParts.set(part.edges, convex);
  return convex;
}

/** The box around loops. */
export function boxOfAll(loops: readonly Loop[]): Box {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const loop of loops)
    for (const [u, v] of loop) {
      if (u < left) left = u;
      if (u > right) right = u;
      if (v < bottom) bottom = v;
      if (v > top) top = v;
    }
  return { left, right, bottom, top };
}

export const boxOf = (points: Loop): Box => boxOfAll([points]);

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.left < b.right - TOUCH &&
  b.left < a.right - TOUCH &&
  a.bottom < b.top - TOUCH &&
  b.bottom < a.top - TOUCH;

/**
 * Adds what a part covers of a face; true where one cover hides all of it. A part that lies wholly before the face's plane covers it with its
 * outline, one that lies behind not at all; of a part on both sides each face is looked at by itself.
 */
export function coversFrom(
  face: FlatFace,
  other: FlatPart,
  solids: Pick<Solids, 'united'>,
  covers: Cover[],
): boolean {
  const { part } = other;
  if (other === face.own) return coversFromOwn(face, covers);
  if (!boxesMeet(face.box, other.box)) return false;
  const box = heightsOfBox(part, face.face);
  if (box.highest <= IN_FRONT) return false;
  const side = besidePart(face, other);
  if (side === 'before') return false;
  if (side === 'behind') {
    other.outline ??= outlineOf(other, other.hull, solids);
    return put({ loops: other.outline, convex: other.convex }, face, covers);
  }
  let { lowest } = box;
  let heights: Float64Array | undefined;
  if (lowest < -IN_FRONT) {
    heights = heightsOver(part, face.face);
    let highest = -Infinity;
    lowest = Infinity;
    for (const h of heights) {
      if (h > highest) highest = h;
      if (h < lowest) lowest = h;
    }
    if (highest <= IN_FRONT) return false;
  }
  if (lowest >= -IN_FRONT || heights === undefined) {
    other.outline ??= outlineOf(other, other.hull, solids);
    return put({ loops: other.outline, convex: other.convex }, face, covers);
  }
  const over = heights;
  const height = (vertex: number): number => over[vertex] as number;
  for (const blocker of other.faces) if (coverBy(face, blocker, height, covers)) return true;
  return false;
}

/** Adds what the other faces of its own part cover of a face. */
function coversFromOwn(face: FlatFace, covers: Cover[]): boolean {
  const { part, byNumber } = face.own;
  const height = (vertex: number): number => above(part.vertices[vertex] as Vec3, face.face);
  return facesAbove(part, face.number).some((number) => {
    const blocker = byNumber[number];
    return blocker !== undefined && coverBy(face, blocker, height, covers);
  });
}

const aboveEach = new WeakMap<PlacedPart['edges'], (readonly number[] | undefined)[]>();

/** Faces of a part that reach over the plane of one of them: most lie under it, whatever the view. */
function facesAbove(part: PlacedPart, number: number): readonly number[] {
  const known = aboveEach.get(part.edges) ?? [];
  aboveEach.set(part.edges, known);
  const had = known[number];
  if (had !== undefined) return had;
  const heights = heightsOver(part, part.faces[number] as SolidFace);
  const found = part.faces.flatMap(({ loops }, other) =>
    loops.some((loop) => loop.some((v) => (heights[v] as number) > IN_FRONT)) ? [other] : [],
  );
  known[number] = found;
  return found;
}

/** Adds what one face covers of another, `height` giving its corners' heights over that; true where it hides all of it. */
export function coverBy(
  face: FlatFace,
  blocker: FlatFace,
  height: (vertex: number) => number,
  covers: Cover[],
): boolean {
  if (blocker.face === face.face || !boxesMeet(face.box, blocker.box)) return false;
  const { convex, loops } = blocker.face;
  let [low, high] = [Infinity, -Infinity];
  for (const loop of loops)
    for (const i of loop) {
      const h = height(i);
      if (h > high) high = h;
      if (h < low) low = h;
    }
  if (high <= IN_FRONT) return false;
  if (low >= -IN_FRONT) return put({ loops: blocker.loops, convex }, face, covers);
  const before = blocker.loops
    .map((loop, k) => clippedBy(loop, (loops[k] as readonly number[]).map(height)))
    .filter((loop) => loop.length > 2);
  return before.length > 0 && put({ loops: before, convex }, face, covers);
}

/**
 * Where a face lies to a part with one of whose outer planes between them: before it or beside it, behind it, or undefined where no
 * such plane parts them.
 */
function besidePart(face: FlatFace, other: FlatPart): 'before' | 'behind' | undefined {
  const { part } = other;
  for (const outer of outerFaces(part)) {
    const { normal, offset } = part.faces[outer] as SolidFace;
    const [x, y, z] = normal;
    let beyond = true;
    for (const p of face.corners) {
      if (x * p[0] + y * p[1] + z * p[2] - offset >= -TOUCH) continue;
      beyond = false;
      break;
    }
    if (beyond) return other.facing[outer] === -1 ? 'behind' : 'before';
  }
  return undefined;
}

/** Adds a cover where it covers anything; true where it hides the whole face. */
export function put(cover: Cover, face: FlatFace, covers: Cover[]): boolean {
  const plate = plateOf(cover.loops);
  if (plate === undefined) {
    covers.push(cover);
    return false;
  }
  const { convex } = face.face;
  const outer = face.loops[0] as Loop;
  if (convex && !convexOverlap(outer, plate.outer, TOUCH)) return false;
  if (
    face.loops.every((own) => convexCovers(plate.outer, own, TOUCH)) &&
    plate.holes.every(
      (hole) => !boxesMeet(face.box, boxOf(hole)) || (convex && !convexOverlap(outer, hole, TOUCH)),
    )
  )
    return true;
  covers.push(cover);
  return false;
}

/** Room for the heights in hand, so that each face doesn't bring new arrays. */
let room = new Float64Array(256);

/** Heights of a part's corners over a face's plane, mm: good until the next are asked for. */
function heightsOver(part: PlacedPart, { normal, offset }: SolidFace): Float64Array {
  const [x, y, z] = normal;
  if (room.length < part.vertices.length) room = new Float64Array(part.vertices.length * 2);
  const heights = room.subarray(0, part.vertices.length);
  for (let i = 0; i < heights.length; i++) {
    const p = part.vertices[i] as Vec3;
    heights[i] = x * p[0] + y * p[1] + z * p[2] - offset;
  }
  return heights;
}

/** Least and greatest height over a face's plane of the box around a part: enough to tell for most parts. */
function heightsOfBox(part: PlacedPart, face: SolidFace): { lowest: number; highest: number } {
  const { min, max } = part.bounds;
  let [lowest, highest] = [-face.offset, -face.offset];
  for (const k of [0, 1, 2] as const) {
    const [a, b] = [face.normal[k] * min[k], face.normal[k] * max[k]];
    lowest += Math.min(a, b);
    highest += Math.max(a, b);
  }
  return { lowest, highest };
}
