import { describe, expect, it } from 'vitest';
import type { Diagnostic } from '../../src/diagnostics.ts';
import { quantityOf } from '../../src/resolve/evaluate.ts';
import { parseFormula } from '../../src/resolve/parser.ts';
import type { Quantity, Rounding } from '../../src/resolve/types.ts';
import { fc } from '../support/random.ts';
import { inch, metric } from './shop.ts';

const origin = { file: 'plan.md', line: 7, column: 10 };

/** The value of a formula, or its first fault as `column id` with the column counted within the formula from 1. */
function value(
  text: string,
  names: Readonly<Record<string, Quantity>> = {},
  edition = inch,
): Quantity | string {
  const read = parseFormula(text);
  if ('fault' in read) return `${read.fault.at + 1} ${read.fault.id}`;
  const problems: Diagnostic[] = [];
  const roundings: Rounding[] = [];
  const result = quantityOf(
    read.formula,
    { text, origin },
    {
      edition,
      depth: { level: 0 },
      lookUp: (name) => names[name],
      report: (problem) => void problems.push(problem),
      rounded: (rounding) => void roundings.push(rounding),
    },
  );
  const [problem] = problems;
  if (problem) return `${problem.origin.column - origin.column + 1} ${problem.id}`;
  return result ?? 'nothing';
}

const number = (text: string, names: Readonly<Record<string, Quantity>> = {}): number | string => {
  const result = value(text, names);
  return typeof result === 'string' ? result : result.kind === 'number' ? result.value : `a ${result.kind}`;
};

/** In inches; 1 in = 25.4 mm (NIST SP 811, appendix B). */
const inInches = (text: string, names: Readonly<Record<string, Quantity>> = {}): number | string => {
  const result = value(text, names);
  return typeof result === 'string'
    ? result
    : result.kind === 'length'
      ? Number((result.value / 25.4).toFixed(9))
      : `a ${result.kind}`;
};

const degrees = (text: string): number | string => {
  const result = value(text);
  return typeof result === 'string'
    ? result
    : result.kind === 'angle'
      ? Number(result.value.toFixed(9))
      : `a ${result.kind}`;
};

describe('precedence and association', () => {
  // JavaScript's own arithmetic is the reference: the same text means the same number in both.
  const literal = fc.oneof(
    fc.integer({ min: 0, max: 99 }).map(String),
    fc.integer({ min: 1, max: 999 }).map((n) => (n / 8).toString()),
  );
  const { text } = fc.letrec<{ text: string; atom: string; group: string }>((tie) => ({
    group: tie('text').map((inside) => `(${inside})`),
    atom: fc.oneof(
      { depthSize: 'small' },
      literal,
      tie('group'),
      fc.oneof(literal, tie('group')).map((one) => `-${one}`),
    ),
    text: fc.oneof(
      { depthSize: 'small', withCrossShrink: true },
      tie('atom'),
      fc
        .tuple(tie('text'), fc.constantFrom(' + ', ' - ', '*', '/', ' * ', ' /'), tie('text'))
        .map((parts) => parts.join('')),
    ),
  }));

  it('agree with JavaScript on random formulas', () => {
    let counted = 0;
    fc.assert(
      fc.property(
        text.filter((one) => one.length < 400),
        (formula) => {
          // A division by zero is a fault here, also where JavaScript goes on: 1 / (1 / 0) is 0 there. Only what stands in
          // brackets can be divided by, so that is where it is looked for.
          let endless = false;
          const seen = (inside: number): number => {
            if (!Number.isFinite(inside)) endless = true;
            return inside;
          };
          const text = formula.replaceAll('(', 'seen(');
          const expected = seen(new Function('seen', `return ${text}`)(seen) as number);
          if (endless) {
            expect(value(formula)).toMatch(/ formula\.(zero|range)$/u);
            return;
          }
          counted++;
          // The same operations in the same order give the same bits; -0 and 0 count as one.
          expect((number(formula) as number) + 0).toBe(expected + 0);
        },
      ),
      { numRuns: 2000 },
    );
    expect(counted).toBeGreaterThan(1000);
  });

  it('take - and / from the left, and * before +', () => {
    expect(number('10 - 4 - 3')).toBe(3);
    expect(number('24 / 4 / 3')).toBe(2);
    expect(number('2 + 3 * 4')).toBe(14);
    expect(number('(2 + 3) * 4')).toBe(20);
    expect(number('-2 * -3')).toBe(6);
  });
});

describe('lengths, angles and names', () => {
  it('reads the lengths of the plan language', () => {
    expect(inInches('3 1/2 in')).toBe(3.5);
    expect(inInches('3-1/2 in')).toBe(3.5);
    expect(inInches('7/8 in + 1/8 in')).toBe(1);
    // 5 ft 3 in = 63 in
    expect(inInches('5 ft 3 in')).toBe(63);
    expect(inInches('2*3-1/2 in')).toBe(7);
    expect(inInches('-(1/2 in)')).toBe(-0.5);
    expect(value('89 mm', {}, metric)).toEqual({ kind: 'length', value: 89 });
    expect(value('1.2 m', {}, metric)).toEqual({ kind: 'length', value: 1200 });
    expect(degrees('12 deg + 30deg')).toBe(42);
  });

  it('takes a hyphen without white space as part of a name', () => {
    const names: Record<string, Quantity> = {
      'seat-height': { kind: 'length', value: 254 },
      seat: { kind: 'length', value: 50.8 },
      height: { kind: 'length', value: 25.4 },
    };
    expect(inInches('seat-height', names)).toBe(10);
    expect(inInches('seat - height', names)).toBe(1);
    expect(value('seat -height', names)).toBe('6 formula.space');
    expect(value('seat- height', names)).toBe('5 formula.space');
    expect(value('2-1', names)).toBe('2 formula.space');
    expect(value('seat +1 in', names)).toBe('6 formula.space');
    expect(value('- seat', names)).toBe('1 formula.space');
  });

  it('takes names of parts with a point, and names in any script', () => {
    const names: Record<string, Quantity> = {
      'top-board.last': { kind: 'length', value: 127 },
      höhe: { kind: 'number', value: 4 },
    };
    expect(inInches('top-board.last / 2', names)).toBe(2.5);
    expect(number('höhe*2', names)).toBe(8);
  });

  it('takes the edition’s side of a pair, in brackets or last of all', () => {
    expect(inInches('1 in + 1 in | 60 mm')).toBe(2);
    expect(value('1 in + 1 in | 60 mm', {}, metric)).toEqual({ kind: 'length', value: 60 });
    expect(inInches('2 * (1 in | 25 mm) + 1 in')).toBe(3);
    expect(value('2 * (1 in | 25 mm) + 10 mm', {}, metric)).toEqual({ kind: 'length', value: 60 });
    expect(inInches('(1 in | 25 mm) | 3')).toBe(1);
  });
});

describe('dimensions (CSS Values 4, 10.9: types add and subtract alike, multiply and divide by their powers)', () => {
  it('keeps kinds', () => {
    expect(value('2 * 3 in')).toEqual({ kind: 'length', value: 152.4 });
    expect(value('6 in / 2')).toEqual({ kind: 'length', value: 76.2 });
    expect(number('6 in / 2 in')).toBeCloseTo(3, 12);
    expect(number('30 deg / 10 deg')).toBe(3);
    expect(value('2 in * 3 in')).toMatchObject({ kind: 'area' });
    expect(value('2 in * 3 in * 4 in')).toMatchObject({ kind: 'volume' });
    expect(inInches('2 in * 3 in / 1 in')).toBe(6);
    expect(inInches('sqrt(9 in * 4 in)')).toBe(6);
    expect(inInches('sqrt(pow(3 in, 2) + pow(4 in, 2))')).toBe(5);
    expect(value('pow(2 in, 3)')).toMatchObject({ kind: 'volume' });
  });

  it('names the column of a fault', () => {
    expect(value('1 in + 2')).toBe('6 formula.dimension');
    expect(value('3 * (1 in - 4 deg)')).toBe('11 formula.dimension');
    expect(value('2 in * 4 deg')).toBe('6 formula.dimension');
    expect(value('1 / 2 in')).toBe('3 formula.dimension');
    expect(value('30 deg * 2 deg')).toBe('8 formula.dimension');
    expect(value('max(1 in, 2 in, 3)')).toBe('17 formula.dimension');
    expect(value('sin(2 in)')).toBe('5 formula.dimension');
    expect(value('asin(30 deg)')).toBe('6 formula.dimension');
    expect(value('sqrt(2 in)')).toBe('6 formula.dimension');
    expect(value('pow(30 deg, 2)')).toBe('5 formula.dimension');
    expect(value('pow(2, 2 in)')).toBe('8 formula.dimension');
    expect(value('round(10 in)')).toBe('1 formula.dimension');
    expect(value('round(10 in, 3)')).toBe('14 formula.dimension');
    expect(value('1 in / 0')).toBe('6 formula.zero');
    expect(value('mod(3, 0)')).toBe('8 formula.zero');
    expect(value('pow(99999, 99999)')).toBe('1 formula.range');
    expect(value('acos(2)')).toBe('1 formula.range');
  });
});

describe('functions', () => {
  // web-platform-tests, css/css-values/round-mod-rem-computed.html, which tests CSS Values 4, 10.3 and 10.4.
  it.each([
    ['round(10,10)', 10],
    ['mod(1,1)', 0],
    ['rem(1,1)', 0],
    ['round(100,10)', 100],
    ['round(up, 101,10)', 110],
    ['round(down, 106,10)', 100],
    ['round(to-zero,105, 10)', 100],
    ['round(to-zero,-105, 10)', -100],
    ['round(-100,10)', -100],
    ['round(up, -103,10)', -100],
    ['mod(18,5)', 3],
    ['rem(18,5)', 3],
    ['mod(-140,-90)', -50],
    ['mod(-18,5)', 2],
    ['rem(-18,5)', -3],
    ['mod(140,-90)', -40],
    ['rem(140,-90)', 50],
    ['round(round(100,10), 10)', 100],
    ['round(up, round(100,10) + 1,10)', 110],
    ['round(down, round(100,10) + 2 * 3,10)', 100],
    ['round(to-zero,round(100,10) * 2 - 95, 10)', 100],
    ['round(round(100,10)* -1,10)', -100],
    ['round(up, -103 + -103 / -103 - 1,10)', -100],
    ['mod(18,5) * 2 + mod(17,5)', 8],
    ['rem(mod(18,5),5)', 3],
    ['rem(mod(18,5),mod(17,5))', 1],
    ['mod(rem(1,18)* -1,5)', 4],
  ])('%s is %d', (text, expected) => {
    expect(number(text)).toBe(expected);
  });

  it('rounds lengths and angles (the same file)', () => {
    expect(inInches('round(10in,6in)')).toBe(12);
    expect(inInches('mod(10in,6in)')).toBe(4);
    expect(inInches('rem(10in,6in)')).toBe(4);
    expect(degrees('round(10deg,6deg)')).toBe(12);
    expect(degrees('mod(10deg,6deg)')).toBe(4);
  });

  it('takes the upper multiple where a value lies midway (CSS Values 4, 10.3)', () => {
    expect(number('round(2.5)')).toBe(3);
    expect(number('round(-2.5)')).toBe(-2);
    expect(number('round(nearest, 15, 10)')).toBe(20);
  });

  it('doesn’t lose a whole step to the last bit of a length', () => {
    // 12 in / 4 in is 304.8 / 101.6, which in doubles is 3.0000000000000004; by hand exactly 3.
    expect(number('round(up, 12 in / 4 in)')).toBe(3);
    expect(inInches('round(up, 12 in, 4 in)')).toBe(12);
    expect(inInches('mod(12 in, 4 in)')).toBe(0);
    expect(inInches('rem(0.3 in, 0.1 in)')).toBe(0);
  });

  it('lets the lower bound of clamp win (CSS Values 4, 10.2: max(MIN, min(VAL, MAX)))', () => {
    expect(number('clamp(10, 5, 20)')).toBe(10);
    expect(number('clamp(10, 25, 20)')).toBe(20);
    expect(number('clamp(10, 15, 20)')).toBe(15);
    expect(number('clamp(30, 15, 20)')).toBe(30);
  });

  it('knows the angles of the set square', () => {
    expect(number('sin(30 deg)')).toBeCloseTo(0.5, 12);
    expect(number('cos(60 deg)')).toBeCloseTo(0.5, 12);
    expect(number('tan(45 deg)')).toBeCloseTo(1, 12);
    // A bare number is in radians, as in CSS.
    expect(number('sin(pi / 2)')).toBe('nothing');
    expect(number('sin(0)')).toBe(0);
    expect(degrees('asin(0.5)')).toBe(30);
    expect(degrees('acos(0)')).toBe(90);
    expect(degrees('atan(1)')).toBe(45);
    // Rise 3, run 4 is the 3-4-5 triangle: 36.870 degrees, and its slope is 5.
    expect(degrees('atan2(3 in, 4 in)')).toBeCloseTo(36.8698976, 6);
    expect(inInches('hypot(3 in, 4 in)')).toBe(5);
    expect(number('sign(-3 in)')).toBe(-1);
    expect(inInches('abs(-3 in)')).toBe(3);
    expect(inInches('min(3 in, 1 ft, 2 in)')).toBe(2);
  });
});

describe('any text', () => {
  it('gives a value or a fault within the text, and never throws', () => {
    const scrap = fc.constantFrom(
      '(',
      ')',
      '|',
      ',',
      '+',
      ' + ',
      ' - ',
      '-',
      '*',
      '/',
      'min(',
      'round(up, ',
      'round(',
      '3',
      '3 1/2',
      ' in',
      ' deg',
      '1/0 in',
      'a',
      'a.b',
      '"',
      '×',
      '😀',
      '\n',
      ' ',
      '.5',
      '1.2.3',
      'constructor',
      '__proto__',
      'toString(',
      'pow(9, 9)',
      '999999999 m',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(scrap, fc.string({ maxLength: 3 })), { maxLength: 40 }), (pieces) => {
        const text = pieces.join('');
        const read = parseFormula(text);
        if ('fault' in read) {
          expect(read.fault.at).toBeGreaterThanOrEqual(0);
          expect(read.fault.at).toBeLessThanOrEqual(text.length);
          expect(read.fault.expected).not.toBe('');
        } else expect(value(text)).toBeDefined();
      }),
      { numRuns: 3000 },
    );
  });

  it('is bounded in length and depth', () => {
    expect(value(`${'('.repeat(400)}1${')'.repeat(400)}`)).toMatch(/formula\.deep$/u);
    expect(value(`${'-'.repeat(400)}1`)).toMatch(/formula\.deep$/u);
    expect(value(`${'min('.repeat(180)}1${')'.repeat(180)}`)).toMatch(/formula\.deep$/u);
    expect(value(`1${' + 1'.repeat(400)}`)).toMatch(/formula\.long$/u);
    expect(number(`1${' + 1'.repeat(240)}`)).toBe(241);
  });
});
