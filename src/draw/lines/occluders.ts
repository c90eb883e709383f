/**
 * What can hide something in a view: the faces that look at the viewer, as convex pieces with their depth, in a grid over the
 * view plane. A walk along an edge through the grid finds what lies in front of it without trying every face.
 */
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import type { ViewFrame } from '../types.ts';
import { FACING, type Seen } from './seen.ts';

/** Depth in mm by which a face must be in front before it hides: touching boards don't hide each other. */
export const IN_FRONT = 0.02;
/** By how much, mm, a piece is grown to close the seams between pieces; its rim is drawn by its own edges anyway. */
const GROWN = 5e-5;

/** Convex pieces of the faces that look at the viewer, nearest first. */
interface Pieces {
  readonly count: number;
  readonly face: Int32Array;
  /** Depth of the piece's plane: w = p u + q v + r. */
  readonly plane: Float64Array;
  readonly nearest: Float64Array;
  readonly grown: Float64Array;
  /** Inner side of each border line: a u + b v + c ≥ 0, from `start[i]` to `start[i + 1]`, three numbers a line. */
  readonly start: Int32Array;
  readonly lines: Float64Array;
}

interface Draft {
  readonly face: number;
  readonly corners: readonly number[];
  readonly nearest: number;
  readonly plane: readonly [number, number, number];
}

/** Everything that can hide, ready to be asked. */
export interface Occluders {
  readonly pieces: Pieces;
  readonly grid: Grid;
  /** Marks the pieces tried for the edge in hand. */
  readonly tried: Int32Array;
  mark: number;
}

interface Grid {
  readonly left: number;
  readonly bottom: number;
  /** Cells a millimetre. */
  readonly across: number;
  readonly up: number;
  readonly columns: number;
  readonly rows: number;
  readonly cells: readonly number[][];
}

/** Gathers the pieces of a view and lays them into its grid. */
export function occludersOf(parts: readonly PlacedPart[], seen: Seen, frame: ViewFrame): Occluders {
  const drafts: Draft[] = [];
  parts.forEach((part, p) => {
    part.faces.forEach((face, f) => {
      const id = (seen.firstFace[p] as number) + f;
      // What lies in a hole that isn't seen into hides nothing that its part doesn't.
      if (seen.facing[id] !== 1 || seen.blind[id] === 1) return;
      const plane = depthPlane(face, frame);
      for (const corners of convexPieces(part, face, seen.firstVertex[p] as number)) {
        let nearest = -Infinity;
        for (const c of corners) nearest = Math.max(nearest, seen.w[c] as number);
        const bent = face.round !== undefined && corners.some((c) => seen.moved[c] === 1);
        drafts.push({ face: id, corners, nearest, plane: (bent && planeThrough(corners, seen)) || plane });
      }
    });
  });
  drafts.sort((a, b) => b.nearest - a.nearest || a.face - b.face);
  const pieces = packed(drafts, seen);
  return { pieces, grid: gridOf(drafts, seen), tried: new Int32Array(pieces.count), mark: 0 };
}

/** Depth over the view plane of a face that looks at the viewer. */
export function depthPlane(face: SolidFace, frame: ViewFrame): readonly [number, number, number] {
  const [x, y, z] = face.normal;
  const along = (axis: readonly [number, number, number]) => x * axis[0] + y * axis[1] + z * axis[2];
  const cosine = along(frame.toViewer);
  return [-along(frame.right) / cosine, -along(frame.up) / cosine, face.offset / cosine];
}

/** Depth over the view plane of a facet whose corners were moved; undefined where it is seen edge-on. */
function planeThrough(corners: readonly number[], seen: Seen): readonly [number, number, number] | undefined {
  // Newell's sum: the normal of the polygon, whichever of its corners lie in a row.
  let [nu, nv, nw] = [0, 0, 0];
  let [mu, mv, mw] = [0, 0, 0];
  corners.forEach((c, i) => {
    const d = corners[(i + 1) % corners.length] as number;
    const [au, av, aw] = [seen.u[c] as number, seen.v[c] as number, seen.w[c] as number];
    const [bu, bv, bw] = [seen.u[d] as number, seen.v[d] as number, seen.w[d] as number];
    nu += (av - bv) * (aw + bw);
    nv += (aw - bw) * (au + bu);
    nw += (au - bu) * (av + bv);
    mu += au / corners.length;
    mv += av / corners.length;
    mw += aw / corners.length;
  });
  if (!(nw > FACING * Math.hypot(nu, nv, nw))) return undefined;
  return [-nu / nw, -nv / nw, mw + (nu * mu + nv * mv) / nw];
}

/** A convex face is one piece; another is taken by its triangles. */
function convexPieces(part: PlacedPart, face: SolidFace, first: number): (readonly number[])[] {
  if (face.convex) return [(face.loops[0] as readonly number[]).map((c) => c + first)];
  return face.triangles.map((t) => (part.triangles[t] as readonly number[]).map((c) => c + first));
}

function packed(drafts: readonly Draft[], seen: Seen): Pieces {
  const count = drafts.length;
  const face = new Int32Array(count);
  const plane = new Float64Array(count * 3);
  const nearest = new Float64Array(count);
  const grown = new Float64Array(count);
  const start = new Int32Array(count + 1);
  let sides = 0;
  for (const { corners } of drafts) sides += corners.length;
  const lines = new Float64Array(sides * 3);
  let at = 0;
  drafts.forEach((draft, i) => {
    face[i] = draft.face;
    plane.set(draft.plane, i * 3);
    nearest[i] = draft.nearest;
    // A steep face grown too far would seem to stand in front of what touches it.
    grown[i] = Math.min(GROWN, IN_FRONT / 4 / Math.max(Math.hypot(draft.plane[0], draft.plane[1]), 1e-9));
    const n = draft.corners.length;
    for (let k = 0; k < n; k++) {
      const a = draft.corners[k] as number;
      const b = draft.corners[k + 1 < n ? k + 1 : 0] as number;
      const du = (seen.u[b] as number) - (seen.u[a] as number);
      const dv = (seen.v[b] as number) - (seen.v[a] as number);
      const length = Math.sqrt(du * du + dv * dv);
      if (length < 1e-9) continue;
      const na = -dv / length;
      const nb = du / length;
      lines[at] = na;
      lines[at + 1] = nb;
      lines[at + 2] = -(na * (seen.u[a] as number) + nb * (seen.v[a] as number));
      at += 3;
    }
    start[i + 1] = at;
  });
  return { count, face, plane, nearest, grown, start, lines };
}

function gridOf(drafts: readonly Draft[], seen: Seen): Grid {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < seen.u.length; i++) {
    left = Math.min(left, seen.u[i] as number);
    right = Math.max(right, seen.u[i] as number);
    bottom = Math.min(bottom, seen.v[i] as number);
    top = Math.max(top, seen.v[i] as number);
  }
  const [width, height] = [Math.max(right - left, 1e-3), Math.max(top - bottom, 1e-3)];
  const cell = Math.sqrt((width * height) / Math.max(drafts.length, 1));
  const columns = Math.min(256, Math.max(1, Math.ceil(width / cell)));
  const rows = Math.min(256, Math.max(1, Math.ceil(height / cell)));
  const grid: Grid = {
    left,
    bottom,
    across: columns / width,
    up: rows / height,
    columns,
    rows,
    cells: Array.from({ length: columns * rows }, () => []),
  };
  const low = new Float64Array(columns).fill(Infinity);
  const high = new Float64Array(columns).fill(-Infinity);
  drafts.forEach(({ corners }, piece) => {
    const n = corners.length;
    let from = columns;
    let to = -1;
    for (let k = 0; k < n; k++) {
      const a = corners[k] as number;
      const b = corners[(k + 1) % n] as number;
      const span = spanOf(
        grid,
        seen.u[a] as number,
        seen.v[a] as number,
        seen.u[b] as number,
        seen.v[b] as number,
      );
      from = Math.min(from, span.first);
      to = Math.max(to, span.last);
      for (let column = span.first; column <= span.last; column++) {
        low[column] = Math.min(low[column] as number, lowest(grid, span, column));
        high[column] = Math.max(high[column] as number, highest(grid, span, column));
      }
    }
    for (let column = from; column <= to; column++) {
      const last = rowOf(grid, high[column] as number);
      for (let row = rowOf(grid, low[column] as number); row <= last; row++)
        grid.cells[row * columns + column]?.push(piece);
      low[column] = Infinity;
      high[column] = -Infinity;
    }
  });
  return grid;
}

/** Rounding margin in cells, so that what lies on a border is found from both sides. */
const MARGIN = 1e-6;

const columnOf = (grid: Grid, u: number): number =>
  Math.max(0, Math.min(grid.columns - 1, Math.floor((u - grid.left) * grid.across)));
const rowOf = (grid: Grid, v: number): number =>
  Math.max(0, Math.min(grid.rows - 1, Math.floor((v - grid.bottom) * grid.up)));

/** The columns a segment passes, and the segment itself from left to right. */
interface Span {
  first: number;
  last: number;
  u: number;
  v: number;
  end: number;
  low: number;
  high: number;
  /** Rise of the segment; 0 where it stays in one column, and its whole height counts there. */
  slope: number;
}

/** The span in hand: good until the next is asked for, so that thousands of edges bring no new objects. */
const inHand: Span = { first: 0, last: 0, u: 0, v: 0, end: 0, low: 0, high: 0, slope: 0 };

function spanOf(grid: Grid, au: number, av: number, bu: number, bv: number): Span {
  const span = inHand;
  const forward = au <= bu;
  span.u = forward ? au : bu;
  span.v = forward ? av : bv;
  span.end = forward ? bu : au;
  const w = forward ? bv : av;
  span.first = columnOf(grid, span.u - MARGIN / grid.across);
  span.last = columnOf(grid, span.end + MARGIN / grid.across);
  span.low = Math.min(span.v, w);
  span.high = Math.max(span.v, w);
  const upright = span.first === span.last || span.end - span.u < 1e-9;
  span.slope = upright ? 0 : (w - span.v) / (span.end - span.u);
  return span;
}

/** The lowest and the highest point a segment has in a column, with a margin. */
function lowest(grid: Grid, span: Span, column: number): number {
  return (span.slope === 0 ? span.low : sloping(grid, span, column, span.slope < 0)) - MARGIN / grid.up;
}

function highest(grid: Grid, span: Span, column: number): number {
  return (span.slope === 0 ? span.high : sloping(grid, span, column, span.slope > 0)) + MARGIN / grid.up;
}

/** Height of a sloping segment at a column's right or left side, or at its own end within the column. */
function sloping(grid: Grid, span: Span, column: number, right: boolean): number {
  const side = grid.left + (column + (right ? 1 + MARGIN : -MARGIN)) / grid.across;
  const u = Math.max(span.u, Math.min(span.end, side));
  return span.v + span.slope * (u - span.u);
}

/** A segment of the view with its depth at both ends; filled anew for each edge. */
export interface Segment {
  au: number;
  av: number;
  aw: number;
  bu: number;
  bv: number;
  bw: number;
}

/**
 * The stretches of a segment that something covers, as pairs from 0 to 1, joined and in order. With `depth` only what lies in
 * front of the segment counts, and the faces `own1` and `own2`, between which the edge lies, don't; without, anything does.
 */
export function covered(
  occluders: Occluders,
  line: Segment,
  depth: boolean,
  own1: number,
  own2: number,
): number[] {
  const { grid, pieces, tried } = occluders;
  const { nearest, face } = pieces;
  const mark = ++occluders.mark;
  const found: number[] = [];
  const farthest = depth ? Math.min(line.aw, line.bw) + IN_FRONT : -Infinity;
  const span = spanOf(grid, line.au, line.av, line.bu, line.bv);
  for (let column = span.first; column <= span.last; column++) {
    const low = lowest(grid, span, column);
    const last = rowOf(grid, highest(grid, span, column));
    for (let row = rowOf(grid, low); row <= last; row++) {
      const cell = grid.cells[row * grid.columns + column] as number[];
      for (let i = 0; i < cell.length; i++) {
        const piece = cell[i] as number;
        // Nearest first: the rest of the cell lies behind the whole edge.
        if ((nearest[piece] as number) <= farthest) break;
        if (tried[piece] === mark) continue;
        tried[piece] = mark;
        if (depth && (face[piece] === own1 || face[piece] === own2)) continue;
        if (hides(pieces, piece, line, depth, found)) return found;
      }
    }
  }
  return found;
}

/** Adds the stretch that a piece hides; true where the whole segment is hidden by now. */
function hides(pieces: Pieces, piece: number, line: Segment, depth: boolean, found: number[]): boolean {
  const { lines, start, plane } = pieces;
  const { au, av, bu, bv } = line;
  const grown = pieces.grown[piece] as number;
  const end = start[piece + 1] as number;
  let t0 = 0;
  let t1 = 1;
  for (let k = start[piece] as number; k < end; k += 3) {
    const a = lines[k] as number;
    const b = lines[k + 1] as number;
    const c = (lines[k + 2] as number) + grown;
    const s0 = a * au + b * av + c;
    const s1 = a * bu + b * bv + c;
    if (s0 < 0) {
      if (s1 <= 0) return false;
      const t = s0 / (s0 - s1);
      if (t > t0) t0 = t;
    } else if (s1 < 0) {
      const t = s0 / (s0 - s1);
      if (t < t1) t1 = t;
    }
    if (t0 >= t1) return false;
  }
  if (depth) {
    const p = plane[piece * 3] as number;
    const q = plane[piece * 3 + 1] as number;
    const r = plane[piece * 3 + 2] as number;
    const atA = p * au + q * av + r - line.aw;
    const atB = p * bu + q * bv + r - line.bw;
    const g0 = atA + (atB - atA) * t0;
    const g1 = atA + (atB - atA) * t1;
    if (g0 <= IN_FRONT && g1 <= IN_FRONT) return false;
    // Where the edge passes through the face it is cut at the very crossing, not where the face is clearly in front.
    if (g0 < 0) t0 = atA / (atA - atB);
    else if (g1 < 0) t1 = atA / (atA - atB);
  }
  include(found, t0, t1);
  return found.length === 2 && (found[0] as number) <= 0 && (found[1] as number) >= 1;
}

/** Puts a stretch into a list of stretches that is in order and without overlaps, and keeps it so. */
function include(list: number[], from: number, to: number): void {
  let i = 0;
  while (i < list.length && (list[i + 1] as number) < from - 1e-12) i += 2;
  if (i >= list.length || (list[i] as number) > to + 1e-12) {
    list.splice(i, 0, from, to);
    return;
  }
  if (from < (list[i] as number)) list[i] = from;
  let high = Math.max(to, list[i + 1] as number);
  let k = i + 2;
  while (k < list.length && (list[k] as number) <= high + 1e-12) {
    high = Math.max(high, list[k + 1] as number);
    k += 2;
  }
  list[i + 1] = high;
  if (k > i + 2) list.splice(i + 2, k - i - 2);
}
