/** The two sides of a sheet or a label as an author writes them. */
import { readLength } from '../units.ts';

/** `4 x 8 ft`, `48 in x 96 in`, `1220 × 2440 mm`: both sides in mm, the shorter first. */
export function sidesOfSheet(text: string): readonly [shorter: number, longer: number] | undefined {
  const [one, two, ...more] = text.split(/\s*[x×]\s*/iu);
  if (!one || !two || more.length > 0) return undefined;
  const unit = /[a-z]+\s*$/iu.exec(two)?.[0].trim();
  const second = readLength(two);
  const first = readLength(/[a-z]\s*$/iu.test(one) || unit === undefined ? one : `${one} ${unit}`);
  if (!('length' in first) || !('length' in second)) return undefined;
  if (!(first.length > 0 && second.length > 0)) return undefined;
  return first.length <= second.length ? [first.length, second.length] : [second.length, first.length];
}
