/** A part's operations from their numbers: each in the board's own frame, in order, checked against what is left of the board. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import type { Convex } from '../resolve/convex.ts';
import type { PoseCut, ResolvedShape } from '../resolve/pose-types.ts';
import type { NumberStyle } from '../units.ts';
import type { ShapeOperation, Side } from './shape.ts';
import { housing, notch, rebate } from './shape-box.ts';
import { edgeWork } from './shape-edges.ts';
import { hole, slot } from './shape-holes.ts';
import { arc, outline } from './shape-outline.ts';
import { endCut, fitCuts, taper } from './shape-saw.ts';
import { tongue } from './shape-tongue.ts';
import type { Lie } from './sides.ts';
import type { BlankSize, Vec3 } from './types.ts';
import { blankOf, type Workpiece } from './workpiece.ts';

type Maker = (piece: Workpiece, shape: ResolvedShape) => ShapeOperation[] | undefined;

const MAKERS: Readonly<Record<ResolvedShape['source']['kind'], Maker>> = {
  mitre: endCut,
  bevel: endCut,
  compound: endCut,
  taper,
  notch,
  housing,
  groove: housing,
  rebate,
  hole,
  slot,
  outline,
  arc,
  round: edgeWork,
  chamfer: edgeWork,
  tongue,
};

/** A board's operations, and what its saw cuts leave of the blank. */
export interface Shaped {
  readonly operations: readonly ShapeOperation[];
  readonly hull: Convex<Side>;
}

/**
 * Shapes a board. What an operation has wrong is reported and the operation left out, so that one run shows every fault.
 * @param board its blank, how it lies, and the unit vectors and corner of its first copy
 */
export function shapeBoard(
  board: {
    readonly key: string;
    readonly origin: Origin;
    readonly lie: Lie;
    readonly size: BlankSize;
    readonly axes: Workpiece['axes'];
    readonly corner: Vec3;
    readonly cuts: readonly PoseCut[];
    readonly numbers: NumberStyle;
    readonly course?: true;
  },
  shapes: readonly ResolvedShape[],
  report: (diagnostic: Diagnostic) => void,
): Shaped {
  const piece: Workpiece = {
    key: board.key,
    lie: board.lie,
    size: board.size,
    numbers: board.numbers,
    axes: board.axes,
    origin: board.corner,
    ...(board.course ? { course: true } : {}),
    hull: blankOf(board.size),
    done: [],
    report,
  };
  piece.done.push(...fitCuts(piece, board.cuts, board.origin));
  for (const shape of shapes) piece.done.push(...(MAKERS[shape.source.kind](piece, shape) ?? []));
  return { operations: piece.done, hull: piece.hull };
}
