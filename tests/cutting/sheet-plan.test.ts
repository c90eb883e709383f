/** A plan with parts from a sheet, from its text on: sizes both ways, the grain, turning, and what is said where something is missing. */
import { describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { readShop } from '../../src/read/shop.ts';
import { lineText } from '../../src/text.ts';
import { printed, sizeText } from '../../src/units.ts';
import { demoFiles } from '../support/demo.ts';

const SIDE = `side:
  stock: ply-3/4
  species: birch
  runs: up
  wide face: left
  at: { left: left, bottom: floor, top: top, front: front, back: back }
  copies: mirrored left-right`;

/** Builds a plan of some parts in both editions, from a shop that sells plywood. */
async function built(parts: string) {
  const files = new Map(demoFiles());
  for (const [name, item] of [
    [
      'north-american-softwood',
      '  ply-3/4:\n    thickness: 23/32 in\n    sheets:\n      4 x 8 ft: { birch: 60.00 }\n',
    ],
    [
      'metric-softwood',
      '  ply-18:\n    stands for: [ply-3/4]\n    thickness: 18 mm\n    sheets:\n      1220 x 2440 mm: { birch: 62.00 }\n',
    ],
  ] as const) {
    const path = `content/stock/${name}.yaml`;
    const text = files.get(path) as string;
    files.set(
      path,
      text
        .replace('\nspecies:\n', '\nspecies:\n  birch: { name: Birch plywood }\n')
        .replace('\nitems:\n', `\nitems:\n${item}`),
    );
  }
  files.set(
    'content/plans/crate/plan.md',
    `---
title: Crate
number: 900
summary: A case for tests.
kind: storage
price: free
skill: None
time: None
revisions: [{ revision: A, date: 2026-01-09, note: First print. }]
---

\`\`\`sizes
outline: { width: 36 in | 900 mm, depth: 11 in | 280 mm, height: 60 in | 1500 mm }
\`\`\`

\`\`\`parts
${parts}
\`\`\`

## Steps

### Stand it up

\`\`\`step
adds: [${/^shelf:/m.test(parts) ? 'side, shelf' : 'side'}]
\`\`\`

Stand it up.
`,
  );
  const { value: shop, diagnostics } = await readShop(files);
  const source = shop?.plans.find((plan) => plan.slug === 'crate');
  if (shop === undefined || source === undefined)
    return { plans: [], said: diagnostics.map(diagnosticText).join('\n') };
  const outcomes = shop.shop.editions.map((edition) => buildPlan(source, edition, shop));
  return {
    plans: outcomes.flatMap(({ value }) => value ?? []),
    said: outcomes.flatMap((one) => one.diagnostics.map(diagnosticText)).join('\n'),
  };
}

describe('a part from a sheet', () => {
  it('has its size from its faces, and its thickness from the sheet of each edition', async () => {
    const { plans } = await built(SIDE);
    expect(plans).toHaveLength(2);
    const rows = plans.map((plan) => cutList(plan).rows[0]);
    // imperial: 60 × 11 × 23/32 in = 18.25625 mm; metric: 1500 × 280 × 18 mm
    expect(rows.map((row) => [row?.length, row?.width, row?.thickness, row?.quantity])).toEqual([
      [expect.closeTo(1524, 6), expect.closeTo(279.4, 6), expect.closeTo(18.25625, 6), 2],
      [1500, 280, 18, 2],
    ]);
    expect(rows.map((row) => row?.rip)).toEqual([undefined, undefined]);
    expect(rows.map((row) => row?.turn)).toEqual([undefined, undefined]);
  });
  it('is of the one species that the sheet is sold in, where nothing is said', async () => {
    const { plans, said } = await built(SIDE.replace('  species: birch\n', ''));
    expect(said).toBe('');
    expect(plans.map((plan) => plan.parts[0]?.species)).toEqual(['birch', 'birch']);
  });
  it('prints what the sheet is called and how thick it really is, and a housing for it as wide as that', async () => {
    const shelf = `shelf:
  stock: ply-3/4
  species: birch
  runs: across
  wide face: top
  at: { bottom: floor + 12 in | 300 mm, left: side.right - 1/4 in | side.right - 6 mm, right: right - side.right + 1/4 in | right - side.right + 6 mm, front: front, back: back }`;
    const housed = `${SIDE}
  shape:
    - housing: right
      at: { bottom: shelf.bottom, top: shelf.top }
      depth: 1/4 in | 6 mm`;
    const { plans } = await built(`${housed}\n\n${shelf}`);
    const [imperial, metric] = plans.map((plan) => {
      const [side, under] = cutList(plan).rows;
      const say = (length: number | undefined) => sizeText(printed(length ?? 0, plan.edition.numbers));
      return {
        name: side?.stock.label,
        thick: say(side?.thickness),
        // 36 - 2 × 23/32 + 2 × 1/4 = 35-1/16 in; 900 - 36 + 12 = 876 mm
        long: say(under?.length),
        notes: side?.notes.map(lineText),
      };
    });
    // PS 1-19, table 10: what is called 3/4 is 23/32 in thick. Three quarters would leave the shelf loose by a thirty-second.
    expect(imperial).toEqual({
      name: 'ply-3/4',
      thick: '23/32″',
      long: '35 1/16″',
      notes: [expect.stringContaining('housing in the right: 23/32″ wide, 1/4″ deep')],
    });
    expect(metric).toEqual({
      name: 'ply-18',
      thick: '18 mm',
      long: '876 mm',
      notes: [expect.stringContaining('housing in the right: 18 mm wide, 6 mm deep')],
    });
  });
  it('may turn where its author says so', async () => {
    const { plans } = await built(`${SIDE}\n  turn: yes`);
    expect(plans.map((plan) => cutList(plan).rows[0]?.turn)).toEqual([true, true]);
  });
  it('says which edges are banded', async () => {
    const notesOfRows = async (banded: string, more: string): Promise<string[]> =>
      (await built(`${SIDE}\n  banded: ${banded}\n${more}`)).plans.flatMap((plan) =>
        cutList(plan).rows.map((row) => row.notes.map(lineText).join('; ')),
      );
    const notes = async (banded: string): Promise<string[] | undefined> =>
      (await built(`${SIDE}\n  banded: ${banded}`)).plans.map(
        (plan) => cutList(plan).rows[0]?.notes.map(lineText).join('; ') ?? '',
      );
    expect(await notes('front')).toEqual(['band the front edge', 'band the front edge']);
    expect(await notes('[front, top, bottom]')).toContain('band the front, top and bottom edges');
    expect(await notes('[front, back, top, bottom]')).toContain('band the edges all round');
    // A mirror image has its banding on the other edge: naming that of the first would turn it round.
    const handed = await notesOfRows(
      'front',
      '  shape:\n    - rabbet: { right: 10 mm, back: 5 mm }\n    - notch: { front: side.front, back: side.front + 75 mm, bottom: floor, top: floor + 95 mm }',
    );
    expect(handed).toHaveLength(4);
    expect(handed.filter((said) => said.includes('band the front edge'))).toHaveLength(2);
    expect(handed.filter((said) => said.endsWith('mirror image of A; its banding too'))).toHaveLength(2);
  });
  it.each([
    [
      'banding on a wide face',
      `${SIDE}\n  banded: [front, left]`,
      /24:19: error: expected an edge or an end of "side": .*, found left, a wide face \(imperial edition\) \[part\.banded\]/,
    ],
    [
      'banding on a board',
      `${SIDE.replace('ply-3/4', '1x12 | 20x120').replace('species: birch', 'species: pine')}\n  banded: front`,
      /a part from a sheet, whose edges banding covers, found 1x12, a board/,
    ],
    [
      'no width',
      SIDE.replace(', back: back', ''),
      /a width of "side", since ply-3\/4 is a sheet: both front and back, or "rip", found front alone/,
    ],
    [
      'turning a board',
      `${SIDE.replace('ply-3/4', '1x12 | 20x120').replace('species: birch', 'species: pine')}\n  turn: yes`,
      /"turn: yes" is for parts from sheets, found 1x12, a board/,
    ],
    ['a species that is not sold', SIDE.replace('species: birch', 'species: pine'), /species\.not-sold/],
  ])('%s', async (_, parts, message) => {
    expect((await built(parts)).said).toMatch(message);
  });
});
