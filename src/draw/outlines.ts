/**
 * Outlines of whole parts in a view, as covers. A bore (a hole all round, drilled within its faces) changes an outline only where one can
 * see through it; a board whose bores can't be seen through is outlined by its flat sides.
 */
import type { Loop, Solids } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { cross, dot, subtract } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
import { loopArea } from './flat.ts';
import { roundnessOf } from './rims.ts';

/** A part's faces in a view, by number: which way they look, and their loops (those that look at the viewer and those that look away). */
export interface SeenFaces {
  readonly part: PlacedPart;
  readonly facing: Int8Array;
  readonly loops: (face: number) => readonly Loop[];
}

/** What of a part is bored; found once, whatever the view. */
interface Bores {
  /** Per face: 1 for a facet of a bore. */
  readonly bored: Uint8Array;
  /** Per face: for each of its loops whether it is a hole. */
  readonly holes: readonly (readonly boolean[])[];
  /** Faces that all of the part lies under. */
  readonly outer: readonly number[];
  /** False where a bore breaks out through an edge. */
  readonly sound: boolean;
}

const known = new WeakMap<PlacedPart, Bores>();

/** Rounding between a part and a plane that it lies under, mm. */
const TOUCH = 1e-3;

export const outerFaces = (part: PlacedPart): readonly number[] => boresOf(part).outer;

function boresOf(part: PlacedPart): Bores {
  const had = known.get(part);
  if (had !== undefined) return had;
  const found = bores(part);
  known.set(part, found);
  return found;
}

function bores(part: PlacedPart): Bores {
  const bored = new Uint8Array(part.faces.length);
  const round = roundnessOf(part);
  const vertexOf = new Int32Array(part.vertices.length).fill(-1);
  if (round !== undefined) {
    // A ring of facets has as many edges within it as it has facets; what is open has one less.
    const facets = round.rounds.map(() => 0);
    const within = round.rounds.map(() => 0);
    part.faces.forEach((face, f) => {
      const at = round.roundOf[f] as number;
      if (at >= 0 && hollow(part, face)) facets[at] = (facets[at] as number) + 1;
    });
    for (const { left, right } of part.edges) {
      const at = round.roundOf[left] as number;
      if (at >= 0 && at === round.roundOf[right]) within[at] = (within[at] as number) + 1;
    }
    part.faces.forEach((face, f) => {
      const at = round.roundOf[f] as number;
      if (at < 0 || (facets[at] as number) < 3 || (within[at] as number) < (facets[at] as number)) return;
      if (!hollow(part, face)) return;
      bored[f] = 1;
      for (const loop of face.loops) for (const v of loop) vertexOf[v] = at;
    });
  }
  let sound = true;
  const holes = part.faces.map((face, f) =>
    face.loops.map((loop) => {
      const hole = turn(part, face, loop) < 0;
      if (hole || bored[f] === 1) return hole;
      const on = loop.filter((v) => (vertexOf[v] as number) >= 0).length;
      if (on > 0 && on < loop.length) sound = false;
      return false;
    }),
  );
  const outer = part.faces.flatMap((face, f) =>
    face.round === undefined && part.vertices.every((p) => dot(face.normal, p) - face.offset <= TOUCH)
      ? [f]
      : [],
  );
  return { bored, holes, outer, sound };
}

/** True for a facet that looks at its own axis: the wall of a hole. */
function hollow(part: PlacedPart, face: SolidFace): boolean {
  if (face.round === undefined || face.round.ring !== undefined) return false;
  const corner = part.vertices[face.loops[0]?.[0] as number] as Vec3;
  return dot(face.normal, subtract(corner, face.round.origin)) < 0;
}

/** Twice the area of a loop about the face's normal: negative for holes. */
function turn(part: PlacedPart, face: SolidFace, loop: readonly number[]): number {
  const first = part.vertices[loop[0] as number] as Vec3;
  let sum = 0;
  for (let i = 1; i + 1 < loop.length; i++) {
    const [p, q] = [part.vertices[loop[i] as number], part.vertices[loop[i + 1] as number]] as [Vec3, Vec3];
    sum += dot(face.normal, cross(subtract(p, first), subtract(q, first)));
  }
  return sum;
}

/** The outline of a part; `hull` is the convex hull of its corners in the view. */
export function outlineOf(seen: SeenFaces, hull: Loop, solids: Pick<Solids, 'united'>): readonly Loop[] {
  const { part, facing } = seen;
  const { bored, holes, outer, sound } = boresOf(part);
  const front: number[] = [];
  for (let f = 0; f < part.faces.length; f++) if (facing[f] === 1) front.push(f);
  if (!sound || seenThrough(seen, holes)) return solids.united(front.map(seen.loops));
  const plain = front.filter((f) => bored[f] === 0);
  const solid = (f: number): Loop[] => seen.loops(f).filter((_, i) => holes[f]?.[i] !== true);
  // Sides that bound a convex part fill its hull between them.
  let area = 0;
  for (const f of outer) if (facing[f] === 1) for (const loop of solid(f)) area += loopArea(loop);
  if (Math.abs(area - loopArea(hull)) < 1e-6 * area) return [hull];
  return solids.united(plain.map(solid));
}

/** True where the mouth of a hole and its other end may lie over each other. */
function seenThrough({ part, facing, loops }: SeenFaces, holes: Bores['holes']): boolean {
  const boxes = (way: 1 | -1): Box[] =>
    part.faces.flatMap((_, f) =>
      facing[f] === way ? loops(f).flatMap((loop, i) => (holes[f]?.[i] === true ? [boxOf(loop)] : [])) : [],
    );
  const mouths = boxes(1);
  return mouths.length > 0 && boxes(-1).some((back) => mouths.some((mouth) => meet(mouth, back)));
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
