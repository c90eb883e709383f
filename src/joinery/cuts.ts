/**
 * Where fasteners go, and the holes they need.
 *
 * Pocket screws: the pocket is bored from a face of the first part at 15 degrees to it with a stepped bit of 3/8 in or 9.5 mm, so that the
 * screw leaves the end in the middle of the thickness; its shoulder lies half a screw's length before the joint (check values T5.3:
 * common practice, no source). Screws: a clearance hole through the first part and a pilot hole in the second; diameters by the screw's
 * number (ASME B18.6.1, check values T5.1), the pilot two thirds of it (common practice, no source).
 */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { type Placing, placingOf } from '../model/frames.ts';
import type { Hole } from '../model/shape.ts';
import { axisOfSide, faceOfSide, farCorner, isFar, outwardOf, sideOf } from '../model/sides.ts';
import type { Copy, Part, Plan, ShapeOperation, Side, Vec3 } from '../model/types.ts';
import { reach } from '../resolve/convex.ts';
import { add, cross, dot, norm, scale, subtract, unit } from '../resolve/vectors.ts';
import { INCH, printed, sizeText } from '../units.ts';
import type { Contact, FastenerPoint, JointPlace } from './types.ts';

/** Angle between a pocket and the face it is bored from. */
export const POCKET_ANGLE = (15 * Math.PI) / 180;
/** Furthest a fastener stands from the edge of the joint, mm; nearer where the joint is narrow. Common practice, no source. */
const SET_BACK = 50;
/** More than any row of fasteners has, and what counts as the same place, mm. */
const [MOST_IN_A_ROW, SAME] = [1000, 0.01];

interface Span {
  readonly low: number;
  readonly high: number;
}

/** A copy with its part, and the way into its own frame. */
interface Board {
  readonly part: Part;
  readonly copy: Copy;
  readonly place: Placing;
}

/** Places with the points of their fasteners, and the holes by copy. */
export interface Bored {
  readonly places: readonly JointPlace[];
  readonly cuts: ReadonlyMap<string, readonly ShapeOperation[]>;
  readonly diagnostics: readonly Diagnostic[];
}

/** Bores for all joints of a plan. */
export function boreJoints(plan: Plan, places: readonly JointPlace[]): Bored {
  const boards = new Map<string, Board>();
  for (const part of plan.parts)
    for (const copy of part.copies)
      boards.set(copy.id, { part, copy, place: placingOf(copy.frame, copy.size.width) });
  const cuts = new Map<string, ShapeOperation[]>();
  const bore = (copy: Copy, hole: ShapeOperation): void => {
    const known = cuts.get(copy.id);
    if (known) known.push(hole);
    else cuts.set(copy.id, [hole]);
  };
  const diagnostics: Diagnostic[] = [];
  const told = new Set<unknown>();
  const longest = new Map<JointPlace['joint'], number>();
  const bored = places.map((place): JointPlace => {
    const first = boards.get(place.contact.first);
    const second = boards.get(place.contact.second);
    if (!first || !second || place.count === 0) return place;
    const made =
      place.joint.by === 'pocket screws' ? pockets(plan, place, first) : straight(place, first, second);
    if ('severity' in made) {
      if (!told.has(place.joint)) diagnostics.push(made);
      told.add(place.joint);
      return place;
    }
    for (const [board, hole] of made.holes) bore(board.copy, hole);
    longest.set(place.joint, Math.max(made.half, longest.get(place.joint) ?? 0));
    // Fewer may go in than the joint asks for, where it names a least spacing.
    return { ...place, count: made.points.length || place.count, points: made.points };
  });
  for (const place of places) {
    const half = longest.get(place.joint);
    longest.delete(place.joint);
    const tight = half === undefined ? undefined : noRoom(plan, place, half);
    if (tight) diagnostics.push(tight);
  }
  return { places: bored, cuts, diagnostics };
}

interface Made {
  readonly points: readonly FastenerPoint[];
  readonly holes: readonly (readonly [Board, ShapeOperation])[];
  /** Half of where the parts meet along the row, mm. */
  readonly half: number;
}

/** Corners of where two boards touch: the polygons' own, or those of the rectangle. */
function patchOf({ polygons, bounds, normal }: Contact): readonly Vec3[] {
  if (polygons) return polygons.flat();
  const flat = normal.findIndex((v) => Math.abs(v) > 0.5);
  const [u, v] = [0, 1, 2].filter((axis) => axis !== flat) as [number, number];
  return [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ].map(([i, j]) => {
    const point = [...bounds.min];
    if (i) point[u] = bounds.max[u] as number;
    if (j) point[v] = bounds.max[v] as number;
    return point as unknown as Vec3;
  });
}

/**
 * Places along a span, evenly: the outer ones `setBack` from its ends, where that is given; else half a spacing, but never further than
 * usual.
 */
export function spread(low: number, high: number, count: number, setBack?: number): number[] {
  const whole = high - low;
  if (count <= 1) return [(low + high) / 2];
  const edge = setBack ?? Math.min(whole / (2 * count), SET_BACK);
  return Array.from({ length: count }, (_, i) => low + edge + ((whole - 2 * edge) * i) / (count - 1));
}

/** How many of a joint's fasteners a span has room for, where the joint names a least spacing; else all. One has room anywhere. */
function roomFor({ joint, count }: JointPlace, span: Span): number {
  const least = joint.leastSpacing;
  if (least === undefined) return count;
  for (let fewer = Math.min(count, MOST_IN_A_ROW); fewer > 1; fewer--) {
    const [first = 0, second = 0] = spread(span.low, span.high, fewer, fitting(joint.setBack, span));
    if (second - first > least - SAME) return fewer;
  }
  return Math.min(count, 1);
}

function pockets(plan: Plan, place: JointPlace, board: Board): Made | Diagnostic {
  const { joint, contact, fastener } = place;
  const { part, copy } = board;
  const side: Side = joint.from ? sideOf(part, joint.from) : 'reverse';
  const face = board.place.vector(outwardOf(side));
  const raw = contact.normal;
  const parts = [joint.join, joint.to];
  const { edition } = plan;
  const print = (length: number) => sizeText(printed(length, edition.numbers));
  const flat = subtract(raw, scale(face, dot(raw, face)));
  if (norm(flat) < 0.8) {
    const fits = (['low edge', 'high edge', 'reverse', 'face', 'start', 'end'] as const)
      .filter((one) => Math.abs(dot(board.place.vector(outwardOf(one)), raw)) < 0.5)
      .map((one) => faceOfSide(part, one));
    return fault('joint.from', joint.origin, {
      expected: `pocket holes in a face of ${joint.join} beside the joint: ${fits.join(', ')}`,
      found: joint.from ?? faceOfSide(part, side),
      hint: `from: ${fits.at(-1) ?? 'back'}`,
      parts,
      edition: edition.key,
    });
  }
  const onward = unit(flat);
  const axis = add(scale(onward, Math.cos(POCKET_ANGLE)), scale(face, -Math.sin(POCKET_ANGLE)));
  const thick = farCorner(copy.size)[axisOfSide(side)];
  const surface = board.place.point(isFar(side) ? farCorner(copy.size) : [0, 0, 0]);
  const across = forward(cross(onward, face));
  const patch = patchOf(contact);
  const span = reach(patch, across);
  const height = dot(surface, face) - thick / 2;
  const way = thick / 2 / Math.sin(POCKET_ANGLE);
  // The board must be long enough behind the joint for the pocket's far rim.
  const behind = reach(cornersIn(board), scale(onward, -1)).high + dot(patch[0] as Vec3, onward);
  const radius = (edition.numbers.system === 'inch' ? (3 / 8) * INCH : 9.5) / 2;
  const needs = way * Math.cos(POCKET_ANGLE) + radius / Math.sin(POCKET_ANGLE);
  if (behind < needs)
    return fault('joint.pocket', joint.origin, {
      expected: `${print(needs)} of ${joint.join} behind the joint for its pocket holes`,
      found: print(behind),
      hint: 'take screws from the other side, or make the part longer',
      parts,
      edition: edition.key,
    });
  const half = (fastener?.length ?? thick * 1.7) / 2;
  const shoulder = Math.max(way - half, way / 4);
  const narrow = edition.numbers.system === 'inch' ? (5 / 32) * INCH : 4;
  const points: FastenerPoint[] = [];
  const holes: (readonly [Board, ShapeOperation])[] = [];
  for (const v of spread(span.low, span.high, roomFor(place, span), fitting(joint.setBack, span))) {
    const flatPoint = add(scale(across, v), scale(face, height));
    const at = add(flatPoint, scale(onward, onContact(flatPoint, onward, contact, patch)));
    points.push(pointOf(at, axis, fastener?.length, way - shoulder));
    const entry = board.place.ownPoint(add(at, scale(axis, -way)));
    const hole: Hole = {
      kind: 'hole',
      name: 'pocket',
      called: 'pocket hole',
      origin: joint.origin,
      side,
      face: faceOfSide(part, side),
      entry,
      axis: board.place.ownVector(axis),
      diameter: radius * 2,
      depth: shoulder,
      beyond: { diameter: narrow, depth: way - shoulder + radius },
      angle: 75,
      leans: [],
    };
    holes.push([board, hole]);
  }
  return { points, holes, half: halfOf(span) };
}

/** Half of where two parts meet, along the row of their fasteners: a set back has to be less. */
const halfOf = ({ low, high }: Span): number => (high - low) / 2;

/** Where parts meet on too short a stretch for the set back, the usual one is taken. */
const fitting = (setBack: number | undefined, span: Span): number | undefined =>
  setBack !== undefined && setBack < halfOf(span) ? setBack : undefined;

/** A set back that leaves room nowhere, or is said of one fastener alone, which stands in the middle. `half` is the longest of all places. */
function noRoom(plan: Plan, { joint, count }: JointPlace, half: number): Diagnostic | undefined {
  if (joint.setBack === undefined || (count > 1 && joint.setBack < half)) return undefined;
  const { edition } = plan;
  const print = (length: number) => sizeText(printed(length, edition.numbers));
  return fault('joint.set-back', joint.origin, {
    ...(count === 1
      ? {
          expected: 'a set back of two or more fasteners: one stands in the middle',
          found: 'count: 1',
          hint: 'leave set back out',
        }
      : {
          expected: `a set back below half of the ${print(half * 2)} where ${joint.join} and ${joint.to} meet`,
          found: print(joint.setBack),
          hint: 'write a smaller one, or leave it out',
        }),
    parts: [joint.join, joint.to],
    edition: edition.key,
  });
}

/** A fastener that crosses a joint, and where its point ends after it has passed so much of the first board, mm. */
const pointOf = (at: Vec3, axis: Vec3, length: number | undefined, passes: number): FastenerPoint => ({
  at,
  axis,
  ...(length === undefined ? {} : { tip: add(at, scale(axis, length - passes)) }),
});

/** A vector or its opposite: the one that points more to the right, the back or the top, so that rows begin at the left, front or floor. */
function forward(vector: Vec3): Vec3 {
  const largest = vector.reduce((best, v) => (Math.abs(v) > Math.abs(best) + 1e-9 ? v : best), 0);
  return largest < 0 ? scale(vector, -1) : vector;
}

/** How far along `onward` the plane of the contact lies from a point. */
const onContact = (point: Vec3, onward: Vec3, contact: Contact, patch: readonly Vec3[]): number =>
  (dot(contact.normal, patch[0] as Vec3) - dot(contact.normal, point)) / dot(contact.normal, onward);

const cornersIn = ({ copy, place }: Board): Vec3[] => {
  const far = farCorner(copy.size);
  return [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    place.point([i & 1 ? far[0] : 0, i & 2 ? far[1] : 0, i & 4 ? far[2] : 0]),
  );
};

/** Diameter of a wood screw by its number, mm: 0.060 + 0.013 n inches (ASME B18.6.1); of a metric size itself; else 4 mm. */
export function screwDiameter(size: string | undefined): number {
  const number = /no\.\s*(\d{1,2})/u.exec(size ?? '');
  if (number) return (0.06 + 0.013 * Number(number[1])) * INCH;
  const metric = /(\d+(?:\.\d+)?)\s*mm/u.exec(size ?? '');
  return metric ? Number(metric[1]) : 4;
}

/** Screws and nails straight through the first part into the second, in a row along the longer side of where they touch. */
function straight(place: JointPlace, first: Board, second: Board): Made {
  const { joint, contact, fastener } = place;
  const { normal } = contact;
  const patch = patchOf(contact);
  const axes = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  )
    .map((own) => first.place.vector(own))
    .filter((axis) => Math.abs(dot(axis, normal)) < 0.7)
    .map((axis) => forward(unit(subtract(axis, scale(normal, dot(axis, normal))))))
    .map((axis) => ({ axis, span: reach(patch, axis) }))
    .sort((a, b) => b.span.high - b.span.low - (a.span.high - a.span.low));
  const [along] = axes;
  if (!along) return { points: [], holes: [], half: 0 };
  const across = cross(normal, along.axis);
  const middle = reach(patch, across);
  const level = dot(normal, patch[0] as Vec3);
  const passes =
    reach(first.copy.faces?.flatMap((face) => face.loop) ?? cornersIn(first), scale(normal, -1)).high + level;
  const count = roomFor(place, along.span);
  const points = spread(along.span.low, along.span.high, count, fitting(joint.setBack, along.span)).map(
    (v): FastenerPoint => {
      const at = add(
        scale(along.axis, v),
        add(scale(across, (middle.low + middle.high) / 2), scale(normal, level)),
      );
      return pointOf(at, normal, fastener?.length, passes);
    },
  );
  const half = halfOf(along.span);
  if (joint.by !== 'screws') return { points, holes: [], half };
  const wide = screwDiameter(fastener?.size);
  const holes = points.flatMap(({ at }): (readonly [Board, ShapeOperation])[] => {
    const base = { kind: 'hole', called: 'screw hole', origin: joint.origin, angle: 0, leans: [] } as const;
    const inFirst = sideFacing(first, scale(normal, -1));
    const inSecond = sideFacing(second, scale(normal, -1));
    const length = fastener?.length ?? passes * 2;
    return [
      [
        first,
        {
          ...base,
          name: 'clearance',
          side: inFirst,
          face: faceOfSide(first.part, inFirst),
          entry: first.place.ownPoint(add(at, scale(normal, -passes))),
          axis: first.place.ownVector(normal),
          diameter: wide + 0.3,
        },
      ],
      [
        second,
        {
          ...base,
          name: 'pilot',
          side: inSecond,
          face: faceOfSide(second.part, inSecond),
          entry: second.place.ownPoint(at),
          axis: second.place.ownVector(normal),
          diameter: (wide * 2) / 3,
          depth: Math.max(5, length - passes),
        },
      ],
    ];
  });
  return { points, holes, half };
}

/** The own side of a board that looks most nearly along a direction of the piece. */
function sideFacing({ place }: Board, direction: Vec3): Side {
  const sides = ['start', 'end', 'low edge', 'high edge', 'reverse', 'face'] as const;
  const looks = (side: Side): number => dot(place.vector(outwardOf(side)), direction);
  return sides.reduce((best, side) => (looks(side) > looks(best) + 1e-9 ? side : best));
}
