/** Board layouts on jobs small enough to be worked by hand; the working stands beside each. */
import { beforeAll, describe, expect, it } from 'vitest';
import { layoutBoards } from '../../src/cutting/boards/boards.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import type { BoardItem, BoardJob, BoardStock } from '../../src/cutting/types.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const job = (
  items: readonly BoardItem[],
  stocks: readonly BoardStock[],
  more: Partial<BoardJob> = {},
): BoardJob => ({
  items,
  stocks,
  kerf: 0,
  endTrim: 0,
  resolution: 1 / 64,
  ...more,
});

const board = (id: string, length: number, price: number, more: Partial<BoardStock> = {}): BoardStock => ({
  id,
  length,
  width: 3.5,
  price,
  ...more,
});

describe('several lengths with prices', () => {
  /*
   * Four of 60 and three of 48: 384 in all. Boards of 96, 120, 144 for 6, 7, 10.
   * 120 = 60 + 60 twice (14) and 144 = 48 + 48 + 48 (10) are 24, all used up.
   * Less than 24: 120 is cheapest by length, 7/120 × 384 = 22.40, so only 23 would do; the sums of 6, 7 and 10 that make 23
   * are 6 + 7 + 10 alone, and 96 + 120 + 144 = 360 is too short. 24 = 6 + 6 + 6 + 6 has more boards (and 60 + 48 > 96).
   */
  it('finds the mix that costs least', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'rail', length: 60, quantity: 4 },
          { id: 'post', length: 48, quantity: 3 },
        ],
        [board('8 ft', 96, 6), board('10 ft', 120, 7), board('12 ft', 144, 10)],
      ),
      solver,
    );
    expect(result.status).toBe('proved best');
    expect(result.cost).toBe(24);
    expect(result.bound).toBe(24);
    expect(result.boards).toBe(3);
    expect(result.patterns.map((pattern) => [pattern.stock, pattern.count])).toEqual([
      ['12 ft', 1],
      ['10 ft', 2],
    ]);
  });

  /* Two of 48: a 96 for 8 or two of 48 for 4 each cost the same; one board is fewer. */
  it('takes fewer boards where the cost is the same', () => {
    const result = layoutBoards(
      job([{ id: 'post', length: 48, quantity: 2 }], [board('4 ft', 48, 4), board('8 ft', 96, 8)]),
      solver,
    );
    expect([result.cost, result.boards]).toEqual([8, 1]);
  });

  /*
   * 50, 40, 30, 20 and 10 on boards of 100: 150 in all, two boards. The longest offcut is that of the emptiest board: 100 can be filled
   * exactly (50 + 40 + 10 or 50 + 30 + 20), the other board then holds 50 and leaves 50.
   */
  it('leaves one long offcut and not two short ones', () => {
    const lengths = [50, 40, 30, 20, 10];
    const result = layoutBoards(
      job(
        lengths.map((length) => ({ id: `of ${length}`, length, quantity: 1 })),
        [board('board', 100, 5)],
      ),
      solver,
    );
    expect(result.boards).toBe(2);
    expect(Math.max(...result.patterns.map((pattern) => pattern.offcut))).toBe(50);
  });

  /* Six of 60 and six of 40 on boards of 100: 600 in all, six full boards; 60 + 40 six times is one pattern. */
  it('cuts boards alike where it can', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'long', length: 60, quantity: 6 },
          { id: 'short', length: 40, quantity: 6 },
        ],
        [board('board', 100, 5)],
      ),
      solver,
    );
    expect(result.patterns.map((pattern) => pattern.count)).toEqual([6]);
  });
});

describe('rips', () => {
  /* 1 1/2 + 1/8 + 1 1/2 = 3 1/8 fits in 3 1/2: two legs side by side, twice along 72 1/8 of an 8 ft board. */
  it('cuts two square legs from one width of 2x4', () => {
    const result = layoutBoards(
      job([{ id: 'leg', length: 36, width: 1.5, quantity: 4 }], [board('8 ft', 96, 6)], { kerf: 1 / 8 }),
      solver,
    );
    expect(result.boards).toBe(1);
    expect(result.patterns[0]?.sections).toEqual([
      {
        start: 0,
        length: 36,
        strips: [
          { item: 'leg', offset: 0, width: 1.5, length: 36 },
          { item: 'leg', offset: 1.625, width: 1.5, length: 36 },
        ],
      },
      {
        start: 36.125,
        length: 36,
        strips: [
          { item: 'leg', offset: 0, width: 1.5, length: 36 },
          { item: 'leg', offset: 1.625, width: 1.5, length: 36 },
        ],
      },
    ]);
    expect(result.patterns[0]?.offcut).toBeCloseTo(96 - 72.25, 9);
  });

  /* 1 3/4 + 1/8 + 1 3/4 = 3 5/8 is more than 3 1/2: each strip takes the whole width, and two of 60 need two boards. */
  it('counts the kerf of the rip', () => {
    const strips = (width: number): number =>
      layoutBoards(
        job([{ id: 'strip', length: 60, width, quantity: 2 }], [board('8 ft', 96, 6)], { kerf: 1 / 8 }),
        solver,
      ).boards;
    expect(strips(1.75)).toBe(2);
    // 1 11/16 + 1/8 + 1 11/16 = 3 1/2
    expect(strips(1 + 11 / 16)).toBe(1);
  });

  /* A strip of 60 and one of 30, both 1 1/2 wide, lie side by side; a whole piece of 36 comes after: 60 + 1/8 + 35 7/8 = 96. */
  it('puts a shorter strip beside a longer one', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'long', length: 60, width: 1.5, quantity: 1 },
          { id: 'short', length: 30, width: 1.5, quantity: 1 },
          { id: 'whole', length: 35.875, quantity: 1 },
        ],
        [board('8 ft', 96, 6)],
        { kerf: 1 / 8 },
      ),
      solver,
    );
    expect(result.boards).toBe(1);
    expect(result.patterns[0]?.sections.map((section) => section.strips.map((strip) => strip.item))).toEqual([
      ['long', 'short'],
      ['whole'],
    ]);
  });

  it('takes a width equal to the board as the whole board', () => {
    const result = layoutBoards(
      job([{ id: 'rail', length: 90, width: 88.9, quantity: 1 }], [board('board', 96, 6, { width: 88.9 })], {
        // 88.9 mm is no whole number of these steps
        resolution: 0.25,
      }),
      solver,
    );
    expect(result.boards).toBe(1);
    expect(result.patterns[0]?.sections[0]?.strips).toEqual([
      { item: 'rail', offset: 0, width: 88.9, length: 90 },
    ]);
  });

  /* Boards of two widths: the piece 5 wide fits the wide one only; the two of 3 1/2 are cheapest from the narrow one. */
  it('chooses among boards of several widths', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'wide', length: 90, width: 5, quantity: 1 },
          { id: 'narrow', length: 45, width: 3.5, quantity: 2 },
        ],
        [board('2x4', 96, 6), board('2x6', 96, 9, { width: 5.5 })],
      ),
      solver,
    );
    expect(result.cost).toBe(15);
    expect(result.status).toBe('proved best');
  });
});

describe('limits', () => {
  /* The two boards at hand cost nothing and take four of the six pieces of 40; one bought board of 100 takes the last two. */
  it('uses boards at hand first', () => {
    const result = layoutBoards(
      job(
        [{ id: 'part', length: 40, quantity: 6 }],
        [board('at hand', 90, 0, { limit: 2 }), board('bought', 100, 7)],
      ),
      solver,
    );
    expect(result.cost).toBe(7);
    expect(result.status).toBe('proved best');
    expect(result.patterns.map((pattern) => [pattern.stock, pattern.count]).sort()).toEqual([
      ['at hand', 2],
      ['bought', 1],
    ]);
  });

  /* One board of 100 for pieces of 60, 50 and 40: 60 + 40 fill it, one piece is left. */
  it('says what finds no board, and lays out the rest', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'a', length: 60, quantity: 1 },
          { id: 'b', length: 50, quantity: 1 },
          { id: 'c', length: 40, quantity: 1 },
        ],
        [board('only', 100, 7, { limit: 1 })],
      ),
      solver,
    );
    expect(result.status).toBe('impossible');
    expect(result.unplaced).toHaveLength(1);
    expect([result.cost, result.boards]).toEqual([7, 1]);
  });

  it('lists pieces longer or wider than any board, one entry a piece', () => {
    const result = layoutBoards(
      job(
        [
          { id: 'good', length: 50, quantity: 1 },
          { id: 'long', length: 100, quantity: 2 },
          { id: 'wide', length: 50, width: 4, quantity: 1 },
        ],
        [board('8 ft', 96, 6)],
      ),
      solver,
    );
    expect(result.status).toBe('impossible');
    expect(result.unplaced).toEqual(['long', 'long', 'wide']);
    expect(result.boards).toBe(1);
  });

  it('needs nothing for nothing', () => {
    const result = layoutBoards(job([], []), solver);
    expect(result).toMatchObject({ patterns: [], cost: 0, boards: 0, status: 'proved best' });
    expect(layoutBoards(job([{ id: 'a', length: 1, quantity: 1 }], []), solver).unplaced).toEqual(['a']);
  });
});

describe('boards whose price goes by their length', () => {
  /** 0.1 mm grid, 5 mm trimmed, kerf 3: a board of L gives L − 8, which holds pieces whose lengths and kerfs add up to L − 5. */
  const metric = (width: number, metre: number, items: readonly BoardItem[]): BoardJob => ({
    items,
    stocks: [2400, 3000, 3600, 4200, 4800, 5400].map((length) => ({
      id: `${length}`,
      length,
      width,
      price: Math.round(length * metre) / 1000,
    })),
    kerf: 3,
    endTrim: 5,
    resolution: 0.1,
  });

  /*
   * Two of 1513 × 59 and two of 255 × 62 from 89: none lies beside another. With their kerfs the pieces are
   * 2·1516 + 2·258 + 4·806 + 2·774 + 4·428 + 3·592 + 2·415 + 4·1659 + 2·1736 + 2·1570 = 25 886, more than 43 steps of 600 are
   * (25 800): 44 steps at 1.35, 59.40, are the least, and five boards of 5400 at most hold 5 × 5395 = 26 975, four only 21 580.
   */
  it('are bounded by what they cost alone, whatever their number', () => {
    const result = layoutBoards(
      metric(89, 2.25, [
        { id: 'a', length: 1513, width: 59, quantity: 2 },
        { id: 'b', length: 255, width: 62, quantity: 2 },
        ...(
          [
            [803, 4],
            [771, 2],
            [425, 4],
            [589, 3],
            [412, 2],
            [1656, 4],
            [1733, 2],
            [1567, 2],
          ] as const
        ).map(([length, quantity]) => ({ id: `${length}`, length, quantity })),
      ]),
      solver,
    );
    expect([result.status, result.cost, result.boards]).toEqual(['proved best', 59.4, 5]);
  });

  /*
   * From 89: four of 61 wide have a section of 572 each. Of 603 long and 27 wide three lie in a section; four need two sections, and
   * beside two or fewer there is room for one of 43 wide at most, so that the two of 279 × 43 need a section of their own besides,
   * where both fit: 4·575 + 2·606 + 282 = 3794. The others are 4·797 + 2·340 + 3·484 + 4·1037 + 3·768 + 4·939 = 15 528. In all
   * 19 322, more than 32 steps of 600: 33 at 1.08, 35.64.
   */
  it('are proved best where rips leave what no fraction of a section shows', () => {
    const result = layoutBoards(
      metric(89, 1.8, [
        { id: 'a', length: 279, width: 43, quantity: 2 },
        { id: 'b', length: 603, width: 27, quantity: 4 },
        { id: 'c', length: 572, width: 61, quantity: 4 },
        ...(
          [
            [794, 4],
            [337, 2],
            [481, 3],
            [1034, 4],
            [765, 3],
            [936, 4],
          ] as const
        ).map(([length, quantity]) => ({ id: `${length}`, length, quantity })),
      ]),
      solver,
    );
    expect([result.status, result.cost]).toEqual(['proved best', 35.64]);
  });
});

describe('a job that makes no sense', () => {
  const good = job([{ id: 'a', length: 10, quantity: 1 }], [board('8 ft', 96, 6)]);
  const bad: readonly (readonly [why: string, job: BoardJob])[] = [
    ['resolution', { ...good, resolution: 0 }],
    ['resolution is too fine', { ...good, resolution: 1e-9 }],
    ['kerf', { ...good, kerf: -1 }],
    ['end trim', { ...good, endTrim: Number.NaN }],
    ['length of item a', { ...good, items: [{ id: 'a', length: -1, quantity: 1 }] }],
    ['width of item a', { ...good, items: [{ id: 'a', length: 1, width: 0, quantity: 1 }] }],
    ['quantity of item a', { ...good, items: [{ id: 'a', length: 1, quantity: 1.5 }] }],
    ['two items have the id a', { ...good, items: [...good.items, ...good.items] }],
    ['two stocks', { ...good, stocks: [...good.stocks, ...good.stocks] }],
    ['price of stock', { ...good, stocks: [board('8 ft', 96, -6)] }],
    ['limit of stock', { ...good, stocks: [board('8 ft', 96, 6, { limit: -1 })] }],
    ['size of stock', { ...good, stocks: [board('8 ft', 0, 6)] }],
    ['pieces', { ...good, items: [{ id: 'a', length: 1, quantity: 1e7 }] }],
  ];
  for (const [why, one] of bad)
    it(why, () => {
      expect(() => layoutBoards(one, solver)).toThrow(RangeError);
      expect(() => layoutBoards(one, solver)).toThrow(why);
    });
});
