/** Cutting layouts of a plan: one job for each stock and species, solved, and put into the words and letters of the cut list. */
import { createHash } from 'node:crypto';
import { type Diagnostic, fault, type Outcome } from '../diagnostics.ts';
import type { Part, Plan } from '../model/types.ts';
import type { StockItem, StockLength } from '../read/types.ts';
import { INCH, type Length, mm, printed, sizeText } from '../units.ts';
import { layoutBoards } from './boards.ts';
import { checkBoards } from './check.ts';
import { boardCuts } from './cuts.ts';
import { usableLength } from './grid.ts';
import type { Solver } from './highs.ts';
import { addUp } from './money.ts';
import { noneLeft } from './none-left.ts';
import { layOutSheets, type SheetMemo } from './sheet-layouts.ts';
import type {
  BoardItem,
  BoardJob,
  BoardLayout,
  BoardResult,
  CutList,
  CutListRow,
  CuttingLayouts,
  LayoutSection,
  StopSetting,
} from './types.ts';

/** Results kept from an earlier run, by the hash text of their job. */
export interface LayoutMemo {
  get(key: string): BoardResult | undefined;
  set(key: string, result: BoardResult): void;
  /** The same for sheets. */
  readonly sheets?: SheetMemo;
}

/** Part of each memo key: raise it when the same job may come out another way. */
const METHOD = 'boards 4';

/** Hash text of a job: equal jobs have equal texts. */
export function jobKey(job: BoardJob): string {
  return createHash('sha256').update(METHOD).update(JSON.stringify(job)).digest('hex');
}

/** Sizes nearer than this, in millimetres, are one size. */
const SAME = 1e-6;

/** A stock in one species, with the rows of the cut list that are cut from it. */
interface Lumber {
  readonly stock: StockItem;
  readonly species: string;
  readonly sold: readonly StockLength[];
  readonly rows: readonly CutListRow[];
}

/**
 * The jobs of a plan's layouts, one for each stock and species. They depend on nothing else, so they may be solved side by side:
 * `layOutPlan` finds the results in its memo, under `jobKey`.
 */
export function boardJobs(plan: Plan, cuts: CutList): BoardJob[] {
  return lumberOf(plan, cuts).flatMap((lumber) => {
    const good = lumber.rows.filter((row) => rowProblem(plan, lumber, row) === undefined);
    return good.length === 0 ? [] : [jobOf(plan, lumber, good)];
  });
}

/**
 * Lays out all parts of a plan. A part that no board can hold is an error at the part's place; the others are laid out all the same.
 */
export function layOutPlan(
  plan: Plan,
  cuts: CutList,
  solver: Solver,
  memo?: LayoutMemo,
): Outcome<CuttingLayouts> {
  const diagnostics: Diagnostic[] = [];
  const boards: BoardLayout[] = [];
  const proofs: CuttingLayouts['proofs'][number][] = [];
  for (const lumber of lumberOf(plan, cuts)) {
    const good = lumber.rows.filter((row) => {
      const problem = rowProblem(plan, lumber, row);
      if (problem !== undefined) diagnostics.push(problem);
      return problem === undefined;
    });
    if (good.length === 0) continue;
    const job = jobOf(plan, lumber, good);
    const key = jobKey(job);
    let result = memo?.get(key);
    // what comes from an earlier run is measured again: a spoilt file must not become a layout
    if (result === undefined || checkBoards(job, result).length > 0) {
      result = layoutBoards(job, solver);
      memo?.set(key, result);
    }
    boards.push(...boardLayouts(plan, lumber, good, result));
    diagnostics.push(...noneLeft(plan, good, result.unplaced));
    proofs.push({
      stock: lumber.stock.key,
      species: lumber.species,
      status: result.status,
      gap: result.gap,
      cost: addUp([result.cost]),
      bound: result.bound,
    });
  }
  const sheets = layOutSheets(plan, cuts, solver, memo?.sheets);
  proofs.push(...sheets.value.proofs);
  diagnostics.push(...sheets.diagnostics);
  const value: CuttingLayouts = {
    boards,
    ...(sheets.value.sheets.length > 0 ? { sheets: sheets.value.sheets } : {}),
    kerf: plan.edition.kerf,
    proofs,
    stops: stopSettings(cuts),
  };
  return { value, diagnostics };
}

/** In the order in which the cut list names them first. */
function lumberOf(plan: Plan, cuts: CutList): Lumber[] {
  const groups = new Map<string, CutListRow[]>();
  for (const row of cuts.rows) {
    if (row.stock.sheets) continue;
    const key = JSON.stringify([row.stock.key, row.species]);
    const rows = groups.get(key);
    if (rows) rows.push(row);
    else groups.set(key, [row]);
  }
  return [...groups.values()].map((rows) => {
    const { stock, species } = rows[0] as CutListRow;
    const own = plan.stockList.items.find((item) => item.key === stock.key) ?? stock;
    const longest = plan.edition.longestBoard ?? Infinity;
    const sold = own.lengths
      .filter((entry) => entry.prices[species] !== undefined)
      // what is there already needs no vehicle
      .filter((entry) => entry.own !== undefined || entry.length <= longest + SAME)
      .sort((a, b) => a.length - b.length);
    return {
      stock: own,
      species,
      sold,
      rows,
    };
  });
}

/** The grid on which lengths are compared: 1/64 in or 0.1 mm. */
const resolution = (plan: Plan): number => (plan.edition.numbers.system === 'inch' ? INCH / 64 : 0.1);

function jobOf(plan: Plan, lumber: Lumber, rows: readonly CutListRow[]): BoardJob {
  return {
    items: rows.map((row): BoardItem => {
      const width = ripWidth(lumber.stock, row);
      return {
        id: row.letter,
        length: row.length,
        ...(width === undefined ? {} : { width }),
        quantity: row.quantity,
      };
    }),
    stocks: lumber.sold.map((entry) => ({
      id: entry.label,
      length: entry.length,
      width: lumber.stock.width,
      price: entry.prices[lumber.species] as number,
      ...(entry.own === undefined ? {} : { limit: entry.own }),
    })),
    kerf: plan.edition.kerf,
    endTrim: plan.stockList.endTrim,
    resolution: resolution(plan),
  };
}

/**
 * Width that a row takes of its board where other strips may lie beside it. A tongue-and-groove board that is ripped gives one part
 * only: what falls off has lost an edge.
 */
function ripWidth(stock: StockItem, row: CutListRow): number | undefined {
  if (stock.profile !== 'square' || row.width >= stock.width - SAME) return undefined;
  return row.width;
}

function boardLayouts(
  plan: Plan,
  lumber: Lumber,
  rows: readonly CutListRow[],
  result: BoardResult,
): BoardLayout[] {
  const byLetter = new Map(rows.map((row) => [row.letter, row]));
  return result.patterns.map((pattern): BoardLayout => {
    const entry = lumber.sold.find((candidate) => candidate.label === pattern.stock) as StockLength;
    const board = {
      stock: lumber.stock,
      species: lumber.species,
      boardLength: entry.length,
      lengthLabel: entry.label,
      count: pattern.count,
      sections: pattern.sections.map(
        (section): LayoutSection => ({
          start: mm(section.start),
          length: mm(section.length),
          strips: section.strips.map((strip) => {
            const row = byLetter.get(strip.item) as CutListRow;
            return {
              letter: strip.item,
              copyOf: row.part,
              offset: mm(strip.offset),
              width: mm(Math.min(strip.width, row.width)),
              length: mm(strip.length),
            };
          }),
        }),
      ),
      offcut: mm(pattern.offcut),
      endTrim: plan.stockList.endTrim,
      price: entry.prices[lumber.species] as number,
      ...(entry.own === undefined ? {} : { own: true as const }),
    };
    return { ...board, cuts: boardCuts(board, { kerf: plan.edition.kerf }) };
  });
}

/** Pieces by length over all stocks, so that the stop block is set once a length. */
function stopSettings(cuts: CutList): StopSetting[] {
  // parts from sheets are set by the fence, cut by cut
  const rows = cuts.rows.filter((row) => !row.stock.sheets).sort((a, b) => b.length - a.length);
  const stops: { length: Length; pieces: StopSetting['pieces'][number][] }[] = [];
  for (const row of rows) {
    const piece = { letter: row.letter, quantity: row.quantity, stock: row.stock.label };
    const last = stops.at(-1);
    if (last !== undefined && last.length - row.length <= SAME) last.pieces.push(piece);
    else stops.push({ length: row.length, pieces: [piece] });
  }
  return stops;
}

// ---- parts that no board can hold

function rowProblem(plan: Plan, lumber: Lumber, row: CutListRow): Diagnostic | undefined {
  const part = plan.parts.find((candidate) => candidate.key === row.part);
  if (part === undefined) return undefined;
  const said = (id: string, expected: string, found: string, hint: string): Diagnostic =>
    fault(id, part.origin, { expected, found, hint, parts: [part.key], edition: plan.edition.key });
  const size = (length: number): string => sizeText(printed(length, plan.edition.numbers));
  if (!(row.length > 0 && row.width > 0 && Number.isFinite(row.length) && Number.isFinite(row.width)))
    return said(
      'board.size',
      'a part with a length and a width above 0',
      `"${row.name}" ${size(row.length)} long and ${size(row.width)} wide`,
      'check the faces that its size comes from',
    );
  const longestBoard = plan.edition.longestBoard;
  if (lumber.sold.length === 0 && longestBoard !== undefined && isSold(lumber))
    return said(
      'board.vehicle',
      `a board of ${lumber.stock.label} no longer than ${size(longestBoard)}, the edition's "longest board"`,
      'none that is sold',
      'raise "longest board", or have longer boards cut at the yard',
    );
  if (lumber.sold.length === 0) return said('board.not-sold', ...notSold(plan, lumber, part));
  if (row.width > lumber.stock.width + SAME)
    return said(
      'board.too-wide',
      `a width of ${size(lumber.stock.width)} at most, that of ${lumber.stock.label}`,
      `"${row.name}" ${size(row.width)} wide, ${size(row.width - lumber.stock.width)} more`,
      widerHint(plan, lumber, row, size),
    );
  const longest = lumber.sold.at(-1) as StockLength;
  const { endTrim } = plan.stockList;
  const usable = usableLength({ kerf: plan.edition.kerf, endTrim }, longest.length);
  const step = resolution(plan);
  // the layout's own grid decides: a piece is rounded up to it and a board down
  if (layoutFits(row.length, longest.length, plan, step)) return undefined;
  const trimmed = endTrim > 0 ? `, which leaves ${size(usable)} after the end is trimmed` : '';
  return said(
    'board.too-long',
    `a length that a board of ${lumber.stock.label} can give: the longest sold is ${longest.label}${trimmed}`,
    `"${row.name}" ${size(row.length)} long, ${size(Math.max(row.length - usable, step))} too much`,
    longerHint(plan, lumber, row),
  );
}

function layoutFits(length: number, board: number, plan: Plan, step: number): boolean {
  const up = (value: number): number => Math.ceil(value / step - SAME);
  const { endTrim } = plan.stockList;
  const trim = endTrim > 0 ? up(endTrim) + up(plan.edition.kerf) : 0;
  return up(length) <= Math.floor(board / step + SAME) - trim;
}

const isSold = ({ stock, species }: Lumber): boolean =>
  stock.lengths.some((entry) => entry.prices[species] !== undefined);

function notSold(plan: Plan, lumber: Lumber, part: Part): [expected: string, found: string, hint: string] {
  const sold = [...new Set(lumber.stock.lengths.flatMap((entry) => Object.keys(entry.prices)))].sort();
  return [
    `${lumber.stock.label} in a species that it is sold in`,
    `"${lumber.species}", for which ${plan.stockList.file} has no price`,
    sold.length > 0
      ? `write "species: ${sold[0]}" in ${part.key} (sold: ${sold.join(', ')}), or add prices to the stock list`
      : `add lengths with prices to ${lumber.stock.key} in ${plan.stockList.file}`,
  ];
}

/** The narrowest stock of the same thickness that would do. */
function widerHint(plan: Plan, lumber: Lumber, row: CutListRow, size: (length: number) => string): string {
  const wider = plan.stockList.items
    .filter(
      (item) => Math.abs(item.thickness - lumber.stock.thickness) <= SAME && item.width >= row.width - SAME,
    )
    .sort((a, b) => a.width - b.width)[0];
  if (wider !== undefined) return `write "stock: ${wider.key}", which is ${size(wider.width)} wide`;
  return 'no stock of this thickness is wide enough: make it of boards laid side by side';
}

/** Another stock of the same section or width that is sold long enough, or the advice to join it. */
function longerHint(plan: Plan, lumber: Lumber, row: CutListRow): string {
  const step = resolution(plan);
  const longer = plan.stockList.items
    .filter(
      (item) =>
        item.key !== lumber.stock.key &&
        item.profile === lumber.stock.profile &&
        Math.abs(item.thickness - lumber.stock.thickness) <= SAME &&
        item.width >= row.width - SAME &&
        item.lengths.some(
          (entry) =>
            entry.prices[lumber.species] !== undefined && layoutFits(row.length, entry.length, plan, step),
        ),
    )
    .sort((a, b) => a.width - b.width)[0];
  return longer === undefined
    ? 'make it shorter, or of two lengths with a joint over a support'
    : `make it shorter, or write "stock: ${longer.key}" and rip it; that is sold long enough`;
}
