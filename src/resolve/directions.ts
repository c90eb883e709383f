/** Faces, directions and mirrors of a piece. */
import type { Direction, Face, Mirror } from '../read/types.ts';

export const DIRECTIONS: readonly Direction[] = ['across', 'deep', 'up'];
export const FACES: readonly Face[] = ['left', 'right', 'front', 'back', 'bottom', 'top'];

/** The faces of a direction, the lower coordinate first. */
export const FACES_OF: Readonly<Record<Direction, readonly [low: Face, high: Face]>> = {
  across: ['left', 'right'],
  deep: ['front', 'back'],
  up: ['bottom', 'top'],
};

export const directionOf = (face: Face): Direction =>
  face === 'left' || face === 'right' ? 'across' : face === 'front' || face === 'back' ? 'deep' : 'up';

export const oppositeOf = (face: Face): Face => {
  const [low, high] = FACES_OF[directionOf(face)];
  return face === low ? high : low;
};

/** True for left, front and bottom. */
export const isLow = (face: Face): boolean => FACES_OF[directionOf(face)][0] === face;

/** The direction that is neither of two. */
export const thirdOf = (a: Direction, b: Direction): Direction =>
  DIRECTIONS.find((direction) => direction !== a && direction !== b) ?? 'up';

export const mirrorDirection = (mirror: Mirror): Direction =>
  mirror === 'left-right' ? 'across' : mirror === 'front-back' ? 'deep' : 'up';

/** A direction in a sentence: `from left to right`. */
export const fromTo = (direction: Direction): string => `from ${FACES_OF[direction].join(' to ')}`;
