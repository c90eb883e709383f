/** What is on hand, put among the sizes of a stock list. */
import type { OwnPiece, StockItem, StockList } from './types.ts';

/** True where a nominal name means an item, by its own name or one that it stands for. */
export const isNamed = (item: StockItem, name: string): boolean =>
  [item.key, ...item.stands_for].includes(name);

/** Sections that differ by less are one, mm. */
const SAME = 0.1;

/**
 * True where a piece is a board of this item: by the item's own name, or by one that it stands for where the real section is the same. A
 * 1x3 of one region is another board than the one that stands for it elsewhere.
 */
function isOf(item: StockItem, { stock, sections = [] }: OwnPiece): boolean {
  if (!isNamed(item, stock)) return false;
  if (item.key === stock || sections.length === 0) return true;
  return sections.some(
    ({ thickness, width }) =>
      Math.abs(thickness - item.thickness) < SAME &&
      (item.sheets !== undefined || Math.abs(width - item.width) < SAME),
  );
}

/** The species of a piece that doesn't say its own. */
function woodOf(item: StockItem, list: StockList): string {
  const sold = new Set((item.sheets ?? []).flatMap(({ prices }) => Object.keys(prices)));
  return sold.size === 1 ? ([...sold][0] as string) : list.defaultSpecies;
}

/** A stock list with what is on hand among its sizes, at no price and no more of it than there is. */
export function withOwn(list: StockList, pieces: readonly OwnPiece[]): StockList {
  if (pieces.length === 0) return list;
  const items = list.items.map((item): StockItem => {
    const own = pieces.filter((piece) => isOf(item, piece));
    if (own.length === 0) return item;
    const priced = (piece: OwnPiece) => ({ [piece.species ?? woodOf(item, list)]: 0 });
    if (item.sheets)
      return {
        ...item,
        sheets: [
          ...item.sheets,
          ...own.flatMap((piece, index) =>
            piece.width === undefined
              ? []
              : [
                  {
                    length: piece.length,
                    width: piece.width,
                    label: ownLabel(piece, own, index),
                    prices: priced(piece),
                    own: piece.count,
                  },
                ],
          ),
        ],
      };
    return {
      ...item,
      lengths: [
        ...item.lengths,
        ...own.map((piece, index) => ({
          length: piece.length,
          label: ownLabel(piece, own, index),
          prices: priced(piece),
          own: piece.count,
        })),
      ],
    };
  });
  return { ...list, items };
}

/** `60 in, on hand`; with a number where two entries read alike. */
function ownLabel(piece: OwnPiece, all: readonly OwnPiece[], index: number): string {
  const alike = all.filter((one, at) => at < index && one.label === piece.label).length;
  return `${piece.label}, on hand${alike > 0 ? ` (${alike + 1})` : ''}`;
}
