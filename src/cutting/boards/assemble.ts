/** From the grid back to the job's own sizes: boards laid out become patterns with real starts, lengths and items. */

import type { BoardPattern, BoardSection } from '../types.ts';
import { type Grid, usableLength } from './grid.ts';
import { boardKey, type Laid, type LaidBoard, type LaidSection, pieceOf, stockOf } from './laid.ts';

/**
 * Hands the items out to the boards laid, board after board, so that items of one size stay together, and counts equal boards.
 * Longest boards and longest pieces come first.
 */
export function assemble(grid: Grid, laid: Laid): BoardPattern[] {
  const waiting = grid.pieces.map((piece) => piece.items.map((item) => ({ item, left: piece.demand })));
  for (const list of waiting) for (const entry of list) entry.left = entry.item.quantity;
  const next = (piece: number) => {
    const list = waiting[piece] as { item: (typeof grid.job.items)[number]; left: number }[];
    while ((list[0]?.left ?? 1) === 0) list.shift();
    const entry = list[0];
    if (entry === undefined) throw new Error('more pieces were laid out than the job asks for');
    entry.left--;
    return entry.item;
  };
  const patterns = new Map<string, BoardPattern>();
  for (const one of inOrder(grid, laid)) {
    const pattern = patternOf(grid, one, next);
    const key = JSON.stringify([pattern.stock, pattern.sections]);
    const same = patterns.get(key);
    patterns.set(key, same ? { ...same, count: same.count + 1 } : pattern);
  }
  return [...patterns.values()];
}

/** Equal boards together; the boards with the longest pieces first, and of those the fullest. */
function inOrder(grid: Grid, laid: Laid): LaidBoard[] {
  const profile = (one: LaidBoard): number[] => one.sections.map((part) => part.size);
  const compare = (a: LaidBoard, b: LaidBoard): number => {
    const left = profile(a);
    const right = profile(b);
    for (let index = 0; index < Math.min(left.length, right.length); index++)
      if (left[index] !== right[index]) return (right[index] as number) - (left[index] as number);
    return right.length - left.length || a.stock - b.stock || compareText(boardKey(a), boardKey(b));
  };
  return [...laid.boards]
    .sort(compare)
    .sort((a, b) => stockOf(grid, b.stock).stock.length - stockOf(grid, a.stock).stock.length);
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function patternOf(
  grid: Grid,
  one: LaidBoard,
  next: (piece: number) => { id: string; length: number; width?: number },
): BoardPattern {
  const { stock } = stockOf(grid, one.stock);
  const { kerf } = grid.job;
  const sections: BoardSection[] = [];
  let start = 0;
  for (const part of one.sections) {
    const strips = stripsOf(grid, part, stock.width, next);
    const length = Math.max(...strips.map((strip) => strip.length));
    sections.push({ start, length, strips });
    start += length + kerf;
  }
  return {
    stock: stock.id,
    count: 1,
    sections,
    offcut: Math.max(0, usableLength(grid.job, stock.length) - start),
  };
}

function stripsOf(
  grid: Grid,
  part: LaidSection,
  boardWidth: number,
  next: (piece: number) => { id: string; length: number; width?: number },
): BoardSection['strips'] {
  if (!part.ripped) {
    const item = next(part.pieces[0] as number);
    return [{ item: item.id, offset: 0, width: boardWidth, length: item.length }];
  }
  let offset = 0;
  return part.pieces.map((piece) => {
    const item = next(piece);
    const width = item.width ?? (pieceOf(grid, piece).width as number);
    const strip = { item: item.id, offset, width, length: item.length };
    offset += width + grid.job.kerf;
    return strip;
  });
}
