/** The step to which a length from the other unit system is rounded, where the plan gave no pair for it. */
import { INCH, inches, type Length, mm, type NumberStyle, roundTiesToEven } from '../units.ts';

/**
 * Steps by size, each up to and without its limit: common practice, no source. A cut keeps its millimetre or its sixteenth; an
 * overall size gets a figure that is easy to remember. No metric step is finer than the whole millimetre that sheets print.
 */
const METRIC: readonly (readonly [limit: number, step: number])[] = [
  [300, 1],
  [1000, 5],
  [Number.POSITIVE_INFINITY, 10],
];
/** In inches; the step as a part of an inch. */
const INCHES: readonly (readonly [limit: number, denominator: number])[] = [
  [1, 32],
  [6, 16],
  [24, 8],
  [48, 4],
  [Number.POSITIVE_INFINITY, 2],
];

const stepFor = (size: number, steps: readonly (readonly [number, number])[]): number =>
  (steps.find(([limit]) => size < limit) ?? (steps[steps.length - 1] as readonly [number, number]))[1];

/** A number of steps, ties to even; at least one unless the size is 0. */
const counted = (steps: number): number => (steps === 0 ? 0 : Math.max(1, roundTiesToEven(steps)));

/**
 * A literal of the other system in the edition's own steps; a tie goes to the even step. What isn't 0 doesn't become 0: it
 * keeps one step. No step is finer than the edition prints.
 */
export function roundedLiteral(length: number, style: NumberStyle): Length {
  const sign = length < 0 ? -1 : 1;
  const size = Math.abs(length);
  if (style.system === 'mm') {
    const step = stepFor(size, METRIC);
    return mm(sign * counted(size / step) * step);
  }
  const denominator = Math.min(style.denominator, stepFor(size / INCH, INCHES));
  return inches((sign * counted((size / INCH) * denominator)) / denominator);
}
