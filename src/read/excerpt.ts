/** A stretch of a file that is read on its own, such as a fenced block, and the way back to lines and columns of the file. */
import type { Origin } from '../diagnostics.ts';

export interface Excerpt {
  readonly file: string;
  /** Line breaks are `\n`. */
  readonly text: string;
  /** Line of the file that the excerpt starts in, from 1. */
  readonly firstLine: number;
  /** Characters cut off the left of each line, where a block is indented; 0 where absent. */
  readonly shifts: readonly number[];
  /** Offset of the start of each line. */
  readonly starts: readonly number[];
}

/** Line breaks of all systems as `\n`, and no byte order mark, so that counting lines is the same everywhere. */
export const plainText = (text: string): string => text.replace(/^\uFEFF/u, '').replace(/\r\n?/gu, '\n');

/** An excerpt of a file; by default the whole file. */
export function excerptOf(
  file: string,
  text: string,
  firstLine = 1,
  shifts: readonly number[] = [],
): Excerpt {
  const starts = [0];
  for (let at = text.indexOf('\n'); at !== -1; at = text.indexOf('\n', at + 1)) starts.push(at + 1);
  return { file, text, firstLine, shifts, starts };
}

/** The place of an offset, as line and column of the file; columns count characters, not code units. */
export function originAt(excerpt: Excerpt, offset: number): Origin {
  const at = Math.max(0, Math.min(offset, excerpt.text.length));
  let low = 0;
  let high = excerpt.starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((excerpt.starts[middle] as number) <= at) low = middle;
    else high = middle - 1;
  }
  const before = excerpt.text.slice(excerpt.starts[low], at);
  return {
    file: excerpt.file,
    line: excerpt.firstLine + low,
    column: (excerpt.shifts[low] ?? 0) + [...before].length + 1,
  };
}

/** The line that holds an offset, without its line break, and where it starts. */
export function lineAround(text: string, offset: number): { readonly text: string; readonly start: number } {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const end = text.indexOf('\n', offset);
  return { text: text.slice(start, end === -1 ? undefined : end), start };
}
