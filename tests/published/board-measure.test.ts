/**
 * Board measure. Source: PS 20-20, section 2.2: nominal thickness in inches × nominal width in feet × length in feet; the values are
 * worked from it by hand: 1 × 6/12 × 8 = 4 and so on.
 */
import { describe, expect, it } from 'vitest';
import { boardFeet, nominalSection } from '../../src/cutting/boards/board-measure.ts';
import { inches } from '../../src/units.ts';

describe('board feet', () => {
  const values: readonly (readonly [key: string, feet: number, value: number])[] = [
    ['1x6', 8, 4],
    ['2x4', 8, 5 + 1 / 3],
    ['2x6', 10, 10],
    ['5/4x6', 12, 7.5],
    ['1x12', 6, 6],
  ];
  for (const [key, feet, value] of values)
    it(`${key} × ${feet} ft is ${value.toFixed(3)}`, () => {
      const { thickness, width } = nominalSection({ key, thickness: inches(1), width: inches(1) });
      expect(boardFeet(thickness, width, feet)).toBeCloseTo(value, 12);
    });

  it('counts a thickness under 1 in as 1 in (rule of the trade)', () => {
    expect(boardFeet(1 / 2, 6, 8)).toBe(4);
    expect(boardFeet(3 / 4, 6, 8)).toBe(4);
  });

  it('one board foot is 144 cubic inches, 0.00236 m³', () => {
    const litres = (144 * 25.4 ** 3) / 1e6;
    expect(litres).toBeCloseTo(2.359737, 6);
    expect(boardFeet(1, 12, 1)).toBe(1);
  });

  it('reads fractions in either form', () => {
    const any = { thickness: inches(1), width: inches(1) };
    expect(nominalSection({ ...any, key: '1-1/4x4' })).toEqual({ thickness: 1.25, width: 4 });
    expect(nominalSection({ ...any, key: '1 1/4x4' })).toEqual({ thickness: 1.25, width: 4 });
    expect(nominalSection({ ...any, key: '1x6 tongue-and-groove' })).toEqual({ thickness: 1, width: 6 });
  });

  it('takes the real size, up to the next quarter of an inch, where a name says nothing', () => {
    const stock = { key: 'oak-board', thickness: inches(13 / 16), width: inches(4.9) };
    expect(nominalSection(stock)).toEqual({ thickness: 1, width: 5 });
  });
});
