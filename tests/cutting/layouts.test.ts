/** Layouts and shopping list of the sample bench; the sums are worked in the comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { boardJobs, jobKey, layOutPlan } from '../../src/cutting/layouts.ts';
import { cents } from '../../src/cutting/money.ts';
import { shoppingList } from '../../src/cutting/shopping.ts';
import type { BoardResult } from '../../src/cutting/types.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import type { Joinery } from '../../src/joinery/types.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import type { HardwareItem, StockItem } from '../../src/read/types.ts';
import { lineText } from '../../src/text.ts';
import { inches, mm } from '../../src/units.ts';
import { boxPart, samplePlan, sampleStock, stock1x4, stock1x6, stock2x4 } from '../support/sample.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const laidOut = (plan: Plan) => {
  const cuts = cutList(plan);
  return { cuts, ...layOutPlan(plan, cuts, solver) };
};

const noJoinery: Joinery = { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] };

describe('layouts of the sample bench', () => {
  /*
   * Boards of 6 and 8 ft for 4.50 and 6.00, less 3/8 for the trimmed end: 71.625 and 95.625 to use.
   * 2x4: four legs of 17 1/4 and three kerfs are 69 3/8: one 6 ft board, 4.50, 2 1/8 left after the kerf.
   * 1x4: two of 33 and a kerf are 66 1/8: one 6 ft board.
   * 1x6: three of 40; two and a kerf are 80 1/8, so 8 ft; the third alone in 6 ft: 10.50. One board holds two at most.
   */
  it('buys the boards worked out by hand', () => {
    const { value, diagnostics } = laidOut(samplePlan);
    expect(diagnostics).toEqual([]);
    expect(value.boards.map((board) => [board.stock.key, board.lengthLabel, board.count])).toEqual([
      ['2x4', '6 ft', 1],
      ['1x4', '6 ft', 1],
      ['1x6', '8 ft', 1],
      ['1x6', '6 ft', 1],
    ]);
    expect(value.proofs).toEqual([
      { stock: '2x4', species: 'pine', status: 'proved best', gap: 0, cost: 4.5, bound: 4.5 },
      { stock: '1x4', species: 'pine', status: 'proved best', gap: 0, cost: 4.5, bound: 4.5 },
      { stock: '1x6', species: 'pine', status: 'proved best', gap: 0, cost: 10.5, bound: 10.5 },
    ]);
    const legs = value.boards[0];
    expect(legs?.sections.map((section) => section.start / 25.4)).toEqual(
      [0, 17.375, 34.75, 52.125].map((start) => expect.closeTo(start, 9)),
    );
    expect((legs?.offcut ?? 0) / 25.4).toBeCloseTo(2.125, 9);
    expect(legs?.endTrim).toBe(sampleStock.endTrim);
  });

  it('sets the stop block once a length, the longest first', () => {
    const { value } = laidOut(samplePlan);
    expect(
      value.stops.map((stop) => [stop.length / 25.4, stop.pieces.map((piece) => piece.letter).join('')]),
    ).toEqual([
      [40, 'CD'],
      [33, 'B'],
      [17.25, 'A'],
    ]);
    expect(value.stops[0]?.pieces[1]).toEqual({ letter: 'D', quantity: 1, stock: '1×6' });
  });

  it('cuts the longest piece of each board first', () => {
    const { value } = laidOut(samplePlan);
    for (const board of value.boards) {
      const lengths = board.sections.map((section) => section.length);
      expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    }
  });

  it('takes a result from its memo, and lays out anew what the memo has spoilt', () => {
    const cuts = cutList(samplePlan);
    const kept = new Map<string, BoardResult>();
    const memo = {
      get: (key: string) => kept.get(key),
      set: (key: string, one: BoardResult) => kept.set(key, one),
    };
    const first = layOutPlan(samplePlan, cuts, solver, memo);
    expect([...kept.keys()].sort()).toEqual(boardJobs(samplePlan, cuts).map(jobKey).sort());
    const fails: Solver = {
      linear: () => {
        throw new Error('not to be asked');
      },
      integer: () => {
        throw new Error('not to be asked');
      },
    };
    expect(layOutPlan(samplePlan, cuts, fails, memo)).toEqual(first);
    for (const [key, result] of kept) kept.set(key, { ...result, cost: 1 });
    expect(layOutPlan(samplePlan, cuts, solver, memo)).toEqual(first);
  });

  it('puts two square legs side by side', () => {
    const legs = boxPart(
      'leg',
      stock2x4,
      'up',
      'front',
      [0, 10, 20, 30].map((x) => [
        [x, 0, 0],
        [x + 1.5, 1.5, 34],
      ]),
    );
    const { value } = laidOut({ ...samplePlan, parts: [legs] });
    // 34 + 1/8 + 34 = 68 1/8, two strips each: one 6 ft board
    expect(value.boards.map((board) => [board.lengthLabel, board.count])).toEqual([['6 ft', 1]]);
    expect(value.boards[0]?.sections.map((section) => section.strips.length)).toEqual([2, 2]);
    expect(value.boards[0]?.sections[0]?.strips[1]).toMatchObject({ letter: 'A', copyOf: 'leg' });
  });

  it('rips one course only from a tongue-and-groove board', () => {
    const tongued: StockItem = {
      ...stock1x6,
      profile: 'tongue-and-groove',
      cover: inches(5.125),
      tongue: inches(0.375),
    };
    const strips = (stock: StockItem) =>
      laidOut({
        ...samplePlan,
        parts: [
          boxPart(
            'back-board',
            stock,
            'across',
            'front',
            [0, 10].map((z) => [
              [0, 0, z],
              [60, 0.75, z + 2],
            ]),
          ),
        ],
        stockList: { ...sampleStock, items: [stock] },
      }).value.boards.reduce((sum, board) => sum + board.count, 0);
    expect(strips(stock1x6)).toBe(1);
    expect(strips(tongued)).toBe(2);
  });
});

describe('parts that no board can hold', () => {
  const origin = { file: 'content/plans/sample/plan.md', line: 12, column: 3 };
  const long = (length: number): Part => ({
    ...boxPart('rail', stock1x4, 'across', 'front', [
      [
        [0, 0, 0],
        [length, 0.75, 3.5],
      ],
    ]),
    origin,
  });

  it('are errors at the part, with the longest board and what is too much; the rest is laid out', () => {
    const { value, diagnostics } = laidOut({ ...samplePlan, parts: [...samplePlan.parts, long(100)] });
    expect(diagnostics.map(diagnosticText)).toEqual([
      'content/plans/sample/plan.md:12:3: error: expected a length that a board of 1×4 can give: the longest sold is 8 ft, ' +
        'which leaves 95 5/8″ after the end is trimmed, found "Rail" 100″ long, 4 3/8″ too much (imperial edition) [board.too-long]\n' +
        '    make it shorter, or of two lengths with a joint over a support',
    ]);
    expect(diagnostics[0]?.parts).toEqual(['rail']);
    expect(value.boards.filter((board) => board.stock.key === '1x4')).toHaveLength(1);
  });

  it('an untrimmed board must do for a part of its own length; a trimmed one cannot', () => {
    const untrimmed = { ...samplePlan, stockList: { ...sampleStock, endTrim: mm(0) } };
    expect(laidOut({ ...untrimmed, parts: [long(96)] }).diagnostics).toEqual([]);
    expect(laidOut({ ...samplePlan, parts: [long(96)] }).diagnostics).toHaveLength(1);
  });

  it('hint at a stock that is sold long enough', () => {
    const longer: StockItem = {
      ...stock1x6,
      lengths: [{ length: inches(144), label: '12 ft', prices: { pine: 10 } }],
    };
    const { diagnostics } = laidOut({
      ...samplePlan,
      parts: [long(100)],
      stockList: { ...sampleStock, items: [stock1x4, longer] },
    });
    expect(diagnostics[0]?.hint).toContain('stock: 1x6');
  });

  it('are named where they are wider than their stock', () => {
    const wide: Part = boxPart('shelf', stock1x4, 'across', 'top', [
      [
        [0, 0, 0],
        [30, 5, 0.75],
      ],
    ]);
    const { diagnostics } = laidOut({ ...samplePlan, parts: [wide] });
    expect(diagnostics.map((item) => [item.id, item.message, item.hint])).toEqual([
      [
        'board.too-wide',
        'expected a width of 3 1/2″ at most, that of 1×4, found "Shelf" 5″ wide, 1 1/2″ more',
        'write "stock: 1x6", which is 5 1/2″ wide',
      ],
    ]);
  });

  it('are named where their species isn’t sold', () => {
    const { diagnostics } = laidOut({ ...samplePlan, parts: [{ ...long(30), species: 'oak' }] });
    expect(diagnostics.map((item) => [item.id, item.hint])).toEqual([
      ['board.not-sold', 'write "species: pine" in rail (sold: pine), or add prices to the stock list'],
    ]);
  });
});

describe('shopping list', () => {
  const hardware = (
    key: string,
    inPackage: number,
    price: Record<string, number>,
    more: Partial<HardwareItem> = {},
  ) => ({
    key,
    name: `Item ${key}`,
    package: inPackage,
    price,
    regions: [],
    outdoors: true,
    origin: samplePlan.file === '' ? { file: '', line: 1, column: 1 } : stock1x4.origin,
    ...more,
  });
  const screw = hardware('screw', 50, { USD: 6.49 }, { size: 'no. 8', length: inches(1.25) });
  const hook = hardware('hook', 1, { USD: 0.35 });
  const hinge = hardware('hinge', 2, { EUR: 4 });

  const listed = (plan: Plan, joinery: Joinery) => {
    const { cuts, value } = laidOut(plan);
    return shoppingList(plan, cuts, value, joinery);
  };
  const use = (item: HardwareItem, count: number): Plan['hardware'][number] => ({
    item,
    count,
    origin: stock1x4.origin,
  });

  /* Boards as above: 4.50 + 4.50 + 4.50 + 6.00 = 19.50. */
  it('has the boards in the order of the stock list, and their sum', () => {
    const list = listed(samplePlan, noJoinery);
    expect(
      list.rows.map((row) => [row.name, lineText(row.size), row.unit, row.quantity, row.each, row.cost]),
    ).toEqual([
      ['1×4', '3/4″ × 3 1/2″', '6 ft', 1, 4.5, 4.5],
      ['1×6', '3/4″ × 5 1/2″', '6 ft', 1, 4.5, 4.5],
      ['1×6', '3/4″ × 5 1/2″', '8 ft', 1, 6, 6],
      ['2×4', '1 1/2″ × 3 1/2″', '6 ft', 1, 4.5, 4.5],
    ]);
    expect([list.lumberCost, list.hardwareCost, list.total, list.partial]).toEqual([19.5, 0, 19.5, false]);
    expect([list.region, list.currency]).toEqual(['United States', 'USD']);
  });

  /* 32 + 24 = 56 screws are two boxes of 50: 12.98. Six hooks: 2.10. In all 15.08, and 34.58 with the boards. */
  it('adds fasteners and hardware up by item and rounds up to packages', () => {
    const list = listed(
      { ...samplePlan, hardware: [use(hook, 4), use(screw, 24), use(hook, 2)] },
      { ...noJoinery, fasteners: [{ item: screw, kind: 'screws', count: 32 }] },
    );
    const rows = list.rows.filter((row) => row.kind === 'hardware');
    expect(
      rows.map((row) => [row.name, lineText(row.size), row.unit, row.needed, row.quantity, row.cost]),
    ).toEqual([
      ['Item screw', 'no. 8 × 1 1/4″', 'box of 50', 56, 2, 12.98],
      ['Item hook', '', 'each', 6, 6, 2.1],
    ]);
    expect([list.hardwareCost, list.total, list.partial]).toEqual([15.08, 34.58, false]);
  });

  it('says that the total is partial where a price is missing in its currency', () => {
    const list = listed({ ...samplePlan, hardware: [use(hinge, 3)] }, noJoinery);
    const row = list.rows.find((one) => one.kind === 'hardware');
    expect([row?.quantity, row?.cost, list.total, list.partial]).toEqual([2, undefined, 19.5, true]);
  });

  it('says that the total is partial where a part found no board', () => {
    const long = boxPart('rail', stock1x4, 'across', 'front', [
      [
        [0, 0, 0],
        [100, 0.75, 3.5],
      ],
    ]);
    expect(listed({ ...samplePlan, parts: [...samplePlan.parts, long] }, noJoinery).partial).toBe(true);
  });

  it('adds money in cents', () => {
    expect(cents(1.005)).toBe(1.01);
    expect(cents(0.1 + 0.2)).toBe(0.3);
    expect(cents(3 * 4.35)).toBe(13.05);
  });
});
