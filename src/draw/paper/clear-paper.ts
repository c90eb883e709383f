/** Where on a drawing a circle may stand: clear of the lines, and on no surface of the piece. Asked for thousands of places. */

import type { Point } from '../types.ts';
import { type Box, boxesMeet, boxOf, inside, type Segment } from './plane.ts';

/** Cells of the index of lines, mm: a circle with its clear paper reaches over three of them at most. */
const CELL = 6;
/** Tiles for which the answer is kept, mm, and half of their diagonal. */
const TILE = 1.25;
const HALF = (TILE / 2) * Math.SQRT2;
/** Cells and tiles are numbered by column and row; sheets are far smaller than this many of them. */
const SPAN = 1 << 16;

const numberOf = (column: number, row: number): number => column * SPAN + row;

/** A visible surface, and the box around it. */
interface Surface {
  readonly loops: readonly (readonly Point[])[];
  readonly box: Box;
}

/** Puts a thing into all cells that its box touches. */
function sort<T>(cells: Map<number, T[]>, thing: T, box: Box): void {
  for (let x = Math.floor(box.left / CELL); x <= Math.floor(box.right / CELL); x++)
    for (let y = Math.floor(box.top / CELL); y <= Math.floor(box.bottom / CELL); y++) {
      const list = cells.get(numberOf(x, y));
      if (list) list.push(thing);
      else cells.set(numberOf(x, y), [thing]);
    }
}

/** Of a tile: circles about all its points are clear, none are, or those that no line comes near. */
type State = 'clear' | 'taken' | 'mixed';

/** The paper around a piece, for circles of one size. */
export class ClearPaper {
  private readonly radius: number;
  private readonly surfaces: readonly Surface[];
  private readonly lines = new Map<number, Segment[]>();
  private readonly parts = new Map<number, Surface[]>();
  private readonly tiles = new Map<number, State>();

  /** `radius` in mm, clear paper around the circle included. */
  constructor(
    lines: readonly Segment[],
    surfaces: readonly (readonly (readonly Point[])[])[],
    radius: number,
  ) {
    this.radius = radius;
    this.surfaces = surfaces.map((loops) => ({ loops, box: boxOf(loops.flat()) }));
    for (const segment of lines) sort(this.lines, segment, boxOf(segment));
    for (const surface of this.surfaces) sort(this.parts, surface, surface.box);
  }

  /** True where a circle about this centre is clear of lines and stands on no surface. */
  isClear(centre: Point): boolean {
    const [column, row] = [Math.floor(centre[0] / TILE), Math.floor(centre[1] / TILE)];
    const key = numberOf(column, row);
    let state = this.tiles.get(key);
    if (state === undefined) {
      state = this.stateOf([(column + 0.5) * TILE, (row + 0.5) * TILE]);
      this.tiles.set(key, state);
    }
    return state === 'mixed'
      ? this.distanceTo(centre, this.radius, this.radius) >= this.radius
      : state === 'clear';
  }

  /** True where a line that may meet the box passes the test. */
  some(box: Box, test: (segment: Segment) => boolean): boolean {
    for (let x = Math.floor(box.left / CELL); x <= Math.floor(box.right / CELL); x++)
      for (let y = Math.floor(box.top / CELL); y <= Math.floor(box.bottom / CELL); y++)
        if (this.lines.get(numberOf(x, y))?.some(test) === true) return true;
    return false;
  }

  /** True where one of some points, in a box, lies on a surface. */
  holds(box: Box, points: readonly Point[]): boolean {
    return this.surfaces.some(
      (surface) => boxesMeet(surface.box, box) && points.some((point) => inside(point, surface.loops)),
    );
  }

  /**
   * What holds for all circles whose centre is in a tile. A circle that no line comes near lies wholly on a surface or beside all of
   * them, and so does the middle of the tile, which is in the circle.
   */
  private stateOf(middle: Point): State {
    const near = this.distanceTo(middle, this.radius + HALF, this.radius - HALF);
    if (near < this.radius - HALF || this.isOn(middle)) return 'taken';
    return near < this.radius + HALF ? 'mixed' : 'clear';
  }

  /** How far the nearest line is from a point, mm; some length above `within` where it is further, or below `enough` where it is nearer. */
  private distanceTo([x, y]: Point, within: number, enough: number): number {
    let least = Infinity;
    const last = Math.floor((x + within) / CELL);
    const lowest = Math.floor((y + within) / CELL);
    for (let column = Math.floor((x - within) / CELL); column <= last; column++)
      for (let row = Math.floor((y - within) / CELL); row <= lowest; row++) {
        const lines = this.lines.get(numberOf(column, row));
        if (lines === undefined) continue;
        for (let i = 0; i < lines.length; i++) {
          const [a, b] = lines[i] as Segment;
          const ex = b[0] - a[0];
          const ey = b[1] - a[1];
          const size = ex * ex + ey * ey;
          const along = (x - a[0]) * ex + (y - a[1]) * ey;
          const t = size === 0 ? 0 : Math.min(1, Math.max(0, along / size));
          const dx = x - a[0] - ex * t;
          const dy = y - a[1] - ey * t;
          const square = dx * dx + dy * dy;
          if (square < least) least = square;
          if (least < enough * enough) return Math.sqrt(least);
        }
      }
    return Math.sqrt(least);
  }

  private isOn(point: Point): boolean {
    const [x, y] = point;
    for (const { box, loops } of this.parts.get(numberOf(Math.floor(x / CELL), Math.floor(y / CELL))) ?? [])
      if (x > box.left && x < box.right && y > box.top && y < box.bottom && inside(point, loops)) return true;
    return false;
  }
}
