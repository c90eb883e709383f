/** The catalogue: all plans, their plates on common bench lines. */

import type { PlanBundle } from '../types.ts';
import { editionsOnce, variantNames } from '../variants.ts';
import { type Content, el, script } from './html.ts';
import { pageHtml, type SiteSettings, siteUrl } from './page-frame.ts';
import { outlineNodes, planPath, prices, unitName } from './page-parts.ts';
import { type Picture, pictureNode } from './page-pictures.ts';
import { publicSummary, secretSizes } from './page-public.ts';

/** A plan in the catalogue with its plate. */
export interface CatalogueEntry {
  readonly bundle: PlanBundle;
  readonly plate?: { readonly picture: Picture; readonly alt: string };
}

/** What a reader may filter by, in the order of the form. */
const FILTERS = [
  ['kind', 'Kind', 'All'],
  ['skill', 'Skill', 'Any'],
  ['time', 'Time', 'Any'],
] as const;

/** Shows the plans that fit all choices, and says how many. Without scripts there are no filters and all plans show. */
const FILTER = `
(function(){var f=document.querySelector(".filters"),c=f.querySelector(".count"),s=[].slice.call(f.querySelectorAll("select"));
function go(){var n=0;document.querySelectorAll(".cat>li").forEach(function(l){
var on=s.every(function(x){return !x.value||l.getAttribute("data-"+x.name)===x.value});l.hidden=!on;if(on)n++});
c.textContent=n===1?"1 plan":n+" plans";document.querySelector(".none").hidden=n>0}
f.addEventListener("change",go);f.addEventListener("submit",function(e){e.preventDefault()});go()})()`;

/** The catalogue page. */
export function cataloguePage(
  site: SiteSettings,
  entries: readonly CatalogueEntry[],
  language: string,
): string {
  const { shop } = site;
  const first = entries[0]?.bundle;
  const editions = first === undefined ? [] : editionsOnce(first);
  const papers = editions
    .map(
      ({ edition }) =>
        `${unitName(edition).toLowerCase()} for ${edition.paper === 'letter' ? 'US Letter' : 'A4'}`,
    )
    .join(' and in ');
  const { title, rest } = titleOf(shop.strapline);
  const each = papers === '' ? '' : `Each plan comes in ${papers}, drawn for the lumber of its own region.`;
  const lead = [rest, each].filter((words) => words !== '').join(' ') || shop.name;
  return pageHtml(site, {
    title: `${title}. ${shop.name}`,
    description: lead,
    path: '',
    current: 'Plans',
    skip: 'To the plans',
    language,
    main: [
      el('div.cat-open', {}, el('h1', {}, title), el('p', {}, lead)),
      filters(entries),
      el(
        'ul.cat',
        {},
        entries.map((entry, at) => plate(site, entry, at)),
      ),
      el('p.none', { hidden: true }, 'No plan fits all three. Set one of them back to see more.'),
    ],
    data: [
      {
        '@context': 'https://schema.org',
        '@type': 'ItemList',
        itemListElement: entries.map(({ bundle }, at) => ({
          '@type': 'ListItem',
          position: at + 1,
          name: bundle.front.title,
          url: siteUrl(shop) + planPath(bundle.slug),
        })),
      },
    ],
    scripts: [script(FILTER)],
  });
}

/** The title from the shop's strapline: its first clause, where that is short enough for one; the rest leads in. */
function titleOf(strapline: string): { title: string; rest: string } {
  const at = strapline.indexOf(', ');
  const first = at < 0 ? strapline : strapline.slice(0, at);
  const bare = first.replace(/[.\s]+$/, '');
  if (bare === '' || bare.length > 32)
    return { title: 'Plans', rest: strapline === '' ? '' : closed(sentence(strapline)) };
  return { title: sentence(bare), rest: at < 0 ? '' : closed(sentence(strapline.slice(at + 2))) };
}

const closed = (words: string): string => (/[.!?]$/.test(words) ? words : `${words}.`);

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function filters(entries: readonly CatalogueEntry[]): Content {
  return el(
    'form.filters',
    { ariaLabel: 'Filters' },
    FILTERS.map(([name, label, all]) => {
      const values = [...new Set(entries.map(({ bundle }) => bundle.front[name]))].sort();
      return el(
        'label',
        {},
        `${label} `,
        el(
          'select',
          { name, autoComplete: 'off' },
          el('option', { value: '' }, all),
          values.map((value) => el('option', { value }, sentence(value))),
        ),
      );
    }),
    el('output.count', { ariaLive: 'polite' }, entries.length === 1 ? '1 plan' : `${entries.length} plans`),
  );
}

function plate(site: SiteSettings, { bundle, plate: shown }: CatalogueEntry, at: number): Content {
  const { front } = bundle;
  const summary = publicSummary(bundle, secretSizes(bundle));
  const price = bundle.free ? 'Free' : (prices(bundle, site.shop.currency)[0] ?? '');
  return el(
    'li',
    { dataKind: front.kind, dataSkill: front.skill, dataTime: front.time },
    el(
      'div.plate',
      {},
      shown === undefined
        ? null
        : pictureNode(shown.picture, {
            folder: planPath(bundle.slug),
            alt: shown.alt,
            sizes: '(min-width: 641px) 440px, 86vw',
            eager: at < 2,
          }),
    ),
    el('h2', {}, el('a', { href: planPath(bundle.slug) }, front.title)),
    summary === '' ? null : el('p', {}, summary),
    el(
      'div.row',
      {},
      el('span', {}, `Plan ${front.number}`),
      el('span', {}, catalogueSize(bundle)),
      ...variantNames(bundle)
        .slice(1)
        .map((name) => el('span', {}, `or ${name}`)),
      el('span', {}, front.time),
      el('b', {}, price),
    ),
  );
}

/** The finished size in the shop's first edition. */
const catalogueSize = (bundle: PlanBundle): Content[] => outlineNodes(bundle, 0, false);
