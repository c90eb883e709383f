/**
 * The math functions of CSS (CSS Values and Units Level 4, section 10) that make sense in a plan. Types are checked as there;
 * beyond it, `sqrt` takes an area and gives a length, and `pow` takes a length to the second or third power.
 */
import { aKind } from './quantities.ts';
import type { Quantity, QuantityKind } from './types.ts';

/** What is wrong with a call: the argument it concerns (by index), what was due, what came. */
export interface CallFault {
  readonly id?: string;
  readonly argument?: number;
  readonly expected: string;
  readonly found: string;
}

interface MathFunction {
  readonly least: number;
  readonly most: number;
  readonly apply: (values: readonly Quantity[], strategy: string) => Quantity | CallFault;
}

const DEGREE = Math.PI / 180;
/** A ratio this near to a whole number counts as whole: 304.8 / 101.6 is 3 whatever the last bit says. */
const NEAR = 1e-9;

const number = (value: number): Quantity => ({ kind: 'number', value });
const first = (values: readonly Quantity[]): Quantity => values[0] as Quantity;

/** The fault of the first argument whose kind differs from the first one's. */
function unlike(values: readonly Quantity[]): CallFault | undefined {
  const { kind } = first(values);
  const argument = values.findIndex((value) => value.kind !== kind);
  return argument < 0
    ? undefined
    : {
        argument,
        expected: `${aKind(kind)} like the first value`,
        found: aKind((values[argument] as Quantity).kind),
      };
}

function notA(values: readonly Quantity[], kinds: readonly QuantityKind[]): CallFault | undefined {
  const argument = values.findIndex((value) => !kinds.includes(value.kind));
  return argument < 0
    ? undefined
    : {
        argument,
        expected: kinds.map(aKind).join(' or '),
        found: aKind((values[argument] as Quantity).kind),
      };
}

/** A function of values of one kind that gives that kind. */
const alike =
  (compute: (...values: number[]) => number): MathFunction['apply'] =>
  (values) =>
    unlike(values) ?? { kind: first(values).kind, value: compute(...values.map((one) => one.value)) };

/** A function of an angle, or of a number of radians as in CSS. */
const ofAngle =
  (compute: (radians: number) => number): MathFunction['apply'] =>
  (values) => {
    const { kind, value } = first(values);
    return notA(values, ['angle', 'number']) ?? number(compute(kind === 'angle' ? value * DEGREE : value));
  };

/** A function of a ratio that gives an angle. */
const toAngle =
  (compute: (ratio: number) => number): MathFunction['apply'] =>
  (values) =>
    notA(values, ['number']) ?? { kind: 'angle', value: compute(first(values).value) / DEGREE };

const floor = (ratio: number): number =>
  Math.abs(ratio - Math.round(ratio)) < NEAR ? Math.round(ratio) : Math.floor(ratio);

/** Where the value lies midway, the upper multiple is taken (CSS Values 4, 10.3, nearest). */
const STRATEGIES: Readonly<Record<string, (ratio: number) => number>> = {
  nearest: (ratio) => floor(ratio + 0.5),
  up: (ratio) => -floor(-ratio),
  down: floor,
  'to-zero': (ratio) => (ratio < 0 ? -floor(-ratio) : floor(ratio)),
};

const zeroStep: CallFault = { id: 'formula.zero', argument: 1, expected: 'a step other than 0', found: '0' };

function round(values: readonly Quantity[], strategy: string): Quantity | CallFault {
  const given = first(values);
  const step = values[1] ?? number(1);
  if (values.length === 1 && given.kind !== 'number')
    return { expected: 'a step to round to after the value', found: `${aKind(given.kind)} alone` };
  const fault = unlike([given, step]);
  if (fault) return fault;
  if (step.value === 0) return zeroStep;
  // As in CSS, only the size of the step counts.
  const size = Math.abs(step.value);
  const whole = (STRATEGIES[strategy] ?? floor)(given.value / size);
  return { kind: given.kind, value: whole * size + 0 };
}

/** What is left after whole steps: of the divisor's sign (mod) or the value's (rem). */
const remainder =
  (steps: (ratio: number) => number): MathFunction['apply'] =>
  (values) => {
    const [value, step] = values as readonly [Quantity, Quantity];
    const fault = unlike(values);
    if (fault) return fault;
    if (step.value === 0) return zeroStep;
    const ratio = value.value / step.value;
    const whole = Math.abs(ratio - Math.round(ratio)) < NEAR;
    return { kind: value.kind, value: whole ? 0 : value.value - step.value * steps(ratio) };
  };

function pow(values: readonly Quantity[]): Quantity | CallFault {
  const [base, exponent] = values as readonly [Quantity, Quantity];
  if (exponent.kind !== 'number')
    return { argument: 1, expected: 'a plain number as exponent', found: aKind(exponent.kind) };
  const value = base.value ** exponent.value;
  if (base.kind === 'number') return number(value);
  const kind = ({ 1: 'length', 2: 'area', 3: 'volume' } as const)[exponent.value as 1 | 2 | 3];
  if (base.kind === 'length' && kind !== undefined) return { kind, value };
  return {
    argument: 0,
    expected: 'a plain number, or a length to the power 1, 2 or 3',
    found: aKind(base.kind),
  };
}

function sqrt(values: readonly Quantity[]): Quantity | CallFault {
  const { kind, value } = first(values);
  return (
    notA(values, ['number', 'area']) ?? {
      kind: kind === 'area' ? 'length' : 'number',
      value: Math.sqrt(value),
    }
  );
}

const MOST = 32;

/** The functions by name, with how many values each takes. */
export const FUNCTIONS: Readonly<Record<string, MathFunction>> = {
  min: { least: 1, most: MOST, apply: alike(Math.min) },
  max: { least: 1, most: MOST, apply: alike(Math.max) },
  clamp: {
    least: 3,
    most: 3,
    apply: alike((low, value, high) => Math.max(low as number, Math.min(value as number, high as number))),
  },
  round: { least: 1, most: 2, apply: round },
  mod: { least: 2, most: 2, apply: remainder(Math.floor) },
  rem: { least: 2, most: 2, apply: remainder(Math.trunc) },
  abs: { least: 1, most: 1, apply: alike((value) => Math.abs(value as number)) },
  sign: { least: 1, most: 1, apply: (values) => number(Math.sign(first(values).value)) },
  sqrt: { least: 1, most: 1, apply: sqrt },
  pow: { least: 2, most: 2, apply: pow },
  hypot: { least: 1, most: MOST, apply: alike(Math.hypot) },
  sin: { least: 1, most: 1, apply: ofAngle(Math.sin) },
  cos: { least: 1, most: 1, apply: ofAngle(Math.cos) },
  tan: { least: 1, most: 1, apply: ofAngle(Math.tan) },
  asin: { least: 1, most: 1, apply: toAngle(Math.asin) },
  acos: { least: 1, most: 1, apply: toAngle(Math.acos) },
  atan: { least: 1, most: 1, apply: toAngle(Math.atan) },
  atan2: {
    least: 2,
    most: 2,
    apply: (values) =>
      unlike(values) ?? {
        kind: 'angle',
        value: Math.atan2(first(values).value, (values[1] as Quantity).value) / DEGREE,
      },
  },
};

/** True for a name of ours; safe against names such as `constructor`. */
export const isFunction = (name: string): boolean => Object.hasOwn(FUNCTIONS, name);
/** Words that may stand first in `round(…)`. */
export const isStrategy = (name: string): boolean => Object.hasOwn(STRATEGIES, name);
