/**
 * The pipeline: a shop's folder in, findings and the files to publish out. The only file that sees every phase, and the one that
 * loads what is heavy, each when it is first needed, so that `proof` starts at once.
 */

import { cutList } from './cutting/cut-list.ts';
import type { Solver } from './cutting/highs.ts';
import { boardJobs, jobKey, layOutPlan } from './cutting/layouts.ts';
import { sheetJobs, sheetKey } from './cutting/sheet-layouts.ts';
import type { SheetResult } from './cutting/sheets/types.ts';
import { shoppingList } from './cutting/shopping.ts';
import type { BoardResult, CutList, CuttingLayouts } from './cutting/types.ts';
import { type Diagnostic, hasErrors, mergeEditions, type Outcome, sortDiagnostics } from './diagnostics.ts';
import { type Disk, packageFile, programFolder } from './disk.ts';
import type { DrawingSet } from './draw/types.ts';
import type { ComputedPlan } from './figures.ts';
import { writeInstructions } from './instructions/index.ts';
import { findJoinery } from './joinery/index.ts';
import { buildPlan } from './model/plan.ts';
import type { Plan } from './model/types.ts';
import { proofPlan } from './proof/index.ts';
import { type Darkroom, darkroom, type KeptPictures } from './publish/darkroom.ts';
import { labelsName } from './publish/labels-pdf.ts';
import type { ModelFile } from './publish/models.ts';
import { packageFiles } from './publish/package.ts';
import { publicFindings } from './publish/page-public.ts';
import { pdfName } from './publish/pdf.ts';
import { templatesName } from './publish/pdf-templates.ts';
import { photoFaults } from './publish/photos.ts';
import { siteFiles } from './publish/site.ts';
import { pageFonts } from './publish/theme.ts';
import type { OutputFile, PlanBundle, Theme } from './publish/types.ts';
import { FONT_FILES } from './publish/typst.ts';
import { perVariant } from './publish/variants.ts';
import { hardwareIn } from './read/hardware.ts';
import { readShop } from './read/shop.ts';
import type { Edition, FrontMatter, Photo, PlanSource, ShopSource } from './read/types.ts';
import { inVariants, ofVariant } from './read/variants.ts';
import { type Cache, fromCache, keyOf, keyText, remembered, toCache } from './shell/cache.ts';
import { readContent, themeNamed } from './shell/folder.ts';
import { type MadePdfs, makePdfs, type PdfJob } from './shell/pdfs.ts';
import type { Pool } from './shell/pool.ts';
import type { Progress } from './shell/terminal.ts';
import type { Done, SentPlan, Task } from './tasks.ts';

/** What a run works on. */
export interface BuildInput {
  readonly disk: Disk;
  /** The shop's folder, absolute. */
  readonly shop: string;
  /** Names of the plans wanted; all where empty. */
  readonly plans: readonly string[];
  readonly cache: Cache;
  readonly progress: Progress;
  /** Does what takes long; threads where the program runs built. */
  readonly pool: Pool<Task>;
}

/** A plan computed in each edition, of each variant in turn. Without an edition where the plan has faults there. */
export interface ComputedBundle {
  readonly slug: string;
  readonly front: FrontMatter;
  readonly editions: readonly { readonly edition: Edition; readonly computed: ComputedPlan }[];
}

/** All that is known before anything is drawn. `diagnostics` are those of the wanted plans and of the shop, sorted. */
export interface ComputedShop {
  readonly source?: ShopSource;
  readonly theme?: Theme;
  readonly plans: readonly ComputedBundle[];
  readonly diagnostics: readonly Diagnostic[];
}

/** What came of a run: the files to publish, or none where there is an error. */
export interface Built {
  readonly plans: readonly string[];
  readonly diagnostics: readonly Diagnostic[];
  readonly files?: readonly OutputFile[];
}

/** What the phases that take long are done with. */
type Tools = Pick<BuildInput, 'cache' | 'pool'>;

/** Reads, checks and publishes: everything of a run but the writing. */
export async function buildShop(input: BuildInput): Promise<Built> {
  const computed = await computeShop(input);
  const plans = computed.plans.map((plan) => plan.slug);
  const { source, theme } = computed;
  if (source === undefined || theme === undefined || hasErrors(computed.diagnostics))
    return { plans, diagnostics: computed.diagnostics };
  const found = [...computed.diagnostics];
  const ended = (files?: readonly OutputFile[]): Built => {
    const diagnostics = finalReport(found, source);
    return files === undefined || hasErrors(diagnostics)
      ? { plans, diagnostics }
      : { plans, diagnostics, files };
  };

  input.progress.say('drawing');
  const bundles = await Promise.all(computed.plans.map((plan) => finishPlan(plan, input)));
  found.push(...bundles.flatMap(publicFindings));
  const pdfs: MadePdfs = await makePdfs({
    ...input,
    bundles,
    shop: source.shop,
    theme,
    ...compilerOf(input),
  });
  found.push(...pdfs.diagnostics);
  if (hasErrors(found)) return ended();

  input.progress.say('making pages and packages');
  // Each variant is a package of its own, and all are on one page.
  const packed = bundles.flatMap(perVariant);
  // The pool has nothing else to do while this thread writes the pages.
  const [site, models] = await Promise.all([
    pagesOf({
      ...input,
      source,
      bundles,
      theme,
      pdfs: pdfs.byName,
      room: darkroom(keptPictures(input.cache)),
      report: (finding) => void found.push(finding),
    }),
    Promise.all(packed.map((bundle) => modelsOf(bundle, input))),
  ]);
  const packages = packed.flatMap((bundle, index) =>
    packageOf(bundle, source, pdfs.byName, models[index] ?? []),
  );
  return ended([...site, ...packages]);
}

/** Fonts of the sheets, and the compiler as the pool runs it. */
export function compilerOf({ disk, pool }: Pick<BuildInput, 'disk' | 'pool'>) {
  const fonts = FONT_FILES.map((name) => disk.read(packageFile(name)));
  const compile = ({ main, files }: PdfJob) => ask(pool, { kind: 'pdf', main, files, fonts });
  return { fonts, compile };
}

/** Reads the shop's folder and computes the wanted plans in every edition. */
export async function computeShop(input: BuildInput): Promise<ComputedShop> {
  input.progress.say('reading the shop');
  const content = readContent(input.disk, input.shop);
  const read = await readShop(content.files);
  const source = read.value;
  const wanted = (slug: string) => input.plans.length === 0 || input.plans.includes(slug);
  // Faults of the plans that weren't asked for are left for their own turn.
  const found = [...content.diagnostics, ...read.diagnostics].filter(({ origin }) => {
    const slug = /^content\/plans\/([^/]+)\//.exec(origin.file)?.[1];
    return slug === undefined || wanted(slug);
  });
  if (source === undefined) return { plans: [], diagnostics: sortDiagnostics(found) };
  const theme = themeNamed(source.shop.theme, input.disk, input.shop, programFolder().replace(/[\\/]$/, ''));
  found.push(...theme.diagnostics);
  input.progress.say('looking at photos');
  const named = source.plans.filter(({ slug }) => wanted(slug));
  const bytesOf = (slug: string, { file }: Photo) => photoBytes(input, slug, file);
  found.push(...(await photoFaults(named, bytesOf, darkroom(keptPictures(input.cache)))));
  input.progress.say('computing');
  const { editions: keys } = source.shop;
  const plans = await Promise.all(
    named.map(async (plan) => {
      const wanted = inVariants(plan).flatMap((one) => keys.map((edition) => ({ one, edition })));
      const all = await Promise.all(
        wanted.map(({ one, edition }) => computePlan(one, edition, source, input)),
      );
      found.push(...all.flatMap((made) => made.diagnostics));
      const editions = all.flatMap(({ value }, index) =>
        value === undefined ? [] : [{ edition: wanted[index]?.edition as Edition, computed: value }],
      );
      return { slug: plan.slug, front: plan.front, editions };
    }),
  );
  const diagnostics = finalReport(found, source);
  return { source, ...(theme.value === undefined ? {} : { theme: theme.value }), plans, diagnostics };
}

/** Said once where it holds for all editions and variants, in the order of the files. */
const finalReport = (found: readonly Diagnostic[], source: ShopSource): Diagnostic[] =>
  sortDiagnostics(
    mergeEditions(
      found,
      source.shop.editions.length,
      (file) => source.plans.find((plan) => plan.file === file)?.variants.length ?? 1,
    ),
  );

/** One plan in one edition and variant, from its text to its instructions, and all findings. No value where it can't be built. */
export async function computePlan(
  source: PlanSource,
  edition: Edition,
  whole: ShopSource,
  tools: Tools,
): Promise<{ value?: ComputedPlan; diagnostics: readonly Diagnostic[] }> {
  const shop = { ...whole, hardware: hardwareIn(whole.hardware, edition.numbers.system) };
  const built = buildPlan(source, edition, shop);
  const plan = built.value;
  if (plan === undefined) return { diagnostics: ofVariant(source, built.diagnostics) };
  const joinery = findJoinery(plan, shop.hardware);
  const list = cutList(plan);
  const laid = await layoutsOf(plan, list, tools);
  const layouts = laid.value;
  const shopping = shoppingList(plan, list, layouts, joinery);
  const instructions = writeInstructions({ plan, cutList: list, joinery, shop: shop.shop });
  const overlaps = await remembered(tools.cache, 'overlaps', keyText(plan.parts), () =>
    ask(tools.pool, { kind: 'overlaps', plan: bare(plan) }, homeOf(plan)),
  );
  const diagnostics = ofVariant(source, [
    ...built.diagnostics,
    ...joinery.diagnostics,
    ...laid.diagnostics,
    ...instructions.diagnostics,
    ...proofPlan({ plan, joinery, cutList: list, layouts, overlaps }),
  ]);
  return {
    value: { plan, joinery, cutList: list, layouts, shopping, instructions, diagnostics },
    diagnostics,
  };
}

/** Board layouts: those of an earlier run where nothing that they depend on has changed, the others solved side by side. */
async function layoutsOf(
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

/** Stands for the solver where every job is solved: to be asked would be a bug. */
const solvedAlready: Solver = {
  linear: () => unsolved(),
  integer: () => unsolved(),
};

const unsolved = (): never => {
  throw new Error('a board job was not solved beforehand');
};

/** A plan without its prose, which is neither drawn nor measured: so an edit of a sentence leaves results as they are. */
function bare({ evaluate: _, ...plan }: Plan): SentPlan {
  return {
    ...plan,
    front: { ...plan.front, revisions: [], photos: [] },
    opening: [],
    sections: [],
    stepsOpening: [],
    steps: plan.steps.map((step) => ({ ...step, prose: [] })),
  };
}

/** Has a task done by the pool. */
const ask = <T extends Task>(pool: Pool<Task>, task: T, home?: string) =>
  pool.run(task, home) as Promise<Done<T>>;

/** The tasks of a plan in an edition share its boards, once they are shaped. */
const homeOf = ({ slug, edition }: Plan): string => `${slug} ${edition.key}`;

/** Draws a computed plan in all its editions, side by side. */
export async function finishPlan(plan: ComputedBundle, tools: Tools): Promise<PlanBundle> {
  const editions = await Promise.all(
    plan.editions.map(async ({ computed }) => {
      const drawings = await drawingsOf(computed, tools);
      // the plan's own: it may print finer fractions than the shop asks for, as thin sheets need
      return { edition: computed.plan.edition, finished: { ...computed, drawings } };
    }),
  );
  return {
    slug: plan.slug,
    front: plan.front,
    free: isFree(plan.front),
    editions,
  };
}

/** A plan without a price is free: its page is the whole plan. */
const isFree = (front: FrontMatter): boolean => Object.keys(front.price).length === 0;

function drawingsOf(computed: ComputedPlan, { cache, pool }: Tools): Promise<DrawingSet> {
  const { plan, cutList, layouts, joinery, instructions } = computed;
  const unsaid = { opening: [], sections: [], stepsOpening: [], diagnostics: [] };
  const steps = instructions.steps.map((step) => ({ ...step, blocks: [] }));
  const input = {
    plan: bare(plan),
    cutList,
    layouts,
    joinery,
    instructions: { ...instructions, ...unsaid, steps },
    page: isFree(plan.front) ? ('whole' as const) : ('samples' as const),
  };
  return remembered(cache, 'drawings', keyText(input), () =>
    ask(pool, { kind: 'draw', input }, homeOf(plan)),
  );
}

/** Pictures of earlier runs, found by the hash of what they show. */
export const keptPictures = (cache: Cache): KeptPictures => ({
  get: (key) => cache.get(keyOf('picture', key)),
  put: (key, content) => cache.put(keyOf('picture', key), content),
});

/** The piece in 3D and its flat boards, for each edition. */
async function modelsOf(bundle: PlanBundle, { pool }: Pick<Tools, 'pool'>): Promise<ModelFile[]> {
  const made = await Promise.all(
    bundle.editions.map(({ finished: { plan, cutList, joinery } }) =>
      ask(pool, { kind: 'models', plan: bare(plan), cutList, joinery }, homeOf(plan)),
    ),
  );
  return made.flat();
}

/** What a buyer of a plan receives, of one variant. */
function packageOf(
  bundle: PlanBundle,
  source: ShopSource,
  pdfs: ReadonlyMap<string, Uint8Array>,
  models: readonly ModelFile[],
): OutputFile[] {
  const own = bundle.editions.flatMap(({ finished }) => {
    return [pdfName(finished.plan), templatesName(finished.plan), labelsName(finished.plan)].flatMap(
      (name) => {
        const content = pdfs.get(name);
        return content === undefined ? [] : [{ name, content }];
      },
    );
  });
  return packageFiles(bundle, [...own, ...models], source.shop);
}

/** The site as files. `pdfs` by name: only those of free plans get into it. */
export async function pagesOf(
  input: Pick<BuildInput, 'disk' | 'shop'> & {
    readonly source: ShopSource;
    readonly bundles: readonly PlanBundle[];
    readonly theme: Theme;
    readonly pdfs: ReadonlyMap<string, Uint8Array>;
    readonly room: Darkroom;
    /** Takes what is found while pages are made. */
    readonly report: (finding: Diagnostic) => void;
  },
): Promise<OutputFile[]> {
  const { disk, bundles, theme, pdfs, room, report } = input;
  const { shop } = input.source;
  const photos = new Map(
    bundles.flatMap(({ slug, front }) =>
      front.photos.flatMap(({ file }) => {
        const bytes = photoBytes(input, slug, file);
        return bytes === undefined ? [] : [[`${slug}/${file}`, bytes] as const];
      }),
    ),
  );
  const fonts = new Map(pageFonts(theme).flatMap(({ module }) => fontBytes(disk, module)));
  return siteFiles({ shop, bundles, theme, pdfs, photos, fonts, room, report });
}

/** A photo of a plan; nothing where the file isn't there. */
function photoBytes(
  { disk, shop }: Pick<BuildInput, 'disk' | 'shop'>,
  slug: string,
  file: string,
): Uint8Array | undefined {
  const path = `${shop}/content/plans/${slug}/${file}`;
  return disk.exists(path) ? disk.read(path) : undefined;
}

/** A font of a theme, where its package is installed: a shop's theme may name a family that readers have themselves. */
function fontBytes(disk: Disk, module: string): (readonly [string, Uint8Array])[] {
  try {
    return [[module, disk.read(packageFile(module))]];
  } catch {
    return [];
  }
}
