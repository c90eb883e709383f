/**
 * `preview`: the shop in a browser, built again on each change. Of a paid plan only what its page shows is drawn; its sheets are drawn, and
 * PDFs made, when they are asked for. A fault is shown over the last good page, and serving goes on.
 */
import {
  type BuildInput,
  type ComputedBundle,
  compilerOf,
  computeShop,
  coveredPlan,
  finishPlan,
  keptPictures,
  pagesOf,
} from './build.ts';
import { type Diagnostic, hasErrors, holdsFor, sortDiagnostics } from './diagnostics.ts';
import { type Disk, DiskFault } from './disk.ts';
import { capital } from './instructions/words.ts';
import { unitName } from './publish/page/page-parts.ts';
import { pdfName } from './publish/pdf/pdf.ts';
import { previewRoom } from './publish/pictures/darkroom.ts';
import type { Shop, Theme } from './publish/types.ts';
import { variantBefore } from './publish/variants.ts';
import { memoryCache } from './shell/cache.ts';
import { makePdfs } from './shell/pdfs.ts';
import type { Pool } from './shell/pool.ts';
import { countText, reportText } from './shell/report.ts';
import { type Preview, type SheetLink, type ShownFault, servePreview } from './shell/serve.ts';
import { progressOn, type Terminal } from './shell/terminal.ts';
import type { Task } from './tasks.ts';

/** Editors save in several steps: changes within this many milliseconds are one. */
const SETTLE = 40;

/** What the pages show, and what their PDFs are made from. */
interface Shown {
  readonly files: ReadonlyMap<string, Uint8Array | string>;
  readonly plans: readonly ComputedBundle[];
  readonly shop: Shop;
  readonly theme: Theme;
}

/** Serves until the user ends it; gives the exit code. */
export async function preview(input: {
  readonly disk: Disk;
  readonly shop: string;
  readonly port: number;
  readonly terminal: Terminal;
  readonly quiet: boolean;
  readonly pool: Pool<Task>;
}): Promise<number> {
  const { disk, shop, terminal, quiet, pool } = input;
  const cache = memoryCache();
  const progress = progressOn(terminal, quiet || !terminal.live);
  const build: BuildInput = { disk, shop, plans: [], cache, progress, pool };
  const compiler = compilerOf(build);
  let shown: Shown | undefined;

  const pdfOf = async (name: string): Promise<Uint8Array | undefined> => {
    if (shown === undefined) return undefined;
    const { plans, shop: seller, theme } = shown;
    const wanted = plans.flatMap((plan) => {
      const editions = plan.editions.filter(({ computed }) => pdfName(computed.plan) === name);
      return editions.length === 0 ? [] : [{ ...plan, editions }];
    });
    if (wanted.length === 0) return undefined;
    const bundles = await Promise.all(
      wanted.map(async (plan) => coveredPlan(await finishPlan(plan, build, 'sheets'), build)),
    );
    const made = await makePdfs({ bundles, shop: seller, theme, cache, progress, ...compiler });
    progress.clear();
    terminal.err(reportText(made.diagnostics));
    return made.byName.get(name);
  };

  const server: Preview = await servePreview(
    input.port,
    async (path) => {
      const pdf = /^plans\/[^/]+\/([^/]+\.pdf)$/.exec(path)?.[1];
      return (pdf && (await pdfOf(pdf))) ?? shown?.files.get(`site/${path}`);
    },
    (error) => terminal.err(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`),
    (path) => sheetLinks(shown?.plans.find(({ slug }) => path === `plans/${slug}/index.html`)),
  ).catch((error: unknown) => {
    const taken = error instanceof Error && 'code' in error && error.code === 'EADDRINUSE';
    throw taken ? new DiskFault(`port ${input.port} is taken; give another with --port`) : error;
  });

  const rebuild = async (): Promise<void> => {
    const start = disk.now();
    const made = await buildPages(build);
    progress.clear();
    cache.trim();
    const errors = made.diagnostics.filter((item) => item.severity === 'error');
    if (made.shown === undefined) {
      terminal.err(reportText(errors));
      server.faults(errors.map(shownFault));
    } else {
      shown = made.shown;
      server.changed();
    }
    if (!quiet) terminal.out(`${countText(made.diagnostics)} (${Math.round(disk.now() - start)} ms)\n`);
  };

  // One build at a time; a change during a build leads to one more after it.
  let wanted = false;
  let building = false;
  const again = (): void => {
    wanted = true;
    if (building) return;
    building = true;
    void buildWhileWanted();
  };
  const buildWhileWanted = async (): Promise<void> => {
    while (wanted) {
      await new Promise((done) => setTimeout(done, SETTLE));
      wanted = false;
      try {
        await rebuild();
      } catch (error) {
        // A file that is just being written, or a bug of ours: said, and serving goes on.
        progress.clear();
        terminal.err(`kerfleaf: ${error instanceof DiskFault ? error.message : errorText(error)}\n`);
      }
    }
    building = false;
  };
  const stops = ['content', 'themes']
    .filter((folder) => disk.isFolder(`${shop}/${folder}`))
    .map((folder) => disk.watch(`${shop}/${folder}`, again));
  terminal.out(`http://127.0.0.1:${server.port}/\n`);
  again();

  await terminal.interrupted;
  for (const stop of stops) stop();
  await server.close();
  await pool.close();
  progress.clear();
  return 0;
}

/** The sheets of a plan, whoever may see them once it is published: the author reads them while writing. */
const sheetLinks = (plan: ComputedBundle | undefined): SheetLink[] =>
  (plan?.editions ?? []).map(({ edition, computed }) => ({
    name: pdfName(computed.plan),
    words: capital(`${variantBefore(computed.plan.variant)}${unitName(edition).toLowerCase()}`),
  }));

const errorText = (error: unknown): string =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);

const shownFault = (item: Diagnostic): ShownFault => ({
  place: `${item.origin.file}:${item.origin.line}:${item.origin.column}`,
  severity: item.severity,
  message: `${item.message}${holdsFor(item)}`,
  ...(item.hint === undefined ? {} : { hint: item.hint }),
});

/** Builds the pages without PDFs and packages: an empty file stands for each PDF until it is asked for. */
async function buildPages(input: BuildInput): Promise<{ shown?: Shown; diagnostics: readonly Diagnostic[] }> {
  const computed = await computeShop(input);
  const { source, theme, diagnostics } = computed;
  if (source === undefined || theme === undefined || hasErrors(diagnostics)) return { diagnostics };
  const bundles = await Promise.all(computed.plans.map((plan) => finishPlan(plan, input, 'page')));
  const pdfs = new Map(
    bundles.flatMap(({ editions }) =>
      editions.map(({ finished }) => [pdfName(finished.plan), new Uint8Array()] as const),
    ),
  );
  const found = [...diagnostics];
  const files = await pagesOf({
    ...input,
    source,
    bundles,
    theme,
    pdfs,
    room: previewRoom(keptPictures(input.cache)),
    report: (finding) => void found.push(finding),
  });
  if (hasErrors(found)) return { diagnostics: sortDiagnostics(found) };
  return {
    shown: {
      files: new Map(files.map((file) => [file.path, file.content])),
      plans: computed.plans,
      shop: source.shop,
      theme,
    },
    diagnostics,
  };
}
