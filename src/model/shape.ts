/**
 * Shaping operations in a board's own frame: x along its length, y along its width, z along its thickness, from the corner of its
 * blank; z = thickness is the wide face the plan names. Lengths in mm, angles in degrees. A mirrored copy has the same operations, y
 * counted from its other edge.
 */
import type { Origin } from '../diagnostics.ts';
import type { Face } from '../read/types.ts';
import type { Plane } from '../resolve/convex.ts';
import type { SawSettings } from '../resolve/saw.ts';
import type { Vec3 } from './types.ts';

/** A board's own sides: its ends at x = 0 and its length, its edges at y = 0 and its width, its wide faces at z = 0 and its thickness. */
export type Side = 'start' | 'end' | 'low edge' | 'high edge' | 'reverse' | 'face';

/** A point of a flat outline on the wide face: x along the length, y along the width. */
export type FlatPoint = readonly [x: number, y: number];

/** A stretch of a flat outline, from the end of the one before. An arc has its centre, radius and way round (seen from z above). */
export interface FlatStretch {
  readonly to: FlatPoint;
  readonly arc?: { readonly centre: FlatPoint; readonly radius: number; readonly counterclockwise: boolean };
}

interface Operation {
  /** The operation's place in the plan; of a cut that a joint or a lean makes that of the joint or the part. */
  readonly origin: Origin;
  /** The author's own word: `dado`; `fit` for ends cut by lean, slope, brace or leaning neighbours. */
  readonly called: string;
}

/** One plane cut with a saw: what lies beyond the plane is taken off. */
export interface SawCut extends Operation {
  readonly kind: 'saw';
  readonly name: 'mitre' | 'bevel' | 'compound' | 'taper' | 'fit';
  readonly side: Side;
  readonly face: Face;
  readonly plane: Plane;
  /** For the board lying flat on the table, an end cut across, an edge along. */
  readonly saw: SawSettings;
  /** Where the end or edge keeps its full length. */
  readonly long: readonly Face[];
  /** Of a fit: the part it is cut against, where that leans. */
  readonly against?: string;
  /** Of a taper: the end it narrows to, how long it is, what it takes off there, and what is left of that size. */
  readonly taper?: {
    readonly end: Face;
    readonly length: number;
    readonly by: number;
    readonly leaves: number;
  };
}

/** A closed wall of a housing that a joint cuts. */
export interface HousingWall {
  /** The side of the board that it lies towards. */
  readonly side: Side;
  readonly face: Face;
  /** Degrees by which its line on the face is out of parallel to the board's own axes; 0 within a knife line. */
  readonly turn: number;
  /** Degrees by which it goes back under the face; negative where it slopes in towards the floor, 0 where it is square. */
  readonly undercut: number;
}

/** A cut with flat sides and square corners: all that lies inside `planes` is taken out. */
export interface BoxCut extends Operation {
  readonly kind: 'box';
  readonly name: 'notch' | 'housing' | 'groove' | 'rebate';
  /** The face it is cut into; a notch and a rebate have none. */
  readonly side?: Side;
  readonly face?: Face;
  /** Sides that lie in the board, outward from what is taken out; open sides have none. */
  readonly planes: readonly Plane[];
  /** Extents of what is taken out, within the blank. */
  readonly min: Vec3;
  readonly max: Vec3;
  /** True where all its sides run along the board's own axes, so that min and max say all. */
  readonly square: boolean;
  readonly depth?: number;
  /** Of a housing or groove: from side to side across its run. */
  readonly width?: number;
  /** Of a rebate: how much is taken off each of its two faces. */
  readonly taken?: readonly (readonly [Face, number])[];
  /** Ends or edges before which it stops; empty where it runs through. */
  readonly stopped: readonly Face[];
  /** Of a notch: the sides of the board it is open to. */
  readonly open: readonly Face[];
  /** Of a cut that a housing joint makes: the name of the other part. */
  readonly joint?: { readonly part: string };
  /** Of such a housing: the own axis along which it runs, its corners on the face, and its closed walls. */
  readonly layout?: {
    readonly run: 0 | 1 | 2;
    readonly opening: readonly Vec3[];
    readonly walls: readonly HousingWall[];
  };
}

/** A round hole. A pocket for a pocket screw is one with `pocket`: wide to its shoulder, then the screw's way out. */
export interface Hole extends Operation {
  readonly kind: 'hole';
  readonly name: 'hole' | 'pocket' | 'clearance' | 'pilot';
  readonly side: Side;
  readonly face: Face;
  /** Where its middle line meets the face. */
  readonly entry: Vec3;
  /** Unit vector into the wood. */
  readonly axis: Vec3;
  readonly diameter: number;
  /** Along the axis from the entry; absent where it goes through. */
  readonly depth?: number;
  readonly counterbore?: { readonly diameter: number; readonly depth: number };
  readonly countersink?: { readonly diameter: number; readonly angle: number };
  /** A narrower hole that goes on from the bottom, out of the board: of a pocket the way of the screw. */
  readonly beyond?: { readonly diameter: number; readonly depth: number };
  /** Out of square to the face, 0 for a straight one, and the face to which its outer end leans. */
  readonly angle: number;
  readonly leans: readonly Face[];
  /** Number and spacing where it is one of a row; `index` from 0. */
  readonly row?: { readonly index: number; readonly count: number; readonly spacing: number };
}

/** A slot with round ends. */
export interface Slot extends Operation {
  readonly kind: 'slot';
  readonly side: Side;
  readonly face: Face;
  /** Middles of its round ends, on the face. */
  readonly from: Vec3;
  readonly to: Vec3;
  /** Unit vector into the wood, square to the face. */
  readonly axis: Vec3;
  readonly width: number;
  readonly depth?: number;
  readonly row?: { readonly index: number; readonly count: number; readonly spacing: number };
}

/** A flat shape through the whole thickness: `keep` leaves what lies inside, `cut` takes it out. Closed, counter-clockwise. */
export interface Outline extends Operation {
  readonly kind: 'outline';
  readonly name: 'outline' | 'arc';
  readonly does: 'keep' | 'cut';
  readonly start: FlatPoint;
  readonly stretches: readonly FlatStretch[];
  /** Of an arc: the edge or end it is cut into, its rise, span, radius and form. */
  readonly arc?: {
    readonly side: Side;
    readonly face: Face;
    readonly rise: number;
    readonly span: number;
    readonly radius: number;
    readonly form: 'hollow' | 'crown';
  };
}

/** Edges rounded or chamfered. */
export interface EdgeWork extends Operation {
  readonly kind: 'edge';
  readonly name: 'round' | 'chamfer';
  /** Straight edges, each by the two sides that meet in it. */
  readonly edges: readonly (readonly [Side, Side])[];
  /** Wide faces whose outline is followed, all round or what of it looks to some sides: with the cutter's bearing on their walls. */
  readonly follows?: readonly { readonly wide: 'face' | 'reverse'; readonly towards?: readonly Side[] }[];
  /** Sides on which the rims of holes and slots are worked. */
  readonly holes?: readonly Side[];
  /** Diameter of the bearing, where something is followed; `left` is how many places keep its radius. */
  readonly bearing?: number;
  readonly left?: number;
  /** As the author says it: `front top`, `all`, `front holes`. */
  readonly said: readonly string[];
  /** Radius, or what a chamfer takes off each face. */
  readonly size: number;
}

/**
 * A tongue left between two shoulders, within the blank; or the milled profile of tongue-and-groove stock, whose tongue stands out
 * of what the course covers by `out`.
 */
export interface Tongue extends Operation {
  readonly kind: 'tongue';
  readonly name: 'tongue' | 'profile';
  readonly tongue?: {
    readonly side: Side;
    readonly length: number;
    /** From z = `from` to `from + thickness`. */
    readonly from: number;
    readonly thickness: number;
    readonly out: boolean;
  };
  readonly groove?: {
    readonly side: Side;
    readonly depth: number;
    readonly from: number;
    readonly thickness: number;
  };
}

export type ShapeOperation = SawCut | BoxCut | Hole | Slot | Outline | EdgeWork | Tongue;
