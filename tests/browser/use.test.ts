/** What a visitor does with the published pages, in a real browser: switching editions, the keyboard, copying, the catalogue. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { siteFiles } from '../../src/publish/site.ts';
import type { PlanBundle } from '../../src/publish/types.ts';
import { handbook, paidBundle, samplePdfs, sampleShop } from '../support/bundle.ts';
import { serveSite } from '../support/chromium.ts';
import type { Dom, DomDocument, DomSelection, DomStyle } from './dom.ts';
import { browser, PAGES, served, visit } from './visit.ts';

// What the browser has where the functions given to `evaluate` run.
declare const document: DomDocument;
declare function getComputedStyle(node: Dom): DomStyle;
declare function getSelection(): DomSelection | null;

/** Sizes of the finished piece that can be seen. */
const shownSize = (page: Page): Promise<string> =>
  page.evaluate(() =>
    [...(document.querySelector('.facts dd')?.querySelectorAll('.ed') ?? [])]
      .filter((node) => node.offsetWidth > 0)
      .map((node) => node.textContent ?? '')
      .join('|'),
  );

describe('the switch between editions', () => {
  it.each([true, false])('changes all sizes, with scripts: %s', async (scripts) => {
    await visit(
      PAGES.free,
      async (page) => {
        const rows = () =>
          page.locator('table.cut-list tbody tr:visible td:last-child').first().textContent();
        // 40 in and 14 1/2 in are 1016 and 368.3 mm: 1 in = 25.4 mm exactly (NIST SP 811).
        expect(await page.locator('.facts dd').first().locator('.ed:visible').textContent()).toContain(
          '40″ wide',
        );
        expect(await rows()).toBe('40″');
        await page.getByText('Millimetres', { exact: true }).click();
        expect(await page.locator('.facts dd').first().locator('.ed:visible').textContent()).toContain(
          '1016 mm wide, 368 mm deep',
        );
        expect(await rows()).toBe('1016');
        expect(await page.locator('.buy a.btn:visible').getAttribute('href')).toBe(
          'free-bench-metric-a4.pdf',
        );
      },
      { scripts },
    );
  });

  it('is remembered on the next visit', async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    await page.goto(served.origin + PAGES.free);
    await page.getByText('Millimetres', { exact: true }).click();
    await page.goto(`${served.origin}/`);
    await page.goto(served.origin + PAGES.free);
    expect(await shownSize(page)).toBe('1016 mm wide, 368 mm deep, 457 mm high');
    await context.close();
  });

  it('works from the keyboard', async () => {
    await visit(PAGES.free, async (page) => {
      await page.locator('#edition-1').focus();
      await page.keyboard.press('ArrowRight');
      expect(await page.locator('#edition-2').isChecked()).toBe(true);
    });
  });
});

describe('from the keyboard', () => {
  it.each([
    ['paid', 'Buy the plan'],
    ['free', 'Download to print'],
  ] as const)('the %s page: the skip link comes first, then on to the button', async (name, words) => {
    await visit(PAGES[name], async (page) => {
      const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
      await page.keyboard.press('Tab');
      expect(await focused()).toBe('To the plan');
      await page.keyboard.press('Enter');
      for (let presses = 0; presses < 6 && (await focused()) !== words; presses += 1)
        await page.keyboard.press('Tab');
      expect(await focused()).toBe(words);
      const outline = await page.evaluate(() => getComputedStyle(document.activeElement as Dom).outlineWidth);
      expect(outline).toBe('3px');
    });
  });
});

describe('a size in the text', () => {
  it('is copied as one line with its slash and space', async () => {
    // tokens of the theme: the slash and the space are in the text, hidden from the eye.
    const copied = await visit(PAGES.paid, (page) =>
      page.evaluate(() => {
        const node = [...document.querySelectorAll('.facts .sz')].find((size) =>
          size.querySelector('.fr'),
        ) as Dom;
        getSelection()?.selectAllChildren(node);
        return getSelection()?.toString();
      }),
    );
    expect(copied).toBe('14 1/2″');
  });

  it('stands as high as the words around it', async () => {
    // A fraction must not push its line apart: rows with and without one are equally high.
    const heights = await visit(PAGES.free, (page) =>
      page.evaluate(() => {
        const rows = [...document.querySelectorAll('.stops tbody tr')].filter((row) => row.offsetHeight > 0);
        return rows.map((row) => row.offsetHeight);
      }),
    );
    expect(new Set(heights).size).toBe(1);
  });
});

describe('the catalogue', () => {
  it('filters, and says how many plans are left', async () => {
    await visit(PAGES.catalogue, async (page) => {
      const cards = page.locator('.cat > li:visible');
      expect(await cards.count()).toBe(2);
      // Both plans are for the garden: one fits after its kind is changed in the page.
      await page.evaluate(() => document.querySelector('.cat > li')?.setAttribute('data-kind', 'kitchen'));
      await page.getByLabel('Kind').selectOption('garden');
      expect(await cards.count()).toBe(1);
      expect(await page.locator('.count').textContent()).toBe('1 plan');
    });
  });

  it('shows all plans and no filters without scripts', async () => {
    await visit(
      PAGES.catalogue,
      async (page) => {
        expect(await page.locator('.cat > li:visible').count()).toBe(2);
        expect(await page.locator('.filters').isVisible()).toBe(false);
      },
      { scripts: false },
    );
  });

  it('stands its plates on one bench line', async () => {
    const feet = await visit(PAGES.catalogue, (page) =>
      page.evaluate(() =>
        [...document.querySelectorAll('.cat .plate')].map((plate) =>
          Math.round(plate.getBoundingClientRect().bottom),
        ),
      ),
    );
    expect(feet).toHaveLength(2);
    expect(new Set(feet).size).toBe(1);
  });
});

describe('what an author writes', () => {
  it('is text in the browser, whatever it holds', async () => {
    const odd: PlanBundle = {
      ...paidBundle,
      front: {
        ...paidBundle.front,
        title: '"><img src=x> & </title></script><b class=odd>',
        summary: '</script><i class="odd">',
        kind: '\'"><u class=odd>',
      },
    };
    const made = await serveSite(
      await siteFiles({ shop: sampleShop, bundles: [odd], theme: handbook(), pdfs: samplePdfs }),
    );
    const page = await browser.newPage();
    for (const path of ['/', PAGES.paid, '/revisions/']) {
      await page.goto(made.origin + path);
      expect(await page.locator('img[src="x"], .odd').count(), path).toBe(0);
      expect(await page.locator('body').textContent(), path).toContain(
        '"><img src=x> & </title></script><b class=odd>',
      );
    }
    await page.close();
    await made.close();
  });
});
