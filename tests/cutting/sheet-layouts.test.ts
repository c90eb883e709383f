/** Parts from sheets in a plan: from the stock list's text to layouts, shopping list and messages. Sums are worked in the comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import type { SheetPart, SheetPiece } from '../../src/cutting/sheets/types.ts';
import { shoppingList } from '../../src/cutting/shopping.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import type { Joinery } from '../../src/joinery/types.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import { readStock } from '../../src/read/stock.ts';
import type { StockItem, StockList } from '../../src/read/types.ts';
import { lineText } from '../../src/text.ts';
import { boxPart, samplePlan } from '../support/sample.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const listed = (items: string): ReturnType<typeof readStock> =>
  readStock(
    'sheets',
    'content/stock/sheets.yaml',
    `name: Sheets
region: United States
currency: USD
end trim: 1/4 in
default species: birch
species:
  birch: { name: Birch plywood, density: 680 }
  plain: { name: Fibreboard }
items:
${items}`,
  );

const PLYWOOD = `  ply-3/4:
    stands for: [ply-18]
    thickness: 23/32 in
    sheets:
      4 x 8 ft: { birch: 60.00 }
      4 x 4 ft: { birch: 34.00 }
      2 x 4 ft: { birch: 19.00 }
  board-3/4:
    thickness: 3/4 in
    grain: none
    sheets:
      49 x 97 in: { plain: 40.00 }
`;

const list = (): StockList => listed(PLYWOOD).value as StockList;
const item = (key: string): StockItem => list().items.find((one) => one.key === key) as StockItem;

/** A plan of parts from sheets, each `count` times: length up, width across, inches. */
function planOf(
  parts: readonly (readonly [
    key: string,
    stock: string,
    length: number,
    width: number,
    count: number,
    more?: Partial<Part>,
  ])[],
): Plan {
  return {
    ...samplePlan,
    stockList: list(),
    parts: parts.map(([key, stock, length, width, count, more]) => ({
      ...boxPart(
        key,
        item(stock),
        'up',
        'front',
        Array.from({ length: count }, (_, index) => [
          [0, index, 0],
          [width, index + item(stock).thickness / 25.4, length],
        ]),
      ),
      species: stock === 'board-3/4' ? 'plain' : 'birch',
      ...more,
    })),
  };
}

const laid = (plan: Plan) => {
  const cuts = cutList(plan);
  return { cuts, ...layOutPlan(plan, cuts, solver) };
};
const partsOf = (piece: SheetPiece): SheetPart[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(partsOf) : piece.kind === 'part' ? [piece] : [];
const noJoinery: Joinery = { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] };

describe('a stock list with sheets', () => {
  it('reads sizes in words, with the grain along the longer side', () => {
    const { value, diagnostics } = listed(PLYWOOD);
    expect(diagnostics).toEqual([]);
    const ply = value?.items[0];
    // 4 ft = 1219.2 mm, 8 ft = 2438.4 mm (arithmetic)
    expect(ply?.sheets?.at(-1)).toEqual({
      length: expect.closeTo(2438.4, 9),
      width: expect.closeTo(1219.2, 9),
      label: '4 × 8 ft',
      prices: { birch: 60 },
    });
    expect(ply?.lengths).toEqual([]);
    expect(ply?.thickness).toBeCloseTo(18.26, 2);
  });
  it('turns the sides of a sheet whose grain runs across', () => {
    const { value } = listed(
      '  ply:\n    thickness: 18 mm\n    grain: across\n    sheets:\n      1220 x 2440 mm: { birch: 60 }\n',
    );
    expect(value?.items[0]?.sheets?.[0]).toMatchObject({ length: 1220, width: 2440 });
  });
  it.each([
    [
      'a size that is none',
      '  ply:\n    thickness: 18 mm\n    sheets:\n      large: { birch: 60 }\n',
      /stock\.sheet-size/,
    ],
    [
      'a width beside sheets',
      '  ply:\n    thickness: 18 mm\n    width: 20 mm\n    sheets:\n      4 x 8 ft: { birch: 60 }\n',
      /stock\.sheet-key/,
    ],
    [
      'a species that is not there',
      '  ply:\n    thickness: 18 mm\n    sheets:\n      4 x 8 ft: { oak: 60 }\n',
      /stock\.species-unknown/,
    ],
    [
      'a price that is none',
      '  ply:\n    thickness: 18 mm\n    sheets:\n      4 x 8 ft: { birch: free }\n',
      /a price, more than 0/,
    ],
    [
      'a grain on a board',
      '  1x4:\n    thickness: 18 mm\n    width: 89 mm\n    grain: long\n    sold:\n      8 ft: { birch: 60 }\n',
      /stock\.sheets-missing/,
    ],
    [
      'a board without its width',
      '  1x4:\n    thickness: 18 mm\n    sold:\n      8 ft: { birch: 60 }\n',
      /"width" in "1x4"/,
    ],
  ])('%s', (_, items, message) => {
    expect(listed(items).diagnostics.map(diagnosticText).join('\n')).toMatch(message);
  });
});

describe('sheet layouts of a plan', () => {
  /*
   * Kerf 1/8 in. Sides 30 × 16 in four times, grain up: side by side across 48 in two (16 + 1/8 + 16 = 32 1/8; three 48 1/4 don't fit),
   * along 96 in three (90 1/4). On 4 × 4 ft two sides (one along, two across), on 2 × 4 ft one (24 across): four sides on one
   * 4 × 8 ft for 60, or two 4 × 4 ft for 68, or four 2 × 4 ft for 76.
   */
  it('buys the sheets worked out by hand', () => {
    const { value, diagnostics, cuts } = laid(planOf([['side', 'ply-3/4', 30, 16, 4]]));
    expect(diagnostics).toEqual([]);
    expect(cuts.rows[0]?.notes.map(lineText)).toEqual([]);
    expect(value.boards).toEqual([]);
    expect(value.sheets?.map((sheet) => [sheet.sizeLabel, sheet.count])).toEqual([['4 × 8 ft', 1]]);
    expect(value.proofs).toEqual([
      { stock: 'ply-3/4', species: 'birch', status: 'proved best', gap: 0, cost: 60, bound: 60 },
    ]);
    const parts = partsOf(value.sheets?.[0]?.root as SheetPiece);
    expect(parts.map((part) => part.item)).toEqual(['A', 'A', 'A', 'A']);
    expect(parts.every((part) => !part.turned)).toBe(true);
    expect(value.stops).toEqual([]);
  });
  it('takes half and quarter sheets where they are cheaper, and counts them on the shopping list', () => {
    const plan = planOf([
      ['side', 'ply-3/4', 30, 16, 2],
      ['shelf', 'ply-3/4', 40, 20, 1],
    ]);
    const { value, cuts } = laid(plan);
    // a 4 × 4 ft holds two sides, 34, a 2 × 4 ft the shelf, 19: 53; all three on a 4 × 4 ft don't fit: 32 1/8 + 20 > 48 and 30 + 40 > 48
    expect(value.proofs[0]).toMatchObject({ cost: 53, status: 'proved best' });
    const shopping = shoppingList(plan, cuts, value, noJoinery);
    expect(
      shopping.rows.map((row) => [row.name, lineText(row.size), row.unit, row.quantity, row.cost]),
    ).toEqual([
      ['ply-3/4', '23/32″', '2 × 4 ft', 1, 19],
      ['ply-3/4', '23/32″', '4 × 4 ft', 1, 34],
    ]);
    expect(shopping).toMatchObject({ lumberCost: 53, total: 53, partial: false });
  });
  it('keeps to the levels of cuts and to the largest piece that the shop allows', () => {
    const parts: Parameters<typeof planOf>[0] = [
      ['side', 'ply-3/4', 30, 16, 2],
      ['shelf', 'ply-3/4', 28, 15, 3],
      ['rail', 'ply-3/4', 31, 4, 4],
    ];
    const plan = planOf(parts);
    const at = (more: Partial<Plan['edition']>) =>
      laid({ ...plan, edition: { ...plan.edition, ...more } }).value;
    const depth = (piece: SheetPiece): number =>
      piece.kind === 'split' ? 1 + Math.max(...piece.pieces.map(depth)) : 0;
    const free = at({});
    const flat = at({ cutLevels: 2 });
    expect(Math.max(...(free.sheets ?? []).map(({ root }) => depth(root)))).toBeGreaterThan(2);
    expect(Math.max(...(flat.sheets ?? []).map(({ root }) => depth(root)))).toBe(2);
    // 8 sq ft = 0.743 m²
    const light = at({ largestPiece: 743_224 });
    for (const { root } of light.sheets ?? [])
      for (const piece of root.kind === 'split' ? root.pieces : [root])
        if (partsOf(piece).length > 1) expect(piece.length * piece.width).toBeLessThanOrEqual(743_224 + 1);
  });
  it('turns a part that may turn, and any part of a sheet without grain', () => {
    // 40 × 60 on 4 × 8 ft: its length of 40 along the grain, its width of 60 doesn't lie across 48
    const fixed = laid(planOf([['door', 'ply-3/4', 40, 60, 1]]));
    expect(fixed.diagnostics.map((one) => one.id)).toEqual(['sheet.grain']);
    expect(laid(planOf([['door', 'ply-3/4', 40, 60, 1, { turn: true }]])).diagnostics).toEqual([]);
    const plain = laid(planOf([['back', 'board-3/4', 40, 60, 1]]));
    expect(plain.diagnostics).toEqual([]);
    expect(partsOf(plain.value.sheets?.[0]?.root as SheetPiece)[0]?.turned).toBe(true);
  });
  it('says what is too large, what would do, and lays out the rest', () => {
    const { value, diagnostics } = laid(
      planOf([
        ['panel', 'ply-3/4', 96.5, 20, 1],
        ['shelf', 'ply-3/4', 40, 20, 1],
        ['sliver', 'ply-3/4', 40, 0.125, 1],
      ]),
    );
    expect(diagnostics.map((one) => [one.id, one.message, one.hint])).toEqual([
      [
        'sheet.too-large',
        'expected a part that a sheet of ply-3/4 can give: the largest sold is 4 × 8 ft, found "Panel" 96 1/2″ long and 20″ wide',
        'write "stock: board-3/4", which is sold large enough',
      ],
      [
        'sheet.kerf',
        'expected a part wider than the saw cut of 1/8″, found "Sliver" 40″ long and 1/8″ wide',
        'check the faces that its size comes from',
      ],
    ]);
    expect(value.sheets?.flatMap((sheet) => partsOf(sheet.root).map((part) => part.item))).toEqual(['B']);
    // what a plan's text can't say any more at this point is still said of a plan made in another way
    const spoilt = laid(
      planOf([
        ['shelf', 'ply-3/4', 40, 0, 1],
        ['door', 'ply-3/4', 40, 20, 1, { species: 'plain' }],
      ]),
    );
    expect(spoilt.diagnostics.map((one) => [one.id, one.message, one.hint])).toEqual([
      [
        'sheet.size',
        'expected a part with a length and a width above 0, found "Shelf" 40″ long and 0″ wide',
        'check the faces that its size comes from',
      ],
      [
        'sheet.not-sold',
        'expected ply-3/4 in a species that it is sold in, found "plain", for which content/stock/sheets.yaml has no price',
        'write "species: birch" in door (sold: birch), or add prices to the stock list',
      ],
    ]);
    expect(spoilt.value.sheets).toBeUndefined();
    const joined = laid(planOf([['panel', 'ply-3/4', 120, 20, 1]]));
    expect(joined.diagnostics[0]?.hint).toBe('make it of two pieces, joined with a spline or over a support');
  });
});
