/**
 * Boards for what knots and checks cost. The layouts reckon with clear boards; a list may say how much of a species or a stock is lost.
 * So much more is bought after the exact layout, less the offcuts worth keeping that the layouts leave already.
 */
import type { Plan } from '../model/types.ts';
import type { Defects } from '../read/types.ts';
import { trimmedOff } from './cuts.ts';
import { KEPT } from './left-over.ts';
import { type Lumber, SAME } from './lumber.ts';
import type { BoardLayout, ExtraBoards } from './types.ts';

/** What a stock loses: by its own entry, else by that of its species. */
export function defectsOf(
  plan: Plan,
  { stock, species }: Pick<Lumber, 'stock' | 'species'>,
): Defects | undefined {
  return stock.defects ?? plan.stockList.species.find((one) => one.key === species)?.defects;
}

/**
 * The boards to buy beside those of the layouts; nothing where none are needed. They are of the length that costs least in all, of
 * those that hold the longest part, so that any part can be cut from them.
 * @param boards the layouts of this stock and species
 */
export function extraBoards(
  plan: Plan,
  lumber: Lumber,
  boards: readonly BoardLayout[],
): ExtraBoards | undefined {
  const defects = defectsOf(plan, lumber);
  // what is on hand was looked at before it was written down
  const bought = boards.filter((board) => board.own === undefined);
  if (defects === undefined || bought.length === 0) return undefined;
  const sum = (of: (board: BoardLayout) => number): number =>
    bought.reduce((all, board) => all + board.count * of(board), 0);
  const lost =
    'share' in defects ? defects.share * sum((board) => board.boardLength) : sum(() => defects.length);
  const left = sum((board) => (board.offcut >= KEPT.board ? board.offcut : 0));
  const wanted = lost - left;
  if (wanted <= 0) return undefined;
  const longest = Math.max(...bought.flatMap((board) => board.sections.map((section) => section.length)));
  const needs = longest + trimmedOff(plan.stockList, plan.edition.kerf);
  const choices = lumber.sold
    .filter((entry) => entry.own === undefined && entry.length >= needs - SAME)
    .map((entry) => {
      const count = Math.ceil(wanted / entry.length - 1e-9);
      const price = entry.prices[lumber.species] as number;
      return { entry, count, price, cost: count * price };
    })
    .sort((a, b) => a.cost - b.cost || a.count - b.count || a.entry.length - b.entry.length);
  const best = choices[0];
  if (best === undefined) return undefined;
  return {
    stock: lumber.stock,
    species: lumber.species,
    boardLength: best.entry.length,
    lengthLabel: best.entry.label,
    count: best.count,
    price: best.price,
  };
}
