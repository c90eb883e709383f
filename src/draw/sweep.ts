/** Whether a board can be drawn straight out of the boards around it: what its faces sweep through, against the others' solids. */
import type { Body, Solids } from '../geometry/manifold.ts';
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { add, dot, scale } from '../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../model/types.ts';

/** Two boards share space where what they share is thicker than this on average, mm, and more than a cubic millimetre. */
const FILM = 0.02;
/** A face sweeps nothing where it looks aside from the way by less than this sine. */
const ALONG = 1e-4;

/** True where the part's solid is its box along the piece's axes. */
export const isBox = ({ bounds: { min, max }, volume, faces }: PlacedPart): boolean =>
  faces.length === 6 &&
  Math.abs((max[0] - min[0]) * (max[1] - min[1]) * (max[2] - min[2]) - volume) < 1e-6 * volume;

/** The box that a moving box passes through. */
export function sweptBounds({ min, max }: Bounds, by: Vec3): Bounds {
  const at = (k: 0 | 1 | 2, low: boolean): number =>
    low ? min[k] + Math.min(0, by[k]) : max[k] + Math.max(0, by[k]);
  return { min: [at(0, true), at(1, true), at(2, true)], max: [at(0, false), at(1, false), at(2, false)] };
}

/** True where two boxes share more than a film. */
export const boxesShare = (a: Bounds, b: Bounds): boolean =>
  ([0, 1, 2] as const).every((k) => Math.min(a.max[k], b.max[k]) - Math.max(a.min[k], b.min[k]) > FILM);

/** The first of the others that a part meets when it moves straight by a vector; undefined where its way is free. */
export function metOnWay(
  part: PlacedPart,
  by: Vec3,
  others: readonly PlacedPart[],
  solids: Pick<Solids, 'overlaps'>,
): PlacedPart | undefined {
  const box = sweptBounds(part.bounds, by);
  const near = others.filter((other) => boxesShare(box, other.bounds));
  if (near.length === 0) return undefined;
  // Along one of the piece's axes a box sweeps a box.
  const plain = isBox(part) && by.filter((x) => Math.abs(x) > 1e-9).length === 1;
  const sure = plain ? near.find(isBox) : undefined;
  if (sure !== undefined) return sure;
  const open = plain ? near.filter((other) => !isBox(other)) : near;
  if (open.length === 0) return undefined;
  const middle = scale(add(part.bounds.min, part.bounds.max), -0.5);
  const shifted = (body: Body): Body => ({
    vertices: body.vertices.map((p) => add(p, middle)),
    triangles: body.triangles,
  });
  const swept = part.faces.flatMap((face) => sweptByFace(part, face, by));
  const bodies = [...swept, ...open].map(shifted);
  const pairs = open.flatMap((other, o) =>
    swept.flatMap((body, s): [number, number][] =>
      boxesShare(boxOf(body), other.bounds) ? [[s, swept.length + o]] : [],
    ),
  );
  const met = solids
    .overlaps(bodies, pairs)
    .findIndex((shared) => shared !== undefined && shared.volume > 1 && shared.thickness > FILM);
  return met < 0 ? undefined : open[(pairs[met] as [number, number])[1] - swept.length];
}

function boxOf({ vertices }: Body): Bounds {
  const span = (k: 0 | 1 | 2, pick: (...values: number[]) => number): number =>
    pick(...vertices.map((p) => p[k]));
  return {
    min: [span(0, Math.min), span(1, Math.min), span(2, Math.min)],
    max: [span(0, Math.max), span(1, Math.max), span(2, Math.max)],
  };
}

/** What a face that looks along the way sweeps, as prisms over its convex pieces. */
function sweptByFace(part: PlacedPart, face: SolidFace, by: Vec3): Body[] {
  const ahead = dot(face.normal, by);
  if (ahead <= ALONG * Math.hypot(...by)) return [];
  const pieces = face.convex
    ? [face.loops[0] as readonly number[]]
    : face.triangles.map((t) => part.triangles[t] as readonly number[]);
  return pieces.map((corners) => {
    const n = corners.length;
    const outline = corners.map((c) => part.vertices[c] as Vec3);
    const triangles: [number, number, number][] = [];
    for (let i = 1; i + 1 < n; i++) triangles.push([0, i + 1, i], [n, n + i, n + i + 1]);
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      triangles.push([i, j, n + j], [i, n + j, n + i]);
    }
    return { vertices: [...outline, ...outline.map((p) => add(p, by))], triangles };
  });
}
