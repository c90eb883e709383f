/** Front matter: what the catalogue, the title strip and the licence page say of a plan. */
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { check } from './check.ts';
import { isDay } from './forms.ts';
import { itemsOf, type Node, quoted, textOf, textsOf, valueAt, writtenOf } from './node.ts';
import { frontMatter, PRICE } from './schemas/front.ts';
import type { FrontMatter, Photo, Revision } from './types.ts';

/**
 * Reads checked front matter; a fault leaves a plain stand-in in its place, so that the rest of the plan can be checked too.
 * `exists` tells whether a file lies in the plan's folder.
 */
export function readFront(
  node: Node,
  origin: Origin,
  broken: readonly string[],
  exists: ((name: string) => boolean) | undefined,
): { value: FrontMatter; diagnostics: Diagnostic[] } {
  const owner = { called: 'the front matter', origin };
  const diagnostics = check(node, frontMatter, 'front', owner, broken);
  const revisions = itemsOf(node, 'revisions').flatMap((item): Revision[] => {
    const revision = textOf(item, 'revision');
    const date = textOf(item, 'date');
    return revision !== undefined && date !== undefined && isDay(date)
      ? [{ revision, date, note: textOf(item, 'note') ?? '' }]
      : [];
  });
  diagnostics.push(...revisionFaults(node));
  const photos = itemsOf(node, 'photos').flatMap((item): Photo[] => {
    const file = writtenOf(item, 'file');
    if (file === undefined) return [];
    if (exists && /^[^/\\]+$/u.test(file.text) && !exists(file.text))
      diagnostics.push(
        fault('front.photo-missing', file.origin, {
          expected: 'a picture file in the folder of the plan',
          found: `${quoted(file.text)}, which isn't there`,
          hint: 'Copy the picture beside plan.md, or correct its name.',
        }),
      );
    return [{ file: file.text, alt: textOf(item, 'alt') ?? '', origin: file.origin }];
  });
  const picture = writtenOf(node, 'picture');
  const licence = textOf(node, 'licence');
  const species = writtenOf(node, 'species');
  const checkout = textOf(node, 'checkout');
  const value: FrontMatter = {
    title: textOf(node, 'title') ?? 'Untitled',
    number: Number(textOf(node, 'number') ?? '0') || 0,
    summary: textOf(node, 'summary') ?? '',
    kind: textOf(node, 'kind') ?? '',
    price: priceOf(valueAt(node, 'price')),
    skill: textOf(node, 'skill') ?? '',
    time: textOf(node, 'time') ?? '',
    revisions: revisions.length > 0 ? revisions : [{ revision: 'A', date: '1980-01-01', note: '' }],
    photos,
    ...(picture === undefined ? {} : { picture }),
    ...(licence === undefined ? {} : { licence }),
    tools: textsOf(node, 'tools').map((item) => item.text),
    ...(species === undefined ? {} : { species }),
    ...(checkout === undefined ? {} : { checkout }),
  };
  return { value, diagnostics };
}

/** Amounts by currency; none for a free plan. */
export function priceOf(node: Node | undefined): Record<string, number> {
  if (node?.kind === 'text') {
    const match = PRICE.exec(node.text);
    return match ? { [match[2] as string]: Number(match[1]) } : {};
  }
  if (node?.kind !== 'map') return {};
  const amounts = node.entries.flatMap((entry): [string, number][] =>
    entry.value.kind === 'text' && Number(entry.value.text) > 0
      ? [[entry.key.text, Number(entry.value.text)]]
      : [],
  );
  return Object.fromEntries(amounts.sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Newest first, and each name once. */
function revisionFaults(node: Node): Diagnostic[] {
  const said: Diagnostic[] = [];
  const seen = new Map<string, number>();
  let newer: string | undefined;
  for (const item of itemsOf(node, 'revisions')) {
    const name = writtenOf(item, 'revision');
    const date = writtenOf(item, 'date');
    const first = name && seen.get(name.text);
    if (name && first !== undefined)
      said.push(
        fault('front.revision-twice', name.origin, {
          expected: 'another name for each revision',
          found: `${quoted(name.text)} again, which stands in line ${first} already`,
        }),
      );
    else if (name) seen.set(name.text, name.origin.line);
    if (date === undefined || !isDay(date.text)) continue;
    if (newer !== undefined && date.text > newer)
      said.push(
        fault('front.revision-order', date.origin, {
          expected: `a day not after ${newer}, since the newest revision comes first`,
          found: date.text,
          hint: 'Move this revision up.',
        }),
      );
    else newer = date.text;
  }
  return said;
}
