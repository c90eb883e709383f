/** Rims of holes and slots on a side of a board: where an edge can be rounded or chamfered. Own frame, mm. */
import type { Convex } from '../resolve/convex.ts';
import { add, dot, scale } from '../resolve/vectors.ts';
import type { Hole, ShapeOperation, Side, Slot } from './shape.ts';
import { wayThrough } from './shape-holes.ts';
import { outwardOf } from './sides.ts';
import type { Vec3 } from './types.ts';

/** The rim of a straight hole or slot. A slot has two middles. */
export interface HoleRim {
  readonly of: Hole | Slot;
  readonly middles: readonly Vec3[];
  /** Unit vector out of the wood on this side. */
  readonly outward: Vec3;
  readonly radius: number;
  /** How far its straight wall goes into the wood. */
  readonly wall: number;
  /** True where it was bored from the other side. */
  readonly exit: boolean;
}

/** Rims on a side of what operations have bored, those that lean, are countersunk there or lie on a sawn face left out. */
export function holeRims(side: Side, hull: Convex<Side>, before: readonly ShapeOperation[]): HoleRim[] {
  const outward = outwardOf(side);
  const [face, ...others] = hull.filter((one) => one.name === side);
  if (!face || others.length > 0 || dot(face.normal, outward) < 1 - 1e-9) return [];
  return before.flatMap((one): HoleRim[] => {
    if (one.kind === 'slot') {
      const { from, to, axis, depth } = one;
      return rimsOf(one, [from, to], axis, one.width / 2, depth, 0);
    }
    if (one.kind !== 'hole' || one.name !== 'hole' || one.angle > 0) return [];
    const { entry, axis, diameter, depth, counterbore, countersink } = one;
    const wide = (counterbore?.diameter ?? diameter) / 2;
    const entering = dot(axis, outward) < 0;
    if (entering && countersink) return [];
    return entering && counterbore
      ? rimsOf(one, [entry], axis, wide, counterbore.depth, 0)
      : rimsOf(one, [entry], axis, diameter / 2, depth, counterbore?.depth ?? 0);
  });

  function rimsOf(
    of: Hole | Slot,
    middles: readonly Vec3[],
    axis: Vec3,
    radius: number,
    depth: number | undefined,
    taken: number,
  ): HoleRim[] {
    const towards = dot(axis, outward);
    if (Math.abs(towards) < 1 - 1e-9) return [];
    const on = (p: Vec3): boolean => Math.abs(dot(outward, p) - (face?.offset ?? 0)) < 1e-6;
    if (towards < 0) {
      if (!middles.every(on)) return [];
      const wall = depth ?? Math.min(...middles.map((p) => wayThrough({ hull }, p, axis)));
      return [{ of, middles, outward, radius, wall, exit: false }];
    }
    if (depth !== undefined) return [];
    const ends = middles.map((p) => add(p, scale(axis, wayThrough({ hull }, p, axis))));
    if (!ends.every(on)) return [];
    const wall = Math.min(...middles.map((p) => wayThrough({ hull }, p, axis))) - taken;
    return [{ of, middles: ends, outward, radius, wall, exit: true }];
  }
}
