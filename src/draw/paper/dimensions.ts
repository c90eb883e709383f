/**
 * Places the dimensions of a straight view: outside it, shortest nearest, overall outermost, no text over anything, no dimension line
 * across another (the rules of ISO 129-1 and ASME Y14.5 that a shop drawing follows).
 * All in paper millimetres, y down.
 */
import type { Line } from '../../text.ts';
import type { Point } from '../types.ts';
import { type Lettering, setLine, textAt } from './lettering.ts';
import { line, type Mark, textQuad } from './marks.ts';
import { type Box, crossing, overlapOnLine, type Quad, type Segment, shapesMeet } from './plane.ts';

export type Side = 'below' | 'above' | 'left' | 'right';

/** A dimension that the view should carry. */
export interface WantedDimension {
  /** Where it begins and ends, along x for `below` and `above`, along y for `left` and `right`; from < to. */
  readonly from: number;
  readonly to: number;
  readonly text: Line;
  /** Best first; all of one direction. */
  readonly sides: readonly Side[];
  /** Kept whatever it costs; others are left out where there is no clear place. */
  readonly must: boolean;
  /** Where its text stands when the gap is too narrow for it: before `from`, or past `to`. */
  readonly outside?: 'before' | 'after';
  /** What it is the size of, for programs that read the drawing. */
  readonly of?: string;
  /** It belongs at its first side: a place at the other would show it of something else. */
  readonly stays?: true;
  /** Places of what it goes from and to, across the measured direction: its lines begin there, where that lies inside the view. */
  readonly starts?: readonly [number | undefined, number | undefined];
}

/** Figures of a dimension, mm of paper. */
export const DIMENSION = {
  first: 8,
  next: 7.75,
  gap: 1,
  past: 2,
  /** Length of the oblique stroke, at 45 degrees. */
  stroke: 3,
  above: 1.2,
  aboveFraction: 2,
} as const;

/** Clear paper around a text. */
const CLEAR = 0.45;
const LANES = 7;

/** What stands on the paper so far, for new dimensions and notes to keep clear of. */
export class Obstacles {
  readonly lines: Segment[] = [];
  readonly texts: Quad[] = [];
  readonly dimensionLines: Segment[] = [];
  readonly extensions: Segment[] = [];
  readonly reserved: { readonly segment: Segment; readonly owner: WantedDimension }[] = [];

  textIsClear(quad: Quad, owner?: WantedDimension): boolean {
    const hits = (segment: Segment): boolean => shapesMeet(quad, segment, CLEAR);
    return (
      !this.texts.some((other) => shapesMeet(quad, other, CLEAR)) &&
      !this.lines.some(hits) &&
      !this.dimensionLines.some(hits) &&
      !this.extensions.some(hits) &&
      !this.reserved.some((r) => r.owner !== owner && hits(r.segment))
    );
  }

  /** Any thin line against the texts that stand. */
  lineIsClear(segment: Segment): boolean {
    return !this.texts.some((quad) => shapesMeet(quad, segment, CLEAR));
  }

  dimensionLineIsClear(segment: Segment): boolean {
    return (
      this.lineIsClear(segment) &&
      !this.dimensionLines.some((other) => crossing(segment, other, 0.3) || overlapOnLine(segment, other)) &&
      !this.lines.some((other) => crossing(segment, other) || overlapOnLine(segment, other))
    );
  }
}

interface Placing {
  readonly wanted: WantedDimension;
  readonly side: Side;
  readonly lane: number;
  readonly text: Extract<Mark, { kind: 'text' }>;
  readonly line: Segment;
  readonly extensions: readonly Segment[];
  readonly strokes: readonly Segment[];
}

export interface PlacedDimensions {
  readonly marks: readonly Mark[];
  readonly left: readonly WantedDimension[];
}

/** A view to be dimensioned. */
export interface DimensionedView {
  /** Its visible lines. */
  readonly edges: readonly Segment[];
  /** Its outline. */
  readonly box: Box;
  /** It stands on a floor line: extension lines downwards start there, not beside the legs. */
  readonly floor?: boolean;
}

/**
 * Places as many of the wanted dimensions as find a clear place around a view. Adds what it places to the obstacles.
 */
export function placeDimensions(
  view: DimensionedView,
  wanted: readonly WantedDimension[],
  obstacles: Obstacles,
): PlacedDimensions {
  const order = [...wanted].sort(
    (a, b) => a.to - a.from - (b.to - b.from) || Number(b.must) - Number(a.must),
  );
  for (const item of order.filter((w) => w.must))
    for (const at of [item.from, item.to])
      obstacles.reserved.push({ segment: ray(view, item.sides[0] as Side, at), owner: item });
  const placed: Placing[] = [];
  const left: WantedDimension[] = [];
  for (const item of order) {
    const best = bestPlacing(view, item, placed, obstacles);
    if (!best) {
      left.push(item);
      continue;
    }
    placed.push(best);
    obstacles.dimensionLines.push(best.line);
    obstacles.extensions.push(...best.extensions);
    obstacles.lines.push(...best.strokes);
    obstacles.texts.push(textQuad(best.text));
  }
  const marks = placed.flatMap((p): Mark[] => [
    line('thin', ...p.extensions, p.line),
    line('stroke', ...p.strokes),
    p.text,
  ]);
  return { marks, left };
}

const level = (side: Side): boolean => side === 'below' || side === 'above';
const outward = (side: Side): number => (side === 'below' || side === 'right' ? 1 : -1);

/** The point at `along` on the measured axis and `off` across it. */
const pointAt = (side: Side, along: number, off: number): Point =>
  level(side) ? [along, off] : [off, along];

/** Where the piece ends on a side, seen at one place: the extension line starts there. */
function reach(view: DimensionedView, side: Side, at: number): number {
  if (side === 'below' && view.floor) return view.box.bottom;
  const [i, j] = level(side) ? ([0, 1] as const) : ([1, 0] as const);
  const sign = outward(side);
  let best = Number.NEGATIVE_INFINITY;
  for (const [a, b] of view.edges) {
    const [low, high] = [Math.min(a[i], b[i]), Math.max(a[i], b[i])];
    if (at < low - 0.06 || at > high + 0.06) continue;
    const t = high - low < 0.12 ? undefined : (at - a[i]) / (b[i] - a[i]);
    for (const value of t === undefined ? [a[j], b[j]] : [a[j] + (b[j] - a[j]) * Math.min(1, Math.max(0, t))])
      best = Math.max(best, value * sign);
  }
  return best === Number.NEGATIVE_INFINITY ? edgeOf(view.box, side) : best * sign;
}

const edgeOf = (box: Box, side: Side): number =>
  side === 'below' ? box.bottom : side === 'above' ? box.top : side === 'left' ? box.left : box.right;

function ray(view: DimensionedView, side: Side, at: number): Segment {
  return [
    pointAt(side, at, reach(view, side, at) + outward(side) * DIMENSION.gap),
    pointAt(side, at, edgeOf(view.box, side) + outward(side) * 80),
  ];
}

function bestPlacing(
  view: DimensionedView,
  item: WantedDimension,
  placed: readonly Placing[],
  obstacles: Obstacles,
): Placing | undefined {
  const lettering = setLine(item.text);
  let best: { placing: Placing; cost: number } | undefined;
  const sides = item.stays ? item.sides.slice(0, 1) : item.sides;
  sides.forEach((side, preference) => {
    const over = placed.filter(
      (p) => p.side === side && p.wanted.from < item.to - 0.05 && item.from < p.wanted.to - 0.05,
    );
    const first = Math.max(0, ...over.map((p) => p.lane + 1));
    for (let lane = first; lane < LANES; lane++)
      for (const [spot, cost] of spots(item, lettering)) {
        const placing = placingAt(view, item, side, lane, spot, lettering);
        const price = preference * (item.must ? 30 : 2.5) + lane * 2 + cost + crossed(placing, obstacles);
        if (best && price >= best.cost) continue;
        if (fits(placing, obstacles)) best = { placing, cost: price };
      }
  });
  return best?.placing;
}

/** Places for the text along the line, as offsets of its middle from the line's middle, with their cost. */
function spots(item: WantedDimension, lettering: Lettering): [number, number][] {
  const size = item.to - item.from;
  const half = size / 2;
  const spare = half - lettering.width / 2 - 1.6;
  const outside = half + lettering.width / 2 + 2;
  const inner: [number, number][] =
    spare >= 0
      ? [
          [0, 0],
          [spare / 2, 0.4],
          [-spare / 2, 0.4],
          [spare, 0.8],
          [-spare, 0.8],
        ]
      : [];
  const after = item.outside === 'after';
  const away: [number, number][] = item.stays
    ? [
        [-outside - 4, 2.4],
        [outside + 4, 2.6],
      ]
    : [];
  return [...inner, [after ? outside : -outside, 1.5], [after ? -outside : outside, 1.7], ...away];
}

function placingAt(
  view: DimensionedView,
  item: WantedDimension,
  side: Side,
  lane: number,
  spot: number,
  lettering: Lettering,
): Placing {
  const sign = outward(side);
  const off = edgeOf(view.box, side) + sign * (DIMENSION.first + lane * DIMENSION.next);
  const middle = (item.from + item.to) / 2 + spot;
  const half = lettering.width / 2 + 0.6;
  const from = Math.min(item.from, middle - half);
  const to = Math.max(item.to, middle + half);
  const within = from >= item.from - 1e-9 && to <= item.to + 1e-9;
  const rise = lettering.hasFraction ? DIMENSION.aboveFraction : DIMENSION.above;
  // Text reads from the bottom, or turned from the right; it stands on the upper or left side of its line.
  const text = textAt(lettering, pointAt(side, middle, off - rise), {
    anchor: 'middle',
    angle: level(side) ? 0 : -90,
    ...(item.of === undefined ? {} : { of: item.of }),
  });
  const tick = DIMENSION.stroke / 2 / Math.SQRT2;
  return {
    wanted: item,
    side,
    lane,
    text,
    line: [pointAt(side, within ? item.from : from, off), pointAt(side, within ? item.to : to, off)],
    extensions: [item.from, item.to].map((at, i): Segment => {
      const start = (item.starts?.[i] ?? reach(view, side, at)) + sign * DIMENSION.gap;
      return [pointAt(side, at, start), pointAt(side, at, off + sign * DIMENSION.past)];
    }),
    strokes: [item.from, item.to].map((at): Segment => {
      const [x, y] = pointAt(side, at, off);
      return [
        [x - tick, y + tick],
        [x + tick, y - tick],
      ];
    }),
  };
}

/** How often extension lines and dimension lines cross: allowed, but dear. */
function crossed(placing: Placing, obstacles: Obstacles): number {
  let sum = 0;
  for (const e of placing.extensions)
    for (const d of obstacles.dimensionLines) if (crossing(e, d, -0.1)) sum += 1.2;
  for (const e of obstacles.extensions) if (crossing(placing.line, e, -0.1)) sum += 1.2;
  return sum;
}

const fits = (placing: Placing, obstacles: Obstacles): boolean =>
  obstacles.dimensionLineIsClear(placing.line) &&
  placing.extensions.every((e) => obstacles.lineIsClear(e)) &&
  placing.strokes.every((e) => obstacles.lineIsClear(e)) &&
  obstacles.textIsClear(textQuad(placing.text), placing.wanted);
