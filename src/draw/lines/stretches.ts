/** Stretches of a straight way on which a moving body is in the way of another, in space or in the picture. */
import { add } from '../../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';
import type { Point } from '../types.ts';

/** A body where it is drawn: its box in space, and its convex outline in the view, counter-clockwise, mm of the piece. */
export interface Placed {
  readonly bounds: Bounds;
  readonly hull: readonly Point[];
}

/** A stretch of a way, mm. */
export type Stretch = readonly [from: number, to: number];

/** Boxes that share more than this share space, mm. */
const FILM = 0.02;

/** The same body moved by a vector, which is `shift` in the view. */
export const shifted = ({ bounds, hull }: Placed, by: Vec3, shift: Point): Placed => ({
  bounds: { min: add(bounds.min, by), max: add(bounds.max, by) },
  hull: hull.map(([u, v]): Point => [u + shift[0], v + shift[1]]),
});

/** Where on its way a moving box shares space with another, or is nearer to it than `clear` before it or behind it. */
export function sharing(box: Bounds, direction: Vec3, other: Bounds, clear: number): Stretch | undefined {
  let [from, to] = [-Infinity, Infinity];
  for (const k of [0, 1, 2] as const) {
    const step = direction[k];
    const [low, high] = [other.min[k] + FILM - box.max[k], other.max[k] - FILM - box.min[k]];
    if (Math.abs(step) < 1e-9) {
      if (low >= 0 || high <= 0) return undefined;
      continue;
    }
    from = Math.max(from, Math.min(low / step, high / step));
    to = Math.min(to, Math.max(low / step, high / step));
  }
  return from < to ? [from - clear, to + clear] : undefined;
}

/** Where on its way a convex outline comes nearer to another than `clear`, by their sides (separating axes). */
export function covering(
  moving: readonly Point[],
  shift: Point,
  other: readonly Point[],
  clear: number,
): Stretch | undefined {
  let [from, to] = [-Infinity, Infinity];
  for (const outline of [moving, other])
    for (let i = 0; i < outline.length; i++) {
      const [a, b] = [outline[i], outline[(i + 1) % outline.length]] as [Point, Point];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length < 1e-9) continue;
      const [x, y] = [(a[1] - b[1]) / length, (b[0] - a[0]) / length];
      const [[low, high], [otherLow, otherHigh]] = [spanAlong(moving, x, y), spanAlong(other, x, y)];
      const step = shift[0] * x + shift[1] * y;
      const [first, last] = [otherLow - clear - high, otherHigh + clear - low];
      if (Math.abs(step) < 1e-9) {
        if (first >= 0 || last <= 0) return undefined;
        continue;
      }
      from = Math.max(from, Math.min(first / step, last / step));
      to = Math.min(to, Math.max(first / step, last / step));
      if (from >= to) return undefined;
    }
  return [from, to];
}

function spanAlong(outline: readonly Point[], x: number, y: number): Stretch {
  let [low, high] = [Infinity, -Infinity];
  for (const p of outline) {
    const at = p[0] * x + p[1] * y;
    if (at < low) low = at;
    if (at > high) high = at;
  }
  return [low, high];
}

/** The first place from `least` on that no stretch covers; infinite where one of them never ends. */
export function firstClear(stretches: readonly Stretch[], least: number): number {
  let at = least;
  for (const [from, to] of [...stretches].sort((a, b) => a[0] - b[0])) if (from < at && at < to) at = to;
  return at;
}
