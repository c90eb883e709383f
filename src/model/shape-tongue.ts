/** Tongues, and the milled profile of tongue-and-groove stock. */
import type { Origin } from '../diagnostics.ts';
import type { Face, StockItem } from '../read/types.ts';
import type { ResolvedShape } from '../resolve/pose-types.ts';
import type { ShapeOperation, Side, Tongue } from './shape.ts';
import { axisOfSide, farCorner, sideOf } from './sides.ts';
import type { BlankSize } from './types.ts';
import { placeOfValue, said, type Workpiece, wrong } from './workpiece.ts';

export function tongue(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values } = shape;
  const on = source.on[0];
  if (!on) return undefined;
  const side = sideOf(piece.lie, on.text as Face);
  if (axisOfSide(side) === 2)
    return wrong(piece, 'side', on.origin, {
      expected: `an edge or an end of "${piece.key}"`,
      found: `${on.text}, its wide face`,
    });
  const whole = farCorner(piece.size)[axisOfSide(side)];
  const { length = 0, thickness = 0 } = values;
  for (const [key, value, most] of [
    ['thickness', thickness, piece.size.thickness],
    ['length', length, whole],
  ] as const)
    if (!(value > 0.01) || value >= most - 0.01)
      return wrong(piece, 'tongue-size', placeOfValue(shape, key), {
        expected: `a ${key} of the tongue above 0 and less than the ${said(piece, most)} of "${piece.key}"`,
        found: said(piece, value),
      });
  const from = (piece.size.thickness - thickness) / 2;
  return [
    {
      kind: 'tongue',
      name: 'tongue',
      called: source.called,
      origin: source.origin,
      tongue: { side, length, from, thickness, out: false },
    },
  ];
}

/** Room left in front of a tongue in its groove, mm: common practice, no source. */
const CLEARANCE = 0.8;

/**
 * The milled profile of a tongue-and-groove board: tongue and groove a third of the thickness, in its middle (common practice, no
 * source). What a course covers is the blank; the tongue stands out of it, the groove takes the next board's.
 */
export function profile(
  stock: StockItem,
  size: BlankSize,
  edges: { readonly tongue: Side; readonly hasTongue: boolean; readonly hasGroove: boolean },
  origin: Origin,
): Tongue {
  const thickness = size.thickness / 3;
  const shared = { from: (size.thickness - thickness) / 2, thickness };
  const other: Side = edges.tongue === 'low edge' ? 'high edge' : 'low edge';
  return {
    kind: 'tongue',
    name: 'profile',
    called: 'profile',
    origin,
    ...(edges.hasTongue
      ? { tongue: { side: edges.tongue, length: stock.tongue, out: true, ...shared } }
      : {}),
    ...(edges.hasGroove
      ? { groove: { side: other, depth: Math.min(stock.tongue + CLEARANCE, size.width / 2), ...shared } }
      : {}),
  };
}
