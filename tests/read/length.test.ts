/** Reading lengths: every form of the language, and nothing else. Values are arithmetic with 1 in = 25.4 mm exactly (NIST SP 811). */

import { describe, expect, it } from 'vitest';
import { lengthHint, lengthOf, mm, printed, readLength, scanLength, sizeText } from '../../src/units.ts';
import { fc } from '../support/random.ts';

const value = (text: string) => {
  const read = readLength(text);
  return 'length' in read ? [read.length, read.system] : read;
};

const millimetres = (text: string) => {
  const read = readLength(text);
  return 'length' in read ? read.length : Number.NaN;
};

describe('readLength', () => {
  it.each([
    ['3 1/2 in', 88.9, 'inch'],
    ['3-1/2 in', 88.9, 'inch'],
    ['3.5 in', 88.9, 'inch'],
    ['.5 in', 12.7, 'inch'],
    ['7/8 in', 22.225, 'inch'],
    ['4 ft', 1219.2, 'inch'],
    ['5 ft 3 in', 1600.2, 'inch'],
    ['5 ft 3-1/2 in', 1612.9, 'inch'],
    ['5 ft 3 1/2 in', 1612.9, 'inch'],
    ['89 mm', 89, 'mm'],
    ['8.9 cm', 89, 'mm'],
    ['1.2 m', 1200, 'mm'],
    ['  3/4in ', 19.05, 'inch'],
    ['0 mm', 0, 'mm'],
  ] as const)('%s', (text, length, system) => {
    expect(value(text)).toEqual([length, system]);
  });

  it.each([
    ['', 0, 'a length such as 3-1/2 in or 89 mm'],
    ['leg.width', 0, 'a length such as 3-1/2 in or 89 mm'],
    ['-3 in', 0, 'a length such as 3-1/2 in or 89 mm'],
    ['3 1/2', 5, 'a unit: in, ft, mm, cm or m'],
    ['48 inn', 3, 'a unit: in, ft, mm, cm or m'],
    ['12 max', 3, 'a unit: in, ft, mm, cm or m'],
    ['3/0 in', 0, 'a fraction whose lower number is more than 0'],
    ['3 in + 1 in', 5, 'nothing after the length'],
    ['2 ft 3 mm', 5, 'nothing after the length'],
    ['3/4/5 in', 0, 'a length such as 3-1/2 in or 89 mm'],
    ['12345678901 in', 0, 'a length such as 3-1/2 in or 89 mm'],
  ] as const)('%s is no length', (text, at, expected) => {
    expect(value(text)).toEqual({ at, expected });
  });

  it('reads back what is printed, in every style', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 20_000, noNaN: true }),
        fc.constantFrom(8, 16, 32, 64),
        fc.constantFrom('inch', 'mm'),
        (length, denominator, system) => {
          const size = printed(length, { system, denominator } as Parameters<typeof printed>[1]);
          const read = readLength(sizeText(size).replace('″', ' in'));
          expect('length' in read && read.length).toBeCloseTo(lengthOf(size), 9);
          expect('length' in read && read.system).toBe(system);
        },
      ),
    );
  });

  it('means the same by every way to write a mixed number', () => {
    const digits = fc.integer({ min: 0, max: 200 });
    fc.assert(
      fc.property(digits, digits, fc.integer({ min: 1, max: 128 }), digits, (whole, above, below, feet) => {
        // The value by plain arithmetic, not by the reader's.
        const inches = whole + above / below;
        for (const join of [' ', '-', '   '])
          expect(millimetres(`${whole}${join}${above}/${below} in`)).toBeCloseTo(inches * 25.4, 6);
        expect(millimetres(`${feet} ft ${whole}-${above}/${below} in`)).toBeCloseTo(
          (feet * 12 + inches) * 25.4,
          6,
        );
      }),
    );
  });

  it('never throws, and points into the text', () => {
    const scraps = fc.constantFrom(
      '3',
      ' ',
      '-',
      '/',
      '1',
      'in',
      'ft',
      'mm',
      'm',
      '.',
      '|',
      '½',
      '"',
      'x',
      '0',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(scraps).map((all) => all.join('')),
        ),
        (text) => {
          const read = readLength(text);
          if ('at' in read) expect(read.at).toBeLessThanOrEqual(text.length);
          else expect(Number.isFinite(read.length)).toBe(true);
          const hint = lengthHint(text);
          if (hint !== undefined && !hint.includes(', or '))
            expect(readLength(hint)).toHaveProperty('length');
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('scanLength', () => {
  it.each([
    // The longest literal at an offset: a minus with white space around it is not part of a mixed number.
    ['3 - 1/2 in', 0, undefined],
    ['3 - 1/2 in', 4, 10],
    ['3-1/2 in - x', 0, 8],
    ['5 ft 3 in * 2', 0, 9],
    ['5 ft + 3 in', 0, 4],
    ['2 max', 0, undefined],
    ['2 m', 0, 3],
    ['2 mm', 0, 4],
    ['6 in|150 mm', 0, 4],
    ['6 in_x', 0, undefined],
  ] as const)('%s from %i', (text, start, end) => {
    expect(scanLength(text, start)?.end).toBe(end);
  });
});

describe('lengthHint', () => {
  it.each([
    ['3½"', '3 1/2 in'],
    ['5\'3"', '5 ft 3 in'],
    ['48 inches', '48 in'],
    ['1,5 m', '1.5 m'],
    ['90 millimetres', '90 mm'],
    ['3/4', '3/4 in, or 3/4 mm'],
    ['long', undefined],
    ['3 in', undefined],
  ] as const)('%s', (text, hint) => {
    expect(lengthHint(text)).toBe(hint);
  });

  it('marks lengths as millimetres', () => {
    expect(mm(3)).toBe(3);
  });
});
