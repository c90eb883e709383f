/** Parts that a plan takes `from: offcut` where no offcut holds them: which boards pay for them. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import { printed, sizeText } from '../units.ts';
import { type Lumber, SAME } from './lumber.ts';
import { addUp } from './money.ts';
import type { BoardResult, CutListRow } from './types.ts';

/** A warning for each part of which a piece finds no offcut: it has a board of its own, or more of the boards that are bought. */
export function noOffcut(
  plan: Plan,
  lumber: Lumber,
  rows: readonly CutListRow[],
  alone: BoardResult,
  together: BoardResult,
): Diagnostic[] {
  const { stock } = lumber;
  const cost = addUp([together.cost, -alone.cost]);
  const more = bought(together, alone);
  const less = bought(alone, together);
  const instead = less.length > 0 ? ` in place of ${less.join(' and ')}` : '';
  const pays =
    more.length > 0 && cost > SAME
      ? `${more.join(' and ')}${instead} of ${stock.label} pays for it, ${cost.toFixed(2)} ${plan.stockList.currency} more`
      : `it has a board of ${stock.label} of its own`;
  return warnings(
    plan,
    rows,
    (row, size) =>
      `an offcut of ${stock.label} for "${row.name}", ${size(row.length)} long and ${size(row.width)} wide`,
    `none that holds it: ${pays}`,
    'make it smaller, or leave "from: offcut" out',
  );
}

/** Warnings where nothing else is cut from the stock. */
export function noOthers(plan: Plan, rows: readonly CutListRow[]): Diagnostic[] {
  return warnings(
    plan,
    rows,
    (row) => `another part of ${row.stock.label} in the same species that leaves an offcut for "${row.name}"`,
    'none: a board is bought for it',
    'take a stock that other parts are cut from, or leave "from: offcut" out',
  );
}

function warnings(
  plan: Plan,
  rows: readonly CutListRow[],
  expected: (row: CutListRow, size: (length: number) => string) => string,
  found: string,
  hint: string,
): Diagnostic[] {
  const size = (length: number): string => sizeText(printed(length, plan.edition.numbers));
  const told = new Set<string>();
  return rows.flatMap((row): Diagnostic[] => {
    const part = plan.parts.find((candidate) => candidate.key === row.part);
    if (part?.fromOffcut === undefined || told.has(part.key)) return [];
    told.add(part.key);
    return [
      {
        id: 'offcut.none',
        severity: 'warning',
        origin: part.fromOffcut,
        message: `expected ${expected(row, size)}, found ${found}`,
        hint,
        parts: [part.key],
        edition: plan.edition.key,
      },
    ];
  });
}

/** Boards of one layout that another has not, `1 of 8 ft`. */
function bought(one: BoardResult, other: BoardResult): string[] {
  const count = (result: BoardResult, id: string): number =>
    result.patterns.reduce((sum, pattern) => sum + (pattern.stock === id ? pattern.count : 0), 0);
  const ids = [...new Set(one.patterns.map((pattern) => pattern.stock))];
  return ids.flatMap((id) => {
    const more = count(one, id) - count(other, id);
    return more > 0 ? [`${more} of ${id}`] : [];
  });
}
