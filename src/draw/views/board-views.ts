/** Straight views of one board by its own axes: its wide faces, an edge, an end; long boards interrupted. */
import type { Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import { dot, scale, subtract } from '../../geometry/vectors.ts';
import type { BlankSize, Frame, Vec3 } from '../../model/types.ts';
import { viewPicture } from '../lines/view.ts';
import { type Mark, segmentsOf } from '../paper/marks.ts';
import type { Box, Segment } from '../paper/plane.ts';
import type { Point, ViewFrame, ViewPicture } from '../types.ts';
import { alongPaper, type Breaks, breakMarks, brokenPicture } from './broken.ts';
import { centreMarks } from './holes.ts';
import { edgesOf, type StraightView, straightMarks, straightView } from './straight.ts';

/** `back` is the face behind the one drawn, the board turned over along its length. */
export type BoardSide = 'face' | 'edge' | 'end' | 'back';

/** From which edge and end a board is looked at beside its face, and by which method the views are placed. */
export interface BoardArrangement {
  readonly edge: 'low' | 'high';
  readonly end: 'start' | 'end';
}

/** A board to be drawn on its own. */
export interface Board {
  readonly part: PlacedPart;
  readonly size: BlankSize;
  /** As it lies: z points out of the face that is drawn; of its own hand, never mirrored. */
  readonly frame: Frame;
}

/** One view, its marks and where points of the board fall on its paper. */
export interface BoardView {
  readonly side: BoardSide;
  readonly marks: readonly Mark[];
  /** Visible pieces, and all pieces with hidden ones and centre lines. */
  readonly seen: readonly Segment[];
  readonly edges: readonly Segment[];
  readonly box: Box;
  /** A point of the board in its own axes, mm, on paper. */
  readonly at: (own: Vec3) => Point;
}

/** Directions of a view on the paper, as own axes: right, up. */
function axesOf(side: BoardSide, { edge, end }: BoardArrangement): readonly [right: Vec3, up: Vec3] {
  if (side === 'face')
    return [
      [1, 0, 0],
      [0, 1, 0],
    ];
  if (side === 'back')
    return [
      [1, 0, 0],
      [0, -1, 0],
    ];
  if (side === 'edge')
    return edge === 'low'
      ? [
          [1, 0, 0],
          [0, 0, 1],
        ]
      : [
          [1, 0, 0],
          [0, 0, -1],
        ];
  return end === 'end'
    ? [
        [0, 0, -1],
        [0, 1, 0],
      ]
    : [
        [0, 0, 1],
        [0, 1, 0],
      ];
}

/** Pictures of a board from its sides, before scale: u and v count from the board's own corner. */
export class BoardPictures {
  private readonly known = new Map<BoardSide, ViewPicture>();
  readonly board: Board;
  readonly arrangement: BoardArrangement;
  private readonly solids: Pick<Solids, 'uncovered' | 'united'>;

  constructor(board: Board, arrangement: BoardArrangement, solids: Pick<Solids, 'uncovered' | 'united'>) {
    this.board = board;
    this.arrangement = arrangement;
    this.solids = solids;
  }

  picture(side: BoardSide): ViewPicture {
    const known = this.known.get(side);
    if (known) return known;
    const { origin, length: x, width: y, thickness: z } = this.board.frame;
    const inPiece = (v: Vec3): Vec3 =>
      [0, 1, 2].map(
        (i) => (x[i] as number) * v[0] + (y[i] as number) * v[1] + (z[i] as number) * v[2],
      ) as unknown as Vec3;
    const [right, up] = axesOf(side, this.arrangement).map(inPiece) as [Vec3, Vec3];
    const toViewer: Vec3 =
      side === 'face'
        ? z
        : side === 'back'
          ? scale(z, -1)
          : side === 'edge'
            ? scale(y, this.arrangement.edge === 'low' ? -1 : 1)
            : scale(x, this.arrangement.end === 'end' ? 1 : -1);
    const frame: ViewFrame = { right, up, toViewer };
    const seen = viewPicture([this.board.part], frame, this.solids, { arcs: true, faces: false });
    const shift: Point = [dot(origin, right), dot(origin, up)];
    const moved = ([u, v]: Point): Point => [u - shift[0], v - shift[1]];
    const picture: ViewPicture = {
      ...seen,
      lines: seen.lines.map((l) => ({ ...l, a: moved(l.a), b: moved(l.b) })),
      arcs: (seen.arcs ?? []).map((arc) => ({ ...arc, centre: moved(arc.centre) })),
      min: moved(seen.min),
      max: moved(seen.max),
    };
    this.known.set(side, picture);
    return picture;
  }

  /** Places along the board's length where something is: the corners of its solid. */
  places(): number[] {
    const { part, frame } = this.board;
    const { origin, length: x } = frame;
    return [...new Set(part.vertices.map((v) => Math.round(dot(subtract(v, origin), x) * 10) / 10))];
  }

  /** A view at a scale. */
  view(side: BoardSide, breaks: Breaks): BoardView {
    const { ratio } = breaks;
    const [right, up] = axesOf(side, this.arrangement);
    const along = side === 'end' ? undefined : breaks;
    const whole = this.picture(side);
    const picture = along === undefined ? whole : brokenPicture(whole, along);
    const view: StraightView = straightView(picture, ratio);
    const centres = this.centres(view, whole, along);
    const at = (own: Vec3): Point => {
      const u = along === undefined ? dot(own, right) * ratio : alongPaper(along, own[0]);
      return [u, -dot(own, up) * ratio];
    };
    const zigzags = along === undefined ? [] : breakMarks(along, 0, view.box.top, view.box.bottom);
    const extra = [...centres, ...zigzags];
    return {
      side,
      marks: [...straightMarks(view), ...extra],
      seen: edgesOf(view, false),
      edges: [...edgesOf(view), ...extra.flatMap(segmentsOf)],
      box: view.box,
      at,
    };
  }

  /** Centre lines are found in the whole view and moved with what they belong to. */
  private centres(view: StraightView, whole: ViewPicture, breaks: Breaks | undefined): Mark[] {
    const { part, frame: lies } = this.board;
    const { origin } = lies;
    const { frame } = whole;
    const shift: Point = [dot(origin, frame.right), dot(origin, frame.up)];
    const onPaper = ([u, v]: Point): Point => {
      const [x, y] = [u - shift[0], v - shift[1]];
      return [breaks === undefined ? x * view.ratio : alongPaper(breaks, x), -y * view.ratio];
    };
    return centreMarks(view, [part], 'all', onPaper);
  }
}
