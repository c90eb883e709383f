/**
 * The PDFs of a run: those whose inputs haven't changed come from the cache, the others are compiled side by side, each in a
 * worker thread of its own where there is more than one processor.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Diagnostic } from '../diagnostics.ts';
import { pdfName, planPdf } from '../publish/pdf.ts';
import { glyphsOf } from '../publish/pdf-letters.ts';
import type { PlanBundle, Shop, Theme } from '../publish/types.ts';
import { loadTypst, type TypstCompiler, type TypstResult } from '../publish/typst.ts';
import { type Cache, keyOf } from './cache.ts';
import type { Progress } from './terminal.ts';

/** PDFs by file name, and what was said while they were made. */
export interface MadePdfs {
  readonly byName: ReadonlyMap<string, Uint8Array>;
  readonly diagnostics: readonly Diagnostic[];
}

/** A document to compile: all that its PDF is made from. */
export interface PdfJob {
  readonly key: string;
  readonly main: string;
  readonly files: ReadonlyMap<string, Uint8Array | string>;
}

/** What PDFs are made from. `fonts` are the bytes of `FONT_FILES`. */
export interface PdfInput {
  readonly bundles: readonly PlanBundle[];
  readonly shop: Shop;
  readonly theme: Theme;
  readonly fonts: readonly Uint8Array[];
}

/** The documents of plans in all their editions, in order: a compiler that only takes orders tells what each is made from. */
export function pdfJobs(input: PdfInput): PdfJob[] {
  const jobs: PdfJob[] = [];
  runThrough(input, (job) => {
    jobs.push(job);
    return { problems: [] };
  });
  return jobs;
}

/** Makes the PDFs of plans in all their editions. */
export async function makePdfs(
  input: PdfInput & { readonly cache: Cache; readonly progress: Progress },
): Promise<MadePdfs> {
  const { fonts, cache } = input;
  const results = new Map<string, TypstResult>();
  const missing = pdfJobs(input).filter(({ key }) => {
    const pdf = cache.get(key);
    if (pdf !== undefined) results.set(key, { pdf, problems: [] });
    return pdf === undefined;
  });
  if (missing.length > 0)
    input.progress.say(missing.length === 1 ? 'making a PDF' : `making ${missing.length} PDFs`);
  for (const [key, result] of await compileAll(missing, fonts)) {
    results.set(key, result);
    // One with a warning is made again each time, so that the warning is said each time.
    if (result.pdf !== undefined && result.problems.length === 0) cache.put(key, result.pdf);
  }
  return runThrough(input, ({ key }) => results.get(key) ?? { problems: [] });
}

/** Goes through the documents with a compiler that is only a look-up. */
function runThrough(input: PdfInput, compile: (job: PdfJob) => TypstResult): MadePdfs {
  const { bundles, shop, theme, fonts } = input;
  const fontKey = keyOf('fonts', ...fonts);
  const typst: TypstCompiler = {
    figures: glyphsOf(fonts[4] as Uint8Array, FIGURES),
    compile: (main, files) =>
      compile({ key: keyOf('pdf', fontKey, main, ...[...files].flat()), main, files }),
  };
  const byName = new Map<string, Uint8Array>();
  const diagnostics: Diagnostic[] = [];
  for (const { editions } of bundles)
    for (const { finished } of editions) {
      const made = planPdf({ finished, shop, theme, typst });
      diagnostics.push(...made.diagnostics);
      if (made.value !== undefined) byName.set(pdfName(finished.plan), made.value);
    }
  return { byName, diagnostics };
}

/** The characters of fractions, whose outlines the sheets draw. */
const FIGURES = '0123456789/ ';

/** Compiles documents, in their order; side by side where the program runs built and there is more than one. */
async function compileAll(
  jobs: readonly PdfJob[],
  fonts: readonly Uint8Array[],
): Promise<[string, TypstResult][]> {
  const worker = import.meta.url.endsWith('.js') ? new URL('./pdf-worker.js', import.meta.url) : undefined;
  const hands = Math.min(jobs.length, availableParallelism(), MOST_WORKERS);
  if (worker === undefined || hands < 2) {
    if (jobs.length === 0) return [];
    const typst = await loadTypst(fonts);
    return jobs.map(({ key, main, files }) => [key, typst.compile(main, files)]);
  }
  const results = new Map<string, TypstResult>();
  const waiting = [...jobs];
  await Promise.all(Array.from({ length: hands }, () => workThrough(worker, waiting, fonts, results)));
  return jobs.map(({ key }) => [key, results.get(key) ?? { problems: [] }]);
}

/** More than this gain little: each loads the compiler and its fonts for itself. */
const MOST_WORKERS = 4;

/** One worker takes documents until none is left. A worker that dies is a bug of ours, and thrown as one. */
function workThrough(
  file: URL,
  waiting: PdfJob[],
  fonts: readonly Uint8Array[],
  results: Map<string, TypstResult>,
): Promise<void> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(file, { workerData: fonts });
    const next = (): void => {
      const job = waiting.shift();
      if (job === undefined) {
        void worker.terminate().then(() => resolve());
        return;
      }
      worker.once('message', (result: TypstResult) => {
        results.set(job.key, result);
        next();
      });
      worker.postMessage({ main: job.main, files: job.files });
    };
    worker.on('error', reject);
    next();
  });
}
