/** Glue and finish by area, edge banding by length: what parts have of surface, and joints of contact. */
import type { Joinery } from '../joinery/types.ts';
import type { Copy, Face, HardwareUse, Part, Plan } from '../model/types.ts';
import { directionOf } from '../resolve/directions.ts';
import { INCH } from '../units.ts';

/** Surface of all faces of a part's copies as blanks, mm²; holes and shaped edges are not taken off. */
const surfaceOf = (part: Part): number =>
  part.copies.reduce((sum, { size }) => {
    const { length, width, thickness } = size;
    return sum + 2 * (length * width + length * thickness + width * thickness);
  }, 0);

/** What faces of one board hide of another where they meet: counted once for each of the two, mm². */
const hiddenBy = (joinery: Joinery): number => {
  // Two boards may be housed and glued, or glued and screwed: they hide each other once.
  const pairs = new Map<string, number>();
  for (const { contact } of joinery.places) {
    const pair = [contact.first, contact.second].sort().join(' ');
    pairs.set(pair, Math.max(pairs.get(pair) ?? 0, contact.area));
  }
  return [...pairs.values()].reduce((sum, area) => sum + 2 * area, 0);
};

/** Left over at both ends of a band together, to be trimmed flush when it sticks (common practice, no source), mm. */
const BAND_TRIM = INCH;

/** What is banded of all copies of all parts, each edge a little longer than it is, mm. */
export const bandedLength = (plan: Plan): number =>
  plan.parts.reduce((sum, { banded = [], runs, copies }) => {
    const edge = (copy: Copy, face: Face): number =>
      BAND_TRIM + (directionOf(face) === runs ? copy.cut.width : copy.cut.length);
    return (
      sum +
      copies.reduce(
        (own, copy) => own + [...new Set(banded)].reduce((all, face) => all + edge(copy, face), 0),
        0,
      )
    );
  }, 0);

/**
 * Packages of a glue, a finish or a banding whose item says what it covers: `count` is how many coats. Glue goes on the joints that are glued. A finish
 * goes on the part that `on` names, or on the whole piece, where what is hidden in
 * joints takes none.
 */
export function packagesByArea(plan: Plan, joinery: Joinery, use: HardwareUse): number {
  const { bands } = use.item;
  if (bands) return packages(use.count * bandedLength(plan), bands[plan.edition.side]);
  const covers = use.item.covers;
  if (covers === undefined || covers <= 0) return use.count;
  if (use.item.fits?.joint === 'glue') {
    const glued = joinery.places.filter((place) => place.joint.by === 'glue');
    return packages((use.count * glued.reduce((sum, place) => sum + place.contact.area, 0)) / 1e6, covers);
  }
  const key = use.on?.split('.')[0];
  const part = plan.parts.find((candidate) => candidate.key === key);
  const area =
    part === undefined
      ? plan.parts.reduce((sum, one) => sum + surfaceOf(one), 0) - hiddenBy(joinery)
      : surfaceOf(part);
  return packages((use.count * Math.max(0, area)) / 1e6, covers);
}

const packages = (area: number, covers: number): number => (area <= 0 ? 0 : Math.ceil(area / covers - 1e-9));
