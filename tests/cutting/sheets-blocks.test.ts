/** Blocks of parts: their packed counts against plain ones, and all blocks that a budget allows against trying all sets of parts. */
import { describe, expect, it } from 'vitest';
import { Blocks } from '../../src/cutting/sheets/blocks.ts';
import { yardOf } from '../../src/cutting/sheets/kinds.ts';
import { stackSheets } from '../../src/cutting/sheets/stacking.ts';
import { stepsOf } from '../../src/cutting/sheets/steps.ts';
import { Worths } from '../../src/cutting/sheets/worths.ts';
import { randomFrom } from './support/random.ts';

describe('packed counts', () => {
  it('add up, and say when there are more of a kind than are wanted, as plain counts do', () => {
    let more = 0;
    for (let number = 1; number <= 100; number++) {
      const random = randomFrom(number);
      // a few kinds wanted often, most of them seldom: words of different fill
      const demands = Array.from({ length: random(1, 24) }, () =>
        random(0, 9) === 0 ? random(100, 5000) : random(1, 7),
      );
      const blocks = new Blocks(demands);
      const plain: number[][] = [];
      demands.forEach((_, kind) => {
        const block = blocks.part({ kind, x: 1, y: 1, turned: false }, kind, 1);
        plain[block] = demands.map((_, index) => Number(index === kind));
      });
      for (let n = 0; n < 60; n++) {
        const one = random(0, blocks.count - 1);
        const other = random(0, blocks.count - 1);
        const sum = demands.map((_, kind) => (plain[one]?.[kind] ?? 0) + (plain[other]?.[kind] ?? 0));
        const fits = sum.every((count, kind) => count <= (demands[kind] as number));
        expect(blocks.within(one, other), `case ${number}`).toBe(fits);
        if (!fits) more++;
        const block = fits ? blocks.add(one, other, 'rip', 1, blocks.count) : undefined;
        if (block !== undefined) plain[block] = sum;
      }
      for (let block = 0; block < blocks.count; block++)
        expect([...blocks.counts(block)], `case ${number}`).toEqual(plain[block]);
    }
    expect(more).toBeGreaterThan(300);
  });
});

describe('all sheets of two levels', () => {
  /** The most value of strips of equal heights side by side, by trying all: parts of one width in each strip, as two levels of cuts give them. */
  const bestStrips = (
    parts: readonly { readonly x: number; readonly y: number; readonly worth: number }[],
    x: number,
    y: number,
  ): number => {
    let best = 0;
    const strips = (left: readonly number[], room: number, worth: number): void => {
      best = Math.max(best, worth);
      const heights = new Set(left.map((n) => parts[n]?.y as number).filter((height) => height <= room));
      for (const height of heights) {
        const same = left.filter((n) => parts[n]?.y === height);
        for (let set = 1; set < 1 << same.length; set++) {
          const chosen = same.filter((_, bit) => ((set >> bit) & 1) === 1);
          if (chosen.reduce((sum, n) => sum + (parts[n]?.x as number), 0) > x) continue;
          const more = chosen.reduce((sum, n) => sum + (parts[n]?.worth as number), 0);
          strips(
            left.filter((n) => !chosen.includes(n)),
            room - height,
            worth + more,
          );
        }
      }
    };
    strips(
      parts.map((_, n) => n),
      y,
      0,
    );
    return best;
  };
  it('hold the one that is worth most, of small jobs with few parts', () => {
    for (let number = 1; number <= 60; number++) {
      const random = randomFrom(number + 90);
      const items = Array.from({ length: random(2, 4) }, (_, index) => ({
        id: `${index}`,
        length: random(6, 20),
        width: random(2, 5) * 3,
        quantity: random(1, 2),
        turnable: false,
      }));
      const stocks = [{ id: 'sheet', length: 40, width: 30, price: 1 }];
      const yard = yardOf({ items, stocks, kerf: 0, edgeTrim: 0, stages: 2 });
      const steps = stepsOf(yard, 6000);
      const worths = new Worths(steps, 2);
      const kinds = yard.kinds.map(() => random(1, 30));
      worths.compute(kinds);
      const parts = yard.kinds.flatMap(({ length, width, demand }, kind) =>
        new Array(demand).fill({ x: length, y: width, worth: kinds[kind] as number }),
      );
      const turned = parts.map(({ x, y, worth }) => ({ x: y, y: x, worth }));
      const best = Math.max(bestStrips(parts, 40, 30), bestStrips(turned, 30, 40));
      // nothing may be missing, whatever it loses; and only what loses little, in which the best must be
      const loss = worths.most(0);
      const few = worths.most(0) - best + 1e-6;
      for (const budget of [
        { loss, share: 1, waste: Infinity, looks: 1e7, blocks: 1e6 },
        { loss: few, share: 1, waste: Infinity, looks: 1e7, blocks: 1e6 },
        { loss: few, share: 1, waste: 40 * 30, looks: 1e7, blocks: 1e6 },
      ]) {
        const { sheets, blocks, complete } = stackSheets(yard, steps, worths, kinds, budget);
        expect(complete).toBe(true);
        const found = Math.max(0, ...sheets.map(({ block }) => blocks.worth[block] as number));
        expect(found, `case ${number}`).toBeCloseTo(best, 6);
      }
    }
  });
});
