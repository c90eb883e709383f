/** Where boards touch, read from their solids' faces: leaning and shaped boards too. */

import type { Loop } from '../../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { acrossAxis, add, dot, scale } from '../../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';
import { boundsOf, type Facet, facetsOfFace } from '../lines/facets.ts';
import { clippedBy, convexCovers, loopArea } from '../lines/flat.ts';

/** A place where two boards touch. `normal` points from the first into the second; area in mm², of what both share; the
 * middle of the rectangle around that, and from there to two of its sides. */
export interface Touch {
  readonly first: number;
  readonly second: number;
  readonly normal: Vec3;
  readonly area: number;
  readonly middle: Vec3;
  readonly halves: readonly [Vec3, Vec3];
}

/** Faces this close, mm, and this nearly opposite (cosine) touch. */
const CLOSE = 0.05;
const OPPOSITE = -1 + 1e-6;
/** A contact narrower than this is an edge on an edge, mm. */
const LEAST = 0.5;

/** All contacts, by the parts' numbers: plane faces that lie on each other. */
export function touches(parts: readonly PlacedPart[]): Touch[] {
  const found: Touch[] = [];
  for (let i = 0; i < parts.length; i++) {
    for (let k = i + 1; k < parts.length; k++) {
      const [a, b] = [parts[i] as PlacedPart, parts[k] as PlacedPart];
      if (![0, 1, 2].every((axis) => reach(a, b, axis as 0 | 1 | 2) > -CLOSE)) continue;
      const near = nearFaces(b, a.bounds);
      for (const f of nearFaces(a, b.bounds))
        for (const o of near) {
          const [face, other] = [a.faces[f] as SolidFace, b.faces[o] as SolidFace];
          if (dot(face.normal, other.normal) > OPPOSITE) continue;
          if (Math.abs(face.offset + other.offset) > CLOSE) continue;
          if (!boxesTouch(boxOfFace(a, f), boxOfFace(b, o))) continue;
          const shared = sharedRectangle(a, f, b, o);
          if (shared !== undefined) found.push({ first: i, second: k, normal: face.normal, ...shared });
        }
    }
  }
  return found;
}

const reach = (a: PlacedPart, b: PlacedPart, axis: 0 | 1 | 2): number =>
  Math.min(a.bounds.max[axis], b.bounds.max[axis]) - Math.max(a.bounds.min[axis], b.bounds.min[axis]);

/** Numbers of a part's plane faces that come near a box. */
const nearFaces = (part: PlacedPart, box: Bounds): number[] =>
  part.faces.flatMap((face, number) =>
    face.round === undefined && boxesTouch(boxOfFace(part, number), box) ? [number] : [],
  );

const boxes = new WeakMap<PlacedPart, (Bounds | undefined)[]>();

/** The box around a face, found once for each. */
function boxOfFace(part: PlacedPart, number: number): Bounds {
  const known = boxes.get(part) ?? [];
  boxes.set(part, known);
  const found =
    known[number] ??
    boundsOf((part.faces[number] as SolidFace).loops.flat().map((v) => part.vertices[v] as Vec3));
  known[number] = found;
  return found;
}

const boxesTouch = (a: Bounds, b: Bounds): boolean =>
  ([0, 1, 2] as const).every((k) => a.min[k] <= b.max[k] + CLOSE && b.min[k] <= a.max[k] + CLOSE);

/** What two faces on one plane share: the area where pieces of both lie on each other, and the rectangle around it. */
function sharedRectangle(
  a: PlacedPart,
  face: number,
  b: PlacedPart,
  other: number,
): Pick<Touch, 'area' | 'middle' | 'halves'> | undefined {
  const { normal, offset } = a.faces[face] as SolidFace;
  const { first, second } = acrossAxis(normal);
  const flat = (facet: Facet): Loop => facet.corners.map((p) => [dot(p, first), dot(p, second)] as const);
  const theirs = facetsOfFace(b, other).flatMap((facet) =>
    boxesTouch(facet.bounds, boxOfFace(a, face)) ? [{ ...facet, loop: [...flat(facet)].reverse() }] : [],
  );
  const pieces: Loop[] = [];
  let [area, u0, u1, v0, v1] = [0, Infinity, -Infinity, Infinity, -Infinity];
  for (const one of facetsOfFace(a, face)) {
    if (!boxesTouch(one.bounds, boxOfFace(b, other))) continue;
    const loop = flat(one);
    for (const two of theirs) {
      if (!boxesTouch(one.bounds, two.bounds)) continue;
      const shared = clippedTo(loop, two.loop);
      const size = shared.length < 3 ? 0 : loopArea(shared);
      if (size < 1e-6) continue;
      pieces.push(shared);
      area += size;
      for (const [u, v] of shared) {
        if (u < u0) u0 = u;
        if (u > u1) u1 = u;
        if (v < v0) v0 = v;
        if (v > v1) v1 = v;
      }
    }
  }
  if (!(u1 - u0 >= LEAST && v1 - v0 >= LEAST)) return undefined;
  const at = (u: number, v: number): Vec3 =>
    add(scale(normal, offset), add(scale(first, u), scale(second, v)));
  const centre: readonly [number, number] = [(u0 + u1) / 2, (v0 + v1) / 2];
  if (pieces.some((piece) => convexCovers(piece, [centre], 1e-6))) {
    const halves = [scale(first, (u1 - u0) / 2), scale(second, (v1 - v0) / 2)] as const;
    return { area, middle: at(...centre), halves };
  }
  // The middle of an L or of a ring isn't on it: then a piece is taken for all.
  const largest = pieces.reduce((best, piece) => (loopArea(piece) > loopArea(best) ? piece : best));
  const mean = (k: 0 | 1): number => largest.reduce((sum, p) => sum + p[k], 0) / largest.length;
  const none: Vec3 = [0, 0, 0];
  return { area, middle: at(mean(0), mean(1)), halves: [none, none] };
}

/** What of a convex loop lies in another, both counter-clockwise. */
function clippedTo(loop: Loop, within: Loop): Loop {
  let rest = loop;
  for (let i = 0; i < within.length && rest.length > 0; i++) {
    const [p, q] = [within[i], within[(i + 1) % within.length]] as [Loop[number], Loop[number]];
    rest = clippedBy(
      rest,
      rest.map(([u, v]) => (q[0] - p[0]) * (v - p[1]) - (q[1] - p[1]) * (u - p[0])),
    );
  }
  return rest;
}
