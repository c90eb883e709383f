/** Which boards get a sheet of their own, and which board stands for several. */
import type { CutListRow } from '../../cutting/types.ts';
import { cutText } from '../../model/handed.ts';
import type { Copy } from '../../model/types.ts';
import { type Line, text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import { madeByHand } from './part-features.ts';

/** Boards of one row that a sheet shows. */
export interface SheetRow {
  readonly row: CutListRow;
  readonly copies: readonly Copy[];
  /** How many of them are mirror images of the board drawn that no turning of it gives. */
  readonly handed: number;
}

/** What one sheet shows: a board, and all that are made like it or as its mirror image. */
export interface PartSheet {
  readonly id: string;
  readonly copy: Copy;
  readonly rows: readonly SheetRow[];
}

/**
 * Sheets for boards with more than square ends, in the order of the cut list. Rows of boards made alike share one; a row whose boards are
 * bored differently by their joints has several.
 */
export function partSheets(desk: Desk): PartSheet[] {
  const sheets = new Map<string, PartSheet>();
  for (const row of desk.input.cutList.rows)
    for (const [index, copies] of kindsOf(desk, row).entries()) {
      const copy = copies.find((one) => !one.frame.mirrored) ?? (copies[0] as Copy);
      const made = madeByHand(desk.shapesOf(copy));
      if (made.length === 0) continue;
      const key = JSON.stringify([copy.size, made.map(({ shape }) => shape)], (name, value) =>
        name === 'origin' ? undefined : typeof value === 'number' ? Math.round(value * 100) / 100 + 0 : value,
      );
      const known = sheets.get(key);
      const drawn = cutsOf(desk, known?.copy ?? copy);
      const handed = copies.filter((one) => cutsOf(desk, one) !== drawn).length;
      const id = `part-${row.letter}${index === 0 ? '' : `-${index + 1}`}`;
      sheets.set(key, {
        ...(known ?? { id, copy }),
        rows: [...(known?.rows ?? []), { row, copies, handed }],
      });
    }
  return [...sheets.values()];
}

/** What is cut into a board, its joints included, as a text that is equal for boards that can be turned into each other. */
const cutsOf = (desk: Desk, copy: Copy, reflected = false): string =>
  cutText({ ...copy, shape: desk.shapesOf(copy) }, reflected);

/** The boards of a row by what is cut into them; a board and its mirror image are of one kind. The kind of the row's first board first. */
function kindsOf(desk: Desk, row: CutListRow): Copy[][] {
  const copies = desk.partByKey.get(row.part)?.copies.filter(({ id }) => row.copies.includes(id)) ?? [];
  const kinds = new Map<string, Copy[]>();
  for (const copy of copies) {
    const key = [cutsOf(desk, copy), cutsOf(desk, copy, true)].sort()[0] as string;
    kinds.set(key, [...(kinds.get(key) ?? []), copy]);
  }
  return [...kinds.values()];
}

/** The board that stands for a row: the first that is no mirror image. */
export function copyOf(desk: Desk, row: CutListRow): Copy | undefined {
  const copies = desk.partByKey.get(row.part)?.copies.filter((copy) => row.copies.includes(copy.id)) ?? [];
  return copies.find((copy) => !copy.frame.mirrored) ?? copies[0];
}

/** What a sheet is of: `Part C: rail × 2`, `Parts E: front apron; F: back apron`, `Panel of E: seat`. As words, and as a line with letters. */
export function sheetTitle(desk: Desk, { rows }: PartSheet): { title: string; caption: Line } {
  const first = (rows[0] as SheetRow).row;
  // The letters of a panel are those of its boards: what is drawn is glued up from them.
  const panel = first.panel === undefined ? undefined : desk.partByKey.get(first.part)?.name.toLowerCase();
  const head = panel !== undefined ? 'Panel of ' : rows.length > 1 ? 'Parts ' : 'Part ';
  const tail =
    panel === undefined ? '' : `: ${panel}${first.copies.length > 1 ? ` × ${first.copies.length}` : ''}`;
  const many = ({ row, copies }: SheetRow): string => {
    if (panel !== undefined) return '';
    if (copies.length < row.copies.length) return ` × ${copies.length} of the ${row.quantity}`;
    return row.quantity > 1 ? ` × ${row.quantity}` : '';
  };
  const names = rows.map((one) =>
    panel === undefined ? `${one.row.letter}: ${one.row.name.toLowerCase()}${many(one)}` : one.row.letter,
  );
  return {
    title: `${head}${names.join(panel === undefined ? '; ' : ' and ')}${tail}`,
    caption: [
      text(head),
      ...rows.flatMap(
        ({ row }, i): Line => [
          text(i === 0 ? '' : panel === undefined ? '; ' : ' and '),
          { kind: 'letter', letter: row.letter },
          text(panel === undefined ? `, ${row.name.toLowerCase()}` : ''),
        ],
      ),
      text(`${tail}.`),
    ],
  };
}

/** Which of a sheet's boards are made as its mirror image, in words; nothing where turning the board over is enough. */
export function handedWords({ rows }: PartSheet): Line[] {
  const alone = rows.length === 1;
  return rows.flatMap(({ row, copies, handed }): Line[] => {
    if (handed === 0) return [];
    const all = handed === copies.length;
    const which = all ? [] : [text(`${handed === 1 ? 'one' : handed} of the ${copies.length}`)];
    const letter: Line = alone ? [] : [text(all ? '' : ' '), { kind: 'letter', letter: row.letter }];
    return [[text('Make '), ...which, ...letter, text(' as a mirror image of this.')]];
  });
}
