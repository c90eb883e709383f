/** The site as files: what stands on which page, what must not, links, data, bytes. */
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { weightCaution } from '../../src/publish/page/page-parts.ts';
import { siteFiles } from '../../src/publish/site.ts';
import type { OutputFile } from '../../src/publish/types.ts';
import { inches, printed, sizeText } from '../../src/units.ts';
import { freeBundle, handbook, paidBundle, samplePdfs, sampleShop, siteFonts } from '../support/bundle.ts';

const theme = handbook();
const input = {
  shop: sampleShop,
  bundles: [paidBundle, freeBundle],
  theme,
  pdfs: samplePdfs,
  fonts: siteFonts(theme),
};

let files: readonly OutputFile[];
beforeAll(async () => {
  files = await siteFiles(input);
});

const paths = (): string[] => files.map((file) => file.path);
const file = (path: string): OutputFile => {
  const found = files.find((one) => one.path === path);
  if (found === undefined) throw new Error(`no ${path} among ${paths().join(' ')}`);
  return found;
};
const html = (path: string): string => {
  const { content } = file(path);
  return typeof content === 'string' ? content : new TextDecoder().decode(content);
};
const paid = () => html('site/plans/paid-bench/index.html');
const free = () => html('site/plans/free-bench/index.html');
const catalogue = () => html('site/index.html');

/** Everything a page says: its text, the values of its attributes, its data. Entities of the few signs that are escaped. */
const said = (page: string): string =>
  [
    page.replaceAll(/<\/?span\b[^>]*>/g, '').replaceAll(/<[^>]*>/g, '\n'),
    ...[...page.matchAll(/="([^"]*)"/g)].map((found) => found[1]),
  ]
    .join('\n')
    .replaceAll('&#x3C;', '<')
    .replaceAll('&quot;', '"')
    .replaceAll('&#x26;', '&');

/** The printed lengths and widths of the cut list, worked by hand from tests/support/sample.ts (1 in = 25.4 mm). */
const SECRET = [
  ['33″', '838'], // apron: 40 − 2 × 3 1/2 in; 838.2 mm
  ['17 1/4″', '438'], // leg: 18 − 3/4 in; 438.15 mm
  ['3 1/2″', '89'], // width of apron, leg and last top board; 88.9 mm
  ['5 1/2″', '140'], // width of a top board; 139.7 mm
] as const;

/** Whether a text has a number of its own: 33 is not in 1330 or 3.33. */
const states = (text: string, size: string): boolean =>
  new RegExp(`(?<![\\d./]|\\d )${size.replaceAll(' ', '\\s')}(?![\\d/])`).test(text);

describe('a paid plan’s page', () => {
  it('has the secret sizes in its bundle, so that there is something to leak', () => {
    for (const [inch, millimetres] of SECRET) {
      expect(states(said(free()), inch), inch).toBe(true);
      expect(states(said(free()), millimetres), millimetres).toBe(true);
    }
  });

  it('states no length or width of the cut list, in text, attributes or data', () => {
    for (const page of [paid(), catalogue(), html('site/revisions/index.html')])
      for (const [inch, millimetres] of SECRET) {
        const text = page === catalogue() ? said(page).split('Bench from six boards')[0] : said(page);
        expect(states(text as string, inch), inch).toBe(false);
        expect(states(text as string, `${millimetres}( mm)`), millimetres).toBe(false);
      }
  });

  it('holds for any sizes: every row, both editions, from the bundle itself', () => {
    const text = said(paid());
    for (const { edition, finished } of paidBundle.editions) {
      const print = (length: number) => sizeText(printed(length, edition.numbers));
      const open = Object.values(finished.plan.outline).map(print);
      for (const row of finished.cutList.rows)
        for (const size of [print(row.length), print(row.width)].filter((one) => !open.includes(one)))
          expect(states(text, size), size).toBe(false);
    }
  });

  it('shows drawings as pixels only', () => {
    expect(free()).toContain('<svg class="kf"');
    // The tab's picture is a small drawing of a board, the same on all pages.
    expect(paid().replace(/<link rel="icon"[^>]*>/, '')).not.toMatch(/<svg|viewBox|\.svg\b|image\/svg/);
    const pictures = paths().filter((path) => path.startsWith('site/plans/paid-bench/'));
    expect(pictures.filter((path) => !/\.(webp|png|html)$/.test(path))).toEqual([]);
  });

  it('keeps PDFs and packages to itself', () => {
    expect(paths().filter((path) => path.endsWith('.pdf'))).toEqual([
      'site/plans/free-bench/free-bench-imperial-letter.pdf',
      'site/plans/free-bench/free-bench-metric-a4.pdf',
    ]);
    expect(paid()).not.toMatch(/\.pdf|\.zip/);
  });

  it('leaves nothing in the pictures but pixels', () => {
    // Chunks that carry text or camera data: PNG 3rd ed. 11.3.3 (tEXt, zTXt, iTXt, eXIf), RIFF of WebP (EXIF, XMP).
    const pictures = files.filter(({ path }) => /paid-bench\/.*\.(webp|png)$/.test(path));
    expect(pictures.length).toBeGreaterThan(8);
    for (const { path, content } of pictures)
      expect(Buffer.from(content as Uint8Array).toString('latin1'), path).not.toMatch(
        /tEXt|zTXt|iTXt|eXIf|EXIF|XMP |ICCP|Stand-in/,
      );
  });

  it('drops a paragraph and a summary that state a secret size, and says so', async () => {
    expect(free()).toContain('Each leg is');
    expect(paid()).not.toContain('Each leg is');
    const { publicFindings } = await import('../../src/publish/page/page-public.ts');
    expect(
      publicFindings(paidBundle).map(({ severity, edition, message }) => [severity, edition, message]),
    ).toEqual([
      ['warning', 'imperial', expect.stringContaining('17 1/4″')],
      ['warning', 'metric', expect.stringContaining('438 mm')],
    ]);
    expect(publicFindings(freeBundle)).toEqual([]);
    const open = { ...paidBundle, front: { ...paidBundle.front, summary: 'Its apron is 33″ long.' } };
    const made = await siteFiles({ ...input, bundles: [open] });
    expect(made.filter(({ content }) => typeof content === 'string' && content.includes('33″'))).toEqual([]);
  });

  it('takes no sample from a step whose drawing states a size', async () => {
    const drawings = paidBundle.editions[0]?.finished.drawings.drawings ?? [];
    const { sampleDrawing } = await import('../../src/publish/page/page-paid.ts');
    expect(sampleDrawing(drawings, 1)?.svg).not.toContain('33″');
    const loose = drawings.map((drawing) => ({
      ...drawing,
      svg: drawing.svg.replaceAll('class="k-dim"', 'class="k-x"'),
    }));
    expect(sampleDrawing(loose, 1)).toBeUndefined();
  });

  it('sells: price in the shop’s currency first, one link to the checkout, both sizes, both costs', () => {
    const text = said(paid());
    expect(text).toContain('$14');
    expect(text).toContain('Or €13.');
    expect(paid().match(/href="https:\/\/nettlefield\.example\.com\/checkout\/paid-bench"/g)).toHaveLength(1);
    expect(text).toContain('40″ wide, 14 1/2″ deep, 18″ high');
    // 40, 14 1/2 and 18 in are 1016, 368.3 and 457.2 mm.
    expect(text).toContain('1016 × 368 × 457 mm');
    expect(text).toContain('United States, pine');
    expect(text).toContain('€39');
    expect(text).toContain('Plan in inches, 14 sheets, US Letter');
    // 14 kg are no weight for two: at most 23 kg for one person (NIOSH 94-110).
    expect(text).not.toContain('second person');
  });

  it('says the weight of each edition as its plan does, not one of them converted', () => {
    const weighing = (...kilograms: number[]) => {
      const bundle = paidBundle;
      const editions = bundle.editions.map((made, i) => ({
        ...made,
        finished: { ...made.finished, cutList: { ...made.finished.cutList, weight: kilograms[i] as number } },
      }));
      return weightCaution({ ...bundle, editions });
    };
    // 1 lb = 0.45359237 kg exactly (NIST SP 811): 20.4 kg are 44.97 lb, 28 kg are 61.7 lb.
    expect(weighing(20.4, 27)).toBe(
      'The piece weighs about 45 lb or 27 kg, by the lumber of the edition. Lift it with a second person.',
    );
    expect(weighing(28, 28.2)).toBe('The piece weighs about 62 lb or 28 kg. Lift it with a second person.');
    // At most 23 kg for one person: NIOSH 94-110 (revised 2021).
    expect(weighing(20, 22.9)).toBeUndefined();
  });

  it('has no button where there is nothing to buy at', async () => {
    const made = await siteFiles({ ...input, shop: { ...sampleShop, checkout: {} }, bundles: [paidBundle] });
    const page = made.find(({ path }) => path === 'site/plans/paid-bench/index.html')?.content as string;
    expect(page).not.toContain('class="btn"');
    expect(page).toContain('Not for sale yet.');
  });

  it('weighs at most 150 kB with stylesheet and fonts, and with its first pictures too', () => {
    const packed = (content: Uint8Array | string) => gzipSync(content, { level: 6 }).length;
    const css = file(paths().find((path) => path.endsWith('.css')) as string).content;
    const fonts = files
      .filter(({ path }) => path.endsWith('.woff2'))
      .reduce((sum, one) => sum + one.content.length, 0);
    const words = packed(paid()) + packed(css) + fonts;
    const pictures = files
      .filter(({ path }) => /paid-bench\/(piece-597|sample-\d-410)-[^/]*\.webp$/.test(path))
      .reduce((sum, one) => sum + one.content.length, 0);
    expect(pictures).toBeGreaterThan(5_000);
    expect(words + pictures).toBeLessThanOrEqual(150_000);
  });
});

describe('a free plan’s page', () => {
  it('holds the whole plan in both editions', () => {
    const text = said(free());
    for (const words of [
      'Shopping list',
      'Cut list',
      'Cutting layouts',
      'Views',
      'Lay the top',
      'To print',
      'box of 100',
    ])
      expect(text).toContain(words);
    expect(free()).toContain('data-ed="1"');
    expect(free()).toContain('data-ed="2"');
    // What the editions share is said once.
    expect(text.match(/Stand the legs on a flat floor/g)).toHaveLength(2); // in the step, and in the data for search engines
    expect(free()).not.toContain('data-ed="3"');
  });

  it('gives each drawing in the page ids of its own', () => {
    const ids = [...free().matchAll(/\sid="([^"]+)"/g)].map((found) => found[1]);
    expect(new Set(ids).size).toBe(ids.length);
    const targets = [...free().matchAll(/href="#([^"]+)"|for="([^"]+)"|aria-labelledby="([^"]+)"/g)].map(
      (found) => found[1] ?? found[2] ?? found[3],
    );
    expect(targets.filter((target) => !ids.includes(target))).toEqual([]);
    expect(targets.length).toBeGreaterThan(10);
  });

  it('names each drawing in words', () => {
    const drawings = [...free().matchAll(/<svg class="kf"[^>]*>/g)].map((found) => found[0]);
    expect(drawings.length).toBeGreaterThan(6);
    for (const opening of drawings) expect(opening).toMatch(/role="img" aria-label="[^"]{5,}"/);
  });

  it('offers both PDFs', () => {
    expect(free()).toContain('href="free-bench-imperial-letter.pdf"');
    expect(free()).toContain('href="free-bench-metric-a4.pdf"');
  });
});

describe('what an author writes', () => {
  it('is text', () => {
    expect(paid()).toContain('&#x3C;script>alert(1)');
    expect(paid() + free()).not.toContain('<script>alert');
  });

  it('makes no link that runs', () => {
    expect(free()).not.toMatch(/href="\s*javascript/i);
    expect(said(free())).toContain('then oil the end grain twice');
  });
});

describe('pages', () => {
  const pages = () => files.filter(({ path }) => path.endsWith('.html'));

  it('are all there', () => {
    expect(paths()).toEqual(
      expect.arrayContaining([
        'site/404.html',
        'site/about/index.html',
        'site/index.html',
        'site/licence/index.html',
        'site/plans/free-bench/index.html',
        'site/plans/paid-bench/index.html',
        'site/revisions/index.html',
        'site/robots.txt',
        'site/safety/index.html',
        'site/sitemap.xml',
      ]),
    );
    expect(paths().filter((path) => path.endsWith('.css'))).toHaveLength(1);
    expect(paths().filter((path) => /site\/assets\/site-[0-9a-f]{8}\.css$/.test(path))).toHaveLength(1);
  });

  it('have one first heading, and no level left out', () => {
    for (const { path, content } of pages()) {
      const levels = [...(content as string).matchAll(/<h([1-6])[ >]/g)].map((found) => Number(found[1]));
      expect(levels[0], path).toBe(1);
      expect(
        levels.filter((level) => level === 1),
        path,
      ).toHaveLength(1);
      levels.forEach((level, at) => {
        if (at > 0) expect(level - (levels[at - 1] as number), path).toBeLessThanOrEqual(1);
      });
    }
  });

  it('link only to what is there', () => {
    for (const { path, content } of pages()) {
      const here = new URL(path.replace(/^site\//, 'http://site/').replace(/index\.html$/, ''));
      const links = [...(content as string).matchAll(/(?:href|src)="([^"#]*)(?:#[^"]*)?"/g)].map(
        (found) => found[1] as string,
      );
      const sets = [...(content as string).matchAll(/srcset="([^"]*)"/g)].flatMap((found) =>
        (found[1] as string).split(', ').map((one) => one.split(' ')[0] as string),
      );
      for (const link of [...links, ...sets].filter(
        (one) => one !== '' && !/^(https?|mailto|data):/.test(one),
      )) {
        const url = new URL(link, here);
        const target = `site${url.pathname}${url.pathname.endsWith('/') ? 'index.html' : ''}`;
        expect(paths(), `${path} links to ${link}`).toContain(target);
      }
    }
  });

  it('have language, title, description and their own address', () => {
    for (const { path, content } of pages()) {
      const page = content as string;
      expect(page, path).toMatch(/^<!doctype html><html lang="en-US">/);
      expect(page, path).toMatch(/<title>[^<]{5,}<\/title>/);
      expect(page, path).toMatch(/<meta name="description" content="[^"]{10,}">/);
      const address = path.replace(/^site\//, 'https://nettlefield.example.com/').replace(/index\.html$/, '');
      if (path !== 'site/404.html') expect(page, path).toContain(`<link rel="canonical" href="${address}">`);
    }
  });

  it('tell search engines of product, offer and place', () => {
    const data = [...paid().matchAll(/<script type="application\/ld\+json">([\s\S]*?)<\/script>/g)].map(
      (found) => JSON.parse(found[1] as string) as Record<string, unknown>,
    );
    expect(data.map((one) => one['@type'])).toEqual(['Product', 'BreadcrumbList']);
    expect(data[0]?.offers).toMatchObject([
      { '@type': 'Offer', price: '14', priceCurrency: 'USD' },
      { '@type': 'Offer', price: '13', priceCurrency: 'EUR' },
    ]);
    expect(free()).toContain('"@type":"HowTo"');
    expect(paid()).not.toContain('HowTo');
  });
});

describe('the site', () => {
  it('comes out the same twice, in the order of its paths', async () => {
    const again = await siteFiles({ ...input, bundles: [...input.bundles].reverse() });
    expect(again.map(({ path }) => path)).toEqual(paths());
    expect(paths()).toEqual([...paths()].sort());
    for (const [at, { path, content }] of again.entries())
      expect(Buffer.compare(Buffer.from(content), Buffer.from(files[at]?.content ?? '')), path).toBe(0);
  });

  it('is made for an empty shop, and without fonts', async () => {
    const made = await siteFiles({ shop: sampleShop, bundles: [], theme, pdfs: new Map() });
    expect(made.map(({ path }) => path)).toContain('site/index.html');
    expect(made.some(({ path }) => path.endsWith('.woff2'))).toBe(false);
  });

  it('prints one length one way: the page and units.ts agree', () => {
    expect(said(free())).toContain(sizeText(printed(inches(17.25), { system: 'inch', denominator: 16 })));
  });
});
