/**
 * Boards that are too long for the vehicle are crosscut in the yard: between two sections, once where that is enough. Sections change
 * their order where one cut needs it.
 */
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
}

/** Plans the cuts that the yard makes. No stretch is longer than `longest` afterwards, but for a section that is longer itself. */
export function cutInTheYard(board: UncutBoard, longest: number | undefined, kerf: number): YardBoard {
  if (longest === undefined || board.own || board.boardLength <= longest + SAME) return { board, yard: [] };
  const once = onceCut(board, longest, kerf);
  if (once !== undefined) return once;
  return { board, yard: furthest(board, longest, kerf) };
}

/** The sections that come home in the first stretch, as many as fit, so that the rest fits too; nothing where one cut isn't enough. */
function onceCut(board: UncutBoard, longest: number, kerf: number): YardBoard | undefined {
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
