/**
 * What is cut at each setting of stop block and fence, over all boards of a plan: the stop is set once, and all boards pass it before
 * it is moved. Passes follow each other: crosscuts to length, rips of what they leave, crosscuts of ripped strips, rips of those.
 */
import type { StockItem } from '../read/types.ts';
import { INCH, type Length } from '../units.ts';
import type { BoardCut, BoardLayout, CuttingLayouts, SheetLayout } from './types.ts';

/** Settings nearer than this are one: a saw can't be set finer (common practice, no source), mm. */
const SAME = INCH / 64 / 2;

/** One setting, and all that is cut at it from boards of one stock. */
export interface SawSetting {
  /** 1: crosscuts of boards; 2: rips of boards or of those pieces; 3: crosscuts of ripped strips; 4: rips of those. */
  readonly pass: number;
  readonly kind: 'crosscut' | 'rip';
  readonly stock: StockItem;
  readonly species: string;
  /** From stop or fence to the near side of the blade. */
  readonly setting: Length;
  /** The edge that lies against the fence, where it matters which. */
  readonly against?: BoardCut['against'];
  /** How often the blade goes through, over all boards. */
  readonly cuts: number;
  /** Parts that come out of what is cut at this setting, now or after further cuts. */
  readonly pieces: readonly { readonly letter: string; readonly quantity: number }[];
}

/** A setting while it is gathered. */
interface Gathered extends Omit<SawSetting, 'cuts' | 'pieces'> {
  cuts: number;
  readonly pieces: Map<string, number>;
}

/** The settings of a plan: pass by pass, each stock in the order of the layouts, the largest setting first. Cuts in the yard are left out. */
export function sawSettings({ boards }: Pick<CuttingLayouts, 'boards'>): SawSetting[] {
  const found: Gathered[] = [];
  const stocks: string[] = [];
  const place = ({ stock, species }: Pick<SawSetting, 'stock' | 'species'>): number => {
    const key = JSON.stringify([stock.key, species]);
    if (!stocks.includes(key)) stocks.push(key);
    return stocks.indexOf(key);
  };
  for (const board of boards) {
    const passes = passesOf(board.cuts);
    for (const cut of board.cuts) {
      if (cut.yard || (cut.kind !== 'crosscut' && cut.kind !== 'rip')) continue;
      const own = {
        pass: passes.get(cut.number) ?? 1,
        kind: cut.kind,
        stock: board.stock,
        species: board.species,
        setting: cut.setting,
        ...(matters(cut.against) ? { against: cut.against } : {}),
      };
      const at = place(own);
      let setting = found.find(
        (one) =>
          one.pass === own.pass &&
          place(one) === at &&
          one.against === own.against &&
          Math.abs(one.setting - own.setting) < SAME,
      );
      if (setting === undefined) {
        setting = { ...own, cuts: 0, pieces: new Map() };
        found.push(setting);
      }
      setting.cuts += board.count;
      for (const letter of lettersAt(board, cut))
        setting.pieces.set(letter, (setting.pieces.get(letter) ?? 0) + board.count);
    }
  }
  return found
    .map(({ pieces, ...setting }) => ({
      ...setting,
      pieces: [...pieces].map(([letter, quantity]) => ({ letter, quantity })).sort(byLetter),
    }))
    .sort((a, b) => a.pass - b.pass || place(a) - place(b) || b.setting - a.setting);
}

/** Parts of one stock that no stop is set for, since the cuts of the yard give them their length. */
export interface YardPieces {
  readonly stock: StockItem;
  readonly species: string;
  readonly pieces: SawSetting['pieces'];
}

/** What the yard cuts to length, each stock in the order of the layouts: a builder looks for these at the stop in vain. */
export function yardPieces({ boards }: Pick<CuttingLayouts, 'boards'>): YardPieces[] {
  const found: (Omit<YardPieces, 'pieces'> & { readonly left: Map<string, number> })[] = [];
  for (const board of boards) {
    if (!board.cuts.some((cut) => cut.yard)) continue;
    const known = found.find(
      ({ stock, species }) => stock.key === board.stock.key && species === board.species,
    );
    const { left } = known ?? { left: new Map<string, number>() };
    if (known === undefined) found.push({ stock: board.stock, species: board.species, left });
    const add = (letter: string, count: number) => left.set(letter, (left.get(letter) ?? 0) + count);
    for (const { strips } of board.sections) for (const { letter } of strips) add(letter, board.count);
    const passes = passesOf(board.cuts);
    for (const cut of board.cuts)
      if (cut.kind === 'crosscut' && !cut.yard && passes.get(cut.number) === 1)
        for (const letter of lettersAt(board, cut)) add(letter, -board.count);
  }
  return found.flatMap(({ left, ...stock }) => {
    const pieces = [...left]
      .filter(([, quantity]) => quantity > 0)
      .map(([letter, quantity]) => ({ letter, quantity }))
      .sort(byLetter);
    return pieces.length > 0 ? [{ ...stock, pieces }] : [];
  });
}

/** A, B … Z, then AA, AB …: the order of the cut list. */
const byLetter = (a: { letter: string }, b: { letter: string }): number =>
  a.letter.length - b.letter.length || (a.letter < b.letter ? -1 : a.letter > b.letter ? 1 : 0);

/** Of a square board either edge will do, and one that was just sawn is as good. */
const matters = (against: BoardCut['against']): boolean =>
  against === 'groove edge' || against === 'tongue edge' || against === 'straight edge';

/** Number of the cut that left a piece, and on which side: `3r` is 3, beyond the blade. None for the whole board. */
function sideOf(piece: string): { readonly number: number; readonly beyond: boolean } | undefined {
  const match = /^([0-9]+)(r?)$/.exec(piece);
  return match === null ? undefined : { number: Number(match[1]), beyond: match[2] === 'r' };
}

/** In which pass each cut is made, by its number: crosscuts in odd ones, rips in even ones, none before the cut that left its piece. */
function passesOf(cuts: readonly BoardCut[]): Map<number, number> {
  const passes = new Map<number, number>();
  for (const cut of cuts) {
    const before = passes.get(sideOf(cut.piece)?.number ?? 0) ?? 0;
    const odd = cut.kind === 'crosscut';
    const through = cut.kind === 'crosscut' || cut.kind === 'rip';
    if (!through || cut.yard) passes.set(cut.number, before);
    else if (before === 0) passes.set(cut.number, odd ? 1 : 2);
    else passes.set(cut.number, before + ((before % 2 === 1) === odd ? 0 : 1));
  }
  return passes;
}

/** Letters of the parts that come out of a piece, one for each. */
function lettersIn(board: BoardLayout, piece: string): string[] {
  const next = board.cuts.find((cut) => cut.piece === piece);
  if (next !== undefined)
    return [...lettersIn(board, `${next.number}`), ...lettersIn(board, `${next.number}r`)];
  const side = sideOf(piece);
  const cut = board.cuts[(side?.number ?? 0) - 1];
  const left = side?.beyond ? cut?.rest : cut?.leaves;
  return left?.letter === undefined ? [] : [left.letter];
}

/** Letters of what a cut gives at its setting; what is beyond the blade too where that is as long, or as wide, without a further cut. */
function lettersAt(board: BoardLayout, cut: BoardCut): string[] {
  const given = lettersIn(board, `${cut.number}`);
  const beyond = `${cut.number}r`;
  const next = board.cuts.find(({ piece }) => piece === beyond);
  if (next?.kind === cut.kind) return given;
  // a section that is ripped next is as long as that rip runs, a strip that is crosscut next as wide
  const size = next === undefined ? sizeOf(board, cut) : next.reach;
  return size !== undefined && Math.abs(size - cut.setting) < 2 * SAME
    ? [...given, ...lettersIn(board, beyond)]
    : given;
}

/** Length, of a rip width, of the finished part beyond the blade. */
function sizeOf(board: BoardLayout, cut: BoardCut): number | undefined {
  if (cut.rest.kind !== 'part') return undefined;
  const strips = board.sections.flatMap((section) => section.strips);
  const strip = strips.find(({ letter }) => letter === cut.rest.letter);
  return cut.kind === 'rip' ? strip?.width : strip?.length;
}

/** The size of a sheet, and which of the layouts on such sheets it is where there are several: `4 × 8 ft, no. 2`. */
export function sheetCalled(sheets: readonly SheetLayout[], sheet: SheetLayout): string {
  const same = sheets.filter(
    (one) => one.stock.label === sheet.stock.label && one.sizeLabel === sheet.sizeLabel,
  );
  return same.length > 1 ? `${sheet.sizeLabel}, no. ${same.indexOf(sheet) + 1}` : sheet.sizeLabel;
}
