import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CHARACTERS } from '../../src/draw/paper/advances.ts';
import { CAPITAL, FRACTION, setLine, TEXT_SIZE, textWidth } from '../../src/draw/paper/lettering.ts';
import { wrapped } from '../../src/draw/parts/part-below.ts';
import { lineText, text } from '../../src/text.ts';
import { inches, mm, printed } from '../../src/units.ts';
import { FONT_FILES } from './read-svg.ts';
import { advancesOf } from './ttf.ts';

const inch = { system: 'inch', denominator: 16 } as const;

describe('widths', () => {
  // Source: the font files themselves, tables hmtx and cmap.
  it.each([400, 500, 600] as const)('agree with the font file, weight %i', (weight) => {
    const font = advancesOf(FONT_FILES[weight] as string, CHARACTERS);
    expect(font.size).toBe([...CHARACTERS].length);
    for (const character of CHARACTERS)
      expect(textWidth(character, 1000, weight)).toBeCloseTo(font.get(character) as number, 6);
  });

  it('take the height of capitals from the font file', () => {
    // sCapHeight of the OS/2 table, offset 88, in units of the em (ISO/IEC 14496-22).
    const data = readFileSync(FONT_FILES['400'] as string);
    const table = (name: string): number => {
      for (let i = 0; i < data.readUInt16BE(4); i++)
        if (data.toString('latin1', 12 + i * 16, 16 + i * 16) === name)
          return data.readUInt32BE(12 + i * 16 + 8);
      throw new Error(name);
    };
    const capitals = data.readInt16BE(table('OS/2') + 88) / data.readUInt16BE(table('head') + 18);
    expect(CAPITAL).toBeCloseTo(capitals, 3);
    // ISO 3098-1: nominal height 2.5 mm.
    expect(TEXT_SIZE * capitals).toBeCloseTo(2.5, 1);
  });
});

describe('a stacked fraction', () => {
  const set = setLine([{ kind: 'size', size: printed(inches(34.75), inch) }], 1);
  const seen = set.glyphs.filter((g) => !g.unseen);

  it('is copied as plain text', () => {
    const line = [
      text('rip to '),
      { kind: 'size', size: printed(inches(3.25), inch) } as const,
      text('; measure'),
    ];
    const copied = setLine(line)
      .glyphs.map((g) => g.text)
      .join('');
    expect(copied).toBe('rip to 3 1/4″; measure');
    expect(copied).toBe(lineText(line));
    expect(set.glyphs.map((g) => g.text).join('')).toBe('34 3/4″');
  });

  it('has figures of 0.70, a bar at half the height of the capitals, and 0.13 em clear of it', () => {
    // The house's figures for a fraction; 0.7 of 2.5 mm is 1.75 mm, the ISO 3098-1 height 1.8.
    expect(seen.map((g) => [g.text, g.size])).toEqual([
      ['34', 1],
      ['3', 0.7],
      ['4', 0.7],
      ['″', 1],
    ]);
    const bar = set.bars[0];
    expect(bar?.thickness).toBeCloseTo(0.055, 9);
    expect(bar?.y).toBeCloseTo(-0.33, 9);
    const [upper, lower] = [seen[1]?.y as number, seen[2]?.y as number];
    // Upper figure stands on its base line; lower figure's top is its base line less its height 0.66 × 0.7.
    expect((bar?.y as number) - 0.0275 - upper).toBeCloseTo(FRACTION.clear, 9);
    expect(lower - 0.462 - ((bar?.y as number) + 0.0275)).toBeCloseTo(0.13, 9);
  });

  it('leaves out a whole number of nothing, and leaves millimetres bare where the sheet says them', () => {
    expect(
      setLine([{ kind: 'size', size: printed(inches(0.25), inch) }])
        .glyphs.map((g) => g.text)
        .join(''),
    ).toBe('1/4″');
    const size = printed(mm(886), { system: 'mm', denominator: 16 });
    expect(
      setLine([{ kind: 'size', size, bare: true }])
        .glyphs.map((g) => g.text)
        .join(''),
    ).toBe('886');
  });
});

describe('a note broken into lines', () => {
  it('keeps a sign with the size after it, at every width', () => {
    const size = {
      kind: 'size',
      size: printed(inches(5 / 32), { system: 'inch', denominator: 32 }),
    } as const;
    const note = [text('Pocket holes: Ø '), size, text(' deep, then Ø '), size, text(', set alike')];
    const whole = setLine(note).width;
    for (let width = 20; width < whole; width += 1) {
      const lines = wrapped(note, width);
      expect(lines.length).toBeGreaterThan(1);
      for (const line of lines) expect(lineText(line).trim()).not.toMatch(/Ø$/);
      expect(lines.map(lineText).join(' ').replaceAll(/\s+/g, ' ').trim()).toBe(
        lineText(note).replaceAll(/\s+/g, ' '),
      );
    }
  });
});
