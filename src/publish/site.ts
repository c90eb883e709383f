/** The whole site as files: catalogue, plan pages, the shop's pages, stylesheet, fonts, pictures, PDFs of free plans. */
import type { Diagnostic } from '../diagnostics.ts';
import { cataloguePage } from './page/catalogue.ts';
import { pagePictures, planPage } from './page/page.ts';
import { addressOf, type SiteSettings } from './page/page-frame.ts';
import { type PagePhoto, type PlanMatter, planPath, plateAlt } from './page/page-parts.ts';
import {
  drawnPicture,
  linkCard,
  type Picture,
  type PictureFile,
  PLATE_WIDTHS,
  photoPicture,
  plateDrawing,
  stamp,
} from './page/page-pictures.ts';
import { smallPages } from './page/page-small.ts';
import { plateLines } from './page/svg-page.ts';
import { labelsName } from './pdf/labels-pdf.ts';
import { pdfName } from './pdf/pdf.ts';
import { templatesName } from './pdf/pdf-templates.ts';
import { headPhoto } from './pictures/cover.ts';
import { type Darkroom, darkroom } from './pictures/darkroom.ts';
import { unreadablePhoto } from './pictures/photos.ts';
import { type PageFont, pageFonts, siteStyles } from './theme.ts';
import type { OutputFile, PlanBundle, Shop, Theme } from './types.ts';

/** What a site is made of. */
export interface SiteInput {
  readonly shop: Shop;
  readonly bundles: readonly PlanBundle[];
  readonly theme: Theme;
  /**
   * By file name: `potting-bench-imperial-letter.pdf`. Only those of free plans get into the site. Where they are still being made,
   * pictures are made meanwhile.
   */
  readonly pdfs: ReadonlyMap<string, Uint8Array> | Promise<ReadonlyMap<string, Uint8Array>>;
  /** By plan and file as the plan names it: `potting-bench/cover.jpg`. */
  readonly photos?: ReadonlyMap<string, Uint8Array>;
  /** By module as `pageFonts(theme)` names them. Without them the site uses the reader's own fonts. */
  readonly fonts?: ReadonlyMap<string, Uint8Array>;
  /** Makes the pictures; one that keeps nothing where absent. */
  readonly room?: Darkroom;
  /** Takes findings: photos that can't be read, and are left out. */
  readonly report?: (finding: Diagnostic) => void;
}

/** The site, every path under `site/`, sorted. The same input gives the same bytes. */
export async function siteFiles(input: SiteInput): Promise<OutputFile[]> {
  const { shop, theme, bundles } = input;
  const language = shop.editions[0]?.language ?? 'en';
  const fonts = pageFonts(theme).filter((font) => input.fonts?.has(font.module) === true);
  const made: OutputFile[] = [];
  // The italic is named only where some page uses it, which isn't known before the pages are made.
  const write = (used: readonly PageFont[]): SiteSettings & { styles: string } => {
    const styles = siteStyles(theme, used, Math.max(0, ...bundles.map((bundle) => bundle.editions.length)));
    return {
      shop,
      theme,
      styles,
      css: `site-${stamp(styles)}.css`,
      preload: used.filter((font) => font.style === 'normal').map((font) => font.file),
      room: input.room ?? darkroom(),
    };
  };
  const italics = usesItalic(bundles);
  const used = fonts.filter((font) => font.style === 'normal' || italics);
  const site = write(used);
  made.push({ path: `site/assets/${site.css}`, content: site.styles });
  for (const font of used)
    made.push({ path: `site/assets/${font.file}`, content: input.fonts?.get(font.module) as Uint8Array });

  const ordered = [...bundles].sort((a, b) => a.front.number - b.front.number || (a.slug < b.slug ? -1 : 1));
  const plans = await Promise.all(ordered.map((bundle) => planFiles(site, bundle, input)));
  const entries = plans.map(({ plate }, at) => ({
    bundle: ordered[at] as PlanBundle,
    ...(plate === undefined ? {} : { plate }),
  }));
  made.push(...plans.flatMap((plan) => plan.files));
  // The newest plan first: its number is the highest.
  entries.reverse();
  made.push({ path: 'site/index.html', content: cataloguePage(site, entries, language) });
  made.push(
    ...smallPages(
      site,
      entries.map(({ bundle }) => bundle),
      language,
    ),
  );
  made.push(...robots(shop, bundles));
  return unique(made);
}

/** One plan's folder in the site. */
async function planFiles(
  site: SiteSettings,
  bundle: PlanBundle,
  input: SiteInput,
): Promise<{ files: OutputFile[]; plate?: { readonly picture: Picture; readonly alt: string } }> {
  const folder = `site/plans/${bundle.slug}`;
  const files: OutputFile[] = [];
  const { tokens } = site.theme;
  const { room } = site;
  const drawn = plateDrawing(bundle);
  const box = drawn === undefined ? undefined : await room.inkedBox(drawn.svg);
  const svg = drawn === undefined ? undefined : plateLines(drawn.svg, box);
  const [samples, plate, card] = await Promise.all([
    pagePictures({ site, bundle }),
    ...(svg === undefined
      ? ([undefined, undefined] as const)
      : ([
          drawnPicture(svg, { folder, base: 'piece', widths: PLATE_WIDTHS, tokens, room, box }),
          linkCard(svg, { folder, tokens, room, box }),
        ] as const)),
  ]);
  const photos: PagePhoto[] = [];
  for (const [at, photo] of bundle.front.photos.entries()) {
    const file = input.photos?.get(`${bundle.slug}/${photo.file}`);
    if (file === undefined) continue;
    const made = await photoPicture(file, { folder, base: `photo-${at + 1}`, room });
    if ('unreadable' in made) {
      input.report?.(unreadablePhoto(photo, bundle.slug, made, file.length));
      continue;
    }
    photos.push({ file: photo.file, picture: made.picture, alt: photo.alt });
    files.push(...made.files);
  }
  // What the plan names stands at the head; else its first photo, and the drawing where it has none.
  const wanted = headPhoto(bundle.front);
  const chosen =
    bundle.front.picture === undefined ? undefined : photos.find(({ file }) => file === wanted?.file);
  // A photo that can't be read leaves the next one.
  const head = chosen ?? (wanted === undefined ? undefined : photos[0]);
  const pdfs = await input.pdfs;
  const matter: PlanMatter = {
    site,
    bundle,
    ...(head === undefined ? {} : { photo: head }),
    photos: photos.filter((photo) => photo !== head),
    pdfs,
    ...(plate === undefined ? {} : { plate: plate.picture }),
    ...cardOf(chosen?.picture.fallback ?? card?.file),
  };
  const page = await planPage(matter, samples);
  files.push(...(plate?.files ?? []), ...(card?.files ?? []), ...page.files);
  files.push({ path: `${folder}/index.html`, content: page.html });
  if (bundle.free)
    for (const { finished } of bundle.editions)
      for (const name of [pdfName(finished.plan), templatesName(finished.plan), labelsName(finished.plan)]) {
        const pdf = pdfs.get(name);
        if (pdf !== undefined) files.push({ path: `${folder}/${name}`, content: pdf });
      }
  const shown =
    chosen ?? (plate === undefined ? undefined : { picture: plate.picture, alt: plateAlt(bundle) });
  return { files, ...(shown === undefined ? {} : { plate: shown }) };
}

const cardOf = (file: PictureFile | undefined): Pick<PlanMatter, 'card'> =>
  file === undefined ? {} : { card: { file: file.name, width: file.width, height: file.height } };

/** Whether any prose that reaches a page is set in italics. */
const usesItalic = (bundles: readonly PlanBundle[]): boolean =>
  bundles.some(({ editions }) =>
    editions.some(({ finished }) => {
      const { opening, sections, stepsOpening, steps } = finished.instructions;
      return JSON.stringify([opening, sections, stepsOpening, steps.map((step) => step.blocks)]).includes(
        '"kind":"emphasis"',
      );
    }),
  );

/** For search engines: which pages there are. Dates are those of the plans' revisions. */
function robots(shop: Shop, bundles: readonly PlanBundle[]): OutputFile[] {
  const escaped = (text: string) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
  const plans = bundles.map((bundle) => ({
    path: planPath(bundle.slug),
    date: bundle.front.revisions[0]?.date,
  }));
  const pages = [
    ...['', 'about/', 'licence/', 'revisions/', 'safety/'].map((path) => ({ path, date: undefined })),
    ...plans,
  ].sort((a, b) => (a.path < b.path ? -1 : 1));
  const urls = pages
    .map(
      ({ path, date }) =>
        `<url><loc>${escaped(addressOf(shop, path))}</loc>${date === undefined ? '' : `<lastmod>${escaped(date)}</lastmod>`}</url>`,
    )
    .join('\n');
  return [
    {
      path: 'site/sitemap.xml',
      content: `<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n${urls}\n</urlset>\n`,
    },
    {
      path: 'site/robots.txt',
      content: `User-agent: *\nAllow: /\nSitemap: ${addressOf(shop, 'sitemap.xml')}\n`,
    },
  ];
}

/** Sorted by path; two pictures with the same content and name are one file. */
const unique = (files: readonly OutputFile[]): OutputFile[] =>
  [...new Map(files.map((file) => [file.path, file])).values()].sort((a, b) => (a.path < b.path ? -1 : 1));
