/**
 * Pieces that may be added to a block or a sheet, in classes of what each loses by itself: those that lose most come first, so that what a block may
 * still lose says from where on they are worth a look.
 */
import type { Blocks } from './blocks.ts';

/** Classes of pieces by what they lose. */
const CLASSES = 64;

/** Pieces that may be added to a block or sheet, those that lose most first; `own` is what each loses by itself. */
export interface Choice {
  readonly ids: Int32Array;
  readonly own: Float64Array;
  readonly extent: Int32Array;
  readonly worth: Float64Array;
  readonly area: Float64Array;
  /** The first ones, of the full length, of which a block must have one. */
  readonly leads: number;
}

/** Leads and others each from those that lose most, in classes of what is allowed. */
export function inOrder(
  blocks: Blocks,
  found: readonly number[],
  lost: readonly number[],
  across: Int32Array,
  leads: number,
  most: number,
): Choice {
  const { worth, area } = blocks;
  const count = found.length;
  // a counting sort: class by class, and in each as they came
  const starts = new Int32Array(2 * CLASSES + 1);
  const classes = new Uint8Array(count);
  for (let n = 0; n < count; n++) {
    const share = most > 0 && Number.isFinite(most) ? (lost[n] as number) / most : 0;
    const is =
      CLASSES -
      1 -
      Math.max(0, Math.min(CLASSES - 1, Math.floor(share * CLASSES))) +
      (n < leads ? 0 : CLASSES);
    classes[n] = is;
    starts[is + 1] = (starts[is + 1] as number) + 1;
  }
  for (let is = 0; is < 2 * CLASSES; is++)
    starts[is + 1] = (starts[is + 1] as number) + (starts[is] as number);
  const choice = {
    ids: new Int32Array(count),
    own: new Float64Array(count),
    extent: new Int32Array(count),
    worth: new Float64Array(count),
    area: new Float64Array(count),
    leads,
  };
  for (let n = 0; n < count; n++) {
    const is = classes[n] as number;
    const place = starts[is] as number;
    starts[is] = place + 1;
    const id = found[n] as number;
    choice.ids[place] = id;
    // the least that one of its class loses, so that they fall from one to the next
    const step = CLASSES - 1 - (is % CLASSES);
    choice.own[place] = step === 0 ? -Infinity : (step * most) / CLASSES;
    choice.extent[place] = across[id] as number;
    choice.worth[place] = worth[id] as number;
    choice.area[place] = area[id] as number;
  }
  return choice;
}

/** The least of some values; Infinity of none. */
export const minimum = (values: Int32Array): number => {
  let least = Infinity;
  for (const value of values) if (value < least) least = value;
  return least;
};

/** The first place from `start` on, of values that fall, at which they are no more than `most`. */
export function firstWithin(falling: Float64Array, start: number, end: number, most: number): number {
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((falling[middle] as number) > most) low = middle + 1;
    else high = middle;
  }
  return low;
}
