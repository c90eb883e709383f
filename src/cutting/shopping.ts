/** The shopping list: boards by length, fasteners and hardware by the package, with what they cost in the list's region. */
import type { Joinery } from '../joinery/types.ts';
import type { Plan } from '../model/types.ts';
import type { HardwareItem } from '../read/types.ts';
import { type Line, type Run, text } from '../text.ts';
import { type NumberStyle, printed } from '../units.ts';
import { packagesByArea } from './coverage.ts';
import { addUp, cents } from './money.ts';
import type { SheetPiece } from './sheets/types.ts';
import type {
  BoardLayout,
  CutList,
  CuttingLayouts,
  SheetLayout,
  ShoppingList,
  ShoppingRow,
} from './types.ts';

/**
 * What a buyer takes to the shop. Boards are those of the layouts; fasteners and hardware are added up by item and rounded up to
 * whole packages. An item without a price in the list's currency, or a part that no board was found for, makes the total partial.
 */
export function shoppingList(
  plan: Plan,
  cuts: CutList,
  layouts: CuttingLayouts,
  joinery: Joinery,
): ShoppingList {
  const { region, currency } = plan.stockList;
  const boards = [...boardRows(plan, layouts), ...sheetRows(plan, layouts.sheets ?? [])];
  const hardware = hardwareRows(plan, joinery, currency);
  const lumberCost = addUp(boards.map((row) => row.cost ?? 0));
  const hardwareCost = addUp(hardware.map((row) => row.cost ?? 0));
  const rows = [...boards, ...hardware];
  return {
    region,
    currency,
    rows,
    lumberCost,
    hardwareCost,
    total: addUp([lumberCost, hardwareCost]),
    partial: rows.some((row) => row.cost === undefined) || !holdsAll(cuts, layouts),
  };
}

/** True where each row of the cut list is laid out as often as it is needed. */
function holdsAll(cuts: CutList, layouts: CuttingLayouts): boolean {
  const laid = new Map<string, number>();
  for (const board of layouts.boards)
    for (const section of board.sections)
      for (const strip of section.strips) laid.set(strip.letter, (laid.get(strip.letter) ?? 0) + board.count);
  const count = (piece: SheetPiece, times: number): void => {
    if (piece.kind === 'part') laid.set(piece.item, (laid.get(piece.item) ?? 0) + times);
    if (piece.kind === 'split') for (const one of piece.pieces) count(one, times);
  };
  for (const sheet of layouts.sheets ?? []) count(sheet.root, sheet.count);
  return cuts.rows.every((row) => laid.get(row.letter) === row.quantity);
}

/** Boards of one size: those of the layouts, and those that are bought beside them. */
interface BoardCount {
  readonly board: Pick<BoardLayout, 'stock' | 'species' | 'boardLength' | 'lengthLabel' | 'price'>;
  needed: number;
  extra: number;
}

function boardRows(plan: Plan, layouts: CuttingLayouts): ShoppingRow[] {
  const groups = new Map<string, BoardCount>();
  const counted = (board: BoardCount['board']): BoardCount => {
    const key = JSON.stringify([board.stock.key, board.species, board.lengthLabel]);
    const group = groups.get(key) ?? { board, needed: 0, extra: 0 };
    groups.set(key, group);
    return group;
  };
  for (const board of layouts.boards) if (!board.own) counted(board).needed += board.count;
  for (const board of layouts.extra ?? []) counted(board).extra += board.count;
  const place = ({ board }: BoardCount): number =>
    plan.stockList.items.findIndex((item) => item.key === board.stock.key);
  return [...groups.values()]
    .sort(
      (a, b) =>
        place(a) - place(b) ||
        compareText(a.board.species, b.board.species) ||
        a.board.boardLength - b.board.boardLength,
    )
    .map(({ board, needed, extra }) => ({
      kind: 'board',
      name: board.stock.label,
      size: sectionLine(board, plan.edition.numbers),
      unit: board.lengthLabel,
      quantity: needed + extra,
      needed,
      ...(extra > 0 ? { extra } : {}),
      each: cents(board.price),
      cost: cents(cents(board.price) * (needed + extra)),
      stock: board.stock,
      species: board.species,
    }));
}

/** Sheets by size, in the order of the stock list. */
function sheetRows(plan: Plan, sheets: readonly SheetLayout[]): ShoppingRow[] {
  const groups = new Map<string, { sheet: SheetLayout; quantity: number }>();
  for (const sheet of sheets) {
    if (sheet.own) continue;
    const key = JSON.stringify([sheet.stock.key, sheet.species, sheet.sizeLabel]);
    const group = groups.get(key);
    if (group) group.quantity += sheet.count;
    else groups.set(key, { sheet, quantity: sheet.count });
  }
  const place = (sheet: SheetLayout): number =>
    plan.stockList.items.findIndex((item) => item.key === sheet.stock.key);
  const area = (sheet: SheetLayout): number => sheet.sheetLength * sheet.sheetWidth;
  return [...groups.values()]
    .sort(
      (a, b) =>
        place(a.sheet) - place(b.sheet) ||
        compareText(a.sheet.species, b.sheet.species) ||
        area(a.sheet) - area(b.sheet),
    )
    .map(({ sheet, quantity }) => ({
      kind: 'board',
      name: sheet.stock.label,
      size: [
        { kind: 'size', size: printed(sheet.stock.thickness, { ...plan.edition.numbers, sheets: true }) },
      ],
      unit: sheet.sizeLabel,
      quantity,
      needed: quantity,
      each: cents(sheet.price),
      cost: cents(cents(sheet.price) * quantity),
      stock: sheet.stock,
      species: sheet.species,
    }));
}

function sectionLine(board: BoardCount['board'], style: NumberStyle): Line {
  return [
    { kind: 'size', size: printed(board.stock.thickness, style) },
    text(' × '),
    { kind: 'size', size: printed(board.stock.width, style) },
  ];
}

function hardwareRows(plan: Plan, joinery: Joinery, currency: string): ShoppingRow[] {
  const needed = new Map<string, { item: HardwareItem; count: number }>();
  const need = (item: HardwareItem, count: number): void => {
    if (count <= 0) return;
    const entry = needed.get(item.key);
    if (entry) entry.count += count;
    else needed.set(item.key, { item, count });
  };
  // fasteners first, as they come; then hinges, hooks and the rest in the plan's order
  for (const { item, count } of joinery.fasteners) need(item, count);
  for (const use of plan.hardware) need(use.item, packagesByArea(plan, joinery, use));
  return [...needed.values()].map(({ item, count }) => {
    const inPackage = Math.max(1, item.package);
    const quantity = Math.ceil(count / inPackage - 1e-9);
    const price = item.price[currency];
    return {
      kind: 'hardware',
      name: item.name,
      size: hardwareLine(item, plan.edition.numbers),
      unit: inPackage === 1 ? 'each' : `box of ${inPackage}`,
      quantity,
      needed: count,
      ...(price === undefined ? {} : { each: cents(price), cost: cents(cents(price) * quantity) }),
      item,
    };
  });
}

function hardwareLine(item: HardwareItem, style: NumberStyle): Line {
  const runs: Run[] = [];
  if (item.size !== undefined) runs.push(text(item.size));
  if (item.length !== undefined) {
    if (runs.length > 0) runs.push(text(' × '));
    runs.push({ kind: 'size', size: printed(item.length, style) });
  }
  return runs;
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
