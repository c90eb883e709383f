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

/** Use of one stock, boards or sheets of one species. */
export interface StockUse extends MaterialUse {
  readonly stock: string;
  readonly species: string;
  readonly sheet: boolean;
}

/** Use of each stock that is bought, in the order in which the layouts first show it. */
export function stockUses(layouts: CuttingLayouts): StockUse[] {
  const found = new Map<
    string,
    { stock: string; species: string; sheet: boolean; bought: number; parts: number }
  >();
  const of = (stock: string, species: string, sheet: boolean) => {
    const key = JSON.stringify([stock, species]);
    const use = found.get(key) ?? { stock, species, sheet, bought: 0, parts: 0 };
    found.set(key, use);
    return use;
  };
  for (const board of layouts.boards) {
    const use = of(board.stock.key, board.species, false);
    use.bought += board.count * board.boardLength * board.stock.width;
    for (const section of board.sections)
      for (const strip of section.strips) use.parts += board.count * strip.length * strip.width;
  }
  for (const board of layouts.extra ?? [])
    of(board.stock.key, board.species, false).bought += board.count * board.boardLength * board.stock.width;
  for (const sheet of layouts.sheets ?? []) {
    const use = of(sheet.stock.key, sheet.species, true);
    use.bought += sheet.count * sheet.sheetLength * sheet.sheetWidth;
    for (const piece of leaves(sheet.root))
      if (piece.kind === 'part') use.parts += sheet.count * piece.length * piece.width;
  }
  const pieces = keptPieces(layouts);
  return [...found.values()].map((use) => {
    const kept = pieces
      .filter((piece) => piece.stock === use.stock && piece.species === use.species)
      .reduce((sum, piece) => sum + piece.count * piece.length * piece.width, 0);
    return { ...use, ...shared(use.bought, use.parts, kept) };
  });
}

/** Use of all material of a plan; nothing where there is none. */
export function materialUse(layouts: CuttingLayouts): MaterialUse | undefined {
  const uses = stockUses(layouts);
  const sum = (of: (use: StockUse) => number): number =>
    uses.reduce((total, use) => total + of(use), 0) * 1e6;
  const bought = sum((use) => use.bought);
  if (bought === 0) return undefined;
  return shared(
    bought,
    sum((use) => use.parts),
    sum((use) => use.kept),
  );
}

/** Areas in mm² as the use of material in m². */
const shared = (bought: number, parts: number, kept: number): MaterialUse => ({
  bought: bought / 1e6,
  parts: parts / 1e6,
  kept: kept / 1e6,
  waste: bought === 0 ? 0 : Math.max(0, 1 - (parts + kept) / bought),
});

const leaves = (piece: SheetPiece): SheetPiece[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leaves) : [piece];
