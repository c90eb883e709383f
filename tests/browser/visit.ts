/** The sample shop's site on a local server, for tests that look at it in a real browser. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { siteFiles } from '../../src/publish/site.ts';
import { freeBundle, handbook, paidBundle, samplePdfs, sampleShop, siteFonts } from '../support/bundle.ts';
import { launchBrowser, type Served, serveSite } from '../support/chromium.ts';

/** Paths of the pages. */
export const PAGES = {
  catalogue: '/',
  paid: `/plans/${paidBundle.slug}/`,
  free: `/plans/${freeBundle.slug}/`,
} as const;
type Name = keyof typeof PAGES;
export const NAMES = Object.keys(PAGES) as Name[];

/** The browser and the server, once a file's tests run. */
export let browser: Browser;
export let served: Served;

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
export async function visit<T>(
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
