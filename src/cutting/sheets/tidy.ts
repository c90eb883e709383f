/**
 * Sheets of one cost made better to work with: first the largest useful offcut of all, on the emptiest sheet, then fewest settings
 * of fence and stop. The same parts are put into the same sheet again, in other orders and by other rules.
 */
import { type Filled, fill, type Rule } from './fill.ts';
import type { Yard } from './kinds.ts';
import { numbersFrom } from './search.ts';
import { type KindTree, largestOffcut, settingsOf, treeOf } from './tree.ts';

/** Looks at a rectangle for all sheets together. */
const LOOKS = 2_500_000;
/** Most fillings of one sheet. */
const FILLINGS = 900;

/** Each sheet with its tree, tidied; equal fillings are tidied once and come out equal. */
export function tidySheets(yard: Yard, sheets: readonly Filled[]): { filled: Filled; tree: KindTree }[] {
  const useful = yard.job.useful ?? 0;
  const known = new Map<string, { filled: Filled; tree: KindTree }>();
  const random = numbersFrom(23);
  const distinct = new Set(sheets.map(keyOf)).size;
  return sheets.map((sheet) => {
    const key = keyOf(sheet);
    const one = known.get(key) ?? tidied(yard, sheet, useful, random, LOOKS / distinct);
    known.set(key, one);
    return one;
  });
}

const keyOf = (sheet: Filled): string => `${sheet.size}:${sheet.counts.join(',')}`;

function tidied(
  yard: Yard,
  sheet: Filled,
  useful: number,
  random: () => number,
  looks: number,
): { filled: Filled; tree: KindTree } {
  const meter = { looks: 0 };
  const parts = [...sheet.counts].flatMap((count, kind) => new Array<number>(count).fill(kind));
  let filled = sheet;
  let tree = treeOf(yard, sheet);
  let mark = markOf(tree, useful, yard.job.kerf);
  for (let n = 0; n < FILLINGS && meter.looks < looks; n++) {
    const noise = n < 48 ? 0 : ([0.1, 0.4, 1, 2][n % 4] as number);
    const again = fill(yard, sheet.size, ordered(yard, parts, n, noise, random), ruleOf(n), meter);
    if (again.placements.length !== parts.length) continue;
    const other = treeOf(yard, again);
    const own = markOf(other, useful, yard.job.kerf);
    if (own.offcut < mark.offcut - 1e-6) continue;
    if (own.offcut <= mark.offcut + 1e-6 && own.settings >= mark.settings) continue;
    filled = again;
    tree = other;
    mark = own;
  }
  return { filled, tree };
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

function markOf(tree: KindTree, useful: number, kerf: number): { offcut: number; settings: number } {
  const best = largestOffcut(tree, useful);
  return { offcut: best === undefined ? 0 : best.length * best.width, settings: settingsOf(tree, kerf) };
}
