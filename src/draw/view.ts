/** A view of parts: its lines, its faces and its extents, in millimetres of the piece, for a drawing to be composed from. */
import type { Solids } from '../geometry/manifold.ts';
import type { PlacedPart } from '../geometry/types.ts';
import { viewCurves, viewLines } from './hidden-lines.ts';
import { project } from './project.ts';
import type { Point, ViewFrame, ViewPicture } from './types.ts';
import { viewFaces } from './visible-faces.ts';

/** What of a view is needed; everything where nothing is said. */
export interface PictureOptions {
  /** False leaves out hidden lines. */
  readonly hidden?: boolean;
  /** False leaves out faces. */
  readonly faces?: boolean;
  /** True gives rims of curved surfaces as arcs, and leaves them out of the lines. */
  readonly arcs?: boolean;
  /**
   * Copies that stand already in a step's drawing: they hide and are hidden like all others and their visible lines are
   * there, but they get no faces and no hidden lines. `ViewLine.copies` tells which lines are theirs.
   */
  readonly standing?: ReadonlySet<string>;
}

/** Lines, faces and extents of parts seen in a frame. No parts give an empty picture at the origin. */
export function viewPicture(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  solids: Pick<Solids, 'uncovered' | 'united'>,
  options: PictureOptions = {},
): ViewPicture {
  const standing = options.standing ?? new Set<string>();
  const fresh = new Set(parts.map((part) => part.copy).filter((copy) => !standing.has(copy)));
  const wanted = (line: { hidden: boolean; copies: readonly string[] }): boolean =>
    !line.hidden || line.copies.some((copy) => fresh.has(copy));
  const lineOptions = { hidden: options.hidden !== false };
  const { lines, arcs } =
    options.arcs === true
      ? viewCurves(parts, frame, lineOptions)
      : { lines: viewLines(parts, frame, lineOptions), arcs: undefined };
  const faces = options.faces === false ? [] : viewFaces(parts, frame, solids, fresh);
  return {
    frame,
    lines: lines.filter(wanted),
    ...(arcs === undefined ? {} : { arcs: arcs.filter(wanted) }),
    faces,
    ...extents(parts, frame),
  };
}

function extents(parts: readonly PlacedPart[], frame: ViewFrame): { min: Point; max: Point } {
  const min: [number, number] = [Infinity, Infinity];
  const max: [number, number] = [-Infinity, -Infinity];
  for (const part of parts) {
    for (const vertex of part.vertices) {
      const [u, v] = project(vertex, frame);
      min[0] = Math.min(min[0], u);
      min[1] = Math.min(min[1], v);
      max[0] = Math.max(max[0], u);
      max[1] = Math.max(max[1], v);
    }
  }
  return parts.every((part) => part.vertices.length === 0) ? { min: [0, 0], max: [0, 0] } : { min, max };
}
