/**
 * Sheet layouts of least cost: then with the largest offcut that is worth keeping, then with the fewest settings of fence and stop.
 *
 * A search builds and rebuilds layouts of through cuts within the cap on their levels; a bound that holds for all cuts says how near
 * it came, and where that leaves something open, all sheets that a cheaper layout within the levels could have in it are looked at.
 * Everything stops on counts, never on the clock, so that a job gives the same layout each time; every layout passes the independent
 * check.
 */
import type { Solver } from '../highs.ts';
import { type CostBound, costBound } from './bound.ts';
import { checkSheets } from './check.ts';
import type { Prices } from './columns.ts';
import type { Filled } from './fill.ts';
import { sheetFault, type Yard, yardOf } from './kinds.ts';
import { MOST_KINDS, sheetsByFinerPrices } from './last-sheets.ts';
import { largerOffcut } from './offcut.ts';
import { cheaperSheets, type Limits } from './prove.ts';
import { costOf, type Sheets, searchSheets } from './search.ts';
import { serialSheets } from './serial.ts';
import { tidySheets } from './tidy.ts';
import { type KindTree, largestOffcut, placed } from './tree.ts';
import type { SheetJob, SheetPattern, SheetResult } from './types.ts';

/**
 * Lays the items of a job out on sheets.
 *
 * Kerf: parts side by side take their sizes and a kerf between each two; a trimmed edge takes the trim and one kerf.
 *
 * @param job sizes in one unit of the caller's choice; lengths along the grain
 * @param solver from `loadSolver()`
 * @returns trees of through cuts with counts, their cost, a lower bound on the cost with what it holds for, and a status: 'proved best'
 *   (among the layouts that the bound holds for), 'gap' with the gap, or 'impossible' where parts fit no sheet or the limits are too low:
 *   these are listed, one id a part, and the rest is laid out
 * @throws RangeError where the job makes no sense (a size that is not a positive number, two items with one id)
 */
export function layoutSheets(job: SheetJob, solver: Solver): SheetResult {
  const fault = sheetFault(job);
  if (fault !== undefined) throw new RangeError(fault);
  const result = layOut(yardOf(job), solver);
  const faults = checkSheets(job, result);
  if (faults.length > 0) throw new Error(`a sheet layout failed its check: ${faults.join('; ')}`);
  return result;
}

/** Costs nearer than this are equal. */
const EQUAL = 1e-5;

function layOut(yard: Yard, solver: Solver): SheetResult {
  const nothing = { patterns: [], cost: 0, sheets: 0, bound: 0, boundFor: 'any cuts', gap: 0 } as const;
  if (yard.kinds.length === 0)
    return {
      ...nothing,
      status: yard.unplaced.length > 0 ? 'impossible' : 'proved best',
      unplaced: yard.unplaced,
    };
  // the bound is driven no higher than a first layout costs, and the search no longer than down to the bound
  let any: CostBound | undefined;
  const reached = (cost: number): boolean => {
    any ??= costBound(yard, solver, cost);
    return cost <= any.cost + EQUAL;
  };
  const filled = searchSheets(yard, reached);
  const first = filled.missing.some((count) => count > 0) ? (fromAll(yard, solver) ?? filled) : filled;
  const unplaced = [...yard.unplaced, ...missingItems(yard, first)];
  const missing = first.missing.some((count) => count > 0);
  const rest = missing ? withoutMissing(yard, first) : yard;
  const whatever =
    rest === yard && any !== undefined ? any : costBound(rest, solver, costOf(yard, first.sheets));
  const proof =
    missing || costOf(yard, first.sheets) <= whatever.cost + EQUAL
      ? { sheets: first, bound: whatever.cost }
      : better(yard, first, whatever, solver);
  const found = { ...proof.sheets, sheets: largerOffcut(yard, proof.sheets.sheets, solver) };
  const cost = costOf(yard, found.sheets);
  const proved = cost - proof.bound <= EQUAL;
  const rounded = Math.round(cost * 1e6) / 1e6;
  return {
    patterns: patternsOf(yard, tidySheets(yard, found.sheets)),
    cost: rounded,
    sheets: found.sheets.length,
    bound: proved ? rounded : proof.bound,
    boundFor: proof.bound > whatever.cost + EQUAL && cost > whatever.cost + EQUAL ? 'levels' : 'any cuts',
    status: unplaced.length > 0 ? 'impossible' : proved ? 'proved best' : 'gap',
    gap: proved ? 0 : proof.bound > 0 ? (cost - proof.bound) / proof.bound : 1,
    unplaced,
  };
}

/** A layout of all parts on sheets of which there are only so many, where filling by rules left some out. */
function fromAll(yard: Yard, solver: Solver): Sheets | undefined {
  const all = yard.sizes.reduce(
    (sum, { limit, stock }) => sum + (stock.price > 0 ? limit * stock.price : 0),
    0,
  );
  if (!Number.isFinite(all)) return undefined;
  return cheaperSheets(yard, all + 1e-3, [], [], solver, LIMITS, { from: all - 1e-3 }).sheets;
}

/** Limits of the search for a cheaper layout: see `prove.ts`. */
const LIMITS: Limits = { work: 60_000_000, looks: 2_000_000, blocks: 80_000, ways: 3000 };
/** Where layouts were looked for with finer prices already, and hardly more is asked than what these prove. */
const LITTLE: Limits = { ...LIMITS, looks: 200_000 };

/** A cheaper layout where one is found, and a bound for layouts within the levels. */
function better(
  yard: Yard,
  first: Sheets,
  whatever: CostBound,
  solver: Solver,
): { readonly sheets: Sheets; readonly bound: number } {
  let sheets = first;
  let bound = whatever.cost;
  let prices: Prices | undefined;
  const cost = (): number => costOf(yard, sheets.sheets);
  const improve = (limits: Limits): void => {
    const known = sheets.sheets;
    const more = prices && { prices };
    const proof = cheaperSheets(yard, cost(), whatever.scales, known, solver, limits, more);
    prices = proof.prices ?? prices;
    sheets = proof.sheets ?? sheets;
    bound = Math.max(bound, proof.bound);
  };
  const open = (): boolean => cost() > bound + EQUAL;
  improve(LIMITS);
  const known = cost();
  const few = yard.kinds.length <= MOST_KINDS;
  if (open()) sheets = serialSheets(yard, sheets, bound, prices?.kinds, solver, few ? 2 : undefined);
  // the less a cheaper layout may cost, the easier it is to see that there is none
  if (open() && cost() < known - EQUAL) improve(LIMITS);
  if (open() && few && prices !== undefined) {
    const finer = sheetsByFinerPrices(yard, sheets, bound, prices, solver);
    sheets = finer.sheets;
    prices = finer.prices;
    if (open()) improve(LITTLE);
  }
  return { sheets, bound };
}

/** Ids of the parts that the limits left out: of one kind those named last go without. */
function missingItems(yard: Yard, found: Sheets): string[] {
  return yard.kinds.flatMap((kind, index) => {
    let missing = found.missing[index] as number;
    return [...kind.items].reverse().flatMap((item) => {
      const taken = Math.min(missing, item.quantity);
      missing -= taken;
      return new Array<string>(taken).fill(item.id);
    });
  });
}

const withoutMissing = (yard: Yard, found: Sheets): Yard => ({
  ...yard,
  kinds: yard.kinds
    .map((kind, index) => ({ ...kind, demand: kind.demand - (found.missing[index] as number) }))
    .filter((kind) => kind.demand > 0),
});

/** Equal sheets counted, and parts named by their items. */
function patternsOf(yard: Yard, sheets: readonly { filled: Filled; tree: KindTree }[]): SheetPattern[] {
  const waiting = yard.kinds.map((kind) => kind.items.map((item) => ({ id: item.id, left: item.quantity })));
  const next = (kind: number): string => {
    const list = waiting[kind] as { id: string; left: number }[];
    while (list[0]?.left === 0) list.shift();
    const entry = list[0];
    if (entry === undefined) throw new Error('more parts were laid out than the job asks for');
    entry.left--;
    return entry.id;
  };
  const keyed = sheets.map((sheet) => ({
    ...sheet,
    key: `${sheet.filled.size}${JSON.stringify(sheet.tree)}`,
  }));
  // largest sheets first, of these the fullest; equal ones together
  const area = (index: number): number => {
    const size = yard.sizes[index] as Yard['sizes'][number];
    return size.length * size.width;
  };
  keyed.sort(
    (a, b) =>
      area(b.filled.size) - area(a.filled.size) ||
      a.filled.size - b.filled.size ||
      b.filled.area - a.filled.area ||
      (a.key < b.key ? -1 : a.key > b.key ? 1 : 0),
  );
  const patterns = new Map<string, SheetPattern>();
  for (const { filled, tree } of keyed) {
    const root = placed(tree, 0, 0, yard.job.kerf, next);
    const key = JSON.stringify([filled.size, root]);
    const same = patterns.get(key);
    const offcut = largestOffcut(root, yard.job.useful ?? 0);
    const { id } = (yard.sizes[filled.size] as Yard['sizes'][number]).stock;
    patterns.set(
      key,
      same ? { ...same, count: same.count + 1 } : { stock: id, count: 1, root, ...(offcut && { offcut }) },
    );
  }
  return [...patterns.values()];
}
