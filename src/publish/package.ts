/** What a buyer receives: one zip a plan, with the sheets of each edition, its lists for a spreadsheet, licence and revisions. */
import { createHash } from 'node:crypto';
import { strToU8, type Zippable, zipSync } from 'fflate';
import { planTitle, variantSlug } from '../model/naming.ts';
import { lineText } from '../text.ts';
import { printed, sizeText } from '../units.ts';
import { dateParts } from './pdf/pdf-data.ts';
import type { FinishedPlan, OutputFile, PlanBundle, Shop } from './types.ts';
import { csv } from './words/csv.ts';
import { sawListCsv } from './words/saw-list.ts';

/** A file made elsewhere (sheets, templates, models) and the name it is packed under. */
export interface PackedFile {
  readonly name: string;
  readonly content: Uint8Array;
}

/** A store of packages made before, by all that tells what is in one. */
export interface KeptPackages {
  readonly get: (key: string) => Uint8Array | undefined;
  readonly put: (key: string, content: Uint8Array) => void;
}

/**
 * The package of a plan, or of one of its variants: `packages/<slug>.zip`. Entries are sorted and dated by the newest revision, so the bytes
 * are stable. With a store, one that holds the same files is taken from it.
 */
export function packageFiles(
  bundle: PlanBundle,
  made: readonly PackedFile[],
  shop: Shop,
  kept?: KeptPackages,
): OutputFile[] {
  const { front } = bundle;
  const plan = bundle.editions[0]?.finished.plan;
  const slug = plan === undefined ? bundle.slug : variantSlug(plan);
  const contents = new Map<string, Uint8Array>(made.map(({ name, content }) => [name, content]));
  for (const { edition, finished } of bundle.editions) {
    contents.set(`${slug}-${edition.key}-cut-list.csv`, strToU8(cutListCsv(finished)));
    contents.set(`${slug}-${edition.key}-shopping-list.csv`, strToU8(shoppingCsv(finished)));
    contents.set(`${slug}-${edition.key}-saw-list.csv`, strToU8(sawListCsv(finished)));
  }
  contents.set('licence.txt', strToU8(licenceText(bundle, shop)));
  contents.set('revisions.txt', strToU8(revisionsText(bundle)));
  const names = [...contents.keys()].sort();
  const manifest = {
    title: plan === undefined ? front.title : planTitle(plan),
    number: front.number,
    revision: front.revisions[0]?.revision ?? '',
    date: front.revisions[0]?.date ?? '',
    shop: shop.name,
    files: names.map((name) => {
      const content = contents.get(name) as Uint8Array;
      return { name, bytes: content.length, sha256: createHash('sha256').update(content).digest('hex') };
    }),
  };
  const listed = `${JSON.stringify(manifest, null, 2)}\n`;
  contents.set('manifest.json', strToU8(listed));
  const path = `packages/${slug}.zip`;
  // The manifest has the hash of all other files, and the date.
  const key = `${slug}\n${listed}`;
  const known = kept?.get(key);
  if (known !== undefined) return [{ path, content: known }];
  const mtime = zipTime(front.revisions[0]?.date);
  const entries: Zippable = {};
  for (const name of [...contents.keys()].sort()) {
    const content = contents.get(name) as Uint8Array;
    // A PDF's streams are packed already. Attributes: Unix, a plain file that all may read.
    entries[`${slug}/${name}`] = [
      content,
      { level: name.endsWith('.pdf') ? 6 : 9, mtime, os: 3, attrs: 0o100644 << 16 },
    ];
  }
  const content = zipSync(entries);
  kept?.put(key, content);
  return [{ path, content }];
}

/**
 * The time in a zip: noon of the newest revision's day. Its fields hold local time, so the date is made of local parts. Years
 * outside 1980 to 2107 can't be written (APPNOTE 4.4.6); such a date, or none, becomes the first one that can.
 */
export function zipTime(date: string | undefined): Date {
  const parts = dateParts(date);
  return parts === null || parts[0] < 1980 || parts[0] > 2107
    ? new Date(1980, 0, 1)
    : new Date(parts[0], parts[1] - 1, parts[2], 12);
}

/** A table's number: millimetres, or decimal inches for adding up. Four decimals hold a 64th of an inch. */
const decimals = (value: number): number => Number(value.toFixed(4));

/** The cut list, a row a kind of board: printed sizes for the eye, millimetres for sums. */
export function cutListCsv(finished: FinishedPlan): string {
  const style = finished.plan.edition.numbers;
  const say = (length: number) => sizeText(printed(length, style));
  return csv([
    [
      'letter',
      'name',
      'quantity',
      'stock',
      'species',
      'thickness',
      'width',
      'length',
      'thickness mm',
      'width mm',
      'length mm',
      'notes',
    ],
    ...finished.cutList.rows.map((row) => [
      row.letter,
      row.name,
      row.quantity,
      row.stock.label,
      row.species,
      say(row.thickness),
      say(row.width),
      say(row.length),
      decimals(row.thickness),
      decimals(row.width),
      decimals(row.length),
      row.notes.map(lineText).join('; '),
    ]),
  ]);
}

/** The shopping list: boards first, as the sheets have it. An unknown price leaves its field empty. */
export function shoppingCsv(finished: FinishedPlan): string {
  const { rows, currency } = finished.shopping;
  return csv([
    ['kind', 'item', 'size', 'sold as', 'needed', 'buy', `each ${currency}`, `cost ${currency}`],
    ...rows.map((row) => [
      row.kind,
      row.name,
      lineText(row.size),
      row.unit,
      row.needed,
      row.quantity,
      row.each === undefined ? '' : row.each.toFixed(2),
      row.cost === undefined ? '' : row.cost.toFixed(2),
    ]),
  ]);
}

const paragraphs = (lines: readonly string[]): string =>
  `${lines.join('\r\n').replaceAll(/(?<!\r)\n/g, '\r\n')}\r\n`;

function licenceText(bundle: PlanBundle, shop: Shop): string {
  const { title, number, licence } = bundle.front;
  return paragraphs([
    `${title}, plan ${number}`,
    `${shop.name}, ${shop.address}`,
    shop.url,
    '',
    (licence ?? shop.licence).trim(),
  ]);
}

function revisionsText(bundle: PlanBundle): string {
  const { title, number, revisions } = bundle.front;
  return paragraphs([
    `${title}, plan ${number}: revisions, the newest first`,
    '',
    ...revisions.map(({ revision, date, note }) => `${revision}  ${date}  ${note}`),
  ]);
}
