/** Drawing scales: the ratios that a sheet may state. */
import type { Line } from '../../text.ts';
import { text } from '../../text.ts';
import type { NumberStyle } from '../../units.ts';
import { inches, printed } from '../../units.ts';

/** A scale: paper millimetres for one millimetre of the piece, and how it is said. */
export interface Scale {
  readonly ratio: number;
  /** `3/4″ = 1′-0″`, `1 : 10`, `full size`. */
  readonly label: string;
  readonly line: Line;
}

/** Reductions of ISO 5455:1979, extended by tens as the standard allows, and full size. */
const REDUCTIONS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** Paper inches to the foot in the usual fractional series of North American building drawings (common practice, no source). */
const INCHES_TO_THE_FOOT = [12, 6, 3, 1.5, 1, 3 / 4, 1 / 2, 3 / 8, 1 / 4, 3 / 16, 1 / 8, 1 / 16, 1 / 32];

const metric = (reduction: number): Scale => ({
  ratio: 1 / reduction,
  label: `1 : ${reduction}`,
  line: [text(`1 : ${reduction}`)],
});

function fractional(toTheFoot: number): Scale {
  const ratio = toTheFoot / 12;
  const word = toTheFoot === 12 ? 'full size' : toTheFoot === 6 ? 'half size' : undefined;
  if (word) return { ratio, label: word, line: [text(word)] };
  const size = printed(inches(toTheFoot), { system: 'inch', denominator: 32 });
  const whole = size.whole > 0 ? `${size.whole}` : '';
  const fraction = size.numerator > 0 ? `${size.numerator}/${size.denominator}` : '';
  const label = `${whole}${whole && fraction ? ' ' : ''}${fraction}″ = 1′-0″`;
  return { ratio, label, line: [{ kind: 'size', size }, text(' = 1′-0″')] };
}

/** Scales of views, largest first. */
export const viewScales = (style: NumberStyle): readonly Scale[] =>
  style.system === 'mm' ? REDUCTIONS.map(metric) : INCHES_TO_THE_FOOT.map(fractional);

/**
 * Scales of cutting layouts, largest first. In the metric series 1 : 25 stands between 1 : 20 and 1 : 50: a board of 4 m would else
 * shrink to 80 mm of paper, too low for any lettering. ISO 5455:1979 does not list it, and lets an intermediate scale be chosen where
 * the recommended ones cannot be applied (its clause on recommended scales, from memory). The sheet says the scale.
 */
export const layoutScales = (style: NumberStyle): readonly Scale[] =>
  style.system === 'mm'
    ? [...REDUCTIONS, 25].sort((a, b) => a - b).map(metric)
    : INCHES_TO_THE_FOOT.map(fractional);
