/**
 * Works out a housing that is set out on its face again from its sheet: its walls from the lines on the face and the angles in the words,
 * its floor from the depth. To which side a line turns is seen in the drawing and taken from the model; every number from the print.
 */
import type { BoxCut, HousingWall, Side } from '../../src/model/shape.ts';
import { axisOfSide, isFar, outwardOf } from '../../src/model/sides.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { type Convex, cornersOf, cutConvex, type Plane, reach } from '../../src/resolve/convex.ts';
import { add, cross, dot, scale, unit } from '../../src/resolve/vectors.ts';
import { LENGTH, type Sheet } from './part-sheets-read.ts';

const xyz = ['x', 'y', 'z'] as const;
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** @param hull what the saw cuts leave of the blank, both as printed */
export function housing(one: BoxCut, i: number, own: Vec3, hull: Convex<unknown>, sheet: Sheet): BoxCut {
  const { layout, side } = one;
  if (!layout || !side) throw new Error('no housing of a joint');
  const face = outwardOf(side);
  const across = axisOfSide(side);
  const level = isFar(side) ? sheet.size[across] : 0;
  const words = sheet.text(`${i} deep`);
  const depth = sheet.number(`${i} deep`, new RegExp(`(${LENGTH}) deep`));
  const walls = layout.walls.some(({ turn }) => turn !== 0)
    ? skewed(one, i, words, sheet)
    : straight(one, i, own, sheet);
  const planes: Plane[] = walls.map(({ at, along, wall }) => {
    const said = new RegExp(
      `wall at the ${sheet.side(wall.side)} [^;]*?(undercut|sloped in) ([\\d.]+)°`,
    ).exec(words);
    const under = said ? radians(Number(said[2])) * (said[1] === 'undercut' ? 1 : -1) : 0;
    const square = unit(cross(along, face));
    const out = scale(square, dot(square, outwardOf(wall.side)) > 0 ? 1 : -1);
    const normal = add(scale(out, Math.cos(under)), scale(face, Math.sin(under)));
    const point = at.map((v, k) => (k === across ? level : v)) as unknown as Vec3;
    return { normal, offset: dot(normal, point) };
  });
  const floor = scale(face, -1);
  const bottom = add(scale(AXES[across] as Vec3, level), scale(face, -depth));
  planes.push({ normal: floor, offset: dot(floor, bottom) });
  let body = hull;
  for (const plane of planes) body = cutConvex(body, plane, 'wall');
  const spans = AXES.map((axis) => reach(cornersOf(body), axis));
  return {
    ...one,
    depth,
    planes,
    min: spans.map(({ low }) => low) as unknown as Vec3,
    max: spans.map(({ high }) => high) as unknown as Vec3,
  };
}

/** A wall by a point of its line on the face and the way of that line. */
interface Line {
  readonly wall: HousingWall;
  readonly at: Vec3;
  readonly along: Vec3;
}

/** Lines along the board's own axes: each by where it lies. */
function straight(one: BoxCut, i: number, own: Vec3, sheet: Sheet): Line[] {
  const { opening, walls } = one.layout as NonNullable<BoxCut['layout']>;
  return walls.map((wall) => {
    const axis = axisOfSide(wall.side);
    const { low, high } = reach(opening, AXES[axis] as Vec3);
    const closed = (far: boolean) =>
      walls.some((each) => axisOfSide(each.side) === axis && isFar(each.side) === far);
    // Where it is open it runs to the end of the board.
    const seen: [number, number] = [closed(false) ? low : 0, closed(true) ? high : own[axis]];
    const span = sheet.span(`${i} ${xyz[axis]}`, axis, seen, own[axis]);
    const at = scale(AXES[axis] as Vec3, span[isFar(wall.side) ? 1 : 0]);
    const along =
      AXES[([0, 1, 2] as const).find((k) => k !== axis && k !== axisOfSide(one.side as Side)) as 0];
    return { wall, at, along: along as Vec3 };
  });
}

/** Lines out of parallel: from a corner that is placed by two sizes, at the angles that are said, so wide and so long. */
function skewed(one: BoxCut, i: number, words: string, sheet: Sheet): Line[] {
  const { opening, walls, run } = one.layout as NonNullable<BoxCut['layout']>;
  const side = one.side as Side;
  const crosswise = ([0, 1, 2] as const).find((k) => k !== run && k !== axisOfSide(side)) as 0 | 1 | 2;
  const edges = opening.map((p, k) => [p, opening[(k + 1) % opening.length] as Vec3] as const);
  // Seen: which line is drawn with the angle, and to which side it turns.
  const [seen] = [...edges].sort(([a, b], [c, d]) => Math.abs(d[run] - c[run]) - Math.abs(b[run] - a[run]));
  const [low, high] =
    (seen as readonly [Vec3, Vec3])[0][run] <= (seen as readonly [Vec3, Vec3])[1][run]
      ? (seen as readonly [Vec3, Vec3])
      : ([...(seen as readonly [Vec3, Vec3])].reverse() as [Vec3, Vec3]);
  const turn = radians(sheet.angle(`${i} turn`)) * Math.sign(high[crosswise] - low[crosswise]);
  const way = add(scale(AXES[run] as Vec3, Math.cos(turn)), scale(AXES[crosswise] as Vec3, Math.sin(turn)));
  const corner = [0, 0, 0] as [number, number, number];
  for (const axis of [run, crosswise])
    corner[axis] = sheet.placeOrRim(`${i} ${xyz[axis]} corner`, axis, low[axis], sheet.size[axis]);
  const number = (pattern: string): number => sheet.number(`${i} deep`, new RegExp(pattern));
  const wide = number(`(${LENGTH}) wide`);
  const long = number(`(${LENGTH}) long`);
  const middle = opening.reduce((sum, p) => sum + p[crosswise] / opening.length, 0);
  return walls.map((wall): Line => {
    const far = isFar(wall.side);
    if (axisOfSide(wall.side) !== run) {
      // The other long wall lies across the housing from the line that is drawn.
      const own = far === (low[crosswise] + high[crosswise]) / 2 > middle;
      const inward = Math.sign(middle - (low[crosswise] + high[crosswise]) / 2);
      const shift = add(
        scale(AXES[crosswise] as Vec3, Math.cos(turn) * wide * inward),
        scale(AXES[run] as Vec3, -Math.sin(turn) * wide * inward),
      );
      return { wall, at: own ? corner : add(corner, shift), along: way };
    }
    const said = new RegExp(`wall at the ${sheet.side(wall.side)} ([\\d.]+)° out of square`).exec(words);
    const end = edges
      .filter(([a, b]) => Math.abs(b[run] - a[run]) < Math.abs(b[crosswise] - a[crosswise]))
      .sort(([a], [b]) => (far ? b[run] - a[run] : a[run] - b[run]))[0] as readonly [Vec3, Vec3];
    const slope = Math.sign((end[1][run] - end[0][run]) * (end[1][crosswise] - end[0][crosswise]));
    const angle = radians(Number(said?.[1] ?? 0)) * slope;
    return {
      wall,
      at: far ? add(corner, scale(way, long)) : corner,
      along: add(scale(AXES[crosswise] as Vec3, Math.cos(angle)), scale(AXES[run] as Vec3, Math.sin(angle))),
    };
  });
}
