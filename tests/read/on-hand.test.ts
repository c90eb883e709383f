/** What is on hand: read with its places, used first, not bought; and the longest board that the vehicle holds. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { shoppingList } from '../../src/cutting/shopping.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import type { Plan } from '../../src/model/types.ts';
import { readOnHand } from '../../src/read/on-hand.ts';
import { withOwn } from '../../src/read/own-stock.ts';
import { inches, mm } from '../../src/units.ts';
import { samplePlan, sampleStock } from '../support/sample.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const read = (text: string) => readOnHand(text, [sampleStock]);
const said = (text: string): string => read(text).diagnostics.map(diagnosticText).join('\n');
const laid = (plan: Plan) => {
  const cuts = cutList(plan);
  const { value, diagnostics } = layOutPlan(plan, cuts, solver);
  const shopping = shoppingList(plan, cuts, value, {
    places: [],
    fasteners: [],
    bySteps: new Map(),
    diagnostics: [],
  });
  return { value, diagnostics, shopping };
};

describe('the file', () => {
  it('is a list of boards with their count', () => {
    const { value, diagnostics } = read(
      'pieces:\n  - { stock: 2x4, length: 5 ft, count: 2 }\n  - { stock: 1x6, length: 41 in }\n',
    );
    expect(diagnostics).toEqual([]);
    expect(value.map(({ stock, length, count, label }) => [stock, length / 25.4, count, label])).toEqual([
      ['2x4', expect.closeTo(60, 9), 2, '5 ft'],
      ['1x6', expect.closeTo(41, 9), 1, '41 in'],
    ]);
  });
  it.each([
    [
      'an unknown stock',
      'pieces:\n  - { stock: 2x44, length: 5 ft }\n',
      /2:14: error: .*"2x44" \[on-hand\.stock-unknown\]/,
    ],
    ['a width on a board', 'pieces:\n  - { stock: 2x4, length: 5 ft, width: 3 in }\n', /on-hand\.width/],
    ['a length of nothing', 'pieces:\n  - { stock: 2x4, length: 0 in }\n', /on-hand\.size/],
    ['an unknown key', 'pieces:\n  - { stock: 2x4, lenght: 5 ft }\n', /on-hand\.key-unknown/],
    [
      'a species that its list doesn’t have',
      'pieces:\n  - { stock: 2x4, species: pin, length: 5 ft }\n',
      /2:28: error: expected the key of a species of its stock list, found "pin" for 2x4 \[on-hand\.species\]\n\s+pine/,
    ],
    ['half a board', 'pieces:\n  - { stock: 2x4, length: 5 ft, count: 1.5 }\n', /on-hand\.value/],
  ])('%s', (_, text, message) => {
    expect(said(text)).toMatch(message);
  });
});

describe('layouts with what is on hand', () => {
  /*
   * Bought without it: 2x4 for four legs of 17 1/4, one 6 ft for 4.50; 1x4 one 6 ft, 4.50; 1x6 three of 40, one 8 ft and one 6 ft, 10.50.
   * A 2x4 of 71 in holds four legs as well: 4 × 17 1/4 + 3 × 1/8 + 1/4 + 1/8 = 69 3/4. A 1x6 of 41 in holds one top board:
   * 40 + 3/8 = 40 3/8; the other two come from one 8 ft for 6.00.
   */
  it('uses it first and leaves it off the shopping list', () => {
    const own = read('pieces:\n  - { stock: 2x4, length: 71 in }\n  - { stock: 1x6, length: 41 in }\n').value;
    const { value, shopping, diagnostics } = laid({ ...samplePlan, stockList: withOwn(sampleStock, own) });
    expect(diagnostics).toEqual([]);
    expect(value.boards.map((board) => [board.stock.key, board.lengthLabel, board.own ?? false])).toEqual([
      ['2x4', '71 in, on hand', true],
      ['1x4', '6 ft', false],
      ['1x6', '8 ft', false],
      ['1x6', '41 in, on hand', true],
    ]);
    expect(shopping.rows.map((row) => [row.name, row.unit, row.cost])).toEqual([
      ['1×4', '6 ft', 4.5],
      ['1×6', '8 ft', 6],
    ]);
    expect(shopping).toMatchObject({ total: 10.5, partial: false });
  });

  /*
   * A 2x4 of one list is 1 1/2 × 3 1/2 in, 38.1 × 88.9 mm. Where 45 × 95 mm stands for it the board on hand is another one; where 38 × 89 mm
   * to the tenth of a millimetre is sold under another name it is the same.
   */
  it('takes a board for what it is, not for what stands for it in another region', () => {
    const two = sampleStock.items.find(({ key }) => key === '2x4') as (typeof sampleStock.items)[number];
    const own = read('pieces:\n  - { stock: 2x4, length: 71 in }\n').value;
    const lengthsIn = (key: string, thickness: number, width: number): number => {
      const item = { ...two, key, stands_for: ['2x4'], thickness: mm(thickness), width: mm(width) };
      return withOwn({ ...sampleStock, items: [item] }, own).items[0]?.lengths.length ?? 0;
    };
    expect(lengthsIn('45x95', 45, 95)).toBe(two.lengths.length);
    expect(lengthsIn('38x89', 38.1, 88.9)).toBe(two.lengths.length + 1);
    expect(lengthsIn('2x4', 38.1, 88.9)).toBe(two.lengths.length + 1);
    // a name that no list sells by: whatever stands for it
    const named = readOnHand('pieces:\n  - { stock: 2x4, length: 71 in }\n', [
      { ...sampleStock, items: [{ ...two, key: '45x95', stands_for: ['2x4'] }] },
    ]).value;
    const item = { ...two, key: '45x95', stands_for: ['2x4'], thickness: mm(45), width: mm(95) };
    expect(withOwn({ ...sampleStock, items: [item] }, named).items[0]?.lengths).toHaveLength(
      two.lengths.length + 1,
    );
  });

  it('is of the species that a sheet is sold in, where it doesn’t say its own', () => {
    const sheet = {
      ...(sampleStock.items[0] as (typeof sampleStock.items)[number]),
      key: 'ply-1/2',
      sheets: [{ length: inches(96), width: inches(48), label: '4 × 8 ft', prices: { birch: 60 } }],
    };
    const list = { ...sampleStock, items: [sheet] };
    const own = readOnHand('pieces:\n  - { stock: ply-1/2, length: 48 in, width: 48 in }\n', [list]);
    expect(own.diagnostics).toEqual([]);
    expect(withOwn(list, own.value).items[0]?.sheets?.map(({ prices }) => prices)).toEqual([
      { birch: 60 },
      { birch: 0 },
    ]);
  });

  it('says which parts find no board when it is used up', () => {
    // no 2x4 is sold at all: the one on hand of 40 in holds two legs, 34 5/8 + 3/8
    const own = read('pieces:\n  - { stock: 2x4, length: 40 in }\n').value;
    const list = {
      ...sampleStock,
      items: sampleStock.items.map((item) => (item.key === '2x4' ? { ...item, lengths: [] } : item)),
    };
    const { diagnostics, shopping } = laid({ ...samplePlan, stockList: withOwn(list, own) });
    expect(diagnostics.map((one) => one.message)).toEqual([
      'expected enough of 2×4 for 4 of "Leg", found room for 2: no size that is sold holds the rest, and what is on hand is used up',
    ]);
    expect(shopping.partial).toBe(true);
  });
});

describe('the longest board that the vehicle holds', () => {
  const upTo = (length: number) =>
    laid({ ...samplePlan, edition: { ...samplePlan.edition, longestBoard: inches(length) } });
  it('leaves longer boards out', () => {
    // 6 ft only: the three top boards of 40 then take three boards, 3 × 4.50 = 13.50
    const { value, diagnostics } = upTo(72);
    expect(diagnostics).toEqual([]);
    expect(value.boards.every((board) => board.boardLength <= inches(72))).toBe(true);
    expect(value.proofs.map((proof) => proof.cost)).toEqual([4.5, 4.5, 13.5]);
  });
  it('says so where no board is short enough', () => {
    expect(upTo(60).diagnostics[0]?.id).toBe('board.vehicle');
  });
});
