/** Plans of plain boards, inches, and their layouts in short words. */
import type { BoardLayout } from '../../../src/cutting/types.ts';
import type { Joinery } from '../../../src/joinery/types.ts';
import type { Part, Plan } from '../../../src/model/types.ts';
import type { StockItem } from '../../../src/read/types.ts';
import { boxPart, samplePlan, sampleStock } from '../../support/sample.ts';

type Sizes = readonly (readonly [length: number, width: number])[];

/** A part with a board of each size. */
export const boards = (key: string, stock: StockItem, sizes: Sizes): Part =>
  boxPart(
    key,
    stock,
    'across',
    'top',
    sizes.map(([length, width], at) => [
      [0, at * 20, 0],
      [length, at * 20 + width, stock.thickness / 25.4],
    ]),
  );

const origin = { file: 'content/plans/sample/plan.md', line: 7, column: 9 };

/** The same, `from: offcut`. */
export const spare = (key: string, stock: StockItem, sizes: Sizes): Part => ({
  ...boards(key, stock, sizes),
  fromOffcut: origin,
});

/** The sample plan with other parts, and with what is given of its stock list. */
export const planOf = (parts: readonly Part[], more: Partial<Plan['stockList']> = {}): Plan => ({
  ...samplePlan,
  parts,
  stockList: { ...sampleStock, ...more },
});

/** `2 of 8 ft: A, B+*C@50`: count and length, sections, strips from edge to edge; `*` from an offcut, `@` behind another strip. */
export const told = ({ boards: all }: { boards: readonly BoardLayout[] }): string[] =>
  all.map(
    (board) => `${board.count} of ${board.lengthLabel}: ${board.sections.map(sectionWords).join(', ')}`,
  );

const sectionWords = (section: BoardLayout['sections'][number]): string =>
  section.strips
    .map(
      (strip) => `${strip.fromOffcut ? '*' : ''}${strip.letter}${strip.from ? `@${strip.from / 25.4}` : ''}`,
    )
    .join('+');

export const noJoinery: Joinery = { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] };
