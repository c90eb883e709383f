/** Gives a formula its value: dimension rules as in CSS Values 4, one side of each pair, literals of the other system rounded. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import { quoted } from '../read/node.ts';
import type { Edition, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { mm } from '../units.ts';
import type { Call, Formula, Literal, Operation } from './formula.ts';
import { type CallFault, FUNCTIONS } from './functions.ts';
import { aKind, figure, plainNumber, productKind, quotientKind } from './quantities.ts';
import { roundedLiteral } from './rounding.ts';
import type { Quantity, Rounding } from './types.ts';

/** What a formula needs from its surroundings. */
export interface Scope {
  readonly edition: Edition;
  /** The value of a name. Undefined where it has none: what is wrong was already reported. */
  readonly lookUp: (name: string, origin: Origin) => Quantity | undefined;
  readonly report: (diagnostic: Diagnostic) => void;
  /** How deep evaluation is, over all formulas under way; keeps the call stack bounded. */
  readonly depth: { level: number };
  readonly rounded: (rounding: Rounding) => void;
}

/** What is due where a formula stands. `count` is a whole number of 1 or more; `any` takes every kind. */
export type Wanted = 'length' | 'angle' | 'count' | 'any';

/** Largest count that a plan may ask for. */
const MOST_COUNTED = 10_000;
/** No piece is longer, in mm and in words. */
const LONGEST_LENGTH = { inch: [91_440, '300 ft'], mm: [100_000, '100 m'] } as const;

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

  /** A value in a message, by its kind and the author's own words: `a length, "3 in"`. */
  private say(formula: Formula, quantity: Quantity): string {
    return `${aKind(quantity.kind)}, ${quoted(this.written.text.slice(formula.from, formula.to))}`;
  }

  /** @param paired true inside a pair, where the author chose the size for this edition */
  of(formula: Formula, paired: boolean): Quantity | undefined {
    const calls = formula.kind === 'call' ? 4 : 1;
    this.scope.depth.level += calls;
    const value = this.known(formula, paired);
    this.scope.depth.level -= calls;
    return value;
  }

  private known(formula: Formula, paired: boolean): Quantity | undefined {
    switch (formula.kind) {
      case 'literal':
        return this.literal(formula, paired);
      case 'name':
        return this.scope.lookUp(formula.name, placeIn(this.written, formula.at));
      case 'pair':
        return this.of(this.scope.edition.side === 'left' ? formula.left : formula.right, true);
      case 'minus': {
        const value = this.of(formula.value, paired);
        return value && { kind: value.kind, value: 0 - value.value };
      }
      case 'call':
        return this.call(formula, paired);
      case 'operation':
        return this.operations(formula, paired);
    }
  }

  /** A sum or product of many members leans to the left: it is worked out in a loop, so that its length doesn't nest. */
  private operations(last: Operation, paired: boolean): Quantity | undefined {
    const chain: Operation[] = [];
    let first: Formula = last;
    for (; first.kind === 'operation'; first = first.left) chain.push(first);
    let left = this.of(first, paired);
    for (const operation of chain.reverse()) {
      const right = this.of(operation.right, paired);
      left = left && right && this.operation(operation, left, right);
    }
    return left;
  }

  private literal(formula: Literal, paired: boolean): Quantity {
    const { quantity, system } = formula;
    const style = this.scope.edition.numbers;
    if (paired || system === undefined || system === style.system) return quantity;
    const rounded = roundedLiteral(quantity.value, style);
    this.scope.rounded({
      origin: placeIn(this.written, formula.at),
      written: this.written.text.slice(formula.from, formula.to),
      exact: mm(quantity.value),
      rounded,
    });
    return { kind: 'length', value: rounded };
  }

  private operation(formula: Operation, left: Quantity, right: Quantity): Quantity | undefined {
    const { operator, at } = formula;
    if (operator === '+' || operator === '-') {
      if (left.kind !== right.kind)
        return this.wrong(
          'formula.dimension',
          at,
          `two values of one kind for "${operator}"`,
          `${this.say(formula.left, left)}, and ${this.say(formula.right, right)}`,
          this.unitHint(formula, left, right),
        );
      const value = operator === '+' ? left.value + right.value : left.value - right.value;
      return this.finite({ kind: left.kind, value }, formula);
    }
    if (operator === '*') {
      const kind = productKind(left.kind, right.kind);
      if (kind === undefined)
        return this.wrong(
          'formula.dimension',
          at,
          'a plain number on one side of "*"',
          `${this.say(formula.left, left)}, and ${this.say(formula.right, right)}`,
        );
      return this.finite({ kind, value: left.value * right.value }, formula);
    }
    const kind = quotientKind(left.kind, right.kind);
    if (kind === undefined)
      return this.wrong(
        'formula.dimension',
        at,
        `a plain number${left.kind === 'number' ? '' : ` or ${aKind(left.kind)}`} after "/"`,
        this.say(formula.right, right),
      );
    if (right.value === 0)
      return this.wrong(
        'formula.zero',
        at,
        'something other than 0 after "/"',
        this.say(formula.right, right),
      );
    return this.finite({ kind, value: left.value / right.value }, formula);
  }

  /** A bare number beside a length: its unit is missing. */
  private unitHint(formula: Operation, left: Quantity, right: Quantity): string | undefined {
    const [bare, other, unlike] =
      left.kind === 'number' ? [formula.left, formula.right, right] : [formula.right, formula.left, left];
    if (bare.kind !== 'literal' || bare.system !== undefined || unlike.kind !== 'length') return undefined;
    if (bare.quantity.kind !== 'number') return undefined;
    const system = (other.kind === 'literal' ? other.system : undefined) ?? this.scope.edition.numbers.system;
    return `write a unit: ${this.written.text.slice(bare.from, bare.to)} ${system === 'inch' ? 'in' : 'mm'}`;
  }

  private call(formula: Call, paired: boolean): Quantity | undefined {
    const values = formula.values.map((value) => this.of(value, paired));
    if (values.some((value) => value === undefined)) return undefined;
    const known = values as readonly Quantity[];
    const result = (FUNCTIONS[formula.name] as (typeof FUNCTIONS)[string]).apply(
      known,
      formula.strategy ?? 'nearest',
    );
    return 'kind' in result ? this.finite(result, formula) : this.callFault(formula, result);
  }

  private callFault(formula: Call, said: CallFault): undefined {
    const argument = said.argument === undefined ? undefined : formula.values[said.argument];
    return this.wrong(
      said.id ?? 'formula.dimension',
      (argument ?? formula).from,
      `${said.expected} in ${formula.name}()`,
      said.found,
    );
  }

  private finite(quantity: Quantity, formula: Formula): Quantity | undefined {
    if (Number.isFinite(quantity.value)) return quantity;
    const text = quoted(this.written.text.slice(formula.from, formula.to));
    return this.wrong(
      'formula.range',
      formula.at,
      'a value that can be worked out',
      `${text}, which has none`,
    );
  }
}

/** A size of the plan by its name alone. */
const OWN_NAME = /^[a-z][a-z0-9-]*$/u;

/** What is a pair with its units left out, or with another sign than the bar. */
function pairMeant(text: string): string | undefined {
  const bare = /^\s*([0-9][0-9./ -]*?)\s*\|\s*([0-9][0-9.]*)\s*$/u.exec(text);
  if (bare) return `write units: ${bare[1]} in | ${bare[2]} mm`;
  const parted = /^\s*([0-9][0-9./ -]*? (?:in|ft))\s*\/\s*([0-9][0-9.]*\s*(?:mm|cm|m))\s*$/u.exec(text);
  return parted ? `a pair for two editions has a bar: ${parted[1]} | ${parted[2]}` : undefined;
}

/** Where a unit was left out: not where a size is used, but where it gets its value. */
const unitWanted = ({ text }: Written, unit: string): string | undefined =>
  OWN_NAME.test(text.trim())
    ? `write ${unit} where ${text.trim()} gets its value, in the sizes block`
    : undefined;

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
    const found =
      id === 'formula.kind'
        ? `${aKind(quantity.kind)}, ${quoted(written.text)}`
        : quantity.kind === 'length'
          ? figure(quantity.value, style)
          : plainNumber(quantity.value);
    scope.report(fault(id, written.origin, { expected, found, ...(hint === undefined ? {} : { hint }) }));
    return undefined;
  };
  const { kind, value } = quantity;
  if (wanted === 'length') {
    if (kind !== 'length') {
      const bare = kind === 'number' && /^[0-9./ -]+$/u.test(written.text);
      const unit = style.system === 'inch' ? 'in' : 'mm';
      const pair = kind === 'number' ? pairMeant(written.text) : undefined;
      return wrong(
        'formula.kind',
        `a length for ${what}`,
        pair !== undefined
          ? pair
          : bare
            ? `write a unit: ${written.text.trim()} ${unit}`
            : kind === 'number'
              ? unitWanted(written, 'a unit')
              : undefined,
      );
    }
    const [longest, words] = LONGEST_LENGTH[style.system];
    if (Math.abs(value) > longest) return wrong('formula.range', `a length of at most ${words} for ${what}`);
    return value;
  }
  if (wanted === 'angle') {
    if (kind === 'angle') return value;
    const bare = kind === 'number' && /^-?[0-9.]+$/u.test(written.text.trim());
    return wrong(
      'formula.kind',
      `an angle for ${what}`,
      bare ? `write ${written.text.trim()} deg` : kind === 'number' ? unitWanted(written, 'deg') : undefined,
    );
  }
  if (wanted === 'count') {
    if (kind !== 'number')
      return wrong('formula.kind', `a plain number for ${what}`, 'a count is a whole number without a unit');
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
