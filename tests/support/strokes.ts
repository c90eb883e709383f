/**
 * Two drawings of one view compared: what is drawn twice is counted once, on both sides in the same way, and then lengths and places
 * must agree. None of it is the program's own code, which merges lines for itself.
 */
import type { Stroke } from './exact.ts';

type Point = readonly [number, number];

/** A straight piece of a merged drawing. */
export interface Chord {
  readonly a: Point;
  readonly b: Point;
  readonly hidden: boolean;
}

/** Lines are one when both ends of one lie this near to the other, mm. */
const ON_LINE = 0.01;
/** Curves are one when the middles of their chords lie this near, mm. */
const ON_CURVE = 0.02;

const distance = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

export const lengthOf = (chords: readonly Chord[], hidden: boolean): number =>
  chords.reduce((sum, { a, b, ...of }) => sum + (of.hidden === hidden ? distance(a, b) : 0), 0);

/** Duplicates counted once: straight strokes by the line they lie on, curves chord by chord. Visible wins over hidden. */
export function merged(strokes: readonly Stroke[]): Chord[] {
  const straight = strokes.filter(({ points }) => isStraight(points));
  const curved = strokes.filter(({ points }) => !isStraight(points));
  return [...mergedLines(straight), ...mergedCurves(curved)];
}

/** A curve seen edge-on is straight, whatever the reference calls it. */
function isStraight(points: readonly Point[]): boolean {
  const [a, b] = [points[0], points[points.length - 1]] as [Point, Point];
  const length = distance(a, b);
  return (
    length > 1e-9 &&
    points.every(
      (p) => Math.abs((p[0] - a[0]) * (b[1] - a[1]) - (p[1] - a[1]) * (b[0] - a[0])) / length < 1e-3,
    )
  );
}

interface Line {
  readonly a: Point;
  readonly along: Point;
  readonly visible: [number, number][];
  readonly hidden: [number, number][];
}

function mergedLines(strokes: readonly Stroke[]): Chord[] {
  const ends = strokes
    .map(({ points, hidden }) => ({ ...extremes(points), hidden }))
    .sort((p, q) => distance(q.a, q.b) - distance(p.a, p.b));
  const lines: Line[] = [];
  for (const { a, b, hidden } of ends) {
    const length = distance(a, b);
    if (length < 1e-6) continue;
    const off = (line: Line, p: Point): number =>
      Math.abs((p[0] - line.a[0]) * line.along[1] - (p[1] - line.a[1]) * line.along[0]);
    let line = lines.find((each) => off(each, a) < ON_LINE && off(each, b) < ON_LINE);
    if (line === undefined) {
      line = { a, along: [(b[0] - a[0]) / length, (b[1] - a[1]) / length], visible: [], hidden: [] };
      lines.push(line);
    }
    const from = line.a;
    const [along] = [line.along];
    const at = (p: Point): number => (p[0] - from[0]) * along[0] + (p[1] - from[1]) * along[1];
    line[hidden ? 'hidden' : 'visible'].push([Math.min(at(a), at(b)), Math.max(at(a), at(b))]);
  }
  return lines.flatMap((line) => {
    const at = (t: number): Point => [line.a[0] + line.along[0] * t, line.a[1] + line.along[1] * t];
    const visible = union(line.visible);
    const chord =
      (hidden: boolean) =>
      ([from, to]: readonly [number, number]): Chord => ({
        a: at(from),
        b: at(to),
        hidden,
      });
    return [...visible.map(chord(false)), ...without(union(line.hidden), visible).map(chord(true))];
  });
}

/** The two points of a straight stroke that are furthest apart: seen edge-on, a curve runs to and fro. */
function extremes(points: readonly Point[]): { a: Point; b: Point } {
  const [first, last] = [points[0], points[points.length - 1]] as [Point, Point];
  const along = (p: Point): number =>
    (p[0] - first[0]) * (last[0] - first[0]) + (p[1] - first[1]) * (last[1] - first[1]);
  const sorted = [...points].sort((p, q) => along(p) - along(q));
  return { a: sorted[0] as Point, b: sorted[sorted.length - 1] as Point };
}

function union(intervals: readonly [number, number][]): [number, number][] {
  const out: [number, number][] = [];
  for (const [from, to] of [...intervals].sort((p, q) => p[0] - q[0])) {
    const last = out[out.length - 1];
    if (last !== undefined && from <= last[1] + 1e-3) last[1] = Math.max(last[1], to);
    else out.push([from, to]);
  }
  return out;
}

function without(
  intervals: readonly [number, number][],
  taken: readonly [number, number][],
): [number, number][] {
  return intervals.flatMap(([from, to]) => {
    const left: [number, number][] = [];
    let at = from;
    for (const [a, b] of taken) {
      if (b <= at || a >= to) continue;
      if (a > at) left.push([at, a]);
      at = Math.max(at, b);
    }
    if (to > at) left.push([at, to]);
    return left;
  });
}

function mergedCurves(strokes: readonly Stroke[]): Chord[] {
  const kept = new Net();
  for (const hidden of [false, true]) {
    const fresh: Chord[] = [];
    for (const stroke of strokes) {
      if (stroke.hidden !== hidden) continue;
      const chords = finely(stroke);
      // A stroke isn't measured against itself, but against all before it.
      const left = chords.filter(({ a, b }) => {
        const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
        return kept.distanceTo(middle, ON_CURVE, [b[0] - a[0], b[1] - a[1]]) > ON_CURVE;
      });
      for (const chord of left) kept.add(chord);
      fresh.push(...left);
    }
  }
  return kept.chords;
}

/** Chords of half a millimetre at most. */
function finely({ points, hidden }: Stroke): Chord[] {
  const out: Chord[] = [];
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]] as [Point, Point];
    const n = Math.max(1, Math.ceil(distance(a, b) / 0.5));
    const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    for (let k = 0; k < n; k++) out.push({ a: at(k / n), b: at((k + 1) / n), hidden });
  }
  return out;
}

/** Chords in a grid, to find what lies near a point. */
class Net {
  readonly chords: Chord[] = [];
  private readonly cells = new Map<string, Chord[]>();

  add(chord: Chord): void {
    const { a, b } = chord;
    if (distance(a, b) < 1e-9) return;
    this.chords.push(chord);
    const n = Math.max(1, Math.ceil(distance(a, b) / 4));
    const keys = new Set<string>();
    for (let k = 0; k <= n; k++) {
      const p: Point = [a[0] + ((b[0] - a[0]) * k) / n, a[1] + ((b[1] - a[1]) * k) / n];
      for (const du of [-0.5, 0.5])
        for (const dv of [-0.5, 0.5]) keys.add(`${Math.floor(p[0] / 8 + du)} ${Math.floor(p[1] / 8 + dv)}`);
    }
    for (const key of keys) {
      const cell = this.cells.get(key);
      if (cell) cell.push(chord);
      else this.cells.set(key, [chord]);
    }
  }

  /** Distance from a point to the nearest chord that runs within about 25 degrees of a direction; Infinity beyond a few mm. */
  distanceTo(p: Point, enough: number, along: Point): number {
    let least = Infinity;
    for (const { a, b } of this.cells.get(`${Math.floor(p[0] / 8)} ${Math.floor(p[1] / 8)}`) ?? []) {
      const [du, dv] = [b[0] - a[0], b[1] - a[1]];
      const length = Math.hypot(du, dv);
      if (Math.abs(du * along[1] - dv * along[0]) > 0.42 * length * Math.hypot(...along)) continue;
      const t = Math.max(0, Math.min(1, ((p[0] - a[0]) * du + (p[1] - a[1]) * dv) / length ** 2));
      least = Math.min(least, distance(p, [a[0] + t * du, a[1] + t * dv]));
      if (least <= enough) return least;
    }
    return least;
  }
}

/** What two drawings differ by: lengths of both, and the length of what one has at a place where the other has nothing. */
export interface Difference {
  readonly visible: readonly [ours: number, theirs: number];
  readonly hidden: readonly [ours: number, theirs: number];
  /** mm of ours without theirs next to it, and of theirs without ours. */
  readonly extra: number;
  readonly missing: number;
  readonly examples: readonly string[];
}

/** Compares merged drawings; points every half millimetre must lie within `near` of the other, visible on visible, hidden on hidden. */
export function compare(ours: readonly Chord[], theirs: readonly Chord[], near: number): Difference {
  const examples: string[] = [];
  const astray = (from: readonly Chord[], onto: readonly Chord[], word: string): number => {
    let length = 0;
    for (const hidden of [false, true]) {
      const net = new Net();
      for (const chord of onto) if (chord.hidden === hidden) net.add(chord);
      for (const { a, b, ...of } of from) {
        if (of.hidden !== hidden) continue;
        const long = distance(a, b);
        const n = Math.max(1, Math.ceil(long / 0.5));
        for (let k = 0; k < n; k++) {
          const t = (k + 0.5) / n;
          const p: Point = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
          if (net.distanceTo(p, near, [b[0] - a[0], b[1] - a[1]]) <= near) continue;
          length += long / n;
          if (examples.length < 6)
            examples.push(`${hidden ? 'hidden' : 'visible'} ${word} at ${p.map((x) => x.toFixed(2))}`);
        }
      }
    }
    return length;
  };
  return {
    visible: [lengthOf(ours, false), lengthOf(theirs, false)],
    hidden: [lengthOf(ours, true), lengthOf(theirs, true)],
    extra: astray(ours, theirs, 'extra'),
    missing: astray(theirs, ours, 'missing'),
    examples,
  };
}
