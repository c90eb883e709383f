/**
 * Where boards that have come out are drawn. What came out last is set out first and stands nearest; each other board goes along
 * its way from what it was fixed to until it is clear of all that is set out, in space and in the picture.
 */
import type { PlacedPart } from '../geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../model/types.ts';
import { convexHull } from './flat.ts';
import { type Leaving, lengthPast } from './leaving.ts';
import { extentOf, movedPart } from './moving.ts';
import { project } from './project.ts';
import { boxesShare, metOnWay } from './sweep.ts';
import type { Touch } from './touching.ts';
import type { Point, ViewFrame } from './types.ts';

/** How a copy leaves. */
export interface Move {
  readonly copy: string;
  /** From its place in the piece to where it is drawn, mm. */
  readonly by: Vec3;
  /** The copy that it moves with before and after its own way; absent where that is none. */
  readonly with?: string;
  /** Its own way; absent for what stays where it is. */
  readonly way?: Way;
  /** True where boards hold it, so that it comes off by no way that was looked for. It is drawn apart all the same. */
  readonly held: boolean;
}

/** The way on which a board comes off. */
export interface Way {
  /** Its straight moves in order, mm, each free of what stood when it left; one where nothing more is needed. */
  readonly moves: readonly Vec3[];
  /** What it goes onto, and the corners of the way as drawn, from a point there to the point of the board that meets it. */
  readonly line?: { readonly onto: string; readonly corners: readonly Vec3[] };
}

/** Paper between boards, as a share of the piece's longest way across; and the furthest a board moves to be clear in the picture. */
const GAP = 0.06;
const FURTHEST = 1.5;
/** Boxes that share more than this share space, mm. */
const FILM = 0.02;

const NOWHERE: Vec3 = [0, 0, 0];

/** Boards of one kind that leave side by side, or one on its own. */
type Row = readonly Leaving[];

/** Moves of all parts, by copy. */
export function setOut(
  parts: readonly PlacedPart[],
  leaving: readonly Leaving[],
  contacts: readonly Touch[],
  frame: ViewFrame,
): Map<string, Move> {
  const table = new Table(parts, frame);
  const gone = new Set(leaving.map((each) => each.part));
  parts.forEach((_, i) => {
    if (!gone.has(i)) table.put(i, { by: NOWHERE });
  });
  for (const row of rowsOf(parts, [...leaving].reverse(), contacts))
    if (!table.setRow(row)) for (const each of row) table.setRow([each], true);
  return table.moves;
}

/** Boards of one kind that go the same way and don't touch each other make a row, which comes where its first board would. */
function rowsOf(
  parts: readonly PlacedPart[],
  leaving: readonly Leaving[],
  contacts: readonly Touch[],
): Row[] {
  const touching = new Set(
    contacts.flatMap(({ first, second }) => [`${first} ${second}`, `${second} ${first}`]),
  );
  const rows: Leaving[][] = [];
  const alike = new Map<string, Leaving[][]>();
  for (const each of leaving) {
    const key = `${parts[each.part]?.part} ${each.held} ${each.direction.map((x) => x.toFixed(6)).join(' ')}`;
    const known = alike.get(key) ?? [];
    alike.set(key, known);
    const row = known.find((row) => row.every((mate) => !touching.has(`${mate.part} ${each.part}`)));
    if (row) row.push(each);
    else {
      const fresh = [each];
      known.push(fresh);
      rows.push(fresh);
    }
  }
  return rows;
}

interface Placed {
  readonly bounds: Bounds;
  readonly hull: readonly Point[];
}

/** What is set out so far. */
class Table {
  readonly moves = new Map<string, Move>();
  private readonly placed: Placed[] = [];
  private readonly hulls = new Map<number, readonly Point[]>();
  private readonly parts: readonly PlacedPart[];
  private readonly frame: ViewFrame;
  private readonly size: number;
  /** How far boards of one kind went: none of them stops short of the one before. */
  private readonly reached = new Map<string, number>();

  constructor(parts: readonly PlacedPart[], frame: ViewFrame) {
    this.parts = parts;
    this.frame = frame;
    this.size = extentOf(parts);
  }

  /** Sets out a board that has moved so far. */
  put(part: number, move: Pick<Move, 'by'> & Partial<Move>): void {
    const { copy } = this.partAt(part);
    this.moves.set(copy, { held: false, ...move, copy });
    this.placed.push(this.at(part, move.by));
  }

  /**
   * Sets out a row at one distance; false, and nothing is done, where its boards would share space. Boards that were freed by a move of
   * their own go back into the row once they are past the others, unless `bent` leaves them beside it.
   */
  setRow(row: Row, bent = false): boolean {
    const [first] = row as [Leaving, ...Leaving[]];
    const { direction } = first;
    const base = this.baseFor(row);
    if (row.length > 1 && row.some((each) => !this.isFixedTo(each, base.by))) return false;
    const aside = row.map((each) => (bent || row.length === 1 || !each.frees ? each.frees : undefined));
    const key = `${this.partAt(first.part).part} ${direction.map((x) => x.toFixed(6)).join(' ')}`;
    const past = row.map((each, i) =>
      each.frees && !aside[i]
        ? pastAll(
            this.partAt(each.part),
            direction,
            each.standing.map((k) => this.partAt(k)),
          )
        : 0,
    );
    const least = Math.max(GAP * this.size, this.reached.get(key) ?? 0, ...past);
    const starts = row.map((each, i) => this.at(each.part, add(base.by, aside[i] ?? NOWHERE)));
    if (starts.some((a, i) => starts.some((b, k) => k < i && boxesShare(a.bounds, b.bounds)))) return false;
    const distance = this.distanceFor(starts, direction, least);
    const ways = row.map((each, i) => this.wayOf(each, base.by, distance, aside[i] === undefined));
    if (ways.some((way) => way === undefined)) return false;
    this.reached.set(key, distance);
    row.forEach((each, i) => {
      const way = ways[i] as Way;
      const by = way.moves.reduce((sum, move) => add(sum, move), base.by);
      this.put(each.part, {
        by,
        way,
        held: each.held,
        ...(base.copy === undefined ? {} : { with: base.copy }),
      });
    });
    return true;
  }

  /** A board's way at a distance; undefined where it can't go back into its row there. */
  private wayOf(
    { part, frees, direction, contacts, standing }: Leaving,
    base: Vec3,
    distance: number,
    back: boolean,
  ): Way | undefined {
    const out = scale(direction, distance);
    const moves = frees === undefined ? [out] : back ? [frees, out, scale(frees, -1)] : [frees, out];
    if (frees !== undefined && back) {
      const there = movedPart(this.partAt(part), add(frees, out));
      const others = standing.map((k) => this.partAt(k));
      if (metOnWay(there, scale(frees, -1), others) !== undefined) return undefined;
    }
    const onto = this.strongest(contacts, frees ?? direction, base);
    if (onto === undefined) return { moves };
    const [first, ...others] = moves as [Vec3, ...Vec3[]];
    const start = add(meetingPoint(onto.touch, onto.straight ? undefined : frees), base);
    const corners = [subtract(start, onto.ahead), add(start, first)];
    for (const move of others) corners.push(add(corners[corners.length - 1] as Vec3, move));
    return { moves, line: { onto: onto.copy, corners } };
  }

  /** The move that the boards of a row share with what they were fixed to: of what most of them touch. */
  private baseFor(row: Row): { by: Vec3; copy?: string } {
    const found = new Map<
      string,
      { copy: string; by: Vec3; boards: Set<number>; straight: Set<number>; area: number }
    >();
    for (const { part, contacts, frees, direction } of row)
      for (const touch of contacts) {
        const move = this.moves.get(this.partAt(touch.second).copy);
        if (move === undefined) continue;
        const known = found.get(move.copy) ?? {
          copy: move.copy,
          by: move.by,
          boards: new Set(),
          straight: new Set(),
          area: 0,
        };
        known.boards.add(part);
        if (isStraight(touch, frees ?? direction)) known.straight.add(part);
        known.area += touch.area;
        found.set(move.copy, known);
      }
    const [best] = [...found.values()].sort(
      (a, b) =>
        b.boards.size - a.boards.size ||
        b.straight.size - a.straight.size ||
        compared(norm(a.by), norm(b.by)) ||
        compared(b.area, a.area),
    );
    return best ?? { by: NOWHERE };
  }

  private isFixedTo({ contacts, frees, direction }: Leaving, base: Vec3): boolean {
    return this.strongest(contacts, frees ?? direction, base) !== undefined;
  }

  /**
   * Of the contacts with what has moved by `base`, one straight on the way if there is any, then the largest. What has moved less along
   * the way, by `ahead`, will do for one straight on it: the line is that much longer.
   */
  private strongest(
    contacts: readonly Touch[],
    way: Vec3,
    base: Vec3,
  ): { copy: string; touch: Touch; straight: boolean; ahead: Vec3 } | undefined {
    const found = contacts.flatMap((touch) => {
      const { copy } = this.partAt(touch.second);
      const move = this.moves.get(copy);
      if (move === undefined) return [];
      const straight = isStraight(touch, way);
      const ahead = subtract(base, move.by);
      const along = dot(ahead, way) / norm(way);
      const near = norm(ahead) < 1e-6;
      if (!near && !(straight && along > 0 && norm(ahead) - along < 1e-6)) return [];
      return [{ copy, touch, straight, ahead: near ? NOWHERE : ahead }];
    });
    const [best] = found.sort(
      (a, b) => Number(b.straight) - Number(a.straight) || compared(b.touch.area, a.touch.area),
    );
    return best;
  }

  /** How far boards move along their way: until they are clear of all that is drawn already, or else at least out of its space. */
  private distanceFor(starts: readonly Placed[], direction: Vec3, least: number): number {
    const furthest = FURTHEST * this.size;
    const gap = (GAP / 4) * this.size;
    const shift = project(direction, this.frame);
    const inSpace: Stretch[] = [];
    const inPicture: Stretch[] = [];
    for (const start of starts)
      for (const other of this.placed) {
        const shared = sharing(start.bounds, direction, other.bounds, gap);
        if (shared) inSpace.push(shared);
        const over = covering(start.hull, shift, other.hull, gap);
        if (over) inPicture.push(over);
      }
    const clear = firstClear([...inSpace, ...inPicture], least);
    return clear <= Math.max(furthest, least) ? clear : firstClear(inSpace, least);
  }

  private at(part: number, by: Vec3): Placed {
    const { bounds } = this.partAt(part);
    const shift = project(by, this.frame);
    return {
      bounds: { min: add(bounds.min, by), max: add(bounds.max, by) },
      hull: this.hullOf(part).map(([u, v]): Point => [u + shift[0], v + shift[1]]),
    };
  }

  private hullOf(part: number): readonly Point[] {
    const known = this.hulls.get(part);
    if (known) return known;
    const hull = convexHull(this.partAt(part).vertices.map((p) => project(p, this.frame)));
    this.hulls.set(part, hull);
    return hull;
  }

  private partAt(part: number): PlacedPart {
    return this.parts[part] as PlacedPart;
  }
}

/**
 * Where the line of a way begins: in the middle of what both share. A board that is freed first has it near the side that it leaves, so
 * that the line comes out from under the board itself and not from under its neighbour.
 */
function meetingPoint({ middle, halves }: Touch, frees: Vec3 | undefined): Vec3 {
  if (frees === undefined) return middle;
  return halves.reduce((at, half) => {
    const along = dot(half, frees) / Math.max(norm(half) * norm(frees), 1e-9);
    return Math.abs(along) < 0.5 ? at : add(at, scale(half, -0.8 * Math.sign(along)));
  }, middle);
}

const isStraight = (touch: Touch, way: Vec3): boolean => dot(touch.normal, way) < -0.5 * norm(way);

/** Sizes that differ by less than a thousandth are one: sums of sizes end in noise. */
const compared = (a: number, b: number): number =>
  Math.abs(a - b) <= 1e-3 * Math.max(Math.abs(a), Math.abs(b)) ? 0 : a - b;

/** How far a board has to go to be past all that stood. */
const pastAll = (part: PlacedPart, direction: Vec3, others: readonly PlacedPart[]): number =>
  Math.max(0, ...others.map((other) => lengthPast(part, other, direction)));

/** A stretch of a way, mm. */
type Stretch = readonly [from: number, to: number];

/** Where on its way a moving box shares space with another, or is nearer to it than `clear` before it or behind it. */
function sharing(box: Bounds, direction: Vec3, other: Bounds, clear: number): Stretch | undefined {
  let [from, to] = [-Infinity, Infinity];
  for (const k of [0, 1, 2] as const) {
    const step = direction[k];
    const [low, high] = [other.min[k] + FILM - box.max[k], other.max[k] - FILM - box.min[k]];
    if (Math.abs(step) < 1e-9) {
      if (low >= 0 || high <= 0) return undefined;
      continue;
    }
    from = Math.max(from, Math.min(low / step, high / step));
    to = Math.min(to, Math.max(low / step, high / step));
  }
  return from < to ? [from - clear, to + clear] : undefined;
}

/** Where on its way a convex outline comes nearer to another than `clear`, by their sides (separating axes). */
function covering(
  moving: readonly Point[],
  shift: Point,
  other: readonly Point[],
  clear: number,
): Stretch | undefined {
  let [from, to] = [-Infinity, Infinity];
  for (const outline of [moving, other])
    for (let i = 0; i < outline.length; i++) {
      const [a, b] = [outline[i], outline[(i + 1) % outline.length]] as [Point, Point];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      if (length < 1e-9) continue;
      const [x, y] = [(a[1] - b[1]) / length, (b[0] - a[0]) / length];
      const [[low, high], [otherLow, otherHigh]] = [spanAlong(moving, x, y), spanAlong(other, x, y)];
      const step = shift[0] * x + shift[1] * y;
      const [first, last] = [otherLow - clear - high, otherHigh + clear - low];
      if (Math.abs(step) < 1e-9) {
        if (first >= 0 || last <= 0) return undefined;
        continue;
      }
      from = Math.max(from, Math.min(first / step, last / step));
      to = Math.min(to, Math.max(first / step, last / step));
      if (from >= to) return undefined;
    }
  return [from, to];
}

function spanAlong(outline: readonly Point[], x: number, y: number): Stretch {
  let [low, high] = [Infinity, -Infinity];
  for (const p of outline) {
    const at = p[0] * x + p[1] * y;
    if (at < low) low = at;
    if (at > high) high = at;
  }
  return [low, high];
}

/** The first place from `least` on that no stretch covers; infinite where one of them never ends. */
function firstClear(stretches: readonly Stretch[], least: number): number {
  let at = least;
  for (const [from, to] of [...stretches].sort((a, b) => a[0] - b[0])) if (from < at && at < to) at = to;
  return at;
}
