/** Openings through boards that air can pass: holes, slots, hollows and notches, with what of them no other board covers. */
import { type Placing, placingOf } from '../model/frames.ts';
import type { Copy, Plan, ShapeOperation, Vec3 } from '../model/types.ts';
import { add, scale } from '../resolve/vectors.ts';
import { allCopies } from './support.ts';

/** An opening: where its middle is, which way air goes through, its area in mm². */
export interface Vent {
  readonly at: Vec3;
  readonly way: Vec3;
  readonly area: number;
}

/** How far beyond a board's faces nothing may stand, mm. */
const CLEAR = 3;
/** A board so near the wall or the floor has its openings covered by these, mm. */
const AGAINST = 12;

/** An opening in a board's own frame, through its thickness where no way is given. */
interface Opening {
  readonly middle: Vec3;
  readonly way: Vec3;
  readonly through: number;
  readonly area: number;
}

function openingOf(one: ShapeOperation, { size }: Copy): Opening | undefined {
  const flat = (x: number, y: number, area: number): Opening => ({
    middle: [x, y, size.thickness / 2],
    way: [0, 0, 1],
    through: size.thickness,
    area,
  });
  if (one.kind === 'hole' && one.name === 'hole' && one.depth === undefined) {
    // The entry lies on a face: the middle is half a board further.
    const through = [size.length, size.width, size.thickness][
      one.axis.findIndex((value) => Math.abs(value) > 0.7)
    ] as number;
    const middle = add(one.entry, scale(one.axis, through / 2));
    return { middle, way: one.axis, through, area: (Math.PI * one.diameter ** 2) / 4 };
  }
  if (one.kind === 'slot' && one.depth === undefined) {
    const long = Math.hypot(...([0, 1, 2] as const).map((axis) => one.to[axis] - one.from[axis]));
    const [x, y] = [(one.from[0] + one.to[0]) / 2, (one.from[1] + one.to[1]) / 2];
    const area = one.width * long + (Math.PI * one.width ** 2) / 4;
    return Math.abs(one.axis[2]) > 0.7 ? flat(x, y, area) : undefined;
  }
  if (one.kind === 'box' && one.name === 'notch' && one.max[2] - one.min[2] > size.thickness - 0.1) {
    const [x, y] = [(one.min[0] + one.max[0]) / 2, (one.min[1] + one.max[1]) / 2];
    return flat(x, y, (one.max[0] - one.min[0]) * (one.max[1] - one.min[1]));
  }
  if (one.kind === 'outline' && one.does === 'cut') {
    const corners = [one.start, ...one.stretches.map(({ to }) => to)];
    const [x, y] = [0, 1].map((k) => {
      const values = corners.map((corner) => corner[k as 0 | 1]);
      return (Math.min(...values) + Math.max(...values)) / 2;
    }) as [number, number];
    if (one.arc === undefined) return flat(x, y, polygonArea(corners));
    // A flat arc takes two thirds of its chord times its rise; its middle lies half its rise inside the edge.
    const { side, rise, span, form } = one.arc;
    if (form !== 'hollow') return undefined;
    const within = side === 'start' || side === 'low edge' ? rise / 2 : -rise / 2;
    const edge = { start: 0, end: size.length, 'low edge': 0, 'high edge': size.width }[side as string] ?? 0;
    const along = side === 'start' || side === 'end';
    return flat(along ? edge + within : x, along ? y : edge + within, (2 / 3) * span * rise);
  }
  return undefined;
}

function polygonArea(corners: readonly (readonly [number, number])[]): number {
  const twice = corners.reduce((sum, [x, y], index) => {
    const [u, v] = corners[(index + 1) % corners.length] as readonly [number, number];
    return sum + x * v - u * y;
  }, 0);
  return Math.abs(twice) / 2;
}

/** All openings that are open on both sides: no other board, no wall behind the piece and no floor stands before them. */
export function ventsOf(plan: Plan): Vent[] {
  const copies = allCopies(plan).map(({ copy }) => copy);
  return copies.flatMap((copy) => {
    const place: Placing = placingOf(copy.frame, copy.size.width);
    const others = copies.filter((other) => other !== copy);
    return copy.shape.flatMap((one): Vent[] => {
      const found = openingOf(one, copy);
      if (found === undefined) return [];
      const at = place.point(found.middle);
      const way = place.vector(found.way);
      const free = [-1, 1].every((sign) => {
        const probe = add(at, scale(way, sign * (found.through / 2 + CLEAR)));
        if (probe[2] < AGAINST || probe[1] > plan.outline.depth - AGAINST + CLEAR)
          return Math.abs(way[0]) > 0.7;
        return !others.some(({ bounds }) =>
          ([0, 1, 2] as const).every((k) => probe[k] > bounds.min[k] && probe[k] < bounds.max[k]),
        );
      });
      return free ? [{ at, way, area: found.area }] : [];
    });
  });
}
