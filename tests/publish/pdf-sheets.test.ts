/** How matter is shared out over the sheets: two short steps to a sheet, and no row that stands alone. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Drawing } from '../../src/draw/types.ts';
import { planPdf } from '../../src/publish/pdf/pdf.ts';
import type { TypstCompiler } from '../../src/publish/pdf/typst.ts';
import type { FinishedPlan } from '../../src/publish/types.ts';
import { finishedBench, metric, shop } from '../support/finished.ts';
import { standIn } from '../support/frame-drawing.ts';
import { flowText, handbookTheme, pageTexts, typstForTests } from '../support/pdf.ts';
import { imperial } from '../support/sample.ts';

let typst: TypstCompiler;
beforeAll(async () => {
  typst = await typstForTests();
});

function sheets(finished: FinishedPlan): Uint8Array {
  const { value, diagnostics } = planPdf({ finished, shop, theme: handbookTheme(), typst });
  expect(diagnostics).toEqual([]);
  return value as Uint8Array;
}

/** The bench with other drawings of its six steps, its steps with a line of words each. */
function withSteps(drawings: readonly Drawing[], words = 'Do it.'): FinishedPlan {
  const bench = finishedBench(metric);
  return {
    ...bench,
    instructions: {
      ...bench.instructions,
      steps: bench.instructions.steps.map((step) => ({
        ...step,
        blocks: [{ kind: 'paragraph', children: [{ kind: 'text', text: words }] }],
      })),
    },
    drawings: {
      ...bench.drawings,
      drawings: [...bench.drawings.drawings.filter(({ kind }) => kind !== 'step'), ...drawings],
    },
  };
}

const six = [1, 2, 3, 4, 5, 6];
const full = (height: number) => six.map((n) => standIn(`step-${n}`, 'step', 120, height));
const halves = six.map((n) => standIn(`half-step-${n}`, 'step', 100, 60));

/** The drawings of steps on each sheet that has one, `step-1 step-2`. */
const drawnOn = (pdf: Uint8Array): string[] =>
  pageTexts(pdf)
    .map((page) => [...page.matchAll(/drawing ((?:half-)?step-\d)/g)].map((match) => match[1]).join(' '))
    .filter((found) => found !== '');

describe('the steps', () => {
  it('share a sheet by twos where both fit', () => {
    expect(drawnOn(sheets(withSteps(full(60))))).toEqual(['step-1 step-2', 'step-3 step-4', 'step-5 step-6']);
  });

  it('have a sheet each where they are tall', () => {
    expect(drawnOn(sheets(withSteps(full(136))))).toEqual(six.map((n) => `step-${n}`));
  });

  it('share a sheet with their smaller drawings where only these make the room', () => {
    expect(drawnOn(sheets(withSteps([...full(100), ...halves])))).toEqual([
      'half-step-1 half-step-2',
      'half-step-3 half-step-4',
      'half-step-5 half-step-6',
    ]);
  });

  it('keep their large drawings where their words need the sheet', () => {
    const long = 'Many words that fill a line after the other and leave no room for a second step. '.repeat(
      20,
    );
    expect(drawnOn(sheets(withSteps([...full(100), ...halves], long)))).toEqual(six.map((n) => `step-${n}`));
  });
});

describe('sheets of parts', () => {
  /** The drawings of parts on each sheet that has one. */
  const partsOn = (drawings: readonly Drawing[]): string[] => {
    const bench = finishedBench(metric);
    const others = bench.drawings.drawings.filter(({ kind }) => kind !== 'part');
    const pdf = sheets({ ...bench, drawings: { ...bench.drawings, drawings: [...others, ...drawings] } });
    return pageTexts(pdf)
      .map((page) => [...page.matchAll(/drawing ((?:half-)?part-\w)/g)].map((match) => match[1]).join(' '))
      .filter((found) => found !== '');
  };
  const part = (letter: string, height: number) => standIn(`part-${letter}`, 'part', 120, height);
  const half = (letter: string, height: number) => standIn(`half-part-${letter}`, 'part', 120, height);

  it('take the smaller drawing only where it makes the room for two, and never run over', () => {
    // A sheet has 240 mm; a title takes some 7 of them, and 7 lie between two parts.
    expect(partsOn([part('A', 100), part('B', 100)])).toEqual(['part-A part-B']);
    expect(partsOn([part('A', 130), half('A', 80), part('B', 130), half('B', 80)])).toEqual([
      'part-A half-part-B',
    ]);
    expect(partsOn([part('A', 160), half('A', 80), part('B', 150), half('B', 90)])).toEqual([
      'half-part-A half-part-B',
    ]);
    expect(partsOn([part('A', 160), half('A', 80), part('B', 180)])).toEqual(['part-A', 'part-B']);
    expect(partsOn([part('A', 160), half('A', 80)])).toEqual(['part-A']);
  });
});

describe('the cut list', () => {
  it('says how many pieces there are above its rows, where the line is never alone on a sheet', () => {
    const text = flowText(sheets(finishedBench(imperial)));
    expect(text.indexOf(' pieces, ')).toBeGreaterThan(text.indexOf('Cut list'));
    expect(text.search(/\d+ pieces, [\d.]+ board feet/)).toBeLessThan(text.indexOf('Front leg 2'));
  });
});
