/** The sheets as PDF: that they are PDF/UA-1, hold the plan's words as text, and are the same each time. */
import { beforeAll, describe, expect, it } from 'vitest';
import { pdfName, planPdf } from '../../src/publish/pdf/pdf.ts';
import { embeddedFonts, type TypstCompiler } from '../../src/publish/pdf/typst.ts';
import type { FinishedPlan, Theme } from '../../src/publish/types.ts';
import { finishedBench, metric, shop } from '../support/finished.ts';
import { bytesText, flowText, handbookTheme, pageTexts, poppler, typstForTests } from '../support/pdf.ts';
import { imperial } from '../support/sample.ts';

let typst: TypstCompiler;
let theme: Theme;
const made = new Map<string, Uint8Array>();

function sheets(finished: FinishedPlan): Uint8Array {
  const { value, diagnostics } = planPdf({ finished, shop, theme, typst });
  expect(diagnostics).toEqual([]);
  return value as Uint8Array;
}

beforeAll(async () => {
  typst = await typstForTests();
  theme = handbookTheme();
  for (const edition of [imperial, metric]) made.set(edition.key, sheets(finishedBench(edition)));
});

const editions = [imperial, metric] as const;
const pdfOf = (edition: { key: string }): Uint8Array => made.get(edition.key) as Uint8Array;

describe('the name of a PDF', () => {
  it('says plan, edition and paper', () => {
    expect(editions.map((edition) => pdfName(finishedBench(edition).plan))).toEqual([
      'potting-bench-imperial-letter.pdf',
      'potting-bench-metric-a4.pdf',
    ]);
  });
});

describe.each(editions)('the $key PDF', (edition) => {
  // Source of these requirements: ISO 14289-1:2014 (PDF/UA-1).
  it('claims PDF/UA-1, is tagged, and names its language and title', () => {
    const text = bytesText(pdfOf(edition));
    expect(text).toMatch(/^%PDF-1\.[0-7]/);
    expect(text).toContain('<pdfuaid:part>1</pdfuaid:part>');
    expect(text).toMatch(/\/MarkInfo\s*<<\s*\/Marked true/);
    expect(text).toMatch(/\/Type \/StructTreeRoot/);
    expect(text).toContain(`/Lang (${edition.language})`);
    expect(text).toMatch(/\/DisplayDocTitle true/);
    expect(text).toContain(`Potting bench, plan 7, ${edition.key} edition`);
    expect(text).toMatch(/\/Type \/Outlines[\s\S]*?\/Count 1[0-9]/);
  });

  it('gives each figure its alternative, each head cell its scope, each link its words', () => {
    const objects = bytesText(pdfOf(edition)).split(/\bendobj\b/);
    const figures = objects.filter((object) => /\/S \/Figure\b/.test(object));
    expect(figures).toHaveLength(finishedBench(edition).drawings.drawings.length);
    for (const figure of figures) expect(figure).toMatch(/\/Alt \(Stand-in for drawing [\w-]+\.\)/);
    const heads = objects.filter((object) => /\/S \/TH\b/.test(object));
    expect(heads.length).toBeGreaterThan(20);
    for (const head of heads) expect(head).toMatch(/\/Scope \/Column/);
    const links = objects.filter((object) => /\/Subtype \/Link/.test(object));
    expect(links.length).toBeGreaterThanOrEqual(12);
    for (const link of links) expect(link).toMatch(/\/Contents [(<]/);
    for (const page of objects.filter((object) => /\/Annots/.test(object)))
      expect(page).toMatch(/\/Tabs \/S/);
  });

  it('tags the facts at a glance as rows of a table with a head', () => {
    const tags = poppler('pdfinfo', pdfOf(edition), ['-struct-text']);
    const glance = tags.slice(tags.indexOf('H1 "At a glance"'), tags.indexOf('H2 "The work in'));
    // Finished size, skill, time, weight, lumber, cost, cuts; and the head.
    expect(glance.match(/^\s*TR\b/gm)).toHaveLength(8);
    expect(glance.match(/^\s*TH\b/gm)).toHaveLength(2);
    expect(glance).toMatch(/TD:[\s\S]*?"Finished size"/);
  });

  it('skips no level of heading', () => {
    const tags = poppler('pdfinfo', pdfOf(edition), ['-struct']);
    const levels = [...tags.matchAll(/^\s*H([1-6])\b/gm)].map((match) => Number(match[1]));
    expect(levels[0]).toBe(1);
    levels.forEach((level, i) => {
      expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
    });
    expect(levels.filter((level) => level === 1).length).toBeGreaterThanOrEqual(15);
  });

  it('embeds every font, and only those of the theme', () => {
    const text = bytesText(pdfOf(edition));
    const fonts = text.match(/\/Type \/FontDescriptor/g) ?? [];
    expect(text.match(/\/FontFile[23]? \d+ \d+ R/g)).toHaveLength(fonts.length);
    expect(embeddedFonts(pdfOf(edition))).toEqual([
      'Besley-Regular',
      'Besley-SemiBold',
      'SourceSans3-Medium',
      'SourceSans3-Regular',
      'SourceSans3-SemiBold',
    ]);
  });

  it('lies on its paper', () => {
    // ANSI Letter is 8.5 × 11 in of 72 points; A4 is 210 × 297 mm (ISO 216).
    const [width, height] = edition.paper === 'letter' ? [612, 792] : [(210 / 25.4) * 72, (297 / 25.4) * 72];
    const boxes = [...bytesText(pdfOf(edition)).matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
    expect(boxes.length).toBeGreaterThan(10);
    for (const box of boxes) {
      expect(Number(box[1])).toBeCloseTo(width as number, 2);
      expect(Number(box[2])).toBeCloseTo(height as number, 2);
    }
  });

  it('is dated by the newest revision, not by the clock', () => {
    expect(bytesText(pdfOf(edition))).toContain('/CreationDate (D:20260314');
    expect(flowText(pdfOf(edition))).toContain('2026-03-14');
  });

  it('comes out the same, byte for byte, also from another compiler', async () => {
    const again = planPdf({ finished: finishedBench(edition), shop, theme, typst: await typstForTests() });
    expect(Buffer.compare(Buffer.from(again.value as Uint8Array), Buffer.from(pdfOf(edition)))).toBe(0);
    const once = sheets(finishedBench(edition));
    expect(Buffer.compare(Buffer.from(once), Buffer.from(pdfOf(edition)))).toBe(0);
  });

  it('numbers its sheets, and the sheet at a glance says where each step is', () => {
    const pages = pageTexts(pdfOf(edition));
    pages.forEach((page, i) => {
      expect(page).toContain(`${i + 1} of ${pages.length}`);
    });
    const glance = poppler('pdftotext', pdfOf(edition), ['-layout', '-f', '2', '-l', '2']);
    for (const step of finishedBench(edition).instructions.steps) {
      const said = glance.split('\n').findIndex((line) => line.includes(step.title));
      // The number of the sheet stands between the title and the line below it, whichever is nearer.
      const found = /sheet (\d+)/.exec(
        glance
          .split('\n')
          .slice(said, said + 3)
          .join('\n'),
      );
      expect(pages[Number(found?.[1]) - 1]).toContain(step.title);
    }
  });

  it('keeps each step with its drawing, whose lettering is text', () => {
    const pages = pageTexts(pdfOf(edition));
    for (const step of finishedBench(edition).instructions.steps) {
      const page = pages.findIndex((text) => text.includes(`drawing step-${step.index}`));
      expect(page).toBeGreaterThan(5);
      expect(pages[page]).toContain(`${step.index} ${step.title}`);
    }
  });

  it('places each drawing at its own size', () => {
    // The box of a Figure in the structure tree is in points; the drawing's own size in mm.
    const boxes = poppler('pdfinfo', pdfOf(edition), ['-struct'])
      .split(/^\s*Figure/m)
      .slice(1)
      .map((part) => /BBox \[([\d. ]+)\]/.exec(part)?.[1]?.split(' ').map(Number) as number[]);
    const sizes = boxes.map(([x0 = 0, y0 = 0, x1 = 0, y1 = 0]) =>
      [x1 - x0, y1 - y0].map((pt) => (pt / 72) * 25.4),
    );
    const drawn = finishedBench(edition).drawings.drawings.map(({ width, height }) => [width, height]);
    expect(sizes).toHaveLength(drawn.length);
    const nearest = (want: readonly number[]) =>
      sizes.some(
        ([w = 0, h = 0]) => Math.abs(w - (want[0] ?? 0)) < 0.1 && Math.abs(h - (want[1] ?? 0)) < 0.1,
      );
    expect(drawn.filter((size) => !nearest(size))).toEqual([]);
  });
});

describe('the words of the sheets', () => {
  it('keep sizes whole: the fraction is stacked for the eye and `34 3/4″` for the reader', () => {
    // Worked by hand: A is 35 1/4 in, B 47 1/4, G 3 1/4 wide, the spacer in step 2 is 5 1/2, the kerf 1/8.
    for (const options of [['-raw'], ['-layout'], []]) {
      const text = poppler('pdftotext', pdfOf(imperial), options).replaceAll(/\s+/g, ' ');
      for (const size of [
        '35 1/4″',
        '47 1/4″',
        '3 1/4″',
        'spacer block 5 1/2″ high',
        'one saw kerf, 1/8″ wide',
      ])
        expect(text).toContain(size);
    }
  });

  it('print bare millimetres in tables, since the title strip names the unit', () => {
    const text = poppler('pdftotext', pdfOf(metric), ['-layout']);
    expect(text).toMatch(/Front leg\s+2 45×95\s+45\s+95\s+880\b/);
    expect(text).toContain('millimetres');
    expect(text).not.toContain('″');
  });

  it('are spelled the American way in the imperial edition only', () => {
    expect(flowText(pdfOf(imperial))).toContain('License');
    expect(flowText(pdfOf(imperial))).not.toContain('Licence');
    expect(flowText(pdfOf(metric))).toContain('Licence');
    expect(flowText(pdfOf(metric))).not.toContain('License');
  });

  it('say which layouts are proved best and how far the others may be off', () => {
    // Cost 18.00, bound 17.60: (18 − 17.6) / 18 = 2.22 %, said as 2.3 % since a bound is never rounded down.
    const text = flowText(pdfOf(imperial));
    expect(text).toContain('Proved best for 2×4, 1×6.');
    expect(text).toContain('1×4: not proved best. These boards cost at most 2.3 % more than need be.');
  });

  it('keep chapters in order', () => {
    const tags = poppler('pdfinfo', pdfOf(imperial), ['-struct']);
    expect([...tags.matchAll(/^\s*H1 "(.*)"/gm)].map((match) => match[1])).toEqual([
      'Potting bench',
      'At a glance',
      'Safety',
      'Tools',
      'Shopping list',
      'Cut list',
      'Cutting layouts',
      'Front, top and right side',
      ...finishedBench(imperial).instructions.steps.map(({ index, title }) => `Step ${index}: ${title}`),
      'Finish',
      'Revisions',
      'License',
    ]);
  });
});
