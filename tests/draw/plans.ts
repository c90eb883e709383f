/** Plans of boxes for tests of the drawings: a potting bench, a nest box, and benches of random sizes. Sizes are invented. */
import type { Copy, Part, Plan, Vec3 } from '../../src/model/types.ts';
import type { Direction, Edition, Face, StockItem } from '../../src/read/types.ts';
import { INCH, mm } from '../../src/units.ts';
import { boxPart, imperial, samplePlan, sampleStock } from '../support/sample.ts';

export const metric: Edition = {
  ...imperial,
  key: 'metric',
  name: 'Metric',
  numbers: { system: 'mm', denominator: 16 },
  side: 'right',
  paper: 'a4',
  projection: 'first angle',
  kerf: mm(3),
  language: 'en-GB',
};

const stock = (
  key: string,
  thickness: number,
  width: number,
  lengths: readonly [number, string][],
): StockItem => ({
  key,
  label: key.replace('x', '×'),
  stands_for: [],
  thickness: mm(thickness),
  width: mm(width),
  profile: 'square',
  cover: mm(width),
  tongue: mm(0),
  lengths: lengths.map(([length, label]) => ({ length: mm(length), label, prices: { pine: 5 } })),
  origin: { file: 'content/stock/test.yaml', line: 1, column: 1 },
});

/** Sizes of a bench, mm; the test picks them. */
export interface BenchSizes {
  readonly width: number;
  readonly depth: number;
  readonly height: number;
  readonly overhang: number;
  readonly gap: number;
  readonly shelf: number;
  /** Height of a back above the top; 0 for none. */
  readonly back: number;
  readonly board: number;
  readonly edition: Edition;
}

type Box = readonly [min: Vec3, max: Vec3];

const inInches = (boxes: readonly Box[]): Box[] =>
  boxes.map(
    ([a, b]): Box => [a.map((v) => v / INCH) as unknown as Vec3, b.map((v) => v / INCH) as unknown as Vec3],
  );

/** A bench with legs, aprons, a top in courses, a slatted shelf and, where wanted, a back with a pot shelf. */
export function benchPlan(s: BenchSizes): Plan {
  const lumber = s.edition.numbers.system === 'inch' ? 'imperial' : 'metric';
  const [t, legT, legW, railW] = lumber === 'imperial' ? [19.05, 38.1, 88.9, 88.9] : [20, 45, 95, 95];
  const lengths: [number, string][] =
    lumber === 'imperial'
      ? [[2438.4, '8 ft']]
      : [
          [2400, '2.4 m'],
          [4200, '4.2 m'],
        ];
  const two = stock(lumber === 'imperial' ? '2x4' : '45x95', legT, legW, lengths);
  const four = stock(lumber === 'imperial' ? '1x4' : '20x95', t, railW, lengths);
  const wide = stock(lumber === 'imperial' ? '1x6' : '20x145', t, s.board, lengths);
  const top = s.height - t;
  const o = s.overhang;
  const [x0, x1, y0, y1] = [o, s.width - o, o, s.depth];
  const rise = s.back > 0 ? s.height + s.back : top;
  const part = (key: string, item: StockItem, runs: Direction, face: Face, boxes: readonly Box[]): Part =>
    boxPart(key, item, runs, face, inInches(boxes));
  const legAt = (x: number, y: number, h: number): Box => [
    [x, y, 0],
    [x + legW, y + legT, h],
  ];
  const legs = part('leg', two, 'up', 'front', [legAt(x0, y0, top), legAt(x1 - legW, y0, top)]);
  const backLegs = part('back-leg', two, 'up', 'front', [
    legAt(x0, y1 - legT, rise),
    legAt(x1 - legW, y1 - legT, rise),
  ]);
  const rail = (z: number, y: number): Box => [
    [x0 + legW, y, z],
    [x1 - legW, y + t, z + railW],
  ];
  const low = s.shelf - t - railW;
  const rails = part('long-rail', four, 'across', 'front', [
    rail(top - railW, y0),
    rail(low, y0),
    rail(top - railW, y1 - legT - t),
    rail(low, y1 - legT - t),
  ]);
  const endRail = (z: number, x: number): Box => [
    [x, y0 + legT, z],
    [x + t, y1 - legT, z + railW],
  ];
  const ends = part('end-rail', four, 'deep', 'right', [
    endRail(top - railW, x0),
    endRail(top - railW, x1 - t),
    endRail(low, x0),
    endRail(low, x1 - t),
  ]);
  const topDepth = s.back > 0 ? s.depth - legT : s.depth;
  const tops = laid(
    part,
    'top-board',
    wide,
    { from: 0, to: topDepth, gap: s.gap },
    (a, b): Box => [
      [0, a, top],
      [s.width, b, s.height],
    ],
  );
  const shelf = laid(
    part,
    'shelf-board',
    wide,
    { from: y0 + legT, to: y1 - legT, gap: s.gap },
    (a, b): Box => [
      [x0, a, s.shelf - t],
      [x1, b, s.shelf],
    ],
  );
  const parts = [legs, backLegs, rails, ends, tops, shelf];
  if (s.back > 0) {
    const half = (s.back - t) / 2;
    parts.push(
      part('back-board', wide, 'across', 'front', [
        [
          [x0, y1 - legT - t, s.height],
          [x1, y1 - legT, s.height + half],
        ],
        [
          [x0, y1 - legT - t, s.height + half],
          [x1, y1 - legT, s.height + s.back - t],
        ],
      ]),
      part('pot-shelf', wide, 'across', 'top', [
        [
          [0, s.depth - s.board, s.height + s.back],
          [s.width, s.depth, s.height + s.back + t],
        ],
      ]),
    );
  }
  const step = (index: number, title: string, adds: string[], more: object = {}) => ({
    ...samplePlan.steps[0],
    index,
    title,
    adds,
    sets: [],
    ...more,
  });
  const steps = [
    step(1, 'Make the end frames', ['leg', 'back-leg', 'end-rail'], { assembly: 'end frame' }),
    step(2, 'Join the end frames', ['long-rail'], { sets: ['end frame'] }),
    step(3, 'Lay the shelf', ['shelf-board']),
    step(4, 'Lay the top', ['top-board']),
    ...(s.back > 0 ? [step(5, 'Fit the back and the pot shelf', ['back-board', 'pot-shelf'])] : []),
  ] as Plan['steps'];
  return {
    ...samplePlan,
    slug: 'bench',
    front: { ...samplePlan.front, title: 'Potting bench' },
    edition: s.edition,
    stockList: { ...sampleStock, items: [two, four, wide] },
    outline: { width: mm(s.width), depth: mm(s.depth), height: mm(s.height) },
    parts,
    steps,
  };
}

/** Courses over a span: whole boards, the last ripped to what is left. */
function laid(
  part: (key: string, item: StockItem, runs: Direction, face: Face, boxes: readonly Box[]) => Part,
  key: string,
  item: StockItem,
  span: { from: number; to: number; gap: number },
  at: (from: number, to: number) => Box,
): Part {
  const boxes: Box[] = [];
  for (let from = span.from; from < span.to - 5; from += item.width + span.gap)
    boxes.push(at(from, Math.min(span.to, from + item.width)));
  const made = part(key, item, 'across', 'top', boxes);
  const last = made.copies[made.copies.length - 1] as Copy;
  return {
    ...made,
    copies: made.copies.map((copy, index) => ({ ...copy, course: index + 1 })),
    courses: {
      count: boxes.length,
      gap: mm(span.gap),
      full: item.width,
      first: boxes.length === 1 ? last.size.width : item.width,
      last: last.size.width,
      ends: 'last',
    },
  };
}

export const pottingBench: BenchSizes = {
  width: 48 * INCH,
  depth: 22 * INCH,
  height: 36 * INCH,
  overhang: INCH,
  gap: INCH / 4,
  shelf: 9.75 * INCH,
  back: 11.25 * INCH,
  board: 5.5 * INCH,
  edition: imperial,
};

export const metricBench: BenchSizes = {
  width: 1200,
  depth: 560,
  height: 900,
  overhang: 25,
  gap: 6,
  shelf: 250,
  back: 280,
  board: 145,
  edition: metric,
};

/** A nest box of six boards with a roof that lies level. */
export function nestBox(edition: Edition): Plan {
  const cedar = stock('1x6', 19.05, 139.7, [[1828.8, '6 ft']]);
  const part = (key: string, runs: Direction, face: Face, boxes: readonly Box[]): Part =>
    boxPart(key, cedar, runs, face, boxes);
  const parts = [
    part('back', 'up', 'front', [
      [
        [0, 6.25, 0],
        [5.5, 7, 15],
      ],
    ]),
    part('side', 'up', 'right', [
      [
        [0, 0.75, 2],
        [0.75, 6.25, 12],
      ],
      [
        [4.75, 0.75, 2],
        [5.5, 6.25, 12],
      ],
    ]),
    part('front', 'up', 'front', [
      [
        [0, 0, 2],
        [5.5, 0.75, 12],
      ],
    ]),
    part('floor', 'deep', 'top', [
      [
        [0.75, 0.75, 2.25],
        [4.75, 6.25, 3],
      ],
    ]),
    part('roof', 'deep', 'top', [
      [
        [-0.5, -1.25, 12],
        [6, 6.25, 12.75],
      ],
    ]),
  ];
  const step = (index: number, title: string, adds: string[]) => ({
    ...samplePlan.steps[0],
    index,
    title,
    adds,
    sets: [],
  });
  return {
    ...samplePlan,
    slug: 'nest-box',
    front: { ...samplePlan.front, title: 'Nest box' },
    edition,
    stockList: { ...sampleStock, items: [cedar] },
    parts,
    steps: [
      step(1, 'Fix the sides to the floor', ['side', 'floor']),
      step(2, 'Fix the back', ['back']),
      step(3, 'Fix front and roof', ['front', 'roof']),
    ] as Plan['steps'],
  };
}
