/**
 * What a part's sheet says of housings that joints cut out of square to the board: they are set out on the face, so sizes are those of
 * their lines there; how deep they are and which walls are undercut stands on a leader.
 */
import { axisOfSide, outwardOf } from '../../model/sides.ts';
import type { BlankSize, Side, Vec3 } from '../../model/types.ts';
import { reach } from '../../resolve/convex.ts';
import { dot, subtract, unit } from '../../resolve/vectors.ts';
import { type Run, text } from '../../text.ts';
import type { BoardSide } from '../views/board-views.ts';
import {
  type Feature,
  type FeatureNote,
  lengthAlong,
  type Of,
  placed,
  type Saying,
  spanned,
} from './feature.ts';

const OWN: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
/** The view that looks at a side. */
const VIEW: Readonly<Record<Exclude<Side, 'reverse'>, BoardSide>> = {
  face: 'face',
  'low edge': 'edge',
  'high edge': 'edge',
  start: 'end',
  end: 'end',
};

type Box = Of<'box'>;
type Housing = Box & { readonly side: Side; readonly layout: NonNullable<Box['layout']> };

/** True for a housing that is set out on its face; those that are square to the board have sizes like any other cut. */
export const isSetOut = (cut: Box): cut is Housing =>
  cut.layout !== undefined && cut.side !== undefined && !cut.square;

/** Sizes, angles and a leader of one housing. */
export function housingFeatures(index: number, cut: Housing, size: BlankSize, say: Saying): Feature[] {
  const { opening, walls } = cut.layout;
  const on = cut.side === 'reverse' ? say.on : VIEW[cut.side];
  const flat = ([0, 1, 2] as const).filter((axis) => axis !== axisOfSide(cut.side));
  const what = `the housing for the ${(cut.joint?.part ?? '').toLowerCase()}`;
  const turned = walls.filter(({ turn }) => turn !== 0);
  if (turned.length > 0) return skewFeatures(index, cut, size, say, on, what);
  const beside = reach(opening, OWN[0] as Vec3);
  const sizes = flat.flatMap((axis) => {
    const { low, high } = reach(opening, OWN[axis] as Vec3);
    const closed = walls.filter((wall) => axisOfSide(wall.side) === axis);
    const far = closed.some(({ side }) => dot(outwardOf(side), OWN[axis] as Vec3) > 0);
    const near = closed.some(({ side }) => dot(outwardOf(side), OWN[axis] as Vec3) < 0);
    // Open at an end that is cut out of square it is measured from the board's long point, as its length is.
    return spanned(
      on,
      axis,
      near ? low : 0,
      far ? high : lengthAlong(size, axis),
      size,
      say,
      `${index}`,
      what,
    );
  });
  return [
    ...sizes.map((one) => ({
      ...one,
      ...(one.axis === 0 ? {} : { beside: (beside.low + beside.high) / 2 }),
    })),
    leader(index, cut, on, say),
  ];
}

/** A housing whose lines are out of parallel: one corner by two sizes, the angle of its run, its width, and its end walls in words. */
function skewFeatures(
  index: number,
  cut: Housing,
  size: BlankSize,
  say: Saying,
  on: BoardSide,
  what: string,
): Feature[] {
  const { opening, run } = cut.layout;
  const flat = ([0, 1, 2] as const).filter((axis) => axis !== axisOfSide(cut.side));
  const sides = opening.map((p, i) => ({ from: p, to: opening[(i + 1) % opening.length] as Vec3 }));
  const along = (v: Vec3): number => Math.abs(v[run]);
  // The longest stretch that runs with the end is the line of a long wall.
  const [line] = [...sides].sort((a, b) => along(subtract(b.to, b.from)) - along(subtract(a.to, a.from))) as [
    (typeof sides)[number],
  ];
  const [corner, other] = line.from[run] <= line.to[run] ? [line.from, line.to] : [line.to, line.from];
  const way = unit(subtract(other, corner));
  const angle = (Math.acos(Math.min(1, Math.abs(way[run]))) * 180) / Math.PI;
  const long = Math.hypot(...subtract(other, corner));
  const straight = OWN[run] as Vec3;
  return [
    ...flat.flatMap((axis) =>
      placed(on, axis, corner[axis], size, say, [`${index} ${'xyz'[axis]} corner`], `a corner of ${what}`),
    ),
    {
      kind: 'angle',
      on,
      corner,
      along: straight,
      cut: way,
      reach: long,
      text: [text(say.angle(angle))],
      of: [`${index} turn`],
    },
    leader(index, cut, on, say, [
      text(', '),
      say.size(cut.width ?? 0),
      text(' wide and '),
      say.size(long),
      text(' long'),
    ]),
  ];
}

/** `housing for the long rail, 1/4″ deep; wall at the left end undercut 8°`. */
function leader(
  index: number,
  cut: Housing,
  on: BoardSide,
  say: Saying,
  more: readonly Run[] = [],
): FeatureNote {
  const { opening, walls, run } = cut.layout;
  const middle = opening
    .reduce<Vec3>((sum, p) => [sum[0] + p[0], sum[1] + p[1], sum[2] + p[2]], [0, 0, 0])
    .map((v) => v / opening.length) as unknown as Vec3;
  const places = [0, 0.5, -0.5, 0.8, -0.8].flatMap((u) =>
    opening.map(
      (p): Vec3 =>
        [0, 1, 2].map(
          (i) => (middle[i] as number) + Math.abs(u) * ((p[i] as number) - (middle[i] as number)),
        ) as unknown as Vec3,
    ),
  );
  const slants = walls.flatMap(({ side, undercut, turn }): Run[] => {
    const said = [
      ...(turn !== 0 && axisOfSide(side) === run ? [`${say.angle(turn)} out of square`] : []),
      ...(undercut === 0
        ? []
        : [`${undercut > 0 ? 'undercut' : 'sloped in'} ${say.angle(Math.abs(undercut))}`]),
    ];
    return said.length === 0 ? [] : [text(`; wall at the ${say.side(side)} ${said.join(', ')}`)];
  });
  const hidden: readonly Run[] =
    cut.side === 'reverse' ? say.fromBehind() : on === 'edge' ? [text(`, in the ${say.side(cut.side)}`)] : [];
  return {
    kind: 'note',
    on,
    dot: true,
    at: places,
    text: [
      text(`housing for the ${(cut.joint?.part ?? '').toLowerCase()}`),
      ...hidden,
      text(', '),
      say.size(cut.depth ?? 0),
      text(' deep'),
      ...more,
      ...slants,
    ],
    of: [`${index} deep`],
  };
}
