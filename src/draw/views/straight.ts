/** One straight view on paper: its lines, thinned where they would run together, ready for dimensions. */
import { LINES, line, type Mark } from '../paper/marks.ts';
import { chordsOf, type PaperArc, paperArc, paperArcPoints } from '../paper/paper-arcs.ts';
import { type Box, boxOf, chain, distance, type Segment } from '../paper/plane.ts';
import type { Point, ViewArc, ViewFrame, ViewPicture } from '../types.ts';
import type { Axis } from './principal.ts';

/** Two parallel edges nearer than this on paper are drawn as one, mm (ISO 128-2 asks for 0.7). */
export const TOGETHER = 0.7;
/** Hidden pieces shorter than this would not show a dash, mm. */
const LEAST_HIDDEN = 1.8;

/** A straight view at scale. x = u × ratio, y = −v × ratio: views of one piece share their axes. */
export interface StraightView {
  readonly picture: ViewPicture;
  readonly ratio: number;
  readonly visible: readonly Segment[];
  readonly hidden: readonly Segment[];
  /** Rims of holes and of rounded edges; `edges` and `box` count them in as chords. */
  readonly arcs: { readonly visible: readonly PaperArc[]; readonly hidden: readonly PaperArc[] };
  readonly box: Box;
}

export function straightView(
  picture: ViewPicture,
  ratio: number,
  hiddenOf?: ReadonlySet<string>,
): StraightView {
  const map = ([u, v]: Point): Point => [u * ratio, -v * ratio];
  const segment = (l: ViewPicture['lines'][number]): Segment => [map(l.a), map(l.b)];
  const seen = picture.lines.filter((l) => !l.hidden);
  const byLength = (a: Segment, b: Segment) => distance(...b) - distance(...a);
  const edges = joined(seen.map(segment)).sort(byLength);
  const behind = joined(
    picture.lines
      .filter((l) => l.hidden && (hiddenOf === undefined || l.copies.some((copy) => hiddenOf.has(copy))))
      .map(segment),
  ).sort(byLength);
  const thinner = new Thinner();
  // A line shorter than the least distance of two lines shows as a speck.
  // Chords of curves are short, so slanting pieces are judged by the line that they make together.
  const slanting = (s: Segment): boolean => !isLevel(s) && !isUpright(s);
  const plain = edges.filter((s) => !slanting(s)).flatMap((s) => thinner.take(s, TOGETHER));
  // The rounding of a corner joins two lines, however small it is; without it they would end short of each other.
  const ends = new Set(plain.flat().map(spot));
  const curves = chain(edges.filter(slanting))
    .map((points) => points.slice(1).map((p, i): Segment => [points[i] as Point, p]))
    .filter((own) => {
      const [from, to] = [own[0]?.[0], own.at(-1)?.[1]];
      const joins = from !== undefined && to !== undefined && ends.has(spot(from)) && ends.has(spot(to));
      return joins || own.reduce((sum, s) => sum + distance(...s), 0) >= TOGETHER;
    })
    .flat();
  const visible = [...plain, ...curves, ...flatRims(picture, ratio, map)];
  const hidden = behind.flatMap((s) => thinner.take(s, LEAST_HIDDEN)).flatMap(dashed);
  const round = (wanted: boolean): PaperArc[] =>
    (picture.arcs ?? [])
      .filter(
        (arc) =>
          arc.hidden === wanted &&
          arc.radii[1] * ratio * 2 > TOGETHER &&
          (!wanted || hiddenOf === undefined || arc.copies.some((copy) => hiddenOf.has(copy))),
      )
      .map((arc) => paperArc(arc, ratio, map(arc.centre)));
  const arcs = { visible: round(false), hidden: round(true) };
  const box = boxOf([...visible.flat(), ...arcs.visible.flatMap((arc) => paperArcPoints(arc))]);
  return { picture, ratio, visible, hidden, arcs, box };
}

/** A rim turned away by less than this lies in the edge of a face, which is drawn already: the sine of a degree. */
const EDGE_ON = 0.0175;

/**
 * Visible rims so flat that their two sides would print as one, as the end of a peg that leans towards the eye: one line each along the
 * longer axis, as far as any of it is seen.
 */
function flatRims(picture: ViewPicture, ratio: number, map: (point: Point) => Point): Segment[] {
  const rims = new Map<string, { arc: ViewArc; low: number; high: number }>();
  for (const arc of picture.arcs ?? []) {
    const [rx, ry] = arc.radii;
    if (arc.hidden || ry * ratio * 2 > TOGETHER || rx * ratio * 2 <= TOGETHER || ry < rx * EDGE_ON) continue;
    const reach = arcReach(arc);
    const key = [...arc.centre, rx].map((value) => Math.round(value * 100)).join(' ');
    const known = rims.get(key);
    rims.set(key, {
      arc,
      low: Math.min(known?.low ?? 1, reach[0]),
      high: Math.max(known?.high ?? -1, reach[1]),
    });
  }
  return [...rims.values()].flatMap(({ arc, low, high }): Segment[] => {
    const at = (share: number): Point => {
      const along = arc.radii[0] * share;
      const [x, y] = arc.centre;
      return map([x + along * Math.cos(arc.rotation), y + along * Math.sin(arc.rotation)]);
    };
    const ends: Segment = [at(low), at(high)];
    return distance(...ends) > TOGETHER ? [ends] : [];
  });
}

/** How far an arc reaches along its longer axis, as shares of the half axis from the centre. */
function arcReach({ from, to }: ViewArc): [low: number, high: number] {
  const turn = (angle: number): boolean =>
    Math.ceil((from - angle) / (2 * Math.PI) - 1e-9) * 2 * Math.PI + angle <= to + 1e-9;
  const [a, b] = [Math.cos(from), Math.cos(to)];
  return [turn(Math.PI) ? -1 : Math.min(a, b), turn(0) ? 1 : Math.max(a, b)];
}

/** All that is drawn of a view as straight pieces, for texts and lines to keep clear of. */
export const edgesOf = (view: StraightView, hidden = true): Segment[] => [
  ...view.visible,
  ...view.arcs.visible.flatMap(chordsOf),
  ...(hidden ? [...view.hidden, ...view.arcs.hidden.flatMap(chordsOf)] : []),
];

/** The marks of a view's edges. */
export const straightMarks = (view: StraightView): Mark[] => [
  ...(view.hidden.length > 0 ? [line('hidden', ...view.hidden)] : []),
  ...(view.arcs.hidden.length > 0
    ? [{ kind: 'arcs' as const, role: 'hidden' as const, arcs: view.arcs.hidden }]
    : []),
  line('visible', ...chain(view.visible)),
  ...(view.arcs.visible.length > 0
    ? [{ kind: 'arcs' as const, role: 'visible' as const, arcs: view.arcs.visible }]
    : []),
];

/** A place on paper to a hundredth of a millimetre, as ends of lines are compared. */
const spot = ([x, y]: Point): string => `${Math.round(x * 100)},${Math.round(y * 100)}`;

const isLevel = ([a, b]: Segment): boolean => Math.abs(a[1] - b[1]) < 1e-6;
const isUpright = ([a, b]: Segment): boolean => Math.abs(a[0] - b[0]) < 1e-6;

/** Level and upright pieces that follow one another on one line, joined over gaps too small to print. */
function joined(segments: readonly Segment[]): Segment[] {
  const rows = new Map<string, { level: boolean; at: number; spans: [number, number][] }>();
  const others: Segment[] = [];
  for (const [a, b] of segments) {
    const level = Math.abs(a[1] - b[1]) < 1e-6;
    if (!level && Math.abs(a[0] - b[0]) > 1e-6) {
      others.push([a, b]);
      continue;
    }
    const [i, j] = level ? ([0, 1] as const) : ([1, 0] as const);
    const key = `${level} ${Math.round(a[j] * 100)}`;
    const row = rows.get(key) ?? { level, at: a[j], spans: [] };
    row.spans.push([Math.min(a[i], b[i]), Math.max(a[i], b[i])]);
    rows.set(key, row);
  }
  const whole = [...rows.values()].flatMap(({ level, at, spans }) => {
    spans.sort((p, q) => p[0] - q[0]);
    const runs: [number, number][] = [];
    for (const [from, to] of spans) {
      const last = runs[runs.length - 1];
      if (last && from <= last[1] + TOGETHER) last[1] = Math.max(last[1], to);
      else runs.push([from, to]);
    }
    return runs.map(([from, to]) => along(level, at, from, to));
  });
  return [...whole, ...others];
}

const along = (level: boolean, at: number, from: number, to: number): Segment =>
  level
    ? [
        [from, at],
        [to, at],
      ]
    : [
        [at, from],
        [at, to],
      ];

/** A hidden line too short for two of its dashes gets its gap in the middle; it would else look like a visible one. */
function dashed([a, b]: Segment): Segment[] {
  const [dash, gap] = LINES.hidden.dash as readonly [number, number];
  const size = distance(a, b);
  if (size > 2 * dash + gap) return [[a, b]];
  const t = (size - gap) / 2 / size;
  const at = (k: number): Point => [a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k];
  return [
    [a, at(t)],
    [at(1 - t), b],
  ];
}

/** Keeps parallel lines apart: of two that would print together only the first is kept. */
class Thinner {
  private readonly kept: {
    readonly level: boolean;
    readonly at: number;
    readonly from: number;
    readonly to: number;
  }[] = [];

  /** The pieces of a segment that stand clear of what was taken before; pieces shorter than `least` are dropped. */
  take(segment: Segment, least: number): Segment[] {
    const [a, b] = segment;
    const level = Math.abs(a[1] - b[1]) < 1e-6;
    const upright = Math.abs(a[0] - b[0]) < 1e-6;
    if (level === upright) return distance(a, b) < least ? [] : [segment];
    const [i, j] = level ? ([0, 1] as const) : ([1, 0] as const);
    const at = a[j];
    let free: [number, number][] = [[Math.min(a[i], b[i]), Math.max(a[i], b[i])]];
    for (const other of this.kept) {
      if (other.level !== level || Math.abs(other.at - at) >= TOGETHER) continue;
      free = free.flatMap(([from, to]): [number, number][] =>
        other.to <= from || other.from >= to
          ? [[from, to]]
          : ([
              [from, other.from],
              [other.to, to],
            ].filter(([p, q]) => (q as number) - (p as number) > 1e-6) as [number, number][]),
      );
    }
    const pieces = free.filter(([from, to]) => to - from >= least);
    for (const [from, to] of pieces) this.kept.push({ level, at, from, to });
    return pieces.map(([from, to]) => along(level, at, from, to));
  }
}

/** Where a size along an axis of the piece falls in a view: along x or y of the paper, from < to; undefined where it is end on. */
export function sizeInView(
  frame: ViewFrame,
  ratio: number,
  size: { readonly axis: Axis; readonly from: number; readonly to: number },
): { direction: 'across' | 'up'; from: number; to: number } | undefined {
  const across = frame.right[size.axis];
  const up = frame.up[size.axis];
  const sorted = (a: number, b: number) => ({ from: Math.min(a, b), to: Math.max(a, b) });
  if (Math.abs(across) > 0.99)
    return { direction: 'across', ...sorted(size.from * across * ratio, size.to * across * ratio) };
  if (Math.abs(up) > 0.99)
    return { direction: 'up', ...sorted(-size.from * up * ratio, -size.to * up * ratio) };
  return undefined;
}
