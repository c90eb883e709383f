/**
 * What a template shows of a long board that is straight but for a few places: those places, each with a hand's breadth of board on either
 * side, side by side on the paper; places that are alike once.
 */
import { type Run, text } from '../../text.ts';
import { type FlatOutline, type FlatPiece, pointsOf } from '../lines/template-outline.ts';
import type { Saying } from '../parts/feature.ts';
import type { Point } from '../types.ts';
import { type Bore, movedPattern, type Pattern, type PatternNote } from './template-pattern.ts';

/** Board shown beside a curve, mm: enough to lay the template along its edge. */
const BESIDE = 25;
/** A place begins and ends so far along the board, in whole steps: what is printed of it is then exact. */
const STEP = { inch: 25.4 / 4, mm: 5 } as const;
/** Paper between two places, mm. */
const GAP = 12;
/** A board of which more than this is shaped has its whole outline on the template. */
const MOST = 0.6;
/** A straight piece that leaves the board's own lines by less than this is one of them, mm. */
const STRAIGHT = 0.02;

interface Span {
  readonly from: number;
  readonly to: number;
}

/** The places of a pattern, put together along x from 0. */
export interface Windows {
  readonly pattern: Pattern;
  readonly length: number;
  /** Where the board goes on: across it, at the sides of each place. */
  readonly cuts: readonly (readonly [Point, Point])[];
  /** How many places are shown, and how many there are on the board. */
  readonly shown: number;
  readonly places: number;
}

/**
 * The places that are worth a template; undefined where the whole outline is. A place that holds no end of the board says how far it
 * begins from there.
 */
export function windowsOf(pattern: Pattern, length: number, say: Saying): Windows | undefined {
  const { outline } = pattern;
  const step = STEP[say.numbers.system];
  const spans = joined(
    [
      ...outline.loops.flatMap(({ pieces }) =>
        pieces.filter((piece) => !isPlain(piece, pattern, length)).map(spanOf),
      ),
      ...outline.rims.map(spanOf),
      ...outline.inner.map(({ piece }) => spanOf(piece)),
      ...pattern.bores.map(boreSpan),
    ].map(({ from, to }) => ({
      from: Math.max(0, Math.floor((from - BESIDE) / step + 1e-9) * step),
      to: Math.min(length, Math.ceil((to + BESIDE) / step - 1e-9) * step),
    })),
  );
  if (spans.length === 0 || spans.reduce((sum, { from, to }) => sum + to - from, 0) > MOST * length)
    return undefined;
  const seen = new Map<string, Place>();
  const kept: Pattern[] = [];
  const cuts: [Point, Point][] = [];
  let start = 0;
  for (const span of spans) {
    const own = windowed(pattern, span);
    const key = keyOf(movedPattern(own, -span.from), span.to - span.from);
    const known = seen.get(key);
    if (known) {
      known.from.push(span.from);
      continue;
    }
    const by = start - span.from;
    seen.set(key, { from: [span.from], at: start, inner: span.from > 0.05 && span.to < length - 0.05 });
    kept.push(movedPattern(own, by));
    cuts.push(
      ...cutsOf(own.outline, length).map(([a, b]): [Point, Point] => [
        [a[0] + by, a[1]],
        [b[0] + by, b[1]],
      ]),
    );
    start += span.to - span.from + GAP;
  }
  const all = <K extends 'loops' | 'holes' | 'rims' | 'inner' | 'centres'>(what: K) =>
    kept.flatMap((one) => one.outline[what] as readonly unknown[]) as unknown as FlatOutline[K];
  return {
    pattern: {
      ...pattern,
      outline: {
        ...outline,
        max: [start - GAP, outline.max[1]],
        loops: all('loops'),
        holes: all('holes'),
        rims: all('rims'),
        inner: all('inner'),
        centres: all('centres'),
      },
      bores: kept.flatMap((one) => one.bores),
      folds: kept.flatMap((one) => one.folds),
      notes: [
        ...kept.flatMap((one) => one.notes),
        ...[...seen.values()].flatMap((place) => placeNotes(place, pattern.across, say)),
      ],
    },
    length: start - GAP,
    cuts,
    shown: kept.length,
    places: spans.length,
  };
}

/** Equal for places that look alike; how far the whole board reaches doesn't matter. */
const keyOf = ({ outline, bores, folds, notes }: Pattern, size: number): string =>
  JSON.stringify(
    [size, outline.loops, outline.rims, outline.inner, outline.centres, bores, folds, notes],
    (_, value) => (typeof value === 'number' ? Number(value.toFixed(2)) + 0 : value),
  );

/** One place on the paper, and where on the board it is found. */
interface Place {
  readonly from: number[];
  readonly at: number;
  /** True where it holds no end of the board. */
  readonly inner: boolean;
}

/** `from here to the left end: 125, 575 mm`, at the line where a place begins. */
function placeNotes({ from, at, inner }: Place, [low, high]: Pattern['across'], say: Saying): PatternNote[] {
  if (!inner) return [];
  const said: Run[] = from.flatMap((value, i): Run[] => [text(i === 0 ? '' : ', '), say.size(value)]);
  return [
    {
      at: [at, (low + high) / 2],
      towards: [1, 0],
      along: true,
      text: [text('from here to the left end '), ...said],
    },
  ];
}

/** True for a line that the blank has anyway: along it, or straight across one of its ends. */
function isPlain(piece: FlatPiece, { across, folds }: Pattern, length: number): boolean {
  if (piece.kind !== 'line') return false;
  const [a, b] = [piece.from, piece.to];
  const near = (value: number, rim: number): boolean => Math.abs(value - rim) < STRAIGHT;
  // With an edge folded out the fold is one of the board's lines too.
  const rims = [...across, ...folds.map(([p]) => p[1])];
  // A bevelled edge runs inside the rim, all along the board.
  if (near(a[1], b[1])) return rims.some((rim) => near(a[1], rim)) || Math.abs(b[0] - a[0]) > length / 2;
  return near(a[0], b[0]) && (near(a[0], 0) || near(a[0], length));
}

function spanOf(piece: FlatPiece): Span {
  const xs = pointsOf(piece).map(([x]) => x);
  return { from: Math.min(...xs), to: Math.max(...xs) };
}

function boreSpan({ centres, ellipses, pieces }: Bore): Span {
  const xs = [
    ...centres.map(([x]) => x),
    ...ellipses.flatMap(({ centre, radii }) => [centre[0] - radii[0], centre[0] + radii[0]]),
    ...pieces.flatMap((piece) => pointsOf(piece).map(([x]) => x)),
  ];
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

/** What of a pattern lies in a span. Only straight pieces reach past one. */
function windowed(pattern: Pattern, { from, to }: Span): Pattern {
  const inside = ([x]: Point): boolean => x >= from - 1e-9 && x <= to + 1e-9;
  const clippedLine = (a: Point, b: Point): [Point, Point] | undefined => {
    const run = b[0] - a[0];
    if (Math.abs(run) < 1e-9) return inside(a) ? [a, b] : undefined;
    const ts = [(from - a[0]) / run, (to - a[0]) / run].sort((p, q) => p - q) as [number, number];
    const [s, e] = [Math.max(0, ts[0]), Math.min(1, ts[1])];
    if (e - s < 1e-9) return undefined;
    const at = (t: number): Point => [a[0] + run * t, a[1] + (b[1] - a[1]) * t];
    return [at(s), at(e)];
  };
  const clipped = (piece: FlatPiece): FlatPiece[] => {
    if (piece.kind !== 'line') return inside(piece.from) && inside(piece.to) ? [piece] : [];
    const left = clippedLine(piece.from, piece.to);
    return left ? [{ kind: 'line', from: left[0], to: left[1] }] : [];
  };
  const { outline } = pattern;
  return {
    ...pattern,
    outline: {
      ...outline,
      loops: outline.loops.flatMap((loop) => {
        const pieces = loop.pieces.flatMap(clipped);
        return pieces.length === 0 ? [] : [{ ...loop, pieces }];
      }),
      holes: outline.holes.filter(({ centre }) => inside(centre)),
      rims: outline.rims.flatMap(clipped),
      inner: outline.inner.flatMap((one) => clipped(one.piece).map((piece) => ({ ...one, piece }))),
      centres: outline.centres.filter(inside),
    },
    bores: pattern.bores.filter(({ centres }) => centres.every(inside)),
    folds: pattern.folds.flatMap(([a, b]) => {
      const left = clippedLine(a, b);
      return left ? [left] : [];
    }),
    notes: pattern.notes.filter(({ at }) => inside(at)),
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
