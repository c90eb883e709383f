/**
 * A sheet job in whole steps: what all its sizes are multiples of, or a step so fine that little is lost. Parts are rounded down to
 * it and sheets too, which never makes a layout impossible that could be cut.
 */
import { fits, type Kind, SAME, type Yard } from './kinds.ts';

/** A kind of part as it can lie, in steps; sizes with a kerf. */
export interface Lie {
  readonly kind: number;
  /** Along the grain of the sheet. */
  readonly x: number;
  readonly y: number;
  readonly turned: boolean;
}

/** A yard in whole steps. */
export interface Steps {
  readonly step: number;
  readonly lies: readonly Lie[];
  /** By size of sheet. */
  readonly rooms: readonly { readonly x: number; readonly y: number }[];
  readonly demands: readonly number[];
}

/** Sizes that differ from a whole number of steps by less than this share of one are whole. */
const WHOLE = 1e-4;

/** What all sizes are whole multiples of; nothing where that is finer than the longest by more than `most`. */
export function commonStep(sizes: readonly number[], most: number): number | undefined {
  const longest = Math.max(...sizes);
  let step = longest;
  for (const size of sizes) {
    let [a, b] = [step, size];
    while (b > SAME) [a, b] = [b, a % b > b - SAME ? 0 : a % b];
    step = a;
    if (longest / step > most) return undefined;
  }
  return step;
}

/** The finest step that a yard needs, or the longest side divided by `most` where it would need a finer one. */
export function stepsOf(yard: Yard, most: number): Steps {
  const sides = [...yard.kinds, ...yard.sizes].flatMap(({ length, width }) => [length, width]);
  const longest = Math.max(...yard.sizes.flatMap(({ length, width }) => [length, width]));
  return inSteps(yard, commonStep(sides, most) ?? longest / most);
}

/** A yard in steps of a given size. */
export function inSteps(yard: Yard, step: number): Steps {
  const down = (size: number): number => Math.floor(size / step + WHOLE);
  const lies = yard.kinds.flatMap((kind, index): Lie[] =>
    waysOf(kind)
      .filter(({ length, width }) =>
        yard.sizes.some((size) => fits({ length, width, turnable: false }, size)),
      )
      .map(({ length, width, turned }) => ({
        kind: index,
        x: Math.max(1, down(length)),
        y: Math.max(1, down(width)),
        turned,
      })),
  );
  return {
    step,
    lies,
    rooms: yard.sizes.map(({ length, width }) => ({ x: down(length), y: down(width) })),
    demands: yard.kinds.map(({ demand }) => demand),
  };
}

function waysOf(kind: Kind): { length: number; width: number; turned: boolean }[] {
  const { length, width } = kind;
  const plain = { length, width, turned: false };
  const square = Math.abs(length - width) <= SAME;
  return kind.turnable && !square ? [plain, { length: width, width: length, turned: true }] : [plain];
}

/** All sums of the sizes, each at most so many times, up to a room, smallest first; the room itself is the last. */
export function sumsUpTo(
  sizes: readonly { readonly size: number; readonly count: number }[],
  room: number,
): Int32Array {
  const reached = new Uint8Array(room + 1);
  reached[0] = 1;
  const used = new Int32Array(room + 1);
  for (const { size, count } of sizes) {
    if (size > room) continue;
    // how many of this size a sum needs at least, where it is reached only by them
    for (let sum = 0; sum <= room; sum++) {
      if (reached[sum] === 1) used[sum] = 0;
      else if (sum >= size && reached[sum - size] === 1 && (used[sum - size] as number) < count) {
        used[sum] = (used[sum - size] as number) + 1;
        reached[sum] = 1;
      }
    }
  }
  reached[room] = 1;
  const sums: number[] = [];
  reached.forEach((is, sum) => {
    if (is === 1) sums.push(sum);
  });
  return Int32Array.from(sums);
}

/**
 * Sums of sizes that are no whole steps, each at most so many times, above nothing and below a room, smallest first. Of sums that come to the
 * same step the least and the greatest are given.
 */
export function trueSums(
  sizes: readonly { readonly size: number; readonly count: number }[],
  room: number,
  step: number,
): number[] {
  const places = Math.floor(room / step) + 1;
  const least = new Float64Array(places + 1).fill(Infinity);
  const greatest = new Float64Array(places + 1).fill(-Infinity);
  const add = (sum: number): void => {
    if (sum >= room - SAME) return;
    const place = Math.round(sum / step);
    least[place] = Math.min(least[place] as number, sum);
    greatest[place] = Math.max(greatest[place] as number, sum);
  };
  add(0);
  for (const { size, count } of sizes)
    for (let n = 0; n < Math.min(count, Math.floor(room / size + SAME)); n++)
      // from above, so that one more of the size is added once each time
      for (let place = places; place >= 0; place--) {
        if ((greatest[place] as number) < 0) continue;
        add((least[place] as number) + size);
        add((greatest[place] as number) + size);
      }
  const sums: number[] = [];
  for (let place = 0; place <= places; place++) {
    const [low, high] = [least[place] as number, greatest[place] as number];
    if (low > SAME && low < Infinity) sums.push(low);
    if (high > low + SAME) sums.push(high);
  }
  return sums;
}
