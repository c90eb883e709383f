/** Which boards are cut alike, turned whichever way: one row of a cut list, or a row and its mirror image. */
import { cross, dot } from '../resolve/vectors.ts';
import { polygonOf } from './flat.ts';
import type { ShapeOperation, Side } from './shape.ts';
import { farCorner, outwardOf } from './sides.ts';
import type { Copy, Vec3 } from './types.ts';

/** A turn or reflection of the blank onto itself, as the own axes that x, y and z become, with their signs. */
type Turn = (p: Vec3) => Vec3;

/** The turns of a box onto itself; the last four need a square section. */
const TURNS: readonly Turn[] = [
  (p) => p,
  ([x, y, z]) => [x, -y, -z],
  ([x, y, z]) => [-x, y, -z],
  ([x, y, z]) => [-x, -y, z],
];
const SQUARE: readonly Turn[] = [
  ([x, y, z]) => [x, -z, y],
  ([x, y, z]) => [x, z, -y],
  ([x, y, z]) => [-x, z, y],
  ([x, y, z]) => [-x, -z, -y],
];

const tidy = (value: number): number => Math.round(value * 1e3) / 1e3 + 0;
const text = (...values: readonly (number | Vec3 | undefined)[]): string =>
  JSON.stringify(values.map((one) => (typeof one === 'number' ? tidy(one) : one?.map(tidy))));

/**
 * What is cut into a copy, as a text that is equal for boards that can be turned into each other. The two of a mirrored pair have the
 * same text where the mirror image can be had by turning the board round. @param reflected gives that of its mirror image
 */
export function cutText(
  { size, shape, frame }: Pick<Copy, 'size' | 'shape' | 'frame'>,
  reflected = false,
): string {
  if (shape.length === 0) return '';
  const half = farCorner(size).map((v) => v / 2) as unknown as Vec3;
  const side = frame.mirrored === reflected ? 1 : -1;
  const square = Math.abs(size.width - size.thickness) < 1e-3;
  const looks = [...TURNS, ...(square ? SQUARE : [])].map((turn) =>
    [...shape.flatMap((one) => marksOf(one, ([x, y, z]) => turn([x, side * y, z]), half))].sort().join(),
  );
  return looks.sort()[0] as string;
}

/** What an operation leaves on the board, as texts that are equal where the cuts are; places from the middle of the blank. */
function marksOf(one: ShapeOperation, turn: Turn, half: Vec3): string[] {
  const at = (p: Vec3): Vec3 => turn([p[0] - half[0], p[1] - half[1], p[2] - half[2]]);
  const plane = (normal: Vec3, offset: number): string => text(turn(normal), offset - dot(normal, half));
  const side = (which: Side): string => text(turn(outwardOf(which)));
  switch (one.kind) {
    case 'saw':
      return [`saw ${plane(one.plane.normal, one.plane.offset)}`];
    case 'box':
      return [
        `box ${one.planes
          .map(({ normal, offset }) => plane(normal, offset))
          .sort()
          .join(' ')}`,
      ];
    case 'hole': {
      const { entry, axis, depth, counterbore, countersink, beyond } = one;
      const size = text(
        one.diameter,
        depth,
        counterbore?.diameter,
        counterbore?.depth,
        countersink?.diameter,
        countersink?.angle,
        beyond?.diameter,
      );
      if (depth !== undefined || counterbore || countersink)
        return [`hole ${text(at(entry), turn(axis))} ${size}`];
      // A plain hole right through is the same from both sides: its line, whichever way it points.
      const [a, p] = [turn(axis), at(entry)];
      const away = cross(a, cross(p, a));
      const ways = [text(a), text([-a[0], -a[1], -a[2]])].sort();
      return [`through ${ways[0]} ${text(away)} ${size}`];
    }
    case 'slot': {
      const through = one.depth === undefined;
      const flat = (p: Vec3): Vec3 =>
        through ? cross(one.axis, cross([p[0] - half[0], p[1] - half[1], p[2] - half[2]], one.axis)) : p;
      const ends = [one.from, one.to].map((p) => text(through ? turn(flat(p)) : at(p))).sort();
      return [`slot ${ends.join(' ')} ${text(one.width, one.depth)} ${through ? '' : text(turn(one.axis))}`];
    }
    case 'outline': {
      const { points } = polygonOf(one.start, one.stretches, 1);
      // Its points in the middle of the thickness, in no order.
      return [
        `${one.does} ${points
          .map(([x, y]) => text(at([x, y, half[2]])))
          .sort()
          .join(' ')}`,
      ];
    }
    case 'edge':
      return [
        ...one.edges.map((edge) => `${one.name} ${edge.map(side).sort().join(' ')} ${text(one.size)}`),
        ...(one.follows ?? []).map(
          ({ wide, towards }) =>
            `${one.name} round ${side(wide)} ${(towards ?? []).map(side).sort().join(' ')} ${text(one.size, one.bearing)}`,
        ),
        ...(one.holes ?? []).map((each) => `${one.name} rims ${side(each)} ${text(one.size)}`),
      ];
    case 'tongue':
      return [
        ...(one.tongue
          ? [`tongue ${side(one.tongue.side)} ${text(one.tongue.length, one.tongue.thickness)}`]
          : []),
        ...(one.groove
          ? [`slit ${side(one.groove.side)} ${text(one.groove.depth, one.groove.thickness)}`]
          : []),
      ];
  }
}
