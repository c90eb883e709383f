/**
 * Full-size templates: the printed sheets are rasterised with poppler and measured in pixels, so that what counts is what a printer is
 * sent. An inch is 25.4 mm exactly (NIST SP 811); at 600 dots to the inch a pixel is 0.042 mm.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import { TILE, tilesOf } from '../../src/draw/templates/template.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { templatesName, templatesPdf } from '../../src/publish/pdf/pdf-templates.ts';
import type { FinishedPlan, Shop } from '../../src/publish/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { handbookTheme, poppler, typstForTests } from '../support/pdf.ts';
import { type Grey, raster } from '../support/raster.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

/** A rack 500 mm or 20 in long with round ends at the top and a hole. Invented. */
const RACK = `rack:
  stock: 1x6
  runs: across
  wide face: front
  length: 20 in | 500 mm
  at: { left: left, bottom: floor, front: front }
  shape:
    - outline:
        - start: { across: left, up: floor }
        - line: { across: left + 20 in | left + 500 mm, up: floor }
        - line: { across: left + 20 in | left + 500 mm, up: 3 in | 80 mm }
        - arc: { across: left, up: 3 in | 80 mm }
          through: { across: left + 10 in | left + 250 mm, up: rack.width }
        - line: { across: left, up: floor }
    - hole: front
      at: { across: left + 4 in | left + 100 mm, up: 2 in | 50 mm }
      diameter: 1 in | 25 mm
`;

const DPI = 600;
const toMm = (pixels: number): number => (pixels * 25.4) / DPI;

/** Lengths of unbroken level dark runs of at least `least` mm, mm; a line of several rows counts once, by its longest. */
function levelRuns(page: Grey, least: number): { length: number; y: number }[] {
  const found: { length: number; y: number }[] = [];
  for (let y = 0; y < page.height; y++) {
    let from = -1;
    for (let x = 0; x <= page.width; x++) {
      const dark = x < page.width && page.dark(x, y);
      if (dark && from < 0) from = x;
      if (dark || from < 0) continue;
      const length = toMm(x - from);
      from = -1;
      if (length < least) continue;
      const last = found[found.length - 1];
      if (last && toMm(y) - last.y < 1 && Math.abs(last.length - length) < 1)
        last.length = Math.max(last.length, length);
      else found.push({ length, y: toMm(y) });
    }
  }
  return found;
}

function made(edition: Edition) {
  const plan = built({ parts: RACK }, edition);
  const drawings = drawPlan(workOf(plan));
  return { plan, drawings, finished: { plan, drawings } as unknown as FinishedPlan };
}

describe('full-size templates', () => {
  it('have the maps of four on the first sheet', async () => {
    const { finished } = made(metric);
    const { drawings } = finished.drawings;
    const [one] = drawings.filter((d) => d.kind === 'template') as [Drawing];
    const four = ['A', 'B', 'C', 'D'].map((letter) => ({
      ...one,
      id: `template-${letter}`,
      title: `Template for part ${letter}, rail`,
      width: 170,
      height: 200,
    }));
    const { value } = templatesPdf({
      finished: { ...finished, drawings: { ...finished.drawings, drawings: four } },
      shop: { name: 'Nettlefield Woodshop' } as Shop,
      theme: handbookTheme(),
      typst: await typstForTests(),
    });
    // A sheet of words, rulers and maps, and one for each template.
    expect(/Pages:\s+(\d+)/.exec(poppler('pdfinfo', value as Uint8Array, []))?.[1]).toBe('5');
  }, 60_000);

  it.each([
    ['metric', metric],
    ['imperial', inch],
  ])(
    'print at 1 : 1 with rulers that are true to 0.2 mm, %s',
    async (_, edition) => {
      const { finished } = made(edition);
      const { value, diagnostics } = templatesPdf({
        finished,
        shop: { name: 'Nettlefield Woodshop' } as Shop,
        theme: handbookTheme(),
        typst: await typstForTests(),
      });
      expect(diagnostics).toEqual([]);
      const pdf = value as Uint8Array;
      const item = finished.drawings.drawings.find((d) => d.kind === 'template');
      const tiles = tilesOf(item?.width ?? 0, item?.height ?? 0);
      expect(Number(/Pages:\s+(\d+)/.exec(poppler('pdfinfo', pdf, []))?.[1])).toBe(
        1 + tiles.columns * tiles.rows,
      );
      const runs = levelRuns(raster(pdf, 2, DPI), 90).map((run) => run.length);
      // A line's ends stand half a line's width (0.125 mm) off its first and last ticks.
      const rulers = [100 + 0.25, 101.6 + 0.25];
      for (const ruler of rulers)
        expect(Math.min(...runs.map((length) => Math.abs(length - ruler))), `${ruler}: ${runs}`).toBeLessThan(
          0.2,
        );
    },
    60_000,
  );

  it('measure what the board does: its outline on paper is the board', () => {
    const { finished } = made(metric);
    const item = finished.drawings.drawings.find((d) => d.kind === 'template');
    const drawn = readSvg(item?.svg ?? '');
    const points = drawn.lines.filter((l) => l.role === 'k-p').flatMap((l) => [l.a, l.b]);
    const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
    const sides = [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)].sort(
      (a, b) => a - b,
    );
    // 500 long; 145 wide at the top of the arc, whose chords lie within a thousandth or two.
    const width = finished.plan.parts[0]?.copies[0]?.size.width as number;
    expect(sides[1]).toBeCloseTo(500, 2);
    expect(Math.abs((sides[0] as number) - width)).toBeLessThan(0.05);
    expect(item?.scale).toBe('1 : 1');
  });

  it('show of a long board only where it is curved, and what is alike once', () => {
    // A rail of 900 x 95 with two hollows alike, 20 deep over 150: R = (75^2 + 20^2) / (2 x 20) = 150.625. With 25 beside it a place is 200 long.
    const rail = `rail:
  stock: 1x4
  runs: across
  wide face: front
  length: 900 mm
  at: { left: left, bottom: floor, front: front }
  shape:
    - arc: top
      rise: 20 mm
      at: { left: left + 150 mm, right: left + 300 mm }
    - arc: top
      rise: 20 mm
      at: { left: left + 600 mm, right: left + 750 mm }
`;
    const drawing = drawPlan(workOf(built({ parts: rail }, metric))).drawings.find(
      (d) => d.kind === 'template',
    );
    const drawn = readSvg(drawing?.svg ?? '');
    expect(drawing?.alt).toContain('1 of 2 places');
    const outline = drawn.lines.filter((l) => l.role === 'k-p').flatMap((l) => [l.a, l.b]);
    const reach = (k: 0 | 1) => Math.max(...outline.map((p) => p[k])) - Math.min(...outline.map((p) => p[k]));
    expect([reach(0), reach(1)].sort((a, b) => a - b)).toEqual([
      expect.closeTo(95, 2),
      expect.closeTo(200, 2),
    ]);
    // Where the board goes on there is a thin line across it, 95 long, on both sides.
    const across = drawn.lines.filter(
      (l) => l.role === 'k-t' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 95) < 0.01,
    );
    expect(across).toHaveLength(2);
    expect([...(drawing?.svg ?? '').matchAll(/A ?150\.62[45]/g)].length).toBe(1);
    expect(tilesOf(drawing?.width ?? 0, drawing?.height ?? 0)).toEqual({ columns: 1, rows: 1 });
  });

  it('are named after the plan, its edition and its paper, and made for curved boards only', () => {
    const { plan } = made(metric);
    expect(templatesName(plan)).toBe(`${plan.slug}-metric-a4-templates.pdf`);
    const straight = built({ parts: RACK.slice(0, RACK.indexOf('  shape:')) }, metric);
    expect(drawPlan(workOf(straight)).drawings.filter((d) => d.kind === 'template')).toEqual([]);
  });

  it('stand clear of the margins of Letter and A4', () => {
    // Left 17.9 and right 12, top 13 and foot 12 mm: ANSI letter 215.9 × 279.4, ISO 216 A4 210 × 297.
    for (const [width, height] of [
      [215.9, 279.4],
      [210, 297],
    ] as const) {
      expect(TILE.width).toBeLessThanOrEqual(width - 17.9 - 12);
      expect(TILE.height + 4 + 20).toBeLessThanOrEqual(height - 13 - 12);
    }
  });
});
