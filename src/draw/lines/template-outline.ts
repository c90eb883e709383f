/**
 * The true shape of a board's wide face, flat and at full size: what a paper template or a machine follows. Lengths in mm of the
 * board: x along its length from the corner of its blank, y along its width.
 */
import type { PlacedPart } from '../../geometry/types.ts';
import { add, cross, dot, scale } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { arcPoint, arcPoints, isWhole } from '../paper/arcs.ts';
import type { Point, ViewArc, ViewFrame } from '../types.ts';
import { viewCurves } from './hidden-lines.ts';
import { project } from './project.ts';

/**
 * A stretch of an outline, walked from `from` to `to`. Arcs have their centre, radius and way round; `through` are points on a curve that
 * is neither line nor circle (the rim of a tilted hole), ends included.
 */
export type FlatPiece =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'arc';
      readonly from: Point;
      readonly to: Point;
      readonly centre: Point;
      readonly radius: number;
      readonly counterclockwise: boolean;
    }
  | { readonly kind: 'curve'; readonly from: Point; readonly to: Point; readonly through: readonly Point[] };

/** A closed way round: the board's edge counter-clockwise, a cut-out clockwise. */
export interface FlatLoop {
  readonly pieces: readonly FlatPiece[];
  readonly hole: boolean;
  /** mm², exact for lines and arcs, always positive. */
  readonly area: number;
}

/** A round hole square to the face. `through` where nothing is left at its bottom. */
export interface FlatHole {
  readonly centre: Point;
  readonly radius: number;
  readonly through: boolean;
}

/** The flat shape of a wide face. */
export interface FlatOutline {
  readonly min: Point;
  readonly max: Point;
  /** The board's edge and cut-outs that aren't round holes; the largest first. */
  readonly loops: readonly FlatLoop[];
  readonly holes: readonly FlatHole[];
  /** Rims of holes that aren't square to the face: ellipses, each as two halves. */
  readonly rims: readonly FlatPiece[];
  /** Lines within the face: `housing` round what is cut out to a depth, `edge` where a bevel or rounding begins. */
  readonly inner: readonly { readonly piece: FlatPiece; readonly of: 'housing' | 'edge' }[];
  /** Middles of holes and of rounded outlines, each once: for a centre punch or compass. */
  readonly centres: readonly Point[];
  /** False where the edge doesn't close, so that no tool must follow it. */
  readonly closed: boolean;
}

/** Ends of pieces this close, mm, are one point. */
const MEET = 0.02;

/**
 * The flat outline of a board's wide face: the one its plan names, or the other one, which is then seen from its own side, turned over
 * end for end (x runs from the other end).
 */
export function flatOutline(part: PlacedPart, side: 'face' | 'reverse' = 'face'): FlatOutline {
  const { frame, origin } = lookingAt(part, side);
  const { lines, arcs } = viewCurves([part], frame, { hidden: false });
  const flat = (p: Point): Point => [p[0] - origin[0], p[1] - origin[1]];
  const tilted = wholeEllipses(arcs);
  const pieces = [
    ...lines.map(({ a, b, outline }) => ({
      piece: { kind: 'line', from: flat(a), to: flat(b) } as FlatPiece,
      outline,
    })),
    ...arcs
      .filter((arc) => !isHole(arc) && !tilted.some((rim) => within(rim, arc)))
      .flatMap((arc) => pieceOf(arc, flat).map((piece) => ({ piece, outline: arc.outline }))),
  ];
  const { loops, loose } = chained(pieces.filter((p) => p.outline).map((p) => p.piece));
  const floors = floorEdges(part, frame, flat);
  const holes = arcs
    .filter(isHole)
    .map((arc): FlatHole => ({ centre: flat(arc.centre), radius: arc.radii[0], through: arc.outline }))
    .sort((a, b) => a.centre[0] - b.centre[0] || a.centre[1] - b.centre[1] || a.radius - b.radius);
  const sized = loops
    .map((own) => ({ pieces: own, area: signedArea(own) }))
    .sort((a, b) => Math.abs(b.area) - Math.abs(a.area))
    .map(({ pieces: own, area }, i): FlatLoop => {
      const hole = i > 0;
      return { pieces: area > 0 === hole ? turnedBack(own) : own, hole, area: Math.abs(area) };
    });
  return {
    ...extentsOf(sized),
    loops: sized,
    holes,
    rims: tilted.flatMap((rim) => pieceOf(rim, flat)),
    inner: pieces
      .filter((p) => !p.outline)
      .map(({ piece }) => ({ piece, of: floors.some((floor) => onIt(piece, floor)) ? 'housing' : 'edge' })),
    centres: centresOf(holes, sized),
    closed: loose.length === 0 && sized.length > 0,
  };
}

/** A whole circle: a hole, whose rim has nothing else on it. */
const isHole = (arc: ViewArc): boolean => isWhole(arc) && arc.radii[0] - arc.radii[1] < 1e-6 * arc.radii[0];

/** Ellipses that can be seen all the way round: the rims of tilted holes on the face, in pieces or not. */
function wholeEllipses(arcs: readonly ViewArc[]): ViewArc[] {
  const same = (a: ViewArc, b: ViewArc): boolean =>
    gap(a.centre, b.centre) < MEET && a.radii.every((r, i) => Math.abs(r - (b.radii[i] as number)) < MEET);
  return arcs.flatMap((arc, i) => {
    if (arc.radii[0] - arc.radii[1] < 1e-6 * arc.radii[0]) return [];
    if (arcs.findIndex((other) => same(other, arc)) !== i) return [];
    const turn = arcs.filter((other) => same(other, arc)).reduce((sum, a) => sum + a.to - a.from, 0);
    return turn > 2 * Math.PI - 1e-3 ? [{ ...arc, from: 0, to: 2 * Math.PI }] : [];
  });
}

/** True where an arc is on a rim or within it: the far end of the hole, seen through it. */
function within(rim: ViewArc, arc: ViewArc): boolean {
  const [x, y] = arcPoint(arc, (arc.from + arc.to) / 2).map((value, i) => value - (rim.centre[i] as number));
  const [cos, sin] = [Math.cos(rim.rotation), Math.sin(rim.rotation)];
  const [u, v] = [(x as number) * cos + (y as number) * sin, (y as number) * cos - (x as number) * sin];
  return Math.hypot(u / rim.radii[0], v / rim.radii[1]) < 1 + MEET / rim.radii[1];
}

/** The view square on a wide face, and where the corner of the blank falls in it. */
function lookingAt(part: PlacedPart, side: 'face' | 'reverse'): { frame: ViewFrame; origin: Point } {
  const { length, width, thickness, origin } = part.frame;
  if (side === 'face') {
    const frame = { right: length, up: width, toViewer: cross(length, width) };
    return { frame, origin: project(origin, frame) };
  }
  const right = scale(length, -1);
  const frame = { right, up: width, toViewer: scale(thickness, -1) };
  const far = Math.max(...part.vertices.map((p) => dot(p, length)));
  return { frame, origin: project(add(origin, scale(length, far - dot(origin, length))), frame) };
}

function pieceOf(arc: ViewArc, flat: (p: Point) => Point): FlatPiece[] {
  const round = arc.radii[0] - arc.radii[1] < 1e-6 * arc.radii[0];
  // A whole ellipse is two halves, so that each has two ends.
  const parts: [number, number][] = isWhole(arc)
    ? [
        [0, Math.PI],
        [Math.PI, 2 * Math.PI],
      ]
    : [[arc.from, arc.to]];
  return parts.map(([from, to]): FlatPiece => {
    const ends = { from: flat(arcPoint(arc, from)), to: flat(arcPoint(arc, to)) };
    if (round)
      return { kind: 'arc', ...ends, centre: flat(arc.centre), radius: arc.radii[0], counterclockwise: true };
    return { kind: 'curve', ...ends, through: arcPoints({ ...arc, from, to }, 0.01).map(flat) };
  });
}

/** A piece walked the other way. */
function turnedAround(piece: FlatPiece): FlatPiece {
  const ends = { from: piece.to, to: piece.from };
  if (piece.kind === 'arc') return { ...piece, ...ends, counterclockwise: !piece.counterclockwise };
  if (piece.kind === 'curve') return { ...piece, ...ends, through: [...piece.through].reverse() };
  return { ...piece, ...ends };
}

const turnedBack = (pieces: readonly FlatPiece[]): FlatPiece[] => [...pieces].reverse().map(turnedAround);

const gap = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** Sets pieces end to end into closed loops; what closes with nothing is left over. */
function chained(pieces: readonly FlatPiece[]): { loops: FlatPiece[][]; loose: FlatPiece[] } {
  const left = [...pieces];
  const loops: FlatPiece[][] = [];
  const loose: FlatPiece[] = [];
  while (left.length > 0) {
    const loop = [left.shift() as FlatPiece];
    for (;;) {
      const [first, last] = [loop[0], loop[loop.length - 1]] as [FlatPiece, FlatPiece];
      if (gap(last.to, first.from) < MEET && loop.length > 1) {
        loops.push(loop);
        break;
      }
      const next = left.findIndex((p) => gap(p.from, last.to) < MEET || gap(p.to, last.to) < MEET);
      if (next < 0) {
        loose.push(...loop);
        break;
      }
      const [piece] = left.splice(next, 1) as [FlatPiece];
      loop.push(gap(piece.from, last.to) < MEET ? piece : turnedAround(piece));
    }
  }
  return { loops, loose };
}

/** Area inside a loop, positive counter-clockwise: the polygon of its ends, and the segments between arcs and their chords. */
export function signedArea(pieces: readonly FlatPiece[]): number {
  let twice = 0;
  for (const piece of pieces) {
    const points = piece.kind === 'curve' ? piece.through : [piece.from, piece.to];
    for (let i = 1; i < points.length; i++) {
      const [a, b] = [points[i - 1], points[i]] as [Point, Point];
      twice += a[0] * b[1] - b[0] * a[1];
    }
    if (piece.kind !== 'arc') continue;
    const turn = sweepOf(piece);
    twice += piece.radius ** 2 * (turn - Math.sin(turn));
  }
  return twice / 2;
}

/** The angle an arc turns through, radians, positive counter-clockwise. */
export function sweepOf(piece: FlatPiece & { kind: 'arc' }): number {
  const at = (p: Point): number => Math.atan2(p[1] - piece.centre[1], p[0] - piece.centre[0]);
  const turn = at(piece.to) - at(piece.from);
  const whole = 2 * Math.PI;
  return piece.counterclockwise
    ? ((turn % whole) + whole) % whole || whole
    : -(((-turn % whole) + whole) % whole || whole);
}

/** Points along a piece, both ends included, arcs in steps of about three degrees. */
export function pointsOf(piece: FlatPiece): Point[] {
  if (piece.kind === 'line') return [piece.from, piece.to];
  if (piece.kind === 'curve') return [...piece.through];
  const turn = sweepOf(piece);
  const start = Math.atan2(piece.from[1] - piece.centre[1], piece.from[0] - piece.centre[0]);
  const n = Math.max(2, Math.ceil(Math.abs(turn) / 0.05));
  return Array.from({ length: n + 1 }, (_, i) => {
    const angle = start + (turn * i) / n;
    return [
      piece.centre[0] + piece.radius * Math.cos(angle),
      piece.centre[1] + piece.radius * Math.sin(angle),
    ];
  });
}

/** How far ways round reach; nothing at all where there are none. */
export function extentsOf(loops: readonly FlatLoop[]): { min: Point; max: Point } {
  const points = loops.flatMap((loop) => loop.pieces.flatMap(reachOf));
  if (points.length === 0) return { min: [0, 0], max: [0, 0] };
  const pick = (of: (...values: number[]) => number): Point => [
    of(...points.map((p) => p[0])),
    of(...points.map((p) => p[1])),
  ];
  return { min: pick(Math.min), max: pick(Math.max) };
}

/** Points that a piece reaches furthest to: its ends, and of an arc where it is highest, lowest, leftmost, rightmost. */
function reachOf(piece: FlatPiece): Point[] {
  if (piece.kind !== 'arc') return pointsOf(piece);
  const turn = sweepOf(piece);
  const { centre, radius } = piece;
  const start = Math.atan2(piece.from[1] - centre[1], piece.from[0] - centre[0]);
  const quarters = [0, 1, 2, 3].flatMap((k): Point[] => {
    const whole = 2 * Math.PI;
    const ahead = (((Math.sign(turn) * ((k * Math.PI) / 2 - start)) % whole) + whole) % whole;
    if (ahead > Math.abs(turn)) return [];
    const [across, up] = [
      [1, 0],
      [0, 1],
      [-1, 0],
      [0, -1],
    ][k] as [number, number];
    return [[centre[0] + radius * across, centre[1] + radius * up]];
  });
  return [piece.from, piece.to, ...quarters];
}

/** Edges of floors: faces that look the same way as the wide face and lie deeper. */
function floorEdges(
  part: PlacedPart,
  frame: ViewFrame,
  flat: (p: Point) => Point,
): readonly (readonly Point[])[] {
  const top = Math.max(...part.vertices.map((p) => dot(p, frame.toViewer)));
  return part.faces.flatMap((face) => {
    const square = dot(face.normal, frame.toViewer) > 1 - 1e-9;
    if (!square || face.offset > top - MEET) return [];
    return face.loops.map((loop) => {
      const points = loop.map((v) => flat(project(part.vertices[v] as Vec3, frame)));
      return [...points, points[0] as Point];
    });
  });
}

/** True where the middle of a piece lies on a chain of chords. */
function onIt(piece: FlatPiece, chain: readonly Point[]): boolean {
  const points = pointsOf(piece);
  const i = Math.floor((points.length - 1) / 2);
  const [p, q] = [points[i], points[i + 1]] as [Point, Point];
  const middle: Point = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  return chain.some((a, k) => {
    const b = chain[k + 1];
    if (b === undefined) return false;
    const length = gap(a, b);
    const t = ((middle[0] - a[0]) * (b[0] - a[0]) + (middle[1] - a[1]) * (b[1] - a[1])) / length ** 2;
    const off = Math.abs((middle[0] - a[0]) * (b[1] - a[1]) - (middle[1] - a[1]) * (b[0] - a[0])) / length;
    // Facets lie inside their curve by up to their sagitta.
    return t > -1e-6 && t < 1 + 1e-6 && off < 0.15;
  });
}

function centresOf(holes: readonly FlatHole[], loops: readonly FlatLoop[]): Point[] {
  const all = [
    ...holes.map((hole) => hole.centre),
    ...loops.flatMap((loop) => loop.pieces.flatMap((p) => (p.kind === 'arc' ? [p.centre] : []))),
  ];
  return all.filter((p, i) => all.findIndex((q) => gap(p, q) < MEET) === i);
}
