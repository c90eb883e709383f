/** What is written, against the standards for drawings. Everything is read back from the SVG. */

import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { FILLS } from '../../src/draw/paper/marks.ts';
import { viewScales } from '../../src/draw/paper/scale.ts';
import type { Drawing, DrawingSet } from '../../src/draw/types.ts';
import { fc } from '../support/random.ts';
import { samplePlan } from '../support/sample.ts';
import { crossings, overlaps } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { type BenchSizes, benchPlan, metric, metricBench, nestBox, pottingBench } from './plans.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

// ISO 128-2:2020, the series of line widths.
const WIDTHS = [0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1, 1.4, 2];
// ISO 3098-1, nominal heights of lettering; 3 mm is the least of ASME Y14.2 (0.12 in), used for letters of parts.
const HEIGHTS = [1.8, 2.5, 3, 3.5, 5];

const sets = new Map<string, DrawingSet>();
const slanting = new Set<string>();
const each = (): [string, Drawing][] =>
  [...sets].flatMap(([name, set]) =>
    [...set.drawings, ...set.narrow.map((d) => ({ ...d, id: `${d.id}, narrow` }))].map(
      (d): [string, Drawing] => [`${name} ${d.id}`, d],
    ),
  );

beforeAll(async () => {
  await loadSvg();
  for (const { name, work } of await demoWorks(repository)) {
    sets.set(name, drawPlan(work));
    const copies = work.plan.parts.flatMap((part) => part.copies);
    // Boards that lean, or are cut out of square, have edges in other directions.
    if (copies.some((copy) => copy.faces !== undefined || copy.shape.some(({ kind }) => kind === 'outline')))
      slanting.add(name);
  }
  sets.set('sample', drawPlan(workOf(samplePlan)));
  sets.set('bench', drawPlan(workOf(benchPlan(pottingBench))));
  sets.set('metric bench', drawPlan(workOf(benchPlan(metricBench))));
  sets.set('nest box', drawPlan(workOf(nestBox(metric))));
}, 300_000);

describe('every drawing', () => {
  it('uses line widths of ISO 128 and heights of ISO 3098', () => {
    for (const [name, drawing] of each()) {
      const { lines, texts } = readSvg(drawing.svg);
      expect(
        [...new Set(lines.map((l) => l.width))].filter((w) => !WIDTHS.includes(w)),
        name,
      ).toEqual([]);
      for (const text of texts)
        for (const height of text.heights)
          expect(
            Math.min(...HEIGHTS.map((h) => Math.abs(h - height) / h)),
            `${name} ${text.text} ${height}`,
          ).toBeLessThan(0.03);
    }
  });

  it('has no text under 2.5 mm but figures of fractions and numbers of cuts', () => {
    for (const [name, drawing] of each())
      for (const text of readSvg(drawing.svg).texts)
        if (!/^\d+$/.test(text.text))
          expect(Math.max(...text.heights), `${name} ${text.text}`).toBeGreaterThan(2.49);
  });

  it('has no text over a line or another text, and no dimension lines that cross', () => {
    for (const [name, drawing] of each()) {
      const drawn = readSvg(drawing.svg);
      expect(overlaps(drawn), name).toEqual([]);
      expect(crossings(drawn), name).toEqual([]);
    }
  });

  it('is measured by a check that finds a text moved onto a line', () => {
    const views = sets.get('bench')?.drawings.find((d) => d.kind === 'views') as Drawing;
    const [, whole, x, y] = /(translate\(([\d.]+) ([\d.]+)\))" fill="#1f1c19"/.exec(
      views.svg,
    ) as RegExpExecArray;
    const shifted = views.svg.replace(whole as string, `translate(${x} ${Number(y) + 1.6})`);
    expect(overlaps(readSvg(shifted))).not.toEqual([]);
  });

  it('fits its room', () => {
    for (const [name, set] of sets) {
      const wide = name.includes('metric') || name === 'nest box' ? 178 : 183.9;
      // Templates are full size, over as many sheets as they take.
      for (const d of set.drawings.filter((s) => s.kind !== 'template'))
        expect(d.width, `${name} ${d.id}`).toBeLessThanOrEqual(wide + 0.2);
      for (const d of set.drawings.filter((s) => s.kind === 'step')) {
        expect(d.width, `${name} ${d.id}`).toBeLessThanOrEqual(122.2);
        expect(d.height, `${name} ${d.id}`).toBeLessThanOrEqual(140.2);
      }
      // Two to a sheet: half of what Letter has between its margins, less the title and a few lines of words.
      for (const d of set.drawings.filter((s) => s.id.startsWith('half-step-'))) {
        expect(d.width, `${name} ${d.id}`).toBeLessThanOrEqual(104.2);
        expect(d.height, `${name} ${d.id}`).toBeLessThanOrEqual(74.2);
      }
      for (const d of set.narrow) expect(d.width, `${name} ${d.id}, narrow`).toBeLessThanOrEqual(95.2);
    }
  });

  it('is well formed, has a text alternative, and names nothing that another drawing names', () => {
    for (const [, set] of sets) {
      const all = [...set.drawings, ...set.narrow];
      const ids = all.flatMap((d) => [...d.svg.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]));
      expect(new Set(ids).size).toBe(ids.length);
      for (const d of all) {
        expect(d.svg).toMatch(/^<svg [^>]*role="img"/);
        expect(d.svg).not.toMatch(/NaN|undefined|Infinity/);
        expect(d.svg.replaceAll('<tspan', '').split('<').length).toBeGreaterThan(5);
        expect(d.alt.length).toBeGreaterThan(20);
        const [, title, desc] = /<title[^>]*>([^<]+)<\/title><desc[^>]*>([^<]+)<\/desc>/.exec(d.svg) ?? [];
        expect(title).toBeTruthy();
        expect(desc?.replaceAll('&amp;', '&')).toBe(d.alt);
        // A bare family name may not hold a word that begins with a digit.
        expect(d.svg.match(/font-family="([^"]*)"/)?.[1] ?? "'Source Sans 3'").toBe("'Source Sans 3'");
        // Numbers are cut to three decimals.
        expect(d.svg).not.toMatch(/\d\.\d{4}/);
      }
    }
  });

  it('comes out the same twice', () => {
    expect(drawPlan(workOf(samplePlan))).toEqual(sets.get('sample'));
  });
});

describe('scales', () => {
  // ISO 5455:1979 by way of the handbook's check values, T7.1.
  const ISO = [
    '1 : 1',
    '1 : 2',
    '1 : 5',
    '1 : 10',
    '1 : 20',
    '1 : 50',
    '1 : 100',
    '1 : 200',
    '1 : 500',
    '1 : 1000',
  ];

  it('of metric views are those of ISO 5455', () => {
    expect(viewScales({ system: 'mm', denominator: 16 }).map((s) => s.label)).toEqual(ISO);
    for (const [, drawing] of each())
      if (drawing.kind === 'views' && drawing.scale.includes(':')) expect(ISO).toContain(drawing.scale);
  });

  it('of imperial views are fractions of an inch to the foot', () => {
    // 3/4 in to 12 in is 1 : 16; 1-1/2 in to 12 in is 1 : 8 (by arithmetic).
    const scales = viewScales({ system: 'inch', denominator: 16 });
    const ratio = (label: string) => scales.find((s) => s.label === label)?.ratio;
    expect(ratio('3/4″ = 1′-0″')).toBeCloseTo(1 / 16, 12);
    expect(ratio('1 1/2″ = 1′-0″')).toBeCloseTo(1 / 8, 12);
    expect(ratio('half size')).toBe(0.5);
  });
});

describe('pictorials', () => {
  it('are isometric: edges of boxes run upright or at 30 degrees (ISO 5456-3)', () => {
    for (const [name, drawing] of each()) {
      if (drawing.kind !== 'pictorial') continue;
      expect(drawing.scale).toBe('not to scale');
      if ([...slanting].some((plan) => name.startsWith(`${plan} `))) continue;
      for (const l of readSvg(drawing.svg).lines) {
        if (!['k-p', 'k-o'].includes(l.role) || Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) < 3) continue;
        const angle = ((((Math.atan2(l.b[1] - l.a[1], l.b[0] - l.a[0]) * 180) / Math.PI) % 180) + 180) % 180;
        expect(Math.min(...[30, 90, 150].map((a) => Math.abs(a - angle))), name).toBeLessThan(0.1);
      }
    }
  });

  it('tell neighbouring tints apart in grey by 7 per cent or more', () => {
    // Luma of ITU-R BT.601, the usual turn to grey of printers.
    const grey = (hex: string): number => {
      const [r, g, b] = [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)) as [
        number,
        number,
        number,
      ];
      return 100 * (1 - (0.299 * r + 0.587 * g + 0.114 * b) / 255);
    };
    for (const family of ['wood', 'new'] as const) {
      const tones = (['top', 'front', 'side', 'end'] as const).map((face) =>
        grey(FILLS[`${family}-${face}`].colour),
      );
      for (let i = 1; i < tones.length; i++)
        expect((tones[i] as number) - (tones[i - 1] as number)).toBeGreaterThan(6.5);
    }
  });
});

describe('benches of any size', () => {
  const sizes = fc.record({
    width: fc.integer({ min: 500, max: 2400 }),
    depth: fc.integer({ min: 320, max: 900 }),
    height: fc.integer({ min: 420, max: 1100 }),
    overhang: fc.integer({ min: 0, max: 60 }),
    gap: fc.integer({ min: 0, max: 14 }),
    shelf: fc.integer({ min: 150, max: 300 }),
    back: fc.constantFrom(0, 180, 280, 400),
    board: fc.constantFrom(95, 145, 184),
    edition: fc.constantFrom(pottingBench.edition, metric),
  }) satisfies fc.Arbitrary<BenchSizes>;

  const isClear = (bench: BenchSizes): void => {
    const set = drawPlan(workOf(benchPlan(bench)));
    for (const drawing of [...set.drawings, ...set.narrow]) {
      const drawn = readSvg(drawing.svg);
      expect(overlaps(drawn), drawing.id).toEqual([]);
      expect(crossings(drawn), drawing.id).toEqual([]);
    }
  };

  it('have no overlaps and no crossings', () => {
    fc.assert(fc.property(sizes, isClear), { numRuns: 12 });
  }, 180_000);

  const { edition } = pottingBench;
  const narrow = { width: 508, depth: 325, height: 1094, overhang: 51, gap: 3, shelf: 152, back: 400 };
  const low = { width: 1211, depth: 693, height: 426, overhang: 56, gap: 12, shelf: 239, back: 0 };
  it.each<[string, BenchSizes]>([
    // The course of 3 9/16 in leaves 4.5 mm of its board: the rip has a number, and the piece still looks like a whole board.
    ['a sliver ripped off, and its number', { ...narrow, board: 95, edition }],
    // The course of 6 5/8 in leaves 15.7 mm, which is hatched and 0.4 mm high on the paper.
    ['a sliver ripped off, hatched', { ...low, board: 184, edition }],
  ])('that once failed stay clear: %s', (_, bench) => isClear(bench));
});
