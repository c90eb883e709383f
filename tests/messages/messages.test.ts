/**
 * Every faulty file of this folder (`cases.ts`), and every part of a faulty plan (`fragments.ts`), gets exactly the report that stands
 * behind it; the shop they stand in gets none.
 */
import { describe, expect, it } from 'vitest';
import { cases, reportOf } from './cases.ts';
import { fragmentReport, fragments } from './fragments.ts';

const all = [
  ...cases().map((one) => ({ ...one, report: () => reportOf(one) })),
  ...fragments().map((one) => ({ ...one, report: async () => fragmentReport(one.text) })),
];

describe('faulty files', () => {
  it('are there', () => {
    expect(all.length).toBeGreaterThanOrEqual(250);
    expect(new Set(all.map(({ name }) => name)).size).toBe(all.length);
  });

  it('have at least one fault each, and every fault has a place of its own', () => {
    for (const one of all) {
      const first = one.expected.split('\n').filter((line) => !line.startsWith('    '));
      expect(first.length, one.name).toBeGreaterThan(0);
      for (const line of first)
        expect(line, one.name).toMatch(
          /^(?:\S+:)?[0-9]+:[0-9]+: (?:(?:error|warning): expected|note:) .+ \[[a-z.-]+\]$/u,
        );
    }
  });

  it('are shown at the very text that was found', () => {
    // Where a message quotes what was found, that text stands at its line and column: counted here by characters, on the raw file.
    // What a formula comes to, what is missing, or what a part measures stands nowhere.
    const elsewhere =
      /\[(?:yaml\.colon|steps\.missing|prose\.heading|shop\.stock-unknown|formula\.(?:dimension|space|zero)|step\.part-twice|sheet\.\w[\w-]*|assembly\.\w+|[a-z.-]+-missing)\]$/u;
    let checked = 0;
    for (const one of all) {
      const lines = one.text.split(/\r?\n/u);
      for (const said of one.expected.split('\n')) {
        const match = /^([0-9]+):([0-9]+): .*found (?:[a-z ]+, )?"([^"…]+)"/u.exec(said);
        if (!match || elsewhere.test(said)) continue;
        const rest = [...(lines[Number(match[1]) - 1] ?? '')].slice(Number(match[2]) - 1).join('');
        expect(rest.slice(0, match[3]?.length), `${one.name}: ${said}`).toBe(match[3]);
        checked += 1;
      }
    }
    expect(checked).toBeGreaterThan(120);
  });

  it.each(all.map((one) => [one.name, one] as const))('%s', async (_, one) => {
    expect(await one.report()).toBe(one.expected);
  });
});

describe('the shop they stand in', () => {
  it('is right', async () => {
    const plan = { name: 'base', phase: 'plan', expected: '', file: 'content/none.txt', text: '' };
    expect(await reportOf(plan)).toBe('');
  });
});
