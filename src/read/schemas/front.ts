/** Front matter of a plan. */
import { z } from 'zod';
import { currency, decimal, isoDate, pattern, says, webAddress, whole, words } from '../forms.ts';

/** `14 USD`, `14.50 EUR`. */
export const PRICE = /^([0-9]{1,7}(?:\.[0-9]{1,2})?)\s+([A-Z]{3})$/u;

const PRICE_WORDS = 'a price with its currency, or free';
/** `$12`, `12,50 USD` or `EUR 9` as it should be typed. */
function priceHint(typed: string): string {
  const amount = /[0-9]{1,7}(?:[.,][0-9]{1,2})?/u.exec(typed)?.[0].replace(',', '.');
  const code = /\b[A-Z]{3}\b/u.exec(typed)?.[0];
  const sign = /€|euro/iu.test(typed) ? 'EUR' : /£|pound/iu.test(typed) ? 'GBP' : 'USD';
  return amount === undefined ? '14 USD' : `${amount} ${code ?? sign}`;
}

export const frontMatter = z.strictObject(
  {
    title: words('the name of the piece', 'Potting bench'),
    number: whole('the number of the plan in the catalogue, 1 or more', '7'),
    summary: words('one or two sentences that say what it is', 'A standing-height bench for a garden wall.'),
    kind: words('the kind of piece, a word of your own', 'garden'),
    price: z
      .union(
        [
          z.literal('free', says(PRICE_WORDS, priceHint)),
          pattern(PRICE_WORDS, PRICE, priceHint),
          z.record(
            currency,
            decimal('an amount, more than 0 and with a point for cents', '14'),
            says(PRICE_WORDS, priceHint),
          ),
        ],
        says(PRICE_WORDS, priceHint),
      )
      .optional(),
    skill: words('who can build it', 'A first piece of furniture'),
    time: words('how long it takes', 'A weekend'),
    revisions: z
      .array(
        z.strictObject(
          {
            revision: words('the name of the revision', 'A'),
            date: isoDate,
            note: words('what changed', 'First print.'),
          },
          says('a revision with its revision, date and note'),
        ),
        says('a list of revisions, newest first', '- { revision: A, date: 2026-01-09, note: First print. }'),
      )
      .min(1, says('at least one revision', '- { revision: A, date: 2026-01-09, note: First print. }')),
    photos: z
      .array(
        z.strictObject(
          {
            file: pattern(
              'the name of a picture file in the folder of the plan',
              /^[^/\\\s][^/\\]*\.(?:jpe?g|png|webp|avif)$/iu,
              'bench.jpg',
            ),
            alt: words('what the photo shows, for those who cannot see it', 'The bench beside a shed'),
          },
          says('a photo with its file and alt'),
        ),
        says('a list of photos', '- { file: bench.jpg, alt: The bench beside a shed }'),
      )
      .optional(),
    picture: words(
      'the name of a drawing of this plan, or the file of one of its photos, that stands for the piece',
      'open-lid',
    ).optional(),
    licence: words('the licence, as one text').optional(),
    tools: z
      .array(words('the name of a tool', 'Square'), says('a list of tools', '[Square, Two clamps]'))
      .optional(),
    species: words('the name of a species in the stock lists', 'pine').optional(),
    checkout: webAddress.optional(),
  },
  says('keys and values', 'title: Potting bench'),
);
