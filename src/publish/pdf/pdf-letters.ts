/**
 * Reads what the sheets need from a TrueType font: its PostScript name, which characters it has, how wide they are, and the
 * outlines of its figures. Stacked fractions are drawn from these outlines, while the text beneath them stays `3/4`: a PDF
 * that set three pieces of text one above the other would be read aloud and copied in pieces.
 * Source: OpenType specification 1.9.1, tables `head`, `hhea`, `hmtx`, `maxp`, `loca`, `glyf`, `cmap` (format 4) and `name`.
 */

/** A step of an outline in em, y up: move, line, or quadratic curve with its control point. */
export type OutlineStep =
  | readonly ['m', x: number, y: number]
  | readonly ['l', x: number, y: number]
  | readonly ['q', cx: number, cy: number, x: number, y: number];

/** A glyph: how far it moves the pen, and its outline, both in em. */
export interface Glyph {
  readonly advance: number;
  readonly outline: readonly OutlineStep[];
}

/** A font's own tables, found by name. */
class FontReader {
  private readonly view: DataView;
  private readonly tables = new Map<string, number>();
  private readonly unitsPerEm: number;
  private readonly longOffsets: boolean;
  private readonly metricCount: number;

  constructor(bytes: Uint8Array) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const count = this.u16(4);
    for (let i = 0; i < count; i++) {
      const at = 12 + i * 16;
      const tag = String.fromCharCode(...bytes.subarray(at, at + 4));
      this.tables.set(tag, this.view.getUint32(at + 8));
    }
    const head = this.table('head');
    this.unitsPerEm = this.u16(head + 18);
    this.longOffsets = this.i16(head + 50) === 1;
    this.metricCount = this.u16(this.table('hhea') + 34);
  }

  private u16 = (at: number): number => this.view.getUint16(at);
  private i16 = (at: number): number => this.view.getInt16(at);

  private table(tag: string): number {
    const at = this.tables.get(tag);
    if (at === undefined) throw new Error(`the font has no ${tag} table; the PDF needs TrueType outlines`);
    return at;
  }

  /** Name 6, in Windows' encoding (UTF-16, big end first). */
  postScriptName(): string {
    const table = this.table('name');
    const strings = table + this.u16(table + 4);
    for (let i = 0; i < this.u16(table + 2); i++) {
      const at = table + 6 + i * 12;
      if (this.u16(at) !== 3 || this.u16(at + 6) !== 6) continue;
      const start = strings + this.u16(at + 10);
      const length = this.u16(at + 8) / 2;
      return Array.from({ length }, (_, k) => String.fromCharCode(this.u16(start + k * 2))).join('');
    }
    throw new Error('the font has no PostScript name');
  }

  /** Glyph of a character of the basic plane; 0 where the font has none. */
  glyphOf(code: number): number {
    const cmap = this.table('cmap');
    for (let i = 0; i < this.u16(cmap + 2); i++) {
      const at = cmap + this.view.getUint32(cmap + 4 + i * 8 + 4);
      if (this.u16(at) === 4) return this.lookUp(at, code);
    }
    return 0;
  }

  private lookUp(at: number, code: number): number {
    const twice = this.u16(at + 6);
    const ends = at + 14;
    const starts = ends + twice + 2;
    for (let s = 0; s < twice; s += 2) {
      if (code > this.u16(ends + s)) continue;
      const start = this.u16(starts + s);
      if (code < start) return 0;
      const delta = this.u16(starts + twice + s);
      const rangeAt = starts + 2 * twice + s;
      const range = this.u16(rangeAt);
      if (range === 0) return (code + delta) & 0xffff;
      const glyph = this.u16(rangeAt + range + (code - start) * 2);
      return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
    }
    return 0;
  }

  advance(glyph: number): number {
    const row = Math.min(glyph, this.metricCount - 1);
    return this.u16(this.table('hmtx') + row * 4) / this.unitsPerEm;
  }

  /** The outline of a simple glyph. Figures are never composed of other glyphs; a composed one is a fault of ours. */
  outline(glyph: number): OutlineStep[] {
    const loca = this.table('loca');
    const start = this.longOffsets ? this.view.getUint32(loca + glyph * 4) : this.u16(loca + glyph * 2) * 2;
    const at = this.table('glyf') + start;
    const contours = this.i16(at);
    if (contours < 0) throw new Error('a figure of the font is composed of other glyphs');
    const ends = Array.from({ length: contours }, (_, i) => this.u16(at + 10 + i * 2));
    const points = this.points(at + 10 + contours * 2, (ends.at(-1) ?? -1) + 1);
    let first = 0;
    return ends.flatMap((end) => {
      const contour = points.slice(first, end + 1);
      first = end + 1;
      return contourSteps(contour);
    });
  }

  private points(at: number, count: number): ContourPoint[] {
    let cursor = at + 2 + this.u16(at);
    const flags: number[] = [];
    while (flags.length < count) {
      const flag = this.view.getUint8(cursor++);
      const times = flag & 8 ? this.view.getUint8(cursor++) + 1 : 1;
      for (let i = 0; i < times; i++) flags.push(flag);
    }
    const axis = (short: number, same: number): number[] => {
      let value = 0;
      return flags.map((flag) => {
        if (flag & short) value += (flag & same ? 1 : -1) * this.view.getUint8(cursor++);
        else if (!(flag & same)) {
          value += this.i16(cursor);
          cursor += 2;
        }
        return value / this.unitsPerEm;
      });
    };
    const xs = axis(2, 16);
    const ys = axis(4, 32);
    return flags.map((flag, i) => ({ x: xs[i] as number, y: ys[i] as number, on: (flag & 1) === 1 }));
  }
}

interface ContourPoint {
  readonly x: number;
  readonly y: number;
  readonly on: boolean;
}

/** Between two control points in a row the curve passes through their middle (OpenType, `glyf`). */
function contourSteps(contour: readonly ContourPoint[]): OutlineStep[] {
  const middle = (a: ContourPoint, b: ContourPoint): ContourPoint => ({
    x: (a.x + b.x) / 2,
    y: (a.y + b.y) / 2,
    on: true,
  });
  const [head] = contour;
  if (head === undefined) return [];
  const begin = head.on ? head : middle(contour.at(-1) as ContourPoint, head);
  const steps: OutlineStep[] = [['m', begin.x, begin.y]];
  const ring = [...(head.on ? contour.slice(1) : contour), begin];
  let control: ContourPoint | undefined;
  for (const point of ring) {
    if (!point.on) {
      if (control) {
        const through = middle(control, point);
        steps.push(['q', control.x, control.y, through.x, through.y]);
      }
      control = point;
    } else if (control) {
      steps.push(['q', control.x, control.y, point.x, point.y]);
      control = undefined;
    } else steps.push(['l', point.x, point.y]);
  }
  if (control) steps.push(['q', control.x, control.y, begin.x, begin.y]);
  return steps;
}

/** The PostScript name of a TrueType font. Throws where the bytes are no such font: the fonts are ours, not the author's. */
export const fontName = (font: Uint8Array): string => new FontReader(font).postScriptName();

/** Glyphs of some characters of the basic plane. Throws where the font lacks one. */
export function glyphsOf(font: Uint8Array, characters: string): Readonly<Record<string, Glyph>> {
  const reader = new FontReader(font);
  const found: Record<string, Glyph> = {};
  for (const character of characters) {
    const glyph = reader.glyphOf(character.codePointAt(0) as number);
    if (glyph === 0) throw new Error(`the font has no "${character}"`);
    found[character] = {
      advance: reader.advance(glyph),
      outline: character === ' ' ? [] : reader.outline(glyph),
    };
  }
  return found;
}
