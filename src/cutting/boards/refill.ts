/**
 * Filling board after board with what is worth most for its price, over and over: pieces that ended in wasteful boards are worth
 * more the next time, so that they come where they fit (a sequential value correction, after Belov and Scheithauer 2007). It finds
 * the layouts whose boards are all nearly full, which rounding a linear optimum misses where lengths hardly repeat.
 */
import { type Grid, remaining, type SectionKind } from './grid.ts';
import { Knapsack } from './knapsack.ts';
import {
  board,
  type Laid,
  type LaidBoard,
  type LaidSection,
  pieceOf,
  section,
  settle,
  stockOf,
  type Weights,
  weightOf,
  widthOf,
} from './laid.ts';

/** Most work of all rounds: boards times section kinds times the steps of a board's length. */
const WORK = 60_000_000;
/** How far a round's worths are shaken, as a share. */
const SHAKEN = 0.06;

/**
 * Fills all boards anew, round by round, and gives the lightest layout.
 * @param known the lightest so far
 * @param target stops when a layout weighs no more than this
 * @param most rounds
 */
export function refill(grid: Grid, weights: Weights, known: Laid, target: number, most: number): Laid {
  let best = known;
  const worths = grid.pieces.map((_, index) => woodOf(grid, index));
  const kinds = grid.widths.reduce((sum, width) => sum + width.kinds.length, 0);
  const longest = Math.max(...grid.stocks.map((stock) => stock.capacity));
  const rounds = Math.min(
    most,
    Math.ceil(WORK / (Math.max(1, known.boards.length) * kinds * Math.min(longest, 4000))),
  );
  const random = chance();
  for (let round = 0; round < rounds && weightOf(best, weights) > target + 1e-9; round++) {
    const laid = fillAll(grid, weights, worths, weightOf(best, weights));
    if (laid !== undefined && weightOf(laid, weights) < weightOf(best, weights) - 1e-9) best = laid;
    worths.forEach((worth, index) => {
      worths[index] = worth * (1 + SHAKEN * random());
    });
  }
  return best;
}

/** Wood that a piece takes of the widest board, in steps of length. */
function woodOf(grid: Grid, index: number): number {
  const { size, width } = pieceOf(grid, index);
  const widest = grid.widths.at(-1)?.width ?? 1;
  return size * Math.min(1, (width ?? widest) / widest);
}

/** Numbers from 0 to 1 that are the same each time (Park and Miller 1988). */
function chance(): () => number {
  let state = 20_011;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** One layout; nothing where it gets heavier than `limit`. Worths are corrected on the way. */
function fillAll(grid: Grid, weights: Weights, worths: number[], limit: number): Laid | undefined {
  let laid: Laid = { boards: [], missing: grid.pieces.map((piece) => piece.demand) };
  let weight = 0;
  while (laid.missing.some((count) => count > 0)) {
    const limits = grid.stocks.map((stock) => stock.limit);
    for (const { stock } of laid.boards) limits[stock] = (limits[stock] as number) - 1;
    const left = remaining(grid, laid.missing, limits);
    const next = dearest(left, weights, worths);
    if (next === undefined) return undefined;
    weight += weights.boards[next.stock] as number;
    if (weight >= limit - 1e-9) return undefined;
    const settled = settle(grid, [...laid.boards, next]);
    correct(grid, worths, next);
    laid = settled;
  }
  return laid;
}

/** The board whose pieces are worth most for its weight. */
function dearest(grid: Grid, weights: Weights, worths: readonly number[]): LaidBoard | undefined {
  let best: { ratio: number; stock: number; make: () => LaidSection[] } | undefined;
  grid.widths.forEach((width, index) => {
    const stocks = grid.stocks.flatMap((stock, at) => (stock.width === index && stock.limit > 0 ? [at] : []));
    if (stocks.length === 0) return;
    const ripped = rippedWorths(grid, index, worths);
    const knapsack = new Knapsack(Math.max(...stocks.map((at) => stockOf(grid, at).capacity)));
    width.kinds.forEach((kind, at) => {
      const worth = kind.piece === undefined ? (ripped[at]?.worth ?? 0) : (worths[kind.piece] as number);
      if (kind.bound > 0) knapsack.add(at, { size: kind.size, worth, bound: kind.bound });
    });
    for (const at of stocks) {
      const { capacity } = stockOf(grid, at);
      const ratio = knapsack.worth(capacity) / Math.max(weights.boards[at] as number, 1e-9);
      if (ratio <= (best?.ratio ?? 0) * (1 + 1e-12)) continue;
      best = {
        ratio,
        stock: at,
        make: () =>
          knapsack.filling(capacity).flatMap(([kind, count]) => {
            const { piece } = widthOf(grid, at).kinds[kind] as SectionKind;
            const own = piece === undefined ? ripped[kind]?.pieces : [piece];
            return own === undefined || own.length === 0
              ? []
              : Array.from({ length: count }, () => section(grid, own, piece === undefined));
          }),
      };
    }
  });
  return best === undefined ? undefined : board(best.stock, best.make());
}

/** For each section kind that is ripped, the strips that are worth most. */
function rippedWorths(
  grid: Grid,
  index: number,
  worths: readonly number[],
): ({ readonly worth: number; readonly pieces: readonly number[] } | undefined)[] {
  const width = grid.widths[index] as Grid['widths'][number];
  const knapsack = new Knapsack(width.across);
  const found: ReturnType<typeof rippedWorths> = new Array(width.kinds.length).fill(undefined);
  let next = 0;
  for (let kind = width.kinds.length - 1; kind >= 0; kind--) {
    const { piece, size } = width.kinds[kind] as SectionKind;
    if (piece !== undefined) continue;
    for (; next < width.strips.length; next++) {
      const strip = width.strips[next] as Grid['widths'][number]['strips'][number];
      const { size: length, demand } = pieceOf(grid, strip.piece);
      if (length > size) break;
      if (demand > 0)
        knapsack.add(strip.piece, {
          size: strip.across,
          worth: worths[strip.piece] as number,
          bound: demand,
        });
    }
    found[kind] = {
      worth: knapsack.worth(width.across),
      pieces: knapsack.filling(width.across).flatMap(([one, count]) => new Array<number>(count).fill(one)),
    };
  }
  return found;
}

/** A piece of a board that is dear for its wood becomes worth more. */
function correct(grid: Grid, worths: number[], laid: LaidBoard): void {
  const pieces = laid.sections.flatMap((part) => part.pieces);
  const wood = pieces.reduce((sum, index) => sum + woodOf(grid, index), 0);
  const stock = stockOf(grid, laid.stock);
  // what the board would be worth were it full of such wood
  const full = Math.max(stock.room, wood);
  for (const index of new Set(pieces)) {
    const own = woodOf(grid, index) * (full / wood);
    worths[index] = 0.6 * (worths[index] as number) + 0.4 * own;
  }
}
