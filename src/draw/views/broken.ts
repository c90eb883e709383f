/**
 * Long boards drawn interrupted (ISO 128): stretches along the length where nothing changes are left out between two zigzag lines, so
 * that the ends can be drawn larger.
 */
import { line, type Mark } from '../paper/marks.ts';
import type { Point, ViewArc, ViewLine, ViewPicture } from '../types.ts';

/** Paper between the two ends of a break, mm. */
export const BREAK = 7;
/** A stretch that would save less paper than this is drawn whole, mm. */
const LEAST_SAVED = 8;
/** Paper kept on both sides of all that is made to the board, mm. */
const BESIDE = 9;

/** Where the length of a board falls on paper: pieces kept, in order, each with the place where it begins on paper. */
export interface Breaks {
  readonly ratio: number;
  readonly kept: readonly { readonly from: number; readonly to: number; readonly at: number }[];
  /** Length on paper, mm. */
  readonly width: number;
}

/** The whole length, unbroken. */
export const unbroken = (length: number, ratio: number): Breaks => ({
  ratio,
  kept: [{ from: 0, to: length, at: 0 }],
  width: length * ratio,
});

/** Breaks a length where nothing lies; `places` are where something does, mm along the board. */
export function breaksOf(length: number, places: readonly number[], ratio: number): Breaks {
  const margin = BESIDE / ratio;
  const wanted = [0, length, ...places]
    .sort((a, b) => a - b)
    .map((x): [number, number] => [Math.max(0, x - margin), Math.min(length, x + margin)]);
  const runs: [number, number][] = [];
  for (const [from, to] of wanted) {
    const last = runs[runs.length - 1];
    if (last && (from - last[1]) * ratio < BREAK + LEAST_SAVED) last[1] = Math.max(last[1], to);
    else runs.push([from, to]);
  }
  let at = 0;
  const kept = runs.map(([from, to]) => {
    const piece = { from, to, at };
    at += (to - from) * ratio + BREAK;
    return piece;
  });
  return { ratio, kept, width: at - BREAK };
}

/** Where a place along the board falls on paper; within a break in proportion. */
export function alongPaper(breaks: Breaks, x: number): number {
  const { kept, ratio } = breaks;
  let before = kept[0] as Breaks['kept'][number];
  for (const piece of kept) {
    if (x < piece.from) {
      const end = before.at + (before.to - before.from) * ratio;
      return end + ((x - before.to) / (piece.from - before.to)) * (piece.at - end);
    }
    before = piece;
    if (x <= piece.to) break;
  }
  return before.at + (x - before.from) * ratio;
}

/** A view whose u runs along the board from 0, with its breaks taken out: u is paper divided by the ratio. */
export function brokenPicture(picture: ViewPicture, breaks: Breaks): ViewPicture {
  if (breaks.kept.length === 1) return picture;
  const { ratio } = breaks;
  const place = (x: number): number => alongPaper(breaks, x) / ratio;
  const lines = picture.lines.flatMap((l): ViewLine[] =>
    breaks.kept.flatMap(({ from, to }): ViewLine[] => {
      const cut = clipped(l.a, l.b, from, to);
      return cut === undefined
        ? []
        : [{ ...l, a: [place(cut[0][0]), cut[0][1]], b: [place(cut[1][0]), cut[1][1]] }];
    }),
  );
  const arcs = (picture.arcs ?? []).map(
    (arc): ViewArc => ({ ...arc, centre: [place(arc.centre[0]), arc.centre[1]] }),
  );
  return {
    ...picture,
    lines,
    arcs,
    min: [place(picture.min[0]), picture.min[1]],
    max: [place(picture.max[0]), picture.max[1]],
  };
}

function clipped(a: Point, b: Point, from: number, to: number): [Point, Point] | undefined {
  const run = b[0] - a[0];
  if (Math.abs(run) < 1e-9) return a[0] >= from - 1e-6 && a[0] <= to + 1e-6 ? [a, b] : undefined;
  const [s, t] = [(from - a[0]) / run, (to - a[0]) / run];
  const low = Math.max(0, Math.min(s, t));
  const high = Math.min(1, Math.max(s, t));
  if (high - low < 1e-9) return undefined;
  const at = (k: number): Point => [a[0] + run * k, a[1] + (b[1] - a[1]) * k];
  return [at(low), at(high)];
}

/** The zigzag lines of the breaks across a view from `top` to `bottom` of the paper, its left end at `left`. */
export function breakMarks(breaks: Breaks, left: number, top: number, bottom: number): Mark[] {
  const lines = breaks.kept.slice(0, -1).flatMap((piece, i): Point[][] => {
    const next = breaks.kept[i + 1] as Breaks['kept'][number];
    const end = piece.at + (piece.to - piece.from) * breaks.ratio;
    return [end, next.at].map((x) => zigzag(left + x, top - 1.5, bottom + 1.5));
  });
  return lines.length === 0 ? [] : [line('thin', ...lines)];
}

function zigzag(x: number, top: number, bottom: number): Point[] {
  const middle = (top + bottom) / 2;
  return [
    [x, top],
    [x, middle - 1.6],
    [x + 1.3, middle - 0.5],
    [x - 1.3, middle + 0.5],
    [x, middle + 1.6],
    [x, bottom],
  ];
}
