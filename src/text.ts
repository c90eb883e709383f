/**
 * Running text that carries sizes and part letters as data, so that page, PDF and drawing each set them in their own way
 * (stacked fractions, letters in circles) and all of them read the same.
 */
import type { Size } from './units.ts';
import { sizeText } from './units.ts';

export type Run =
  | { readonly kind: 'text'; readonly text: string }
  /** A length; `bare` leaves the unit out where the sheet says it once. */
  | { readonly kind: 'size'; readonly size: Size; readonly bare?: boolean }
  /** A part's letter in its circle, followed by nothing. */
  | { readonly kind: 'letter'; readonly letter: string };

/** A line of text with sizes in it. */
export type Line = readonly Run[];

export const text = (value: string): Run => ({ kind: 'text', text: value });

/** A line as plain text, for titles, alternatives and tests: `rip to 3 1/4″`. */
export function lineText(line: Line): string {
  return line
    .map((run) =>
      run.kind === 'text'
        ? run.text
        : run.kind === 'letter'
          ? run.letter
          : sizeText(run.size, { unit: run.bare !== true }),
    )
    .join('');
}
