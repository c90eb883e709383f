/**
 * Curves in which curved surfaces meet otherwise than in a circle or ellipse: two holes that cross, a countersink at a slant, roundings
 * that meet in a corner. The chords of their facets are refined to points of the true curve, fine enough for any paper.
 */
import { awayOn, heightOn, normalOn } from '../../geometry/rounds.ts';
import type { PlacedPart, Round, SolidFace } from '../../geometry/types.ts';
import { add, cross, dot, norm, scale, subtract } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';

/** How far the refined curve may lie off the true one, mm. */
const FINE = 0.002;
/** Most pieces of one chord. */
const MOST = 12;
/** A facet's chord lies no further than this off its curve, mm: beyond it something else is meant. */
const NEAR = 0.5;

/** A curve of a part: points along it in the piece, ends included, and the cylinders that it lies on. */
export interface Crossing {
  readonly points: readonly Vec3[];
  readonly cylinders: readonly Round[];
}

interface Surface {
  /** Distance off the surface, and where that grows. */
  readonly off: (p: Vec3) => number;
  readonly out: (p: Vec3) => Vec3;
}

function surfaceOf(face: SolidFace, round: Round | undefined): Surface {
  if (!round) return { off: (p) => dot(face.normal, p) - face.offset, out: () => face.normal };
  const { ring, radius, widens = 0 } = round;
  return {
    out: (p) => normalOn(round, p),
    off: (p) => {
      const away = dot(subtract(p, round.origin), awayOn(round, p));
      if (ring !== undefined) return Math.hypot(away - ring, heightOn(round, p)) - radius;
      return (away - radius - widens * heightOn(round, p)) / Math.hypot(1, widens);
    },
  };
}

/** The curves of a part by the numbers of their edges; `rimOf` has the edges that are on circles and ellipses. */
export function crossings(
  part: PlacedPart,
  roundOf: (face: number) => Round | undefined,
  rimOf: Int32Array,
): ReadonlyMap<number, Crossing> {
  const found = new Map<number, Crossing>();
  part.edges.forEach((edge, e) => {
    if (edge.smooth || (rimOf[e] as number) >= 0) return;
    const [one, other] = [roundOf(edge.left), roundOf(edge.right)];
    // A cylinder meets a plane in its rims or in straight lines.
    const bent = [one, other].filter((round) => round !== undefined);
    if (bent.length === 0 || one === other) return;
    if (bent.length === 1 && bent[0]?.widens === undefined && bent[0]?.ring === undefined) return;
    const surfaces = [
      surfaceOf(part.faces[edge.left] as SolidFace, one),
      surfaceOf(part.faces[edge.right] as SolidFace, other),
    ] as const;
    const ends = [part.vertices[edge.a], part.vertices[edge.b]] as [Vec3, Vec3];
    const points = refined(...ends, surfaces) ?? ends;
    const cylinders = bent.filter(({ widens, ring }) => widens === undefined && ring === undefined);
    found.set(e, { points, cylinders });
  });
  return found;
}

/** Points of the curve from one end of a chord to the other; undefined where the surfaces nearly touch. */
function refined(a: Vec3, b: Vec3, surfaces: readonly [Surface, Surface]): Vec3[] | undefined {
  const chord = (t: number): Vec3 => add(scale(a, 1 - t), scale(b, t));
  const middle = onto(chord(0.5), surfaces);
  const [from, to] = [onto(a, surfaces), onto(b, surfaces)];
  if (!middle || !from || !to) return undefined;
  const bow = norm(subtract(middle, scale(add(from, to), 0.5)));
  const count = Math.min(MOST, Math.ceil(Math.sqrt(bow / FINE)));
  const points = [from];
  for (let i = 1; i < count; i++) {
    const point = onto(chord(i / count), surfaces);
    if (!point) return undefined;
    points.push(point);
  }
  return [...points, to];
}

/** The nearest point on both surfaces, by Newton's method; undefined where they nearly touch or it lies elsewhere. */
function onto(start: Vec3, [one, other]: readonly [Surface, Surface]): Vec3 | undefined {
  let at = start;
  for (let i = 0; i < 20; i++) {
    const [f, g] = [one.off(at), other.off(at)];
    if (Math.abs(f) + Math.abs(g) < 1e-9) break;
    const [p, q] = [one.out(at), other.out(at)];
    const along = dot(p, q);
    const det = 1 - along * along;
    if (norm(cross(p, q)) < 0.02) return undefined;
    at = subtract(at, add(scale(p, (f - along * g) / det), scale(q, (g - along * f) / det)));
    if (norm(subtract(at, start)) > NEAR) return undefined;
  }
  return at;
}
