/** A plan's PDF in one edition: the data of its sheets, its drawings and the theme's Typst files, compiled to PDF/UA-1. */
import type { RootContent } from 'mdast';
import { type Diagnostic, fault, type Origin, type Outcome } from '../../diagnostics.ts';
import type { Drawing, Room } from '../../draw/types.ts';
import { baseName } from '../../model/naming.ts';
import type { Plan } from '../../model/types.ts';
import type { FinishedPlan, Shop, Theme } from '../types.ts';
import { hasLabels } from './labels-pdf.ts';
import { COVER_FILE, drawingFile, onSheets, sheetData } from './pdf-data.ts';
import type { TypstCompiler } from './typst.ts';

/** The sheet between its margins, mm: left 20, right 12, top 24, bottom 33 (themes/handbook/plan.typ). */
const SHEET = {
  letter: { width: 183.9, height: 222.4 },
  a4: { width: 178, height: 240 },
} as const;
/** What stands above a drawing of each kind on its sheet, mm: the title, or the title and some words. */
const ABOVE: Readonly<Record<Drawing['kind'], number>> = {
  pictorial: 62,
  exploded: 17,
  views: 17,
  layout: 34,
  step: 24,
  part: 17,
  request: 17,
  plate: 0,
  template: 0,
};

/** The largest drawing of a kind that a sheet has room for, in paper millimetres. */
export function sheetRoom(paper: Plan['edition']['paper'], kind: Drawing['kind']): Room {
  const { width, height } = SHEET[paper];
  return { width, height: height - ABOVE[kind] };
}

/** A tenth of a millimetre over is a matter of rounding, not of a drawing composed for another paper. */
const TOLERANCE = 0.2;

/** `potting-bench-imperial-letter.pdf`. */
export const pdfName = (plan: Plan): string => `${baseName(plan)}-${plan.edition.paper}.pdf`;

/**
 * Makes a plan's PDF. The same input gives the same bytes: its date is the newest revision's. No value where a fault keeps the
 * document from being made: a character that the fonts lack, or a drawing that is no SVG.
 */
export function planPdf(input: {
  readonly finished: FinishedPlan;
  readonly shop: Shop;
  readonly theme: Theme;
  readonly typst: TypstCompiler;
}): Outcome<Uint8Array | undefined> {
  const { finished, shop, theme, typst } = input;
  const { plan, drawings } = finished;
  const files = new Map<string, Uint8Array | string>([
    ['plan.typ', theme.pdfTemplate],
    ...Object.entries(theme.pdfParts ?? {}),
    ['plan.json', JSON.stringify(sheetData(finished, shop, theme.tokens, hasLabels(plan, theme)))],
    ['figures.json', JSON.stringify(typst.figures)],
    ...(finished.cover === undefined ? [] : [[COVER_FILE, finished.cover.content] as const]),
    ...onSheets(drawings).map(({ id, svg }): [string, string] => [drawingFile(id), svg]),
  ]);
  const { pdf, problems } = typst.compile('plan.typ', files);
  const diagnostics = [
    ...onSheets(drawings).flatMap((drawing) => tooLarge(drawing, plan)),
    ...problems.map((problem) => problemFound(problem, plan, pdf !== undefined)),
  ];
  return { value: pdf, diagnostics };
}

/** A drawing is placed at its own size, so one that was composed for more room than the sheet has runs over its edge. */
function tooLarge(drawing: Drawing, plan: Plan): Diagnostic[] {
  const room = sheetRoom(plan.edition.paper, drawing.kind);
  if (drawing.width <= room.width + TOLERANCE && drawing.height <= room.height + TOLERANCE) return [];
  return [
    {
      id: 'pdf.drawing-size',
      severity: 'warning',
      origin: { file: plan.file, line: 1, column: 1 },
      message: `drawing ${drawing.id} is ${drawing.width} × ${drawing.height} mm, and the sheet has room for ${room.width} × ${Math.round(room.height)} mm`,
      edition: plan.edition.key,
    },
  ];
}

/** What the compiler said, in the author's terms where the author can mend it. */
function problemFound(problem: string, plan: Plan, made: boolean): Diagnostic {
  const missing = /the text `"(.+?)"` could not be displayed/u.exec(problem)?.[1];
  const start: Origin = { file: plan.file, line: 1, column: 1 };
  const edition = plan.edition.key;
  if (missing !== undefined) {
    return fault('pdf.character', characterOrigin(plan, missing) ?? start, {
      expected: "characters that the sheets' fonts have",
      found: `"${missing}"`,
      hint: 'write it in Latin letters, or leave it out',
      edition,
    });
  }
  return {
    id: 'pdf.compile',
    severity: made ? 'warning' : 'error',
    origin: start,
    message: `the PDF ${made ? 'was made, but' : "couldn't be made:"} ${problem}`,
    edition,
  };
}

/** Where some characters stand in the plan's prose; nothing where they come from elsewhere. */
function characterOrigin(plan: Plan, characters: string): Origin | undefined {
  const prose = [
    plan.opening,
    plan.stepsOpening,
    ...plan.steps.map((step) => step.prose),
    ...plan.sections.map((section) => section.prose),
  ];
  for (const nodes of prose) {
    const found = findIn(nodes, characters, 0);
    if (found) return { file: plan.file, ...found };
  }
  const heading = [...plan.steps, ...plan.sections].find(({ title }) => title.includes(characters));
  return heading?.origin;
}

function findIn(
  nodes: readonly RootContent[],
  characters: string,
  depth: number,
): { line: number; column: number } | undefined {
  for (const node of nodes) {
    if ('value' in node && node.value.includes(characters) && node.position) {
      const before = node.value.slice(0, node.value.indexOf(characters));
      const line = before.split('\n').length - 1;
      const column = line === 0 ? node.position.start.column + [...before].length : 1;
      return { line: node.position.start.line + line, column };
    }
    // Deeper than this is no prose that a builder reads; the fault is then reported at the head of the file.
    if ('children' in node && depth < 20) {
      const found = findIn(node.children as readonly RootContent[], characters, depth + 1);
      if (found) return found;
    }
  }
  return undefined;
}
