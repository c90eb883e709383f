/** Curved surfaces: cylinders, cones, rings. Where they look, whether two are one, where they turn away from a viewer. */
import type { Vec3 } from '../model/types.ts';
import type { Round } from './types.ts';
import { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from './vectors.ts';

/** Height along a surface's axis, from its origin. */
export const heightOn = ({ origin, axis }: Round, at: Vec3): number => dot(subtract(at, origin), axis);

/** Away from a surface's axis at a point, square to it; any way where the point lies on the axis. */
export function awayOn(round: Round, at: Vec3): Vec3 {
  const across = subtract(subtract(at, round.origin), scale(round.axis, heightOn(round, at)));
  return norm(across) < 1e-9 ? acrossAxis(round.axis).first : unit(across);
}

/** The unit normal of a surface at a point on it or near it, away from its axis; of a ring away from the middle of its section. */
export function normalOn(round: Round, at: Vec3): Vec3 {
  const away = awayOn(round, at);
  if (round.ring === undefined) return unit(subtract(away, scale(round.axis, round.widens ?? 0)));
  const middle = add(round.origin, scale(away, round.ring));
  const out = subtract(at, middle);
  return norm(out) < 1e-9 ? away : unit(out);
}

/** True where two axes are one line: the same direction or the opposite one, mm. */
export function sameAxis(a: Round, b: Round, within = 1e-3): boolean {
  if (norm(cross(a.axis, b.axis)) > 1e-6) return false;
  const between = subtract(b.origin, a.origin);
  return norm(subtract(between, scale(a.axis, dot(between, a.axis)))) < within;
}

/** True where two descriptions are of one surface. */
export function sameSurface(a: Round, b: Round): boolean {
  if (a === b) return true;
  if (Math.abs(a.radius - b.radius) > 1e-6) return false;
  if (a.widens !== b.widens || (a.ring === undefined) !== (b.ring === undefined)) return false;
  if (Math.abs((a.ring ?? 0) - (b.ring ?? 0)) > 1e-6) return false;
  const still = a.widens !== undefined || a.ring !== undefined;
  if (still && norm(subtract(a.origin, b.origin)) > 1e-3) return false;
  return sameAxis(a, b);
}

/**
 * Where a cylinder or ring turns away from the viewer, in the section of it through a point on it: square to a cylinder's axis, through a
 * ring's. Of a ring's section only the quarter that the point lies in counts. Undefined for cones, and where the section is seen from its
 * own side.
 */
export function turnOn(round: Round, at: Vec3, toViewer: Vec3): Vec3 | undefined {
  if (round.widens !== undefined) return undefined;
  const own = normalOn(round, at);
  if (round.ring === undefined) {
    const side = cross(round.axis, toViewer);
    if (norm(side) < 1e-6) return undefined;
    const out = scale(unit(side), dot(side, own) < 0 ? -round.radius : round.radius);
    return add(add(round.origin, scale(round.axis, heightOn(round, at))), out);
  }
  const away = awayOn(round, at);
  const middle = add(round.origin, scale(away, round.ring));
  const [across, along] = [dot(away, toViewer), dot(round.axis, toViewer)];
  const size = Math.hypot(across, along);
  if (size < 1e-6) return undefined;
  const signs = [Math.sign(dot(own, away)), Math.sign(dot(own, round.axis))] as const;
  const turned = [-along / size, across / size] as const;
  const sign = turned[0] * dot(own, away) + turned[1] * dot(own, round.axis) < 0 ? -1 : 1;
  // Beyond the quarter the surface has ended: its end is next.
  const [x, y] = [Math.max(0, turned[0] * sign * signs[0]), Math.max(0, turned[1] * sign * signs[1])];
  const long = Math.hypot(x, y);
  const out = add(scale(away, (x / long) * signs[0]), scale(round.axis, (y / long) * signs[1]));
  return add(middle, scale(out, round.radius));
}
