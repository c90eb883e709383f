/** Sheet layouts of a plan: one job for each sheet and species, solved, and put into the letters of the cut list. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { Part, Plan } from '../model/types.ts';
import type { SheetSize, StockItem } from '../read/types.ts';
import { mm, printed, sizeText } from '../units.ts';
import type { Solver } from './highs.ts';
import { noneLeft } from './none-left.ts';
import { checkSheets } from './sheets/check.ts';
import { trimmedBy } from './sheets/kinds.ts';
import { sheetCuts } from './sheets/sequence.ts';
import { layoutSheets } from './sheets/sheets.ts';
import type { SheetItem, SheetJob, SheetResult } from './sheets/types.ts';
import {
  hashOfJob,
  type JobMemo,
  keptOrSolved,
  proofOf,
  rowsByStock,
  type StockRows,
  soundRows,
} from './stock-jobs.ts';
import type { CutList, CutListRow, CuttingLayouts, SheetLayout } from './types.ts';

/** Part of each memo key: raise it when the same job may come out another way. */
const METHOD = 'sheets 5';

/** Levels of cuts that a builder with a track or table saw still follows, where the shop says no other. Common practice, no source. */
const STAGES = 4;
/** An offcut of a sheet is worth keeping with sides of this or more, mm. */
const USEFUL = 150;
/** Sheets whose thickness differs by less stand for each other, as 23/32 in and 3/4 in do, mm. */
const NEAR = 1;
/** Sizes nearer than this, in millimetres, are one size. */
const SAME = 1e-6;

/** Hash text of a job: equal jobs have equal texts. */
export const sheetKey = (job: SheetJob): string => hashOfJob(METHOD, job);

/** A sheet in one species, with the rows of the cut list that are cut from it. */
interface Panels extends StockRows {
  readonly sold: readonly SheetSize[];
}

/** The jobs of a plan's sheets, one for each stock and species. `layOutSheets` finds their results in its memo, under `sheetKey`. */
export function sheetJobs(plan: Plan, cuts: CutList): SheetJob[] {
  return panelsOf(plan, cuts).flatMap((panels) => {
    const { good } = soundRows(panels.rows, (row) => rowProblem(plan, panels, row));
    return good.length === 0 ? [] : [jobOf(plan, panels, good)];
  });
}

/**
 * Lays out all parts of a plan that come from sheets. A part that no sheet can hold is an error at the part's place; the others are
 * laid out all the same.
 */
export function layOutSheets(
  plan: Plan,
  cuts: CutList,
  solver: Solver,
  memo?: JobMemo<SheetResult>,
): {
  readonly value: { readonly sheets: readonly SheetLayout[]; readonly proofs: CuttingLayouts['proofs'] };
  readonly diagnostics: readonly Diagnostic[];
} {
  const diagnostics: Diagnostic[] = [];
  const sheets: SheetLayout[] = [];
  const proofs: CuttingLayouts['proofs'][number][] = [];
  for (const panels of panelsOf(plan, cuts)) {
    const { good, problems } = soundRows(panels.rows, (row) => rowProblem(plan, panels, row));
    diagnostics.push(...problems);
    if (good.length === 0) continue;
    const job = jobOf(plan, panels, good);
    const result = keptOrSolved(
      memo,
      sheetKey(job),
      (kept) => checkSheets(job, kept),
      () => layoutSheets(job, solver),
    );
    sheets.push(...layoutsOf(panels, good, job, result));
    diagnostics.push(...noneLeft(plan, good, result.unplaced));
    proofs.push({
      ...proofOf(panels, result),
      ...(result.boundFor === 'levels' ? { levels: job.stages as number } : {}),
    });
  }
  return { value: { sheets, proofs }, diagnostics };
}

/** All sheets of a plan, in the order in which the cut list names them first. */
const panelsOf = (plan: Plan, cuts: CutList): Panels[] =>
  rowsByStock(plan, cuts, 'sheets').map((group) => ({
    ...group,
    sold: (group.stock.sheets ?? []).filter((size) => size.prices[group.species] !== undefined),
  }));

const turnable = (stock: StockItem, row: CutListRow): boolean => row.turn === true || stock.grain === 'none';

function jobOf(plan: Plan, panels: Panels, rows: readonly CutListRow[]): SheetJob {
  return {
    items: rows.map(
      (row): SheetItem => ({
        id: row.letter,
        length: row.length,
        width: row.width,
        quantity: row.quantity,
        turnable: turnable(panels.stock, row),
      }),
    ),
    stocks: panels.sold.map((size) => ({
      id: size.label,
      length: size.length,
      width: size.width,
      price: size.prices[panels.species] as number,
      ...(size.own === undefined ? {} : { limit: size.own }),
    })),
    kerf: plan.edition.kerf,
    edgeTrim: plan.stockList.sheetTrim ?? 0,
    stages: plan.edition.cutLevels ?? STAGES,
    ...(plan.edition.largestPiece === undefined ? {} : { liftable: plan.edition.largestPiece }),
    useful: USEFUL,
  };
}

function layoutsOf(
  panels: Panels,
  rows: readonly CutListRow[],
  job: SheetJob,
  result: SheetResult,
): SheetLayout[] {
  const copyOf = Object.fromEntries(rows.map((row) => [row.letter, row.part]));
  return result.patterns.map((pattern): SheetLayout => {
    const size = panels.sold.find((candidate) => candidate.label === pattern.stock) as SheetSize;
    const { offcut } = pattern;
    return {
      stock: panels.stock,
      species: panels.species,
      sheetLength: size.length,
      sheetWidth: size.width,
      sizeLabel: size.label,
      count: pattern.count,
      price: size.prices[panels.species] as number,
      ...(size.own === undefined ? {} : { own: true }),
      edgeTrim: mm(job.edgeTrim),
      root: pattern.root,
      cuts: sheetCuts(job, pattern),
      ...(offcut ? { offcut: { length: mm(offcut.length), width: mm(offcut.width) } } : {}),
      copyOf,
    };
  });
}

// ---- parts that no sheet can hold

function rowProblem(plan: Plan, panels: Panels, row: CutListRow): Diagnostic | undefined {
  const part = plan.parts.find((candidate) => candidate.key === row.part);
  if (part === undefined) return undefined;
  const { stock } = panels;
  const said = (id: string, expected: string, found: string, hint: string): Diagnostic =>
    fault(id, part.origin, { expected, found, hint, parts: [part.key], edition: plan.edition.key });
  const size = (length: number): string => sizeText(printed(length, plan.edition.numbers));
  const measured = `"${row.name}" ${size(row.length)} long and ${size(row.width)} wide`;
  if (!(row.length > 0 && row.width > 0 && Number.isFinite(row.length) && Number.isFinite(row.width)))
    return said(
      'sheet.size',
      'a part with a length and a width above 0',
      measured,
      'check the faces that its size comes from',
    );
  if (Math.min(row.length, row.width) <= plan.edition.kerf)
    return said(
      'sheet.kerf',
      `a part wider than the saw cut of ${size(plan.edition.kerf)}`,
      measured,
      'check the faces that its size comes from',
    );
  if (panels.sold.length === 0) return said('sheet.not-sold', ...notSold(plan, panels, part));
  if (panels.sold.some((one) => lies(plan, one, row, turnable(stock, row)))) return undefined;
  const largest = panels.sold.reduce((a, b) => (b.length * b.width > a.length * a.width ? b : a));
  const turned = panels.sold.some((one) => lies(plan, one, row, true));
  const trimmed = (plan.stockList.sheetTrim ?? 0) > 0 ? ', with its edges trimmed' : '';
  return said(
    turned ? 'sheet.grain' : 'sheet.too-large',
    turned
      ? `a part that fits with its grain along that of the sheet: ${size(largest.length)} long and ${size(largest.width)} wide at most${trimmed}`
      : `a part that a sheet of ${stock.label} can give: the largest ${largest.own === undefined ? 'sold ' : ''}is ${largest.label}${trimmed}`,
    measured,
    turned ? `write "turn: yes" in ${part.key} if its grain may run across` : largerHint(plan, panels, row),
  );
}

function lies(plan: Plan, sheet: SheetSize, row: CutListRow, turn: boolean): boolean {
  const lost = trimmedBy({ kerf: plan.edition.kerf, edgeTrim: plan.stockList.sheetTrim ?? 0 });
  const fits = (length: number, width: number): boolean =>
    length <= sheet.length - lost + SAME && width <= sheet.width - lost + SAME;
  return fits(row.length, row.width) || (turn && fits(row.width, row.length));
}

function notSold(plan: Plan, panels: Panels, part: Part): [expected: string, found: string, hint: string] {
  const sold = [...new Set((panels.stock.sheets ?? []).flatMap((entry) => Object.keys(entry.prices)))].sort();
  return [
    `${panels.stock.label} in a species that it is sold in`,
    `"${panels.species}", for which ${plan.stockList.file} has no price`,
    sold.length > 0
      ? `write "species: ${sold[0]}" in ${part.key} (sold: ${sold.join(', ')}), or add prices to the stock list`
      : `add sizes with prices to ${panels.stock.key} in ${plan.stockList.file}`,
  ];
}

/** Another sheet of the same thickness that is large enough, or the joint that would help. */
function largerHint(plan: Plan, panels: Panels, row: CutListRow): string {
  const larger = plan.stockList.items.find(
    (item) =>
      item.key !== panels.stock.key &&
      Math.abs(item.thickness - panels.stock.thickness) <= NEAR &&
      (item.sheets ?? []).some((size) => lies(plan, size, row, row.turn === true || item.grain === 'none')),
  );
  return larger === undefined
    ? 'make it of two pieces, joined with a spline or over a support'
    : `write "stock: ${larger.key}", which is sold large enough`;
}
