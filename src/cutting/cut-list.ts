/** The cut list: copies that are cut alike make a row with a letter, a name, a size and notes. */
import { cutText } from '../model/handed.ts';
import { axisOfSide } from '../model/sides.ts';
import type { Copy, Face, Part, Plan } from '../model/types.ts';
import type { StockItem } from '../read/types.ts';
import { type Line, text } from '../text.ts';
import { INCH, type Length, printed } from '../units.ts';
import { boardFeet, nominalSection } from './boards/board-measure.ts';
import { housedNotes } from './housing-notes.ts';
import { panelRows } from './panels.ts';
import { shapeNotes } from './shape-notes.ts';
import type { CutList, CutListRow } from './types.ts';

/** Sizes nearer than this, in millimetres, are one size. */
const SAME = 1e-6;

const ALPHABET = 'ABCDEFGHJKLMNPQRSTUVWXYZ';

/** Letter of a row, from 0: A, B, C … without I and O, which read as 1 and 0; then AA, AB … */
export function letterOf(index: number): string {
  const last = ALPHABET[index % ALPHABET.length] as string;
  return index < ALPHABET.length ? last : letterOf(Math.floor(index / ALPHABET.length) - 1) + last;
}

/** Which course of its part a copy is; `plain` where the part isn't laid in courses, or for its full boards. */
type Course = 'plain' | 'end' | 'first' | 'last';

function courseOf(part: Part, copy: Copy): Course {
  if (part.courses === undefined || copy.rip === undefined) return 'plain';
  const { reason } = copy.rip;
  if (reason === 'part') return 'plain';
  // shared ends are ripped alike; a trimmed tongue makes the first one a board of its own
  if (part.courses.ends === 'shared' && reason !== 'tongue') return 'end';
  return reason === 'last course' ? 'last' : 'first';
}

/** Copies cut alike, while they are gathered. */
interface Group {
  readonly part: Part;
  readonly first: Copy;
  readonly course: Course;
  /** What is cut into it: equal for boards that can be turned into each other. */
  readonly shape: string;
  /** The group before it that it is the mirror image of. */
  readonly imageOf?: Group;
  readonly copies: string[];
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= SAME;

function alike(group: Group, copy: Copy, course: Course, shape: string): boolean {
  const { cut, rip } = group.first;
  return (
    group.course === course &&
    group.shape === shape &&
    near(cut.thickness, copy.cut.thickness) &&
    near(cut.width, copy.cut.width) &&
    near(cut.length, copy.cut.length) &&
    (rip === undefined) === (copy.rip === undefined) &&
    (rip === undefined || copy.rip === undefined || near(rip.width, copy.rip.width))
  );
}

const ORDER: readonly Course[] = ['first', 'plain', 'end', 'last'];

/** The cut list of a plan. Rows are in the order of the plan's parts; of a part's courses first, full, end, last. */
export function cutList(plan: Plan): CutList {
  const rows: CutListRow[] = [];
  const letters: Record<string, string> = {};
  for (const part of plan.parts) {
    for (const group of groupsOf(part)) {
      const of = group.imageOf?.copies[0];
      const row = rowOf(group, letterOf(rows.length), plan, of === undefined ? undefined : letters[of]);
      for (const id of group.copies) letters[id] = row.letter;
      if (part.panel)
        rows.push(
          ...panelRows(part.panel, row, part.name, plan.edition.numbers, () => letterOf(rows.length + 1)),
        );
      else rows.push(row);
    }
  }
  const weight = weightOf(plan, rows);
  return { rows, letters, volume: volumeOf(plan, rows), ...(weight === undefined ? {} : { weight }) };
}

function groupsOf(part: Part): Group[] {
  const groups: Group[] = [];
  for (const copy of part.copies) {
    const course = courseOf(part, copy);
    const shape = cutText(copy);
    const group = groups.find((candidate) => alike(candidate, copy, course, shape));
    if (group) {
      group.copies.push(copy.id);
      continue;
    }
    const image = shape === '' ? '' : cutText(copy, true);
    const imageOf = image === shape ? undefined : groups.find((other) => alike(other, copy, course, image));
    groups.push({ part, first: copy, course, shape, ...(imageOf ? { imageOf } : {}), copies: [copy.id] });
  }
  // a sort keeps equal ones in their order: the copies' own
  return groups.sort((a, b) => ORDER.indexOf(a.course) - ORDER.indexOf(b.course));
}

/** @param image letter of the row that it is the mirror image of */
function rowOf(group: Group, letter: string, plan: Plan, image: string | undefined): CutListRow {
  const { part, first, course, copies } = group;
  const mirrored = group.imageOf !== undefined;
  const saw = sawOf(first);
  return {
    letter,
    part: part.key,
    name: mirrored ? `${nameOf(part.name, course)}, mirrored` : nameOf(part.name, course),
    quantity: copies.length,
    thickness: first.cut.thickness,
    width: first.cut.width,
    length: first.cut.length,
    stock: part.stock,
    species: part.species,
    ...(first.rip === undefined ? {} : { rip: first.rip }),
    ...(part.fit === undefined ? {} : { fit: part.fit }),
    ...(part.turn ? { turn: part.turn } : {}),
    ...(part.fromOffcut && !part.stock.sheets ? { fromOffcut: true } : {}),
    copies,
    notes: notesOf(part, first, mirrored ? (image ?? 'the one above') : undefined, plan),
    ...(saw.length > 0 ? { saw } : {}),
    ...(mirrored ? { mirrored } : {}),
  };
}

const sawOf = (copy: Copy): NonNullable<CutListRow['saw']> =>
  copy.shape.flatMap((one) =>
    one.kind === 'saw' && one.name !== 'taper' && one.saw.mitre + one.saw.tilt > 1e-6
      ? [
          {
            face: one.face,
            cut: axisOfSide(one.side) === 0 ? ('end' as const) : ('edge' as const),
            ...one.saw,
          },
        ]
      : [],
  );

function nameOf(name: string, course: Course): string {
  if (course === 'plain') return name;
  const word = { end: 'End', first: 'First', last: 'Last' }[course];
  // a capital that stands for itself stays: `T-brace`
  const inner = /^\p{Lu}\p{Ll}/u.test(name) ? `${name[0]?.toLowerCase()}${name.slice(1)}` : name;
  return `${word} ${inner}`;
}

/** A mirror image is said by the letter alone: its sides are the other ones, and naming those of the first would turn it round again. */
function notesOf(part: Part, copy: Copy, image: string | undefined, plan: Plan): Line[] {
  const { rip } = copy;
  const style = plan.edition.numbers;
  const notes: Line[] = [];
  const ripped = rip !== undefined && !part.stock.sheets && rip.width < part.stock.width - SAME;
  if (rip?.reason === 'tongue') notes.push([text('trim the tongue')]);
  if (ripped && rip.reason !== 'tongue')
    notes.push([text('rip to '), { kind: 'size', size: printed(rip.width, style) }]);
  // the last board takes up what all others were off; a measured part is cut to what is there
  if (rip?.reason === 'last course' || part.fit === 'measured') notes.push([text('measure first')]);
  if (part.fromOffcut && !part.stock.sheets) notes.push([text('from an offcut')]);
  if (image === undefined) {
    notes.push(...shapeNotes(part, copy, style, plan.edition.language === 'en-US'));
    notes.push(...housedNotes(part, plan));
  } else notes.push([text('mirror image of '), { kind: 'letter', letter: image }]);
  // the edges of an image are the other ones: it is banded as what it mirrors is
  if (part.banded?.length)
    notes.push([text(image === undefined ? `band the ${bandedWords(part.banded)}` : 'its banding too')]);
  if (part.note !== undefined && part.note !== '') notes.push([text(part.note)]);
  return notes;
}

/** `front edge`, `front and left edges`, `edges all round`. */
function bandedWords(faces: readonly Face[]): string {
  const all = [...new Set(faces)];
  if (all.length === 4) return 'edges all round';
  const [last = '', ...before] = [...all].reverse();
  return before.length === 0 ? `${last} edge` : `${before.reverse().join(', ')} and ${last} edges`;
}

const feet = (length: Length): number => length / INCH / 12;

/** Share of the board's width that a row takes: 1, or less where it is ripped. */
const share = (row: CutListRow, stock: StockItem): number => Math.min(1, row.width / stock.width);

/**
 * Board feet by nominal size where the edition counts in inches, a ripped part by its share of the board's width; else cubic metres of
 * the real sizes.
 */
function volumeOf(plan: Plan, rows: readonly CutListRow[]): CutList['volume'] {
  if (plan.edition.numbers.system === 'inch') {
    const value = rows.reduce((sum, row) => {
      // sheets are sold by the piece
      if (row.stock.sheets) return sum;
      const { thickness, width } = nominalSection(row.stock);
      return sum + row.quantity * boardFeet(thickness, width * share(row, row.stock), feet(row.length));
    }, 0);
    return { value, unit: 'board feet' };
  }
  const boards = rows.filter((row) => !row.stock.sheets);
  return { value: boards.reduce((sum, row) => sum + cubicMetres(row), 0), unit: 'm³' };
}

const cubicMetres = (row: CutListRow): number =>
  (row.quantity * row.thickness * row.width * row.length) / 1e9;

/** Weight in kg as cut; nothing where the density of a species in use isn't known. */
function weightOf(plan: Plan, rows: readonly CutListRow[]): number | undefined {
  let weight = 0;
  for (const row of rows) {
    const density = plan.stockList.species.find((species) => species.key === row.species)?.density;
    if (density === undefined) return undefined;
    weight += cubicMetres(row) * density;
  }
  return weight;
}
