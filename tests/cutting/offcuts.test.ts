/** Parts from offcuts: from a plan to its layouts. Sums are in the comments. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { boardJobs, jobKey, layOutPlan } from '../../src/cutting/layouts.ts';
import { shoppingList } from '../../src/cutting/shopping.ts';
import type { BoardResult } from '../../src/cutting/types.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Plan } from '../../src/model/types.ts';
import { readShop } from '../../src/read/shop.ts';
import { demoFiles } from '../support/demo.ts';
import { stock1x4, stock1x6 } from '../support/sample.ts';
import { boards, noJoinery, planOf, spare, told } from './support/boards.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});
const laid = (of: Plan) => layOutPlan(of, cutList(of), solver);

describe('a part from: offcut', () => {
  /* Two of 40 in are cut from 8 ft: 95 5/8 − 40 − 1/8 − 40 − 1/8 = 15 3/8 are left: a cleat of 12, and 3 1/4 after it. */
  it('is cut from the end that the others leave', () => {
    const { value, diagnostics } = laid(
      planOf([
        spare('cleat', stock1x4, [[12, 3.5]]),
        boards('rail', stock1x4, [
          [40, 3.5],
          [40, 3.5],
        ]),
      ]),
    );
    expect(told(value)).toEqual(['1 of 8 ft: B, B, *A']);
    expect((value.boards[0]?.offcut ?? 0) / 25.4).toBeCloseTo(3.25, 9);
    expect(diagnostics).toEqual([]);
    expect(value.proofs.map(({ cost, status }) => [cost, status])).toEqual([[6, 'proved best']]);
  });

  /*
   * Three of 40 need 8 ft and 6 ft (10.50). The largest piece goes first, into the smallest place that holds it: a cleat of 30 into
   * the 31 1/2 of the 6 ft board, that of 12 into the 15 3/8 of the 8 ft one.
   */
  it('takes the smallest place that holds it, largest piece first, and splits boards that were alike', () => {
    const rails = boards('rail', stock1x4, [
      [40, 3.5],
      [40, 3.5],
      [40, 3.5],
    ]);
    const { value } = laid(
      planOf([rails, spare('cleat', stock1x4, [[12, 3.5]]), spare('tie', stock1x4, [[30, 3.5]])]),
    );
    expect(told(value)).toEqual(['1 of 8 ft: A, A, *B', '1 of 6 ft: A, *C']);
    // four boards alike, one of which has the cleat
    const four = boards(
      'rail',
      stock1x4,
      Array.from({ length: 8 }, () => [46, 3.5] as const),
    );
    const split = laid(planOf([four, spare('cleat', stock1x4, [[2, 3.5]])]));
    expect(told(split.value)).toEqual(['1 of 8 ft: A, A, *B', '3 of 8 ft: A, A']);
  });

  /*
   * A shelf of 60 × 3 from 1x6 leaves 5 1/2 − 3 − 1/8 = 2 3/8 beside it, and 11 1/2 at the end of 6 ft. A strip of 50 × 2 goes beside
   * it; behind the strip there are 60 − 50 − 1/8 = 9 7/8 of it for a block of 9 × 1 1/2. Only the end is as wide as a block of 4.
   */
  it('is cut from the side of a rip and from the end of a strip', () => {
    const { value } = laid(
      planOf([
        boards('shelf', stock1x6, [[60, 3]]),
        spare('strip', stock1x6, [[50, 2]]),
        spare('block', stock1x6, [[9, 1.5]]),
        spare('foot', stock1x6, [[10, 4]]),
      ]),
    );
    expect(told(value)).toEqual(['1 of 6 ft: A+*B+*C@50.125, *D']);
    const cuts = value.boards[0]?.cuts ?? [];
    expect(cuts.map(({ kind, setting }) => [kind, Math.round((setting / 25.4) * 1000) / 1000])).toEqual([
      ['trim', 0.25],
      ['crosscut', 60],
      ['crosscut', 10],
      ['rip', 3],
      ['rip', 2],
      ['crosscut', 50],
      ['crosscut', 9],
      ['rip', 1.5],
      ['rip', 4],
    ]);
  });

  /*
   * Rails of 50, 45 and 20 are two boards of 6 ft, 9.00: with the one long offcut, 50 + 20 and 45, 1 3/8 and 26 1/2 are left, which holds
   * a tie of 21 and not a block of 6 too. 50 + 21 = 71 1/8 and 45 + 20 + 6 = 71 1/4 hold them all.
   */
  it('never makes the shop buy where all can be laid out together for the same', () => {
    const rails = boards('rail', stock1x4, [
      [50, 3.5],
      [45, 3.5],
      [20, 3.5],
    ]);
    expect(told(laid(planOf([rails])).value).sort()).toEqual(['1 of 6 ft: A, C', '1 of 6 ft: B']);
    const small = [spare('tie', stock1x4, [[21, 3.5]]), spare('block', stock1x4, [[6, 3.5]])];
    const { value, diagnostics } = laid(planOf([rails, ...small]));
    expect(diagnostics).toEqual([]);
    expect(value.proofs[0]?.cost).toBe(9);
    expect(told(value).sort()).toEqual(['1 of 6 ft: A, *D', '1 of 6 ft: B, C, *E']);
  });

  /* Two of 40 fill 8 ft but for 15 3/8: a tie of 20 doesn't fit. Together: 40 + 40 from 8 ft and 20 from 6 ft, or 40 + 20 and 40: 10.50 or 9.00. */
  it('is said to cost a board where no offcut holds it, with the board that pays', () => {
    const rails = boards('rail', stock1x4, [
      [40, 3.5],
      [40, 3.5],
    ]);
    const { value, diagnostics } = laid(planOf([rails, spare('tie', stock1x4, [[20, 3.5]])]));
    expect(diagnostics.map(diagnosticText)).toEqual([
      'content/plans/sample/plan.md:7:9: warning: expected an offcut of 1×4 for "Tie", 20″ long and 3 1/2″ wide, ' +
        'found none that holds it: 2 of 6 ft in place of 1 of 8 ft of 1×4 pays for it, 3.00 USD more (imperial edition) [offcut.none]\n' +
        '    make it smaller, or leave "from: offcut" out',
    ]);
    expect(told(value).sort()).toEqual(['1 of 6 ft: A', '1 of 6 ft: A, B']);
    expect(shoppingList(planOf([rails]), cutList(planOf([rails])), value, noJoinery).lumberCost).toBe(9);
  });

  it('is said to have a board of its own where nothing else is cut from its stock', () => {
    const { diagnostics, value } = laid(
      planOf([spare('tie', stock1x4, [[20, 3.5]]), boards('top', stock1x6, [[60, 5.5]])]),
    );
    expect(diagnostics.map(({ id, severity, parts }) => [id, severity, parts])).toEqual([
      ['offcut.none', 'warning', ['tie']],
    ]);
    expect(told(value)).toEqual(['1 of 6 ft: A', '1 of 6 ft: B']);
  });

  it('asks for the jobs beforehand that it needs', () => {
    const rails = boards('rail', stock1x4, [
      [40, 3.5],
      [40, 3.5],
    ]);
    const one = planOf([rails, spare('tie', stock1x4, [[20, 3.5]])]);
    const cuts = cutList(one);
    const kept = new Map<string, BoardResult>();
    const memo = {
      get: (key: string) => kept.get(key),
      set: (key: string, result: BoardResult) => kept.set(key, result),
    };
    const first = layOutPlan(one, cuts, solver, memo);
    expect([...kept.keys()].sort()).toEqual(boardJobs(one, cuts).map(jobKey).sort());
    const fails: Solver = {
      linear: () => {
        throw new Error('not to be asked');
      },
      integer: () => {
        throw new Error('not to be asked');
      },
    };
    expect(layOutPlan(one, cuts, fails, memo)).toEqual(first);
  });
});

describe('a part of a sheet', () => {
  const PLAN = `---
title: Tray
number: 1
summary: A tray.
kind: hall
price: free
skill: Any
time: A day
species: pine
revisions: [{ revision: A, date: 2026-01-09, note: First. }]
---

\`\`\`sizes
outline: { width: 12 in | 300 mm, depth: 12 in | 300 mm, height: 12 in | 300 mm }
\`\`\`

\`\`\`parts
base: { stock: ply-3/4, runs: across, wide face: top, from: offcut, at: { top: top, left: left, right: right, front: front, back: back } }
\`\`\`

## Steps

### Build

\`\`\`step
adds: [base]
\`\`\`
`;
  it('is not cut from an offcut: the sheet is laid out with all its parts', async () => {
    const { value } = await readShop(new Map([...demoFiles(), ['content/plans/tray/plan.md', PLAN]]));
    const source = value?.plans.find(({ slug }) => slug === 'tray');
    const edition = value?.shop.editions[0];
    if (value === undefined || source === undefined || edition === undefined) throw new Error('not read');
    expect(buildPlan(source, edition, value).diagnostics.map(diagnosticText)).toEqual([
      expect.stringContaining(
        'content/plans/tray/plan.md:18:61: error: expected a board, since "from: offcut" is for boards, found ',
      ),
    ]);
  });
});
