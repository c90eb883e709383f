/**
 * Hints of wood on a face: a few strokes along the grain, ring arcs on an end. They are drawn by part (the seed is its name), so
 * that the same part looks the same in every picture, and they never carry meaning.
 */
import type { Frame, Vec3 } from '../../model/types.ts';
import { line, type Mark } from '../paper/marks.ts';
import {
  add,
  boxOf,
  clipToLoops,
  distance,
  distanceToSegment,
  dot,
  type Segment,
  sidesOf,
  times,
  unit,
} from '../paper/plane.ts';
import type { Point } from '../types.ts';

/** A repeatable stream of numbers in [0, 1) from a name (FNV-1a, then xorshift32). */
export function numbersFrom(name: string): () => number {
  let state = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) state = Math.imul(state ^ name.charCodeAt(i), 0x01000193) >>> 0;
  if (state === 0) state = 1;
  return () => {
    state ^= state << 13;
    state >>>= 0;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 2 ** 32;
  };
}

/** Faces narrower than this on paper get no grain, mm. */
const NARROW = 2.2;
/** Strokes and rings keep off the edges, mm. */
const OFF_EDGE = 0.45;

type Loops = readonly (readonly Point[])[];

const extent = (loops: Loops, along: Point): { low: number; high: number } => {
  const values = loops.flat().map((p) => dot(p, along));
  return { low: Math.min(...values), high: Math.max(...values) };
};

const shortened = (segments: readonly Segment[], by: number, least: number): Segment[] =>
  segments.flatMap(([a, b]): Segment[] => {
    const size = distance(a, b);
    if (size < 2 * by + least) return [];
    const along = unit([b[0] - a[0], b[1] - a[1]]);
    return [[add(a, times(along, by)), add(b, times(along, -by))]];
  });

/** Strokes along `grain` in the visible part of a face, paper mm. */
export function grainStrokes(loops: Loops, grain: Point, name: string): Mark[] {
  const along = unit(grain);
  if (along[0] === 0 && along[1] === 0) return [];
  const across: Point = [-along[1], along[0]];
  const [width, length] = [extent(loops, across), extent(loops, along)];
  if (width.high - width.low < NARROW) return [];
  const next = numbersFrom(name);
  const sides = sidesOf(loops);
  const strokes: Segment[] = [];
  for (let at = width.low + 0.8 + next() * 1.2; at < width.high - OFF_EDGE; at += 1.5 + next() * 3.2) {
    let from = length.low - next() * 12;
    while (from < length.high) {
      const size = 5 + next() * 11;
      const stroke: Segment = [
        add(times(across, at), times(along, from)),
        add(times(across, at), times(along, from + size)),
      ];
      strokes.push(...shortened(clipToLoops(stroke, loops, sides), 0.7, 1.5));
      from += size + 5 + next() * 26;
    }
  }
  const clear = strokes.filter(
    ([a, b]) =>
      !sides.some((side) => distanceToSegment(a, side) < OFF_EDGE || distanceToSegment(b, side) < OFF_EDGE),
  );
  return clear.length === 0 ? [] : [line('grain', ...clear)];
}

/** Growth rings in the visible part of an end: arcs about a pith outside the board, in the end's own plane. */
export function ringArcs(
  loops: Loops,
  frame: { readonly width: Point; readonly thickness: Point; readonly corner: Point },
  size: { readonly width: number; readonly thickness: number },
  name: string,
): Mark[] {
  const box = boxOf(loops.flat());
  const paperWidth = Math.hypot(...frame.width) * size.width;
  const paperThickness = Math.hypot(...frame.thickness) * size.thickness;
  if (Math.min(paperWidth, paperThickness) < 1.1 || box.right - box.left < 1) return [];
  const next = numbersFrom(`${name} end`);
  const pith = {
    width: size.width * (0.3 + 0.4 * next()),
    thickness: -size.thickness * (0.5 + 1.2 * next()),
  };
  const perMillimetre = Math.max(Math.hypot(...frame.width), Math.hypot(...frame.thickness), 1e-9);
  const step = 1.3 / perMillimetre;
  const reach = Math.hypot(size.width, size.thickness - pith.thickness) + step;
  const point = (radius: number, angle: number): Point =>
    add(
      frame.corner,
      add(
        times(frame.width, pith.width + radius * Math.cos(angle)),
        times(frame.thickness, pith.thickness + radius * Math.sin(angle)),
      ),
    );
  const arcs: Point[][] = [];
  const sides = sidesOf(loops);
  for (
    let radius = -pith.thickness + step * (0.4 + 0.4 * next()), count = 0;
    radius < reach && count < 40;
    count++
  ) {
    const pieces = 48;
    let run: Point[] = [];
    for (let i = 0; i < pieces; i++) {
      const chord: Segment = [
        point(radius, (Math.PI * i) / pieces),
        point(radius, (Math.PI * (i + 1)) / pieces),
      ];
      for (const [a, b] of clipToLoops(chord, loops, sides)) {
        const last = run[run.length - 1];
        if (last && distance(last, a) < 0.01) run.push(b);
        else {
          if (run.length > 2) arcs.push(run);
          run = [a, b];
        }
      }
    }
    if (run.length > 2) arcs.push(run);
    radius += step * (0.8 + 0.5 * next());
  }
  return arcs.length === 0 ? [] : [line('ring', ...arcs)];
}

/**
 * Directions of a part's frame in a view and a corner of the end that looks along `normal`, for rings; `map` takes a point of the
 * piece to paper, `length` is the part's.
 */
export function endFrame(
  frame: Frame,
  normal: Vec3,
  length: number,
  map: (p: readonly [number, number, number]) => Point,
): { width: Point; thickness: Point; corner: Point } {
  const far = normal[0] * frame.length[0] + normal[1] * frame.length[1] + normal[2] * frame.length[2] > 0;
  const along = far ? length : 0;
  const end = frame.origin.map((v, i) => v + (frame.length[i] as number) * along) as unknown as Vec3;
  const corner = map(end);
  const off = (axis: Vec3): Point => {
    const [x, y] = map([end[0] + axis[0], end[1] + axis[1], end[2] + axis[2]]);
    return [x - corner[0], y - corner[1]];
  };
  return { width: off(frame.width), thickness: off(frame.thickness), corner };
}
