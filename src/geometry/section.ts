/** Parts cut by a plane, the half before it taken away: what a section shows. */
import type { Vec3 } from '../model/types.ts';
import { features, type ShapedPart } from './features.ts';
import type { Solids } from './manifold.ts';
import { boundsOf } from './place.ts';
import { planeTool, type Tool } from './tools.ts';
import type { PlacedPart, Round } from './types.ts';
import { add, dot, norm, scale, subtract } from './vectors.ts';

/** A plane in the piece: unit normal, and its distance from the origin along it, mm. */
export interface SectionPlane {
  readonly normal: Vec3;
  readonly offset: number;
}

/** A part that reaches less than this over the plane, mm, isn't cut. */
const OVER = 1e-3;

/**
 * What is left of parts behind a plane: all on the side its normal points to is taken away. Faces that the plane makes have the role
 * `section`. Parts wholly before the plane are gone, parts wholly behind it are the same objects.
 */
export function sectionParts(
  parts: readonly PlacedPart[],
  plane: SectionPlane,
  solids: Pick<Solids, 'shape'>,
): PlacedPart[] {
  return parts.flatMap((part) => {
    const heights = part.vertices.map((p) => dot(p, plane.normal) - plane.offset);
    if (heights.every((h) => h <= OVER)) return [part];
    if (heights.every((h) => h >= -OVER)) return [];
    return [cutPart(part, plane, solids)];
  });
}

function cutPart(
  part: PlacedPart,
  { normal, offset }: SectionPlane,
  solids: Pick<Solids, 'shape'>,
): PlacedPart {
  // The kernel works in single precision, so the part goes to it around its own middle.
  const middle = scale(add(part.bounds.min, part.bounds.max), 0.5);
  const blank = asTool(part, middle);
  const reach = 2 * norm(subtract(part.bounds.max, part.bounds.min)) + 10;
  const saw = planeTool(normal, offset - dot(normal, middle), [0, 0, 0], reach, 'section');
  const shaped = features(solids.shape(blank, [{ tool: saw, does: 'cut' }]), [blank, saw]);
  return movedBack(part, shaped, middle);
}

/** A placed part as a tool: its faces with their exact planes, about a middle. Facets of one curved surface share it. */
function asTool(part: PlacedPart, middle: Vec3): Tool {
  const face: number[] = [];
  part.faces.forEach((each, f) => {
    for (const t of each.triangles) face[t] = f;
  });
  const rounds: Round[] = [];
  const shared = (round: Round): Round => {
    const own = { ...round, origin: subtract(round.origin, middle) };
    const known = rounds.find(
      (r) =>
        r.radius === own.radius &&
        r.widens === own.widens &&
        r.ring === own.ring &&
        norm(subtract(r.origin, own.origin)) < 1e-6 &&
        norm(subtract(r.axis, own.axis)) < 1e-9,
    );
    if (known) return known;
    rounds.push(own);
    return own;
  };
  return {
    vertices: part.vertices.map((p) => subtract(p, middle)),
    triangles: part.triangles,
    face,
    faces: part.faces.map(({ normal, offset, role, round }) => ({
      normal,
      offset: offset - dot(normal, middle),
      role,
      ...(round === undefined ? {} : { round: shared(round) }),
    })),
  };
}

function movedBack(part: PlacedPart, shaped: ShapedPart, middle: Vec3): PlacedPart {
  const vertices = shaped.vertices.map((p) => add(p, middle));
  return {
    copy: part.copy,
    part: part.part,
    frame: part.frame,
    vertices,
    triangles: shaped.triangles,
    faces: shaped.faces.map((face) => ({
      ...face,
      offset: face.offset + dot(face.normal, middle),
      ...(face.round === undefined
        ? {}
        : { round: { ...face.round, origin: add(face.round.origin, middle) } }),
    })),
    edges: shaped.edges,
    bounds: boundsOf(vertices),
    volume: shaped.volume,
  };
}
