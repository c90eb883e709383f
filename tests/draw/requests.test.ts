/** Drawings that a plan asks for: how the words are read, what is said of faults, and what comes out. */
import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { readRequest } from '../../src/instructions/requests.ts';
import type { DrawingRequest } from '../../src/instructions/types.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { dimensionLines, overlaps } from './clear.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const PARTS = `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 20 in | 500 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
rail:
  stock: 1x4
  runs: across
  wide face: front
  between: post
  at: { top: 10 in | 250 mm, front: post.front }
`;
const plan = built({ parts: PARTS }, metric);
const origin = { file: 'plan.md', line: 30, column: 1 };
const read = (attributes: Record<string, string>, of = plan) =>
  readRequest({ id: 'request-1', caption: 'A drawing', attributes, origin }, of);
const drawn = (request: DrawingRequest, of = plan): Drawing => {
  const work = workOf(of);
  const set = drawPlan({ ...work, instructions: { ...work.instructions, requests: [request] } });
  return set.drawings.find((d) => d.kind === 'request') as Drawing;
};

describe('drawings asked for', () => {
  it('leave out what is hidden', () => {
    const { value, diagnostics } = read({ hide: 'rail' });
    expect(diagnostics).toEqual([]);
    expect(value.show).toEqual(['post']);
  });

  it('are cut where a formula says, cut faces hatched at 45 degrees and boards told apart by direction', () => {
    // 10 mm from the front both the posts (45 thick in this list or less) and the rail (18) are cut.
    const { value, diagnostics } = read({ from: 'front', section: 'at post.front + 10 mm' });
    expect(diagnostics).toEqual([]);
    expect(value.section?.at).toBeCloseTo(10, 9);
    const { svg, alt } = drawn(value);
    const hatch = readSvg(svg).lines.filter((l) => l.role === 'k-hat');
    expect(hatch.length).toBeGreaterThan(20);
    const slopes = new Set(hatch.map((l) => Math.round((l.b[1] - l.a[1]) / (l.b[0] - l.a[0]))));
    // ISO 128-3: neighbouring parts are hatched in different directions or spacings.
    expect([...slopes].sort()).toEqual([-1, 1]);
    expect(hatch.every((l) => l.width === 0.18)).toBe(true);
    expect(alt).toContain('cut at 10 mm');
    expect(overlaps(readSvg(svg))).toEqual([]);
  });

  it('enlarge where two parts meet', () => {
    const { value, diagnostics } = read({ from: 'front', detail: 'post, rail' });
    expect(diagnostics).toEqual([]);
    const whole = drawn(read({ from: 'front' }).value);
    const detail = drawn(value);
    const ratio = (scale: string) => 1 / Number(scale.split(':')[1]);
    expect(ratio(detail.scale)).toBeGreaterThan(ratio(whole.scale));
    expect(detail.alt).toContain('enlarged where post and rail meet');
  });

  describe('from any direction', () => {
    // Four posts 500 high at the corners of 1000 × 500 mm.
    const four = built(
      { parts: PARTS.replace('mirrored left-right', 'mirrored left-right and front-back') },
      metric,
    );
    const v = (degrees: number): number => (degrees * Math.PI) / 180;

    it.each([
      [20, 'left', 30, 'above'],
      [60, 'right', 20, 'above'],
      [35, 'right', 25, 'below'],
    ] as const)(
      'carry sizes over all, each along its axis and shortened with it: %s %s %s %s',
      (turn, side, raise, height) => {
        const { value } = read(
          { from: `front ${turn} deg ${side} ${raise} deg ${height}`, sizes: 'all' },
          four,
        );
        const svg = readSvg(drawn(value, four).svg);
        const lines = dimensionLines(svg);
        // A direction of sight d shortens an axis e by √(1 - (d·e)²): plain geometry of a parallel projection (ISO 5456-3 for the named ones).
        const factor = {
          across: Math.sqrt(1 - (Math.sin(v(turn)) * Math.cos(v(raise))) ** 2),
          deep: Math.sqrt(1 - (Math.cos(v(turn)) * Math.cos(v(raise))) ** 2),
          up: Math.cos(v(raise)),
        };
        // Their lines rise by atan2(sin turn · sin raise, cos turn), the other way for depths; heights stand upright.
        const slope = {
          across: Math.atan2(Math.sin(v(turn)) * Math.sin(v(raise)), Math.cos(v(turn))),
          deep: Math.atan2(Math.cos(v(turn)) * Math.sin(v(raise)), Math.sin(v(turn))),
          up: Math.PI / 2,
        };
        const found = (['across', 'deep', 'up'] as const).map((axis) => {
          const own = lines.filter(({ a, b }) => {
            const angle = Math.abs(Math.atan2(b[1] - a[1], b[0] - a[0]));
            return Math.abs(Math.min(angle, Math.PI - angle) - slope[axis]) < 1e-3;
          });
          expect(own.length, axis).toBe(1);
          const { a, b } = own[0] as (typeof lines)[number];
          return (
            Math.hypot(a[0] - b[0], a[1] - b[1]) / ({ across: 1000, deep: 500, up: 500 }[axis] * factor[axis])
          );
        });
        // All three are drawn at one scale.
        const [first] = [...found].sort((a, b) => a - b) as [number];
        for (const scale of found) expect(scale / first).toBeCloseTo(1, 2);
        expect(overlaps(svg)).toEqual([]);
        expect(svg.texts.map(({ text }) => text.trim()).sort()).toEqual(['1000', '500', '500']);
      },
    );

    it('leave out a size whose axis looks like another', () => {
      const texts = (from: string): string[] =>
        readSvg(drawn(read({ from }, four).value, four).svg)
          .texts.map(({ text }) => text.trim())
          .sort();
      // Straight on and from above depths stand upright like heights, shortened to a half (sin 30) where those are to 0.87 (cos 30).
      expect(texts('front 0 deg left 30 deg above')).toEqual(['1000', '500']);
      // Level with it widths and depths lie in one line; widths are shortened to 0.87, depths to a half.
      expect(texts('front 30 deg left 0 deg above')).toEqual(['1000', '500']);
      expect(texts('front 20 deg left 30 deg above')).toEqual(['1000', '500', '500']);
      expect(read({ from: 'front 20 deg left 30 deg above', sizes: 'none' }, four).value.sizes).toBe('none');
    });
  });

  it('are taken apart with a balloon for each kind of board', () => {
    const other = built({ parts: PARTS }, inch);
    const { value, diagnostics } = read({ from: 'front right above', apart: 'yes' }, other);
    expect(diagnostics).toEqual([]);
    const { svg } = drawn(value, other);
    const rows = workOf(other).cutList.rows.length;
    expect(readSvg(svg).circles.filter((c) => Math.abs(c.radius - 4.2) < 1e-9).length).toBe(rows);
  });

  const faults: readonly [Record<string, string>, string][] = [
    [{ hide: 'post, rail' }, 'hides all that is shown'],
    [{ hide: 'pots' }, 'did you mean post?'],
    [{ from: 'front', section: 'post.front' }, 'section="at …"'],
    [{ from: 'front right above', section: 'at 10 mm' }, 'a straight view with a section'],
    [{ from: 'front', section: 'at 10 m' }, 'inside the piece'],
    [{ from: 'front', section: 'at 100 mm' }, 'cuts some of the parts shown'],
    [{ from: 'front', section: 'at 3' }, 'a length inside the piece'],
    [{ from: 'front', apart: 'yes' }, 'a viewpoint with apart'],
    [{ detail: 'drawer' }, 'in detail="…"'],
    [{ sections: 'at 10 mm' }, 'did you mean section'],
  ];
  for (const [attributes, message] of faults)
    it(`say what is wrong with ${JSON.stringify(attributes)}`, () => {
      const { diagnostics } = read(attributes);
      expect(diagnostics.length).toBe(1);
      expect(`${diagnostics[0]?.message} ${diagnostics[0]?.hint}`).toContain(message);
      expect(diagnostics[0]?.origin).toEqual(origin);
    });
});
