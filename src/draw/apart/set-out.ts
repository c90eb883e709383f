/**
 * Where boards that have come out are drawn. What came out last is set out first and stands nearest; each other board goes along
 * its way from what it was fixed to until it is clear of all that is set out, in space and in the picture.
 */
import type { PlacedPart } from '../../geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { convexHull } from '../lines/flat.ts';
import { project } from '../lines/project.ts';
import { covering, firstClear, type Placed, type Stretch, sharing, shifted } from '../lines/stretches.ts';
import type { Point, ViewFrame } from '../types.ts';
import type { Leaving } from './leaving.ts';
import { extentOf, movedPart } from './moving.ts';
import { lengthPast } from './ranking.ts';
import { boxesShare, metOnWay } from './sweep.ts';
import type { Touch } from './touching.ts';

/** How a copy leaves. */
export interface Move {
  readonly copy: string;
  /** From its place in the piece to where it is drawn, mm. */
  readonly by: Vec3;
  /** The copy that it moves with before and after its own way; absent where that is none. */
  readonly with?: string;
  /** Its own way, on which it takes along the boards that leave with it; absent for what stays where it is. */
  readonly way?: Way;
  /** True where boards hold it, so that it comes off by no way that was looked for. It is drawn apart all the same. */
  readonly held: boolean;
}

/** The way on which boards come off. */
export interface Way {
  /** Its straight moves in order, mm, each free of what stood when it left; one where nothing more is needed. */
  readonly moves: readonly Vec3[];
  /** Where it leads as drawn: one line for a board, one for each joint of boards that leave together. */
  readonly lines: readonly WayLine[];
}

/** What a way leads onto, and its corners, from a point there to the point of the board that meets it. */
export interface WayLine {
  readonly onto: string;
  readonly copy: string;
  readonly corners: readonly Vec3[];
}

/** Paper between boards, as a share of the piece's longest way across; and the furthest a board moves to be clear in the picture. */
const GAP = 0.06;
const FURTHEST = 1.5;
/** Boards that leave together get no more lines than this. */
const LINES = 4;

const NOWHERE: Vec3 = [0, 0, 0];

/** Boards of one kind that leave side by side, or one on its own, or some together. */
type Row = readonly Leaving[];

/** Moves of all parts, by copy. */
export function setOut(
  parts: readonly PlacedPart[],
  rounds: readonly (readonly Leaving[])[],
  contacts: readonly Touch[],
  frame: ViewFrame,
): ReadonlyMap<string, Move> {
  const view = new View(parts, frame);
  const all = parts.map((_, i) => i);
  return new Map(laidOut(view, all, rounds, contacts).map((move) => [move.copy, move]));
}

/** Lays out some boards around those of them that stay. */
function laidOut(
  view: View,
  members: readonly number[],
  rounds: readonly (readonly Leaving[])[],
  contacts: readonly Touch[],
): readonly Move[] {
  const leaving = rounds.flat();
  const table = new Table(view, contacts);
  const gone = new Set(leaving.flatMap((each) => each.parts));
  for (const part of members) if (!gone.has(part)) table.put(part, { by: NOWHERE });
  for (const row of rowsOf(view.parts, [...leaving].reverse(), contacts))
    if (!table.setRow(row)) for (const each of row) table.setRow([each], true);
  return [...table.moves.values()];
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
    const [part] = each.parts;
    const key = `${keyOf(parts, each)} ${each.held}`;
    const known = alike.get(key) ?? [];
    alike.set(key, known);
    const row =
      each.inner === undefined
        ? known.find((row) => row.every((mate) => !touching.has(`${mate.parts[0]} ${part}`)))
        : undefined;
    if (row) row.push(each);
    else {
      const fresh = [each];
      known.push(fresh);
      rows.push(fresh);
    }
  }
  return rows;
}

/** The same for boards of one kind that go the same way. */
const keyOf = (parts: readonly PlacedPart[], { parts: members, direction }: Leaving): string =>
  [...members.map((i) => parts[i]?.part), ...direction.map((x) => x.toFixed(6))].join(' ');

/** Parts by number as they are seen. */
class View {
  readonly parts: readonly PlacedPart[];
  readonly frame: ViewFrame;
  /** The longest way across the piece, mm. */
  readonly size: number;
  private readonly hulls = new Map<number, readonly Point[]>();

  constructor(parts: readonly PlacedPart[], frame: ViewFrame) {
    this.parts = parts;
    this.frame = frame;
    this.size = extentOf(parts);
  }

  part(number: number): PlacedPart {
    return this.parts[number] as PlacedPart;
  }

  /** A part moved by a vector. */
  placed(number: number, by: Vec3): Placed {
    const { bounds, vertices } = this.part(number);
    const hull = this.hulls.get(number) ?? convexHull(vertices.map((p) => project(p, this.frame)));
    this.hulls.set(number, hull);
    return shifted({ bounds, hull }, by, project(by, this.frame));
  }
}

/** What is set out so far. */
class Table {
  readonly moves = new Map<string, Move>();
  private readonly placed: Placed[] = [];
  private readonly view: View;
  private readonly contacts: readonly Touch[];
  /** How far boards of one kind went: none of them stops short of the one before. */
  private readonly reached = new Map<string, number>();

  constructor(view: View, contacts: readonly Touch[]) {
    this.view = view;
    this.contacts = contacts;
  }

  /** Sets out a board that has moved so far. */
  put(part: number, move: Pick<Move, 'by'> & Partial<Move>): void {
    const { copy } = this.view.part(part);
    this.moves.set(copy, { held: false, ...move, copy });
    this.placed.push(this.view.placed(part, move.by));
  }

  /**
   * Sets out a row at one distance; false, and nothing is done, where its boards would share space. Boards that were freed by a move of
   * their own go back into the row once they are past the others, unless `bent` leaves them beside it.
   */
  setRow(row: Row, bent = false): boolean {
    const [first] = row as [Leaving, ...Leaving[]];
    const { direction } = first;
    const base = this.baseFor(row);
    const within = row.map((each) => (each.inner ? this.inner(each, each.inner) : undefined));
    if (row.length > 1 && row.some((each) => this.meetings(each, base.by).length === 0)) return false;
    const aside = row.map((each) => (bent || row.length === 1 || !each.frees ? each.frees : undefined));
    const back = row.map((each, i) => each.frees !== undefined && aside[i] === undefined);
    const past = row.map((each, i) => (back[i] ? this.pastAll(each) : 0));
    const key = keyOf(this.view.parts, first);
    const gap = row.every((each) => each.contacts.length === 0) ? 0 : GAP * this.view.size;
    const least = Math.max(gap, this.reached.get(key) ?? 0, ...past);
    const starts = row.map((each, i) =>
      each.parts.map((part) =>
        this.view.placed(
          part,
          add(add(base.by, aside[i] ?? NOWHERE), within[i]?.get(this.view.part(part).copy)?.by ?? NOWHERE),
        ),
      ),
    );
    const mine = starts.map((own) => own.map((start) => start.bounds));
    if (mine.some((a, i) => mine.some((b, k) => k < i && a.some((p) => b.some((q) => boxesShare(p, q))))))
      return false;
    const distance = this.distanceFor(starts.flat(), direction, least);
    const moves = row.map((each, i) => this.movesOf(each, distance, back[i] === true));
    if (moves.some((each) => each === undefined)) return false;
    this.reached.set(key, distance);
    row.forEach((each, i) => {
      this.putOut(each, moves[i] as readonly Vec3[], base, within[i]);
    });
    return true;
  }

  /** Puts a board where its moves take it, and with it those that leave together with it. */
  private putOut(
    each: Leaving,
    moves: readonly Vec3[],
    base: { by: Vec3; copy?: string },
    within: ReadonlyMap<string, Move> = new Map(),
  ): void {
    const out = moves.reduce((sum, move) => add(sum, move), NOWHERE);
    const by = add(base.by, out);
    const [first] = each.parts;
    const together = this.view.part(first).copy;
    // Lines before the boards are put: they lead onto what stands.
    const meetings = this.meetings(each, base.by).slice(0, each.inner ? LINES : 1);
    const lines = out.every((x) => x === 0)
      ? []
      : meetings.map(({ touch, straight, ahead }): WayLine => {
          const start = add(meetingPoint(touch, straight ? undefined : each.frees), base.by);
          const corners = [subtract(start, ahead)];
          let at = start;
          for (const move of moves) {
            at = add(at, move);
            corners.push(at);
          }
          const copy = this.view.part(touch.first).copy;
          const inner = within.get(copy)?.by ?? NOWHERE;
          if (norm(inner) > 1e-6) corners.push(add(at, inner));
          return { onto: this.view.part(touch.second).copy, copy, corners };
        });
    for (const part of each.parts) {
      if (part === first) {
        const way = norm(out) < 1e-9 ? {} : { way: { moves, lines } };
        this.put(part, {
          by,
          ...way,
          held: each.held,
          ...(base.copy === undefined ? {} : { with: base.copy }),
        });
        continue;
      }
      const own = within.get(this.view.part(part).copy);
      this.put(part, {
        ...own,
        by: add(by, own?.by ?? NOWHERE),
        with: own?.with ?? together,
        ...(own?.way ? { way: { ...own.way, lines: own.way.lines.map((line) => movedLine(line, by)) } } : {}),
      });
    }
  }

  /** How boards that leave together come apart, from where they would be in the piece. */
  private inner({ parts }: Leaving, rounds: readonly (readonly Leaving[])[]): ReadonlyMap<string, Move> {
    return new Map(
      laidOut(this.view, parts, rounds, this.contacts).map((move) => [move.copy, move] as const),
    );
  }

  /** A board's moves at a distance; undefined where it can't go back into its row there. */
  private movesOf(
    { parts: [part], frees, direction, standing }: Leaving,
    distance: number,
    back: boolean,
  ): readonly Vec3[] | undefined {
    const out = scale(direction, distance);
    if (frees === undefined) return [out];
    if (!back) return [frees, out];
    const there = movedPart(this.view.part(part), add(frees, out));
    const home = scale(frees, -1);
    const others = standing.map((k) => this.view.part(k));
    return metOnWay(there, home, others) === undefined ? [frees, out, home] : undefined;
  }

  /** How far a board has to go to be past all that stood. */
  private pastAll({ parts: [part], direction, standing }: Leaving): number {
    const own = this.view.part(part);
    return Math.max(0, ...standing.map((k) => lengthPast(own, this.view.part(k), direction)));
  }

  /** The move that the boards of a row share with what they were fixed to: of what most of them touch. */
  private baseFor(row: Row): { by: Vec3; copy?: string } {
    const found = new Map<
      string,
      { copy: string; by: Vec3; boards: Set<Leaving>; straight: Set<Leaving>; area: number }
    >();
    for (const each of row)
      for (const touch of each.contacts) {
        const move = this.moves.get(this.view.part(touch.second).copy);
        if (move === undefined) continue;
        const known = found.get(move.copy) ?? {
          copy: move.copy,
          by: move.by,
          boards: new Set(),
          straight: new Set(),
          area: 0,
        };
        known.boards.add(each);
        if (isStraight(touch, each.frees ?? each.direction)) known.straight.add(each);
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

  /**
   * Contacts with what has moved by `base`, one for each pair of boards: those straight on the way first, then the largest. What has moved
   * less along the way, by `ahead`, will do for one straight on it: the line is that much longer.
   */
  private meetings({ contacts, frees, direction }: Leaving, base: Vec3): Meeting[] {
    const way = frees ?? direction;
    const found = contacts.flatMap((touch): Meeting[] => {
      const move = this.moves.get(this.view.part(touch.second).copy);
      if (move === undefined) return [];
      const straight = isStraight(touch, way);
      const ahead = subtract(base, move.by);
      const along = dot(ahead, way) / norm(way);
      const near = norm(ahead) < 1e-6;
      if (!near && !(straight && along > 0 && norm(ahead) - along < 1e-6)) return [];
      return [{ touch, straight, ahead: near ? NOWHERE : ahead }];
    });
    found.sort((a, b) => Number(b.straight) - Number(a.straight) || compared(b.touch.area, a.touch.area));
    const pair = ({ touch }: Meeting): string => `${touch.first} ${touch.second}`;
    return found.filter((one, i) => found.findIndex((other) => pair(other) === pair(one)) === i);
  }

  /** How far boards move along their way: until they are clear of all that is drawn already, or else at least out of its space. */
  private distanceFor(starts: readonly Placed[], direction: Vec3, least: number): number {
    const { size, frame } = this.view;
    const gap = (GAP / 4) * size;
    const shift = project(direction, frame);
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
    return clear <= Math.max(FURTHEST * size, least) ? clear : firstClear(inSpace, least);
  }
}

interface Meeting {
  readonly touch: Touch;
  readonly straight: boolean;
  readonly ahead: Vec3;
}

const movedLine = (line: WayLine, by: Vec3): WayLine => ({
  ...line,
  corners: line.corners.map((corner) => add(corner, by)),
});

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
