/** What the author has cut at an end of a board that is to go into a housing. */
import { polygonOf } from './flat.ts';
import type { Board } from './housing-fit.ts';
import type { EdgeWork, Outline, ShapeOperation, Side } from './shape.ts';
import { farCorner } from './sides.ts';
import type { Copy, Vec3 } from './types.ts';

/** Places nearer than this are one, mm. */
const SAME = 0.01;

/** True where something from `low` to `high` along the length comes within `depth` of an end. */
const within = (copy: Copy, side: Side, depth: number, low: number, high: number): boolean =>
  side === 'start' ? low < depth - SAME : high > copy.size.length - depth + SAME;

/** An operation at an end, within so much of it, that leaves no plain end to go into a housing; none where the end is square. */
export function shapedEnd(copy: Copy, side: Side, depth: number): ShapeOperation | undefined {
  return copy.shape.find((one) => {
    switch (one.kind) {
      case 'saw':
        return one.name !== 'fit' && one.side === side;
      case 'box':
        return one.name === 'notch' && within(copy, side, depth, one.min[0], one.max[0]);
      case 'outline':
        return one.arc ? one.arc.side === side : !isWhole(one, copy, side, depth);
      case 'tongue':
        return one.name === 'tongue' && one.tongue?.side === side;
      case 'edge':
        return one.edges.some((edge) => edge.includes(side));
      default:
        return false;
    }
  });
}

/** True where an outline leaves the corners of an end, and nothing between them and the depth. */
function isWhole(outline: Outline, { size }: Copy, side: Side, depth: number): boolean {
  const { points } = polygonOf(outline.start, outline.stretches, 1);
  const [length, width] = farCorner(size);
  const end = side === 'start' ? 0 : length;
  const from = ([x]: readonly [number, number]): number => Math.abs(x - end);
  const corner = (y: number): boolean => points.some((p) => from(p) < SAME && Math.abs(p[1] - y) < SAME);
  const between = points.some((p) => from(p) > SAME && from(p) < depth - SAME);
  return corner(0) && corner(width) && !between;
}

/**
 * Work along the board that the section of its end lacks, while the housing is cut for the whole of it: a groove that runs out, a long
 * edge that is rounded. None where it lies outside what goes in.
 * @param inside true for points of the board's own frame that go into the housing
 */
export function workedSection(
  { copy, hull }: Board,
  side: Side,
  depth: number,
  inside: (own: Vec3) => boolean,
): ShapeOperation | undefined {
  const corners = (work: EdgeWork): Vec3[] =>
    work.edges.flatMap((edge) => {
      const [end, ...others] = [side, ...edge].map(
        (name) => hull.find((face) => face.name === name)?.loop ?? [],
      );
      return (end ?? []).filter((p) =>
        others.every((loop) => loop.some((q) => q.every((v, i) => Math.abs(v - (p[i] as number)) < 1e-6))),
      );
    });
  return copy.shape.find((one) => {
    if (one.kind === 'edge') return corners(one).some(inside);
    if (one.kind !== 'box' || one.joint || !within(copy, side, depth, one.min[0], one.max[0])) return false;
    return [one.min, one.max].some((p) => inside([side === 'start' ? 0 : copy.size.length, p[1], p[2]]));
  });
}
