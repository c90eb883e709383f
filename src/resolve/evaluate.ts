/** Gives a formula its value: dimension rules as in CSS Values 4, one side of each pair, literals of the other system rounded. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Edition, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { mm } from '../units.ts';
import type { Formula } from './formula.ts';
import { type CallFault, FUNCTIONS } from './functions.ts';
import { aKind, described, figure, productKind, quotientKind } from './quantities.ts';
import { roundedLiteral } from './rounding.ts';
import type { Quantity, Rounding } from './types.ts';

/** What a formula needs from its surroundings. */
export interface Scope {
  readonly edition: Edition;
  /** The value of a name. Undefined where it has none: what is wrong was already reported. */
  readonly lookUp: (name: string, origin: Origin) => Quantity | undefined;
  readonly report: (diagnostic: Diagnostic) => void;
  readonly rounded: (rounding: Rounding) => void;
}

/** What is due where a formula stands. `count` is a whole number of 1 or more; `any` takes every kind. */
export type Wanted = 'length' | 'count' | 'any';

/** Largest count that a plan may ask for. */
export const MOST_COUNTED = 10_000;
/** A length over 100 m or a number beyond 1e9 is no part of a piece. */
const LONGEST_LENGTH = 100_000;

/**
 * The value of a formula; undefined where a fault was reported, here or where a name it uses is defined.
 * @param written the formula's text with its place, for messages
 */
export function quantityOf(formula: Formula, written: Written, scope: Scope): Quantity | undefined {
  return new Evaluation(written, scope).of(formula, false);
}

class Evaluation {
  private readonly written: Written;
  private readonly scope: Scope;

  constructor(written: Written, scope: Scope) {
    this.written = written;
    this.scope = scope;
  }

  private wrong(id: string, at: number, expected: string, found: string, hint?: string): undefined {
    const said = { expected, found, ...(hint === undefined ? {} : { hint }) };
    this.scope.report(fault(id, placeIn(this.written, at), said));
    return undefined;
  }

  private say(quantity: Quantity): string {
    return described(quantity, this.scope.edition.numbers);
  }

  /** @param paired true inside a pair, where the author chose the size for this edition */
  of(formula: Formula, paired: boolean): Quantity | undefined {
    switch (formula.kind) {
      case 'literal':
        return this.literal(formula, paired);
      case 'name':
        return this.scope.lookUp(formula.name, placeIn(this.written, formula.at));
      case 'pair':
        return this.of(this.scope.edition.side === 'left' ? formula.left : formula.right, true);
      case 'minus': {
        const value = this.of(formula.value, paired);
        return value && { kind: value.kind, value: -value.value };
      }
      case 'call':
        return this.call(formula, paired);
      case 'operation': {
        const left = this.of(formula.left, paired);
        const right = this.of(formula.right, paired);
        return left && right && this.operation(formula, left, right);
      }
    }
  }

  private literal(formula: Formula & { kind: 'literal' }, paired: boolean): Quantity {
    const { quantity, system, text } = formula;
    const style = this.scope.edition.numbers;
    if (paired || system === undefined || system === style.system) return quantity;
    const rounded = roundedLiteral(quantity.value, style);
    this.scope.rounded({
      origin: placeIn(this.written, formula.at),
      written: text,
      exact: mm(quantity.value),
      rounded,
    });
    return { kind: 'length', value: rounded };
  }

  private operation(
    formula: Formula & { kind: 'operation' },
    left: Quantity,
    right: Quantity,
  ): Quantity | undefined {
    const { operator, at } = formula;
    if (operator === '+' || operator === '-') {
      if (left.kind !== right.kind)
        return this.wrong(
          'formula.dimension',
          at,
          `two values of one kind for "${operator}"`,
          `${this.say(left)} and ${this.say(right)}`,
          this.unitHint(formula, left, right),
        );
      const value = operator === '+' ? left.value + right.value : left.value - right.value;
      return this.finite({ kind: left.kind, value }, at);
    }
    if (operator === '*') {
      const kind = productKind(left.kind, right.kind);
      if (kind === undefined)
        return this.wrong(
          'formula.dimension',
          at,
          'a plain number on one side of "*"',
          `${aKind(left.kind)} times ${aKind(right.kind)}`,
        );
      return this.finite({ kind, value: left.value * right.value }, at);
    }
    const kind = quotientKind(left.kind, right.kind);
    if (kind === undefined)
      return this.wrong(
        'formula.dimension',
        at,
        `a plain number or ${aKind(left.kind)} after "/"`,
        this.say(right),
      );
    if (right.value === 0) return this.wrong('formula.zero', at, 'something other than 0 after "/"', '0');
    return this.finite({ kind, value: left.value / right.value }, at);
  }

  /** A bare number beside a length: its unit is missing. */
  private unitHint(
    formula: Formula & { kind: 'operation' },
    left: Quantity,
    right: Quantity,
  ): string | undefined {
    const [bare, other] = left.kind === 'number' ? [formula.left, right] : [formula.right, left];
    if (bare.kind !== 'literal' || other.kind !== 'length') return undefined;
    const unit = this.scope.edition.numbers.system === 'inch' ? 'in' : 'mm';
    return `write a unit: ${bare.text} ${unit}`;
  }

  private call(formula: Formula & { kind: 'call' }, paired: boolean): Quantity | undefined {
    const values = formula.values.map((value) => this.of(value, paired));
    if (values.some((value) => value === undefined)) return undefined;
    const known = values as readonly Quantity[];
    const result = (FUNCTIONS[formula.name] as (typeof FUNCTIONS)[string]).apply(
      known,
      formula.strategy ?? 'nearest',
    );
    return 'kind' in result ? this.finite(result, formula.at) : this.callFault(formula, result);
  }

  private callFault(formula: Formula & { kind: 'call' }, said: CallFault): undefined {
    const argument = said.argument === undefined ? undefined : formula.values[said.argument];
    return this.wrong(
      'formula.dimension',
      argument === undefined ? formula.at : firstOffset(argument),
      `${said.expected} in ${formula.name}()`,
      said.found,
    );
  }

  private finite(quantity: Quantity, at: number): Quantity | undefined {
    if (Number.isFinite(quantity.value)) return quantity;
    return this.wrong(
      'formula.range',
      at,
      'a value that is a number',
      'none: it is without bound or has no real root',
    );
  }
}

/** Where a formula's text begins: an operation's own place is its sign. */
export function firstOffset(formula: Formula): number {
  return formula.kind === 'operation' || formula.kind === 'pair' ? firstOffset(formula.left) : formula.at;
}

/**
 * Checks that a value fits the place it is used in.
 * @returns the number (mm for lengths); undefined after a report
 */
export function fitting(
  quantity: Quantity,
  wanted: Wanted,
  written: Written,
  what: string,
  scope: Scope,
): number | undefined {
  const style = scope.edition.numbers;
  const wrong = (id: string, expected: string, hint?: string): undefined => {
    const found = quantity.kind === 'length' ? figure(quantity.value, style) : described(quantity, style);
    scope.report(fault(id, written.origin, { expected, found, ...(hint === undefined ? {} : { hint }) }));
    return undefined;
  };
  const { kind, value } = quantity;
  if (wanted === 'length') {
    if (kind !== 'length') {
      const bare = kind === 'number' && /^[0-9./ -]+$/u.test(written.text);
      const unit = style.system === 'inch' ? 'in' : 'mm';
      return wrong(
        'formula.kind',
        `a length for ${what}`,
        bare ? `write a unit: ${written.text.trim()} ${unit}` : undefined,
      );
    }
    if (Math.abs(value) > LONGEST_LENGTH)
      return wrong('formula.range', `a length of at most ${figure(LONGEST_LENGTH, style)} for ${what}`);
    return value;
  }
  if (wanted === 'count') {
    if (kind !== 'number')
      return wrong('formula.kind', `a count for ${what}`, 'a count is a whole number without a unit');
    const whole = Math.round(value);
    if (Math.abs(value - whole) > 1e-9 || whole < 1 || whole > MOST_COUNTED)
      return wrong(
        'formula.count',
        `a whole number from 1 to ${MOST_COUNTED} for ${what}`,
        'round(up, …) and round(down, …) give whole numbers',
      );
    return whole;
  }
  return value;
}
