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
  const cuts: BoardCut[] = [];
  const say = (cut: Omit<BoardCut, 'number' | 'setting' | 'x' | 'y' | 'reach'> & Place): number => {
    const { setting, x, y, reach, ...rest } = cut;
    const number = cuts.length + 1;
    cuts.push({ number, ...rest, setting: mm(setting), x: mm(x), y: mm(y), reach: mm(reach) });
    return number;
  };
  const runs = inTheYard(board, settings, say).map((run) => ({
    ...run,
    name: straightened(board, run, say),
  }));
  const works = runs.flatMap((run) => crosscut(board, settings, run, say));
  for (const work of works) ripUp(board, settings, work, say);
  return cuts;
}

interface Place {
  readonly setting: number;
  readonly x: number;
  readonly y: number;
  readonly reach: number;
}

type Say = (cut: Omit<BoardCut, 'number' | 'setting' | 'x' | 'y' | 'reach'> & Place) => number;

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
  /** Where it lies along the board. */
  readonly x: number;
}

const WASTE: CutSide = { kind: 'waste' };
const WORK: CutSide = { kind: 'work' };

/** What is left over at an end. */
const endOf = (length: number): CutSide => ({ kind: length >= KEPT.board ? 'offcut' : 'waste' });

/** The stretches into which the yard cuts the board; the whole board where it goes home as it is. */
function inTheYard(board: UncutBoard, { kerf, yard = [] }: CutSettings, say: Say): Run[] {
  const first = trimmedOff(board, kerf);
  const runs: Run[] = [];
  let [name, from, begun] = ['board', 0, 0];
  for (const before of yard) {
    const last = board.sections[before - 1];
    if (last === undefined) continue;
    const to = first + last.start + last.length;
    const more = before < board.sections.length;
    const number = say({
      kind: 'crosscut',
      piece: name,
      setting: to - from,
      against: 'end',
      x: to,
      y: 0,
      reach: board.stock.width,
      leaves: WORK,
      rest: more ? WORK : endOf(board.boardLength - to - kerf),
      yard: true,
    });
    runs.push({ name: `${number}`, from, to, sections: board.sections.slice(begun, before) });
    [name, from, begun] = [`${number}r`, to + kerf, before];
  }
  if (begun < board.sections.length || runs.length === 0)
    runs.push({ name, from, to: board.boardLength, sections: board.sections.slice(begun) });
  return runs;
}

/** Makes the rough edge of a stretch straight; its name afterwards. */
function straightened(board: UncutBoard, run: Run, say: Say): string {
  const off = board.stock.rough ?? 0;
  if (off <= 0) return run.name;
  const number = say({
    kind: 'straighten',
    piece: run.name,
    setting: off,
    against: 'edge',
    x: run.from,
    y: off,
    reach: run.to - run.from,
    leaves: WASTE,
    rest: WORK,
  });
  return `${number}r`;
}

/** Cuts a stretch into its sections; gives those that are to be ripped. */
function crosscut(board: UncutBoard, settings: CutSettings, run: Run, say: Say): Work[] {
  const { kerf } = settings;
  const first = trimmedOff(board, kerf);
  const y = board.stock.rough ?? 0;
  const reach = board.stock.width - y;
  let name = run.name;
  if (run.from === 0 && board.endTrim > 0) {
    const setting = board.endTrim;
    const number = say({
      kind: 'trim',
      piece: name,
      setting,
      against: 'end',
      x: setting,
      y,
      reach,
      leaves: WASTE,
      rest: WORK,
    });
    name = `${number}r`;
  }
  const works: Work[] = [];
  run.sections.forEach((section, index) => {
    const x = first + section.start;
    const end = x + section.length;
    const whole = wholePart(board, section);
    const after = run.sections[index + 1];
    if (after === undefined && run.to - end <= FLUSH) {
      if (whole === undefined) works.push({ name, section, x });
      return;
    }
    // the last of a stretch needs no cut of its own, so what is left before it is that section already
    const flush =
      after !== undefined &&
      index + 2 === run.sections.length &&
      run.to - (first + after.start + after.length) <= FLUSH;
    const number = say({
      kind: 'crosscut',
      piece: name,
      setting: section.length,
      against: 'end',
      x: end,
      y,
      reach,
      leaves: whole ?? WORK,
      rest: after === undefined ? endOf(run.to - end - kerf) : (flush && wholePart(board, after)) || WORK,
    });
    if (whole === undefined) works.push({ name: `${number}`, section, x });
    name = `${number}r`;
  });
  return works;
}

/** The part that a section is without a rip. */
function wholePart(board: UncutBoard, section: LayoutSection): CutSide | undefined {
  const [only, second] = section.strips;
  if (only === undefined || second !== undefined) return undefined;
  return usableWidth(board) - only.width <= FLUSH ? { kind: 'part', letter: only.letter } : undefined;
}

/** Width of a board inside its straight edge. */
const usableWidth = (board: UncutBoard): number => board.stock.width - (board.stock.rough ?? 0);

/** Rips a section into its strips, and crosscuts those that are shorter. */
function ripUp(board: UncutBoard, settings: CutSettings, work: Work, say: Say): void {
  const { section, x } = work;
  const edge = board.stock.rough ?? 0;
  const usable = usableWidth(board);
  const lanes = lanesOf(section);
  const left: { name: string; lane: Lane }[] = [];
  let name = work.name;
  lanes.forEach((lane, index) => {
    const end = lane.offset + lane.width;
    const after = lanes[index + 1];
    if (after === undefined && usable - end <= FLUSH) {
      left.push({ name, lane });
      return;
    }
    const flush =
      after !== undefined && index + 2 === lanes.length && usable - (after.offset + after.width) <= FLUSH;
    const first = lane.strips[0] as Strip;
    const number = say({
      kind: 'rip',
      piece: name,
      setting: lane.width,
      against:
        index > 0 ? 'sawn edge' : edge > 0 ? 'straight edge' : (settings.edge?.(first.letter) ?? 'edge'),
      x,
      y: edge + end,
      reach: section.length,
      leaves: wholeLane(section, lane) ?? WORK,
      rest: after === undefined ? WASTE : (flush && wholeLane(section, after)) || WORK,
    });
    left.push({ name: `${number}`, lane });
    name = `${number}r`;
  });
  for (const { name: lane, lane: one } of left) shorten(board, settings, section, x, lane, one, say);
}

/** The part that a lane is without a crosscut. */
function wholeLane(section: LayoutSection, lane: Lane): CutSide | undefined {
  const [only, second] = lane.strips;
  if (only === undefined || second !== undefined || (only.from ?? 0) > 0) return undefined;
  return section.length - only.length <= FLUSH ? { kind: 'part', letter: only.letter } : undefined;
}

/** Crosscuts a lane into pieces shorter than its section; one that is narrower than the lane is ripped after that. */
function shorten(
  board: UncutBoard,
  { kerf }: CutSettings,
  section: LayoutSection,
  x: number,
  name: string,
  lane: Lane,
  say: Say,
): void {
  const y = (board.stock.rough ?? 0) + lane.offset;
  const part = (strip: Strip): CutSide =>
    lane.width - strip.width <= FLUSH ? { kind: 'part', letter: strip.letter } : WORK;
  const narrow: { name: string; strip: Strip; x: number }[] = [];
  let from = name;
  lane.strips.forEach((strip, index) => {
    const start = x + (strip.from ?? 0);
    const end = start + strip.length;
    const after = lane.strips[index + 1];
    const room = x + section.length - end;
    let own = from;
    if (after !== undefined || room > FLUSH) {
      const flush =
        after !== undefined &&
        index + 2 === lane.strips.length &&
        section.length - ((after.from ?? 0) + after.length) <= FLUSH;
      const number = say({
        kind: 'crosscut',
        piece: from,
        setting: strip.length,
        against: 'end',
        x: end,
        y,
        reach: lane.width,
        leaves: part(strip),
        rest: after === undefined ? endOf(room - kerf) : flush ? part(after) : WORK,
      });
      own = `${number}`;
      from = `${number}r`;
    }
    if (lane.width - strip.width > FLUSH) narrow.push({ name: own, strip, x: start });
  });
  for (const one of narrow)
    say({
      kind: 'rip',
      piece: one.name,
      setting: one.strip.width,
      against: 'edge',
      x: one.x,
      y: y + one.strip.width,
      reach: one.strip.length,
      leaves: { kind: 'part', letter: one.strip.letter },
      rest: WASTE,
    });
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
