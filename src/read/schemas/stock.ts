/** Stock lists and hardware files. */
import { z } from 'zod';
import { readLength } from '../../units.ts';
import {
  currency,
  decimal,
  defects,
  fixedLength,
  fixedLengthPair,
  oneOf,
  readArea,
  says,
  sidesOf,
  webAddress,
  whole,
  words,
  yesNo,
} from '../forms.ts';
import { FASTENED, FITTINGS } from './words.ts';

const amount = decimal('a price, more than 0 and with a point for cents', '5.50');

const species = z.strictObject(
  {
    name: words('the name to print', 'Western redcedar'),
    density: decimal('kilograms in a cubic metre at 12 % moisture', '450').optional(),
    source: words('where the density comes from').optional(),
    defects: defects.optional(),
  },
  says('a species with its name', '{ name: Pine, density: 392 }'),
);

const NAMES = says('a list of nominal names', '[1x4, 1x5]');

const WIDTH = fixedLength('the real width, of a tongue-and-groove board with its tongue');
const SOLD_SAYS = says('the lengths sold, each with its price by species', '8 ft: { pine: 5.50 }');

const COVERED = 'the area that a package covers, in m2 or sq ft, or the length of edge banding in it';
/** An area; of banding a length, or a pair of them. */
const coverage = z
  .string(says(COVERED, '10 m2'))
  .refine(
    (text) => readArea(text) !== undefined || sidesOf(text).every((side) => 'length' in readLength(side)),
    says(COVERED, '10 m2'),
  )
  .describe(COVERED);

const stockItemKeys = z.strictObject(
  {
    label: words('the name to print', '1×4').optional(),
    'stands for': z.array(words('a nominal name of another list', '1x4'), NAMES).optional(),
    thickness: fixedLength('the real thickness'),
    width: WIDTH.optional(),
    profile: oneOf(['square', 'tongue-and-groove'], 'the profile').optional(),
    cover: fixedLength('the width a course covers').optional(),
    tongue: fixedLength('the length of the tongue').optional(),
    rough: fixedLength('what comes off a rough edge to make it straight').optional(),
    defects: defects.optional(),
    sold: z
      .record(
        z.string(),
        z.record(z.string(), amount, says('prices by species', '{ pine: 5.50 }')),
        SOLD_SAYS,
      )
      .optional(),
    sheets: z
      .record(
        z.string(),
        z.record(z.string(), amount, says('prices by species', '{ birch plywood: 62.00 }')),
        says('the sheets sold, each with its price by species', '4 x 8 ft: { birch plywood: 62.00 }'),
      )
      .optional(),
    grain: oneOf(['long', 'across', 'none'], 'along which side of the sheet the grain runs').optional(),
  },
  says('the keys of an item', 'thickness: 3/4 in'),
);

/** A board needs its width and the lengths sold; a sheet has its sizes in their place. */
const stockItem = stockItemKeys.superRefine((item, context) => {
  if (item.sheets !== undefined) return;
  for (const [key, schema] of [
    ['width', WIDTH],
    ['sold', z.record(z.string(), z.unknown(), SOLD_SAYS)],
  ] as const)
    if (item[key] === undefined)
      for (const issue of schema.safeParse(undefined).error?.issues ?? [])
        context.addIssue({ code: 'custom', path: [key], message: issue.message });
});

/** A stock list: `content/stock/<key>.yaml`. */
export const stockList = z.strictObject(
  {
    name: words('the name to print', 'North American softwood'),
    region: words('where it is sold', 'United States'),
    currency,
    'end trim': fixedLength('what is cut off a rough end before measuring'),
    'sheet trim': fixedLength('what is cut off each edge of a sheet').optional(),
    'cut in the yard': yesNo.optional(),
    'default species': words('a key of the species below', 'pine'),
    species: z.record(z.string(), species, says('species by key', 'pine: { name: Pine }')),
    items: z.record(z.string(), stockItem, says('items by nominal name', '1x4: …')),
  },
  says('the keys of a stock list', 'name: North American softwood'),
);

const fits = z.strictObject(
  {
    joint: oneOf(FASTENED, 'the kind of joint'),
    from: fixedLength('the least thickness of the first part'),
    to: fixedLength('the greatest thickness of the first part'),
  },
  says('the joint it serves and the thickness it is right for', '{ joint: screws, from: 17 mm, to: 21 mm }'),
);

export const hardwareItem = z.strictObject(
  {
    name: words('the name to print', 'Pocket screw, coarse thread'),
    length: fixedLengthPair('a length, or a pair of them').optional(),
    size: words('a size in words', 'no. 8').optional(),
    fits: fits.optional(),
    width: fixedLengthPair('how wide it is, to be drawn; of a hinge opened flat').optional(),
    thickness: fixedLengthPair('how far it stands out, to be drawn; of a hinge that of a leaf').optional(),
    knuckle: fixedLengthPair('of a hinge how thick its knuckle is').optional(),
    diameter: fixedLengthPair('of a round one how thick it is, to be drawn').optional(),
    kind: oneOf(FITTINGS, 'what it does, for its check or its drawing').optional(),
    wood: fixedLengthPair('the least wood that its screws need behind it, or a pair of lengths').optional(),
    package: whole('how many are in a package, 1 or more', '100'),
    price: z.record(currency, amount, says('the price of a package by currency', '{ USD: 8.50, EUR: 7.90 }')),
    'sold in': z
      .array(words('a region', 'United States'), says('a list of regions', '[United States, Canada]'))
      .optional(),
    link: webAddress.optional(),
    covers: coverage.optional(),
    outdoors: yesNo.optional(),
  },
  says('the keys of a piece of hardware', 'name: Strap hinge'),
);

/** A hardware file: items by key. */
export const hardware = z.record(
  z.string(),
  hardwareItem,
  says('hardware by key', 'strap-hinge:\n  name: Strap hinge'),
);

/** Keys of hardware and of files: what can stand in a plan without quotes. */
export const KEY = /^[a-z0-9]+(?:-[a-z0-9]+)*$/u;
