/** Curved shapes through the thickness: a free outline on the wide face, and an arc in an edge or end. */
import type { Origin } from '../diagnostics.ts';
import type { Direction, Face } from '../read/types.ts';
import { DIRECTIONS, directionOf } from '../resolve/directions.ts';
import type { PlaceValues, ResolvedShape } from '../resolve/pose-types.ts';
import { circleThrough, crossing, polygonOf, signedArea, turnedBack } from './flat.ts';
import type { FlatPoint, FlatStretch, Outline, ShapeOperation } from './shape.ts';
import { axisOfSide, isFar, sideOf } from './sides.ts';
import {
  alongLength,
  axisAlong,
  faceName,
  ownOutward,
  placeOfValue,
  pointOn,
  said,
  type Workpiece,
  wrong,
} from './workpiece.ts';

/** Ends of an outline this near, mm, are one point. */
const CLOSED = 0.05;
/** Facets for checks only. */
const COARSE = 1;
/** What is taken off reaches this far beyond the edge, mm, so that nothing is left of it. */
const BEYOND = 2;

function flatPoint(piece: Workpiece, at: PlaceValues, origin: Origin): FlatPoint | undefined {
  const needs = DIRECTIONS.filter((direction) => axisAlong(piece, direction) !== 2);
  const given = DIRECTIONS.filter((direction) => at[direction] !== undefined);
  if (given.length !== 2 || !needs.every((one) => given.includes(one)))
    return wrong(piece, 'point', origin, {
      expected: `a point on the wide face of "${piece.key}": ${needs.join(' and ')}`,
      found: given.length === 0 ? 'none' : given.join(' and '),
    });
  const point = pointOn(piece, 'face', at, origin);
  return point && [point[0], point[1]];
}

export function outline(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, path = [] } = shape;
  const steps = source.path ?? [];
  const points: FlatPoint[] = [];
  for (const [index, step] of path.entries()) {
    const point = flatPoint(piece, step.to, steps[index]?.to.origin ?? source.origin);
    if (!point) return undefined;
    points.push(point);
  }
  const [start] = points;
  const last = points.at(-1);
  if (!start || !last || points.length < 3)
    return wrong(piece, 'path', source.origin, {
      expected: 'an outline of a start and at least two stretches',
      found: `${Math.max(0, points.length - 1)}`,
    });
  const gap = Math.hypot(last[0] - start[0], last[1] - start[1]);
  if (gap > CLOSED)
    return wrong(piece, 'open', steps.at(-1)?.to.origin ?? source.origin, {
      expected: 'an outline that ends where it starts',
      found: `a gap of ${said(piece, gap)} between its end and its start`,
      hint: 'end with a line or an arc to the place of "start"',
    });
  points[points.length - 1] = start;
  const stretches: FlatStretch[] = [];
  for (let index = 1; index < points.length; index++) {
    const stretch = stretchOf(
      piece,
      shape,
      index,
      points[index - 1] as FlatPoint,
      points[index] as FlatPoint,
    );
    if (!stretch) return undefined;
    stretches.push(stretch);
  }
  const polygon = polygonOf(start, stretches, COARSE);
  const crossed = crossing(polygon.points);
  if (crossed) {
    const [a, b] = crossed.map((side) => (polygon.stretch[side] as number) + 2) as [number, number];
    return wrong(piece, 'crossing', steps[b - 1]?.origin ?? source.origin, {
      expected: 'an outline that does not cross itself',
      found: a === b ? `step ${a} crossing itself` : `step ${b} crossing step ${a}`,
      hint: 'go round the part in one direction',
    });
  }
  if (piece.course && stretches.every((stretch) => stretch.arc === undefined))
    return ofCourse(piece, shape, points.slice(1));
  const beyond = beyondBoard(piece, polygon.points);
  if (beyond) {
    return wrong(piece, 'outside', steps[beyond.stretch + 1]?.origin ?? source.origin, {
      expected: `an outline within "${piece.key}"`,
      found: `one that goes ${said(piece, beyond.by)} beyond its ${beyond.face}`,
      hint: piece.course
        ? 'an outline round several courses has straight lines only'
        : 'take a wider or longer board, or move the outline in',
    });
  }
  const area = signedArea(polygon.points);
  if (Math.abs(area) < 1)
    return wrong(piece, 'nothing-left', source.origin, {
      expected: `an outline that leaves some of "${piece.key}"`,
      found: 'one without room inside',
    });
  return [
    {
      kind: 'outline',
      name: 'outline',
      does: 'keep',
      called: source.called,
      origin: source.origin,
      start,
      stretches: area > 0 ? stretches : turnedBack(start, stretches),
    },
  ];

  function beyondBoard(board: Workpiece, list: readonly FlatPoint[]) {
    let worst: { by: number; face: Face; stretch: number } | undefined;
    const sides = [
      ['start', 0, -1],
      ['end', 0, 1],
      ['low edge', 1, -1],
      ['high edge', 1, 1],
    ] as const;
    list.forEach((point, index) => {
      for (const [side, axis, sign] of sides) {
        const limit = sign < 0 ? 0 : axis === 0 ? board.size.length : board.size.width;
        const by = sign * (point[axis] - limit);
        if (by > CLOSED && by > (worst?.by ?? 0))
          worst = { by, face: faceName(board, side), stretch: polygon.stretch[index] as number };
      }
    });
    return worst;
  }
}

/** What an outline round all courses leaves of one of them: nothing to cut where that is the whole board. */
function ofCourse(
  piece: Workpiece,
  { source }: ResolvedShape,
  round: readonly FlatPoint[],
): ShapeOperation[] | undefined {
  const { length, width } = piece.size;
  let left: readonly FlatPoint[] = signedArea(round) > 0 ? round : [...round].reverse();
  for (const [axis, at, sign] of [
    [0, 0, -1],
    [0, length, 1],
    [1, 0, -1],
    [1, width, 1],
  ] as const)
    left = cutOff(left, axis, at, sign);
  const area = left.length < 3 ? 0 : signedArea(left);
  if (area < 1)
    return wrong(piece, 'nothing-left', source.origin, {
      expected: `an outline that leaves some of each board of "${piece.key}"`,
      found: 'one that leaves a board none',
      hint: 'lay the boards from edge to edge of the outline, with "from" and "to"',
    });
  if (area > length * width - 1) return [];
  const [start, ...rest] = left as [FlatPoint, ...FlatPoint[]];
  const stretches = [...rest, start].map((to) => ({ to }));
  return [
    {
      kind: 'outline',
      name: 'outline',
      does: 'keep',
      called: source.called,
      origin: source.origin,
      start,
      stretches,
    },
  ];
}

/** A polygon without what lies beyond a line along an axis, each point once. */
export function cutOff(points: readonly FlatPoint[], axis: 0 | 1, at: number, sign: 1 | -1): FlatPoint[] {
  const over = (point: FlatPoint): number => sign * (point[axis] - at);
  const kept = points.flatMap((point, index): FlatPoint[] => {
    const next = points[(index + 1) % points.length] as FlatPoint;
    const [a, b] = [over(point), over(next)];
    const own = a <= 0 ? [point] : [];
    if (a * b >= 0) return own;
    const t = a / (a - b);
    return [...own, [point[0] + (next[0] - point[0]) * t, point[1] + (next[1] - point[1]) * t]];
  });
  return kept.filter((point, index) => {
    const next = kept[(index + 1) % kept.length] as FlatPoint;
    return Math.hypot(point[0] - next[0], point[1] - next[1]) > 1e-6;
  });
}

function stretchOf(
  piece: Workpiece,
  shape: ResolvedShape,
  index: number,
  from: FlatPoint,
  to: FlatPoint,
): FlatStretch | undefined {
  const source = shape.source.path?.[index];
  const step = shape.path?.[index];
  if (!source || !step || source.kind !== 'arc') return { to };
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (step.through) {
    const by = flatPoint(piece, step.through, source.through?.origin ?? source.origin);
    const arc = by && circleThrough(from, by, to);
    if (by && !arc)
      return wrong(piece, 'arc', source.through?.origin ?? source.origin, {
        expected: 'a point beside the straight way, so that an arc can run through it',
        found: 'three points on one line',
        hint: 'write line: for a straight stretch',
      });
    return arc && { to, arc };
  }
  const radius = step.radius ?? 0;
  if (chord < CLOSED || radius < chord / 2 - 1e-6)
    return wrong(piece, 'arc', source.radius?.origin ?? source.origin, {
      expected: `a radius of at least ${said(piece, chord / 2)}, half of the way it spans`,
      found: said(piece, radius),
      hint: 'an arc with a smaller radius does not reach its end',
    });
  const towards = source.bulges && ownOutward(piece, source.bulges.value);
  const across: FlatPoint = [-(to[1] - from[1]) / chord, (to[0] - from[0]) / chord];
  const left = towards ? towards[0] * across[0] + towards[1] * across[1] : 0;
  if (Math.abs(left) < 1e-6)
    return wrong(piece, 'arc', source.bulges?.origin ?? source.origin, {
      expected: 'a face beside the way from the start of the arc to its end',
      found: source.bulges?.value ?? 'none',
    });
  // A bulge to the left of the way runs clockwise round a centre on the right.
  const off = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4)) * (left > 0 ? -1 : 1);
  const centre: FlatPoint = [
    (from[0] + to[0]) / 2 + across[0] * off,
    (from[1] + to[1]) / 2 + across[1] * off,
  ];
  return { to, arc: { centre, radius, counterclockwise: left < 0 } };
}

/** An arc in an edge or end: hollow, or a crown with its highest point in the middle. */
export function arc(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values, places } = shape;
  const on = source.on[0];
  if (!on) return undefined;
  const face = on.text as Face;
  const side = sideOf(piece.lie, face);
  const axis = axisOfSide(side);
  if (axis === 2)
    return wrong(piece, 'side', on.origin, {
      expected: `an edge or an end of "${piece.key}"`,
      found: `${face}, its wide face`,
    });
  const whole = axis === 0 ? piece.size.length : piece.size.width;
  const run = axis === 0 ? piece.size.width : piece.size.length;
  const span = spanOf(piece, shape, axis === 0 ? 1 : 0, run);
  if (!span) return undefined;
  const [from, to] = span;
  const rise = values.rise ?? 0;
  const chord = to - from;
  const form = source.words.form?.[0]?.text === 'crown' ? 'crown' : 'hollow';
  if (!(rise > 0.01) || rise > chord / 2 + 1e-6)
    return wrong(piece, 'arc', placeOfValue(shape, 'rise'), {
      expected: `a rise above 0 and at most ${said(piece, chord / 2)}, half of its span`,
      found: said(piece, rise),
      hint: 'a half circle rises by half of its span',
    });
  if (rise >= whole - 0.5)
    return wrong(piece, 'in-two', placeOfValue(shape, 'rise'), {
      expected: `a rise that leaves some of the ${said(piece, whole)} of "${piece.key}"`,
      found: said(piece, rise),
    });
  const radius = (chord * chord) / (8 * rise) + rise / 2;
  // u runs along the edge, v out of it: turned to x and y at the end.
  const edge = isFar(side) ? whole : 0;
  const out = isFar(side) ? 1 : -1;
  const flat = (u: number, v: number): FlatPoint => (axis === 0 ? [edge + out * v, u] : [u, edge + out * v]);
  // In (u, v) the hollow runs clockwise seen with v upward; mirrored frames turn that round.
  const mirrored = (axis === 0) !== out < 0;
  const hollow = form === 'hollow';
  const centre = flat((from + to) / 2, hollow ? radius - rise : -radius);
  const begin = flat(from, hollow ? 0 : -rise);
  const bow: FlatStretch = {
    to: flat(to, hollow ? 0 : -rise),
    arc: { centre, radius, counterclockwise: hollow !== mirrored },
  };
  const rest = hollow
    ? [flat(to, BEYOND), flat(from, BEYOND), begin]
    : [
        flat(run + BEYOND, -rise),
        flat(run + BEYOND, BEYOND),
        flat(-BEYOND, BEYOND),
        flat(-BEYOND, -rise),
        begin,
      ];
  const stretches = [bow, ...rest.map((point): FlatStretch => ({ to: point }))];
  const area = signedArea(polygonOf(begin, stretches, COARSE).points);
  const made: Outline = {
    kind: 'outline',
    name: 'arc',
    does: 'cut',
    called: source.called,
    origin: source.origin,
    start: begin,
    stretches: area > 0 ? stretches : turnedBack(begin, stretches),
    arc: { side, face, rise, span: chord, radius, form },
  };
  return [made];

  function spanOf(
    board: Workpiece,
    given: ResolvedShape,
    along: 0 | 1,
    length: number,
  ): readonly [number, number] | undefined {
    const at = places.at ?? {};
    const faces = Object.keys(at) as Face[];
    const stray = faces.find((one) => axisAlong(board, directionOf(one) as Direction) !== along);
    const origin = given.source.places.at?.origin ?? given.source.origin;
    if (stray)
      return wrong(board, 'place', given.source.places.at?.values[stray]?.origin ?? origin, {
        expected: `faces along the ${face} of "${board.key}"`,
        found: stray,
      });
    const ends = [0, length];
    for (const one of faces) {
      const value = at[one] as number;
      const direction = directionOf(one);
      const own =
        along === 0 ? alongLength(board, value) : pointOn(board, 'face', { [direction]: value }, origin)?.[1];
      if (own === undefined) return undefined;
      ends[isFar(sideOf(board.lie, one)) ? 1 : 0] = own;
    }
    const [low, high] = ends as [number, number];
    if (low < -CLOSED || high > length + CLOSED || high - low < CLOSED)
      return wrong(board, 'outside', origin, {
        expected: `an arc within the ${said(board, length)} of "${board.key}"`,
        found:
          high - low < CLOSED
            ? 'one whose ends lie the wrong way round'
            : `one that goes ${said(board, Math.max(-low, high - length))} beyond it`,
      });
    return [Math.max(0, low), Math.min(length, high)];
  }
}
