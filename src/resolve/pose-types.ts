/** How a part stands that isn't a plain box along the piece's axes, and its operations with numbers. */

import type { ShapeSource } from '../read/shape-types.ts';
import type { Direction, Face } from '../read/types.ts';
import type { Plane } from './convex.ts';
import type { Triple } from './vectors.ts';

/** An end or an edge of a leaning part, cut to a plane of the piece. */
export interface PoseCut {
  readonly face: Face;
  /** In the piece's frame, outward. */
  readonly plane: Plane;
  /** Key of the part it is cut to, where that leans itself. */
  readonly against?: string;
}

/** A body before it has its place: corners and blank. */
export interface PoseBody {
  /** Unit vectors of its first copy, right-handed. */
  readonly length: Triple;
  readonly width: Triple;
  readonly thickness: Triple;
  /** Corner of the blank, and the blank, which covers the longest points; mm. */
  readonly origin: Triple;
  readonly size: { readonly length: number; readonly width: number; readonly thickness: number };
  /** The eight corners of what is left of the blank. */
  readonly corners: readonly Triple[];
  readonly cuts: readonly PoseCut[];
  /** Shortest of its four long arrises, mm: what its ends leave. */
  readonly shortest: number;
}

/** A posed part in the piece. */
export type Pose = PoseBody;

/** Numbers by face or direction, in the piece, mm; of `lean` degrees. */
export type PlaceValues = Readonly<Partial<Record<Face | Direction, number>>>;

/** An operation whose formulas have values: lengths in mm, angles in degrees. */
export interface ResolvedShape {
  readonly source: ShapeSource;
  readonly values: Readonly<Record<string, number>>;
  readonly places: Readonly<Record<string, PlaceValues>>;
  readonly path?: readonly {
    readonly to: PlaceValues;
    readonly through?: PlaceValues;
    readonly radius?: number;
  }[];
}

/** A glued-up panel: its boards in order, and what is left on before it is trimmed. */
export interface Panel {
  readonly boards: 'equal' | 'as they come';
  /** Width of each board as glued, mm. */
  readonly widths: readonly number[];
  /** Added to length, and to the width of the last board. */
  readonly allowance: number;
}
