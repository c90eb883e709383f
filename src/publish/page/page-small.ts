/** The pages that belong to the shop: licence, safety, about, revisions of all plans, and the page for a wrong address. */

import type { OutputFile, PlanBundle } from '../types.ts';
import { el, paragraphs } from './html.ts';
import { pageHtml, rootFrom, type SiteSettings, section } from './page-frame.ts';
import { planPath, revisionsTable } from './page-parts.ts';
import { caution } from './page-words.ts';

/** The shop's own pages as files of the site. */
export function smallPages(
  site: SiteSettings,
  bundles: readonly PlanBundle[],
  language: string,
): OutputFile[] {
  const { shop } = site;
  const base = { language, skip: 'To the text', places: null } as const;
  const title = (words: string) => el('div.cat-open.small-open', {}, el('h1', {}, words));
  const licence = pageHtml(site, {
    ...base,
    title: 'Licence',
    description: `What a plan by ${shop.name} may be used for.`,
    path: 'licence/',
    current: 'Licence',
    main: [title('Licence'), section({ id: 'terms', title: 'What you may do' }, paragraphs(shop.licence))],
  });
  const safety = pageHtml(site, {
    ...base,
    title: 'Safety',
    description: 'Cautions that hold for every plan.',
    path: 'safety/',
    current: 'Safety',
    main: [
      title('Safety'),
      section(
        { id: 'cautions', title: 'For every plan' },
        shop.safety.length === 0 ? null : caution(shop.safety.map((words) => el('p', {}, words))),
        el(
          'p.small.under',
          {},
          'Local codes, your tool maker’s instructions and the advice of licensed trades come before anything said here.',
        ),
      ),
    ],
  });
  const about = pageHtml(site, {
    ...base,
    title: 'About',
    description: `About ${shop.name}.`,
    path: 'about/',
    current: 'About',
    main: [
      title('About'),
      section({ id: 'shop', title: shop.name }, paragraphs(shop.about)),
      section(
        { id: 'contact', title: 'Where to write' },
        el('p', {}, shop.address),
        shop.email === undefined ? null : el('p', {}, el('a', { href: `mailto:${shop.email}` }, shop.email)),
      ),
    ],
  });
  const revisions = pageHtml(site, {
    ...base,
    title: 'Revisions',
    description: 'What changed in which plan, and when.',
    path: 'revisions/',
    main: [
      title('Revisions'),
      ...bundles.map((bundle) =>
        section(
          { id: bundle.slug, title: bundle.front.title },
          revisionsTable(bundle.front.revisions),
          el(
            'p.small.under',
            {},
            el(
              'a',
              { href: `${rootFrom('revisions/')}${planPath(bundle.slug)}` },
              `To plan ${bundle.front.number}`,
            ),
          ),
        ),
      ),
    ],
  });
  const missing = pageHtml(site, {
    ...base,
    title: 'No such page',
    description: 'There is no page at this address.',
    path: '',
    anywhere: true,
    main: [
      title('No such page'),
      el('p', {}, 'There is nothing at this address. The link may be old, or a letter may be missing.'),
      el('p', {}, 'All plans are listed under Plans, above.'),
    ],
  });
  return [
    { path: 'site/licence/index.html', content: licence },
    { path: 'site/safety/index.html', content: safety },
    { path: 'site/about/index.html', content: about },
    { path: 'site/revisions/index.html', content: revisions },
    { path: 'site/404.html', content: missing },
  ];
}
