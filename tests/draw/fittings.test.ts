/**
 * Hardware in drawings: which it is in, the sizes that it is marked out by, and the line that a hinge turns about. Places are worked by hand in
 * the comments; mm, boards of the metric test list, the outline of 1000 × 500 × 750.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { diagnosticText } from '../../src/diagnostics.ts';
import { Desk } from '../../src/draw/desk.ts';
import { type DrawInput, drawPlan, loadSvg } from '../../src/draw/index.ts';
import { deskFor } from '../../src/draw/shading/turned.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { readRequest } from '../../src/instructions/requests.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Plan, Vec3 } from '../../src/model/types.ts';
import { hardware, metric, planText, shop, sourceOf } from '../resolve/shop.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const hinge = { length: 50, width: 38, thickness: 1.5, knuckle: 5 };
const planOf = (outlined: boolean): Plan => {
  const items = [
    hardware('hinge', { name: 'Butt hinge, brass', kind: 'hinge', ...(outlined ? { outline: hinge } : {}) }),
    hardware('knob', { name: 'Knob' }),
  ];
  const text = planText({
    parts: `strip: { stock: 18x145, runs: across, wide face: top, at: { left: left, right: right, back: back, top: top } }
lid: { stock: 18x145, runs: across, wide face: top, at: { left: left, right: right, back: strip.front - 2 mm, top: top } }`,
    hardware:
      '- { item: hinge, count: 3, on: lid.back, set back: 150 mm }\n- { item: knob, count: 1, on: lid.front }',
    steps:
      '## Steps\n\n### Lay\n\n```step\nadds: [strip]\n```\n\n### Hang\n\n```step\nadds: [lid]\nfrom: front left above\n```\n\n### Try\n\n```step\nadds: []\n```\n',
  });
  const { value, diagnostics } = buildPlan(sourceOf(text), metric, { ...shop, hardware: items });
  if (!value) throw new Error(diagnostics.map(diagnosticText).join('\n'));
  return value;
};

/** What is drawn, the hinges listed in the second step. */
function workWith(plan: Plan): DrawInput {
  const work = workOf(plan);
  const steps = work.instructions.steps.map((step) => ({
    ...step,
    hardware: step.index === 2 ? plan.hardware : [],
  }));
  return { ...work, instructions: { ...work.instructions, steps } };
}

const [plan, bare] = [planOf(true), planOf(false)];
const work = workWith(plan);
let drawn: readonly Drawing[];
let without: readonly Drawing[];
beforeAll(() => {
  drawn = drawPlan(work).drawings;
  without = drawPlan(workWith(bare)).drawings;
});
const of = (list: readonly Drawing[], id: string): Drawing => list.find((one) => one.id === id)!;
const textsOf = ({ svg }: Drawing): string =>
  readSvg(svg)
    .texts.map(({ text }) => text)
    .join(' | ');

describe('hinges in the step that lists them', () => {
  it('are named, and measured from the end and from one to the next', () => {
    const said = textsOf(of(drawn, 'step-2'));
    expect(said).toContain('3 × butt hinge');
    // 150 from the ends of 1000; two spaces of 350 between.
    expect(said).toContain('150');
    expect(said).toMatch(/2 × 350 = 700/);
    expect(of(drawn, 'step-2').alt).toContain('Fixed: 3 × butt hinge. ');
  });

  it('are in no step before it', () => {
    expect(of(drawn, 'step-1').svg).toBe(of(without, 'step-1').svg);
  });
});

describe('the other drawings', () => {
  it('show hinges too, and sizes over all stay those of the boards', () => {
    for (const id of ['pictorial', 'views', 'exploded', 'plate']) {
      expect(of(drawn, id).svg, id).not.toBe(of(without, id).svg);
      expect(of(drawn, id).alt, id).toBe(of(without, id).alt);
    }
    expect(textsOf(of(drawn, 'views'))).toBe(textsOf(of(without, 'views')));
  });

  it('of the page that sells the plan carry neither their sizes nor their names', () => {
    const samples = drawPlan({ ...work, page: 'samples', pageOnly: true }).drawings;
    expect(samples.some(({ id }) => id === 'sample-2')).toBe(true);
    for (const sample of samples) {
      expect(textsOf(sample)).not.toMatch(/hinge|350|150/);
      expect(sample.alt).not.toMatch(/hinge|knob/);
    }
  });

  it('change nothing where an item has no outline', () => {
    const none = { ...bare, hardware: [] };
    const plain = drawPlan({ ...workOf(none), instructions: workWith(bare).instructions }).drawings;
    for (const one of plain) expect(of(without, one.id).svg, one.id).toBe(one.svg);
  });
});

describe('a lid opened about its hinge', () => {
  const origin = { file: 'plan.md', line: 30, column: 1 };
  const read = (about: string) =>
    readRequest({ id: 'r', caption: 'Open', attributes: { open: 'lid', about, by: '90 deg' }, origin }, plan);
  const tidy = (v: Vec3) => v.map((x) => Number(x.toFixed(6)) + 0);

  it('turns about the middle of the knuckle, and takes its leaves along', () => {
    const { value, diagnostics } = read('hinge');
    expect(diagnostics).toEqual([]);
    // The strip begins at 500 − 145 = 355, the gap's middle is 354; the knuckle of 5 lies on the top, 750.
    expect(value.open).toMatchObject({ axis: 0, point: [expect.anything(), 354, 752.5] });
    const desk = deskFor(new Desk(work), value);
    // A point (y, z) from the pin comes to (z, −y): the lid's back, from 353, top 750 and underside 732, so to 354 − 2.5 and 354 − 20.5.
    const lid = desk.parts.get('lid.1')!.bounds;
    expect([lid.min[1], lid.max[1]].map((v) => Number(v.toFixed(6)))).toEqual([333.5, 351.5]);
    // Upwards from 1 above the pin by 145.
    expect([lid.min[2], lid.max[2]].map((v) => Number(v.toFixed(6)))).toEqual([753.5, 898.5]);
    const [leaf, other, pin] = desk.fittings;
    // The leaf on the lid's edge, 1 thick, lies under it now; what is on the strip stays.
    expect(tidy(leaf!.bounds.max)[2]).toBe(753.5);
    expect(tidy(leaf!.bounds.min)[2]).toBe(752.5);
    const closed = new Desk(work).fittings;
    expect(other!.bounds).toEqual(closed[1]!.bounds);
    expect(pin!.bounds).toEqual(closed[2]!.bounds);
  });

  it('needs a hinge that is drawn', () => {
    for (const about of ['knob', 'hinges']) {
      const { value, diagnostics } = read(about);
      expect(value.open).toBeUndefined();
      expect(diagnostics.map(({ id }) => id)).toEqual(['drawing.about']);
      expect(diagnostics[0]?.message).toContain(
        about === 'knob' ? 'a hinge that is on a part' : 'two faces that meet',
      );
    }
  });
});
