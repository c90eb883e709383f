/** The rows, screws and steps of the finished bench that tests publish. */
import type { Block, Inline, StepInstructions } from '../../src/instructions/types.ts';
import type { Edition, HardwareItem } from '../../src/read/types.ts';
import { text } from '../../src/text.ts';
import { inches, type Length, mm, printed } from '../../src/units.ts';

const origin = { file: 'content/plans/potting-bench/plan.md', line: 1, column: 1 };

/** Letter, name, number, stock, width where ripped, length: inches | mm. */
export type Row = readonly [
  letter: string,
  name: string,
  quantity: number,
  stock: 0 | 1 | 2,
  length: readonly [number, number],
  rip?: readonly [number, number] | undefined,
  note?: string,
];
export const ROWS: readonly Row[] = [
  ['A', 'Front leg', 2, 0, [35.25, 880]],
  ['B', 'Back leg', 2, 0, [47.25, 1195]],
  ['C', 'Long rail, front', 2, 1, [39, 960], undefined, 'between the legs'],
  ['D', 'Long rail, back', 2, 1, [44.5, 1110]],
  ['E', 'Cross rail', 6, 1, [18, 445], undefined, 'one stop setting'],
  ['F', 'Top board', 3, 2, [48, 1200]],
  ['G', 'Last top board', 1, 2, [48, 1200], [3.25, 62]],
  ['H', 'Shelf board', 3, 2, [46, 1150]],
  ['J', 'Back board', 2, 2, [46, 1150]],
  ['K', 'Pot shelf', 1, 2, [48, 1200], undefined, 'best face up'],
];

const hardware = (key: string, name: string, length?: Length): HardwareItem => ({
  key,
  name,
  ...(length === undefined ? {} : { length }),
  package: 100,
  price: { USD: 8.49, EUR: 7.9 },
  regions: [],
  outdoors: true,
  origin,
});
export const pocketScrew = hardware('pocket-screw', 'Pocket screw, coarse thread', inches(1.25));
export const countersunk = hardware('deck-screw', 'Countersunk screw', inches(1.5));

/** A paragraph of plain text. */
export const words = (value: string): Block => ({ kind: 'paragraph', children: [text(value)] });

/** The steps of the bench. */
export function benchSteps(edition: Edition): StepInstructions[] {
  const size = (inch: number, millimetre: number): Inline => ({
    kind: 'size',
    size: printed(edition.numbers.system === 'inch' ? inches(inch) : mm(millimetre), edition.numbers),
  });
  const letter = (value: string): Inline => ({ kind: 'letter', letter: value });
  const item = (...children: Inline[]): Block[] => [{ kind: 'paragraph', children }];
  const step = (index: number, title: string, more: Partial<StepInstructions>): StepInstructions => ({
    index,
    title,
    blocks: [],
    parts: [],
    sets: [],
    fasteners: [],
    hardware: [],
    tools: ['Drill and driver', 'Two clamps', 'Square'],
    ...more,
  });
  const part = (at: string) => {
    const row = ROWS.find(([name]) => name === at) as Row;
    return { letter: at, name: row[1], quantity: row[2] };
  };
  const prose: Block = {
    kind: 'list',
    ordered: true,
    items: [
      item(
        text('Stand the end frames on a flat floor with the back legs away from you. Clamp a spacer block '),
        size(5.5, 140),
        text(' high to the inside of each leg.'),
      ),
      item(
        text('Rest the lower rails on the blocks: '),
        letter('C'),
        text(' between the front legs, its face flush with theirs; '),
        letter('D'),
        text(' against the inner face of the back legs. Drive the screws from inside.'),
      ),
      item(
        text(
          'Measure both diagonals of the floor rectangle. When they agree, fix the upper rails with their top edges level with the front legs.',
        ),
      ),
    ],
  };
  const screws = [
    { item: pocketScrew, kind: 'pocket screws' as const, count: 16 },
    { item: countersunk, kind: 'screws' as const, count: 16 },
  ];
  return [
    step(1, 'Make two end frames', {
      parts: ['A', 'B', 'E'].map(part),
      fasteners: screws,
      blocks: [words('Lay the legs on the bench with their feet level, and join them with the cross rails.')],
    }),
    step(2, 'Join the end frames', {
      sets: ['end frame'],
      parts: ['C', 'D'].map(part),
      fasteners: screws,
      blocks: [
        {
          kind: 'quote',
          children: [
            words(
              'The frames tip over until the first two rails are in. Clamp one of them to a bench, or have someone hold it.',
            ),
          ],
        },
        prose,
      ],
    }),
    step(3, 'Add the middle rails', {
      blocks: [words('One goes under the top, one under the shelf.')],
    }),
    step(4, 'Lay the shelf', { parts: [part('H')], blocks: [words('Three boards, spaced alike.')] }),
    step(5, 'Lay the top', { parts: ['F', 'G'].map(part), blocks: [prose] }),
    step(6, 'Fit the back boards and the pot shelf', {
      parts: ['J', 'K'].map(part),
      hardware: [{ item: hardware('hook', 'Utility hook'), count: 5, origin }],
      blocks: [words('From the worktop up.')],
    }),
  ];
}
