/**
 * Parts that a plan takes `from: offcut`: laid into what the boards of the other parts leave, so that no board is bought for them.
 *
 * Left over are the end of each board, the side of each ripped section, and the end of each strip that is shorter than its section. The
 * longest piece comes first, into the smallest rectangle that holds it; what is left of that can be used again.
 */
import { mm } from '../units.ts';
import { lanesOf, trimmedOff, type UncutBoard } from './cuts.ts';
import { SAME, usableWidth } from './lumber.ts';
import type { CutListRow, LayoutSection } from './types.ts';

/** A board while pieces are laid into what is left of it. */
interface Open {
  readonly board: UncutBoard;
  sections: LayoutSection[];
  readonly free: Free[];
}

/** A rectangle that is left over: behind all sections where `section` is none, else in one of them. */
interface Free {
  readonly section?: number;
  readonly offset: number;
  /** Along the section, or along the board from its trimmed end. */
  readonly from: number;
  readonly length: number;
  readonly width: number;
}

/** Most boards that are looked through one by one. */
const MOST_BOARDS = 400;

/**
 * Lays parts into what boards leave.
 * @param boards of the other parts
 * @param rows of the cut list that come from offcuts, all of this stock
 * @returns the boards with those parts, equal ones together, and the rows of which a piece found no place
 */
export function intoOffcuts(
  boards: readonly UncutBoard[],
  rows: readonly CutListRow[],
  kerf: number,
): { readonly boards: readonly UncutBoard[]; readonly missing: readonly CutListRow[] } {
  if (boards.reduce((sum, board) => sum + board.count, 0) > MOST_BOARDS) return { boards, missing: rows };
  const open = boards.flatMap((board) =>
    Array.from({ length: board.count }, () => opened({ ...board, count: 1 }, kerf)),
  );
  const pieces = rows
    .flatMap((row) => new Array<CutListRow>(row.quantity).fill(row))
    .sort((a, b) => b.length - a.length || b.width - a.width);
  const missing = new Set<CutListRow>();
  for (const piece of pieces) {
    const place = smallestFor(open, piece);
    if (place === undefined) missing.add(piece);
    else lay(place.board, place.free, piece, kerf);
  }
  return { boards: alike(open.map((one) => closed(one, kerf))), missing: [...missing] };
}

function opened(board: UncutBoard, kerf: number): Open {
  const wide = usableWidth(board.stock);
  const free: Free[] = [];
  // what falls off a tongue-and-groove board has lost an edge
  if (board.stock.profile === 'square')
    board.sections.forEach((section, index) => {
      const lanes = lanesOf(section);
      for (const lane of lanes) {
        const last = lane.strips.at(-1);
        const from = last === undefined ? 0 : (last.from ?? 0) + last.length + kerf;
        add(free, {
          section: index,
          offset: lane.offset,
          from,
          length: section.length - from,
          width: lane.width,
        });
      }
      const end = lanes.at(-1);
      const offset = end === undefined ? 0 : end.offset + end.width + kerf;
      add(free, { section: index, offset, from: 0, length: section.length, width: wide - offset });
    });
  const last = board.sections.at(-1);
  const from = last === undefined ? 0 : last.start + last.length + kerf;
  const length = board.boardLength - trimmedOff(board, kerf) - from;
  add(free, { offset: 0, from, length, width: wide });
  return { board, sections: [...board.sections], free };
}

function add(free: Free[], one: Free): void {
  if (one.length > SAME && one.width > SAME) free.push(one);
}

/** The smallest rectangle that holds a piece; of equal ones that of the board named first. */
function smallestFor(open: readonly Open[], piece: CutListRow): { board: Open; free: Free } | undefined {
  let best: { board: Open; free: Free } | undefined;
  for (const board of open)
    for (const free of board.free) {
      const { stock } = board.board;
      if (free.length < piece.length - SAME || free.width < Math.min(piece.width, usableWidth(stock)) - SAME)
        continue;
      if (best === undefined || free.length * free.width < best.free.length * best.free.width - SAME)
        best = { board, free };
    }
  return best;
}

function lay(open: Open, free: Free, piece: CutListRow, kerf: number): void {
  open.free.splice(open.free.indexOf(free), 1);
  const width = Math.min(piece.width, free.width);
  const strip = {
    letter: piece.letter,
    copyOf: piece.part,
    offset: mm(free.offset),
    width: mm(width),
    length: piece.length,
    fromOffcut: true as const,
  };
  const beyond = { from: free.from + piece.length + kerf, length: free.length - piece.length - kerf };
  const beside = { offset: free.offset + width + kerf, width: free.width - width - kerf };
  const square = open.board.stock.profile === 'square';
  if (free.section === undefined) {
    open.sections.push({ start: mm(free.from), length: piece.length, strips: [strip] });
    add(open.free, { ...free, ...beyond });
    const section = open.sections.length - 1;
    if (square) add(open.free, { section, from: 0, length: piece.length, ...beside });
    return;
  }
  const section = open.sections[free.section] as LayoutSection;
  const placed = free.from > 0 ? { ...strip, from: mm(free.from) } : strip;
  open.sections[free.section] = { ...section, strips: [...section.strips, placed] };
  // behind a shorter strip the rip that made it is made already; what lies beside a narrower piece is too little to keep track of
  const lane = free.from > 0 ? free.width : width;
  add(open.free, { ...free, ...beyond, width: lane });
  if (free.from === 0) add(open.free, { ...free, ...beside });
}

function closed({ board, sections }: Open, kerf: number): UncutBoard {
  const last = sections.at(-1);
  const used = last === undefined ? 0 : last.start + last.length + kerf;
  return {
    ...board,
    sections,
    offcut: mm(Math.max(0, board.boardLength - trimmedOff(board, kerf) - used)),
  };
}

/** Boards that are cut alike, counted, in the order in which they come first. */
function alike(boards: readonly UncutBoard[]): UncutBoard[] {
  const counted = new Map<string, UncutBoard>();
  for (const board of boards) {
    const key = JSON.stringify([board.lengthLabel, board.own ?? false, board.sections]);
    const known = counted.get(key);
    counted.set(key, known ? { ...known, count: known.count + 1 } : board);
  }
  return [...counted.values()];
}

/** The same boards with their parts `from: offcut` marked and, of each board, cut last. */
export function markedLast(
  boards: readonly UncutBoard[],
  letters: ReadonlySet<string>,
  kerf: number,
): UncutBoard[] {
  return boards.map((board) => {
    const marked = board.sections.map((section): LayoutSection => {
      const strips = section.strips.map((strip) =>
        letters.has(strip.letter) ? { ...strip, fromOffcut: true as const } : strip,
      );
      return { ...section, strips: stacked(strips, kerf) };
    });
    const spare = (section: LayoutSection): boolean => section.strips.every((strip) => strip.fromOffcut);
    const sorted = [...marked].sort((a, b) => Number(spare(a)) - Number(spare(b)));
    let start = 0;
    const sections = sorted.map((section) => {
      const own = { ...section, start: mm(start) };
      start += section.length + kerf;
      return own;
    });
    return { ...board, sections };
  });
}

/** Strips side by side with those from offcuts last. */
function stacked(strips: LayoutSection['strips'], kerf: number): LayoutSection['strips'] {
  let offset = 0;
  return [...strips]
    .sort((a, b) => Number(a.fromOffcut ?? false) - Number(b.fromOffcut ?? false))
    .map((strip) => {
      const own = { ...strip, offset: mm(offset) };
      offset += strip.width + kerf;
      return own;
    });
}
