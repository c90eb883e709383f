/** Angles: an arc between a straight line at a corner and the cut that leaves it, the figure beside it (ISO 129-1). */
import type { Vec3 } from '../../model/types.ts';
import type { Line } from '../../text.ts';
import type { Obstacles } from '../paper/dimensions.ts';
import { setLine, textAt } from '../paper/lettering.ts';
import { line, type Mark, segmentsOf, textQuad } from '../paper/marks.ts';
import { chordsOf, type PaperArc } from '../paper/paper-arcs.ts';
import { add, type Segment, subtract, times, unit } from '../paper/plane.ts';
import type { Point } from '../types.ts';

/** Where the cut stands out of square by less than this, mm of paper, no arc can be read: the angle is said on a leader. */
const LEAST = 0.4;

/** The angle between a straight across a board's end and its cut: at a corner of the board, towards `along`, turned to `cut`. */
export interface Angle {
  readonly corner: Vec3;
  readonly along: Vec3;
  readonly cut: Vec3;
  /** How far the cut runs, mm. */
  readonly reach: number;
  readonly text: Line;
  /** What it is the angle of. */
  readonly of: readonly string[];
}

/** Marks of an angle at a corner of a board; undefined where there is no clear place for its figure. */
export function angleMarks(
  view: { readonly at: (place: Vec3) => Point },
  feature: Angle,
  obstacles: Obstacles,
  ratio: number,
): Mark[] | undefined {
  const corner = view.at(feature.corner);
  const towards = (d: Vec3): Point => {
    const far = view.at(
      [0, 1, 2].map((i) => (feature.corner[i] as number) + (d[i] as number) * 10) as unknown as Vec3,
    );
    return unit(subtract(far, corner));
  };
  const [straight, cut] = [towards(feature.along), towards(feature.cut)];
  const lettering = setLine(feature.text);
  for (const radius of [18, 14, 22, 26, 11, 30]) {
    const arc = arcBetween(corner, straight, cut, radius);
    const opening = Math.abs(arc.to - arc.from) * radius;
    if (opening < LEAST) continue;
    // A short cut is prolonged as far as the arc.
    const reach = feature.reach * ratio;
    const prolonged: Segment[] =
      radius > reach ? [[add(corner, times(cut, reach + 1)), add(corner, times(cut, radius + 2))]] : [];
    const extension: Segment = [add(corner, times(straight, 1)), add(corner, times(straight, radius + 2))];
    // The figure stands beside the straight line, away from the board.
    const away: Point = unit(subtract(straight, cut));
    for (const off of [1.6, 3, 5, 8]) {
      const end = add(corner, times(straight, radius));
      const place = add(end, times(away, off));
      const anchor = away[0] > 0.3 ? 'start' : away[0] < -0.3 ? 'end' : 'middle';
      const base: Point = [place[0], place[1] + (anchor === 'middle' ? (away[1] > 0 ? 3 : -0.6) : 1.25)];
      const text = textAt(lettering, base, { anchor, of: feature.of.join(', ') });
      const quad = textQuad(text);
      if (
        !obstacles.textIsClear(quad) ||
        ![extension, ...prolonged, ...chordsOf(arc)].every((s) => obstacles.lineIsClear(s))
      )
        continue;
      const marks: Mark[] = [
        line('thin', extension, ...prolonged),
        { kind: 'arcs', role: 'thin', arcs: [arc] },
        text,
      ];
      obstacles.texts.push(quad);
      obstacles.extensions.push(extension, ...prolonged, ...marks.slice(1, 2).flatMap(segmentsOf));
      return marks;
    }
  }
  return undefined;
}

/** The arc from one direction to another the short way. */
function arcBetween(centre: Point, from: Point, to: Point, radius: number): PaperArc {
  const [a, b] = [Math.atan2(-from[1], from[0]), Math.atan2(-to[1], to[0])];
  let turn = b - a;
  if (turn > Math.PI) turn -= 2 * Math.PI;
  if (turn < -Math.PI) turn += 2 * Math.PI;
  const start = turn < 0 ? a + turn : a;
  return { centre, radii: [radius, radius], rotation: 0, from: start, to: start + Math.abs(turn) };
}
