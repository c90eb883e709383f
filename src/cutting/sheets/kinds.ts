/**
 * A sheet job made ready for the search: one kerf is added to each part and once to each sheet, after which parts can lie edge to
 * edge and kerf need not be thought of again.
 */
import type { SheetItem, SheetJob, SheetStock } from './types.ts';

/** Sizes nearer than this are the same size, in the job's unit. */
export const SAME = 1e-6;

/** Parts that are cut alike, whatever items they belong to. Sizes with a kerf. */
export interface Kind {
  readonly length: number;
  readonly width: number;
  readonly turnable: boolean;
  readonly demand: number;
  readonly items: readonly SheetItem[];
}

/** A sheet that can be had: its trimmed size with a kerf. */
export interface Size {
  readonly stock: SheetStock;
  readonly length: number;
  readonly width: number;
  /** Infinity where there is no limit. */
  readonly limit: number;
}

/** A job ready to be searched. Kinds and sizes are named by index. */
export interface Yard {
  readonly job: SheetJob;
  readonly kinds: readonly Kind[];
  readonly sizes: readonly Size[];
  readonly stages: number;
  readonly liftable: number;
  /** Ids of parts that no sheet can hold, one entry a part. */
  readonly unplaced: readonly string[];
}

/** Levels of cuts where the job names none. */
const STAGES = 4;
/** Most parts in a job: beyond it a layout would take hours. */
const MOST_PARTS = 5000;

/** What the edges take of a sheet's side. */
export const trimmedBy = (job: Pick<SheetJob, 'kerf' | 'edgeTrim'>): number =>
  job.edgeTrim > 0 ? 2 * (job.edgeTrim + job.kerf) : 0;

const isPositive = (value: number): boolean => Number.isFinite(value) && value > 0;
const isCount = (value: number): boolean => Number.isSafeInteger(value) && value >= 0;

/** Says what is wrong with a job that no layout could be made for; nothing where it is sound. */
export function sheetFault(job: SheetJob): string | undefined {
  const least = (name: string, value: number): string | undefined =>
    Number.isFinite(value) && value >= 0 ? undefined : `${name} is not zero or more: ${value}`;
  const own = least('kerf', job.kerf) ?? least('edge trim', job.edgeTrim) ?? least('useful', job.useful ?? 0);
  if (own !== undefined) return own;
  if (job.stages !== undefined && !(Number.isSafeInteger(job.stages) && job.stages >= 2))
    return `stages is not a whole number of 2 or more: ${job.stages}`;
  if (job.liftable !== undefined && !isPositive(job.liftable))
    return `liftable is not a positive number: ${job.liftable}`;
  const items = new Set<string>();
  for (const item of job.items) {
    if (items.has(item.id)) return `two items have the id ${item.id}`;
    items.add(item.id);
    for (const side of ['length', 'width'] as const)
      if (!isPositive(item[side]))
        return `${side} of item ${item.id} is not a positive number: ${item[side]}`;
    if (!isCount(item.quantity)) return `quantity of item ${item.id} is not a whole number: ${item.quantity}`;
  }
  const parts = job.items.reduce((sum, item) => sum + item.quantity, 0);
  if (parts > MOST_PARTS) return `more than ${MOST_PARTS} parts: ${parts}`;
  const stocks = new Set<string>();
  for (const stock of job.stocks) {
    if (stocks.has(stock.id)) return `two stocks have the id ${stock.id}`;
    stocks.add(stock.id);
    if (!isPositive(stock.length) || !isPositive(stock.width))
      return `size of stock ${stock.id} is not positive`;
    if (!(Number.isFinite(stock.price) && stock.price >= 0))
      return `price of stock ${stock.id} is not zero or more`;
    if (stock.limit !== undefined && !isCount(stock.limit))
      return `limit of stock ${stock.id} is not a whole number: ${stock.limit}`;
  }
  return undefined;
}

/** Makes a sound job (see `sheetFault`) ready. Kinds are in order of area, largest first. */
export function yardOf(job: SheetJob): Yard {
  const lost = trimmedBy(job);
  const sizes = job.stocks
    .map(
      (stock): Size => ({
        stock,
        length: stock.length - lost + job.kerf,
        width: stock.width - lost + job.kerf,
        limit: stock.limit ?? Infinity,
      }),
    )
    .filter(({ length, width, limit }) => length > job.kerf && width > job.kerf && limit > 0);
  const unplaced: string[] = [];
  const kinds = new Map<string, Kind>();
  for (const item of job.items) {
    if (item.quantity === 0) continue;
    const kind = { length: item.length + job.kerf, width: item.width + job.kerf, turnable: item.turnable };
    if (!sizes.some((size) => fits(kind, size))) {
      for (let n = 0; n < item.quantity; n++) unplaced.push(item.id);
      continue;
    }
    const key = `${item.length.toFixed(6)}|${item.width.toFixed(6)}|${item.turnable}`;
    const known = kinds.get(key);
    kinds.set(
      key,
      known === undefined
        ? { ...kind, demand: item.quantity, items: [item] }
        : { ...known, demand: known.demand + item.quantity, items: [...known.items, item] },
    );
  }
  const area = (kind: Kind): number => kind.length * kind.width;
  return {
    job,
    kinds: [...kinds.values()].sort((a, b) => area(b) - area(a) || b.length - a.length),
    sizes,
    stages: job.stages ?? STAGES,
    liftable: job.liftable ?? Infinity,
    unplaced,
  };
}

/** True where a part lies in a sheet by itself, as it is or turned. */
export function fits(
  kind: Pick<Kind, 'length' | 'width' | 'turnable'>,
  size: Pick<Size, 'length' | 'width'>,
): boolean {
  const lies = (length: number, width: number): boolean =>
    length <= size.length + SAME && width <= size.width + SAME;
  return lies(kind.length, kind.width) || (kind.turnable && lies(kind.width, kind.length));
}

/** Length and width of a part as it lies, without the kerf. */
export function sidesWithout(
  yard: Yard,
  placement: { readonly kind: number; readonly turned: boolean },
): { length: number; width: number } {
  const item = (yard.kinds[placement.kind] as Kind).items[0] as SheetItem;
  return placement.turned
    ? { length: item.width, width: item.length }
    : { length: item.length, width: item.width };
}
