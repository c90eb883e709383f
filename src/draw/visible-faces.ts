/**
 * The visible part of each face, as exact polygons: what a face has left when everything in front of it is taken off. No
 * painting from back to front, so tints never show through and flush boards keep their own faces.
 */
import type { Loop, Solids } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { dot } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
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
import { project } from './project.ts';
import { type Seen, seenFrom } from './seen.ts';
import type { Point, ViewFace, ViewFrame } from './types.ts';

/** Polygons that only touch within this, mm, don't cover each other. */
const TOUCH = 1e-3;
/** Points of a loop closer than this to the straight way, mm, are rounding. */
const TIDY = 1e-4;
/** Loops that are thinner than this on average, mm, are rounding. */
const THIN = 2e-3;

interface FlatFace {
  readonly copy: number;
  readonly face: SolidFace;
  readonly loops: readonly Loop[];
  readonly box: Box;
}

/** A whole part seen from the viewer. */
interface FlatPart {
  readonly copy: number;
  readonly faces: readonly FlatFace[];
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
      const left =
        covers.length === 0
          ? face.loops
          : solids.uncovered(
              face.loops,
              covers.map((c) => c.loops),
            );
      const loops = left.map((loop) => tidyLoop(loop, TIDY)).filter(isBroad);
      if (loops.length === 0) return [];
      return [
        {
          copy: part.copy,
          role: face.face.role,
          normal: face.face.normal,
          loops,
          grain: project(part.frame.length, frame),
        },
      ];
    });
  });
}

const isBroad = (loop: Loop): boolean =>
  loop.length >= 3 && (2 * Math.abs(loopArea(loop))) / Math.max(loopLength(loop), 1e-9) > THIN;

function flatPart(part: PlacedPart, copy: number, seen: Seen): FlatPart {
  const [vertex, firstFace] = [seen.firstVertex[copy] as number, seen.firstFace[copy] as number];
  const at = (i: number): Point => [seen.u[vertex + i] as number, seen.v[vertex + i] as number];
  const faces = part.faces.flatMap((face, f): FlatFace[] => {
    if (seen.facing[firstFace + f] !== 1) return [];
    const loops = face.loops.map((loop) => loop.map(at));
    return [{ copy, face, loops, box: boxOf(loops.flat()) }];
  });
  const points = part.vertices.map((_, i) => at(i));
  const convex = part.faces.every((face) => part.vertices.every((p) => above(p, face) <= TOUCH));
  return { copy, faces, box: boxOf(points), convex, ...(convex ? { outline: [convexHull(points)] } : {}) };
}

/** Height of a point over a face's plane, mm. */
const above = (p: Vec3, face: SolidFace): number => dot(face.normal, p) - face.offset;

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
  for (const other of flat) {
    if (!boxesMeet(face.box, other.box)) continue;
    if (other.copy === face.copy && other.convex) continue;
    const found = coversFrom(face, other, parts[other.copy] as PlacedPart, solids);
    for (const cover of found) {
      if (!cover.convex) {
        covers.push(cover);
        continue;
      }
      const loop = cover.loops[0] as Loop;
      if (face.face.convex && !convexOverlap(face.loops[0] as Loop, loop, TOUCH)) continue;
      if (face.loops.every((own) => convexCovers(loop, own, TOUCH))) return 'all';
      covers.push(cover);
    }
  }
  return covers;
}

function coversFrom(
  face: FlatFace,
  other: FlatPart,
  part: PlacedPart,
  solids: Pick<Solids, 'united'>,
): Cover[] {
  const box = heightsOfBox(part, face.face);
  if (box.highest <= IN_FRONT) return [];
  let { lowest } = box;
  let heights: number[] = [];
  if (lowest < -IN_FRONT) {
    heights = part.vertices.map((p) => above(p, face.face));
    if (heights.every((h) => h <= IN_FRONT)) return [];
    lowest = heights.reduce((least, h) => Math.min(least, h), Infinity);
  }
  if (lowest >= -IN_FRONT) {
    other.outline ??= solids.united(other.faces.map((f) => f.loops));
    return [{ loops: other.outline, convex: other.convex }];
  }
  return other.faces.flatMap((blocker): Cover[] => {
    if (blocker.face === face.face || !boxesMeet(face.box, blocker.box)) return [];
    const { convex, loops } = blocker.face;
    if (loops.every((loop) => loop.every((i) => (heights[i] as number) <= IN_FRONT))) return [];
    if (convex && face.face.convex && !convexOverlap(face.loops[0] as Loop, blocker.loops[0] as Loop, TOUCH))
      return [];
    if (loops.every((loop) => loop.every((i) => (heights[i] as number) >= -IN_FRONT)))
      return [{ loops: blocker.loops, convex }];
    const before = blocker.loops
      .map((loop, k) =>
        clippedBy(
          loop,
          (loops[k] as readonly number[]).map((i) => heights[i] as number),
        ),
      )
      .filter((loop) => loop.length > 2);
    return before.length === 0 ? [] : [{ loops: before, convex }];
  });
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
