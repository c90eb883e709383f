/**
 * A finished bench built by hand, in both editions, for tests of what is published. Ten rows of the cut list, six steps, and
 * drawings that are only frames and words at their real size on paper. Prices and sizes are invented for the test.
 */
import { boardCuts } from '../../src/cutting/cuts.ts';
import type { CutListRow, StopSetting } from '../../src/cutting/types.ts';
import type { Plan } from '../../src/model/types.ts';
import type { FinishedPlan, PlanBundle, Shop } from '../../src/publish/types.ts';
import type { Edition, FrontMatter, StockItem, StockList } from '../../src/read/types.ts';
import { text } from '../../src/text.ts';
import { inches, type Length, mm, printed } from '../../src/units.ts';
import { benchSteps, countersunk, pocketScrew, ROWS, type Row, words } from './finished-steps.ts';
import { standIn } from './frame-drawing.ts';
import { imperial, samplePlan, sampleStock, stock1x4, stock1x6, stock2x4 } from './sample.ts';

const origin = { file: 'content/plans/potting-bench/plan.md', line: 1, column: 1 };

export const metric: Edition = {
  key: 'metric',
  name: 'Metric',
  numbers: { system: 'mm', denominator: 16 },
  side: 'right',
  stockList: 'european-softwood',
  paper: 'a4',
  projection: 'first angle',
  kerf: mm(3),
  language: 'en-GB',
};

const planed = (key: string, thickness: number, width: number): StockItem => ({
  ...stock1x4,
  key,
  label: key.replace('x', '×'),
  thickness: mm(thickness),
  width: mm(width),
  cover: mm(width),
  lengths: [{ length: mm(2400), label: '2400 mm', prices: { pine: 5.2 } }],
});

const metricStock: StockList = {
  ...sampleStock,
  key: 'european-softwood',
  name: 'European softwood',
  region: 'Europe',
  currency: 'EUR',
  items: [planed('45x95', 45, 95), planed('20x95', 20, 95), planed('20x145', 20, 145)],
};

export const shop: Shop = {
  name: 'Nettlefield Woodshop',
  address: '12 Alder Lane, Nettlefield',
  url: 'https://nettlefield.example',
  currency: 'USD',
  strapline: 'Plans from the bench',
  about: 'A workshop of one.',
  licence:
    'You may build as many pieces from this plan as you like, and sell them.\n\nYou may not pass the plan on, whole or in part. Print it as often as your shop needs.',
  safety: [
    'Wear eye and ear protection at every saw, and a dust mask when you sand.',
    'Take off gloves, rings and loose sleeves near a turning blade or bit.',
    'Unplug a tool, or take out its battery, before you change a blade or a bit.',
  ],
  checkout: {},
  theme: 'handbook',
  editions: [imperial, metric],
};

const front: FrontMatter = {
  ...samplePlan.front,
  title: 'Potting bench',
  number: 7,
  summary:
    'A standing-height bench for a garden wall, with a slatted shelf for sacks and a narrow shelf for pots.',
  price: { USD: 14, EUR: 13 },
  skill: 'A first piece of outdoor furniture',
  time: 'Two days, and one for the finish',
  revisions: [
    { revision: 'C', date: '2026-03-14', note: 'Shelf boards end flush with the legs.' },
    { revision: 'B', date: '2026-02-02', note: 'Metric edition drawn for planed boards.' },
    { revision: 'A', date: '2026-01-09', note: 'First print.' },
  ],
};

/** The bench in one edition. */
export function finishedBench(edition: Edition): FinishedPlan {
  const inch = edition.numbers.system === 'inch';
  const stockList = inch ? sampleStock : metricStock;
  const stocks = (inch ? [stock2x4, stock1x4, stock1x6] : metricStock.items) as readonly StockItem[];
  const length = (pair: readonly [number, number]): Length => (inch ? inches(pair[0]) : mm(pair[1]));
  const rows: CutListRow[] = ROWS.map(([letter, name, quantity, at, long, rip, note]) => {
    const stock = stocks[at] as StockItem;
    return {
      letter,
      part: name.toLowerCase().replaceAll(/\W+/g, '-'),
      name,
      quantity,
      thickness: stock.thickness,
      width: rip === undefined ? stock.width : length(rip),
      length: length(long),
      stock,
      species: 'pine',
      ...(rip === undefined
        ? {}
        : { rip: { width: length(rip), reason: 'last course' as const }, fit: 'measured' as const }),
      copies: Array.from({ length: quantity }, (_, i) => `${letter}.${i + 1}`),
      notes: note === undefined ? [] : [[text(note)]],
    };
  });
  const plan: Plan = {
    ...samplePlan,
    slug: 'potting-bench',
    file: origin.file,
    front,
    edition,
    stockList,
    outline: inch
      ? { width: inches(48), depth: inches(22), height: inches(48) }
      : { width: mm(1200), depth: mm(560), height: mm(1215) },
  };
  const stops: StopSetting[] = [...new Set(rows.map((row) => row.length))]
    .sort((a, b) => b - a)
    .map((stop) => ({
      length: stop,
      pieces: rows
        .filter((row) => row.length === stop)
        .map(({ letter, quantity, stock }) => ({ letter, quantity, stock: stock.key })),
    }));
  const board = (
    at: 0 | 1 | 2,
    count: number,
    cut: readonly (readonly [string, readonly [number, number]])[],
  ) => {
    const stock = stocks[at] as StockItem;
    const boardLength = inch ? inches(96) : mm(2400);
    let start = 0;
    const sections = cut.map(([letter, long]) => {
      const section = {
        start: mm(start),
        length: length(long),
        strips: [{ letter, copyOf: letter, offset: mm(0), width: stock.width, length: length(long) }],
      };
      start += length(long) + edition.kerf;
      return section;
    });
    const laid = {
      stock,
      species: 'pine',
      boardLength,
      lengthLabel: inch ? '8 ft' : '2400 mm',
      count,
      sections,
      offcut: mm(Math.max(0, boardLength - start)),
      endTrim: mm(0),
      price: inch ? 6 : 5.2,
    };
    return { ...laid, cuts: boardCuts(laid, { kerf: edition.kerf }) };
  };
  const row = (letter: string) => (ROWS.find(([name]) => name === letter) as Row)[4];
  const cut = (...letters: string[]) => letters.map((letter) => [letter, row(letter)] as const);
  const width = edition.paper === 'letter' ? 183 : 177;
  return {
    plan,
    joinery: { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] },
    cutList: {
      rows,
      letters: {},
      volume: inch ? { value: 46.7, unit: 'board feet' } : { value: 0.062, unit: 'm³' },
      weight: 28.1,
    },
    layouts: {
      boards: [
        board(2, 3, cut('F', 'H')),
        board(2, 1, cut('K', 'J')),
        board(2, 1, cut('G', 'J')),
        board(1, 1, cut('D', 'D')),
        board(1, 2, cut('C', 'E', 'E', 'E')),
        board(0, 1, cut('B', 'B')),
        board(0, 1, cut('A', 'A')),
      ],
      kerf: edition.kerf,
      proofs: stocks.map((stock, i) => ({
        stock: stock.key,
        species: 'pine',
        status: i === 1 ? ('gap' as const) : ('proved best' as const),
        gap: i === 1 ? 0.02 : 0,
        cost: i === 1 ? 18 : 12,
        bound: i === 1 ? 17.6 : 12,
      })),
      stops,
    },
    shopping: {
      region: stockList.region,
      currency: stockList.currency,
      rows: [
        ...(
          [
            [0, 2],
            [1, 3],
            [2, 5],
          ] as const
        ).map(([at, count]) => {
          const stock = stocks[at] as StockItem;
          return {
            kind: 'board' as const,
            name: stock.label,
            size: [
              { kind: 'size' as const, size: printed(stock.thickness, edition.numbers), bare: true },
              text(' × '),
              { kind: 'size' as const, size: printed(stock.width, edition.numbers), bare: true },
            ],
            unit: inch ? '8 ft' : '2400 mm',
            quantity: count,
            needed: count,
            each: inch ? 6 : 5.2,
            cost: (inch ? 6 : 5.2) * count,
            stock,
            species: 'pine',
          };
        }),
        ...[pocketScrew, countersunk].map((item, i) => ({
          kind: 'hardware' as const,
          name: item.name,
          size: [
            { kind: 'size' as const, size: printed(item.length as Length, edition.numbers), bare: true },
          ],
          unit: 'box of 100',
          quantity: 1,
          needed: 64 + i * 8,
          each: inch ? 8.49 : 7.9,
          cost: inch ? 8.49 : 7.9,
          item,
        })),
      ],
      lumberCost: inch ? 60 : 52,
      hardwareCost: inch ? 16.98 : 15.8,
      total: inch ? 76.98 : 67.8,
      partial: false,
    },
    instructions: {
      opening: [
        words(
          'Two end frames carry everything, and both are cut alike, so most of the parts come off a few settings of a stop block.',
        ),
      ],
      sections: [
        {
          title: 'Finish',
          blocks: [
            words(
              'Break all edges with sandpaper. Brush on the oil, end grain twice, and let it dry as its label says.',
            ),
            {
              kind: 'quote',
              children: [
                words(
                  'Rags wet with a drying oil can heat up and catch fire on their own. Dry them flat outdoors, or keep them under water in a metal tin.',
                ),
              ],
            },
          ],
        },
      ],
      stepsOpening: [],
      steps: benchSteps(edition),
      tools: [
        'Crosscut saw with a stop block',
        'Drill and driver',
        'Pocket hole jig',
        'Square',
        'Two clamps',
        'Pencil and tape',
        'Sanding block',
      ],
      cautions: ['Parts G are ripped narrower than the fence is high. Use a push block.'],
      requests: [],
      diagnostics: [],
    },
    drawings: {
      drawings: [
        standIn('pictorial', 'pictorial', 110, 146),
        standIn('pictorial-small', 'pictorial', 60.6, 81.6),
        standIn('views', 'views', width, 170, {
          title: 'Front, top and right side',
          scale: inch ? '1″ = 1′-0″' : '1 : 10',
          projection: edition.projection,
        }),
        ...[44, 44, 52].map((height, i) =>
          standIn(`layout-${i + 1}`, 'layout', width - 4, height, {
            scale: inch ? '3/4″ = 1′-0″' : '1 : 20',
          }),
        ),
        ...[1, 2, 3, 4, 5, 6].map((n) => standIn(`step-${n}`, 'step', 120, n === 4 ? 84 : 136)),
      ],
      narrow: [],
    },
    diagnostics: [],
  };
}

export const bench: PlanBundle = {
  slug: 'potting-bench',
  front,
  free: false,
  editions: [imperial, metric].map((edition) => ({ edition, finished: finishedBench(edition) })),
};
