/**
 * The published pages in a real browser. Accessibility is judged by axe-core (WCAG 2.0 to 2.2, A and AA, and its best
 * practices), in light and dark; the rest by what the browser measures.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { siteFiles } from '../../src/publish/site.ts';
import type { PlanBundle } from '../../src/publish/types.ts';
import { freeBundle, handbook, paidBundle, samplePdfs, sampleShop, siteFonts } from '../support/bundle.ts';
import { launchBrowser, type Served, serveSite } from '../support/chromium.ts';
import type { Dom, DomDocument, DomSelection, DomStyle } from './dom.ts';

// What the browser has where the functions given to `evaluate` run.
declare const document: DomDocument;
declare const window: { scrollTo(x: number, y: number): void };
declare function getComputedStyle(node: Dom): DomStyle;
declare function getSelection(): DomSelection | null;

const PAGES = {
  catalogue: '/',
  paid: `/plans/${paidBundle.slug}/`,
  free: `/plans/${freeBundle.slug}/`,
} as const;
type Name = keyof typeof PAGES;
const NAMES = Object.keys(PAGES) as Name[];

let browser: Browser;
let served: Served;

beforeAll(async () => {
  const theme = handbook();
  const files = await siteFiles({
    shop: sampleShop,
    bundles: [paidBundle, freeBundle],
    theme,
    pdfs: samplePdfs,
    fonts: siteFonts(theme),
  });
  served = await serveSite(files);
  browser = await launchBrowser();
});

afterAll(async () => {
  await browser?.close();
  await served?.close();
});

/** Opens a page in a fresh context, looks at it, and closes it again. */
async function visit<T>(
  path: string,
  look: (page: Page) => Promise<T>,
  options: { width?: number; scheme?: 'light' | 'dark'; scripts?: boolean } = {},
): Promise<T> {
  const context = await browser.newContext({
    viewport: { width: options.width ?? 1280, height: 900 },
    colorScheme: options.scheme ?? 'light',
    javaScriptEnabled: options.scripts ?? true,
  });
  try {
    const page = await context.newPage();
    await page.goto(served.origin + path);
    return await look(page);
  } finally {
    await context.close();
  }
}

describe('accessibility', () => {
  const cases = [...NAMES.map((name) => PAGES[name]), '/safety/'].flatMap((path) =>
    [1280, 390].map((width) => ({ path, width })),
  );
  it.each(cases)('axe finds nothing on $path at $width px, light and dark', async ({ path, width }) => {
    await visit(
      path,
      async (page) => {
        for (const colorScheme of ['light', 'dark'] as const) {
          await page.emulateMedia({ colorScheme });
          const found = await new AxeBuilder({ page }).analyze();
          expect(found.passes.length).toBeGreaterThan(20);
          expect(
            found.violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]),
            colorScheme,
          ).toEqual([]);
        }
      },
      { width },
    );
  });

  it.each(NAMES)('%s: targets are 24 px high or lie in a line of text', async (name) => {
    // WCAG 2.2, 2.5.8: 24 by 24 CSS px, save for links within a sentence.
    const small = await visit(
      PAGES[name],
      (page) =>
        page.evaluate(() =>
          [...document.querySelectorAll('a, button, select, label, [tabindex="0"]')]
            .filter((node) => {
              const style = getComputedStyle(node);
              const box = node.getBoundingClientRect();
              const inline = style.display === 'inline' && node.closest('p, li, dd') !== null;
              return box.width > 0 && box.right > 0 && !inline && (box.height < 24 || box.width < 24);
            })
            .map((node) => node.outerHTML.slice(0, 90)),
        ),
      { width: 390 },
    );
    expect(small).toEqual([]);
  });
});

describe('layout', () => {
  it.each(NAMES)('%s fits its window without scrolling sideways, 320 to 1600 px', async (name) => {
    await visit(PAGES[name], async (page) => {
      for (const width of [320, 390, 768, 1280, 1600]) {
        await page.setViewportSize({ width, height: 900 });
        const over = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        expect(over, `${width} px`).toBe(0);
      }
    });
  });

  it.each(NAMES)('%s does not move while it loads', async (name) => {
    for (const width of [390, 1280]) {
      const context = await browser.newContext({ viewport: { width, height: 900 } });
      const page = await context.newPage();
      await page.addInitScript(() => {
        const seen: number[] = [];
        Object.assign(globalThis, { shifts: seen });
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries()) seen.push((entry as unknown as { value: number }).value);
        }).observe({ type: 'layout-shift' as 'mark', buffered: true });
      });
      await page.goto(served.origin + PAGES[name], { waitUntil: 'networkidle' });
      // Lazy pictures further down must have their room kept as well.
      await page.evaluate(async () => {
        for (let y = 0; y < document.body.scrollHeight; y += 700) {
          window.scrollTo(0, y);
          await new Promise((resolve) => setTimeout(resolve, 30));
        }
      });
      const shifts = await page.evaluate(() => (globalThis as unknown as { shifts: number[] }).shifts);
      await context.close();
      expect(shifts, `${width} px`).toEqual([]);
    }
  });

  it('keeps lettering of a drawing at 11 px on a phone, in a frame that scrolls by itself', async () => {
    const seen = await visit(
      PAGES.free,
      (page) =>
        page.evaluate(() => {
          const frame = document.querySelector('#views .scroll') as Dom;
          const svg = frame.querySelector('svg') as Dom;
          const unit = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
          return {
            lettering: 3.8 * unit,
            scrolls: frame.scrollWidth > frame.clientWidth,
            stop: frame.tabIndex,
          };
        }),
      { width: 390 },
    );
    expect(seen.lettering).toBeGreaterThanOrEqual(11);
    expect(seen.scrolls).toBe(true);
    expect(seen.stop).toBe(0);
  });

  it('shows the narrow drawing on a phone and the wide one elsewhere', async () => {
    const shown = (width: number) =>
      visit(
        PAGES.free,
        (page) =>
          page.evaluate(() =>
            [...document.querySelectorAll('#layouts svg')]
              .filter((svg) => svg.getBoundingClientRect().width > 0)
              .map((svg) => svg.viewBox.baseVal.width),
          ),
        { width },
      );
    expect(await shown(1280)).toEqual([174]);
    expect(await shown(390)).toEqual([95]);
  });
});

describe('loading', () => {
  it.each(NAMES)('%s asks for nothing outside its origin and nothing that is missing', async (name) => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    const outside: string[] = [];
    const failed: string[] = [];
    const errors: string[] = [];
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith(served.origin) && !url.startsWith('data:')) outside.push(url);
    });
    page.on('response', (response) => {
      if (response.status() >= 400) failed.push(response.url());
    });
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) errors.push(message.text());
    });
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(served.origin + PAGES[name], { waitUntil: 'networkidle' });
    const fonts = await page.evaluate(async () => {
      await document.fonts.ready;
      return [...document.fonts]
        .map((font) => `${font.family.replaceAll('"', '')} ${font.weight} ${font.status}`)
        .sort();
    });
    await context.close();
    expect({ outside, failed, errors }).toEqual({ outside: [], failed: [], errors: [] });
    expect(fonts).toEqual([
      'Besley 400 loaded',
      'Besley 600 loaded',
      'Source Sans 3 400 loaded',
      'Source Sans 3 500 loaded',
      'Source Sans 3 600 loaded',
    ]);
  });

  it('takes the pictures for the scheme', async () => {
    const source = (scheme: 'light' | 'dark') =>
      visit(
        PAGES.paid,
        (page) => page.evaluate(() => (document.querySelector('.plate img') as Dom).currentSrc),
        {
          scheme,
        },
      );
    expect(await source('dark')).toContain('/piece-dark-');
    expect(await source('light')).toMatch(/\/piece-\d+-/);
  });

  it('shows the page for a wrong address with its own style', async () => {
    const seen = await visit('/plans/none/at/all/', (page) =>
      page.evaluate(() => [
        document.querySelector('h1')?.textContent,
        getComputedStyle(document.body).fontFamily,
      ]),
    );
    expect(seen[0]).toBe('No such page');
    expect(seen[1]).toContain('Besley');
  });
});

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
