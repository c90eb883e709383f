/**
 * Lengths: read from text, and printed as inches and fractions or as millimetres.
 * Inside the program every length is a number of millimetres; this file is the only place that rounds one.
 * Source: 1 in = 25.4 mm exactly (NIST SP 811, appendix B).
 */

declare const millimetres: unique symbol;

/** A length in millimetres. */
export type Length = number & { readonly [millimetres]: true };

/** One inch in millimetres, exactly. */
export const INCH = 25.4;

/** Marks a number of millimetres as a length. */
export const mm = (value: number): Length => value as Length;

/** A length from a number of inches. By 254 / 10, which is exact for every common fraction: 3.5 in is 88.9, not 88.89999999999999. */
export const inches = (value: number): Length => ((value * 254) / 10) as Length;

/** How an edition prints its numbers. */
export interface NumberStyle {
  readonly system: 'inch' | 'mm';
  /** Finest fraction printed in the inch system: 16 prints sixteenths. Millimetres print whole. */
  readonly denominator: 8 | 16 | 32 | 64;
  /**
   * Set where sheets are in use whose real thickness the style's own steps can't say, such as 23/32 in. A length that is exact in the
   * steps that sheets are made in is then printed so: it is that thickness or made up with it, and a housing for 23/32 in must not
   * be printed as the 3/4 in of the sheet's name.
   */
  readonly sheets?: true;
}

/**
 * How finely a kind of length is printed. A `size` is what a rule measures, in the style's own fractions or whole millimetres. A `drill`
 * comes in 64ths of an inch and tenths of a millimetre (common practice, no source).
 */
export type Fineness = 'size' | 'drill';

/** Sheets are made in 32nds of an inch (PS 1-19, table 10) and in tenths of a millimetre (common practice, no source). */
const SHEET_DENOMINATOR = 32;

/** What is this near to a step is exact, in steps: a length comes through formulas. */
const EXACT = 1e-4;

/** A length as it is printed: already rounded, split into whole and fraction in lowest terms. */
export interface Size {
  readonly system: 'inch' | 'mm';
  readonly negative: boolean;
  readonly whole: number;
  /** 0 where there is no fraction; of millimetres their tenths. */
  readonly numerator: number;
  /** 1 where there is no fraction; of millimetres 10. */
  readonly denominator: number;
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Rounds to the nearest integer; a tie goes to the even one (NIST SP 811, B.7.1). Ties are found within 1e-9. */
export function roundTiesToEven(value: number): number {
  const floor = Math.floor(value);
  const rest = value - floor;
  if (Math.abs(rest - 0.5) < 1e-9) return floor % 2 === 0 ? floor : floor + 1;
  return Math.round(value);
}

/**
 * Rounds a length to what the style can print.
 * The fraction is rounded first and split afterwards, so that 15.99 in becomes 16 and never 15 16/16.
 */
export function printed(length: number, style: NumberStyle, as: Fineness = 'size'): Size {
  const { system } = style;
  const size = Math.abs(length);
  const step = stepOf(size, style, as);
  const parts = roundTiesToEven((system === 'mm' ? size : size / INCH) * step);
  const whole = Math.floor(parts / step);
  const rest = parts - whole * step;
  const negative = length < 0 && parts > 0;
  if (rest === 0) return { system, negative, whole, numerator: 0, denominator: 1 };
  const divisor = system === 'mm' ? 1 : gcd(rest, step);
  return { system, negative, whole, numerator: rest / divisor, denominator: step / divisor };
}

/** Printed steps to the inch or the millimetre. */
function stepOf(size: number, style: NumberStyle, as: Fineness): number {
  const inch = style.system === 'inch';
  const own = inch ? style.denominator : 1;
  if (as === 'drill') return inch ? 64 : 10;
  const sheets = inch ? Math.max(SHEET_DENOMINATOR, own) : 10;
  return style.sheets === true && isExact(inch ? size / INCH : size, sheets) ? sheets : own;
}

const isExact = (value: number, step: number): boolean =>
  Math.abs(value * step - Math.round(value * step)) < EXACT;

/** The style for a plan with sheets of these real thicknesses, mm: as it is where it can say them all. */
export function styleForSheets(style: NumberStyle, thicknesses: readonly number[]): NumberStyle {
  const [per, step] = style.system === 'inch' ? [INCH, style.denominator] : [1, 1];
  return thicknesses.every((one) => isExact(one / per, step)) ? style : { ...style, sheets: true };
}

/**
 * The figures of a printed size, in three: millimetres have their tenths behind a point in `whole`; inches their fraction beside it,
 * which is empty where there is none, as `whole` is of a bare fraction. No sign, no unit.
 */
export function figuresOf(size: Size): { whole: string; numerator: string; denominator: string } {
  const { whole, numerator, denominator } = size;
  if (size.system === 'mm')
    return { whole: numerator === 0 ? `${whole}` : `${whole}.${numerator}`, numerator: '', denominator: '' };
  if (numerator === 0) return { whole: `${whole}`, numerator: '', denominator: '' };
  return { whole: whole === 0 ? '' : `${whole}`, numerator: `${numerator}`, denominator: `${denominator}` };
}

/** An angle as it is printed, to a tenth of a degree: `7.9°`. */
export const printedAngle = (degrees: number): string => `${roundTiesToEven(degrees * 10) / 10 + 0}°`;

/** The length a printed size stands for, in millimetres. */
export function lengthOf(size: Size): Length {
  const value = size.whole + size.numerator / size.denominator;
  return mm((size.negative ? -1 : 1) * (size.system === 'inch' ? inches(value) : value));
}

/** A printed size as plain text: `34 3/4″` or `886 mm`; with `unit: false` the millimetres stand bare, as on a sheet. */
export function sizeText(size: Size, options: { unit?: boolean } = {}): string {
  const sign = size.negative ? '−' : '';
  const { whole, numerator, denominator } = figuresOf(size);
  if (size.system === 'mm') return `${sign}${whole}${options.unit === false ? '' : ' mm'}`;
  const fraction = numerator === '' ? '' : `${numerator}/${denominator}`;
  return `${sign}${whole}${whole !== '' && fraction !== '' ? ' ' : ''}${fraction}″`;
}

/** A length literal: its value, the system it was written in, and where it ends. */
export interface LengthLiteral {
  readonly length: Length;
  /** inch for in and ft, mm for mm, cm and m. */
  readonly system: 'inch' | 'mm';
  /** Offset of the first character after the literal. */
  readonly end: number;
}

/** Inches or millimetres to the unit; the foot is 12 in (NIST SP 811, appendix B). */
const UNITS: Readonly<Record<string, { readonly size: number; readonly system: 'inch' | 'mm' }>> = {
  in: { size: 1, system: 'inch' },
  ft: { size: 12, system: 'inch' },
  mm: { size: 1, system: 'mm' },
  cm: { size: 10, system: 'mm' },
  m: { size: 1000, system: 'mm' },
};

/** At most nine digits, so that no literal runs out of the range of exact numbers. */
const DIGITS = '[0-9]{1,9}';
/** `3 1/2`, `3-1/2`, `7/8`, `3.5`, `.5`, `3`: a mixed number has no white space around its hyphen or its slash. */
const AMOUNT = `(?:(${DIGITS})(?:[ \\t]+|-)(${DIGITS})/(${DIGITS})|(${DIGITS})/(${DIGITS})|(${DIGITS}(?:\\.${DIGITS})?|\\.${DIGITS}))(?![0-9./])`;
const ENDS = '(?![A-Za-z0-9_])';
const FEET_AND_INCHES = new RegExp(`(${DIGITS})[ \\t]*ft[ \\t]+${AMOUNT}[ \\t]*in${ENDS}`, 'y');
const ONE_UNIT = new RegExp(`${AMOUNT}[ \\t]*(in|ft|mm|cm|m)${ENDS}`, 'y');

/** The number in six groups of a match, as AMOUNT captures them; undefined where a fraction has no size. */
function amountOf(groups: readonly (string | undefined)[]): number | undefined {
  const [whole, above, below, onlyAbove, onlyBelow, decimal] = groups;
  if (decimal !== undefined) return Number(decimal);
  const bottom = Number(below ?? onlyBelow);
  if (bottom === 0) return undefined;
  return Number(whole ?? 0) + Number(above ?? onlyAbove) / bottom;
}

/**
 * Reads the longest length literal that starts at an offset: `3 1/2 in`, `3-1/2 in`, `3.5 in`, `7/8 in`, `4 ft`, `5 ft 3-1/2 in`,
 * `89 mm`, `8.9 cm`, `1.2 m`. White space before the unit may be left out. No sign: a formula has its own.
 * Undefined where no literal starts there (a bare number, a name, a fraction over 0).
 */
export function scanLength(text: string, start: number): LengthLiteral | undefined {
  FEET_AND_INCHES.lastIndex = start;
  const both = FEET_AND_INCHES.exec(text);
  if (both) {
    const amount = amountOf(both.slice(2, 8));
    if (amount !== undefined)
      return {
        length: inches(Number(both[1]) * 12 + amount),
        system: 'inch',
        end: FEET_AND_INCHES.lastIndex,
      };
  }
  ONE_UNIT.lastIndex = start;
  const one = ONE_UNIT.exec(text);
  if (!one) return undefined;
  const end = ONE_UNIT.lastIndex;
  const amount = amountOf(one.slice(1, 7));
  const unit = UNITS[one[7] as string];
  if (amount === undefined || unit === undefined) return undefined;
  const size = amount * unit.size;
  return { length: unit.system === 'inch' ? inches(size) : mm(size), system: unit.system, end };
}

const BARE_FRACTION = /([0-9]{2,9})\/(2|4|8|16|32|64)[ \t]*(?:in|"|″)/uy;

/**
 * A fraction of inches that could be meant in two ways: `31/2 in` is 15 1/2 in, but nearly always 3 1/2 in with its hyphen left out.
 * Nothing where no such fraction starts at the offset (`15/16 in`, `3-1/2 in`, `9/8 in`).
 */
export function doubtfulFraction(text: string, start: number): { text: string; hint: string } | undefined {
  BARE_FRACTION.lastIndex = start;
  const match = BARE_FRACTION.exec(text);
  const [all, above = '', below = ''] = match ?? [];
  if (all === undefined || Number(above) < Number(below)) return undefined;
  const bottom = Number(below);
  for (let digits = Math.min(2, above.length - 1); digits > 0; digits--) {
    const top = Number(above.slice(-digits));
    if (top === 0 || top >= bottom || top % 2 === 0) continue;
    const rest = Number(above) % bottom;
    const whole = `${Math.floor(Number(above) / bottom)}`;
    return {
      text: all,
      hint: `${above.slice(0, -digits)}-${top}/${below} in, or ${rest === 0 ? whole : `${whole}-${rest}/${below}`} in`,
    };
  }
  return undefined;
}

/** What reading a length gives: the length, or the offset of the fault and what was due there. */
export type LengthReading =
  | { readonly length: Length; readonly system: 'inch' | 'mm' }
  | { readonly at: number; readonly expected: string };

/** Reads a text that is one length and nothing else; white space around it is allowed. */
export function readLength(text: string): LengthReading {
  const start = text.length - text.trimStart().length;
  if (doubtfulFraction(text, start))
    return { at: start, expected: 'a hyphen between inches and their fraction' };
  const literal = scanLength(text, start);
  if (literal) {
    const rest = text.slice(literal.end);
    if (rest.trim() === '') return { length: literal.length, system: literal.system };
    return { at: literal.end + rest.length - rest.trimStart().length, expected: 'nothing after the length' };
  }
  const number = new RegExp(AMOUNT, 'y');
  number.lastIndex = start;
  const match = number.exec(text);
  if (!match) return { at: start, expected: 'a length such as 3-1/2 in or 89 mm' };
  const after = number.lastIndex;
  if (amountOf(match.slice(1, 7)) === undefined)
    return { at: start, expected: 'a fraction whose lower number is more than 0' };
  const gap = text.slice(after).length - text.slice(after).trimStart().length;
  return { at: after + gap, expected: 'a unit: in, ft, mm, cm or m' };
}

/** Signs and words people write for a unit, and ours. */
const OTHER_WORDS: readonly (readonly [RegExp, string])[] = [
  [/\s*(?:inches|inch|inn|ins|in\.|"|″|”|'')/giu, ' in'],
  [/\s*(?:feet|foot|ft\.|'|′|’)/giu, ' ft '],
  [/\s*(?:millimet(?:re|er)s?)/giu, ' mm'],
  [/\s*(?:centimet(?:re|er)s?)/giu, ' cm'],
  [/\s*(?:met(?:re|er)s?)/giu, ' m'],
  [/½/gu, ' 1/2'],
  [/¼/gu, ' 1/4'],
  [/¾/gu, ' 3/4'],
  [/⅛/gu, ' 1/8'],
  [/⅜/gu, ' 3/8'],
  [/⅝/gu, ' 5/8'],
  [/⅞/gu, ' 7/8'],
  [/⁄/gu, '/'],
  [/(\d),(\d)/gu, '$1.$2'],
];

/** The same length in the words this program reads: `3½"` gives `3 1/2 in`; undefined where that isn't clear. */
export function lengthHint(text: string): string | undefined {
  if (text.length > 40) return undefined;
  const doubtful = doubtfulFraction(text.trim(), 0);
  if (doubtful) return doubtful.hint;
  let tried = text;
  for (const [from, to] of OTHER_WORDS) tried = tried.replace(from, to);
  tried = tried.replace(/\s+/gu, ' ').trim();
  if (tried !== text.trim() && 'length' in readLength(tried)) return tried;
  // A bare number: the unit is missing, and both are likely.
  return /^[0-9][0-9 ./-]*$/u.test(tried) && 'length' in readLength(`${tried} in`)
    ? `${tried} in, or ${tried} mm`
    : undefined;
}
