/** The flat shape that a board is sawn to: from its solid, or from its plan where roundings leave the solid no sharp edge. */
import type { PlacedPart } from '../geometry/types.ts';
import type { Copy } from '../model/types.ts';
import {
  type FlatLoop,
  type FlatOutline,
  type FlatPiece,
  flatOutline,
  signedArea,
} from './template-outline.ts';

/** True where a board has an outline of lines and arcs: it gets a template, and a file for machines. */
export const isSawnToShape = (copy: Copy): boolean => copy.shape.some((shape) => shape.kind === 'outline');

/** The outline of a board's wide face; not `closed` where neither solid nor plan gives one that closes. */
export function shapedOutline(part: PlacedPart, copy: Copy): FlatOutline {
  const found = flatOutline(part);
  if (found.closed && found.loops.length > 0) return found;
  // An outline of the plan is closed: the model refuses one that isn't.
  const loops = outlinesOf(copy);
  return { ...found, loops, closed: loops.length > 0 };
}

/** The outlines of a board as its plan draws them. */
function outlinesOf(copy: Copy): FlatLoop[] {
  return copy.shape.flatMap((shape) => {
    if (shape.kind !== 'outline') return [];
    let from = shape.start;
    const pieces = shape.stretches.map(({ to, arc }): FlatPiece => {
      const piece: FlatPiece = arc ? { kind: 'arc', from, to, ...arc } : { kind: 'line', from, to };
      from = to;
      return piece;
    });
    return [{ pieces, hole: shape.does === 'cut', area: Math.abs(signedArea(pieces)) }];
  });
}
