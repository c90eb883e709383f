/** Labels for the parts as a PDF of their own, on sheets of labels as they are sold. */
import type { Diagnostic, Outcome } from '../../diagnostics.ts';
import { baseName, planTitle } from '../../model/naming.ts';
import type { Plan } from '../../model/types.ts';
import { type LabelSheet, sheetOfEdition } from '../../read/label-sheets.ts';
import type { FinishedPlan, Shop, Theme } from '../types.ts';
import { percent, sheetWords } from '../words/pdf-words.ts';
import { partLabels } from './labels.ts';
import { dateParts } from './pdf-data.ts';
import { plain } from './pdf-prose.ts';
import type { TypstCompiler } from './typst.ts';

/** `potting-bench-imperial-letter-labels.pdf`: the paper is that of the sheet of labels. */
export const labelsName = (plan: Plan): string =>
  `${baseName(plan)}-${sheetOfEdition(plan.edition)?.paper ?? plan.edition.paper}-labels.pdf`;

/** `2-5/8 × 1 in each`: the labels of an edition by their size. */
export const labelsOn = (edition: Plan['edition']): string =>
  `${(sheetOfEdition(edition)?.key ?? '').replace(' x ', ' × ')} each`;

/** The theme's file that the compiler starts from. */
const MAIN = 'labels.typ';

/** Paper in mm: ANSI Letter and ISO 216 A4. */
const PAPER = { letter: { width: 215.9, height: 279.4 }, a4: { width: 210, height: 297 } } as const;

/** Clear of a label's edge on all sides, mm: what a printer and a knife may be off. Common practice, no source. */
const CLEAR = 2.5;
/** Most printers print nothing nearer to the sheet's edge than this, mm. Common practice, no source. */
const UNPRINTED = 5;

/** Where the labels of a sheet lie, mm, and how far their matter stays from their edges. */
export interface LabelGrid {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** From the left edge of a label to that of the next. */
  readonly pitch: number;
  readonly columns: number;
  readonly rows: number;
  /** Kept clear at a label's left and right, and at its top and bottom. */
  readonly clearX: number;
  readonly clearY: number;
}

/** The grid of a sheet, in the middle of its paper. */
export function labelGrid(sheet: LabelSheet): LabelGrid {
  const paper = PAPER[sheet.paper];
  const left = (paper.width - sheet.columns * sheet.width - (sheet.columns - 1) * sheet.gap) / 2;
  const top = (paper.height - sheet.rows * sheet.height) / 2;
  return {
    left,
    top,
    width: sheet.width,
    height: sheet.height,
    pitch: sheet.width + sheet.gap,
    columns: sheet.columns,
    rows: sheet.rows,
    clearX: Math.max(CLEAR, UNPRINTED - left),
    clearY: Math.max(CLEAR, UNPRINTED - top),
  };
}

/** True where labels come with a plan: its edition prints them, and the theme has a file for them. */
export const hasLabels = (plan: Plan, theme: Theme): boolean =>
  sheetOfEdition(plan.edition) !== undefined && theme.pdfParts?.[MAIN] !== undefined;

/** Makes the labels' PDF. No value where the edition prints none, or the theme has no file for labels. */
export function labelsPdf(input: {
  readonly finished: Pick<FinishedPlan, 'plan' | 'cutList'>;
  readonly shop: Pick<Shop, 'name'>;
  readonly theme: Theme;
  readonly typst: TypstCompiler;
}): Outcome<Uint8Array | undefined> {
  const { finished, shop, theme, typst } = input;
  const { plan } = finished;
  const sheet = sheetOfEdition(plan.edition);
  const main = theme.pdfParts?.[MAIN];
  if (sheet === undefined || main === undefined || finished.cutList.rows.length === 0)
    return { value: undefined, diagnostics: [] };
  const { pdf, problems } = typst.compile(
    MAIN,
    new Map<string, string>([
      [MAIN, main],
      ['kit.typ', theme.pdfParts?.['kit.typ'] ?? ''],
      ['figures.json', JSON.stringify(typst.figures)],
      ['plan.json', JSON.stringify(labelsData(finished, sheet, shop, theme))],
    ]),
  );
  const diagnostics = problems.map(
    (problem): Diagnostic => ({
      id: 'pdf.labels',
      severity: pdf === undefined ? 'error' : 'warning',
      origin: { file: plan.file, line: 1, column: 1 },
      message: `the labels ${pdf === undefined ? "couldn't be made" : 'were made, but'}: ${problem}`,
      edition: plan.edition.key,
    }),
  );
  return { value: pdf, diagnostics };
}

/** How a label tells which way round its part goes. */
export const LABELS_HOWTO =
  'Stick each label on the face that it names, its arrow along the part towards the side of the piece that it names.';

/** What the theme's file reads: the names that its kit needs too. */
function labelsData(
  finished: Pick<FinishedPlan, 'plan' | 'cutList'>,
  sheet: LabelSheet,
  shop: Pick<Shop, 'name'>,
  theme: Theme,
): unknown {
  const { edition, front } = finished.plan;
  const [language = 'en', region = 'us'] = edition.language.toLowerCase().split('-');
  const size = sheet.key.replace(' x ', ' × ');
  return {
    language,
    region,
    paper: sheet.paper === 'letter' ? 'us-letter' : 'a4',
    colours: theme.tokens.light,
    serif: theme.tokens.serif,
    sans: theme.tokens.sans,
    words: sheetWords(edition),
    owner: plain(shop.name),
    documentTitle: plain(
      `${planTitle(finished.plan)}, plan ${front.number}, labels for the parts, ${edition.name.toLowerCase()} edition`,
    ),
    date: dateParts(front.revisions[0]?.date),
    margin: plain(
      `${planTitle(finished.plan)}, plan ${front.number}, ${edition.name.toLowerCase()} edition. Labels ${size}: print at ${percent(1)}.`,
    ),
    howto: LABELS_HOWTO,
    grid: labelGrid(sheet),
    labels: partLabels(finished),
  };
}
