/**
 * The visible part of each face, as exact polygons: what a face has left when everything in front of it is taken off. No
 * painting from back to front, so tints never show through and flush boards keep their own faces.
 */
import type { Loop, Solids } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { dot } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
import { convexRest, type Plate, plateOf } from './convex-rest.ts';
import {
  clippedBy,
  convexCovers,
  convexHull,
  convexOverlap,
  loopArea,
  loopLength,
  tidyLoop,
} from './flat.ts';
import { IN_FRONT } from './occluders.ts';
import { outerFaces, outlineOf, type SeenFaces } from './outlines.ts';
import { project } from './project.ts';
import { type Seen, seenFrom } from './seen.ts';
import { smoothGroups } from './smooth-groups.ts';
import type { Point, ViewFace, ViewFrame } from './types.ts';

/** Polygons that only touch within this, mm, don't cover each other. */
const TOUCH = 1e-3;
/** Points of a loop closer than this to the straight way, mm, are rounding. */
const TIDY = 1e-4;
/** Loops that are thinner than this on average, mm, are rounding. */
const THIN = 2e-3;

interface FlatFace {
  readonly copy: number;
  readonly number: number;
  /** Its corners in the piece. */
  readonly corners: readonly Vec3[];
  readonly face: SolidFace;
  readonly loops: readonly Loop[];
  readonly box: Box;
}

/** A whole part seen from the viewer. */
interface FlatPart extends SeenFaces {
  readonly copy: number;
  readonly faces: readonly FlatFace[];
  readonly hull: Loop;
  readonly box: Box;
  readonly convex: boolean;
  /** Its outline; of other than convex parts made when first needed. */
  outline?: readonly Loop[];
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** Something in front of a face. `convex` where it is one convex loop. */
interface Cover {
  readonly loops: readonly Loop[];
  readonly convex: boolean;
}

/**
 * The visible faces of a view, in the order of the parts and of their faces; millimetres of the piece, before scale. Only the
 * copies in `of` get faces where it is given; all parts hide.
 */
export function viewFaces(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  solids: Pick<Solids, 'uncovered' | 'united'>,
  of?: ReadonlySet<string>,
): ViewFace[] {
  const seen = seenFrom(parts, frame);
  const flat = parts.map((part, copy) => flatPart(part, copy, seen));
  return flat.flatMap((own) => {
    const part = parts[own.copy] as PlacedPart;
    if (of !== undefined && !of.has(part.copy)) return [];
    return own.faces.flatMap((face): ViewFace[] => {
      const covers = coversOf(face, flat, parts, solids);
      if (covers === 'all') return [];
      const left = restOf(face, covers, solids);
      const loops = left.map((loop) => tidyLoop(loop, TIDY)).filter(isBroad);
      if (loops.length === 0) return [];
      const smooth = smoothGroups(part)?.[face.number];
      return [
        {
          copy: part.copy,
          role: face.face.role,
          normal: face.face.normal,
          loops,
          grain: project(part.frame.length, frame),
          ...(smooth === undefined ? {} : { smooth }),
        },
      ];
    });
  });
}

/** What covers leave of a face. The kernel is asked only where several of them cut it, or one with corners that point inward. */
function restOf(
  face: FlatFace,
  covers: readonly Cover[],
  solids: Pick<Solids, 'uncovered'>,
): readonly Loop[] {
  const loopsOf = (list: readonly Cover[]) => list.map((cover) => cover.loops);
  if (covers.length === 0) return face.loops;
  if (!face.face.convex) return solids.uncovered(face.loops, loopsOf(covers));
  const plates: Plate[] = [];
  const plain: Cover[] = [];
  const open: Cover[] = [];
  for (const cover of covers) {
    const plate = plateOf(cover.loops);
    if (plate === undefined) open.push(cover);
    else {
      plates.push(plate);
      plain.push(cover);
    }
  }
  const rest = convexRest(face.loops[0] as Loop, plates, TOUCH);
  if (rest === undefined) return solids.uncovered(face.loops, loopsOf(covers));
  const boxes = rest.pieces.map(boxOf);
  const others = open.filter((cover) => {
    const box = boxOf(cover.loops.flat());
    return boxes.some((own) => boxesMeet(own, box));
  });
  if (others.length === 0 && rest.pieces.length <= 1) return rest.pieces;
  const needed = [...plain.filter((_, i) => rest.took.has(i)), ...others];
  return needed.length === 0 ? face.loops : solids.uncovered(face.loops, loopsOf(needed));
}

const isBroad = (loop: Loop): boolean =>
  loop.length >= 3 && (2 * Math.abs(loopArea(loop))) / Math.max(loopLength(loop), 1e-9) > THIN;

function flatPart(part: PlacedPart, copy: number, seen: Seen): FlatPart {
  const [vertex, firstFace] = [seen.firstVertex[copy] as number, seen.firstFace[copy] as number];
  const points = part.vertices.map(
    (_, i): Point => [seen.u[vertex + i] as number, seen.v[vertex + i] as number],
  );
  const loops = (f: number): Loop[] =>
    (part.faces[f] as SolidFace).loops.map((loop) => loop.map((i) => points[i] as Point));
  const facing = seen.facing.subarray(firstFace, firstFace + part.faces.length);
  const faces = part.faces.flatMap((face, f): FlatFace[] => {
    if (facing[f] !== 1) return [];
    const corners = face.loops.flatMap((loop) => loop.map((i) => part.vertices[i] as Vec3));
    const own = loops(f);
    return [{ copy, number: f, corners, face, loops: own, box: boxOf(own.flat()) }];
  });
  const hull = convexHull(points);
  const convex = isConvexPart(part);
  return {
    copy,
    part,
    faces,
    facing,
    loops,
    hull,
    box: boxOf(hull),
    convex,
    ...(convex ? { outline: [hull] } : {}),
  };
}

/** Height of a point over a face's plane, mm. */
const above = (p: Vec3, face: SolidFace): number => dot(face.normal, p) - face.offset;

const convexParts = new WeakMap<PlacedPart, boolean>();

/** True where no corner of a part stands above any of its faces; found once, whatever the view. */
function isConvexPart(part: PlacedPart): boolean {
  const known = convexParts.get(part);
  if (known !== undefined) return known;
  const convex = part.faces.every((face) => part.vertices.every((p) => above(p, face) <= TOUCH));
  convexParts.set(part, convex);
  return convex;
}

function boxOf(points: Loop): Box {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const [u, v] of points) {
    left = Math.min(left, u);
    right = Math.max(right, u);
    bottom = Math.min(bottom, v);
    top = Math.max(top, v);
  }
  return { left, right, bottom, top };
}

const boxesMeet = (a: Box, b: Box): boolean =>
  a.left < b.right - TOUCH &&
  b.left < a.right - TOUCH &&
  a.bottom < b.top - TOUCH &&
  b.bottom < a.top - TOUCH;

/**
 * What lies in front of a face. A part that lies wholly before the face's plane covers it with its outline, one that lies
 * behind not at all; of a part on both sides each face is looked at by itself. 'all' where one cover hides the whole face.
 */
function coversOf(
  face: FlatFace,
  flat: readonly FlatPart[],
  parts: readonly PlacedPart[],
  solids: Pick<Solids, 'united'>,
): Cover[] | 'all' {
  const covers: Cover[] = [];
  // Its own board first: most of what lies within a hole is hidden by the face the hole is in.
  const own = flat[face.copy] as FlatPart;
  if (!own.convex && coversFrom(face, own, parts[face.copy] as PlacedPart, solids, covers)) return 'all';
  for (const other of flat) {
    if (other === own || !boxesMeet(face.box, other.box)) continue;
    if (coversFrom(face, other, parts[other.copy] as PlacedPart, solids, covers)) return 'all';
  }
  return covers;
}

/** Adds what a part covers of a face; true where one cover hides all of it. */
function coversFrom(
  face: FlatFace,
  other: FlatPart,
  part: PlacedPart,
  solids: Pick<Solids, 'united'>,
  covers: Cover[],
): boolean {
  const box = heightsOfBox(part, face.face);
  if (box.highest <= IN_FRONT) return false;
  const side = other.copy === face.copy ? undefined : besidePart(face, other, part);
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
  for (const blocker of other.faces) {
    if (blocker.face === face.face || !boxesMeet(face.box, blocker.box)) continue;
    const { convex, loops } = blocker.face;
    let [low, high] = [Infinity, -Infinity];
    for (const loop of loops) {
      for (const i of loop) {
        const h = heights[i] as number;
        if (h > high) high = h;
        if (h < low) low = h;
      }
    }
    if (high <= IN_FRONT) continue;
    if (low >= -IN_FRONT) {
      if (put({ loops: blocker.loops, convex }, face, covers)) return true;
      continue;
    }
    const over = heights;
    const before = blocker.loops
      .map((loop, k) =>
        clippedBy(
          loop,
          (loops[k] as readonly number[]).map((i) => over[i] as number),
        ),
      )
      .filter((loop) => loop.length > 2);
    if (before.length > 0 && put({ loops: before, convex }, face, covers)) return true;
  }
  return false;
}

/**
 * Where a face lies to a part with one of whose outer planes between them: before it or beside it, behind it, or undefined where no
 * such plane parts them.
 */
function besidePart(face: FlatFace, other: FlatPart, part: PlacedPart): 'before' | 'behind' | undefined {
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
function put(cover: Cover, face: FlatFace, covers: Cover[]): boolean {
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
