/** Where boards touch, found from their places. */
import type { Bounds, Copy, Vec3 } from '../model/types.ts';
import { areaOf, reach } from '../resolve/convex.ts';
import { dot } from '../resolve/vectors.ts';
import { against, isPlain, outsideOf, type Surfaces, surfacesOf } from './surfaces.ts';
import type { Contact } from './types.ts';

/** Faces closer than this touch, mm: well under a saw cut, well over the noise of adding up sizes. */
export const TOUCH = 0.02;
/** A contact narrower than this is an edge on an edge, mm. */
const LEAST = 0.5;

const AXES = [0, 1, 2] as const;
const UNITS: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Length that two extents share along an axis; negative where there is a gap between them. */
const shared = (a: Bounds, b: Bounds, axis: 0 | 1 | 2): number =>
  Math.min(a.max[axis], b.max[axis]) - Math.max(a.min[axis], b.min[axis]);

/**
 * Where two boards touch, or nothing. Plain boxes touch in a rectangle where their extents meet along one axis within `TOUCH` and
 * overlap along the two others; boards that lean or are cut where plane faces lie against each other, the largest such area.
 */
export function contactOf(first: Copy, second: Copy): Contact | undefined {
  return isPlain(first) && isPlain(second)
    ? boxContact(first, second)
    : faceContact(first, second, surfacesOf);
}

function boxContact(first: Copy, second: Copy): Contact | undefined {
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

function faceContact(
  first: Copy,
  second: Copy,
  surfaces: (copy: Copy) => Surfaces,
  along?: Vec3,
): Contact | undefined {
  if (AXES.some((axis) => shared(first.bounds, second.bounds, axis) < -TOUCH)) return undefined;
  const [a, b] = [surfaces(first), surfaces(second)];
  let best: Contact | undefined;
  // Either way: a mirrored copy is driven from the other side.
  const driven = (normal: Vec3): boolean => along !== undefined && Math.abs(dot(normal, along)) > 0.7;
  for (const one of a.faces)
    for (const other of b.faces) {
      const loop = against(one, other, TOUCH);
      if (!loop) continue;
      // What is cut away of either board isn't touched; a wall of a cut isn't cut away by its own cut.
      let pieces = [loop];
      a.taken.forEach((body, cut) => {
        if (cut !== one.cut) pieces = pieces.flatMap((piece) => outsideOf(piece, body, one.normal));
      });
      b.taken.forEach((body, cut) => {
        if (cut !== other.cut) pieces = pieces.flatMap((piece) => outsideOf(piece, body, other.normal));
      });
      const polygons = pieces.filter(isBroad);
      const area = polygons.reduce((sum, piece) => sum + areaOf(piece), 0);
      if (polygons.length === 0) continue;
      const turned = driven(one.normal);
      if (best && driven(best.normal) !== turned ? !turned : area <= (best?.area ?? 0)) continue;
      const spans = UNITS.map((axis) => reach(polygons.flat(), axis));
      best = {
        first: first.id,
        second: second.id,
        normal: one.normal,
        area,
        bounds: {
          min: spans.map(({ low }) => low) as unknown as Vec3,
          max: spans.map(({ high }) => high) as unknown as Vec3,
        },
        polygons,
      };
    }
  return best;
}

/** True where a polygon is more than an edge on an edge. */
function isBroad(loop: readonly Vec3[]): boolean {
  const spans = UNITS.map((axis) => reach(loop, axis));
  const long = Math.hypot(...spans.map(({ low, high }) => high - low));
  return areaOf(loop) >= LEAST * Math.max(LEAST, long / 2);
}

/**
 * All contacts between the copies of two parts, in the order of the copies. Of two boards that meet in several faces, as a panel in its
 * rabbet does, it is the one that looks `along` the way the fasteners go, and of several such the largest.
 */
export function contactsBetween(first: readonly Copy[], second: readonly Copy[], along?: Vec3): Contact[] {
  const known = new Map<Copy, Surfaces>();
  const surfaces = (copy: Copy): Surfaces => {
    const found = known.get(copy) ?? surfacesOf(copy);
    known.set(copy, found);
    return found;
  };
  const found: Contact[] = [];
  for (const a of first) {
    for (const b of second) {
      if (a.id === b.id) continue;
      const contact = isPlain(a) && isPlain(b) ? boxContact(a, b) : faceContact(a, b, surfaces, along);
      if (contact) found.push(contact);
    }
  }
  return found;
}

/** The least clear distance between the extents of two boards, mm: 0 where they touch or overlap. */
export function gapBetween(a: Bounds, b: Bounds): number {
  const gaps = AXES.map((axis) => Math.max(0, -shared(a, b, axis)));
  return Math.hypot(...gaps);
}

/** How far apart faces may be that were meant to meet, mm. */
const MEANT = 40;

/**
 * Least distance between plane faces of two lists of boards that look at each other and lie over each other: above 0 they are so far apart,
 * below 0 so far in each other; undefined where no two are parallel within reach. For messages.
 */
export function facingGap(first: readonly Copy[], second: readonly Copy[]): number | undefined {
  const seen = new Map<Copy, Surfaces>();
  const surfaces = (copy: Copy): Surfaces => {
    const known = seen.get(copy) ?? surfacesOf(copy);
    seen.set(copy, known);
    return known;
  };
  let least: number | undefined;
  for (const a of first)
    for (const b of second) {
      if (a.id === b.id || AXES.some((axis) => shared(a.bounds, b.bounds, axis) < -MEANT)) continue;
      for (const one of surfaces(a).faces)
        for (const other of surfaces(b).faces) {
          const loop = against(one, other, MEANT);
          if (!loop || areaOf(loop) < LEAST * LEAST) continue;
          const gap = -other.offset - one.offset;
          if (least === undefined || Math.abs(gap) < Math.abs(least)) least = gap;
        }
    }
  return least;
}
