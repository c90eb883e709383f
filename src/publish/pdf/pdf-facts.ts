/** The facts at a glance: how large, how long, how heavy, how much wood. */
import { LIFT, weightText } from '../../instructions/cautions.ts';
import type { FinishedPlan } from '../types.ts';
import { amount } from '../words/pdf-words.ts';
import { plain, type SheetLine, sheetLength } from './pdf-prose.ts';

export interface SheetFact {
  readonly label: string;
  readonly value: SheetLine;
}

/** The facts of a plan, in the order in which a builder asks for them. */
export function plainFacts(finished: FinishedPlan): SheetFact[] {
  const { plan, cutList } = finished;
  const { outline, front } = plan;
  const size = (length: number) => sheetLength(length, plan.edition.numbers);
  const weight = cutList.weight;
  return [
    {
      label: 'Finished size',
      value: [size(outline.width), ' wide, ', size(outline.depth), ' deep, ', size(outline.height), ' high'],
    },
    { label: 'Skill', value: [plain(front.skill)] },
    { label: 'Time', value: [plain(front.time)] },
    ...(weight === undefined
      ? []
      : [
          {
            label: 'Weight',
            value: [`About ${weightText(weight, plan)}${weight > LIFT ? '; two people lift it' : ''}`],
          },
        ]),
    { label: 'Lumber', value: [lumberText(finished)] },
    { label: 'Cost', value: [costText(finished)] },
    { label: 'Cuts', value: [cutsText(finished)] },
  ].filter(({ value }) => value.some((item) => item !== ''));
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** `10 boards, all 8 ft`, or `8 boards: 5 of 2.4 m, 3 of 3.6 m`. */
function lumberText(finished: FinishedPlan): string {
  const byLength = new Map<string, { length: number; count: number }>();
  for (const board of [...finished.layouts.boards, ...(finished.layouts.extra ?? [])]) {
    const found = byLength.get(board.lengthLabel);
    byLength.set(board.lengthLabel, { length: board.boardLength, count: (found?.count ?? 0) + board.count });
  }
  const lengths = [...byLength].sort((a, b) => a[1].length - b[1].length);
  const told = lumberOf(
    lengths.map(([label, { count }]) => [label, count]),
    'board',
  );
  return plain([told, sheetText(finished)].filter((words) => words !== '').join('; '));
}

/** `1 sheet, 4 × 8 ft`. */
function sheetText(finished: FinishedPlan): string {
  const bySize = new Map<string, number>();
  for (const sheet of finished.layouts.sheets ?? [])
    bySize.set(sheet.sizeLabel, (bySize.get(sheet.sizeLabel) ?? 0) + sheet.count);
  return lumberOf([...bySize], 'sheet');
}

function lumberOf(sizes: readonly (readonly [label: string, count: number])[], one: string): string {
  const count = sizes.reduce((sum, [, some]) => sum + some, 0);
  if (count === 0) return '';
  const all = counted(count, one, `${one}s`);
  // A size isn't parted at the end of a line.
  const told = sizes.map(([label, some]) => ({ label: label.replaceAll(' ', '\u00a0'), some }));
  const [first] = told;
  if (told.length === 1) return count === 1 ? `${all}, ${first?.label}` : `${all}, all ${first?.label}`;
  return `${all}: ${told.map(({ label, some }) => `${some}\u00a0of ${label}`).join(', ')}`;
}

/** What the shopping list comes to, at the prices of its region. */
function costText(finished: FinishedPlan): string {
  const { total, currency, partial, region } = finished.shopping;
  if (total <= 0) return '';
  return plain(`${partial ? 'At least' : 'About'} ${amount(total, currency)} at ${region} prices`);
}

/** `24 parts of 7 lengths, 1 rip`. */
function cutsText(finished: FinishedPlan): string {
  const { rows } = finished.cutList;
  const pieces = rows.reduce((sum, row) => sum + row.quantity, 0);
  const lengths = finished.layouts.stops.length;
  const rips = rows.filter((row) => row.rip !== undefined).reduce((sum, row) => sum + row.quantity, 0);
  return [
    counted(pieces, 'piece', 'pieces'),
    lengths > 0 ? ` of ${counted(lengths, 'length', 'lengths')}` : '',
    rips > 0 ? `, ${rips} ripped` : '',
  ].join('');
}
