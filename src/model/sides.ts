/** A board's own sides and the faces of the piece they stand for. */
import type { Direction, Face } from '../read/types.ts';
import { directionOf, FACES, isLow } from '../resolve/directions.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import { cross, dot, scale } from '../resolve/vectors.ts';
import type { Side } from './shape.ts';
import type { BlankSize, Vec3 } from './types.ts';

/** How a board lies: along which direction it runs, and where its wide face looks. */
export interface Lie {
  readonly runs: Direction;
  readonly wideFace: Face;
}

/** The own side that a face of the piece names, whether or not the board leans. */
export function sideOf({ runs, wideFace }: Lie, face: Face): Side {
  const direction = directionOf(face);
  if (direction === runs) return isLow(face) ? 'start' : 'end';
  if (direction === directionOf(wideFace)) return face === wideFace ? 'face' : 'reverse';
  const thickness = scale(axisOf(directionOf(wideFace)), isLow(wideFace) ? -1 : 1);
  const width = cross(thickness, axisOf(runs));
  const forward = dot(width, axisOf(direction)) > 0;
  return forward === isLow(face) ? 'low edge' : 'high edge';
}

/** The face of the piece that an own side of the first copy stands for. */
export const faceOfSide = (lie: Lie, side: Side): Face =>
  FACES.find((face) => sideOf(lie, face) === side) as Face;

const AXIS: Readonly<Record<Side, 0 | 1 | 2>> = {
  start: 0,
  end: 0,
  'low edge': 1,
  'high edge': 1,
  reverse: 2,
  face: 2,
};

/** Index of the own axis across a side. */
export const axisOfSide = (side: Side): 0 | 1 | 2 => AXIS[side];

/** True for the end, the high edge and the wide face: the sides away from the blank's corner. */
export const isFar = (side: Side): boolean => side === 'end' || side === 'high edge' || side === 'face';

/** Outward unit vector of a side in the board's own frame. */
export function outwardOf(side: Side): Vec3 {
  const sign = isFar(side) ? 1 : -1;
  return [0, 1, 2].map((i) => (i === AXIS[side] ? sign : 0)) as unknown as Vec3;
}

export const SIDES: readonly Side[] = ['start', 'end', 'low edge', 'high edge', 'reverse', 'face'];

/** The far corner of a blank in its own frame. */
export const farCorner = (size: BlankSize): Vec3 => [size.length, size.width, size.thickness];

/** Coordinate of a side's plane along its own axis. */
export const planeOfSide = (side: Side, size: BlankSize): number =>
  isFar(side) ? (farCorner(size)[AXIS[side]] as number) : 0;
