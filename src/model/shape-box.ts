/** Cuts with flat sides and square corners: notch, housing or dado, groove, rebate or rabbet. */
import type { Face } from '../read/types.ts';
import { type Convex, cornersOf, cutConvex, type Plane, reach } from '../resolve/convex.ts';
import { directionOf, FACES, FACES_OF, isLow } from '../resolve/directions.ts';
import type { PlaceValues, ResolvedShape } from '../resolve/pose-types.ts';
import { dot, scale } from '../resolve/vectors.ts';
import type { BoxCut, ShapeOperation, Side } from './shape.ts';
import { axisOfSide, farCorner, outwardOf, planeOfSide, SIDES, sideOf } from './sides.ts';
import type { Vec3 } from './types.ts';
import { axisAlong, faceName, placeOfValue, said, sidePlane, type Workpiece, wrong } from './workpiece.ts';

/** A side of a cut this near to the board's own, mm, or beyond it, is open. */
const OPEN = 0.01;
const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** A side of a cut and the face that the author gave for it. */
interface Wall {
  readonly face?: Face;
  readonly plane: Plane;
}

/** The walls that `at` or a notch gives, in the order of the faces. */
function wallsOf(piece: Workpiece, at: PlaceValues | undefined): Wall[] {
  return FACES.flatMap((face) => {
    const value = at?.[face];
    return value === undefined ? [] : [{ face, plane: sidePlane(piece, face, value) }];
  });
}

/** True where a lower face lies beyond the upper one; reported. */
function turnedRound(piece: Workpiece, shape: ResolvedShape, key: 'box' | 'at'): boolean {
  const at = shape.places[key] ?? {};
  return (['across', 'deep', 'up'] as const).some((direction) => {
    const [low, high] = FACES_OF[direction];
    const [from, to] = [at[low], at[high]];
    if (from === undefined || to === undefined || to - from > OPEN) return false;
    wrong(piece, 'turned-round', shape.source.places[key]?.values[low]?.origin ?? shape.source.origin, {
      expected: `${low} before ${high} in the ${shape.source.called} of "${piece.key}"`,
      found: `${low} at ${said(piece, from)} and ${high} at ${said(piece, to)}`,
      hint: 'change the two round',
    });
    return true;
  });
}

interface Taken {
  readonly planes: readonly Wall[];
  readonly body: Convex<Side>;
  readonly open: readonly Face[];
}

/** What a set of walls takes out of the hull; undefined after a report where that is nothing, all, or the middle. */
function takenBy(piece: Workpiece, shape: ResolvedShape, walls: readonly Wall[]): Taken | undefined {
  const { source } = shape;
  const corners = cornersOf(piece.hull);
  const planes = walls.filter(({ plane }) => reach(corners, plane.normal).high > plane.offset + OPEN);
  let body = piece.hull;
  for (const { plane } of planes) body = cutConvex(body, plane, 'face');
  if (body.length === 0) {
    const missed = walls.find(({ plane }) => reach(corners, plane.normal).low >= plane.offset - OPEN);
    const by = missed ? reach(corners, missed.plane.normal).low - missed.plane.offset : 0;
    const where = missed?.face ? ` ${missed.face} of` : '';
    return wrong(piece, 'beside', source.origin, {
      expected: `a ${source.called} that meets "${piece.key}"`,
      found: missed?.face
        ? `one whose ${missed.face} side lies ${by > OPEN ? `${said(piece, by)} beyond` : 'at'} the board's ${oppositeName(missed.face)}`
        : `one beside${where} it`,
      hint: 'places are those of the piece, from its left, front and floor',
    });
  }
  const left = AXES.map((axis) => {
    const whole = reach(corners, axis);
    const own = reach(cornersOf(body), axis);
    return { low: own.low - whole.low > OPEN, high: whole.high - own.high > OPEN };
  });
  const through = left.filter(({ low, high }) => !low && !high).length;
  const square = planes.every(({ plane }) => Math.max(...plane.normal.map(Math.abs)) > 1 - 1e-9);
  if (through === 3 && square)
    return wrong(piece, 'nothing-left', source.origin, {
      expected: `cuts that leave some of "${piece.key}"`,
      found: `a ${source.called} as large as the board`,
      hint: 'give a face of it that lies inside the board',
    });
  const middle = left.findIndex(({ low, high }) => low && high);
  if (through === 2 && middle >= 0 && square) {
    const own = reach(cornersOf(body), AXES[middle] as Vec3);
    const [low, high] = (['start', 'low edge', 'reverse'] as const).map(
      (side, i) => [side, (['end', 'high edge', 'face'] as const)[i]] as const,
    )[middle] as [Side, Side];
    return wrong(piece, 'in-two', source.origin, {
      expected: `a ${source.called} that leaves "${piece.key}" in one piece`,
      found: `one that cuts it in two, ${said(piece, own.low)} from its ${faceName(piece, low)} and ${said(piece, farCorner(piece.size)[middle as 0 | 1 | 2] - own.high)} from its ${faceName(piece, high)}`,
      hint: 'give a face that lies inside the board, so that some of it stays',
    });
  }
  const open = SIDES.filter((side) => {
    const out = outwardOf(side);
    return reach(corners, out).high - reach(cornersOf(body), out).high <= OPEN;
  }).map((side) => faceName(piece, side));
  return { planes, body, open };
}

const oppositeName = (face: Face): Face => FACES_OF[directionOf(face)][isLow(face) ? 1 : 0];

function boxOf(
  shape: ResolvedShape,
  taken: Taken,
  more: Partial<BoxCut> & Pick<BoxCut, 'name' | 'stopped'>,
): BoxCut {
  const points = cornersOf(taken.body);
  const spans = AXES.map((axis) => reach(points, axis));
  return {
    kind: 'box',
    called: shape.source.called,
    origin: shape.source.origin,
    planes: taken.planes.map(({ plane }) => plane),
    min: spans.map(({ low }) => low) as unknown as Vec3,
    max: spans.map(({ high }) => high) as unknown as Vec3,
    square: taken.planes.every(({ plane }) => Math.max(...plane.normal.map(Math.abs)) > 1 - 1e-9),
    open: taken.open,
    ...more,
  };
}

export function notch(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  if (turnedRound(piece, shape, 'box')) return undefined;
  const walls = wallsOf(piece, shape.places.box);
  const taken = takenBy(piece, shape, walls);
  if (!taken) return undefined;
  if (taken.open.length === 0)
    return wrong(piece, 'closed', shape.source.origin, {
      expected: `a notch open to a side of "${piece.key}"`,
      found: 'one shut in on all sides',
      hint: 'let one of its faces lie at the face of the board, or leave it out',
    });
  return [boxOf(shape, taken, { name: 'notch', stopped: [] })];
}

/** A housing, dado or groove: so deep into a face, between the faces that `at` gives. */
export function housing(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, values, places } = shape;
  const on = source.on[0];
  if (!on || turnedRound(piece, shape, 'at')) return undefined;
  const face = on.text as Face;
  const side = sideOf(piece.lie, face);
  const axis = axisOfSide(side);
  const depth = values.depth ?? 0;
  const whole = farCorner(piece.size)[axis];
  const hint = `less than ${said(piece, whole)}; a third is usual`;
  if (!(depth > OPEN) || depth >= whole - OPEN)
    return wrong(piece, 'too-deep', placeOfValue(shape, 'depth'), {
      expected: `a ${source.called} less deep than "${piece.key}", which is ${said(piece, whole)} there`,
      found: said(piece, depth),
      hint,
    });
  const walls = wallsOf(piece, places.at);
  const stray = walls.find((wall) => wall.face && axisAlong(piece, directionOf(wall.face)) === axis);
  if (stray?.face)
    return wrong(piece, 'place', source.places.at?.values[stray.face]?.origin ?? source.origin, {
      expected: `faces across the ${face} of "${piece.key}"`,
      found: stray.face,
      hint: `depth says how far it goes in from its ${face}`,
    });
  const taken = takenBy(piece, shape, [...walls, { plane: floorPlane(piece, side, depth) }]);
  if (!taken) return undefined;
  const closed = taken.planes.flatMap((wall) => (wall.face ? [wall.face] : []));
  const pairs = (['across', 'deep', 'up'] as const).filter((direction) =>
    FACES_OF[direction].every((one) => closed.includes(one)),
  );
  const at = places.at ?? {};
  const apart = (direction: (typeof pairs)[number]): number => {
    const [low, high] = FACES_OF[direction];
    return (at[high] as number) - (at[low] as number);
  };
  const narrow = [...pairs].sort((a, b) => apart(a) - apart(b))[0];
  return [
    boxOf(shape, taken, {
      name: source.kind === 'groove' ? 'groove' : 'housing',
      side,
      face,
      depth,
      ...(narrow ? { width: apart(narrow) } : {}),
      stopped: closed.filter((one) => narrow !== undefined && directionOf(one) !== narrow),
    }),
  ];
}

/** The bottom of a cut into a side: parallel to it, so deep. */
export function floorPlane(piece: Workpiece, side: Side, depth: number): Plane {
  const out = outwardOf(side);
  const normal = scale(out, -1);
  const at = scale(out, planeOfSide(side, piece.size) * (dot(out, [1, 1, 1]) > 0 ? 1 : -1));
  return { normal, offset: depth - dot(out, at) };
}

export function rebate(piece: Workpiece, shape: ResolvedShape): ShapeOperation[] | undefined {
  const { source, places } = shape;
  const box = places.box ?? {};
  const faces = FACES.filter((face) => box[face] !== undefined);
  const sides = faces.map((face) => sideOf(piece.lie, face));
  const [a, b] = sides;
  if (!a || !b || axisOfSide(a) === axisOfSide(b))
    return wrong(piece, 'edge', source.places.box?.origin ?? source.origin, {
      expected: 'two faces that meet in an edge',
      found: faces.join(' and '),
      hint: `${faceName(piece, 'reverse')} and ${faceName(piece, 'high edge')}`,
    });
  for (const face of faces) {
    const side = sideOf(piece.lie, face);
    const whole = farCorner(piece.size)[axisOfSide(side)];
    const amount = box[face] as number;
    if (!(amount > OPEN) || amount >= whole - OPEN)
      return wrong(piece, 'too-deep', source.places.box?.values[face]?.origin ?? source.origin, {
        expected: `a ${source.called} that takes less than the ${said(piece, whole)} of "${piece.key}" from its ${face}`,
        found: said(piece, amount),
      });
  }
  if (turnedRound(piece, shape, 'at')) return undefined;
  const run = [0, 1, 2].find((axis) => !sides.some((side) => axisOfSide(side) === axis)) as 0 | 1 | 2;
  const walls = wallsOf(piece, places.at);
  const stray = walls.find((wall) => wall.face && axisAlong(piece, directionOf(wall.face)) !== run);
  if (stray?.face)
    return wrong(piece, 'place', source.places.at?.values[stray.face]?.origin ?? source.origin, {
      expected: `where the ${source.called} stops along its edge`,
      found: stray.face,
      hint: 'the two faces say how far it goes in',
    });
  const taken = takenBy(piece, shape, [
    ...walls,
    ...faces.map((face) => ({ plane: floorPlane(piece, sideOf(piece.lie, face), box[face] as number) })),
  ]);
  if (!taken) return undefined;
  return [
    boxOf(shape, taken, {
      name: 'rebate',
      taken: faces.map((face) => [face, box[face] as number] as const),
      stopped: taken.planes.flatMap((wall) => (wall.face ? [wall.face] : [])),
    }),
  ];
}
