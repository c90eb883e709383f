/**
 * Which wide face a part's sheet draws: the one with most of the work that is in one face alone, so that it is seen in full lines where it
 * is marked out. What is due is worked out by hand beside each case; boards drawn by chance, with work in either face or in both, are made
 * again from the numbers on their sheets, whose solid is the model's own, turned as the sheet has it.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk, type DrawInput } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { lyingOf } from '../../src/draw/parts/part-lying.ts';
import { type PartSheet, partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart } from '../../src/draw/parts/part-sheet.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { randomFrom } from '../geometry/scenes.ts';
import { type Blocks, built, inch, metric, shop } from '../resolve/shop.ts';
import { crossings, overlaps } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { boardByChance } from './part-sheets-chance.ts';
import { checkSheet } from './part-sheets-compare.ts';
import { Sheet } from './part-sheets-read.ts';
import { SHAPES } from './part-sheets-shapes.ts';
import { readSvg } from './read-svg.ts';
import { solids, workOf } from './work.ts';

beforeAll(loadSvg);

/** A plan's work with what its joints bore. */
function bored(plan: Plan): DrawInput {
  const joinery = findJoinery(plan, shop.hardware);
  return { ...workOf(plan), joinery, parts: placeParts(plan, solids, joinery) };
}

interface Made {
  readonly desk: Desk;
  readonly sheet: PartSheet;
  readonly drawing: Drawing;
}

/** All sheets on paper, or for a phone. */
function sheetsOf(work: DrawInput, place: 'sheet' | 'narrow' = 'sheet'): Made[] {
  const desk = new Desk(work);
  return partSheets(desk).map((sheet) => {
    const composed = composePart(desk, sheet, place);
    if (!composed) throw new Error(sheet.id);
    return { desk, sheet, drawing: desk.finish(composed, place) };
  });
}

function one(blocks: Blocks, edition: Edition = metric): Made & { said: string[] } {
  const [made] = sheetsOf(bored(built(blocks, edition)));
  if (!made) throw new Error('a sheet is due');
  return { ...made, said: readSvg(made.drawing.svg).texts.map(({ text }) => text.trim()) };
}

/** A rail 400 long and 95 wide at the front of a piece 1000 wide, 500 deep and 750 high, its wide face to the front. */
const rail = (shape: string, more = ''): string => `rail:
  stock: 18x95
  runs: across
  wide face: front
  length: 400 mm
  at: { left: left + 100 mm, bottom: floor + 200 mm, front: front }
${more}  shape:
    - ${shape.replaceAll('\n', '\n    - ')}
`;

const HOUSING = (face: 'front' | 'back', at: number): string =>
  `{ housing: ${face}, at: { left: left + ${at} mm, right: left + ${at + 20} mm, top: rail.top - 20 mm }, depth: 6 mm }`;
const BLIND = (face: 'front' | 'back', at: number): string =>
  `{ hole: ${face}, at: { across: left + ${at} mm }, diameter: 10 mm, depth: 9 mm }`;
const THROUGH = (face: 'front' | 'back', at: number): string =>
  `{ hole: ${face}, at: { across: left + ${at} mm }, diameter: 10 mm }`;

/** The rail's back looks to the middle of the piece, 250 behind the front: its inner face. Seen from there its left end is on the right. */
const INNER =
  'Inner face drawn; in the piece it looks to the back, left end on the right, upper edge at the top';
const SHOW =
  'Show face drawn; in the piece it looks to the front, left end on the left, upper edge at the top';

const CASES: readonly (readonly [what: string, shape: string, drawn: string, second: string | undefined])[] =
  [
    ['work in the back alone', HOUSING('back', 200), INNER, undefined],
    ['work in the front alone', HOUSING('front', 200), SHOW, undefined],
    ['as much in both', `${HOUSING('back', 200)}\n${HOUSING('front', 300)}`, SHOW, 'inner face'],
    [
      'more in the back',
      `${HOUSING('back', 200)}\n${BLIND('back', 400)}\n${HOUSING('front', 300)}`,
      INNER,
      'show face',
    ],
    // A hole right through is in both faces, whichever the author bores it from.
    [
      'through from the front, blind from the back',
      `${THROUGH('front', 200)}\n${THROUGH('front', 260)}\n${BLIND('back', 400)}`,
      INNER,
      undefined,
    ],
    ['through from the back', THROUGH('back', 200), SHOW, undefined],
    // A groove that runs out at both ends has its sizes at the end of the board, where it is seen: no second view is due.
    [
      'a groove from end to end in the back, housings in front',
      `{ groove: back, at: { bottom: rail.bottom + 10 mm, top: rail.bottom + 16 mm }, depth: 6 mm }\n${HOUSING('front', 200)}\n${HOUSING('front', 300)}`,
      SHOW,
      undefined,
    ],
  ];

describe('the face with more of the work is drawn', () => {
  it.each(CASES)('%s', (_, shape, drawn, second) => {
    const { said, desk, sheet, drawing } = one({ parts: rail(shape) });
    expect(said).toContain(drawn);
    const views = said.filter((text) => text.startsWith('Second view: '));
    expect(views).toEqual(
      second === undefined
        ? []
        : [
            `Second view: the ${second}, the board turned over along its length, so that its upper edge is below`,
          ],
    );
    expect(said.filter((text) => text.includes(', from the'))).toEqual([]);
    expect(checkSheet(desk, sheet, drawing)).toBe(shape.split('\n').length);
  });

  it('of two faces with as much, the one that is named as visible', () => {
    const shape = `${HOUSING('back', 200)}\n${HOUSING('front', 300)}`;
    const { said } = one({ parts: rail(shape, '  visible: [back]\n') });
    expect(said).toContain(INNER.replace('Inner', 'Show'));
    expect(said.some((text) => text.startsWith('Second view: the inner face'))).toBe(true);
  });

  it('sizes are those from the edges of the face as it lies there', () => {
    // 200 to 220 from the left of the piece: 100 to 120 from the board's left end in front, so 280 to 300 from the left end seen from
    // behind, 100 from the right one. Its top 20 below the upper edge, which stays up.
    const { drawing } = one({ parts: rail(HOUSING('back', 200)) });
    const sheet = new Sheet(drawing, metric, { shown: 'inner face', behind: 'show face' });
    expect(sheet.span('0 x', 0, [280, 300], 400)).toEqual([280, 300]);
    expect(sheet.span('0 y', 1, [0, 75], 95)).toEqual([0, 75]);
  });

  it('a face that looks down is the underside; one that looks out of the piece the back', () => {
    const shelf = rail(BLIND('back', 200))
      .replace('wide face: front', 'wide face: top')
      .replaceAll('hole: back', 'hole: bottom');
    // Turned over along its length: its left end stays on the left, and its front edge comes up.
    expect(one({ parts: shelf }).said).toContain(
      'Underside drawn; in the piece it looks down, left end on the left, upper edge at the front',
    );
    const wall = rail(BLIND('back', 200)).replace('front: front }', 'back: back }');
    expect(one({ parts: wall }).said).toContain(INNER.replace('Inner face', 'Back'));
  });

  it('edges through the thickness are corners', () => {
    const said = (shape: string) => one({ parts: rail(shape) }).said;
    const all = '{ round: [left bottom, left top, right bottom, right top], radius: 20 mm }';
    expect(said(all)).toContain('All four corners rounded, R 20');
    expect(said('{ chamfer: [right bottom, right top], width: 10 mm }')).toContain(
      'Corners of right end and lower edge, of right end and upper edge chamfered, 10 × 45°',
    );
  });

  it('edges are named as the board lies, faces by their own names', () => {
    const worked = `{ chamfer: front top, width: 3 mm }\n{ round: back bottom, radius: 4 mm }\n${THROUGH('front', 300)}\n{ chamfer: front holes, width: 1 mm }`;
    // Seen from behind its top stays the upper edge; in front it is the show face that has the chamfer.
    const { said } = one({ parts: rail(`${BLIND('back', 200)}\n${worked}`) });
    expect(said).toContain('Edge of upper edge and show face chamfered, 3 × 45°');
    expect(said).toContain('Edge of lower edge and inner face rounded, R 4');
    expect(said).toContain('Rims of the holes in the show face chamfered, 1 × 45°');
    // A leaning hole: towards the right of the piece, which seen from behind is the left end.
    const leans =
      '{ hole: back, at: { across: left + 300 mm }, diameter: 8 mm, depth: 9 mm, lean: { right: 15 deg } }';
    expect(one({ parts: rail(leans) }).said).toContain('Ø 8, 9 deep, 15° towards the left end');
  });

  it('of a pair that looks both ways only what is true of both is said', () => {
    const { said } = one({ parts: rail(BLIND('back', 300), '  copies: mirrored front-back\n') });
    // In the middle of the width and off that of the length: the other one is this board turned round, and looks to the front.
    expect(said).toContain(
      'Inner face drawn; in the piece its left end lies on the right, its upper edge at the top',
    );
  });
});

describe('where there is no room for a second view', () => {
  it('what is cut into the face behind stays dashed, and the sheet says so', () => {
    // As wide as the paper is high: two such views have no room on it.
    const blocks = {
      parts: `panel:
  stock: 18x95
  runs: up
  wide face: front
  length: 600 mm
  glue up: { boards: as they come, allowance: 25 mm }
  at: { left: left, right: left + 550 mm, bottom: floor, front: front }
  shape:
    - { housing: front, at: { bottom: floor + 200 mm, top: floor + 220 mm, right: left + 300 mm }, depth: 6 mm }
    - { housing: back, at: { bottom: floor + 400 mm, top: floor + 420 mm, right: left + 300 mm }, depth: 6 mm }
`,
    };
    const { drawing, desk, sheet } = one(blocks);
    const narrow = sheetsOf(bored(built(blocks, metric)), 'narrow')[0] as Made;
    expect(checkSheet(desk, sheet, drawing)).toBe(2);
    expect(checkSheet(narrow.desk, narrow.sheet, narrow.drawing)).toBe(2);
    const said = readSvg(drawing.svg).texts.map(({ text }) => text.trim());
    expect(said.filter((text) => /^(Dashed|Second)/.test(text))).toEqual([
      'Dashed with a size: in the inner face, which lies down',
    ]);
    expect(said).toContain('housing 6 deep, from the inner face');
  });
});

describe('a mirrored board that alone is bored', () => {
  it('is drawn as it stands, no mirror image', () => {
    // Both sides alike; a cleat lies at the right one only, which has the pockets: off the middle of their width.
    const parts = `side:
  stock: 18x95
  runs: up
  wide face: left
  length: 400 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
cleat:
  stock: 18x95
  rip: 40 mm
  runs: across
  wide face: top
  length: 300 mm
  at: { bottom: floor + 400 mm, right: right, front: front }
`;
    const plan = built({ parts, joints: '- { join: side, to: cleat, by: pocket screws, count: 1 }' }, metric);
    const made = sheetsOf(bored(plan));
    expect(made.map(({ sheet }) => sheet.copy.id)).toEqual(['side.2']);
    const [{ desk, sheet, drawing }] = made as [Made];
    expect(sheet.copy.frame.mirrored).toBe(true);
    expect(checkSheet(desk, sheet, drawing)).toBe(1);
    const said = readSvg(drawing.svg).texts.map(({ text }) => text.trim());
    expect(said.filter((text) => text.includes('mirror'))).toEqual([]);
    // The pocket is bored into its reverse, which looks to the left, into the piece; its top is at the right end of the drawing.
    expect(
      said.find((text) =>
        text.startsWith('Inner face drawn; in the piece it looks to the left, left end at the bottom'),
      ),
    ).toBeDefined();
  });
});

describe('every kind of cut, on a board that is turned over for nine holes in its back', () => {
  const nine = (post: boolean): string =>
    post
      ? '{ hole: back, at: { up: 9 in | 225 mm, across: board.left + (1-1/2 in | 40 mm) }, diameter: 1/8 in | 3 mm, depth: 1/4 in | 6 mm, repeated: 9, along: up, spacing: 1/4 in | 6 mm }'
      : '{ hole: back, at: { across: left + 9 in | left + 225 mm, up: board.top - (1/2 in | 12 mm) }, diameter: 1/8 in | 3 mm, depth: 1/4 in | 6 mm, repeated: 9, along: across, spacing: 1/4 in | 6 mm }';

  for (const edition of [inch, metric])
    it.each(SHAPES)(
      `%s, ${edition.key}`,
      (_, parts, operations) => {
        const post = parts.startsWith('post');
        const row = nine(post).replaceAll('board.', post ? 'post.' : 'board.');
        const work = workOf(built({ parts: `${parts}    - ${row}\n` }, edition));
        const [made] = sheetsOf(work) as [Made];
        const lying = lyingOf(made.desk, made.sheet);
        // Its wide face looks to the front, which is y = 0: the face drawn looks to the back.
        expect(lying.copy.frame.thickness[1]).toBeCloseTo(1, 9);
        expect(checkSheet(made.desk, made.sheet, made.drawing)).toBe(operations + 9);
      },
      60_000,
    );
});

describe('boards by chance', () => {
  it('are made again from their sheets, whichever faces they are worked in', () => {
    const random = randomFrom(20270114);
    const drawn = { face: 0, behind: 0, second: 0 };
    for (let turn = 0; turn < 36; turn++) {
      const edition = turn % 2 === 0 ? inch : metric;
      const work = workOf(built({ parts: boardByChance(random, turn) }, edition));
      for (const place of ['sheet', 'narrow'] as const)
        for (const { desk, sheet, drawing } of sheetsOf(work, place)) {
          const lying = lyingOf(desk, sheet);
          const plain = lying.copy.frame.thickness.every(
            (v, i) => v === (sheet.copy.frame.thickness[i] as number),
          );
          drawn[plain ? 'face' : 'behind']++;
          if (new Sheet(drawing, edition, lying).second) drawn.second++;
          expect(checkSheet(desk, sheet, drawing), `turn ${turn}`).toBeGreaterThan(0);
          const svg = readSvg(drawing.svg);
          expect(overlaps(svg), `turn ${turn}`).toEqual([]);
          expect(crossings(svg), `turn ${turn}`).toEqual([]);
        }
    }
    // All three kinds are tried.
    expect(Math.min(...Object.values(drawn)), JSON.stringify(drawn)).toBeGreaterThan(8);
  }, 300_000);
});

describe('pocket holes', () => {
  it('are said once a sheet, with the boards for which drill and collar stay as they are set', async () => {
    for (const { name, work } of await demoWorks(repository, ['window-seat'])) {
      const sheets = sheetsOf(work).map(({ sheet, drawing }) => ({
        letters: sheet.rows.map(({ row }) => row.letter),
        said: readSvg(drawing.svg).texts.map(({ text }) => text.trim()),
      }));
      const with_ = sheets.filter(({ said }) => said.some((text) => /pocket holes?$/.test(text)));
      // Toe board, back foot, wall rail, and of the face frame top rail, bottom rail and middle stile: all of 3/4 in or 20 mm stock.
      expect(
        with_.flatMap(({ letters }) => letters),
        name,
      ).toEqual(['E', 'F', 'G', 'L', 'M', 'N']);
      for (const { letters, said } of with_) {
        const set = said.filter((text) => text.startsWith('Pocket holes: '));
        expect(set, `${name} ${letters}`).toHaveLength(1);
        const others = /set alike for (.*)$/.exec(set[0] as string)?.[1]?.match(/[A-Z]/g);
        expect(others, `${name} ${letters}`).toEqual(
          ['E', 'F', 'G', 'L', 'M', 'N'].filter((one) => !letters.includes(one)),
        );
      }
    }
  }, 120_000);
});

describe('in the window seat', () => {
  it('the end panels show the face that is housed and rabbeted, in all variants and editions', async () => {
    for (const { name, work } of await demoWorks(repository, ['window-seat'])) {
      const made = sheetsOf(work).find(({ drawing }) => drawing.id === 'part-A') as Made;
      const { copy } = lyingOf(made.desk, made.sheet);
      // By hand from the plan: the end stands with its wide face to the left, its inner face looks to the right (+x); up is x on the sheet.
      expect([copy.frame.thickness, copy.frame.length], name).toEqual([
        [1, 0, 0].map((v) => expect.closeTo(v, 9)),
        [0, 0, 1].map((v) => expect.closeTo(v, 9)),
      ]);
      const said = readSvg(made.drawing.svg).texts.map(({ text }) => text.trim());
      expect(said, name).toContain(
        'Inner face drawn; in the piece it looks to the right, left end at the bottom, upper edge at the front',
      );
      expect(said, name).toContain('inner face');
      expect(
        said.filter((text) => text.includes('from the')),
        name,
      ).toEqual([]);
    }
  }, 120_000);
});
