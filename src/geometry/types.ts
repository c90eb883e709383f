/** Solids of the placed parts, as plain data: no handle of the solid kernel leaves `manifold.ts`. */
import type { Bounds, Frame, Vec3 } from '../model/types.ts';

/** A plane face of a solid (or one facet group of a curved one). */
export interface SolidFace {
  /** Unit normal, outward, in the piece's frame. */
  readonly normal: Vec3;
  /** Distance of the plane from the origin along the normal. */
  readonly offset: number;
  /** end: across the grain; wide/edge: along it; cut: made by an operation; section: where a drawing's section cuts it. */
  readonly role: 'end' | 'wide' | 'edge' | 'cut' | 'section';
  /** Index into `triangles` of its triangles. */
  readonly triangles: readonly number[];
  /** Its outline as vertex indices: outer loops counter-clockwise from outside, holes clockwise; no points within a straight run. */
  readonly loops: readonly (readonly number[])[];
  /** True where it has one outer loop and no hole, and that loop is convex. */
  readonly convex: boolean;
  /** The curved surface it approximates, in the piece's frame: facets of one hole share it. Absent for plane faces. */
  readonly round?: Round;
}

/**
 * A cylinder's surface: a point on its axis, the axis as a unit vector, the radius in mm. With `widens` a cone's: the radius, that at
 * `origin`, grows by so much for each millimetre along the axis. With `ring` that of a ring about the axis: `radius` is that of its round
 * section, `ring` that of the circle about `origin` on which the section's middle runs; 0 for a ball.
 */
export interface Round {
  readonly origin: Vec3;
  readonly axis: Vec3;
  readonly radius: number;
  readonly widens?: number;
  readonly ring?: number;
}

/**
 * An edge between two faces: seen from outside, `left` lies on the left of the way from a to b. `smooth` where it counts only as
 * an outline (between two facets of a round hole, or where a curve runs tangentially into a plane).
 */
export interface SolidEdge {
  readonly a: number;
  readonly b: number;
  readonly left: number;
  readonly right: number;
  readonly smooth: boolean;
}

/** One copy as a solid in the piece's frame, millimetres, in doubles. */
export interface PlacedPart {
  readonly copy: string;
  readonly part: string;
  readonly frame: Frame;
  readonly vertices: readonly Vec3[];
  /** Vertex indices, counter-clockwise from outside. */
  readonly triangles: readonly (readonly [number, number, number])[];
  readonly faces: readonly SolidFace[];
  readonly edges: readonly SolidEdge[];
  readonly bounds: Bounds;
  /** mm³ */
  readonly volume: number;
  /** Of hardware, which is drawn and nothing else: which use of the plan it belongs to, which of its spots, the copy that it goes with, and whether it is of wood. */
  readonly fitting?: {
    readonly use: string;
    readonly spot: number;
    readonly on: string;
    readonly wooden?: true;
  };
}
