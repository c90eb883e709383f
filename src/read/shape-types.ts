/** How shaped, leaning and glued-up parts are written: read and checked for form, formulas still text. */
import type { Origin } from '../diagnostics.ts';
import type { Direction, Face, Placed, Written } from './types.ts';

/** The operations of `shape`. A `dado` is a housing, a `rabbet` a rebate, a `miter` a mitre: the author's word is kept in `called`. */
export type ShapeKind =
  | 'mitre'
  | 'bevel'
  | 'compound'
  | 'taper'
  | 'notch'
  | 'housing'
  | 'groove'
  | 'rebate'
  | 'hole'
  | 'slot'
  | 'outline'
  | 'arc'
  | 'round'
  | 'chamfer'
  | 'tongue';

/** Values by face or direction: `{ bottom: shelf.bottom, top: shelf.top }`, `{ across: left + 2 in, up: 3 in }`. */
export interface PlaceSource {
  readonly origin: Origin;
  readonly values: Readonly<Partial<Record<Face | Direction, Written>>>;
}

/** A step of an outline: where it starts, a straight line to a point, or an arc to a point. */
export interface PathStepSource {
  readonly kind: 'start' | 'line' | 'arc';
  readonly origin: Origin;
  readonly to: PlaceSource;
  /** Of an arc: a point it runs through … */
  readonly through?: PlaceSource;
  /** … or its radius, and the face to which it bulges. */
  readonly radius?: Written;
  readonly bulges?: Placed<Face>;
}

/** One operation. Which keys an operation has is in the table of `schemas/shape.ts`. */
export interface ShapeSource {
  readonly kind: ShapeKind;
  /** The author's own word: `dado`. */
  readonly called: string;
  /** At its first key. */
  readonly origin: Origin;
  /** Faces, or edges as two faces (`front top`, `all`), after the first key. */
  readonly on: readonly Written[];
  /** Lengths, angles and counts by key: `depth`, `diameter`, `counterbore.depth`. */
  readonly values: Readonly<Record<string, Written>>;
  /** `at`, `from`, `to`, `lean`; of a notch and a rebate its own sizes, as `box`. */
  readonly places: Readonly<Record<string, PlaceSource>>;
  /** Faces and words by key: `long`, `end`, `form`, `along`. */
  readonly words: Readonly<Record<string, readonly Written[]>>;
  readonly path?: readonly PathStepSource[];
}

/**
 * A part out of upright or out of level. lean: its foot goes out towards each face; slope: a lying board falls towards it.
 * `cut` are the ends and edges cut level or upright, parallel to the piece's own planes; both ends where absent.
 */
export interface LeanSource {
  readonly kind: 'lean' | 'slope';
  readonly origin: Origin;
  readonly angles: Readonly<Partial<Record<Face, Written>>>;
  readonly cut?: readonly Placed<Face>[];
}

/** A part between two points: each end lies against a face (a coordinate by face), its middle line at a place along it. */
export interface BraceSource {
  readonly origin: Origin;
  readonly from: PlaceSource;
  readonly to: PlaceSource;
}

/** A panel glued up from boards side by side. */
export interface GlueUpSource {
  readonly origin: Origin;
  /** equal: all ripped alike; as they come: whole boards, the last one ripped. */
  readonly boards: 'equal' | 'as they come';
  /** Extra length and width before the panel is trimmed. */
  readonly allowance?: Written;
}
