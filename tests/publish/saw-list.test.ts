/** The list for the saw, the cuts of sheets as rows, and what is left over: two small jobs worked by hand, and every demo plan counted. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { boardCuts } from '../../src/cutting/cuts.ts';
import { sawSettings, yardPieces } from '../../src/cutting/saw-list.ts';
import type { BoardLayout } from '../../src/cutting/types.ts';
import { figures } from '../../src/figures.ts';
import type { Plan } from '../../src/model/types.ts';
import { layoutsSection } from '../../src/publish/page/page-lists.ts';
import { planPdf } from '../../src/publish/pdf/pdf.ts';
import type { FinishedPlan } from '../../src/publish/types.ts';
import { stockName, yardText } from '../../src/publish/words/left-over.ts';
import {
  givesLine,
  type SawTable,
  sawListCsv,
  sawOpening,
  sawTables,
  sawTitle,
  sequences,
} from '../../src/publish/words/saw-list.ts';
import type { StockItem } from '../../src/read/types.ts';
import { lineText } from '../../src/text.ts';
import { INCH } from '../../src/units.ts';
import { computedDemo } from '../support/computed.ts';
import { finishedBench, shop } from '../support/finished.ts';
import { handbookTheme, poppler, typstForTests } from '../support/pdf.ts';
import { imperial, stock1x6 } from '../support/sample.ts';
import { board, kerf, layouts, plywood, sheet } from '../support/saw-jobs.ts';

const plain = (pieces: readonly { letter: string; quantity: number }[]): string =>
  pieces.map(({ letter, quantity }) => `${letter}${quantity}`).join(' ');

describe('settings of the saw', () => {
  it('are those that the boards ask for, pass by pass', () => {
    // By hand: 40 and 30 in at the stop, two boards; 2-1/2 in at the fence twice a board, since the second strip is ripped from what is
    // left, 2-7/8 wide; then C's strip at 30 in.
    const found = sawSettings(layouts).map(({ pass, kind, setting, cuts, pieces }) => [
      pass,
      kind,
      Number((setting / INCH).toFixed(6)),
      cuts,
      plain(pieces),
    ]);
    expect(found).toEqual([
      [1, 'crosscut', 40, 2, 'B2 C2'],
      [1, 'crosscut', 30, 2, 'D2'],
      [2, 'rip', 2.5, 4, 'B2 C2'],
      [3, 'crosscut', 30, 2, 'C2'],
    ]);
    const tables = sawTables(layouts, imperial.numbers);
    expect(tables.map(sawTitle)).toEqual([
      'Stop block settings',
      'Fence settings',
      'Stop block settings, ripped pieces',
    ]);
  });

  it('count a last piece that needs no cut of its own, and leave out what the yard cuts', () => {
    // 47-15/16 + 1/8 + 47-15/16 = 96 in: one cut makes both pieces.
    const two = board(1, [
      [47.9375, [['E', 0, 5.5, 47.9375]]],
      [47.9375, [['E', 0, 5.5, 47.9375]]],
    ]);
    expect(sawSettings({ boards: [two] }).map(({ cuts, pieces }) => [cuts, plain(pieces)])).toEqual([
      [1, 'E2'],
    ]);
    const yard = { ...two, cuts: two.cuts.map((cut) => ({ ...cut, yard: true as const })) };
    expect(sawSettings({ boards: [yard] })).toEqual([]);
    expect(yardPieces({ boards: [yard] }).map(({ pieces }) => plain(pieces))).toEqual(['E2']);
    expect(yardPieces({ boards: [two] })).toEqual([]);
  });

  it('say what the yard cuts to length, since no stop is set for it', () => {
    // 96 in, two of them: 50 | 30 + 1/8 + 14; the yard cuts behind 50, the stop is set to 30 and, since 1-5/8 are left, to 14.
    const three = board(2, [
      [50, [['A', 0, 5.5, 50]]],
      [30, [['B', 0, 5.5, 30]]],
      [14, [['C', 0, 5.5, 14]]],
    ]);
    const carried = { ...three, cuts: boardCuts(three, { kerf, yard: [1] }) };
    const of = { ...layouts, boards: [carried] };
    const [table] = sawTables(of, imperial.numbers);
    expect(table?.rows.map(({ pieces }) => plain(pieces))).toEqual(['B2', 'C2']);
    expect(sawOpening(table as SawTable)).toMatch(
      /The yard cuts these to length: A × 2\. Measure them before you use them\.$/,
    );
    const cell = sawListCsv({ plan: { edition: imperial } as Plan, layouts: of }).split('\r\n');
    expect(cell).toContain(',crosscut,in the yard,1×6,pine,,,,A × 2,cut to length in the yard');
  });

  it('gather what prints alike over all stocks, the largest first', () => {
    const other: StockItem = { ...stock1x6, key: '1x6b', label: '1×6 b' };
    const [first] = layouts.boards as [BoardLayout];
    const [table] = sawTables({ ...layouts, boards: [first, { ...first, stock: other }] }, imperial.numbers);
    expect(table?.rows.map(({ cuts, pieces }) => [cuts, pieces.map(({ from }) => from).join('; ')])).toEqual([
      [4, '1×6; 1×6; 1×6 b; 1×6 b'],
      [4, '1×6; 1×6 b'],
    ]);
  });

  it('as CSV say stop block or fence, setting, cuts and pieces', () => {
    const finished = { ...finishedBench(imperial), layouts };
    expect(sawListCsv(finished).split('\r\n').slice(0, 4)).toEqual([
      'pass,cut,set,stock,species,setting,setting mm,cuts,pieces,note',
      '1,crosscut,stop block,1×6,pine,40″,1016,2,B × 2; C × 2,',
      '1,crosscut,stop block,1×6,pine,30″,762,2,D × 2,',
      '2,rip,fence,1×6,pine,2 1/2″,63.5,4,B × 2; C × 2,',
    ]);
  });

  it('hold each part of each demo plan as often as the cut list has it', async () => {
    for (const { computed, name } of await computedDemo()) {
      const most = new Map<string, number>();
      const settings = sawSettings(computed.layouts);
      for (const { pieces } of settings)
        for (const { letter, quantity } of pieces)
          most.set(letter, Math.max(most.get(letter) ?? 0, quantity));
      for (const row of computed.cutList.rows) {
        if (row.stock.sheets) continue;
        // Pieces that are as long as their board are not cut; there are none in the demo plans.
        expect(most.get(row.letter), `${name} ${row.letter}`).toBe(row.quantity);
        const last = settings
          .filter(({ pieces }) => pieces.some(({ letter }) => letter === row.letter))
          .at(-1);
        const size = last?.kind === 'rip' ? row.width : row.length;
        expect(Math.abs((last?.setting ?? 0) - size), `${name} ${row.letter}`).toBeLessThan(0.2);
      }
    }
  }, 120_000);
});

describe('figures', () => {
  it('carry the settings of the saw and the cuts of sheets, as FIGURES.md says', async () => {
    const [seat] = (await computedDemo()).filter(({ computed }) => computed.layouts.sheets !== undefined);
    expect(seat).toBeDefined();
    const { computed } = seat as NonNullable<typeof seat>;
    const { layouts: laid } = JSON.parse(JSON.stringify(figures(computed, ['imperial', 'metric'])));
    expect(laid.saw).toHaveLength(sawSettings(computed.layouts).length);
    // 1 in is 25.4 mm: the text says what the length is
    for (const { setting, kind, cuts, pieces } of laid.saw) {
      expect(setting.text).toMatch(/^[0-9 /]+(?:″| mm)$/);
      expect(['crosscut', 'rip']).toContain(kind);
      expect(cuts).toBeGreaterThan(0);
      expect(pieces.length).toBeGreaterThan(0);
    }
    // Each part of a sheet comes out of the cut that leaves it, or is the rest of one.
    const made = new Map<string, number>();
    for (const { cuts, count } of laid.sheets)
      for (const { leaves, letter, rest } of cuts) {
        if (leaves === 'part') made.set(letter, (made.get(letter) ?? 0) + count);
        if (rest?.leaves === 'part') made.set(rest.letter, (made.get(rest.letter) ?? 0) + count);
      }
    const wanted = computed.cutList.rows.filter((row) => row.stock.sheets);
    expect(wanted.length).toBeGreaterThan(0);
    for (const row of wanted) expect(made.get(row.letter), row.letter).toBe(row.quantity);
    const told = readFileSync(new URL('../../src/FIGURES.md', import.meta.url), 'utf8');
    for (const name of ['layouts.saw[]', '`parts[]`', '`rest`']) expect(told).toContain(name);
  }, 120_000);
});

describe('the cuts of a sheet', () => {
  it('are rows with what they are made on and what comes off', () => {
    const [sequence] = sequences({ ...layouts, sheets: [sheet] });
    expect(sequence?.title).toBe('3/4 plywood, 4 × 8 ft × 2');
    expect(
      sequence?.rows.map((row) => [
        row.numbers,
        row.kind,
        row.piece,
        row.setting / INCH,
        row.edge,
        lineText(givesLine(row) as Parameters<typeof lineText>[0]),
      ]),
    ).toEqual([
      ['1', 'rip', 'sheet', 20, 'lower', 'work for A × 2'],
      ['2, 3', 'crosscut', 'from cut 1', 40, 'left', 'A × 2; rest an offcut'],
      ['4', 'crosscut', 'rest of cut 1', 30, 'left', 'B; rest an offcut'],
    ]);
  });

  it('stand in the CSV with their numbers, sheets cut alike counted', () => {
    const finished = { ...finishedBench(imperial), layouts: { ...layouts, boards: [], sheets: [sheet] } };
    expect(sawListCsv(finished).split('\r\n').slice(1, 4)).toEqual([
      ',crosscut,fence,3/4 plywood,birch,40″,1016,4,A × 4,"3/4 plywood, 4 × 8 ft: cuts 2, 3"',
      ',crosscut,fence,3/4 plywood,birch,30″,762,2,B × 2,"3/4 plywood, 4 × 8 ft: cut 4"',
      ',rip,fence,3/4 plywood,birch,20″,508,2,A × 4,"3/4 plywood, 4 × 8 ft: cut 1"',
    ]);
  });

  it('are rows of a tagged table on the sheets, and of a table on the page', async () => {
    const finished = { ...finishedBench(imperial), layouts: { ...layouts, sheets: [sheet] } };
    const { value } = planPdf({ finished, shop, theme: handbookTheme(), typst: await typstForTests() });
    const tags = poppler('pdfinfo', value as Uint8Array, ['-struct-text']);
    const table = tags.slice(tags.indexOf('"Cut sequence: 3/4 plywood, 4 × 8 ft × 2"'));
    const own = table.slice(0, table.search(/\bH[12] /));
    // A head of seven cells, then a row for each line of the table worked out above.
    expect(own.match(/^\s*TH\b/gm)).toHaveLength(7);
    expect(own.match(/^\s*TR\b/gm)).toHaveLength(4);
    expect(own).toMatch(/"rest of cut 1"/);
    const html = JSON.stringify(
      layoutsSection([{ edition: imperial, finished }], () => undefined).map((one) => one),
    );
    expect(html.match(/"tagName":"caption"/g)).toHaveLength(4);
    expect(html).toContain('Cut sequence: 3/4 plywood, 4 × 8 ft × 2');
  }, 30_000);

  it('are told apart where two layouts are on sheets of one size', () => {
    const titles = sequences({ ...layouts, sheets: [sheet, { ...sheet, count: 1 }] }).map(
      ({ title }) => title,
    );
    expect(titles).toEqual(['3/4 plywood, 4 × 8 ft, no. 1 × 2', '3/4 plywood, 4 × 8 ft, no. 2']);
  });

  it('and their stock are named with the species once', () => {
    const bench = finishedBench(imperial);
    const [row] = bench.cutList.rows as [FinishedPlan['cutList']['rows'][number]];
    const mixed = {
      ...bench,
      cutList: { ...bench.cutList, rows: [row, { ...row, species: 'birch plywood' }] },
    };
    expect(stockName(mixed, plywood, 'birch plywood')).toBe('3/4 birch plywood');
    expect(stockName(mixed, plywood, 'birch')).toBe('3/4 birch plywood');
    expect(stockName(mixed, stock1x6, 'pine')).toBe('1×6 pine');
    expect(stockName(bench, stock1x6, 'pine')).toBe('1×6');
  });
});

describe('the shopping list', () => {
  it('says where the yard cuts which boards, since it is what a builder takes there', () => {
    // 96 in: the yard cuts behind 50 in of three boards, behind 30 of one, and of two twice, behind 40 and 20 more (+ 1/8 of kerf)
    const cut = (count: number, long: readonly number[], yard: readonly number[]): BoardLayout => {
      const whole = board(
        count,
        long.map((length) => [length, [['A', 0, 5.5, length]]] as const),
      );
      return { ...whole, cuts: boardCuts(whole, { kerf, yard }) };
    };
    const finished = finishedBench(imperial);
    const said = (boards: readonly BoardLayout[], quantity: number): string =>
      yardText(
        { ...finished, layouts: { ...layouts, boards } },
        {
          kind: 'board',
          name: '1×6',
          size: [],
          unit: '8 ft',
          quantity,
          needed: quantity,
          stock: stock1x6,
          species: 'pine',
        },
      );
    expect(said([cut(3, [50, 40], [1])], 3)).toBe('have them cut at 50″');
    expect(said([cut(1, [50, 40], [1])], 1)).toBe('have it cut at 50″');
    // one of four is a spare one
    expect(said([cut(3, [50, 40], [1])], 4)).toBe('have 3 cut at 50″');
    expect(said([cut(3, [50, 40], [1]), cut(1, [30, 40], [1])], 4)).toBe('have 3 cut at 50″ and 1 at 30″');
    expect(said([cut(2, [40, 20, 30], [1, 2])], 2)).toBe('have them cut at 40″, 20″ further');
    expect(said([board(2, [[50, [['A', 0, 5.5, 50]]]])], 2)).toBe('');
  });
});
