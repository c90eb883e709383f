/**
 * How lumber is measured for buying: board feet by nominal size, cubic metres by real size.
 * Source: PS 20-20 (American Softwood Lumber Standard), section 2.2: nominal thickness in inches × nominal width in feet × length in
 * feet; a thickness under 1 in counts as 1 in (rule of the trade).
 */
import type { StockItem } from '../../read/types.ts';
import { INCH } from '../../units.ts';

/** Board feet of a piece: nominal thickness and width in inches, length in feet. */
export function boardFeet(thickness: number, width: number, feet: number): number {
  return (Math.max(1, thickness) * width * feet) / 12;
}

/** `2`, `5/4`, `1-1/4`, `1 1/4` as a number of inches. */
const NOMINAL = String.raw`(?:(\d+)[- ])?(\d+)(?:/(\d+))?`;
const SECTION = new RegExp(`^${NOMINAL}\\s*[x×]\\s*${NOMINAL}(?![\\d/])`, 'i');

function nominalInches(whole: string | undefined, top: string, bottom: string | undefined): number {
  return Number(whole ?? 0) + Number(top) / Number(bottom ?? 1);
}

/**
 * Nominal thickness and width in inches, from the stock's name: `5/4x6`. A name that isn't of this form gives the real section, with
 * each side rounded up to a quarter of an inch, which is what it was sawn from at least.
 */
export function nominalSection(stock: Pick<StockItem, 'key' | 'thickness' | 'width'>): {
  thickness: number;
  width: number;
} {
  const found = SECTION.exec(stock.key);
  if (found) {
    const thickness = nominalInches(found[1], found[2] as string, found[3]);
    const width = nominalInches(found[4], found[5] as string, found[6]);
    if (Number.isFinite(thickness) && Number.isFinite(width) && thickness > 0 && width > 0)
      return { thickness, width };
  }
  const up = (length: number): number => Math.ceil((length / INCH) * 4 - 1e-6) / 4;
  return { thickness: up(stock.thickness), width: up(stock.width) };
}
