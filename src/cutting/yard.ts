/**
 * Boards that are too long for the vehicle are crosscut in the yard: between two sections, once where that is enough. Sections change
 * their order where one cut needs it. A yard cuts fast and not to the line, so that its cuts leave the trim of an end on both sides, to
 * be sawn off at home, wherever the board has that much to spare (common practice, no source).
 */
import { mm } from '../units.ts';
import { sectionsFrom, trimmedOff, type UncutBoard } from './cuts.ts';
import type { LayoutSection } from './types.ts';

/** Sizes nearer than this, in millimetres, are one size. */
const SAME = 1e-6;
/** Most different sums that are looked through for a single cut. */
const MOST_SUMS = 20_000;

/** A board and where the yard cuts it: before which sections, by index; their number stands for the end of the last. */
export interface YardBoard {
  readonly board: UncutBoard;
  readonly yard: readonly number[];
  /** How far behind its section each of these cuts lies, so that the section is cut to length at home, mm; 0 where there is no room. */
  readonly spare: readonly number[];
}

/** Plans the cuts that the yard makes. No stretch is longer than `longest` afterwards, but for a section that is longer itself. */
export function cutInTheYard(board: UncutBoard, longest: number | undefined, kerf: number): YardBoard {
  if (longest === undefined || board.own || board.boardLength <= longest + SAME)
    return { board, yard: [], spare: [] };
  const once = onceCut(board, longest, kerf) ?? { board, yard: furthest(board, longest, kerf) };
  return withSpare(once, longest, kerf);
}

type Exact = Omit<YardBoard, 'spare'>;

/** Moves what lies behind the cuts along the board, cut by cut as long as it has room and no stretch grows too long for the vehicle. */
function withSpare({ board, yard }: Exact, longest: number, kerf: number): YardBoard {
  const first = trimmedOff(board, kerf);
  const count = board.sections.length;
  const spare = yard.map(() => 0);
  /** How far sections from `index` on are moved, the ends of the stretches, and what is behind the last section. */
  const moved = (index: number): number =>
    yard.reduce((sum, before, at) => sum + (before <= index ? 2 * (spare[at] as number) : 0), 0);
  const endOf = (index: number): number => {
    const section = board.sections[index];
    return section === undefined ? first : first + section.start + section.length + moved(index);
  };
  const fits = (): boolean => {
    if (endOf(count - 1) > board.boardLength + SAME) return false;
    let from = 0;
    return [...yard, undefined].every((before, at) => {
      const cut = before === undefined ? board.boardLength : endOf(before - 1) + (spare[at] as number);
      const stretch = cut - from;
      from = cut + kerf;
      // the last cut may take the end of the board off
      const whole = before === undefined || cut + kerf <= board.boardLength + SAME;
      const long = before === undefined && yard.at(-1) === count ? 0 : stretch;
      return whole && long <= longest + SAME;
    });
  };
  // a cut that can't be helped, of a part that fills the vehicle, stays as it is
  if (first === 0 || !fits()) return { board, yard, spare };
  yard.forEach((_, at) => {
    spare[at] = first;
    if (!fits()) spare[at] = 0;
  });
  const sections = board.sections.map((section, index) => ({
    ...section,
    start: mm(section.start + moved(index)),
  }));
  const behind = yard.reduce((sum, before, at) => sum + (before < count ? 2 : 1) * (spare[at] as number), 0);
  return { board: { ...board, sections, offcut: mm(Math.max(0, board.offcut - behind)) }, yard, spare };
}

/** The sections that come home in the first stretch, as many as fit, so that the rest fits too; nothing where one cut isn't enough. */
function onceCut(board: UncutBoard, longest: number, kerf: number): Exact | undefined {
  const first = trimmedOff(board, kerf);
  const most = longest - first;
  const least = board.boardLength - longest - first - kerf;
  let sums = new Map<number, readonly number[]>([[0, []]]);
  board.sections.forEach((section, index) => {
    const next = new Map(sums);
    for (const [sum, chosen] of sums) {
      const end = sum + (chosen.length > 0 ? kerf : 0) + section.length;
      const known = Math.round(end * 1e4) / 1e4;
      if (end <= most + SAME && !next.has(known) && next.size < MOST_SUMS)
        next.set(known, [...chosen, index]);
    }
    sums = next;
  });
  const good = [...sums].filter(([sum, chosen]) => chosen.length > 0 && sum >= least - SAME);
  // the sections in their own order where that will do
  const best =
    good.find(([, chosen]) => chosen.every((section, index) => section === index)) ??
    good.reduce<(typeof good)[number] | undefined>(
      (a, b) => (a === undefined || b[0] > a[0] ? b : a),
      undefined,
    );
  if (best === undefined) return undefined;
  const chosen = new Set(best[1]);
  const at = (inFirst: boolean): LayoutSection[] =>
    board.sections.filter((_, index) => chosen.has(index) === inFirst);
  return {
    board: { ...board, sections: sectionsFrom([...at(true), ...at(false)], kerf) },
    yard: [chosen.size],
  };
}

/** Cuts as far along as the vehicle allows, one after the other. */
function furthest(board: UncutBoard, longest: number, kerf: number): number[] {
  const first = trimmedOff(board, kerf);
  const yard: number[] = [];
  let from = 0;
  board.sections.forEach((section, index) => {
    const end = first + section.start + section.length;
    if (index > 0 && end - from > longest + SAME && yard.at(-1) !== index) {
      yard.push(index);
      from = first + section.start;
    }
  });
  if (board.boardLength - from > longest + SAME) yard.push(board.sections.length);
  return yard.filter((before, index) => yard.indexOf(before) === index);
}
