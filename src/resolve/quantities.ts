/** Kinds of quantity and what may be done with them: the type rules of CSS Values 4, 10.9, for our few kinds. */
import type { NumberStyle } from '../units.ts';
import { printed } from '../units.ts';
import type { QuantityKind } from './types.ts';

/** Powers of length by kind; angles stand apart. */
const POWERS: Readonly<Record<Exclude<QuantityKind, 'angle'>, number>> = {
  number: 0,
  length: 1,
  area: 2,
  volume: 3,
};
const BY_POWER: readonly QuantityKind[] = ['number', 'length', 'area', 'volume'];

/** The kind of a product; undefined where it has no name here (more than a volume, angle times length). */
export function productKind(a: QuantityKind, b: QuantityKind): QuantityKind | undefined {
  if (a === 'angle' || b === 'angle') return a === 'number' || b === 'number' ? 'angle' : undefined;
  return BY_POWER[POWERS[a] + POWERS[b]];
}

/** The kind of a quotient; undefined where it has none (a number divided by a length). */
export function quotientKind(a: QuantityKind, b: QuantityKind): QuantityKind | undefined {
  if (a === b) return 'number';
  if (b === 'number') return a;
  if (a === 'angle' || b === 'angle') return undefined;
  return BY_POWER[POWERS[a] - POWERS[b]];
}

const ARTICLES: Readonly<Record<QuantityKind, string>> = {
  length: 'a length',
  angle: 'an angle',
  number: 'a plain number',
  area: 'an area',
  volume: 'a volume',
};

/** A kind in a sentence: `a length`. */
export const aKind = (kind: QuantityKind): string => ARTICLES[kind];

/** A number without a tail of rounding faults: `0.3`, not `0.30000000000000004`. */
export const plainNumber = (value: number): string => String(Number(value.toPrecision(10)));

/**
 * A length as text to type, in the style's units: `3 1/2 in`, `19.05 mm`. For messages only: inches to 1/64, millimetres to
 * hundredths, so that two figures that differ also look different.
 */
export function figure(length: number, style: NumberStyle): string {
  if (style.system === 'mm') return `${Number(length.toFixed(2)) + 0} mm`;
  const size = printed(length, { system: 'inch', denominator: 64 });
  const fraction = size.numerator === 0 ? '' : `${size.numerator}/${size.denominator}`;
  const whole = size.whole === 0 && fraction !== '' ? '' : `${size.whole}`;
  return `${size.negative ? '-' : ''}${[whole, fraction].filter((part) => part !== '').join(' ')} in`;
}
