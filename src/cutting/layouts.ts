/** Cutting layouts of a plan: one job for each stock and species, solved, and put into the words and letters of the cut list. */
import type { Diagnostic, Outcome } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import type { StockLength } from '../read/types.ts';
import { type Length, mm } from '../units.ts';
import { rowProblem } from './board-problems.ts';
import { layoutBoards } from './boards/boards.ts';
import { checkBoards } from './boards/check.ts';
import { checkCuts } from './boards/check-cuts.ts';
import { boardCuts, type UncutBoard } from './cuts.ts';
import { extraBoards } from './defects.ts';
import type { Solver } from './highs.ts';
import { jobOf, type Lumber, lumberOf, SAME } from './lumber.ts';
import { noOffcut, noOthers } from './no-offcut.ts';
import { noneLeft } from './none-left.ts';
import { intoOffcuts, markedLast } from './offcuts.ts';
import { layOutSheets } from './sheet-layouts.ts';
import type { SheetResult } from './sheets/types.ts';
import { hashOfJob, type JobMemo, keptOrSolved, proofOf, soundRows } from './stock-jobs.ts';
import type {
  BoardJob,
  BoardLayout,
  BoardResult,
  CutList,
  CutListRow,
  CuttingLayouts,
  ExtraBoards,
  LayoutSection,
  StopSetting,
} from './types.ts';
import { cutInTheYard } from './yard.ts';

/** Results kept from an earlier run, by the hash text of their job. */
export interface LayoutMemo extends JobMemo<BoardResult> {
  /** The same for sheets. */
  readonly sheets?: JobMemo<SheetResult>;
}

/** Part of each memo key: raise it when the same job may come out another way. */
const METHOD = 'boards 5';

/** Hash text of a job: equal jobs have equal texts. */
export const jobKey = (job: BoardJob): string => hashOfJob(METHOD, job);

/**
 * The jobs of a plan's layouts, one for each stock and species, and one more without the parts `from: offcut` where there are such.
 * They depend on nothing else, so they may be solved side by side: `layOutPlan` finds the results in its memo, under `jobKey`.
 */
export function boardJobs(plan: Plan, cuts: CutList): BoardJob[] {
  return lumberOf(plan, cuts).flatMap((lumber) => {
    const { all, others } = sorted(soundRows(lumber.rows, (row) => rowProblem(plan, lumber, row)).good);
    const lists = others.length > 0 && others.length < all.length ? [all, others] : [all];
    return lists.filter((rows) => rows.length > 0).map((rows) => jobOf(plan, lumber, rows));
  });
}

/** Rows with those `from: offcut` apart. */
const sorted = (all: readonly CutListRow[]) => ({
  all,
  others: all.filter((row) => !row.fromOffcut),
  spare: all.filter((row) => row.fromOffcut),
});

/** Boards of one stock and species, laid out, and what there is to say of it. */
interface LaidLumber {
  readonly boards: readonly BoardLayout[];
  readonly result: BoardResult;
  readonly diagnostics: readonly Diagnostic[];
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
  const extra: ExtraBoards[] = [];
  const proofs: CuttingLayouts['proofs'][number][] = [];
  const solve = (job: BoardJob): BoardResult =>
    keptOrSolved(
      memo,
      jobKey(job),
      (result) => checkBoards(job, result),
      () => layoutBoards(job, solver),
    );
  for (const lumber of lumberOf(plan, cuts)) {
    const { good, problems } = soundRows(lumber.rows, (row) => rowProblem(plan, lumber, row));
    diagnostics.push(...problems);
    if (good.length === 0) continue;
    const laid = layOutLumber(plan, lumber, good, solve);
    boards.push(...laid.boards);
    diagnostics.push(...laid.diagnostics);
    const more = extraBoards(plan, lumber, laid.boards);
    if (more !== undefined) extra.push(more);
    proofs.push(proofOf(lumber, laid.result));
  }
  const sheets = layOutSheets(plan, cuts, solver, memo?.sheets);
  proofs.push(...sheets.value.proofs);
  diagnostics.push(...sheets.diagnostics);
  const value: CuttingLayouts = {
    boards,
    ...(sheets.value.sheets.length > 0 ? { sheets: sheets.value.sheets } : {}),
    ...(extra.length > 0 ? { extra } : {}),
    kerf: plan.edition.kerf,
    proofs,
    stops: stopSettings(cuts),
  };
  return { value, diagnostics };
}

/**
 * Boards of one stock. Parts `from: offcut` go into what the others leave; where they don't, all are laid out together, and if that
 * costs more than the others alone it is said.
 */
function layOutLumber(
  plan: Plan,
  lumber: Lumber,
  rows: readonly CutListRow[],
  solve: (job: BoardJob) => BoardResult,
): LaidLumber {
  const { kerf } = plan.edition;
  const { all, others, spare } = sorted(rows);
  const letters = new Set(spare.map((row) => row.letter));
  const done = (boards: readonly UncutBoard[], result: BoardResult, said: readonly Diagnostic[] = []) => ({
    boards: boards.map((board) => withCuts(plan, rows, board)),
    result,
    diagnostics: [...noneLeft(plan, rows, result.unplaced), ...said],
  });
  const together = (): BoardResult => solve(jobOf(plan, lumber, all));
  if (spare.length === 0) {
    const result = together();
    return done(boardsOf(plan, lumber, rows, result), result);
  }
  if (others.length === 0) {
    const result = together();
    return done(boardsOf(plan, lumber, rows, result), result, noOthers(plan, spare));
  }
  const alone = solve(jobOf(plan, lumber, others));
  const left = intoOffcuts(boardsOf(plan, lumber, others, alone), spare, kerf);
  if (left.missing.length === 0) return done(left.boards, alone);
  const result = together();
  const boards = boardsOf(plan, lumber, rows, result);
  if (result.unplaced.length === 0 && result.cost <= alone.cost + SAME)
    return done(markedLast(boards, letters, kerf), result);
  return done(boards, result, noOffcut(plan, lumber, left.missing, alone, result));
}

/** A board with the cuts that make its parts, those of the yard first. What can't be cut as it is drawn is a bug of ours. */
function withCuts(plan: Plan, rows: readonly CutListRow[], board: UncutBoard): BoardLayout {
  const { kerf, longestBoard } = plan.edition;
  const planned = cutInTheYard(board, longestBoard, kerf);
  const edge = (letter: string) =>
    edgeKept(
      plan,
      rows.find((row) => row.letter === letter),
    );
  const { yard, spare } = planned;
  const layout = { ...planned.board, cuts: boardCuts(planned.board, { kerf, yard, spare, edge }) };
  const faults = checkCuts(layout, kerf);
  if (faults.length > 0) throw new Error(`the cuts of a board failed their check: ${faults.join('; ')}`);
  return layout;
}

/** The edge that a ripped tongue-and-groove board keeps: its tongue where the part has one, else its groove. */
function edgeKept(plan: Plan, row: CutListRow | undefined): 'tongue edge' | 'groove edge' | undefined {
  if (row === undefined || row.stock.profile === 'square') return undefined;
  const part = plan.parts.find((candidate) => candidate.key === row.part);
  const copy = part?.copies.find(({ id }) => id === row.copies[0]);
  const milled = copy?.shape.some((one) => one.kind === 'tongue' && one.name === 'profile' && one.tongue);
  return milled ? 'tongue edge' : 'groove edge';
}

/** What the solver found, in the words of the plan; without its cuts. */
function boardsOf(
  plan: Plan,
  lumber: Lumber,
  rows: readonly CutListRow[],
  result: BoardResult,
): UncutBoard[] {
  const byLetter = new Map(rows.map((row) => [row.letter, row]));
  return result.patterns.map((pattern): UncutBoard => {
    const entry = lumber.sold.find((candidate) => candidate.label === pattern.stock) as StockLength;
    return {
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
