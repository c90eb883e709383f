/** The independent check finds what is wrong with a layout: each case spoils a good one in one place. */
import { describe, expect, it } from 'vitest';
import { checkBoards } from '../../src/cutting/boards/check.ts';
import type { BoardJob, BoardPattern, BoardResult } from '../../src/cutting/types.ts';

const job: BoardJob = {
  items: [
    { id: 'rail', length: 40, quantity: 2 },
    { id: 'strip', length: 10, width: 1.5, quantity: 2 },
  ],
  stocks: [{ id: 'board', length: 96, width: 3.5, price: 6, limit: 1 }],
  kerf: 0.125,
  endTrim: 0.25,
  resolution: 1 / 64,
};

/* 96 − 0.25 − 0.125 = 95.625 to use; 40, 40 and 10 with three kerfs are 90.375; 5.25 is left. */
const pattern: BoardPattern = {
  stock: 'board',
  count: 1,
  sections: [
    { start: 0, length: 40, strips: [{ item: 'rail', offset: 0, width: 3.5, length: 40 }] },
    { start: 40.125, length: 40, strips: [{ item: 'rail', offset: 0, width: 3.5, length: 40 }] },
    {
      start: 80.25,
      length: 10,
      strips: [
        { item: 'strip', offset: 0, width: 1.5, length: 10 },
        { item: 'strip', offset: 1.625, width: 1.5, length: 10 },
      ],
    },
  ],
  offcut: 5.25,
};

const good: BoardResult = {
  patterns: [pattern],
  cost: 6,
  boards: 1,
  bound: 6,
  status: 'proved best',
  gap: 0,
  unplaced: [],
};

const sections = pattern.sections;
const withSections = (changed: BoardPattern['sections'], more: Partial<BoardPattern> = {}): BoardResult => ({
  ...good,
  patterns: [{ ...pattern, sections: changed, ...more }],
});
const change = (index: number, more: object): BoardPattern['sections'] =>
  sections.map((section, at) => (at === index ? { ...section, ...more } : section));
const strips = (second: object): BoardPattern['sections'] =>
  change(2, { strips: [sections[2]?.strips[0], { ...sections[2]?.strips[1], ...second }] });

describe('a good layout', () => {
  it('has no faults', () => expect(checkBoards(job, good)).toEqual([]));
});

describe('a spoilt layout', () => {
  const spoilt: readonly (readonly [fault: RegExp, result: BoardResult])[] = [
    [/before/, withSections(change(1, { start: 40 }))],
    [/beyond/, withSections(change(2, { start: 86 }))],
    [/offcut/, withSections(sections, { offcut: 7 })],
    [/rail: 1 laid out or listed, 2 needed/, withSections(sections.slice(1), { offcut: 5.25 })],
    [/overlaps/, withSections(strips({ offset: 1.5 }))],
    [/off the board/, withSections(strips({ offset: 2.125 }))],
    [/wide/, withSections(strips({ width: 1.25 }))],
    [/long/, withSections(strips({ length: 9 }))],
    [/longer than section/, withSections(change(2, { length: 9 }))],
    [/is not in the job/, withSections(strips({ item: 'other' }))],
    [/no stock/, { ...good, patterns: [{ ...pattern, stock: 'other' }] }],
    [/count 0/, { ...good, patterns: [{ ...pattern, count: 0 }] }],
    [/more than its limit/, { ...good, patterns: [pattern, pattern] }],
    [/cost 5/, { ...good, cost: 5, bound: 5 }],
    [/boards 2/, { ...good, boards: 2 }],
    [/above the cost/, { ...good, bound: 7 }],
    [/proved best with/, { ...good, bound: 5 }],
    [/a gap of nothing/, { ...good, status: 'gap' }],
    [/impossible with 0/, { ...good, status: 'impossible' }],
    [/strip: 3 laid out/, { ...good, status: 'impossible', unplaced: ['strip'] }],
    [/empty board/, { ...good, patterns: [pattern, { ...pattern, sections: [], offcut: 95.625 }] }],
    [/section 3 is empty/, withSections(change(2, { strips: [] }))],
  ];
  for (const [fault, result] of spoilt)
    it(`${fault.source}`, () => expect(checkBoards(job, result).join('\n')).toMatch(fault));
});
