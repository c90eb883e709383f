/**
 * Hidden-line removal: which stretches of the parts' edges are seen in a view, and which lie behind something. Each edge is
 * walked through the faces in front of it, and the stretches they hide are taken off. Boards that touch don't hide each
 * other's edges; of edges that fall on one line, one line is drawn.
 */
import type { PlacedPart } from '../geometry/types.ts';
import { LEAST, LineBook } from './line-book.ts';
import { covered, occludersOf, type Seen, type Segment, seenFrom } from './occluders.ts';
import type { ViewFrame, ViewLine } from './types.ts';

/** How far beside an edge, mm, nothing must be for the edge to be on the outline of the whole. */
const BESIDE = 0.03;
/** The outline is found beside the edge, so its ends are taken from the edge's visible stretches this near, mm. */
const SNAPPED = 0.3;

interface EdgeSeen extends Segment {
  readonly copy: number;
  readonly length: number;
  readonly left: number;
  readonly right: number;
}

/** Options of a view's lines. */
export interface LineOptions {
  /** False leaves hidden lines out: pictorials don't need them. */
  readonly hidden?: boolean;
}

/**
 * All lines of a view in millimetres of the piece, before scale: visible and hidden, collinear runs of the same copies joined.
 * A hidden line under a visible one is left out. `copies` of a visible line are those whose edge is seen there.
 */
export function viewLines(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  options: LineOptions = {},
): ViewLine[] {
  const seen = seenFrom(parts, frame);
  const occluders = occludersOf(parts, seen, frame);
  const edges = edgesSeen(parts, seen);
  const book = new LineBook(middleOf(seen));
  const withHidden = options.hidden !== false;
  for (const edge of edges) {
    const [left, right] = [seen.facing[edge.left] as number, seen.facing[edge.right] as number];
    // Behind both its faces an edge can't be seen: its own board is in front of it.
    const behind = left !== 1 && right !== 1;
    if (behind && !withHidden) continue;
    const hidden = behind
      ? [0, 1]
      : cleaned(covered(occluders, edge, true, edge.left, edge.right), edge.length);
    const whole = hidden[0] === 0 && hidden[1] === 1;
    if (whole && !withHidden) continue;
    const at = book.place(edge.au, edge.av, edge.bu, edge.bv);
    if (withHidden)
      for (let i = 0; i < hidden.length; i += 2)
        book.add(at, hidden[i] as number, hidden[i + 1] as number, 'hidden', edge.copy);
    if (whole) continue;
    const visible = rest(hidden);
    for (let i = 0; i < visible.length; i += 2)
      book.add(at, visible[i] as number, visible[i + 1] as number, 'visible', edge.copy);
    if (left === 1 && right === 1) continue;
    const around = covered(occluders, beside(edge, left === 1), false, -1, -1);
    const outline = snapped(rest(cleaned(around, edge.length)), visible, SNAPPED / edge.length);
    for (let i = 0; i < outline.length; i += 2)
      book.add(at, outline[i] as number, outline[i + 1] as number, 'outline', edge.copy);
  }
  return book.lines(parts.map((part) => part.copy));
}

/** The edges that can give a line, longest first: sharp ones, and of smooth ones those where the surface turns away. */
function edgesSeen(parts: readonly PlacedPart[], seen: Seen): EdgeSeen[] {
  const edges: EdgeSeen[] = [];
  parts.forEach((part, copy) => {
    const [vertex, face] = [seen.firstVertex[copy] as number, seen.firstFace[copy] as number];
    for (const edge of part.edges) {
      const [left, right] = [face + edge.left, face + edge.right];
      if (edge.smooth && (seen.facing[left] === 1) === (seen.facing[right] === 1)) continue;
      const [a, b] = [vertex + edge.a, vertex + edge.b];
      const [au, av, aw] = [seen.u[a] as number, seen.v[a] as number, seen.w[a] as number];
      const [bu, bv, bw] = [seen.u[b] as number, seen.v[b] as number, seen.w[b] as number];
      const length = Math.hypot(bu - au, bv - av);
      // Seen end-on it is a point, and the edges that meet there show it.
      if (length < 1e-3) continue;
      edges.push({ au, av, aw, bu, bv, bw, copy, length, left, right });
    }
  });
  return edges
    .map((edge, i) => ({ edge, i }))
    .sort((a, b) => b.edge.length - a.edge.length || a.i - b.i)
    .map(({ edge }) => edge);
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

/** The edge moved a hair to the outside of the face that is seen: that face lies on the left of a→b, or on its right. */
function beside(edge: EdgeSeen, faceOnLeft: boolean): Segment {
  const away = (faceOnLeft ? BESIDE : -BESIDE) / edge.length;
  const [du, dv] = [(edge.bv - edge.av) * away, (edge.au - edge.bu) * away];
  return { ...edge, au: edge.au + du, av: edge.av + dv, bu: edge.bu + du, bv: edge.bv + dv };
}

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
