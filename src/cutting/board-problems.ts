/** Parts that no board can hold, each with the nearest stock that would do or the joint that could help. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { Part, Plan } from '../model/types.ts';
import type { StockLength } from '../read/types.ts';
import { printed, sizeText } from '../units.ts';
import { usableLength } from './boards/grid.ts';
import { trimmedOff } from './cuts.ts';
import { type Lumber, resolution, SAME, usableWidth } from './lumber.ts';
import type { CutListRow } from './types.ts';

/** What is wrong with a row of the cut list, so that no board can hold it; nothing where one can. */
export function rowProblem(plan: Plan, lumber: Lumber, row: CutListRow): Diagnostic | undefined {
  const part = plan.parts.find((candidate) => candidate.key === row.part);
  if (part === undefined) return undefined;
  const said = (id: string, expected: string, found: string, hint: string): Diagnostic =>
    fault(id, part.origin, { expected, found, hint, parts: [part.key], edition: plan.edition.key });
  const size = (length: number): string => sizeText(printed(length, plan.edition.numbers));
  if (!(row.length > 0 && row.width > 0 && Number.isFinite(row.length) && Number.isFinite(row.width)))
    return said(
      'board.size',
      'a part with a length and a width above 0',
      `"${row.name}" ${size(row.length)} long and ${size(row.width)} wide`,
      'check the faces that its size comes from',
    );
  const longestBoard = plan.edition.longestBoard;
  if (lumber.sold.length === 0 && longestBoard !== undefined && isSold(lumber))
    return said(
      'board.vehicle',
      `a board of ${lumber.stock.label} no longer than ${size(longestBoard)}, the edition's "longest board"`,
      'none that is sold',
      `raise "longest board", or write "cut in the yard: yes" in ${plan.stockList.file} if the yard cuts boards for the way home`,
    );
  const needs = row.length + trimmedOff(plan.stockList, plan.edition.kerf);
  if (longestBoard !== undefined && needs > longestBoard + SAME && lumber.onlyInTheYard(needs))
    return said(
      'board.vehicle',
      `a part no longer than ${size(longestBoard)}, the edition's "longest board": the yard can't cut it shorter`,
      `"${row.name}" ${size(row.length)} long`,
      'make it of two lengths with a joint over a support, or raise "longest board"',
    );
  if (lumber.sold.length === 0) return said('board.not-sold', ...notSold(plan, lumber, part));
  const wide = usableWidth(lumber.stock);
  if (row.width > wide + SAME)
    return said(
      'board.too-wide',
      `a width of ${size(wide)} at most, that of ${lumber.stock.label}`,
      `"${row.name}" ${size(row.width)} wide, ${size(row.width - wide)} more`,
      widerHint(plan, lumber, row, size),
    );
  const longest = lumber.sold.at(-1) as StockLength;
  const { endTrim } = plan.stockList;
  const usable = usableLength({ kerf: plan.edition.kerf, endTrim }, longest.length);
  const step = resolution(plan);
  // the layout's own grid decides: a piece is rounded up to it and a board down
  if (layoutFits(row.length, longest.length, plan, step)) return undefined;
  const trimmed = endTrim > 0 ? `, which leaves ${size(usable)} after the end is trimmed` : '';
  return said(
    'board.too-long',
    `a length that a board of ${lumber.stock.label} can give: the longest sold is ${longest.label}${trimmed}`,
    `"${row.name}" ${size(row.length)} long, ${size(Math.max(row.length - usable, step))} too much`,
    longerHint(plan, lumber, row),
  );
}

function layoutFits(length: number, board: number, plan: Plan, step: number): boolean {
  const up = (value: number): number => Math.ceil(value / step - SAME);
  const { endTrim } = plan.stockList;
  const trim = endTrim > 0 ? up(endTrim) + up(plan.edition.kerf) : 0;
  return up(length) <= Math.floor(board / step + SAME) - trim;
}

const isSold = ({ stock, species }: Lumber): boolean =>
  stock.lengths.some((entry) => entry.prices[species] !== undefined);

function notSold(plan: Plan, lumber: Lumber, part: Part): [expected: string, found: string, hint: string] {
  const sold = [...new Set(lumber.stock.lengths.flatMap((entry) => Object.keys(entry.prices)))].sort();
  return [
    `${lumber.stock.label} in a species that it is sold in`,
    `"${lumber.species}", for which ${plan.stockList.file} has no price`,
    sold.length > 0
      ? `write "species: ${sold[0]}" in ${part.key} (sold: ${sold.join(', ')}), or add prices to the stock list`
      : `add lengths with prices to ${lumber.stock.key} in ${plan.stockList.file}`,
  ];
}

/** The narrowest stock of the same thickness that would do. */
function widerHint(plan: Plan, lumber: Lumber, row: CutListRow, size: (length: number) => string): string {
  const wider = plan.stockList.items
    .filter(
      (item) =>
        Math.abs(item.thickness - lumber.stock.thickness) <= SAME && usableWidth(item) >= row.width - SAME,
    )
    .sort((a, b) => usableWidth(a) - usableWidth(b))[0];
  if (wider !== undefined) return `write "stock: ${wider.key}", which is ${size(usableWidth(wider))} wide`;
  return 'no stock of this thickness is wide enough: make it of boards laid side by side';
}

/** Another stock of the same section or width that is sold long enough, or the advice to join it. */
function longerHint(plan: Plan, lumber: Lumber, row: CutListRow): string {
  const step = resolution(plan);
  const longer = plan.stockList.items
    .filter(
      (item) =>
        item.key !== lumber.stock.key &&
        item.profile === lumber.stock.profile &&
        Math.abs(item.thickness - lumber.stock.thickness) <= SAME &&
        usableWidth(item) >= row.width - SAME &&
        item.lengths.some(
          (entry) =>
            entry.prices[lumber.species] !== undefined && layoutFits(row.length, entry.length, plan, step),
        ),
    )
    .sort((a, b) => a.width - b.width)[0];
  return longer === undefined
    ? 'make it shorter, or of two lengths with a joint over a support'
    : `make it shorter, or write "stock: ${longer.key}" and rip it; that is sold long enough`;
}
