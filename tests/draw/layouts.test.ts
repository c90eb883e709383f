import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { labelsUnder } from '../../src/draw/labels.ts';
import { boxOfMark } from '../../src/draw/marks.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { text } from '../../src/text.ts';
import { inches } from '../../src/units.ts';
import { samplePlan, stock2x4 } from '../support/sample.ts';
import { benchPlan, pottingBench } from './plans.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const layout = (work: ReturnType<typeof workOf>): Drawing =>
  drawPlan(work).drawings.find((d) => d.kind === 'layout') as Drawing;

describe('a cutting layout', () => {
  it('has its boards and cuts to scale', () => {
    // The legs of the sample bench: four of 17 1/4 in from an 8 ft board, 1/4 in trimmed off the end, kerf 1/8 in, at 3/4 in to
    // the foot (1 : 16). Cuts at 1/4 + 17 1/4 = 17 1/2, then every 17 3/8 in; 25.4 / 16 = 1.5875 mm of paper to the inch.
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
    const expected = [17.5, 34.875, 52.25, 69.625].map((inch) => inch * 1.5875);
    expect(cuts.map((x) => x.toFixed(2))).toEqual(expected.map((x) => x.toFixed(2)));
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
    for (const sheet of sheets) expect(sheet.height).toBeLessThanOrEqual(166);
    const names = sheets.flatMap((s) => readSvg(s.svg).texts.filter((t) => t.text === board.stock.label));
    expect(names.length).toBe(25);
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
