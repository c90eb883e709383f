/** Which fastener a joint takes. */
import type { Copy } from '../model/types.ts';
import type { HardwareItem, JointKind } from '../read/types.ts';
import { reach } from '../resolve/convex.ts';
import { dot } from '../resolve/vectors.ts';
import type { Contact } from './types.ts';

/** Fasteners at a place where the author gives no count: common practice, no source. */
export const USUAL_COUNT: Readonly<Record<JointKind, number>> = {
  'pocket screws': 2,
  screws: 2,
  nails: 2,
  glue: 0,
  housing: 0,
};

/**
 * How much wood a fastener passes before it leaves the first board: the board's size behind the contact along its normal, mm. Where the
 * other board lies in a housing that is less than the whole board.
 */
export function passes(copy: Copy, { normal, bounds, polygons }: Contact): number {
  const { min, max } = copy.bounds;
  if (copy.faces || polygons) {
    const corners = copy.faces?.flatMap((face) => face.loop) ?? [min, max];
    const level = dot(normal, polygons?.[0]?.[0] ?? bounds.min);
    return level - reach(corners, normal).low;
  }
  const axis = normal.findIndex((value) => Math.abs(value) > 0.5) as 0 | 1 | 2;
  return normal[axis] > 0 ? bounds.min[axis] - min[axis] : max[axis] - bounds.max[axis];
}

/** Half a millimetre of play, so that a 19 mm board takes what fits 3/4 in. */
const PLAY = 0.55;

/**
 * The item that fits: sold for the joint, right for that thickness, in the list's order. A pocket screw goes by the thickness of
 * the board that carries the pocket, another fastener by the wood it passes.
 */
export function chooseFastener(
  items: readonly HardwareItem[],
  kind: JointKind,
  thickness: number,
  region: string,
): HardwareItem | undefined {
  return items.find(
    (item) =>
      item.fits?.joint === kind &&
      thickness >= item.fits.from - PLAY &&
      thickness <= item.fits.to + PLAY &&
      (item.regions.length === 0 || item.regions.includes(region)),
  );
}

/** Thicknesses, mm, that the list has fasteners for: said in the message where none fits. */
export function fastenerRanges(
  items: readonly HardwareItem[],
  kind: JointKind,
): readonly (readonly [number, number])[] {
  return items.flatMap((item) =>
    item.fits?.joint === kind ? [[item.fits.from, item.fits.to] as const] : [],
  );
}
