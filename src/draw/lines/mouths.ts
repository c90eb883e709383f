/**
 * What is seen through the mouth of a hole: what covers the mouth covers all that lies in the hole, so that it is found once, and the walls
 * are only cut to the mouth. Most holes of a piece are covered by a board that is screwed on there, and none of their walls is looked at.
 */
import type { Loop, Solids } from '../../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';
import { cavitiesOf, type Mouth } from './cavities.ts';
import { insideOf, isConvex } from './convex-rest.ts';
import {
  above,
  boxOf,
  type Cover,
  cornersOf,
  coverBy,
  coversFrom,
  type FlatFace,
  type FlatPart,
  put,
  TOUCH,
} from './covers.ts';

/** A hole with one mouth that looks at the viewer: the mouth, its own faces that look there too, and the box around it in the piece. */
export interface Inside {
  readonly mouth: Loop;
  readonly faces: readonly FlatFace[];
  readonly bounds: Bounds;
}

/** The mouths of a hole that look at the viewer, as faces of their own in the planes of those they open in. */
export const mouthFaces = (own: FlatPart, hole: number): FlatFace[] =>
  (cavitiesOf(own.part).mouths[hole] as readonly Mouth[]).flatMap((mouth) =>
    own.facing[mouth.face] === 1 ? [mouthFace(own, mouth)] : [],
  );

function mouthFace(own: FlatPart, { face, loop }: Mouth): FlatFace {
  const outer = own.part.faces[face] as SolidFace;
  const corners = [...(outer.loops[loop] as readonly number[])].reverse();
  const flat = [...(own.loops(face)[loop] as Loop)].reverse();
  return {
    own,
    number: face,
    corners: cornersOf(own.part, [corners]),
    face: { ...outer, loops: [corners], convex: isConvex(flat) },
    loops: [flat],
    box: boxOf(flat),
  };
}

/** A hole that is seen into through one mouth; undefined where it has more, or one with corners that point inward: its faces are looked at alone. */
export function insideOfHole(own: FlatPart, hole: number, mouths: readonly FlatFace[]): Inside | undefined {
  const [first, more] = mouths;
  if (!first || more || !first.face.convex) return undefined;
  const { of } = cavitiesOf(own.part);
  return {
    mouth: first.loops[0] as Loop,
    faces: own.faces.filter(({ number }) => of[number] === hole),
    bounds: boundsOfHole(own.part, hole, of),
  };
}

/** A face as it is seen through a mouth, with what covers it; undefined where nothing of it is. `guests` are parts that reach into the hole. */
export function seenThrough(
  face: FlatFace,
  { mouth, faces }: Inside,
  covering: readonly Cover[],
  guests: readonly FlatPart[],
  solids: Pick<Solids, 'united'>,
): { readonly face: FlatFace; readonly covers: readonly Cover[] } | undefined {
  const left = insideOf(face.loops[0] as Loop, mouth, TOUCH);
  if (left === undefined) return undefined;
  const cut: FlatFace = { ...face, loops: [left], box: boxOf(left) };
  const covers: Cover[] = [];
  const { vertices } = face.own.part;
  const height = (vertex: number): number => above(vertices[vertex] as Vec3, face.face);
  for (const blocker of faces) if (coverBy(cut, blocker, height, covers)) return undefined;
  for (const cover of covering) if (put(cover, cut, covers)) return undefined;
  for (const guest of guests) if (coversFrom(cut, guest, solids, covers)) return undefined;
  return { face: cut, covers };
}

function boundsOfHole(part: PlacedPart, hole: number, of: Int32Array): Bounds {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  part.faces.forEach(({ loops }, face) => {
    if (of[face] !== hole) return;
    for (const p of cornersOf(part, loops))
      for (const k of [0, 1, 2] as const) {
        if (p[k] < min[k]) min[k] = p[k];
        if (p[k] > max[k]) max[k] = p[k];
      }
  });
  return { min, max };
}

/** True where a part reaches into a hole. */
export const reachesInto = ({ bounds }: PlacedPart, hole: Bounds): boolean =>
  ([0, 1, 2] as const).every(
    (k) => bounds.min[k] < hole.max[k] - TOUCH && hole.min[k] < bounds.max[k] - TOUCH,
  );
