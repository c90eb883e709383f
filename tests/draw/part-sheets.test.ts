/**
 * Part sheets: each board is made again from the numbers printed on its sheet alone, and compared with the model, operation by operation
 * and as a solid, within the rounding of print. No number is printed twice for one thing.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart } from '../../src/draw/parts/part-sheet.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { INCH } from '../../src/units.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { crossings, overlaps } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { checkSheet } from './part-sheets-compare.ts';
import { PARTS, SHAPES } from './part-sheets-shapes.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

/** Part sheets alone: on paper, for half a sheet where that is another drawing, and for a phone. */
function sheetsOf(work: ReturnType<typeof workOf>) {
  const desk = new Desk(work);
  return partSheets(desk).flatMap((sheet) =>
    (['sheet', 'half', 'narrow'] as const).flatMap((place) => {
      const composed = composePart(desk, sheet, place === 'narrow' ? 'narrow' : 'sheet');
      if (!composed) throw new Error(sheet.id);
      const drawn = place === 'half' ? composePart(desk, sheet, 'sheet', composed) : composed;
      return drawn
        ? [{ desk, sheet, place, drawing: desk.finish(drawn, place === 'narrow' ? place : 'sheet') }]
        : [];
    }),
  );
}

function clean(drawing: Drawing): void {
  const drawn = readSvg(drawing.svg);
  expect(overlaps(drawn), drawing.id).toEqual([]);
  expect(crossings(drawn), drawing.id).toEqual([]);
}

describe('a part can be made from its sheet', () => {
  for (const edition of [inch, metric]) {
    it(`with every kind of cut, ${edition.key}`, () => {
      const work = workOf(built({ parts: PARTS }, edition));
      let count = 0;
      for (const { desk, sheet, place, drawing } of sheetsOf(work)) {
        count += checkSheet(desk, sheet, drawing) * (place === 'sheet' ? 1 : 0);
        clean(drawing);
      }
      // By hand: 1 mitre, 5 holes and a notch; 2; 1 and 3; 2; 3.
      expect(count).toBe(18);
    }, 60_000);

    it.each(SHAPES)(
      `with %s, ${edition.key}`,
      (_, parts, operations) => {
        const work = workOf(built({ parts }, edition));
        let count = 0;
        for (const { desk, sheet, place, drawing } of sheetsOf(work)) {
          count += checkSheet(desk, sheet, drawing) * (place === 'sheet' ? 1 : 0);
          clean(drawing);
        }
        expect(count).toBe(operations);
      },
      60_000,
    );
  }

  it('in the demo plans', async () => {
    for (const { name, work } of await demoWorks(repository)) {
      const sheets = sheetsOf(work);
      expect(sheets.length, name).toBeGreaterThan(0);
      for (const { desk, sheet, drawing } of sheets)
        expect(checkSheet(desk, sheet, drawing), `${name} ${drawing.id}`).toBeGreaterThan(0);
    }
  }, 120_000);

  it('with a free outline: the coat rack’s arch follows from the numbers printed, in both editions', async () => {
    for (const { name, work } of await demoWorks(repository, ['coat-rack'])) {
      const sheet = drawPlan(work).drawings.find((d) => d.id === 'part-A');
      const said = readSvg(sheet?.svg ?? '').texts.map((one) => one.text.trim());
      const number = (text: string): number => {
        const [whole = '0', fraction] = text
          .replace('″', '')
          .trim()
          .split(/ (?=\d+\/)/);
        const [top, bottom] = (fraction ?? (whole.includes('/') ? whole : '0/1')).split('/').map(Number);
        return (whole.includes('/') ? 0 : Number(whole)) + (top as number) / (bottom as number);
      };
      const radiusOf = (pattern: RegExp): number => {
        const found = said.flatMap((text) => pattern.exec(text)?.[1] ?? []);
        expect(found, `${name}: ${pattern} in ${said.join(' | ')}`).toHaveLength(1);
        return number(found[0] as string);
      };
      const inches = work.plan.edition.numbers.system === 'inch';
      const unit = inches ? INCH : 1;
      // Four ends rounded alike, the arch on one radius: with length and width over all they leave one shape. Its rise is then
      // R - sqrt(R^2 - (L/2 - r)^2), which the plan gives as 1-1/4 in or 32 mm; print rounds R by 1/32 in or 1/2 mm at most.
      const end = radiusOf(/^4 × R ?(.+)$/u);
      const arch = radiusOf(/^R ?(.+)$/u);
      const length = inches ? 32 : 810;
      expect(said, name).toContain(inches ? '32″' : '810');
      const half = length / 2 - end;
      const rise = arch - Math.sqrt(arch ** 2 - half ** 2);
      expect(end * unit, name).toBeCloseTo(inches ? INCH : 25, 6);
      expect(Math.abs(rise - (inches ? 1.25 : 32)), name).toBeLessThan(inches ? 0.002 : 0.02);
    }
  }, 60_000);
});
