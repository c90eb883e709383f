/** Rows of the cut list for a glued-up panel: its boards, cut long, and what they make. */
import type { GluedPanel } from '../model/types.ts';
import { type Line, text } from '../text.ts';
import { mm, type NumberStyle, printed } from '../units.ts';
import type { CutListRow } from './types.ts';

const SAME = 0.01;

/**
 * The boards of a panel. Boards of one width make a row; a last one ripped narrower makes another, which keeps the letter of the panel
 * in drawings out of it. The allowance is left on each board's length, and on the width of the last one.
 * @param row the panel itself, at its finished size
 * @param nextLetter of the second row, where there is one
 */
export function panelRows(
  panel: GluedPanel,
  row: CutListRow,
  name: string,
  style: NumberStyle,
  nextLetter: () => string,
): CutListRow[] {
  const { widths, allowance } = panel;
  const size = (length: number) => ({ kind: 'size' as const, size: printed(length, style) });
  const stock = row.stock.cover;
  const [first, last] = [widths[0] as number, widths.at(-1) as number];
  const same = Math.abs(first - last) < SAME;
  // Equal boards share what is trimmed off the panel's width; boards as they come leave it on the last one.
  const wide = same ? Math.min(stock, first + allowance / widths.length) : first;
  const narrow = Math.min(stock, last + allowance);
  const groups = same
    ? [{ count: widths.length, width: wide, name: `${name} board` }]
    : [
        { count: widths.length - 1, width: first, name: `${name} board` },
        { count: 1, width: narrow, name: `Last ${name.charAt(0).toLowerCase()}${name.slice(1)} board` },
      ];
  const made: Line = [
    text(`${widths.length} make a panel `),
    size(row.width),
    text(' × '),
    size(row.length),
    text(': glue up, then trim; end grain up and down by turns'),
  ];
  return groups.map((group, index) => ({
    ...row,
    letter: index === 0 ? row.letter : nextLetter(),
    name: group.name,
    quantity: row.quantity * group.count,
    width: mm(group.width),
    length: mm(row.length + allowance),
    ...(group.width < stock - SAME ? { rip: { width: mm(group.width), reason: 'part' as const } } : {}),
    notes: [
      ...(group.width < stock - SAME ? [[text('rip to '), size(group.width)] as Line] : []),
      ...(index === 0 ? [made, ...row.notes] : [[text(`goes with ${row.letter}`)] as Line]),
    ],
    panel: { boards: widths.length, width: row.width, length: row.length },
  }));
}
