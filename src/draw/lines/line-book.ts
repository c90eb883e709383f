/**
 * Gathers pieces of edges by the straight line of the view they lie on, so that edges on one line are drawn once: visible wins
 * over hidden, and each piece names exactly the copies it belongs to.
 */
import type { Point, ViewLine } from '../types.ts';

/** Two edges lie on one line when both ends of one are within this of the other's line, mm; ends this close are one. */
const ON_LINE = 0.01;
/** Stretches shorter than this between two others, mm, are rounding. */
export const LEAST = 0.05;
/** Cells of the search for lines: direction in radians and distance from the middle in mm. */
const TURN_CELL = 2e-3;
const SHIFT_CELL = 0.5;
const TURN_CELLS = Math.ceil(Math.PI / TURN_CELL);

export type PieceState = 'visible' | 'hidden' | 'outline';

/** Pieces of one line or curve: their ends along it, state and copy, in step. */
export interface Pieces {
  readonly from: number[];
  readonly to: number[];
  readonly state: PieceState[];
  readonly copy: number[];
}

interface Carrier extends Pieces {
  readonly u: number;
  readonly v: number;
  readonly du: number;
  readonly dv: number;
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

  /** Notes stretches of a placed edge, pairs from 0 to 1 of its length, for a copy (by its number among the parts). */
  add(at: OnLine, stretches: readonly number[], state: PieceState, copy: number): void {
    const carrier = this.carriers[at.line] as Carrier;
    for (let i = 0; i < stretches.length; i += 2) {
      const a = at.start + at.stretch * (stretches[i] as number);
      const b = at.start + at.stretch * (stretches[i + 1] as number);
      carrier.from.push(Math.min(a, b));
      carrier.to.push(Math.max(a, b));
      carrier.state.push(state);
      carrier.copy.push(copy);
    }
  }

  /** All lines, merged; `copies` gives the names of the copies by number. */
  lines(copies: readonly string[]): ViewLine[] {
    // Most lines belong to one copy: they share its list of one.
    const alone = copies.map((copy) => [copy]);
    const out: ViewLine[] = [];
    for (const carrier of this.carriers) {
      const { u, v, du, dv } = carrier;
      for (const { from, to, hidden, outline, own } of stretchesOf(carrier))
        out.push({
          a: [u + du * from, v + dv * from],
          b: [u + du * to, v + dv * to],
          hidden,
          copies:
            own.length === 1 ? (alone[own[0] as number] as string[]) : own.map((i) => copies[i] as string),
          outline,
        });
    }
    return out;
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
    this.carriers.push({
      u: au,
      v: av,
      du: (bu - au) / length,
      dv: (bv - av) / length,
      from: [],
      to: [],
      state: [],
      copy: [],
    });
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
export function stretchesOf(carrier: Pieces): Stretch[] {
  if (carrier.from.length === 1) {
    const [from, to, state, copy] = [carrier.from[0], carrier.to[0], carrier.state[0], carrier.copy[0]] as [
      number,
      number,
      PieceState,
      number,
    ];
    return [{ from, to, hidden: state === 'hidden', outline: false, own: [copy] }];
  }
  return joined(withoutSlivers(split(carrier)));
}

/** Cuts a line at every end of a piece and says what is there. */
function split(carrier: Pieces): Stretch[] {
  const stops = stopsOf(carrier);
  const stretches: Stretch[] = [];
  const count = carrier.from.length;
  for (let i = 0; i + 1 < stops.length; i++) {
    const from = stops[i] as number;
    const to = stops[i + 1] as number;
    const middle = (from + to) / 2;
    const visible: number[] = [];
    const hidden: number[] = [];
    let outline = false;
    for (let k = 0; k < count; k++) {
      if ((carrier.from[k] as number) > middle || (carrier.to[k] as number) < middle) continue;
      const state = carrier.state[k];
      if (state === 'outline') outline = true;
      else insert(state === 'visible' ? visible : hidden, carrier.copy[k] as number);
    }
    const shown = visible.length > 0;
    const own = shown ? visible : hidden;
    if (own.length > 0) stretches.push({ from, to, hidden: !shown, outline: shown && outline, own });
  }
  return stretches;
}

/** Adds a number to a short ordered list, once. */
function insert(list: number[], value: number): void {
  let i = list.length;
  while (i > 0 && (list[i - 1] as number) > value) i--;
  if (i > 0 && list[i - 1] === value) return;
  list.splice(i, 0, value);
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
function stopsOf({ from, to }: Pieces): number[] {
  const all = new Float64Array(from.length * 2);
  all.set(from);
  all.set(to, from.length);
  all.sort();
  const stops: number[] = [];
  let last = -Infinity;
  for (const s of all) {
    if (s - last <= ON_LINE) continue;
    stops.push(s);
    last = s;
  }
  return stops;
}
