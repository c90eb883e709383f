/** What layouts of boards and of sheets are both made from: rows by stock and species, results kept from earlier runs, what was proved. */
import { createHash } from 'node:crypto';
import type { Diagnostic } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import type { StockItem } from '../read/types.ts';
import { addUp } from './money.ts';
import type { CutList, CutListRow, CuttingLayouts } from './types.ts';

/** A stock in one species, with the rows of the cut list that are cut from it. Stocks and species are never mixed. */
export interface StockRows {
  readonly stock: StockItem;
  readonly species: string;
  readonly rows: readonly CutListRow[];
}

/** Stocks of which rows are cut, boards or sheets, in the order in which the cut list names them first. */
export function rowsByStock(plan: Plan, cuts: CutList, kind: 'boards' | 'sheets'): StockRows[] {
  const groups = new Map<string, CutListRow[]>();
  for (const row of cuts.rows) {
    if ((row.stock.sheets !== undefined) !== (kind === 'sheets')) continue;
    const key = JSON.stringify([row.stock.key, row.species]);
    const rows = groups.get(key);
    if (rows) rows.push(row);
    else groups.set(key, [row]);
  }
  return [...groups.values()].map((rows) => {
    const { stock, species } = rows[0] as CutListRow;
    // the edition's own list may hold a stock in other sizes
    return { stock: plan.stockList.items.find((item) => item.key === stock.key) ?? stock, species, rows };
  });
}

/** Rows that can be laid out, and what is said of the others. */
export function soundRows(
  rows: readonly CutListRow[],
  problemOf: (row: CutListRow) => Diagnostic | undefined,
): { readonly good: CutListRow[]; readonly problems: Diagnostic[] } {
  const problems: Diagnostic[] = [];
  const good = rows.filter((row) => {
    const problem = problemOf(row);
    if (problem !== undefined) problems.push(problem);
    return problem === undefined;
  });
  return { good, problems };
}

/** Results kept from an earlier run, by the hash text of their job. */
export interface JobMemo<Result> {
  get(key: string): Result | undefined;
  set(key: string, result: Result): void;
}

/** Hash text of a job: equal jobs have equal texts. `method` is raised when the same job may come out another way. */
export const hashOfJob = (method: string, job: unknown): string =>
  createHash('sha256').update(method).update(JSON.stringify(job)).digest('hex');

/** A job's result as it was kept, or solved now and kept. */
export function keptOrSolved<Result>(
  memo: JobMemo<Result> | undefined,
  key: string,
  faultsOf: (result: Result) => readonly string[],
  solve: () => Result,
): Result {
  const known = memo?.get(key);
  // what comes from an earlier run is measured again: a spoilt file must not become a layout
  if (known !== undefined && faultsOf(known).length === 0) return known;
  const result = solve();
  memo?.set(key, result);
  return result;
}

type Proof = CuttingLayouts['proofs'][number];

/** What is proved of a stock's layout, its cost in whole cents. */
export const proofOf = (
  { stock, species }: StockRows,
  { status, gap, cost, bound }: Pick<Proof, 'status' | 'gap' | 'cost' | 'bound'>,
): Proof => ({ stock: stock.key, species, status, gap, cost: addUp([cost]), bound });
