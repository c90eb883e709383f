/** The list a builder takes to the saw: what is cut at each setting of stop block and fence, and the cuts of a sheet one by one. */
import { type SawSetting, sawSettings, sheetCalled, yardPieces } from '../../cutting/saw-list.ts';
import type { SheetCut } from '../../cutting/sheets/types.ts';
import type { CuttingLayouts, SheetLayout } from '../../cutting/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import { type Length, mm, type NumberStyle, printed, sizeText } from '../../units.ts';
import type { FinishedPlan } from '../types.ts';
import { csv } from './csv.ts';

/** Parts that are cut at a setting, and what they are cut from. */
export interface SawPiece {
  readonly letter: string;
  readonly quantity: number;
  /** `2×4`; with the edge that lies against the fence where it matters: `1×6 T&G, groove edge`. */
  readonly from: string;
}

/** A setting over all stocks, since the stop and the fence don't know what they are set for. */
export interface SawRow {
  readonly setting: Length;
  readonly cuts: number;
  readonly pieces: readonly SawPiece[];
}

/** All settings of a pass, the largest first. */
export interface SawTable {
  readonly pass: number;
  readonly kind: SawSetting['kind'];
  readonly rows: readonly SawRow[];
  /** Beside the first crosscuts: what the yard cuts to length, so that it isn't among the rows. */
  readonly yard?: SawSetting['pieces'];
}

/** The settings of a plan's boards as tables, in the order in which they are worked. */
export function sawTables(layouts: CuttingLayouts, style: NumberStyle): SawTable[] {
  const settings = sawSettings(layouts);
  const passes = [...new Set(settings.map(({ pass }) => pass))];
  const yard = yardPieces(layouts).flatMap(({ pieces }) => pieces);
  return passes.map((pass): SawTable => {
    const own = settings.filter((one) => one.pass === pass);
    const rows = new Map<string, SawRow>();
    for (const one of [...own].sort((a, b) => b.setting - a.setting)) {
      // what prints alike is set alike
      const key = sizeText(printed(one.setting, style));
      const row = rows.get(key) ?? { setting: one.setting, cuts: 0, pieces: [] };
      const from = one.against === undefined ? one.stock.label : `${one.stock.label}, ${one.against}`;
      const pieces = one.pieces.map(({ letter, quantity }) => ({ letter, quantity, from }));
      rows.set(key, { ...row, cuts: row.cuts + one.cuts, pieces: [...row.pieces, ...pieces] });
    }
    const kind = own[0]?.kind ?? 'crosscut';
    const none = pass > 1 || kind === 'rip' || yard.length === 0;
    return { pass, kind, rows: [...rows.values()], ...(none ? {} : { yard }) };
  });
}

/** What a table of settings is called: the first two passes are all that most plans have. */
export const sawTitle = ({ pass, kind }: SawTable): string =>
  `${kind === 'rip' ? 'Fence settings' : 'Stop block settings'}${pass > 2 ? ', ripped pieces' : ''}`;

/** ` The yard cuts these to length: A × 2, B × 1. Measure them before you use them.`; nothing where it doesn't. */
export const yardWords = ({ yard = [] }: Pick<SawTable, 'yard'>): string =>
  yard.length === 0
    ? ''
    : ` The yard cuts these to length: ${yard.map(({ letter, quantity }) => `${letter} × ${quantity}`).join(', ')}. Measure them before you use them.`;

/** How a table of settings is worked. */
export const sawOpening = ({ pass, kind, yard }: SawTable): string =>
  kind === 'rip'
    ? `Set the fence once for each width, widest first, and rip all the pieces of that width before you move it.`
    : `Set the stop once for each length, longest first, and cut all the pieces of that length before you move it.${pass > 2 ? ' These are the strips that are shorter than the piece that they were ripped from.' : ''}${yardWords(yard ? { yard } : {})}`;

// ---------------------------------------------------------------- sheets

/** A cut of a sheet, or several alike that follow each other. */
export interface SequenceRow {
  /** `2–5`. */
  readonly numbers: string;
  readonly kind: SheetCut['kind'];
  /** What is cut: `sheet`, `from cut 1`, `rest of cut 1`. */
  readonly piece: string;
  /** From the fence. */
  readonly setting: Length;
  /** The edge of the piece that lies against the fence, as the layout is drawn. */
  readonly edge: SheetCut['from'];
  /** What comes off: finished parts, or work for these parts. */
  readonly gives: 'parts' | 'work' | 'offcut' | 'trim';
  readonly parts: readonly { readonly letter: string; readonly quantity: number }[];
  /** What is left beyond the blade, where that is not cut again. */
  readonly rest?: { readonly kind: 'part' | 'offcut'; readonly letter?: string; readonly each: boolean };
}

/** The cuts of sheets that are cut alike. */
export interface Sequence {
  /** `3/4 plywood, 4 × 8 ft`, with its number where another layout is called the same. */
  readonly title: string;
  readonly rows: readonly SequenceRow[];
}

/** The name of a sheet layout among all of a plan: `3/4 plywood, 4 × 8 ft, no. 2`. */
const sheetName = (sheets: readonly SheetLayout[], sheet: SheetLayout): string =>
  `${sheet.stock.label}, ${sheetCalled(sheets, sheet)}`;

/** The cut sequences of a plan's sheets, in the order of the layouts. */
export const sequences = (layouts: CuttingLayouts): Sequence[] =>
  (layouts.sheets ?? []).map((sheet, _, all) => ({
    title: `${sheetName(all, sheet)}${sheet.count > 1 ? ` × ${sheet.count}` : ''}`,
    rows: runsOf(sheet.cuts).map(sequenceRow),
  }));

/** Cuts alike that follow each other: the fence is set once, and the pieces are cut in one go. */
function runsOf(cuts: readonly SheetCut[]): SheetCut[][] {
  const runs: SheetCut[][] = [];
  for (const cut of cuts) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const alike =
      run !== undefined &&
      last !== undefined &&
      cut.kind !== 'trim' &&
      last.kind === cut.kind &&
      last.from === cut.from &&
      last.leaves.kind === cut.leaves.kind &&
      Math.abs(last.setting - cut.setting) < 1e-6 &&
      together(run, cut);
    if (alike) run.push(cut);
    else runs.push([cut]);
  }
  return runs;
}

/** True where a run goes on: either each cut takes the next piece off what the one before left, or the pieces are those of a run. */
function together(run: readonly SheetCut[], cut: SheetCut): boolean {
  const last = run.at(-1) as SheetCut;
  const chained = cut.piece === `${last.number}r`;
  if (!chained && JSON.stringify(last.rest) !== JSON.stringify(cut.rest)) return false;
  const before = run.at(-2);
  const chain = before !== undefined && last.piece === `${before.number}r`;
  if (run.length > 1 && chain !== chained) return false;
  return chained || (/^\d+$/.test(cut.piece) && Number(cut.piece) === Number(last.piece) + 1);
}

function sequenceRow(run: readonly SheetCut[]): SequenceRow {
  const [first] = run as [SheetCut];
  const last = run.at(-1) as SheetCut;
  const chained = run[1] === undefined || run[1].piece === `${first.number}r`;
  const counts = new Map<string, number>();
  for (const { parts } of run)
    for (const { item, count } of parts) counts.set(item, (counts.get(item) ?? 0) + count);
  const rest = last.rest;
  return {
    numbers: span(first.number, last.number),
    kind: first.kind,
    piece: chained ? pieceWords(first.piece) : `from cuts ${span(Number(first.piece), Number(last.piece))}`,
    setting: mm(first.setting),
    edge: first.from,
    gives:
      first.kind === 'trim'
        ? 'trim'
        : first.leaves.kind === 'part'
          ? 'parts'
          : first.leaves.kind === 'offcut'
            ? 'offcut'
            : 'work',
    parts: [...counts].map(([letter, quantity]) => ({ letter, quantity })),
    ...(rest === undefined || rest.kind === 'split'
      ? {}
      : {
          rest: {
            kind: rest.kind,
            ...(rest.item === undefined ? {} : { letter: rest.item }),
            each: !chained,
          },
        }),
  };
}

/** `3`, `3, 4`, `3–6`. */
const span = (first: number, last: number): string =>
  first === last ? `${first}` : last === first + 1 ? `${first}, ${last}` : `${first}–${last}`;

/** `sheet`, `from cut 3` (what lay between fence and blade), `rest of cut 3`. */
const pieceWords = (piece: string): string =>
  piece === 'sheet'
    ? 'sheet'
    : piece.endsWith('r')
      ? `rest of cut ${piece.slice(0, -1)}`
      : `from cut ${piece}`;

/** What a cut of a sheet gives, in words: `(B) × 4`, `work for (A) × 2`, `an offcut`; then what is left. */
export function givesLine({ gives, parts, rest }: SequenceRow): Line {
  const letter = (one: string): Run => ({ kind: 'letter', letter: one });
  const listed = parts.flatMap((one, index): Run[] => [
    ...(index > 0 ? [text(', ')] : []),
    letter(one.letter),
    ...(one.quantity > 1 ? [text(` × ${one.quantity}`)] : []),
  ]);
  const given: Line =
    gives === 'trim'
      ? [text('a good edge')]
      : gives === 'offcut'
        ? [text('an offcut')]
        : gives === 'parts'
          ? listed
          : [text('work for '), ...listed];
  if (rest === undefined) return given;
  const left = rest.each ? '; rest of each ' : '; rest ';
  return rest.kind === 'part' && rest.letter !== undefined
    ? [...given, text(left), letter(rest.letter)]
    : [...given, text(`${left}an offcut`)];
}

// ---------------------------------------------------------------- as a table for a spreadsheet

/** A table's number: four decimals hold a 64th of an inch. */
const decimals = (value: number): number => Number(value.toFixed(4));

/**
 * All settings as CSV: boards pass by pass, each stock by its setting, the largest first; then sheets, each by its setting, with the
 * numbers of the cuts in their layouts, since a sheet is cut in that order.
 */
export function sawListCsv({ plan, layouts }: Pick<FinishedPlan, 'plan' | 'layouts'>): string {
  const style = plan.edition.numbers;
  const setting = (value: number) => [sizeText(printed(value, style)), decimals(value)];
  const told = (pieces: readonly { letter: string; quantity: number }[]): string =>
    pieces.map(({ letter, quantity }) => `${letter} × ${quantity}`).join('; ');
  return csv([
    ['pass', 'cut', 'set', 'stock', 'species', 'setting', 'setting mm', 'cuts', 'pieces', 'note'],
    ...sawSettings(layouts).map((one) => [
      one.pass,
      one.kind,
      one.kind === 'rip' ? 'fence' : 'stop block',
      one.stock.label,
      one.species,
      ...setting(one.setting),
      one.cuts,
      told(one.pieces),
      one.against === undefined ? '' : `${one.against} against the fence`,
    ]),
    ...yardPieces(layouts).map(({ stock, species, pieces }) => [
      '',
      'crosscut',
      'in the yard',
      stock.label,
      species,
      '',
      '',
      '',
      told(pieces),
      'cut to length in the yard',
    ]),
    ...sheetSettings(layouts).map((one) => [
      '',
      one.kind,
      'fence',
      one.stock,
      one.species,
      ...setting(one.setting),
      one.cuts,
      told([...one.pieces].map(([letter, quantity]) => ({ letter, quantity }))),
      one.notes.join('; '),
    ]),
  ]);
}

interface SheetSetting {
  readonly kind: SheetCut['kind'];
  readonly stock: string;
  readonly species: string;
  readonly setting: number;
  cuts: number;
  readonly pieces: Map<string, number>;
  readonly notes: string[];
}

/** Settings of the fence for sheets, each stock by its setting. */
function sheetSettings(layouts: CuttingLayouts): SheetSetting[] {
  const sheets = layouts.sheets ?? [];
  const found: SheetSetting[] = [];
  for (const sheet of sheets) {
    const numbers = new Map<SheetSetting, number[]>();
    for (const cut of sheet.cuts) {
      let one = found.find(
        (other) =>
          other.stock === sheet.stock.label &&
          other.species === sheet.species &&
          other.kind === cut.kind &&
          Math.abs(other.setting - cut.setting) < 1e-6,
      );
      if (one === undefined) {
        const { kind, setting } = cut;
        one = {
          kind,
          stock: sheet.stock.label,
          species: sheet.species,
          setting,
          cuts: 0,
          pieces: new Map(),
          notes: [],
        };
        found.push(one);
      }
      one.cuts += sheet.count;
      for (const { item, count } of cut.parts)
        one.pieces.set(item, (one.pieces.get(item) ?? 0) + count * sheet.count);
      numbers.set(one, [...(numbers.get(one) ?? []), cut.number]);
    }
    for (const [one, list] of numbers)
      one.notes.push(`${sheetName(sheets, sheet)}: ${list.length > 1 ? 'cuts' : 'cut'} ${list.join(', ')}`);
  }
  const stocks = [...new Set(found.map(({ stock, species }) => JSON.stringify([stock, species])))];
  const place = ({ stock, species }: SheetSetting): number =>
    stocks.indexOf(JSON.stringify([stock, species]));
  return found.sort((a, b) => place(a) - place(b) || b.setting - a.setting);
}
