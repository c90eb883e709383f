/** Where boards touch, found from their places. */
import type { Bounds, Copy, Vec3 } from '../model/types.ts';
import type { Contact } from './types.ts';

/** Faces closer than this touch, mm: well under a saw cut, well over the noise of adding up sizes. */
export const TOUCH = 0.02;
/** A contact narrower than this is an edge on an edge, mm. */
const LEAST = 0.5;

const AXES = [0, 1, 2] as const;

/** Length that two extents share along an axis; negative where there is a gap between them. */
const shared = (a: Bounds, b: Bounds, axis: 0 | 1 | 2): number =>
  Math.min(a.max[axis], b.max[axis]) - Math.max(a.min[axis], b.min[axis]);

/**
 * The rectangle in which two square-cut boards touch, or nothing.
 * They touch where their extents meet along one axis within `TOUCH` and overlap along the two others.
 */
export function contactOf(first: Copy, second: Copy): Contact | undefined {
  const a = first.bounds;
  const b = second.bounds;
  const overlaps = AXES.map((axis) => shared(a, b, axis)) as [number, number, number];
  for (const axis of AXES) {
    if (Math.abs(overlaps[axis]) > TOUCH) continue;
    const [u, v] = AXES.filter((other) => other !== axis) as [0 | 1 | 2, 0 | 1 | 2];
    if (overlaps[u] < LEAST || overlaps[v] < LEAST) continue;
    const min = AXES.map((k) => Math.max(a.min[k], b.min[k])) as unknown as [number, number, number];
    const max = AXES.map((k) => Math.min(a.max[k], b.max[k])) as unknown as [number, number, number];
    const plane = (min[axis] + max[axis]) / 2;
    min[axis] = plane;
    max[axis] = plane;
    const direction = (a.min[axis] + a.max[axis]) / 2 < (b.min[axis] + b.max[axis]) / 2 ? 1 : -1;
    const normal = AXES.map((k) => (k === axis ? direction : 0)) as unknown as Vec3;
    return {
      first: first.id,
      second: second.id,
      normal,
      area: overlaps[u] * overlaps[v],
      bounds: { min, max },
    };
  }
  return undefined;
}

/** All contacts between the copies of two parts, in the order of the copies. */
export function contactsBetween(first: readonly Copy[], second: readonly Copy[]): Contact[] {
  const found: Contact[] = [];
  for (const a of first) {
    for (const b of second) {
      if (a.id === b.id) continue;
      const contact = contactOf(a, b);
      if (contact) found.push(contact);
    }
  }
  return found;
}

/** The least clear distance between two boards, mm: 0 where they touch or overlap. */
export function gapBetween(a: Bounds, b: Bounds): number {
  const gaps = AXES.map((axis) => Math.max(0, -shared(a, b, axis)));
  return Math.hypot(...gaps);
}
