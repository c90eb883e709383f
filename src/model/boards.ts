/** The boards of a part's first copy, each with its blank and its operations. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Direction } from '../read/types.ts';
import type { Convex } from '../resolve/convex.ts';
import { FACES_OF } from '../resolve/directions.ts';
import type { Pose } from '../resolve/pose-types.ts';
import type { Course, ResolvedPart, Span } from '../resolve/types.ts';
import { mm, type NumberStyle } from '../units.ts';
import { standOf, standOfPose } from './frames.ts';
import type { ShapeOperation, Side } from './shape.ts';
import { profile } from './shape-tongue.ts';
import { shapeBoard } from './shaping.ts';
import { sideOf } from './sides.ts';
import type { BlankSize } from './types.ts';

/** A board before it is copied: where it lies, and its course. */
export interface Board {
  readonly spans: Readonly<Record<Direction, Span>>;
  readonly number?: number;
  readonly course?: Course;
  /** Where it leans or slopes. */
  readonly pose?: Pose;
}

export interface ShapedBoard {
  readonly board: Board;
  readonly size: BlankSize;
  readonly operations: readonly ShapeOperation[];
  /** What saw cuts leave of the blank; own frame. */
  readonly hull: Convex<Side>;
}

/** Faults that only say that an operation lies beside a board: of courses, some other board has it. */
const BESIDE = ['shape.beside', 'shape.outside'];

/** All boards of a part shaped; an operation of courses is made on those that it meets. */
export function boardsShaped(
  part: ResolvedPart,
  boards: readonly Board[],
  numbers: NumberStyle,
  report: (diagnostic: Diagnostic) => void,
): readonly ShapedBoard[] {
  const { source, runs, wideFace } = part;
  const told = new Set<string>();
  const met = new Set<number>();
  const missed = new Map<number, Diagnostic>();
  const shaped = boards.map((board): ShapedBoard => {
    const { pose } = board;
    const stand = pose ? standOfPose(pose) : standOf(board.spans, runs, wideFace);
    const size = sizeOf(part, board);
    const said: Diagnostic[] = [];
    const lie = { runs, wideFace };
    const own = {
      key: source.key,
      origin: (source.lean ?? source.brace ?? source).origin,
      lie,
      size,
      axes: stand,
      corner: stand.origin,
      cuts: pose?.cuts ?? [],
      numbers,
      ...(boards.length > 1 ? { course: true as const } : {}),
    };
    // Board by board and operation by operation, so that it is known which one a fault belongs to.
    const fit: typeof part.shape = part.shape.filter((shape, index) => {
      const problems: Diagnostic[] = [];
      shapeBoard({ ...own, cuts: [] }, [shape], (problem) => void problems.push(problem));
      const beside = problems.length > 0 && problems.every((one) => BESIDE.includes(one.id));
      if (!beside) met.add(index);
      else if (!missed.has(index)) missed.set(index, problems[0] as Diagnostic);
      return boards.length === 1 || !beside;
    });
    const { operations, hull } = shapeBoard(own, fit, (problem) => void said.push(problem));
    for (const problem of said) {
      const text = JSON.stringify([problem.id, problem.origin]);
      if (!told.has(text)) report(problem);
      told.add(text);
    }
    const milled = profileOf(part, board, size);
    return { board, size, hull, operations: milled ? [milled, ...operations] : operations };
  });
  if (boards.length > 1) for (const [index, problem] of missed) if (!met.has(index)) report(problem);
  return shaped;
}

function sizeOf(part: ResolvedPart, board: Board): BlankSize {
  const { runs, stock } = part;
  const { pose, spans } = board;
  if (pose) {
    const { length, width, thickness } = pose.size;
    return { length: mm(length), width: mm(width), thickness: mm(thickness) };
  }
  const { low, high } = spans[runs];
  return { thickness: stock.thickness, width: board.course?.cover ?? part.width, length: mm(high - low) };
}

/** The profile of a tongue-and-groove board: of courses by how they are laid, of one board with its tongue to the right, back or top. */
function profileOf(part: ResolvedPart, board: Board, size: BlankSize): ShapeOperation | undefined {
  const { stock, source, courses, widthAlong, runs, wideFace } = part;
  if (stock.profile !== 'tongue-and-groove' || part.panel) return undefined;
  const lie = { runs, wideFace };
  const toEnd = source.lay?.firstTongue === undefined;
  const high = courses ? toEnd !== courses.reversed : true;
  const tongue = sideOf(lie, FACES_OF[widthAlong][high ? 1 : 0]);
  // A rip takes the tongue off; the groove's edge lies against the fence and stays.
  if (!board.course)
    return profile(stock, size, { tongue, hasTongue: !part.ripped, hasGroove: true }, source.origin);
  const { course } = board;
  const hasTongue = course.cut > course.cover + 0.01;
  const narrowed = course.rip === 'first course' || course.rip === 'last course';
  return profile(stock, size, { tongue, hasTongue, hasGroove: !(narrowed && hasTongue) }, source.origin);
}
