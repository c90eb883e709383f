import { describe, expect, it } from 'vitest';
import { roundedLiteral } from '../../src/resolve/rounding.ts';
import { INCH } from '../../src/units.ts';
import { built, inch, metric } from './shop.ts';

/** Steps: common practice, no source. Conversions: 1 in = 25.4 mm (NIST SP 811, appendix B). */
describe('literals of the other system', () => {
  const mm = { system: 'mm', denominator: 16 } as const;
  const sixteenths = { system: 'inch', denominator: 16 } as const;
  it.each([
    [3 / 4, 19], // 19.05
    [1 / 4, 6], // 6.35
    [1 + 1 / 4, 32], // 31.75
    [8, 203], // 203.2
    [2.5, 64], // 63.5, midway: the even millimetre (check values T1.4, PS 20 App. B)
    [11.75, 298], // 298.45, under 300
    [22, 560], // 558.8, to 5
    [36, 915], // 914.4, to 5
    [48, 1220], // 1219.2, to 10
    [96, 2440], // 2438.4, to 10
    [1 / 64, 1], // 0.397: what isn't 0 doesn't become 0
    [0, 0],
  ])('%d in is %d mm', (inches, expected) => {
    expect(roundedLiteral(inches * INCH, mm)).toBe(expected);
  });

  it.each([
    [18, 16, 11 / 16], // 0.7087: 11/16 in sixteenths, 23/32 in thirty-seconds (check values, section 8, trap)
    [18, 32, 23 / 32],
    [19, 16, 3 / 4], // 0.7480
    [89, 16, 3.5], // 3.5039
    [300, 16, 11 + 3 / 4], // 11.811, to 1/8: 11.75 is 0.061 away, 11.875 is 0.064
    [600, 16, 23 + 5 / 8], // 23.622
    [900, 16, 35.5], // 35.433, to 1/4
    [1200, 16, 47.25], // 47.244, to 1/4
    [2400, 16, 94.5], // 94.488, to 1/2
    [1, 8, 1 / 8], // 0.039: one step of what the edition prints
  ] as const)('%d mm in steps of 1/%d is %d in', (length, denominator, expected) => {
    expect(roundedLiteral(length, { system: 'inch', denominator }) / INCH).toBeCloseTo(expected, 12);
  });

  it('keeps the sign', () => {
    expect(roundedLiteral(-19.05, mm)).toBe(-19);
    expect(roundedLiteral(-19, sixteenths)).toBeCloseTo(-0.75 * INCH, 12);
  });
});

describe('roundings of a plan', () => {
  const blocks = {
    sizes:
      'overhang: 3/4 in\nset-back: 1 in | 25 mm\nreveal: overhang + 1/8 in\ntwice: overhang * 2 + reveal + set-back',
    parts:
      'leg: { stock: 2x4, runs: up, wide face: front, at: { bottom: floor, top: top - twice, left: left + overhang, front: front + overhang } }',
  };

  it('are made once, each with the place of its literal', () => {
    const plan = built(blocks, metric);
    expect(plan.roundings).toEqual([
      {
        origin: { file: 'plan.md', line: 14, column: 11 },
        written: '3/4 in',
        exact: 19.05,
        rounded: 19,
      },
      // reveal: overhang + 1/8 in, the literal after 'reveal: overhang + '
      {
        origin: { file: 'plan.md', line: 16, column: 20 },
        written: '1/8 in',
        exact: 3.175,
        rounded: 3,
      },
    ]);
    // reveal 19 + 3 = 22; twice 38 + 22 + 25 = 85
    expect(plan.sizes.map((size) => size.quantity.value)).toEqual([19, 25, 22, 85]);
  });

  it('aren’t made where the edition’s own system was written', () => {
    expect(built(blocks, inch).roundings).toEqual([]);
  });

  it('leave the sections of the stock as they are', () => {
    const plan = built(
      {
        sizes: 'gap: 10 mm',
        parts:
          'leg: { stock: 2x4, runs: up, wide face: front, at: { bottom: floor, top: top, left: left + gap, front: front } }',
      },
      inch,
    );
    // 10 mm is 0.394 in: 13/32 in thirty-seconds, but the edition prints sixteenths: 6/16
    expect(plan.roundings.map(({ rounded }) => rounded)).toEqual([9.525]);
    expect(plan.parts[0]?.copies[0]?.size).toMatchObject({ thickness: 38.1, width: 88.9 });
  });
});
