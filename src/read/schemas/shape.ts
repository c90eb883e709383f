/** One table for each shaping operation: its keys, what each holds, and what to type. The first key names the operation. */
import { z } from 'zod';
import { formula, oneOf, pattern, says } from '../forms.ts';
import type { ShapeKind } from '../shape-types.ts';
import { DIRECTIONS, FACES } from './words.ts';

const length = (what: string, hint = '1/4 in | 6 mm') => formula(`a length or a formula (${what})`, hint);
const angle = (what: string) => formula(`an angle (${what})`, '12 deg');
const face = (what: string) => oneOf(FACES, what);
const some = (what: string, hint: string) =>
  z.union([face(what), z.array(face(what), says(`a list: ${what}`, hint))], says(what, hint));

const FACE_KEYS = {
  left: length('where its left side lies').optional(),
  right: length('where its right side lies').optional(),
  front: length('where its front lies').optional(),
  back: length('where its back lies').optional(),
  bottom: length('where its underside lies').optional(),
  top: length('where its top lies').optional(),
};
const POINT_KEYS = {
  across: length('from the left of the piece').optional(),
  deep: length('from the front of the piece').optional(),
  up: length('from the floor').optional(),
};

/** Faces of a cut and where they lie. */
export const faces = (what: string, hint: string) => z.strictObject(FACE_KEYS, says(what, hint));
/** A point, in the piece. */
export const point = (what: string) =>
  z.strictObject(POINT_KEYS, says(what, '{ across: left + 2 in, up: 3 in }'));

const depth = length('how deep, from its face').optional();
const rows = {
  repeated: formula('how many there are in the row', '3').optional(),
  along: oneOf(DIRECTIONS, 'the direction of the row').optional(),
  spacing: length('from one to the next', '2 in | 50 mm').optional(),
};

const END = 'the end that is cut';
const HOUSING_HINT = '{ bottom: shelf.bottom, top: shelf.top }';

const housing = (word: string) =>
  z.strictObject(
    {
      [word]: face('the face it is cut into'),
      at: faces('faces and where they lie; what is left out runs through', HOUSING_HINT),
      depth: length('how deep, from its face'),
      ...rows,
    },
    says('the face it is cut into, at and depth', `{ ${word}: left, at: ${HOUSING_HINT}, depth: 1/4 in }`),
  );

const mitre = (word: string) =>
  z.strictObject(
    {
      [word]: face(END),
      angle: angle('out of square'),
      long: face('the edge where the end keeps its full length'),
      seen: face(
        'the face of the piece from which the angle is seen; the cut runs straight away from it',
      ).optional(),
    },
    says('an end, angle and long', `{ ${word}: top, angle: 12 deg, long: back }`),
  );

const rebate = (word: string) =>
  z.strictObject(
    {
      [word]: faces('two faces, and how much is taken off each', '{ back: 1/4 in, right: 3/8 in }'),
      at: faces('where it stops; what is left out runs through', '{ bottom: 2 in }').optional(),
    },
    says('two faces, and how much is taken off each', `{ ${word}: { back: 1/4 in, right: 3/8 in } }`),
  );

const EDGE = `(?:${FACES.join('|')})`;
const EDGE_WORDS =
  'edges: "all", "long", a face for its outline, two faces for what of it looks that way, or a face and "holes" for their rims';
const edge = pattern(
  EDGE_WORDS,
  new RegExp(`^(?:all|long|${EDGE}(?: (?:${EDGE}|holes))?)$`, 'u'),
  'front top',
);
const edges = z.union(
  [edge, z.array(edge, says(EDGE_WORDS, '[front top, left top]'))],
  says(EDGE_WORDS, 'front top'),
);

/** The steps of an outline by their first key. */
export const STEPS: Readonly<Record<string, z.ZodType>> = {
  start: z.strictObject({ start: point('where the outline starts') }, says('where the outline starts')),
  line: z.strictObject({ line: point('where the line ends') }, says('where the line ends')),
  arc: z.strictObject(
    {
      arc: point('where the arc ends'),
      through: point('a point on the arc').optional(),
      radius: length('of the arc', '6 in | 150 mm').optional(),
      bulges: face('the face to which the arc bulges').optional(),
    },
    says('where the arc ends'),
  ),
};

const step = z.union(
  Object.values(STEPS) as [z.ZodType, z.ZodType, ...z.ZodType[]],
  says('"start", "line" or "arc" and a point', '- line: { across: right, up: floor }'),
);

/** Every word an operation may be called by, with the operation it means and its keys. */
export const SHAPES: Readonly<Record<string, { readonly kind: ShapeKind; readonly schema: z.ZodType }>> = {
  mitre: { kind: 'mitre', schema: mitre('mitre') },
  miter: { kind: 'mitre', schema: mitre('miter') },
  bevel: {
    kind: 'bevel',
    schema: z.strictObject(
      {
        bevel: face('the end or edge that is cut'),
        angle: angle('out of square'),
        long: face('the wide face that keeps its full size'),
      },
      says('an end or an edge, angle and long', '{ bevel: top, angle: 12 deg, long: back }'),
    ),
  },
  compound: {
    kind: 'compound',
    schema: z.strictObject(
      {
        compound: face(END),
        mitre: angle('out of square across the wide face'),
        bevel: angle('out of square through the thickness'),
        long: z
          .array(face('a face'), says('an edge and a wide face', '[left, front]'))
          .refine(
            (faces) => faces.length === 2,
            says('the edge and the wide face where the end keeps its full length', '[left, front]'),
          ),
      },
      says(
        'an end, mitre, bevel and long',
        '{ compound: top, mitre: 5 deg, bevel: 8 deg, long: [left, front] }',
      ),
    ),
  },
  taper: {
    kind: 'taper',
    schema: z.strictObject(
      {
        taper: some('the sides that taper', '[right, back]'),
        end: face('the end that gets narrower'),
        from: length('where the taper starts', 'leg.top - 4 in').optional(),
        by: length('taken off each side at that end').optional(),
        leaves: length('what is left there', '1 in | 25 mm').optional(),
      },
      says('sides, end, and by or leaves', '{ taper: [right, back], end: bottom, leaves: 1 in }'),
    ),
  },
  notch: {
    kind: 'notch',
    schema: z.strictObject(
      {
        notch: faces(
          'faces and where they lie; what is left out runs through',
          '{ left: left, right: leg.right }',
        ),
        ...rows,
      },
      says('the faces of what is cut out', '{ notch: { left: left, right: leg.right, back: leg.back } }'),
    ),
  },
  housing: { kind: 'housing', schema: housing('housing') },
  dado: { kind: 'housing', schema: housing('dado') },
  groove: { kind: 'groove', schema: housing('groove') },
  rebate: { kind: 'rebate', schema: rebate('rebate') },
  rabbet: { kind: 'rebate', schema: rebate('rabbet') },
  hole: {
    kind: 'hole',
    schema: z.strictObject(
      {
        hole: face('the face it is bored from'),
        at: point('its middle; what is left out is the middle of the face').optional(),
        diameter: length('how wide', '3/8 in | 10 mm'),
        depth,
        counterbore: z
          .strictObject(
            { diameter: length('how wide'), depth: length('how deep') },
            says('diameter and depth', '{ diameter: 1/2 in, depth: 3/8 in }'),
          )
          .optional(),
        countersink: z
          .strictObject(
            { diameter: length('how wide at the face'), angle: angle('of the whole cone').optional() },
            says('diameter, and the angle of the cone', '{ diameter: 3/8 in }'),
          )
          .optional(),
        lean: z
          .strictObject(
            Object.fromEntries(
              FACES.map((name) => [name, angle(`the outer end leans to the ${name}`).optional()]),
            ),
            says('the face to which its outer end leans', '{ top: 10 deg }'),
          )
          .optional(),
        ...rows,
      },
      says('a face, at and diameter', '{ hole: front, at: { up: 6 in }, diameter: 1 in }'),
    ),
  },
  slot: {
    kind: 'slot',
    schema: z.strictObject(
      {
        slot: face('the face it is cut from'),
        from: point('the middle of its first round end'),
        to: point('the middle of its other round end'),
        width: length('how wide'),
        depth,
        ...rows,
      },
      says(
        'a face, from, to and width',
        '{ slot: front, from: { up: 2 in }, to: { up: 4 in }, width: 1/4 in }',
      ),
    ),
  },
  outline: {
    kind: 'outline',
    schema: z.strictObject(
      {
        outline: z.array(
          step,
          says('steps: start, then lines and arcs', '- start: { across: left, up: floor }'),
        ),
      },
      says('a list of steps', 'outline:\n  - start: { across: left, up: floor }'),
    ),
  },
  arc: {
    kind: 'arc',
    schema: z.strictObject(
      {
        arc: face('the edge or end that is curved'),
        rise: length('how high the arc is', '1-1/2 in | 40 mm'),
        form: oneOf(['hollow', 'crown'], 'whether it hollows the edge or crowns it').optional(),
        at: faces('where the arc begins and ends', '{ left: left + 2 in, right: right - 2 in }').optional(),
      },
      says('an edge and rise', '{ arc: bottom, rise: 1-1/2 in, form: hollow }'),
    ),
  },
  round: {
    kind: 'round',
    schema: z.strictObject(
      {
        round: edges,
        radius: length('of the rounding', '1/8 in | 3 mm'),
        bearing: length('diameter of the bearing that follows an outline', '3/8 in | 10 mm').optional(),
      },
      says('edges and radius', '{ round: front top, radius: 1/8 in }'),
    ),
  },
  chamfer: {
    kind: 'chamfer',
    schema: z.strictObject(
      {
        chamfer: edges,
        width: length('taken off each face', '1/8 in | 3 mm'),
        bearing: length('diameter of the bearing that follows an outline', '3/8 in | 10 mm').optional(),
      },
      says('edges and width', '{ chamfer: front top, width: 1/8 in }'),
    ),
  },
  tongue: {
    kind: 'tongue',
    schema: z.strictObject(
      {
        tongue: face('the edge or end that gets the tongue'),
        thickness: length('of the tongue'),
        length: length('how far it stands out of its shoulders'),
      },
      says('an edge, thickness and length', '{ tongue: right, thickness: 1/4 in, length: 3/8 in }'),
    ),
  },
};

/** `shape` as editors see it: a list of any of them. */
export const shapeList = z.array(
  z.union(Object.values(SHAPES).map((one) => one.schema) as [z.ZodType, z.ZodType, ...z.ZodType[]]),
  says(
    'a list of operations, in the order they are made',
    '- { hole: front, at: { up: 6 in }, diameter: 1 in }',
  ),
);

const away = (kind: string) =>
  z
    .strictObject(
      {
        left: angle(`${kind} to the left`).optional(),
        right: angle(`${kind} to the right`).optional(),
        front: angle(`${kind} to the front`).optional(),
        back: angle(`${kind} to the back`).optional(),
        cut: z
          .union(
            [
              oneOf([...FACES, 'none'], 'the ends cut level or upright'),
              z.array(face('an end'), says('a list of ends', '[bottom, top]')),
            ],
            says('the ends cut level or upright, or "none"', '[bottom, top]'),
          )
          .optional(),
      },
      says(
        'faces and angles',
        kind === 'its foot goes' ? '{ left: 8 deg, front: 5 deg }' : '{ front: 12 deg }',
      ),
    )
    .optional();

export const lean = away('its foot goes');
export const slope = away('it falls');

const braceEnd = (what: string) =>
  z.strictObject(
    { ...FACE_KEYS, ...POINT_KEYS },
    says(`${what}: a face it is cut against, and where along it`, '{ left: leg.right, up: 6 in }'),
  );

export const brace = z
  .strictObject(
    { from: braceEnd('its first end'), to: braceEnd('its other end') },
    says('from and to', '{ from: { left: leg.right, up: 6 in }, to: { top: apron.bottom, across: 20 in } }'),
  )
  .optional();

const BOARDS = ['equal', 'as they come'] as const;
export const glueUp = z
  .union(
    [
      oneOf(BOARDS, 'the widths of its boards'),
      z.strictObject(
        {
          boards: oneOf(BOARDS, 'the widths of its boards'),
          allowance: length('left on before it is trimmed', '1 in | 25 mm').optional(),
        },
        says('boards and allowance', '{ boards: equal, allowance: 1 in | 25 mm }'),
      ),
    ],
    says('the widths of its boards: equal or as they come', 'equal'),
  )
  .optional();
