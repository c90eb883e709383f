/** The best set of sheets among those that a search has filled: a set-covering programme. */
import type { Column, Row, Solver } from '../highs.ts';
import { type Filled, fill } from './fill.ts';
import type { Yard } from './kinds.ts';
import type { Sheets } from './search.ts';
import { type KindTree, without } from './tree.ts';

/** Limits of the integer search, in its own steps. */
const LIMITS = { nodes: 40, pivots: 1000, gap: 1e-6 };
/** Most sheets to choose among: those that hold most for their price. */
const CANDIDATES = 500;

/** Picks sheets that hold all parts for the least cost; nothing where that is no better than what is there or can't be found. */
export function pickBest(
  yard: Yard,
  pool: readonly Filled[],
  best: Sheets,
  solver: Solver,
): Sheets | undefined {
  if (best.missing.some((count) => count > 0) || best.sheets.length < 2) return undefined;
  const worth = (sheet: Filled): number =>
    sheet.area / Math.max(1e-9, (yard.sizes[sheet.size] as Yard['sizes'][number]).stock.price);
  const likely = pool
    .map((sheet, index) => ({ sheet, index }))
    .sort((a, b) => worth(b.sheet) - worth(a.sheet) || a.index - b.index)
    .slice(0, CANDIDATES)
    .map(({ sheet }) => sheet);
  const candidates = [...best.sheets, ...likely];
  const rows: Row[] = yard.kinds.map((kind) => ({ lower: kind.demand }));
  const limitRows = yard.sizes.map((size) =>
    Number.isFinite(size.limit) ? rows.push({ upper: size.limit }) - 1 : undefined,
  );
  const columns = candidates.map((sheet): Column => {
    const size = yard.sizes[sheet.size] as Yard['sizes'][number];
    const own: number[] = [];
    const values: number[] = [];
    sheet.counts.forEach((count, kind) => {
      if (count === 0) return;
      own.push(kind);
      values.push(count);
    });
    const limit = limitRows[sheet.size];
    return {
      cost: size.stock.price,
      rows: limit === undefined ? own : [...own, limit],
      values: limit === undefined ? values : [...values, 1],
    };
  });
  const start = candidates.map((_, index) => (index < best.sheets.length ? 1 : 0));
  const answer = solver.integer({ rows, columns, start }, LIMITS);
  if (answer.values === undefined) return undefined;
  const chosen: Filled[] = [];
  candidates.forEach((sheet, index) => {
    for (let n = Math.round(answer.values?.[index] ?? 0); n > 0; n--) chosen.push(sheet);
  });
  return withoutSurplus(yard, chosen);
}

/** Takes out what is more than needed: from the emptiest sheets first. */
export function withoutSurplus(yard: Yard, chosen: readonly Filled[]): Sheets | undefined {
  const surplus = yard.kinds.map((kind) => -kind.demand);
  for (const sheet of chosen)
    sheet.counts.forEach((count, kind) => {
      surplus[kind] = (surplus[kind] as number) + count;
    });
  const sheets: Filled[] = [];
  for (const sheet of [...chosen].sort((a, b) => a.area - b.area)) {
    if (!sheet.counts.some((count, kind) => count > 0 && (surplus[kind] as number) > 0)) sheets.push(sheet);
    else if (sheet.tree !== undefined) {
      const tree = without(sheet.tree, surplus, yard.job.kerf);
      if (tree.kind !== 'offcut') sheets.push(filledBy(yard, sheet.size, tree));
    } else {
      // what is left goes in again, in the same order
      const order: number[] = [];
      for (const { kind } of sheet.placements)
        if ((surplus[kind] as number) > 0) surplus[kind] = (surplus[kind] as number) - 1;
        else order.push(kind);
      if (order.length === 0) continue;
      const again = refill(yard, sheet.size, order);
      if (again === undefined) return undefined;
      sheets.push(again);
    }
  }
  return { sheets, missing: yard.kinds.map((_, kind) => Math.max(0, -(surplus[kind] as number))) };
}

/** A sheet from its tree of cuts. */
export function filledBy(yard: Yard, size: number, tree: KindTree): Filled {
  const counts = new Int32Array(yard.kinds.length);
  const count = (piece: KindTree): void => {
    if (piece.kind === 'split') for (const one of piece.pieces) count(one);
    else if (piece.kind === 'part') counts[piece.part] = (counts[piece.part] as number) + 1;
  };
  count(tree);
  const area = yard.kinds.reduce(
    (sum, kind, index) => sum + kind.length * kind.width * (counts[index] as number),
    0,
  );
  return { size, placements: [], tree, counts, area };
}

/** The same parts in the same sheet by one of the rules; nothing where none of them gets all in. */
function refill(yard: Yard, size: number, order: readonly number[]): Filled | undefined {
  const meter = { looks: 0 };
  for (const fit of ['side', 'area', 'long'] as const)
    for (const split of ['larger', 'smaller', 'rip', 'crosscut'] as const) {
      const filled = fill(yard, size, order, { fit, split }, meter);
      if (filled.placements.length === order.length) return filled;
    }
  return undefined;
}
