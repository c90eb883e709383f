/** The parts of a formula as a tree, and places within its text. */
import type { Origin } from '../diagnostics.ts';
import type { Written } from '../read/types.ts';
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

/**
 * The place in the file of an offset in a written text. Columns count characters, so a letter outside the basic plane counts
 * once. In a text of several lines the column is counted from the start of its own line.
 */
export function placeIn(written: Written, at: number): Origin {
  const before = written.text.slice(0, Math.max(0, at));
  const lines = before.split('\n');
  const last = lines[lines.length - 1] as string;
  const { file, line, column } = written.origin;
  return lines.length === 1
    ? { file, line, column: column + [...last].length }
    : { file, line: line + lines.length - 1, column: [...last].length + 1 };
}

/** A text as it is quoted in a message: in quotation marks, cut where it is long. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/gu, ' ');
  return `"${line.length > 40 ? `${line.slice(0, 39)}…` : line}"`;
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
