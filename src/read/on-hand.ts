/** `content/on-hand.yaml`: boards and pieces of sheets that are there already. They are used first and cost nothing. */
import { type Diagnostic, fault, type Outcome, sortDiagnostics } from '../diagnostics.ts';
import { check } from './check.ts';
import { excerptOf, plainText } from './excerpt.ts';
import { nearest } from './nearest.ts';
import { itemsOf, quoted, textOf, writtenOf } from './node.ts';
import { isNamed } from './own-stock.ts';
import { onHand as schema } from './schemas/on-hand.ts';
import { lengthAt } from './stock-values.ts';
import type { OwnPiece, StockList } from './types.ts';
import { readYaml } from './yaml.ts';

const ON_HAND_FILE = 'content/on-hand.yaml';

/** Keys of the species of all lists that have an item of this name: of a sheet those that it is sold in. */
function speciesOf(lists: readonly StockList[], name: string): string[] {
  const kinds = lists.flatMap((list) =>
    list.items
      .filter((item) => isNamed(item, name))
      .flatMap((item) =>
        item.sheets
          ? item.sheets.flatMap(({ prices }) => Object.keys(prices))
          : list.species.map(({ key }) => key),
      ),
  );
  return [...new Set(kinds)].sort();
}

/** Reads the file. Pieces with faults are left out; each must be of an item that some stock list of the shop has. */
export function readOnHand(text: string, lists: readonly StockList[]): Outcome<readonly OwnPiece[]> {
  const yaml = readYaml(excerptOf(ON_HAND_FILE, plainText(text)));
  const diagnostics: Diagnostic[] = [...yaml.diagnostics];
  if (yaml.broken.includes('*')) return { value: [], diagnostics };
  const owner = { called: 'the list of what is on hand', origin: { file: ON_HAND_FILE, line: 1, column: 1 } };
  diagnostics.push(...check(yaml.node, schema, 'on-hand', owner, yaml.broken));
  const pieces = itemsOf(yaml.node, 'pieces').flatMap((node): OwnPiece[] => {
    const stock = writtenOf(node, 'stock');
    const length = lengthAt(node, 'length');
    if (stock === undefined || length === undefined) return [];
    const said = (id: string, expected: string, found: string, hint?: string): OwnPiece[] => {
      diagnostics.push(fault(id, stock.origin, { expected, found, ...(hint === undefined ? {} : { hint }) }));
      return [];
    };
    const items = lists.flatMap((list) => list.items);
    const known = items.filter((item) => isNamed(item, stock.text));
    const width = lengthAt(node, 'width');
    if (known.length === 0)
      return said(
        'on-hand.stock-unknown',
        'a nominal name of a stock list',
        quoted(stock.text),
        nearest(
          stock.text,
          items.map((item) => item.key),
        ),
      );
    if (length <= 0 || (width !== undefined && width <= 0))
      return said('on-hand.size', 'sizes of more than 0', 'a size of 0');
    const isSheet = known.some((item) => item.sheets !== undefined);
    if (isSheet !== (width !== undefined))
      return said(
        'on-hand.width',
        isSheet
          ? `a width beside the length, since ${stock.text} is a sheet`
          : 'a length alone, since it is a board',
        isSheet ? 'none' : 'a width',
        isSheet ? 'width: 600 mm' : 'leave "width" out',
      );
    const wood = writtenOf(node, 'species');
    const species = wood?.text;
    const kinds = speciesOf(lists, stock.text);
    if (wood !== undefined && !kinds.includes(wood.text)) {
      const found = `${quoted(wood.text)} for ${stock.text}`;
      const hint = nearest(wood.text, kinds) ?? kinds.join(' or ');
      diagnostics.push(
        fault('on-hand.species', wood.origin, {
          expected: 'the key of a species of its stock list',
          found,
          hint,
        }),
      );
      return [];
    }
    const sections = known
      .filter(({ key }) => key === stock.text)
      .map(({ thickness, width: wide }) => ({ thickness, width: wide }));
    return [
      {
        stock: stock.text,
        ...(sections.length > 0 ? { sections } : {}),
        ...(species === undefined ? {} : { species }),
        length,
        ...(width === undefined ? {} : { width }),
        label: [textOf(node, 'length'), textOf(node, 'width')].filter((one) => one !== undefined).join(' × '),
        count: Number(textOf(node, 'count') ?? 1) || 1,
        origin: stock.origin,
      },
    ];
  });
  return { value: pieces, diagnostics: sortDiagnostics(diagnostics) };
}
