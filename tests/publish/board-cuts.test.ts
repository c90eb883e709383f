/** The cuts of a board in words, from the layouts of the sample bench; the settings are worked out in tests/cutting/cuts.test.ts. */
import { expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import type { BoardLayout } from '../../src/cutting/types.ts';
import { boardCutLists } from '../../src/publish/words/board-cuts.ts';
import { lineText } from '../../src/text.ts';
import { inches } from '../../src/units.ts';
import { samplePlan } from '../support/sample.ts';

it('says each setting once, with what comes off', async () => {
  const layouts = layOutPlan(samplePlan, cutList(samplePlan), await loadSolver()).value;
  const said = (boards: readonly BoardLayout[]) =>
    boardCutLists({ ...layouts, boards }, samplePlan.edition.numbers).map(({ cuts }) =>
      cuts.map((cut) => `${cut.numbers}: ${lineText(cut.said)}`),
    );
  expect(said(layouts.boards)).toEqual([
    ['1: square the end', '2–5: 17 1/4″ A × 4'],
    ['1: square the end', '2, 3: 33″ B × 2'],
    ['1: square the end', '2, 3: 40″ C × 2'],
    ['1: square the end', '2: 40″', '3: rip to 3 1/2″ D'],
  ]);
  // a rough edge, the yard's cut and a groove that is kept are told with their cuts
  const board = layouts.boards[3] as BoardLayout;
  const [trim, crosscut, rip] = board.cuts as [
    BoardLayout['cuts'][number],
    BoardLayout['cuts'][number],
    BoardLayout['cuts'][number],
  ];
  const cuts = [
    { ...crosscut, number: 1, yard: true as const },
    { ...trim, number: 2, kind: 'straighten' as const, setting: inches(0.25) },
    { ...rip, number: 3, against: 'groove edge' as const, rest: { kind: 'part' as const, letter: 'D' } },
  ];
  expect(said([{ ...board, cuts }])).toEqual([
    [
      '1: in the yard at 40″',
      '2: make the rough edge straight, 1/4″ off',
      '3: rip to 3 1/2″ D × 2, groove edge',
    ],
  ]);
  // the stretches of a rough board that the yard cut are all made straight at one setting
  const straighten = { ...trim, kind: 'straighten' as const, setting: inches(0.5), against: 'edge' as const };
  const rough = [
    { ...crosscut, number: 1, yard: true as const },
    { ...straighten, number: 2, piece: '1' },
    { ...straighten, number: 3, piece: '1r' },
    { ...trim, number: 4, piece: '2r' },
  ];
  expect(said([{ ...board, cuts: rough }])).toEqual([
    ['1: in the yard at 40″', '2, 3: make the rough edge straight, 1/2″ off', '4: square the end'],
  ]);
  // 60 3/8 and 48 in of a rough board: the part that the yard cuts to length is finished by its trim, the next cut goes on from there
  const part = { kind: 'part' as const, letter: 'E' };
  const carried = [
    { ...crosscut, number: 1, setting: inches(60.375), yard: true as const },
    { ...crosscut, number: 2, piece: '1r', setting: inches(48), leaves: part, yard: true as const },
    { ...trim, number: 3, piece: '1', rest: part },
  ];
  expect(said([{ ...board, cuts: carried }])).toEqual([
    ['1: in the yard at 60 3/8″', '2: in the yard, 48″ further E', '3: square the end E'],
  ]);
});
