/**
 * Sheets made better to work with: their offcuts as large as they are or larger, with the fewest settings of fence and stop. The same
 * parts, and the largest offcut as if it were one of them, are put into the same sheet again, in other orders and by other rules.
 */
import { type Filled, fill, type Rule } from './fill.ts';
import type { Kind, Yard } from './kinds.ts';
import { allTrees } from './orders.ts';
import { numbersFrom } from './search.ts';
import { cutsOf, type KindTree, largestOffcut, settingsOf, treeOf, without } from './tree.ts';

/** Looks at a rectangle for all sheets together. */
const LOOKS = 2_500_000;
/** Most fillings of one sheet. */
const FILLINGS = 900;

/** Each sheet with its tree, tidied; equal fillings are tidied once and come out equal. */
export function tidySheets(yard: Yard, sheets: readonly Filled[]): { filled: Filled; tree: KindTree }[] {
  const known = new Map<string, { filled: Filled; tree: KindTree }>();
  const random = numbersFrom(23);
  const distinct = new Set(sheets.map(keyOf)).size;
  return sheets.map((sheet) => {
    const key = keyOf(sheet);
    const one = known.get(key) ?? { filled: sheet, tree: tidied(yard, sheet, random, LOOKS / distinct) };
    known.set(key, one);
    return one;
  });
}

const keyOf = (sheet: Filled): string => `${sheet.size}:${sheet.counts.join(',')}`;

/** What a sheet is judged by. */
interface Mark {
  readonly offcut: { readonly length: number; readonly width: number } | undefined;
  readonly area: number;
  readonly settings: number;
  readonly cuts: number;
}

function markOf(yard: Yard, tree: KindTree): Mark {
  const offcut = largestOffcut(tree, yard.job.useful ?? 0);
  return {
    offcut,
    area: offcut === undefined ? 0 : offcut.length * offcut.width,
    settings: settingsOf(tree, yard.job.kerf),
    cuts: cutsOf(tree, yard.job.kerf),
  };
}

function tidied(yard: Yard, sheet: Filled, random: () => number, looks: number): KindTree {
  const meter = { looks: 0 };
  const parts = [...sheet.counts].flatMap((count, kind) => new Array<number>(count).fill(kind));
  let best = treeOf(yard, sheet);
  let mark = markOf(yard, best);
  for (let n = 0; n < FILLINGS && meter.looks < looks; n++) {
    const noise = n < 48 ? 0 : ([0.1, 0.4, 1, 2][n % 4] as number);
    // every other time the offcut is a part itself, so that nothing is laid into it
    const kept = mark.offcut !== undefined && n % 2 === 0 ? mark.offcut : undefined;
    const wider = kept === undefined ? yard : { ...yard, kinds: [...yard.kinds, extraKind(yard, kept)] };
    const wanted = kept === undefined ? parts : [yard.kinds.length, ...parts];
    const again = fill(
      wider,
      sheet.size,
      ordered(wider, wanted, n >> 1, noise, random),
      ruleOf(n >> 1),
      meter,
    );
    if (again.placements.length !== wanted.length) continue;
    const tree = withoutExtra(yard, wider, treeOf(wider, again));
    const own = markOf(yard, tree);
    if (!isBetter(own, mark)) continue;
    best = tree;
    mark = own;
  }
  return inBestOrder(yard, sheet, best, mark);
}

/** A larger offcut, of the same size fewer settings, of as many fewer cuts. */
const isBetter = (a: Mark, b: Mark): boolean =>
  Math.abs(a.area - b.area) > 1e-6
    ? a.area > b.area
    : a.settings !== b.settings
      ? a.settings < b.settings
      : a.cuts < b.cuts;

/** The best of all orders of cuts in which parts and offcut can be sawn, where these are few enough to try them all. */
function inBestOrder(yard: Yard, sheet: Filled, tree: KindTree, mark: Mark): KindTree {
  const { offcut } = mark;
  const wider = offcut === undefined ? yard : { ...yard, kinds: [...yard.kinds, extraKind(yard, offcut)] };
  const counts = [...sheet.counts, ...(offcut === undefined ? [] : [1])];
  let best = tree;
  let least = mark;
  for (const one of allTrees(wider, sheet.size, counts) ?? []) {
    const other = withoutExtra(yard, wider, one);
    const own = markOf(yard, other);
    if (!isBetter(own, least)) continue;
    best = other;
    least = own;
  }
  return best;
}

/** An offcut as a kind of part. */
export function extraKind(yard: Yard, offcut: { readonly length: number; readonly width: number }): Kind {
  const { length, width } = offcut;
  const item = { id: '', length, width, quantity: 1, turnable: false };
  const { kerf } = yard.job;
  return { length: length + kerf, width: width + kerf, turnable: false, demand: 1, items: [item] };
}

/** The tree without the kind that was added, whose place is left over. */
export function withoutExtra(yard: Yard, wider: Yard, tree: KindTree): KindTree {
  if (wider.kinds.length === yard.kinds.length) return tree;
  const surplus = wider.kinds.map((_, kind) => (kind < yard.kinds.length ? 0 : 1));
  return without(tree, surplus, yard.job.kerf);
}

const FITS = ['side', 'area', 'long'] as const;
const SPLITS = ['larger', 'rip', 'crosscut', 'smaller'] as const;

/** All rules in turn. */
const ruleOf = (n: number): Rule => ({
  fit: FITS[n % 3] as Rule['fit'],
  split: SPLITS[Math.floor(n / 3) % 4] as Rule['split'],
});

/** The parts by area, length, width or longer side, each kind together, with some noise. */
function ordered(
  yard: Yard,
  parts: readonly number[],
  n: number,
  noise: number,
  random: () => number,
): number[] {
  const by = Math.floor(n / 12) % 4;
  const keys = yard.kinds.map((kind) => {
    const base =
      by === 0
        ? kind.length * kind.width
        : by === 1
          ? kind.width ** 2
          : by === 2
            ? kind.length ** 2
            : Math.max(kind.length, kind.width) ** 2;
    return base * (1 + noise * (random() - 0.5));
  });
  return [...parts].sort((a, b) => (keys[b] as number) - (keys[a] as number) || a - b);
}
