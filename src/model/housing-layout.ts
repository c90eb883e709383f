/** How a housing is set out: its line on the face of the board, its walls, and how wide it is across its run. */
import { areaOf, type Convex, clipLoop, type Plane, reach } from '../resolve/convex.ts';
import { cross, dot, unit } from '../resolve/vectors.ts';
import type { Board } from './housing-fit.ts';
import type { BoxCut, HousingWall, Side } from './shape.ts';
import { axisOfSide, faceOfSide, outwardOf, SIDES } from './sides.ts';
import type { Vec3 } from './types.ts';

/** A wall that leaves its straight by less than this over its length, mm, is set out straight: a knife line is as wide. */
const KNIFE_LINE = 0.2;
/** Walls nearer to square than this, degrees, are cut square: over the depth of a housing no more than a knife line. */
const SQUARE = 1.5;

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** Own sides of a board that what is taken out of it opens. @param body what is taken, its own faces named by their sides */
export const openSides = (body: Convex<Side | 'wall'>): Side[] =>
  SIDES.filter((side) => body.some((face) => face.name === side && areaOf(face.loop) > 0.01));

/**
 * The layout of a housing of one board's end in another.
 * @param against the face it is cut into
 * @param walls its closed sides without the floor
 * @param body what is taken out
 */
export function layoutOf(
  board: Board,
  other: Board,
  against: Convex<Side>[number],
  walls: readonly Plane[],
  body: Convex<Side | 'wall'>,
): Pick<BoxCut, 'width' | 'stopped' | 'open' | 'layout'> {
  const into = against.name;
  const { width, thickness } = board.copy.size;
  const flat = ([0, 1, 2] as const).filter((axis) => axis !== axisOfSide(into));
  // The thin way of the end lies across the run.
  const thin: Vec3 = thickness <= width ? [0, 0, 1] : [0, 1, 0];
  const across = other.place.ownVector(board.place.vector(thin));
  const [run] = [...flat].sort((a, b) => Math.abs(across[a]) - Math.abs(across[b])) as [0 | 1 | 2];
  let opening: Vec3[] = [...against.loop];
  for (const wall of walls) opening = clipLoop(opening, wall);
  const open = openSides(body);
  const closed = SIDES.filter((side) => axisOfSide(side) === run && !open.includes(side));
  const name = (side: Side) => faceOfSide(other.part, side);
  return {
    width: Math.min(width, thickness),
    stopped: closed.map(name),
    open: open.map(name),
    layout: { run, opening, walls: walls.map((wall) => wallOf(wall, against, opening, other)) },
  };
}

function wallOf(
  wall: Plane,
  against: Plane & { readonly name: Side },
  opening: readonly Vec3[],
  other: Board,
): HousingWall {
  const sides = SIDES.filter((side) => axisOfSide(side) !== axisOfSide(against.name));
  const looks = (side: Side): number => dot(outwardOf(side), wall.normal);
  const side = sides.reduce((best, one) => (looks(one) > looks(best) + 1e-9 ? one : best));
  const line = unit(cross(against.normal, wall.normal));
  const straight = sides.map(outwardOf).reduce((best, one) => Math.max(best, Math.abs(dot(one, line))), 0);
  const turn = degrees(Math.acos(Math.min(1, straight)));
  const ends = opening.filter((p) => Math.abs(dot(wall.normal, p) - wall.offset) < 1e-6);
  const { low, high } = ends.length > 1 ? reach(ends, line) : { low: 0, high: 0 };
  const off = Math.sin(Math.acos(Math.min(1, straight))) * (high - low);
  const undercut = degrees(Math.asin(Math.max(-1, Math.min(1, dot(wall.normal, against.normal)))));
  return {
    side,
    face: faceOfSide(other.part, side),
    turn: off < KNIFE_LINE ? 0 : turn,
    undercut: Math.abs(undercut) < SQUARE ? 0 : undercut,
  };
}
