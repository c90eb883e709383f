/**
 * Gathers pieces of edges by the straight line of the view they lie on, so that edges on one line are drawn once: visible wins
 * over hidden, and each piece names exactly the copies it belongs to.
 */
import type { Point, ViewLine } from './types.ts';

/** Two edges lie on one line when both ends of one are within this of the other's line, mm; ends this close are one. */
const ON_LINE = 0.01;
/** Stretches shorter than this between two others, mm, are rounding. */
export const LEAST = 0.05;
/** Cells of the search for lines: direction in radians and distance from the middle in mm. */
const TURN_CELL = 2e-3;
const SHIFT_CELL = 0.5;
const TURN_CELLS = Math.ceil(Math.PI / TURN_CELL);

export type PieceState = 'visible' | 'hidden' | 'outline';

interface Piece {
  readonly from: number;
  readonly to: number;
  readonly state: PieceState;
  readonly copy: number;
}

interface Carrier {
  readonly u: number;
  readonly v: number;
  readonly du: number;
  readonly dv: number;
  readonly pieces: Piece[];
}

/** A place on a line that an edge has found: what `add` needs. */
export interface OnLine {
  readonly line: number;
  /** Distance along the line of the edge's first point, and per unit of the edge's parameter. */
  readonly start: number;
  readonly stretch: number;
}

/** The lines of one view. */
export class LineBook {
  private readonly carriers: Carrier[] = [];
  private readonly cells = new Map<number, number[]>();
  private readonly middle: Point;

  constructor(middle: Point) {
    this.middle = middle;
  }

  /** Finds the line an edge lies on, or opens a new one. Edges are best given longest first. */
  place(au: number, av: number, bu: number, bv: number): OnLine {
    const line = this.find(au, av, bu, bv) ?? this.open(au, av, bu, bv);
    const { u, v, du, dv } = this.carriers[line] as Carrier;
    const start = (au - u) * du + (av - v) * dv;
    const end = (bu - u) * du + (bv - v) * dv;
    return { line, start, stretch: end - start };
  }

  /** Notes a piece of a placed edge, from `t0` to `t1` of its length, for a copy (by its number among the parts). */
  add(at: OnLine, t0: number, t1: number, state: PieceState, copy: number): void {
    const [a, b] = [at.start + at.stretch * t0, at.start + at.stretch * t1];
    (this.carriers[at.line] as Carrier).pieces.push({
      from: Math.min(a, b),
      to: Math.max(a, b),
      state,
      copy,
    });
  }

  /** All lines, merged; `copies` gives the names of the copies by number. */
  lines(copies: readonly string[]): ViewLine[] {
    return this.carriers.flatMap((carrier) => merged(carrier, copies));
  }

  private cellOf(au: number, av: number, bu: number, bv: number): { turn: number; shift: number } {
    const [du, dv] = [bu - au, bv - av];
    const turn = Math.atan2(dv, du);
    const upright = turn < 0 ? turn + Math.PI : turn >= Math.PI ? turn - Math.PI : turn;
    const [nu, nv] = [-Math.sin(upright), Math.cos(upright)];
    const shift = nu * ((au + bu) / 2 - this.middle[0]) + nv * ((av + bv) / 2 - this.middle[1]);
    return { turn: upright / TURN_CELL, shift: shift / SHIFT_CELL };
  }

  private find(au: number, av: number, bu: number, bv: number): number | undefined {
    const { turn, shift } = this.cellOf(au, av, bu, bv);
    // Lines are exact to far below a cell, so a neighbour cell matters only near its border.
    for (const t of nearCells(turn)) {
      const wrapped = t < 0 || t >= TURN_CELLS - 1;
      for (const s of nearCells(shift)) {
        const here = this.search(cellKey(t, s), au, av, bu, bv);
        if (here !== undefined) return here;
      }
      if (!wrapped) continue;
      // Half a turn on, the same line has the opposite distance.
      for (const other of [0, TURN_CELLS - 1, TURN_CELLS]) {
        for (const s of nearCells(-shift)) {
          const here = this.search(cellKey(other, s), au, av, bu, bv);
          if (here !== undefined) return here;
        }
      }
    }
    return undefined;
  }

  private search(key: number, au: number, av: number, bu: number, bv: number): number | undefined {
    for (const line of this.cells.get(key) ?? []) {
      const { u, v, du, dv } = this.carriers[line] as Carrier;
      if (Math.abs((au - u) * dv - (av - v) * du) > ON_LINE) continue;
      if (Math.abs((bu - u) * dv - (bv - v) * du) > ON_LINE) continue;
      return line;
    }
    return undefined;
  }

  private open(au: number, av: number, bu: number, bv: number): number {
    const length = Math.hypot(bu - au, bv - av);
    const line = this.carriers.length;
    this.carriers.push({ u: au, v: av, du: (bu - au) / length, dv: (bv - av) / length, pieces: [] });
    const { turn, shift } = this.cellOf(au, av, bu, bv);
    const key = cellKey(Math.floor(turn), Math.floor(shift));
    const cell = this.cells.get(key);
    if (cell) cell.push(line);
    else this.cells.set(key, [line]);
    return line;
  }
}

/** The cell of a position, and the next one where the position is close to the border. */
function nearCells(position: number): number[] {
  const cell = Math.floor(position);
  const rest = position - cell;
  return rest < 0.05 ? [cell, cell - 1] : rest > 0.95 ? [cell, cell + 1] : [cell];
}

const cellKey = (turn: number, shift: number): number => turn * 2 ** 32 + shift;

/** A stretch of a line on which the same copies are seen, or hidden. */
interface Stretch {
  from: number;
  to: number;
  readonly hidden: boolean;
  readonly outline: boolean;
  readonly own: readonly number[];
}

/** One line's pieces, merged: where anything is visible, the copies that are; else those that are hidden there. */
function merged(carrier: Carrier, copies: readonly string[]): ViewLine[] {
  const point = (s: number): Point => [carrier.u + carrier.du * s, carrier.v + carrier.dv * s];
  return joined(withoutSlivers(stretchesOf(carrier.pieces))).map((stretch) => ({
    a: point(stretch.from),
    b: point(stretch.to),
    hidden: stretch.hidden,
    copies: stretch.own.map((copy) => copies[copy] as string),
    outline: stretch.outline,
  }));
}

function stretchesOf(given: readonly Piece[]): Stretch[] {
  const stops = stopsOf(given);
  const pieces = [...given].sort((a, b) => a.from - b.from);
  const stretches: Stretch[] = [];
  for (let i = 0; i + 1 < stops.length; i++) {
    const [from, to] = [stops[i] as number, stops[i + 1] as number];
    const middle = (from + to) / 2;
    const visible = new Set<number>();
    const hidden = new Set<number>();
    let outline = false;
    for (const piece of pieces) {
      if (piece.from > middle) break;
      if (piece.to < middle) continue;
      if (piece.state === 'outline') outline = true;
      else (piece.state === 'visible' ? visible : hidden).add(piece.copy);
    }
    const shown = visible.size > 0;
    const own = [...(shown ? visible : hidden)].sort((a, b) => a - b);
    if (own.length > 0) stretches.push({ from, to, hidden: !shown, outline: shown && outline, own });
  }
  return stretches;
}

/** A stretch too short to be seen goes to the longer of those it touches. */
function withoutSlivers(stretches: readonly Stretch[]): Stretch[] {
  const kept: Stretch[] = [];
  stretches.forEach((stretch, i) => {
    const before = kept[kept.length - 1];
    const after = stretches[i + 1];
    const touches = (other: Stretch | undefined): number =>
      other !== undefined && (other.to === stretch.from || other.from === stretch.to)
        ? other.to - other.from
        : 0;
    const [left, right] = [touches(before), touches(after)];
    if (stretch.to - stretch.from >= LEAST || Math.max(left, right) <= stretch.to - stretch.from)
      kept.push(stretch);
    else if (left >= right && before !== undefined) before.to = stretch.to;
    else if (after !== undefined) after.from = stretch.from;
  });
  return kept;
}

/** Stretches that touch and are alike are one. */
function joined(stretches: readonly Stretch[]): Stretch[] {
  const out: Stretch[] = [];
  for (const stretch of stretches) {
    const last = out[out.length - 1];
    if (last !== undefined && last.to === stretch.from && alike(last, stretch)) last.to = stretch.to;
    else out.push(stretch);
  }
  return out;
}

const alike = (a: Stretch, b: Stretch): boolean =>
  a.hidden === b.hidden &&
  a.outline === b.outline &&
  a.own.length === b.own.length &&
  a.own.every((copy, i) => copy === b.own[i]);

/** Ends of the pieces along the line, those within a hair of each other taken as one. */
function stopsOf(pieces: readonly Piece[]): number[] {
  const all = pieces.flatMap((piece) => [piece.from, piece.to]).sort((a, b) => a - b);
  const stops: number[] = [];
  for (const s of all)
    if (stops.length === 0 || s - (stops[stops.length - 1] as number) > ON_LINE) stops.push(s);
  return stops;
}
