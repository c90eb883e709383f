/** The plane faces of a board that isn't a plain box along the axes, in the piece: for contacts and extents. */
import { reach } from '../resolve/convex.ts';
import { dot } from '../resolve/vectors.ts';
import type { ShapedBoard } from './boards.ts';
import { placingOf } from './frames.ts';
import type { BodyFace, Bounds, Frame, Vec3 } from './types.ts';

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Faces and extents of a copy; undefined where its extents already say all. @param posed true where it leans */
export function bodyFaces(
  { hull, size, operations }: Pick<ShapedBoard, 'hull' | 'size' | 'operations'>,
  frame: Frame,
  posed: boolean,
): { readonly faces: readonly BodyFace[]; readonly bounds: Bounds } | undefined {
  if (!posed && !operations.some((one) => one.kind === 'saw')) return undefined;
  if (hull.length === 0) return undefined;
  const place = placingOf(frame, size.width);
  const turned = frame.mirrored;
  const faces = hull.map(({ normal, loop, name }): BodyFace => {
    const outward = place.vector(normal);
    const points = loop.map(place.point);
    return {
      side: name,
      normal: outward,
      offset: dot(outward, points[0] as Vec3),
      loop: turned ? points.reverse() : points,
    };
  });
  const points = faces.flatMap((face) => face.loop);
  const spans = AXES.map((axis) => reach(points, axis));
  return {
    faces,
    bounds: {
      min: spans.map(({ low }) => low) as unknown as Vec3,
      max: spans.map(({ high }) => high) as unknown as Vec3,
    },
  };
}
