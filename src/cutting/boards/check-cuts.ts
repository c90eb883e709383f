/**
 * An independent check of a board's numbered cuts: it saws the board as they say, piece by piece, and looks whether the parts of the
 * layout come out. It knows nothing of how the cuts were found.
 */
import type { BoardCut, BoardLayout } from '../types.ts';

/** What a saw may leave on a part, and what arithmetic may lose, mm. */
const FLUSH = 25.4 / 64 + 1e-6;
const SLACK = 1e-6;

/** A piece of the board: along it and across it, mm from the corner of its untrimmed end. */
interface Piece {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= SLACK;

/** All that is wrong with the cuts of a board, in words; an empty list where they give its parts. */
export function checkCuts(board: BoardLayout, kerf: number): string[] {
  const faults: string[] = [];
  const pieces = new Map<string, Piece>([
    ['board', { x: 0, y: 0, length: board.boardLength, width: board.stock.width }],
  ]);
  const told = new Map<string, BoardCut['leaves']>();
  board.cuts.forEach((cut, index) => {
    const place = `cut ${cut.number}`;
    if (cut.number !== index + 1) faults.push(`${place} is the ${index + 1}th`);
    const piece = pieces.get(cut.piece);
    if (piece === undefined) {
      faults.push(`${place}: no piece ${cut.piece}`);
      return;
    }
    const side = told.get(cut.piece);
    if (side !== undefined && side.kind !== 'work') faults.push(`${place}: ${cut.piece} is ${side.kind}`);
    pieces.delete(cut.piece);
    const along = cut.kind === 'trim' || cut.kind === 'crosscut';
    const [from, across, whole] = along ? [piece.x, piece.y, piece.length] : [piece.y, piece.x, piece.width];
    const blade = along ? cut.x : cut.y;
    const begins = along ? cut.y : cut.x;
    // a rough edge is planed or sawn off: what comes off has the kerf in it
    const lost = cut.kind === 'straighten' ? 0 : kerf;
    const right = along ? piece.width : piece.length;
    if (!near(begins, across) || !near(cut.reach, right)) faults.push(`${place} doesn't run right through`);
    if (!near(cut.setting, blade - from))
      faults.push(`${place} is set to ${cut.setting}, its blade ${blade - from} off`);
    if (cut.setting <= 0 || cut.setting > whole + SLACK) faults.push(`${place} is off ${cut.piece}`);
    const rest = Math.max(0, whole - cut.setting - lost);
    const near1 = along ? { ...piece, length: cut.setting } : { ...piece, width: cut.setting };
    const beyond = along
      ? { ...piece, x: blade + lost, length: rest }
      : { ...piece, y: blade + lost, width: rest };
    pieces.set(`${cut.number}`, near1);
    pieces.set(`${cut.number}r`, beyond);
    told.set(`${cut.number}`, cut.leaves);
    told.set(`${cut.number}r`, cut.rest);
  });
  return [...faults, ...checkParts(board, kerf, pieces, told)];
}

/** Each strip of the layout is a piece by itself, as large as it should be. */
function checkParts(
  board: BoardLayout,
  kerf: number,
  pieces: ReadonlyMap<string, Piece>,
  told: ReadonlyMap<string, BoardCut['leaves']>,
): string[] {
  const faults: string[] = [];
  const first = board.endTrim > 0 ? board.endTrim + kerf : 0;
  const left = new Map(pieces);
  for (const section of board.sections)
    for (const strip of section.strips) {
      const x = first + section.start + (strip.from ?? 0);
      const y = (board.stock.rough ?? 0) + strip.offset;
      const found = [...left].find(([, piece]) => near(piece.x, x) && near(piece.y, y));
      if (found === undefined) {
        faults.push(`no piece for ${strip.letter} at ${x}, ${y}`);
        continue;
      }
      const [name, piece] = found;
      left.delete(name);
      const long = piece.length - strip.length;
      const wide = piece.width - strip.width;
      if (long < -SLACK || long > FLUSH || wide < -SLACK || wide > FLUSH)
        faults.push(`${strip.letter} comes out ${piece.length} × ${piece.width}`);
      const side = told.get(name);
      if (side !== undefined && side.letter !== strip.letter)
        faults.push(`${name} is called ${side.letter ?? side.kind}, it is ${strip.letter}`);
    }
  for (const [name] of left) {
    const side = told.get(name);
    if (side !== undefined && (side.kind === 'part' || side.kind === 'work'))
      faults.push(`${name} is called ${side.kind} and is no part`);
  }
  return faults;
}
