/**
 * Balloons: a part's letter in a circle beside the piece, its leader ending with a dot in the part's surface (ISO 6433). Places are
 * searched around the piece so that circles, counts and leaders keep clear of everything and of each other.
 */
import { text } from '../text.ts';
import { LETTER_SIZE, setLine, textAt } from './lettering.ts';
import { boxOfMark, line, type Mark, textQuad } from './marks.ts';
import {
  add,
  areaOfLoops,
  type Box,
  boxesMeet,
  boxOf,
  crossing,
  distance,
  distanceToSegment,
  inside,
  type Quad,
  quadOfBox,
  type Segment,
  shapesMeet,
  sidesOf,
  times,
  unit,
} from './plane.ts';
import type { Point } from './types.ts';

/** Circle of a balloon, mm across, and the height of its letter. */
export const BALLOON_RADIUS = 4.2;

type Loops = readonly (readonly Point[])[];

export interface WantedBalloon {
  readonly letter: string;
  readonly count: number;
  /** Visible surfaces it may point to, paper mm. */
  readonly surfaces: readonly Loops[];
}

/** What a balloon keeps clear of. */
export interface Surroundings {
  /** All visible surfaces of the piece. */
  readonly surfaces: readonly Loops[];
  readonly edges: readonly Segment[];
  /** Texts of sizes; their lines. */
  readonly texts: Quad[];
  readonly lines: Segment[];
}

interface Placed {
  readonly centre: Point;
  readonly dot: Point;
  readonly cost: number;
  readonly count?: Extract<Mark, { kind: 'text' }>;
}

/** Clear paper around a circle, mm. */
const CLEAR = 1;

/** Cells of the index of lines, mm: a circle with its clear paper reaches over three of them at most. */
const CELL = 6;

/** Lines by the cells they may touch, so that a place is compared with the few lines near it and not with all. */
class NearLines {
  private readonly cells = new Map<string, Segment[]>();

  constructor(segments: readonly Segment[]) {
    for (const segment of segments) {
      const box = boxOf(segment);
      this.eachCell(box, (key) => {
        const list = this.cells.get(key);
        if (list) list.push(segment);
        else this.cells.set(key, [segment]);
      });
    }
  }

  /** True where a line that may meet the box passes the test. */
  some(box: Box, test: (segment: Segment) => boolean): boolean {
    let found = false;
    this.eachCell(box, (key) => {
      found ||= this.cells.get(key)?.some(test) === true;
    });
    return found;
  }

  private eachCell(box: Box, visit: (key: string) => void): void {
    for (let x = Math.floor(box.left / CELL); x <= Math.floor(box.right / CELL); x++)
      for (let y = Math.floor(box.top / CELL); y <= Math.floor(box.bottom / CELL); y++) visit(`${x},${y}`);
  }
}

/** Marks of the balloons, in the order wanted. A letter without a visible surface gets none. */
export function placeBalloons(wanted: readonly WantedBalloon[], around: Surroundings): Mark[] {
  const placed: { want: WantedBalloon; at: Placed }[] = [];
  const boxes = around.surfaces.map((loops) => boxOf(loops.flat()));
  const middle = middleOf(boxes);
  const near = new NearLines([...around.edges, ...around.lines]);
  const edges = Float64Array.from(around.edges.flat(2));
  for (const want of [...wanted].sort((a, b) => room(a) - room(b))) {
    const at = placeOne(
      want,
      around,
      near,
      edges,
      boxes,
      middle,
      placed.map((p) => p.at),
    );
    if (at) placed.push({ want, at });
  }
  placed.sort((a, b) => wanted.indexOf(a.want) - wanted.indexOf(b.want));
  return placed.flatMap(({ want, at }) => balloonMarks(want, at));
}

/** Small parts choose first: they have fewer places for a dot. */
const room = (want: WantedBalloon): number => Math.max(0, ...want.surfaces.map(areaOfLoops));

function middleOf(boxes: readonly Box[]): Point {
  const corners = boxes.flatMap((b): Point[] => [
    [b.left, b.top],
    [b.right, b.bottom],
  ]);
  const box = boxOf(corners);
  return [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
}

/** A way from a dot outwards, along which the circle may stand. */
interface Ray {
  readonly dot: Point;
  readonly way: Point;
  /** What the dot and the direction cost, whatever the reach. */
  readonly start: number;
  /** Where the way crosses edges of the piece, mm from the dot; found when first needed. */
  crossings?: readonly number[];
  /** The leader runs into something: it will at any greater reach. */
  blocked: boolean;
}

/** Reaches that are tried, mm. */
const [NEAREST, FARTHEST, STEP] = [9, 90, 2];

/**
 * The cheapest place of a circle: near, outwards, its dot with room, its leader over few edges. Short reaches are tried first and
 * cheap ways before dear ones, so that the search ends soon after a good place is found.
 */
function placeOne(
  want: WantedBalloon,
  around: Surroundings,
  near: NearLines,
  edges: Float64Array,
  boxes: readonly Box[],
  middle: Point,
  others: readonly Placed[],
): Placed | undefined {
  let best: Placed | undefined;
  const rays = raysFor(want, middle);
  for (let reach = NEAREST; reach <= FARTHEST; reach += STEP)
    for (const ray of rays) {
      const base = reach * 0.5 + ray.start;
      if (best && base >= best.cost) break;
      if (ray.blocked) continue;
      const { dot, way } = ray;
      const centre = add(dot, times(way, reach));
      if (!circleIsClear(centre, around, near, boxes, others)) continue;
      const leader: Segment = [dot, add(dot, times(way, reach - BALLOON_RADIUS))];
      if (!leaderIsClear(leader, around, others)) {
        ray.blocked = true;
        continue;
      }
      ray.crossings ??= crossingsAlong(ray, edges);
      const cost = base + 1.1 * ray.crossings.filter((at) => at <= reach - BALLOON_RADIUS).length;
      if (best && cost >= best.cost) continue;
      const count =
        want.count > 1 ? countBeside(centre, want.count, leader, around, near, boxes, others) : undefined;
      if (want.count > 1 && !count) continue;
      best = { centre, dot, cost, ...(count ? { count } : {}) };
    }
  return best;
}

/** The ways from all dots, the cheapest first. */
function raysFor(want: WantedBalloon, middle: Point): Ray[] {
  const rays = dotsFor(want).flatMap(({ dot, free }) => {
    const outward = unit([dot[0] - middle[0], dot[1] - middle[1]]);
    return Array.from({ length: 36 }, (_, turn): Ray => {
      const angle = (turn * Math.PI) / 18 + 0.087;
      const way: Point = [Math.cos(angle), Math.sin(angle)];
      const away = way[0] * outward[0] + way[1] * outward[1];
      return { dot, way, start: (1 - away) * 3 + (1.6 - Math.min(1.6, free)) * 6, blocked: false };
    });
  });
  return rays.sort((a, b) => a.start - b.start);
}

/** Where a way crosses edges, mm from its dot. Plain arithmetic on plain numbers: it is done for thousands of ways. */
function crossingsAlong({ dot: [x, y], way: [dx, dy] }: Ray, edges: Float64Array): number[] {
  const found: number[] = [];
  for (let i = 0; i < edges.length; i += 4) {
    const ax = (edges[i] as number) - x;
    const ay = (edges[i + 1] as number) - y;
    const ex = (edges[i + 2] as number) - x - ax;
    const ey = (edges[i + 3] as number) - y - ay;
    const size = dx * ey - dy * ex;
    if (Math.abs(size) < 1e-9) continue;
    const along = (ax * ey - ay * ex) / size;
    const on = (ax * dy - ay * dx) / size;
    if (on >= 0 && on <= 1 && along >= 0 && along <= FARTHEST) found.push(along);
  }
  return found;
}

/** Places for the dot: in each of the larger surfaces, a few points clear of its sides. */
function dotsFor(want: WantedBalloon): { dot: Point; free: number }[] {
  const largest = [...want.surfaces].sort((a, b) => areaOfLoops(b) - areaOfLoops(a)).slice(0, 4);
  const total = areaOfLoops(largest[0] ?? []);
  return largest
    .filter((loops) => areaOfLoops(loops) > total / 4)
    .flatMap((loops) => {
      const box = boxOf(loops.flat());
      const sides = sidesOf(loops);
      const found: { dot: Point; free: number }[] = [];
      for (let i = 1; i < 16; i++)
        for (let j = 1; j < 16; j++) {
          const dot: Point = [
            box.left + ((box.right - box.left) * i) / 16,
            box.top + ((box.bottom - box.top) * j) / 16,
          ];
          if (!inside(dot, loops)) continue;
          found.push({ dot, free: Math.min(...sides.map((side) => distanceToSegment(dot, side))) });
        }
      // The best free places, spread over the surface.
      const enough = Math.min(1.6, Math.max(0, ...found.map((f) => f.free)) * 0.8);
      const good = found.filter((f) => f.free >= enough);
      const every = Math.max(1, Math.floor(good.length / 8));
      return good.filter((_, index) => index % every === 0);
    });
}

function circleIsClear(
  centre: Point,
  around: Surroundings,
  near: NearLines,
  boxes: readonly Box[],
  others: readonly Placed[],
): boolean {
  const far = BALLOON_RADIUS + CLEAR;
  const box: Box = {
    left: centre[0] - far,
    top: centre[1] - far,
    right: centre[0] + far,
    bottom: centre[1] + far,
  };
  if (near.some(box, (edge) => distanceToSegment(centre, edge) < far)) return false;
  if (around.surfaces.some((loops, i) => boxesMeet(boxes[i] as Box, box) && inside(centre, loops)))
    return false;
  const quad = quadOfBox(box);
  if (around.texts.some((other) => shapesMeet(quad, other))) return false;
  return others.every((other) => {
    if (distance(centre, other.centre) < 2 * BALLOON_RADIUS + 2 * CLEAR) return false;
    if (distanceToSegment(centre, [other.dot, other.centre]) < far) return false;
    return !other.count || !shapesMeet(quad, textQuad(other.count));
  });
}

function leaderIsClear(leader: Segment, around: Surroundings, others: readonly Placed[]): boolean {
  return (
    !around.texts.some((quad) => shapesMeet(quad, leader, 0.5)) &&
    !around.lines.some((other) => crossing(leader, other, 0.5)) &&
    others.every(
      (other) =>
        !crossing(leader, [other.dot, other.centre], 1) &&
        distanceToSegment(other.centre, leader) > BALLOON_RADIUS + CLEAR &&
        (!other.count || !shapesMeet(textQuad(other.count), leader, 0.5)),
    )
  );
}

/** `× 2` to the right of the circle, or to its left. */
function countBeside(
  centre: Point,
  count: number,
  leader: Segment,
  around: Surroundings,
  near: NearLines,
  boxes: readonly Box[],
  others: readonly Placed[],
): Placed['count'] {
  const lettering = setLine([text(`× ${count}`)]);
  for (const anchor of ['start', 'end'] as const) {
    const x = centre[0] + (anchor === 'start' ? 1 : -1) * (BALLOON_RADIUS + 1.3);
    const mark = textAt(lettering, [x, centre[1] + 1.25], { anchor });
    const quad = textQuad(mark, 0.6);
    const box = boxOfMark(mark);
    const on = around.surfaces.some(
      (loops, i) => boxesMeet(boxes[i] as Box, box) && quad.some((corner) => inside(corner, loops)),
    );
    const clear =
      !on &&
      !shapesMeet(quad, leader) &&
      !near.some(boxOf(quad), (edge) => shapesMeet(quad, edge)) &&
      !around.texts.some((other) => shapesMeet(quad, other)) &&
      others.every(
        (other) =>
          !shapesMeet(quad, quadOfBox(circleBox(other.centre))) &&
          !shapesMeet(quad, [other.dot, other.centre]) &&
          (!other.count || !shapesMeet(quad, textQuad(other.count))),
      );
    if (clear) return mark;
  }
  return undefined;
}

const circleBox = ([x, y]: Point): Box => ({
  left: x - BALLOON_RADIUS,
  top: y - BALLOON_RADIUS,
  right: x + BALLOON_RADIUS,
  bottom: y + BALLOON_RADIUS,
});

function balloonMarks(want: WantedBalloon, at: Placed): Mark[] {
  const way = unit([at.centre[0] - at.dot[0], at.centre[1] - at.dot[1]]);
  const long = want.letter.length > 1;
  const letter = setLine([text(want.letter)], long ? LETTER_SIZE * 0.83 : LETTER_SIZE, 600);
  const height = 0.66 * (long ? LETTER_SIZE * 0.83 : LETTER_SIZE);
  return [
    line('thin', [at.dot, add(at.centre, times(way, -BALLOON_RADIUS))]),
    { kind: 'dot', centre: at.dot },
    { kind: 'circle', centre: at.centre, radius: BALLOON_RADIUS, role: 'thin' },
    textAt(letter, [at.centre[0], at.centre[1] + height / 2], { anchor: 'middle' }),
    ...(at.count ? [at.count] : []),
  ];
}
