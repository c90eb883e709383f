/** Facets of one tone set together: a curved surface is filled as one shape, without hairs of paper between its facets. */
import type { Point } from '../types.ts';

type Loops = readonly (readonly Point[])[];

/**
 * The loops round several shapes that touch along sides: sides that two of them share, in opposite ways, are gone. Shapes that meet in
 * part of a side only stay as they are, beside each other.
 */
export function joinedLoops(shapes: readonly Loops[]): Loops {
  if (shapes.length === 1) return shapes[0] as Loops;
  const corners = new Map<number, number>();
  const points: Point[] = [];
  const corner = (p: Point): number => {
    const key = Math.round(p[0] * 1e4) * 2 ** 27 + Math.round(p[1] * 1e4);
    const known = corners.get(key);
    if (known !== undefined) return known;
    corners.set(key, points.length);
    return points.push(p) - 1;
  };
  // Sides by their start, each with its end, as often as they come.
  const sides = new Map<number, number[]>();
  for (const loop of shapes.flat()) {
    const own = loop.map(corner);
    own.forEach((from, i) => {
      const to = own[(i + 1) % own.length] as number;
      if (from === to) return;
      const back = sides.get(to);
      const at = back?.indexOf(from) ?? -1;
      if (back && at >= 0) back.splice(at, 1);
      else if (sides.has(from)) sides.get(from)?.push(to);
      else sides.set(from, [to]);
    });
  }
  const loops: Point[][] = [];
  for (const start of [...sides.keys()]) {
    for (let next = sides.get(start)?.pop(); next !== undefined; next = sides.get(start)?.pop()) {
      const loop = [points[start] as Point];
      for (let at: number | undefined = next; at !== undefined && at !== start; at = sides.get(at)?.pop())
        loop.push(points[at] as Point);
      if (loop.length > 2) loops.push(loop);
    }
  }
  return loops;
}
