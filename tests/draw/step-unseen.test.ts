/**
 * New boards that can't be seen behind what stands. A closed box of 18 × 145 boards, mm: front and back the whole width, between them two
 * ends, and between these a floor and a lid; a cleat of 300 × 95 × 18 goes inside.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { diagnosticText } from '../../src/diagnostics.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { metric, planText, shop, sourceOf } from '../resolve/shop.ts';
import { overlaps } from './clear.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const BOX = ['wall', 'rear', 'end', 'base', 'lid'];
const PARTS = `wall: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front } }
end: { stock: 18x145, runs: deep, wide face: left, length: 145 mm, at: { left: left, bottom: floor, front: wall.back }, copies: mirrored left-right }
rear: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: end.back } }
base: { stock: 18x145, runs: across, wide face: top, between: end, at: { bottom: floor, front: wall.back } }
lid: { stock: 18x145, runs: across, wide face: top, between: end, at: { top: end.top, front: wall.back } }
cleat: { stock: 18x95, runs: across, wide face: front, length: 300 mm, at: { left: left + 350 mm, bottom: base.top, front: wall.back + 60 mm } }`;

/** The drawing of the step that adds the cleat to some of the box. */
function stepWith(standing: readonly string[]): Drawing {
  const late = BOX.filter((key) => !standing.includes(key));
  const text = planText({
    parts: PARTS,
    steps: `## Steps\n\n### Build\n\n\`\`\`step\nadds: [${standing.join(', ')}]\n\`\`\`\n\n### Set in\n\n\`\`\`step\nadds: [cleat]\nfrom: front right above\n\`\`\`\n${
      late.length === 0 ? '' : `\n### Shut\n\n\`\`\`step\nadds: [${late.join(', ')}]\n\`\`\`\n`
    }`,
  });
  const { value, diagnostics } = buildPlan(sourceOf(text), metric, shop);
  if (!value) throw new Error(diagnostics.map(diagnosticText).join('\n'));
  return drawPlan(workOf(value)).drawings.find(({ id }) => id === 'step-2') as Drawing;
}

const dashes = ({ svg }: Drawing): number[] =>
  readSvg(svg)
    .lines.filter(({ role }) => role === 'k-h')
    .map(({ a, b }) => Math.hypot(a[0] - b[0], a[1] - b[1]))
    .sort((one, other) => other - one);

describe('a new board inside a closed box', () => {
  let drawing: Drawing;
  beforeAll(() => {
    drawing = stepWith(BOX);
  });

  it('is drawn where it is, in dashed lines: the nine edges that a box shows in an isometric picture', () => {
    const lengths = dashes(drawing);
    expect(lengths).toHaveLength(9);
    // Isometric: all three directions are shortened alike (ISO 5456-3), so that 300, 95 and 18 keep their ratios.
    const ratio = (lengths[0] as number) / 300;
    const expected = [300, 300, 300, 95, 95, 95, 18, 18, 18];
    lengths.forEach((length, i) => {
      expect(length).toBeCloseTo((expected[i] as number) * ratio, 1);
    });
  });

  it('has its balloon, its words for those who can’t see it, and nothing over anything', () => {
    const drawn = readSvg(drawing.svg);
    const letter = /in dashed lines: ([A-Z])\./.exec(drawing.alt)?.[1];
    expect(letter).toBeDefined();
    expect(drawn.texts.map(({ text }) => text)).toContain(letter);
    expect(overlaps(drawn)).toEqual([]);
  });
});

describe('a new board that can be moved out of an open box', () => {
  it('is drawn moved out, and nothing is dashed', () => {
    const drawing = stepWith(BOX.filter((key) => key !== 'lid'));
    expect(dashes(drawing)).toEqual([]);
    expect(drawing.alt).not.toContain('dashed');
  });
});
