/**
 * Gathers stretches of rims by the ellipse of the view they lie on, as the line book does with lines: rims that fall on each other
 * are drawn once, visible wins over hidden, and each arc names its copies.
 */

import type { Point, ViewArc, ViewFrame } from '../types.ts';
import { type PieceState, type Pieces, stretchesOf } from './line-book.ts';
import { project } from './project.ts';
import type { Rim } from './rims.ts';

/** Ellipses are one when centre, radii and axes are this close, mm. */
const ON_ELLIPSE = 0.01;
/** An ellipse this thin, mm, is a straight line. */
const FLAT = 0.02;
const TURN = 2 * Math.PI;

/** An ellipse of the view: half axes rx ≥ ry, `rotation` radians from u to the longer one, 0 up to π. */
export interface Ellipse {
  readonly centre: Point;
  readonly rx: number;
  readonly ry: number;
  readonly rotation: number;
}

/** The ellipse a rim is seen as; undefined where it is seen edge-on, as a straight line. */
export function ellipseOf(rim: Rim, frame: ViewFrame): Ellipse | undefined {
  const centre = project(rim.centre, frame);
  const [au, av] = project(rim.first, frame);
  const [bu, bv] = project(rim.second, frame);
  // Half axes from conjugate ones: the singular values of the two by two matrix [a b].
  const [sum, gap] = [(au * au + av * av + bu * bu + bv * bv) / 2, Math.abs(au * bv - av * bu)];
  const spread = Math.sqrt(Math.max(0, sum * sum - gap * gap));
  const rx = Math.sqrt(sum + spread);
  const ry = gap / rx;
  if (!(ry > FLAT)) return undefined;
  // A circle has no longer axis: its angles count from u.
  if (rx - ry < 1e-6 * rx) return { centre, rx, ry: rx, rotation: 0 };
  const [uu, uv, vv] = [au * au + bu * bu, au * av + bu * bv, av * av + bv * bv];
  const angle = Math.atan2(2 * uv, uu - vv) / 2;
  return { centre, rx, ry, rotation: angle < -1e-9 ? angle + Math.PI : Math.max(0, angle) };
}

interface Carrier extends Pieces {
  readonly ellipse: Ellipse;
}

/** The arcs of one view. Positions along an ellipse are its angles times the longer half axis, so that they compare as lengths. */
export class ArcBook {
  private readonly carriers: Carrier[] = [];
  private readonly cells = new Map<string, number[]>();

  /** Notes stretches, pairs from 0 to 1, of a chord of an ellipse. */
  add(
    ellipse: Ellipse,
    chord: { au: number; av: number; bu: number; bv: number },
    stretches: readonly number[],
    state: PieceState,
    copy: number,
  ): void {
    const carrier = this.find(ellipse);
    const start = angleAt(carrier.ellipse, chord.au, chord.av);
    let turn = angleAt(carrier.ellipse, chord.bu, chord.bv) - start;
    if (turn > Math.PI) turn -= TURN;
    if (turn < -Math.PI) turn += TURN;
    for (let i = 0; i < stretches.length; i += 2) {
      const a = start + turn * (stretches[i] as number);
      const b = start + turn * (stretches[i + 1] as number);
      note(carrier, Math.min(a, b), Math.max(a, b), state, copy);
    }
  }

  /** Notes an ellipse all the way round. */
  addWhole(ellipse: Ellipse, state: PieceState, copy: number): void {
    const carrier = this.find(ellipse);
    note(carrier, 0, TURN, state, copy);
  }

  /** All arcs, merged; `copies` gives the names of the copies by number. */
  arcs(copies: readonly string[]): ViewArc[] {
    return this.carriers.flatMap((carrier) => {
      const { centre, rx, ry, rotation } = carrier.ellipse;
      return closed(stretchesOf(carrier), rx * TURN).map(
        ({ from, to, hidden, outline, own }): ViewArc => ({
          centre,
          radii: [rx, ry],
          rotation,
          from: from / rx,
          to: to / rx,
          hidden,
          copies: own.map((i) => copies[i] as string),
          outline,
        }),
      );
    });
  }

  private find(ellipse: Ellipse): Carrier {
    const [u, v] = ellipse.centre;
    const near = (position: number): number[] => {
      const cell = Math.floor(position);
      return position - cell < 0.1 ? [cell, cell - 1] : position - cell > 0.9 ? [cell, cell + 1] : [cell];
    };
    for (const column of near(u))
      for (const row of near(v))
        for (const i of this.cells.get(`${column} ${row}`) ?? [])
          if (sameEllipse((this.carriers[i] as Carrier).ellipse, ellipse)) return this.carriers[i] as Carrier;
    const carrier: Carrier = { ellipse, from: [], to: [], state: [], copy: [] };
    const key = `${Math.floor(u)} ${Math.floor(v)}`;
    const cell = this.cells.get(key);
    if (cell) cell.push(this.carriers.length);
    else this.cells.set(key, [this.carriers.length]);
    this.carriers.push(carrier);
    return carrier;
  }
}

function sameEllipse(a: Ellipse, b: Ellipse): boolean {
  if (Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) > ON_ELLIPSE) return false;
  if (Math.abs(a.rx - b.rx) > ON_ELLIPSE || Math.abs(a.ry - b.ry) > ON_ELLIPSE) return false;
  // How far the rims part by another rotation; half a turn on, an ellipse is the same.
  return Math.abs(Math.sin(a.rotation - b.rotation)) * (a.rx - a.ry) <= ON_ELLIPSE;
}

/** Angle of the point of an ellipse that is next to a point of the view, from 0 up to a full turn. */
function angleAt({ centre, rx, ry, rotation }: Ellipse, u: number, v: number): number {
  const [x, y] = [u - centre[0], v - centre[1]];
  const [cos, sin] = [Math.cos(rotation), Math.sin(rotation)];
  const angle = Math.atan2((y * cos - x * sin) / ry, (x * cos + y * sin) / rx);
  return angle < -1e-9 ? angle + TURN : Math.max(0, angle);
}

/** Notes a stretch between angles, cut where it passes the angle nought. */
function note(carrier: Carrier, from: number, to: number, state: PieceState, copy: number): void {
  const { rx } = carrier.ellipse;
  const put = (a: number, b: number): void => {
    if (b - a < 1e-12) return;
    carrier.from.push(a * rx);
    carrier.to.push(b * rx);
    carrier.state.push(state);
    carrier.copy.push(copy);
  };
  if (from < 0) {
    put(from + TURN, TURN);
    put(0, to);
  } else if (to > TURN) {
    put(from, TURN);
    put(0, to - TURN);
  } else put(from, to);
}

type Stretch = ReturnType<typeof stretchesOf>[number];

/** Joins the last stretch to the first where they meet at the angle nought; a whole turn is one stretch from nought. */
function closed(stretches: readonly Stretch[], turn: number): Stretch[] {
  const first = stretches[0];
  const last = stretches[stretches.length - 1];
  const hair = 1e-6 * turn + 1e-3;
  if (first === undefined || last === undefined || first.from > hair || last.to < turn - hair)
    return [...stretches];
  if (first === last) return [{ ...first, from: 0, to: turn }];
  if (first.hidden !== last.hidden || first.outline !== last.outline || first.own.join() !== last.own.join())
    return [...stretches];
  return [...stretches.slice(1, -1), { ...last, to: turn + first.to }];
}
