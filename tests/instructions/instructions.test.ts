import type { Root, RootContent } from 'mdast';
import { describe, expect, test } from 'vitest';
import type { CutList } from '../../src/cutting/types.ts';
import { cautionsOf, weightText, writeInstructions } from '../../src/instructions/index.ts';
import { sawTools, unique } from '../../src/instructions/tools.ts';
import type { Block, Inline } from '../../src/instructions/types.ts';
import { countWord, listed } from '../../src/instructions/words.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import { parseMarkdown } from '../../src/markdown.ts';
import type { Plan } from '../../src/model/types.ts';
import type { Shop } from '../../src/read/types.ts';
import { inches } from '../../src/units.ts';
import { hook, testHardware } from '../support/hardware.ts';
import { samplePlan, stock1x4, stock1x6, stock2x4 } from '../support/sample.ts';

const row = (letter: string, part: string, name: string, quantity: number, length: number) => ({
  letter,
  part,
  name,
  quantity,
  thickness: inches(0.75),
  width: inches(3.5),
  length: inches(length),
  stock: part === 'leg' ? stock2x4 : part === 'apron' ? stock1x4 : stock1x6,
  species: 'pine',
  copies: [],
  notes: [],
});

const cutList: CutList = {
  rows: [
    row('A', 'leg', 'Leg', 4, 17.25),
    row('B', 'apron', 'Apron', 2, 33),
    row('C', 'top-board', 'Top board', 2, 40),
    row('D', 'top-board', 'Last top board', 1, 40),
  ],
  letters: {},
  volume: { value: 10, unit: 'board feet' },
};

const shop = { safety: ['Wear eye protection.'] } as unknown as Shop;

async function instructions(
  opening: string,
  step = '',
  second?: string,
  { finish, on }: { finish?: string; on?: string | undefined } = { on: 'apron.front' },
) {
  const nodes = async (source: string): Promise<RootContent[]> =>
    ((await parseMarkdown(source)) as Root).children;
  const plan: Plan = {
    ...samplePlan,
    hardware: [
      {
        item: hook,
        count: 3,
        ...(on === undefined ? {} : { on }),
        origin: { file: 'x', line: 1, column: 1 },
      },
    ],
    opening: await nodes(opening),
    steps: [
      { ...samplePlan.steps[0]!, prose: await nodes(step) },
      second === undefined ? samplePlan.steps[1]! : { ...samplePlan.steps[1]!, prose: await nodes(second) },
    ],
    sections:
      finish === undefined
        ? []
        : [{ title: 'Finish', prose: await nodes(finish), origin: { file: 'x', line: 9, column: 1 } }],
    // formulas are tested where they live; here one name has a length, another a count
    evaluate: (formula, origin) =>
      formula === 'leg.length'
        ? { quantity: { kind: 'length', value: 17.25 * 25.4 } }
        : formula === 'slack'
          ? { quantity: { kind: 'length', value: -27 } }
          : formula === 'tilt'
            ? { quantity: { kind: 'angle', value: 12.04 } }
            : { problem: { id: 'name.unknown', severity: 'error', origin, message: 'expected a name' } },
  };
  return writeInstructions({ plan, cutList, joinery: findJoinery(plan, testHardware), shop });
}

/** Text of a block's line: letters in brackets. */
const shown = (block: Block | undefined): string => {
  const line = (children: readonly Inline[]): string =>
    children
      .map((item) => {
        if (item.kind === 'text' || item.kind === 'code') return item.text;
        if (item.kind === 'letter') return `(${item.letter})`;
        if (item.kind === 'size') return `${item.size.whole}+${item.size.numerator}/${item.size.denominator}`;
        return item.kind === 'break' ? '\n' : line(item.children);
      })
      .join('');
  return block && 'children' in block && block.kind !== 'quote' ? line(block.children) : '';
};

describe('values in running text', () => {
  test('a part prints its name and letters, in small letters inside a sentence', async () => {
    const { opening, diagnostics } = await instructions(
      ':part[leg] first. Then :part[top-board]. :part[apron] last.',
    );
    expect(diagnostics).toEqual([]);
    expect(shown(opening[0])).toBe('Leg (A) first. Then top board (C) and (D). Apron (B) last.');
  });

  test('sizes, angles, counts in words to ten, and hardware with its link', async () => {
    const { opening, diagnostics } = await instructions(
      'Cut :count[leg] legs :size[leg.length] long at :angle[tilt], :count[pocket screws] screws, :count[hook] of :buy[hook].',
    );
    expect(diagnostics).toEqual([]);
    // eight pocket screws: two at each of four apron ends
    expect(shown(opening[0])).toBe('Cut four legs 17+1/4 long at 12°, eight screws, three of hook.');
  });

  test('a size below zero is a fault: two places in the wrong order, or a part where it was not meant', async () => {
    const { diagnostics } = await instructions('It stops :size[slack] from the edge.');
    // 27 mm are 1.063 in: 1-1/16
    expect(diagnostics.map(({ id, message }) => [id, message])).toEqual([
      [
        'directive.size-negative',
        'expected a size that is not below zero between the brackets of :size[…], found −1 1/16″ (slack)',
      ],
    ]);
  });

  test('in a step, fasteners are those of the step; at the head of a sentence the count has a capital', async () => {
    const { steps } = await instructions('', ':count[pocket screws] screws.');
    expect(shown(steps[0]?.blocks[0])).toBe('Eight screws.');
  });

  test('a step that counts what it has none of is told what it has, or where that comes', async () => {
    const said = async (first: string, second: string) =>
      (await instructions('', first, second)).diagnostics.map(({ message, hint }) => [message, hint]);
    expect(await said('Drive :count[nails] nails.', '')).toEqual([
      [
        'expected nails in the joints of this step, found none',
        'it has pocket screws: write :count[pocket screws]',
      ],
    ]);
    expect(await said('', 'Drive :count[pocket screws] screws.')).toEqual([
      [
        'expected pocket screws in the joints of this step, found none',
        'they come in step 1, where the later of the joined parts is added',
      ],
    ]);
  });

  test('the first or last course of a laid part has a letter of its own', async () => {
    const rows = cutList.rows.map((item) =>
      item.letter === 'C'
        ? { ...item, copies: ['top-board.1', 'top-board.2'] }
        : { ...item, copies: item.letter === 'D' ? ['top-board.3'] : [] },
    );
    const parts = samplePlan.parts.map((part) =>
      part.key === 'top-board'
        ? {
            ...part,
            courses: {
              count: 3,
              gap: inches(0),
              full: inches(5.5),
              first: inches(5.5),
              last: inches(3.5),
              ends: 'last' as const,
            },
            copies: part.copies.map((copy, index) => ({ ...copy, course: index + 1 })),
          }
        : part,
    );
    const prose = (
      await parseMarkdown(':letter[top-board.first], :letter[top-board.last], :letter[leg.first].')
    ).children;
    const plan: Plan = { ...samplePlan, parts, opening: prose };
    const { opening, diagnostics } = writeInstructions({
      plan,
      cutList: { ...cutList, rows },
      joinery: findJoinery(plan, testHardware),
      shop,
    });
    expect(shown(opening[0])).toBe('(C), (D), ?.');
    expect(diagnostics.map((item) => item.id)).toEqual(['directive.part']);
  });

  test('a tool is named once, whichever of its alternatives comes first', () => {
    expect(unique(['Jigsaw or band saw', 'Plane', 'Band saw or jigsaw', 'plane'])).toEqual([
      'Jigsaw or band saw',
      'Plane',
    ]);
    expect(unique(['A plane, or a file', 'A file or a plane', 'A file'])).toEqual([
      'A plane, or a file',
      'A file',
    ]);
  });

  test('a colon before a word is no directive', async () => {
    const { opening, diagnostics } = await instructions('A ratio a:b, and note:this.');
    expect(diagnostics).toEqual([]);
    expect(shown(opening[0])).toBe('A ratio a:b, and note:this.');
  });

  test('faults carry the place of the text between the brackets and a hint', async () => {
    const { diagnostics } = await instructions(
      'One line.\n\nUse :part[lag] and :size[wrong] and :siez[leg.length].',
    );
    expect(diagnostics.map(({ id, origin, hint }) => [id, origin.line, origin.column, hint])).toEqual([
      ['directive.part', 3, 11, 'did you mean :part[leg]?'],
      ['name.unknown', 3, 26, undefined],
      ['directive.unknown', 3, 37, 'did you mean :size[…]?'],
    ]);
  });

  test('brackets that are open, empty or missing are said, with what to type', async () => {
    const { diagnostics } = await instructions(
      'One line.\n\nHoused :size[leg.length deep, :part[] and :count.',
    );
    expect(diagnostics.map(({ id, origin, hint }) => [id, origin.line, hint])).toEqual([
      ['directive.label', 3, ':size[leg.length]'],
      ['directive.label', 3, ':part[leg]'],
      ['directive.label', 3, ':count[leg]'],
    ]);
  });

  test('a drawing asked for is read, with its faults', async () => {
    const { opening, requests, diagnostics } = await instructions(
      '::drawing[The frame]{from="front left above" show="leg, apron" sizes="none"}\n\n::drawing[Odd]{from="frnt" show="lag"}',
    );
    expect(opening[0]).toEqual({ kind: 'drawing', drawing: 'request-1' });
    expect(requests[0]).toMatchObject({
      caption: 'The frame',
      from: { depth: 'front', side: 'left', height: 'above' },
      show: ['leg', 'apron'],
      sizes: 'none',
    });
    expect(diagnostics.map((item) => item.id)).toEqual(['drawing.from', 'drawing.show']);
  });

  test('a drawing may be seen from any direction, by two angles', async () => {
    const { requests, diagnostics } = await instructions(
      '::drawing[Low]{from="back 20 deg left, 12.5 deg below"}\n\n::drawing[Bad]{from="front 20 deg left 30 deg right"}',
    );
    expect(requests[0]).toMatchObject({
      from: { depth: 'back', side: 'left', height: 'below', turned: 20, raised: 12.5 },
      sizes: 'overall',
    });
    expect(diagnostics.map((item) => item.id)).toEqual(['drawing.from']);
  });

  test('HTML is a fault, a comment is not', async () => {
    const { diagnostics } = await instructions('<!-- later -->\n\nSome <b>bold</b> text.');
    expect(diagnostics.map((item) => item.id)).toEqual(['prose.html', 'prose.html']);
  });
});

describe('steps', () => {
  test('sheets ask for a saw that goes through them', () => {
    const saw = expect.stringMatching(/^Circular saw and a straightedge/);
    expect(sawTools(samplePlan, cutList)).not.toContainEqual(saw);
    const [first, ...others] = samplePlan.parts as [Plan['parts'][number], ...Plan['parts'][number][]];
    const stock = { ...first.stock, sheets: [] };
    expect(sawTools({ ...samplePlan, parts: [{ ...first, stock }, ...others] }, cutList)).toContainEqual(saw);
  });

  test('edge banding asks for an iron', () => {
    const iron = expect.stringMatching(/iron, and a chisel or trimmer/);
    expect(sawTools(samplePlan, cutList)).not.toContainEqual(iron);
    const [first, ...others] = samplePlan.parts as [Plan['parts'][number], ...Plan['parts'][number][]];
    const banded: Plan = { ...samplePlan, parts: [{ ...first, banded: ['front'] }, ...others] };
    expect(sawTools(banded, cutList)).toContainEqual(iron);
  });

  test('a step lists its parts by letter, its screws, its hardware and its tools', async () => {
    const { steps } = await instructions('');
    expect(steps[0]?.parts).toEqual([
      { letter: 'A', name: 'Leg', quantity: 4 },
      { letter: 'B', name: 'Apron', quantity: 2 },
    ]);
    expect(steps[0]?.fasteners.map((item) => item.count)).toEqual([8]);
    expect(steps[0]?.hardware.map((use) => use.item.key)).toEqual(['hook']);
    expect(steps[0]?.tools).toContain('Drill and driver');
    expect(steps[1]?.parts.map((item) => item.letter)).toEqual(['C', 'D']);
    expect(steps[1]?.fasteners).toEqual([]);
  });
});

describe('hardware', () => {
  test('goes with the first step that names it, else with the part that it is fixed to', async () => {
    const listed = async (first: string, second: string) =>
      (await instructions('', first, second)).steps.map((step) => step.hardware.map((use) => use.item.key));
    expect(await listed('', '')).toEqual([['hook'], []]);
    expect(await listed('', 'Hang :count[hook] hooks.')).toEqual([[], ['hook']]);
    expect(await listed('A :buy[hook].', 'Hang :count[hook] hooks.')).toEqual([['hook'], []]);
  });

  test('glue goes with the first step that glues, edge banding with the first banded part', () => {
    const [leg, ...others] = samplePlan.parts as [Plan['parts'][number], ...Plan['parts'][number][]];
    const glue = { ...hook, key: 'glue', fits: { joint: 'glue' as const, from: inches(0.1), to: inches(6) } };
    const banding = { ...hook, key: 'banding', bands: { left: inches(300), right: inches(300) } };
    const plan: Plan = {
      ...samplePlan,
      parts: [{ ...leg, banded: ['front'] }, ...others],
      hardware: [glue, banding, hook].map((item) => ({ item, count: 1, origin: item.origin })),
      joints: samplePlan.joints.map((joint) => ({ ...joint, by: 'glue' as const })),
    };
    const { steps } = writeInstructions({ plan, cutList, joinery: findJoinery(plan, testHardware), shop });
    expect(steps.map((step) => step.hardware.map((use) => use.item.key))).toEqual([
      ['glue', 'banding'],
      ['hook'],
    ]);
  });

  test('that is fixed to nothing goes with the last step, or with none where only a later section names it', async () => {
    const listed = async (finish: string) =>
      (await instructions('', '', '', { finish, on: undefined })).steps.map((step) => step.hardware.length);
    expect(await listed('Let it dry.')).toEqual([0, 1]);
    expect(await listed('Two coats of :buy[hook].')).toEqual([0, 0]);
  });
});

describe('cautions', () => {
  test('a piece under 6 in and a lift over 23 kg are said, longer and lighter ones are not', () => {
    const short = { ...cutList, rows: [row('A', 'leg', 'Leg', 4, 5.9)], weight: 23.5 };
    expect(cautionsOf(samplePlan, short).map((item) => item.id)).toEqual([
      'safety.short-piece',
      'safety.lift',
    ]);
    const fine = { ...cutList, rows: [row('A', 'leg', 'Leg', 4, 6.1)], weight: 22.5 };
    expect(cautionsOf(samplePlan, fine)).toEqual([]);
  });

  test('weights: 1 lb = 0.45359237 kg (NIST SP 811), 28 kg is 62 lb', () => {
    expect(weightText(28, samplePlan)).toBe('62 lb');
  });
});

describe('words', () => {
  test('counts and lists', () => {
    expect([0, 1, 10, 11].map(countWord)).toEqual(['no', 'one', 'ten', '11']);
    expect(listed(['a', 'b', 'c'])).toBe('a, b and c');
  });
});
