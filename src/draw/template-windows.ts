/**
 * What a template shows of a long board that is straight but for a few places: those places, each with a hand's breadth of board on either
 * side, side by side on the paper; places that are alike once.
 */
import { type FlatOutline, type FlatPiece, pointsOf } from './template-outline.ts';
import type { Point } from './types.ts';

/** Board shown beside a curve, mm: enough to lay the template along its edge. */
const BESIDE = 25;
/** Paper between two places, mm. */
const GAP = 12;
/** A board of which more than this is curved has its whole outline on the template. */
const MOST = 0.6;

interface Span {
  readonly from: number;
  readonly to: number;
}

/** The places of an outline, put together along x from 0. */
export interface Windows {
  readonly flat: FlatOutline;
  readonly length: number;
  /** Where the board goes on: across it, at the sides of each place. */
  readonly cuts: readonly (readonly [Point, Point])[];
  /** How many places are shown, and how many there are on the board. */
  readonly shown: number;
  readonly places: number;
}

/** The places that are worth a template; undefined where the whole outline is. */
export function windowsOf(flat: FlatOutline, length: number): Windows | undefined {
  const spans = joined(
    [
      ...flat.loops.flatMap(({ pieces }) => pieces.filter((piece) => piece.kind !== 'line').map(spanOf)),
      ...flat.rims.map(spanOf),
      ...flat.inner.map(({ piece }) => spanOf(piece)),
      ...flat.holes.map(({ centre, radius }) => ({ from: centre[0] - radius, to: centre[0] + radius })),
    ].map(({ from, to }) => ({ from: Math.max(0, from - BESIDE), to: Math.min(length, to + BESIDE) })),
  );
  if (spans.length === 0 || spans.reduce((sum, { from, to }) => sum + to - from, 0) > MOST * length)
    return undefined;
  const seen = new Set<string>();
  const kept: FlatOutline[] = [];
  const cuts: [Point, Point][] = [];
  let start = 0;
  for (const span of spans) {
    const own = windowed(flat, span);
    const key = JSON.stringify([span.to - span.from, shifted(own, -span.from)], (_, value) =>
      typeof value === 'number' ? Number(value.toFixed(2)) + 0 : value,
    );
    if (seen.has(key)) continue;
    seen.add(key);
    const by = start - span.from;
    kept.push(shifted(own, by));
    cuts.push(...cutsOf(own, length).map(([a, b]): [Point, Point] => [moved(a, by), moved(b, by)]));
    start += span.to - span.from + GAP;
  }
  const all = <K extends 'loops' | 'holes' | 'rims' | 'inner' | 'centres'>(what: K) =>
    kept.flatMap((one) => one[what] as readonly unknown[]) as unknown as FlatOutline[K];
  return {
    flat: {
      ...flat,
      max: [start - GAP, flat.max[1]],
      loops: all('loops'),
      holes: all('holes'),
      rims: all('rims'),
      inner: all('inner'),
      centres: all('centres'),
    },
    length: start - GAP,
    cuts,
    shown: kept.length,
    places: spans.length,
  };
}

function spanOf(piece: FlatPiece): Span {
  const xs = pointsOf(piece).map(([x]) => x);
  return { from: Math.min(...xs), to: Math.max(...xs) };
}

/** Spans in order, those that meet in one. */
function joined(spans: readonly Span[]): Span[] {
  const list: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from || a.to - b.to)) {
    const last = list[list.length - 1];
    if (!last || span.from > last.to + GAP) list.push(span);
    else list[list.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
  }
  return list;
}

/** What of an outline lies in a span. Only straight pieces reach past one. */
function windowed(flat: FlatOutline, { from, to }: Span): FlatOutline {
  const inside = ([x]: Point): boolean => x >= from && x <= to;
  const clipped = (piece: FlatPiece): FlatPiece[] => {
    if (piece.kind !== 'line') return inside(piece.from) && inside(piece.to) ? [piece] : [];
    const [a, b] = [piece.from, piece.to];
    const run = b[0] - a[0];
    if (Math.abs(run) < 1e-9) return inside(a) ? [piece] : [];
    const ts = [(from - a[0]) / run, (to - a[0]) / run].sort((p, q) => p - q) as [number, number];
    const [s, e] = [Math.max(0, ts[0]), Math.min(1, ts[1])];
    if (e - s < 1e-9) return [];
    const at = (t: number): Point => [a[0] + run * t, a[1] + (b[1] - a[1]) * t];
    return [{ kind: 'line', from: at(s), to: at(e) }];
  };
  return {
    ...flat,
    loops: flat.loops.flatMap((loop) => {
      const pieces = loop.pieces.flatMap(clipped);
      return pieces.length === 0 ? [] : [{ ...loop, pieces }];
    }),
    holes: flat.holes.filter(({ centre }) => inside(centre)),
    rims: flat.rims.flatMap(clipped),
    inner: flat.inner.flatMap((one) => clipped(one.piece).map((piece) => ({ ...one, piece }))),
    centres: flat.centres.filter(inside),
  };
}

/** Where the way round a clipped outline jumps, it crosses the board. */
function cutsOf({ loops }: FlatOutline, length: number): [Point, Point][] {
  return loops.flatMap(({ pieces }) =>
    pieces.flatMap((piece, i): [Point, Point][] => {
      const { from } = pieces[(i + 1) % pieces.length] as FlatPiece;
      const apart = Math.hypot(from[0] - piece.to[0], from[1] - piece.to[1]);
      return apart > 0.05 && from[0] > 0.05 && from[0] < length - 0.05 ? [[piece.to, from]] : [];
    }),
  );
}

const moved = ([x, y]: Point, by: number): Point => [x + by, y];

function movedPiece(piece: FlatPiece, by: number): FlatPiece {
  const ends = { from: moved(piece.from, by), to: moved(piece.to, by) };
  if (piece.kind === 'arc') return { ...piece, ...ends, centre: moved(piece.centre, by) };
  if (piece.kind === 'curve') return { ...piece, ...ends, through: piece.through.map((p) => moved(p, by)) };
  return { ...piece, ...ends };
}

/** An outline moved along the board. */
const shifted = (flat: FlatOutline, by: number): FlatOutline => ({
  ...flat,
  loops: flat.loops.map((loop) => ({ ...loop, pieces: loop.pieces.map((piece) => movedPiece(piece, by)) })),
  holes: flat.holes.map((hole) => ({ ...hole, centre: moved(hole.centre, by) })),
  rims: flat.rims.map((piece) => movedPiece(piece, by)),
  inner: flat.inner.map((one) => ({ ...one, piece: movedPiece(one.piece, by) })),
  centres: flat.centres.map((p) => moved(p, by)),
});
