/** Operations of a board in axes turned round: each counted from the board's other end, edge or face. */
import type { FlatPoint, Outline, Side } from '../../model/shape.ts';
import { farCorner } from '../../model/sides.ts';
import type { BlankSize, ShapeOperation, Vec3 } from '../../model/types.ts';

const OTHER: Readonly<Record<Side, readonly [axis: 0 | 1 | 2, side: Side]>> = {
  start: [0, 'end'],
  end: [0, 'start'],
  'low edge': [1, 'high edge'],
  'high edge': [1, 'low edge'],
  reverse: [2, 'face'],
  face: [2, 'reverse'],
};

/** @param axes own axes counted from the other side: two of them give the board turned, one or three its mirror image */
export function flipped(one: ShapeOperation, size: BlankSize, axes: readonly (0 | 1 | 2)[]): ShapeOperation {
  const far = farCorner(size);
  const turns = (axis: number): boolean => axes.includes(axis as 0 | 1 | 2);
  const at = (p: Vec3): Vec3 => p.map((v, i) => (turns(i) ? (far[i] as number) - v : v)) as unknown as Vec3;
  const way = (p: Vec3): Vec3 => p.map((v, i) => (turns(i) ? -v : v)) as unknown as Vec3;
  const plane = <P extends { readonly normal: Vec3; readonly offset: number }>(old: P): P => {
    const normal = way(old.normal);
    const shift = axes.reduce<number>((sum, i) => sum + normal[i] * far[i], 0);
    return { ...old, normal, offset: old.offset + shift };
  };
  const side = (which: Side): Side => (turns(OTHER[which][0]) ? OTHER[which][1] : which);
  const wide = (which: 'face' | 'reverse') => side(which) as 'face' | 'reverse';
  switch (one.kind) {
    case 'saw':
      return { ...one, side: side(one.side), plane: plane(one.plane) };
    case 'box': {
      const [a, b] = [at(one.min), at(one.max)];
      const { layout } = one;
      return {
        ...one,
        ...(one.side ? { side: side(one.side) } : {}),
        planes: one.planes.map(plane),
        min: a.map((v, i) => Math.min(v, b[i] as number)) as unknown as Vec3,
        max: a.map((v, i) => Math.max(v, b[i] as number)) as unknown as Vec3,
        ...(layout
          ? {
              layout: {
                ...layout,
                opening: layout.opening.map(at),
                walls: layout.walls.map((wall) => ({ ...wall, side: side(wall.side) })),
              },
            }
          : {}),
      };
    }
    case 'hole':
      return { ...one, side: side(one.side), entry: at(one.entry), axis: way(one.axis) };
    case 'slot':
      return { ...one, side: side(one.side), from: at(one.from), to: at(one.to), axis: way(one.axis) };
    case 'outline':
      return flippedOutline(one, at, side);
    case 'edge':
      return {
        ...one,
        edges: one.edges.map(([a, b]) => [side(a), side(b)] as const),
        ...(one.follows
          ? {
              follows: one.follows.map((each) => ({
                wide: wide(each.wide),
                ...(each.towards ? { towards: each.towards.map(side) } : {}),
              })),
            }
          : {}),
        ...(one.holes ? { holes: one.holes.map(side) } : {}),
      };
    case 'tongue': {
      const from = <T extends { side: Side; from: number; thickness: number }>(cut: T): T => ({
        ...cut,
        side: side(cut.side),
        from: turns(2) ? size.thickness - cut.from - cut.thickness : cut.from,
      });
      return {
        ...one,
        ...(one.tongue ? { tongue: from(one.tongue) } : {}),
        ...(one.groove ? { groove: from(one.groove) } : {}),
      };
    }
  }
}

/** Where it is mirrored it is walked the other way round, so that it stays counter-clockwise and its arcs keep their way round. */
function flippedOutline(one: Outline, at: (p: Vec3) => Vec3, side: (which: Side) => Side): Outline {
  const flat = ([x, y]: FlatPoint): FlatPoint => {
    const [u, v] = at([x, y, 0]);
    return [u, v];
  };
  const mirrored = (side('start') === 'start') !== (side('low edge') === 'low edge');
  const stretches = one.stretches.map(({ to, arc }, i) => ({
    to: flat(mirrored ? (one.stretches[i - 1]?.to ?? one.start) : to),
    ...(arc ? { arc: { ...arc, centre: flat(arc.centre) } } : {}),
  }));
  return {
    ...one,
    start: flat(mirrored ? (one.stretches.at(-1)?.to ?? one.start) : one.start),
    stretches: mirrored ? stretches.reverse() : stretches,
    ...(one.arc ? { arc: { ...one.arc, side: side(one.arc.side) } } : {}),
  };
}
