/** What stands below the views of a part's sheet: sizes and work in words, mirror images, the scale; and the sheet in words. */
import type { ShapeOperation } from '../../model/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import { setLine, textAt } from '../paper/lettering.ts';
import type { Mark } from '../paper/marks.ts';
import type { Scale } from '../paper/scale.ts';
import type { Feature } from './feature.ts';
import type { Lying } from './part-lying.ts';
import { handedWords, type PartSheet, type SheetRow } from './part-rows.ts';

/** From base line to base line, mm. */
export const LINE = 5.6;
const CLOSE = 4.8;

/** Words below or beside the views, from the top of a column down: what isn't drawn, mirror images, the scale. */
export function wordsIn(
  desk: Desk,
  sheet: PartSheet,
  words: readonly { said: Line; of: string }[],
  scale: Scale,
  { left, top, width }: { readonly left: number; readonly top: number; readonly width: number },
): Mark[] {
  const marks: Mark[] = [];
  let base = top;
  let hangs = 0;
  // Base lines stand equally far apart, but for fractions that need more; lines of one sentence stand a little closer.
  const put = (said: Line, of?: string, { quiet = false, goesOn = false } = {}): void => {
    const lettering = setLine(said);
    base += Math.max(goesOn ? CLOSE : LINE, hangs + lettering.ascent + 0.6);
    hangs = lettering.descent;
    marks.push(
      textAt(lettering, [left, base], {
        ...(of ? { of } : {}),
        ...(quiet ? { quiet } : {}),
      }),
    );
  };
  for (const { said, of } of words)
    for (const [i, part] of wrapped(said, width).entries())
      put(
        part,
        i === 0
          ? of
          : of
              .split(', ')
              .map((name) => `${name} more ${i}`)
              .join(', '),
        { goesOn: i > 0 },
      );
  for (const said of handedWords(sheet))
    for (const [i, part] of wrapped(said, width).entries()) put(part, undefined, { goesOn: i > 0 });
  const metric = desk.plan.edition.numbers.system === 'mm';
  const drawnAt = [text('Scale '), ...scale.line, text(metric ? '. Sizes in millimetres.' : '')];
  for (const [i, part] of wrapped(drawnAt, width).entries())
    put(part, undefined, { quiet: true, goesOn: i > 0 });
  return marks;
}

/** How the board lies on the sheet and in the piece, and where the work in its other face is drawn. */
export function lyingWords(
  { place, behind }: Lying,
  other: 'none' | 'dashed' | 'drawn',
): { said: Line; of: string }[] {
  const said = {
    none: [],
    dashed: [`Dashed with a size: in the ${behind}, which lies down`],
    drawn: [
      `Second view: the ${behind}, the board turned over along its length, so that its upper edge is below`,
    ],
  }[other];
  return [place, ...said].map((said, i) => ({ said: [text(said)], of: `lies ${i + 1}` }));
}

/** A line too long for the paper, in several: broken between words; a sign stays with its size. */
export function wrapped(said: Line, width: number): Line[] {
  if (setLine(said).width <= width) return [said];
  const words: Run[][] = [[]];
  for (const run of said.flatMap(pieces)) {
    const before = words.at(-1)?.at(-1);
    const sign = before?.kind === 'text' && /[ØR×]$/.test(before.text);
    if (run.kind === 'text' && /^\s/.test(run.text) && !(sign && run.text.trim() === '')) words.push([run]);
    else (words.at(-1) as Run[]).push(run);
  }
  const lines: Run[][] = [[]];
  for (const word of words) {
    const last = lines.at(-1) as Run[];
    if (last.length > 0 && setLine([...last, ...word]).width > width) lines.push(trimmed(word));
    else last.push(...word);
  }
  return lines;
}

/** A run in pieces that begin with the space before a word. */
const pieces = (run: Run): Run[] =>
  run.kind === 'text' ? (run.text.match(/\s*\S+|\s+$/g) ?? []).map((one) => text(one)) : [run];

const trimmed = ([first, ...rest]: readonly Run[]): Run[] =>
  first?.kind === 'text' ? [text(first.text.trimStart()), ...rest] : first ? [first, ...rest] : rest;

/** A sheet in words, for those who can't see it. */
export function altOf(
  desk: Desk,
  sheet: PartSheet,
  { copy, place }: Lying,
  features: readonly Feature[],
  scale: Scale,
): string {
  const { row } = sheet.rows[0] as SheetRow;
  const { length, width, thickness } = copy.size;
  const count = (kind: ShapeOperation['kind']): number =>
    copy.shape.filter((shape) => shape.kind === kind).length;
  const work = [
    [count('saw'), 'saw cut'],
    [count('box'), 'notch or housing'],
    [count('hole'), 'hole'],
    [count('slot'), 'slot'],
    [count('outline'), 'curved outline'],
  ] as const;
  const said = work.flatMap(([n, name]) => (n === 0 ? [] : [`${n} × ${name}`]));
  return [
    `Part ${row.letter}, ${row.name.toLowerCase()}, ${row.quantity} of them, scale ${scale.label}:`,
    `${desk.words(length)} long, ${desk.words(width)} wide, ${desk.words(thickness)} thick.`,
    said.length > 0 ? `With ${said.join(', ')}; ${features.length} sizes and notes.` : '',
    `${place}.`,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
