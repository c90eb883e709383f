/** What a part's sheet says of curved outlines, worked edges and tongues. */

import type { FlatPoint, FlatStretch, Outline, Side } from '../../model/shape.ts';
import type { BlankSize, Vec3 } from '../../model/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import type { BoardSide } from '../views/board-views.ts';
import {
  type Feature,
  type FeatureNote,
  type FeatureSize,
  type FeatureWords,
  lengthAlong,
  near,
  type Of,
  placed,
  SAME,
  type Saying,
  spanned,
} from './feature.ts';
import { grouped } from './part-holes.ts';

export function outlineFeatures(
  index: number,
  shape: Of<'outline'>,
  size: BlankSize,
  say: Saying,
  how: 'drawn' | 'listed',
): Feature[] {
  if (shape.arc) return [];
  const corners = cornersOf(shape);
  const points = [...corners.map(({ at, names }) => ({ at, names })), ...centresToSay(shape, corners)];
  return [
    ...(how === 'listed' ? listedPoints(index, points, size, say) : pointSizes(index, points, size, say)),
    ...radiusNotes(index, shape, size, say),
  ];
}

type Bow = {
  readonly index: number;
  readonly shape: Of<'outline'>;
  readonly arc: NonNullable<Outline['arc']>;
};

/**
 * Rise and span of hollows and crowns, those alike in one note; the radius follows from them, and stands in brackets (ISO 129-1).
 */
export function bowFeatures(
  outlines: readonly { index: number; shape: Of<'outline'> }[],
  size: BlankSize,
  say: Saying,
): Feature[] {
  const bows = outlines.flatMap(({ index, shape }): Bow[] =>
    shape.arc ? [{ index, shape, arc: shape.arc }] : [],
  );
  const key = ({ arc }: Bow): string =>
    [arc.form, arc.rise.toFixed(2), arc.radius.toFixed(2), arc.span.toFixed(2)].join();
  const notes = grouped(bows, key).map((alike): FeatureNote => {
    const { form, rise, radius } = (alike[0] as Bow).arc;
    return {
      kind: 'note',
      on: 'face',
      at: alike.map(({ shape }) => [...bowOf(shape).middle, size.thickness]),
      text: [
        text(alike.length > 1 ? `${alike.length} ${form}s, rise ` : `${form}, rise `),
        say.size(rise),
        text(' (R '),
        say.size(radius),
        text(')'),
      ],
      of: alike.map(({ index }) => `${index} arc`),
    };
  });
  const spans = bows.flatMap(({ index, shape, arc }): FeatureSize[] => {
    const axis = arc.side === 'start' || arc.side === 'end' ? 1 : 0;
    const bow = bowOf(shape);
    const [from, to] = [bow.from[axis], bow.to[axis]].sort((a, b) => a - b) as [number, number];
    return spanned('face', axis, from, to, size, say, `${index}`, `the ${arc.form}`).map((one) => ({
      ...one,
      beside: bow.middle[0],
    }));
  });
  return [...notes, ...spans];
}

/** The longest arc of an outline, with the point in its middle. */
function bowOf(shape: Outline): { from: FlatPoint; to: FlatPoint; middle: FlatPoint } {
  let best = { from: shape.start, to: shape.start, middle: shape.start, size: 0 };
  walk(shape, ({ from, to, arc }) => {
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (arc && size > best.size) best = { from, to, middle: along(from, to, arc, 0.5), size };
  });
  return best;
}

// ---------------------------------------------------------------- free outlines

interface Walked {
  readonly index: number;
  readonly from: FlatPoint;
  readonly to: FlatPoint;
  readonly arc?: NonNullable<FlatStretch['arc']>;
}

function walk(shape: Outline, visit: (stretch: Walked) => void): void {
  let from = shape.start;
  shape.stretches.forEach(({ to, arc }, index) => {
    visit({ index, from, to, ...(arc ? { arc } : {}) });
    from = to;
  });
}

/** The angle that an arc turns through, radians, positive. */
function turnOf(from: FlatPoint, to: FlatPoint, arc: NonNullable<FlatStretch['arc']>): number {
  const at = (p: FlatPoint): number => Math.atan2(p[1] - arc.centre[1], p[0] - arc.centre[0]);
  const turn = (at(to) - at(from)) * (arc.counterclockwise ? 1 : -1);
  return turn > 1e-9 ? turn : turn + 2 * Math.PI;
}

/** A point of an arc, a share of the way along it. */
function along(
  from: FlatPoint,
  to: FlatPoint,
  arc: NonNullable<FlatStretch['arc']>,
  share: number,
): FlatPoint {
  const start = Math.atan2(from[1] - arc.centre[1], from[0] - arc.centre[0]);
  const angle = start + turnOf(from, to, arc) * share * (arc.counterclockwise ? 1 : -1);
  return [arc.centre[0] + arc.radius * Math.cos(angle), arc.centre[1] + arc.radius * Math.sin(angle)];
}

/** A place that has to be set out. `names` say of which corners of the outline, counted from its start: `p3`; a sharp one behind a rounding is `s3`. */
interface SetOut {
  readonly at: FlatPoint;
  readonly names: readonly string[];
}

/**
 * Corners of an outline to set out: where its stretches meet. Where an arc only rounds the corner of two straights, that corner is set out
 * sharp, and the radius says the rest.
 */
export function cornersOf(shape: Outline): SetOut[] {
  const all: Walked[] = [];
  walk(shape, (one) => all.push(one));
  const rounded = new Map<number, FlatPoint>();
  for (const one of all) {
    const before = all[(one.index + all.length - 1) % all.length] as Walked;
    const after = all[(one.index + 1) % all.length] as Walked;
    const sharp = one.arc && !before.arc && !after.arc ? sharpCorner(before, one, after) : undefined;
    if (sharp) rounded.set(one.index, sharp);
  }
  return all.flatMap(({ index, from }): SetOut[] => {
    // Corner `index` is where stretch `index` begins.
    const sharp = rounded.get(index);
    if (sharp) return [{ at: sharp, names: [`s${index}`] }];
    return rounded.has((index + all.length - 1) % all.length) ? [] : [{ at: from, names: [`p${index}`] }];
  });
}

/** Where two straights would meet, if the arc between them touches both; undefined for other arcs. */
function sharpCorner(before: Walked, one: Walked, after: Walked): FlatPoint | undefined {
  const arc = one.arc;
  if (!arc || turnOf(one.from, one.to, arc) > (170 * Math.PI) / 180) return undefined;
  const touches = (stretch: Walked, at: FlatPoint): boolean => {
    const [dx, dy] = [stretch.to[0] - stretch.from[0], stretch.to[1] - stretch.from[1]];
    const [rx, ry] = [at[0] - arc.centre[0], at[1] - arc.centre[1]];
    return Math.abs(dx * rx + dy * ry) < 1e-3 * Math.hypot(dx, dy) * arc.radius;
  };
  if (!touches(before, one.from) || !touches(after, one.to)) return undefined;
  // A touching arc that turns back is a cusp, not a rounding: the straights go on the same way round.
  const [ax, ay] = [before.to[0] - before.from[0], before.to[1] - before.from[1]];
  const [rx, ry] = [one.from[0] - arc.centre[0], one.from[1] - arc.centre[1]];
  const sign = arc.counterclockwise ? 1 : -1;
  if ((-ry * ax + rx * ay) * sign < 0) return undefined;
  const [bx, by] = [after.to[0] - after.from[0], after.to[1] - after.from[1]];
  const [tx, ty] = [one.to[0] - arc.centre[0], one.to[1] - arc.centre[1]];
  if ((-ty * bx + tx * by) * sign < 0) return undefined;
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < 1e-9 * Math.hypot(ax, ay) * Math.hypot(bx, by)) return undefined;
  const t = ((one.to[0] - one.from[0]) * by - (one.to[1] - one.from[1]) * bx) / cross;
  return [one.from[0] + t * ax, one.from[1] + t * ay];
}

/** From this angle on an arc isn't safe to strike from its ends and radius: a hair on the radius moves its middle far. */
const WIDE = (100 * Math.PI) / 180;

/** Middles of wide arcs that don't just round a corner, which are set out too. */
function centresToSay(shape: Outline, corners: readonly SetOut[]): SetOut[] {
  const made: SetOut[] = [];
  const rounds = new Set(corners.flatMap(({ names }) => names).filter((name) => name.startsWith('s')));
  walk(shape, ({ index, from, to, arc }) => {
    if (arc && !rounds.has(`s${index}`) && turnOf(from, to, arc) > WIDE)
      made.push({ at: arc.centre, names: [`c${index}`] });
  });
  return made;
}

/** Each place along and across once, for all the corners that share it, at the one that lies nearest to a rim. */
function pointSizes(index: number, points: readonly SetOut[], size: BlankSize, say: Saying): FeatureSize[] {
  const sizes: FeatureSize[] = [];
  for (const { at, names } of points)
    for (const axis of [0, 1] as const) {
      const of = names.map((name) => `${index} ${name} ${'xy'[axis]}`);
      for (const one of placed('face', axis, at[axis], size, say, of, 'a corner of the outline')) {
        const own: FeatureSize = { ...one, beside: at[0], ...startsAt(one, axis, at, size) };
        const known = sizes.findIndex(
          (other) => other.axis === axis && near(other.from, one.from) && near(other.to, one.to),
        );
        if (known < 0) sizes.push(own);
        else {
          const other = sizes[known] as FeatureSize;
          const rim = (value: number): number => Math.min(value, size.length - value);
          const nearer = axis === 1 && rim(own.beside ?? 0) < rim(other.beside ?? 0) ? own : other;
          sizes[known] = { ...nearer, of: [...other.of, ...of] };
        }
      }
    }
  return sizes;
}

/** The size's lines begin at the corner that it is for, and at the rim that it is measured from. */
function startsAt(
  one: FeatureSize,
  axis: 0 | 1,
  [x, y]: FlatPoint,
  size: BlankSize,
): { starts: readonly [Vec3, Vec3] } {
  const z = size.thickness;
  const corner: Vec3 = [x, y, z];
  const first = near(one.from, axis === 0 ? x : y);
  const at = first ? one.to : one.from;
  const rim: Vec3 = axis === 0 ? [at, y, z] : [x, at, z];
  return { starts: first ? [corner, rim] : [rim, corner] };
}

/** Corners in a list with a number at each: for outlines with more of them than sizes find places. */
function listedPoints(index: number, points: readonly SetOut[], size: BlankSize, say: Saying): Feature[] {
  const marks = points.map(
    ({ at, names }, i): FeatureNote => ({
      kind: 'note',
      on: 'face',
      at: [[at[0], at[1], size.thickness]],
      text: [text(`${i + 1}`)],
      of: names.map((name) => `${index} ${name} mark`),
    }),
  );
  const list: Line = points.flatMap(({ at }, i): Run[] => [
    text(`${i === 0 ? 'Corners and centres, from the left end and the lower edge: ' : '; '}${i + 1} at `),
    ...placeWords(at[0], 'start', say),
    text(', '),
    ...placeWords(at[1], 'low edge', say),
  ]);
  return [...marks, { kind: 'words', text: list, of: [`${index} list`] }];
}

/** `120`; of a middle that lies off the board `35 beyond the lower edge`. */
const placeWords = (at: number, from: Side, say: Saying): Run[] =>
  at > -SAME ? [say.size(Math.max(0, at))] : [say.size(-at), text(` beyond the ${say.side(from)}`)];

/** Radii, those alike together. */
function radiusNotes(index: number, shape: Outline, size: BlankSize, say: Saying): FeatureNote[] {
  const radii = new Map<string, { at: Vec3[]; of: string[]; radius: number }>();
  walk(shape, ({ index: i, from, to, arc }) => {
    if (!arc) return;
    const key = arc.radius.toFixed(1);
    const known = radii.get(key) ?? { at: [], of: [], radius: arc.radius };
    known.at.push([...along(from, to, arc, 0.5), size.thickness]);
    known.of.push(`${index} radius ${i}`);
    radii.set(key, known);
  });
  return [...radii.values()].map(({ at, of, radius }) => ({
    kind: 'note',
    on: 'face',
    at,
    text: [text(at.length > 1 ? `${at.length} × R ` : 'R '), say.size(radius)],
    of,
  }));
}

// ---------------------------------------------------------------- edges and tongues

/** `Edges of the show face rounded, R 6`; `Edge of show face and upper edge chamfered, 3 × 45°`. */
export function edgeWords(index: number, work: Of<'edge'>, say: Saying): FeatureWords[] {
  const names = edgeNames(work, say).join(', ');
  const which = `${names.charAt(0).toUpperCase()}${names.slice(1)}`;
  const size: Line =
    work.name === 'round'
      ? [text(`${which} rounded, R `), say.size(work.size)]
      : [text(`${which} chamfered, `), say.size(work.size), text(' × 45°')];
  const made: FeatureWords = { kind: 'words', text: size, of: [`${index} size`] };
  if (!work.left) return [made];
  // The shape depends on the cutter there.
  const bearing: Line = [
    text(
      `Its inside corners${work.follows?.some(({ towards }) => towards) ? ' and ends' : ''} as a bearing of `,
    ),
    ...say.diameter(work.bearing ?? 0),
    text(' leaves them'),
  ];
  return [made, { kind: 'words', text: bearing, of: [`${index} bearing`] }];
}

const ROUND: Readonly<Record<Side, readonly Side[]>> = {
  start: ['low edge', 'high edge', 'reverse', 'face'],
  end: ['low edge', 'high edge', 'reverse', 'face'],
  'low edge': ['start', 'end', 'reverse', 'face'],
  'high edge': ['start', 'end', 'reverse', 'face'],
  reverse: ['start', 'end', 'low edge', 'high edge'],
  face: ['start', 'end', 'low edge', 'high edge'],
};

/** Edges through the thickness. */
const CORNERS: readonly (readonly [Side, Side])[] = [
  ['start', 'low edge'],
  ['start', 'high edge'],
  ['end', 'low edge'],
  ['end', 'high edge'],
];

/** The edges worked, by the sides of the board as it lies on the sheet: all, those along it, those round a side, single ones. */
function edgeNames(work: Of<'edge'>, say: Saying): string[] {
  const names: string[] = [];
  if (work.said.includes('all') && !work.holes?.length) return ['all edges'];
  const key = (a: Side, b: Side): string => [a, b].sort().join();
  const left = new Map(work.edges.map(([a, b]) => [key(a, b), [a, b] as const]));
  const take = (list: readonly (readonly [Side, Side])[], name: string): void => {
    if (!list.every(([a, b]) => left.has(key(a, b)))) return;
    for (const [a, b] of list) left.delete(key(a, b));
    names.push(name);
  };
  const long = (['low edge', 'high edge'] as const).flatMap((a) =>
    (['reverse', 'face'] as const).map((b) => [a, b] as const),
  );
  take(long, 'long edges');
  for (const side of ['face', 'reverse', 'start', 'end', 'low edge', 'high edge'] as const)
    take(
      ROUND[side].map((other) => [side, other] as const),
      `edges round the ${say.side(side)}`,
    );
  take(CORNERS, 'all four corners');
  const corners = CORNERS.filter(([a, b]) => left.delete(key(a, b))).map(([a, b]) => [
    say.side(a),
    say.side(b),
  ]);
  if (corners.length > 0)
    names.push(
      `corner${corners.length > 1 ? 's' : ''} of ${corners.map((pair) => pair.join(' and ')).join(', of ')}`,
    );
  const single = [...left.values()].map(([a, b]) => `${say.side(a)} and ${say.side(b)}`);
  if (single.length > 0) names.push(`edge${single.length > 1 ? 's' : ''} of ${single.join(', of ')}`);
  for (const { wide, towards } of work.follows ?? [])
    names.push(
      `edges of the outline on the ${say.side(wide)}${towards ? ` towards the ${towards.map((side) => say.side(side)).join(' and ')}` : ''}`,
    );
  if (work.holes && work.holes.length > 0)
    names.push(`rims of the holes in the ${work.holes.map((side) => say.side(side)).join(' and the ')}`);
  return names;
}

export function tongueFeatures(index: number, shape: Of<'tongue'>, size: BlankSize, say: Saying): Feature[] {
  const { tongue } = shape;
  if (!tongue) return [];
  const atEnd = tongue.side === 'start' || tongue.side === 'end';
  const axis = atEnd ? 0 : 1;
  const whole = lengthAlong(size, axis);
  const far = tongue.side === 'end' || tongue.side === 'high edge';
  const on: BoardSide = atEnd ? 'edge' : 'end';
  const [low, high] = far ? [whole - tongue.length, whole] : [0, tongue.length];
  return [
    ...spanned(on, axis, low, high, size, say, `${index} tongue`, 'the tongue'),
    ...spanned(
      on,
      2,
      tongue.from,
      tongue.from + tongue.thickness,
      size,
      say,
      `${index} tongue`,
      'the tongue',
    ).map((one) => ({ ...one, beside: far ? size.length : 0 })),
  ];
}
