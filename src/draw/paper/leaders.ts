/** Notes on a leader that ends with an arrow on a line of the drawing, or with a dot in a surface (ISO 128-22). */
import type { Line } from '../../text.ts';
import type { Point } from '../types.ts';
import { DIMENSION, type Obstacles } from './dimensions.ts';
import { setLine, textAt } from './lettering.ts';
import { line, type Mark, textQuad } from './marks.ts';
import {
  add,
  type Box,
  boxOf,
  crossing,
  distance,
  type Quad,
  type Segment,
  shapesMeet,
  times,
} from './plane.ts';

/** A note to a place. */
export interface WantedLeader {
  readonly text: Line;
  /** Places it may point to, best first; a rim is given by several of its points. */
  readonly tips: readonly Point[];
  /** With the middle of what a rim goes round, the leader points there. */
  readonly middle?: Point;
  readonly of?: string;
  /** Notes end on a line with an arrow; in a surface with a dot. */
  readonly end: 'arrow' | 'dot';
}

const LEAST = 5;
const MOST = 40;

/** Places notes in the order given. `left` are those without a clear place; they have to be said elsewhere. */
export function placeLeaders(
  wanted: readonly WantedLeader[],
  obstacles: Obstacles,
  bounds: Box,
  taken: (text: Box) => boolean = () => false,
): { marks: Mark[]; left: WantedLeader[] } {
  const marks: Mark[] = [];
  const left: WantedLeader[] = [];
  for (const want of wanted) {
    const best = bestLeader(want, obstacles, bounds, taken);
    if (!best) {
      left.push(want);
      continue;
    }
    const { tip, foot, underline, text } = best;
    marks.push(
      line('thin', [tip, foot], underline),
      want.end === 'arrow' ? { kind: 'arrow', tip, from: foot } : { kind: 'dot', centre: tip },
      text,
    );
    obstacles.extensions.push([tip, foot], underline);
    obstacles.texts.push(textQuad(text));
  }
  return { marks, left };
}

interface Placed {
  readonly cost: number;
  readonly tip: Point;
  readonly foot: Point;
  readonly underline: Segment;
  readonly text: Extract<Mark, { kind: 'text' }>;
}

function bestLeader(
  want: WantedLeader,
  obstacles: Obstacles,
  bounds: Box,
  taken: (text: Box) => boolean,
): Placed | undefined {
  const lettering = setLine(want.text);
  const rise = lettering.hasFraction ? DIMENSION.aboveFraction : DIMENSION.above;
  const run = lettering.width + 1.4;
  let best: Placed | undefined;
  want.tips.forEach((tip, rank) => {
    for (let turn = 0; turn < 24; turn++) {
      const angle = ((turn + 0.5) * Math.PI) / 12;
      const way: Point = [Math.cos(angle), Math.sin(angle)];
      // Level leaders look like dimension lines, and one to a rim comes from outside it.
      if (Math.abs(way[1]) < 0.25) continue;
      if (
        want.middle &&
        (tip[0] - want.middle[0]) * way[0] + (tip[1] - want.middle[1]) * way[1] <
          0.8 * distance(tip, want.middle)
      )
        continue;
      for (let reach = LEAST; reach <= MOST; reach += 1.5) {
        const to = way[0] < 0 ? -1 : 1;
        const cost = reach + rank * 0.8 + Math.abs(Math.abs(way[1]) - 0.7) * 4 + (way[1] > 0 ? 1 : 0);
        if (best && cost >= best.cost) break;
        const foot = add(tip, times(way, reach));
        const end: Point = [foot[0] + to * run, foot[1]];
        if (
          end[0] < bounds.left ||
          end[0] > bounds.right ||
          foot[1] - 6 < bounds.top ||
          foot[1] > bounds.bottom
        )
          continue;
        const text = textAt(
          lettering,
          [Math.min(foot[0], end[0]) + 0.7, foot[1] - rise],
          want.of === undefined ? {} : { of: want.of },
        );
        const quad = textQuad(text);
        const underline: Segment = [foot, end];
        if (!isClear([tip, foot], underline, quad, obstacles) || taken(boxOf(quad))) continue;
        const crossed = obstacles.lines.filter((l) => crossing([tip, foot], l, -0.3)).length;
        if (!best || cost + crossed * 3 < best.cost)
          best = { cost: cost + crossed * 3, tip, foot, underline, text };
      }
    }
  });
  return best;
}

function isClear(leader: Segment, underline: Segment, quad: Quad, obstacles: Obstacles): boolean {
  if (!obstacles.textIsClear(quad) || shapesMeet(quad, leader, 0.3)) return false;
  if (![leader, underline].every((s) => obstacles.lineIsClear(s))) return false;
  if (obstacles.lines.some((l) => shapesMeet(underline, l, 0.6))) return false;
  const crosses = (d: Segment): boolean =>
    crossing(leader, d, 0.5) !== undefined || crossing(underline, d, 0.5) !== undefined;
  return !obstacles.dimensionLines.some(crosses) && !obstacles.extensions.some(crosses);
}
