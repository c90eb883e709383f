/** How joints are written: read and checked for form, formulas still text. */
import type { Origin } from '../diagnostics.ts';
import type { PlaceSource } from './shape-types.ts';
import type { Face, Placed, Written } from './types.ts';

/** A joint as it is written. */
export interface JointSource {
  readonly join: Written;
  readonly to: Written;
  readonly by: Placed<JointKind>;
  /** Fasteners per place where the two parts meet. */
  readonly count?: Written;
  /** Face of the first part that carries the holes or heads. */
  readonly from?: Placed<Face>;
  /** Key in `content/hardware`; chosen by thickness where absent. */
  readonly with?: Written;
  /** How far the outermost fasteners lie from the ends of where the parts meet; half a spacing, 50 mm at most, where absent. */
  readonly setBack?: Written;
  /** Least distance from one fastener to the next: where there is no room for it, fewer than `count` go in. */
  readonly leastSpacing?: Written;
  /** Of a housing: how far the end of the first part goes into the second. */
  readonly depth?: Written;
  /** Of a housing: how far before a face of the second part it stops. */
  readonly stopped?: PlaceSource;
  readonly origin: Origin;
}

/** How parts are joined. */
export type JointKind = 'pocket screws' | 'screws' | 'nails' | 'glue' | 'housing';
