/** A view of parts: its lines, its faces and its extents, in millimetres of the piece, for a drawing to be composed from. */
import type { Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import type { Point, ViewFrame, ViewPicture } from '../types.ts';
import { viewCurves, viewLines } from './hidden-lines.ts';
import { project } from './project.ts';
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

/**
 * Lines, faces and extents of parts seen in a frame. No parts give an empty picture at the origin. Lines and faces are made when they are
 * first looked at: to choose a viewpoint a drawing needs the faces only.
 */
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
  const drawn = once(() => {
    if (options.arcs !== true)
      return { lines: viewLines(parts, frame, lineOptions).filter(wanted), arcs: [] };
    const { lines, arcs } = viewCurves(parts, frame, lineOptions);
    return { lines: lines.filter(wanted), arcs: arcs.filter(wanted) };
  });
  const faces = once(() => (options.faces === false ? [] : viewFaces(parts, frame, solids, fresh)));
  const base = {
    frame,
    get lines() {
      return drawn().lines;
    },
    get faces() {
      return faces();
    },
    ...extents(parts, frame),
  };
  if (options.arcs === true)
    Object.defineProperty(base, 'arcs', { enumerable: true, get: () => drawn().arcs });
  return base;
}

/** What a piece of work gives, done when first asked for. */
function once<T>(work: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: work() };
    return made.value;
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
