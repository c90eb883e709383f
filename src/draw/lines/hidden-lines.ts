/**
 * Hidden-line removal: which stretches of the parts' edges are seen in a view, and which lie behind something. Each edge is
 * walked through the faces in front of it, and the stretches they hide are taken off. Boards that touch don't hide each
 * other's edges; of edges that fall on one line, one line is drawn.
 */
import type { PlacedPart, SolidEdge } from '../../geometry/types.ts';
import { dot } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import type { Point, ViewArc, ViewFrame, ViewLine } from '../types.ts';
import { ArcBook, type Ellipse, ellipseOf } from './arc-book.ts';
import type { Crossing } from './crossings.ts';
import { LEAST, LineBook, type PieceState } from './line-book.ts';
import { covered, occludersOf, type Segment } from './occluders.ts';
import { project } from './project.ts';
import { type Roundness, roundnessOf } from './rims.ts';
import { type Seen, seenFrom } from './seen.ts';

/** How far beside an edge, mm, nothing must be for the edge to be on the outline of the whole. */
const BESIDE = 0.03;
/** The outline is found beside the edge, so its ends are taken from the edge's visible stretches this near, mm. */
const SNAPPED = 0.3;

/** The edges of a view that can give a line, in flat arrays. */
interface EdgesSeen {
  readonly count: number;
  /** Vertices at both ends, faces on both sides, copy: five numbers an edge. */
  readonly ends: Int32Array;
  readonly length: Float64Array;
  /** Of each edge its number among the edges of its part. */
  readonly own: Int32Array;
  /** Longest first: a long edge gives the line that shorter ones are found on. */
  readonly order: Uint32Array;
}

/** Options of a view's lines. */
export interface LineOptions {
  /** False leaves hidden lines out: pictorials don't need them. */
  readonly hidden?: boolean;
}

/**
 * All lines of a view in millimetres of the piece, before scale: visible and hidden, collinear runs of the same copies joined.
 * A hidden line under a visible one is left out. `copies` of a visible line are those whose edge is seen there. Curves come out as the
 * chords of their facets; `viewCurves` gives them as arcs, or as fine chords.
 */
export function viewLines(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  options: LineOptions = {},
): ViewLine[] {
  return linesAndArcs(parts, frame, options, false).lines;
}

/** As `viewLines`, with rims of curved surfaces as arcs; the lines have no part in them. */
export function viewCurves(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  options: LineOptions = {},
): { lines: ViewLine[]; arcs: ViewArc[] } {
  return linesAndArcs(parts, frame, options, true);
}

function linesAndArcs(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  options: LineOptions,
  withArcs: boolean,
): { lines: ViewLine[]; arcs: ViewArc[] } {
  const seen = seenFrom(parts, frame);
  const occluders = occludersOf(parts, seen, frame);
  const withHidden = options.hidden !== false;
  const book = new LineBook(middleOf(seen));
  const arcBook = new ArcBook();
  const ellipses = withArcs ? ellipsesOf(parts, frame) : undefined;
  const noted = ellipses && withHidden ? hiddenRims(parts, seen, ellipses, arcBook) : undefined;
  const edges = edgesSeen(parts, seen, withHidden, noted);
  const curves = withArcs ? parts.map((part) => roundnessOf(part)?.curveOf) : undefined;
  const line: Segment = { au: 0, av: 0, aw: 0, bu: 0, bv: 0, bw: 0 };
  for (const edge of edges.order) {
    const first = edge * 5;
    const left = edges.ends[first + 2] as number;
    const right = edges.ends[first + 3] as number;
    const copy = edges.ends[first + 4] as number;
    const length = edges.length[edge] as number;
    const [facingLeft, facingRight] = [seen.facing[left] as number, seen.facing[right] as number];
    // Behind both its faces an edge can't be seen: its own board is in front of it. (The far edge of a face seen edge-on can.) Nor in a
    // hole that isn't seen into.
    const behind = isBehind(seen, left) && isBehind(seen, right);
    if (behind && !withHidden) continue;
    setSegment(line, seen, edges.ends[first] as number, edges.ends[first + 1] as number);
    const hidden = behind ? [0, 1] : cleaned(covered(occluders, line, true, left, right), length);
    const whole = hidden[0] === 0 && hidden[1] === 1;
    if (whole && !withHidden) continue;
    const curve = curves?.[copy]?.get(edges.own[edge] as number);
    const ellipse = curve ? circleOf(curve, frame) : rimSeen(ellipses, copy, edges.own[edge] as number);
    const straight = ellipse === undefined && curve === undefined;
    const at = straight ? book.place(line.au, line.av, line.bu, line.bv) : undefined;
    const chord = { au: line.au, av: line.av, bu: line.bu, bv: line.bv };
    const add = (stretches: readonly number[], state: PieceState): void => {
      if (at !== undefined) book.add(at, stretches, state, copy);
      else if (ellipse !== undefined) arcBook.add(ellipse, chord, stretches, state, copy);
      else if (curve !== undefined) addCurve(book, curve.points, frame, stretches, state, copy);
    };
    if (withHidden) add(hidden, 'hidden');
    if (whole) continue;
    const visible = rest(hidden);
    add(visible, 'visible');
    if (facingLeft > 0 && facingRight > 0) continue;
    moveBeside(line, length, facingLeft > facingRight);
    const beside = rest(cleaned(covered(occluders, line, false, -1, -1), length));
    if (beside.length > 0) add(snapped(beside, visible, SNAPPED / length), 'outline');
  }
  const copies = parts.map((part) => part.copy);
  return { lines: book.lines(copies), arcs: arcBook.arcs(copies) };
}

/** True for a face that can't be seen: one that looks away, or in a hole that isn't seen into. */
const isBehind = (seen: Seen, face: number): boolean =>
  (seen.facing[face] as number) < 0 || seen.blind[face] === 1;

/** Of each part its rims as they are seen; each is projected once. */
type RimsSeen = readonly (
  | { readonly round: Roundness; readonly ellipses: readonly (Ellipse | undefined)[] }
  | undefined
)[];

const ellipsesOf = (parts: readonly PlacedPart[], frame: ViewFrame): RimsSeen =>
  parts.map((part) => {
    const round = roundnessOf(part);
    return round && { round, ellipses: round.rims.map((rim) => ellipseOf(rim, frame)) };
  });

/** The ellipse that an edge of a copy is seen on, where it is a chord of one. */
function rimSeen(rims: RimsSeen | undefined, copy: number, edge: number): Ellipse | undefined {
  const own = rims?.[copy];
  return own?.ellipses[own.round.rimOf[edge] as number];
}

/** Notes rims that are hidden all round as one, which most are; gives for each part which of its edges are noted by that. */
function hiddenRims(
  parts: readonly PlacedPart[],
  seen: Seen,
  rims: RimsSeen,
  book: ArcBook,
): (Uint8Array | undefined)[] {
  return parts.map((part, copy) => {
    const own = rims[copy];
    if (own === undefined || own.round.whole.size === 0) return undefined;
    const first = seen.firstFace[copy] as number;
    const noted = new Uint8Array(part.edges.length);
    for (const [rim, edges] of own.round.whole) {
      const ellipse = own.ellipses[rim];
      const behind = edges.every((e) => {
        const { left, right, smooth } = part.edges[e] as SolidEdge;
        return !smooth && isBehind(seen, first + left) && isBehind(seen, first + right);
      });
      if (ellipse === undefined || !behind) continue;
      book.addWhole(ellipse, 'hidden', copy);
      for (const e of edges) noted[e] = 1;
    }
    return noted;
  });
}

/** The circle that a curve is seen on where one of its cylinders is seen end-on: other curves on that cylinder are seen there too. */
function circleOf({ cylinders }: Crossing, frame: ViewFrame): Ellipse | undefined {
  const round = cylinders.find(({ axis }) => Math.abs(dot(axis, frame.toViewer)) > 1 - 1e-9);
  return round && { centre: project(round.origin, frame), rx: round.radius, ry: round.radius, rotation: 0 };
}

/** Notes stretches of a chord as pieces of the curve that it stands for. */
function addCurve(
  book: LineBook,
  curve: readonly Vec3[],
  frame: ViewFrame,
  stretches: readonly number[],
  state: PieceState,
  copy: number,
): void {
  const points = curve.map((p) => project(p, frame));
  const count = points.length - 1;
  const pointAt = (t: number): Point => {
    const i = Math.min(count - 1, Math.floor(t * count));
    const [p, q] = [points[i], points[i + 1]] as [Point, Point];
    const rest = t * count - i;
    return [p[0] + (q[0] - p[0]) * rest, p[1] + (q[1] - p[1]) * rest];
  };
  for (let k = 0; k < stretches.length; k += 2) {
    const [from, to] = [stretches[k] as number, stretches[k + 1] as number];
    let last = pointAt(from);
    for (let i = Math.floor(from * count) + 1; i <= Math.ceil(to * count); i++) {
      const next = pointAt(Math.min(to, i / count));
      if (Math.hypot(next[0] - last[0], next[1] - last[1]) > 1e-3)
        book.add(book.place(last[0], last[1], next[0], next[1]), [0, 1], state, copy);
      last = next;
    }
  }
}

/** Gathers the edges that can give a line: sharp ones that aren't `noted` yet, and of smooth ones those where the surface turns away. */
function edgesSeen(
  parts: readonly PlacedPart[],
  seen: Seen,
  withHidden: boolean,
  noted: readonly (Uint8Array | undefined)[] | undefined,
): EdgesSeen {
  const most = parts.reduce((sum, part) => sum + part.edges.length, 0);
  const ends = new Int32Array(most * 5);
  const length = new Float64Array(most);
  const own = new Int32Array(most);
  let count = 0;
  parts.forEach((part, copy) => {
    const [vertex, face] = [seen.firstVertex[copy] as number, seen.firstFace[copy] as number];
    const done = noted?.[copy];
    for (let e = 0; e < part.edges.length; e++) {
      if (done?.[e] === 1) continue;
      const edge = part.edges[e] as SolidEdge;
      const left = face + edge.left;
      const right = face + edge.right;
      if (!withHidden && seen.blind[left] === 1 && seen.blind[right] === 1) continue;
      if (edge.smooth && (seen.facing[left] === 1) === (seen.facing[right] === 1)) continue;
      const a = vertex + edge.a;
      const b = vertex + edge.b;
      const du = (seen.u[b] as number) - (seen.u[a] as number);
      const dv = (seen.v[b] as number) - (seen.v[a] as number);
      const long = Math.sqrt(du * du + dv * dv);
      // Seen end-on it is a point, and the edges that meet there show it.
      if (long < 1e-3) continue;
      const at = count * 5;
      ends[at] = a;
      ends[at + 1] = b;
      ends[at + 2] = left;
      ends[at + 3] = right;
      ends[at + 4] = copy;
      own[count] = e;
      length[count++] = long;
    }
  });
  const order = Uint32Array.from({ length: count }, (_, i) => i);
  order.sort((p, q) => (length[q] as number) - (length[p] as number) || p - q);
  return { count, ends, length, own, order };
}

function setSegment(line: Segment, seen: Seen, a: number, b: number): void {
  line.au = seen.u[a] as number;
  line.av = seen.v[a] as number;
  line.aw = seen.w[a] as number;
  line.bu = seen.u[b] as number;
  line.bv = seen.v[b] as number;
  line.bw = seen.w[b] as number;
}

/** Moves a segment a hair to the outside of the face that is seen: that lies on the left of a→b, or on its right. */
function moveBeside(line: Segment, length: number, faceOnLeft: boolean): void {
  const away = (faceOnLeft ? BESIDE : -BESIDE) / length;
  const du = (line.bv - line.av) * away;
  const dv = (line.au - line.bu) * away;
  line.au += du;
  line.bu += du;
  line.av += dv;
  line.bv += dv;
}

/** Gives slivers to their neighbours: first visible ones, then hidden ones. */
function cleaned(hidden: readonly number[], length: number): number[] {
  const least = LEAST / length;
  if (hidden.length === 0) return [];
  if (least >= 1) return total(hidden) > 0.5 ? [0, 1] : [];
  const closed: number[] = [];
  for (let i = 0; i < hidden.length; i += 2) {
    const [from, to] = [hidden[i] as number, hidden[i + 1] as number];
    const before = closed.length === 0 ? 0 : (closed[closed.length - 1] as number);
    if (from - before >= least) closed.push(from, to);
    else if (closed.length === 0) closed.push(0, to);
    else closed[closed.length - 1] = to;
  }
  if (1 - (closed[closed.length - 1] as number) < least) closed[closed.length - 1] = 1;
  const kept: number[] = [];
  for (let i = 0; i < closed.length; i += 2) {
    const [from, to] = [closed[i] as number, closed[i + 1] as number];
    if (to - from >= least) kept.push(from, to);
  }
  return kept;
}

function total(stretches: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < stretches.length; i += 2)
    sum += (stretches[i + 1] as number) - (stretches[i] as number);
  return sum;
}

/** What a list of stretches leaves of 0 to 1. */
function rest(taken: readonly number[]): number[] {
  const out: number[] = [];
  let at = 0;
  for (let i = 0; i < taken.length; i += 2) {
    if ((taken[i] as number) > at) out.push(at, taken[i] as number);
    at = taken[i + 1] as number;
  }
  if (at < 1) out.push(at, 1);
  return out;
}

/** Moves the ends of stretches to the ends of others that are next to them. */
const snapped = (stretches: readonly number[], ends: readonly number[], within: number): number[] =>
  stretches.map((t) => ends.find((end) => Math.abs(end - t) <= within) ?? t);

function middleOf(seen: Seen): [number, number] {
  const mean = (values: Float64Array): number => {
    let [low, high] = [Infinity, -Infinity];
    for (const value of values) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    return values.length === 0 ? 0 : (low + high) / 2;
  };
  return [mean(seen.u), mean(seen.v)];
}
