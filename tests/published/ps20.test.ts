/**
 * The North American stock list against the American Softwood Lumber Standard, Voluntary Product Standard PS 20-20 (Rev. 1,
 * October 2021), table 3 (dry) and appendix B (metric). The figures are typed here from check-values T1.1 to T1.3 and T1.6,
 * not read from the list.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readStock } from '../../src/read/stock.ts';
import { inches, printed, sizeText } from '../../src/units.ts';

/** T1.1: nominal thickness -> dressed dry inches, published millimetres. */
const THICKNESS: Readonly<Record<string, readonly [number, number]>> = {
  '3/8': [5 / 16, 8],
  '1/2': [7 / 16, 11],
  '5/8': [9 / 16, 14],
  '3/4': [5 / 8, 16],
  '1': [3 / 4, 19],
  '5/4': [1, 25],
  '6/4': [1 + 1 / 4, 32],
  '2': [1 + 1 / 2, 38],
  '3': [2 + 1 / 2, 64],
  '4': [3 + 1 / 2, 89],
  // Timbers, T1.3 and T1.4: nominal 5 and 6 lose 1/2 in.
  '6': [5 + 1 / 2, 140],
};

/** T1.2: nominal width -> dressed dry inches, published millimetres. */
const WIDTH: Readonly<Record<string, readonly [number, number]>> = {
  '2': [1 + 1 / 2, 38],
  '3': [2 + 1 / 2, 64],
  '4': [3 + 1 / 2, 89],
  '5': [4 + 1 / 2, 114],
  '6': [5 + 1 / 2, 140],
  '7': [6 + 1 / 2, 165],
  '8': [7 + 1 / 4, 184],
  '9': [8 + 1 / 4, 210],
  '10': [9 + 1 / 4, 235],
  '11': [10 + 1 / 4, 260],
  '12': [11 + 1 / 4, 286],
  '14': [13 + 1 / 4, 337],
  '16': [15 + 1 / 4, 387],
};

/** T1.6, WWPA coverage table "Drop, T&G, Channel Rustic": overall, face, tongue in inches; overall and face in mm. */
const TONGUE_AND_GROOVE: Readonly<Record<string, readonly [number, number, number, number, number]>> = {
  '1x4 T&G': [3 + 3 / 8, 3 + 1 / 8, 1 / 4, 85.7, 79.4],
  '1x6 T&G': [5 + 3 / 8, 5 + 1 / 8, 1 / 4, 136.5, 130.2],
  '1x8 T&G': [7 + 1 / 8, 6 + 7 / 8, 1 / 4, 181.0, 174.6],
  '1x10 T&G': [9 + 1 / 8, 8 + 7 / 8, 1 / 4, 231.8, 225.4],
};

const file = 'content/stock/north-american-softwood.yaml';
const { value: list, diagnostics } = readStock('north-american-softwood', file, readFileSync(file, 'utf8'));
const items = (list?.items ?? []).filter((item) => item.sheets === undefined);
const sheets = (list?.items ?? []).filter((item) => item.sheets !== undefined);
const asMillimetres = (length: number) => sizeText(printed(length, { system: 'mm', denominator: 16 }));

describe('North American softwood', () => {
  it('reads without a fault and has the sections a plan will use', () => {
    expect(diagnostics).toEqual([]);
    const asked = '1x2 1x3 1x4 1x6 1x8 1x10 1x12 5/4x4 5/4x6 2x2 2x3 2x4 2x6 2x8 2x10 2x12 4x4'.split(' ');
    expect(items.map((item) => item.key)).toEqual(expect.arrayContaining(asked));
  });

  it.each(items.filter((item) => item.profile === 'square').map((item) => [item.key, item] as const))(
    '%s has the dressed dry size of table 3, and its published millimetres',
    (key, item) => {
      const [thick = '', wide = ''] = key.split('x');
      const thickness = THICKNESS[thick];
      const width = WIDTH[wide];
      if (thickness === undefined || width === undefined) throw new Error(`${key} is not in table 3`);
      expect(item.thickness).toBeCloseTo(thickness[0] * 25.4, 9);
      expect(item.width).toBeCloseTo(width[0] * 25.4, 9);
      expect(item.cover).toBe(item.width);
      // Appendix B: sizes over 1/8 in to the nearest millimetre, a tie to the even one.
      expect(asMillimetres(item.thickness)).toBe(`${thickness[1]} mm`);
      expect(asMillimetres(item.width)).toBe(`${width[1]} mm`);
    },
  );

  it.each(items.filter((item) => item.profile !== 'square').map((item) => [item.key, item] as const))(
    '%s has the width, face and tongue of the coverage table',
    (key, item) => {
      const row = TONGUE_AND_GROOVE[key];
      if (row === undefined) throw new Error(`${key} is not in the coverage table`);
      const [overall, face, tongue, overallMm, faceMm] = row;
      expect(item.thickness).toBeCloseTo(19.05, 9);
      expect(item.width).toBeCloseTo(overall * 25.4, 9);
      expect(item.cover).toBeCloseTo(face * 25.4, 9);
      expect(item.tongue).toBeCloseTo(tongue * 25.4, 9);
      expect(item.width).toBeCloseTo(overallMm, 0);
      expect(item.cover).toBeCloseTo(faceMm, 0);
    },
  );

  it('prints every row of the tables as the standard publishes it, ties to even', () => {
    for (const [size, published] of [...Object.values(THICKNESS), ...Object.values(WIDTH)])
      expect(asMillimetres(inches(size))).toBe(`${published} mm`);
    // 63.5 mm is a true tie; half-up would also give 64, but 190.5 (7-1/2) tells the rules apart: 190, not 191.
    expect(asMillimetres(inches(7.5))).toBe('190 mm');
  });

  it('is sold in whole even feet from 6 to 16 (T1.7, question-and-answer page on standard lengths)', () => {
    for (const item of items)
      for (const { length } of item.lengths) {
        const feet = length / 304.8;
        expect(Math.abs(feet - Math.round(feet))).toBeLessThan(1e-9);
        expect([6, 8, 10, 12, 14, 16]).toContain(Math.round(feet));
      }
  });

  it.each(sheets.map((item) => [item.key, item] as const))(
    '%s is within its performance category (PS 1-19, table 10) and sold in 4 × 8 ft and parts of it',
    (key, item) => {
      // least and most, inches, of the categories 23/32, 1/2 and 1/4
      const range = { 'ply-3/4': [0.688, 0.75], 'ply-1/2': [0.469, 0.531], 'ply-1/4': [0.219, 0.281] }[key];
      expect(range, `${key} is in no category`).toBeDefined();
      expect(item.thickness / 25.4).toBeGreaterThanOrEqual(range?.[0] ?? Infinity);
      expect(item.thickness / 25.4).toBeLessThanOrEqual(range?.[1] ?? 0);
      // 4 × 8 ft is 1219.2 × 2438.4 mm (arithmetic)
      const whole = item.sheets?.at(-1);
      expect([whole?.width, whole?.length]).toEqual([expect.closeTo(1219.2, 9), expect.closeTo(2438.4, 9)]);
      // a whole sheet costs less than its halves and quarters
      const price = (label: string): number =>
        item.sheets?.find((size) => size.label === label)?.prices['birch plywood'] ?? 0;
      expect(price('4 × 8 ft')).toBeLessThan(2 * price('4 × 4 ft'));
      expect(price('4 × 4 ft')).toBeLessThan(2 * price('2 × 4 ft'));
    },
  );

  it('has the densities of the Wood Handbook at 12 % (T4.5, computed from table 5-3b)', () => {
    const density = Object.fromEntries(
      // plywood is in no table of that book
      list?.species.filter((one) => one.key !== 'birch plywood').map((one) => [one.key, one.density]) ?? [],
    );
    expect(density).toEqual({ pine: 392, 'western redcedar': 358, 'white oak': 762 });
  });
});
