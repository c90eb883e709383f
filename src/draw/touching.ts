/** Where boards touch, read from their solids' faces: leaning and shaped boards too. */

import type { Loop } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { acrossAxis, add, dot, scale } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
import { facetsOf } from './facets.ts';
import { clippedBy, convexCovers, loopArea } from './flat.ts';

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
      a.faces.forEach((face, f) => {
        if (face.round !== undefined) return;
        b.faces.forEach((other, o) => {
          if (other.round !== undefined || dot(face.normal, other.normal) > OPPOSITE) return;
          if (Math.abs(face.offset + other.offset) > CLOSE) return;
          const shared = sharedRectangle(a, f, b, o);
          if (shared !== undefined) found.push({ first: i, second: k, normal: face.normal, ...shared });
        });
      });
    }
  }
  return found;
}

const reach = (a: PlacedPart, b: PlacedPart, axis: 0 | 1 | 2): number =>
  Math.min(a.bounds.max[axis], b.bounds.max[axis]) - Math.max(a.bounds.min[axis], b.bounds.min[axis]);

/** What two faces on one plane share: the area where pieces of both lie on each other, and the rectangle around it. */
function sharedRectangle(
  a: PlacedPart,
  face: number,
  b: PlacedPart,
  other: number,
): Pick<Touch, 'area' | 'middle' | 'halves'> | undefined {
  const { normal, offset } = a.faces[face] as SolidFace;
  const { first, second } = acrossAxis(normal);
  const flat = (part: PlacedPart, number: number): Loop[] =>
    facetsOf(part).flatMap((facet) =>
      facet.face === number ? [facet.corners.map((p) => [dot(p, first), dot(p, second)] as const)] : [],
    );
  const [mine, theirs] = [flat(a, face), flat(b, other).map((loop) => [...loop].reverse())];
  const pieces = mine.flatMap((one) =>
    theirs.flatMap((two) => {
      const shared = clippedTo(one, two);
      return shared.length < 3 || loopArea(shared) < 1e-6 ? [] : [shared];
    }),
  );
  const span = (k: 0 | 1): readonly [number, number] => {
    const at = pieces.flatMap((piece) => piece.map((p) => p[k]));
    return [Math.min(...at), Math.max(...at)];
  };
  const [[u0, u1], [v0, v1]] = [span(0), span(1)];
  if (!(u1 - u0 >= LEAST && v1 - v0 >= LEAST)) return undefined;
  const area = pieces.reduce((sum, piece) => sum + loopArea(piece), 0);
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
