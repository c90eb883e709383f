/** Parts that paid and free plan pages share: the opening with its facts, revisions, licence and safety. */
import { LIFT, weightText } from '../../instructions/cautions.ts';
import type { OutputFile, PlanBundle } from '../types.ts';
import { type Child, type Content, dateText, el, money, paragraphs } from './html.ts';
import { addressOf, type Place, type SiteSettings, section, siteUrl } from './page-frame.ts';
import { type Picture, pictureNode } from './page-pictures.ts';
import { caution, lengthNode } from './page-words.ts';

/** A photo of the finished piece, made ready. */
export interface PagePhoto {
  /** Its file as the plan names it. */
  readonly file: string;
  readonly picture: Picture;
  readonly alt: string;
}

/** All that a plan's page is made of. */
export interface PlanMatter {
  readonly site: SiteSettings;
  readonly bundle: PlanBundle;
  /** The finished piece as pixels. */
  readonly plate?: Picture;
  /** The photo at the head of the page; the drawing stands there where absent. */
  readonly photo?: PagePhoto;
  /** The others. */
  readonly photos: readonly PagePhoto[];
  readonly card?: { readonly file: string; readonly width: number; readonly height: number };
  /** PDFs by name, `potting-bench-imperial-letter.pdf`. */
  readonly pdfs: ReadonlyMap<string, Uint8Array>;
}

/** A plan's page, and the files it brings along. */
export interface MadePage {
  readonly html: string;
  readonly files: readonly OutputFile[];
}

export const planPath = (slug: string): string => `plans/${slug}/`;

export const paperName = (paper: 'letter' | 'a4'): string => (paper === 'letter' ? 'US Letter' : 'A4');
export const unitName = (edition: PlanBundle['editions'][number]['edition']): string =>
  edition.numbers.system === 'inch' ? 'Inches' : 'Millimetres';

/** Number of a PDF's pages, read from its page tree; nothing where the tree is compressed. */
export function sheetCount(pdf: Uint8Array | undefined): number | undefined {
  if (pdf === undefined) return undefined;
  let most = 0;
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString('latin1');
  for (const found of text.matchAll(/\/Type\s*\/Pages\b[^>]{0,400}?\/Count\s+(\d{1,5})\b/g))
    most = Math.max(most, Number(found[1]));
  return most === 0 ? undefined : most;
}

/** The prices, the shop's own currency first, the others by code. */
export function prices(bundle: PlanBundle, currency: string): string[] {
  const codes = Object.keys(bundle.front.price).sort();
  const first = codes.filter((code) => code === currency);
  return [...first, ...codes.filter((code) => code !== currency)].map((code) =>
    money(bundle.front.price[code] as number, code),
  );
}

/** The finished size in an edition: `48″ wide, 22″ deep, 48″ high` or `1200 × 560 × 1215 mm`. */
export function outlineNodes(bundle: PlanBundle, index: number, words: boolean): Content[] {
  const made = bundle.editions[index];
  if (made === undefined) return [];
  const { width, depth, height } = made.finished.plan.outline;
  const style = made.edition.numbers;
  const size = (length: typeof width, bare = false) => lengthNode(length, style, { bare });
  const text = (value: string): Content => ({ type: 'text', value });
  if (words) return [size(width), text(' wide, '), size(depth), text(' deep, '), size(height), text(' high')];
  return [size(width, true), text(' × '), size(depth, true), text(' × '), size(height)];
}

/**
 * The piece's weight as its plans say it, each edition its own: `62 lb or 28 kg`, `45 lb or 27 kg, by the lumber of the edition` where
 * they differ by more than print rounds. Of several sizes the heaviest. Nothing where no density is known.
 */
function weightWords(bundle: PlanBundle): { heaviest: number; words: string } | undefined {
  const known = bundle.editions.flatMap(({ finished: { cutList, plan } }) =>
    cutList.weight === undefined ? [] : [{ plan, weight: cutList.weight }],
  );
  if (known.length === 0) return undefined;
  const heaviest = Math.max(...known.map(({ weight }) => weight));
  const most = (system: 'inch' | 'mm') =>
    known
      .filter(({ plan }) => plan.edition.numbers.system === system)
      .sort((a, b) => b.weight - a.weight)
      .slice(0, 1);
  const [pounds, kilograms] = [most('inch'), most('mm')];
  const said = [...pounds, ...kilograms].map(({ plan, weight }) => weightText(weight, plan));
  const [one, other] = [pounds[0]?.weight, kilograms[0]?.weight];
  const alike = one === undefined || other === undefined || Math.abs(one - other) < 0.5;
  return {
    heaviest,
    words: alike ? said.join(' or ') : `${said.join(' or ')}, by the lumber of the edition`,
  };
}

/** One row of the facts. */
export type Fact = readonly [label: string, value: readonly Child[]];

/** The opening: plate on its bench line, number, title, summary, facts, and what the page asks for. */
export function opening(
  matter: PlanMatter,
  said: { plate: Child; caption: string; summary: string; facts: readonly Fact[]; act: readonly Child[] },
): Content {
  const { front } = matter.bundle;
  const revision = front.revisions[0]?.revision;
  return el(
    'div.open',
    {},
    el(
      'figure.plate',
      {},
      el(matter.photo !== undefined ? 'div.photo' : 'div.stand', {}, said.plate),
      el('figcaption', {}, said.caption),
    ),
    el(
      'div.words',
      {},
      el(
        'p.no',
        {},
        el('span', {}, `Plan ${front.number}`),
        ' ',
        revision === undefined ? null : el('span', {}, `Revision ${revision}`),
      ),
      el(front.title.length > 16 ? 'h1.long' : 'h1', {}, front.title),
      said.summary === '' ? null : el('p.lede', {}, said.summary),
      el(
        'dl.facts',
        {},
        said.facts.flatMap(([label, value]) => [el('dt', {}, label), el('dd', {}, value)]),
      ),
      said.act,
    ),
  );
}

/** The plate's picture: a photo, or the drawing as pixels. */
export function platePicture(matter: PlanMatter): Child {
  const { photo } = matter;
  const sizes = '(min-width: 1152px) 597px, (min-width: 901px) 55vw, calc(100vw - 36px)';
  if (photo !== undefined)
    return pictureNode(photo.picture, { folder: '', alt: photo.alt, sizes, eager: true });
  if (matter.plate === undefined) return null;
  return pictureNode(matter.plate, { folder: '', alt: plateAlt(matter.bundle), sizes, eager: true });
}

export const plateAlt = (bundle: PlanBundle): string => `${bundle.front.title}: the finished piece, drawn.`;

export const PHOTOS: Place = { id: 'photos', title: 'Photos' };

/** The photos that don't stand at the head of the page. */
export const photosSection = ({ photos }: PlanMatter): Content | null =>
  photos.length === 0
    ? null
    : section(
        PHOTOS,
        el(
          'div.photos',
          {},
          photos.map(({ picture, alt }) =>
            pictureNode(picture, {
              folder: '',
              alt,
              sizes: '(min-width: 1152px) 380px, (min-width: 901px) 34vw, calc(100vw - 36px)',
            }),
          ),
        ),
      );

export const REVISIONS: Place = { id: 'revisions', title: 'Revisions' };
export const LICENCE: Place = { id: 'licence', title: 'Licence and safety' };

/** The table of revisions. */
export const revisionsTable = (revisions: PlanBundle['front']['revisions']): Content =>
  el(
    'table.revisions',
    {},
    el(
      'thead',
      {},
      el('tr', {}, ...['Revision', 'What changed', 'Date'].map((head) => el('th', { scope: 'col' }, head))),
    ),
    el(
      'tbody',
      {},
      revisions.map((revision) =>
        el(
          'tr',
          {},
          el('td', {}, revision.revision),
          el('td', {}, revision.note),
          el('td.date', {}, el('time', { dateTime: revision.date }, dateText(revision.date))),
        ),
      ),
    ),
  );

export const revisionsSection = (bundle: PlanBundle): Content =>
  section(REVISIONS, revisionsTable(bundle.front.revisions));

/** The licence, and the cautions in their frame. `cautions` are sentences. */
export function licenceSection(matter: PlanMatter, cautions: readonly (readonly Child[])[]): Content {
  const licence = matter.bundle.front.licence ?? matter.site.shop.licence;
  return section(
    LICENCE,
    paragraphs(licence),
    cautions.length === 0 ? null : caution(cautions.map((words) => el('p', {}, words))),
  );
}

/** The weight as a caution, from where the plan's own begins. */
export function weightCaution(bundle: PlanBundle): string | undefined {
  const weight = weightWords(bundle);
  if (weight === undefined || weight.heaviest <= LIFT) return undefined;
  return `The piece weighs about ${weight.words}. Lift it with a second person.`;
}

/** The plan for search engines: a product, with an offer where it has a price. */
export function productData(matter: PlanMatter, description: string): unknown {
  const { bundle, site } = matter;
  const { front } = bundle;
  const address = addressOf(site.shop, planPath(bundle.slug));
  const offers = Object.keys(front.price)
    .sort((a, b) => Number(b === site.shop.currency) - Number(a === site.shop.currency) || (a < b ? -1 : 1))
    .map((currency) => ({
      '@type': 'Offer',
      price: `${front.price[currency]}`,
      priceCurrency: currency,
      availability: 'https://schema.org/InStock',
      url: address,
      seller: { '@type': 'Organization', name: site.shop.name, url: siteUrl(site.shop) },
    }));
  const free = [
    {
      '@type': 'Offer',
      price: '0',
      priceCurrency: site.shop.currency,
      availability: 'https://schema.org/InStock',
      url: address,
    },
  ];
  return {
    '@context': 'https://schema.org',
    '@type': 'Product',
    name: `${front.title}, plan ${front.number}`,
    description,
    category: front.kind,
    sku: `${front.number}`,
    url: address,
    ...(matter.card === undefined ? {} : { image: address + matter.card.file }),
    brand: { '@type': 'Brand', name: site.shop.name },
    offers: bundle.free ? free : offers,
  };
}
