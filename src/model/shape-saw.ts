/** Saw cuts: mitre, bevel, compound, taper, and ends cut to fit. */

import type { Origin } from '../diagnostics.ts';
import type { Face } from '../read/types.ts';
import { cutConvex, type Plane } from '../resolve/convex.ts';
import { directionOf, isLow } from '../resolve/directions.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import type { PoseCut, ResolvedShape } from '../resolve/pose-types.ts';
import { sawSettings } from '../resolve/saw.ts';
import { add, dot, scale, unit } from '../resolve/vectors.ts';
import type { SawCut, ShapeOperation, Side } from './shape.ts';
import { axisOfSide, farCorner, isFar, outwardOf, planeOfSide, sideOf } from './sides.ts';
import type { Vec3 } from './types.ts';
import {
  alongLength,
  faceName,
  ownPlane,
  ownVector,
  placeOfValue,
  said,
  type Workpiece,
  wrong,
} from './workpiece.ts';

/** Cuts further out of square than this, in degrees, can't be made on a saw. */
const STEEPEST = 80;
const radians = (angle: number): number => (angle * Math.PI) / 180;
const degreesText = (angle: number): string => `${Number(angle.toFixed(2))} deg`;

/** Ends and edges cut by a lean, a slope, a brace or leaning neighbours. */
export function fitCuts(piece: Workpiece, cuts: readonly PoseCut[], origin: Origin): SawCut[] {
  return cuts.map(({ face, plane, against }) => {
    const own = ownPlane(piece, plane);
    const side = sideOf(piece.lie, face);
    piece.hull = cutConvex(piece.hull, own, side);
    return {
      kind: 'saw',
      name: 'fit',
      called: 'fit',
      origin,
      side,
      face,
      plane: own,
      saw: sawSettings(own.normal, axisOfSide(side) === 0 ? 'end' : 'edge'),
      long: longSides(piece, side, own),
      ...(against === undefined ? {} : { against }),
    };
  });
}

/** The faces beside which an end or edge cut by a plane keeps its full length. */
function longSides(piece: Workpiece, side: Side, { normal }: Plane): Face[] {
  return ([0, 1, 2] as const).flatMap((axis) => {
    if (axis === axisOfSide(side) || Math.abs(normal[axis]) < 1e-6) return [];
    const sides: readonly [Side, Side] = (
      [
        ['start', 'end'],
        ['low edge', 'high edge'],
        ['reverse', 'face'],
      ] as const
    )[axis];
    // The cut falls away towards where the normal points.
    return [faceName(piece, normal[axis] > 0 ? sides[0] : sides[1])];
  });
}

/** mitre, bevel or compound. */
export function endCut(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values } = shape;
  const kind = source.kind as 'mitre' | 'bevel' | 'compound';
  const on = source.on[0];
  if (!on) return undefined;
  const face = on.text as Face;
  const side = sideOf(piece.lie, face);
  const axis = axisOfSide(side);
  if (axis === 2 || (axis === 1 && kind !== 'bevel')) {
    const [start, end] = [faceName(piece, 'start'), faceName(piece, 'end')];
    const edges =
      kind === 'bevel'
        ? `, or an edge, ${faceName(piece, 'low edge')} or ${faceName(piece, 'high edge')}`
        : '';
    return wrong(piece, 'side', on.origin, {
      expected: `an end of "${piece.key}", ${start} or ${end}${edges}`,
      found: face,
      ...(axis === 1 ? { hint: 'bevel cuts along an edge' } : {}),
    });
  }
  const mitre = kind === 'mitre' ? (values.angle ?? 0) : kind === 'compound' ? (values.mitre ?? 0) : 0;
  const bevel = kind === 'bevel' ? (values.angle ?? 0) : kind === 'compound' ? (values.bevel ?? 0) : 0;
  for (const [name, angle] of [
    ['mitre', mitre],
    ['bevel', bevel],
  ] as const) {
    const due = kind === 'compound' || kind === name;
    if (due && !(angle > 0 && angle < STEEPEST))
      return wrong(piece, 'angle', placeOfValue(shape, kind === 'compound' ? name : 'angle'), {
        expected: `an angle out of square above 0 and below ${STEEPEST} deg`,
        found: degreesText(angle),
        hint: 'angles count from a square cut; "long" says which way it goes',
      });
  }
  const seen = source.words.seen?.[0];
  if (seen) return seenCut(piece, shape, side, mitre);
  const long = source.words.long ?? [];
  let edge: Side | undefined;
  let wide: Side | undefined;
  for (const written of long) {
    const which = sideOf(piece.lie, written.text as Face);
    if (axisOfSide(which) === 1 && axis === 0) edge = which;
    else if (axisOfSide(which) === 2) wide = which;
  }
  const needs = { mitre: [edge], bevel: [wide], compound: [edge, wide] }[kind];
  if (needs.includes(undefined)) {
    const due = [
      ...(kind === 'bevel' ? [] : [`${faceName(piece, 'low edge')} or ${faceName(piece, 'high edge')}`]),
      ...(kind === 'mitre' ? [] : [`${faceName(piece, 'reverse')} or ${faceName(piece, 'face')}`]),
    ];
    return wrong(piece, 'long', long[0]?.origin ?? source.origin, {
      expected: `${due.join(', and ')} as the long side of "${piece.key}"`,
      found: long.map((one) => one.text).join(', '),
      hint: `a ${kind} goes ${kind === 'mitre' ? 'across the wide face' : kind === 'bevel' ? 'through the thickness' : 'both ways'}`,
    });
  }
  const away = (which: Side | undefined): Vec3 => (which ? scale(outwardOf(which), -1) : [0, 0, 0]);
  const [m, b] = [radians(mitre), radians(bevel)];
  const out = outwardOf(side);
  const normal = add(
    add(scale(out, Math.cos(b) * Math.cos(m)), scale(away(edge), Math.cos(b) * Math.sin(m))),
    scale(away(wide), Math.sin(b)),
  );
  const corner = [0, 0, 0];
  for (const which of [side, edge, wide])
    if (which) corner[axisOfSide(which)] = planeOfSide(which, piece.size);
  const plane = { normal, offset: dot(normal, corner as unknown as Vec3) };
  const whole = farCorner(piece.size)[axis];
  const takes =
    (mitre > 0 ? piece.size.width * Math.tan(m) : 0) +
    (bevel > 0 ? (piece.size.thickness * Math.tan(b)) / Math.cos(m) : 0);
  if (takes >= whole - 0.01)
    return wrong(piece, 'past-end', source.origin, {
      expected: `a cut that leaves some of the short side of "${piece.key}", ${said(piece, whole)} ${axis === 0 ? 'long' : 'wide'}`,
      found: `one that takes ${said(piece, takes)} off it`,
      hint: 'make the angle smaller, or the board longer',
    });
  return take(piece, shape, {
    kind: 'saw',
    name: kind,
    called: source.called,
    origin: source.origin,
    side,
    face,
    plane,
    saw: sawSettings(normal, axis === 0 ? 'end' : 'edge'),
    long: long.map((one) => one.text as Face),
  });
}

/**
 * A mitre whose angle is that seen from a face of the piece, cut straight away from it: on a leaning board a compound cut, such as
 * the corners of a splayed box, upright and at 45 degrees in plan.
 */
function seenCut(
  piece: Workpiece,
  shape: ResolvedShape,
  side: Side,
  angle: number,
): ShapeOperation[] | undefined {
  const { source } = shape;
  const [on, seen, long] = [source.on[0], source.words.seen?.[0], source.words.long?.[0]];
  if (!on || !seen || !long) return undefined;
  const faces = [on, seen, long].map((one) => one.text as Face);
  const directions = new Set(faces.map(directionOf));
  if (directions.size < 3)
    return wrong(piece, 'long', long.origin, {
      expected: 'an end, the face it is seen from and its long side in three directions',
      found: `${faces.join(', ')}`,
      hint: 'seen: top, long: front for an end at the left or right',
    });
  const away = (face: Face, sign: number): Vec3 =>
    scale(axisOf(directionOf(face)), isLow(face) ? -sign : sign);
  const a = radians(angle);
  const inPiece = add(
    scale(away(on.text as Face, 1), Math.cos(a)),
    scale(away(long.text as Face, -1), Math.sin(a)),
  );
  const normal = unit(ownVector(piece, inPiece));
  // The cut meets the end, as it is so far, at its long corner only.
  const end = piece.hull.filter((face) => face.name === side).flatMap((face) => [...face.loop]);
  const offset = Math.min(...end.map((p) => dot(normal, p)));
  const settings = sawSettings(normal, 'end');
  return take(piece, shape, {
    kind: 'saw',
    name: settings.tilt > 1e-6 ? 'compound' : 'mitre',
    called: source.called,
    origin: source.origin,
    side,
    face: on.text as Face,
    plane: { normal, offset },
    saw: settings,
    long: [long.text as Face],
  });
}

/** A saw cut taken off what is left of the board; a fault where nothing would be left. */
function take(piece: Workpiece, shape: ResolvedShape, cut: SawCut): ShapeOperation[] | undefined {
  const left = cutConvex(piece.hull, cut.plane, cut.side);
  if (left.length === 0)
    return wrong(piece, 'nothing-left', shape.source.origin, {
      expected: `cuts that leave some of "${piece.key}"`,
      found: `a ${shape.source.called} that takes all that the cuts before it left`,
      hint: 'make the angle or the depth smaller',
    });
  piece.hull = left;
  return [cut];
}

/** Sides that narrow towards an end. */
export function taper(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values } = shape;
  const endWord = source.words.end?.[0];
  if (!endWord) return undefined;
  const end = sideOf(piece.lie, endWord.text as Face);
  const ends = [faceName(piece, 'start'), faceName(piece, 'end')];
  if (axisOfSide(end) !== 0)
    return wrong(piece, 'side', endWord.origin, {
      expected: `an end of "${piece.key}", ${ends.join(' or ')}`,
      found: endWord.text,
    });
  const sides = source.on.map((one) => ({ one, side: sideOf(piece.lie, one.text as Face) }));
  const stray = sides.find(({ side }) => axisOfSide(side) === 0);
  if (stray)
    return wrong(piece, 'side', stray.one.origin, {
      expected: `a side along the length of "${piece.key}"`,
      found: `${stray.one.text}, which is an end`,
      hint: 'its end goes after "end:"',
    });
  const tip = planeOfSide(end, piece.size);
  const far = isFar(end);
  const start = values.from === undefined ? (far ? 0 : piece.size.length) : alongLength(piece, values.from);
  const length = far ? tip - start : start - tip;
  if (length <= 0.01 || length > piece.size.length + 0.01)
    return wrong(piece, 'taper-past-end', placeOfValue(shape, 'from'), {
      expected: `a taper that starts on "${piece.key}", at most ${said(piece, piece.size.length)} from its ${endWord.text}`,
      found:
        length <= 0
          ? `one that starts ${said(piece, -length)} beyond its ${endWord.text}`
          : `one that starts ${said(piece, length)} from there`,
      hint: `from: ${piece.key}.${ends[far ? 0 : 1]}, or leave from out`,
    });
  const made: ShapeOperation[] = [];
  for (const { one, side } of sides) {
    const axis = axisOfSide(side);
    const whole = farCorner(piece.size)[axis];
    const facing = sides.filter((other) => axisOfSide(other.side) === axis).length;
    const by = values.by ?? (whole - (values.leaves ?? 0)) / facing;
    const leaves = whole - by * facing;
    if (!(by > 0.01) || leaves < 0.5)
      return wrong(piece, 'taper-size', placeOfValue(shape, values.by === undefined ? 'leaves' : 'by'), {
        expected: `a taper that takes off some of the ${said(piece, whole)} of "${piece.key}" and leaves some`,
        found:
          by > 0.01
            ? `one that leaves ${said(piece, Math.max(0, leaves))} at its ${endWord.text}`
            : `one that leaves ${said(piece, leaves)}`,
        hint: `between 0 and ${said(piece, whole)}`,
      });
    const out = outwardOf(side);
    const normal = unit(add(scale(out, length), [far ? by : -by, 0, 0]));
    const corner = [start, 0, 0];
    corner[axis] = planeOfSide(side, piece.size);
    // A wide face is tapered with the board on its edge: width and thickness change places.
    const flat: Vec3 = axis === 2 ? [normal[0], normal[2], normal[1]] : normal;
    const cut = take(piece, shape, {
      kind: 'saw',
      name: 'taper',
      called: source.called,
      origin: source.origin,
      side,
      face: one.text as Face,
      plane: { normal, offset: dot(normal, corner as unknown as Vec3) },
      saw: sawSettings(flat, 'edge'),
      long: [],
      taper: { end: endWord.text as Face, length, by, leaves },
    });
    if (!cut) return undefined;
    made.push(...cut);
  }
  return made;
}
