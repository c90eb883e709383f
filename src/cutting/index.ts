/**
 * `kerfleaf/cutting`: board and sheet layouts for other programs.
 *
 * ```ts
 * import { layoutBoards, loadSolver } from 'kerfleaf/cutting';
 *
 * const solver = await loadSolver();
 * const result = layoutBoards(
 *   {
 *     items: [
 *       { id: 'leg', length: 35.25, width: 1.5, quantity: 4 },
 *       { id: 'rail', length: 44.5, quantity: 2 },
 *     ],
 *     stocks: [{ id: '8 ft', length: 96, width: 3.5, price: 5.98 }],
 *     kerf: 0.125,
 *     endTrim: 0,
 *     resolution: 1 / 64,
 *   },
 *   solver,
 * );
 * ```
 *
 * Sizes are in one unit of the caller's choice. `result.patterns` says what to cut from each board, `result.cost` and `result.bound`
 * what it costs and what it can't cost less than, `result.status` whether the two are proved equal. `checkBoards` measures a result
 * against its job and lists what is wrong with it. `layoutSheets` and `checkSheets` do the same for rectangles out of sheets, and
 * `sheetCuts` numbers the cuts of a pattern. CUTTING.md describes all of it.
 */
export { boardFeet } from './boards/board-measure.ts';
export { layoutBoards } from './boards/boards.ts';
export { checkBoards } from './boards/check.ts';
export { loadSolver, type Solver } from './highs.ts';
export { checkSheets } from './sheets/check.ts';
export { sheetCuts } from './sheets/sequence.ts';
export { layoutSheets } from './sheets/sheets.ts';
export type {
  SheetCut,
  SheetItem,
  SheetJob,
  SheetOffcut,
  SheetPart,
  SheetPattern,
  SheetPiece,
  SheetPlace,
  SheetResult,
  SheetSplit,
  SheetStock,
} from './sheets/types.ts';
export type { BoardItem, BoardJob, BoardPattern, BoardResult, BoardSection, BoardStock } from './types.ts';
