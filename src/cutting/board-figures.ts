/** Board layouts with their cuts, as `figures` shows them. */
import type { BoardCut, BoardLayout, CutSide, ExtraBoards } from './types.ts';

type Printer = (value: number) => { mm: number; text: string };

const side = ({ kind, letter }: CutSide) => ({ kind, ...(letter === undefined ? {} : { letter }) });

const cutFigures = (cut: BoardCut, length: Printer) => ({
  number: cut.number,
  kind: cut.kind,
  piece: cut.piece,
  setting: length(cut.setting),
  against: cut.against,
  x: length(cut.x),
  y: length(cut.y),
  reach: length(cut.reach),
  leaves: side(cut.leaves),
  rest: side(cut.rest),
  ...(cut.yard ? { yard: true } : {}),
});

/** A board layout as plain data for `figures`; `length` prints a length. */
export const boardFigures = (board: BoardLayout, length: Printer) => ({
  stock: board.stock.key,
  species: board.species,
  length: length(board.boardLength),
  sold: board.lengthLabel,
  count: board.count,
  price: board.price,
  ...(board.own ? { own: true } : {}),
  endTrim: length(board.endTrim),
  ...(board.stock.rough === undefined ? {} : { rough: length(board.stock.rough) }),
  offcut: length(board.offcut),
  sections: board.sections.map((section) => ({
    start: length(section.start),
    length: length(section.length),
    strips: section.strips.map((strip) => ({
      letter: strip.letter,
      copyOf: strip.copyOf,
      offset: length(strip.offset),
      width: length(strip.width),
      length: length(strip.length),
      ...(strip.from === undefined ? {} : { from: length(strip.from) }),
      ...(strip.fromOffcut ? { fromOffcut: true } : {}),
    })),
  })),
  cuts: board.cuts.map((cut) => cutFigures(cut, length)),
});

/** Boards for knots and checks as plain data. */
export const extraFigures = (extra: ExtraBoards, length: Printer) => ({
  stock: extra.stock.key,
  species: extra.species,
  length: length(extra.boardLength),
  sold: extra.lengthLabel,
  count: extra.count,
  price: extra.price,
});
