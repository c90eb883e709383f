/**
 * What a paper pattern shows, flat and at full size, before it is laid on paper: the way round, lines within it, what is bored, an edge
 * folded out beside the wide face, and words. Lengths in mm of the board: x along its length from the corner of its blank, y along its
 * width; an edge folded out lies beyond 0 or beyond the width.
 */
import type { Solids } from '../../geometry/manifold.ts';

import type { BoxCut, SawCut, ShapeOperation, Side } from '../../model/shape.ts';
import { axisOfSide, isFar } from '../../model/sides.ts';
import type { Copy } from '../../model/types.ts';
import type { Plane } from '../../resolve/convex.ts';
import { type Line, text } from '../../text.ts';
import { type FlatOutline, type FlatPiece, signedArea } from '../lines/template-outline.ts';
import type { Segment } from '../paper/plane.ts';
import type { Saying } from '../parts/feature.ts';
import type { Point } from '../types.ts';

/** Something bored or slotted: its rims on the face, the places to centre on, what it is. */
export interface Bore {
  readonly centres: readonly Point[];
  /** Half axes, the longer first, and the turn of the longer one, radians counter-clockwise. */
  readonly ellipses: readonly { readonly centre: Point; readonly radii: Point; readonly rotation: number }[];
  readonly pieces: readonly FlatPiece[];
  readonly text: Line;
}

/** Words at a place, on the side that `towards` points to; without it anywhere near. */
export interface PatternNote {
  readonly at: Point;
  readonly towards?: Point;
  readonly text: Line;
  /** Written across the board, along the line that it belongs to. */
  readonly along?: true;
}

/** A pattern. `folds` are edges of the board over which the paper is folded. */
export interface Pattern {
  readonly outline: FlatOutline;
  readonly bores: readonly Bore[];
  readonly folds: readonly Segment[];
  readonly notes: readonly PatternNote[];
  /** How far it reaches across the board, with an edge folded out. */
  readonly across: readonly [low: number, high: number];
}

/** A face of the blank that a pattern covers, with its own flat coordinates. */
export interface PatternFace {
  readonly side: 'face' | 'low edge' | 'high edge';
  /** How far it reaches across, in the pattern. */
  readonly across: readonly [low: number, high: number];
  /** A point of the pattern in the board's own axes. */
  readonly own: (p: Point) => readonly [number, number, number];
  /** A point of the board on this face in the pattern. */
  readonly flat: (p: readonly [number, number, number]) => Point;
}

/** The wide face, or an edge folded out beside it along the corner that they share. */
export function patternFace(side: PatternFace['side'], { size }: Pick<Copy, 'size'>): PatternFace {
  const { width, thickness } = size;
  if (side === 'face')
    return {
      side,
      across: [0, width],
      own: ([x, y]) => [x, y, thickness],
      flat: ([x, y]) => [x, y],
    };
  return side === 'low edge'
    ? {
        side,
        across: [-thickness, 0],
        own: ([x, y]) => [x, 0, thickness + y],
        flat: ([x, , z]) => [x, z - thickness],
      }
    : {
        side,
        across: [width, width + thickness],
        own: ([x, y]) => [x, width, thickness - (y - width)],
        flat: ([x, , z]) => [x, width + thickness - z],
      };
}

/** A half plane of the pattern: a x + b y ≤ c. */
interface Half {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** A plane of the board where it meets a face. */
function halfOf(face: PatternFace, { normal, offset }: Plane): Half {
  const at = (p: Point): number => {
    const own = face.own(p);
    return normal[0] * own[0] + normal[1] * own[1] + normal[2] * own[2] - offset;
  };
  const c = at([0, 0]);
  return { a: at([1, 0]) - c, b: at([0, 1]) - c, c: -c };
}

interface Corner {
  readonly at: Point;
  /** The cut that makes the side from here to the next corner. */
  readonly cut?: SawCut;
}

/** What of a convex polygon lies within a half plane. */
function clipped(corners: readonly Corner[], { a, b, c }: Half, cut?: SawCut): Corner[] {
  const off = ({ at: [x, y] }: Corner): number => a * x + b * y - c;
  const made: Corner[] = [];
  corners.forEach((from, i) => {
    const to = corners[(i + 1) % corners.length] as Corner;
    const [d, e] = [off(from), off(to)];
    if (d <= 1e-9) made.push(from);
    if (d > 1e-9 === e > 1e-9) return;
    const t = d / (d - e);
    const at: Point = [from.at[0] + (to.at[0] - from.at[0]) * t, from.at[1] + (to.at[1] - from.at[1]) * t];
    // Going out the cut's side begins; coming back the old side goes on.
    made.push(d <= 1e-9 ? { at, ...(cut ? { cut } : {}) } : { at, ...(from.cut ? { cut: from.cut } : {}) });
  });
  return made.filter(({ at }, i) => {
    const next = made[(i + 1) % made.length] as Corner;
    return Math.hypot(next.at[0] - at[0], next.at[1] - at[1]) > 1e-6;
  });
}

/** What saw cuts and notches leave of a face, and what is cut into it. */
export interface SawnFace {
  readonly face: PatternFace;
  /** What the saw leaves. */
  readonly sawn: readonly Corner[];
  readonly outline: FlatOutline;
  /** How deep what is cut into it is, in words at its middle. */
  readonly depths: readonly PatternNote[];
  /** True where it isn't a rectangle. */
  readonly shaped: boolean;
}

/**
 * A face of the blank as it is marked for the saw: each cut's line where it meets that face, notches taken out, housings within it. Cuts that
 * lie along the face itself, such as a taper of its other side, are lines of the face beside it.
 */
export function sawnFace(
  face: PatternFace,
  copy: Pick<Copy, 'size'>,
  shapes: readonly ShapeOperation[],
  solids: Pick<Solids, 'uncovered'>,
  say: Saying,
): SawnFace {
  const { length } = copy.size;
  const [low, high] = face.across;
  const blank: Corner[] = [
    { at: [0, low] },
    { at: [length, low] },
    { at: [length, high] },
    { at: [0, high] },
  ];
  let sawn = blank;
  for (const one of shapes)
    if (one.kind === 'saw' && axisOfSide(one.side) !== axisOfSide(face.side))
      sawn = clipped(sawn, halfOf(face, one.plane), one);
  const boxes = shapes.filter((one): one is BoxCut => one.kind === 'box');
  const regions = boxes.flatMap((box) => {
    const region = boxOn(box, face, length);
    return region.length < 3 ? [] : [{ box, region }];
  });
  const through = regions.filter(({ box }) => goesThrough(box, face.side, copy));
  const loop = sawn.map(({ at }) => at);
  const left =
    through.length === 0
      ? [loop]
      : solids.uncovered(
          [loop],
          through.map(({ region }) => [region]),
        );
  const loops = left.map((points) => ({ points, area: signedArea(linesOf(points)) }));
  const housings = regions
    .filter((one) => !through.includes(one))
    .map(({ box, region }) => ({ box, points: withinConvex(region, loop) }))
    .filter(({ points }) => points.length > 2);
  const points = loops.flatMap((one) => one.points);
  return {
    face,
    sawn,
    depths: housings.map(({ box, points: own }) => ({
      at: own
        .reduce<Point>((sum, p) => [sum[0] + p[0], sum[1] + p[1]], [0, 0])
        .map((v) => v / own.length) as unknown as Point,
      text: [text(`${box.called} `), say.size(depthFrom(box, face.side, copy)), text(' deep')],
    })),
    shaped: loops.length !== 1 || !isUpright(loop) || through.length > 0,
    outline: {
      min: [Math.min(...points.map((p) => p[0])), Math.min(...points.map((p) => p[1]))],
      max: [Math.max(...points.map((p) => p[0])), Math.max(...points.map((p) => p[1]))],
      loops: loops.map((one) => ({
        pieces: linesOf(one.points),
        hole: one.area < 0,
        area: Math.abs(one.area),
      })),
      holes: [],
      rims: [],
      inner: housings.flatMap((each) =>
        linesOf(each.points).map((piece) => ({ piece, of: 'housing' as const })),
      ),
      centres: [],
      closed: true,
    },
  };
}

/** True for four corners whose sides run along and across the board. */
const isUpright = (points: readonly Point[]): boolean =>
  points.length === 4 &&
  points.every(([x, y], i) => {
    const [u, v] = points[(i + 1) % 4] as Point;
    return Math.abs(u - x) < 0.05 || Math.abs(v - y) < 0.05;
  });

const linesOf = (points: readonly Point[]): FlatPiece[] =>
  points.map((from, i) => ({ kind: 'line', from, to: points[(i + 1) % points.length] as Point }));

/** Where a box is open to a face: the convex region that it takes out of it, a little beyond the blank. */
function boxOn(box: BoxCut, face: PatternFace, length: number): Point[] {
  const [low, high] = face.across;
  const beyond = 2;
  let region: Corner[] = [
    { at: [-beyond, low - beyond] },
    { at: [length + beyond, low - beyond] },
    { at: [length + beyond, high + beyond] },
    { at: [-beyond, high + beyond] },
  ];
  for (const plane of box.planes) {
    const half = halfOf(face, plane);
    // A floor that lies along the face has it inside or leaves it alone.
    if (Math.hypot(half.a, half.b) < 1e-9) {
      if (half.c < 1e-6) return [];
      continue;
    }
    region = clipped(region, half);
    if (region.length < 3) return [];
  }
  return region.map(({ at }) => at);
}

/** True for a notch right through from this face. */
function goesThrough(box: BoxCut, side: Side, { size }: Pick<Copy, 'size'>): boolean {
  const axis = axisOfSide(side);
  const whole = axis === 1 ? size.width : size.thickness;
  return box.min[axis] < 0.05 && box.max[axis] > whole - 0.05;
}

/** How far a box goes in from a face. */
function depthFrom(box: BoxCut, side: Side, { size }: Pick<Copy, 'size'>): number {
  const axis = axisOfSide(side);
  const whole = axis === 1 ? size.width : size.thickness;
  return isFar(side) ? whole - box.min[axis] : box.max[axis];
}

/** A convex region cut to a convex outline. */
function withinConvex(region: readonly Point[], outline: readonly Point[]): Point[] {
  let left: Corner[] = region.map((at) => ({ at }));
  outline.forEach(([x, y], i) => {
    const [u, v] = outline[(i + 1) % outline.length] as Point;
    // Inside is on the left of a side that goes round counter-clockwise.
    const [a, b] = [v - y, -(u - x)];
    left = clipped(left, { a, b, c: a * x + b * y });
  });
  return left.map(({ at }) => at);
}

/** Angles of the ends and edges as they are marked on this face: how far out of square, beside each line. */
export function angleNotes({ sawn }: SawnFace, say: Saying): PatternNote[] {
  const notes: PatternNote[] = [];
  sawn.forEach(({ at, cut }, i) => {
    const { at: to } = sawn[(i + 1) % sawn.length] as Corner;
    if (!cut || cut.taper) return;
    const [dx, dy] = [to[0] - at[0], to[1] - at[1]];
    const size = Math.hypot(dx, dy);
    const end = axisOfSide(cut.side) === 0;
    const angle = (Math.atan2(Math.abs(end ? dx : dy), Math.abs(end ? dy : dx)) * 180) / Math.PI;
    if (angle < 0.05 || size < 4) return;
    notes.push({
      at: [(at[0] + to[0]) / 2, (at[1] + to[1]) / 2],
      towards: [-dy / size, dx / size],
      text: [text(say.angle(angle))],
    });
  });
  return notes;
}

/** Pieces, places and words moved or mirrored: x grows by `by`, and y is counted from `mirror` where that is given. */
export function movedPattern(pattern: Pattern, by: number, mirror?: number): Pattern {
  const move = ([x, y]: Point): Point => [x + by, mirror === undefined ? y : mirror - y];
  const turn = ([x, y]: Point): Point => [x, mirror === undefined ? y : -y];
  const piece = (one: FlatPiece): FlatPiece => {
    const ends = { from: move(one.from), to: move(one.to) };
    if (one.kind === 'curve') return { ...one, ...ends, through: one.through.map(move) };
    if (one.kind === 'line') return { ...one, ...ends };
    return {
      ...one,
      ...ends,
      centre: move(one.centre),
      counterclockwise: one.counterclockwise !== (mirror !== undefined),
    };
  };
  const { outline } = pattern;
  const corners = [move(outline.min), move(outline.max)];
  const pick = (k: 0 | 1, of: (...values: number[]) => number): number => of(...corners.map((p) => p[k]));
  const [low, high] = pattern.across;
  return {
    outline: {
      ...outline,
      min: [pick(0, Math.min), pick(1, Math.min)],
      max: [pick(0, Math.max), pick(1, Math.max)],
      loops: outline.loops.map((loop) => ({ ...loop, pieces: loop.pieces.map(piece) })),
      holes: outline.holes.map((hole) => ({ ...hole, centre: move(hole.centre) })),
      rims: outline.rims.map(piece),
      inner: outline.inner.map((one) => ({ ...one, piece: piece(one.piece) })),
      centres: outline.centres.map(move),
    },
    bores: pattern.bores.map((bore) => ({
      ...bore,
      centres: bore.centres.map(move),
      ellipses: bore.ellipses.map((one) => ({
        ...one,
        centre: move(one.centre),
        rotation: mirror === undefined ? one.rotation : -one.rotation,
      })),
      pieces: bore.pieces.map(piece),
    })),
    folds: pattern.folds.map(([a, b]) => [move(a), move(b)]),
    notes: pattern.notes.map((note) => ({
      ...note,
      at: move(note.at),
      ...(note.towards ? { towards: turn(note.towards) } : {}),
    })),
    across: mirror === undefined ? pattern.across : [mirror - high, mirror - low],
  };
}
