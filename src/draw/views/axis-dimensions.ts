/**
 * Sizes in a pictorial, along the axes of the piece: the size's line runs parallel to its edge, moved out along another axis until it
 * stands clear of the piece.
 */
import type { Bounds, Vec3 } from '../../model/types.ts';
import type { Line } from '../../text.ts';
import { DIMENSION } from '../paper/dimensions.ts';
import { type Lettering, setLine, textAt } from '../paper/lettering.ts';
import { line, type Mark, textQuad } from '../paper/marks.ts';
import {
  add,
  crossing,
  distance,
  dot,
  inside,
  type Quad,
  type Segment,
  shapesMeet,
  subtract,
  times,
  unit,
} from '../paper/plane.ts';
import type { PaperView } from '../shading/shade.ts';
import type { Point, ViewFrame } from '../types.ts';
import type { Axis } from './principal.ts';

/** A size along an axis between two places; `of` are the boards whose ends it measures. */
export interface AxisSize {
  readonly axis: Axis;
  readonly from: number;
  readonly to: number;
  readonly text: Line;
  /** A height above the floor: it may also be taken from a board that passes that height. */
  readonly height?: true;
}

/** What stands on the paper. */
export interface Ground {
  /** Edges and surfaces that a size's lines may not run over; over others they may, where there is nothing better. */
  readonly strong: { readonly edges: readonly Segment[]; readonly surfaces: Ground['surfaces'] };
  readonly edges: readonly Segment[];
  readonly surfaces: readonly (readonly (readonly Point[])[])[];
  readonly texts: Quad[];
  readonly lines: Segment[];
}

/** An extension line longer than this leads the eye away, mm. */
const LONGEST = 34;

/** Axes nearer than this in direction on paper look like one, degrees. */
const APART = 15;

/**
 * The axes of the piece along which a size can be told from the others: of two that lie in one direction on paper, as in a view nearly
 * from above or level with the piece, the one that is shortened more has none.
 */
export function readableAxes({ right, up }: Pick<ViewFrame, 'right' | 'up'>): readonly Axis[] {
  const onPaper = ([0, 1, 2] as const).map((axis) => {
    const [u, v] = [right[axis], up[axis]];
    return { axis, size: Math.hypot(u, v), angle: (Math.atan2(v, u) * 180) / Math.PI };
  });
  const between = (a: number, b: number): number => {
    const turn = Math.abs(a - b) % 180;
    return Math.min(turn, 180 - turn);
  };
  return onPaper
    .filter(({ axis, size, angle }) =>
      onPaper.every(
        (other) =>
          other.axis === axis ||
          other.size < size - 1e-9 ||
          (Math.abs(other.size - size) < 1e-9 && other.axis > axis) ||
          between(other.angle, angle) >= APART,
      ),
    )
    .map(({ axis }) => axis);
}

interface Candidate {
  readonly cost: number;
  readonly marks: readonly Mark[];
  readonly lines: readonly Segment[];
  readonly quad: Quad;
}

/** Places sizes around a pictorial in the order given; one without a clear place is left out. */
export function placeAxisSizes(
  view: PaperView,
  boxes: readonly Bounds[],
  sizes: readonly AxisSize[],
  ground: Ground,
): Mark[] {
  const whole = unite(boxes);
  return sizes.flatMap((size) => {
    let best: Candidate | undefined;
    for (const out of [0, 1, 2] as const) {
      if (out === size.axis) continue;
      const level = (3 - out - size.axis) as Axis;
      for (const sign of [-1, 1] as const)
        for (const at of levels(boxes, whole, level)) {
          const candidate = candidateAt(view, boxes, size, { out, sign, level, at }, ground);
          if (candidate && (!best || candidate.cost < best.cost)) best = candidate;
        }
    }
    if (!best) return [];
    ground.lines.push(...best.lines);
    ground.texts.push(best.quad);
    return [...best.marks];
  });
}

const unite = (boxes: readonly Bounds[]): Bounds => ({
  min: [0, 1, 2].map((i) => Math.min(...boxes.map((b) => b.min[i] as number))) as unknown as Vec3,
  max: [0, 1, 2].map((i) => Math.max(...boxes.map((b) => b.max[i] as number))) as unknown as Vec3,
});

/** Heights of the corner lines to try: the ends of the piece first. */
function levels(boxes: readonly Bounds[], whole: Bounds, axis: Axis): number[] {
  const all = boxes.flatMap((b) => [b.min[axis], b.max[axis]]);
  return [...new Set([whole.min[axis], whole.max[axis], ...all].map((v) => Math.round(v * 100) / 100))].slice(
    0,
    14,
  );
}

const place = (axis: Axis, value: number, out: Axis, off: number, level: Axis, at: number): Vec3 => {
  const p: [number, number, number] = [0, 0, 0];
  p[axis] = value;
  p[out] = off;
  p[level] = at;
  return p;
};

function candidateAt(
  view: PaperView,
  boxes: readonly Bounds[],
  size: AxisSize,
  corner: { out: Axis; sign: 1 | -1; level: Axis; at: number },
  ground: Ground,
): Candidate | undefined {
  const { out, sign, level, at } = corner;
  const ends = [size.from, size.to].map((value) => {
    // The board whose end lies here and which reaches furthest out: the extension line starts at it.
    const reaching = boxes
      .filter(
        (b) =>
          (Math.abs(b.min[size.axis] - value) < 0.3 ||
            Math.abs(b.max[size.axis] - value) < 0.3 ||
            (size.height && b.min[size.axis] < value && value < b.max[size.axis])) &&
          b.min[level] - 0.3 <= at &&
          at <= b.max[level] + 0.3,
      )
      .map((b) => (sign > 0 ? b.max[out] : b.min[out]));
    return reaching.length === 0 ? undefined : sign * Math.max(...reaching.map((v) => v * sign));
  });
  const [first, second] = ends;
  if (first === undefined || second === undefined) return undefined;
  const on = (value: number, off: number): Point => view.space(place(size.axis, value, out, off, level, at));
  const start: [Point, Point] = [on(size.from, first), on(size.to, second)];
  // The places of both ends on the axes themselves: from there the size's line lies equally far out.
  const base: [Point, Point] = [on(size.from, 0), on(size.to, 0)];
  const way = unit(subtract(on(size.from, sign * 100), base[0]));
  const along = unit(subtract(base[1], base[0]));
  const lettering = setLine(size.text);
  const furthest = Math.max(...start.map((p, i) => dot(subtract(p, base[i] as Point), way)));
  for (let off = DIMENSION.first; off <= 26; off += 1) {
    const made = dimensionAt(start, base, way, along, furthest + off, lettering);
    if (!made || !clear(made, ground)) continue;
    const reachOut = made.extensions.reduce((sum, e) => sum + distance(...e), 0);
    if (made.extensions.some((e) => distance(...e) > LONGEST)) return undefined;
    const over = made.extensions.filter((e) => ground.edges.some((edge) => crossing(e, edge))).length;
    if (over > 0 && out === 2) continue;
    const upper = way[1] < -0.1 ? 8 : 0;
    // Heights stand to the left, where the eye looks for them.
    const right = size.height && way[0] > 0 ? 3 : 0;
    // Downwards in the picture a size seems to hang on nothing: along the floor it is clearer.
    const upright = out === 2 ? 5 : 0;
    return {
      cost: off + reachOut * 0.4 + over * 9 + upper + upright + right,
      marks: made.marks,
      lines: made.all,
      quad: made.quad,
    };
  }
  return undefined;
}

interface Made {
  readonly marks: readonly Mark[];
  readonly line: Segment;
  readonly extensions: readonly Segment[];
  readonly all: readonly Segment[];
  readonly quad: Quad;
}

function dimensionAt(
  start: readonly [Point, Point],
  base: readonly [Point, Point],
  way: Point,
  along: Point,
  off: number,
  lettering: Lettering,
): Made | undefined {
  const ends: [Point, Point] = [add(base[0], times(way, off)), add(base[1], times(way, off))];
  const size = distance(...ends);
  if (size < 2) return undefined;
  const extensions = start.map(
    (p, i): Segment => [add(p, times(way, DIMENSION.gap)), add(ends[i] as Point, times(way, DIMENSION.past))],
  );
  const angle = readable((Math.atan2(along[1], along[0]) * 180) / Math.PI);
  const turn = (angle * Math.PI) / 180;
  const rise = lettering.hasFraction ? DIMENSION.aboveFraction : DIMENSION.above;
  const up: Point = [Math.sin(turn) * rise, -Math.cos(turn) * rise];
  const reading: Point = [Math.cos(turn), Math.sin(turn)];
  const [low, high] = dot(reading, along) > 0 ? ends : [ends[1], ends[0]];
  const tick = DIMENSION.stroke / 2 / Math.SQRT2;
  // The stroke stands at 45 degrees to the paper, leaning whichever way crosses the line more squarely.
  const lean = angle < -1 && angle > -89 ? 1 : -1;
  const strokes = ends.map(
    ([x, y]): Segment => [
      [x - tick, y - lean * tick],
      [x + tick, y + lean * tick],
    ],
  );
  // In the middle of the line, or outside on the line prolonged, clear of its own slanting extension lines.
  for (const outside of size >= lettering.width + 3.2 ? [0, 2, 4, 6, 8] : [2, 4, 6, 8]) {
    const away = outside + lettering.width / 2;
    const centre = outside === 0 ? times(add(low, high), 0.5) : add(low, times(reading, -away));
    const text = textAt(lettering, add(centre, up), { anchor: 'middle', angle });
    const quad = textQuad(text);
    if ([...extensions, ...strokes].some((own) => shapesMeet(quad, own, 0.4))) continue;
    const from = outside === 0 ? low : add(low, times(reading, -(away + lettering.width / 2 + 0.6)));
    return {
      marks: [line('thin', ...extensions, [from, high]), line('stroke', ...strokes), text],
      line: [from, high],
      extensions,
      all: [...extensions, [from, high] as const, ...strokes],
      quad,
    };
  }
  return undefined;
}

/** Turned so that it is read from the bottom or from the right: −90 up to (but not) 90. */
const readable = (angle: number): number => {
  const turned = ((((angle + 90) % 180) + 180) % 180) - 90;
  return Math.abs(turned - 90) < 1e-6 ? -90 : turned;
};

/** Clear of the piece by 3 mm, and of what else stands there. */
function clear(made: Made, ground: Ground): boolean {
  if (ground.edges.some((edge) => shapesMeet(edge, made.line, 3) || shapesMeet(made.quad, edge, 1)))
    return false;
  if (made.extensions.some((e) => ground.strong.edges.some((edge) => crossing(e, edge)))) return false;
  if (made.extensions.some(([start]) => ground.strong.surfaces.some((loops) => inside(start, loops))))
    return false;
  const middle = times(add(...made.line), 0.5);
  if (ground.surfaces.some((loops) => inside(middle, loops))) return false;
  if (
    ground.texts.some(
      (quad) => made.all.some((l) => shapesMeet(quad, l, 0.5)) || shapesMeet(quad, made.quad, 0.5),
    )
  )
    return false;
  return !ground.lines.some((other) => crossing(made.line, other, 0.5) || shapesMeet(made.quad, other, 0.5));
}
