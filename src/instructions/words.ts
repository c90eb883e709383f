/** Small words: counts in letters, lists, the first letter of a sentence. English, as the demo shop writes. */

const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

/** Counts to ten in words, above that in figures. */
export function countWord(count: number): string {
  return Number.isInteger(count) && count >= 0 && count <= 10 ? (COUNTS[count] as string) : `${count}`;
}

export const capital = (value: string): string => value.slice(0, 1).toUpperCase() + value.slice(1);
export const small = (value: string): string => value.slice(0, 1).toLowerCase() + value.slice(1);

/** `a, b and c`. */
export function listed(items: readonly string[]): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** True where text that follows `before` begins a sentence. */
export const beginsSentence = (before: string): boolean => /(^|[.!?]["”’)]?\s+)$/u.test(before);
