/** Plane geometry on paper: millimetres, x to the right and y down. Quads stand for text boxes, turned or not. */
import type { Point } from '../types.ts';

export type Segment = readonly [a: Point, b: Point];

/** A convex four-cornered area, corners in order. */
export type Quad = readonly [Point, Point, Point, Point];

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export const NO_BOX: Box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };

export const boxOf = (points: readonly Point[]): Box =>
  points.reduce<Box>(
    (box, [x, y]) => ({
      left: Math.min(box.left, x),
      top: Math.min(box.top, y),
      right: Math.max(box.right, x),
      bottom: Math.max(box.bottom, y),
    }),
    NO_BOX,
  );

export const joinBoxes = (boxes: readonly Box[]): Box =>
  boxes.reduce<Box>(
    (all, box) => ({
      left: Math.min(all.left, box.left),
      top: Math.min(all.top, box.top),
      right: Math.max(all.right, box.right),
      bottom: Math.max(all.bottom, box.bottom),
    }),
    NO_BOX,
  );

export const boxesMeet = (a: Box, b: Box, clear = 0): boolean =>
  a.left < b.right + clear &&
  b.left < a.right + clear &&
  a.top < b.bottom + clear &&
  b.top < a.bottom + clear;

export const quadOfBox = (box: Box): Quad => [
  [box.left, box.top],
  [box.right, box.top],
  [box.right, box.bottom],
  [box.left, box.bottom],
];

export const add = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]];
export const subtract = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]];
export const times = (a: Point, k: number): Point => [a[0] * k, a[1] * k];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1];
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0];
// Square roots rather than Math.hypot, which guards against sizes that no sheet has and is many times slower: placement
// asks for millions of distances.
export const lengthOfVector = ([x, y]: Point): number => Math.sqrt(x * x + y * y);
export const distance = (a: Point, b: Point): number =>
  Math.sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]));
export const unit = (a: Point): Point => {
  const size = lengthOfVector(a);
  return size < 1e-12 ? [0, 0] : [a[0] / size, a[1] / size];
};
/** Turned by degrees, clockwise on paper since y runs down. */
export const turned = ([x, y]: Point, degrees: number): Point => {
  const angle = (degrees * Math.PI) / 180;
  return [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)];
};

/**
 * True where two convex shapes come nearer than `clear` (separating axes; a segment is a shape of two corners).
 * Near corners it is up to 41 % stricter than the true distance, which only makes placement more careful.
 */
export function shapesMeet(a: readonly Point[], b: readonly Point[], clear = 0): boolean {
  if (boxesApart(a, b, clear * Math.SQRT2 + 1e-9)) return false;
  return !(apartBySides(a, a, b, clear) || apartBySides(b, a, b, clear));
}

/** True where a side of one of two shapes, or the line square to it, shows them apart. */
function apartBySides(
  shape: readonly Point[],
  a: readonly Point[],
  b: readonly Point[],
  clear: number,
): boolean {
  for (let i = 0; i < shape.length; i++) {
    const from = shape[i] as Point;
    const to = shape[(i + 1) % shape.length] as Point;
    const [x, y] = unit(subtract(to, from));
    if (x === 0 && y === 0) continue;
    if (apart(a, b, -y, x, clear) || (shape.length === 2 && apart(a, b, x, y, clear))) return true;
  }
  return false;
}

/**
 * True where the upright boxes around two shapes are more than `clear` apart: then so are the shapes. Most pairs end here, so it
 * is plain arithmetic: the fewest comparisons first, and no lists made.
 */
function boxesApart(a: readonly Point[], b: readonly Point[], clear: number): boolean {
  return apartAlong(a, b, 0, clear) || apartAlong(a, b, 1, clear);
}

function apartAlong(a: readonly Point[], b: readonly Point[], axis: 0 | 1, clear: number): boolean {
  let lowA = Infinity;
  let highA = -Infinity;
  let lowB = Infinity;
  let highB = -Infinity;
  for (let i = 0; i < a.length; i++) {
    const at = (a[i] as Point)[axis];
    if (at < lowA) lowA = at;
    if (at > highA) highA = at;
  }
  for (let i = 0; i < b.length; i++) {
    const at = (b[i] as Point)[axis];
    if (at < lowB) lowB = at;
    if (at > highB) highB = at;
  }
  return highA + clear < lowB || highB + clear < lowA;
}

function apart(a: readonly Point[], b: readonly Point[], x: number, y: number, clear: number): boolean {
  let lowA = Infinity;
  let highA = -Infinity;
  let lowB = Infinity;
  let highB = -Infinity;
  for (let i = 0; i < a.length; i++) {
    const p = a[i] as Point;
    const at = p[0] * x + p[1] * y;
    if (at < lowA) lowA = at;
    if (at > highA) highA = at;
  }
  for (let i = 0; i < b.length; i++) {
    const p = b[i] as Point;
    const at = p[0] * x + p[1] * y;
    if (at < lowB) lowB = at;
    if (at > highB) highB = at;
  }
  return highA + clear <= lowB || highB + clear <= lowA;
}

/**
 * Where two segments cross: parameters along each, or undefined where they are parallel or miss each other.
 * `slack` in mm lengthens (or, negative, shortens) both at their ends.
 */
export function crossing(a: Segment, b: Segment, slack = 0): { s: number; t: number } | undefined {
  if (boxesApart(a, b, 2 * Math.max(0, slack) + 1e-9)) return undefined;
  const da = subtract(a[1], a[0]);
  const db = subtract(b[1], b[0]);
  const size = cross(da, db);
  const [lengthA, lengthB] = [lengthOfVector(da), lengthOfVector(db)];
  if (Math.abs(size) < 1e-9 * lengthA * lengthB || lengthA === 0 || lengthB === 0) return undefined;
  const between = subtract(b[0], a[0]);
  const s = cross(between, db) / size;
  const t = cross(between, da) / size;
  const [slackA, slackB] = [slack / lengthA, slack / lengthB];
  return s >= -slackA && s <= 1 + slackA && t >= -slackB && t <= 1 + slackB ? { s, t } : undefined;
}

/** True where two segments lie on one line (within `near`) and share more than `least` of it. */
export function overlapOnLine(a: Segment, b: Segment, near = 0.05, least = 0.05): boolean {
  const along = unit(subtract(a[1], a[0]));
  const off = (p: Point) => Math.abs(cross(along, subtract(p, a[0])));
  if (off(b[0]) > near || off(b[1]) > near) return false;
  const [p, q] = [dot(along, subtract(b[0], a[0])), dot(along, subtract(b[1], a[0]))];
  return Math.min(Math.max(p, q), distance(a[0], a[1])) - Math.max(Math.min(p, q), 0) > least;
}

/** Distance of a point from a segment. */
export function distanceToSegment(p: Point, [a, b]: Segment): number {
  const x = b[0] - a[0];
  const y = b[1] - a[1];
  const size = x * x + y * y;
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / size));
  const dx = p[0] - a[0] - x * t;
  const dy = p[1] - a[1] - y * t;
  return Math.sqrt(dx * dx + dy * dy);
}

/** Even-odd test of a point against closed loops. */
export function inside(p: Point, loops: readonly (readonly Point[])[]): boolean {
  let within = false;
  for (const loop of loops)
    for (let i = 0, j = loop.length - 1; i < loop.length; j = i++) {
      const a = loop[i] as Point;
      const b = loop[j] as Point;
      if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0])
        within = !within;
    }
  return within;
}

/** The sides of closed loops. */
export const sidesOf = (loops: readonly (readonly Point[])[]): Segment[] =>
  loops.flatMap((loop) => loop.map((p, i): Segment => [p, loop[(i + 1) % loop.length] as Point]));

/** The pieces of a segment that lie inside closed loops (even-odd). `sides` are those of the loops, for who clips many segments. */
export function clipToLoops(
  segment: Segment,
  loops: readonly (readonly Point[])[],
  sides: readonly Segment[] = sidesOf(loops),
): Segment[] {
  const cuts = [0, 1];
  for (const side of sides) {
    const hit = crossing(segment, side);
    if (hit) cuts.push(Math.min(1, Math.max(0, hit.s)));
  }
  cuts.sort((a, b) => a - b);
  const along = subtract(segment[1], segment[0]);
  const result: Segment[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [s, t] = [cuts[i] as number, cuts[i + 1] as number];
    if (t - s < 1e-9) continue;
    if (inside(add(segment[0], times(along, (s + t) / 2)), loops))
      result.push([add(segment[0], times(along, s)), add(segment[0], times(along, t))]);
  }
  return result;
}

/** Signed area of a loop. */
export const areaOfLoop = (loop: readonly Point[]): number =>
  loop.reduce((sum, p, i) => sum + cross(p, loop[(i + 1) % loop.length] as Point), 0) / 2;

/** Area of loops whose holes run the other way round. */
export const areaOfLoops = (loops: readonly (readonly Point[])[]): number =>
  Math.abs(loops.reduce((sum, loop) => sum + areaOfLoop(loop), 0));

/** Joins segments that share end points into polylines, so that corners are mitred and the file stays small. */
export function chain(segments: readonly Segment[]): Point[][] {
  const key = (p: Point) => `${Math.round(p[0] * 100)},${Math.round(p[1] * 100)}`;
  const at = new Map<string, number[]>();
  segments.forEach(([a, b], index) => {
    for (const end of [key(a), key(b)]) {
      const list = at.get(end);
      if (list) list.push(index);
      else at.set(end, [index]);
    }
  });
  const used = new Set<number>();
  const extend = (line: Point[]): void => {
    for (;;) {
      const end = line[line.length - 1] as Point;
      const next = at.get(key(end))?.find((index) => !used.has(index));
      if (next === undefined) return;
      used.add(next);
      const [a, b] = segments[next] as Segment;
      line.push(key(a) === key(end) ? b : a);
    }
  };
  const lines: Point[][] = [];
  segments.forEach(([a, b], index) => {
    if (used.has(index)) return;
    used.add(index);
    const line: Point[] = [a, b];
    extend(line);
    line.reverse();
    extend(line);
    lines.push(line);
  });
  return lines;
}
