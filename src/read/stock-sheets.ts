/** An item of a stock list that is a sheet: its sizes with their prices, and along which side its grain runs. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { mm } from '../units.ts';
import { type Entry, entryOf, quoted, textOf, textsOf, valueAt } from './node.ts';
import { sidesOfSheet } from './sides.ts';
import { entriesOf, lengthAt, positive, pricesAt } from './stock-values.ts';
import type { SheetSize, StockItem } from './types.ts';

/** Keys of a board that mean nothing on a sheet. */
const BOARD_KEYS = ['width', 'sold', 'profile', 'cover', 'tongue', 'rough', 'defects'] as const;

/** Reads a sheet. The item is left out where its thickness or all its sizes have faults. */
export function readSheetItem(
  entry: Entry,
  species: readonly string[],
): { readonly item?: StockItem; readonly diagnostics: readonly Diagnostic[] } {
  const { key, value: node } = entry;
  const diagnostics: Diagnostic[] = [...positive(node, ['thickness'])];
  for (const name of BOARD_KEYS) {
    const stray = entryOf(node, name);
    if (stray)
      diagnostics.push(
        fault('stock.sheet-key', stray.key.origin, {
          expected: `"sheets" or "${name}", which only boards have`,
          found: 'both',
          hint: `leave "${name}" out: the sizes of a sheet stand under "sheets"`,
        }),
      );
  }
  const grain = (textOf(node, 'grain') ?? 'long') as NonNullable<StockItem['grain']>;
  const sheets = entriesOf(valueAt(node, 'sheets')).flatMap((sold) => {
    const read = readSize(sold, species, grain);
    diagnostics.push(...read.diagnostics);
    return read.size ?? [];
  });
  sheets.sort((a, b) => a.length * a.width - b.length * b.width);
  const thickness = lengthAt(node, 'thickness');
  const list = entryOf(node, 'sheets');
  if (list?.value.kind === 'map' && list.value.entries.length === 0)
    diagnostics.push(
      fault('stock.value', list.value.origin, {
        expected: 'at least one size of sheet with its price',
        found: 'none',
        hint: '4 x 8 ft: { birch plywood: 62.00 }',
      }),
    );
  if (thickness === undefined || sheets.length === 0) return { diagnostics };
  const longest = mm(Math.max(...sheets.flatMap((sheet) => [sheet.length, sheet.width])));
  const item: StockItem = {
    key: key.text,
    label: textOf(node, 'label') ?? key.text,
    stands_for: textsOf(node, 'stands for').map((name) => name.text),
    thickness,
    width: longest,
    profile: 'square',
    cover: longest,
    tongue: mm(0),
    lengths: [],
    sheets,
    grain,
    origin: key.origin,
  };
  return { item, diagnostics };
}

function readSize(
  { key, value }: Entry,
  species: readonly string[],
  grain: NonNullable<StockItem['grain']>,
): { readonly size?: SheetSize; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  const sides = sidesOfSheet(key.text);
  if (sides === undefined)
    diagnostics.push(
      fault('stock.sheet-size', key.origin, {
        expected: 'the two sides of a sheet',
        found: quoted(key.text),
        hint: '4 x 8 ft',
      }),
    );
  const { prices, faults } = pricesAt(value, species, `{ ${species[0] ?? 'birch plywood'}: 62.00 }`);
  diagnostics.push(...faults);
  if (sides === undefined || prices === undefined) return { diagnostics };
  const [shorter, longer] = sides;
  const along = grain === 'across' ? shorter : longer;
  const across = grain === 'across' ? longer : shorter;
  return {
    diagnostics,
    size: {
      length: mm(along),
      width: mm(across),
      label: key.text.replaceAll(/\s*[x×]\s*/giu, ' × '),
      prices,
    },
  };
}
