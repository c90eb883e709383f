/** What the joints bring: where parts meet, and the fasteners that go in. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Bounds, Joint, Vec3 } from '../model/types.ts';
import type { HardwareItem, JointKind } from '../read/types.ts';

/** A rectangle in which two copies touch: a box without depth along `normal` (from the first copy to the second). */
export interface Contact {
  readonly first: string;
  readonly second: string;
  readonly normal: Vec3;
  readonly area: number;
  readonly bounds: Bounds;
}

/** A joint at one place: one contact, its fasteners. */
export interface JointPlace {
  readonly joint: Joint;
  readonly contact: Contact;
  /** Fasteners here; 0 for glue. */
  readonly count: number;
  readonly fastener?: HardwareItem;
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
  readonly diagnostics: readonly Diagnostic[];
}
