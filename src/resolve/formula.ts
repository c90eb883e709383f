/** The parts of a formula as a tree. */
import type { Quantity } from './types.ts';

/** Where a node stands in the formula's text. `at` is where a message about it points; `from` and `to` bound its text. */
interface Place {
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

export interface Literal extends Place {
  readonly kind: 'literal';
  readonly quantity: Quantity;
  /** System of a length literal; absent for numbers and angles. */
  readonly system?: 'inch' | 'mm';
}

export interface Operation extends Place {
  readonly kind: 'operation';
  readonly operator: '+' | '-' | '*' | '/';
  readonly left: Formula;
  readonly right: Formula;
}

export interface Call extends Place {
  readonly kind: 'call';
  readonly name: string;
  /** Of `round`: up, down, nearest, to-zero. */
  readonly strategy?: string;
  readonly values: readonly Formula[];
}

/** A formula's tree. */
export type Formula =
  | Literal
  | Operation
  | Call
  | (Place & { readonly kind: 'name'; readonly name: string })
  | (Place & { readonly kind: 'minus'; readonly value: Formula })
  | (Place & { readonly kind: 'pair'; readonly left: Formula; readonly right: Formula });

/** What is wrong with a formula's text, at an offset in it. */
export interface FormulaFault {
  readonly id: string;
  readonly at: number;
  readonly expected: string;
  readonly found: string;
  readonly hint?: string;
}

/** Every name a formula uses, on both sides of its pairs, with its offset. */
export function namesIn(formula: Formula): { readonly name: string; readonly at: number }[] {
  switch (formula.kind) {
    case 'literal':
      return [];
    case 'name':
      return [{ name: formula.name, at: formula.at }];
    case 'minus':
      return namesIn(formula.value);
    case 'call':
      return formula.values.flatMap(namesIn);
    default:
      return [...namesIn(formula.left), ...namesIn(formula.right)];
  }
}
