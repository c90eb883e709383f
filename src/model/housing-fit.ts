/** Boards that go into each other: their convex bodies and planes, and how far an end is from a face that it should meet. */

import type { Face } from '../read/types.ts';
import { type Convex, cornersOf, cutConvex, type Plane, reach } from '../resolve/convex.ts';
import { dot, scale } from '../resolve/vectors.ts';
import { type Placing, placingOf } from './frames.ts';
import type { BoxCut, Side } from './shape.ts';
import { axisOfSide, faceOfSide } from './sides.ts';
import type { Copy, Part, Vec3 } from './types.ts';
import { blankOf } from './workpiece.ts';

/** Boards this near to each other touch, mm. */
export const MEETS = 0.02;
/** A wall this near to the face of the board, mm, isn't there: the cut is open. */
export const OPEN = 0.01;
/** Cosine of the angle at which a floor still lies along a face: within a hundredth of a degree. */
export const ALONG = Math.cos((0.01 * Math.PI) / 180);
/** A housing narrower than this holds nothing, mm. */
const LEAST = 0.5;
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** A copy with what its saw cuts leave of its blank, in its own frame. */
export interface Board {
  readonly part: Part;
  readonly copy: Copy;
  readonly place: Placing;
  readonly hull: Convex<Side>;
}

/** A copy as a board that another goes into. */
export function boardOf(part: Part, copy: Copy): Board {
  let hull = blankOf(copy.size);
  for (const one of copy.shape) if (one.kind === 'saw') hull = cutConvex(hull, one.plane, one.side);
  return { part, copy, place: placingOf(copy.frame, copy.size.width), hull };
}

/** A plane of one board's own frame in that of another. */
export function planeFrom(from: Board, to: Board, { normal, offset }: Plane): Plane {
  const piece = from.place.vector(normal);
  const away = offset + dot(piece, from.place.point([0, 0, 0]));
  return { normal: to.place.ownVector(piece), offset: away - dot(piece, to.place.point([0, 0, 0])) };
}

/** What one board takes of another: a convex body in the other's frame; nothing where that is no more than a touch. */
export function sectionIn(board: Board, other: Board): Convex<Side | 'wall'> | undefined {
  let body: Convex<Side | 'wall'> = other.hull;
  for (const face of board.hull) {
    body = cutConvex(body, planeFrom(board, other, face), 'wall' as const);
    if (body.length === 0) return undefined;
  }
  const points = cornersOf(body);
  const spans = AXES.map((axis) => reach(points, axis)).filter(({ low, high }) => high - low < LEAST);
  return spans.length > 1 ? undefined : body;
}

/** The planes of a cut with the extents of what they take out. */
export const extentsOf = (
  planes: readonly Plane[],
  body: Convex<unknown>,
): Pick<BoxCut, 'planes' | 'min' | 'max' | 'square'> => {
  const points = cornersOf(body);
  const spans = AXES.map((axis) => reach(points, axis));
  return {
    planes,
    min: spans.map(({ low }) => low) as unknown as Vec3,
    max: spans.map(({ high }) => high) as unknown as Vec3,
    square: planes.every(({ normal }) => Math.max(...normal.map(Math.abs)) > 1 - 1e-9),
  };
};

/** A board that an end might meet. */
export interface Gap {
  readonly other: Board;
  /** From the end to the face that looks at it; none where no face lies along it. */
  readonly gap?: number;
}

/** How far an end is from the faces of others that lie along it, mm; negative where it reaches beyond. */
export function gapsOf(board: Board, end: Plane, others: readonly Board[]): Gap[] {
  return others.map((other) => {
    const out = planeFrom(board, other, end);
    const facing = other.hull.filter((face) => dot(face.normal, out.normal) < -ALONG);
    const [gap] = facing.map((face) => -face.offset - out.offset).sort((a, b) => Math.abs(a) - Math.abs(b));
    return { other, ...(gap === undefined ? {} : { gap }) };
  });
}

/** Of both ends. */
export const endGaps = (board: Board, others: readonly Board[]): Gap[] =>
  board.hull.filter(isEnd).flatMap((plane) => gapsOf(board, plane, others));

const isEnd = ({ name }: { readonly name: Side }): boolean => name === 'start' || name === 'end';

/** Boards that an end of another lies against. */
export const endsAgainst = (board: Board, others: readonly Board[]): Gap[] =>
  endGaps(board, others).filter(({ gap }) => gap !== undefined && Math.abs(gap) < MEETS);

/** An edge or wide face of a board that lies against a face of another, each as a face of the piece. */
export function edgeAgainst(
  own: readonly Board[],
  others: readonly Board[],
): { readonly face: Face; readonly against: Face } | undefined {
  for (const board of own)
    for (const side of board.hull.filter((face) => !isEnd(face)))
      for (const other of others) {
        const out = planeFrom(board, other, side);
        const against = other.hull.find(
          (face) => dot(face.normal, out.normal) < -ALONG && Math.abs(face.offset + out.offset) < MEETS,
        );
        // A sliver of the one pushed into the other is there only where they lie on each other.
        const pushed = { ...side, offset: side.offset + 1 };
        const lies =
          against &&
          sectionIn({ ...board, hull: [...board.hull.filter((face) => face !== side), pushed] }, other);
        if (lies)
          return { face: faceOfSide(board.part, side.name), against: faceOfSide(other.part, against.name) };
      }
  return undefined;
}

/** How far an end stands out beyond the edge of the board that it goes into, and where most; nothing where it lies on its face. */
export function overhang(
  board: Board,
  end: Side,
  other: Board,
  into: Side,
): { readonly side: Side; readonly by: number } | undefined {
  const loop = board.hull.find((face) => face.name === end)?.loop ?? [];
  const points = loop.map((p) => other.place.ownPoint(board.place.point(p)));
  const [most] = other.hull
    .filter((face) => axisOfSide(face.name) !== axisOfSide(into))
    .map((face) => ({ side: face.name, by: reach(points, face.normal).high - face.offset }))
    .sort((a, b) => b.by - a.by);
  return most && most.by > LEAST ? most : undefined;
}

/** Why an end meets none of the others: how far it is from the nearest, that it lies beside it, or that no face lies along it. */
export function nearestWords(gaps: readonly Gap[], print: (length: number) => string): string {
  const [near] = gaps
    .flatMap(({ other, gap }) => (gap === undefined ? [] : [{ other, gap }]))
    .sort((a, b) => Math.abs(a.gap) - Math.abs(b.gap));
  if (!near) return 'none of its faces along an end';
  const { id } = near.other.copy;
  if (Math.abs(near.gap) < MEETS) return `one that lies beside ${id} or beyond its edge`;
  return near.gap > 0
    ? `a gap of ${print(near.gap)} to ${id}`
    : `one that reaches ${print(-near.gap)} into ${id}`;
}

/**
 * True where all beyond one wall of a housing is cut away already, as by the rabbet along an edge: then the housing is cut right through
 * to that edge, and nobody has to stop it.
 */
export function runsOut(wall: Plane, walls: readonly Plane[], board: Board): boolean {
  let beyond: Convex<Side | 'wall'> = cutConvex(
    board.hull,
    { normal: scale(wall.normal, -1), offset: -wall.offset },
    'wall' as const,
  );
  for (const one of walls) if (one !== wall) beyond = cutConvex(beyond, one, 'wall' as const);
  const corners = cornersOf(beyond);
  return (
    corners.length > 0 &&
    board.copy.shape.some(
      (cut) =>
        cut.kind === 'box' &&
        cut.planes.every(({ normal, offset }) => reach(corners, normal).high <= offset + OPEN),
    )
  );
}
