/** The PDFs of a run: those whose inputs haven't changed come from the cache, the others are compiled side by side. */
import type { Diagnostic } from '../diagnostics.ts';
import { labelsName, labelsPdf } from '../publish/pdf/labels-pdf.ts';
import { pdfName, planPdf } from '../publish/pdf/pdf.ts';
import { glyphsOf } from '../publish/pdf/pdf-letters.ts';
import { templatesName, templatesPdf } from '../publish/pdf/pdf-templates.ts';
import type { TypstCompiler, TypstResult } from '../publish/pdf/typst.ts';
import type { PlanBundle, Shop, Theme } from '../publish/types.ts';
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

/** Makes the PDFs of plans in all their editions. `compile` does the work, here or in a thread. */
export async function makePdfs(
  input: PdfInput & {
    readonly cache: Cache;
    readonly progress: Progress;
    readonly compile: (job: PdfJob) => Promise<TypstResult>;
  },
): Promise<MadePdfs> {
  const { cache } = input;
  const results = new Map<string, TypstResult>();
  // The longest first, so that no thread is left alone with it at the end.
  const missing = pdfJobs(input)
    .filter(({ key }) => {
      const pdf = cache.get(key);
      if (pdf !== undefined) results.set(key, { pdf, problems: [] });
      return pdf === undefined;
    })
    .sort((a, b) => bytesIn(b) - bytesIn(a));
  if (missing.length > 0)
    input.progress.say(missing.length === 1 ? 'making a PDF' : `making ${missing.length} PDFs`);
  const made = await Promise.all(missing.map(input.compile));
  for (const [index, { key }] of missing.entries()) {
    const result = made[index] as TypstResult;
    results.set(key, result);
    // One with a warning is made again each time, so that the warning is said each time.
    if (result.pdf !== undefined && result.problems.length === 0) cache.put(key, result.pdf);
  }
  return runThrough(input, ({ key }) => results.get(key) ?? { problems: [] });
}

/** How much a document is made from. */
const bytesIn = ({ files }: PdfJob): number =>
  [...files.values()].reduce((sum, content) => sum + content.length, 0);

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
      const templates = templatesPdf({ finished, shop, theme, typst });
      diagnostics.push(...templates.diagnostics);
      if (templates.value !== undefined) byName.set(templatesName(finished.plan), templates.value);
      const labels = labelsPdf({ finished, shop, theme, typst });
      diagnostics.push(...labels.diagnostics);
      if (labels.value !== undefined) byName.set(labelsName(finished.plan), labels.value);
    }
  return { byName, diagnostics };
}

/** The characters of fractions, whose outlines the sheets draw. */
const FIGURES = '0123456789/ ';
