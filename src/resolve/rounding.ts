/** The step to which a length from the other unit system is rounded, where the plan gave no pair for it. */
import { INCH, type Length, mm, type NumberStyle, roundTiesToEven } from '../units.ts';

/**
 * Steps by size, each up to and without its limit: common practice, no source. A cut keeps its millimetre or its sixteenth; an
 * overall size gets a figure that is easy to remember. No metric step is finer than the whole millimetre that sheets print.
 */
const METRIC: readonly (readonly [limit: number, step: number])[] = [
  [300, 1],
  [1000, 5],
  [Number.POSITIVE_INFINITY, 10],
];
const INCHES: readonly (readonly [limit: number, step: number])[] = [
  [1 * INCH, INCH / 32],
  [6 * INCH, INCH / 16],
  [24 * INCH, INCH / 8],
  [48 * INCH, INCH / 4],
  [Number.POSITIVE_INFINITY, INCH / 2],
];

/**
 * A literal of the other system in the edition's own steps; a tie goes to the even step. What isn't 0 doesn't become 0: it
 * keeps one step. No step is finer than the edition prints.
 */
export function roundedLiteral(length: number, style: NumberStyle): Length {
  const steps = style.system === 'mm' ? METRIC : INCHES;
  const finest = style.system === 'mm' ? 1 : INCH / style.denominator;
  const found = steps.find(([limit]) => Math.abs(length) < limit) ?? steps[steps.length - 1];
  const step = Math.max(finest, (found as readonly [number, number])[1]);
  const count = roundTiesToEven(Math.abs(length) / step);
  return mm(Math.sign(length) * (length === 0 ? 0 : Math.max(1, count)) * step);
}
