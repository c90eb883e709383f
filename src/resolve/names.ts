/** Names near to one that isn't known, for hints. */
import { editDistance } from '../read/nearest.ts';

/** The known names nearest to a text, nearest first, at most `most`; empty where none is near. */
export function nearest(text: string, known: readonly string[], most = 3): readonly string[] {
  const wanted = text.slice(0, 60).toLowerCase();
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  const scored: { readonly name: string; readonly score: number }[] = [];
  for (const name of new Set(known)) {
    const other = name.toLowerCase();
    const letters = (value: string) => value.replaceAll(/[^\p{L}\p{N}]/gu, '');
    const near = letters(wanted) === letters(other) ? 0 : editDistance(wanted, other);
    const inside = wanted.length >= 3 && (other.startsWith(wanted) || wanted.startsWith(`${other}-`));
    if (near <= limit) scored.push({ name, score: near });
    else if (inside) scored.push({ name, score: limit + 1 });
  }
  return scored
    .sort((a, b) => a.score - b.score || (a.name < b.name ? -1 : 1))
    .slice(0, most)
    .map((entry) => entry.name);
}

/** Names as a list in a sentence: `a, b or c`. */
export function either(names: readonly string[]): string {
  return names.length < 2
    ? (names[0] ?? '')
    : `${names.slice(0, -1).join(', ')} or ${names[names.length - 1]}`;
}

/** A hint for an unknown name: the nearest ones, or all where they are few. */
export function nameHint(text: string, known: readonly string[]): { readonly hint?: string } {
  const near = nearest(text, known);
  if (near.length > 0) return { hint: `did you mean ${either(near)}?` };
  if (known.length === 0 || known.length > 12) return {};
  return { hint: `known here: ${[...new Set(known)].sort().join(', ')}` };
}
