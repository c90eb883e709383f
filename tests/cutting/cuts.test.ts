/** The numbered cuts of boards: settings and sides worked in the comments, and a check that saws random boards as they say. */
import { beforeAll, describe, expect, it } from 'vitest';
import { checkCuts } from '../../src/cutting/boards/check-cuts.ts';
import { cutList } from '../../src/cutting/cut-list.ts';
import { boardCuts } from '../../src/cutting/cuts.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import type { BoardCut, BoardLayout } from '../../src/cutting/types.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import type { StockItem } from '../../src/read/types.ts';
import { inches, mm } from '../../src/units.ts';
import { samplePlan, sampleStock, stock1x6, stock2x4 } from '../support/sample.ts';
import { boards } from './support/boards.ts';
import { randomFrom } from './support/random.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const laidOut = (plan: Plan) => layOutPlan(plan, cutList(plan), solver).value;
const only = (
  stock: StockItem,
  parts: readonly Part[],
  more: Partial<Plan['stockList']> = {},
): BoardLayout[] => [
  ...laidOut({ ...samplePlan, parts, stockList: { ...sampleStock, items: [stock], ...more } }).boards,
];
const side = (of: BoardCut['leaves']): string => of.letter ?? of.kind;
/** `2 crosscut 1r 17.25 end: A | work`. */
const told = (cut: BoardCut): string =>
  `${cut.number} ${cut.kind} ${cut.piece} ${Math.round((cut.setting / 25.4) * 1e4) / 1e4} ${cut.against}: ${side(cut.leaves)} | ${side(cut.rest)}`;

describe('the cuts of a board', () => {
  /*
   * Legs of 17 1/4 from 6 ft, 1/4 trimmed: the end first, then each leg at the stop. The first cut's near side is 1/4 + 1/8 + 17 1/4 =
   * 17 5/8 from the untrimmed end, the next a leg and a kerf, 17 3/8, on. 72 − (17 5/8 + 3 × 17 3/8) − 1/8 = 2 1/8 are left.
   */
  it('squares the end, then takes piece after piece off against the stop', () => {
    const legs = laidOut(samplePlan).boards[0] as BoardLayout;
    expect(legs.cuts.map(told)).toEqual([
      '1 trim board 0.25 end: waste | work',
      '2 crosscut 1r 17.25 end: A | work',
      '3 crosscut 2r 17.25 end: A | work',
      '4 crosscut 3r 17.25 end: A | work',
      '5 crosscut 4r 17.25 end: A | waste',
    ]);
    expect(legs.cuts.map(({ x }) => x / 25.4)).toEqual(
      [0.25, 17.625, 35, 52.375, 69.75].map((x) => expect.closeTo(x, 9)),
    );
    expect(legs.cuts.every((cut) => cut.y === 0 && Math.abs(cut.reach - inches(3.5)) < 1e-9)).toBe(true);
  });

  /* 72 − 3/8 − 40 − 1/8 = 31 1/2 are left of the board of the ripped one: 800 mm, worth keeping. */
  it('crosscuts before it rips, and says which side is kept', () => {
    const ripped = laidOut(samplePlan).boards[3] as BoardLayout;
    expect(ripped.cuts.map(told)).toEqual([
      '1 trim board 0.25 end: waste | work',
      '2 crosscut 1r 40 end: work | offcut',
      '3 rip 2 3.5 edge: D | waste',
    ]);
    const { x, y, reach } = ripped.cuts[2] as BoardCut;
    expect([x, y, reach].map((one) => one / 25.4)).toEqual(
      [0.375, 3.5, 40].map((one) => expect.closeTo(one, 9)),
    );
  });

  /* Two squares of 1 1/2 and a kerf are 3 1/8 of 3 1/2: the second needs a cut of its own against the sawn edge, and 1/4 falls off. */
  it('rips square blanks from dimension lumber', () => {
    const [board] = only(stock2x4, [
      boards('leg', stock2x4, [
        [34, 1.5],
        [34, 1.5],
      ]),
    ]);
    expect(board?.cuts.slice(1).map(told)).toEqual([
      '2 crosscut 1r 34 end: work | offcut',
      '3 rip 2 1.5 edge: A | work',
      '4 rip 3r 1.5 sawn edge: A | waste',
    ]);
  });

  /* Two of 1 11/16 and a kerf of 1/8 are just 3 1/2: one cut gives both. Two of 47 15/16 and a kerf are just 96, untrimmed. */
  it('makes no cut where nothing would be left', () => {
    const [board] = only(
      stock2x4,
      [
        boards('half', stock2x4, [
          [47.9375, 1.6875],
          [47.9375, 1.6875],
          [47.9375, 3.5],
        ]),
      ],
      { endTrim: mm(0) },
    );
    expect(board?.cuts.map(told)).toEqual([
      '1 crosscut board 47.9375 end: B | work',
      '2 rip 1r 1.6875 edge: A | A',
    ]);
  });

  /* A strip that is shorter than its section is crosscut again after the rip: 46 of 48, 1 7/8 left behind it. */
  it('crosscuts a shorter strip after its rip', () => {
    const [board] = only(stock1x6, [
      boards('slat', stock1x6, [
        [48, 2],
        [46, 2],
      ]),
    ]);
    expect(board?.cuts.slice(1).map(told)).toEqual([
      '2 crosscut 1r 48 end: work | offcut',
      '3 rip 2 2 edge: A | work',
      '4 rip 3r 2 sawn edge: work | waste',
      '5 crosscut 4 46 end: B | waste',
    ]);
  });

  /* 1/4 comes off the rough edge of 5 1/2: two strips of 2 1/2 and a kerf, 5 1/8, are left of 5 1/4; two of 2 5/8 would be 5 3/8. */
  it('makes a rough edge straight first, and rips from that', () => {
    const rough: StockItem = { ...stock1x6, rough: inches(0.25), cover: inches(5.25) };
    const [board, ...more] = only(rough, [
      boards('strip', rough, [
        [40, 2.5],
        [40, 2.5],
      ]),
    ]);
    expect(more).toEqual([]);
    expect(board?.cuts.map(told)).toEqual([
      '1 straighten board 0.25 edge: waste | work',
      '2 trim 1r 0.25 end: waste | work',
      '3 crosscut 2r 40 end: work | offcut',
      '4 rip 3 2.5 straight edge: A | work',
      '5 rip 4r 2.5 sawn edge: A | waste',
    ]);
    expect(board?.cuts[3]?.y).toBeCloseTo(inches(2.75), 9);
    const wider = only(rough, [
      boards('strip', rough, [
        [40, 2.625],
        [40, 2.625],
      ]),
    ]);
    expect(wider.map((one) => one.sections.map((section) => section.strips.length))).toEqual([[1, 1]]);
    expect(
      only(stock1x6, [
        boards('strip', stock1x6, [
          [40, 2.625],
          [40, 2.625],
        ]),
      ])[0]?.sections,
    ).toHaveLength(1);
  });

  it('keeps the edge of a tongue-and-groove board that the course needs', () => {
    const tongued: StockItem = {
      ...stock1x6,
      profile: 'tongue-and-groove',
      cover: inches(5.125),
      tongue: inches(0.375),
    };
    const course = (milled: object | undefined): Part => {
      const part = boards('back-board', tongued, [[46, 4]]);
      const shape = milled === undefined ? [] : [{ kind: 'tongue', name: 'profile', ...milled }];
      return { ...part, copies: part.copies.map((copy) => ({ ...copy, shape })) } as unknown as Part;
    };
    const rip = (part: Part): string | undefined => {
      const cut = only(tongued, [part])[0]?.cuts.find((one) => one.kind === 'rip');
      return cut && told(cut);
    };
    // tongues look to the end: the last course loses its tongue; looking to the start it keeps it and loses the groove
    expect(rip(course({ groove: {} }))).toBe('3 rip 2 4 groove edge: A | waste');
    expect(rip(course({ tongue: {} }))).toBe('3 rip 2 4 tongue edge: A | waste');
  });
});

describe('a board that its pieces fill to a hair', () => {
  // No cut takes less than 1/64 in (0.4 mm) off, so the last piece stays that much longer or wider, and the cuts across it run as far.
  const strip = (letter: string, offset: number, width: number, length: number) => ({
    letter,
    copyOf: 'slat',
    offset: mm(offset),
    width: mm(width),
    length: mm(length),
  });
  const boardOf = (sections: BoardLayout['sections']): BoardLayout => ({
    stock: stock1x6,
    species: 'pine',
    boardLength: mm(1000),
    lengthLabel: '1 m',
    count: 1,
    sections,
    cuts: [],
    offcut: mm(0),
    endTrim: mm(0),
    price: 5,
  });
  const whole = (board: BoardLayout): BoardLayout => ({ ...board, cuts: boardCuts(board, { kerf: 3 }) });
  const width = stock1x6.width; // 139.7

  it('in its width: a short strip beside the last rip is crosscut right through', () => {
    // 68.2 + 3 + 68.2 = 139.4, so that 68.5 are left for the second strip.
    const strips = [strip('A', 0, 68.2, 600), strip('B', 71.2, 68.2, 400)];
    const board = whole(boardOf([{ start: mm(0), length: mm(600), strips }]));
    expect(checkCuts(board, 3)).toEqual([]);
    const last = board.cuts.at(-1) as BoardCut;
    expect([last.kind, last.y]).toEqual(['crosscut', 71.2]);
    expect(last.reach).toBeCloseTo(width - 71.2, 9);
  });

  it('in its length: the last section is ripped right through', () => {
    // 500 + 3 + 496.8 = 999.8, so that the second section is 497 long.
    const board = whole(
      boardOf([
        { start: mm(0), length: mm(500), strips: [strip('A', 0, width, 500)] },
        { start: mm(503), length: mm(496.8), strips: [strip('B', 0, 60, 496.8), strip('C', 63, 60, 300)] },
      ]),
    );
    expect(checkCuts(board, 3)).toEqual([]);
    const rips = board.cuts.filter(({ kind }) => kind === 'rip').map(({ reach }) => reach);
    expect(rips).toEqual([expect.closeTo(497, 9), expect.closeTo(497, 9)]);
  });
});

describe('the check of the cuts', () => {
  const random = randomFrom(41);
  const plans = Array.from({ length: 24 }, (_, index): Plan => {
    const rough = index % 3 === 0 ? { rough: inches(0.25), cover: inches(5.25) } : {};
    const stock: StockItem = { ...stock1x6, ...rough };
    const parts = Array.from({ length: random(2, 4) }, (__, at) =>
      boards(
        `part-${at}`,
        stock,
        Array.from(
          { length: random(1, 4) },
          () => [random(64, 900) / 16, random(0, 2) === 0 ? stock.cover / 25.4 : random(8, 80) / 16] as const,
        ),
      ),
    );
    const endTrim = index % 2 === 0 ? sampleStock.endTrim : mm(0);
    return { ...samplePlan, parts, stockList: { ...sampleStock, endTrim, items: [stock] } };
  });

  it('finds nothing wrong with 24 random plans, whose parts come out by name', () => {
    let cuts = 0;
    for (const plan of plans) {
      const list = cutList(plan);
      const laid = layOutPlan(plan, list, solver).value;
      expect(laid.boards.flatMap((board) => checkCuts(board, laid.kerf))).toEqual([]);
      cuts += laid.boards.reduce((sum, board) => sum + board.cuts.length, 0);
      // a cut never gives a part twice: letters on both sides are no more than there are parts
      for (const row of list.rows) {
        const named = laid.boards.reduce(
          (sum, board) =>
            sum +
            board.count *
              board.cuts.flatMap((cut) => [cut.leaves, cut.rest]).filter((one) => one.letter === row.letter)
                .length,
          0,
        );
        expect(named).toBeLessThanOrEqual(row.quantity);
      }
    }
    expect(cuts).toBeGreaterThan(150);
  });

  it('finds what is changed', () => {
    let changed = 0;
    for (const plan of plans.slice(0, 10)) {
      const { boards: all, kerf } = laidOut(plan);
      for (const board of all)
        board.cuts.forEach((cut, index) => {
          const spoilt = (how: Partial<BoardCut>): BoardLayout => ({
            ...board,
            cuts: board.cuts.map((one, at) => (at === index ? { ...one, ...how } : one)),
          });
          const ways: Partial<BoardCut>[] = [
            { setting: mm(cut.setting + 1) },
            { x: mm(cut.x + 1) },
            { reach: mm(cut.reach - 1) },
            { piece: `${cut.number}` },
            { number: cut.number + 1 },
            ...(cut.leaves.letter ? [{ leaves: { kind: 'part' as const, letter: '?' } }] : []),
          ];
          for (const way of ways) {
            changed++;
            expect(checkCuts(spoilt(way), kerf), JSON.stringify(way)).not.toEqual([]);
          }
          expect(checkCuts({ ...board, cuts: board.cuts.filter((_, at) => at !== index) }, kerf)).not.toEqual(
            [],
          );
        });
    }
    expect(changed).toBeGreaterThan(150);
  });

  it('finds a kerf that is not reckoned with', () => {
    const board = laidOut(samplePlan).boards[0] as BoardLayout;
    expect(checkCuts({ ...board, cuts: boardCuts(board, { kerf: 1 }) }, samplePlan.edition.kerf)).not.toEqual(
      [],
    );
  });
});
