/**
 * The cuts of a board in the order in which they are made, each with the setting of its stop block or fence and what it leaves on
 * either side of the blade.
 *
 * A rough edge is made straight and a rough end cut square before anything is measured from them. Then the board is crosscut into its
 * sections, longest first, the end that was cut last against the stop; then each section is ripped, the edge that was sawn last
 * against the fence, so that what is wanted always lies between stop or fence and blade; then strips are crosscut that are shorter
 * than their section (common practice, no source).
 */
import { INCH, type Length, mm } from '../units.ts';
import { KEPT } from './left-over.ts';
import type { BoardCut, BoardLayout, CutSide, LayoutSection } from './types.ts';

/** A board less longer or wider than its last piece is not cut: a saw takes no thinner shaving (common practice, no source), mm. */
const FLUSH = INCH / 64;
/** Sizes nearer than this are the same size, mm. */
const SAME = 1e-6;

/** What the cuts of a board depend on. */
export type UncutBoard = Omit<BoardLayout, 'cuts'>;

type Strip = LayoutSection['strips'][number];

/** Pieces one behind the other between two rips: what one rip leaves, its widest piece first. */
export interface Lane {
  readonly offset: number;
  readonly width: number;
  readonly strips: readonly Strip[];
}

/** What the cuts of a board are made with. */
export interface CutSettings {
  readonly kerf: number;
  /** The edge of a tongue-and-groove board that a part keeps and that lies against the fence; none of square boards. */
  readonly edge?: (letter: string) => 'groove edge' | 'tongue edge' | undefined;
  /** Sections before which the yard cuts the board, by index; their number stands for the end of the last section. */
  readonly yard?: readonly number[];
  /** How far behind its section each of these cuts lies, mm; at the section where absent. */
  readonly spare?: readonly number[];
}

/** What comes off the first end with its kerf: where the first section begins, mm from the untrimmed end. */
export const trimmedOff = (board: Pick<UncutBoard, 'endTrim'>, kerf: number): number =>
  board.endTrim > 0 ? board.endTrim + kerf : 0;

/** Strips of a section that lie one behind the other, from edge to edge. */
export function lanesOf(section: LayoutSection): Lane[] {
  const lanes: { offset: number; width: number; strips: Strip[] }[] = [];
  for (const strip of [...section.strips].sort(
    (a, b) => a.offset - b.offset || (a.from ?? 0) - (b.from ?? 0),
  )) {
    const last = lanes.at(-1);
    if (last !== undefined && strip.offset < last.offset + last.width - SAME) last.strips.push(strip);
    else lanes.push({ offset: strip.offset, width: strip.width, strips: [strip] });
  }
  return lanes;
}

/** Numbers the cuts of a board. */
export function boardCuts(board: UncutBoard, settings: CutSettings): BoardCut[] {
  const book = new Book();
  const runs = inTheYard(board, settings, book).map((run) => straightened(board, run, book));
  const works = runs.flatMap((run) => crosscut(board, settings, run, book));
  for (const work of works) ripUp(board, settings, work, book);
  return book.done();
}

type Entry = Pick<BoardCut, 'kind' | 'piece' | 'against' | 'yard'> & {
  readonly setting: number;
  readonly x: number;
  readonly y: number;
  readonly reach: number;
  /** Work where absent, until it is known to be a part. */
  readonly leaves?: CutSide;
  readonly rest?: CutSide;
};

/** The cuts as they are written down, and the pieces that are finished, by the names that the cuts gave them. */
class Book {
  readonly #cuts: Entry[] = [];
  readonly #parts = new Map<string, string>();

  /** Writes a cut down; its number names what lies between stop or fence and blade, with an `r` what is beyond. */
  cut(entry: Entry): string {
    return `${this.#cuts.push(entry)}`;
  }

  /** Says that a piece is a part and is cut no more. */
  part(name: string, letter: string): void {
    this.#parts.set(name, letter);
  }

  done(): BoardCut[] {
    const side = (name: string, known: CutSide | undefined): CutSide => {
      const letter = this.#parts.get(name);
      return letter === undefined ? (known ?? { kind: 'work' }) : { kind: 'part', letter };
    };
    return this.#cuts.map(({ setting, x, y, reach, leaves, rest, ...entry }, index) => ({
      number: index + 1,
      ...entry,
      setting: mm(setting),
      x: mm(x),
      y: mm(y),
      reach: mm(reach),
      leaves: side(`${index + 1}`, leaves),
      rest: side(`${index + 1}r`, rest),
    }));
  }
}

/** A stretch of the board under the name of the cut that left it. */
interface Run {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly sections: readonly LayoutSection[];
}

/** A section that was crosscut and is not finished. */
interface Work {
  readonly name: string;
  readonly section: LayoutSection;
  /** Where it lies along the board, and how long it is: a hair more than its section where no cut takes that off. */
  readonly x: number;
  readonly length: number;
}

const WASTE: CutSide = { kind: 'waste' };

/** What is left over at an end. */
const endOf = (length: number): CutSide => ({ kind: length >= KEPT.board ? 'offcut' : 'waste' });

/** The stretches into which the yard cuts the board; the whole board where it goes home as it is. */
function inTheYard(board: UncutBoard, { kerf, yard = [], spare = [] }: CutSettings, book: Book): Run[] {
  const first = trimmedOff(board, kerf);
  const runs: Run[] = [];
  let [name, from, begun] = ['board', 0, 0];
  for (const [index, before] of yard.entries()) {
    const last = board.sections[before - 1];
    if (last === undefined) continue;
    const to = first + last.start + last.length + (spare[index] ?? 0);
    const more = before < board.sections.length;
    const cut = book.cut({
      kind: 'crosscut',
      piece: name,
      setting: to - from,
      against: 'end',
      x: to,
      y: 0,
      reach: board.stock.width,
      ...(more ? {} : { rest: endOf(board.boardLength - to - kerf) }),
      yard: true,
    });
    runs.push({ name: cut, from, to, sections: board.sections.slice(begun, before) });
    [name, from, begun] = [`${cut}r`, to + kerf, before];
  }
  if (begun < board.sections.length || runs.length === 0)
    runs.push({ name, from, to: board.boardLength, sections: board.sections.slice(begun) });
  return runs;
}

/** The stretch with its rough edge made straight. */
function straightened(board: UncutBoard, run: Run, book: Book): Run {
  const off = board.stock.rough ?? 0;
  if (off <= 0) return run;
  const cut = book.cut({
    kind: 'straighten',
    piece: run.name,
    setting: off,
    against: 'edge',
    x: run.from,
    y: off,
    reach: run.to - run.from,
    leaves: WASTE,
  });
  return { ...run, name: `${cut}r` };
}

/** Cuts a stretch into its sections; gives those that are to be ripped. */
function crosscut(board: UncutBoard, { kerf }: CutSettings, run: Run, book: Book): Work[] {
  const first = trimmedOff(board, kerf);
  const y = board.stock.rough ?? 0;
  const across = { y, reach: board.stock.width - y };
  let name = run.name;
  // the board's own end, or one that the yard cut with something to spare
  const begins = run.sections[0];
  const setting = run.from === 0 ? board.endTrim : begins ? first + begins.start - run.from - kerf : 0;
  if (setting > FLUSH) {
    const cut = book.cut({
      kind: 'trim',
      piece: name,
      setting,
      against: 'end',
      x: run.from + setting,
      ...across,
      leaves: WASTE,
    });
    name = `${cut}r`;
  }
  const works: Work[] = [];
  run.sections.forEach((section, index) => {
    const x = first + section.start;
    const end = x + section.length;
    const last = index === run.sections.length - 1;
    const cut = !last || run.to - end > FLUSH;
    let own = name;
    if (cut) {
      own = book.cut({
        kind: 'crosscut',
        piece: name,
        setting: section.length,
        against: 'end',
        x: end,
        ...across,
        ...(last ? { rest: endOf(run.to - end - kerf) } : {}),
      });
      name = `${own}r`;
    }
    works.push({ name: own, section, x, length: cut ? section.length : run.to - x });
  });
  return works;
}

/** Rips a section into its strips, and crosscuts those that are shorter. */
function ripUp(board: UncutBoard, settings: CutSettings, work: Work, book: Book): void {
  const { section, x, length } = work;
  const edge = board.stock.rough ?? 0;
  const usable = board.stock.width - edge;
  const lanes = lanesOf(section);
  const left: { name: string; lane: Lane; width: number }[] = [];
  let name = work.name;
  lanes.forEach((lane, index) => {
    const end = lane.offset + lane.width;
    const last = index === lanes.length - 1;
    const cut = !last || usable - end > FLUSH;
    let own = name;
    if (cut) {
      const { letter } = lane.strips[0] as Strip;
      own = book.cut({
        kind: 'rip',
        piece: name,
        setting: lane.width,
        against: index > 0 ? 'sawn edge' : edge > 0 ? 'straight edge' : (settings.edge?.(letter) ?? 'edge'),
        x,
        y: edge + end,
        reach: length,
        ...(last ? { rest: WASTE } : {}),
      });
      name = `${own}r`;
    }
    left.push({ name: own, lane, width: cut ? lane.width : usable - lane.offset });
  });
  for (const { name: own, lane, width } of left)
    shorten(settings, { ...work, name: own }, { ...lane, width }, edge + lane.offset, book);
}

/** Crosscuts a lane, as wide as it really is, into pieces shorter than its section; one that is narrower is ripped after that. */
function shorten({ kerf }: CutSettings, work: Work, lane: Lane, y: number, book: Book): void {
  const { x, length } = work;
  let { name } = work;
  const narrow: { name: string; strip: Strip; x: number }[] = [];
  lane.strips.forEach((strip, index) => {
    const start = x + (strip.from ?? 0);
    const room = x + length - start - strip.length;
    const last = index === lane.strips.length - 1;
    let own = name;
    if (!last || room > FLUSH) {
      own = book.cut({
        kind: 'crosscut',
        piece: name,
        setting: strip.length,
        against: 'end',
        x: start + strip.length,
        y,
        reach: lane.width,
        ...(last ? { rest: endOf(room - kerf) } : {}),
      });
      name = `${own}r`;
    }
    if (lane.width - strip.width > FLUSH) narrow.push({ name: own, strip, x: start });
    else book.part(own, strip.letter);
  });
  for (const one of narrow) {
    const cut = book.cut({
      kind: 'rip',
      piece: one.name,
      setting: one.strip.width,
      against: 'edge',
      x: one.x,
      y: y + one.strip.width,
      reach: one.strip.length,
      rest: WASTE,
    });
    book.part(cut, one.strip.letter);
  }
}

/** Section lengths one behind the other from the trimmed end, a kerf between them. */
export function sectionsFrom(sections: readonly LayoutSection[], kerf: number): LayoutSection[] {
  let start = 0;
  return sections.map((section) => {
    const own = { ...section, start: mm(start) as Length };
    start += section.length + kerf;
    return own;
  });
}
