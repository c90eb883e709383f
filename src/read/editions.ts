/** The editions of a shop: two exist from the start; the shop file says which stock list each uses, and can define others. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { inches, mm } from '../units.ts';
import { listed, readArea } from './forms.ts';
import { labelSheet, NO_LABELS } from './label-sheets.ts';
import { nearest } from './nearest.ts';
import { type Entry, type Node, quoted, textOf, valueAt, writtenOf } from './node.ts';
import { CUT_LEVELS, FRACTIONS } from './schemas/shop.ts';
import { KEY } from './schemas/stock.ts';
import { lengthAt } from './stock-values.ts';
import type { Edition } from './types.ts';

const BUILT_IN: readonly Edition[] = [
  {
    key: 'imperial',
    name: 'Imperial',
    numbers: { system: 'inch', denominator: 16 },
    side: 'left',
    stockList: 'north-american-softwood',
    paper: 'letter',
    projection: 'third angle',
    kerf: inches(1 / 8),
    language: 'en-US',
  },
  {
    key: 'metric',
    name: 'Metric',
    numbers: { system: 'mm', denominator: 16 },
    side: 'right',
    stockList: 'metric-softwood',
    paper: 'a4',
    projection: 'first angle',
    kerf: mm(3),
    language: 'en-GB',
  },
];

/**
 * The editions in order: imperial, metric, then the shop's own. `node` is the value of `editions`, checked for form.
 * `stockLists` are the keys of the lists that exist.
 */
export function readEditions(
  node: Node | undefined,
  stockLists: readonly string[],
  shopFile: string,
): { readonly editions: readonly Edition[]; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const entries = node?.kind === 'map' ? node.entries : [];
  const editions = BUILT_IN.map((base) =>
    changed(
      base,
      entries.find((one) => one.key.text === base.key),
    ),
  );
  for (const entry of entries) {
    if (BUILT_IN.some((base) => base.key === entry.key.text)) continue;
    const read = added(entry);
    diagnostics.push(...read.diagnostics);
    if (read.edition) editions.push(read.edition);
  }
  for (const edition of editions) {
    if (stockLists.includes(edition.stockList)) continue;
    const entry = entries.find((one) => one.key.text === edition.key);
    const place = writtenOf(entry?.value, 'stock')?.origin ?? entry?.key.origin;
    diagnostics.push(
      fault('shop.stock-unknown', place ?? { file: shopFile, line: 1, column: 1 }, {
        expected: `a stock list for the ${edition.key} edition: ${listed(stockLists) || 'a file in content/stock'}`,
        found: quoted(edition.stockList),
        hint: nearest(edition.stockList, stockLists) ?? `Add content/stock/${edition.stockList}.yaml.`,
      }),
    );
  }
  return { editions, diagnostics };
}

/** A built-in edition with what the shop file changes. */
function changed(base: Edition, entry: Entry | undefined): Edition {
  if (entry === undefined) return base;
  const node = entry.value;
  const word = <T extends string>(key: string, other: T): T => (textOf(node, key) as T | undefined) ?? other;
  const longest = lengthAt(node, 'longest board');
  const levels = CUT_LEVELS.find((one) => one === textOf(node, 'cut levels'));
  const piece = readArea(textOf(node, 'largest piece') ?? '');
  const labels = textOf(node, 'labels');
  const sheet = labels === NO_LABELS ? labels : labelSheet(labels ?? '')?.key;
  const fraction = FRACTIONS.find((one) => one === textOf(node, 'fraction'));
  const denominator = fraction === undefined ? base.numbers.denominator : Number(fraction.slice(2));
  return {
    key: base.key,
    name: word('name', base.name),
    numbers: {
      system: word('units', base.numbers.system),
      denominator: denominator as Edition['numbers']['denominator'],
    },
    side: word('side', base.side),
    stockList: word('stock', base.stockList),
    paper: word('paper', base.paper),
    projection: word('projection', base.projection),
    kerf: lengthAt(node, 'kerf') ?? base.kerf,
    ...(longest === undefined ? {} : { longestBoard: longest }),
    ...(levels === undefined ? {} : { cutLevels: Number(levels) }),
    ...(piece === undefined ? {} : { largestPiece: piece * 1e6 }),
    language: word('language', base.language),
    ...(sheet === undefined ? {} : { labels: sheet }),
  };
}

/** An edition of the shop's own: like one that exists, with its own stock list. */
function added(entry: Entry): { readonly edition?: Edition; readonly diagnostics: readonly Diagnostic[] } {
  const { key, value } = entry;
  const diagnostics: Diagnostic[] = [];
  if (!KEY.test(key.text))
    diagnostics.push(
      fault('shop.edition-key', key.origin, {
        expected: 'a key for the edition in small letters, digits and hyphens',
        found: quoted(key.text),
        hint: nearest(key.text, ['imperial', 'metric']) ?? 'australia',
      }),
    );
  const base = BUILT_IN.find((one) => one.key === textOf(value, 'like'));
  for (const name of ['like', 'name', 'stock'] as const) {
    if (valueAt(value, name) !== undefined) continue;
    diagnostics.push(
      fault('shop.key-missing', key.origin, {
        expected: `"${name}" in the edition ${quoted(key.text)}, which is one of your own`,
        found: 'none',
        hint: { like: 'like: metric', name: 'name: Australia', stock: 'stock: australian-pine' }[name],
      }),
    );
  }
  if (diagnostics.length > 0 || base === undefined) return { diagnostics };
  return { diagnostics, edition: { ...changed(base, entry), key: key.text } };
}
