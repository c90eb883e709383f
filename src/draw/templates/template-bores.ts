/** Holes and slots on a paper pattern: their rims on the face, the places to centre on, and what is bored, in words. */
import { add, dot, scale } from '../../geometry/vectors.ts';
import type { Hole, ShapeOperation, Side, Slot } from '../../model/shape.ts';
import { axisOfSide, isFar, outwardOf } from '../../model/sides.ts';
import type { BlankSize, Copy, Vec3 } from '../../model/types.ts';
import type { FlatPiece } from '../lines/template-outline.ts';
import type { Saying } from '../parts/feature.ts';
import { grouped, holeWords, kindOfHole, kindOfSlot, slotWords } from '../parts/part-holes.ts';
import type { Point } from '../types.ts';
import type { Bore, PatternFace } from './template-pattern.ts';

type At<T> = { readonly index: number; readonly shape: T };

/** A pocket's jig finds its own place along the board: its rim is no use on paper, its middle is. */
const isPocket = (hole: Hole): boolean => hole.name === 'pocket';

/**
 * What is bored from a face, and what comes out on it. The first of several alike says how many there are.
 * @param slotRims false where the way round has the rims of slots already
 */
export function boresOn(
  face: PatternFace,
  copy: Pick<Copy, 'size'>,
  shapes: readonly ShapeOperation[],
  say: Saying,
  slotRims: boolean,
): Bore[] {
  const holes: At<Hole>[] = [];
  const slots: At<Slot>[] = [];
  shapes.forEach((shape, index) => {
    if (shape.kind === 'hole' && isOn(shape.side, shape.depth, face.side)) holes.push({ index, shape });
    if (shape.kind === 'slot' && isOn(shape.side, shape.depth, face.side)) slots.push({ index, shape });
  });
  return [
    ...grouped(holes, kindOfHole).flatMap((alike) =>
      alike.map((hole) => holeBore(face, copy.size, hole.shape, holeWords([hole], say))),
    ),
    ...grouped(slots, kindOfSlot).flatMap((alike) =>
      alike.map((slot) => slotBore(face, copy.size, slot.shape, slotWords([slot], say), slotRims)),
    ),
  ];
}

/** True for what begins on a side, or goes through to it from the side behind. */
const isOn = (from: Side, depth: number | undefined, side: Side): boolean =>
  from === side || (depth === undefined && axisOfSide(from) === axisOfSide(side));

/** Where a straight way meets a face of the blank. */
function onFace(face: PatternFace, size: BlankSize, entry: Vec3, axis: Vec3): Point {
  const k = axisOfSide(face.side);
  const whole = k === 1 ? size.width : size.thickness;
  const level = isFar(face.side) ? whole : 0;
  return face.flat(add(entry, scale(axis, (level - entry[k]) / axis[k])));
}

function holeBore(face: PatternFace, size: BlankSize, hole: Hole, said: Bore['text']): Bore {
  const centre = onFace(face, size, hole.entry, hole.axis);
  // A leaning drill leaves an ellipse, long in the direction in which it leans.
  const square = Math.abs(dot(hole.axis, outwardOf(face.side)));
  const [ox, oy] = face.flat([0, 0, 0]);
  const [ax, ay] = face.flat(hole.axis);
  const rotation = Math.atan2(ay - oy, ax - ox);
  const diameters = [hole.diameter];
  if (hole.side === face.side) {
    if (hole.counterbore) diameters.push(hole.counterbore.diameter);
    if (hole.countersink) diameters.push(hole.countersink.diameter);
  }
  return {
    centres: [centre],
    ellipses: isPocket(hole)
      ? []
      : diameters.map((diameter) => ({
          centre,
          radii: [diameter / 2 / square, diameter / 2],
          rotation: square > 1 - 1e-9 ? 0 : rotation,
        })),
    pieces: [],
    text: said,
  };
}

function slotBore(face: PatternFace, size: BlankSize, slot: Slot, said: Bore['text'], rims: boolean): Bore {
  const [a, b] = [slot.from, slot.to].map((p) => onFace(face, size, p, slot.axis)) as [Point, Point];
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const radius = slot.width / 2;
  // Square to its run, to the left of the way from a to b.
  const off: Point = [(-(b[1] - a[1]) / long) * radius, ((b[0] - a[0]) / long) * radius];
  const at = (p: Point, sign: number): Point => [p[0] + off[0] * sign, p[1] + off[1] * sign];
  const pieces: FlatPiece[] = [
    { kind: 'line', from: at(a, -1), to: at(b, -1) },
    { kind: 'arc', from: at(b, -1), to: at(b, 1), centre: b, radius, counterclockwise: true },
    { kind: 'line', from: at(b, 1), to: at(a, 1) },
    { kind: 'arc', from: at(a, 1), to: at(a, -1), centre: a, radius, counterclockwise: true },
  ];
  return { centres: [a, b], ellipses: [], pieces: rims ? pieces : [], text: said };
}
