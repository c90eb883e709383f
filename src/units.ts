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

/** A length from a number of inches. */
export const inches = (value: number): Length => (value * INCH) as Length;

/** How an edition prints its numbers. */
export interface NumberStyle {
  readonly system: 'inch' | 'mm';
  /** Finest fraction printed in the inch system: 16 prints sixteenths. Millimetres print whole. */
  readonly denominator: 8 | 16 | 32 | 64;
}

/** A length as it is printed: already rounded, split into whole and fraction in lowest terms. */
export interface Size {
  readonly system: 'inch' | 'mm';
  readonly negative: boolean;
  readonly whole: number;
  /** 0 where there is no fraction. */
  readonly numerator: number;
  /** 1 where there is no fraction. */
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
export function printed(length: number, style: NumberStyle): Size {
  const negative = length < 0;
  const size = Math.abs(length);
  if (style.system === 'mm') {
    const whole = roundTiesToEven(size);
    return { system: 'mm', negative: negative && whole > 0, whole, numerator: 0, denominator: 1 };
  }
  const parts = roundTiesToEven((size / INCH) * style.denominator);
  const whole = Math.floor(parts / style.denominator);
  const rest = parts - whole * style.denominator;
  if (rest === 0)
    return { system: 'inch', negative: negative && parts > 0, whole, numerator: 0, denominator: 1 };
  const divisor = gcd(rest, style.denominator);
  return {
    system: 'inch',
    negative,
    whole,
    numerator: rest / divisor,
    denominator: style.denominator / divisor,
  };
}

/** The length a printed size stands for, in millimetres. */
export function lengthOf(size: Size): Length {
  const value = size.whole + size.numerator / size.denominator;
  return mm((size.negative ? -1 : 1) * (size.system === 'inch' ? value * INCH : value));
}

/** A printed size as plain text: `34 3/4″` or `886 mm`; with `unit: false` the millimetres stand bare, as on a sheet. */
export function sizeText(size: Size, options: { unit?: boolean } = {}): string {
  const sign = size.negative ? '−' : '';
  if (size.system === 'mm') return `${sign}${size.whole}${options.unit === false ? '' : ' mm'}`;
  const fraction = size.numerator === 0 ? '' : `${size.numerator}/${size.denominator}`;
  const whole = size.whole === 0 && fraction !== '' ? '' : `${size.whole}`;
  return `${sign}${whole}${whole !== '' && fraction !== '' ? ' ' : ''}${fraction}″`;
}
