/**
 * Lettering: a line of text with sizes in it, set in Source Sans 3 with its real widths, fractions stacked with a bar.
 * Heights after ISO 3098-1: capitals 2.5 mm, so that the figures of a fraction (0.70 of them) are 1.75 mm.
 */
import type { Line } from '../../text.ts';
import { figuresOf, type Size } from '../../units.ts';
import type { Point } from '../types.ts';
import { CHARACTERS, WIDTHS } from './advances.ts';
import type { Mark } from './marks.ts';

/** Height of the capitals of Source Sans 3, in ems. */
export const CAPITAL = 0.66;
/** Height of the tallest letters (b, d, l), in ems. */
const TALL = 0.72;
/** What hangs below the base line (g, p, the comma), in ems. */
const TAIL = 0.2;

export type Weight = 400 | 500 | 600;

/** Font sizes in mm of paper: capitals of 2.5, 3 and 1.8 mm. */
export const TEXT_SIZE = 3.8;
export const LETTER_SIZE = 4.6;
export const NUMBER_SIZE = 2.75;

/** The form of a stacked fraction, in ems of the text. */
export const FRACTION = {
  figures: 0.7,
  bar: 0.055,
  clear: 0.13,
  before: 0.1,
  overhang: 0.05,
  after: 0.03,
} as const;

/** A piece of text at its place from the left end of the base line; `unseen` is there to be copied and read aloud only. */
export interface Glyphs {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly weight: Weight;
  readonly unseen?: true;
}

/** A set line of text. */
export interface Lettering {
  readonly glyphs: readonly Glyphs[];
  /** Bars of fractions: from, to, height above the base line (negative y), thickness. */
  readonly bars: readonly {
    readonly from: number;
    readonly to: number;
    readonly y: number;
    readonly thickness: number;
  }[];
  readonly width: number;
  /** Above and below the base line, both positive. */
  readonly ascent: number;
  readonly descent: number;
  readonly hasFraction: boolean;
}

const tables = new Map<Weight, ReadonlyMap<string, number>>();

function widths(weight: Weight): ReadonlyMap<string, number> {
  const known = tables.get(weight);
  if (known) return known;
  const list = WIDTHS[weight].split(' ').map(Number);
  const table = new Map([...CHARACTERS].map((character, index) => [character, list[index] as number]));
  tables.set(weight, table);
  return table;
}

/** Width of a text in mm; a character outside the table counts as a wide one. */
export function textWidth(value: string, size: number, weight: Weight = 400): number {
  const table = widths(weight);
  let sum = 0;
  for (const character of value) sum += table.get(character) ?? 600;
  return (sum / 1000) * size;
}

/** Sets a line. `size` is the font size in mm; letters of parts are set semibold and a little larger. */
export function setLine(content: Line, size = TEXT_SIZE, weight: Weight = 400): Lettering {
  const setter = new Setter(size, weight);
  for (const run of content) {
    if (run.kind === 'text') setter.text(run.text);
    else if (run.kind === 'letter') setter.text(run.letter, (size * LETTER_SIZE) / TEXT_SIZE, 600);
    else setter.size(run.size, run.bare === true);
  }
  return setter.result();
}

class Setter {
  private x = 0;
  private stacked = false;
  private tail = false;
  private readonly glyphs: Glyphs[] = [];
  private readonly bars: Lettering['bars'][number][] = [];
  private readonly em: number;
  private readonly weight: Weight;

  constructor(em: number, weight: Weight) {
    this.em = em;
    this.weight = weight;
  }

  text(value: string, size = this.em, weight = this.weight): void {
    if (value === '') return;
    const last = this.glyphs[this.glyphs.length - 1];
    if (/[gjpqyQ,;()]/.test(value)) this.tail = true;
    const width = textWidth(value, size, weight);
    if (
      last &&
      last.unseen === undefined &&
      last.y === 0 &&
      last.size === size &&
      last.weight === weight &&
      Math.abs(last.x + textWidth(last.text, size, weight) - this.x) < 1e-9
    )
      this.glyphs[this.glyphs.length - 1] = { ...last, text: last.text + value };
    else this.glyphs.push({ text: value, x: this.x, y: 0, size, weight });
    this.x += width;
  }

  size(size: Size, bare: boolean): void {
    const sign = size.negative ? '−' : '';
    const { whole, numerator, denominator } = figuresOf(size);
    if (size.system === 'mm') {
      this.text(`${sign}${whole}${bare ? '' : ' mm'}`);
      return;
    }
    if (whole !== '' || sign !== '') this.text(`${sign}${whole}`);
    if (numerator !== '') this.fraction(numerator, denominator, whole !== '');
    this.text('″');
  }

  private fraction(numerator: string, denominator: string, afterWhole: boolean): void {
    const em = this.em;
    const figures = FRACTION.figures * em;
    const [upper, lower] = [textWidth(numerator, figures, 500), textWidth(denominator, figures, 500)];
    const inner = Math.max(upper, lower);
    const unseen = (value: string): void => {
      this.glyphs.push({ text: value, x: this.x, y: 0, size: figures, weight: 500, unseen: true });
    };
    if (afterWhole) {
      unseen(' ');
      this.x += FRACTION.before * em;
    }
    const from = this.x;
    const to = from + inner + 2 * FRACTION.overhang * em;
    const middle = -(CAPITAL / 2) * em;
    const off = (FRACTION.bar / 2 + FRACTION.clear) * em;
    const centred = (value: string, width: number, y: number): void => {
      this.glyphs.push({ text: value, x: (from + to - width) / 2, y, size: figures, weight: 500 });
    };
    centred(numerator, upper, middle - off);
    unseen('/');
    centred(denominator, lower, middle + off + CAPITAL * figures);
    this.bars.push({ from, to, y: middle, thickness: FRACTION.bar * em });
    this.x = to + FRACTION.after * em;
    this.stacked = true;
  }

  result(): Lettering {
    const em = this.em;
    const stack = (CAPITAL * FRACTION.figures + FRACTION.bar / 2 + FRACTION.clear) * em;
    const middle = (CAPITAL / 2) * em;
    const rise = TALL * em;
    return {
      glyphs: this.glyphs,
      bars: this.bars,
      width: this.x,
      ascent: this.stacked ? Math.max(rise, middle + stack) : rise,
      descent: Math.max(this.tail ? TAIL * em : 0.015 * em, this.stacked ? stack - middle : 0),
      hasFraction: this.stacked,
    };
  }
}

/** A text whose base line starts at a point, or is centred on or ends at it. */
export function textAt(
  lettering: Lettering,
  at: Point,
  options: { anchor?: 'start' | 'middle' | 'end'; angle?: number; quiet?: boolean; of?: string } = {},
): Extract<Mark, { kind: 'text' }> {
  const angle = options.angle ?? 0;
  const back =
    options.anchor === 'middle' ? lettering.width / 2 : options.anchor === 'end' ? lettering.width : 0;
  const turn = (angle * Math.PI) / 180;
  return {
    kind: 'text',
    lettering,
    at: [at[0] - Math.cos(turn) * back, at[1] - Math.sin(turn) * back],
    angle,
    ...(options.quiet ? { quiet: true } : {}),
    ...(options.of === undefined ? {} : { of: options.of }),
  };
}
