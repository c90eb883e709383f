/**
 * Balloons: a part's letter in a circle beside the piece, its leader ending with a dot in the part's surface (ISO 6433). Places are
 * searched around the piece so that circles, counts and leaders keep clear of everything and of each other.
 */
import { text } from '../../text.ts';
import type { Point } from '../types.ts';
import { ClearPaper } from './clear-paper.ts';
import { LETTER_SIZE, setLine, textAt } from './lettering.ts';
import { boxOfMark, line, type Mark, textQuad } from './marks.ts';
import {
  add,
  areaOfLoops,
  type Box,
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
  readonly count?: Count;
}

/** `× 2` beside a circle, and the paper it takes. */
interface Count {
  readonly mark: Extract<Mark, { kind: 'text' }>;
  readonly quad: Quad;
}

/** Clear paper around a circle, mm. */
const CLEAR = 1;

/** Marks of the balloons, in the order wanted. A letter without a visible surface gets none. */
export function placeBalloons(wanted: readonly WantedBalloon[], around: Surroundings): Mark[] {
  const placed: { want: WantedBalloon; at: Placed }[] = [];
  const middle = middleOf(around.surfaces.map((loops) => boxOf(loops.flat())));
  const paper = new ClearPaper([...around.edges, ...around.lines], around.surfaces, BALLOON_RADIUS + CLEAR);
  const edges = Float64Array.from(around.edges.flat(2));
  for (const want of [...wanted].sort((a, b) => room(a) - room(b))) {
    const at = placeOne(
      want,
      around,
      paper,
      edges,
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

/** Ways outwards from dots, along which the circle may stand. */
interface Rays {
  readonly dots: readonly Point[];
  /** What the dot and the direction cost, whatever the reach; of each dot all ways in turn. */
  readonly start: Float64Array;
}

/** Reaches that are tried, mm, and what each millimetre costs. */
const [NEAREST, FARTHEST, STEP, PER_MM] = [9, 90, 2, 0.5];

/** Ways that start this much dearer than the cheapest are looked at only where the others give no better place. */
const FIRST = 4;

/** The cheapest place of a circle: near, outwards, its dot with room, its leader over few edges. */
function placeOne(
  want: WantedBalloon,
  around: Surroundings,
  paper: ClearPaper,
  edges: Float64Array,
  middle: Point,
  others: readonly Placed[],
): Placed | undefined {
  const rays = raysFor(want, middle);
  const limit = rays.start.reduce((least, cost) => Math.min(least, cost), Infinity) + FIRST;
  const within = (most: number): Placed | undefined =>
    cheapest(want, rays, most, around, paper, edges, others);
  const best = within(limit);
  return best && best.cost <= limit + NEAREST * PER_MM ? best : within(Infinity);
}

/**
 * The cheapest place along ways that start no dearer than `most`. Short reaches are tried first and cheap ways before dear ones, so that
 * the search ends soon after a good place is found.
 */
function cheapest(
  want: WantedBalloon,
  { dots, start }: Rays,
  most: number,
  around: Surroundings,
  paper: ClearPaper,
  edges: Float64Array,
  others: readonly Placed[],
): Placed | undefined {
  const order: number[] = [];
  for (let ray = 0; ray < start.length; ray++) if ((start[ray] as number) <= most) order.push(ray);
  order.sort((a, b) => (start[a] as number) - (start[b] as number) || a - b);
  let best: Placed | undefined;
  // No greater reach on the same way is any better.
  const done = new Uint8Array(start.length);
  for (let reach = NEAREST; reach <= FARTHEST; reach += STEP)
    for (const ray of order) {
      const base = reach * PER_MM + (start[ray] as number);
      if (best && base >= best.cost) break;
      if (done[ray] === 1) continue;
      const dot = dots[Math.floor(ray / WAYS.length)] as Point;
      const way = WAYS[ray % WAYS.length] as Point;
      const centre = add(dot, times(way, reach));
      if (!paper.isClear(centre) || !circleIsClear(centre, around, others)) continue;
      const leader: Segment = [dot, add(dot, times(way, reach - BALLOON_RADIUS))];
      const cost = leaderIsClear(leader, around, others)
        ? base + 1.1 * crossingsOf(leader, edges)
        : Number.POSITIVE_INFINITY;
      if (cost >= (best?.cost ?? Number.POSITIVE_INFINITY)) {
        done[ray] = 1;
        continue;
      }
      const count =
        want.count > 1 ? countBeside(centre, want.count, leader, around, paper, others) : undefined;
      if (want.count > 1 && !count) continue;
      done[ray] = 1;
      best = { centre, dot, cost, ...(count ? { count } : {}) };
    }
  return best;
}

/** Directions that are tried, every ten degrees; none of them level or upright, where edges are. */
const WAYS = Array.from({ length: 36 }, (_, turn): Point => {
  const angle = (turn * Math.PI) / 18 + 0.087;
  return [Math.cos(angle), Math.sin(angle)];
});

function raysFor(want: WantedBalloon, middle: Point): Rays {
  const found = dotsFor(want);
  const start = new Float64Array(found.length * WAYS.length);
  found.forEach(({ dot, free }, i) => {
    const [x, y] = unit([dot[0] - middle[0], dot[1] - middle[1]]);
    const cramped = (1.6 - Math.min(1.6, free)) * 6;
    WAYS.forEach((way, k) => {
      start[i * WAYS.length + k] = (1 - (way[0] * x + way[1] * y)) * 3 + cramped;
    });
  });
  return { dots: found.map(({ dot }) => dot), start };
}

/** How many edges a leader crosses. Plain arithmetic on plain numbers: it is done for thousands of them. */
function crossingsOf([[x, y], [toX, toY]]: Segment, edges: Float64Array): number {
  const [dx, dy] = [toX - x, toY - y];
  const least = 1e-9 * Math.sqrt(dx * dx + dy * dy);
  const [left, right, top, bottom] = [Math.min(0, dx), Math.max(0, dx), Math.min(0, dy), Math.max(0, dy)];
  let count = 0;
  for (let i = 0; i < edges.length; i += 4) {
    const ax = (edges[i] as number) - x;
    const bx = (edges[i + 2] as number) - x;
    if ((ax < left && bx < left) || (ax > right && bx > right)) continue;
    const ay = (edges[i + 1] as number) - y;
    const by = (edges[i + 3] as number) - y;
    if ((ay < top && by < top) || (ay > bottom && by > bottom)) continue;
    const [ex, ey] = [bx - ax, by - ay];
    const size = dx * ey - dy * ex;
    if (Math.abs(size) < least) continue;
    const along = (ax * ey - ay * ex) / size;
    const on = (ax * dy - ay * dx) / size;
    if (on >= 0 && on <= 1 && along >= 0 && along <= 1) count++;
  }
  return count;
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
          let free = Number.POSITIVE_INFINITY;
          for (const side of sides) free = Math.min(free, distanceToSegment(dot, side));
          found.push({ dot, free });
        }
      // The best free places, spread over the surface.
      const enough = Math.min(1.6, Math.max(0, ...found.map((f) => f.free)) * 0.8);
      const good = found.filter((f) => f.free >= enough);
      const every = Math.max(1, Math.floor(good.length / 8));
      return good.filter((_, index) => index % every === 0);
    });
}

/** True where a circle is clear of texts and of the balloons that stand already. */
function circleIsClear(centre: Point, around: Surroundings, others: readonly Placed[]): boolean {
  const far = BALLOON_RADIUS + CLEAR;
  for (const other of others) {
    if (distance(centre, other.centre) < 2 * far) return false;
    if (distanceToSegment(centre, [other.dot, other.centre]) < far) return false;
  }
  if (around.texts.length === 0 && others.every((other) => !other.count)) return true;
  const [x, y] = centre;
  const quad = quadOfBox({ left: x - far, top: y - far, right: x + far, bottom: y + far });
  return (
    !around.texts.some((other) => shapesMeet(quad, other)) &&
    !others.some((other) => other.count && shapesMeet(quad, other.count.quad))
  );
}

function leaderIsClear(leader: Segment, around: Surroundings, others: readonly Placed[]): boolean {
  return (
    !around.texts.some((quad) => shapesMeet(quad, leader, 0.5)) &&
    !around.lines.some((other) => crossing(leader, other, 0.5)) &&
    others.every(
      (other) =>
        !crossing(leader, [other.dot, other.centre], 1) &&
        distanceToSegment(other.centre, leader) > BALLOON_RADIUS + CLEAR &&
        (!other.count || !shapesMeet(other.count.quad, leader, 0.5)),
    )
  );
}

/** `× 2` to the right of the circle, or to its left. */
function countBeside(
  centre: Point,
  count: number,
  leader: Segment,
  around: Surroundings,
  paper: ClearPaper,
  others: readonly Placed[],
): Count | undefined {
  const lettering = setLine([text(`× ${count}`)]);
  for (const anchor of ['start', 'end'] as const) {
    const x = centre[0] + (anchor === 'start' ? 1 : -1) * (BALLOON_RADIUS + 1.3);
    const mark = textAt(lettering, [x, centre[1] + 1.25], { anchor });
    const quad = textQuad(mark, 0.6);
    const clear =
      !paper.holds(boxOfMark(mark), quad) &&
      !shapesMeet(quad, leader) &&
      !paper.some(boxOf(quad), (edge) => shapesMeet(quad, edge)) &&
      !around.texts.some((other) => shapesMeet(quad, other)) &&
      others.every(
        (other) =>
          !shapesMeet(quad, quadOfBox(circleBox(other.centre))) &&
          !shapesMeet(quad, [other.dot, other.centre]) &&
          (!other.count || !shapesMeet(quad, other.count.quad)),
      );
    if (clear) return { mark, quad: textQuad(mark) };
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
    ...(at.count ? [at.count.mark] : []),
  ];
}
