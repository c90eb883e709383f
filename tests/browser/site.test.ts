/**
 * The published pages in a real browser. Accessibility is judged by axe-core (WCAG 2.0 to 2.2, A and AA, and its best
 * practices), in light and dark; the rest by what the browser measures.
 */
import { AxeBuilder } from '@axe-core/playwright';
import { describe, expect, it } from 'vitest';
import type { Dom, DomDocument, DomStyle } from './dom.ts';
import { browser, NAMES, PAGES, served, visit } from './visit.ts';

// What the browser has where the functions given to `evaluate` run.
declare const document: DomDocument;
declare const window: { scrollTo(x: number, y: number): void };
declare function getComputedStyle(node: Dom): DomStyle;

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

  it('gives what changed most of the width of a phone', async () => {
    const widths = await visit(
      PAGES.free,
      (page) =>
        page
          .locator('table.revisions tbody tr')
          .first()
          .evaluate((row) => [...row.children].map((cell) => cell.getBoundingClientRect().width)),
      { width: 320 },
    );
    expect(widths).toHaveLength(3);
    const [, changed = 0] = widths;
    expect(changed).toBeGreaterThan(widths.reduce((sum, one) => sum + one, 0) * 0.48);
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
