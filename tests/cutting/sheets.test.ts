/** Sheet layouts: kerf, grain, trim, levels and lifting worked by hand; the numbered cuts; and what the checker catches. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  checkSheets,
  layoutSheets,
  loadSolver,
  type SheetJob,
  type SheetPart,
  type SheetPiece,
  type SheetResult,
  type SheetStock,
  type Solver,
  sheetCuts,
} from '../../src/cutting/index.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

const whole: SheetStock = { id: 'whole', length: 2440, width: 1220, price: 60 };
const job = (
  items: readonly (readonly [length: number, width: number, quantity: number, turn?: boolean])[],
  more: Partial<SheetJob> = {},
): SheetJob => ({
  items: items.map(([length, width, quantity, turnable = false], index) => ({
    id: `item ${index}`,
    length,
    width,
    quantity,
    turnable,
  })),
  stocks: [whole],
  kerf: 3,
  edgeTrim: 0,
  ...more,
});

const leaves = (piece: SheetPiece): SheetPiece[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leaves) : [piece];
const parts = (result: SheetResult): SheetPart[] =>
  result.patterns.flatMap(({ root }) => leaves(root).filter((one) => one.kind === 'part'));
const depth = (piece: SheetPiece): number =>
  piece.kind === 'split' ? 1 + Math.max(...piece.pieces.map(depth)) : 0;

describe('kerf', () => {
  it('two halves of a sheet less a kerf come out of one sheet, two full halves do not', () => {
    // 2 × 1218.5 + 3 = 2440
    expect(layoutSheets(job([[1218.5, 1220, 2]]), solver).sheets).toBe(1);
    // 2 × 1219 + 3 = 2441
    const two = layoutSheets(job([[1219, 1220, 2]]), solver);
    expect(two.sheets).toBe(2);
    expect(two.status).toBe('proved best');
  });

  it('a trimmed edge takes the trim and a kerf, on all four sides', () => {
    // 2440 − 2 × (10 + 3) = 2414; 1220 − 26 = 1194
    expect(layoutSheets(job([[2414, 1194, 1]], { edgeTrim: 10 }), solver).status).toBe('proved best');
    const longer = layoutSheets(job([[2414.1, 1194, 1]], { edgeTrim: 10 }), solver);
    expect(longer.status).toBe('impossible');
    expect(longer.unplaced).toEqual(['item 0']);
  });

  it('eighteen drawer fronts of 4 × 8 ft in inches', () => {
    // along 96 in: 3 × 31 7/8 + 2 × 1/8 = 95 7/8; across 48 in: 6 × 7 7/8 + 5 × 1/8 = 47 7/8; 3 × 6 = 18
    const inches = (quantity: number): SheetJob => ({
      items: [{ id: 'front', length: 31.875, width: 7.875, quantity, turnable: false }],
      stocks: [{ id: '4 × 8 ft', length: 96, width: 48, price: 50 }],
      kerf: 0.125,
      edgeTrim: 0,
    });
    expect(layoutSheets(inches(18), solver).sheets).toBe(1);
    expect(layoutSheets(inches(19), solver).sheets).toBe(2);
  });
});

describe('grain', () => {
  // 1200 × 300 across the sheet: four side by side along 2440 only if turned: 4 × 300 + 3 × 3 = 1209 ≤ 1220 the other way
  it('a part whose grain is fixed is never turned', () => {
    // length 1300 > 1220, so turned it doesn't lie across; along the grain: one over the other, 4 × 300 + 9 = 1209, one column of 1300
    const fixed = layoutSheets(job([[1300, 300, 5]]), solver);
    expect(fixed.sheets).toBe(2);
    expect(parts(fixed).every((part) => !part.turned)).toBe(true);
  });
  it('a part that may turn fills the rest', () => {
    // four of 1300 × 300 in one column; 2440 − 1300 − 3 = 1137 is left, in which 300 × 1137 lies only turned
    const sizes = [
      [1300, 300, 4],
      [1200, 1130, 1],
    ] as const;
    expect(layoutSheets(job(sizes), solver).sheets).toBe(2);
    const turned = layoutSheets(job(sizes.map(([l, w, n]) => [l, w, n, true] as const)), solver);
    expect(turned.sheets).toBe(1);
    expect(parts(turned).some((part) => part.turned)).toBe(true);
  });
});

describe('levels of cuts', () => {
  /**
   * A hundred by a hundred without kerf: 60 × 60 with 60 × 40 over it, 40 × 70 beside with 40 × 30 over it. Two levels are enough
   * (crosscut at 60, then rips). With 30 × 40 twice in place of 60 × 40 a third level cuts that piece again.
   */
  const square = (items: readonly (readonly [number, number, number])[], stages: number): SheetResult =>
    layoutSheets(
      job(items, { kerf: 0, stages, stocks: [{ id: 'square', length: 100, width: 100, price: 1 }] }),
      solver,
    );
  it('two are enough for columns', () => {
    const result = square(
      [
        [60, 60, 1],
        [60, 40, 1],
        [40, 70, 1],
        [40, 30, 1],
      ],
      2,
    );
    expect(result.sheets).toBe(1);
    expect(depth(result.patterns[0]?.root as SheetPiece)).toBe(2);
  });
  it('three are needed where a piece of a column is cut again', () => {
    const items = [
      [60, 60, 1],
      [30, 40, 2],
      [40, 70, 1],
      [40, 30, 1],
    ] as const;
    expect(square(items, 2).sheets).toBe(2);
    expect(square(items, 3).sheets).toBe(1);
  });
});

describe('pieces that can be lifted', () => {
  it('the first cuts leave none that is larger and holds several parts', () => {
    // half a sheet is 1220 × 1220 = 1.4884 m²
    const sizes = [
      [600, 380, 9, true],
      [1100, 250, 4, true],
    ] as const;
    const limit = 1.5e6;
    const result = layoutSheets(job(sizes, { liftable: limit }), solver);
    for (const { root } of result.patterns)
      for (const piece of root.kind === 'split' ? root.pieces : [])
        if (leaves(piece).filter((one) => one.kind === 'part').length > 1)
          expect(piece.length * piece.width).toBeLessThanOrEqual(limit);
    expect(checkSheets(job(sizes, { liftable: limit }), result)).toEqual([]);
  });
});

describe('several sizes of sheet', () => {
  const sizes: SheetStock[] = [
    whole,
    { id: 'half', length: 1220, width: 1220, price: 34 },
    { id: 'quarter', length: 1220, width: 610, price: 19 },
  ];
  it('takes the cheapest that holds the parts', () => {
    const quarter = layoutSheets(job([[600, 600, 2]], { stocks: sizes }), solver);
    // 600 + 3 + 600 = 1203 ≤ 1220
    expect(quarter.patterns.map((one) => one.stock)).toEqual(['quarter']);
    expect(quarter).toMatchObject({ cost: 19, status: 'proved best' });
    // a half and a quarter cost 53, a whole one 60
    const mixed = layoutSheets(
      job(
        [
          [1200, 1200, 1],
          [1200, 600, 1],
        ],
        { stocks: sizes },
      ),
      solver,
    );
    expect(mixed).toMatchObject({ cost: 53, status: 'proved best' });
  });
  it('uses sheets on hand first, and says what is left out where no more are to be had', () => {
    const own: SheetStock = { id: 'own', length: 1220, width: 610, price: 0, limit: 1 };
    const first = layoutSheets(job([[1200, 600, 2]], { stocks: [...sizes, own] }), solver);
    expect(first).toMatchObject({ cost: 19, sheets: 2, status: 'proved best' });
    const none = layoutSheets(job([[1200, 600, 3]], { stocks: [own] }), solver);
    expect(none.status).toBe('impossible');
    expect(none.unplaced).toEqual(['item 0', 'item 0']);
    expect(none.cost).toBe(0);
  });
});

describe('offcut', () => {
  it('is the largest that through cuts can leave', () => {
    // one 1000 × 500: beside it 2440 − 1003 = 1437 × 1220, more than 2440 × (1220 − 503 = 717): 1 753 140 against 1 749 480
    const result = layoutSheets(job([[1000, 500, 1]]), solver);
    expect(result.patterns[0]?.offcut).toEqual({ length: 1437, width: 1220 });
  });
  it('is none where no side is useful', () => {
    const result = layoutSheets(job([[2400, 1200, 1]], { useful: 100 }), solver);
    expect(result.patterns[0]?.offcut).toBeUndefined();
  });
});

describe('numbered cuts', () => {
  it('rip, then crosscut, each with its fence', () => {
    const one = job([[1000, 1220, 2]], { useful: 0 });
    const result = layoutSheets(one, solver);
    const cuts = sheetCuts(one, result.patterns[0] as SheetResult['patterns'][number]);
    // two crosscuts at 1000; the second from the rest of the first; 2440 − 2 × 1003 = 434 is left
    expect(
      cuts.map(({ number, kind, piece, setting, from, x, leaves: l }) => [
        number,
        kind,
        piece,
        setting,
        from,
        x,
        l.kind,
      ]),
    ).toEqual([
      [1, 'crosscut', 'sheet', 1000, 'left', 1000, 'part'],
      [2, 'crosscut', '1r', 1000, 'left', 2003, 'part'],
    ]);
  });
  it('edges are trimmed first', () => {
    const one = job([[500, 400, 3]], { edgeTrim: 10 });
    const cuts = sheetCuts(one, layoutSheets(one, solver).patterns[0] as SheetResult['patterns'][number]);
    // 1220 − 13 = 1207, 1220 − 26 = 1194, 2440 − 13 = 2427, 2440 − 26 = 2414
    expect(cuts.slice(0, 4).map((cut) => [cut.kind, cut.setting])).toEqual([
      ['trim', 1207],
      ['trim', 1194],
      ['trim', 2427],
      ['trim', 2414],
    ]);
    expect(cuts.map((cut) => cut.number)).toEqual(cuts.map((_, index) => index + 1));
  });
});

describe('jobs that make no sense', () => {
  it.each([
    ['a length of nothing', job([[0, 10, 1]]), /length of item 0|length of item item 0/],
    ['a negative width', job([[10, -1, 1]]), /width/],
    ['half a part', job([[10, 10, 0.5]]), /quantity/],
    ['one level of cuts', job([[10, 10, 1]], { stages: 1 }), /stages/],
    ['a kerf that is no number', job([[10, 10, 1]], { kerf: Number.NaN }), /kerf/],
    ['a price below nothing', job([[10, 10, 1]], { stocks: [{ ...whole, price: -1 }] }), /price/],
    ['a sheet of nothing', job([[10, 10, 1]], { stocks: [{ ...whole, width: 0 }] }), /size of stock/],
  ])('%s', (_, one, message) => {
    expect(() => layoutSheets(one, solver)).toThrow(message);
  });
});

describe('the checker', () => {
  const sound = job([
    [500, 400, 4],
    [300, 200, 3, true],
  ]);
  /** Spoils the first pattern's root by a function and gives what the checker says. */
  const spoilt = (change: (root: SheetPiece) => SheetPiece): string => {
    const result = layoutSheets(sound, solver);
    const [first, ...rest] = result.patterns as [SheetResult['patterns'][number]];
    return checkSheets(sound, {
      ...result,
      patterns: [{ ...first, root: change(first.root) }, ...rest],
    }).join('; ');
  };
  const mapLeaves = (piece: SheetPiece, change: (leaf: SheetPiece) => SheetPiece): SheetPiece =>
    piece.kind === 'split'
      ? { ...piece, pieces: piece.pieces.map((one) => mapLeaves(one, change)) }
      : change(piece);
  const firstPart = (change: (part: SheetPart) => SheetPiece) => {
    let done = false;
    return (leaf: SheetPiece): SheetPiece => {
      if (done || leaf.kind !== 'part') return leaf;
      done = true;
      return change(leaf);
    };
  };

  it('finds nothing wrong with what is sound', () => {
    expect(spoilt((root) => root)).toBe('');
  });
  it.each([
    [
      'a part that is turned against its grain',
      (root: SheetPiece) =>
        mapLeaves(
          root,
          firstPart((part) => ({ ...part, turned: true })),
        ),
      /turned against its grain/,
    ],
    [
      'a part that is smaller',
      (root: SheetPiece) =>
        mapLeaves(
          root,
          firstPart((part) => ({ ...part, length: part.length - 1 })),
        ),
      /is 499 ×|doesn't run through/,
    ],
    [
      'a part that was forgotten',
      (root: SheetPiece) =>
        mapLeaves(
          root,
          firstPart(({ x, y, length, width }) => ({ kind: 'offcut', x, y, length, width })),
        ),
      /3 laid out or listed, 4 needed/,
    ],
    [
      'a kerf that was forgotten',
      (root: SheetPiece) =>
        root.kind === 'split'
          ? {
              ...root,
              pieces: root.pieces.map((one, index) =>
                index === 1
                  ? {
                      ...one,
                      x: one.x - (root.cut === 'crosscut' ? 3 : 0),
                      y: one.y - (root.cut === 'rip' ? 3 : 0),
                    }
                  : one,
              ),
            }
          : root,
      /starts at/,
    ],
    [
      'wood that is lost',
      (root: SheetPiece) => (root.kind === 'split' ? { ...root, pieces: root.pieces.slice(0, -1) } : root),
      /is lost|needed/,
    ],
    [
      'a sheet that is larger than it is',
      (root: SheetPiece) => ({ ...root, length: root.length + 10 }),
      /inside its edges/,
    ],
  ])('catches %s', (_, change, message) => {
    expect(spoilt(change)).toMatch(message);
  });
  it('catches a wrong cost, a bound above it, and too many levels', () => {
    const result = layoutSheets(sound, solver);
    expect(checkSheets(sound, { ...result, cost: 1 }).join()).toMatch(/sheets cost/);
    expect(checkSheets(sound, { ...result, bound: result.cost + 1 }).join()).toMatch(/above the cost/);
    const deep = result.patterns.some((pattern) => depth(pattern.root) > 1);
    expect(deep).toBe(true);
    expect(checkSheets({ ...sound, stages: 1 } as SheetJob, result).join()).toMatch(/levels/);
  });
});

it('the same job gives the same layout', () => {
  const one = job([
    [700, 300, 5, true],
    [450, 420, 6],
    [1200, 150, 4],
    [333, 222, 7, true],
  ]);
  expect(layoutSheets(one, solver)).toEqual(layoutSheets(one, solver));
});
