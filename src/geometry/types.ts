/** Solids of the placed parts, as plain data: no handle of the solid kernel leaves `manifold.ts`. */
import type { Bounds, Frame, Vec3 } from '../model/types.ts';

/** A plane face of a solid (or one facet group of a curved one). */
export interface SolidFace {
  /** Unit normal, outward, in the piece's frame. */
  readonly normal: Vec3;
  /** Distance of the plane from the origin along the normal. */
  readonly offset: number;
  /** end: across the grain; wide/edge: along it; cut: made by an operation. */
  readonly role: 'end' | 'wide' | 'edge' | 'cut';
  /** Index into `triangles` of its triangles. */
  readonly triangles: readonly number[];
}

/** An edge between two faces; `smooth` where it counts only as an outline (round holes). */
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
}
