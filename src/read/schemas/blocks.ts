/** One table for each kind of block in a plan: its keys, what each holds, and what to type. */
import { z } from 'zod';
import { formula, listed, oneOf, pattern, says, words, yesNo } from '../forms.ts';
import { brace, faces, glueUp, lean, point, shapeList, slope } from './shape.ts';
import { DIRECTIONS, FACES, JOINTS, LAYINGS, MIRRORS, viewpointOf } from './words.ts';

const length = (what: string) => formula(`a length or a formula (${what})`, '3-1/2 in');
const face = (what: string) => oneOf(FACES, what);
const partKey = (what: string) => words(what, 'leg');

export const outline = z.strictObject(
  {
    width: length('left to right, seen from the front'),
    depth: length('front to back'),
    height: length('floor to top'),
  },
  says('the width, depth and height of the piece', 'width: 48 in | 1200 mm'),
);

/** `sizes`: the outline once, and the author's own names. */
export const sizes = z
  .object({ outline: outline.optional() }, says('names and sizes', 'overhang: 1 in | 25 mm'))
  .catchall(formula('a size: a length or a formula', '1 in | 25 mm'));

export const size = formula('a size: a length or a formula', '1 in | 25 mm');

const VARIANT = says('the sizes that differ, each with its value', '{ outline.width: 60 in | 1500 mm }');

/** A variant: names of sizes, the outline's as `outline.width`, and their values there. */
export const variant = z.record(z.string(), size, VARIANT);

/** `variants`: names, each with the sizes that differ. */
export const variants = z.record(
  z.string(),
  variant.nullable(),
  says('names of variants', 'long: { outline.width: 60 in | 1500 mm }'),
);

const MIRRORED = new RegExp(`^mirrored (?:${MIRRORS.join('|')})(?: and (?:${MIRRORS.join('|')}))*$`, 'u');
const COPIES_WORDS = `how it is copied: "mirrored" with ${MIRRORS.join(', ')}, or a group with "repeated"`;
/** `mirrored back-front` as it should be typed, by the faces that were named; a bare number as a row of so many. */
function mirrorHint(typed: string): string {
  if (/^[0-9]{1,3}$/u.test(typed.trim()))
    return `{ repeated: ${typed.trim()}, along: across, spacing: 12 in | 300 mm }`;
  const named = MIRRORS.filter((mirror) => mirror.split('-').some((face) => typed.includes(face)));
  return named.length > 0 ? `mirrored ${named.join(' and ')}` : 'mirrored left-right and front-back';
}

const mirrored = pattern(COPIES_WORDS, MIRRORED, mirrorHint);

const repeated = z
  .strictObject(
    {
      repeated: formula('how many copies there are in all', '3'),
      along: oneOf(DIRECTIONS, 'the direction of the row'),
      spacing: length('from one copy to the next').optional(),
      to: length('where the last copy ends').optional(),
    },
    says(COPIES_WORDS, '{ repeated: 3, along: across, spacing: 12 in }'),
  )
  .superRefine((value, context) => {
    const { spacing, to } = value;
    if ((spacing === undefined) !== (to === undefined)) return;
    const path = [to === undefined ? 'spacing' : 'to'];
    const message =
      to === undefined ? 'from one copy to the next, or "to"' : 'either "spacing" or "to", not both';
    context.addIssue({ code: 'custom', path, message });
  });

const at = z
  .strictObject(
    {
      left: length('where its left face lies').optional(),
      right: length('where its right face lies').optional(),
      front: length('where its front face lies').optional(),
      back: length('where its back face lies').optional(),
      bottom: length('where its underside lies').optional(),
      top: length('where its top lies').optional(),
    },
    says('faces and where they lie', '{ top: leg.top, front: front + 1 in }'),
  )
  .optional();

const PART = says('the keys of a part', 'stock: 2x4');

export const part = z.strictObject(
  {
    name: words('the name to print', 'Top board').optional(),
    stock: words('a nominal name from the stock list', '2x4'),
    species: words('the name of a species in the stock list', 'pine').optional(),
    runs: oneOf(DIRECTIONS, 'the direction its length runs'),
    'wide face': face('where its wide face looks').optional(),
    at,
    between: z
      .union(
        [
          partKey('the part it fits between, or two parts'),
          z
            .array(partKey('a part'), says('two parts', '[leg, divider]'))
            .length(2, says('two parts', '[leg, divider]')),
        ],
        says('the part it fits between, or two parts', '[leg, divider]'),
      )
      .optional(),
    length: length('how long it is').optional(),
    rip: length('the width it is ripped to').optional(),
    copies: z
      .union(
        [
          mirrored,
          repeated,
          z.array(
            z.union([mirrored, repeated], says(COPIES_WORDS, 'mirrored left-right')),
            says(COPIES_WORDS, 'mirrored left-right'),
          ),
        ],
        says(COPIES_WORDS, mirrorHint),
      )
      .optional(),
    lay: oneOf(LAYINGS, 'how the courses follow each other').optional(),
    from: length('where the first course starts; offcut for a part cut from what others leave').optional(),
    to: length('where the last course ends').optional(),
    gap: length('the clear gap between courses').optional(),
    ends: oneOf(['shared', 'last'], 'which courses are ripped').optional(),
    'first tongue': oneOf(['trimmed', 'kept'], 'what is done with the first tongue').optional(),
    lean,
    slope,
    brace,
    'glue up': glueUp,
    // Each operation is checked by its own table, which its first key chooses: `shape.ts`.
    shape: z.unknown().optional(),
    assembly: words('the name of the assembly it is built into', 'end frame').optional(),
    fit: oneOf(['measured'], 'how it is fitted').optional(),
    turn: yesNo.optional(),
    template: oneOf(['yes', 'no', 'whole'], 'whether it has a full-size template').optional(),
    banded: z
      .union(
        [
          face('an edge that is covered with banding'),
          z.array(face('an edge that is covered with banding'), says('a list of edges', '[front, left]')),
        ],
        says('the edges that are covered with banding', '[front, left]'),
      )
      .optional(),
    visible: z
      .union(
        [
          face('a face that shows'),
          z.array(face('a face that shows'), says('a list of faces', '[front, top]')),
        ],
        says('the faces that show', '[front, top]'),
      )
      .optional(),
    note: words('a few words for the cut list', 'best face up').optional(),
  },
  PART,
);

/** A part as editors see it, with its operations. */
const wholePart = z.strictObject({ ...part.shape, shape: shapeList.optional() }, PART);

export const parts = z.record(z.string(), wholePart, says('parts by name', 'leg:\n  stock: 2x4'));

const OTHER_JOINTS =
  'tongues, notches and holes for dowels are cut under shape; what holds them is a joint by: glue';

export const joint = z.strictObject(
  {
    join: z.union(
      [
        partKey('the part that is joined'),
        z
          .array(partKey('a part that is joined'), says('a list of parts', '[top, bottom]'))
          .min(1, says('a part that is joined', 'apron')),
      ],
      says('the part that is joined, or a list of parts that are joined alike', 'apron'),
    ),
    to: z.union(
      [
        partKey('the part it is joined to'),
        z
          .array(partKey('a part it is joined to'), says('a list of parts', '[side, divider]'))
          .min(1, says('a part it is joined to', 'leg')),
      ],
      says('the part it is joined to, or a list of parts it is joined to alike', 'leg'),
    ),
    by: z
      .enum(JOINTS, says(`the kind of joint: ${listed(JOINTS)}`, OTHER_JOINTS))
      .describe('the kind of joint'),
    count: formula('how many in each joint', '2').optional(),
    from: face('the face that carries the holes or heads').optional(),
    'set back': length('how far the outermost lie from the ends of where the parts meet').optional(),
    'least spacing': length(
      'the least distance from one to the next: where there is no room for it, fewer go in',
    ).optional(),
    with: words('a key from the hardware files', 'pocket-screw-32').optional(),
    depth: length('of a housing: how far the end goes in').optional(),
    stopped: faces(
      'edges of the second part and how far before each a housing stops',
      '{ front: 1/2 in | 12 mm }',
    ).optional(),
  },
  says('a joint with join, to and by', '- { join: apron, to: leg, by: pocket screws, count: 2 }'),
);

export const joints = z.array(
  joint,
  says('a list of joints', '- { join: apron, to: leg, by: pocket screws, count: 2 }'),
);

export const use = z.strictObject(
  {
    item: words('a key from the hardware files', 'strap-hinge'),
    count: formula('how many', '2'),
    on: words('a part, or one of its faces', 'lid.back').optional(),
    at: point('where its middle lies on the face; what is left out is spread along it').optional(),
    'set back': length('how far the outermost lie from the ends of the face').optional(),
    runs: oneOf(DIRECTIONS, 'the direction its length runs').optional(),
    knuckle: face('the face where the knuckle of a hinge lies').optional(),
    note: words('a few words for the list').optional(),
  },
  says('a piece of hardware with item and count', '- { item: strap-hinge, count: 2 }'),
);

export const uses = z.array(use, says('a list of hardware', '- { item: strap-hinge, count: 2 }'));

const VIEW_WORDS = 'a viewpoint: front or back, left or right, above or below';

export const step = z.strictObject(
  {
    adds: z.array(
      words('a part or an assembly', 'leg'),
      says('a list of the parts that join the work', '[leg, end-apron]'),
    ),
    assembly: words('the name of the assembly it builds', 'end frame').optional(),
    from: z
      .string(says(VIEW_WORDS, 'front left above'))
      .refine((text) => viewpointOf(text) !== undefined, says(VIEW_WORDS, 'front left above'))
      .optional(),
    tools: z
      .array(words('the name of a tool', 'Square'), says('a list of tools', '[Square, Two clamps]'))
      .optional(),
  },
  says('the keys of a step', 'adds: [leg, end-apron]'),
);
