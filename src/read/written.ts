/** From an offset in a value to its place in the file. */
import type { Origin } from '../diagnostics.ts';
import type { Written } from './types.ts';

/** The place of the character at an offset (UTF-16 units) of a written text; columns count characters. */
export function placeIn(value: Written, offset: number): Origin {
  let start = 0;
  let { origin } = value;
  for (const piece of value.pieces ?? []) {
    if (piece.at > offset) break;
    start = piece.at;
    origin = piece.origin;
  }
  return { ...origin, column: origin.column + [...value.text.slice(start, offset)].length };
}
