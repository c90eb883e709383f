/** A board on the bench: its blank in its own frame, what saw cuts have left of it, and the way from places in the piece. */
import type { Diagnostic } from '../diagnostics.ts';
import { fault, type Origin } from '../diagnostics.ts';
import type { Direction, Face } from '../read/types.ts';
import { type Convex, convexBox, type Plane } from '../resolve/convex.ts';
import { directionOf, isLow } from '../resolve/directions.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import type { PlaceValues, ResolvedShape } from '../resolve/pose-types.ts';
import { figure } from '../resolve/quantities.ts';
import { add, dot, scale } from '../resolve/vectors.ts';
import type { NumberStyle } from '../units.ts';
import type { ShapeOperation, Side } from './shape.ts';
import {
  axisOfSide,
  faceOfSide,
  farCorner,
  type Lie,
  outwardOf,
  planeOfSide,
  SIDES,
  sideOf,
} from './sides.ts';
import type { BlankSize, Vec3 } from './types.ts';

export interface Workpiece {
  readonly key: string;
  readonly lie: Lie;
  readonly size: BlankSize;
  readonly numbers: NumberStyle;
  /** Unit vectors and corner of the first copy in the piece. */
  readonly axes: { readonly length: Vec3; readonly width: Vec3; readonly thickness: Vec3 };
  readonly origin: Vec3;
  /** True for one of several courses: an outline of straight lines that goes round all of them is cut off at its edges. */
  readonly course?: true;
  /** What is left of the blank after the saw cuts so far; own frame. */
  hull: Convex<Side>;
  /** The operations made so far. */
  readonly done: ShapeOperation[];
  readonly report: (diagnostic: Diagnostic) => void;
}

/** The whole blank as a convex body. */
export const blankOf = (size: BlankSize): Convex<Side> => convexBox([0, 0, 0], farCorner(size), SIDES);

/** A fault of an operation, with its part. */
export function wrong(
  piece: Workpiece,
  id: string,
  origin: Origin,
  said: { readonly expected: string; readonly found: string; readonly hint?: string },
): undefined {
  piece.report(fault(`shape.${id}`, origin, { ...said, parts: [piece.key] }));
  return undefined;
}

/** A length in a message. */
export const said = (piece: Workpiece, length: number): string => figure(length, piece.numbers);

/** Where a value of an operation stands; the operation's own place where it has none. */
export const placeOfValue = ({ source }: ResolvedShape, key: string): Origin =>
  source.values[key]?.origin ?? source.words[key]?.[0]?.origin ?? source.places[key]?.origin ?? source.origin;

/** A vector of the piece in the board's own frame. */
export const ownVector = ({ axes }: Workpiece, v: Vec3): Vec3 => [
  dot(v, axes.length),
  dot(v, axes.width),
  dot(v, axes.thickness),
];

/** A plane of the piece in the board's own frame. */
export const ownPlane = (piece: Workpiece, { normal, offset }: Plane): Plane => ({
  normal: ownVector(piece, normal),
  offset: offset - dot(normal, piece.origin),
});

/** The own axis that runs along a direction of the piece, or nearest to it: 0 length, 1 width, 2 thickness. */
export function axisAlong({ lie }: Workpiece, direction: Direction): 0 | 1 | 2 {
  if (direction === lie.runs) return 0;
  return direction === directionOf(lie.wideFace) ? 2 : 1;
}

const OWN: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** The side of a cut that a face with its coordinate gives: what is taken out lies on the inner side. */
export function sidePlane(piece: Workpiece, face: Face, value: number): Plane {
  const out = scale(axisOf(directionOf(face)), isLow(face) ? -1 : 1);
  return ownPlane(piece, { normal: out, offset: isLow(face) ? -value : value });
}

/** The point of a side that lies at given coordinates of the piece; what isn't given lies in the board's middle. */
export function pointOn(piece: Workpiece, side: Side, at: PlaceValues, origin: Origin): Vec3 | undefined {
  const across = axisOfSide(side);
  const middle = scale(farCorner(piece.size), 0.5);
  const start = middle.map((v, i) => (i === across ? planeOfSide(side, piece.size) : v)) as unknown as Vec3;
  const given = (['across', 'deep', 'up'] as const).filter((direction) => at[direction] !== undefined);
  const stray = given.find((direction) => axisAlong(piece, direction) === across);
  if (stray) {
    const others = (['across', 'deep', 'up'] as const).filter((one) => axisAlong(piece, one) !== across);
    const face = faceOfSide(piece.lie, side);
    return wrong(piece, 'place', origin, {
      expected: `a place on the ${face} of "${piece.key}": ${others.join(' and ')}`,
      found: stray,
      hint: `its ${face} gives the place ${stray}`,
    });
  }
  // The point is start + Σ move[k] · own[k]; one equation for each given coordinate.
  const rows = given.map((direction) => {
    const plane = ownPlane(piece, { normal: axisOf(direction), offset: at[direction] as number });
    return { plane, own: axisAlong(piece, direction), short: plane.offset - dot(plane.normal, start) };
  });
  const [a, b] = rows;
  if (!a) return start;
  if (!b) return add(start, scale(OWN[a.own] as Vec3, a.short / (a.plane.normal[a.own] as number)));
  const m = [a, b].map((row) => [row.plane.normal[a.own] as number, row.plane.normal[b.own] as number]);
  const [[p, q], [r, s]] = m as [[number, number], [number, number]];
  const det = p * s - q * r;
  return add(
    start,
    add(
      scale(OWN[a.own] as Vec3, (a.short * s - b.short * q) / det),
      scale(OWN[b.own] as Vec3, (b.short * p - a.short * r) / det),
    ),
  );
}

/** Own coordinate along the length of a coordinate of the piece along the direction it runs, on its middle line. */
export function alongLength(piece: Workpiece, value: number): number {
  const plane = ownPlane(piece, { normal: axisOf(piece.lie.runs), offset: value });
  const [, y, z] = scale(farCorner(piece.size), 0.5);
  return (plane.offset - plane.normal[1] * y - plane.normal[2] * z) / plane.normal[0];
}

/** The face of the piece for a side. */
export const faceName = (piece: Workpiece, side: Side): Face => faceOfSide(piece.lie, side);

/** The outward unit vector in the board's own frame of a face of the piece, along the board's own nearest axis. */
export const ownOutward = (piece: Workpiece, face: Face): Vec3 => outwardOf(sideOf(piece.lie, face));
