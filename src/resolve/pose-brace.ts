/** A part between two points: each end lies against a face of the piece's planes, or stays square at a point. */
import { fault } from '../diagnostics.ts';
import type { BraceSource, PlaceSource } from '../read/shape-types.ts';
import type { Direction, Face } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { DIRECTIONS, directionOf, FACES, FACES_OF, isLow } from './directions.ts';
import { type PartFacts, thirdDirection } from './facts.ts';
import { depthAt } from './housings.ts';
import type { Body } from './pose.ts';
import { axisOf } from './pose-axes.ts';
import type { PoseCut } from './pose-types.ts';
import { figure } from './quantities.ts';
import { add, cross, dot, norm, scale, subtract, type Triple, unit } from './vectors.ts';

/** An end that meets its face at less than this, in degrees, can't be cut or held. */
const FLATTEST = 8;

interface BraceEnd {
  /** Where the middle line ends; 0 across the plane. */
  readonly point: Triple;
  /** The face it is cut against. */
  readonly face?: Face;
  readonly source: PlaceSource;
}

/** The body of a brace, in place in its own plane; undefined after a report. */
export function bracePose(context: Context, facts: PartFacts, brace: BraceSource): Body | undefined {
  const { source, stock, thickAlong } = facts;
  const { key, runs, rip } = source;
  const ends = (['from', 'to'] as const).map((name) => endOf(context, facts, name, brace[name]));
  const [from, to] = ends;
  const width = rip
    ? numberOf(context, `${key}.width`, rip, 'length')
    : stock?.sheets
      ? undefined
      : stock?.cover;
  if (!from || !to || width === undefined || !stock) return undefined;
  const third = thirdDirection(facts);
  const wrong = (
    id: string,
    where: PlaceSource,
    expected: string,
    found: string,
    hint: string,
  ): undefined => {
    context.report(fault(id, where.origin, { expected, found, hint, parts: [key] }));
    return undefined;
  };
  if (third === runs.value)
    return wrong(
      'brace.plane',
      brace.from,
      `ends of "${key}", which runs ${runs.value}, at different places ${runs.value}`,
      'the same place',
      'let it run along one of the two directions that its ends name',
    );
  const between = subtract(to.point, from.point);
  if (norm(between) < 1)
    return wrong(
      'brace.short',
      brace.to,
      'two ends apart',
      'both in one place',
      'give the other end another place',
    );
  const sign = dot(between, axisOf(runs.value)) < 0 ? -1 : 1;
  const [low, high] = sign < 0 ? [to, from] : [from, to];
  const length = unit(scale(between, sign));
  const flatwise = thickAlong === third;
  const normal = scale(axisOf(third), flatwise && isLow(facts.wideFace) ? -1 : 1);
  const thickness = flatwise ? normal : orient(cross(length, normal), facts.wideFace);
  const across = cross(thickness, length);
  const thick = stock.thickness;
  const bases = [0, 1].flatMap((j) =>
    [0, 1].map((k) =>
      add(
        scale(across, (j - (flatwise ? 0.5 : 0)) * width),
        scale(thickness, (k - (flatwise ? 0 : 0.5)) * thick),
      ),
    ),
  );
  const cuts: PoseCut[] = [];
  const at: number[][] = [];
  for (const [end, outward] of [
    [low, -1],
    [high, 1],
  ] as const) {
    const axis = end.face && axisOf(directionOf(end.face));
    const slope = axis ? dot(axis, length) : 1;
    if (Math.abs(slope) < Math.sin((FLATTEST * Math.PI) / 180)) {
      const angle = (Math.asin(Math.abs(slope)) * 180) / Math.PI;
      return wrong(
        'brace.flat',
        end.source,
        `"${key}" to meet the face at its ${end.face} at ${FLATTEST} deg or more`,
        `${Number(angle.toFixed(1))} deg`,
        'move one of its ends',
      );
    }
    const far = slope * outward > 0;
    const level = axis && dot(end.point, axis);
    const deep =
      end.face === undefined || level === undefined
        ? 0
        : depthAt(context, facts, directionOf(end.face), far ? 'high' : 'low', level, end.source.origin);
    if (deep === undefined) return undefined;
    // Square to the face that it lies against.
    const start = dot(end.point, length) + (outward * deep) / Math.abs(slope);
    at.push(bases.map((b) => (axis ? start - dot(axis, b) / slope : start)));
    if (axis && end.face) {
      const facing = scale(axis, far ? 1 : -1);
      cuts.push({
        face: FACES_OF[runs.value][outward < 0 ? 0 : 1],
        plane: { normal: facing, offset: dot(facing, end.point) + deep },
      });
    }
  }
  // The middle line may lie beside the axis through 0.
  const line = subtract(low.point, scale(length, dot(low.point, length)));
  const points = at.flatMap((list) =>
    list.map((s, i) => add(line, add(bases[i] as Triple, scale(length, s)))),
  );
  const [lows, highs] = at as [number[], number[]];
  const shortest = Math.min(...highs.map((s, i) => s - (lows[i] as number)));
  if (shortest <= 0.01)
    return wrong(
      'brace.short',
      brace.to,
      `ends of "${key}" far enough apart for its width of ${figure(width, context.edition.numbers)}`,
      `ends that cross by ${figure(-shortest, context.edition.numbers)}`,
      'move them apart, or take a narrower board',
    );
  const start = Math.min(...lows);
  return {
    length,
    width: across,
    thickness,
    origin: add(line, add(bases[0] as Triple, scale(length, start))),
    size: { length: Math.max(...highs) - start, width, thickness: thick },
    corners: points,
    cuts,
    shortest,
    placed: Object.fromEntries(DIRECTIONS.map((one) => [one, one !== third])) as Record<Direction, boolean>,
  };
}

const orient = (vector: Triple, face: Face): Triple => {
  const axis = scale(axisOf(directionOf(face)), isLow(face) ? -1 : 1);
  return scale(vector, dot(vector, axis) < 0 ? -1 : 1);
};

function endOf(
  context: Context,
  facts: PartFacts,
  name: 'from' | 'to',
  end: PlaceSource,
): BraceEnd | undefined {
  const { key } = facts.source;
  const given = Object.entries(end.values);
  const faces = given.filter(([word]) => (FACES as readonly string[]).includes(word));
  const wrong = (found: string): undefined => {
    context.report(
      fault('brace.end', end.origin, {
        expected: 'a face the end is cut against and a direction for its place along it, or two directions',
        found,
        hint: `${name}: { left: leg.right, up: 6 in }`,
        parts: [key],
      }),
    );
    return undefined;
  };
  if (given.length !== 2 || faces.length > 1)
    return wrong(given.length === 0 ? 'nothing' : given.map(([word]) => word).join(', '));
  const point = [0, 0, 0];
  const seen = new Set<Direction>();
  for (const [word, written] of given) {
    const direction = (DIRECTIONS as readonly string[]).includes(word)
      ? (word as Direction)
      : directionOf(word as Face);
    if (seen.has(direction)) return wrong(given.map(([one]) => one).join(', '));
    seen.add(direction);
    const value = written && numberOf(context, `${key}.${name} ${word}`, written, 'length');
    if (value === undefined) return undefined;
    point[DIRECTIONS.indexOf(direction)] = value;
  }
  const face = faces[0]?.[0] as Face | undefined;
  return { point: point as unknown as Triple, source: end, ...(face === undefined ? {} : { face }) };
}
