/** What stands on the labels that a builder sticks on the parts: one for each piece of the cut list, in its order. */
import type { CutListRow } from '../../cutting/types.ts';
import type { Copy, Face, Part, Plan } from '../../model/types.ts';
import { printed } from '../../units.ts';
import type { FinishedPlan } from '../types.ts';
import { plain, type SheetInline, sheetSize } from './pdf-prose.ts';

/** One label. */
export interface PartLabel {
  readonly letter: string;
  readonly name: string;
  /** `2 of 4`, or nothing for a part that is there once. */
  readonly count: string;
  /** Thickness, width and length as cut. */
  readonly size: readonly SheetInline[];
  /** Which of its copies: `left front`; nothing where there is only one. `measure first` where its size is only a guide. */
  readonly place: string;
  /** `Step 2: Build the two ends`. */
  readonly step: string;
  /** The face to stick it on: `back face`. */
  readonly face: string;
  /** Where its arrow points: `top`. */
  readonly towards: string;
}

/** Axes of the piece: across, deep, up; each with the words for its ends, the near one first. */
const ENDS: readonly (readonly [Face, Face])[] = [
  ['left', 'right'],
  ['front', 'back'],
  ['bottom', 'top'],
];
const MIDDLES = ['mid-width', 'mid-depth', 'mid-height'] as const;
const AXIS = { across: 0, deep: 1, up: 2 } as const;
/** In the order in which a place is said: `top left front`. */
const SAID = [2, 0, 1] as const;

/** Middles of copies nearer than this, mm, are at one place along an axis. */
const SAME = 1;

/** The labels of a plan: as many as the cut list has pieces. */
export function partLabels({ plan, cutList }: Pick<FinishedPlan, 'plan' | 'cutList'>): PartLabel[] {
  return cutList.rows.flatMap((row) => {
    const part = plan.parts.find(({ key }) => key === row.part);
    const copies = part?.copies.filter(({ id }) => row.copies.includes(id)) ?? [];
    const [first] = copies;
    const axes = part && first ? saidOf(part, first) : SAID;
    const ordered = [...copies].sort((a, b) =>
      axes.reduce<number>((before, axis) => before || middle(a, axis) - middle(b, axis), 0),
    );
    return Array.from({ length: row.quantity }, (_, index) => {
      // A glued-up panel has more boards than copies: so many for each.
      const copy = ordered[Math.floor((index * ordered.length) / row.quantity)];
      return labelOf(row, index, part, copy, plan);
    });
  });
}

function labelOf(
  row: CutListRow,
  index: number,
  part: Part | undefined,
  copy: Copy | undefined,
  plan: Plan,
): PartLabel {
  const step = plan.steps.find(({ adds }) => adds.includes(row.part));
  return {
    letter: plain(row.letter),
    name: plain(row.name),
    count: row.quantity > 1 ? `${index + 1} of ${row.quantity}` : '',
    size: sizeOf(row, plan),
    place: [
      part === undefined || copy === undefined ? '' : placeOf(part, copy),
      row.fit === 'measured' ? 'measure first' : '',
    ]
      .filter((words) => words !== '')
      .join(', '),
    step: step === undefined ? '' : plain(`Step ${step.index}: ${step.title}`),
    ...(part === undefined || copy === undefined
      ? { face: '', towards: '' }
      : { face: `${faceOf(part, copy, plan)} face`, towards: ENDS[AXIS[part.runs]]?.[1] ?? '' }),
  };
}

/** `1 1/2″ × 3 1/2″ × 35 1/4″`, or `45 × 95 × 880 mm`. */
function sizeOf(row: CutListRow, { edition }: Plan): SheetInline[] {
  const size = (length: number, bare: boolean) => sheetSize(printed(length, edition.numbers), bare);
  return [size(row.thickness, true), ' × ', size(row.width, true), ' × ', size(row.length, false)];
}

const middle = ({ bounds }: Copy, axis: number): number =>
  ((bounds.min[axis] ?? 0) + (bounds.max[axis] ?? 0)) / 2;

/** Where a copy is among the copies of its part: by the axes along which they differ, each only where it tells more apart. */
function placeOf(part: Part, copy: Copy): string {
  const told: { axis: number; word: string }[] = [];
  let together: readonly Copy[] = part.copies;
  for (const axis of saidOf(part, copy)) {
    const places = distinct(part.copies.map((one) => middle(one, axis)));
    const own = places.findIndex((place) => Math.abs(place - middle(copy, axis)) <= SAME);
    const still = together.filter((one) => Math.abs(middle(one, axis) - middle(copy, axis)) <= SAME);
    if (places.length < 2 || still.length === together.length) continue;
    told.push({ axis, word: placeWord(axis, own, places.length) });
    together = still;
  }
  const only = told.length === 1;
  return told.map(({ word }) => (only && MIDDLES.some((one) => one === word) ? 'middle' : word)).join(' ');
}

/** The axes in the order in which they are told: of courses first the one that they follow, since those of a roof lie at heights too. */
function saidOf({ courses }: Part, { frame }: Copy): readonly number[] {
  if (!courses) return SAID;
  const [first = 0] = [...SAID].sort((a, b) => Math.abs(frame.width[b] ?? 0) - Math.abs(frame.width[a] ?? 0));
  return [first, ...SAID.filter((axis) => axis !== first)];
}

/** Values in order, those that are the same once. */
function distinct(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.filter((value, index) => index === 0 || value - (sorted[index - 1] as number) > SAME);
}

/** `left`, `mid-width`, `right`, or `3 of 7 from the left`. */
function placeWord(axis: number, index: number, count: number): string {
  const [near, far] = ENDS[axis] as readonly [Face, Face];
  if (count > 3) return `${index + 1} of ${count} from the ${near}`;
  if (index === 0) return near;
  return index === count - 1 ? far : (MIDDLES[axis] as string);
}

/**
 * The wide face that shows least: the one that looks into the piece, of a board that lies flat its underside; never one that the plan
 * names as visible where the other isn't.
 */
function faceOf(part: Part, copy: Copy, { outline }: Plan): Face {
  const along = AXIS[part.runs];
  const [axis = 2] = [0, 1, 2]
    .filter((one) => one !== along)
    .sort((a, b) => Math.abs(copy.frame.thickness[b] ?? 0) - Math.abs(copy.frame.thickness[a] ?? 0));
  const [near, far] = ENDS[axis] as readonly [Face, Face];
  const half = [outline.width, outline.depth, outline.height].map((size) => size / 2);
  const inward = axis === 2 || middle(copy, axis) > (half[axis] ?? 0) ? near : far;
  const other = inward === near ? far : near;
  // The plan names the faces of the first copy; those of one that is mirrored along this axis look the other way.
  const moved = distinct(part.copies.map((one) => middle(one, axis))).length > 1;
  const shows = !moved && part.visible.includes(inward) && !part.visible.includes(other);
  return shows ? other : inward;
}
