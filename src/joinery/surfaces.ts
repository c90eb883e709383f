/**
 * Plane faces of boards that lean or are cut, as convex polygons in the piece, without the solid kernel: those of the blank after its
 * saw cuts, and the floors and walls of housings and notches. Holes, slots, curves and tongues are left out.
 */
import { placingOf } from '../model/frames.ts';
import type { BoxCut } from '../model/shape.ts';
import type { Copy, Vec3 } from '../model/types.ts';
import { blankOf } from '../model/workpiece.ts';
import { areaOf, type Convex, clipLoop, cutConvex, type Plane } from '../resolve/convex.ts';
import { cross, dot, scale, subtract, unit } from '../resolve/vectors.ts';

/** A plane face: its outward plane, its corners, and the number of the cut it belongs to; −1 for the board's own faces. */
export interface Surface extends Plane {
  readonly loop: readonly Vec3[];
  readonly cut: number;
}

export interface Surfaces {
  readonly faces: readonly Surface[];
  /** What is taken out of the board, as planes outward from what is taken. */
  readonly taken: readonly (readonly Plane[])[];
}

/** True for a plain box along the axes: its extents say all. */
export const isPlain = (copy: Copy): boolean =>
  copy.faces === undefined && !copy.shape.some((one) => one.kind === 'box');

/** The faces of a copy and what is taken out of it. */
export function surfacesOf(copy: Copy): Surfaces {
  const place = placingOf(copy.frame, copy.size.width);
  const turned = copy.frame.mirrored;
  const planeAt = ({ normal, offset }: Plane): Plane => {
    const outward = place.vector(normal);
    return { normal: outward, offset: dot(outward, place.point(scale(normal, offset))) };
  };
  const loopAt = (loop: readonly Vec3[], back: boolean): Vec3[] => {
    const points = loop.map(place.point);
    return turned !== back ? points.reverse() : points;
  };
  let hull: Convex<number> = blankOf(copy.size).map((face) => ({ ...face, name: -1 }));
  for (const one of copy.shape) if (one.kind === 'saw') hull = cutConvex(hull, one.plane, -1);
  const boxes = copy.shape.filter((one): one is BoxCut => one.kind === 'box');
  const faces: Surface[] = hull.map((face) => ({
    ...planeAt(face),
    loop: loopAt(face.loop, false),
    cut: -1,
  }));
  boxes.forEach(({ planes }, cut) => {
    let body: Convex<number> = hull;
    for (const plane of planes) body = cutConvex(body, plane, cut);
    // The walls of what is taken out look the other way: they are wood seen from inside the cut.
    for (const face of body) {
      if (face.name !== cut) continue;
      const { normal, offset } = planeAt(face);
      faces.push({ normal: scale(normal, -1), offset: -offset, loop: loopAt(face.loop, true), cut });
    }
  });
  return { faces, taken: boxes.map(({ planes }) => planes.map(planeAt)) };
}

/** Cosine of the angle between the normals of two faces that lie against each other: within a hundredth of a degree. */
const AGAINST = -Math.cos((0.01 * Math.PI) / 180);

/** Where two faces lie against each other: a convex polygon, or nothing. */
export function against(a: Surface, b: Surface, touch: number): Vec3[] | undefined {
  if (dot(a.normal, b.normal) > AGAINST) return undefined;
  let loop: Vec3[] = [...a.loop];
  b.loop.forEach((p, i) => {
    const q = b.loop[(i + 1) % b.loop.length] as Vec3;
    const normal = unit(cross(subtract(q, p), b.normal));
    loop = clipLoop(loop, { normal, offset: dot(normal, p) });
  });
  if (loop.length < 3) return undefined;
  return loop.every((p) => Math.abs(dot(b.normal, p) - b.offset) <= touch) ? loop : undefined;
}

/**
 * What of a convex polygon lies outside a convex body, in convex pieces. Where the polygon lies in a plane of the body it is outside if the
 * wood behind it is: `outward` looks out of that wood. So two rabbets whose walls are in line don't take each other's.
 */
export function outsideOf(loop: readonly Vec3[], body: readonly Plane[], outward: Vec3): Vec3[][] {
  const pieces: Vec3[][] = [];
  let rest: Vec3[] = [...loop];
  for (const { normal, offset } of body) {
    if (rest.every((p) => Math.abs(dot(normal, p) - offset) <= 1e-6)) {
      if (dot(normal, outward) > 0) continue;
      return [...pieces, rest];
    }
    const beyond = clipLoop(rest, { normal: scale(normal, -1), offset: -offset });
    if (beyond.length >= 3 && areaOf(beyond) > 1e-6) pieces.push(beyond);
    rest = clipLoop(rest, { normal, offset });
    if (rest.length < 3) break;
  }
  return pieces;
}
