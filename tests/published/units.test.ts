/** Conversions, fraction printing and rounding against published figures. Sources stand beside each. */
import { describe, expect, it } from 'vitest';
import {
  figuresOf,
  inches,
  lengthOf,
  mm,
  printed,
  printedAngle,
  readLength,
  roundTiesToEven,
  sizeText,
  styleForSheets,
} from '../../src/units.ts';

const inch = (length: number, denominator: 8 | 16 | 32 | 64) =>
  sizeText(printed(length, { system: 'inch', denominator }));

describe('fractions at the cases that go wrong: 0, whole inch, carry', () => {
  // Worked by hand: 15-63/64 is 255.75 sixteenths, nearest 256 = 16; 16-1/64 is 256.25 sixteenths, nearest 256.
  it.each([
    [0, 16, '0″'],
    [1, 16, '1″'],
    [16, 64, '16″'],
    [15 + 63 / 64, 16, '16″'],
    [15 + 63 / 64, 64, '15 63/64″'],
    [16 + 1 / 64, 16, '16″'],
    [1 / 64, 64, '1/64″'],
    // A sixty-fourth is a quarter of a sixteenth: nearest 0.
    [1 / 64, 16, '0″'],
    // 1/32 is half a sixteenth: a tie, to the even numerator 0. 3/32 ties between 1/16 and 2/16: even is 2/16 = 1/8.
    [1 / 32, 16, '0″'],
    [3 / 32, 16, '1/8″'],
    [34.75, 16, '34 3/4″'],
    [-0.5, 16, '−1/2″'],
    [-1 / 64, 16, '0″'],
    // 11.999 in at 1/8 carries to the whole foot's 12.
    [11.999, 8, '12″'],
  ] as const)('%f in at 1/%i prints %s', (value, denominator, text) => {
    expect(inch(inches(value), denominator)).toBe(text);
  });
});

describe('the inch is 25.4 mm exactly (24 FR 5348; NIST SP 811, appendix B)', () => {
  // Fractions of an inch in mm: check-values T8.1.
  it.each([
    ['1/64 in', 0.396875],
    ['1/32 in', 0.79375],
    ['1/16 in', 1.5875],
    ['1/8 in', 3.175],
    ['1 in', 25.4],
    ['6 ft', 1828.8],
    ['8 ft', 2438.4],
    ['10 ft', 3048],
    ['12 ft', 3657.6],
    ['14 ft', 4267.2],
    ['16 ft', 4876.8],
    ['20 ft', 6096],
    // 36 ft = 10.9728 m: the worked example of NIST SP 811, B.7.2.
    ['36 ft', 10972.8],
  ] as const)('%s is %f mm', (text, length) => {
    const read = readLength(text);
    expect('length' in read && read.length).toBeCloseTo(length, 9);
  });
});

describe('rounding of NIST SP 811, B.7.1 and B.7.2: a tie goes to the even digit', () => {
  const round = (value: number, digits: number) => roundTiesToEven(value * 10 ** digits) / 10 ** digits;
  it.each([
    [6.9749515, 6, 6.974952],
    [6.9749505, 6, 6.97495],
    [6.9749515, 4, 6.975],
    [6.9749515, 2, 6.97],
    [6.9749515, 1, 7.0],
    [10.9728, 1, 11.0],
  ] as const)('%f to %i decimals is %f', (value, digits, rounded) => {
    expect(round(value, digits)).toBe(rounded);
  });

  // PS 20-20, appendix B1: 2-1/2 in is 64 mm and 7-1/2 in is 190 mm, both true ties.
  it.each([
    [2.5, '64 mm'],
    [7.5, '190 mm'],
  ] as const)('%f in is published as %s', (value, text) => {
    expect(sizeText(printed(inches(value), { system: 'mm', denominator: 16 }))).toBe(text);
  });

  it('soft conversion: 12 in is 305 mm (masonry and building texts, check-values T8.1)', () => {
    expect(sizeText(printed(inches(12), { system: 'mm', denominator: 16 }))).toBe('305 mm');
  });
});

describe('millimetres to the nearest fraction: check-values T8.2, complete, computed with 1 in = 25.4 mm', () => {
  it.each([
    [3, '1/8', '1/8'],
    [4, '3/16', '5/32'],
    [6, '1/4', '1/4'],
    [9, '3/8', '11/32'],
    [12, '1/2', '15/32'],
    [15, '9/16', '19/32'],
    [18, '11/16', '23/32'],
    [19, '3/4', '3/4'],
    [20, '13/16', '25/32'],
    [21, '13/16', '13/16'],
    [25, '1', '31/32'],
    [35, '1 3/8', '1 3/8'],
    [45, '1 3/4', '1 25/32'],
    [63, '2 1/2', '2 15/32'],
    [64, '2 1/2', '2 17/32'],
    [70, '2 3/4', '2 3/4'],
    [90, '3 9/16', '3 17/32'],
    [95, '3 3/4', '3 3/4'],
    [120, '4 3/4', '4 23/32'],
    [145, '5 11/16', '5 23/32'],
    [300, '11 13/16', '11 13/16'],
    [600, '23 5/8', '23 5/8'],
    [1220, '48 1/16', '48 1/32'],
    [2440, '96 1/16', '96 1/16'],
  ] as const)('%i mm is %s at 1/16 and %s at 1/32', (length, sixteenths, thirtySeconds) => {
    expect(inch(mm(length), 16)).toBe(`${sixteenths}″`);
    expect(inch(mm(length), 32)).toBe(`${thirtySeconds}″`);
  });
});

describe('drills are printed in their own steps', () => {
  // 64ths and tenths: common practice, no source. By hand: 5/32 = 10/64; 7.5 mm is 18.9 sixty-fourths, nearest 19; 9.5 mm is 23.94.
  it.each([
    [inches(5 / 32), '5/32″', '4 mm'],
    [mm(7.5), '19/64″', '7.5 mm'],
    [mm(9.5), '3/8″', '9.5 mm'],
    [mm(10), '25/64″', '10 mm'],
    [mm(3.27), '1/8″', '3.3 mm'],
    [inches(1), '1″', '25.4 mm'],
  ] as const)('%f mm is %s or %s', (length, inchText, metricText) => {
    expect(sizeText(printed(length, { system: 'inch', denominator: 16 }, 'drill'))).toBe(inchText);
    const size = printed(length, { system: 'mm', denominator: 16 }, 'drill');
    expect(sizeText(size)).toBe(metricText);
    expect(sizeText(size, { unit: false })).toBe(metricText.replace(' mm', ''));
    // The length that is printed can be had back from it, whatever its steps.
    expect(`${lengthOf(size)} mm`).toBe(metricText);
  });

  it('a tenth stands behind a point, never as a fraction', () => {
    const size = printed(9.5, { system: 'mm', denominator: 16 }, 'drill');
    expect(figuresOf(size)).toEqual({ whole: '9.5', numerator: '', denominator: '' });
    expect(figuresOf(printed(inches(1 / 2), { system: 'inch', denominator: 16 }))).toEqual({
      whole: '',
      numerator: '1',
      denominator: '2',
    });
  });
});

describe('real thicknesses of sheets are printed as they are', () => {
  const sixteenths = { system: 'inch', denominator: 16 } as const;
  const whole = { system: 'mm', denominator: 16 } as const;
  // PS 1-19, table 10: the performance category 23/32. By hand: 12 in - 23/32 in = 11-9/32 in; two of them take 1-7/16 in.
  const plywood = styleForSheets(sixteenths, [inches(23 / 32)]);
  it.each([
    [23 / 32, '23/32″'],
    [12 - 23 / 32, '11 9/32″'],
    [36 - 23 / 16, '34 9/16″'],
    [3 / 4, '3/4″'],
    // What isn't exact keeps the sixteenths of the style: 0.7 in is 11.2 of them.
    [0.7, '11/16″'],
  ])('%f in prints %s', (value, said) => {
    expect(sizeText(printed(inches(value), plywood))).toBe(said);
  });

  it('changes nothing where the style can say them', () => {
    expect(styleForSheets(sixteenths, [inches(1 / 2), inches(1 / 4)])).toBe(sixteenths);
    expect(styleForSheets({ system: 'inch', denominator: 32 }, [inches(23 / 32)]).sheets).toBeUndefined();
    expect(styleForSheets(whole, [18, 12])).toBe(whole);
    expect(sizeText(printed(17.8, styleForSheets(whole, [17.8])))).toBe('17.8 mm');
    expect(sizeText(printed(17.83, styleForSheets(whole, [17.8])))).toBe('18 mm');
  });
});

describe('angles print to a tenth of a degree', () => {
  it.each([
    [7.94, '7.9°'],
    [12, '12°'],
    [0.04, '0°'],
    [31.62, '31.6°'],
  ])('%f is %s', (angle, said) => expect(printedAngle(angle)).toBe(said));
});
