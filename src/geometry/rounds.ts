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
 * ring's. Undefined for cones, where the section is seen from its own side, and where a ring's quarter has no such place; `facet` is the normal
 * of a facet there, which tells the quarter.
 */
export function turnOn(round: Round, at: Vec3, toViewer: Vec3, facet: Vec3): Vec3 | undefined {
  if (round.widens !== undefined) return undefined;
  if (round.ring !== undefined) {
    const own = placeOnRing(round, at, toViewer, facet);
    const { across, along } = own;
    const far = across * Math.cos(own.turn);
    if (Math.hypot(far, along) < 1e-3) return undefined;
    // cos φ · far + sin φ · along = 0 within the quarter; beyond it the surface has ended.
    const angle = Math.atan2(-far, along);
    const rise = angle < 0 ? angle + Math.PI : angle;
    return rise > Math.PI / 2 + 1e-9 ? undefined : pointOnRing(own, own.turn, rise);
  }
  const side = cross(round.axis, toViewer);
  if (norm(side) < 1e-6) return undefined;
  const out = scale(unit(side), dot(side, normalOn(round, at)) < 0 ? -round.radius : round.radius);
  return add(add(round.origin, scale(round.axis, heightOn(round, at))), out);
}

/** Where a ring turns away from the viewer on the circle about its axis through a point on it; the nearer of two places. */
export function turnAround(round: Round, at: Vec3, toViewer: Vec3, facet: Vec3): Vec3 | undefined {
  const own = placeOnRing(round, at, toViewer, facet);
  const { across, along, turn, rise } = own;
  // cos φ cos ψ · across + sin φ · along = 0: seen from the side, wherever ψ is a right angle.
  const far = Math.cos(rise) * across;
  const level = Math.abs(along) < 1e-9 ? 0 : (-Math.sin(rise) * along) / far;
  if (!(Math.abs(level) <= 1) || Math.abs(across) < 1e-6) return undefined;
  const angle = Math.acos(level);
  const apart = (to: number): number => Math.abs(Math.atan2(Math.sin(to - turn), Math.cos(to - turn)));
  return pointOnRing(own, apart(angle) < apart(-angle) ? angle : -angle, rise);
}

/**
 * A place on a ring, as seen by a viewer: `turn` about the axis from the viewer's side, `rise` in the quarter of the section, 0 at its wall.
 * `across` and `along` are what of the direction to the viewer lies across the axis and along it, positive where that quarter looks.
 */
interface PlaceOnRing {
  readonly round: Round;
  readonly first: Vec3;
  readonly second: Vec3;
  readonly turn: number;
  readonly rise: number;
  readonly across: number;
  readonly along: number;
  readonly signs: readonly [number, number];
}

function placeOnRing(round: Round, at: Vec3, toViewer: Vec3, facet: Vec3): PlaceOnRing {
  const { axis } = round;
  const along = dot(axis, toViewer);
  const level = subtract(toViewer, scale(axis, along));
  const wide = norm(level);
  const first = wide < 1e-9 ? acrossAxis(axis).first : scale(level, 1 / wide);
  const second = cross(axis, first);
  const away = awayOn(round, at);
  const own = normalOn(round, at);
  const signs = [dot(facet, away) < 0 ? -1 : 1, dot(facet, axis) < 0 ? -1 : 1] as const;
  return {
    round,
    first,
    second,
    turn: Math.atan2(dot(away, second), dot(away, first)),
    rise: Math.atan2(Math.abs(dot(own, axis)), Math.abs(dot(own, away))),
    across: wide * signs[0],
    along: along * signs[1],
    signs,
  };
}

function pointOnRing({ round, first, second, signs }: PlaceOnRing, turn: number, rise: number): Vec3 {
  const away = add(scale(first, Math.cos(turn)), scale(second, Math.sin(turn)));
  const far = (round.ring ?? 0) + signs[0] * round.radius * Math.cos(rise);
  return add(
    round.origin,
    add(scale(away, far), scale(round.axis, signs[1] * round.radius * Math.sin(rise))),
  );
}
