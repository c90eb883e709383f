/**
 * The pipeline: a shop's folder in, findings and the files to publish out. The only file that sees every phase, and the one that
 * loads what is heavy, each when it is first needed, so that `proof` starts at once.
 */

import { ask, bare, homeOf, layoutsOf, modelsOf, type Tools } from './asked.ts';
import { cutList } from './cutting/cut-list.ts';
import { shoppingList } from './cutting/shopping.ts';
import { type Diagnostic, hasErrors, mergeEditions, sortDiagnostics } from './diagnostics.ts';
import { type Disk, packageFile, programFolder } from './disk.ts';
import type { DrawingSet } from './draw/types.ts';
import type { ComputedPlan } from './figures.ts';
import { writeInstructions } from './instructions/index.ts';
import { findJoinery } from './joinery/index.ts';
import { buildPlan } from './model/plan.ts';
import { proofPlan } from './proof/index.ts';
import type { ModelFile } from './publish/models/models.ts';
import { packageFiles } from './publish/package.ts';
import { publicFindings } from './publish/page/page-public.ts';
import { labelsName } from './publish/pdf/labels-pdf.ts';
import { pdfName } from './publish/pdf/pdf.ts';
import { templatesName } from './publish/pdf/pdf-templates.ts';
import { FONT_FILES } from './publish/pdf/typst.ts';
import { withCover } from './publish/pictures/cover.ts';
import { type Darkroom, darkroom, type KeptPictures } from './publish/pictures/darkroom.ts';
import { photoFaults } from './publish/pictures/photos.ts';
import { type SiteInput, siteFiles } from './publish/site.ts';
import { pageFonts } from './publish/theme.ts';
import type { OutputFile, PlanBundle, Theme } from './publish/types.ts';
import { perVariant } from './publish/variants.ts';
import { hardwareIn } from './read/hardware.ts';
import { readShop } from './read/shop.ts';
import type { Edition, FrontMatter, Photo, PlanSource, ShopSource } from './read/types.ts';
import { inVariants, ofVariant } from './read/variants.ts';
import { type Cache, keyOf, keyText, remembered } from './shell/cache.ts';
import { readContent, themeNamed } from './shell/folder.ts';
import { makePdfs, type PdfJob } from './shell/pdfs.ts';
import type { Pool } from './shell/pool.ts';
import type { Progress } from './shell/terminal.ts';
import type { DrawTask, Task } from './tasks.ts';

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
  // Each step begins as soon as it can, of one plan while another is drawn: a processor that waits is time lost.
  const drawn = computed.plans.map((plan) => finishPlan(plan, input));
  const compiler = compilerOf(input);
  const making = Promise.all(
    drawn.map(async (drawing) => {
      const bundle = await drawing;
      const pdfs = makePdfs({ ...input, bundles: [bundle], shop: source.shop, theme, ...compiler });
      // Each variant is a package of its own, and all are on one page.
      const packages = perVariant(bundle).map(async (one) => {
        const models = await Promise.all(one.editions.map(({ finished }) => modelsOf(finished, input)));
        return packageOf(one, source, (await pdfs).byName, models.flat(), kept(input.cache, 'package'));
      });
      const [sheets, zips] = await Promise.all([pdfs, Promise.all(packages)]);
      return { pdfs: sheets, packages: zips.flat() };
    }),
  );
  const byName = making.then((plans) => new Map(plans.flatMap(({ pdfs }) => [...pdfs.byName])));
  // What failed is thrown below; pages may not have come to it by then.
  byName.catch(() => {});
  const bundles = await Promise.all(drawn);
  found.push(...bundles.flatMap(publicFindings));
  const reported: Diagnostic[] = [];
  const [made, site] = await Promise.all([
    making,
    pagesOf({
      ...input,
      source,
      bundles,
      theme,
      pdfs: byName,
      room: darkroom(keptPictures(input.cache)),
      report: (finding) => void reported.push(finding),
    }),
  ]);
  found.push(...made.flatMap(({ pdfs }) => pdfs.diagnostics), ...reported);
  return ended([...site, ...made.flatMap(({ packages }) => packages)]);
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
      withoutEchoes(found),
      source.shop.editions.length,
      (file) => source.plans.find((plan) => plan.file === file)?.variants.length ?? 1,
    ),
  );

/** Fasteners that a step counts in vain aren't told beside an error of the same plan: most likely its joint is the one with the fault. */
const withoutEchoes = (found: readonly Diagnostic[]): readonly Diagnostic[] => {
  const faulty = new Set(
    found.flatMap(({ id, severity, origin }) =>
      severity === 'error' && id !== 'directive.none' ? [origin.file] : [],
    ),
  );
  return found.filter(({ id, origin }) => id !== 'directive.none' || !faulty.has(origin.file));
};

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

/** What a plan is drawn for: its sheets, its page. */
export type DrawnFor = 'sheets and page' | 'sheets' | 'page';

/** Draws a computed plan in all its editions, side by side. The page of a paid plan shows samples of the first alone. */
export async function finishPlan(
  plan: ComputedBundle,
  tools: Tools,
  drawnFor: DrawnFor = 'sheets and page',
): Promise<PlanBundle> {
  const free = isFree(plan.front);
  const editions = await Promise.all(
    plan.editions.map(async ({ computed }, index) => {
      const samples = index === 0 && drawnFor !== 'sheets';
      const drawings = await drawingsOf(computed, tools, {
        page: free ? 'whole' : samples ? 'samples' : 'none',
        ...(drawnFor === 'page' && !free ? { pageOnly: true } : {}),
      });
      // the plan's own: it may print finer fractions than the shop asks for, as thin sheets need
      return { edition: computed.plan.edition, finished: { ...computed, drawings } };
    }),
  );
  return {
    slug: plan.slug,
    front: plan.front,
    free,
    editions,
  };
}

/** A plan without a price is free: its page is the whole plan. */
const isFree = (front: FrontMatter): boolean => Object.keys(front.price).length === 0;

async function drawingsOf(
  computed: ComputedPlan,
  { cache, pool }: Tools,
  shown: Pick<DrawTask['input'], 'page' | 'pageOnly'>,
): Promise<DrawingSet> {
  if (shown.pageOnly === true && shown.page === 'none') return { drawings: [], narrow: [] };
  const { plan, cutList, layouts, joinery, instructions } = computed;
  const unsaid = { opening: [], sections: [], stepsOpening: [], diagnostics: [] };
  const steps = instructions.steps.map((step) => ({ ...step, blocks: [] }));
  const input = {
    plan: bare(plan),
    cutList,
    layouts,
    joinery,
    instructions: { ...instructions, ...unsaid, steps },
    ...shown,
  };
  return remembered(cache, 'drawings', keyText(input), () =>
    ask(pool, { kind: 'draw', input }, homeOf(plan)),
  );
}

/** Pictures of earlier runs, found by the hash of what they show. */
export const keptPictures = (cache: Cache): KeptPictures => kept(cache, 'picture');

/** Files of earlier runs, found by the hash of what they hold. */
const kept = (cache: Cache, kind: 'picture' | 'package'): KeptPictures => ({
  get: (key) => cache.get(keyOf(kind, key)),
  put: (key, content) => cache.put(keyOf(kind, key), content),
});

/** What a buyer of a plan receives, of one variant. */
function packageOf(
  bundle: PlanBundle,
  source: ShopSource,
  pdfs: ReadonlyMap<string, Uint8Array>,
  models: readonly ModelFile[],
  packed: KeptPictures,
): OutputFile[] {
  const own = bundle.editions.flatMap(({ finished }) => {
    return [pdfName(finished.plan), templatesName(finished.plan), labelsName(finished.plan)].flatMap(
      (name) => {
        const content = pdfs.get(name);
        return content === undefined ? [] : [{ name, content }];
      },
    );
  });
  return packageFiles(bundle, [...own, ...models], source.shop, packed);
}

/** The site as files. `pdfs` by name: only those of free plans get into it. */
export async function pagesOf(
  input: Pick<BuildInput, 'disk' | 'shop'> & {
    readonly source: ShopSource;
    readonly bundles: readonly PlanBundle[];
    readonly theme: Theme;
    readonly pdfs: SiteInput['pdfs'];
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

/** A plan with the photo that its cover shows. */
export const coveredPlan = (bundle: PlanBundle, input: Pick<BuildInput, 'disk' | 'shop' | 'cache'>) =>
  withCover(bundle, ({ file }) => photoBytes(input, bundle.slug, file), darkroom(keptPictures(input.cache)));

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
