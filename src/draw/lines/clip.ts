/** A part of a view cut out by a circle or a rectangle, for an enlarged detail. */
import { arcPoint, isWhole } from '../paper/arcs.ts';
import type { Point, ViewArc, ViewFace, ViewLine, ViewPicture } from '../types.ts';
import { clippedBy, loopArea, tidyLoop } from './flat.ts';

/** What a detail shows, mm of the view. */
export type Window =
  | { readonly kind: 'circle'; readonly centre: Point; readonly radius: number }
  | { readonly kind: 'rectangle'; readonly min: Point; readonly max: Point };

/** Pieces shorter than this, mm, are left out. */
const LEAST = 1e-3;
/** Sides of the polygon that fills are cut with where the window is round. */
const SIDES = 180;

/** The picture within a window. Lines and arcs end exactly on its border, faces within a ten-thousandth of its radius. */
export function clipPicture(picture: ViewPicture, window: Window): ViewPicture {
  const border = polygonOf(window);
  const { arcs } = picture;
  return {
    frame: picture.frame,
    lines: picture.lines.flatMap((line) => clippedLine(line, window)),
    ...(arcs === undefined ? {} : { arcs: arcs.flatMap((arc) => clippedArc(arc, window)) }),
    faces: picture.faces.flatMap((face) => clippedFace(face, border)),
    ...boxOf(window),
  };
}

function boxOf(window: Window): { min: Point; max: Point } {
  if (window.kind === 'rectangle') return { min: window.min, max: window.max };
  const [u, v] = window.centre;
  const r = window.radius;
  return { min: [u - r, v - r], max: [u + r, v + r] };
}

function clippedLine(line: ViewLine, window: Window): ViewLine[] {
  const { a, b } = line;
  const [du, dv] = [b[0] - a[0], b[1] - a[1]];
  const [from, to] =
    window.kind === 'circle' ? throughCircle(a, du, dv, window) : throughBox(a, du, dv, window);
  if (!(to - from > LEAST / Math.max(Math.hypot(du, dv), LEAST))) return [];
  const at = (t: number, end: Point): Point => (t === 0 || t === 1 ? end : [a[0] + du * t, a[1] + dv * t]);
  return [{ ...line, a: at(from, a), b: at(to, b) }];
}

/** The stretch of a segment, from 0 to 1, within a circle. */
function throughCircle(
  a: Point,
  du: number,
  dv: number,
  { centre, radius }: Window & { kind: 'circle' },
): [number, number] {
  const [u, v] = [a[0] - centre[0], a[1] - centre[1]];
  const [p, q, r] = [du * du + dv * dv, u * du + v * dv, u * u + v * v - radius * radius];
  const root = q * q - p * r;
  if (root <= 0) return [0, 0];
  const half = Math.sqrt(root);
  return [Math.max(0, (-q - half) / p), Math.min(1, (-q + half) / p)];
}

/** The stretch of a segment, from 0 to 1, within a rectangle. */
function throughBox(
  a: Point,
  du: number,
  dv: number,
  { min, max }: Window & { kind: 'rectangle' },
): [number, number] {
  let [from, to] = [0, 1];
  for (const [start, slope, low, high] of [
    [a[0], du, min[0], max[0]],
    [a[1], dv, min[1], max[1]],
  ] as const) {
    if (slope === 0) {
      if (start < low || start > high) return [0, 0];
      continue;
    }
    const [s, t] = [(low - start) / slope, (high - start) / slope];
    from = Math.max(from, Math.min(s, t));
    to = Math.min(to, Math.max(s, t));
  }
  return [from, to];
}

/** How far a point lies inside the window, mm: negative outside. */
function inside([u, v]: Point, window: Window): number {
  if (window.kind === 'circle') return window.radius - Math.hypot(u - window.centre[0], v - window.centre[1]);
  const { min, max } = window;
  return Math.min(u - min[0], max[0] - u, v - min[1], max[1] - v);
}

/** The stretches of an arc within the window: border crossings are closed in on from steps of a degree. */
function clippedArc(arc: ViewArc, window: Window): ViewArc[] {
  const depth = (t: number): number => inside(arcPoint(arc, t), window);
  const n = Math.max(8, Math.ceil(((arc.to - arc.from) * 180) / Math.PI));
  const stops = [arc.from];
  for (let i = 0; i < n; i++) {
    let low = arc.from + ((arc.to - arc.from) * i) / n;
    let high = arc.from + ((arc.to - arc.from) * (i + 1)) / n;
    const entering = depth(low) < 0;
    if (entering === depth(high) < 0) continue;
    for (let k = 0; k < 50; k++) {
      const middle = (low + high) / 2;
      if (depth(middle) < 0 === entering) low = middle;
      else high = middle;
    }
    stops.push((low + high) / 2);
  }
  stops.push(arc.to);
  const kept: ViewArc[] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [from, to] = [stops[i] as number, stops[i + 1] as number];
    if ((to - from) * arc.radii[0] > LEAST && depth((from + to) / 2) > 0) kept.push({ ...arc, from, to });
  }
  // A whole turn is cut at the angle nought by nothing but its own beginning.
  const [first, last] = [kept[0], kept[kept.length - 1]];
  if (!isWhole(arc) || first === undefined || last === undefined || first === last) return kept;
  if (first.from !== arc.from || last.to !== arc.to) return kept;
  return [...kept.slice(1, -1), { ...last, to: first.to + 2 * Math.PI }];
}

/** The window as a polygon, counter-clockwise. */
function polygonOf(window: Window): Point[] {
  if (window.kind === 'rectangle') {
    const { min, max } = window;
    return [min, [max[0], min[1]], max, [min[0], max[1]]];
  }
  const { centre, radius } = window;
  return Array.from({ length: SIDES }, (_, i): Point => {
    const angle = (2 * Math.PI * i) / SIDES;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
}

function clippedFace(face: ViewFace, border: readonly Point[]): ViewFace[] {
  const loops = face.loops
    .map((loop) => {
      let left: readonly Point[] = loop;
      border.forEach((p, i) => {
        const q = border[(i + 1) % border.length] as Point;
        const heights = left.map(([u, v]) => (q[0] - p[0]) * (v - p[1]) - (q[1] - p[1]) * (u - p[0]));
        if (heights.some((h) => h < 0)) left = clippedBy(left, heights);
      });
      return tidyLoop(left, 1e-6);
    })
    .filter((loop) => loop.length > 2 && Math.abs(loopArea(loop)) > LEAST * LEAST);
  return loops.length === 0 ? [] : [{ ...face, loops }];
}
