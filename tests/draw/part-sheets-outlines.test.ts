/**
 * Sheets of boards with free outlines of lines and arcs, drawn by chance from a seed: the outline is worked out again from the corners and
 * radii printed, or from their list, and compared with the model's. Rounded corners and wide arcs have cases of their own.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart } from '../../src/draw/parts/part-sheet.ts';
import type { Plan } from '../../src/model/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { randomFrom } from '../geometry/scenes.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { crossings, overlaps } from './clear.ts';
import { checkSheet } from './part-sheets-compare.ts';
import { Sheet } from './part-sheets-read.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

/** The board that outlines are drawn on: 500 × 145 mm, or 20 × 5-1/2 in. */
const board = (steps: string, more = ''): string => `board:
  stock: 1x6
  runs: across
  wide face: front
  length: 20 in | 500 mm
  at: { left: left, bottom: floor, front: front }
  shape:
    - outline: [${steps}]
${more}`;

const place = (x: number, y: number): string =>
  `{ across: left + ${x.toFixed(3)} mm, up: ${y.toFixed(3)} mm }`;

/**
 * An outline round the middle of the board: corners at growing angles, so that no line crosses another, on sizes that no rule shows;
 * some stretches are arcs. It may still be refused, where an arc leaves the board or crosses its neighbour: then the next is drawn.
 */
function chance(random: () => number, corners: number): string {
  const points = Array.from({ length: corners }, (_, k): [number, number] => {
    const angle = ((k + 0.15 + 0.7 * random()) * 2 * Math.PI) / corners - Math.PI;
    const reach = 0.55 + 0.4 * random();
    return [250 + 240 * reach * Math.cos(angle), 69 + 66 * reach * Math.sin(angle)];
  });
  const steps = points.map(([x, y], k) => {
    const [px, py] = points.at(k - 1) as [number, number];
    const chord = Math.hypot(x - px, y - py);
    if (random() > 0.4) return `{ line: ${place(x, y)} }`;
    const radius = chord * (0.55 + 1.5 * random());
    const level = Math.abs(x - px) > Math.abs(y - py);
    const side = level ? (random() > 0.5 ? 'top' : 'bottom') : random() > 0.5 ? 'left' : 'right';
    return `{ arc: ${place(x, y)}, radius: ${radius.toFixed(3)} mm, bulges: ${side} }`;
  });
  const [x, y] = points.at(-1) as [number, number];
  return [`{ start: ${place(x, y)} }`, ...steps].join(', ');
}

/** The next outline that the model takes. */
function nextPlan(random: () => number, corners: number, edition: Edition, more = ''): Plan {
  for (let tries = 0; tries < 60; tries++) {
    try {
      return built({ parts: board(chance(random, corners), more) }, edition);
    } catch {
      // An arc went too far.
    }
  }
  throw new Error('no outline of sixty was taken');
}

/** Checks a plan's sheets on paper and for a phone; gives those that list their corners. */
function check(plan: Plan): { sheets: Sheet[]; listed: number } {
  const desk = new Desk(workOf(plan));
  const sheets = partSheets(desk).flatMap((sheet) =>
    (['sheet', 'narrow'] as const).map((kind) => {
      const composed = composePart(desk, sheet, kind);
      if (!composed) throw new Error(sheet.id);
      const drawing = desk.finish(composed, kind);
      expect(checkSheet(desk, sheet, drawing)).toBeGreaterThan(0);
      const drawn = readSvg(drawing.svg);
      expect(overlaps(drawn), drawing.id).toEqual([]);
      expect(crossings(drawn), drawing.id).toEqual([]);
      return new Sheet(drawing, plan.edition);
    }),
  );
  return { sheets, listed: sheets.filter((one) => one.has('0 list')).length };
}

describe('a free outline can be set out from its sheet', () => {
  it('drawn by chance, with few corners and with many', () => {
    const random = randomFrom(20260729);
    let listed = 0;
    let sheets = 0;
    for (let turn = 0; turn < 8; turn++)
      for (const edition of [inch, metric]) {
        const found = check(nextPlan(random, [4, 5, 6, 8, 10, 12, 16, 20][turn] as number, edition));
        listed += found.listed;
        sheets += found.sheets.length;
      }
    expect(sheets).toBe(32);
    // Few corners have their sizes at the board, many stand in a list: both ways are tried here.
    expect(listed).toBeGreaterThan(3);
    expect(sheets - listed).toBeGreaterThan(3);
  }, 240_000);

  it('on a board turned over, for a hole in its back', () => {
    const hole =
      '    - { hole: back, at: { across: left + 250 mm, up: 70 mm }, diameter: 5 mm, depth: 6 mm }\n';
    const random = randomFrom(20270115);
    let listed = 0;
    for (const corners of [5, 8, 14, 20])
      for (const edition of [inch, metric]) {
        const found = check(nextPlan(random, corners, edition, hole));
        // Seen from behind, where its left end lies on the right.
        for (const sheet of found.sheets) expect(sheet.text('lies 1')).toContain('left end on the right');
        listed += found.listed;
      }
    expect(listed).toBeGreaterThan(1);
    expect(listed).toBeLessThan(15);
  }, 240_000);

  it('with rounded corners: each is set out sharp, and one radius says the rest', () => {
    // A board all round with four corners rounded alike, and a step in its top rounded the other way.
    const r = 20;
    const steps = [
      `{ start: ${place(r, 0)} }`,
      `{ line: ${place(480, 0)} }`,
      `{ arc: ${place(500, r)}, radius: ${r} mm, bulges: right }`,
      `{ line: ${place(500, 60)} }`,
      `{ arc: ${place(480, 80)}, radius: ${r} mm, bulges: right }`,
      `{ line: ${place(320, 80)} }`,
      `{ arc: ${place(300, 100)}, radius: ${r} mm, bulges: left }`,
      `{ line: ${place(300, 120)} }`,
      `{ arc: ${place(280, 140)}, radius: ${r} mm, bulges: right }`,
      `{ line: ${place(0, 140)} }`,
      `{ line: ${place(0, r)} }`,
      `{ arc: ${place(r, 0)}, radius: ${r} mm, bulges: left }`,
    ].join(', ');
    const { sheets } = check(built({ parts: board(steps) }, metric));
    const [sheet] = sheets as [Sheet];
    // By hand: the step lies 200 from the right end, its foot 65 below the upper edge (145 - 80), the top 5 below it; no other size.
    const sizes = [...sheet.said].filter(([name]) => /^0 [psc]\d+ [xy]$/.test(name));
    expect([...new Set(sizes.map(([, { text }]) => text))].sort()).toEqual(['200', '5', '65']);
    expect(sheet.text('0 radius 1')).toBe('5 × R 20');
  }, 60_000);

  it('with arcs that turn far: their middles are set out too', () => {
    // Half a circle at the right end, and most of one as a bay in the top.
    const steps = [
      `{ start: ${place(0, 0)} }`,
      `{ line: ${place(430, 0)} }`,
      `{ arc: ${place(430, 140)}, through: ${place(500, 70)} }`,
      `{ line: ${place(225, 140)} }`,
      `{ arc: ${place(175, 140)}, through: ${place(200, 60)} }`,
      `{ line: ${place(0, 140)} }`,
      `{ line: ${place(0, 0)} }`,
    ].join(', ');
    const { sheets } = check(built({ parts: board(steps) }, metric));
    const [sheet] = sheets as [Sheet];
    // The bay's circle goes through (175, 140), (225, 140) and (200, 60): r = (25² + 80²) / 160 = 43.906, its middle 103.9 up.
    expect(sheet.number('0 radius 3')).toBe(44);
    expect([sheet.has('0 c1 x'), sheet.has('0 c3 y')]).toEqual([true, true]);
    expect(sheet.place('0 c3 y', 1, 104)).toBeCloseTo(104, 0);
  }, 60_000);
});
