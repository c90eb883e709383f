/** Whole plans: what a plan file becomes, written out by hand, and the two demo plans. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { diagnosticText } from '../../src/diagnostics.ts';
import { readPlan } from '../../src/read/plan.ts';
import type { PlanSource } from '../../src/read/types.ts';
import { fc } from '../support/random.ts';

const FILE = 'content/plans/bench/plan.md';

const FRONT = `---
title: Bench
number: 4
summary: A bench.
kind: seating
price: { USD: 14.50, EUR: 13 }
skill: First piece
time: A day
species: pine
tools: [Square]
photos:
  - { file: bench.jpg, alt: The bench }
revisions:
  - { revision: B, date: 2026-02-28, note: "Wider: by a board." }
  - { revision: A, date: 2024-02-29, note: First print. }
---
`;

const TEXT = `${FRONT}
A bench to sit on.

\`\`\`sizes
outline: { width: 48 in | 1200 mm, depth: 15 in, height: 18 in }
gap: 1/4 in | 6 mm
\`\`\`

\`\`\`parts
leg:
  stock: 2x4 | 45x95
  runs: up
  wide face: front
  at: { bottom: floor, top: slat.bottom, left: left, front: front }
  copies: mirrored left-right and front-back
  assembly: end frame
  visible: [front, left]
\`\`\`

\`\`\`parts
slat:
  name: Seat slat
  stock: 1x4
  runs: across
  lay: back to front
  from: back
  to: front
  gap: gap
  ends: shared
  at: { top: top, left: left, right: right }
rung:
  stock: 1x2
  runs: deep
  between: [leg, leg]
  rip: 1 in
  copies:
    - { repeated: 3, along: across, to: right - 4 in }
    - mirrored bottom-top
  fit: measured
  note: measure first
\`\`\`

\`\`\`joints
- { join: slat, to: leg, by: screws, count: 2, from: top, with: wood-screw-50 }
- { join: rung, to: leg, by: glue }
\`\`\`

\`\`\`hardware
- { item: exterior-oil, count: 1, on: slat.top, note: two coats }
\`\`\`

## Where it stands

Under a roof.

## Steps

Cut all parts first.

### Build the frames

\`\`\`step
adds: [leg, rung]
assembly: end frame
from: above right back
tools: [Clamp]
\`\`\`

Glue them.

#### Wait

Overnight.

### Lay the seat

\`\`\`step
adds: [end frame, slat]
\`\`\`

## After

Oil it.
`;

const read = (text: string, files = ['bench.jpg', 'plan.md']) =>
  readPlan('bench', FILE, text, new Set(files));
const plan = read(TEXT).value as PlanSource;

/** Line and column of the first place of a word, counted on the text itself. */
function placeOf(word: string, text = TEXT) {
  const before = text.slice(0, text.indexOf(word)).split('\n');
  return { file: FILE, line: before.length, column: (before.at(-1) ?? '').length + 1 };
}

describe('a plan', () => {
  it('has no faults', () => {
    expect(read(TEXT).diagnostics.map(diagnosticText)).toEqual([]);
  });

  it('has its front matter', () => {
    expect(plan.front).toEqual({
      title: 'Bench',
      number: 4,
      summary: 'A bench.',
      kind: 'seating',
      price: { EUR: 13, USD: 14.5 },
      skill: 'First piece',
      time: 'A day',
      revisions: [
        { revision: 'B', date: '2026-02-28', note: 'Wider: by a board.' },
        { revision: 'A', date: '2024-02-29', note: 'First print.' },
      ],
      photos: [
        {
          file: 'bench.jpg',
          alt: 'The bench',
          origin: { file: 'content/plans/bench/plan.md', line: 12, column: 13 },
        },
      ],
      tools: ['Square'],
      species: { text: 'pine', origin: placeOf('pine') },
    });
  });

  it('has its sizes as typed, with their places', () => {
    expect(plan.outline.width).toEqual({ text: '48 in | 1200 mm', origin: placeOf('48 in | 1200') });
    expect(plan.sizes).toEqual([
      {
        name: 'gap',
        nameOrigin: placeOf('gap: 1/4'),
        formula: { text: '1/4 in | 6 mm', origin: placeOf('1/4 in | 6 mm') },
      },
    ]);
  });

  it('has the parts of all its blocks, in order', () => {
    expect(plan.parts.map((part) => part.key)).toEqual(['leg', 'slat', 'rung']);
    const [leg, slat, rung] = plan.parts;
    expect(leg).toEqual({
      key: 'leg',
      origin: placeOf('leg:\n'),
      stock: { text: '2x4 | 45x95', origin: placeOf('2x4 | 45x95') },
      runs: { value: 'up', origin: placeOf('up\n  wide') },
      wideFace: { value: 'front', origin: placeOf('front\n  at') },
      at: {
        bottom: { text: 'floor', origin: placeOf('floor') },
        top: { text: 'slat.bottom', origin: placeOf('slat.bottom') },
        left: { text: 'left', origin: placeOf('left, front: front') },
        front: { text: 'front', origin: placeOf('front }\n  copies') },
      },
      copies: [
        { kind: 'mirrored', across: 'left-right', origin: placeOf('left-right and') },
        { kind: 'mirrored', across: 'front-back', origin: placeOf('front-back\n') },
      ],
      assembly: { text: 'end frame', origin: placeOf('end frame\n  visible') },
      visible: ['front', 'left'],
    });
    expect(slat?.name).toBe('Seat slat');
    expect(slat?.lay).toEqual({
      along: 'deep',
      reversed: true,
      from: { text: 'back', origin: placeOf('back\n  to: front') },
      to: { text: 'front', origin: placeOf('front\n  gap') },
      gap: { text: 'gap', origin: placeOf('gap\n  ends') },
      ends: 'shared',
      origin: placeOf('back to front'),
    });
    expect(rung?.between?.map((one) => one.text)).toEqual(['leg', 'leg']);
    expect(rung?.rip?.text).toBe('1 in');
    expect(rung?.fit).toBe('measured');
    expect(rung?.copies).toEqual([
      {
        kind: 'repeated',
        count: { text: '3', origin: placeOf('3, along') },
        along: 'across',
        to: { text: 'right - 4 in', origin: placeOf('right - 4 in') },
        origin: placeOf('{ repeated: 3'),
      },
      { kind: 'mirrored', across: 'bottom-top', origin: placeOf('bottom-top') },
    ]);
  });

  it('has its joints and hardware', () => {
    expect(plan.joints.map((one) => [one.join.text, one.to.text, one.by.value, one.count?.text])).toEqual([
      ['slat', 'leg', 'screws', '2'],
      ['rung', 'leg', 'glue', undefined],
    ]);
    expect(plan.joints[0]?.from).toEqual({ value: 'top', origin: placeOf('top, with') });
    expect(plan.joints[0]?.with?.text).toBe('wood-screw-50');
    expect(plan.hardware).toEqual([
      {
        item: { text: 'exterior-oil', origin: placeOf('exterior-oil') },
        count: { text: '1', origin: placeOf('1, on') },
        on: { text: 'slat.top', origin: placeOf('slat.top') },
        note: 'two coats',
        origin: placeOf('{ item'),
      },
    ]);
  });

  it('has its prose apart from its blocks', () => {
    const kinds = (nodes: readonly { type: string }[]) => nodes.map((node) => node.type);
    expect(kinds(plan.opening)).toEqual(['paragraph']);
    expect(plan.sections.map((one) => [one.title, kinds(one.prose), one.origin.line])).toEqual([
      ['Where it stands', ['paragraph'], placeOf('## Where').line],
      ['After', ['paragraph'], placeOf('## After').line],
    ]);
    expect(kinds(plan.stepsOpening)).toEqual(['paragraph']);
    expect(plan.steps.map((one) => [one.index, one.title, one.adds.map((part) => part.text)])).toEqual([
      [1, 'Build the frames', ['leg', 'rung']],
      [2, 'Lay the seat', ['end frame', 'slat']],
    ]);
    expect(kinds(plan.steps[0]?.prose ?? [])).toEqual(['paragraph', 'heading', 'paragraph']);
    expect(plan.steps[0]?.from).toEqual({
      value: { depth: 'back', side: 'right', height: 'above' },
      origin: placeOf('above right back'),
    });
    expect(plan.steps[0]?.assembly?.text).toBe('end frame');
    expect(plan.steps[0]?.tools).toEqual(['Clamp']);
  });

  it('is the same with the line ends of another system and a byte order mark', () => {
    const other = read(`\uFEFF${TEXT.replaceAll('\n', '\r\n')}`).value;
    expect(other?.parts).toEqual(plan.parts);
    expect(other?.front).toEqual(plan.front);
  });
});

describe('a plan with faults', () => {
  it('is kept where later phases can find more, and left out where they would only echo', () => {
    const cases: readonly (readonly [string, string, boolean])[] = [
      ['number: 4', 'number: four', true],
      ['by: glue', 'by: glues', true],
      ['item: exterior-oil', 'items: exterior-oil', true],
      ['gap: 1/4', 'Gap: 1/4', false],
      ['runs: deep', 'runs: down', false],
      ['adds: [leg, rung]', 'add: [leg, rung]', false],
    ];
    for (const [from, to, kept] of cases) {
      const { value, diagnostics } = read(TEXT.replace(from, to));
      expect(
        diagnostics.some((one) => one.severity === 'error'),
        to,
      ).toBe(true);
      expect(value !== undefined, to).toBe(kept);
    }
  });

  it('knows days of the calendar', () => {
    // ISO 8601 in the Gregorian calendar: 2024 and 2000 are leap years, 2026 and 1900 are not.
    const wrong = (day: string) => read(TEXT.replace('2024-02-29', day)).diagnostics.length > 0;
    expect(['2024-02-29', '2000-02-29', '2025-12-31'].map(wrong)).toEqual([false, false, false]);
    expect(
      ['2026-02-29', '1900-02-29', '2025-04-31', '2025-13-01', '2025-00-10', '2025-1-1'].map(wrong),
    ).toEqual([true, true, true, true, true, true]);
  });

  it('is told of a photo only where the folder is known', () => {
    expect(read(TEXT, []).diagnostics.map((one) => one.id)).toEqual(['front.photo-missing']);
    expect(readPlan('bench', FILE, TEXT).diagnostics).toEqual([]);
  });
});

describe('what no plan needs', () => {
  it.each([
    ['quotations', '>'.repeat(19_000)],
    ['items on one line', '- '.repeat(3000)],
    ['items in items', Array.from({ length: 500 }, (_, i) => `${' '.repeat(i * 2)}- a`).join('\n')],
    ['directives in directives', ':::a\n'.repeat(2000)],
    ['emphases', `${'*'.repeat(9000)}a${'*'.repeat(9000)}`],
    ['links', '[a]('.repeat(4000)],
    ['a line', 'a'.repeat(300_000)],
    ['lines', 'a\n'.repeat(200_000)],
  ])('is refused at once: too many or too long %s', (_, much) => {
    const start = performance.now();
    const { value, diagnostics } = read(TEXT.replace('A bench to sit on.', `${much}\n`));
    expect(value).toBeUndefined();
    expect(diagnostics.length).toBeGreaterThan(0);
    for (const one of diagnostics) expect(one.id).toMatch(/^(?:plan\.length|prose\.(?:depth|directive))$/u);
    expect(performance.now() - start).toBeLessThan(1000);
  });
});

describe('the demo plans', () => {
  const texts = ['nest-box', 'potting-bench'].map((slug) => {
    const file = `content/plans/${slug}/plan.md`;
    return { slug, file, text: readFileSync(file, 'utf8') };
  });

  it.each(texts)('$slug reads without a fault', ({ slug, file, text }) => {
    const { value, diagnostics } = readPlan(slug, file, text, new Set());
    expect(diagnostics.map(diagnosticText)).toEqual([]);
    expect(value?.parts.length).toBeGreaterThan(4);
  });

  it('never crash the reader, whatever is cut out or put in, and every fault has a place in the file', () => {
    const scraps = [
      '\n',
      '```',
      '```parts\n',
      '---\n',
      ':',
      '- ',
      '{',
      '[',
      '"',
      '\t',
      '&a ',
      '*a',
      '#',
      '😀',
      '<b>',
      '__proto__: 1\n',
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...texts),
        fc.array(
          fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.nat(30), fc.constantFrom('', ...scraps)),
          { minLength: 1, maxLength: 4 },
        ),
        ({ slug, file, text }, edits) => {
          let edited = text;
          for (const [at, cut, put] of edits) {
            const from = Math.floor(at * edited.length);
            edited = edited.slice(0, from) + put + edited.slice(from + cut);
          }
          const lines = edited.split('\n');
          for (const { origin } of readPlan(slug, file, edited, new Set()).diagnostics) {
            expect(origin.line).toBeGreaterThanOrEqual(1);
            expect(origin.line).toBeLessThanOrEqual(lines.length);
            expect(origin.column).toBeLessThanOrEqual([...(lines[origin.line - 1] ?? '')].length + 1);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
