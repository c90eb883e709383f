/**
 * Lower bounds on what sheets cost, whatever the layout, guillotine or not.
 *
 * Give each part a worth along the length and one across the width, so that what fits in a line along any sheet is worth no more
 * than F, and what fits in a line across it no more than G. Then all that fits on the sheet is worth no more than F × G in products
 * (conservative scales; Fekete and Schepers 2004). Here one of the two is fixed and the other is found by a linear programme whose
 * columns are the ways to fill a line (Scheithauer's bar relaxation), then the other way about, as long as the bound grows. The area
 * bound is the start: the worth across the width is the width itself.
 */

import { Knapsack } from '../boards/knapsack.ts';
import type { Column, Row, Solver } from '../highs.ts';
import { fits, type Kind, SAME, type Yard } from './kinds.ts';
import { leastCost, type Scale } from './scales.ts';
import { commonStep } from './steps.ts';

/** A part in one of its positions, and how long it is along each side of a sheet. */
interface Position {
  readonly kind: number;
  readonly along: number;
  readonly across: number;
}

/** Most steps of a side in the knapsacks, where all sizes are whole steps; else fewer, and parts are rounded down to them. */
const MOST_STEPS = 100_000;
const STEPS = 24_000;
/** Rounds of pricing, and of turning from one side to the other. */
const ROUNDS = 120;
const TURNS = 2;
/** Most starts that are tried with thresholds. */
const STARTS = 5;
/** Scales after which the search for a better bound ends. */
const ENOUGH_SCALES = 20;
/** Scales that are taken together for the bound. */
const MOST_SCALES = 16;

/** Positions of all kinds that fit some sheet. */
function positionsOf(yard: Yard): Position[] {
  return yard.kinds.flatMap((kind, index) => {
    const plain = { kind: index, along: kind.length, across: kind.width };
    const turned = { kind: index, along: kind.width, across: kind.length };
    const lies = (at: Position): boolean =>
      yard.sizes.some((size) => fits({ length: at.along, width: at.across, turnable: false }, size));
    const both = kind.turnable && Math.abs(kind.length - kind.width) > SAME ? [plain, turned] : [plain];
    return both.filter(lies);
  });
}

/** A side of the matter: how long each position is in it, and each sheet. */
interface Side {
  readonly extents: readonly number[];
  readonly rooms: readonly number[];
}

/** A lower bound on a cost, and the scales that it was found by. */
export interface CostBound {
  readonly cost: number;
  readonly scales: readonly Scale[];
}

/**
 * A lower bound on the cost of the yard's job: that of whole sheets. It holds for all ways of cutting.
 *
 * @param enough a cost at which the bound need not be driven higher: that of the layout in hand
 */
export function costBound(yard: Yard, solver: Solver, enough: number): CostBound {
  const positions = positionsOf(yard);
  const along: Side = {
    extents: positions.map((one) => one.along),
    rooms: yard.sizes.map((size) => size.length),
  };
  const across: Side = {
    extents: positions.map((one) => one.across),
    rooms: yard.sizes.map((size) => size.width),
  };
  let best = 0;
  const scales: Scale[] = [];
  const tried = (found: Scale): boolean => {
    scales.push(found);
    if (scales.length > ENOUGH_SCALES) return true;
    const least = leastCost(yard.sizes, scales.slice(-MOST_SCALES));
    // limits that are too low make it impossible: the search says so better than a bound
    if (Number.isFinite(least)) best = Math.max(best, least);
    return best >= enough - 1e-5;
  };
  for (const [fixed, free] of [
    [across, along],
    [along, across],
  ] as const) {
    const widest = Math.max(...fixed.rooms);
    for (const worths of starts(fixed, widest))
      if (turn(yard, positions, fixed, free, worths, solver, tried))
        return { cost: best, scales: scales.slice(-MOST_SCALES) };
  }
  return { cost: best, scales: scales.slice(-MOST_SCALES) };
}

/**
 * Worths to start with: the extent itself; one over how many fit side by side; extents rounded down to a half, a third or a fourth of a
 * sheet (Fekete and Schepers' functions u); then with a threshold, above whose complement a part takes the whole and below it nothing.
 */
function starts(side: Side, widest: number): number[][] {
  const plain = side.extents.map((extent) => extent / widest);
  const small = [...new Set(side.extents.filter((extent) => extent <= widest / 2 + SAME))].sort(
    (a, b) => b - a,
  );
  const step = Math.max(1, Math.ceil(small.length / STARTS));
  const thresholds = small.filter((_, index) => index % step === 0);
  const rooms = [...new Set(side.rooms)].sort((a, b) => b - a);
  return [
    plain,
    side.extents.map((extent) => 1 / Math.max(1, Math.floor(widest / extent + SAME))),
    ...rooms.flatMap((room) =>
      [1, 2, 3].map((k) => side.extents.map((extent) => roundedShare(extent / room, k))),
    ),
    ...thresholds.map((least) =>
      side.extents.map((extent) =>
        extent > widest - least + SAME ? 1 : extent < least - SAME ? 0 : extent / widest,
      ),
    ),
  ];
}

/** A share x rounded down to parts of k: x itself where (k + 1)·x is whole, else ⌊(k + 1)·x⌋ / k. */
function roundedShare(share: number, k: number): number {
  const parts = (k + 1) * share;
  return Math.abs(parts - Math.round(parts)) <= 1e-9 ? share : Math.floor(parts) / k;
}

/** Turns from side to side while the bound grows. True where it is enough. */
function turn(
  yard: Yard,
  positions: readonly Position[],
  fixed: Side,
  free: Side,
  start: readonly number[],
  solver: Solver,
  tried: (found: Scale) => boolean,
): boolean {
  let worths = start;
  let sides = [fixed, free] as const;
  let last = 0;
  for (let n = 0; n < TURNS * 2; n++) {
    const found = scale(yard, positions, sides[0], sides[1], worths, solver);
    if (found === undefined) return false;
    if (tried(found)) return true;
    if (found.bound <= last * (1 + 1e-6)) return false;
    last = found.bound;
    worths = found.worths;
    sides = [sides[1], sides[0]];
  }
  return false;
}

/** The most that a line of a sheet can hold in worths, and the way to fill it so. */
function fullest(
  yard: Yard,
  positions: readonly Position[],
  side: Side,
  worths: readonly number[],
): (room: number) => { worth: number; filling: readonly (readonly [number, number])[] } {
  const longest = Math.max(...side.rooms);
  const step = commonStep([longest, ...side.extents, ...side.rooms], MOST_STEPS) ?? longest / STEPS;
  const knapsack = new Knapsack(Math.round(longest / step) + 1);
  positions.forEach((one, index) => {
    const size = Math.max(1, Math.floor((side.extents[index] as number) / step + SAME));
    knapsack.add(index, {
      size,
      worth: worths[index] as number,
      bound: (yard.kinds[one.kind] as Kind).demand,
    });
  });
  return (room) => {
    const capacity = Math.ceil(room / step - SAME);
    return { worth: knapsack.worth(capacity), filling: knapsack.filling(capacity) };
  };
}

/**
 * With worths fixed on one side, the worths on the other that make the bound largest.
 * Rows: one a kind (all its copies lie in some position), one a position (its worth is covered by lines), one a limited stock.
 */
function scale(
  yard: Yard,
  positions: readonly Position[],
  fixed: Side,
  free: Side,
  worths: readonly number[],
  solver: Solver,
): (Scale & { bound: number; worths: number[] }) | undefined {
  const most = fullest(yard, positions, fixed, worths);
  const line = fixed.rooms.map((room) => most(room).worth);
  const kinds = yard.kinds.length;
  const rows: Row[] = [
    ...yard.kinds.map((kind) => ({ lower: kind.demand })),
    ...positions.map(() => ({ lower: 0 })),
  ];
  const limits = yard.sizes.map((size, index) =>
    Number.isFinite(size.limit) && (line[index] as number) > 0
      ? rows.push({ upper: size.limit * (line[index] as number) }) - 1
      : undefined,
  );
  const dearest = Math.max(1, ...yard.sizes.map((size) => size.stock.price));
  const programme = solver.linear(rows);
  try {
    programme.add([
      ...positions.map(
        (one, index): Column => ({
          cost: 0,
          rows: [one.kind, kinds + index],
          values: [1, -(worths[index] as number)],
        }),
      ),
      // so that there is always an answer
      ...yard.kinds.map((_, index): Column => ({ cost: dearest * 1000, rows: [index], values: [1] })),
    ]);
    let best: (Scale & { bound: number; worths: number[] }) | undefined;
    for (let round = 0; round < ROUNDS; round++) {
      const optimum = programme.solve();
      if (optimum === undefined) return best;
      const duals = positions.map((_, index) => Math.max(0, optimum.duals[kinds + index] as number));
      const price = fullest(yard, positions, free, duals);
      const columns: Column[] = [];
      let shrink = 1;
      const spent = limits.map((row) => (row === undefined ? 0 : Math.min(0, optimum.duals[row] as number)));
      yard.sizes.forEach((size, index) => {
        const held = line[index] as number;
        if (held <= 0) return;
        const { worth, filling } = price(free.rooms[index] as number);
        const cost = size.stock.price / held;
        const all = worth + (spent[index] as number);
        if (all > cost) {
          shrink = Math.min(shrink, all > 0 ? cost / all : 1);
          if (all > cost + 1e-9 * dearest)
            columns.push({
              cost,
              rows: [
                ...filling.map(([position]) => kinds + position),
                ...(limits[index] === undefined ? [] : [limits[index]]),
              ],
              values: [...filling.map(([, count]) => count), ...(limits[index] === undefined ? [] : [1])],
            });
        }
      });
      const bound =
        shrink *
        (totalOf(yard, positions, worths, duals) +
          yard.sizes.reduce(
            (sum, size, index) =>
              spent[index] === 0
                ? sum
                : sum + (spent[index] as number) * size.limit * (line[index] as number),
            0,
          ));
      if (best === undefined || bound >= best.bound)
        best = {
          bound,
          worths: duals.map((dual) => dual * shrink),
          rooms: yard.sizes.map(
            (_, index) => price(free.rooms[index] as number).worth * (line[index] as number),
          ),
          total: totalOf(yard, positions, worths, duals),
        };
      if (columns.length === 0) return best;
      programme.add(columns);
    }
    return best;
  } finally {
    programme.dispose();
  }
}

/** Worth of all parts, each in the position in which it is worth least. */
function totalOf(
  yard: Yard,
  positions: readonly Position[],
  worths: readonly number[],
  duals: readonly number[],
): number {
  const least = new Array<number>(yard.kinds.length).fill(Infinity);
  positions.forEach((one, index) => {
    const worth = (worths[index] as number) * (duals[index] as number);
    least[one.kind] = Math.min(least[one.kind] as number, worth);
  });
  return yard.kinds.reduce((sum, kind, index) => sum + kind.demand * (least[index] as number), 0);
}
