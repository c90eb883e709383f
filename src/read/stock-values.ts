/** Values of a stock list's file as they are written: lengths, maps, and prices by species. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { type Length, readLength } from '../units.ts';
import { listed } from './forms.ts';
import { nearest } from './nearest.ts';
import { type Entry, type Node, quoted, textOf, writtenOf } from './node.ts';
import type { Written } from './types.ts';

/** A fixed length that was checked; 0 where it has a fault. */
export function lengthAt(node: Node | undefined, key: string): Length | undefined {
  const text = textOf(node, key);
  if (text === undefined) return undefined;
  const read = readLength(text);
  return 'length' in read ? read.length : undefined;
}

/** Keys and values of a map; none of anything else. */
export const entriesOf = (node: Node | undefined): readonly Entry[] =>
  node?.kind === 'map' ? node.entries : [];

/** Faults of a species that the list doesn't have. */
export function unknownSpecies(
  name: Pick<Written, 'text' | 'origin'>,
  known: readonly string[],
): Diagnostic[] {
  if (known.includes(name.text)) return [];
  return [
    fault('stock.species-unknown', name.origin, {
      expected: `a species of this list: ${listed(known)}`,
      found: quoted(name.text),
      hint: nearest(name.text, known) ?? `Add "${name.text}" to "species".`,
    }),
  ];
}

/** Faults of lengths that are nothing. */
export function positive(node: Node, keys: readonly string[]): Diagnostic[] {
  return keys.flatMap((key) => {
    const written = writtenOf(node, key);
    if (written === undefined || lengthAt(node, key) !== 0) return [];
    return [
      fault('stock.value', written.origin, {
        expected: `a ${key} of more than 0`,
        found: quoted(written.text),
      }),
    ];
  });
}

/** Prices by species, with what is wrong with them; none where not one is left. `example` is what to type where there is none. */
export function pricesAt(
  value: Node,
  species: readonly string[],
  example: string,
): { readonly prices?: Readonly<Record<string, number>>; readonly faults: readonly Diagnostic[] } {
  const faults: Diagnostic[] = [];
  const prices = entriesOf(value).flatMap((price): [string, number][] => {
    faults.push(...unknownSpecies(price.key, species));
    const amount = price.value.kind === 'text' ? Number(price.value.text) : 0;
    return amount > 0 ? [[price.key.text, amount]] : [];
  });
  if (value.kind === 'map' && value.entries.length === 0)
    faults.push(
      fault('stock.value', value.origin, {
        expected: 'a price for at least one species',
        found: 'none',
        hint: example,
      }),
    );
  return prices.length === 0 ? { faults } : { prices: Object.fromEntries(prices), faults };
}
