/** What all pages of the site share: head, masthead, the board with the page's contents, foot. */
import type { Darkroom } from '../pictures/darkroom.ts';
import type { Shop, Theme } from '../types.ts';
import {
  type Child,
  type Content,
  currencyName,
  documentHtml,
  el,
  jsonScript,
  rawSvg,
  script,
} from './html.ts';

/** What is known of the site before any page is written. */
export interface SiteSettings {
  readonly shop: Shop;
  readonly theme: Theme;
  /** Name of the stylesheet in `assets/`. */
  readonly css: string;
  /** Fonts to load at once, names in `assets/`. */
  readonly preload: readonly string[];
  /** Makes the pictures. */
  readonly room: Darkroom;
}

/** A section of a page, as the board names it. */
export interface Place {
  readonly id: string;
  readonly title: string;
}

/** A page's own matter. */
export interface PageMatter {
  readonly title: string;
  readonly description: string;
  /** Folder of the page in the site, ending in a slash, `''` for the catalogue: `plans/nest-box/`. */
  readonly path: string;
  /** The menu entry in whose part of the site the page lies. */
  readonly current?: 'Plans' | 'Licence' | 'Safety' | 'About';
  /** Words of the link that skips to the matter. */
  readonly skip: string;
  readonly language: string;
  /** Sections for the board; the bare board where absent, none where null. */
  readonly places?: readonly Place[] | null;
  readonly main: readonly Child[];
  /** Picture for links, relative to the page. */
  readonly card?: {
    readonly file: string;
    readonly width: number;
    readonly height: number;
    readonly alt: string;
  };
  readonly kind?: 'product' | 'website';
  /** Data for search engines. */
  readonly data?: readonly unknown[];
  readonly scripts?: readonly Content[];
  /** A page that may be served under any address links from the site's root. */
  readonly anywhere?: boolean;
}

/** The site's address with a slash at its end. */
export const siteUrl = (shop: Shop): string => `${shop.url.replace(/\/+$/, '')}/`;

/** The full address of a page or file of the site. */
export const addressOf = (shop: Shop, path: string): string => siteUrl(shop) + path;

/** The way from a page to the site's root. */
export const rootFrom = (path: string): string => '../'.repeat(path.split('/').length - 1) || './';

const rootPath = (shop: Shop): string => {
  const url = siteUrl(shop);
  return URL.canParse(url) ? new URL(url).pathname : '/';
};

const MENU = [
  ['Plans', ''],
  ['Licence', 'licence/'],
  ['Safety', 'safety/'],
  ['About', 'about/'],
] as const;

/** A sawn board as the tab's picture, in the theme's colours; inline, so that no page asks for a file that isn't there. */
function icon(theme: Theme): string {
  const { line = '#000000', 'wood-1': wood = '#ffffff' } = theme.tokens.light;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16"><path d="M1 5h8v6H1zM11 5h4v6h-4z" fill="${wood}" stroke="${line}"/></svg>`;
  return `data:image/svg+xml,${encodeURIComponent(svg)}`;
}

/** A page as a document. */
export function pageHtml(site: SiteSettings, page: PageMatter): string {
  const { shop, theme } = site;
  const root = page.anywhere === true ? rootPath(shop) : rootFrom(page.path);
  const address = addressOf(shop, page.path);
  const picture = page.card;
  const meta = (property: string, content: string | undefined) =>
    content === undefined ? null : el('meta', { property, content });
  const head = [
    el('meta', { charSet: 'utf-8' }),
    el('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    el('title', {}, page.path === '' && !page.anywhere ? page.title : `${page.title}. ${shop.name}`),
    el('meta', { name: 'description', content: page.description }),
    page.anywhere === true
      ? el('meta', { name: 'robots', content: 'noindex' })
      : el('link', { rel: 'canonical', href: address }),
    ...site.preload.map((file) =>
      el('link', {
        rel: 'preload',
        href: `${root}assets/${file}`,
        as: 'font',
        type: 'font/woff2',
        crossOrigin: 'anonymous',
      }),
    ),
    el('link', { rel: 'stylesheet', href: `${root}assets/${site.css}` }),
    el('link', { rel: 'icon', href: icon(theme) }),
    ...(['light', 'dark'] as const).map((scheme) =>
      el('meta', {
        name: 'theme-color',
        content: theme.tokens[scheme].paper,
        media: `(prefers-color-scheme: ${scheme})`,
      }),
    ),
    meta('og:type', page.kind ?? 'website'),
    meta('og:title', page.title),
    meta('og:description', page.description),
    meta('og:url', page.anywhere === true ? undefined : address),
    meta('og:site_name', shop.name),
    picture === undefined ? null : meta('og:image', address + picture.file),
    picture === undefined ? null : meta('og:image:width', `${picture.width}`),
    picture === undefined ? null : meta('og:image:height', `${picture.height}`),
    picture === undefined ? null : meta('og:image:alt', picture.alt),
    ...(page.data ?? []).map(jsonScript),
    // Filters and the like show only where scripts run, without a jump.
    script('document.documentElement.classList.add("js")'),
  ].filter((node) => node !== null);
  const body = [
    el('a.skip', { href: '#main' }, page.skip),
    el(
      'div.page',
      {},
      masthead(site, root, page.current),
      page.places === null ? null : page.places === undefined ? bareBoard() : board(page.places),
      el('main', { id: 'main', tabIndex: -1 }, page.main),
      foot(shop, root),
    ),
    ...(page.scripts ?? []),
  ];
  return documentHtml(page.language, head, body);
}

function masthead(site: SiteSettings, root: string, current: string | undefined): Content {
  const { logo } = site.theme.tokens;
  return el(
    'header.mast',
    {},
    el(
      'a.shop',
      { href: root },
      logo === undefined ? null : el('span.logo', { ariaHidden: 'true' }, rawSvg(logo)),
      site.shop.name,
    ),
    el(
      'nav.nav',
      { ariaLabel: 'Shop' },
      MENU.map(([words, path]) =>
        el('a', { href: `${root}${path}`, ariaCurrent: words === current ? 'true' : undefined }, words),
      ),
    ),
  );
}

/** The board: the page's contents as a sawn board with its offcut at the end. */
function board(places: readonly Place[]): Content {
  return el(
    'nav',
    { ariaLabel: 'On this page' },
    el(
      places.length > 7 ? 'ul.board.many' : 'ul.board',
      {},
      places.map((place) => el('li', {}, el('a', { href: `#${place.id}` }, place.title))),
      el('li.off', { ariaHidden: 'true' }),
    ),
  );
}

const bareBoard = (): Content =>
  el(
    'div.board.bare',
    { ariaHidden: 'true' },
    ['p1', 'p2', 'p3', 'p4', 'off'].map((piece) => el(`span.${piece}`, {})),
  );

function foot(shop: Shop, root: string): Content {
  return el(
    'footer.foot.small',
    {},
    el('span', {}, shop.strapline === '' ? shop.name : `${shop.name}. ${shop.strapline}`),
    el(
      'span',
      {},
      `Prices in ${currencyName(shop.currency)}. `,
      el('a', { href: `${root}revisions/` }, 'Revisions'),
    ),
  );
}

/** A section: side-head left, matter right. */
export const section = (place: Place, ...matter: readonly (Child | readonly Child[])[]): Content =>
  el('section.s', { id: place.id, ariaLabelledBy: `${place.id}-head` }, [
    el('h2', { id: `${place.id}-head` }, place.title),
    el('div', {}, ...matter),
  ]);

/** The way from the catalogue to a page, for search engines. */
export const breadcrumbs = (shop: Shop, name: string, path: string): unknown => ({
  '@context': 'https://schema.org',
  '@type': 'BreadcrumbList',
  itemListElement: [
    { '@type': 'ListItem', position: 1, name: 'Plans', item: siteUrl(shop) },
    { '@type': 'ListItem', position: 2, name, item: addressOf(shop, path) },
  ],
});
