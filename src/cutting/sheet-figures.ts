/** Sheet layouts, the use of material and what is left over, as `figures` shows them. */
import { keptPieces, materialUse } from './left-over.ts';
import type { SheetPiece } from './sheets/types.ts';
import type { CuttingLayouts, SheetLayout } from './types.ts';

type Printer = (value: number) => { mm: number; text: string };

/** A rectangle of a sheet and what it is cut into. */
type PieceFigures = Readonly<Record<string, unknown>>;

const pieceFigures = (piece: SheetPiece, length: Printer): PieceFigures => ({
  kind: piece.kind,
  ...(piece.kind === 'part' ? { letter: piece.item, turned: piece.turned } : {}),
  x: length(piece.x),
  y: length(piece.y),
  length: length(piece.length),
  width: length(piece.width),
  ...(piece.kind === 'split'
    ? { cut: piece.cut, pieces: piece.pieces.map((one) => pieceFigures(one, length)) }
    : {}),
});

/** A sheet layout as plain data for `figures`; `length` prints a length. */
export const sheetFigures = (sheet: SheetLayout, length: Printer) => ({
  stock: sheet.stock.key,
  species: sheet.species,
  length: length(sheet.sheetLength),
  width: length(sheet.sheetWidth),
  sold: sheet.sizeLabel,
  count: sheet.count,
  price: sheet.price,
  edgeTrim: length(sheet.edgeTrim),
  ...(sheet.offcut
    ? { offcut: { length: length(sheet.offcut.length), width: length(sheet.offcut.width) } }
    : {}),
  root: pieceFigures(sheet.root, length),
  cuts: sheet.cuts.map((cut) => ({
    number: cut.number,
    kind: cut.kind,
    piece: cut.piece,
    setting: length(cut.setting),
    from: cut.from,
    x: length(cut.x),
    y: length(cut.y),
    reach: length(cut.reach),
    leaves: cut.leaves.kind,
    ...(cut.leaves.item === undefined ? {} : { letter: cut.leaves.item }),
    parts: cut.parts.map(({ item, count }) => ({ letter: item, quantity: count })),
    ...(cut.rest === undefined
      ? {}
      : {
          rest: {
            leaves: cut.rest.kind,
            ...(cut.rest.item === undefined ? {} : { letter: cut.rest.item }),
          },
        }),
  })),
});

const millionths = (value: number): number => Math.round(value * 1e6) / 1e6;

/** How much of what is bought is used, and what is worth keeping. */
export function useFigures(layouts: CuttingLayouts, length: Printer) {
  const use = materialUse(layouts);
  return {
    ...(use
      ? {
          use: {
            bought: millionths(use.bought),
            parts: millionths(use.parts),
            kept: millionths(use.kept),
            waste: millionths(use.waste),
          },
        }
      : {}),
    offcuts: keptPieces(layouts).map((piece) => ({
      stock: piece.stock,
      species: piece.species,
      length: length(piece.length),
      width: length(piece.width),
      count: piece.count,
    })),
  };
}
