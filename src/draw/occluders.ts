/**
 * What can hide something in a view: the faces that look at the viewer, as convex pieces with their depth, in a grid over the
 * view plane. A walk along an edge through the grid finds what lies in front of it without trying every face.
 */
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import type { ViewFrame } from './types.ts';

/** Depth in mm by which a face must be in front before it hides: touching boards don't hide each other. */
export const IN_FRONT = 0.02;
/** A face looks at the viewer from this cosine on; below it is seen edge-on. */
export const FACING = 3e-4;
/** By how much, mm, a piece is grown to close the seams between pieces; its rim is drawn by its own edges anyway. */
const GROWN = 5e-5;

/** The parts seen in a frame, in flat arrays. Vertices and faces are numbered through all parts. */
export interface Seen {
  readonly u: Float64Array;
  readonly v: Float64Array;
  /** Nearness: larger is nearer to the viewer. */
  readonly w: Float64Array;
  /** Number of a part's first vertex and first face. */
  readonly firstVertex: readonly number[];
  readonly firstFace: readonly number[];
  /** Per face: 1 looks at the viewer, -1 away, 0 edge-on. */
  readonly facing: Int8Array;
}

/** Projects all parts. */
export function seenFrom(parts: readonly PlacedPart[], frame: ViewFrame): Seen {
  let [vertexCount, faceCount] = [0, 0];
  const firstVertex: number[] = [];
  const firstFace: number[] = [];
  for (const part of parts) {
    firstVertex.push(vertexCount);
    firstFace.push(faceCount);
    vertexCount += part.vertices.length;
    faceCount += part.faces.length;
  }
  const [u, v, w] = [
    new Float64Array(vertexCount),
    new Float64Array(vertexCount),
    new Float64Array(vertexCount),
  ];
  const facing = new Int8Array(faceCount);
  const [[rx, ry, rz], [ux, uy, uz], [tx, ty, tz]] = [frame.right, frame.up, frame.toViewer];
  let [i, f] = [0, 0];
  for (const part of parts) {
    for (const [x, y, z] of part.vertices) {
      u[i] = x * rx + y * ry + z * rz;
      v[i] = x * ux + y * uy + z * uz;
      w[i++] = x * tx + y * ty + z * tz;
    }
    for (const { normal } of part.faces) {
      const cosine = normal[0] * tx + normal[1] * ty + normal[2] * tz;
      facing[f++] = cosine > FACING ? 1 : cosine < -FACING ? -1 : 0;
    }
  }
  return { u, v, w, firstVertex, firstFace, facing };
}

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
      if (seen.facing[id] !== 1) return;
      const plane = depthPlane(face, frame);
      for (const corners of convexPieces(part, face, seen.firstVertex[p] as number)) {
        let nearest = -Infinity;
        for (const c of corners) nearest = Math.max(nearest, seen.w[c] as number);
        drafts.push({ face: id, corners, nearest, plane });
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
  const lines: number[] = [];
  drafts.forEach((draft, i) => {
    face[i] = draft.face;
    plane.set(draft.plane, i * 3);
    nearest[i] = draft.nearest;
    // A steep face grown too far would seem to stand in front of what touches it.
    grown[i] = Math.min(GROWN, IN_FRONT / 4 / Math.max(Math.hypot(draft.plane[0], draft.plane[1]), 1e-9));
    const n = draft.corners.length;
    for (let k = 0; k < n; k++) {
      const [a, b] = [draft.corners[k] as number, draft.corners[(k + 1) % n] as number];
      const du = (seen.u[b] as number) - (seen.u[a] as number);
      const dv = (seen.v[b] as number) - (seen.v[a] as number);
      const length = Math.hypot(du, dv);
      if (length < 1e-9) continue;
      const [na, nb] = [-dv / length, du / length];
      lines.push(na, nb, -(na * (seen.u[a] as number) + nb * (seen.v[a] as number)));
    }
    start[i + 1] = lines.length;
  });
  return { count, face, plane, nearest, grown, start, lines: Float64Array.from(lines) };
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
  const low = new Float64Array(columns);
  const high = new Float64Array(columns);
  drafts.forEach(({ corners }, piece) => {
    low.fill(Infinity);
    high.fill(-Infinity);
    const n = corners.length;
    let [from, to] = [columns, -1];
    for (let k = 0; k < n; k++) {
      const [a, b] = [corners[k] as number, corners[(k + 1) % n] as number];
      inColumns(
        grid,
        seen.u[a] as number,
        seen.v[a] as number,
        seen.u[b] as number,
        seen.v[b] as number,
        (column, v0, v1) => {
          from = Math.min(from, column);
          to = Math.max(to, column);
          low[column] = Math.min(low[column] as number, v0);
          high[column] = Math.max(high[column] as number, v1);
        },
      );
    }
    for (let column = from; column <= to; column++) {
      const last = rowOf(grid, high[column] as number);
      for (let row = rowOf(grid, low[column] as number); row <= last; row++)
        grid.cells[row * columns + column]?.push(piece);
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

/** Visits the columns a segment passes, with the lowest and highest point it has in each. */
function inColumns(
  grid: Grid,
  au: number,
  av: number,
  bu: number,
  bv: number,
  visit: (column: number, low: number, high: number) => void,
): void {
  if (au > bu) {
    inColumns(grid, bu, bv, au, av, visit);
    return;
  }
  const first = columnOf(grid, au - MARGIN / grid.across);
  const last = columnOf(grid, bu + MARGIN / grid.across);
  if (first === last || bu - au < 1e-9) {
    for (let column = first; column <= last; column++)
      visit(column, Math.min(av, bv) - MARGIN / grid.up, Math.max(av, bv) + MARGIN / grid.up);
    return;
  }
  const slope = (bv - av) / (bu - au);
  const margin = MARGIN / grid.up + (Math.abs(slope) * MARGIN) / grid.across;
  for (let column = first; column <= last; column++) {
    const u0 = Math.max(au, grid.left + column / grid.across);
    const u1 = Math.min(bu, grid.left + (column + 1) / grid.across);
    const [v0, v1] = [av + slope * (u0 - au), av + slope * (u1 - au)];
    visit(column, Math.min(v0, v1) - margin, Math.max(v0, v1) + margin);
  }
}

/** A segment of the view with its depth at both ends. */
export interface Segment {
  readonly au: number;
  readonly av: number;
  readonly aw: number;
  readonly bu: number;
  readonly bv: number;
  readonly bw: number;
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
  const mark = ++occluders.mark;
  const found: number[] = [];
  const farthest = depth ? Math.min(line.aw, line.bw) + IN_FRONT : -Infinity;
  let whole = false;
  inColumns(grid, line.au, line.av, line.bu, line.bv, (column, low, high) => {
    if (whole) return;
    const last = rowOf(grid, high);
    for (let row = rowOf(grid, low); row <= last; row++) {
      const cell = grid.cells[row * grid.columns + column] as number[];
      for (const piece of cell) {
        // Nearest first: the rest of the cell lies behind the whole edge.
        if ((pieces.nearest[piece] as number) <= farthest) break;
        if (tried[piece] === mark) continue;
        tried[piece] = mark;
        if (depth && (pieces.face[piece] === own1 || pieces.face[piece] === own2)) continue;
        if (!hides(pieces, piece, line, depth, found)) continue;
        whole = true;
        return;
      }
    }
  });
  return whole ? [0, 1] : joined(found);
}

/** Adds the stretch that a piece hides; true where that is the whole segment. */
function hides(pieces: Pieces, piece: number, line: Segment, depth: boolean, found: number[]): boolean {
  const { lines, start, plane } = pieces;
  const grown = pieces.grown[piece] as number;
  let t0 = 0;
  let t1 = 1;
  for (let k = start[piece] as number; k < (start[piece + 1] as number); k += 3) {
    const [a, b, c] = [lines[k] as number, lines[k + 1] as number, (lines[k + 2] as number) + grown];
    const s0 = a * line.au + b * line.av + c;
    const s1 = a * line.bu + b * line.bv + c;
    if (s0 < 0) {
      if (s1 <= 0) return false;
      t0 = Math.max(t0, s0 / (s0 - s1));
    } else if (s1 < 0) t1 = Math.min(t1, s0 / (s0 - s1));
    if (t0 >= t1) return false;
  }
  if (depth) {
    const [p, q, r] = [
      plane[piece * 3] as number,
      plane[piece * 3 + 1] as number,
      plane[piece * 3 + 2] as number,
    ];
    const atA = p * line.au + q * line.av + r - line.aw;
    const atB = p * line.bu + q * line.bv + r - line.bw;
    const g0 = atA + (atB - atA) * t0;
    const g1 = atA + (atB - atA) * t1;
    if (g0 <= IN_FRONT && g1 <= IN_FRONT) return false;
    // Where the edge passes through the face it is cut at the very crossing, not where the face is clearly in front.
    if (g0 < 0) t0 = atA / (atA - atB);
    else if (g1 < 0) t1 = atA / (atA - atB);
  }
  if (t0 <= 0 && t1 >= 1) return true;
  found.push(t0, t1);
  return false;
}

/** Joins stretches that overlap or touch, in order. */
function joined(pairs: readonly number[]): number[] {
  if (pairs.length <= 2) return [...pairs];
  const order: [number, number][] = [];
  for (let i = 0; i < pairs.length; i += 2) order.push([pairs[i] as number, pairs[i + 1] as number]);
  order.sort((a, b) => a[0] - b[0]);
  const out: number[] = [];
  for (const [from, to] of order) {
    if (out.length > 0 && from <= (out[out.length - 1] as number) + 1e-12)
      out[out.length - 1] = Math.max(out[out.length - 1] as number, to);
    else out.push(from, to);
  }
  return out;
}
