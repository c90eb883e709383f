/**
 * The outline of a board's wide face as its operations leave it: what a cutter that is guided along the edge follows. Arcs come in the
 * same facets that the solid has, so that a tool made along them meets the solid's own corners.
 */
import { type Convex, cutConvex } from '../resolve/convex.ts';
import { facetsOfTurn, polygonOf, signedArea } from './flat.ts';
import { common, type FlatRegion, type FlatSide, without } from './flat-region.ts';
import type { BoxCut, EdgeWork, FlatPoint, Outline, ShapeOperation, Side } from './shape.ts';
import { axisOfSide, farCorner, planeOfSide } from './sides.ts';
import type { BlankSize, Vec3 } from './types.ts';

export type WideSide = 'face' | 'reverse';

/** The wall below a stretch of an outline: plane, or a piece of a cylinder square to the face. */
export interface Wall {
  /** Of a curved wall; `hollow` where the wood lies outside of the circle. */
  readonly arc?: { readonly centre: FlatPoint; readonly radius: number; readonly hollow: boolean };
  /** True where a plane wall isn't square to the face. */
  readonly leans?: boolean;
  /** The blank's own side, as the saw left it. */
  readonly side?: Side;
}

/** How arcs are cut into facets: how far these may lie off each operation's curves, mm, and places at which one ends. */
export interface Facets {
  readonly sagitta: (one: ShapeOperation) => number;
  readonly stops: readonly FlatPoint[];
}

/** What tools reach beyond the board, mm; the same that they have in the solid, so that corners agree. */
export const BEYOND = 2;

/** True for operations that give a wide face another outline than the saw does. */
export const bendsOutline = (one: ShapeOperation, size: BlankSize): boolean =>
  one.kind === 'outline' ||
  (one.kind === 'box' && isThrough(one, size)) ||
  (one.kind === 'edge' && uprightEdges(one).length > 0);

/** True for a cut through the whole thickness. */
const isThrough = ({ min, max }: BoxCut, size: BlankSize): boolean =>
  min[2] < 0.01 && max[2] > size.thickness - 0.01;

/** The edges of an operation that run through the thickness. */
export const uprightEdges = ({ edges }: EdgeWork): readonly (readonly [Side, Side])[] =>
  edges.filter((edge) => edge.every((side) => axisOfSide(side) !== 2));

/**
 * The outline of a wide face after operations, counter-clockwise seen from z above. Undefined where the face isn't one plane square to the
 * thickness (a tapered one).
 */
export function faceOutline(
  wide: WideSide,
  size: BlankSize,
  hull: Convex<Side>,
  before: readonly ShapeOperation[],
  facets: Facets,
): FlatRegion<Wall> | undefined {
  const faces = hull.filter((face) => face.name === wide);
  const [face] = faces;
  if (!face || faces.length > 1 || Math.abs(face.normal[2]) < 1 - 1e-9) return undefined;
  const z = planeOfSide(wide, size);
  let region: FlatRegion<Wall> = [sawnLoop(hull, face.loop, wide)];
  for (const one of before) {
    if (one.kind === 'outline') {
      const shape = [outlineLoop(one, facets)];
      region = one.does === 'keep' ? common(region, shape) : without(region, shape);
    } else if (one.kind === 'box' && isThrough(one, size)) {
      const shape = boxLoop(one, size, z);
      if (shape.length > 2) region = without(region, [shape]);
    } else if (one.kind === 'edge') {
      for (const [first, second] of uprightEdges(one)) {
        const shape = cornerLoop(region, hull, first, second, one, facets.sagitta(one));
        if (shape) region = without(region, [shape]);
      }
    }
  }
  return region;
}

const isLeaning = (normal: Vec3): boolean => Math.abs(normal[2]) > 1e-6;

/** The outline that saw cuts leave, each side with the side of the board it lies on. */
function sawnLoop(hull: Convex<Side>, loop: readonly Vec3[], wide: WideSide): FlatSide<Wall>[] {
  const corners = wide === 'face' ? loop : [...loop].reverse();
  return corners.map((p, i) => {
    const q = corners[(i + 1) % corners.length] as Vec3;
    const isIn = (point: Vec3, other: readonly Vec3[]): boolean =>
      other.some((r) => Math.hypot(point[0] - r[0], point[1] - r[1], point[2] - r[2]) < 1e-6);
    const wall = hull.find((face) => face.loop !== loop && isIn(p, face.loop) && isIn(q, face.loop));
    const of: Wall = wall ? { side: wall.name, ...(isLeaning(wall.normal) ? { leans: true } : {}) } : {};
    return { from: [p[0], p[1]], to: [q[0], q[1]], of };
  });
}

/** True where the wood lies outside of an arc's circle: what lies inside an outline lies on the left of its way. */
export const isHollow = (arc: { readonly counterclockwise: boolean }, does: Outline['does']): boolean =>
  arc.counterclockwise === (does === 'cut');

function outlineLoop(one: Outline, { sagitta, stops }: Facets): FlatSide<Wall>[] {
  const { start, stretches, does } = one;
  const { points, stretch } = polygonOf(start, stretches, sagitta(one), stops);
  const walls = stretches.map(({ arc }): Wall => {
    if (!arc) return {};
    return { arc: { centre: arc.centre, radius: arc.radius, hollow: isHollow(arc, does) } };
  });
  return points.map((from, i) => ({
    from,
    to: points[(i + 1) % points.length] as FlatPoint,
    of: walls[stretch[i] as number] as Wall,
  }));
}

/** The trace on a wide face of a cut that goes right through. */
function boxLoop({ planes }: BoxCut, size: BlankSize, z: number): FlatSide<Wall>[] {
  const [x, y] = farCorner(size);
  const corners: Vec3[] = [
    [-BEYOND, -BEYOND, z],
    [x + BEYOND, -BEYOND, z],
    [x + BEYOND, y + BEYOND, z],
    [-BEYOND, y + BEYOND, z],
  ];
  // A thin plate about the face, cut as the solid is: the sides of its upper face are the trace.
  let plate: Convex<Wall> = [{ normal: [0, 0, 1], offset: z, loop: corners, name: {} }];
  const walls = planes.map(({ normal }): Wall => (isLeaning(normal) ? { leans: true } : {}));
  const made: { readonly wall: Wall; readonly inside: (p: Vec3) => number }[] = [];
  planes.forEach((plane, i) => {
    if (Math.hypot(plane.normal[0], plane.normal[1]) < 1e-6) return;
    const height = (p: Vec3): number =>
      plane.normal[0] * p[0] + plane.normal[1] * p[1] + plane.normal[2] * p[2] - plane.offset;
    made.push({ wall: walls[i] as Wall, inside: height });
    plate = cutConvex(plate, plane, walls[i] as Wall).filter((face) => Math.abs(face.normal[2] - 1) < 1e-9);
  });
  const loop = plate[0]?.loop ?? [];
  return loop.map((p, i) => {
    const q = loop[(i + 1) % loop.length] as Vec3;
    const own = made.find(({ inside }) => Math.abs(inside(p)) < 1e-5 && Math.abs(inside(q)) < 1e-5);
    return { from: [p[0], p[1]], to: [q[0], q[1]], of: own?.wall ?? {} };
  });
}

/** What a rounding or chamfer takes off a corner, where it is still there. Counter-clockwise. */
function cornerLoop(
  region: FlatRegion<Wall>,
  hull: Convex<Side>,
  first: Side,
  second: Side,
  work: EdgeWork,
  sagitta: number,
): FlatSide<Wall>[] | undefined {
  const corner = cornerOf(region, first, second);
  const normals = [first, second].map((name) => hull.find((face) => face.name === name)?.normal);
  const [one, other] = normals;
  if (!corner || !one || !other || isLeaning(one) || isLeaning(other)) return undefined;
  const cosine = one[0] * other[0] + one[1] * other[1];
  if (cosine > 1 - 1e-6 || cosine < -1 + 1e-6) return undefined;
  const from = (at: FlatPoint, normal: Vec3, by: number): FlatPoint => [
    at[0] + normal[0] * by,
    at[1] + normal[1] * by,
  ];
  const apex = from(from(corner, one, BEYOND), other, BEYOND);
  if (work.name === 'chamfer') {
    // As much off both sides, whatever their angle.
    const along = (normal: Vec3, away: Vec3): FlatPoint => {
      const turned: FlatPoint = [-normal[1], normal[0]];
      const sign = turned[0] * away[0] + turned[1] * away[1] > 0 ? -1 : 1;
      return [corner[0] + turned[0] * sign * work.size, corner[1] + turned[1] * sign * work.size];
    };
    const [p, q] = [along(one, other), along(other, one)];
    return closed([apex, from(q, other, BEYOND), q, p, from(p, one, BEYOND)], [2]);
  }
  const inward = -work.size / (1 + cosine);
  const centre: FlatPoint = [
    corner[0] + (one[0] + other[0]) * inward,
    corner[1] + (one[1] + other[1]) * inward,
  ];
  const sweep = Math.acos(cosine);
  const count = Math.max(2, Math.ceil((facetsOfTurn(work.size, sagitta) * sweep) / (2 * Math.PI)));
  const across: Vec3 = [
    (other[0] - one[0] * cosine) / Math.sin(sweep),
    (other[1] - one[1] * cosine) / Math.sin(sweep),
    0,
  ];
  const arc = Array.from({ length: count + 1 }, (_, i) => {
    const angle = (sweep * i) / count;
    return from(from(centre, one, work.size * Math.cos(angle)), across, work.size * Math.sin(angle));
  });
  const back = [...arc].reverse();
  return closed(
    [apex, from(back[0] as FlatPoint, other, BEYOND), ...back, from(arc[0] as FlatPoint, one, BEYOND)],
    back.slice(1).map((_, i) => i + 2),
    { centre, radius: work.size, hollow: false },
  );
}

/** Sides of a polygon, counter-clockwise; those that start at the points in `worked` are one wall. */
function closed(
  points: readonly FlatPoint[],
  worked: readonly number[],
  arc?: NonNullable<Wall['arc']>,
): FlatSide<Wall>[] {
  const wall: Wall = arc ? { arc } : {};
  const plain: Wall = {};
  const sides = points.map((from, i) => ({
    from,
    to: points[(i + 1) % points.length] as FlatPoint,
    of: worked.includes(i) ? wall : plain,
  }));
  if (signedArea(points) > 0) return sides;
  return sides.reverse().map(({ from, to, of }) => ({ from: to, to: from, of }));
}

/** Where two of the blank's own sides still meet in a corner. */
export function cornerOf(region: FlatRegion<Wall>, first: Side, second: Side): FlatPoint | undefined {
  for (const loop of region)
    for (const [i, side] of loop.entries()) {
      const next = loop[(i + 1) % loop.length] as FlatSide<Wall>;
      const names = [side.of.side, next.of.side];
      if (names.includes(first) && names.includes(second)) return side.to;
    }
  return undefined;
}
