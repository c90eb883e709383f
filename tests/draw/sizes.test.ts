/** The sizes that drawings carry: which they are, that they are true at the stated scale, and that the rules for chains hold. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Composed, Desk } from '../../src/draw/desk.ts';
import { type DrawInput, drawPlan, loadSvg } from '../../src/draw/index.ts';
import { viewScales } from '../../src/draw/paper/scale.ts';
import { composeStep } from '../../src/draw/steps/step.ts';
import { type StepScene, stepScenes } from '../../src/draw/steps/step-scenes.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { type PrincipalSize, principalSizes } from '../../src/draw/views/principal.ts';
import type { Plan } from '../../src/model/types.ts';
import { INCH } from '../../src/units.ts';
import { samplePlan } from '../support/sample.ts';
import { dimensionLines } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { benchPlan, metricBench, nestBox, pottingBench } from './plans.ts';
import { type DrawnLine, type DrawnText, readSvg, type Xy } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const sizesOf = (plan: Plan): readonly PrincipalSize[] => {
  const desk = new Desk(workOf(plan));
  return principalSizes(
    plan,
    new Map([...desk.parts].map(([copy, part]) => [copy, part.bounds])),
    desk.bounds(desk.all),
  );
};

/** `34 3/4″` or `886` as a number of millimetres; of equal spaces, `3 × 8″ = 24″` or `3 equal = 42 13/16″`, of all together. */
function lengthFrom(text: string): number {
  const [spaces, sum] = text.split(' = ');
  if (sum !== undefined) {
    const [times, each] = (spaces as string).split(' × ');
    // What is said to be a product is one.
    if (each !== undefined) expect(Number(times) * lengthFrom(each)).toBeCloseTo(lengthFrom(sum), 6);
    return lengthFrom(sum);
  }
  const inch = /^(?:(\d+)(?=[ ″]) ?)?(?:(\d+)\/(\d+))?″$/.exec(text);
  return inch ? (Number(inch[1] ?? 0) + Number(inch[2] ?? 0) / Number(inch[3] ?? 1)) * INCH : Number(text);
}

const middle = (text: DrawnText): Xy =>
  text.corners.reduce<Xy>((sum, c) => [sum[0] + c[0] / 4, sum[1] + c[1] / 4], [0, 0]);

const distance = (p: Xy, { a, b }: DrawnLine): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
};

interface Measured {
  readonly text: string;
  readonly paper: number;
  readonly level: boolean;
  /** Places of its ends along its direction, and of its line across it. */
  readonly from: number;
  readonly to: number;
  readonly off: number;
}

/** Each dimension of a drawing, measured between its strokes. */
function measured(drawing: Drawing): Measured[] {
  const drawn = readSvg(drawing.svg);
  const strokes = drawn.lines
    .filter((l) => l.role === 'k-v' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 3) < 0.02)
    .map((l): Xy => [(l.a[0] + l.b[0]) / 2, (l.a[1] + l.b[1]) / 2]);
  return dimensionLines(drawn).map((l) => {
    const on = strokes.filter((s) => distance(s, l) < 0.02);
    const level = Math.abs(l.a[1] - l.b[1]) < 0.01;
    const along = on.map((s) => (level ? s[0] : s[1])).sort((a, b) => a - b);
    const text = [...drawn.texts].sort(
      (p, q) => distance(middle(p), l) - distance(middle(q), l),
    )[0] as DrawnText;
    const [from, to] = [along[0] as number, along[along.length - 1] as number];
    return { text: text.text, paper: to - from, level, from, to, off: level ? l.a[1] : l.a[0] };
  });
}

describe('principal sizes', () => {
  it('of the sample bench are those worked by hand', () => {
    // Legs at x 0–3.5 and 36.5–40 in: clear 33; at y 0–1.5 and 13–14.5: clear 11.5. Over all 40 × 14.5 × 18, and no overhang.
    const told = sizesOf(samplePlan).map((s) => [
      s.axis,
      s.kind,
      Math.round(((s.to - s.from) / INCH) * 100) / 100,
    ]);
    expect(told).toEqual([
      [0, 'overall', 40],
      [1, 'overall', 14.5],
      [2, 'overall', 18],
      [0, 'clear', 33],
      [1, 'clear', 11.5],
    ]);
  });

  it('of the potting bench name worktop, shelf, overhang and clear width', () => {
    // 48 wide, legs 3.5 wide set back 1: clear 48 − 2 × (1 + 3.5) = 39. Top 22 − 1.5 (back leg) = 20.5 deep.
    const told = sizesOf(benchPlan(pottingBench)).map((s) => [s.axis, s.kind, (s.to - s.from) / INCH]);
    for (const expected of [
      [2, 'level', 36],
      [2, 'level', 9.75],
      [0, 'clear', 39],
      [0, 'overhang', 1],
      [1, 'depth', 20.5],
    ])
      expect(
        told.some(
          ([axis, kind, size]) =>
            axis === expected[0] &&
            kind === expected[1] &&
            Math.abs((size as number) - (expected[2] as number)) < 1e-6,
        ),
        `${expected}`,
      ).toBe(true);
  });

  it('close no chain and repeat no size along an axis', () => {
    for (const plan of [
      samplePlan,
      benchPlan(pottingBench),
      benchPlan(metricBench),
      nestBox(pottingBench.edition),
    ]) {
      const sizes = sizesOf(plan);
      for (const axis of [0, 1, 2]) {
        const own = sizes.filter((s) => s.axis === axis);
        // A set of sizes without a closed chain is a forest: as many groups of places as places less sizes.
        const places = [...new Set(own.flatMap((s) => [s.from.toFixed(1), s.to.toFixed(1)]))];
        const group = new Map(places.map((p) => [p, p]));
        for (const s of own) {
          const [a, b] = [group.get(s.from.toFixed(1)), group.get(s.to.toFixed(1))];
          for (const [p, g] of group) if (g === b) group.set(p, a as string);
        }
        expect(new Set(group.values()).size).toBe(places.length - own.length);
        const printed = own.map((s) => (s.to - s.from).toFixed(1));
        expect(new Set(printed).size).toBe(printed.length);
      }
    }
  });
});

describe('dimensions on the sheet', () => {
  it('are what the sheet measures at its stated scale', async () => {
    const works = [
      ...(await demoWorks(repository)).map((w) => w.work),
      workOf(samplePlan),
      workOf(benchPlan(pottingBench)),
      workOf(benchPlan(metricBench)),
    ];
    let count = 0;
    for (const work of works) {
      const set = drawPlan(work);
      for (const drawing of [...set.drawings, ...set.narrow].filter((d) => d.kind === 'views')) {
        const scale = viewScales(work.plan.edition.numbers).find((s) => s.label === drawing.scale);
        const found = measured(drawing);
        expect(found.length).toBeGreaterThanOrEqual(3);
        for (const { text, paper } of found) {
          // Numbers are printed to 1/16 in or 1 mm and drawn to 0.001 mm of paper.
          const half = work.plan.edition.numbers.system === 'inch' ? INCH / 32 : 0.5;
          const of = paper / (scale?.ratio as number);
          expect(Math.abs(lengthFrom(text) - of), `${text} measures ${of}`).toBeLessThanOrEqual(
            half + 0.003 / (scale?.ratio as number),
          );
          count++;
        }
      }
    }
    expect(count).toBeGreaterThan(50);
  }, 240_000);

  it('stand 8 mm off the outline, the next at least 7.5, the longer outside the shorter', () => {
    const set = drawPlan(workOf(benchPlan(pottingBench)));
    const views = set.drawings.find((d) => d.kind === 'views') as Drawing;
    const bottom = measured(views).filter((d) => d.level && ['39″', '48″', '1″'].includes(d.text));
    const widths = new Map(bottom.map((d) => [d.text, d]));
    expect((widths.get('48″') as Measured).off - (widths.get('39″') as Measured).off).toBeGreaterThanOrEqual(
      7.5,
    );
    const floor = readSvg(views.svg).lines.filter(
      (l) =>
        l.role === 'k-v' && Math.abs(l.a[1] - l.b[1]) < 0.001 && l.a[1] < (widths.get('39″') as Measured).off,
    );
    const lowest = Math.max(...floor.map((l) => l.a[1]));
    expect((widths.get('39″') as Measured).off - lowest).toBeCloseTo(8, 1);
  });

  it('are all there: over all three ways on every set of views', () => {
    for (const plan of [samplePlan, benchPlan(metricBench), nestBox(pottingBench.edition)]) {
      const desk = new Desk(workOf(plan));
      const { min, max } = desk.bounds(desk.all);
      const set = drawPlan(workOf(plan));
      for (const list of [set.drawings, set.narrow]) {
        const texts = measured(list.find((d) => d.kind === 'views') as Drawing).map((d) => d.text);
        for (const i of [0, 1, 2]) {
          const words = desk.words((max[i] as number) - (min[i] as number)).replace(' mm', '');
          expect(texts).toContain(words);
        }
      }
    }
  });
});

describe('steps', () => {
  it('show what stands and what is added', () => {
    const plan = benchPlan(pottingBench);
    const scenes = stepScenes(new Desk(workOf(plan)));
    const told = scenes.map((s) => [s.standing.length, s.added.length]);
    // 2 legs, 2 back legs, 4 end rails in the frames; 4 long rails; courses of 5.5 + 0.25 in: shelf over 18 in 4, top over 20.5 in 4;
    // then 2 back boards and the pot shelf.
    expect(told).toEqual([
      [0, 8],
      [8, 4],
      [12, 4],
      [16, 4],
      [20, 3],
    ]);
  });

  it('carry a balloon for each letter with its count', () => {
    const work = workOf(benchPlan(pottingBench));
    const set = drawPlan(work);
    for (const step of work.instructions.steps) {
      const drawing = set.drawings.find((d) => d.id === `step-${step.index}`) as Drawing;
      const { texts, circles } = readSvg(drawing.svg);
      const balloons = circles.filter((c) => c.role === 'k-t');
      expect(balloons.every((c) => Math.abs(c.radius - 4.2) < 1e-9)).toBe(true);
      const lettered = balloons.map(
        (c) =>
          texts.find((t) => Math.hypot(middle(t)[0] - c.centre[0], middle(t)[1] - c.centre[1]) < 1)?.text,
      );
      expect(lettered.sort()).toEqual(step.parts.map((p) => p.letter).sort());
      const counts = texts.map((t) => t.text).filter((t) => t.startsWith('×'));
      expect(counts.sort()).toEqual(
        step.parts
          .filter((p) => p.quantity > 1)
          .map((p) => `× ${p.quantity}`)
          .sort(),
      );
    }
  });
});

describe('a board that leans or slopes', () => {
  it('has no size in its step but its length: how far it reaches would be taken for that', async () => {
    const works = await demoWorks(repository, ['nest-box', 'step-stool']);
    expect(works).toHaveLength(4);
    const said = (name: string, step: number): readonly string[] => {
      const work = works.find((one) => one.name === name)?.work;
      const [scene] = stepScenes(new Desk(work as DrawInput)).filter((one) => one.step.index === step);
      const desk = new Desk(work as DrawInput);
      const drawn = desk.finish(composeStep(desk, scene as StepScene, 'sheet') as Composed, 'sheet');
      return [...readSvg(drawn.svg).texts.map(({ text }) => text.trim()), drawn.alt];
    };
    // The nest box’s roof is 7 3/4 in or 200 mm long and slopes by 10°: it reaches 7.63 in or 197 mm. The legs of the stool are 9 1/2 in
    // long and stand 9 in high (their plan).
    expect(said('nest-box-imperial', 4).join(' ')).not.toContain('7 5/8');
    expect(said('nest-box-imperial', 4).at(-1)).toContain('The longest is 7 3/4″ long.');
    expect(said('nest-box-metric', 4)).not.toContain('197');
    expect(said('step-stool-imperial', 1)).not.toContain('9″');
    expect(said('step-stool-imperial', 1).at(-1)).toContain('The longest is 9 1/2″ long.');
    // A rail that leans about its own length is as long as it reaches.
    expect(said('step-stool-imperial', 3).join(' ')).toContain('13 5/8″');
  }, 60_000);
});

describe('the cover', () => {
  it('leaves a title of two lines its room on Letter', () => {
    // Letter has 222.4 mm between its margins; two lines of the title, the summary and the bench line take 85 or so of them.
    const plan = benchPlan(pottingBench);
    const high = (title: string): number =>
      drawPlan(workOf({ ...plan, front: { ...plan.front, title } })).drawings.find(
        ({ id }) => id === 'pictorial',
      )?.height ?? 0;
    expect(high('Potting bench')).toBeGreaterThan(140);
    expect(high('Potting bench with a boarded back')).toBeLessThanOrEqual(132.2);
  });
});

describe('details of steps', () => {
  it('show pockets three times as large, and no bored hole', async () => {
    const works = await demoWorks(repository, ['nest-box', 'potting-bench']);
    const detailed = (slug: string): string[] => {
      const { work } = works.find(({ name }) => name === `${slug}-imperial`)!;
      return drawPlan(work)
        .drawings.filter(({ id, svg }) => id.startsWith('step-') && svg.includes('times as large'))
        .map(({ id }) => id);
    };
    // The frames of the bench are joined with pocket screws; the floor of the box has four drain holes and no pocket.
    expect(detailed('potting-bench')).toContain('step-1');
    expect(detailed('nest-box')).toEqual([]);
  }, 60_000);
});

describe('drawings asked for', () => {
  const origin = { file: 'content/plans/sample/plan.md', line: 1, column: 1 };
  const base = workOf(samplePlan);
  const asked = drawPlan.bind(null, {
    ...base,
    instructions: {
      ...base.instructions,
      requests: [
        {
          id: 'request-1',
          caption: 'The legs from the side',
          from: 'right',
          show: ['leg'],
          sizes: 'overall',
          origin,
        },
        {
          id: 'request-2',
          caption: 'The frame',
          from: { depth: 'back', side: 'left', height: 'above' },
          show: ['leg', 'apron'],
          sizes: 'overall',
          origin,
        },
        { id: 'request-3', caption: 'Nothing', from: 'front', show: ['no-such-part'], sizes: 'none', origin },
      ],
    },
  });

  it('show the parts named, with their sizes over all, and nothing where nothing is named', () => {
    const { drawings, narrow } = asked();
    expect(drawings.filter((d) => d.kind === 'request').map((d) => d.id)).toEqual(['request-1', 'request-2']);
    expect(narrow.filter((d) => d.kind === 'request').length).toBe(2);
    const [legs, frame] = drawings.filter((d) => d.kind === 'request') as [Drawing, Drawing];
    // Seen from the right the legs are 14 1/2 in deep over all and 17 1/4 in high.
    expect(
      measured(legs)
        .map((d) => d.text)
        .sort(),
    ).toEqual(['14 1/2″', '17 1/4″']);
    expect(legs.alt).toContain('14 1/2″ deep');
    const texts = readSvg(frame.svg).texts.map((t) => t.text);
    expect(frame.scale).toBe('not to scale');
    expect(texts).toContain('40″');
  });
});
