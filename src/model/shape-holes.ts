/** Holes and slots. */
import type { Origin } from '../diagnostics.ts';
import type { Direction, Face } from '../read/types.ts';
import type { PlaceValues, ResolvedShape } from '../resolve/pose-types.ts';
import { add, dot, scale, unit } from '../resolve/vectors.ts';
import type { Hole, ShapeOperation, Side, Slot } from './shape.ts';
import { axisOfSide, outwardOf, sideOf } from './sides.ts';
import type { Vec3 } from './types.ts';
import {
  axisAlong,
  faceName,
  ownOutward,
  placeOfValue,
  pointOn,
  said,
  type Workpiece,
  wrong,
} from './workpiece.ts';

/** A drill leans at most this far out of square, degrees. */
const STEEPEST = 60;
const PLAY = 0.01;

/** The row an operation stands in: how many, and the step from one to the next in the board's own frame. */
interface Row {
  readonly count: number;
  readonly spacing: number;
  readonly step: Vec3;
}

function rowOf(piece: Workpiece, shape: ResolvedShape, side: Side): Row | undefined {
  const { source, values } = shape;
  const along = source.words.along?.[0];
  if (!along || values.repeated === undefined) return { count: 1, spacing: 0, step: [0, 0, 0] };
  const axis = axisAlong(piece, along.text as Direction);
  if (axis === axisOfSide(side))
    return wrong(piece, 'row', along.origin, {
      expected: `a row across the ${faceName(piece, side)} of "${piece.key}"`,
      found: along.text,
    });
  if (values.repeated > 200)
    return wrong(piece, 'row', placeOfValue(shape, 'repeated'), {
      expected: 'at most 200 in a row',
      found: String(values.repeated),
    });
  const high: Record<Direction, Face> = { across: 'right', deep: 'back', up: 'top' };
  const spacing = values.spacing ?? 0;
  const step = scale(ownOutward(piece, high[along.text as Direction]), spacing);
  return { count: values.repeated, spacing, step };
}

/** How far a round thing's middle lies inside the board's other sides: a fault where it reaches beyond one. */
function inside(
  piece: Workpiece,
  shape: ResolvedShape,
  at: Vec3,
  side: Side,
  radius: number,
  origin: Origin,
): boolean {
  const out = outwardOf(side);
  for (const face of piece.hull) {
    if (Math.abs(dot(face.normal, out)) > 0.94) continue;
    const room = face.offset - dot(face.normal, at);
    if (room >= radius - PLAY) continue;
    const name = faceName(piece, face.name);
    wrong(piece, 'outside', origin, {
      expected: `the ${shape.source.called} within the ${faceName(piece, side)} of "${piece.key}"`,
      found:
        room < 0
          ? `its middle ${said(piece, -room)} beyond the ${name}`
          : `its middle ${said(piece, room)} from the ${name}, which a radius of ${said(piece, radius)} breaks through`,
      hint: 'places are those of the piece, from its left, front and floor',
    });
    return false;
  }
  return true;
}

/** How far a straight way from a face runs before it leaves what is left of the board, mm. */
export function wayThrough(piece: Pick<Workpiece, 'hull'>, entry: Vec3, axis: Vec3): number {
  let least = Number.POSITIVE_INFINITY;
  for (const { normal, offset } of piece.hull) {
    const speed = dot(normal, axis);
    if (speed > 1e-9) least = Math.min(least, (offset - dot(normal, entry)) / speed);
  }
  return Math.max(0, least);
}

export function hole(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values, places } = shape;
  const on = source.on[0];
  if (!on) return undefined;
  const face = on.text as Face;
  const side = sideOf(piece.lie, face);
  const first = pointOn(piece, side, places.at ?? {}, source.places.at?.origin ?? source.origin);
  const row = rowOf(piece, shape, side);
  const leaned = leanOf(piece, shape, side);
  const diameter = values.diameter ?? 0;
  if (!first || !row || !leaned) return undefined;
  const sizes = [diameter, values['counterbore.diameter'] ?? 0, values['countersink.diameter'] ?? 0];
  if (!(diameter > 0.1))
    return wrong(piece, 'hole-size', placeOfValue(shape, 'diameter'), {
      expected: 'a diameter above 0',
      found: said(piece, diameter),
    });
  for (const wider of ['counterbore', 'countersink'] as const) {
    const size = values[`${wider}.diameter`];
    if (size !== undefined && size <= diameter + PLAY)
      return wrong(piece, 'hole-size', placeOfValue(shape, `${wider}.diameter`), {
        expected: `a ${wider} wider than its hole of ${said(piece, diameter)}`,
        found: said(piece, size),
      });
  }
  const cone = values['countersink.angle'] ?? (piece.numbers.system === 'inch' ? 82 : 90);
  if (!(cone >= 40 && cone <= 150))
    return wrong(piece, 'angle', placeOfValue(shape, 'countersink.angle'), {
      expected: 'an angle of the whole cone from 40 to 150 deg',
      found: `${cone} deg`,
    });
  // Its cone must meet the face all round, with 10 degrees to spare.
  const steepest = 80 - cone / 2;
  if (values['countersink.diameter'] !== undefined && leaned.angle > steepest)
    return wrong(piece, 'lean', source.places.lean?.origin ?? source.origin, {
      expected: `a lean of at most ${Math.round(steepest)} deg for a countersink of ${cone} deg`,
      found: `${Math.round(leaned.angle * 10) / 10} deg`,
    });
  const made: Hole[] = [];
  for (let index = 0; index < row.count; index++) {
    const entry = add(first, scale(row.step, index));
    const where = source.places.at?.origin ?? source.origin;
    if (!inside(piece, shape, entry, side, Math.max(...sizes) / 2, where)) return undefined;
    const way = wayThrough(piece, entry, leaned.axis);
    for (const key of ['depth', 'counterbore.depth']) {
      const depth = values[key];
      if (depth === undefined || (depth > PLAY && depth < way - PLAY)) continue;
      return wrong(piece, 'hole-depth', placeOfValue(shape, key), {
        expected: `a depth above 0 and less than the ${said(piece, way)} of wood there`,
        found: said(piece, depth),
        ...(key === 'depth' && depth > 0 ? { hint: 'for a hole that goes through leave depth out' } : {}),
      });
    }
    const bore = values['counterbore.diameter'];
    const sink = values['countersink.diameter'];
    made.push({
      kind: 'hole',
      name: 'hole',
      called: source.called,
      origin: source.origin,
      side,
      face,
      entry,
      axis: leaned.axis,
      diameter,
      angle: leaned.angle,
      leans: leaned.faces,
      ...(values.depth === undefined ? {} : { depth: values.depth }),
      ...(bore === undefined
        ? {}
        : { counterbore: { diameter: bore, depth: values['counterbore.depth'] ?? 0 } }),
      ...(sink === undefined ? {} : { countersink: { diameter: sink, angle: cone } }),
      ...(row.count > 1 ? { row: { index, count: row.count, spacing: row.spacing } } : {}),
    });
  }
  return made;
}

/** The way of the drill: into the wood, its outer end leaning to the faces that `lean` names. */
function leanOf(
  piece: Workpiece,
  shape: ResolvedShape,
  side: Side,
): { readonly axis: Vec3; readonly angle: number; readonly faces: readonly Face[] } | undefined {
  const lean = shape.places.lean ?? {};
  let out = outwardOf(side);
  const faces: Face[] = [];
  for (const [word, angle] of Object.entries(lean) as [Face, number][]) {
    const origin = shape.source.places.lean?.values[word]?.origin ?? shape.source.origin;
    const towards = ownOutward(piece, word);
    if (Math.abs(dot(towards, outwardOf(side))) > 0.5)
      return wrong(piece, 'lean', origin, {
        expected: `a face beside the ${faceName(piece, side)} of "${piece.key}"`,
        found: word,
      });
    if (Math.abs(angle) > STEEPEST)
      return wrong(piece, 'lean', origin, {
        expected: `a lean of at most ${STEEPEST} deg`,
        found: `${angle} deg`,
      });
    out = add(out, scale(towards, Math.tan((angle * Math.PI) / 180)));
    faces.push(word);
  }
  const axis = scale(unit(out), -1);
  const angle = (Math.acos(Math.min(1, -dot(axis, outwardOf(side)))) * 180) / Math.PI;
  return { axis, angle: angle < 1e-6 ? 0 : angle, faces };
}

export function slot(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values, places } = shape;
  const on = source.on[0];
  if (!on) return undefined;
  const face = on.text as Face;
  const side = sideOf(piece.lie, face);
  const point = (key: 'from' | 'to', at: PlaceValues | undefined) =>
    pointOn(piece, side, at ?? {}, source.places[key]?.origin ?? source.origin);
  const [from, to] = [point('from', places.from), point('to', places.to)];
  const row = rowOf(piece, shape, side);
  if (!from || !to || !row) return undefined;
  const width = values.width ?? 0;
  const long = Math.hypot(...from.map((v, i) => v - (to[i] as number)));
  if (!(width > 0.1) || long < PLAY)
    return wrong(piece, 'slot-size', long < PLAY ? source.origin : placeOfValue(shape, 'width'), {
      expected: long < PLAY ? 'a slot with its two ends apart' : 'a width above 0',
      found: long < PLAY ? 'both in one place' : said(piece, width),
      ...(long < PLAY ? { hint: 'for a round hole write hole:' } : {}),
    });
  const axis = scale(outwardOf(side), -1);
  const made: Slot[] = [];
  for (let index = 0; index < row.count; index++) {
    const [a, b] = [add(from, scale(row.step, index)), add(to, scale(row.step, index))];
    for (const [key, at] of [
      ['from', a],
      ['to', b],
    ] as const)
      if (!inside(piece, shape, at, side, width / 2, source.places[key]?.origin ?? source.origin))
        return undefined;
    const way = Math.min(wayThrough(piece, a, axis), wayThrough(piece, b, axis));
    const { depth } = values;
    if (depth !== undefined && !(depth > PLAY && depth < way - PLAY))
      return wrong(piece, 'hole-depth', placeOfValue(shape, 'depth'), {
        expected: `a depth above 0 and less than the ${said(piece, way)} of wood there`,
        found: said(piece, depth),
        hint: 'for a slot that goes through leave depth out',
      });
    made.push({
      kind: 'slot',
      called: source.called,
      origin: source.origin,
      side,
      face,
      from: a,
      to: b,
      axis,
      width,
      ...(depth === undefined ? {} : { depth }),
      ...(row.count > 1 ? { row: { index, count: row.count, spacing: row.spacing } } : {}),
    });
  }
  return made;
}
