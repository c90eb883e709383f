/**
 * Two plans with all phases done, made by hand for tests of the pages: the sample bench as a free plan and as a paid one, in
 * inches and in millimetres. A test takes them through `sampleShop`, `freeBundle` and `paidBundle`; a bundle of a real plan fits
 * in the same places.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { boardCuts, sectionsFrom } from '../../src/cutting/cuts.ts';
import type { BoardLayout, CutListRow } from '../../src/cutting/types.ts';
import type { Block, Instructions } from '../../src/instructions/types.ts';
import type { Plan } from '../../src/model/types.ts';
import { pageFonts, readTheme } from '../../src/publish/theme.ts';
import type { FinishedPlan, PlanBundle, Shop, Theme } from '../../src/publish/types.ts';
import type { Edition, FrontMatter } from '../../src/read/types.ts';
import { text } from '../../src/text.ts';
import { inches, mm, printed } from '../../src/units.ts';
import { standIns } from './page-drawings.ts';
import { imperial, samplePlan, stock1x4, stock1x6, stock2x4 } from './sample.ts';

const metric: Edition = {
  ...imperial,
  key: 'metric',
  name: 'Metric',
  numbers: { system: 'mm', denominator: 16 },
  side: 'right',
  paper: 'a4',
  language: 'en-GB',
};

export const sampleShop: Shop = {
  name: 'Nettlefield Woodshop',
  address: '12 Nettlefield Lane, Upper Example',
  email: 'shop@nettlefield.example.com',
  url: 'https://nettlefield.example.com',
  currency: 'USD',
  strapline: 'plans for the home shop',
  about: 'A small shop that draws plans.\n\nIt answers letters.',
  licence:
    'Build from the plan for yourself, as a gift, or up to ten pieces a year for sale. Please don’t pass the files on.',
  safety: ['Wear eye protection. Local codes and your tool maker’s instructions come first.'],
  checkout: { 'paid-bench': 'https://nettlefield.example.com/checkout/paid-bench' },
  theme: 'handbook',
  editions: [imperial, metric],
};

const front = (title: string, number: number, price: Record<string, number>): FrontMatter => ({
  ...samplePlan.front,
  title,
  number,
  summary:
    'A low bench for a garden wall, with a boarded top. Straight cuts only, in boards that any lumberyard keeps.',
  kind: 'garden',
  price,
  skill: 'A first piece of outdoor furniture',
  time: 'Two days, and one for the finish',
  revisions: [
    {
      revision: 'C',
      date: '2026-03-14',
      note: 'Shelf boards are flush with the legs. Found by a reader in step 2.',
    },
    { revision: 'A', date: '2026-01-09', note: 'First print.' },
  ],
});

const STOCKS = { leg: stock2x4, apron: stock1x4, 'top-board': stock1x6 } as const;

/** The cut list of the sample bench, worked by hand from tests/support/sample.ts. */
function rows(): CutListRow[] {
  const row = (
    letter: string,
    part: keyof typeof STOCKS,
    name: string,
    quantity: number,
    [thickness, width, length]: readonly [number, number, number],
  ): CutListRow => ({
    letter,
    part,
    name,
    quantity,
    thickness: inches(thickness),
    width: inches(width),
    length: inches(length),
    stock: STOCKS[part],
    species: 'pine',
    copies: [],
    notes: part === 'leg' ? [[text('best face outward')]] : [],
  });
  return [
    row('A', 'top-board', 'Top board', 2, [0.75, 5.5, 40]),
    {
      ...row('B', 'top-board', 'Last top board', 1, [0.75, 3.5, 40]),
      rip: { width: inches(3.5), reason: 'last course' },
    },
    row('C', 'apron', 'Apron', 2, [0.75, 3.5, 33]),
    row('D', 'leg', 'Leg', 4, [1.5, 3.5, 17.25]),
  ];
}

/** Words for the sample: sizes as data, a letter, a link that must not become one, markup that must stay text. */
function instructions(edition: Edition): Instructions {
  const size = (value: number) => ({ kind: 'size' as const, size: printed(inches(value), edition.numbers) });
  const paragraph = (...children: Extract<Block, { kind: 'paragraph' }>['children'][number][]): Block => ({
    kind: 'paragraph',
    children,
  });
  return {
    opening: [
      paragraph(
        text('Two frames are cut alike, so that most of the parts come off three settings of a stop block.'),
      ),
      // States a length of the cut list: it must not reach a paid plan's page.
      paragraph(text('Each leg is '), size(17.25), text(' long.')),
      paragraph(
        text('The metric edition is drawn again for metric lumber. <script>alert(1)</script> stays text.'),
      ),
    ],
    sections: [
      {
        title: 'Finish',
        blocks: [
          paragraph(
            text('Break all edges with sandpaper, then '),
            {
              kind: 'link',
              href: 'javascript:alert(1)',
              children: [text('oil')],
            },
            text(' the end grain twice.'),
          ),
          {
            kind: 'quote',
            children: [paragraph(text('Rags wet with a drying oil can catch fire on their own.'))],
          },
        ],
      },
    ],
    stepsOpening: [paragraph(text('Set the stop block to each length in turn, longest first.'))],
    steps: [
      {
        index: 1,
        title: 'Join legs and aprons',
        blocks: [
          paragraph(
            text('Stand the legs on a flat floor, '),
            { kind: 'letter', letter: 'D' },
            text(' at the back.'),
          ),
          {
            kind: 'list',
            ordered: true,
            items: [
              [
                paragraph(
                  text('Set the apron '),
                  { kind: 'letter', letter: 'C' },
                  text(' between the legs, flush with their front faces.'),
                ),
              ],
              [paragraph(text('Drive the screws '), size(1.25), text(' from the edge.'))],
            ],
          },
        ],
        parts: [
          { letter: 'D', name: 'Leg', quantity: 4 },
          { letter: 'C', name: 'Apron', quantity: 2 },
        ],
        sets: [],
        fasteners: [],
        hardware: [],
        tools: ['Drill'],
      },
      {
        index: 2,
        title: 'Lay the top',
        blocks: [
          paragraph(
            text('Lay the boards '),
            { kind: 'letter', letter: 'A' },
            text(' with their best faces up.'),
          ),
        ],
        parts: [
          { letter: 'A', name: 'Top board', quantity: 2 },
          { letter: 'B', name: 'Last top board', quantity: 1 },
        ],
        sets: ['frame'],
        fasteners: [],
        hardware: [],
        tools: [],
      },
    ],
    tools: [
      'Miter saw, or a hand saw and a square',
      'Drill and pocket-hole jig',
      'Two clamps',
      'Block plane, tape, pencil',
    ],
    cautions: ['Rip narrow boards with a push stick.'],
    requests: [],
    diagnostics: [],
  };
}

/** Boards of 8 ft that hold the parts, letters and lengths one behind the other; B is ripped. */
const boards = (): BoardLayout[] =>
  (
    [
      [
        'top-board',
        [
          ['A', 40],
          ['A', 40],
        ],
      ],
      ['top-board', [['B', 40]]],
      [
        'apron',
        [
          ['C', 33],
          ['C', 33],
        ],
      ],
      [
        'leg',
        [
          ['D', 17.25],
          ['D', 17.25],
          ['D', 17.25],
          ['D', 17.25],
        ],
      ],
    ] as const
  ).map(([part, pieces]) => {
    const stock = STOCKS[part];
    const kerf = inches(0.125);
    const sections = sectionsFrom(
      pieces.map(([letter, length]) => ({
        start: inches(0),
        length: inches(length),
        strips: [
          {
            letter,
            copyOf: part,
            offset: inches(0),
            width: letter === 'B' ? inches(3.5) : stock.width,
            length: inches(length),
          },
        ],
      })),
      kerf,
    );
    const used = pieces.reduce((sum, [, length]) => sum + inches(length) + kerf, 0);
    const uncut = {
      stock,
      species: 'pine',
      boardLength: inches(96),
      lengthLabel: '8 ft',
      count: 1,
      sections,
      offcut: mm(inches(96) - used),
      endTrim: inches(0),
      price: 6,
    };
    return { ...uncut, cuts: boardCuts(uncut, { kerf }) };
  });

function finished(slug: string, front: FrontMatter, edition: Edition): FinishedPlan {
  const plan: Plan = { ...samplePlan, slug, file: `content/plans/${slug}/plan.md`, front, edition };
  const list = rows();
  const label = (value: number) =>
    edition.numbers.system === 'inch' ? `${value}″` : `${Math.round(value * 25.4)}`;
  const us = edition.key === 'imperial';
  return {
    plan,
    joinery: { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] },
    cutList: { rows: list, letters: {}, volume: { value: 12, unit: 'board feet' }, weight: 14 },
    layouts: {
      boards: boards(),
      kerf: inches(0.125),
      proofs: [{ stock: '1x6', species: 'pine', status: 'proved best', gap: 0, cost: 12, bound: 12 }],
      stops: [
        {
          length: inches(40),
          pieces: [
            { letter: 'A', quantity: 2, stock: '1×6' },
            { letter: 'B', quantity: 1, stock: '1×6' },
          ],
        },
        { length: inches(33), pieces: [{ letter: 'C', quantity: 2, stock: '1×4' }] },
        { length: inches(17.25), pieces: [{ letter: 'D', quantity: 4, stock: '2×4' }] },
      ],
    },
    shopping: {
      region: us ? 'United States' : 'Europe',
      currency: us ? 'USD' : 'EUR',
      rows: [
        {
          kind: 'board',
          name: '1×6 pine',
          size: [],
          unit: us ? '8 ft' : '2400 mm',
          quantity: 2,
          needed: 2,
          each: 6,
          cost: 12,
        },
        {
          kind: 'hardware',
          name: 'Pocket screw, coarse thread',
          size: [{ kind: 'size', size: printed(inches(1.25), edition.numbers) }],
          unit: 'box of 100',
          quantity: 1,
          needed: 16,
          each: 7.5,
          cost: 7.5,
        },
      ],
      lumberCost: us ? 42.4 : 39.2,
      hardwareCost: us ? 7.5 : 6.9,
      total: us ? 49.9 : 46.1,
      partial: false,
    },
    instructions: instructions(edition),
    drawings: standIns(plan, { view: label(40), layout: label(33), step: label(33) }),
    diagnostics: [],
  };
}

function bundle(slug: string, matter: FrontMatter, free: boolean): PlanBundle {
  return {
    slug,
    front: matter,
    free,
    editions: sampleShop.editions.map((edition) => ({ edition, finished: finished(slug, matter, edition) })),
  };
}

export const paidBundle = bundle('paid-bench', front('Potting bench', 7, { USD: 14, EUR: 13 }), false);
export const freeBundle = bundle('free-bench', front('Bench from six boards', 3, {}), true);

/** A PDF is only handed through here; its page tree says how many sheets it has. */
const pdf = (sheets: number) =>
  new TextEncoder().encode(`%PDF-1.7\n1 0 obj <</Type /Pages /Kids [] /Count ${sheets}>> endobj\n`);

export const samplePdfs: ReadonlyMap<string, Uint8Array> = new Map(
  [paidBundle, freeBundle].flatMap(({ slug, editions }) =>
    editions.map(({ edition }) => [`${slug}-${edition.key}-${edition.paper}.pdf`, pdf(14)] as const),
  ),
);

const themeFolder = new URL('../../themes/handbook/', import.meta.url);

/** The built-in theme, as the program reads it. */
export function handbook(): Theme {
  const names = ['theme.json', 'style.css'];
  const { value, diagnostics } = readTheme(
    new Map(names.map((name) => [name, readFileSync(new URL(name, themeFolder), 'utf8')])),
  );
  if (value === undefined) throw new Error(JSON.stringify(diagnostics));
  return value;
}

const requireHere = createRequire(import.meta.url);

/** The theme's fonts from their packages. */
export const siteFonts = (theme: Theme): ReadonlyMap<string, Uint8Array> =>
  new Map(pageFonts(theme).map(({ module }) => [module, readFileSync(requireHere.resolve(module))]));
