/** The parts of a formula as a tree. */
import type { Quantity } from './types.ts';

/** A formula's tree. `at` is the offset in the formula's text at which a message about the node points. */
export type Formula =
  | {
      readonly kind: 'literal';
      readonly at: number;
      readonly quantity: Quantity;
      /** System of a length literal; absent for numbers and angles. */
      readonly system?: 'inch' | 'mm';
      readonly text: string;
    }
  | { readonly kind: 'name'; readonly at: number; readonly name: string }
  | { readonly kind: 'minus'; readonly at: number; readonly value: Formula }
  | {
      readonly kind: 'operation';
      readonly at: number;
      readonly operator: '+' | '-' | '*' | '/';
      readonly left: Formula;
      readonly right: Formula;
    }
  | {
      readonly kind: 'call';
      readonly at: number;
      readonly name: string;
      /** Of `round`: up, down, nearest, to-zero. */
      readonly strategy?: string;
      readonly values: readonly Formula[];
    }
  | { readonly kind: 'pair'; readonly at: number; readonly left: Formula; readonly right: Formula };

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
