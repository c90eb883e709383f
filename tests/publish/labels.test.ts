/**
 * Labels for the parts: what they say, and where they are printed. Pages are rasterised with poppler and measured in pixels; an inch is
 * 25.4 mm exactly (NIST SP 811), so that at 300 dots to the inch a pixel is 0.085 mm.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { partLabels } from '../../src/publish/pdf/labels.ts';
import { labelGrid, labelsName, labelsPdf } from '../../src/publish/pdf/labels-pdf.ts';
import { embeddedFonts, type TypstCompiler } from '../../src/publish/pdf/typst.ts';
import type { Theme } from '../../src/publish/types.ts';
import { LABEL_SHEETS, labelSheet, sheetOfEdition } from '../../src/read/label-sheets.ts';
import type { Edition } from '../../src/read/types.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';
import { bytesText, flowText, handbookTheme, poppler, typstForTests } from '../support/pdf.ts';
import { raster } from '../support/raster.ts';

/** A bench in little: four legs, a rail on each side, five slats and three shelves. Invented. */
const BENCH = {
  parts: `leg:
  stock: 2x4
  runs: up
  wide face: front
  at: { bottom: floor, top: top - 3/4 in | top - 18 mm, left: left, front: front }
  copies: mirrored left-right and front-back
end-rail:
  stock: 1x4
  runs: deep
  wide face: left
  at: { bottom: floor, front: front, back: back, left: left }
  copies: mirrored left-right
stretcher:
  stock: 1x4
  runs: across
  wide face: front
  at: { top: top - 3/4 in | top - 18 mm, left: left, right: right, front: front }
  fit: measured
slat:
  stock: 1x4
  runs: across
  lay: front to back
  from: front
  to: back
  gap: 1/4 in | 6 mm
  ends: shared
  at: { top: top, left: left, right: right }
shelf:
  stock: 1x4
  runs: across
  wide face: top
  at: { bottom: floor + 4 in | floor + 100 mm, left: left, right: right, back: back }
  copies: { repeated: 3, along: up, spacing: 6 in | 150 mm }
`,
  steps: [
    ['Stand the legs', 'leg, end-rail'],
    [
      'Lay the boards across, first the stretcher, then slats from the front, last the shelves',
      'stretcher, slat, shelf',
    ],
  ]
    .map(([title, adds]) => `### ${title}\n\n\`\`\`step\nadds: [${adds}]\n\`\`\`\n`)
    .reduce((all, step) => `${all}\n${step}`, '## Steps\n'),
};

const finishedOf = (edition: Edition) => {
  const plan = built(BENCH, edition);
  return { plan, cutList: cutList(plan) };
};

describe('what a label says', () => {
  const labels = partLabels(finishedOf(inch));
  const of = (letter: string) => labels.filter((label) => label.letter === letter);
  const said = (letter: string) =>
    of(letter).map(({ place, face, towards }) => [place, face, towards].join(', '));

  it('is which of four legs it is, the face that looks into the piece, and which end is up', () => {
    // By hand: legs at the front look back into the piece, those at the back look forward.
    expect(said('A')).toEqual([
      'left front, back face, top',
      'left back, front face, top',
      'right front, back face, top',
      'right back, front face, top',
    ]);
    expect(of('A').map(({ count }) => count)).toEqual(['1 of 4', '2 of 4', '3 of 4', '4 of 4']);
  });

  it('is left or right of what is mirrored, and nothing of what is there once', () => {
    expect(said('B')).toEqual(['left, right face, back', 'right, left face, back']);
    expect(said('C')).toEqual(['measure first, back face, right']);
    expect(of('C')[0]?.count).toBe('');
  });

  it('counts courses from where they are laid, whatever letter they have', () => {
    // 20 in at 3-1/2 in and gaps of 1/4 in: 20.25 / 3.75 = 5.4, so six courses, the two at the ends ripped.
    expect(said('D')).toEqual([2, 3, 4, 5].map((n) => `${n} of 6 from the front, bottom face, right`));
    expect(said('E')).toEqual([1, 6].map((n) => `${n} of 6 from the front, bottom face, right`));
  });

  it('counts the courses of a roof from the front too, though each lies lower than the one before', () => {
    // 20 in deep, 1x4 of 3/4 × 3-1/2 at 15 deg: (20 − 0.75 sin 15) / cos 15 = 20.504 in on the slope; 20.754 / 3.75 = 5.5, six courses
    const plan = built(
      {
        parts: BENCH.parts.replace(
          '  at: { top: top, left: left, right: right }\nshelf',
          '  slope: { back: 15 deg }\n  at: { top: top + 3 in | top + 80 mm, left: left, right: right }\nshelf',
        ),
      },
      inch,
    );
    const places = partLabels({ plan, cutList: cutList(plan) })
      .filter(({ letter }) => letter === 'D')
      .map(({ place }) => place);
    expect(places).toEqual([2, 3, 4, 5].map((n) => `${n} of 6 from the front`));
  });

  it('tells three shelves apart as a builder would', () => {
    expect(said('F')).toEqual(['bottom', 'middle', 'top'].map((place) => `${place}, bottom face, right`));
  });

  it('names step and size', () => {
    expect(of('A')[0]?.step).toBe('Step 1: Stand the legs');
    const sizes = (edition: Edition) =>
      partLabels(finishedOf(edition))[0]?.size.map((one) =>
        typeof one === 'string' || one.kind !== 'size'
          ? one
          : `${one.whole} ${one.numerator}/${one.denominator}${one.unit}`,
      );
    // A 2×4 is 1-1/2 × 3-1/2 in; the legs are 30 − 3/4 in long, and 750 − 18 mm.
    expect(sizes(inch)).toEqual(['1 1/2″', ' × ', '3 1/2″', ' × ', '29 1/4″']);
    expect(sizes(metric)).toEqual(['45 /', ' × ', '95 /', ' × ', '732 / mm']);
  });

  it('is said once for each piece of the cut list, in every demo plan', async () => {
    const shop = await shopOf(demoFiles());
    for (const { slug } of shop.plans)
      for (const edition of ['imperial', 'metric']) {
        const plan = planOf(shop, slug, edition);
        const list = cutList(plan);
        const counted = new Map<string, number>();
        for (const { letter } of partLabels({ plan, cutList: list }))
          counted.set(letter, (counted.get(letter) ?? 0) + 1);
        expect([...counted]).toEqual(list.rows.map((row) => [row.letter, row.quantity]));
      }
  });
});

describe('sheets of labels', () => {
  it('lie in the middle of their paper', () => {
    // By hand, ANSI Letter 8.5 × 11 in, ISO 216 A4 210 × 297 mm:
    // (8.5 − 3 · 2.625 − 2 · 0.125) / 2 = 0.1875 in; (11 − 10) / 2 = 0.5 in; (8.5 − 2 · 4 − 0.1875) / 2 = 0.15625 in.
    // (210 − 3 · 63.5 − 2 · 2.54) / 2 = 7.21 mm; (297 − 7 · 38.1) / 2 = 15.15 mm; (297 − 8 · 37) / 2 = 0.5 mm.
    const grid = (size: string) => {
      const sheet = labelSheet(size);
      return sheet && labelGrid(sheet);
    };
    for (const [size, columns, rows, left, top, pitch] of [
      ['2-5/8 x 1 in', 3, 10, 4.7625, 12.7, 69.85],
      ['4 x 2 in', 2, 5, 3.96875, 12.7, 106.3625],
      ['63.5 x 38.1 mm', 3, 7, 7.21, 15.15, 66.04],
      ['70 x 37 mm', 3, 8, 0, 0.5, 70],
    ] as const) {
      expect(grid(size)).toMatchObject({ columns, rows });
      expect(grid(size)?.left).toBeCloseTo(left, 9);
      expect(grid(size)?.top).toBeCloseTo(top, 9);
      expect(grid(size)?.pitch).toBeCloseTo(pitch, 9);
    }
  });

  it('are found by the sides of a label in either order and either form', () => {
    for (const size of ['2-5/8 x 1 in', '1 x 2-5/8 in', '1 in × 2.625 in', '66.7 x 25.4 mm'])
      expect(labelSheet(size)?.key).toBe('2-5/8 x 1 in');
    expect(labelSheet('5 x 3 in')).toBeUndefined();
    expect(sheetOfEdition({ paper: 'letter' })?.key).toBe('2-5/8 x 1 in');
    expect(sheetOfEdition({ paper: 'a4' })?.key).toBe('63.5 x 38.1 mm');
    expect(sheetOfEdition({ paper: 'a4', labels: 'none' })).toBeUndefined();
  });
});

let typst: TypstCompiler;
let theme: Theme;
beforeAll(async () => {
  typst = await typstForTests();
  theme = handbookTheme();
});

function printed(finished: ReturnType<typeof finishedOf>): Uint8Array {
  const { value, diagnostics } = labelsPdf({
    finished,
    shop: { name: 'Nettlefield Woodshop' },
    theme,
    typst,
  });
  expect(diagnostics).toEqual([]);
  return value as Uint8Array;
}

/** The bench with names as long as they come, letters of two, and enough copies for a second sheet of any size. */
function hard(edition: Edition) {
  const finished = finishedOf(edition);
  const rows = finished.cutList.rows.map((row, index) => ({
    ...row,
    letter: index === 1 ? 'WW' : row.letter,
    name: index === 0 ? 'Uncommonly long-winded front and back leg of the bench, mirrored' : row.name,
    quantity: index === 3 ? 24 : row.quantity,
  }));
  return { ...finished, cutList: { ...finished.cutList, rows } };
}

const DPI = 300;
const pixel = 25.4 / DPI;

describe.each(LABEL_SHEETS.map((sheet) => [sheet.key, sheet] as const))('labels of %s', (key, sheet) => {
  const edition: Edition = { ...(sheet.paper === 'letter' ? inch : metric), labels: key };
  const grid = labelGrid(sheet);
  const per = grid.columns * grid.rows;

  it('keep to their cells, which are where the sheet has them', () => {
    const finished = hard(edition);
    const pdf = printed(finished);
    const pieces = finished.cutList.rows.reduce((sum, row) => sum + row.quantity, 0);
    const pages = Math.ceil(pieces / per);
    expect(poppler('pdfinfo', pdf, [])).toMatch(new RegExp(`Pages:\\s+${pages}\\b`));
    let found = 0;
    for (let n = 1; n <= pages; n++) {
      const page = raster(pdf, n, DPI);
      const paper = sheet.paper === 'letter' ? [215.9, 279.4] : [210, 297];
      expect(Math.abs(page.width * pixel - (paper[0] as number))).toBeLessThan(0.1);
      expect(Math.abs(page.height * pixel - (paper[1] as number))).toBeLessThan(0.1);
      /** What is printed in each cell, mm from its corner; and what is printed between cells. */
      const inked = new Map<number, { left: number; top: number; right: number; bottom: number }>();
      let outside = 0;
      for (let y = 0; y < page.height; y++) {
        const down = (y + 0.5) * pixel - grid.top;
        if (down < 0 || down >= grid.rows * grid.height) continue;
        const row = Math.floor(down / grid.height);
        for (let x = 0; x < page.width; x++) {
          const along = (x + 0.5) * pixel - grid.left;
          // marks for cutting stand beside the grid
          if (along < 0 || along >= (grid.columns - 1) * grid.pitch + grid.width || !page.dark(x, y))
            continue;
          const column = Math.floor(along / grid.pitch);
          const [dx, dy] = [along - column * grid.pitch, down - row * grid.height];
          if (dx > grid.width) outside += 1;
          const cell = row * grid.columns + column;
          const box = inked.get(cell) ?? { left: dx, top: dy, right: dx, bottom: dy };
          inked.set(cell, {
            left: Math.min(box.left, dx),
            top: Math.min(box.top, dy),
            right: Math.max(box.right, dx),
            bottom: Math.max(box.bottom, dy),
          });
        }
      }
      expect(outside).toBe(0);
      found += inked.size;
      for (const box of inked.values()) {
        // The ring round the letter touches the clear room at its left and its head: the cell is where it should be.
        expect(Math.abs(box.left - grid.clearX)).toBeLessThan(0.2);
        expect(Math.abs(box.top - grid.clearY)).toBeLessThan(0.2);
        expect(box.right).toBeLessThan(grid.width - grid.clearX + 0.2);
        expect(box.bottom).toBeLessThan(grid.height - grid.clearY + 0.2);
      }
    }
    expect(found).toBe(pieces);
  }, 60_000);

  it('have letters for the length of an arm', () => {
    // ISO 9241-303, 5.5.4: characters of 20 to 22 minutes of arc are read with ease; at 700 mm that is 700 · tan(22′) = 4.5 mm.
    const [word] = words(printed(finishedOf(edition)), 1).filter(({ text }) => text === 'A');
    // Capitals of the sans are 0.66 of its size (themes/handbook/kit.typ); the box of a word is at least as tall as its size.
    expect(((word?.bottom ?? 0) - (word?.top ?? 0)) * 0.5).toBeGreaterThan(4.5);
  });
});

interface Word {
  readonly text: string;
  readonly top: number;
  readonly bottom: number;
}

/** Words of a page with their places, mm: poppler's bbox output in points. */
const words = (pdf: Uint8Array, page: number): Word[] =>
  [
    ...poppler('pdftotext', pdf, ['-bbox', '-f', `${page}`, '-l', `${page}`]).matchAll(
      /<word xMin="[\d.]+" yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]*)</g,
    ),
  ].map(([, top, bottom, text = '']) => ({
    text,
    top: (Number(top) / 72) * 25.4,
    bottom: (Number(bottom) / 72) * 25.4,
  }));

describe('the PDF of labels', () => {
  it.each([inch, metric])('is PDF/UA-1 with its title, language and the theme’s fonts, $key', (edition) => {
    const pdf = printed(finishedOf(edition));
    const text = bytesText(pdf);
    expect(text).toContain('<pdfuaid:part>1</pdfuaid:part>');
    expect(text).toMatch(/\/Type \/StructTreeRoot/);
    expect(text).toContain(`/Lang (${edition.language})`);
    expect(text).toContain(`Test, plan 1, labels for the parts, ${edition.key} edition`);
    for (const name of embeddedFonts(pdf)) expect(name).toMatch(/^SourceSans3-/);
    expect(text).toContain('/CreationDate (D:20260109');
    expect(Buffer.compare(Buffer.from(printed(finishedOf(edition))), Buffer.from(pdf))).toBe(0);
  });

  it('says how to print and where to stick', () => {
    const flow = flowText(printed(finishedOf(inch)));
    expect(flow).toContain('Labels 2-5/8 × 1 in: print at 100 %.');
    expect(flow).toContain('Stick each label on the face that it names');
    expect(flow).toContain('29 1/4″');
  });

  it('is named after its sheet’s paper, and isn’t made where the edition wants none', () => {
    expect(labelsName(finishedOf(metric).plan)).toMatch(/^test-metric-a4-labels\.pdf$/);
    const none = finishedOf({ ...metric, labels: 'none' });
    expect(labelsPdf({ finished: none, shop: { name: '' }, theme, typst }).value).toBeUndefined();
    const { 'labels.typ': _, ...parts } = theme.pdfParts ?? {};
    const old = { ...theme, pdfParts: parts };
    expect(
      labelsPdf({ finished: finishedOf(metric), shop: { name: '' }, theme: old, typst }).value,
    ).toBeUndefined();
  });
});
