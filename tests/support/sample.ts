/**
 * A small bench built by hand, for tests of the phases after the model: four legs, two aprons between them, three top boards
 * of which the last is ripped. Sizes are invented for the test.
 */
import type { Bounds, Copy, Part, Plan, Vec3 } from '../../src/model/types.ts';
import type { Direction, Edition, Face, Species, StockItem, StockList } from '../../src/read/types.ts';
import { inches, mm } from '../../src/units.ts';

const origin = { file: 'content/plans/sample/plan.md', line: 1, column: 1 };

const item = (key: string, thickness: number, width: number): StockItem => ({
  key,
  label: key.replace('x', '×'),
  stands_for: [],
  thickness: inches(thickness),
  width: inches(width),
  profile: 'square',
  cover: inches(width),
  tongue: mm(0),
  lengths: [
    { length: inches(72), label: '6 ft', prices: { pine: 4.5 } },
    { length: inches(96), label: '8 ft', prices: { pine: 6 } },
  ],
  origin,
});

export const stock1x4 = item('1x4', 0.75, 3.5);
export const stock1x6 = item('1x6', 0.75, 5.5);
export const stock2x4 = item('2x4', 1.5, 3.5);

const pine: Species = { key: 'pine', name: 'Pine', density: 450 };

export const sampleStock: StockList = {
  key: 'north-american-softwood',
  file: 'content/stock/north-american-softwood.yaml',
  name: 'North American softwood',
  region: 'United States',
  currency: 'USD',
  species: [pine],
  defaultSpecies: 'pine',
  endTrim: inches(0.25),
  items: [stock1x4, stock1x6, stock2x4],
};

export const imperial: Edition = {
  key: 'imperial',
  name: 'Imperial',
  numbers: { system: 'inch', denominator: 16 },
  side: 'left',
  stockList: 'north-american-softwood',
  paper: 'letter',
  projection: 'third angle',
  kerf: inches(0.125),
  language: 'en-US',
};

const AXES: Record<Direction, Vec3> = { across: [1, 0, 0], deep: [0, 1, 0], up: [0, 0, 1] };
const axisOf: Record<Face, Direction> = {
  left: 'across',
  right: 'across',
  front: 'deep',
  back: 'deep',
  bottom: 'up',
  top: 'up',
};

/** Inches: a box from `min` to `max`, running along `runs`, its wide face looking to `wideFace`. */
export function boxPart(
  key: string,
  stock: StockItem,
  runs: Direction,
  wideFace: Face,
  boxes: readonly (readonly [min: Vec3, max: Vec3])[],
): Part {
  const thick = axisOf[wideFace];
  const wide = (['across', 'deep', 'up'] as const).find((d) => d !== runs && d !== thick) as Direction;
  const along = (b: Bounds, d: Direction) => {
    const i = d === 'across' ? 0 : d === 'deep' ? 1 : 2;
    return mm((b.max[i] as number) - (b.min[i] as number));
  };
  const copies: Copy[] = boxes.map(([lo, hi], index) => {
    const bounds: Bounds = {
      min: lo.map((v) => v * 25.4) as unknown as Vec3,
      max: hi.map((v) => v * 25.4) as unknown as Vec3,
    };
    const size = { thickness: along(bounds, thick), width: along(bounds, wide), length: along(bounds, runs) };
    return {
      id: `${key}.${index + 1}`,
      part: key,
      frame: {
        origin: bounds.min,
        length: AXES[runs],
        width: AXES[wide],
        thickness: AXES[thick],
        mirrored: false,
      },
      size,
      bounds,
      cut: size,
      ...(size.width < stock.width - 0.01 ? { rip: { width: size.width, reason: 'part' as const } } : {}),
      shape: [],
    };
  });
  return {
    key,
    name: key[0]?.toUpperCase() + key.slice(1).replaceAll('-', ' '),
    origin,
    stock,
    species: 'pine',
    runs,
    wideFace,
    copies,
    visible: [],
  };
}

export const samplePlan: Plan = {
  slug: 'sample',
  file: origin.file,
  front: {
    title: 'Sample bench',
    number: 1,
    summary: 'A bench for tests.',
    kind: 'garden',
    price: {},
    skill: 'First piece',
    time: 'A day',
    revisions: [{ revision: 'A', date: '2026-01-09', note: 'First print.' }],
    photos: [],
    tools: [],
  },
  edition: imperial,
  stockList: sampleStock,
  outline: { width: inches(40), depth: inches(14.5), height: inches(18) },
  sizes: [],
  parts: [
    boxPart('leg', stock2x4, 'up', 'front', [
      [
        [0, 0, 0],
        [3.5, 1.5, 17.25],
      ],
      [
        [36.5, 0, 0],
        [40, 1.5, 17.25],
      ],
      [
        [0, 13, 0],
        [3.5, 14.5, 17.25],
      ],
      [
        [36.5, 13, 0],
        [40, 14.5, 17.25],
      ],
    ]),
    boxPart('apron', stock1x4, 'across', 'front', [
      [
        [3.5, 0, 13.75],
        [36.5, 0.75, 17.25],
      ],
      [
        [3.5, 13.75, 13.75],
        [36.5, 14.5, 17.25],
      ],
    ]),
    boxPart('top-board', stock1x6, 'across', 'top', [
      [
        [0, 0, 17.25],
        [40, 5.5, 18],
      ],
      [
        [0, 5.5, 17.25],
        [40, 11, 18],
      ],
      [
        [0, 11, 17.25],
        [40, 14.5, 18],
      ],
    ]),
  ],
  joints: [{ join: 'apron', to: 'leg', by: 'pocket screws', count: 2, from: 'back', origin }],
  hardware: [],
  steps: [
    {
      index: 1,
      title: 'Join legs and aprons',
      origin,
      adds: ['leg', 'apron'],
      sets: [],
      tools: [],
      prose: [],
    },
    { index: 2, title: 'Lay the top', origin, adds: ['top-board'], sets: [], tools: [], prose: [] },
  ],
  opening: [],
  sections: [],
  stepsOpening: [],
  roundings: [],
  evaluate: () => ({}),
};
