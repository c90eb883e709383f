/**
 * Outlines of whole parts in a view, as covers. A hole changes an outline only where one can see through it; a board whose holes can't be
 * seen through is outlined by its flat sides.
 */
import type { Loop, Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import { cavitiesOf, type Mouth, outerFaces } from './cavities.ts';
import { loopArea } from './flat.ts';

/** A part's faces in a view, by number: which way they look, and their loops (those that look at the viewer and those that look away). */
export interface SeenFaces {
  readonly part: PlacedPart;
  readonly facing: Int8Array;
  readonly loops: (face: number) => readonly Loop[];
}

/** The outline of a part; `hull` is the convex hull of its corners in the view. */
export function outlineOf(seen: SeenFaces, hull: Loop, solids: Pick<Solids, 'united'>): readonly Loop[] {
  const { part, facing } = seen;
  const { of, mouths } = cavitiesOf(part);
  const front: number[] = [];
  for (let f = 0; f < part.faces.length; f++) if (facing[f] === 1) front.push(f);
  if (mouths.some((own) => seenThrough(seen, own))) return solids.united(front.map(seen.loops));
  const closed = new Set(mouths.flat().map(({ face, loop }) => `${face} ${loop}`));
  const solid = (f: number): Loop[] => seen.loops(f).filter((_, i) => !closed.has(`${f} ${i}`));
  // Sides that bound a convex part fill its hull between them.
  let area = 0;
  for (const f of outerFaces(part)) if (facing[f] === 1) for (const loop of solid(f)) area += loopArea(loop);
  if (Math.abs(area - loopArea(hull)) < 1e-6 * area) return [hull];
  return solids.united(front.filter((f) => (of[f] as number) < 0).map(solid));
}

/** True where two mouths of a hole, one before and one behind, may lie over each other. */
function seenThrough({ facing, loops }: SeenFaces, mouths: readonly Mouth[]): boolean {
  const boxes = (way: 1 | -1): Box[] =>
    mouths.flatMap(({ face, loop }) => (facing[face] === way ? [boxOf(loops(face)[loop] as Loop)] : []));
  const before = boxes(1);
  return before.length > 0 && boxes(-1).some((back) => before.some((mouth) => meet(mouth, back)));
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

function boxOf(points: Loop): Box {
  let [left, right, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const [u, v] of points) {
    left = Math.min(left, u);
    right = Math.max(right, u);
    bottom = Math.min(bottom, v);
    top = Math.max(top, v);
  }
  return { left, right, bottom, top };
}

const meet = (a: Box, b: Box): boolean =>
  a.left < b.right && b.left < a.right && a.bottom < b.top && b.bottom < a.top;
