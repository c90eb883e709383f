/** A drawn sheet layout: to scale, cuts where they are made, letters, hatch, counts and fence settings. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { SheetLayout } from '../../src/cutting/types.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { inches, mm } from '../../src/units.ts';
import { samplePlan, stock1x4 } from '../support/sample.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const at = (x: number, y: number, length: number, width: number) => ({
  x: inches(x),
  y: inches(y),
  length: inches(length),
  width: inches(width),
});

/** 96 × 48 in, kerf 1/8: a crosscut at 40, from that piece a rip at 20; the rest, 55 7/8 × 48, is left over. */
const sheet: SheetLayout = {
  stock: { ...stock1x4, key: 'ply', label: 'Plywood' },
  species: 'pine',
  sheetLength: inches(96),
  sheetWidth: inches(48),
  sizeLabel: '4 × 8 ft',
  count: 3,
  price: 60,
  edgeTrim: mm(0),
  root: {
    kind: 'split',
    cut: 'crosscut',
    ...at(0, 0, 96, 48),
    pieces: [
      {
        kind: 'split',
        cut: 'rip',
        ...at(0, 0, 40, 48),
        pieces: [
          { kind: 'part', item: 'A', turned: false, ...at(0, 0, 40, 20) },
          { kind: 'offcut', ...at(0, 20.125, 40, 27.875) },
        ],
      },
      { kind: 'offcut', ...at(40.125, 0, 55.875, 48) },
    ],
  },
  cuts: [
    {
      number: 1,
      kind: 'crosscut',
      piece: 'sheet',
      setting: inches(40),
      from: 'left',
      x: inches(40),
      y: 0,
      reach: inches(48),
      leaves: { kind: 'split' },
      parts: [{ item: 'A', count: 1 }],
    },
    {
      number: 2,
      kind: 'rip',
      piece: '1',
      setting: inches(20),
      from: 'lower',
      x: 0,
      y: inches(20),
      reach: inches(40),
      leaves: { kind: 'part', item: 'A' },
      parts: [{ item: 'A', count: 1 }],
    },
  ],
  offcut: { length: inches(55.875), width: inches(48) },
  copyOf: { A: 'leg' },
};

const drawn = (one: SheetLayout = sheet): Drawing => {
  const work = workOf(samplePlan);
  const { drawings } = drawPlan({ ...work, layouts: { ...work.layouts, boards: [], sheets: [one] } });
  return drawings.find((drawing) => drawing.kind === 'layout') as Drawing;
};

describe('a sheet layout', () => {
  it('is drawn to scale, crosscuts thick and rips thin', () => {
    const drawing = drawn();
    // 3/4 in to the foot is 1 : 16: 25.4 / 16 = 1.5875 mm of paper to the inch
    expect(drawing.scale).toBe('3/4″ = 1′-0″');
    const { lines } = readSvg(drawing.svg);
    const thick = lines.filter((one) => one.role === 'k-v');
    const level = thick.filter((one) => Math.abs(one.a[1] - one.b[1]) < 1e-6);
    const left = Math.min(...level.flatMap((one) => [one.a[0], one.b[0]]));
    const bottom = Math.max(...level.map((one) => one.a[1]));
    const top = Math.min(...level.map((one) => one.a[1]));
    expect(bottom - top).toBeCloseTo(48 * 1.5875, 2);
    // Each runs in one line, broken only where its number stands.
    const crosscut = thick.filter(
      (one) => Math.abs(one.a[0] - one.b[0]) < 1e-6 && Math.abs(one.a[0] - left - 40 * 1.5875) < 0.02,
    );
    const rip = lines.filter((one) => one.role === 'k-t' && Math.abs(bottom - one.a[1] - 20 * 1.5875) < 0.02);
    const reach = (pieces: typeof lines, k: 0 | 1): number[] => {
      const ends = pieces.flatMap((one) => [one.a[k], one.b[k]]);
      const drawn = pieces.reduce((sum, one) => sum + Math.abs(one.a[k] - one.b[k]), 0);
      return [Math.max(...ends) - Math.min(...ends), drawn];
    };
    for (const [pieces, k, long] of [
      [crosscut, 1, 48],
      [rip, 0, 40],
    ] as const) {
      const [whole, inked] = reach(pieces, k) as [number, number];
      expect(whole).toBeCloseTo(long * 1.5875, 2);
      expect(whole - inked).toBeGreaterThan(1);
      expect(whole - inked).toBeLessThan(4);
    }
  });

  it('says letters, sizes, what is left over, how many, and the number of each cut', () => {
    const drawing = drawn();
    const texts = readSvg(drawing.svg).texts.map((one) => one.text);
    expect(texts).toContain('A');
    expect(texts).toContain('40″ × 20″');
    expect(texts.some((one) => one.includes('over'))).toBe(true);
    expect(texts).toContain('4 × 8 ft × 3, grain from left to right');
    expect(texts).toContain('1');
    expect(texts).toContain('2');
    expect(readSvg(drawing.svg).lines.some((one) => one.role === 'k-hat')).toBe(true);
    expect(drawing.alt).toContain('3 sheets, 2 cuts: A 40″ by 20″; 55 7/8″ by 48″ left over');
  });

  it('letters a part too narrow for words beside the sheet, with a leader into it', () => {
    // A strip 1 in wide, 1.6 mm of paper, at the upper edge; beside it what is left over.
    const strip: SheetLayout = {
      ...sheet,
      root: {
        kind: 'split',
        cut: 'rip',
        ...at(0, 0, 96, 48),
        pieces: [
          { kind: 'part', item: 'B', turned: false, ...at(0, 0, 96, 1) },
          { kind: 'offcut', ...at(0, 1.125, 96, 46.875) },
        ],
      },
      cuts: [],
    };
    const read = readSvg(drawn(strip).svg);
    const frame = read.lines.filter((one) => one.role === 'k-v');
    const left = Math.min(...frame.flatMap((one) => [one.a[0], one.b[0]]));
    const bottom = Math.max(...frame.flatMap((one) => [one.a[1], one.b[1]]));
    const letter = read.texts.find((one) => one.text === 'B');
    expect(Math.max(...(letter?.corners ?? []).map(([x]) => x))).toBeLessThan(left);
    const leader = read.lines.find((one) => one.role === 'k-t' && Math.min(one.a[0], one.b[0]) < left);
    const tip = leader && (leader.a[0] > leader.b[0] ? leader.a : leader.b);
    expect(tip?.[0]).toBeGreaterThan(left);
    expect(bottom - (tip?.[1] ?? 0)).toBeCloseTo(0.5 * 1.5875, 2);
  });
});
