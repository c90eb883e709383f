/**
 * Where hardware sits on its boards: on the face that `on` names, spread along its longer way. The outer hinges lie a sixth of the face from
 * its ends, other fittings half a spacing (both common practice, no source); pegs go into the holes of their diameter.
 */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { HardwareItem } from '../read/types.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import { figure } from '../resolve/quantities.ts';
import { cross, dot, scale } from '../resolve/vectors.ts';
import type { NumberStyle } from '../units.ts';
import { placingOf } from './frames.ts';
import type { Hole } from './shape.ts';
import { axisOfSide, farCorner, outwardOf, planeOfSide, sideOf } from './sides.ts';
import type { Copy, Face, FittingSpot, HardwareUse, Part, Side, Vec3 } from './types.ts';
import { axisAlong, blankOf, pointOn, type Workpiece } from './workpiece.ts';

/** More of one kind on a board than any piece has. */
const MOST = 200;
/** Play of a place on a face, and of a peg in its hole, mm. */
const [ON, IN_HOLE] = [0.1, 0.5];

type Report = (diagnostic: Diagnostic) => void;

/** The uses with the spots of those that are on a part. What has a fault has none, after a report. */
export function withSpots(
  uses: readonly HardwareUse[],
  parts: readonly Part[],
  numbers: NumberStyle,
  report: Report,
): HardwareUse[] {
  return uses.map((use) => {
    const [key, word] = (use.on ?? '').split('.').map((text) => text.trim());
    const part = parts.find((one) => one.key === key);
    if (part === undefined || part.copies.length === 0) return use;
    const spots = spotsOf(use, part, (word ?? part.wideFace) as Face, numbers, report);
    return spots.length === 0 ? use : { ...use, spots };
  });
}

function spotsOf(
  use: HardwareUse,
  part: Part,
  face: Face,
  numbers: NumberStyle,
  report: Report,
): FittingSpot[] {
  const side = sideOf(part, face);
  const shares = sharesOf(Math.min(Math.round(use.count), MOST), part.copies.length);
  const most = Math.max(...shares);
  const piece = workpieceOf(part, numbers, (said) => report({ ...said, id: 'hardware.place' }));
  const laid = piece && layOn(use, piece, side, most, report);
  if (piece === undefined || laid === undefined) return [];
  return part.copies.flatMap((copy, index) => {
    const count = shares[index] ?? 0;
    const holes = holesFor(use.item, copy, side);
    return Array.from({ length: count }, (_, number) => {
      const hole = holes.length === count ? holes[number] : undefined;
      return spotOn(use, piece, copy, laid, { number, count, side, hole });
    });
  });
}

/** How many go on each copy: alike where it comes out even, else a few more on the first; of fewer than there are copies one on each in the middle. */
function sharesOf(count: number, copies: number): number[] {
  if (count < copies) {
    const chosen = new Set(Array.from({ length: count }, (_, k) => Math.floor(((k + 0.5) * copies) / count)));
    return Array.from({ length: copies }, (_, index) => (chosen.has(index) ? 1 : 0));
  }
  return Array.from(
    { length: copies },
    (_, index) => Math.floor(count / copies) + (index < count % copies ? 1 : 0),
  );
}

/** The first copy as a workpiece, for places of the piece in its own frame. */
function workpieceOf(part: Part, numbers: NumberStyle, report: Report): Workpiece | undefined {
  const [copy] = part.copies;
  if (copy === undefined) return undefined;
  const { frame, size } = copy;
  const place = placingOf(frame, size.width);
  return {
    key: part.key,
    lie: part,
    size,
    numbers,
    axes: {
      length: place.vector([1, 0, 0]),
      width: place.vector([0, 1, 0]),
      thickness: place.vector([0, 0, 1]),
    },
    origin: place.point([0, 0, 0]),
    hull: blankOf(size),
    done: [],
    report,
  };
}

/** How a row lies on a face: own axes along it and across it, a point of its middle line, and whether the plan fixes these. */
interface Laid {
  readonly along: 0 | 1 | 2;
  readonly across: 0 | 1 | 2;
  readonly start: Vec3;
  readonly fixed: { readonly along: boolean; readonly across: boolean };
}

function layOn(
  use: HardwareUse,
  piece: Workpiece,
  side: Side,
  most: number,
  report: Report,
): Laid | undefined {
  const place = use.place ?? { at: {}, origin: use.origin };
  const far = farCorner(piece.size);
  const [u, v] = ([0, 1, 2] as const).filter((axis) => axis !== axisOfSide(side)) as [0 | 1 | 2, 0 | 1 | 2];
  const [along, across] = far[u] >= far[v] ? [u, v] : [v, u];
  const start = pointOn(piece, side, place.at, place.origin);
  if (start === undefined) return undefined;
  const given = (['across', 'deep', 'up'] as const)
    .filter((direction) => place.at[direction] !== undefined)
    .map((direction) => axisAlong(piece, direction));
  const wrong = (id: string, expected: string, found: string, hint: string): undefined =>
    report(fault(id, place.origin, { expected, found, hint, parts: [piece.key] })) as undefined;
  const print = (length: number): string => figure(length, piece.numbers);
  for (const axis of [along, across]) {
    const beyond = Math.max(-start[axis], start[axis] - far[axis]);
    if (beyond > ON)
      return wrong(
        'hardware.place',
        `"${use.item.key}" on a face of "${piece.key}"`,
        `its middle ${print(beyond)} beyond the face`,
        'places are those of the piece: at: { up: lid.top - (2 in | 50 mm) }',
      );
  }
  if (given.includes(along) && most > 1)
    return wrong(
      'hardware.place',
      'one at one place',
      `${most} on the board`,
      'write an item for each place, or "set back" for a row',
    );
  const { setBack } = place;
  if (setBack !== undefined && (most < 2 || setBack >= far[along] / 2))
    return most < 2
      ? wrong(
          'hardware.set-back',
          'a set back of two or more on a board',
          'one, which lies in the middle',
          'say where with "at"',
        )
      : wrong(
          'hardware.set-back',
          `a set back below half of the ${print(far[along])} of the face`,
          print(setBack),
          'write a smaller one, or leave it out',
        );
  return { along, across, start, fixed: { along: given.includes(along), across: given.includes(across) } };
}

/** Blind or through holes of a face that a round fitting goes into. */
function holesFor({ outline }: HardwareItem, copy: Copy, side: Side): Hole[] {
  if (outline === undefined || !('diameter' in outline)) return [];
  return copy.shape.filter(
    (one): one is Hole =>
      one.kind === 'hole' &&
      one.name === 'hole' &&
      one.side === side &&
      Math.abs(one.diameter - outline.diameter) <= IN_HOLE,
  );
}

/** How far the outermost of a row lie from the ends of the face. */
function setBackOf({ item, place }: HardwareUse, length: number, count: number): number {
  if (place?.setBack !== undefined) return place.setBack;
  return item.kind === 'hinge' ? length / 6 : length / (2 * count);
}

function spotOn(
  use: HardwareUse,
  piece: Workpiece,
  copy: Copy,
  { along, across, start, fixed }: Laid,
  { number, count, side, hole }: { number: number; count: number; side: Side; hole: Hole | undefined },
): FittingSpot {
  const placing = placingOf(copy.frame, copy.size.width);
  const far = farCorner(copy.size);
  const normal = axisOfSide(side);
  const length = far[along];
  const first = setBackOf(use, length, count);
  const own = [...(hole?.entry ?? start)] as [number, number, number];
  if (hole === undefined) {
    own[normal] = planeOfSide(side, copy.size);
    if (!fixed.along)
      own[along] = count === 1 ? length / 2 : first + ((length - 2 * first) * number) / (count - 1);
  }
  const unitOf = (axis: 0 | 1 | 2): Vec3 =>
    placing.vector([0, 1, 2].map((k) => (k === axis ? 1 : 0)) as unknown as Vec3);
  const face = placing.vector(outwardOf(side));
  const row = (axis: 0 | 1 | 2) => {
    const way = unitOf(axis);
    const ends = [0, far[axis]].map((v) =>
      dot(way, placing.point(own.map((old, k) => (k === axis ? v : old)) as unknown as Vec3)),
    ) as [number, number];
    return { along: way, low: Math.min(...ends), high: Math.max(...ends) };
  };
  const runs = use.place?.runs;
  const lengthwise = runs === undefined ? along : axisAlong(piece, runs);
  return {
    copy: copy.id,
    at: placing.point(own),
    face,
    out: hole === undefined ? face : scale(placing.vector(hole.axis), -1),
    along: unitOf(lengthwise === normal ? along : lengthwise),
    row: row(along),
    rise: row(across),
    number,
    count,
    fixed: { ...fixed, knuckle: use.place?.knuckle !== undefined },
    knuckle: knuckleOf(use, face, row(along).along, unitOf(across)),
  };
}

/**
 * Which way the knuckle of a hinge lies from its leaf: to the face that the plan names; else up, of what hangs under or lies on something to
 * the back, and of an upright edge to the front, where a lid or a door opens to (common practice, no source).
 */
function knuckleOf({ place }: HardwareUse, face: Vec3, along: Vec3, across: Vec3): Vec3 {
  const named = place?.knuckle;
  const low = named === 'left' || named === 'front' || named === 'bottom';
  const wanted: Vec3 =
    named !== undefined
      ? scale(
          axisOf(
            named === 'left' || named === 'right'
              ? 'across'
              : named === 'front' || named === 'back'
                ? 'deep'
                : 'up',
          ),
          low ? -1 : 1,
        )
      : Math.abs(face[2]) > 0.7
        ? [0, 1, 0]
        : Math.abs(along[2]) > 0.7
          ? [0, -1, 0]
          : [0, 0, 1];
  const way = Math.abs(dot(across, wanted)) > 0.1 ? across : cross(face, along);
  return dot(way, wanted) < 0 ? scale(way, -1) : way;
}
