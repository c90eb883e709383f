/** The flat shape that a board is sawn to: from its solid, or from its plan where roundings leave the solid no sharp edge. */
import type { Solids } from '../../geometry/manifold.ts';
import { placePart, shapeBoard } from '../../geometry/place.ts';
import { laterShapings, startOf } from '../../geometry/shape.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import type { Copy } from '../../model/types.ts';
import type { Point } from '../types.ts';
import {
  extentsOf,
  type FlatLoop,
  type FlatOutline,
  type FlatPiece,
  flatOutline,
  signedArea,
} from './template-outline.ts';

/** True where a board has an outline of lines and arcs: it gets a template, and a file for machines. */
export const isSawnToShape = (copy: Copy): boolean => copy.shape.some((shape) => shape.kind === 'outline');

/**
 * The outline of a board's wide face as it is. Where rounded edges leave the solid no sharp line to follow it is that of the board before
 * its edges are worked, which is what the saw cuts; not `closed` where that has none either.
 */
export function shapedOutline(part: PlacedPart, copy: Copy, solids: Pick<Solids, 'shape'>): FlatOutline {
  const found = flatOutline(part);
  if (found.closed && found.loops.length > 0) return found;
  const shape = copy.shape.filter(({ kind }) => kind !== 'edge');
  if (shape.length < copy.shape.length) {
    const { size } = copy;
    const sawn = shapeBoard(size, laterShapings({ size, shape }), solids, startOf({ size, shape }));
    const plain = flatOutline(placePart(sawn, { copy: copy.id, part: copy.part, frame: copy.frame, size }));
    if (plain.closed && plain.loops.length > 0) return plain;
  }
  // An outline of the plan is closed: the model refuses one that isn't. What else is cut out of it isn't in it.
  const loops = outlinesOf(copy);
  const whole = loops.length === 1 && loops.every(({ hole }) => !hole);
  return { ...found, ...extentsOf(whole ? loops : []), loops: whole ? loops : [], closed: whole };
}

/** The outlines of a board as its plan draws them; a mirrored copy counts its width from its other edge. */
function outlinesOf({ shape: shapes, size, frame }: Copy): FlatLoop[] {
  const own = ([x, y]: Point): Point => [x, frame.mirrored ? size.width - y : y];
  return shapes.flatMap((shape) => {
    if (shape.kind !== 'outline') return [];
    let from = own(shape.start);
    const pieces = shape.stretches.map(({ to: end, arc }): FlatPiece => {
      const to = own(end);
      const piece: FlatPiece = arc
        ? {
            kind: 'arc',
            from,
            to,
            centre: own(arc.centre),
            radius: arc.radius,
            counterclockwise: arc.counterclockwise !== frame.mirrored,
          }
        : { kind: 'line', from, to };
      from = to;
      return piece;
    });
    return [{ pieces, hole: shape.does === 'cut', area: Math.abs(signedArea(pieces)) }];
  });
}
