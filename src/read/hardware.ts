/** Hardware files: fasteners, fittings, glue and finish, with package and price. */
import { type Diagnostic, fault, type Outcome, sortDiagnostics } from '../diagnostics.ts';
import { type Length, readLength } from '../units.ts';
import { check } from './check.ts';
import { excerptOf, plainText } from './excerpt.ts';
import { listed, readArea, sidesOf } from './forms.ts';
import { priceOf } from './front.ts';
import { nearest } from './nearest.ts';
import { type Entry, type Node, quoted, textOf, textsOf, valueAt } from './node.ts';
import * as schemas from './schemas/stock.ts';
import { FITTINGS } from './schemas/words.ts';
import { lengthAt } from './stock-values.ts';
import type { FittingOutline, HardwareItem, JointKind } from './types.ts';
import { readYaml } from './yaml.ts';

/** Reads one file of `content/hardware/`. Items with faults are left out. `regions` are those of the stock lists, where known. */
export function readHardware(
  file: string,
  text: string,
  regions?: readonly string[],
): Outcome<readonly HardwareItem[]> {
  const yaml = readYaml(excerptOf(file, plainText(text)));
  const diagnostics: Diagnostic[] = [...yaml.diagnostics];
  const { node } = yaml;
  if (node.kind !== 'map') {
    const owner = { called: 'the hardware file', origin: { file, line: 1, column: 1 } };
    if (yaml.broken.length === 0) diagnostics.push(...check(node, schemas.hardware, 'hardware-file', owner));
    return { value: [], diagnostics };
  }
  const items = node.entries.flatMap((entry) => {
    const read = readItem(entry, regions);
    diagnostics.push(...read.diagnostics);
    return read.item ?? [];
  });
  return { value: items, diagnostics: sortDiagnostics(diagnostics) };
}

function readItem(
  entry: Entry,
  regions: readonly string[] | undefined,
): { readonly item?: HardwareItem; readonly diagnostics: readonly Diagnostic[] } {
  const { key, value: node } = entry;
  const diagnostics: Diagnostic[] = [];
  if (!schemas.KEY.test(key.text))
    diagnostics.push(
      fault('hardware-file.key', key.origin, {
        expected: 'a key in small letters, digits and hyphens',
        found: quoted(key.text),
        hint: 'strap-hinge',
      }),
    );
  const owner = { called: `the item "${key.text}"`, origin: key.origin };
  diagnostics.push(...check(node, schemas.hardwareItem, 'hardware-file', owner), ...outlineFaults(node));
  const fits = valueAt(node, 'fits');
  const from = lengthAt(fits, 'from');
  const to = lengthAt(fits, 'to');
  if (fits && from !== undefined && to !== undefined && from > to)
    diagnostics.push(
      fault('hardware-file.fits', fits.origin, {
        expected: '"from" not above "to"',
        found: `from ${textOf(fits, 'from')} to ${textOf(fits, 'to')}`,
        hint: `{ joint: ${textOf(fits, 'joint') ?? 'screws'}, from: ${textOf(fits, 'to')}, to: ${textOf(fits, 'from')} }`,
      }),
    );
  for (const region of textsOf(node, 'sold in')) {
    if (regions === undefined || regions.includes(region.text)) continue;
    diagnostics.push(
      fault('hardware-file.region-unknown', region.origin, {
        expected: `a region of the stock lists: ${listed(regions)}`,
        found: quoted(region.text),
        hint: nearest(region.text, regions) ?? `Leave "${region.text}" out.`,
      }),
    );
  }
  if (diagnostics.length > 0) return { diagnostics };
  const link = textOf(node, 'link');
  const outdoors = textOf(node, 'outdoors');
  const item: HardwareItem = {
    key: key.text,
    name: textOf(node, 'name') ?? key.text,
    ...lengthsOf(textOf(node, 'length')),
    ...sizesOf(textOf(node, 'size')),
    ...(from === undefined || to === undefined
      ? {}
      : { fits: { joint: textOf(fits, 'joint') as JointKind, from, to } }),
    ...kindOf(textOf(node, 'kind')),
    ...outlinesOf(node),
    ...woodOf(textOf(node, 'wood')),
    package: Number(textOf(node, 'package')),
    price: priceOf(valueAt(node, 'price')),
    regions: textsOf(node, 'sold in').map((region) => region.text),
    ...(link === undefined ? {} : { link }),
    ...coversOf(textOf(node, 'covers')),
    outdoors: outdoors === 'yes' || outdoors === 'true',
    origin: key.origin,
  };
  return { item, diagnostics };
}

function kindOf(text: string | undefined): Pick<HardwareItem, 'kind'> {
  const kind = FITTINGS.find((one) => one === text);
  return kind === undefined ? {} : { kind };
}

/** A length, or a pair of them; nothing of what can't be read. */
const lengthPair = (text: string | undefined): readonly Length[] =>
  (text === undefined ? [] : sidesOf(text).map(readLength)).flatMap((one) =>
    'length' in one ? [one.length] : [],
  );

const OUTLINE = ['length', 'width', 'thickness'] as const;
/** Leaves in the thickness of a knuckle, and the largest fitting that is drawn, mm. */
const [KNUCKLE, LARGEST] = [3, 3100];

/** An outline is drawn where it is whole: a part of one is a key forgotten. */
function outlineFaults(node: Node): Diagnostic[] {
  const has = (key: string): boolean => valueAt(node, key) !== undefined;
  const given = ['diameter', 'knuckle', 'width', 'thickness'].find(has);
  if (given === undefined) return [];
  const said = (key: string, expected: string, found: string, hint: string): Diagnostic[] => {
    const origin = valueAt(node, key)?.origin;
    return origin === undefined ? [] : [fault('hardware-file.outline', origin, { expected, found, hint })];
  };
  const flat = [...OUTLINE, 'knuckle', 'diameter'].find((key) =>
    lengthPair(textOf(node, key)).some((one) => !(one > 0 && one <= LARGEST)),
  );
  if (flat !== undefined)
    return said(
      flat,
      `"${flat}" above 0 and up to 10 ft | 3 m of what is drawn`,
      quoted(textOf(node, flat) ?? ''),
      `${flat}: 1/2 in | 12 mm`,
    );
  if (given === 'diameter') {
    const stray = ['width', 'thickness', 'knuckle'].find(has);
    if (stray !== undefined)
      return said(
        stray,
        `no "${stray}" of a round fitting, which has a diameter`,
        'one',
        `leave ${stray} out`,
      );
    return has('length') ? [] : said(given, '"length" beside "diameter"', 'none', 'length: 3 in | 76 mm');
  }
  if (given === 'knuckle' && textOf(node, 'kind') !== 'hinge')
    return said(given, '"kind: hinge" beside "knuckle"', textOf(node, 'kind') ?? 'none', 'kind: hinge');
  const missing = OUTLINE.find((key) => !has(key));
  return missing === undefined
    ? []
    : said(
        given,
        'length, width and thickness of what is to be drawn',
        `no "${missing}"`,
        `${missing}: 1/2 in | 12 mm`,
      );
}

/** The outline in both number systems; nothing where the item has none. A knuckle is three leaves thick: common practice, no source. */
function outlinesOf(node: Node): Pick<HardwareItem, 'outlines'> {
  const pair = (key: string) => lengthPair(textOf(node, key));
  const made = ([0, 1] as const).map((side): FittingOutline | undefined => {
    const at = (key: string): number | undefined => pair(key)[side] ?? pair(key)[0];
    const [length, width, thickness, diameter] = [at('length'), at('width'), at('thickness'), at('diameter')];
    if (length === undefined) return undefined;
    if (diameter !== undefined) return { length, diameter };
    if (width === undefined || thickness === undefined) return undefined;
    const knuckle = textOf(node, 'kind') === 'hinge' ? (at('knuckle') ?? KNUCKLE * thickness) : undefined;
    return { length, width, thickness, ...(knuckle === undefined ? {} : { knuckle }) };
  });
  const [inch, mm] = made;
  return inch === undefined || mm === undefined ? {} : { outlines: { inch, mm } };
}

function woodOf(text: string | undefined): Pick<HardwareItem, 'wood'> {
  const [inch, mm = inch] = lengthPair(text);
  return inch === undefined || mm === undefined ? {} : { wood: { inch, mm } };
}

function lengthsOf(text: string | undefined): Pick<HardwareItem, 'length' | 'lengths'> {
  const [left, right] = lengthPair(text);
  if (left === undefined) return {};
  return right === undefined ? { length: left } : { length: left, lengths: { inch: left, mm: right } };
}

/** The hardware as an edition's trade sells it: of a pair of lengths or of words the one for its number system. */
export const hardwareIn = (items: readonly HardwareItem[], system: 'inch' | 'mm'): readonly HardwareItem[] =>
  items.map((item) => ({
    ...item,
    ...(item.lengths === undefined ? {} : { length: item.lengths[system] }),
    ...(item.sizes === undefined ? {} : { size: item.sizes[system] }),
    ...(item.outlines === undefined ? {} : { outline: item.outlines[system] }),
  }));

/** `10 m2` or `110 sq ft` as m². */
function coversOf(text: string | undefined): Pick<HardwareItem, 'covers' | 'bands'> {
  const covers = readArea(text ?? '');
  const [left, right = left] = lengthPair(text);
  if (covers === undefined && left !== undefined && right !== undefined) return { bands: { left, right } };
  return covers === undefined ? {} : { covers };
}

function sizesOf(text: string | undefined): Pick<HardwareItem, 'size' | 'sizes'> {
  if (text === undefined) return {};
  const [left, right] = sidesOf(text);
  return right === undefined ? { size: left } : { size: left, sizes: { inch: left, mm: right } };
}
