/**
 * Hardware that stands in the wood of another board than its own, as a stay that runs up through the lid. Hinges are left out, since they
 * are let in. Source: none needed, two things can't be in one place.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { type FittingBox, fittingBoxes } from '../geometry/fittings.ts';
import type { Vec3 } from '../model/types.ts';
import { add, scale } from '../resolve/vectors.ts';
import { allCopies } from './support.ts';
import type { Rule } from './types.ts';
import { woodOf } from './wood.ts';

/** What touches isn't in it, mm; and how many places along each side of a fitting are looked at. */
const [PLAY, PLACES] = [1, 6];

/** Places inside the box of a fitting. */
function insideOf({ frame, min, max }: FittingBox): Vec3[] {
  const along = ([0, 1, 2] as const).map((k) => {
    const [low, high] = [min[k] + PLAY, max[k] - PLAY];
    if (low >= high) return [(min[k] + max[k]) / 2];
    return Array.from({ length: PLACES }, (_, i) => low + ((high - low) * i) / (PLACES - 1));
  });
  const [xs = [], ys = [], zs = []] = along;
  return xs.flatMap((x) =>
    ys.flatMap((y) =>
      zs.map((z) =>
        add(frame.origin, add(scale(frame.length, x), add(scale(frame.width, y), scale(frame.thickness, z)))),
      ),
    ),
  );
}

/** One finding a use: the first board that it stands in. */
export const fittingRoom: Rule = ({ plan }) => {
  const copies = allCopies(plan);
  return plan.hardware.flatMap((use): Diagnostic[] => {
    if (use.item.kind === 'hinge') return [];
    for (const box of fittingBoxes(plan, use)) {
      const places = insideOf(box);
      const hit = copies.find(({ copy }) => copy.id !== box.on && places.some(woodOf(copy).at));
      if (hit === undefined) continue;
      return [
        {
          id: 'hardware.in-wood',
          severity: 'warning',
          origin: use.origin,
          message: `expected "${use.item.key}" clear of other boards, found it in "${hit.part.key}"`,
          hint: 'say where it lies with "at", "set back" or "runs"; its size is in its file in content/hardware',
          parts: [hit.part.key],
        },
      ];
    }
    return [];
  });
};
