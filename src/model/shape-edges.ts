/**
 * Rounded and chamfered edges: the straight ones that the saw leaves, the outline of a wide face as far as it is curved or notched, and
 * the rims of holes.
 */
import type { Origin } from '../diagnostics.ts';
import type { Face } from '../read/types.ts';
import { FACES } from '../resolve/directions.ts';
import type { ResolvedShape } from '../resolve/pose-types.ts';
import { INCH } from '../units.ts';
import { bendsOutline, cornerOf, type Facets, faceOutline, type WideSide } from './face-outline.ts';
import { type GuideFault, guidedRuns } from './guided.ts';
import { holeRims } from './hole-rims.ts';
import type { EdgeWork, ShapeOperation, Side } from './shape.ts';
import { axisOfSide, farCorner, outwardOf, SIDES, sideOf } from './sides.ts';
import type { Vec3 } from './types.ts';
import { faceName, placeOfValue, said, type Workpiece, wrong } from './workpiece.ts';

type Edge = readonly [Side, Side];

/** All edges: each by the two sides that meet in it. */
const EDGES: readonly Edge[] = SIDES.flatMap((one, i) =>
  SIDES.slice(i + 1).flatMap((other) =>
    axisOfSide(one) === axisOfSide(other) ? [] : [[one, other] as const],
  ),
);

/** Diameter of a bearing where none is given, mm: the usual one on rounding-over and chamfer bits. Common practice, no source. */
export const usualBearing = (system: 'inch' | 'mm'): number => (system === 'inch' ? INCH / 2 : 12);

/** Facets for checks only. */
const COARSE = 0.5;
const FACETS: Facets = { sagitta: () => COARSE, stops: [] };

/** What one word of the author's means: edges, or the holes of a side. */
interface Named {
  readonly text: string;
  readonly origin: Origin;
  readonly edges: readonly Edge[];
  readonly holes?: Side;
}

function namedBy(piece: Workpiece, text: string, origin: Origin): Named {
  const words = text.split(' ');
  const sides = words
    .filter((word): word is Face => (FACES as readonly string[]).includes(word))
    .map((face) => sideOf(piece.lie, face));
  if (words[1] === 'holes' && sides[0]) return { text, origin, edges: [], holes: sides[0] };
  const edges = EDGES.filter((edge) =>
    text === 'all'
      ? true
      : text === 'long'
        ? edge.every((side) => axisOfSide(side) !== 0)
        : sides.every((side) => edge.includes(side)),
  );
  return { text, origin, edges };
}

/** What there is at edges for a cut: where two edges of one side are worked each may take half of it. */
function roomAt(piece: Workpiece, edges: readonly Edge[]): number {
  const whole = farCorner(piece.size);
  return Math.min(
    ...SIDES.flatMap((side) =>
      ([0, 1, 2] as const).flatMap((axis) => {
        if (axis === axisOfSide(side)) return [];
        const own = edges.filter(
          (edge) => edge.includes(side) && edge.some((other) => axisOfSide(other) === axis),
        );
        return own.length === 0 ? [] : [(whole[axis] as number) / Math.min(2, own.length)];
      }),
    ),
  );
}

export function edgeWork(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values } = shape;
  const named = source.on.map(({ text, origin }) => namedBy(piece, text, origin));
  const stray = named.find(({ edges, holes }) => edges.length === 0 && holes === undefined);
  if (stray)
    return wrong(piece, 'edge', stray.origin, {
      expected: 'two faces that meet in an edge',
      found: stray.text,
      hint: `${faceName(piece, 'face')} ${faceName(piece, 'high edge')}`,
    });
  const chosen = new Map(named.flatMap(({ edges }) => edges.map((edge) => [edge.join(), edge] as const)));
  const edges = [...chosen.values()];
  const key = source.kind === 'round' ? 'radius' : 'width';
  const size = values[key] ?? 0;
  const room = roomAt(piece, edges);
  if (!(size > 0.01) || size > room - 0.01)
    return wrong(piece, 'edge-size', placeOfValue(shape, key), {
      expected:
        room === Number.POSITIVE_INFINITY
          ? `a ${key} above 0`
          : `a ${key} above 0 and less than ${said(piece, room)}, what there is at those edges of "${piece.key}"`,
      found: said(piece, size),
    });
  const bearing = values.bearing ?? usualBearing(piece.numbers.system);
  if (!(bearing > 0.5))
    return wrong(piece, 'bearing', placeOfValue(shape, 'bearing'), {
      expected: 'a diameter of the bearing above 0',
      found: said(piece, bearing),
      hint: 'leave it out for the usual bearing',
    });
  const plain: EdgeWork = {
    kind: 'edge',
    name: source.kind === 'round' ? 'round' : 'chamfer',
    called: source.called,
    origin: source.origin,
    edges,
    said: source.on.map((one) => one.text),
    size,
  };
  const followed = following(piece, shape, plain, named, bearing);
  const holes = followed && holesOf(piece, shape, plain, named, bearing);
  if (!followed || !holes) return undefined;
  return [{ ...followed, ...(holes.length > 0 ? { holes } : {}) }];
}

// ---------------------------------------------------------------- outlines

/** Edges of a wide face whose outline isn't the saw's alone are followed with the bearing; undefined where that fails. */
function following(
  piece: Workpiece,
  shape: ResolvedShape,
  plain: EdgeWork,
  named: readonly Named[],
  bearing: number,
): EdgeWork | undefined {
  if (!piece.done.some((one) => bendsOutline(one, piece.size))) return plain;
  const upright = plain.edges.filter((edge) => edge.every((side) => axisOfSide(side) !== 2));
  const kept = uprightLeft(piece, upright, named);
  if (!kept) return undefined;
  const before: readonly ShapeOperation[] = [...piece.done, { ...plain, edges: kept }];
  const edges: Edge[] = [...kept];
  const follows: { wide: WideSide; towards?: readonly Side[] }[] = [];
  let left = 0;
  for (const wide of ['face', 'reverse'] as const) {
    const sides = plain.edges.flatMap((edge) => (edge.includes(wide) ? [partnerOf(edge, wide)] : []));
    if (sides.length === 0) continue;
    const towards = sides.length === 4 ? undefined : sides;
    const outline = faceOutline(wide, piece.size, piece.hull, before, FACETS);
    const origin = originOf(named, wide) ?? shape.source.origin;
    if (!outline)
      return wrong(piece, 'edge-face', origin, {
        expected: `a flat ${faceName(piece, wide)} of "${piece.key}", so that its outline can be followed`,
        found: 'a tapered one',
      });
    const found = guidedRuns(outline, towards, { radius: bearing / 2, size: plain.size, sagitta: COARSE });
    if ('kind' in found) return unguided(piece, shape, found, wide, origin, bearing);
    if (found.runs.length > 0) follows.push({ wide, ...(towards ? { towards } : {}) });
    edges.push(...found.straight.map((side): Edge => [wide, side]));
    left += found.left;
  }
  return { ...plain, edges, ...(follows.length > 0 ? { follows, bearing, left } : {}) };
}

const partnerOf = (edge: Edge, side: Side): Side => (edge[0] === side ? edge[1] : edge[0]);

const originOf = (named: readonly Named[], side: Side): Origin | undefined =>
  named.find(({ edges }) => edges.some((edge) => edge.includes(side)))?.origin;

/** Corners through the thickness that the outline has left; a fault where one that is named alone is gone. */
function uprightLeft(
  piece: Workpiece,
  upright: readonly Edge[],
  named: readonly Named[],
): readonly Edge[] | undefined {
  const outline = (['face', 'reverse'] as const)
    .map((wide) => faceOutline(wide, piece.size, piece.hull, piece.done, FACETS))
    .find((one) => one !== undefined);
  if (!outline) return upright;
  const isLeft = ([one, other]: Edge): boolean => cornerOf(outline, one, other) !== undefined;
  const gone = named.find(
    ({ edges }) => edges.length === 1 && edges.some((edge) => upright.includes(edge) && !isLeft(edge)),
  );
  if (gone) {
    wrong(piece, 'edge', gone.origin, {
      expected: `an edge that "${piece.key}" still has`,
      found: `${gone.text}, which its outline or a notch takes away`,
    });
    return undefined;
  }
  return upright.filter(isLeft);
}

/** Says why the outline can't be followed. */
function unguided(
  piece: Workpiece,
  shape: ResolvedShape,
  fault: GuideFault,
  wide: WideSide,
  origin: Origin,
  bearing: number,
): undefined {
  const key = shape.source.kind === 'round' ? 'radius' : 'width';
  const size = shape.values[key] ?? 0;
  const where = `the outline of the ${faceName(piece, wide)} of "${piece.key}"`;
  switch (fault.kind) {
    case 'curve':
      return wrong(piece, 'bearing', shape.source.values.bearing?.origin ?? origin, {
        expected: `${where} to let in a bearing of ${said(piece, bearing)}`,
        found:
          fault.radius === undefined
            ? 'a gap or a step that is too small for it'
            : `an inside curve with a radius of ${said(piece, fault.radius)}`,
        hint: `for a smaller one write bearing: ${said(piece, fault.radius === undefined ? bearing / 2 : 2 * fault.radius)}`,
      });
    case 'tight':
      return wrong(piece, 'edge-size', placeOfValue(shape, key), {
        expected: `a ${key} of at most ${said(piece, fault.most)}, what the tightest outside curve or the shortest side of ${where} leaves room for`,
        found: said(piece, size),
      });
    case 'narrow':
      return wrong(piece, 'edge-size', placeOfValue(shape, key), {
        expected: `a ${key} for which ${where} is wide enough everywhere`,
        found: said(piece, size),
      });
    case 'leans':
      return wrong(piece, 'edge-face', origin, {
        expected: `walls square to the face along ${where}`,
        found: 'a notch whose side leans',
        hint: 'name the straight edges that are worked, each by two faces',
      });
    case 'nothing':
      return wrong(piece, 'edge', origin, {
        expected: `a stretch of ${where} that looks that way`,
        found: 'none',
      });
  }
}

// ---------------------------------------------------------------- holes

/** The sides whose holes are worked, each hole with room for it; undefined where one has none. */
function holesOf(
  piece: Workpiece,
  shape: ResolvedShape,
  { size, name }: EdgeWork,
  named: readonly Named[],
  bearing: number,
): readonly Side[] | undefined {
  const key = shape.source.kind === 'round' ? 'radius' : 'width';
  const sides: Side[] = [];
  for (const { holes: side, origin } of named) {
    if (side === undefined) continue;
    const rims = holeRims(side, piece.hull, piece.done);
    const face = faceName(piece, side);
    if (rims.length === 0)
      return wrong(piece, 'no-holes', origin, {
        expected: `straight holes or slots that open at the ${face} of "${piece.key}", bored before`,
        found: 'none',
        hint: 'a leaning hole can be countersunk',
      });
    for (const { radius, wall, middles } of rims) {
      const deepest = wall - 0.01;
      if (size > deepest)
        return wrong(piece, 'edge-size', placeOfValue(shape, key), {
          expected: `a ${key} of less than ${said(piece, wall)}, the depth of a hole in the ${face} of "${piece.key}"`,
          found: said(piece, size),
        });
      const room = Math.min(...middles.map((middle) => roomAround(piece, side, middle))) - radius;
      if (size > room + 0.01)
        return wrong(piece, 'edge-size', placeOfValue(shape, key), {
          expected: `a ${key} of at most ${said(piece, room)}, what there is between a hole and the edge of the ${face} of "${piece.key}"`,
          found: said(piece, size),
        });
      // A countersink needs no guide.
      if (name === 'round' && radius < bearing / 2 - 1e-6)
        return wrong(piece, 'bearing', shape.source.values.bearing?.origin ?? origin, {
          expected: `holes that let in a bearing of ${said(piece, bearing)}`,
          found: `one with a diameter of ${said(piece, 2 * radius)}`,
          hint: 'chamfer it, or give a smaller bearing',
        });
    }
    sides.push(side);
  }
  return [...new Set(sides)];
}

/** Distance of a point of a side from the nearest of the other sides. */
function roomAround(piece: Workpiece, side: Side, at: Vec3): number {
  const out = outwardOf(side);
  return Math.min(
    ...piece.hull.flatMap(({ normal, offset }) => {
      const along = normal[0] * out[0] + normal[1] * out[1] + normal[2] * out[2];
      if (Math.abs(along) > 0.94) return [];
      return [offset - (normal[0] * at[0] + normal[1] * at[1] + normal[2] * at[2])];
    }),
  );
}
