/** What a proof of sheets rests on: costs of sheets by several measures, sets of sheets, levels of cuts, and offcuts. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  checkSheets,
  layoutSheets,
  loadSolver,
  type SheetJob,
  type Solver,
} from '../../src/cutting/index.ts';
import { coverWith, type Way } from '../../src/cutting/sheets/cover.ts';
import type { Size } from '../../src/cutting/sheets/kinds.ts';
import { leastCost, linearLeast, mostFor, type Scale } from '../../src/cutting/sheets/scales.ts';
import { randomFrom } from './support/random.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

/** Sheets of up to four sizes with prices and limits, and up to three measures of parts. */
function measured(number: number): { sizes: Size[]; scales: Scale[] } {
  const random = randomFrom(number);
  const sizes = Array.from({ length: random(1, 4) }, (_, index): Size => {
    const stock = { id: `${index}`, length: 1, width: 1, price: random(0, 9) === 0 ? 0 : random(5, 90) };
    return {
      stock,
      length: 1,
      width: 1,
      limit: stock.price === 0 || random(0, 3) === 0 ? random(0, 3) : Infinity,
    };
  });
  const scales = Array.from({ length: random(1, 3) }, (): Scale => {
    const rooms = sizes.map(() => random(1, 40) / 8);
    return { rooms, total: random(1, 200) / 8 };
  });
  return { sizes, scales };
}

describe('the least cost of sheets by several measures', () => {
  it('is that of an integer programme', () => {
    for (let number = 1; number <= 300; number++) {
      const { sizes, scales } = measured(number);
      const programme = {
        rows: scales.map(({ total }) => ({ lower: total - 1e-6 * total })),
        columns: sizes.map(({ stock, limit }, index) => ({
          cost: stock.price,
          ...(Number.isFinite(limit) ? { upper: limit } : {}),
          rows: scales.map((_, row) => row),
          values: scales.map(({ rooms }) => rooms[index] as number),
        })),
      };
      const answer = solver.integer(programme, { nodes: 10_000, pivots: 100_000, gap: 1e-9 });
      const least = leastCost(sizes, scales);
      if (answer.status === 'impossible') expect(least, `case ${number}`).toBe(Infinity);
      else expect(least, `case ${number}`).toBeCloseTo(answer.objective as number, 5);
      for (const { rooms, total } of scales)
        expect(linearLeast(sizes, rooms, total), `case ${number}`).toBeLessThanOrEqual(least + 1e-4);
    }
  });
  it('and so is the most that a sum buys', () => {
    for (let number = 1; number <= 300; number++) {
      const { sizes, scales } = measured(number);
      const money = randomFrom(number + 900)(10, 400);
      const [first, ...others] = scales as [Scale, ...Scale[]];
      const answer = solver.integer(
        {
          rows: [{ upper: money }, ...others.map(({ total }) => ({ lower: total - 1e-6 * total }))],
          columns: sizes.map(({ stock, limit }, index) => ({
            cost: -(first.rooms[index] as number),
            ...(Number.isFinite(limit) ? { upper: limit } : {}),
            rows: [0, ...others.map((_, row) => row + 1)],
            values: [stock.price, ...others.map(({ rooms }) => rooms[index] as number)],
          })),
        },
        { nodes: 10_000, pivots: 100_000, gap: 1e-9 },
      );
      const most = mostFor(sizes, money, first.rooms, others);
      if (answer.status === 'impossible') expect(most, `case ${number}`).toBe(-Infinity);
      else expect(most, `case ${number}`).toBeCloseTo(-(answer.objective as number), 5);
    }
  });
});

describe('a set of sheets', () => {
  const way = (...counts: number[]): Way => ({
    size: 0,
    price: 1,
    counts,
    worth: counts.reduce((sum, count) => sum + count, 0),
  });
  const cover = (ways: Way[], cost: number, limit = Infinity) => {
    const set = coverWith(ways, {
      demands: [2, 1, 2],
      worths: [1, 1, 1],
      limits: [limit],
      cost,
      most: (money) => 3 * Math.floor(money + 1e-9),
    });
    return typeof set === 'string' ? set : set.toSorted();
  };
  it('holds all parts for no more than is allowed, or none does', () => {
    // 2 + 1 + 2 parts, three to a sheet at most: two sheets, of which one holds the part of the second kind
    const ways = [way(2, 0, 1), way(0, 1, 1), way(1, 1, 0)];
    expect(cover(ways, 2)).toEqual([0, 1]);
    expect(cover(ways, 1)).toBe('none');
    expect(cover(ways, 2, 1)).toBe('none');
    expect(cover([way(2, 0, 1), way(1, 1, 0)], 2)).toBe('none');
    // one more of the first kind than is needed
    expect(cover([way(2, 0, 1), way(1, 1, 1)], 2)).toEqual([0, 1]);
  });
});

describe('what is proved, and of which layouts', () => {
  const job = (
    items: readonly (readonly [length: number, width: number, quantity: number])[],
    more: Partial<SheetJob>,
  ): SheetJob => ({
    items: items.map(([length, width, quantity], index) => ({
      id: `item ${index}`,
      length,
      width,
      quantity,
      turnable: false,
    })),
    stocks: [{ id: 'sheet', length: 100, width: 100, price: 1 }],
    kerf: 0,
    edgeTrim: 0,
    ...more,
  });
  /** As in `sheets.test.ts`: a hundred by a hundred filled to the brim, with a piece of a column that is cut again. */
  const filled = [
    [60, 60, 1],
    [30, 40, 2],
    [40, 70, 1],
    [40, 30, 1],
  ] as const;
  it('two sheets are best where two levels are allowed, and one by any cuts is what the bound of areas says', () => {
    const two = layoutSheets(job(filled, { stages: 2 }), solver);
    expect(two).toMatchObject({ sheets: 2, bound: 2, boundFor: 'levels', status: 'proved best' });
    const three = layoutSheets(job(filled, { stages: 3 }), solver);
    expect(three).toMatchObject({ sheets: 1, bound: 1, boundFor: 'any cuts', status: 'proved best' });
  });
  it('is told apart by the checker: a proof needs a bound as high as the cost', () => {
    const two = layoutSheets(job(filled, { stages: 2 }), solver);
    expect(checkSheets(job(filled, { stages: 2 }), { ...two, bound: 1 }).join()).toMatch(/proved best/);
  });
  it('sizes that share no step are rounded only where it harms nothing', () => {
    // thirds and sevenths: 3 × 100/3 = 100 side by side, and no more
    const third = 100 / 3;
    expect(layoutSheets(job([[third, third, 9]], {}), solver)).toMatchObject({
      sheets: 1,
      status: 'proved best',
    });
    const over = layoutSheets(job([[third + 0.01, 100 / 7, 20]], {}), solver);
    // two along, seven across: 14 to a sheet
    expect(over).toMatchObject({ sheets: 2, status: 'proved best' });
  });
});

describe('the largest offcut', () => {
  const sheet = { id: 'whole', length: 2440, width: 1220, price: 60 };
  const parts = (length: number, width: number, quantity: number): SheetJob => ({
    items: [{ id: 'part', length, width, quantity, turnable: false }],
    stocks: [sheet],
    kerf: 3,
    edgeTrim: 0,
    useful: 150,
  });
  it('of four parts in a row is the strip beside them', () => {
    // 4 × 600 + 3 × 3 = 2409 ≤ 2440: 1220 − 400 − 3 = 817 is left, 1.99 m²; in columns 2440 − 2 × 603 = 1234 × 1220, 1.51 m²
    expect(layoutSheets(parts(600, 400, 4), solver).patterns[0]?.offcut).toEqual({
      length: 2440,
      width: 817,
    });
  });
  it('is gathered on one sheet', () => {
    // eight of 1200 × 300: four across (4 × 300 + 9 = 1209) twice along (2403) on one sheet; the ninth leaves 2440 − 1203 = 1237 × 1220,
    // or 2440 × (1220 − 303 = 917): 1.509 against 2.237 m²
    const nine = layoutSheets(parts(1200, 300, 9), solver);
    expect(nine.sheets).toBe(2);
    expect(nine.patterns.map(({ offcut }) => offcut).filter((one) => one !== undefined)).toContainEqual({
      length: 2440,
      width: 917,
    });
  });
});
