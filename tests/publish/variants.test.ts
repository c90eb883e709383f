/** A plan in variants: one page with a choice, a package for each, every file with a name of its own. */
import { strFromU8, unzipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { packageFiles } from '../../src/publish/package.ts';
import { pdfName } from '../../src/publish/pdf/pdf.ts';
import { siteFiles } from '../../src/publish/site.ts';
import type { OutputFile, PlanBundle } from '../../src/publish/types.ts';
import { editionsOnce, perVariant, variantNames } from '../../src/publish/variants.ts';
import { freeBundle, handbook, paidBundle, sampleShop } from '../support/bundle.ts';

/** The same plan twice, under two names: what differs between variants is for other tests. */
const varied = (bundle: PlanBundle): PlanBundle => ({
  ...bundle,
  editions: ['standard', 'extra-long'].flatMap((variant) =>
    bundle.editions.map(({ edition, finished }) => ({
      edition,
      finished: { ...finished, plan: { ...finished.plan, variant } },
    })),
  ),
});

const free = varied(freeBundle);
const paid = varied(paidBundle);
const pdfs = new Map(
  [free, paid].flatMap(({ editions }) =>
    editions.map(({ finished }) => [pdfName(finished.plan), new Uint8Array([37])] as const),
  ),
);

let files: readonly OutputFile[];
beforeAll(async () => {
  files = await siteFiles({ shop: sampleShop, bundles: [free, paid], theme: handbook(), pdfs });
});

const page = (path: string): string => {
  const content = files.find((file) => file.path === path)?.content;
  if (typeof content !== 'string') throw new Error(`no page ${path}`);
  return content;
};
const plain = (html: string): string => html.replaceAll(/<[^>]*>/g, '\n').replaceAll(/\s*\n\s*/g, '\n');

describe('a plan in variants', () => {
  it('falls apart into one bundle a variant, with every edition in each', () => {
    const parts = perVariant(paid);
    expect(parts.map(({ editions }) => editions.map(({ edition }) => edition.key))).toEqual([
      ['imperial', 'metric'],
      ['imperial', 'metric'],
    ]);
    expect(parts.flatMap(({ editions }) => editions)).toEqual(paid.editions);
    expect(editionsOnce(paid)).toHaveLength(2);
    expect(variantNames(paid)).toEqual(['standard', 'extra long']);
    expect(variantNames(paidBundle)).toEqual([]);
    expect(perVariant(paidBundle)).toEqual([paidBundle]);
  });

  it('has a package for each, with files of its own names and the variant in its title', () => {
    const zips = perVariant(paid).flatMap((one) => packageFiles(one, [], sampleShop));
    expect(zips.map(({ path }) => path)).toEqual([
      'packages/paid-bench-standard.zip',
      'packages/paid-bench-extra-long.zip',
    ]);
    const [, second] = zips.map(({ content }) => unzipSync(content as Uint8Array));
    const names = Object.keys(second ?? {});
    expect(names.length).toBeGreaterThan(5);
    for (const name of names) expect(name).toMatch(/^paid-bench-extra-long\//);
    expect(names).toContain('paid-bench-extra-long/paid-bench-extra-long-metric-cut-list.csv');
    const manifest = second?.['paid-bench-extra-long/manifest.json'] ?? new Uint8Array();
    expect(JSON.parse(strFromU8(manifest)).title).toBe('Potting bench, extra long');
  });

  it('is chosen on a free page by one group of radio buttons, a row for each', () => {
    const html = page('site/plans/free-bench/index.html');
    const group = /<div class="units rows">([\s\S]*?)<\/fieldset>/.exec(html)?.[1] ?? '';
    expect(group.match(/<div>/g)).toHaveLength(2);
    const labels = [...group.matchAll(/<label for="(edition-\d)">([^<]*)</g)].map((found) => found.slice(1));
    expect(labels).toEqual([
      ['edition-1', 'Standard, inches'],
      ['edition-2', 'Standard, millimetres'],
      ['edition-3', 'Extra long, inches'],
      ['edition-4', 'Extra long, millimetres'],
    ]);
    for (const [id] of labels) expect(group.match(new RegExp(`<input[^>]* id="${id}"`, 'g'))).toHaveLength(1);
    // Nothing is shown twice under one id, however many variants a page has.
    const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map((found) => found[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('gives every variant its PDF to print', () => {
    const links = [...page('site/plans/free-bench/index.html').matchAll(/href="([^"]+\.pdf)"/g)];
    expect([...new Set(links.map((found) => found[1]))].sort()).toEqual(
      ['extra-long', 'standard'].flatMap((variant) =>
        ['imperial-letter', 'metric-a4'].map((sheet) => `free-bench-${variant}-${sheet}.pdf`),
      ),
    );
    for (const [, link] of links)
      expect(files.some(({ path }) => path === `site/plans/free-bench/${link}`)).toBe(true);
  });

  it('says on a paid page and in the catalogue which sizes there are', () => {
    const text = plain(page('site/plans/paid-bench/index.html'));
    expect(text).toContain('A download with both editions for each size: standard and extra long.');
    expect(text).toContain('Extra long: plan in millimetres');
    // A row of the facts, and a block of the costs.
    expect(text.match(/\nExtra long\n/g)).toHaveLength(2);
    // Each edition once, though it comes in two variants.
    expect(text.match(/on US Letter/g)).toHaveLength(1);
    expect(plain(page('site/index.html'))).toContain('or extra long');
  });
});
