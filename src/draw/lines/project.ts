/**
 * Directions of view. The piece's axes: x left to right, y front to back, z up. Frames are orthonormal and right-handed:
 * right × up = towards the viewer.
 */
import { cross, dot, scale, subtract, unit } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import type { Viewpoint } from '../../read/types.ts';
import type { Point, ViewFrame } from '../types.ts';

/** A straight view at one of the piece's six sides, or a pictorial from above or below a corner. */
export type ViewFrom = 'front' | 'back' | 'left' | 'right' | 'top' | 'bottom' | Viewpoint;

/**
 * An isometric view shortens the three axes to √(2/3) of their length. Frames here project truly; a pictorial that shows
 * sizes along the axes unshortened, as ISO 5456-3 draws it, is enlarged by this when it is composed.
 */
export const ISOMETRIC_SCALE = Math.sqrt(3 / 2);

// The plan (top) has the back edge up, and the view from below the front edge up: so they stand above and below the front
// view in either projection (ISO 5456-2).
const STRAIGHT: Record<Exclude<ViewFrom, Viewpoint>, ViewFrame> = {
  front: { right: [1, 0, 0], up: [0, 0, 1], toViewer: [0, -1, 0] },
  back: { right: [-1, 0, 0], up: [0, 0, 1], toViewer: [0, 1, 0] },
  left: { right: [0, -1, 0], up: [0, 0, 1], toViewer: [-1, 0, 0] },
  right: { right: [0, 1, 0], up: [0, 0, 1], toViewer: [1, 0, 0] },
  top: { right: [1, 0, 0], up: [0, 1, 0], toViewer: [0, 0, 1] },
  bottom: { right: [1, 0, 0], up: [0, -1, 0], toViewer: [0, 0, -1] },
};

const DEGREE = Math.PI / 180;

/** The frame of a view. Viewpoints give the isometric view of that corner, its axes 120° apart (ISO 5456-3), z upright; with
 * angles of their own, the view from there. */
export function viewFrame(from: ViewFrom): ViewFrame {
  if (typeof from === 'string') return STRAIGHT[from];
  const [across, deep, up] = [
    from.side === 'right' ? 1 : -1,
    from.depth === 'back' ? 1 : -1,
    from.height === 'above' ? 1 : -1,
  ];
  if (from.turned === undefined || from.raised === undefined) return frameTowards([across, deep, up]);
  const [turned, raised] = [from.turned * DEGREE, from.raised * DEGREE];
  const level = Math.cos(raised);
  return frameTowards([
    across * Math.sin(turned) * level,
    deep * Math.cos(turned) * level,
    up * Math.sin(raised),
  ]);
}

/** The frame seen from any direction, z upright; looking straight down or up, the back of the piece is up or down. */
export function frameTowards(direction: Vec3): ViewFrame {
  const toViewer = unit(direction);
  const upright: Vec3 = Math.abs(toViewer[2]) > 1 - 1e-9 ? [0, Math.sign(toViewer[2]), 0] : [0, 0, 1];
  const up = unit(subtract(upright, scale(toViewer, dot(upright, toViewer))));
  return { right: cross(up, toViewer), up, toViewer };
}

/** Where a point of the piece falls in the view, mm. */
export const project = (p: Vec3, frame: ViewFrame): Point => [dot(p, frame.right), dot(p, frame.up)];
