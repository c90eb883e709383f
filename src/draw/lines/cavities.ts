/**
 * Holes and pockets within a part: faces that can be seen through their mouths only. Where no mouth looks at the viewer nothing of a hole
 * is seen, nor does it hide what the part around it doesn't; most of a drilled part's faces are then out of the way.
 */
import { joinedSets } from '../../geometry/joined.ts';
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { cross, dot, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';

/** A hole in an outer face: the face's number, and which of its loops it is. */
export interface Mouth {
  readonly face: number;
  readonly loop: number;
}

/** The holes of a part. */
export interface Cavities {
  /** Per face: the number of its hole, or -1. */
  readonly of: Int32Array;
  /** For each hole where it opens. */
  readonly mouths: readonly (readonly Mouth[])[];
  /** Per vertex: 1 where only faces of holes meet. */
  readonly within: Uint8Array;
}

/** Rounding between a part and a plane that it lies under, mm. */
const TOUCH = 1e-3;

const known = new WeakMap<PlacedPart['edges'], Cavities>();
const outers = new WeakMap<PlacedPart['edges'], readonly number[]>();

/** Plane faces that all of a part lies under; found once, whatever the view and wherever the board lies. */
export function outerFaces(part: PlacedPart): readonly number[] {
  const had = outers.get(part.edges);
  if (had !== undefined) return had;
  const found = part.faces.flatMap((face, f) =>
    face.round === undefined && part.vertices.every((p) => dot(face.normal, p) - face.offset <= TOUCH)
      ? [f]
      : [],
  );
  outers.set(part.edges, found);
  return found;
}

/** Twice the area of a loop about its face's normal: negative for holes. */
export function turnOfLoop(part: PlacedPart, face: SolidFace, loop: readonly number[]): number {
  const first = part.vertices[loop[0] as number] as Vec3;
  let sum = 0;
  for (let i = 1; i + 1 < loop.length; i++) {
    const [p, q] = [part.vertices[loop[i] as number], part.vertices[loop[i + 1] as number]] as [Vec3, Vec3];
    sum += dot(face.normal, cross(subtract(p, first), subtract(q, first)));
  }
  return sum;
}

/** The holes of a part; found once, whatever the view and wherever the board lies. */
export function cavitiesOf(part: PlacedPart): Cavities {
  const had = known.get(part.edges);
  if (had !== undefined) return had;
  const found = cavities(part);
  known.set(part.edges, found);
  return found;
}

function cavities(part: PlacedPart): Cavities {
  const of = new Int32Array(part.faces.length).fill(-1);
  const within = new Uint8Array(part.vertices.length);
  const outer = new Set(outerFaces(part));
  const holes = holesIn(part, outer);
  if (holes.size === 0) return { of, mouths: [], within };
  const group = groupsWithout(part, outer);
  // A group is a hole where it meets outer faces in their holes only.
  const mouths = new Map<number, Set<Mouth>>();
  const open = new Set<number>();
  for (const { a, left, right } of part.edges)
    for (const [face, other] of [
      [left, right],
      [right, left],
    ] as const) {
      if (!outer.has(face) || outer.has(other)) continue;
      const mouth = holes.get(`${face} ${a}`);
      const own = group[other] as number;
      if (mouth === undefined) open.add(own);
      else if (mouths.has(own)) mouths.get(own)?.add(mouth);
      else mouths.set(own, new Set([mouth]));
    }
  const sound = [...mouths.keys()].filter((own) => !open.has(own));
  const numbers = new Map(sound.map((own, i) => [own, i]));
  group.forEach((own, face) => {
    of[face] = numbers.get(own) ?? -1;
  });
  within.fill(1);
  part.faces.forEach(({ triangles }, face) => {
    if ((of[face] as number) >= 0) return;
    for (const t of triangles) for (const v of part.triangles[t] ?? []) within[v] = 0;
  });
  return {
    of,
    within,
    mouths: sound.map((own) => [...(mouths.get(own) ?? [])]),
  };
}

/**
 * The holes in outer faces, by face and each of its vertices on their rims: also those that lie within straight runs, which loops don't
 * name. Where a hole touches the border of its face it is none.
 */
function holesIn(part: PlacedPart, outer: ReadonlySet<number>): Map<string, Mouth> {
  const found = new Map<string, Mouth>();
  const beside = new Map<number, [number, number][]>();
  for (const { a, b, left, right } of part.edges)
    for (const face of [left, right])
      if (outer.has(face)) beside.set(face, [...(beside.get(face) ?? []), [a, b]]);
  for (const face of outer) {
    const { loops } = part.faces[face] as SolidFace;
    if (loops.length < 2) continue;
    const head = new Map<number, number>();
    const find = (v: number): number => {
      let at = v;
      for (let next = head.get(at); next !== undefined && next !== at; next = head.get(at)) at = next;
      return at;
    };
    for (const [a, b] of beside.get(face) ?? []) {
      for (const v of [a, b]) if (!head.has(v)) head.set(v, v);
      head.set(find(b), find(a));
    }
    const chains = loops.map((loop) => find(loop[0] as number));
    const turns = loops.map((loop) => turnOfLoop(part, part.faces[face] as SolidFace, loop));
    const mouths = new Map<number, Mouth>();
    chains.forEach((chain, loop) => {
      const alone = chains.filter((other) => other === chain).length === 1;
      if (alone && (turns[loop] as number) < 0) mouths.set(chain, { face, loop });
    });
    for (const v of head.keys()) {
      const mouth = mouths.get(find(v));
      if (mouth) found.set(`${face} ${v}`, mouth);
    }
  }
  return found;
}

/** Numbers the faces that hang together without outer ones; -1 for these. */
function groupsWithout(part: PlacedPart, outer: ReadonlySet<number>): number[] {
  const { find, join } = joinedSets(part.faces.length);
  for (const { left, right } of part.edges) if (!outer.has(left) && !outer.has(right)) join(left, right);
  return part.faces.map((_, face) => (outer.has(face) ? -1 : find(face)));
}
