/** The lists of the sheets: shopping, cut list, stop block settings, and what is said about the layouts. */
import type { CutListRow, ShoppingRow } from '../../cutting/types.ts';
import { capital } from '../../instructions/words.ts';
import { lineText } from '../../text.ts';
import { printed } from '../../units.ts';
import type { FinishedPlan } from '../types.ts';
import { boardCutLists } from '../words/board-cuts.ts';
import { extraText, leftOver, stockName, yardText } from '../words/left-over.ts';
import { amount } from '../words/pdf-words.ts';
import { choiceText, levelsText } from '../words/proof-words.ts';
import { givesLine, sawOpening, sawTables, sawTitle, sequences } from '../words/saw-list.ts';
import { plain, type SheetInline, type SheetLine, sheetLength, sheetLine, sheetSize } from './pdf-prose.ts';

/** A row of the cut list, printed. */
export interface SheetCutRow {
  readonly letter: string;
  readonly name: string;
  readonly quantity: string;
  readonly from: string;
  readonly thick: SheetInline;
  readonly wide: SheetInline;
  readonly long: SheetInline;
  readonly notes: readonly SheetLine[];
}

/** A setting of stop block or fence, and what is cut at it. */
export interface SheetSetting {
  readonly long: SheetInline;
  readonly cuts: string;
  readonly pieces: readonly {
    readonly letter: string;
    readonly quantity: string;
    readonly from: string;
  }[];
}

/** All settings of a pass through the saw. */
export interface SheetSaw {
  readonly title: string;
  readonly opening: string;
  /** Head of the column of settings: `Stop at`. */
  readonly head: string;
  readonly rows: readonly SheetSetting[];
}

/** The cuts of boards that are cut alike, in order. */
export interface SheetBoardCuts {
  /** `1×6`. */
  readonly board: string;
  /** `8 ft, 2 alike`. */
  readonly sold: string;
  readonly cuts: readonly { readonly numbers: string; readonly said: SheetLine }[];
}

/** The cuts of a sheet, in order. */
export interface SheetSequence {
  readonly title: string;
  readonly rows: readonly {
    readonly numbers: string;
    readonly kind: string;
    readonly piece: string;
    readonly fence: SheetInline;
    readonly edge: string;
    readonly gives: SheetLine;
  }[];
}

export interface SheetShoppingRow {
  readonly name: string;
  /** Stands under the name; empty where there is nothing to say. */
  readonly note: string;
  readonly size: SheetLine;
  readonly unit: string;
  readonly needed: string;
  readonly quantity: string;
  readonly each: string;
  readonly cost: string;
}

export interface SheetShopping {
  readonly boards: readonly SheetShoppingRow[];
  readonly hardware: readonly SheetShoppingRow[];
  readonly lumberCost: string;
  readonly hardwareCost: string;
  readonly totalLabel: string;
  readonly total: string;
  readonly opening: string;
  /** `Boards`, or `Boards and sheets`. */
  readonly lumber: string;
  /** Pieces that are there already and not bought. */
  readonly onHand: readonly string[];
  /** What becomes of the wood: how the table is meant, and a row a stock. */
  readonly leftOpening: string;
  readonly left: readonly {
    readonly name: string;
    readonly parts: string;
    readonly waste: string;
    readonly kept: string;
    readonly pieces: SheetLine;
  }[];
}

/** The cut list's rows. */
export function cutRows(finished: FinishedPlan): SheetCutRow[] {
  const style = finished.plan.edition.numbers;
  return finished.cutList.rows.map((row) => ({
    letter: plain(row.letter),
    name: plain(row.name),
    quantity: `${row.quantity}`,
    from: plain(stockName(finished, row.stock, row.species)),
    thick: sheetLength(row.thickness, style),
    wide: sheetLength(row.width, style),
    long: sheetLength(row.length, style),
    notes: notesOf(row),
  }));
}

/** Longest notes of a row, in characters, that still stand well in a column of their own. */
const NOTE_COLUMN = 64;

/** True where notes want more room than a column gives: then they stand under the names. */
export const notesBelow = (finished: FinishedPlan): boolean =>
  finished.cutList.rows.some((row) => row.notes.map(lineText).join('; ').length > NOTE_COLUMN);

/** The row's own notes, and the two that a builder must not miss where none of them says it. */
function notesOf(row: CutListRow): SheetLine[] {
  const notes = row.notes.map(sheetLine);
  const said = JSON.stringify(notes);
  return [
    ...(row.rip !== undefined && !/\brip/i.test(said) ? [['rip']] : []),
    ...(row.fit === 'measured' && !/measure/i.test(said) ? [['measure first']] : []),
    ...notes,
  ];
}

/** Settings of stop block and fence, pass by pass, the largest first. */
export function sawData({ plan, layouts }: FinishedPlan): SheetSaw[] {
  const style = plan.edition.numbers;
  return sawTables(layouts, style).map((table) => ({
    title: sawTitle(table),
    opening: sawOpening(table),
    head: table.kind === 'rip' ? 'Fence at' : 'Stop at',
    rows: table.rows.map((row) => ({
      long: sheetLength(row.setting, style),
      cuts: `${row.cuts}`,
      pieces: row.pieces.map(({ letter, quantity, from }) => ({
        letter: plain(letter),
        quantity: `${quantity}`,
        from: plain(from),
      })),
    })),
  }));
}

/** The cuts of all boards. */
export function boardCutData(finished: FinishedPlan): SheetBoardCuts[] {
  const { plan, layouts } = finished;
  return boardCutLists(layouts, plan.edition.numbers).map(({ board, cuts }) => ({
    board: plain(stockName(finished, board.stock, board.species)),
    sold: plain(board.count > 1 ? `${board.lengthLabel}, ${board.count} alike` : board.lengthLabel),
    cuts: cuts.map(({ numbers, said }) => ({ numbers, said: sheetLine(said) })),
  }));
}

/** The cuts of each sheet. */
export function sequenceData({ plan, layouts }: FinishedPlan): SheetSequence[] {
  return sequences(layouts).map(({ title, rows }) => ({
    title: plain(title),
    rows: rows.map((row) => ({
      numbers: row.numbers,
      kind: capital(row.kind),
      piece: row.piece,
      fence: sheetLength(row.setting, plan.edition.numbers),
      edge: row.edge,
      gives: sheetLine(givesLine(row)),
    })),
  }));
}

const stockLabel = (finished: FinishedPlan, key: string): string =>
  finished.plan.stockList.items.find((item) => item.key === key)?.label ?? key;

/** The shopping list, boards first. */
export function shoppingData(finished: FinishedPlan): SheetShopping {
  const { rows, currency, lumberCost, hardwareCost, total, partial, region } = finished.shopping;
  const priced = (value: number | undefined): string => (value === undefined ? '' : amount(value, currency));
  const row = (item: ShoppingRow): SheetShoppingRow => ({
    name: plain(item.stock === undefined ? item.name : stockName(finished, item.stock, item.species ?? '')),
    note: plain([extraText(item.extra), yardText(finished, item)].filter((words) => words !== '').join('; ')),
    size: sheetLine(item.size),
    unit: plain(item.unit),
    needed: `${item.needed}`,
    quantity: `${item.quantity}`,
    each: priced(item.each),
    cost: priced(item.cost),
  });
  const left = leftOver(finished);
  const style = finished.plan.edition.numbers;
  return {
    boards: rows.filter((item) => item.kind === 'board').map(row),
    hardware: rows.filter((item) => item.kind === 'hardware').map(row),
    lumberCost: lumberCost > 0 ? amount(lumberCost, currency) : '',
    hardwareCost: hardwareCost > 0 ? amount(hardwareCost, currency) : '',
    totalLabel: partial ? 'Total, some prices not known' : 'Total',
    total: total > 0 ? amount(total, currency) : '',
    lumber: finished.layouts.sheets === undefined ? 'Boards' : 'Boards and sheets',
    onHand: left.onHand.map(plain),
    leftOpening: plain(left.opening),
    left: left.rows.map(({ name, parts, waste, kept, pieces }) => ({
      name: plain(name),
      parts,
      waste,
      kept: pieces.length === 0 ? '' : kept,
      pieces: pieces.flatMap(
        ({ length, width, count }, at): SheetLine => [
          `${at === 0 ? '' : '; '}${count > 1 ? `${count} of ` : ''}`,
          sheetLength(length, style),
          ' × ',
          sheetLength(width, style),
        ],
      ),
    })),
    opening: plain(
      `${woodOf(finished)}Prices (${region}) are only a guide; sizes are what the boards measure, not their names.`,
    ),
  };
}

/** `All boards are pine. `: where the plan uses one species only. */
function woodOf(finished: FinishedPlan): string {
  const [key, ...others] = new Set(finished.cutList.rows.map((row) => row.species));
  const name = finished.plan.stockList.species.find((species) => species.key === key)?.name;
  return name === undefined || others.length > 0 ? '' : `All boards are ${name.toLowerCase()}. `;
}

/** What is said above and below the cutting layouts. */
export function layoutWords(finished: FinishedPlan): {
  layoutsOpening: SheetLine;
  layoutsClosing: readonly SheetLine[];
} {
  const { layouts, plan } = finished;
  const kerf = sheetSize(printed(layouts.kerf, plan.edition.numbers), false);
  return {
    layoutsOpening: [
      'Cut in the order of the numbers. Each line is one saw kerf, ',
      kerf,
      ' wide; square the first end before you measure. Hatched pieces are left over.',
      layouts.boards.some((board) => board.cuts.some((cut) => cut.yard))
        ? ' Have the cuts marked “in the yard” made where you buy the boards.'
        : '',
    ],
    layoutsClosing: [proofLine(finished), ...gapLines(finished), extraLine(finished)].filter(
      (line) => line.length > 0,
    ),
  };
}

/** The layouts reckon with clear wood: what is bought for the rest of it. */
function extraLine({ layouts }: FinishedPlan): SheetLine {
  const count = (layouts.extra ?? []).reduce((sum, extra) => sum + extra.count, 0);
  if (count === 0) return [];
  return [
    `The layouts reckon with clear boards; ${count === 1 ? 'one more is' : `${count} more are`} on the shopping list for what knots and checks cost.`,
  ];
}

function proofLine(finished: FinishedPlan): SheetLine {
  const { proofs } = finished.layouts;
  const proved = proofs.filter((proof) => proof.status === 'proved best');
  if (proved.length === 0) return [];
  const names = proved.map((proof) => stockLabel(finished, proof.stock)).join(', ');
  const levels = levelsText(finished.layouts);
  return [
    {
      kind: 'strong',
      children: [plain(proved.length === proofs.length ? 'Proved best.' : `Proved best for ${names}.`)],
    },
    ` No choice from the ${choiceText(finished.layouts)} on the list costs less and still holds these parts.`,
    ...(levels === '' ? [] : [` ${levels}`]),
  ];
}

const isSheet = ({ layouts }: FinishedPlan, stock: string): boolean =>
  (layouts.sheets ?? []).some((sheet) => sheet.stock.key === stock);

/** Layouts that are good but not proved: by how much a better one could be cheaper. */
function gapLines(finished: FinishedPlan): SheetLine[] {
  return finished.layouts.proofs
    .filter((proof) => proof.status === 'gap')
    .map((proof) => {
      const share = proof.cost > 0 ? Math.ceil(((proof.cost - proof.bound) / proof.cost) * 1000) / 10 : 0;
      return [
        { kind: 'strong', children: [plain(`${stockLabel(finished, proof.stock)}: not proved best.`)] },
        ` These ${isSheet(finished, proof.stock) ? 'sheets' : 'boards'} cost at most ${share}\u00a0% more than need be.`,
      ];
    });
}
