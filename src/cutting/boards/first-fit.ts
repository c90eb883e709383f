/** A first layout by the builder's own rule, longest pieces first: something to improve on, and never worse than by hand. */
import type { Grid, Strip } from './grid.ts';
import {
  board,
  type Laid,
  type LaidBoard,
  type LaidSection,
  pieceOf,
  section,
  stockOf,
  widthOf,
} from './laid.ts';

/** Fills one board with the longest pieces that go in, ripping what is narrower from shared sections. */
function fillBoard(grid: Grid, stock: number, needed: readonly number[]): LaidBoard {
  const left = [...needed];
  const width = widthOf(grid, stock);
  const across = new Map<number, Strip>(width.strips.map((strip) => [strip.piece, strip]));
  const whole = new Set(width.kinds.flatMap((kind) => (kind.piece === undefined ? [] : [kind.piece])));
  const sections: LaidSection[] = [];
  let room = stockOf(grid, stock).capacity;
  for (let index = 0; index < grid.pieces.length; index++) {
    const { size } = pieceOf(grid, index);
    while ((left[index] as number) > 0 && size <= room) {
      if (whole.has(index)) {
        left[index] = (left[index] as number) - 1;
        sections.push(section(grid, [index], false));
      } else if (across.has(index)) {
        const strips: number[] = [];
        let side = width.across;
        // pieces are sorted by length, so all that come from here on are as long as the section or shorter
        for (let other = index; other < grid.pieces.length; other++) {
          const strip = across.get(other);
          while (strip !== undefined && (left[other] as number) > 0 && strip.across <= side) {
            left[other] = (left[other] as number) - 1;
            side -= strip.across;
            strips.push(other);
          }
        }
        sections.push(section(grid, strips, true));
      } else break;
      room -= size;
    }
  }
  return board(stock, sections);
}

const count = (grid: Grid, one: LaidBoard): number[] => {
  const counts = new Array<number>(grid.pieces.length).fill(0);
  for (const part of one.sections)
    for (const index of part.pieces) counts[index] = (counts[index] as number) + 1;
  return counts;
};

/**
 * Lays all pieces out board by board. Of several stocks the one that costs least for the wood that it uses comes next; where
 * one board takes all that is left, the cheapest such board.
 */
export function firstFit(grid: Grid, weights: readonly number[]): Laid {
  return firstFitFrom(grid, weights, { boards: [], missing: grid.pieces.map((piece) => piece.demand) });
}

/** Lays out in the same way what a layout misses, on boards beside its own. */
export function firstFitFrom(grid: Grid, weights: readonly number[], begun: Laid): Laid {
  const needed = [...begun.missing];
  const limits = grid.stocks.map((stock) => stock.limit);
  const boards: LaidBoard[] = [...begun.boards];
  for (const { stock } of boards) limits[stock] = (limits[stock] as number) - 1;
  const wood = grid.pieces.map((piece) => piece.size * (piece.width ?? grid.widths.at(-1)?.width ?? 1));
  while (needed.some((value) => value > 0)) {
    let best: { one: LaidBoard; counts: number[]; all: boolean; worth: number } | undefined;
    for (let stock = 0; stock < grid.stocks.length; stock++) {
      if ((limits[stock] as number) <= 0) continue;
      const one = fillBoard(grid, stock, needed);
      if (one.sections.length === 0) continue;
      const counts = count(grid, one);
      const all = counts.every((value, index) => value === needed[index]);
      const used = counts.reduce((sum, value, index) => sum + value * (wood[index] as number), 0);
      const weight = Math.max(weights[stock] as number, 1e-9);
      const worth = all ? -weight : used / weight;
      if (best === undefined || (all && !best.all) || (all === best.all && worth > best.worth))
        best = { one, counts, all, worth };
    }
    if (best === undefined) break;
    const { one, counts } = best;
    // an order of hundreds of equal pieces repeats the board as often as it stays the same
    const times = counts.reduce(
      (least, value, index) =>
        value > 0 ? Math.min(least, Math.floor((needed[index] as number) / value)) : least,
      limits[one.stock] as number,
    );
    for (let n = 0; n < times; n++) boards.push(one);
    limits[one.stock] = (limits[one.stock] as number) - times;
    counts.forEach((value, index) => {
      needed[index] = (needed[index] as number) - times * value;
    });
  }
  return { boards, missing: needed };
}
