/** Whether a board can be drawn straight out of the boards around it: what its faces sweep through, against the others' surfaces. */
import type { PlacedPart } from '../../geometry/types.ts';
import { add, cross, dot, scale, subtract, unit } from '../../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';
import { facetsOf } from '../lines/facets.ts';

/** What two boards share counts where it is deeper than this, mm: boards that slide along each other meet no more than this. */
const FILM = 0.02;
/** A face sweeps nothing where it looks aside from the way by less than this sine. */
const ALONG = 1e-4;

/** True where the part's solid is its box along the piece's axes. */
const isBox = ({ bounds: { min, max }, volume, faces }: PlacedPart): boolean =>
  faces.length === 6 &&
  Math.abs((max[0] - min[0]) * (max[1] - min[1]) * (max[2] - min[2]) - volume) < 1e-6 * volume;

/** The box that a moving box passes through. */
export function sweptBounds({ min, max }: Bounds, by: Vec3): Bounds {
  const at = (k: 0 | 1 | 2, low: boolean): number =>
    low ? min[k] + Math.min(0, by[k]) : max[k] + Math.max(0, by[k]);
  return { min: [at(0, true), at(1, true), at(2, true)], max: [at(0, false), at(1, false), at(2, false)] };
}

/** True where two boxes share more than a film. */
export function boxesShare(a: Bounds, b: Bounds): boolean {
  for (const k of [0, 1, 2] as const)
    if (Math.min(a.max[k], b.max[k]) - Math.max(a.min[k], b.min[k]) <= FILM) return false;
  return true;
}

/** The first of the others that a part meets when it moves straight by a vector; undefined where its way is free. */
export function metOnWay(part: PlacedPart, by: Vec3, others: readonly PlacedPart[]): PlacedPart | undefined {
  const [met] = allOnWay(part, by, others, 1);
  return met;
}

/** Of the others those that a part would meet when it moved straight by a vector, no more than `most`. */
export function allOnWay(
  part: PlacedPart,
  by: Vec3,
  others: readonly PlacedPart[],
  most = Infinity,
): ReadonlySet<PlacedPart> {
  const box = sweptBounds(part.bounds, by);
  const near = others.filter((other) => boxesShare(box, other.bounds));
  const met = new Set<PlacedPart>();
  if (near.length === 0) return met;
  // Along one of the piece's axes a box sweeps a box.
  const plain = isBox(part) && by.filter((x) => Math.abs(x) > 1e-9).length === 1;
  const sure = plain ? near.filter(isBox) : [];
  for (const other of sure) if (met.size < most) met.add(other);
  const open = plain ? near.filter((other) => !isBox(other)) : near;
  if (open.length === 0 || met.size >= most) return met;
  const swept = sweptBy(part, by).filter((prism) => boxesShare(prism.bounds, box));
  for (const other of open) {
    if (swept.some((prism) => boxesShare(prism.bounds, other.bounds) && reaches(prism, other)))
      met.add(other);
    if (met.size >= most) break;
  }
  return met;
}

/** What a facet sweeps: the planes that bound it, a film further in, looking outwards; a point in its middle. */
interface Prism {
  readonly planes: readonly { readonly normal: Vec3; readonly offset: number }[];
  readonly middle: Vec3;
  readonly bounds: Bounds;
}

/** What the facets that look along the way sweep; together that is all that the part passes through. */
function sweptBy(part: PlacedPart, by: Vec3): Prism[] {
  const least = ALONG * Math.hypot(...by);
  return facetsOf(part).flatMap(({ corners, normal, bounds }): Prism[] => {
    const ahead = dot(normal, by);
    if (ahead <= least) return [];
    const at = dot(normal, corners[0] as Vec3);
    const planes = [
      { normal: scale(normal, -1), offset: -at - FILM },
      { normal, offset: at + ahead - FILM },
    ];
    corners.forEach((p, i) => {
      const edge = subtract(corners[(i + 1) % corners.length] as Vec3, p);
      if (Math.hypot(...edge) < 1e-9) return;
      const side = unit(cross(edge, by));
      planes.push({ normal: side, offset: dot(side, p) - FILM });
    });
    const sum = corners.reduce((all, p) => add(all, p), [0, 0, 0] as Vec3);
    const middle = add(scale(sum, 1 / corners.length), scale(by, 0.5));
    // A sliver is thinner than the films taken off it.
    if (planes.some((plane) => dot(plane.normal, middle) >= plane.offset)) return [];
    return [{ planes, middle, bounds: sweptBounds(bounds, by) }];
  });
}

/** True where a prism and a part share space: the part's surface passes through the prism, or the prism lies wholly in the part. */
function reaches(prism: Prism, part: PlacedPart): boolean {
  for (const facet of facetsOf(part))
    if (boxesTouch(facet.bounds, prism.bounds) && passesThrough(facet.corners, prism)) return true;
  return isIn(prism.middle, part);
}

const boxesTouch = (a: Bounds, b: Bounds): boolean => {
  for (const k of [0, 1, 2] as const) if (a.min[k] > b.max[k] || b.min[k] > a.max[k]) return false;
  return true;
};

/** True where something is left of a convex facet when all that lies outside a prism is cut off. */
function passesThrough(corners: readonly Vec3[], { planes }: Prism): boolean {
  let rest = corners;
  for (const { normal, offset } of planes) {
    const heights = rest.map((p) => dot(normal, p) - offset);
    if (heights.every((h) => h >= 0)) return false;
    if (heights.every((h) => h < 0)) continue;
    const cut: Vec3[] = [];
    rest.forEach((p, i) => {
      const [h, next] = [heights[i] as number, heights[(i + 1) % rest.length] as number];
      if (h < 0) cut.push(p);
      if (h < 0 === next < 0) return;
      const q = rest[(i + 1) % rest.length] as Vec3;
      cut.push(add(p, scale(subtract(q, p), h / (h - next))));
    });
    rest = cut;
  }
  return rest.length > 0;
}

/** True where a point lies in a part: seen from there, its surface is all around (solid angles: van Oosterom and Strackee, 1983). */
function isIn(point: Vec3, part: PlacedPart): boolean {
  const { min, max } = part.bounds;
  if (([0, 1, 2] as const).some((k) => point[k] < min[k] || point[k] > max[k])) return false;
  let turn = 0;
  for (const triangle of part.triangles) {
    const [a, b, c] = triangle.map((v) => subtract(part.vertices[v] as Vec3, point)) as [Vec3, Vec3, Vec3];
    const [la, lb, lc] = [Math.hypot(...a), Math.hypot(...b), Math.hypot(...c)];
    turn += Math.atan2(dot(a, cross(b, c)), la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return Math.abs(turn) > Math.PI;
}
