/** Equal spaces in a row, as a dimension line says them. */
import { type Line, type Run, text } from '../../text.ts';
import { lengthOf } from '../../units.ts';

/**
 * `3 × 8″ = 24″`. Where a space is printed rounded the product would not be the sum that stands beside it, and who steps it off would end
 * beside the mark: then `3 equal = 42 13/16″`.
 */
export function equalSpaces(spaces: number, total: number, size: (length: number) => Run): Line {
  const [one, all] = [size(total / spaces), size(total)];
  const exact =
    one.kind !== 'size' ||
    all.kind !== 'size' ||
    Math.abs(spaces * lengthOf(one.size) - lengthOf(all.size)) < 1e-6;
  return exact ? [text(`${spaces} × `), one, text(' = '), all] : [text(`${spaces} equal = `), all];
}
