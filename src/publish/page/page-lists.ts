/** Cut list, cutting layouts and shopping list of a free plan's page. */
import type { CutListRow, CuttingLayouts, ShoppingRow } from '../../cutting/types.ts';
import { capital } from '../../instructions/words.ts';
import type { Edition } from '../../read/types.ts';
import { lineText } from '../../text.ts';
import type { FinishedPlan, PlanBundle } from '../types.ts';
import { extraText, type LeftOver, leftOver, stockName, yardText } from '../words/left-over.ts';
import { amount } from '../words/pdf-words.ts';
import { choiceText, levelsText } from '../words/proof-words.ts';
import {
  givesLine,
  type SawTable,
  type Sequence,
  sawTables,
  sawTitle,
  sequences,
  yardWords,
} from '../words/saw-list.ts';
import { type Child, type Content, el, money } from './html.ts';
import { byEdition, lengthNode, letterNode, lineNodes } from './page-words.ts';

type Editions = PlanBundle['editions'];

const heads = (...cells: readonly (readonly [words: string, tag?: string])[]): Content =>
  el(
    'thead',
    {},
    el(
      'tr',
      {},
      cells.map(([words, tag]) => el(`th${tag ?? ''}`, { scope: 'col' }, words)),
    ),
  );

const text = (value: string): Content => ({ type: 'text', value });

/** Says the unit once, where the sizes of a table stand bare. */
const unitNote = (edition: Edition): string =>
  edition.numbers.system === 'mm' ? 'Sizes in millimetres.' : '';

/** The cut list of each edition. */
export const cutListSection = (editions: Editions): Content[] =>
  byEdition(
    editions.map(({ edition, finished }) => [cutList(edition, finished)]),
    'div',
  );

function cutList(edition: Edition, finished: FinishedPlan): Content {
  const { rows } = finished.cutList;
  const ripped = rows.some((row) => row.rip !== undefined);
  const note = [
    unitNote(edition),
    ripped ? 'Parts that are narrower than their board are ripped.' : '',
    rows.some((row) => row.fit === 'measured')
      ? 'A size marked “measure first” is a guide: take it from the piece.'
      : '',
  ].filter((words) => words !== '');
  return el(
    'div',
    {},
    el(
      'table.cut-list',
      {},
      heads(
        ['Letter', '.letter'],
        ['Part'],
        ['From', '.opt'],
        ['No.', '.n'],
        ['Thick', '.n.opt'],
        ['Wide', '.n.opt'],
        ['Long', '.n'],
      ),
      el(
        'tbody',
        {},
        rows.map((row) => cutListLine(row, stockName(finished, row.stock, row.species), edition)),
      ),
    ),
    note.length > 0 ? el('p.small.under', {}, note.join(' ')) : null,
  );
}

function cutListLine(row: CutListRow, from: string, edition: Edition): Content {
  const size = (length: CutListRow['length']) => lengthNode(length, edition.numbers, { bare: true });
  const said = row.notes.some((line) => lineText(line).includes('measure'));
  const notes: Child[][] = [
    ...(row.fit === 'measured' && !said ? [['measure first']] : []),
    ...row.notes.map((line) => lineNodes(line)),
  ];
  return el(
    'tr',
    {},
    el('td', {}, letterNode(row.letter)),
    el(
      'td',
      {},
      row.name,
      // On a phone the columns of the section fold into the line under the name.
      el('span.label.folded', {}, from, ', ', size(row.thickness), ' × ', size(row.width)),
      notes.length === 0
        ? null
        : el(
            'span.label.note',
            {},
            notes.flatMap((note, at) => (at === 0 ? note : ['; ', ...note])),
          ),
    ),
    el('td.opt', {}, from),
    el('td.n', {}, `${row.quantity}`),
    el('td.n.opt', {}, size(row.thickness)),
    el('td.n.opt', {}, size(row.width)),
    el('td.n.key', {}, size(row.length)),
  );
}

/** Layout drawings, how sure they are, and the settings of the stop block. */
export const layoutsSection = (
  editions: Editions,
  drawing: (edition: number, id: string) => Content | undefined,
): Content[] =>
  byEdition(
    editions.map(({ edition, finished }, index) => {
      const drawings = finished.drawings.drawings.filter(({ kind }) => kind === 'layout');
      return [
        ...drawings.flatMap(({ id }) => drawing(index, id) ?? []),
        el('p.prove', {}, proofText(finished.layouts)),
        ...sequences(finished.layouts).flatMap((sequence) => sequenceTable(sequence, edition)),
        ...sawTables(finished.layouts, edition.numbers).map((table) => sawTable(table, edition)),
      ];
    }),
    'div',
  );

/** What the optimisation can say of its layouts, in the builder's words. */
export function proofText(layouts: CuttingLayouts): string {
  const gap = Math.max(0, ...layouts.proofs.map((proof) => proof.gap));
  const proved = layouts.proofs.every((proof) => proof.status === 'proved best');
  if (layouts.proofs.length === 0) return '';
  if (proved) {
    const levels = levelsText(layouts);
    return `No choice of these ${choiceText(layouts)} costs less; the layouts are proved best for the prices listed.${levels && ` ${levels}`}`;
  }
  const what = { lengths: 'The boards', sheets: 'The sheets', 'lengths and sheets': 'Boards and sheets' };
  // Rounded up, so that the page never promises more than was found.
  return `${what[choiceText(layouts)]} cost at most ${Math.ceil(gap * 1000) / 10} % more than the least that is possible.`;
}

/** All settings of a pass through the saw. */
function sawTable(table: SawTable, edition: Edition): Content {
  return el(
    'table.stops',
    {},
    el('caption', {}, `${sawTitle(table)}, largest first${table.yard ? `.${yardWords(table)}` : ''}`),
    heads([table.kind === 'rip' ? 'Fence at' : 'Stop at'], ['Cuts', '.n'], ['Pieces']),
    el(
      'tbody',
      {},
      table.rows.map((row) =>
        el(
          'tr',
          {},
          el('td.key', {}, lengthNode(row.setting, edition.numbers)),
          el('td.n', {}, `${row.cuts}`),
          el(
            'td',
            {},
            row.pieces.flatMap((piece): Content[] => [
              el(
                'span.piece',
                {},
                letterNode(piece.letter),
                ` × ${piece.quantity}`,
                el('span.label', {}, ` ${piece.from}`),
              ),
              text(' '),
            ]),
          ),
        ),
      ),
    ),
  );
}

/** The cuts of a sheet, one by one. */
function sequenceTable({ title, rows }: Sequence, edition: Edition): Content {
  return el(
    'table.sequence',
    {},
    el('caption', {}, `Cut sequence: ${title}`),
    heads(['Cut'], ['How'], ['Piece'], ['Fence at', '.n'], ['Edge at fence', '.opt'], ['Gives']),
    el(
      'tbody',
      {},
      rows.map((row) =>
        el(
          'tr',
          {},
          el('td', {}, row.numbers),
          el('td', {}, capital(row.kind)),
          el('td', {}, row.piece),
          el('td.n.key', {}, lengthNode(row.setting, edition.numbers)),
          el('td.opt', {}, row.edge),
          el('td', {}, lineNodes(givesLine(row))),
        ),
      ),
    ),
  );
}

/** Boards and hardware to buy, and the tools at hand. */
export function shoppingSection(editions: Editions): Content[] {
  const [first, ...others] = editions.map(({ finished }) => finished.instructions.tools);
  const same = first !== undefined && others.every((list) => list.join('\n') === first.join('\n'));
  const list = (tools: readonly string[], properties: { dataEd?: string }) =>
    el(
      properties.dataEd === undefined ? 'ul.plain.columns' : 'ul.plain.columns.ed',
      properties,
      tools.map((tool) => el('li', {}, tool)),
    );
  const lists = same
    ? [list(first, {})]
    : editions.map(({ finished }, index) => list(finished.instructions.tools, { dataEd: `${index + 1}` }));
  return [
    ...byEdition(
      editions.map(({ finished }) => [shopping(finished)]),
      'div',
    ),
    ...(first === undefined || editions.every(({ finished }) => finished.instructions.tools.length === 0)
      ? []
      : [el('h3.cap.tools', {}, 'Tools'), ...lists]),
  ];
}

/** What to buy, what it comes to, and what is left of it. */
function shopping(finished: FinishedPlan): Content {
  const { shopping: list, layouts } = finished;
  const total = money(list.total, list.currency);
  const rows = (kind: ShoppingRow['kind']) => list.rows.filter((row) => row.kind === kind);
  const left = leftOver(finished);
  return el(
    'div',
    {},
    buyTable(
      finished,
      layouts.sheets === undefined ? 'Boards' : 'Boards and sheets',
      rows('board'),
      list.lumberCost,
    ),
    left.onHand.length === 0
      ? null
      : el('p.small.under', {}, `Not bought, since it is there: ${left.onHand.join('; ')}.`),
    buyTable(finished, 'Hardware', rows('hardware'), list.hardwareCost),
    el(
      'p.small.under',
      {},
      `${list.partial ? `${total} or more in all, since some prices are not known` : `${total} in all`}. Prices as noted for this region: ${list.region}.`,
    ),
    left.rows.length === 0 ? null : leftTable(left, finished.plan.edition),
  );
}

function buyTable(
  finished: FinishedPlan,
  caption: string,
  rows: readonly ShoppingRow[],
  sum: number,
): Content | null {
  if (rows.length === 0) return null;
  const { currency } = finished.shopping;
  // as many decimals in each row, so that the points stand in line
  const cost = (value: number | undefined) => (value === undefined ? '' : amount(value, currency));
  const [some] = rows;
  const boards = some?.kind === 'board';
  return el(
    'table.buy-list',
    {},
    el('caption', {}, caption),
    heads(
      ['Buy'],
      ['Unit'],
      ...(boards ? [] : [['Needed', '.n.opt'] as const]),
      ['No.', '.n'],
      ['Each', '.n.opt'],
      ['Cost', '.n'],
    ),
    el(
      'tbody',
      {},
      rows.map((row) => {
        const notes: Child[][] = [
          ...(row.size.length === 0 ? [] : [lineNodes(row.size)]),
          ...[extraText(row.extra), yardText(finished, row)]
            .filter((words) => words !== '')
            .map((words) => [words]),
        ];
        return el(
          'tr',
          {},
          el(
            'td',
            {},
            row.stock === undefined ? row.name : stockName(finished, row.stock, row.species ?? ''),
            notes.map((note) => el('span.label.note', {}, note)),
          ),
          el('td', {}, row.unit),
          boards ? null : el('td.n.opt', {}, `${row.needed}`),
          el('td.n', {}, `${row.quantity}`),
          el('td.n.opt', {}, cost(row.each)),
          el('td.n', {}, cost(row.cost)),
        );
      }),
      sum > 0
        ? el(
            'tr.sum',
            {},
            // a cell for each column, since a phone hides some of them
            el('td', {}, `${caption} together`),
            el('td', {}),
            boards ? null : el('td.opt', {}),
            el('td', {}),
            el('td.opt', {}),
            el('td.n', {}, cost(sum)),
          )
        : null,
    ),
  );
}

/** What becomes of each stock, with the pieces that are left over. */
const leftTable = ({ rows, opening }: LeftOver, edition: Edition): Content[] => [
  el(
    'table.left-over',
    {},
    el('caption', {}, 'Left over'),
    heads(['Of'], ['Into parts', '.n'], ['Waste', '.n'], ['Left over, worth keeping']),
    el(
      'tbody',
      {},
      rows.map(({ name, parts, waste, kept, pieces }) =>
        el(
          'tr',
          {},
          el('td', {}, name),
          el('td.n', {}, parts),
          el('td.n', {}, waste),
          el(
            'td',
            {},
            pieces.length === 0 ? null : `${kept}: `,
            pieces.flatMap(({ length, width, count }, at): Child[] => [
              `${at === 0 ? '' : '; '}${count > 1 ? `${count} of ` : ''}`,
              el(
                'span.piece',
                {},
                lengthNode(length, edition.numbers, { bare: true }),
                ' × ',
                lengthNode(width, edition.numbers),
              ),
            ]),
          ),
        ),
      ),
    ),
  ),
  el('p.small.under', {}, opening),
];
