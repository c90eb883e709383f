/** What the joints bring: where parts meet, and the fasteners that go in. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Bounds, Joint, ShapeOperation, Vec3 } from '../model/types.ts';
import type { HardwareItem, JointKind } from '../read/types.ts';

/**
 * Where two copies touch: the extents, and of plain boxes a rectangle without depth along `normal` (from the first copy to the second).
 * Of boards that lean or are cut `polygons` say where, in convex pieces.
 */
export interface Contact {
  readonly first: string;
  readonly second: string;
  readonly normal: Vec3;
  readonly area: number;
  readonly bounds: Bounds;
  readonly polygons?: readonly (readonly Vec3[])[];
}

/** A fastener: where it crosses the joint, and its way, a unit vector from the first part into the second. */
export interface FastenerPoint {
  readonly at: Vec3;
  readonly axis: Vec3;
  /** Where its point comes to rest, driven flush; absent where its length isn't known. */
  readonly tip?: Vec3;
}

/** A joint at one place: one contact, its fasteners. */
export interface JointPlace {
  readonly joint: Joint;
  readonly contact: Contact;
  /** Fasteners here; 0 for glue. */
  readonly count: number;
  readonly fastener?: HardwareItem;
  /** Where its fasteners go in. */
  readonly points?: readonly FastenerPoint[];
}

export interface FastenerCount {
  readonly item: HardwareItem;
  readonly kind: JointKind;
  readonly count: number;
}

export interface Joinery {
  readonly places: readonly JointPlace[];
  readonly fasteners: readonly FastenerCount[];
  /** By step index: the joints made there. */
  readonly bySteps: ReadonlyMap<number, readonly JointPlace[]>;
  /** Holes that the joints bore, by copy and in its own frame: pockets, and clearance and pilot holes of screws. */
  readonly cuts?: ReadonlyMap<string, readonly ShapeOperation[]>;
  readonly diagnostics: readonly Diagnostic[];
}
