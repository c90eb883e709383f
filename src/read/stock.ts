/** A stock list: what a yard sells, in real sizes. */
import { type Diagnostic, fault, type Outcome, sortDiagnostics } from '../diagnostics.ts';
import { inches, type Length, mm, readLength } from '../units.ts';
import { check } from './check.ts';
import { excerptOf, plainText } from './excerpt.ts';
import { readDefects } from './forms.ts';
import { type Entry, entryOf, type Node, quoted, textOf, textsOf, valueAt, writtenOf } from './node.ts';
import * as schemas from './schemas/stock.ts';
import { readSheetItem } from './stock-sheets.ts';
import { entriesOf, lengthAt, positive, pricesAt, unknownSpecies } from './stock-values.ts';
import type { Defects, Species, StockItem, StockLength, StockList } from './types.ts';
import { readYaml } from './yaml.ts';

/** Reads `content/stock/<key>.yaml`. Items with faults are left out; without a name or species there is no list. */
export function readStock(key: string, file: string, text: string): Outcome<StockList | undefined> {
  const yaml = readYaml(excerptOf(file, plainText(text)));
  const { node } = yaml;
  const diagnostics: Diagnostic[] = [...yaml.diagnostics];
  const origin = { file, line: 1, column: 1 };
  if (yaml.broken.includes('*')) return { value: undefined, diagnostics };
  diagnostics.push(
    ...check(node, schemas.stockList, 'stock', { called: 'the stock list', origin }, yaml.broken),
  );
  const species = entriesOf(valueAt(node, 'species')).flatMap((entry): Species[] => {
    const name = textOf(entry.value, 'name');
    const density = Number(textOf(entry.value, 'density'));
    if (name === undefined) return [];
    const known = { ...(density > 0 ? { density } : {}), ...defectsAt(entry.value) };
    return [{ key: entry.key.text, name, ...known }];
  });
  const keys = species.map((one) => one.key);
  const byDefault = writtenOf(node, 'default species');
  if (byDefault && !yaml.broken.includes('species')) diagnostics.push(...unknownSpecies(byDefault, keys));
  const items: StockItem[] = [];
  const faulty: string[] = [];
  const names = new Map<string, number>();
  for (const entry of entriesOf(valueAt(node, 'items'))) {
    const read = readItem(entry, keys);
    diagnostics.push(...read.diagnostics);
    for (const name of [
      { text: entry.key.text, origin: entry.key.origin },
      ...textsOf(entry.value, 'stands for'),
    ]) {
      const first = names.get(name.text);
      if (first === undefined) names.set(name.text, name.origin.line);
      else
        diagnostics.push(
          fault('stock.name-twice', name.origin, {
            expected: 'each nominal name once in a list, so that a plan means one item by it',
            found: `${quoted(name.text)} again, which stands in line ${first} already`,
            hint: 'Leave it out in one of the two places.',
          }),
        );
    }
    if (read.item) items.push(read.item);
    else faulty.push(entry.key.text, ...textsOf(entry.value, 'stands for').map(({ text }) => text));
  }
  const name = textOf(node, 'name');
  const currency = textOf(node, 'currency');
  const endTrim = lengthAt(node, 'end trim');
  const sheetTrim = lengthAt(node, 'sheet trim');
  const said = sortDiagnostics(diagnostics);
  if (!name || !currency || endTrim === undefined || !byDefault)
    return { value: undefined, diagnostics: said };
  const region = textOf(node, 'region') ?? '';
  const value: StockList = {
    key,
    file,
    name,
    region,
    currency,
    species,
    defaultSpecies: byDefault.text,
    endTrim,
    ...(sheetTrim === undefined ? {} : { sheetTrim }),
    ...(['yes', 'true'].includes(textOf(node, 'cut in the yard') ?? '') ? { yardCuts: true } : {}),
    items,
    ...(faulty.length === 0 ? {} : { faulty }),
  };
  return { value, diagnostics: said };
}

/** What knots and checks cost, as written; nothing where it has a fault. */
function defectsAt(node: Node | undefined): { readonly defects?: Defects } {
  const text = textOf(node, 'defects');
  const defects = text === undefined ? undefined : readDefects(text);
  return defects === undefined ? {} : { defects };
}

function readItem(
  entry: Entry,
  species: readonly string[],
): { readonly item?: StockItem; readonly diagnostics: readonly Diagnostic[] } {
  const { key, value: node } = entry;
  if (entryOf(node, 'sheets') !== undefined) return readSheetItem(entry, species);
  const diagnostics: Diagnostic[] = [];
  const thickness = lengthAt(node, 'thickness');
  const width = lengthAt(node, 'width');
  const isTongue = textOf(node, 'profile') === 'tongue-and-groove';
  const cover = lengthAt(node, 'cover');
  const tongue = lengthAt(node, 'tongue');
  const rough = lengthAt(node, 'rough');
  diagnostics.push(...positive(node, ['thickness', 'width']));
  if (entryOf(node, 'grain'))
    diagnostics.push(
      fault('stock.sheets-missing', entryOf(node, 'grain')?.key.origin ?? key.origin, {
        expected: '"sheets" beside "grain", which only sheets have',
        found: 'none',
        hint: 'sheets:\n  4 x 8 ft: { birch plywood: 62.00 }',
      }),
    );
  if (thickness !== undefined && width !== undefined && thickness > width)
    diagnostics.push(
      fault('stock.section', key.origin, {
        expected: 'a width at least as large as the thickness',
        found: `${textOf(node, 'thickness')} thick and ${textOf(node, 'width')} wide`,
        hint: `thickness: ${textOf(node, 'width')}\nwidth: ${textOf(node, 'thickness')}`,
      }),
    );
  diagnostics.push(...tongueFaults(key, node, isTongue, width, cover, tongue));
  const straightened = roughFault(node, isTongue, width, rough);
  if (straightened !== undefined) diagnostics.push(straightened);
  const lengths = entriesOf(valueAt(node, 'sold')).flatMap((sold) => {
    const read = readSold(sold, species);
    diagnostics.push(...read.diagnostics);
    return read.length ?? [];
  });
  lengths.sort((a, b) => a.length - b.length);
  const sold = entryOf(node, 'sold');
  if (sold && sold.value.kind === 'map' && sold.value.entries.length === 0) diagnostics.push(noLength(sold));
  const lost = defectsAt(node).defects;
  if (lost !== undefined && 'length' in lost && lost.length >= Math.max(...lengths.map((one) => one.length)))
    diagnostics.push(
      fault('stock.defects', entryOf(node, 'defects')?.value.origin ?? key.origin, {
        expected: 'less than the longest board that is sold',
        found: `${textOf(node, 'defects')} lost of each`,
        hint: 'defects: 10 %',
      }),
    );
  if (thickness === undefined || width === undefined || lengths.length === 0) return { diagnostics };
  if (straightened !== undefined) return { diagnostics };
  const label = textOf(node, 'label') ?? key.text.replace(/(?<=[0-9])x(?=[0-9])/gu, '×');
  const item: StockItem = {
    key: key.text,
    label,
    stands_for: textsOf(node, 'stands for').map((name) => name.text),
    thickness,
    width,
    profile: isTongue ? 'tongue-and-groove' : 'square',
    cover: isTongue && cover !== undefined ? cover : mm(width - (rough ?? 0)),
    tongue: isTongue && tongue !== undefined ? tongue : mm(0),
    lengths,
    ...(rough === undefined ? {} : { rough }),
    ...defectsAt(node),
    origin: key.origin,
  };
  return { item, diagnostics };
}

/** A rough edge that a board can't have. */
function roughFault(
  node: Node,
  isTongue: boolean,
  width: Length | undefined,
  rough: Length | undefined,
): Diagnostic | undefined {
  const entry = entryOf(node, 'rough');
  if (entry === undefined || rough === undefined) return undefined;
  if (isTongue)
    return fault('stock.rough', entry.key.origin, {
      expected: 'a tongue-and-groove board with its planed edges',
      found: '"rough"',
      hint: 'leave "rough" out',
    });
  if (width === undefined || (rough > 0 && rough < width)) return undefined;
  return fault('stock.rough', entry.value.origin, {
    expected: `more than 0 and less than the width of the board, ${textOf(node, 'width')}`,
    found: `${textOf(node, 'rough')} off its rough edge`,
    hint: 'rough: 1/4 in',
  });
}

const noLength = (sold: Entry): Diagnostic =>
  fault('stock.value', sold.value.origin, {
    expected: 'at least one length with its price',
    found: 'none',
    hint: '8 ft: { pine: 5.50 }',
  });

/** A sixteenth: yards round the three figures of a worked board on their own, so their sum may be off by a little. */
const SUM_OFF = inches(1 / 16);

function tongueFaults(
  key: Entry['key'],
  node: Node,
  isTongue: boolean,
  width: Length | undefined,
  cover: Length | undefined,
  tongue: Length | undefined,
): Diagnostic[] {
  const said: Diagnostic[] = [];
  for (const name of ['cover', 'tongue'] as const) {
    const entry = entryOf(node, name);
    if (isTongue && entry === undefined)
      said.push(
        fault('stock.key-missing', key.origin, {
          expected: `"${name}" in ${quoted(key.text)}, a tongue-and-groove board`,
          found: 'none',
          hint: name === 'cover' ? 'cover: 5-1/8 in' : 'tongue: 1/4 in',
        }),
      );
    if (!isTongue && entry)
      said.push(
        fault('stock.profile-missing', entry.key.origin, {
          expected: `"profile: tongue-and-groove" beside "${name}"`,
          found: 'a square board',
          hint: 'profile: tongue-and-groove',
        }),
      );
  }
  if (!isTongue || width === undefined || cover === undefined || tongue === undefined) return said;
  if (Math.abs(cover + tongue - width) > SUM_OFF)
    said.push(
      fault('stock.tongue', entryOf(node, 'cover')?.value.origin ?? key.origin, {
        expected: `cover and tongue to add up to the width, ${textOf(node, 'width')}`,
        found: `${textOf(node, 'cover')} and ${textOf(node, 'tongue')}`,
      }),
    );
  return said;
}

function readSold(
  entry: Entry,
  species: readonly string[],
): { readonly length?: StockLength; readonly diagnostics: readonly Diagnostic[] } {
  const { key, value } = entry;
  const diagnostics: Diagnostic[] = [];
  const read = readLength(key.text);
  if (!('length' in read) || read.length <= 0)
    diagnostics.push(
      fault('stock.length', key.origin, {
        expected: 'a length that is sold',
        found: quoted(key.text),
        hint: '8 ft',
      }),
    );
  const { prices, faults } = pricesAt(value, species, `{ ${species[0] ?? 'pine'}: 5.50 }`);
  diagnostics.push(...faults);
  if (!('length' in read) || prices === undefined) return { diagnostics };
  return {
    diagnostics,
    length: { length: read.length, label: key.text, prices },
  };
}
