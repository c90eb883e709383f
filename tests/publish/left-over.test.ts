/** What becomes of the wood, and the settings of the saw as the sheets show them: two small jobs worked by hand. */
import { describe, expect, it } from 'vitest';
import { planPdf } from '../../src/publish/pdf/pdf.ts';
import { leftOver } from '../../src/publish/words/left-over.ts';
import { INCH } from '../../src/units.ts';
import { finishedBench, metric, shop } from '../support/finished.ts';
import { handbookTheme, poppler, typstForTests } from '../support/pdf.ts';
import { imperial } from '../support/sample.ts';
import { layouts, sheet } from '../support/saw-jobs.ts';

describe('the settings on the sheets', () => {
  it('are one table with a row for each pass, so that none of a single row stands alone', async () => {
    const finished = { ...finishedBench(imperial), layouts };
    const { value } = planPdf({ finished, shop, theme: handbookTheme(), typst: await typstForTests() });
    const tags = poppler('pdfinfo', value as Uint8Array, ['-struct-text']);
    const table = tags.slice(tags.indexOf('H2 "Saw settings"') + 5);
    const own = table.slice(0, table.search(/\bH[12] /));
    // The head; stop block, fence and stop block again, each said in a row; and the four settings worked out above.
    expect(own.match(/^\s*TR\b/gm)).toHaveLength(1 + 3 + 4);
    expect(own).toContain('"Fence settings"');
    expect(own).toContain('"Stop block settings, ripped pieces"');
    expect(tags).not.toMatch(/H2 "(?:Fence|Stop block) settings/);
  }, 30_000);
});

describe('what is left over', () => {
  it('is said of each stock in shares that come to a hundred, with the pieces worth keeping', () => {
    // By hand, in²: bought 2 · 96 · 5.5 = 1056; parts 2 · (40 · 2.5 + 30 · 2.5 + 30 · 5.5) = 680, 64.4 %; kept 2 · 25.75 · 5.5 = 283.25,
    // 26.8 %; so 9 % waste.
    const { opening, rows, onHand } = leftOver({ ...finishedBench(imperial), layouts });
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      name: '1×6',
      parts: '64\u00a0%',
      kept: '27\u00a0%',
      waste: '9\u00a0%',
      pieces: [{ count: 2 }],
    });
    expect((rows[0]?.pieces[0]?.length ?? 0) / INCH).toBeCloseTo(25.75, 9);
    // The limits of what is kept are 300 mm of a board and 150 mm of a sheet: 11.8 in and 5.9 in.
    expect(opening).toContain('boards from about 12 in long');
    expect(opening).not.toContain('sheets');
    expect(
      leftOver({ ...finishedBench(metric), layouts: { ...layouts, sheets: [sheet] } }).opening,
    ).toContain('boards from 300 mm long and pieces of sheets from 150 mm wide');
    expect(onHand).toEqual([]);
  });

  it('tells what is there already and not bought, equal pieces together', () => {
    const own = layouts.boards.map((one) => ({ ...one, own: true as const, lengthLabel: '96 in, on hand' }));
    const twice = [...own, ...own.map((one) => ({ ...one, count: 1, lengthLabel: '96 in, on hand (2)' }))];
    expect(leftOver({ ...finishedBench(imperial), layouts: { ...layouts, boards: twice } }).onHand).toEqual([
      '3 of 1×6, 96 in',
    ]);
  });
});
