/** Drawings that a plan asks for: how the words are read, what is said of faults, and what comes out. */
import { beforeAll, describe, expect, it } from 'vitest';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { readRequest } from '../../src/instructions/requests.ts';
import type { DrawingRequest } from '../../src/instructions/types.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { overlaps } from './clear.ts';
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
