/** The lines along which boards go in: what of them is seen between and in front of the boards drawn apart. */
import { dot } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { covered, occludersOf, type Segment } from '../lines/occluders.ts';
import { seenFrom } from '../lines/seen.ts';
import { line, type Mark } from '../paper/marks.ts';
import { distance } from '../paper/plane.ts';
import type { PaperView } from '../shading/shade.ts';
import type { Point, ViewFrame } from '../types.ts';
import type { Exploded } from './explode.ts';

/** A line shorter than this on paper says nothing, mm; nor does a piece of one that is shorter than the second. */
const [LEAST_WAY, LEAST_PIECE] = [3, 0.8];

/** A way as it is seen: its whole length in the view, and its visible pieces, in millimetres of the piece. */
export interface SeenWay {
  readonly length: number;
  readonly pieces: readonly (readonly Point[])[];
}

/** The ways of all boards that come off straight. Of a board that is held a line would say that it goes in along it. */
export function seenWays({ parts, moves }: Exploded, frame: ViewFrame): SeenWay[] {
  const occluders = occludersOf(parts, seenFrom(parts, frame), frame);
  const lines = [...moves.values()].flatMap(({ way, held }) => (held ? [] : (way?.lines ?? [])));
  return lines.map(({ corners }) => {
    const pieces: Point[][] = [];
    let open = false;
    for (let i = 1; i < corners.length; i++) {
      const segment = segmentOf(corners[i - 1] as Vec3, corners[i] as Vec3, frame);
      const hidden = covered(occluders, segment, true, -1, -1);
      let at = 0;
      for (const [start, end] of [...pairs(hidden), [1, 1] as const]) {
        if (start > at) {
          const [a, b] = [pointOn(segment, at), pointOn(segment, start)];
          // Round a corner a piece goes on.
          if (open && at === 0) pieces[pieces.length - 1]?.push(b);
          else pieces.push([a, b]);
        }
        open = start === 1 && start > at;
        at = Math.max(at, end);
      }
    }
    const ends = segmentOf(corners[0] as Vec3, corners[corners.length - 1] as Vec3, frame);
    return { length: Math.hypot(ends.au - ends.bu, ends.av - ends.bv), pieces };
  });
}

function segmentOf(a: Vec3, b: Vec3, { right, up, toViewer }: ViewFrame): Segment {
  return {
    au: dot(a, right),
    av: dot(a, up),
    aw: dot(a, toViewer),
    bu: dot(b, right),
    bv: dot(b, up),
    bw: dot(b, toViewer),
  };
}

const pairs = (list: readonly number[]): (readonly [number, number])[] =>
  Array.from({ length: list.length / 2 }, (_, i) => [list[2 * i] as number, list[2 * i + 1] as number]);

const pointOn = ({ au, av, bu, bv }: Segment, t: number): Point => [au + (bu - au) * t, av + (bv - av) * t];

/** The same on paper, thin and dashed. */
export function wayMarks(ways: readonly SeenWay[], view: PaperView): Mark[] {
  const lines = ways
    .filter(({ length }) => length * view.ratio >= LEAST_WAY)
    .flatMap(({ pieces }) => pieces.map((piece) => piece.map(view.point)))
    .filter((piece) => lengthOf(piece) >= LEAST_PIECE);
  return lines.length === 0 ? [] : [line('way-in', ...lines)];
}

const lengthOf = (piece: readonly Point[]): number =>
  piece.slice(1).reduce((sum, p, i) => sum + distance(piece[i] as Point, p), 0);
