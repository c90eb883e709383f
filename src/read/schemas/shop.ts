/** The shop file. */
import { z } from 'zod';
import { inches, readLength } from '../../units.ts';
import { area, currency, fixedLength, listed, oneOf, pattern, says, webAddress, words } from '../forms.ts';
import { LABEL_SHEETS, labelSheet, NO_LABELS, nearestSheet } from '../label-sheets.ts';

/** Levels of cuts that a layout of sheets may have. */
export const CUT_LEVELS = ['2', '3', '4', '5', '6'] as const;
export const FRACTIONS = ['1/8', '1/16', '1/32', '1/64'] as const;

const KNOWN_LABELS = [...LABEL_SHEETS.map((sheet) => sheet.key), NO_LABELS];

/** The size of a label, its sides in either order. An editor offers those that are known. */
const labels = z
  .string(says(`the size of a label: ${listed(KNOWN_LABELS)}`, KNOWN_LABELS[0]))
  .refine((size) => size === NO_LABELS || labelSheet(size) !== undefined, {
    error: ({ input }) =>
      says(`the size of a label: ${listed(KNOWN_LABELS)}`, nearestSheet(String(input)).key).error({}),
  })
  .meta({
    editor: { anyOf: [{ enum: KNOWN_LABELS }, { type: 'string', pattern: '[x×]' }] },
    description: 'the sheet of labels for the parts, by the size of a label',
  });

/** True for what a saw can take, or for a text that is no length, which is said before. No saw of a shop takes half an inch (common practice, no source). */
function isKerf(text: string): boolean {
  const read = readLength(text);
  return !('length' in read) || (read.length > 0 && read.length <= inches(0.5));
}

const edition = z.strictObject(
  {
    name: words('the name to print', 'Imperial').optional(),
    like: oneOf(['imperial', 'metric'], 'the edition it takes after').optional(),
    units: oneOf(['inch', 'mm'], 'the units it prints').optional(),
    fraction: oneOf(FRACTIONS, 'the finest fraction of an inch it prints').optional(),
    side: oneOf(['left', 'right'], 'the side of a pair it takes').optional(),
    stock: words('the name of a stock list', 'north-american-softwood').optional(),
    paper: oneOf(['letter', 'a4'], 'the paper').optional(),
    projection: oneOf(['third angle', 'first angle'], 'how the views are placed').optional(),
    kerf: fixedLength('what the saw takes', '1/8 in')
      .refine(isKerf, says('what the saw takes: more than 0, and at most 1/2 in', '1/8 in'))
      .optional(),
    'longest board': fixedLength('the longest board that the vehicle holds').optional(),
    'cut levels': oneOf(CUT_LEVELS, 'the most levels of cuts in a sheet, each across the one before')
      .meta({ editor: { type: 'integer', minimum: 2, maximum: 6 } })
      .optional(),
    'largest piece': area('the largest piece of a sheet that can be carried', '1.5 m2').optional(),
    language: pattern('a language tag', /^[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-[A-Z]{2})?$/u, 'en-US').optional(),
    labels: labels.optional(),
  },
  says('the keys of an edition', 'stock: north-american-softwood'),
);

/** What may stand under an edition. */
export const EDITION_KEYS: readonly string[] = Object.keys(edition.shape);

/** `content/shop.yaml`. */
export const shop = z.strictObject(
  {
    name: words('the name of the shop', 'Nettlefield Woodshop'),
    address: words('the address as one line', '14 Treadle Row, Nettlefield'),
    email: pattern('a mail address', /^[^\s@]+@[^\s@]+\.[^\s@]+$/u, 'bench@nettlefield.example').optional(),
    url: webAddress,
    currency,
    strapline: words('one line on what the shop makes', 'Plans for the home shop'),
    about: words('who runs the shop, as one text', 'One bench in a former cooperage.'),
    licence: words('what a buyer may do with a plan, as one text', 'Build from it as often as you like.'),
    safety: z
      .array(words('a sentence on safety'), says('a list of sentences', '- Read your tools’ manuals first.'))
      .min(1, says('at least one sentence on safety', '- Read your tools’ manuals first.')),
    checkout: z
      .record(
        z.string(),
        webAddress,
        says('checkout links by plan', 'potting-bench: https://shop.example.com/potting-bench'),
      )
      // A shop of free plans has none: the key may stand there for the first one that is sold.
      .nullable()
      .optional(),
    theme: words('the name of a theme', 'handbook').optional(),
    editions: z
      .record(z.string(), edition, says('editions by key', 'imperial: { stock: north-american-softwood }'))
      .optional(),
  },
  says('the keys of the shop file', 'name: Nettlefield Woodshop'),
);
