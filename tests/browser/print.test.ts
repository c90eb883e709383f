/** The pages on paper, as the browser prints them: what its PDF says sheet by sheet. */
import { describe, expect, it } from 'vitest';
import { pageTexts } from '../support/pdf.ts';
import { PAGES, visit } from './visit.ts';

const printed = (name: keyof typeof PAGES): Promise<string[]> =>
  visit(PAGES[name], async (page) =>
    pageTexts(new Uint8Array(await page.pdf({ format: 'A4', printBackground: false }))),
  );

describe.each(['paid', 'free'] as const)('the %s page on paper', (name) => {
  it('begins on its first sheet', async () => {
    const title = await visit(PAGES[name], (page) => page.textContent('h1'));
    const [first = ''] = await printed(name);
    expect(first.replaceAll(/\s+/g, ' ')).toContain(title?.trim());
    // Title, facts and picture: the words under the picture are the last of the opening.
    expect(first).toContain('The finished piece');
  });

  it('keeps a list of things together', async () => {
    const lists = await visit(PAGES[name], (page) =>
      page
        .locator('main ul.plain:visible')
        .evaluateAll((all) =>
          all.map((list) => [...list.querySelectorAll('li')].map((item) => item.textContent ?? '')),
        ),
    );
    const flat = (text: string): string => text.replaceAll(/\s+/g, '');
    const sheets = (await printed(name)).map(flat);
    expect(lists.length).toBeGreaterThan(0);
    for (const list of lists) {
      const [first = '', ...more] = list.map(flat);
      const sheet = sheets.find((one) => one.includes(first));
      for (const item of more) expect(sheet, list.join(', ')).toContain(item);
    }
  });

  it('leaves no heading alone at the foot of a sheet', async () => {
    const heads = await visit(PAGES[name], (page) => page.locator('main h2').allTextContents());
    expect(heads.length).toBeGreaterThan(3);
    for (const sheet of await printed(name)) {
      const last = sheet.trim().split('\n').at(-1)?.trim() ?? '';
      expect(heads.map((head) => head.trim())).not.toContain(last);
    }
  });
});
