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

/** The nearest of some names to what was typed, for a hint: nothing where none is near. */
export function nearest(typed: string, names: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Math.max(2, Math.ceil(typed.length / 3)) + 1;
  for (const name of names) {
    const distance = editDistance(typed.toLowerCase(), name.toLowerCase(), least);
    if (distance < least) {
      least = distance;
      best = name;
    }
  }
  return best;
}

/** Levenshtein's distance (1966), given up as soon as it can't fall below `limit`. */
function editDistance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) >= limit) return limit;
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    if (Math.min(...next) >= limit) return limit;
    row = next;
  }
  return row[b.length] as number;
}
