/** Frames and bounds of boards, and how copies mirror and move them. */
import type { Direction, Face, Mirror } from '../read/types.ts';
import { reach } from '../resolve/convex.ts';
import { directionOf, isLow, mirrorDirection } from '../resolve/directions.ts';
import type { Pose } from '../resolve/pose-types.ts';
import type { Span } from '../resolve/types.ts';
import { add, dot as product, scale, subtract } from '../resolve/vectors.ts';
import type { Bounds, Frame, Vec3 } from './types.ts';

const INDEX: Readonly<Record<Direction, 0 | 1 | 2>> = { across: 0, deep: 1, up: 2 };

/** A frame that may be left-handed while copies are made, with the bounds of its board. */
export interface Stand {
  readonly origin: Vec3;
  readonly length: Vec3;
  readonly width: Vec3;
  readonly thickness: Vec3;
  readonly bounds: Bounds;
}

const along = (direction: Direction, size: number): Vec3 =>
  [0, 0, 0].map((_, index) => (index === INDEX[direction] ? size : 0)) as unknown as Vec3;

const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1] + 0,
  a[2] * b[0] - a[0] * b[2] + 0,
  a[0] * b[1] - a[1] * b[0] + 0,
];

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * The stand of a board: length towards right, back or top; thickness out of the wide face; width so that they are right-handed.
 * @param spans where it begins and ends, mm
 */
export function standOf(spans: Readonly<Record<Direction, Span>>, runs: Direction, wideFace: Face): Stand {
  const thick = directionOf(wideFace);
  const length = along(runs, 1);
  const thickness = along(thick, isLow(wideFace) ? -1 : 1);
  const width = cross(thickness, length);
  const min: Vec3 = [spans.across.low, spans.deep.low, spans.up.low];
  const max: Vec3 = [spans.across.high, spans.deep.high, spans.up.high];
  const backwards = (index: 0 | 1 | 2): boolean => length[index] + width[index] + thickness[index] < 0;
  const corner = ([0, 1, 2] as const).map((index) => (backwards(index) ? max[index] : min[index]));
  return { origin: corner as unknown as Vec3, length, width, thickness, bounds: { min, max } };
}

const set = (vector: Vec3, index: 0 | 1 | 2, value: number): Vec3 =>
  vector.map((old, i) => (i === index ? value + 0 : old)) as unknown as Vec3;

/** A board mirrored about the middle of the outline. @param size the outline's along the mirror's direction, mm */
export function mirrored(stand: Stand, mirror: Mirror, size: number): Stand {
  const index = INDEX[mirrorDirection(mirror)];
  const turned = (vector: Vec3): Vec3 => set(vector, index, -vector[index]);
  const { min, max } = stand.bounds;
  return {
    origin: set(stand.origin, index, size - stand.origin[index]),
    length: turned(stand.length),
    width: turned(stand.width),
    thickness: turned(stand.thickness),
    bounds: { min: set(min, index, size - max[index]), max: set(max, index, size - min[index]) },
  };
}

/** A board moved along a direction, mm. */
export function moved(stand: Stand, direction: Direction, step: number): Stand {
  const index = INDEX[direction];
  const shifted = (point: Vec3): Vec3 => set(point, index, point[index] + step);
  const { min, max } = stand.bounds;
  return { ...stand, origin: shifted(stand.origin), bounds: { min: shifted(min), max: shifted(max) } };
}

/** The stand of a board that leans, from its unit vectors and the corner of its blank. */
export const standOfPose = (pose: Pose): Stand => {
  const [across, deep, up] = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis) => reach(pose.corners, axis)) as [Span, Span, Span];
  return {
    origin: pose.origin,
    length: pose.length,
    width: pose.width,
    thickness: pose.thickness,
    bounds: { min: [across.low, deep.low, up.low], max: [across.high, deep.high, up.high] },
  };
};

/**
 * One course of a field that slopes: a strip of its pose.
 * @param from where the strip begins along the field's own width, mm
 */
export function stripOf(pose: Pose, from: number, width: number): Pose {
  const half = pose.corners.length / 2;
  return {
    ...pose,
    origin: add(pose.origin, scale(pose.width, from)),
    size: { ...pose.size, width },
    // Corners stand in fours, those of one end: two of the low edge, then two of the high one; an end is cut alike at both edges.
    corners: pose.corners.map((_, index) => {
      const end = index < half ? 0 : half;
      const high = index - end >= half / 2;
      const low = pose.corners[end + ((index - end) % (half / 2))] as Vec3;
      return add(low, scale(pose.width, high ? from + width : from));
    }),
  };
}

/**
 * The right-handed frame of a stand. A left-handed one counts its width from the other edge and is marked mirrored.
 * @param width of the board, where its bounds don't say it
 */
export function frameOf(stand: Stand, boardWidth?: number): Frame {
  const { origin, length, width, thickness, bounds } = stand;
  if (dot(cross(length, width), thickness) > 0) return { origin, length, width, thickness, mirrored: false };
  const size = boardWidth ?? Math.abs(dot(width, bounds.max) - dot(width, bounds.min));
  const [x, y, z] = origin;
  const far: Vec3 = [x + width[0] * size, y + width[1] * size, z + width[2] * size];
  const other: Vec3 = [-width[0] + 0, -width[1] + 0, -width[2] + 0];
  return { origin: far, length, width: other, thickness, mirrored: true };
}

/** How a board's own frame stands in the piece, the reflection of a mirrored copy included. */
export interface Placing {
  readonly point: (own: Vec3) => Vec3;
  readonly vector: (own: Vec3) => Vec3;
  readonly ownPoint: (piece: Vec3) => Vec3;
  readonly ownVector: (piece: Vec3) => Vec3;
}

/** @param width of the board's blank: a mirrored copy counts it from the other edge */
export function placingOf(frame: Frame, width: number): Placing {
  const across = frame.mirrored ? scale(frame.width, -1) : frame.width;
  const origin = frame.mirrored ? add(frame.origin, scale(frame.width, width)) : frame.origin;
  const vector = (p: Vec3): Vec3 =>
    add(add(scale(frame.length, p[0]), scale(across, p[1])), scale(frame.thickness, p[2]));
  const ownVector = (v: Vec3): Vec3 => [
    product(v, frame.length),
    product(v, across),
    product(v, frame.thickness),
  ];
  return {
    vector,
    ownVector,
    point: (p) => add(origin, vector(p)),
    ownPoint: (p) => ownVector(subtract(p, origin)),
  };
}
