/** What an author may write: any words print as they are, and nothing an author writes is run or stops the program. */

import { beforeAll, describe, expect, it } from 'vitest';
import type { Block } from '../../src/instructions/types.ts';
import { planPdf } from '../../src/publish/pdf/pdf.ts';
import type { TypstCompiler } from '../../src/publish/pdf/typst.ts';
import type { FinishedPlan, Theme } from '../../src/publish/types.ts';
import { text } from '../../src/text.ts';
import { finishedBench, shop } from '../support/finished.ts';
import { standIn } from '../support/frame-drawing.ts';
import { flowText, handbookTheme, pageTexts, typstForTests } from '../support/pdf.ts';
import { fc } from '../support/random.ts';
import { imperial } from '../support/sample.ts';

let typst: TypstCompiler;
let theme: Theme;

beforeAll(async () => {
  typst = await typstForTests();
  theme = handbookTheme();
});

const plain = (value: string): Block => ({ kind: 'paragraph', children: [text(value)] });

/** The bench with one section of the given prose instead of its own. */
function withProse(blocks: readonly Block[], more: Partial<FinishedPlan> = {}): FinishedPlan {
  const bench = finishedBench(imperial);
  return {
    ...bench,
    instructions: { ...bench.instructions, sections: [{ title: 'Words', blocks }] },
    ...more,
  };
}

const publish = (finished: FinishedPlan) => planPdf({ finished, shop, theme, typst });

describe('what the author wrote', () => {
  // Each of these means something to the compiler when it stands in its own source (Typst reference, "Syntax").
  const marks = [
    '#panic("no") #let x = 1 #read("plan.json")',
    'at @ref and <label> and $x^2$ and `code` and \\ and \\u{41}',
    '*bold* _slanted_ ~ -- --- ... // no comment /* nor this */',
    '= heading',
    '- item + item / term: text',
    '[content] {code} "straight" \'single\' 50% & | ^ ; :)',
    'https://example.com/a?b=c#d',
  ];
  it.each(marks)('prints as it stands: %s', (mark) => {
    const { value, diagnostics } = publish(withProse([plain(`Begin ${mark} end.`)]));
    expect(diagnostics).toEqual([]);
    expect(flowText(value as Uint8Array)).toContain(`Begin ${mark} end.`);
  });

  it('prints in every place where words can stand', () => {
    const mark = '#a @b *c* $d$ <e> \\f';
    const bench = withProse([
      { kind: 'heading', depth: 3, children: [text(`${mark} 1`)] },
      { kind: 'quote', children: [plain(`${mark} 2`)] },
      { kind: 'list', ordered: false, items: [[plain(`${mark} 3`)]] },
      { kind: 'table', align: ['left'], head: [[text(`${mark} 4`)]], rows: [[[text(`${mark} 5`)]]] },
      { kind: 'code', text: `${mark} 6` },
      {
        kind: 'paragraph',
        children: [{ kind: 'link', href: 'https://example.com/', children: [text(`${mark} 7`)] }],
      },
    ]);
    const front = { ...bench.plan.front, title: `${mark} 8`, summary: `${mark} 9`, skill: `${mark} 10` };
    const { value, diagnostics } = publish({ ...bench, plan: { ...bench.plan, front } });
    expect(diagnostics).toEqual([]);
    const words = flowText(value as Uint8Array).replaceAll('\u00a0', ' ');
    for (let n = 1; n <= 10; n++) expect(words).toContain(`${mark} ${n}`);
    expect(words).toContain('(example.com)');
  });

  it('of any printable characters never stops the program (fast-check)', () => {
    const anything = fc.string({
      unit: fc.constantFrom(...' #@*$<>\\`_-=+/[]{}()"\'~^&|%:;.,!?aZ0éü½×″′°→'),
      maxLength: 80,
    });
    fc.assert(
      fc.property(fc.array(anything, { minLength: 1, maxLength: 4 }), (lines) => {
        const { value, diagnostics } = publish(withProse(lines.map(plain)));
        expect(diagnostics).toEqual([]);
        expect(value?.length).toBeGreaterThan(10_000);
      }),
      { numRuns: 15 },
    );
  });

  it('may be nested without end', () => {
    let block: Block = plain('the innermost words');
    for (let i = 0; i < 200; i++)
      block =
        i % 2 === 0
          ? { kind: 'quote', children: [block] }
          : { kind: 'list', ordered: true, items: [[block]] };
    const { value, diagnostics } = publish(withProse([block]));
    expect(diagnostics).toEqual([]);
    expect(flowText(value as Uint8Array)).toContain('the innermost words');
  });

  it('leads only to web pages and mail', () => {
    const link = (href: string): Block => ({
      kind: 'paragraph',
      children: [{ kind: 'link', href, children: [text(`to ${href}`)] }],
    });
    const finished = withProse(
      ['javascript:alert(1)', 'file:///etc/passwd', '', 'mailto:a@example.com'].map(link),
    );
    const { value, diagnostics } = publish(finished);
    expect(diagnostics).toEqual([]);
    const bytes = Buffer.from(value as Uint8Array).toString('latin1');
    expect([...bytes.matchAll(/\/URI \(([^)]*)\)/g)].map((match) => match[1])).toEqual([
      'mailto:a@example.com',
    ]);
  });
});

describe('what the sheets cannot show', () => {
  it('is a character without a shape: named, at its line and column', () => {
    const bench = withProse([plain('Oil it with 桐油 twice.')]);
    const paragraph = {
      type: 'paragraph' as const,
      children: [
        {
          type: 'text' as const,
          value: 'Oil it with 桐油 twice.',
          position: { start: { line: 40, column: 1 }, end: { line: 40, column: 22 } },
        },
      ],
    };
    const origin = { file: bench.plan.file, line: 38, column: 1 };
    const plan = { ...bench.plan, sections: [{ title: 'Words', prose: [paragraph], origin }] };
    const { value, diagnostics } = publish({ ...bench, plan });
    expect(value).toBeUndefined();
    // "Oil it with " has 12 characters, so the first that is missing stands in column 13.
    expect(diagnostics[0]).toMatchObject({
      id: 'pdf.character',
      severity: 'error',
      origin: { file: bench.plan.file, line: 40, column: 13 },
    });
    expect(diagnostics[0]?.message).toContain('桐');
  });

  it('is a drawing larger than the sheet: told, since none is scaled', () => {
    const bench = finishedBench(imperial);
    const drawings = [...bench.drawings.drawings, standIn('request-1', 'request', 190, 60)];
    const { value, diagnostics } = publish({ ...bench, drawings: { drawings, narrow: [] } });
    expect(value).toBeDefined();
    expect(diagnostics.map(({ id, severity }) => [id, severity])).toEqual([['pdf.drawing-size', 'warning']]);
    expect(diagnostics[0]?.message).toContain('190 × 60 mm');
  });

  it('is a drawing that is no SVG: an error, not a crash', () => {
    const bench = finishedBench(imperial);
    const drawings = bench.drawings.drawings.map((drawing) =>
      drawing.id === 'views' ? { ...drawing, svg: 'no picture at all' } : drawing,
    );
    const { value, diagnostics } = publish({ ...bench, drawings: { drawings, narrow: [] } });
    expect(value).toBeUndefined();
    expect(diagnostics.map(({ id, severity }) => [id, severity])).toEqual([['pdf.compile', 'error']]);
  });
});

describe('a plan of another size', () => {
  it('repeats the head of a table on each sheet it runs over, and loses no row', () => {
    const bench = finishedBench(imperial);
    const [row] = bench.cutList.rows;
    if (row === undefined) throw new Error('the bench has rows');
    const rows = Array.from({ length: 70 }, (_, i) => ({
      ...row,
      letter: 'A',
      name: `Board number ${i + 1}.`,
    }));
    const { value, diagnostics } = publish({ ...bench, cutList: { ...bench.cutList, rows } });
    expect(diagnostics).toEqual([]);
    const pages = pageTexts(value as Uint8Array).filter((page) => /Board number \d+\./.test(page));
    expect(pages.length).toBeGreaterThanOrEqual(3);
    for (const page of pages) {
      expect(page).toContain('Thick');
      expect(page).toMatch(/Sheet title[\s\S]*Cut list/);
    }
    const all = pages.join('\n');
    for (let i = 1; i <= 70; i++) expect(all).toContain(`Board number ${i}.`);
  });

  it('needs neither drawings nor steps, sections, stops, prices or a date', () => {
    const bench = finishedBench(imperial);
    const finished: FinishedPlan = {
      ...bench,
      plan: { ...bench.plan, front: { ...bench.plan.front, revisions: [] } },
      cutList: { rows: [], letters: {}, volume: { value: 0, unit: 'board feet' } },
      layouts: { boards: [], kerf: bench.layouts.kerf, proofs: [], stops: [] },
      shopping: { ...bench.shopping, rows: [], lumberCost: 0, hardwareCost: 0, total: 0, partial: true },
      instructions: { ...bench.instructions, opening: [], sections: [], steps: [], tools: [], cautions: [] },
      drawings: { drawings: [], narrow: [] },
    };
    const { value, diagnostics } = publish(finished);
    expect(diagnostics).toEqual([]);
    expect(flowText(value as Uint8Array)).toContain('Potting bench');
  });

  it('puts a long licence on sheets of its own', () => {
    const bench = finishedBench(imperial);
    const paragraphs = Array.from(
      { length: 60 },
      (_, i) => `Clause ${i + 1}. ${'You may build from the plan. '.repeat(4)}`,
    );
    const front = { ...bench.plan.front, licence: paragraphs.join('\n\n') };
    const { value, diagnostics } = publish({ ...bench, plan: { ...bench.plan, front } });
    expect(diagnostics).toEqual([]);
    const pages = pageTexts(value as Uint8Array).filter((page) => /Clause \d+\./.test(page));
    expect(pages.length).toBeGreaterThanOrEqual(2);
    for (let i = 1; i <= 60; i++) expect(pages.join('\n')).toContain(`Clause ${i}.`);
    for (const page of pages) expect(page).not.toContain('Brush on the oil');
  });

  it('lets a step run on to a second sheet that still says which step it is', () => {
    const bench = finishedBench(imperial);
    const long = Array.from({ length: 20 }, (_, i) =>
      plain(
        `Sentence ${i + 1} of a step that has much to say, more than one sheet holds beside its drawing.`,
      ),
    );
    const steps = bench.instructions.steps.map((step) =>
      step.index === 2 ? { ...step, blocks: long } : step,
    );
    const { value, diagnostics } = publish({ ...bench, instructions: { ...bench.instructions, steps } });
    expect(diagnostics).toEqual([]);
    const pages = pageTexts(value as Uint8Array);
    const first = pages.findIndex((page) => page.includes('drawing step-2'));
    const next = (pages[first + 1] as string).replaceAll(/\s+/g, ' ');
    expect(next).toContain('Sentence 20');
    expect(next).toContain('Step 2');
    expect(pages[first + 2]).toContain('Add the middle rails');
  });
});
