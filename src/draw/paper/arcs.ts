/** Arcs of a view as points and lengths, for whoever draws or measures them. */
import type { Point, ViewArc } from '../types.ts';

/** The point of an arc's ellipse at an angle, mm of the piece. */
export function arcPoint({ centre, radii, rotation }: ViewArc, angle: number): Point {
  const [x, y] = [radii[0] * Math.cos(angle), radii[1] * Math.sin(angle)];
  const [cos, sin] = [Math.cos(rotation), Math.sin(rotation)];
  return [centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos];
}

/** True where an arc goes all the way round. */
export const isWhole = (arc: ViewArc): boolean => arc.to - arc.from > 2 * Math.PI - 1e-9;

/** Points along an arc, ends included, with chords no further than `sagitta` mm from it. */
export function arcPoints(arc: ViewArc, sagitta = 0.01): Point[] {
  const step = 2 * Math.acos(Math.max(0, 1 - sagitta / Math.max(arc.radii[0], sagitta)));
  const count = Math.min(720, Math.max(2, Math.ceil((arc.to - arc.from) / step)));
  return Array.from({ length: count + 1 }, (_, i) =>
    arcPoint(arc, arc.from + ((arc.to - arc.from) * i) / count),
  );
}

/** Length of an arc, mm, by Simpson's rule over steps of about three degrees. */
export function arcLength({ radii, from, to }: ViewArc): number {
  const speed = (t: number): number => Math.hypot(radii[0] * Math.sin(t), radii[1] * Math.cos(t));
  const count = 2 * Math.max(2, Math.ceil((to - from) / 0.1));
  let sum = speed(from) + speed(to);
  for (let i = 1; i < count; i++) sum += speed(from + ((to - from) * i) / count) * (i % 2 === 1 ? 4 : 2);
  return (sum * (to - from)) / count / 3;
}
