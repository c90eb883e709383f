/** How much of what is bought is used, and what is left over that is worth keeping. */
import type { SheetPiece } from './sheets/types.ts';
import type { CuttingLayouts } from './types.ts';

/** A piece of a board this long is worth keeping, and a piece of a sheet with sides of this or more, mm (common practice, no source). */
export const KEPT = { board: 300, sheet: 150 };

/** Area in and out, m², of boards by their wide face and of sheets; and the share that is neither part nor worth keeping. */
export interface MaterialUse {
  readonly bought: number;
  readonly parts: number;
  readonly kept: number;
  /** 1 − (parts + kept) / bought: kerf, trims and scraps. */
  readonly waste: number;
}

/** Pieces of one size that are left over and worth keeping. */
export interface KeptPiece {
  readonly stock: string;
  readonly species: string;
  readonly length: number;
  readonly width: number;
  readonly count: number;
}

/** What is left over of each stock and species, the longest first. */
export function keptPieces(layouts: CuttingLayouts): KeptPiece[] {
  const found = new Map<string, KeptPiece>();
  const add = (stock: string, species: string, length: number, width: number, count: number): void => {
    const key = JSON.stringify([stock, species, length.toFixed(3), width.toFixed(3)]);
    const known = found.get(key);
    found.set(key, { stock, species, length, width, count: count + (known?.count ?? 0) });
  };
  for (const board of layouts.boards)
    if (board.offcut >= KEPT.board)
      add(board.stock.key, board.species, board.offcut, board.stock.width, board.count);
  for (const sheet of layouts.sheets ?? [])
    for (const piece of leaves(sheet.root))
      if (piece.kind === 'offcut' && Math.min(piece.length, piece.width) >= KEPT.sheet)
        add(sheet.stock.key, sheet.species, piece.length, piece.width, sheet.count);
  return [...found.values()].sort(
    (a, b) => (a.stock < b.stock ? -1 : a.stock > b.stock ? 1 : 0) || b.length * b.width - a.length * a.width,
  );
}

/** Use of all material of a plan; nothing where there is none. */
export function materialUse(layouts: CuttingLayouts): MaterialUse | undefined {
  let bought = 0;
  let parts = 0;
  for (const board of layouts.boards) {
    bought += board.count * board.boardLength * board.stock.width;
    for (const section of board.sections)
      for (const strip of section.strips) parts += board.count * strip.length * strip.width;
  }
  for (const board of layouts.extra ?? []) bought += board.count * board.boardLength * board.stock.width;
  for (const sheet of layouts.sheets ?? []) {
    bought += sheet.count * sheet.sheetLength * sheet.sheetWidth;
    for (const piece of leaves(sheet.root))
      if (piece.kind === 'part') parts += sheet.count * piece.length * piece.width;
  }
  if (bought === 0) return undefined;
  const kept = keptPieces(layouts).reduce((sum, piece) => sum + piece.count * piece.length * piece.width, 0);
  return {
    bought: bought / 1e6,
    parts: parts / 1e6,
    kept: kept / 1e6,
    waste: Math.max(0, 1 - (parts + kept) / bought),
  };
}

const leaves = (piece: SheetPiece): SheetPiece[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leaves) : [piece];
