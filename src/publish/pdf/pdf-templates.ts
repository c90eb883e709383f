/** Full-size templates of a plan's curved parts as a PDF of their own, tiled over the edition's paper. */
import type { Diagnostic, Outcome } from '../../diagnostics.ts';
import { SAID, TILE, tilesOf } from '../../draw/templates/template.ts';
import { baseName, planTitle } from '../../model/naming.ts';
import type { Plan } from '../../model/types.ts';
import type { FinishedPlan, Shop, Theme } from '../types.ts';
import { dateParts, drawingFile } from './pdf-data.ts';
import { plain } from './pdf-prose.ts';
import type { TypstCompiler } from './typst.ts';

/** `coat-rack-metric-a4-templates.pdf`. */
export const templatesName = (plan: Plan): string => `${baseName(plan)}-${plan.edition.paper}-templates.pdf`;

/** The theme's file that the compiler starts from. */
const MAIN = 'templates.typ';

/** Makes the templates' PDF. No value where the plan has no curved part, or the theme no file for templates. */
export function templatesPdf(input: {
  readonly finished: FinishedPlan;
  readonly shop: Shop;
  readonly theme: Theme;
  readonly typst: TypstCompiler;
}): Outcome<Uint8Array | undefined> {
  const { finished, shop, theme, typst } = input;
  const drawings = finished.drawings.drawings.filter(({ kind }) => kind === 'template');
  const main = theme.pdfParts?.[MAIN];
  if (drawings.length === 0 || main === undefined) return { value: undefined, diagnostics: [] };
  const { pdf, problems } = typst.compile(
    MAIN,
    new Map<string, string>([
      [MAIN, main],
      ['templates.json', JSON.stringify(templatesData(finished, shop, theme))],
      ...drawings.map(({ id, svg }): [string, string] => [drawingFile(id), svg]),
    ]),
  );
  const { plan } = finished;
  const diagnostics = problems.map(
    (problem): Diagnostic => ({
      id: 'pdf.templates',
      severity: pdf === undefined ? 'error' : 'warning',
      origin: { file: plan.file, line: 1, column: 1 },
      message: `the templates ${pdf === undefined ? "couldn't be made" : 'were made, but'}: ${problem}`,
      edition: plan.edition.key,
    }),
  );
  return { value: pdf, diagnostics };
}

function templatesData({ plan, drawings }: FinishedPlan, shop: Shop, theme: Theme): unknown {
  const { edition, front } = plan;
  const shown = drawings.drawings.filter(({ kind }) => kind === 'template');
  const [language = 'en', region = 'us'] = edition.language.toLowerCase().split('-');
  const over = `Plan ${front.number}, ${edition.name.toLowerCase()} edition, revision ${front.revisions[0]?.revision ?? ''}`;
  return {
    language,
    region,
    paper: edition.paper === 'letter' ? 'us-letter' : 'a4',
    colours: theme.tokens.light,
    serif: theme.tokens.serif,
    sans: theme.tokens.sans,
    owner: plain(shop.name),
    title: plain(`${planTitle(plan)}: full-size templates`),
    documentTitle: plain(`${planTitle(plan)}, plan ${front.number}, full-size templates`),
    over: plain(over),
    foot: plain(`${planTitle(plan)}, plan ${front.number}`),
    date: dateParts(front.revisions[0]?.date),
    tile: TILE,
    words: {
      'ruler-mm': '100 mm',
      'ruler-four': '4 inches',
      sheet: 'Sheet',
      howto: [
        'Print at 100 per cent, not fitted to the page, and measure both rulers with a rule. If they are off, change the print settings; a wrong template costs a board.',
        'Cut each sheet along its dashed frame. Lay neighbours edge to edge so that the circles on the corners close, and tape them from behind. The map shows which sheet lies where.',
        ...(shown.some(({ alt }) => alt.includes(SAID.folded))
          ? [
              'Where a template has a line of long and short dashes, fold it there and lay the fold on the corner of the board: the lines run on over its edge. Angles are those for a bevel gauge.',
            ]
          : []),
        ...(shown.some(({ alt }) => alt.includes(SAID.inPlaces))
          ? [
              'Of a board that is straight in between only the places are shown that are not. A thin line across one says that the board goes on.',
            ]
          : []),
      ],
    },
    items: shown.map(({ id, title, alt, width, height }) => ({
      file: drawingFile(id),
      letter: id.replace('template-', ''),
      title: plain(title),
      alt: plain(alt),
      width,
      height,
      ...tilesOf(width, height),
    })),
  };
}
