import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver, type Solver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { Desk } from '../../src/draw/desk.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { pagesOf, rectangle } from '../../src/draw/layouts/layout-pages.ts';
import { composeLayouts } from '../../src/draw/layouts/layouts.ts';
import { labelsUnder } from '../../src/draw/paper/labels.ts';
import { boxOfMark } from '../../src/draw/paper/marks.ts';
import type { Drawing } from '../../src/draw/types.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import type { StockItem } from '../../src/read/types.ts';
import { text } from '../../src/text.ts';
import { inches } from '../../src/units.ts';
import { boards, spare } from '../cutting/support/boards.ts';
import { randomFrom } from '../cutting/support/random.ts';
import { samplePlan, stock1x6, stock2x4 } from '../support/sample.ts';
import { overlaps } from './clear.ts';
import { benchPlan, metric, pottingBench } from './plans.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const layout = (work: ReturnType<typeof workOf>): Drawing =>
  drawPlan(work).drawings.find((d) => d.kind === 'layout') as Drawing;

describe('a cutting layout', () => {
  it('has its boards and cuts to scale', () => {
    // The legs of the sample bench: four of 17 1/4 in from an 8 ft board, 1/4 in trimmed off the end, kerf 1/8 in, at 3/4 in to
    // the foot (1 : 16). Cuts at 1/4 + 1/8 + 17 1/4 = 17 5/8, then every 17 3/8 in; 25.4 / 16 = 1.5875 mm of paper to the inch.
    const drawing = layout(workOf(samplePlan));
    expect(drawing.scale).toBe('3/4″ = 1′-0″');
    const lines = readSvg(drawing.svg).lines.filter((l) => l.role === 'k-v');
    const level = lines.filter((l) => Math.abs(l.a[1] - l.b[1]) < 1e-6);
    const bottom = Math.max(...level.map((l) => l.a[1]));
    const board = level.find((l) => l.a[1] === bottom);
    const [left, right] = [
      Math.min(board?.a[0] ?? 0, board?.b[0] ?? 0),
      Math.max(board?.a[0] ?? 0, board?.b[0] ?? 0),
    ];
    expect(right - left).toBeCloseTo(96 * 1.5875, 2);
    const cuts = lines
      .filter((l) => Math.abs(l.a[0] - l.b[0]) < 1e-6 && Math.abs(Math.max(l.a[1], l.b[1]) - bottom) < 0.01)
      .map((l) => l.a[0] - left)
      .filter((x) => x > 0.1 && x < 96 * 1.5875 - 0.1)
      .sort((a, b) => a - b);
    const expected = [17.625, 35, 52.375, 69.75].map((inch) => inch * 1.5875);
    expect(cuts).toEqual(expected.map((x) => expect.closeTo(x, 2)));
  });

  it('names every piece of every board with its length', () => {
    const work = workOf(benchPlan(pottingBench));
    const words = readSvg(layout(work).svg).texts.map((t) => t.text);
    for (const board of work.layouts.boards)
      for (const section of board.sections)
        for (const strip of section.strips)
          expect(words.some((w) => w.startsWith(strip.letter) || w.includes(`× ${strip.letter}`))).toBe(true);
    expect(words.filter((w) => w.startsWith('F')).join()).toBe('F  48″, rip to 3 1/4″');
  });

  it('says strips side by side once, with their count and rip', () => {
    const base = workOf(samplePlan);
    const strip = (offset: number) => ({
      letter: 'A',
      copyOf: 'leg',
      offset: inches(offset),
      width: inches(1.5),
      length: inches(17.25),
    });
    const board = {
      stock: stock2x4,
      species: 'pine',
      boardLength: inches(96),
      lengthLabel: '8 ft',
      count: 3,
      sections: [{ start: inches(0), length: inches(17.25), strips: [strip(0), strip(1.625)] }],
      cuts: [],
      offcut: inches(78),
      endTrim: inches(0.25),
      price: 0,
    };
    const words = readSvg(layout({ ...base, layouts: { ...base.layouts, boards: [board] } }).svg).texts.map(
      (t) => t.text,
    );
    expect(words).toContain('8 ft, 3 alike');
    expect(words.some((w) => w.startsWith('2 × A  17 1/4″, rip to 1 1/2″'))).toBe(true);
  });

  it('splits a long list over sheets that fit', () => {
    const base = workOf(samplePlan);
    const board = base.layouts.boards[0];
    if (!board) throw new Error('no board');
    const set = drawPlan({
      ...base,
      layouts: { ...base.layouts, boards: Array.from({ length: 25 }, () => board) },
    });
    const sheets = set.drawings.filter((d) => d.kind === 'layout');
    expect(sheets.length).toBeGreaterThan(2);
    // A Letter sheet has 222.4 mm between its margins; title and opening words of the layouts take 34.
    for (const sheet of sheets) expect(sheet.height).toBeLessThanOrEqual(222.4 - 34);
    const names = sheets.flatMap((s) => readSvg(s.svg).texts.filter((t) => t.text === board.stock.label));
    expect(names.length).toBe(25);
  });
});

describe('the cuts of a layout', () => {
  let solver: Solver;
  beforeAll(async () => {
    solver = await loadSolver();
  });
  /** All texts of a plan's layouts, on the sheet or on a phone, after a look whether any lies over another or over a line. */
  const words = (plan: Plan, place: 'sheet' | 'narrow' = 'sheet'): string[] => {
    const desk = new Desk({ ...workOf(plan), layouts: layOutPlan(plan, cutList(plan), solver).value });
    return composeLayouts(desk, place).flatMap((one) => {
      const drawn = readSvg(desk.finish(one, place).svg);
      expect(overlaps(drawn)).toEqual([]);
      return drawn.texts.map(({ text: said }) => said);
    });
  };
  const plan = (parts: readonly Part[], stock: StockItem, more: Partial<Plan['edition']> = {}): Plan => ({
    ...samplePlan,
    edition: { ...samplePlan.edition, ...more },
    parts,
    stockList: { ...samplePlan.stockList, items: [stock], yardCuts: true },
  });
  const numbers = (texts: readonly string[]): number[] =>
    texts.filter((one) => /^\d+$/.test(one)).map(Number);

  it('are numbered on the drawing, or in the words where they have no room', () => {
    const strips = plan(
      [
        boards('slat', stock1x6, [
          [48, 2],
          [48, 2],
          [30, 1.5],
          [20, 1.5],
          [20, 1.5],
        ]),
      ],
      stock1x6,
    );
    for (const place of ['sheet', 'narrow'] as const) {
      const texts = words(strips, place);
      const told = [...texts.join(' ').matchAll(/ at cuts? (\d+(?:, \d+)*)/g)].flatMap(([, list = '']) =>
        list.split(', ').map(Number),
      );
      const all =
        layOutPlan(strips, cutList(strips), solver).value.boards[0]?.cuts.map((cut) => cut.number) ?? [];
      expect(all.length).toBeGreaterThan(6);
      expect([...numbers(texts), ...told].sort((a, b) => a - b)).toEqual(all);
    }
  });

  it('begin with a rough edge, and hatch what comes off it', () => {
    const rough: StockItem = { ...stock1x6, rough: inches(0.5), cover: inches(5) };
    const texts = words(
      plan(
        [
          boards('slat', rough, [
            [48, 2],
            [40, 5],
          ]),
        ],
        rough,
      ),
    );
    expect(texts.join(' ')).toContain('cut 1: make the rough edge straight');
    expect(numbers(texts)).not.toContain(1);
  });

  it('say which the yard makes', () => {
    const long: StockItem = {
      ...stock1x6,
      lengths: [{ length: inches(144), label: '12 ft', prices: { pine: 9 } }],
    };
    const texts = words(
      plan(
        [
          boards('rail', long, [
            [60, 5.5],
            [60, 5.5],
          ]),
        ],
        long,
        { longestBoard: inches(96) },
      ),
    );
    expect(texts).toContain('1 in the yard');
  });

  it('mark what is cut from an offcut, beside a rip, behind a strip and at the end', () => {
    const parts = [
      boards('shelf', stock1x6, [[60, 3]]),
      spare('strip', stock1x6, [[50, 2]]),
      spare('block', stock1x6, [[9, 1.5]]),
      spare('foot', stock1x6, [[10, 4]]),
    ];
    for (const place of ['sheet', 'narrow'] as const)
      expect(
        words(plan(parts, stock1x6), place)
          .join(' ')
          .match(/from offcut/g),
      ).toHaveLength(3);
  });

  it('keep their numbers off the outline where a strip leaves less than its line is wide', () => {
    // 17.5 + 3 + 117.5 = 138 of 139.7: what is left beside the second strip is 0.04 mm of paper on a phone.
    const parts = [
      boards('edge', stock1x6, [[75.5, 0.6875]]),
      boards('shelf', stock1x6, [[62.8125, 4.625]]),
      boards('block', stock1x6, [[8.125, 5]]),
    ];
    // A number without room stands in the words of its piece.
    expect(words(plan(parts, stock1x6, metric), 'narrow').join(' ')).toMatch(/at cuts? [\d, ]*6/);
  });

  it('keep all lettering clear in 10 random plans, on the sheet and on a phone', () => {
    const random = randomFrom(5);
    for (let number = 0; number < 10; number++) {
      const stock: StockItem =
        number % 4 === 0 ? { ...stock1x6, rough: inches(0.375), cover: inches(5.125) } : stock1x6;
      const parts = Array.from({ length: random(2, 4) }, (_, at) => {
        const width = random(0, 1) === 0 ? stock.cover / 25.4 : random(8, 80) / 16;
        const part = boards(
          `part-${at}`,
          stock,
          Array.from({ length: random(1, 3) }, () => [random(64, 800) / 16, width] as const),
        );
        return at === 1 ? { ...part, fromOffcut: part.origin } : part;
      });
      words(plan(parts, stock), number % 2 === 0 ? 'sheet' : 'narrow');
    }
  });
});

describe('labels under a row', () => {
  it('move apart where pieces are narrow, and stay in order', () => {
    const labels = [0, 4, 8, 12, 40].map((from, i) => ({
      from,
      to: from + 4,
      text: [text(`${i} label`)],
      short: [text(`${i}`)],
      same: '',
    }));
    const boxes = labelsUnder(labels, { left: 0, right: 120, top: 5 })
      .filter((m) => m.kind === 'text')
      .map(boxOfMark);
    expect(boxes.length).toBe(5);
    for (let i = 1; i < boxes.length; i++)
      expect((boxes[i]?.left ?? 0) - (boxes[i - 1]?.right ?? 0)).toBeGreaterThan(2);
  });
});

describe('drawings below others', () => {
  const block = (of: number) => ({
    of,
    marks: [rectangle({ left: 0, right: 100, top: 0, bottom: 60 })],
  });
  const shared = (taken: number): number[] =>
    pagesOf([1, 2, 3].map(block), 7, { width: 180, height: 201 }, [], taken).map(({ items }) => items.length);

  it('take what is left of the room, and begin with all of it where a block finds no room there', () => {
    // 200 mm: 60 + 7 + 60 + 7 + 60 = 194 fit; below 80 mm one fits, 80 + 60 + 7 + 60 = 207 don't; below 150 none does.
    expect(shared(0)).toEqual([3]);
    expect(shared(80)).toEqual([1, 2]);
    expect(shared(150)).toEqual([3]);
  });
});

describe('boards on a drawing', () => {
  it('stand closer where that saves a drawing', () => {
    const base = workOf(samplePlan);
    const board = base.layouts.boards[0] as (typeof base.layouts.boards)[number];
    const heights = (count: number): number[] =>
      drawPlan({ ...base, layouts: { ...base.layouts, boards: Array.from({ length: count }, () => board) } })
        .drawings.filter(({ kind }) => kind === 'layout')
        .map(({ height }) => height);
    // One block with its gap, and so the block; half a millimetre of margin lies on both sides of a drawing.
    const pitch = (heights(2)[0] as number) - (heights(1)[0] as number);
    const most = (between: number): number =>
      Math.floor((187.4 - 1 + between) / (pitch - 4.6 + between) + 1e-9);
    const [usual, close] = [most(4.6), most(3.2)];
    expect(heights(usual)).toEqual([expect.closeTo(usual * pitch - 4.6 + 1, 0)]);
    for (let count = usual + 1; count <= close; count++)
      expect(heights(count)).toEqual([expect.closeTo(count * (pitch - 1.4) - 3.2 + 1, 0)]);
    expect(close).toBeGreaterThan(usual);
    expect(heights(close + 1)).toHaveLength(2);
  });
});
