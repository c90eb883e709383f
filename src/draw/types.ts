/** Drawings: composed in paper millimetres for one place on one paper, then written as SVG. */
import type { Round } from '../geometry/types.ts';
import type { Vec3 } from '../model/types.ts';
import type { Line } from '../text.ts';

/** `plate` drawings are for pages that sell a plan, without sizes: `plate`, and `sample-<step>`. They are on no sheet.
 * Nor are `template`s, which make a PDF of their own at full size. */
export type DrawingKind =
  | 'views'
  | 'pictorial'
  | 'exploded'
  | 'step'
  | 'part'
  | 'layout'
  | 'request'
  | 'plate'
  | 'template';

/** The room a drawing is composed for: line widths and lettering keep their paper size whatever the room. */
export interface Room {
  readonly width: number;
  readonly height: number;
}

export interface Drawing {
  /** `views`, `pictorial`, `exploded`, `step-3`, `part-A`, `layout-1`, `request-2`, `plate`, `sample-3`. */
  readonly id: string;
  readonly kind: DrawingKind;
  readonly title: string;
  readonly caption: Line;
  /** What it shows and its main sizes, in words. */
  readonly alt: string;
  /** Paper size of the drawing, mm. */
  readonly width: number;
  readonly height: number;
  /** As stated under the view: `3/4″ = 1′-0″`, `1 : 10`, `not to scale`. */
  readonly scale: string;
  /** Projection drawn, for the title strip; absent for pictorials and layouts. */
  readonly projection?: 'third angle' | 'first angle';
  /** Standalone SVG: presentation attributes for print, classes `k-…` for the page to recolour. */
  readonly svg: string;
}

/** All drawings of a plan in an edition, composed for its paper; `narrow` holds those composed again for a phone (95 mm). */
export interface DrawingSet {
  readonly drawings: readonly Drawing[];
  readonly narrow: readonly Drawing[];
}

// ---------------------------------------------------------------- a projected view (hidden lines and faces)

/** A parallel projection: unit vectors in the piece's axes. u runs right, v runs up, w towards the viewer. */
export interface ViewFrame {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toViewer: Vec3;
}

export type Point = readonly [u: number, v: number];

/** A straight piece of an edge, wholly visible or wholly hidden; millimetres of the piece, before scale. */
export interface ViewLine {
  readonly a: Point;
  readonly b: Point;
  readonly hidden: boolean;
  /** Copies it belongs to: two where flush boards share their joint line. */
  readonly copies: readonly string[];
  /** outline: on the silhouette of all parts together. */
  readonly outline: boolean;
}

/**
 * A piece of a circle or ellipse: the rim of a hole or of a rounded edge, wholly visible or wholly hidden. Points are centre + (rx cos t,
 * ry sin t) turned by `rotation`, t running counter-clockwise (v up) from `from` to `to`; a whole turn from 0 to 2π.
 */
export interface ViewArc {
  readonly centre: Point;
  /** Half axes, mm: the longer one first. */
  readonly radii: readonly [rx: number, ry: number];
  /** Radians from u to the longer half axis, counter-clockwise. */
  readonly rotation: number;
  readonly from: number;
  readonly to: number;
  readonly hidden: boolean;
  readonly copies: readonly string[];
  readonly outline: boolean;
}

/** The visible part of one face: outer loops and holes, even-odd. */
export interface ViewFace {
  readonly copy: string;
  readonly role: 'end' | 'wide' | 'edge' | 'cut' | 'section';
  /** Outward normal in the piece's axes: gives the tone. */
  readonly normal: Vec3;
  readonly loops: readonly (readonly Point[])[];
  /** Length direction of its part in the view, for grain; not unit. */
  readonly grain: Point;
  /** The same number for faces of a copy that run into each other: facets of a curve, and the planes it runs into. */
  readonly smooth?: number;
  /** Of a facet of a curve: the curve in the piece, and the distance of the facet's plane along its normal. */
  readonly surface?: { readonly round: Round; readonly offset: number };
}

export interface ViewPicture {
  readonly frame: ViewFrame;
  readonly lines: readonly ViewLine[];
  /** Rims as arcs, where they are asked for; `lines` then has none of them. */
  readonly arcs?: readonly ViewArc[];
  readonly faces: readonly ViewFace[];
  readonly min: Point;
  readonly max: Point;
}
