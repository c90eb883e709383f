/** The cuts of a sheet in the order in which they are made, with the setting of the fence for each. */
import type { SheetCut, SheetJob, SheetPattern, SheetPiece, SheetSplit } from './types.ts';

/** Sizes nearer than this are the same size. */
const SAME = 1e-6;

/**
 * Numbers the cuts of a pattern: edges are trimmed first, then all cuts of the first level, then those of each piece, level by
 * level. The piece that a cut gives lies between fence and blade, its outer edge against the fence; of equal pieces side by side the
 * fence is set once.
 *
 * @returns cuts in order; places are in the sheet's own coordinates, from its untrimmed left lower corner as drawn: x along the grain
 */
export function sheetCuts(job: SheetJob, pattern: SheetPattern): SheetCut[] {
  const stock = job.stocks.find((candidate) => candidate.id === pattern.stock);
  if (stock === undefined) return [];
  const cuts: SheetCut[] = [];
  const off = job.edgeTrim > 0 ? job.edgeTrim + job.kerf : 0;
  if (off > 0) {
    const { length, width } = stock;
    const { edgeTrim, kerf } = job;
    const good = { length: length - 2 * off, width: width - 2 * off };
    const trim = (
      x: number,
      y: number,
      reach: number,
      setting: number,
      from: SheetCut['from'],
      piece: string,
    ) =>
      cuts.push({
        number: cuts.length + 1,
        kind: 'trim',
        piece,
        setting,
        from,
        x,
        y,
        reach,
        leaves: { kind: 'waste' },
        parts: [],
      });
    // a long edge, then the other by the width that is wanted; the ends in the same way
    trim(0, edgeTrim, length, width - off, 'upper', 'sheet');
    trim(0, width - edgeTrim - kerf, length, good.width, 'lower', 'sheet');
    trim(edgeTrim, off, good.width, length - off, 'right', 'sheet');
    trim(length - edgeTrim - kerf, off, good.width, good.length, 'left', 'sheet');
  }
  let waiting: { piece: SheetPiece; name: string }[] = [{ piece: pattern.root, name: 'sheet' }];
  while (waiting.length > 0) {
    const next: typeof waiting = [];
    for (const { piece, name } of waiting)
      if (piece.kind === 'split') next.push(...cutUp(piece, name, off, cuts));
    waiting = next;
  }
  return cuts;
}

/** The cuts through one piece; gives what they leave, under the names of the cuts. */
function cutUp(
  split: SheetSplit,
  name: string,
  off: number,
  cuts: SheetCut[],
): { piece: SheetPiece; name: string }[] {
  const rip = split.cut === 'rip';
  const end = rip ? split.y + split.width : split.x + split.length;
  const left: { piece: SheetPiece; name: string }[] = [];
  let from = name;
  split.pieces.forEach((piece, index) => {
    const setting = rip ? piece.width : piece.length;
    const edge = (rip ? piece.y : piece.x) + setting;
    const last = index === split.pieces.length - 1;
    const after = split.pieces[index + 1];
    const flush = index === split.pieces.length - 2 && after !== undefined && end - endOf(after, rip) <= SAME;
    const rest = flush ? after : undefined;
    if (last && end - edge <= SAME) {
      left.push({ piece, name: from });
      return;
    }
    const number = cuts.length + 1;
    cuts.push({
      number,
      kind: split.cut,
      piece: from,
      setting,
      from: rip ? 'lower' : 'left',
      x: off + (rip ? split.x : edge),
      y: off + (rip ? edge : split.y),
      reach: rip ? split.length : split.width,
      leaves: named(piece),
      // the last piece needs no cut of its own where it ends with the piece that is cut up
      ...(rest === undefined ? {} : { rest: named(rest) }),
      parts: partsIn(piece),
    });
    left.push({ piece, name: `${number}` });
    from = `${number}r`;
  });
  return left;
}

const endOf = (piece: SheetPiece, rip: boolean): number =>
  rip ? piece.y + piece.width : piece.x + piece.length;

const named = (piece: SheetPiece): NonNullable<SheetCut['rest']> =>
  piece.kind === 'part' ? { kind: 'part', item: piece.item } : { kind: piece.kind };

/** The finished parts of a piece, counted. */
function partsIn(piece: SheetPiece): SheetCut['parts'] {
  const counts = new Map<string, number>();
  const visit = (one: SheetPiece): void => {
    if (one.kind === 'part') counts.set(one.item, (counts.get(one.item) ?? 0) + 1);
    if (one.kind === 'split') one.pieces.forEach(visit);
  };
  visit(piece);
  return [...counts].map(([item, count]) => ({ item, count }));
}
