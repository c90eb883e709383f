/** The two pieces of work that take longest and depend on nothing else: drawing an edition and compiling a document. */
import { type DrawInput, drawPlan, loadSvg } from './draw/index.ts';
import type { DrawingSet } from './draw/types.ts';
import { loadSolids, type Solids } from './geometry/manifold.ts';
import { placeParts } from './geometry/place.ts';
import { loadTypst, type TypstCompiler, type TypstResult } from './publish/typst.ts';

/** Draws a plan in an edition. */
export interface DrawTask {
  readonly kind: 'draw';
  readonly input: Omit<DrawInput, 'parts' | 'solids'>;
}

/** Compiles a document; `fonts` are the bytes of `FONT_FILES`. */
export interface PdfTask {
  readonly kind: 'pdf';
  readonly main: string;
  readonly files: ReadonlyMap<string, Uint8Array | string>;
  readonly fonts: readonly Uint8Array[];
}

export type Task = DrawTask | PdfTask;
/** What comes of a task. */
export type Done<T extends Task> = T extends DrawTask ? DrawingSet : TypstResult;

// Loaded once a thread. They hold no state that a result depends on.
let drawing: Promise<Solids> | undefined;
let typst: Promise<TypstCompiler> | undefined;

/** Does a task, in this thread. */
export async function perform<T extends Task>(task: T): Promise<Done<T>> {
  if (task.kind === 'draw') {
    drawing ??= Promise.all([loadSolids(), loadSvg()]).then(([solids]) => solids);
    const solids = await drawing;
    return drawPlan({ ...task.input, parts: placeParts(task.input.plan, solids), solids }) as Done<T>;
  }
  typst ??= loadTypst(task.fonts);
  return (await typst).compile(task.main, task.files) as Done<T>;
}
