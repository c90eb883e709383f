/** Names of sizes and parts: what formulas can say, and each once in a plan. */
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { quoted, type TextNode } from './node.ts';
import { RESERVED } from './schemas/words.ts';

const NAME = /^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/u;

/** The names of one plan, with the line of each. */
export type Names = Map<string, { readonly what: 'size' | 'part'; readonly origin: Origin }>;

/** Takes a name in; says why where it can't be one. */
export function addName(names: Names, key: TextNode, what: 'size' | 'part'): Diagnostic[] {
  if (!NAME.test(key.text)) {
    const tidy = key.text
      .toLowerCase()
      .replace(/[^a-z0-9]+/gu, '-')
      .replace(/^[-0-9]+|-+$/gu, '');
    return [
      fault('name.form', key.origin, {
        expected: `a name for a ${what} in small letters, digits and hyphens`,
        found: quoted(key.text),
        ...(NAME.test(tidy) ? { hint: tidy } : {}),
      }),
    ];
  }
  if (RESERVED.includes(key.text))
    return [
      fault('name.reserved', key.origin, {
        expected: `a name for a ${what} that isn't a face, the floor, the outline or a unit`,
        found: quoted(key.text),
        hint: `${key.text}-${what === 'part' ? 'board' : 'size'}`,
      }),
    ];
  const other = names.get(key.text);
  if (other)
    return [
      fault('name.twice', key.origin, {
        expected: 'another name for each size and part',
        found: `${quoted(key.text)} again, which is the name of a ${other.what} in line ${other.origin.line}`,
        hint: `${key.text}-2`,
      }),
    ];
  names.set(key.text, { what, origin: key.origin });
  return [];
}
