/**
 * The long work of a run, done by the pool: what a plan is sent as, its layouts, kept from an earlier run or solved side by side, and its
 * models.
 */
import type { Solver } from './cutting/highs.ts';
import { boardJobs, jobKey, layOutPlan } from './cutting/layouts.ts';
import { sheetJobs, sheetKey } from './cutting/sheet-layouts.ts';
import type { SheetResult } from './cutting/sheets/types.ts';
import type { BoardResult, CutList, CuttingLayouts } from './cutting/types.ts';
import type { Outcome } from './diagnostics.ts';
import type { Joinery } from './joinery/types.ts';
import type { Plan } from './model/types.ts';
import type { ModelFile } from './publish/models/models.ts';
import { type Cache, fromCache, keyOf, keyText, remembered, toCache } from './shell/cache.ts';
import type { Pool } from './shell/pool.ts';
import type { Done, SentPlan, Task } from './tasks.ts';

/** What the phases that take long are done with. */
export interface Tools {
  readonly cache: Cache;
  /** Does what takes long; threads where the program runs built. */
  readonly pool: Pool<Task>;
}

/** Has a task done by the pool. */
export const ask = <T extends Task>(pool: Pool<Task>, task: T, home?: string) =>
  pool.run(task, home) as Promise<Done<T>>;

/** The tasks of a plan in an edition share its boards, once they are shaped. */
export const homeOf = ({ slug, edition }: Plan): string => `${slug} ${edition.key}`;

/** A plan without its prose, which is neither drawn nor measured: so an edit of a sentence leaves results as they are. */
export function bare({ evaluate: _, ...plan }: Plan): SentPlan {
  return {
    ...plan,
    front: { ...plan.front, revisions: [], photos: [] },
    opening: [],
    sections: [],
    stepsOpening: [],
    steps: plan.steps.map((step) => ({ ...step, prose: [] })),
  };
}

/** Board layouts: those of an earlier run where nothing that they depend on has changed, the others solved side by side. */
export async function layoutsOf(
  plan: Plan,
  list: CutList,
  { cache, pool }: Tools,
): Promise<Outcome<CuttingLayouts>> {
  const key = keyOf('layouts', keyText([list, plan.edition, plan.stockList]));
  const stored = fromCache<CuttingLayouts>(cache, key);
  if (stored !== undefined) return { value: stored, diagnostics: [] };
  const solved = new Map<string, BoardResult>();
  await Promise.all(
    boardJobs(plan, list).map(async (job) => {
      const make = () => ask(pool, { kind: 'boards', job });
      solved.set(jobKey(job), await remembered(cache, 'boards', jobKey(job), make));
    }),
  );
  const sheets = new Map<string, SheetResult>();
  await Promise.all(
    sheetJobs(plan, list).map(async (job) => {
      const make = () => ask(pool, { kind: 'sheets', job });
      sheets.set(sheetKey(job), await remembered(cache, 'sheets', sheetKey(job), make));
    }),
  );
  const memo = {
    get: (key: string) => solved.get(key),
    set: (key: string, result: BoardResult) => void solved.set(key, result),
    sheets,
  };
  const laid = layOutPlan(plan, list, solvedAlready, memo);
  // A finding has a place in the plan, which an edit elsewhere moves: it is found anew each time.
  if (laid.diagnostics.length === 0) toCache(cache, key, laid.value);
  return laid;
}

/** The piece in 3D and its flat boards: those of an earlier run where nothing that they are made from has changed. */
export async function modelsOf(
  made: { readonly plan: Plan; readonly cutList: CutList; readonly joinery: Joinery },
  { cache, pool }: Tools,
): Promise<ModelFile[]> {
  const { cutList, joinery } = made;
  const plan = bare(made.plan);
  const kept = await remembered(cache, 'models', keyText([plan, cutList, joinery]), async () => {
    const files = await ask(pool, { kind: 'models', plan, cutList, joinery }, homeOf(made.plan));
    return files.map(({ name, content }) => ({ name, base64: Buffer.from(content).toString('base64') }));
  });
  return kept.map(({ name, base64 }) => ({ name, content: new Uint8Array(Buffer.from(base64, 'base64')) }));
}

/** Stands for the solver where every job is solved: to be asked would be a bug. */
const solvedAlready: Solver = {
  linear: () => unsolved(),
  integer: () => unsolved(),
};

const unsolved = (): never => {
  throw new Error('a board job was not solved beforehand');
};
