/** Pieces of circles and ellipses on paper: millimetres, y down; angles are counter-clockwise as the eye sees them. */

import type { Point, ViewArc } from '../types.ts';
import { arcPoints } from './arcs.ts';
import type { Segment } from './plane.ts';

/** An arc on paper. Half axes in mm, the longer first; `rotation`, `from` and `to` in radians as in `ViewArc`. */
export interface PaperArc {
  readonly centre: Point;
  readonly radii: readonly [rx: number, ry: number];
  readonly rotation: number;
  readonly from: number;
  readonly to: number;
}

/** An arc of a view at a scale; `centre` is where the view puts its centre on paper. */
export const paperArc = (arc: ViewArc, ratio: number, centre: Point): PaperArc => ({
  centre,
  radii: [arc.radii[0] * ratio, arc.radii[1] * ratio],
  rotation: arc.rotation,
  from: arc.from,
  to: arc.to,
});

/** A whole circle. */
export const circleArc = (centre: Point, radius: number): PaperArc => ({
  centre,
  radii: [radius, radius],
  rotation: 0,
  from: 0,
  to: 2 * Math.PI,
});

/** The point of an arc's ellipse at an angle. */
export function paperArcPoint(arc: PaperArc, angle: number): Point {
  const [x, y] = [arc.radii[0] * Math.cos(angle), arc.radii[1] * Math.sin(angle)];
  const [cos, sin] = [Math.cos(arc.rotation), Math.sin(arc.rotation)];
  return [arc.centre[0] + x * cos - y * sin, arc.centre[1] - x * sin - y * cos];
}

/** Points along an arc, chords within `sagitta` mm of it. */
export function paperArcPoints(arc: PaperArc, sagitta = 0.03): Point[] {
  const flat: ViewArc = { ...arc, centre: [0, 0], hidden: false, copies: [], outline: false };
  return arcPoints(flat, sagitta).map(([x, y]) => [arc.centre[0] + x, arc.centre[1] - y]);
}

/** Chords of an arc. */
export const chordsOf = (arc: PaperArc): Segment[] => {
  const points = paperArcPoints(arc);
  return points.slice(1).map((p, i): Segment => [points[i] as Point, p]);
};
