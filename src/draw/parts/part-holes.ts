/** What a part's sheet says of holes and slots: their places, equal spacings together, and what is bored in words. */
import type { BlankSize, Vec3 } from '../../model/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import { equalSpaces } from '../paper/spaces.ts';
import type { BoardSide } from '../views/board-views.ts';
import {
  type Feature,
  type FeatureSize,
  lengthAlong,
  near,
  type Of,
  oneSided,
  placed,
  SAME,
  type Saying,
  spanned,
} from './feature.ts';
import { pocketCount, setOnce, settingWords } from './part-pockets.ts';

type HoleAt = { index: number; shape: Of<'hole'> };
type SlotAt = { index: number; shape: Of<'slot'> };

/** Something that has a place of its own on a side. */
interface PlacedAt {
  readonly index: number;
  readonly at: Vec3;
}

/** The two own axes in which a hole's place on its side is measured, and the view that shows it. */
export function gridOf(side: Of<'hole'>['side']): { on: BoardSide; axes: readonly [0 | 1 | 2, 0 | 1 | 2] } {
  if (side === 'face' || side === 'reverse') return { on: 'face', axes: [0, 1] };
  if (side === 'low edge' || side === 'high edge') return { on: 'edge', axes: [0, 2] };
  return { on: 'end', axes: [1, 2] };
}

/** The view in which a hole or slot is set out. What goes straight through is set out on the face drawn. */
const viewOf = (shape: Of<'hole'> | Of<'slot'>, size: BlankSize, say: Saying): BoardSide =>
  oneSided(shape, size.thickness) === 'reverse' ? say.on : gridOf(shape.side).on;

/** In groups by a text, in order. */
export function grouped<T>(items: readonly T[], keyOf: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return [...groups.values()];
}

/** Alike in everything but their place; of a pocket the drawing shows to which end it runs. */
export const kindOfHole = ({ shape: hole }: HoleAt): string =>
  JSON.stringify([
    hole.side,
    hole.name,
    ...[
      hole.diameter,
      hole.depth ?? -1,
      ...hole.axis.map((v) => (hole.name === 'pocket' ? Math.abs(v) : v)),
    ].map((v) => (v + 0).toFixed(3)),
    hole.counterbore ?? 0,
    hole.countersink ?? 0,
    hole.beyond ?? 0,
  ]);

export function holeFeatures(holes: readonly HoleAt[], size: BlankSize, say: Saying): Feature[] {
  const kinds = grouped(holes, kindOfHole);
  const once = setOnce(holes);
  return kinds.flatMap((alike): Feature[] => {
    const { shape } = alike[0] as HoleAt;
    const { axes } = gridOf(shape.side);
    const on = viewOf(shape, size, say);
    const widest = Math.max(
      shape.diameter,
      shape.counterbore?.diameter ?? 0,
      shape.countersink?.diameter ?? 0,
    );
    // Where there are several kinds, words need to tell them apart.
    const name = kinds.length > 1 ? `the ${diameterText(shape.diameter, say)} hole` : 'the hole';
    const items = alike.map(({ index, shape: one }): PlacedAt => ({ index, at: one.entry }));
    return [
      {
        kind: 'note',
        on,
        at: alike.map(({ shape: one }) => one.entry),
        round: widest / 2,
        text:
          once && shape.name === 'pocket'
            ? [pocketCount(alike.length), ...sideWords(shape, say)]
            : holeWords(alike, say),
        of: alike.map(({ index }) => `${index} hole`),
      },
      ...placeSizes(items, on, axes, size, say, `the middle of ${name}${alike.length > 1 ? 's' : ''}`),
    ];
  });
}

const diameterText = (diameter: number, say: Saying): string =>
  say
    .diameter(diameter)
    .map((run) => (run.kind === 'text' ? run.text : run.kind === 'size' ? say.plain(run.size) : ''))
    .join('');

/** Places of things alike: rows by their spacing, the rest one by one, each place said once for all that share it. */
function placeSizes(
  items: readonly PlacedAt[],
  on: BoardSide,
  axes: readonly [0 | 1 | 2, 0 | 1 | 2],
  size: BlankSize,
  say: Saying,
  what: string,
): FeatureSize[] {
  const rows: FeatureSize[] = [];
  const rest = rowSizes(items, on, axes, size, say, rows);
  const sizes = new Map<string, FeatureSize>();
  for (const { item, axis } of rest)
    for (const one of placed(on, axis, item.at[axis], size, say, [`${item.index} ${'xyz'[axis]}`], what)) {
      const key = `${axis} ${one.from.toFixed(1)} ${one.to.toFixed(1)}`;
      const known = sizes.get(key);
      // Of several places the one nearest to an end of the board says on which side the size stands.
      sizes.set(key, known ? { ...known, of: [...known.of, ...one.of] } : { ...one, beside: item.at[0] });
    }
  return [...rows, ...sizes.values()];
}

/** Equal spacings of three or more in line, said as `5 × 60 = 300`; gives the places that are still to be said. */
function rowSizes(
  alike: readonly PlacedAt[],
  on: BoardSide,
  axes: readonly [0 | 1 | 2, 0 | 1 | 2],
  size: BlankSize,
  say: Saying,
  features: FeatureSize[],
): { item: PlacedAt; axis: 0 | 1 | 2 }[] {
  const left: { item: PlacedAt; axis: 0 | 1 | 2 }[] = [];
  for (const axis of axes) {
    const other = axes[0] === axis ? axes[1] : axes[0];
    for (const line of grouped(alike, ({ at }) => (at[other] + 0).toFixed(1))) {
      const sorted = [...line].sort((a, b) => a.at[axis] - b.at[axis]);
      const at = (i: number): number => (sorted[i] as PlacedAt).at[axis];
      const pitch = sorted.length > 1 ? at(1) - at(0) : 0;
      const even = sorted.length > 2 && pitch > 1 && sorted.every((_, i) => near(at(i), at(0) + i * pitch));
      if (!even) {
        for (const item of line) left.push({ item, axis });
        continue;
      }
      const spaces = sorted.length - 1;
      const [from, to] = [at(0), at(spaces)];
      // The end of the row that is nearer to an end of the board is the one measured.
      const whole = lengthAlong(size, axis);
      const start = from <= whole - to + SAME ? sorted[0] : sorted[spaces];
      left.push({ item: start as PlacedAt, axis });
      const of = sorted.map(({ index }) => `${index} ${'xyz'[axis]} row`);
      const said = equalSpaces(spaces, to - from, (length) => say.size(length));
      const known = features.findIndex(
        (one) =>
          one.axis === axis && near(one.from, from) && JSON.stringify(one.text) === JSON.stringify(said),
      );
      if (known >= 0) {
        // The same row again on another line, such as holes in a grid.
        const one = features[known] as FeatureSize;
        features[known] = { ...one, of: [...one.of, ...of] };
        continue;
      }
      features.push({
        kind: 'size',
        on,
        axis,
        from,
        to,
        text: said,
        of,
      });
    }
  }
  return left;
}

/** `, from the back`: the side it is bored from, where that isn't the face looked at and matters for the shape. */
function sideWords(shape: Of<'hole'> | Of<'slot'>, say: Saying): Run[] {
  if (shape.side === 'face') return [];
  if (shape.side !== 'reverse') return [text(`, in the ${say.side(shape.side)}`)];
  return oneSided(shape, 0) === 'reverse' ? say.fromBehind() : [];
}

/** `10° towards the upper edge`: the side of the board as it lies on the sheet, and for each side how far out of square. */
function leanWords({ side, axis }: Of<'hole'>, say: Saying): string {
  const { axes } = gridOf(side);
  const square = [0, 1, 2].find((i) => !axes.includes(i as 0 | 1 | 2)) as 0 | 1 | 2;
  const leans = axes.flatMap((i) => {
    const angle = (Math.atan(Math.abs(axis[i] / axis[square])) * 180) / Math.PI;
    if (angle < 0.05) return [];
    // The drill goes into the wood along its axis: its outer end leans the other way.
    const low = axis[i] > 0;
    const towards = (
      [
        ['start', 'end'],
        ['low edge', 'high edge'],
        ['reverse', 'face'],
      ] as const
    )[i]?.[low ? 0 : 1];
    return towards === undefined ? [] : [`${say.angle(angle)} towards the ${say.side(towards)}`];
  });
  return leans.join(' and ');
}

/** `4 × Ø 5, through`; `Ø 10, 20 deep`; `2 pocket holes Ø 9.5, 21 deep, then Ø 4, at 15° to the face`. */
export function holeWords(alike: readonly HoleAt[], say: Saying): Line {
  const { shape } = alike[0] as HoleAt;
  if (shape.name === 'pocket')
    return [pocketCount(alike.length), text(' '), ...settingWords(shape, say), ...sideWords(shape, say)];
  const { counterbore, countersink, beyond } = shape;
  const line: Run[] = [
    ...(alike.length > 1 ? [text(`${alike.length} × `)] : []),
    ...say.diameter(shape.diameter),
    ...(shape.depth === undefined ? [text(' through')] : [text(', '), say.size(shape.depth), text(' deep')]),
  ];
  if (beyond) line.push(text(', then '), ...say.diameter(beyond.diameter));
  if (counterbore)
    line.push(
      text(', counterbore '),
      ...say.diameter(counterbore.diameter),
      text(', '),
      say.size(counterbore.depth),
      text(' deep'),
    );
  if (countersink)
    line.push(
      text(', countersunk '),
      ...say.diameter(countersink.diameter),
      text(`, ${say.angle(countersink.angle)}`),
    );
  if (shape.angle > 0.01) line.push(text(`, ${leanWords(shape, say)}`));
  line.push(...sideWords(shape, say));
  return line;
}

// ---------------------------------------------------------------- slots

/** Alike in everything but their place. */
export const kindOfSlot = ({ shape: slot }: SlotAt): string =>
  JSON.stringify([
    slot.side,
    ...[slot.width, slot.depth ?? -1, ...slot.to.map((v, i) => v - (slot.from[i] as number))].map((v) =>
      (v + 0).toFixed(2),
    ),
  ]);

export function slotFeatures(slots: readonly SlotAt[], size: BlankSize, say: Saying): Feature[] {
  return grouped(slots, kindOfSlot).flatMap((alike): Feature[] => {
    const { shape } = alike[0] as SlotAt;
    const { axes } = gridOf(shape.side);
    const on = viewOf(shape, size, say);
    const middles = alike.map(
      ({ shape: { from, to } }) => from.map((v, i) => (v + (to[i] as number)) / 2) as unknown as Vec3,
    );
    return [
      {
        kind: 'note',
        on,
        at: middles,
        round: shape.width / 2,
        text: slotWords(alike, say),
        of: alike.map(({ index }) => `${index} slot`),
      },
      ...(alike.length > 1
        ? severalSlots(alike, on, axes, size, say)
        : oneSlot(alike[0] as SlotAt, on, axes, size, say)),
    ];
  });
}

/** From the middle of one round end to that of the other, and where that begins. */
function oneSlot(
  { index, shape }: SlotAt,
  on: BoardSide,
  axes: readonly [0 | 1 | 2, 0 | 1 | 2],
  size: BlankSize,
  say: Saying,
): FeatureSize[] {
  return axes.flatMap((axis): FeatureSize[] => {
    const [from, to] = lowFirst(shape, axis);
    if (near(from, to))
      return placed(on, axis, from, size, say, [`${index} ${'xyz'[axis]}`], 'the middle of the slot');
    return spanned(on, axis, from, to, size, say, `${index}`, 'the middles of the ends of the slot').map(
      (one) => ({
        ...one,
        beside: shape.from[0],
      }),
    );
  });
}

/** Slots alike: the places of their first ends, and once how far it is to the other. */
function severalSlots(
  alike: readonly SlotAt[],
  on: BoardSide,
  axes: readonly [0 | 1 | 2, 0 | 1 | 2],
  size: BlankSize,
  say: Saying,
): FeatureSize[] {
  const first = alike[0] as SlotAt;
  const items = alike.map(({ index, shape }): PlacedAt => ({ index, at: shape.from }));
  const spans = axes.flatMap((axis): FeatureSize[] => {
    const [from, to] = lowFirst(first.shape, axis);
    if (near(from, to)) return [];
    return [
      {
        kind: 'size',
        on,
        axis,
        from,
        to,
        beside: first.shape.from[0],
        text: [text(`${alike.length} × `), say.size(to - from)],
        of: alike.map(({ index }) => `${index} ${'xyz'[axis]} span`),
        what: 'the middles of the ends of each slot',
      },
    ];
  });
  return [...placeSizes(items, on, axes, size, say, 'the middles of the ends of the slots'), ...spans];
}

const lowFirst = ({ from, to }: Of<'slot'>, axis: 0 | 1 | 2): [number, number] => [
  Math.min(from[axis], to[axis]),
  Math.max(from[axis], to[axis]),
];

/** `3 slots 6 wide, 9 deep, from the back`. */
export function slotWords(alike: readonly SlotAt[], say: Saying): Line {
  const { shape } = alike[0] as SlotAt;
  return [
    text(alike.length > 1 ? `${alike.length} slots ` : 'slot '),
    say.size(shape.width),
    text(' wide, '),
    ...(shape.depth === undefined ? [text('through')] : [say.size(shape.depth), text(' deep')]),
    ...sideWords(shape, say),
  ];
}
