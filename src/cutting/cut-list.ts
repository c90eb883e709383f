/** The cut list: copies that are cut alike make a row with a letter, a name, a size and notes. */
import type { Copy, Part, Plan, Rip } from '../model/types.ts';
import type { StockItem } from '../read/types.ts';
import { type Line, text } from '../text.ts';
import { INCH, type Length, type NumberStyle, printed } from '../units.ts';
import { boardFeet, nominalSection } from './board-measure.ts';
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
  readonly copies: string[];
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= SAME;

function alike(group: Group, copy: Copy, course: Course): boolean {
  const { cut, rip } = group.first;
  return (
    group.course === course &&
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
      const letter = letterOf(rows.length);
      for (const id of group.copies) letters[id] = letter;
      rows.push(rowOf(group, letter, plan.edition.numbers));
    }
  }
  const weight = weightOf(plan, rows);
  return { rows, letters, volume: volumeOf(plan, rows), ...(weight === undefined ? {} : { weight }) };
}

function groupsOf(part: Part): Group[] {
  const groups: Group[] = [];
  for (const copy of part.copies) {
    const course = courseOf(part, copy);
    const group = groups.find((candidate) => alike(candidate, copy, course));
    if (group) group.copies.push(copy.id);
    else groups.push({ part, first: copy, course, copies: [copy.id] });
  }
  // a sort keeps equal ones in their order: the copies' own
  return groups.sort((a, b) => ORDER.indexOf(a.course) - ORDER.indexOf(b.course));
}

function rowOf(group: Group, letter: string, style: NumberStyle): CutListRow {
  const { part, first, course, copies } = group;
  return {
    letter,
    part: part.key,
    name: nameOf(part.name, course),
    quantity: copies.length,
    thickness: first.cut.thickness,
    width: first.cut.width,
    length: first.cut.length,
    stock: part.stock,
    species: part.species,
    ...(first.rip === undefined ? {} : { rip: first.rip }),
    ...(part.fit === undefined ? {} : { fit: part.fit }),
    copies,
    notes: notesOf(part, first.rip, style),
  };
}

function nameOf(name: string, course: Course): string {
  if (course === 'plain') return name;
  const word = { end: 'End', first: 'First', last: 'Last' }[course];
  // a capital that stands for itself stays: `T-brace`
  const inner = /^\p{Lu}\p{Ll}/u.test(name) ? `${name[0]?.toLowerCase()}${name.slice(1)}` : name;
  return `${word} ${inner}`;
}

function notesOf(part: Part, rip: Rip | undefined, style: NumberStyle): Line[] {
  const notes: Line[] = [];
  const ripped = rip !== undefined && rip.width < part.stock.width - SAME;
  if (rip?.reason === 'tongue') notes.push([text('trim the tongue')]);
  if (ripped && rip.reason !== 'tongue')
    notes.push([text('rip to '), { kind: 'size', size: printed(rip.width, style) }]);
  // the last board takes up what all others were off; a measured part is cut to what is there
  if (rip?.reason === 'last course' || part.fit === 'measured') notes.push([text('measure first')]);
  if (part.note !== undefined && part.note !== '') notes.push([text(part.note)]);
  return notes;
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
      const { thickness, width } = nominalSection(row.stock);
      return sum + row.quantity * boardFeet(thickness, width * share(row, row.stock), feet(row.length));
    }, 0);
    return { value, unit: 'board feet' };
  }
  return { value: rows.reduce((sum, row) => sum + cubicMetres(row), 0), unit: 'm³' };
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
