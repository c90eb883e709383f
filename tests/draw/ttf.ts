/** A small reader of TrueType advance widths, for the test that holds the drawing's width table against the font file. */
import { readFileSync } from 'node:fs';

/** Advance width by character, in thousandths of the em. Tables `head`, `hhea`, `hmtx`, `cmap` (formats 4 and 12) of ISO/IEC 14496-22. */
export function advancesOf(file: string, characters: string): Map<string, number> {
  const data = readFileSync(file);
  const tables = new Map<string, number>();
  for (let i = 0; i < data.readUInt16BE(4); i++) {
    const at = 12 + i * 16;
    tables.set(data.toString('latin1', at, at + 4), data.readUInt32BE(at + 8));
  }
  const at = (name: string): number => tables.get(name) as number;
  const unitsPerEm = data.readUInt16BE(at('head') + 18);
  const metrics = data.readUInt16BE(at('hhea') + 34);
  const result = new Map<string, number>();
  for (const character of characters) {
    const glyph = glyphOf(data, at('cmap'), character.codePointAt(0) as number);
    if (glyph === 0) continue;
    const advance = data.readUInt16BE(at('hmtx') + 4 * Math.min(glyph, metrics - 1));
    result.set(character, Math.round((advance / unitsPerEm) * 1000));
  }
  return result;
}

function glyphOf(data: Buffer, cmap: number, code: number): number {
  for (let i = 0; i < data.readUInt16BE(cmap + 2); i++) {
    const table = cmap + data.readUInt32BE(cmap + 4 + i * 8 + 4);
    const format = data.readUInt16BE(table);
    if (format === 12) {
      for (let g = 0; g < data.readUInt32BE(table + 12); g++) {
        const at = table + 16 + g * 12;
        const start = data.readUInt32BE(at);
        if (code >= start && code <= data.readUInt32BE(at + 4))
          return data.readUInt32BE(at + 8) + code - start;
      }
    }
    if (format === 4) {
      const segments = data.readUInt16BE(table + 6) / 2;
      for (let s = 0; s < segments; s++) {
        if (code > data.readUInt16BE(table + 14 + s * 2)) continue;
        const start = data.readUInt16BE(table + 16 + segments * 2 + s * 2);
        if (code < start) break;
        const delta = data.readUInt16BE(table + 16 + segments * 4 + s * 2);
        const rangeAt = table + 16 + segments * 6 + s * 2;
        const range = data.readUInt16BE(rangeAt);
        if (range === 0) return (code + delta) & 0xffff;
        const glyph = data.readUInt16BE(rangeAt + range + (code - start) * 2);
        return glyph === 0 ? 0 : (glyph + delta) & 0xffff;
      }
    }
  }
  return 0;
}
