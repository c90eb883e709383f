/** What is on hand, put among the sizes of a stock list. */
import type { OwnPiece, StockItem, StockList } from './types.ts';

/** True where a nominal name means an item, by its own name or one that it stands for. */
export const isNamed = (item: StockItem, name: string): boolean =>
  [item.key, ...item.stands_for].includes(name);

/** A stock list with what is on hand among its sizes, at no price and no more of it than there is. */
export function withOwn(list: StockList, pieces: readonly OwnPiece[]): StockList {
  if (pieces.length === 0) return list;
  const items = list.items.map((item): StockItem => {
    const own = pieces.filter((piece) => isNamed(item, piece.stock));
    if (own.length === 0) return item;
    const priced = (piece: OwnPiece) => ({ [piece.species ?? list.defaultSpecies]: 0 });
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
