/** Whether a board and its mirror image are two different boards: then a cut list has a row for each. */
import { cross, dot } from '../resolve/vectors.ts';
import { polygonOf } from './flat.ts';
import type { ShapeOperation, Side } from './shape.ts';
import { farCorner, outwardOf } from './sides.ts';
import type { Copy, Vec3 } from './types.ts';

/** A turn or reflection of the blank onto itself, as the own axes that x, y and z become, with their signs. */
type Turn = (p: Vec3) => Vec3;

/** The reflections of a box onto itself that no turn can do; those that change width and thickness need a square section. */
const REFLECTIONS: readonly Turn[] = [
  ([x, y, z]) => [-x, y, z],
  ([x, y, z]) => [x, -y, z],
  ([x, y, z]) => [x, y, -z],
  ([x, y, z]) => [-x, -y, -z],
];
const SQUARE: readonly Turn[] = [
  ([x, y, z]) => [x, z, y],
  ([x, y, z]) => [x, -z, -y],
  ([x, y, z]) => [-x, z, -y],
  ([x, y, z]) => [-x, -z, y],
];

const tidy = (value: number): number => Math.round(value * 1e3) / 1e3 + 0;
const text = (...values: readonly (number | Vec3 | undefined)[]): string =>
  JSON.stringify(values.map((one) => (typeof one === 'number' ? tidy(one) : one?.map(tidy))));

/** True where the mirror image of a copy can't be had by turning it round. */
export function isHanded({ size, shape }: Pick<Copy, 'size' | 'shape'>): boolean {
  if (shape.length === 0) return false;
  const half = farCorner(size).map((v) => v / 2) as unknown as Vec3;
  const looks = (turn: Turn): string => [...shape.flatMap((one) => marksOf(one, turn, half))].sort().join();
  const asItIs = looks((p) => p);
  const square = Math.abs(size.width - size.thickness) < 1e-3;
  return ![...REFLECTIONS, ...(square ? SQUARE : [])].some((turn) => looks(turn) === asItIs);
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
      return one.edges.map((edge) => `${one.name} ${edge.map(side).sort().join(' ')} ${text(one.size)}`);
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
