/** Boards for defects, cuts in the yard, grades kept apart: from a plan to its layouts and its list. Sums are in the comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { materialUse } from '../../src/cutting/left-over.ts';
import { shoppingList } from '../../src/cutting/shopping.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import { readStock } from '../../src/read/stock.ts';
import type { StockItem } from '../../src/read/types.ts';
import { inches } from '../../src/units.ts';
import { imperial, sampleStock, stock1x4 } from '../support/sample.ts';
import { boards, noJoinery, planOf, spare, told } from './support/boards.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});
const laid = (of: Plan) => layOutPlan(of, cutList(of), solver);

describe('a stock list', () => {
  const text = (more: string): string => `name: Hardwood
region: United States
currency: USD
end trim: 1/4 in
default species: white oak
${more}species:
  white oak: { name: White oak, density: 762, defects: 15 % }
items:
  1x8 rough:
    thickness: 3/4 in
    width: 7-1/2 in
    rough: 1/2 in
    sold:
      8 ft: { white oak: 31.00 }
  1x6:
    thickness: 3/4 in
    width: 5-1/2 in
    defects: 6 in
    sold:
      8 ft: { white oak: 21.00 }
`;
  it('has rough edges, defects and a yard that cuts', () => {
    const { value, diagnostics } = readStock(
      'hard',
      'content/stock/hard.yaml',
      text('cut in the yard: yes\n'),
    );
    expect(diagnostics).toEqual([]);
    expect(value?.yardCuts).toBe(true);
    expect(value?.species[0]?.defects).toEqual({ share: 0.15 });
    const [rough, plain] = value?.items ?? [];
    expect([rough?.width, rough?.cover, rough?.rough, rough?.defects]).toEqual([
      inches(7.5),
      inches(7),
      inches(0.5),
      undefined,
    ]);
    expect([plain?.rough, plain?.defects]).toEqual([undefined, { length: inches(6) }]);
    expect(readStock('hard', 'content/stock/hard.yaml', text('')).value?.yardCuts).toBeUndefined();
    expect(
      readStock('hard', 'content/stock/hard.yaml', text('cut in the yard: no\n')).value?.yardCuts,
    ).toBeUndefined();
  });
});

describe('boards for defects', () => {
  const rails = boards(
    'rail',
    stock1x4,
    Array.from({ length: 6 }, () => [46, 3.5] as const),
  );
  const withDefects = (defects: StockItem['defects'], species = false): Plan =>
    planOf([rails], {
      items: species || defects === undefined ? [stock1x4] : [{ ...stock1x4, defects }],
      species: sampleStock.species.map((one) => (species && defects ? { ...one, defects } : one)),
    });

  /*
   * Six of 46 are three of 8 ft, 18.00; of each 95 5/8 − 92 1/4 = 3 3/8 are left, not worth keeping. 10 % of 288 in is 28.8: the
   * cheapest board that holds 46 is one of 6 ft, 4.50. 30 % is 86.4: one of 8 ft, 6.00, against two of 6 ft, 9.00.
   */
  it('are bought after the layouts, at the least cost', () => {
    const list = (of: Plan) => {
      const { value } = laid(of);
      const shopping = shoppingList(of, cutList(of), value, noJoinery);
      return [
        ...shopping.rows.map((row) => [row.unit, row.needed, row.quantity, row.cost, row.extra ?? 0]),
        shopping.total,
      ];
    };
    expect(list(withDefects(undefined))).toEqual([['8 ft', 3, 3, 18, 0], 18]);
    expect(list(withDefects({ share: 0.1 }))).toEqual([['6 ft', 0, 1, 4.5, 1], ['8 ft', 3, 3, 18, 0], 22.5]);
    expect(list(withDefects({ share: 0.3 }))).toEqual([['8 ft', 3, 4, 24, 1], 24]);
    // 6 in of each of three boards
    expect(list(withDefects({ length: inches(6) }))).toHaveLength(3);
    expect(list(withDefects({ share: 0.1 }, true))).toHaveLength(3);
  });

  it('are waste in the reckoning of what is used', () => {
    const waste = (of: Plan): number => materialUse(laid(of).value)?.waste ?? 0;
    // 6 × 46 of 288 in are used; of 360 with the board for defects
    expect(waste(withDefects(undefined))).toBeCloseTo(1 - 276 / 288, 9);
    expect(waste(withDefects({ share: 0.1 }))).toBeCloseTo(1 - 276 / 360, 9);
  });

  /* One of 40 from 6 ft leaves 31 1/2, worth keeping; 10 % of 72 is 7.2 of it. */
  it('are not bought where an offcut makes up for them', () => {
    const one = planOf([boards('rail', stock1x4, [[40, 3.5]])], {
      items: [{ ...stock1x4, defects: { share: 0.1 } }],
    });
    expect(laid(one).value.extra).toBeUndefined();
  });
});

describe('boards too long for the vehicle', () => {
  const longer: StockItem = {
    ...stock1x4,
    lengths: [
      { length: inches(72), label: '6 ft', prices: { pine: 8 } },
      { length: inches(144), label: '12 ft', prices: { pine: 9 } },
    ],
  };
  const carried = (parts: readonly Part[], longest: number, yard: boolean): Plan => ({
    ...planOf(parts, { items: [longer], ...(yard ? { yardCuts: true as const } : {}) }),
    edition: { ...imperial, longestBoard: inches(longest) },
  });
  const rails = boards('rail', stock1x4, [
    [60, 3.5],
    [60, 3.5],
    [20, 3.5],
  ]);

  /*
   * 12 ft holds 60 + 60 + 20 and two kerfs, 140 1/4 of 143 5/8. A vehicle of 8 ft takes 144 in two stretches. The first end's trim and its
   * kerf are 3/8; so much is left on both sides of the yard's cut, since 3 3/8 are over: it lies at 3/8 + 60 + 3/8 = 60 3/4, and home come
   * 60 3/4 and 144 − 60 3/4 − 1/8 = 83 1/8.
   */
  it('are bought where the yard cuts them, the first crosscut marked', () => {
    const { value } = laid(carried([rails], 96, true));
    const [board] = value.boards;
    expect(told(value)).toEqual(['1 of 12 ft: A, A, B']);
    expect(board?.cuts.map(({ kind, piece, yard }) => [kind, piece, yard ?? false])).toEqual([
      ['crosscut', 'board', true],
      ['trim', '1', false],
      ['crosscut', '2r', false],
      ['trim', '1r', false],
      ['crosscut', '4r', false],
      ['crosscut', '5r', false],
    ]);
    expect(board?.cuts.map(({ setting }) => setting / 25.4)).toEqual(
      [60.75, 0.25, 60, 0.25, 60, 20].map((one) => expect.closeTo(one, 9)),
    );
    expect(board?.cuts[2]).toMatchObject({ leaves: { kind: 'part', letter: 'A' }, rest: { kind: 'waste' } });
    // 144 − 3/8 − (60 + 1/8) · 2 − (20 + 1/8) − 2 · 3/8
    expect((board?.offcut ?? 0) / 25.4).toBeCloseTo(144 - 0.375 - 120.25 - 20.125 - 0.75, 9);
  });

  it('are cut to the line in the yard where they have nothing to spare', () => {
    // 3/8 + 60 + 1/8 + 60 + 1/8 + 23 = 143 5/8: 3/8 are over, and two sides take 3/4; the trim leaves the first A
    const tight = boards('rail', stock1x4, [
      [60, 3.5],
      [60, 3.5],
      [23, 3.5],
    ]);
    const { value } = laid(carried([tight], 96, true));
    const cuts = value.boards[0]?.cuts ?? [];
    expect(told(value)).toEqual(['1 of 12 ft: A, A, B']);
    expect((cuts[0]?.setting ?? 0) / 25.4).toBeCloseTo(60.375, 9);
    expect(cuts[0]?.leaves.kind).toBe('work');
    expect(cuts[1]?.rest).toEqual({ kind: 'part', letter: 'A' });
  });

  it('are cut to the line where the vehicle takes no more', () => {
    // 60 1/2: the first stretch, 3/8 + 60, is full, and 3/8 more don't go in; the second, 60 + 3/8 of its own, does; the third has 20 3/8
    const cuts = laid(carried([rails], 60.5, true)).value.boards[0]?.cuts.filter((cut) => cut.yard) ?? [];
    expect(cuts.map(({ setting }) => setting / 25.4)).toEqual([
      expect.closeTo(60.375, 9),
      expect.closeTo(60.375, 9),
    ]);
  });

  it('are not where it doesn’t', () => {
    // one of 60 or three of 20 from each board of 6 ft
    expect(told(laid(carried([rails], 96, false)).value)).toEqual(['2 of 6 ft: A', '1 of 6 ft: B']);
  });

  it('change the order of their sections, or are cut more than once, where one cut needs it', () => {
    const three = boards('rail', stock1x4, [
      [50, 3.5],
      [45, 3.5],
      [40, 3.5],
    ]);
    // 50 3/8 | 93 1/2 doesn't go into 84; 45 and 40 in front, 85 1/2, do not either; 50 | 45 | 40 is two cuts
    const twice = laid(carried([three], 84, true)).value.boards[0];
    expect(twice?.cuts.filter((cut) => cut.yard)).toHaveLength(2);
    // 50 and 40 in front, 90 1/2, and 53 3/8 behind them; 50 alone leaves 93 1/2 > 92
    const once = laid(carried([three], 92, true)).value.boards[0];
    expect(once?.cuts.filter((cut) => cut.yard)).toHaveLength(1);
    expect(once?.sections.map((section) => section.length / 25.4)).toEqual(
      [50, 40, 45].map((one) => expect.closeTo(one, 9)),
    );
  });

  it('can’t give a part that the vehicle can’t carry', () => {
    const { diagnostics } = laid(carried([boards('rail', stock1x4, [[100, 3.5]])], 96, true));
    expect(diagnostics.map(({ id, message }) => [id, message])).toEqual([
      [
        'board.vehicle',
        'expected a part no longer than 96″, the edition\'s "longest board": the yard can\'t cut it shorter, found "Rail" 100″ long',
      ],
    ]);
  });

  it('says how to have longer boards cut where none fits', () => {
    const { diagnostics } = laid(carried([rails], 48, false));
    expect(diagnostics[0]?.hint).toBe(
      'raise "longest board", or write "cut in the yard: yes" in content/stock/north-american-softwood.yaml if the yard cuts boards for the way home',
    );
  });
});

describe('grades and species of one section', () => {
  /* Two of 40 fit one board of 8 ft together; in two grades each has a board of 6 ft of its own, at its own price. */
  it('are never cut from one board', () => {
    const graded: StockItem = {
      ...stock1x4,
      lengths: stock1x4.lengths.map((entry) => ({
        ...entry,
        prices: { pine: entry.prices.pine as number, 'clear pine': 2 * (entry.prices.pine as number) },
      })),
    };
    const clear = { ...boards('face', graded, [[40, 3.5]]), species: 'clear pine' };
    const list = {
      items: [graded],
      species: [...sampleStock.species, { key: 'clear pine', name: 'Clear pine' }],
    };
    const both = laid(planOf([boards('rail', graded, [[40, 3.5]]), clear], list));
    expect(both.value.boards.map((board) => [board.species, board.lengthLabel, board.price])).toEqual([
      ['pine', '6 ft', 4.5],
      ['clear pine', '6 ft', 9],
    ]);
    // the same section under another name, as a yard sells another grade
    const select: StockItem = { ...stock1x4, key: '1x4 select', label: '1×4 select' };
    const named = laid(
      planOf([boards('rail', stock1x4, [[40, 3.5]]), boards('face', select, [[40, 3.5]])], {
        items: [stock1x4, select],
      }),
    );
    expect(named.value.boards.map((board) => board.stock.key)).toEqual(['1x4', '1x4 select']);
    // and an offcut of one is none for the other
    const apart = laid(
      planOf(
        [
          boards('rail', graded, [[40, 3.5]]),
          { ...spare('cleat', graded, [[12, 3.5]]), species: 'clear pine' },
        ],
        list,
      ),
    );
    expect(apart.diagnostics.map(({ id }) => id)).toEqual(['offcut.none']);
  });
});
