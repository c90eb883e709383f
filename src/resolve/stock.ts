/** Finds a part's board in the edition's stock list, and the species it is cut from. */

import type { Diagnostic } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import { editDistance } from '../read/nearest.ts';
import { quoted } from '../read/node.ts';
import type {
  Edition,
  PartSource,
  PlanSource,
  ShopSource,
  StockItem,
  StockList,
  Written,
} from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { INCH } from '../units.ts';
import { either, nameHint, nearest } from './names.ts';
import { figure } from './quantities.ts';

type Report = (diagnostic: Diagnostic) => void;

/** The edition's side of a name that may be a pair: `1x4 | 20x94`. Names hold no `|` themselves. */
export function sideOf(written: Written, edition: Edition): Written {
  const bar = written.text.indexOf('|');
  if (bar < 0) return { text: written.text.trim(), origin: written.origin };
  const start = edition.side === 'left' ? 0 : bar + 1;
  const raw = edition.side === 'left' ? written.text.slice(0, bar) : written.text.slice(start);
  return { text: raw.trim(), origin: placeIn(written, start + raw.length - raw.trimStart().length) };
}

/** A nominal name without the differences that don't matter: case, white space, the multiplication sign. */
const plain = (name: string): string => name.toLowerCase().replaceAll('×', 'x').replaceAll(/\s+/gu, '');

const named = (list: StockList, name: string): StockItem | undefined =>
  list.items.find((item) => plain(item.key) === plain(name)) ??
  list.items.find((item) => item.stands_for.some((other) => plain(other) === plain(name)));

/** Thickness and width that a nominal name speaks of: from another list of the shop, or from its figures. */
function sectionOf(name: string, lists: readonly StockList[]): readonly [number, number] | undefined {
  for (const list of lists) {
    const item = named(list, name);
    if (item) return [item.thickness, item.width];
  }
  const match = /^([0-9]{1,3}(?:\/[0-9]{1,2})?)x([0-9]{1,3})/u.exec(plain(name));
  if (!match) return undefined;
  const [over, under] = (match[1] as string).split('/').map(Number) as [number, number?];
  const [thick, wide] = [under ? over / under : over, Number(match[2])];
  const unit = thick <= 12 && wide <= 16 ? INCH : 1;
  return [thick * unit, wide * unit];
}

/** The boards of a list nearest to a section, by the sum of both differences. */
function nearestSections(list: StockList, section: readonly [number, number]): readonly StockItem[] {
  const far = (item: StockItem) =>
    Math.abs(item.thickness - section[0]) * 2 + Math.abs(item.width - section[1]);
  return list.items
    .filter((item) => !item.sheets)
    .sort((a, b) => far(a) - far(b) || (a.key < b.key ? -1 : 1))
    .slice(0, 3);
}

/** What a list has, of its sheets alone where the name speaks of one: `plywood`. */
function heldIn(list: StockList, name: string): string {
  const sheets = /ply|mdf|osb|sheet|panel/iu.test(name) ? list.items.filter((one) => one.sheets) : [];
  const shown = (sheets.length > 0 ? sheets : list.items).map((one) => one.key);
  return `it has ${shown.slice(0, 12).join(', ')}${shown.length > 12 ? ' and more' : ''}`;
}

/** The board a part is cut from; undefined after a report that lists the nearest sections, or where its fault was said in the list. */
export function boardOf(
  part: PartSource,
  list: StockList,
  edition: Edition,
  shop: ShopSource,
  report: Report,
): StockItem | undefined {
  const name = sideOf(part.stock, edition);
  const item = named(list, name.text);
  if (item) return item;
  if (list.faulty?.some((one) => plain(one) === plain(name.text))) return undefined;
  const section = sectionOf(name.text, shop.stockLists);
  const near = section ? nearestSections(list, section) : [];
  const shown = near.map(
    (one) => `${one.key} (${figure(one.thickness, edition.numbers)} × ${figure(one.width, edition.numbers)})`,
  );
  const close = nearest(
    name.text,
    list.items.map((one) => one.key),
  );
  const elsewhere = shop.stockLists.some((other) => other !== list && named(other, name.text));
  const best = near[0];
  const pair = (one: StockItem): string =>
    edition.side === 'left' ? `${one.key} | ${name.text}` : `${name.text} | ${one.key}`;
  // a name with words in it, one letter off, is that name misspelt: `1x6 T+G`
  const [typed] = close;
  const misspelt =
    typed !== undefined &&
    !elsewhere &&
    /[^0-9x/. ]/u.test(name.text) &&
    editDistance(name.text, typed) === 1;
  const hint = misspelt
    ? `did you mean ${typed}?`
    : shown.length > 0
      ? `the nearest sections are ${either(shown)}${best && elsewhere && !part.stock.text.includes('|') ? `; write stock: ${pair(best)}` : ''}`
      : close.length > 0
        ? `did you mean ${either(close)}?`
        : heldIn(list, name.text);
  report(
    fault('stock.unknown', name.origin, {
      expected: `a board of the list "${list.name}"`,
      found: quoted(name.text),
      hint,
      parts: [part.key],
    }),
  );
  return undefined;
}

/** True where a board or sheet has a price in a species, in any size. */
const soldIn = (item: StockItem, species: string): boolean =>
  [...item.lengths, ...(item.sheets ?? [])].some((size) => Object.hasOwn(size.prices, species));

/** The one species that a sheet is sold in: plywood is named by its stock, and isn't of the species of the plan's boards. */
function onlyOf(item: StockItem | undefined): string | undefined {
  const sold = new Set(item?.sheets?.flatMap(({ prices }) => Object.keys(prices)));
  return sold.size === 1 ? [...sold][0] : undefined;
}

/**
 * The species of each part: its own, that of a sheet sold in one only, the plan's, or the list's default; each checked to be in the list and
 * sold for its board.
 */
export function speciesOf(
  source: PlanSource,
  boards: ReadonlyMap<string, StockItem | undefined>,
  list: StockList,
  edition: Edition,
  report: Report,
): ReadonlyMap<string, string> {
  const keys = list.species.map((species) => species.key);
  const faulty = new Set<Written>();
  const known = (written: Written | undefined): string | undefined => {
    if (!written) return list.defaultSpecies;
    const name = sideOf(written, edition);
    const wanted = name.text.toLowerCase();
    const found = list.species.find(
      (one) => one.key.toLowerCase() === wanted || one.name.toLowerCase() === wanted,
    );
    if (found) return found.key;
    if (!faulty.has(written)) {
      const said = { expected: `a species of the list "${list.name}"`, found: quoted(name.text) };
      report(fault('species.unknown', name.origin, { ...said, ...nameHint(name.text, keys) }));
    }
    faulty.add(written);
    return undefined;
  };
  known(source.front.species);
  const result = new Map<string, string>();
  const told = new Set<string>();
  for (const part of source.parts) {
    const board = boards.get(part.key);
    const key = part.species ? known(part.species) : (onlyOf(board) ?? known(source.front.species));
    if (key === undefined) continue;
    result.set(part.key, key);
    if (board === undefined || soldIn(board, key)) continue;
    // The plan's own species in the same board: said once, at the first part.
    const again = `${board.key} ${key}`;
    if (!part.species && told.has(again)) continue;
    told.add(again);
    const sold = keys.filter((one) => soldIn(board, one));
    const where = part.species ?? part.stock;
    report(
      fault('species.not-sold', sideOf(where, edition).origin, {
        expected: `a species in which ${board.key} is sold`,
        found: quoted(key),
        hint:
          sold.length > 0
            ? `${board.key} is sold in ${either(sold)}`
            : `${board.key} has no price in "${list.name}"`,
        parts: [part.key],
      }),
    );
  }
  return result;
}
