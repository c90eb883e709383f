/**
 * Sheets of labels that printers take, by the size of one label. They are sold under many names; the sizes are the same.
 * How many there are on a sheet, and the gap between its columns: common practice, no source. The labels lie in the middle of the
 * sheet and touch above and below, so that the margins follow: (8-1/2 in − 3 × 2-5/8 in − 2 × 1/8 in) / 2 = 3/16 in.
 */
import { inches, type Length, mm } from '../units.ts';
import { sidesOfSheet } from './sides.ts';

/** A sheet of labels; places follow from its paper, since the labels lie in its middle. */
export interface LabelSheet {
  /** `2-5/8 x 1 in`: as the shop file names it, across first. */
  readonly key: string;
  readonly paper: 'letter' | 'a4';
  /** Of one label, across the sheet. */
  readonly width: Length;
  readonly height: Length;
  readonly columns: number;
  readonly rows: number;
  /** Between two columns; rows touch. */
  readonly gap: Length;
}

const letter = (
  key: string,
  [width, height]: readonly [number, number],
  [columns, rows]: readonly [number, number],
  gap: number,
): LabelSheet => ({
  key,
  paper: 'letter',
  width: inches(width),
  height: inches(height),
  columns,
  rows,
  gap: inches(gap),
});

const a4 = (
  key: string,
  [width, height]: readonly [number, number],
  [columns, rows]: readonly [number, number],
  gap: number,
): LabelSheet => ({ key, paper: 'a4', width: mm(width), height: mm(height), columns, rows, gap: mm(gap) });

/** All that are known, the default of each paper first. */
export const LABEL_SHEETS: readonly LabelSheet[] = [
  letter('2-5/8 x 1 in', [2.625, 1], [3, 10], 1 / 8),
  letter('4 x 1 in', [4, 1], [2, 10], 3 / 16),
  letter('4 x 1-1/3 in', [4, 4 / 3], [2, 7], 3 / 16),
  letter('4 x 2 in', [4, 2], [2, 5], 3 / 16),
  a4('63.5 x 38.1 mm', [63.5, 38.1], [3, 7], 2.54),
  a4('63.5 x 33.9 mm', [63.5, 33.9], [3, 8], 2.54),
  a4('70 x 37 mm', [70, 37], [3, 8], 0),
  a4('99.1 x 38.1 mm', [99.1, 38.1], [2, 7], 2.54),
];

/** Said in the shop file where a shop wants no labels. */
export const NO_LABELS = 'none';

/** Sizes of labels nearer than this are the same, mm: `2.63 x 1 in` is as good as `2-5/8 x 1 in`. */
const SAME = 0.3;

/** How far the sides of two labels are from each other, mm. */
const apart = (sheet: LabelSheet, [shorter, longer]: readonly [number, number]): number =>
  Math.max(Math.abs(sheet.height - shorter), Math.abs(sheet.width - longer));

/** The sheet with labels of this size, its sides in either order; undefined where none is known. */
export function labelSheet(size: string): LabelSheet | undefined {
  const sides = sidesOfSheet(size);
  return sides === undefined ? undefined : LABEL_SHEETS.find((sheet) => apart(sheet, sides) <= SAME);
}

/** The known sheet whose labels come nearest to a size; the first of all where the text is no size. */
export function nearestSheet(size: string): LabelSheet {
  const sides = sidesOfSheet(size);
  const [first] = LABEL_SHEETS as [LabelSheet];
  if (sides === undefined) return first;
  return LABEL_SHEETS.reduce(
    (best, sheet) => (apart(sheet, sides) < apart(best, sides) ? sheet : best),
    first,
  );
}

/** The sheet that an edition prints its labels on: its own, or the usual one of its paper. Undefined where it prints none. */
export function sheetOfEdition(edition: {
  readonly paper: LabelSheet['paper'];
  readonly labels?: string;
}): LabelSheet | undefined {
  const { labels, paper } = edition;
  if (labels === NO_LABELS) return undefined;
  return LABEL_SHEETS.find((sheet) => (labels === undefined ? sheet.paper === paper : sheet.key === labels));
}
