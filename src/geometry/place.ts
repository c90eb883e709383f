/** Plan -> PlacedPart[]: each kind of board is shaped once in its own frame, then set in place for each of its copies. */
import type { BlankSize, Bounds, Frame, Plan, Vec3 } from '../model/types.ts';
import { features, type ShapedPart } from './features.ts';
import type { Solids } from './manifold.ts';
import { shapingsOf } from './shape.ts';
import { blankTool, type Shaping } from './tools.ts';
import type { PlacedPart } from './types.ts';
import { add, cross, dot, scale } from './vectors.ts';

/** No board is longer than a kilometre, mm: beyond that the kernel's single precision says nothing. */
const LONGEST = 1e6;

/** All copies of a plan as solids in the piece's frame, in the order of its parts and of their copies. */
export function placeParts(plan: Plan, solids: Solids): PlacedPart[] {
  const shaped = new Map<string, ShapedPart>();
  return plan.parts.flatMap((part) =>
    part.copies.map((copy) => {
      const shapings = shapingsOf(copy);
      const key = JSON.stringify([copy.size, copy.shape]);
      const own = shaped.get(key) ?? shapeBoard(copy.size, shapings, solids);
      shaped.set(key, own);
      return placePart(own, { copy: copy.id, part: part.key, frame: copy.frame, size: copy.size });
    }),
  );
}

/** A board shaped in its own frame. A blank without a size in some direction has no surface. */
export function shapeBoard(size: BlankSize, shapings: readonly Shaping[], solids: Solids): ShapedPart {
  const real = [size.length, size.width, size.thickness].every((side) => side > 0 && side < LONGEST);
  if (!real) return { vertices: [], triangles: [], faces: [], edges: [], volume: 0 };
  const blank = blankTool(size);
  return features(solids.shape(blank, shapings), [blank, ...shapings.map((s) => s.tool)]);
}

/**
 * Sets a shaped board in place. A mirrored copy is reflected in its own frame, across the middle of its width; where that or
 * the frame itself turns the solid inside out, triangles and loops are turned back.
 */
export function placePart(
  own: ShapedPart,
  as: { copy: string; part: string; frame: Frame; size: BlankSize },
): PlacedPart {
  const { frame, size } = as;
  const side = frame.mirrored ? -1 : 1;
  const width = scale(frame.width, side);
  const origin = frame.mirrored ? add(frame.origin, scale(frame.width, size.width)) : frame.origin;
  const turn = (p: Vec3): Vec3 =>
    add(add(scale(frame.length, p[0]), scale(width, p[1])), scale(frame.thickness, p[2]));
  const place = (p: Vec3): Vec3 => add(origin, turn(p));
  const flipped = dot(cross(frame.length, width), frame.thickness) < 0;
  const vertices = own.vertices.map(place);
  return {
    copy: as.copy,
    part: as.part,
    frame,
    vertices,
    triangles: flipped ? own.triangles.map(([a, b, c]) => [a, c, b] as const) : own.triangles,
    faces: own.faces.map((face) => {
      const normal = turn(face.normal);
      return {
        ...face,
        normal,
        offset: face.offset + dot(normal, origin),
        loops: flipped ? face.loops.map((loop) => [...loop].reverse()) : face.loops,
        ...(face.round === undefined
          ? {}
          : { round: { ...face.round, origin: place(face.round.origin), axis: turn(face.round.axis) } }),
      };
    }),
    edges: flipped ? own.edges.map((e) => ({ ...e, left: e.right, right: e.left })) : own.edges,
    bounds: boundsOf(vertices),
    volume: own.volume,
  };
}

/** The box along the axes around points; an empty list gives an empty box at the origin. */
export function boundsOf(points: readonly Vec3[]): Bounds {
  if (points.length === 0) return { min: [0, 0, 0], max: [0, 0, 0] };
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const p of points) {
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k] as number, p[k] as number);
      max[k] = Math.max(max[k] as number, p[k] as number);
    }
  }
  return { min, max };
}
