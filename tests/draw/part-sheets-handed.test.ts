/**
 * Mirror images on a part's sheet: a pair of boards is handed only where no turning of one gives the other. What is so is worked out by hand
 * beside each case: a board lies with its length along x, its width along y, its thickness along z; the mirror image of a pair to the
 * left and right changes y over. Turning it over along its length changes y and z, end for end x and y, or x and z.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { cutText } from '../../src/model/handed.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { demoWorks, repository } from './demo-work.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const HANDED = /^Make one of the 2 as a mirror image of this\.$/;

/** A pair of boards 400 mm long, 95 wide and 45 thick, 16 × 3-1/2 × 1-1/2 in. */
const pair = (shape: string): string => `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 16 in | 400 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
  shape:
    - ${shape.replaceAll('\n', '\n    - ')}
`;

/** Through the middle of the thickness from an edge, and off the middle of the width. */
const OFF =
  '{ hole: front, at: { up: 4 in | 100 mm, across: left + 1 in | left + 25 mm }, diameter: 1/2 in | 12 mm';

const CASES: readonly (readonly [what: string, shape: string, handed: boolean])[] = [
  // The bevel's plane leans in z alone: changing y over leaves it as it is.
  ['one bevel', '{ bevel: top, angle: 10 deg, long: back }', false],
  // Leans in y: turned over along its length it leans the other way, and z doesn't matter.
  ['one mitre', '{ mitre: top, angle: 10 deg, long: left }', false],
  // Leans in y and z: turning over changes both, and only one of them may change.
  ['a compound cut', '{ compound: top, mitre: 10 deg, bevel: 5 deg, long: [left, back] }', true],
  // Parallel ends: the board is its own image with x, y and z changed over, so y alone is as good as x and z, which is a turn.
  [
    'compound cuts at both ends, parallel',
    '{ compound: top, mitre: 10 deg, bevel: 5 deg, long: [left, back] }\n{ compound: bottom, mitre: 10 deg, bevel: 5 deg, long: [right, front] }',
    false,
  ],
  // Both ends alike: its own image with x changed over, so y alone is as good as x and y.
  [
    'compound cuts at both ends, towards each other',
    '{ compound: top, mitre: 10 deg, bevel: 5 deg, long: [left, back] }\n{ compound: bottom, mitre: 10 deg, bevel: 5 deg, long: [left, back] }',
    false,
  ],
  // Its own image only with x and z changed over, a turn: with y that makes all three, and no turn does that.
  [
    'compound cuts at both ends, their bevels twisted',
    '{ compound: top, mitre: 10 deg, bevel: 5 deg, long: [left, back] }\n{ compound: bottom, mitre: 10 deg, bevel: 5 deg, long: [left, front] }',
    true,
  ],
  // The turn that brings the mitre over brings a hole right through over too.
  ['a mitre and a hole through', `{ mitre: top, angle: 10 deg, long: left }\n${OFF} }`, false],
  // But a blind hole comes to the other face.
  [
    'a mitre and a blind hole',
    `{ mitre: top, angle: 10 deg, long: left }\n${OFF}, depth: 1 in | 25 mm }`,
    true,
  ],
  // The bevel allows no turn, and y changed over moves the hole.
  ['a bevel and a hole off the middle', `{ bevel: top, angle: 10 deg, long: back }\n${OFF} }`, true],
  // In the middle of the width it stays where it is.
  [
    'a bevel and a hole in the middle',
    '{ bevel: top, angle: 10 deg, long: back }\n{ hole: front, at: { up: 4 in | 100 mm }, diameter: 1/2 in | 12 mm }',
    false,
  ],
  // A counterbore tells one face from the other, as a depth does.
  [
    'a mitre and a counterbored hole',
    `{ mitre: top, angle: 10 deg, long: left }\n${OFF}, counterbore: { diameter: 1 in | 25 mm, depth: 1/4 in | 6 mm } }`,
    true,
  ],
  [
    'a notch in a corner',
    '{ notch: { left: left, right: left + 1 in | left + 25 mm, bottom: floor, top: 2 in | 50 mm } }',
    false,
  ],
  // Cut into one face only.
  [
    'a notch in a corner and a housing',
    '{ notch: { left: left, right: left + 1 in | left + 25 mm, bottom: floor, top: 2 in | 50 mm } }\n{ housing: front, at: { bottom: 8 in | 200 mm, top: 9 in | 225 mm }, depth: 1/4 in | 6 mm }',
    true,
  ],
  // Right across, the housing alone is its own mirror image.
  [
    'a housing',
    '{ housing: front, at: { bottom: 8 in | 200 mm, top: 9 in | 225 mm }, depth: 1/4 in | 6 mm }',
    false,
  ],
  // Stopped before one edge it isn't.
  [
    'a stopped housing',
    '{ housing: front, at: { bottom: 8 in | 200 mm, top: 9 in | 225 mm, right: left + 2 in | left + 50 mm }, depth: 1/4 in | 6 mm }',
    true,
  ],
  // A taper of one edge is turned over; with the corner of the face chamfered it isn't.
  ['a taper', '{ taper: [left], end: bottom, leaves: 2 in | 50 mm }', false],
  [
    'a taper and a chamfer',
    '{ taper: [left], end: bottom, leaves: 2 in | 50 mm }\n{ chamfer: front right, width: 1/8 in | 3 mm }',
    true,
  ],
];

describe('a pair is called mirror images only where turning one over does not give the other', () => {
  it.each(CASES)('%s', (_, shape, handed) => {
    for (const edition of [inch, metric]) {
      const plan = built({ parts: pair(shape) }, edition);
      const [one, other] = plan.parts[0]?.copies ?? [];
      if (!one || !other) throw new Error('two boards are due');
      expect(one.frame.mirrored).not.toBe(other.frame.mirrored);
      // The text of what is cut tells the same, and a copy is the mirror image of its pair.
      expect(cutText(one) !== cutText(other)).toBe(handed);
      expect(cutText(one, true)).toBe(cutText(other));
      const sheet = drawPlan(workOf(plan)).drawings.filter((d) => d.kind === 'part');
      expect(sheet).toHaveLength(1);
      const said = readSvg(sheet[0]?.svg ?? '').texts.map((t) => t.text.trim());
      expect(said.filter((t) => HANDED.test(t))).toHaveLength(handed ? 1 : 0);
      expect(said.filter((t) => t.includes('mirror'))).toHaveLength(handed ? 1 : 0);
    }
  });

  it('in the demo plans: the legs of the stool are handed, the sides of the nest box and the rails are not', async () => {
    for (const { name, work } of await demoWorks(repository, ['step-stool', 'nest-box'])) {
      const said = drawPlan(work)
        .drawings.filter((d) => d.kind === 'part')
        .flatMap((d) => readSvg(d.svg).texts.map((t) => `${d.id}: ${t.text.trim()}`))
        .filter((t) => t.includes('mirror'));
      // Two angles at each leg's ends and tapers on two sides; the cut list has the other hand in a row of its own.
      expect(said, name).toEqual(
        name.startsWith('step-stool') ? ['part-A: Make B as a mirror image of this.'] : [],
      );
    }
  });
});
