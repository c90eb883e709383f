/** What a maker or buyer already has: `content/on-hand.yaml`. */
import { z } from 'zod';
import { fixedLength, says, whole, words } from '../forms.ts';

const EXAMPLE = '- { stock: 2x4, length: 60 in, count: 2 }';

const piece = z.strictObject(
  {
    stock: words('a nominal name from a stock list', '2x4'),
    species: words('a key of the stock list’s species', 'pine').optional(),
    length: fixedLength('of a board its length, of a piece of a sheet its side along the grain'),
    width: fixedLength('of a piece of a sheet its side across the grain').optional(),
    count: whole('how many there are, 1 or more', '1').optional(),
  },
  says('a board or a piece of a sheet', EXAMPLE),
);

/** The whole file. */
export const onHand = z.strictObject(
  { pieces: z.array(piece, says('a list of boards and pieces of sheets', EXAMPLE)) },
  says('the list of what is on hand', `pieces:\n  ${EXAMPLE}`),
);
