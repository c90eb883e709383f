/**
 * Parts out of upright or out of level, between two points, or between parts that lean: their unit vectors, blank, end cuts and
 * extents. Angles are as seen square from the front or the side, so a foot that goes out by `a` and `b` runs along
 * (tan a, tan b, 1).
 */
import type { Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Direction, Face } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { reach } from './convex.ts';
import { DIRECTIONS, directionOf, FACES_OF, isLow } from './directions.ts';
import { facingPlanes } from './facing.ts';
import { isStraight, type PartFacts, thirdDirection } from './facts.ts';
import { depthInto } from './housings.ts';
import { betweenSpan, faceOf, target } from './placement.ts';
import { type Axes, axisOf, leanAxes } from './pose-axes.ts';
import { bracePose } from './pose-brace.ts';
import type { Pose, PoseBody, PoseCut } from './pose-types.ts';
import { figure } from './quantities.ts';
import { add, dot, scale, type Triple } from './vectors.ts';

const SAME = 0.01;

/** True where a part isn't a plain box along the axes. */
export function isPosed(context: Context, facts: PartFacts): boolean {
  const { lean, brace, between } = facts.source;
  if (lean || brace) return true;
  return (between ?? []).some((written) => {
    const other = target(context, written);
    return other !== undefined && other !== facts && (!!other.source.lean || !!other.source.brace);
  });
}

/** Where an end or an edge of a leaning part is cut: along which of the piece's axes. */
function cutFaces(context: Context, facts: PartFacts, straight: boolean): readonly Face[] | undefined {
  const { lean, runs, key, lay } = facts.source;
  if (!lean) return [];
  const ends = FACES_OF[runs.value];
  if (!lean.cut) return straight ? [] : ends;
  // the edges of courses stay square, so that all but the ripped ones are alike
  const edges = straight && !lay;
  for (const { value, origin } of lean.cut) {
    const along = directionOf(value);
    const fits = along === runs.value || (edges && along === facts.widthAlong);
    if (fits) continue;
    const may = edges ? [...ends, ...FACES_OF[facts.widthAlong]] : ends;
    context.report(
      fault('lean.cut', origin, {
        expected: `an end${edges ? ' or an edge' : ''} of "${key}": ${may.join(', ')}`,
        found: value,
        parts: [key],
      }),
    );
    return undefined;
  }
  return lean.cut.map((one) => one.value);
}

/** A span along a direction whose low and high end are cut square to `along`, or parallel to the piece (`axis`). */
interface Ends {
  /** For each base point where its line begins and ends, beside the solved length. */
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Extent along the axis is `extent + solved * slope`, the board's own length `own + solved`. */
  readonly extent: number;
  readonly own: number;
  readonly slope: number;
}

function endsOf(
  bases: readonly Triple[],
  along: Triple,
  axis: Triple,
  cut: readonly [boolean, boolean],
): Ends {
  const slope = dot(along, axis);
  const [low, high] = cut.map((is) => bases.map((b) => (is ? -dot(axis, b) / slope : 0))) as [
    number[],
    number[],
  ];
  const at = (list: readonly number[]) => list.map((s, i) => dot(axis, bases[i] as Triple) + s * slope);
  return {
    low,
    high,
    slope,
    extent: Math.max(...at(high)) - Math.min(...at(low)),
    own: Math.max(...high) - Math.min(...low),
  };
}

/** The body of a posed part. Its place along a direction is right where `placed` says so; else it is relative. */
export interface Body extends PoseBody {
  readonly placed: Readonly<Record<Direction, boolean>>;
}

const NOWHERE = { across: false, deep: false, up: false };

/** Body of a posed part, before it is set in place; undefined after a report. */
export function bodyOf(context: Context, facts: PartFacts, origin: Origin): Body | undefined {
  const { key, brace } = facts.source;
  return context.graph.value(`${key}.body`, origin, (): Body | undefined => {
    if (!facts.stock || facts.broken) return undefined;
    if (brace) return bracePose(context, facts, brace);
    const axes = leanAxes(context, facts);
    if (!axes) return undefined;
    const straight = Math.abs(dot(axes.length, axisOf(facts.source.runs.value)) - 1) < 1e-12;
    const cut = cutFaces(context, facts, straight);
    return cut && leaningBody(context, facts, { axes, straight, cut });
  });
}

interface Lie {
  readonly axes: Axes;
  /** True where its length runs along an axis of the piece. */
  readonly straight: boolean;
  readonly cut: readonly Face[];
}

function leaningBody(context: Context, facts: PartFacts, { axes, straight, cut }: Lie): Body | undefined {
  const { source, stock, thickAlong, widthAlong } = facts;
  const { key, runs, rip } = source;
  const thick = stock?.thickness ?? 0;
  const isCut = (direction: Direction) =>
    FACES_OF[direction].map((face) => cut.includes(face)) as [boolean, boolean];
  // Across: from one edge to the other, at either wide face.
  const flipped = dot(axes.width, axisOf(widthAlong)) < 0;
  const widthAxis = scale(axisOf(widthAlong), flipped ? -1 : 1);
  const edgeCut = straight ? isCut(widthAlong) : ([false, false] as const);
  const sides = endsOf(
    [0, thick].map((z) => scale(axes.thickness, z)),
    axes.width,
    widthAxis,
    flipped ? [edgeCut[1], edgeCut[0]] : [edgeCut[0], edgeCut[1]],
  );
  const both = FACES_OF[widthAlong].map((face) => source.at[face]);
  // courses are one board as wide as their field until they are told apart
  const { lay } = source;
  const level = dot(axes.width, widthAxis) > 1 - 1e-12;
  if (lay && !straight && !level) {
    context.report(
      fault('lean.courses', source.lean?.origin ?? lay.origin, {
        expected: `courses of "${key}" that slope one way: along their length or across it`,
        found: 'both',
        hint: 'leave one of the two faces out',
        parts: [key],
      }),
    );
    return undefined;
  }
  let across: number | undefined;
  if (rip && !lay) across = numberOf(context, `${key}.width`, rip, 'length');
  else if (lay || (both.every((one) => one) && straight)) {
    const [low, high] = FACES_OF[widthAlong].map((face) => faceOf(context, facts, face, source.origin));
    across =
      low === undefined || high === undefined
        ? undefined
        : (high - low - sides.extent) / sides.slope + sides.own;
  } else across = stock?.sheets ? undefined : stock?.cover;
  if (across === undefined) return undefined;
  const solved = across - sides.own;
  const bases = [0, 1].flatMap((j) =>
    [0, 1].map((k) =>
      add(
        scale(axes.width, j === 0 ? (sides.low[k] as number) : (sides.high[k] as number) + solved),
        scale(axes.thickness, k * thick),
      ),
    ),
  );
  const ends = straight
    ? straightEnds(context, facts, bases)
    : leaningEnds(context, facts, endsOf(bases, axes.length, axisOf(runs.value), isCut(runs.value)));
  if (!ends) return undefined;
  const corners = [
    ...bases.map((b, i) => add(b, scale(axes.length, ends.low[i] as number))),
    ...bases.map((b, i) => add(b, scale(axes.length, ends.high[i] as number))),
  ];
  const shortest = Math.min(...ends.high.map((high, i) => high - (ends.low[i] as number)));
  const [start, end] = [Math.min(...ends.low), Math.max(...ends.high)];
  if (shortest <= SAME) {
    const { numbers } = context.edition;
    context.report(
      fault('lean.short', (source.length ?? source.lean ?? source).origin, {
        expected: `"${key}" long enough for both its ends to meet their faces`,
        found:
          shortest > -SAME ? 'ends that meet in a point' : `ends that cross by ${figure(-shortest, numbers)}`,
        hint: 'make it longer, or lean it less',
        parts: [key],
      }),
    );
    return undefined;
  }
  const lowest = Math.min(...sides.low);
  const shift = ends.shift ?? [0, 0, 0];
  // Ends against leaning neighbours have their planes; edges of such a board are cut like those of any other.
  const planes: PoseCut[] = [...(ends.cuts ?? [])];
  for (const face of cut) {
    if (planes.some((one) => one.face === face)) continue;
    const normal = scale(axisOf(directionOf(face)), isLow(face) ? -1 : 1);
    const { high } = reach(corners, normal);
    planes.push({ face, plane: { normal, offset: high + dot(normal, shift) } });
  }
  const placed = {
    ...NOWHERE,
    ...(ends.shift ? { [thickAlong]: true, [widthAlong]: true, [runs.value]: true } : {}),
  };
  return {
    ...axes,
    origin: add(shift, add(scale(axes.length, start), scale(axes.width, lowest))),
    size: { length: end - start, width: across, thickness: thick },
    corners: corners.map((p) => add(p, shift)),
    cuts: planes,
    shortest,
    placed,
  };
}

interface SolvedEnds {
  readonly low: readonly number[];
  readonly high: readonly number[];
  /** Where its place is known already: how it is moved there, and the planes its ends are cut to. */
  readonly shift?: Triple;
  readonly cuts?: readonly PoseCut[];
}

/** Ends of a board whose length leans: from both faces, or from a length. */
function leaningEnds(context: Context, facts: PartFacts, ends: Ends): SolvedEnds | undefined {
  const { source } = facts;
  const { key, length, runs, between } = source;
  let solved: number | undefined;
  if (length) {
    const own = numberOf(context, `${key}.length`, length, 'length');
    solved = own === undefined ? undefined : own - ends.own;
  } else {
    const faces = FACES_OF[runs.value];
    if (!between && !faces.every((face) => source.at[face])) return undefined;
    const span = between ? betweenSpan(context, facts) : undefined;
    const [low, high] = between
      ? [span?.low, span?.high]
      : faces.map((face) => faceOf(context, facts, face, source.origin));
    solved = low === undefined || high === undefined ? undefined : (high - low - ends.extent) / ends.slope;
  }
  if (solved === undefined) return undefined;
  return { low: ends.low, high: ends.high.map((s) => s + (solved as number)) };
}

/** Ends of a board whose length runs along an axis: square, or against the faces of leaning parts. */
function straightEnds(context: Context, facts: PartFacts, bases: readonly Triple[]): SolvedEnds | undefined {
  const { source, thickAlong, widthAlong } = facts;
  const { runs, key, length, between } = source;
  if (between && isBetweenPosed(context, facts)) {
    // Its place across is known without its ends.
    const shift = [0, 0, 0];
    for (const direction of [thickAlong, widthAlong]) {
      const axis = axisOf(direction);
      const own = reach(bases, axis);
      const [low, high] = FACES_OF[direction].map((face) => source.at[face]);
      const at = low
        ? faceOf(context, facts, FACES_OF[direction][0], low.origin)
        : high && faceOf(context, facts, FACES_OF[direction][1], high.origin);
      if (at === undefined) return undefined;
      shift[DIRECTIONS.indexOf(direction)] = low ? at - own.low : at - own.high;
    }
    const moved = shift as unknown as Triple;
    const planes = facingPlanes(context, facts);
    if (!planes) return undefined;
    const axis = axisOf(runs.value);
    const cuts: PoseCut[] = [];
    for (const [index, { plane, part }] of planes.entries()) {
      const depth = depthInto(context, facts, part, source.origin);
      if (depth === undefined) return undefined;
      cuts.push({
        face: FACES_OF[runs.value][index] as Face,
        plane: { ...plane, offset: plane.offset + depth },
        against: part,
      });
    }
    const [low, high] = cuts.map(({ plane }) =>
      bases.map((b) => (plane.offset - dot(plane.normal, add(b, moved))) / dot(plane.normal, axis)),
    ) as [number[], number[]];
    return { low, high, shift: moved, cuts };
  }
  let size: number | undefined;
  if (length) size = numberOf(context, `${key}.length`, length, 'length');
  else {
    const span = between ? betweenSpan(context, facts) : undefined;
    const faces = FACES_OF[runs.value];
    if (!between && !faces.every((face) => source.at[face])) return undefined;
    const [low, high] = between
      ? [span?.low, span?.high]
      : faces.map((face) => faceOf(context, facts, face, source.origin));
    size = low === undefined || high === undefined ? undefined : high - low;
  }
  if (size === undefined) return undefined;
  const zero = bases.map(() => 0);
  return { low: zero, high: zero.map(() => size as number) };
}

/** True where one of the parts it fits between leans or is a brace. */
export function isBetweenPosed(context: Context, facts: PartFacts): boolean {
  return (facts.source.between ?? []).some((written) => {
    const other = target(context, written);
    return other !== undefined && other !== facts && isPosed(context, other);
  });
}

/** Extent of a posed part along a direction, mm. */
export function extentOf(
  context: Context,
  facts: PartFacts,
  direction: Direction,
  origin: Origin,
): number | undefined {
  const body = bodyOf(context, facts, origin);
  if (!body) return undefined;
  const { low, high } = reach(body.corners, axisOf(direction));
  return high - low;
}

/** Coordinate of a face of a posed part where its body is already in place along that direction. */
export function placedFace(
  context: Context,
  facts: PartFacts,
  face: Face,
  origin: Origin,
): number | undefined | 'elsewhere' {
  const { source } = facts;
  const direction = directionOf(face);
  const known = source.brace
    ? direction !== thirdDirection(facts)
    : direction === source.runs.value && isBetweenPosed(context, facts) && isStraight(facts);
  if (!known) return 'elsewhere';
  const body = bodyOf(context, facts, origin);
  if (!body) return undefined;
  const { low, high } = reach(body.corners, axisOf(direction));
  return isLow(face) ? low : high;
}

/** A posed part in its place; undefined after a report. */
export function poseOf(context: Context, facts: PartFacts, origin: Origin): Pose | undefined {
  const { key } = facts.source;
  return context.graph.value(`${key}.place`, origin, (): Pose | undefined => {
    const body = bodyOf(context, facts, origin);
    if (!body) return undefined;
    const shift = [0, 0, 0];
    for (const direction of DIRECTIONS) {
      if (body.placed[direction]) continue;
      const [face] = FACES_OF[direction];
      const at = faceOf(context, facts, face, origin);
      if (at === undefined) return undefined;
      shift[DIRECTIONS.indexOf(direction)] = at - reach(body.corners, axisOf(direction)).low;
    }
    const moved = shift as unknown as Triple;
    const { placed: _, ...rest } = body;
    return {
      ...rest,
      origin: add(body.origin, moved),
      corners: body.corners.map((p) => add(p, moved)),
      cuts: body.cuts.map((cut) => ({
        ...cut,
        plane: { ...cut.plane, offset: cut.plane.offset + dot(cut.plane.normal, moved) },
      })),
    };
  });
}
