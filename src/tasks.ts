/** The pieces of work that take longest and depend on nothing else: solving a layout, drawing an edition, compiling a document. */
import { layoutBoards } from './cutting/boards/boards.ts';
import { loadSolver, type Solver } from './cutting/highs.ts';
import { layoutSheets } from './cutting/sheets/sheets.ts';
import type { SheetJob, SheetResult } from './cutting/sheets/types.ts';
import type { BoardJob, BoardResult, CutList } from './cutting/types.ts';
import { type DrawInput, drawPlan, loadSvg } from './draw/index.ts';
import type { DrawingSet } from './draw/types.ts';
import { loadSolids, type Solids } from './geometry/manifold.ts';
import { findOverlaps, type PartOverlap } from './geometry/overlaps.ts';
import { findBroken } from './geometry/pieces.ts';
import { placeParts } from './geometry/place.ts';
import type { Joinery } from './joinery/types.ts';
import type { Plan } from './model/types.ts';
import { type ModelFile, modelFiles } from './publish/models/models.ts';
import { loadTypst, readyTypst, type TypstCompiler, type TypstResult } from './publish/pdf/typst.ts';

/** Lays out the boards of one stock. */
export interface BoardsTask {
  readonly kind: 'boards';
  readonly job: BoardJob;
}

/** Lays out the sheets of one stock. */
export interface SheetsTask {
  readonly kind: 'sheets';
  readonly job: SheetJob;
}

/** Draws a plan in an edition. */
export interface DrawTask {
  readonly kind: 'draw';
  readonly input: Omit<DrawInput, 'plan' | 'parts' | 'solids'> & { readonly plan: SentPlan };
}

/** Compiles a document; `fonts` are the bytes of `FONT_FILES`. */
export interface PdfTask {
  readonly kind: 'pdf';
  readonly main: string;
  readonly files: ReadonlyMap<string, Uint8Array | string>;
  readonly fonts: readonly Uint8Array[];
}

/** A plan as another thread can be sent it: without the function that evaluates formulas, which no task needs. */
export type SentPlan = Omit<Plan, 'evaluate'>;

/** Looks for boards that are in each other. */
export interface OverlapsTask {
  readonly kind: 'overlaps';
  readonly plan: SentPlan;
}

/** Writes the piece for viewers and its flat boards for machines. */
export interface ModelsTask {
  readonly kind: 'models';
  readonly plan: SentPlan;
  readonly cutList: CutList;
  readonly joinery: Joinery;
}

export type Task = BoardsTask | SheetsTask | OverlapsTask | DrawTask | ModelsTask | PdfTask;
/** What comes of a task. */
export type Done<T extends Task> = T extends BoardsTask
  ? BoardResult
  : T extends SheetsTask
    ? SheetResult
    : T extends DrawTask
      ? DrawingSet
      : T extends PdfTask
        ? TypstResult
        : T extends ModelsTask
          ? ModelFile[]
          : PartOverlap[];

// Loaded once a thread. They hold no state that a result depends on.
let solving: Promise<Solver> | undefined;
let kernel: Promise<Solids> | undefined;
let drawing: Promise<void> | undefined;
let typst: Promise<TypstCompiler> | undefined;

const solver = (): Promise<Solver> => {
  solving ??= loadSolver();
  return solving;
};

const solids = (): Promise<Solids> => {
  kernel ??= loadSolids();
  return kernel;
};

/** The plan that was sent, with a stand-in for what was left out. */
const whole = (plan: SentPlan): Plan => ({
  ...plan,
  evaluate: () => {
    throw new Error('no formula is evaluated in a task');
  },
});

/** Loads all that tasks need, so that it is there when the first one comes. */
export async function loadAll(): Promise<void> {
  drawing ??= loadSvg();
  await Promise.all([solids(), solver(), drawing, readyTypst()]);
}

/** Does a task, in this thread. */
export async function perform<T extends Task>(task: T): Promise<Done<T>> {
  return (await performed(task)) as Done<T>;
}

async function performed(task: Task): Promise<Done<Task>> {
  switch (task.kind) {
    case 'boards':
      return layoutBoards(task.job, await solver());
    case 'sheets':
      return layoutSheets(task.job, await solver());
    case 'overlaps': {
      const loaded = await solids();
      const parts = placeParts(whole(task.plan), loaded);
      const broken = findBroken(parts).map(
        ({ copy, pieces, bounds }): PartOverlap => ({
          first: copy,
          second: copy,
          volume: 0,
          bounds,
          pieces,
        }),
      );
      return [...broken, ...findOverlaps(parts, loaded)];
    }
    case 'draw': {
      drawing ??= loadSvg();
      const [loaded] = await Promise.all([solids(), drawing]);
      const plan = whole(task.input.plan);
      // Pilot and clearance holes are for sheets of single parts; pictorials show pockets only.
      const parts = placeParts(plan, loaded, task.input.joinery);
      return drawPlan({ ...task.input, plan, parts, solids: loaded });
    }
    case 'models': {
      const plan = whole(task.plan);
      const loaded = await solids();
      return modelFiles(plan, task.cutList, placeParts(plan, loaded, task.joinery), loaded);
    }
    case 'pdf':
      typst ??= loadTypst(task.fonts);
      return (await typst).compile(task.main, task.files);
  }
}
