/**
 * What is seen through the mouth of a hole: what covers the mouth covers all that lies in the hole, so that it is found once, and the walls
 * are only cut to the mouth. Most holes of a piece are covered by a board that is screwed on there, and none of their walls is looked at.
 */
import type { Loop, Solids } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import type { Bounds, Vec3 } from '../model/types.ts';
import { cavitiesOf, type Mouth } from './cavities.ts';
import { insideOf, isConvex } from './convex-rest.ts';
import {
  above,
  boxOf,
  type Cover,
  cornersOf,
  coverBy,
  coversFrom,
  coversOf,
  type FlatFace,
  type FlatPart,
  put,
  TOUCH,
} from './covers.ts';

/** A hole with one mouth that looks at the viewer. */
interface Inside {
  readonly mouth: Loop;
  readonly covers: readonly Cover[];
  /** Its own faces that look at the viewer. */
  readonly faces: readonly FlatFace[];
  /** Parts that reach into it. */
  readonly guests: readonly FlatPart[];
}

/** How the faces in a hole are seen: not at all, through its one mouth, or like any others. */
type View = Inside | 'hidden' | 'plain';

/** What of a face is left to look at, and what covers it. */
export interface SeenThrough {
  readonly face: FlatFace;
  readonly covers: readonly Cover[];
}

/** Looks into the holes of a part. */
export class Holes {
  private readonly own: FlatPart;
  private readonly flat: readonly FlatPart[];
  private readonly parts: readonly PlacedPart[];
  private readonly solids: Pick<Solids, 'united'>;
  private readonly views: (View | undefined)[] = [];

  constructor(
    own: FlatPart,
    flat: readonly FlatPart[],
    parts: readonly PlacedPart[],
    solids: Pick<Solids, 'united'>,
  ) {
    this.own = own;
    this.flat = flat;
    this.parts = parts;
    this.solids = solids;
  }

  /** A face as it is seen through the mouth of its hole; undefined where it isn't, 'plain' where it is none of a hole or must be looked at alone. */
  through(face: FlatFace): SeenThrough | 'plain' | undefined {
    const { part } = this.own;
    const hole = cavitiesOf(part).of[face.number] as number;
    if (hole < 0) return 'plain';
    this.views[hole] ??= this.viewInto(hole);
    const view = this.views[hole] as View;
    if (view === 'hidden') return undefined;
    if (view === 'plain' || !face.face.convex) return 'plain';
    const left = insideOf(face.loops[0] as Loop, view.mouth, TOUCH);
    if (left === undefined) return undefined;
    const cut: FlatFace = { ...face, loops: [left], box: boxOf(left) };
    const covers: Cover[] = [];
    const height = (vertex: number): number => above(part.vertices[vertex] as Vec3, face.face);
    for (const blocker of view.faces) if (coverBy(cut, blocker, height, covers)) return undefined;
    for (const cover of view.covers) if (put(cover, cut, covers)) return undefined;
    for (const guest of view.guests)
      if (coversFrom(cut, guest, this.parts[guest.copy] as PlacedPart, this.solids, covers)) return undefined;
    return { face: cut, covers };
  }

  private viewInto(hole: number): View {
    const { own, flat, parts, solids } = this;
    const { of, mouths } = cavitiesOf(own.part);
    const open = (mouths[hole] as readonly Mouth[]).filter(({ face }) => own.facing[face] === 1);
    const seen = open.flatMap((mouth) => {
      const face = mouthFace(own, mouth);
      const covers = coversOf(face, flat, parts, solids);
      return covers === 'all' ? [] : [{ loop: face.loops[0] as Loop, covers }];
    });
    const [first] = seen;
    if (!first) return 'hidden';
    if (open.length > 1 || !isConvex(first.loop)) return 'plain';
    const faces = own.faces.filter(({ number }) => of[number] === hole);
    const box = boundsOfFaces(own.part, hole, of);
    const guests = flat.filter(
      ({ copy }) => copy !== own.copy && meet((parts[copy] as PlacedPart).bounds, box),
    );
    return { mouth: first.loop, covers: first.covers, faces, guests };
  }
}

/** The mouth of a hole as a face of its own, in the plane of the face that it opens in. */
function mouthFace(own: FlatPart, { face, loop }: Mouth): FlatFace {
  const outer = own.part.faces[face] as SolidFace;
  const corners = outer.loops[loop] as readonly number[];
  const flat = [...(own.loops(face)[loop] as Loop)].reverse();
  const convex = isConvex(flat);
  return {
    copy: own.copy,
    number: face,
    corners: cornersOf(own.part, [corners]),
    face: { ...outer, loops: [[...corners].reverse()], convex },
    loops: [flat],
    box: boxOf(flat),
  };
}

function boundsOfFaces(part: PlacedPart, hole: number, of: Int32Array): Bounds {
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

const meet = (a: Bounds, b: Bounds): boolean =>
  ([0, 1, 2] as const).every((k) => a.min[k] < b.max[k] - TOUCH && b.min[k] < a.max[k] - TOUCH);
