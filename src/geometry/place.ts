/** Plan -> PlacedPart[]: each kind of board is shaped once in its own frame, then set in place for each of its copies. */
import { placingOf } from '../model/frames.ts';
import type { BlankSize, Bounds, Frame, Plan, ShapeOperation, Vec3 } from '../model/types.ts';
import { features, type ShapedPart } from './features.ts';
import type { Solids } from './manifold.ts';
import { laterShapings, startOf } from './shape.ts';
import { blankTool, type Shaping, type Tool } from './tools.ts';
import type { PlacedPart, Round } from './types.ts';
import { cross, dot } from './vectors.ts';

/** No board is longer than a kilometre, mm: beyond that the kernel's single precision says nothing. */
const LONGEST = 1e6;

/** What joints cut into the parts: operations by the id of the copy, made after its own shape. */
export interface JointCuts {
  readonly cuts?: ReadonlyMap<string, readonly ShapeOperation[]>;
  /** With the pilot and clearance holes of screws: for sheets of single parts; a pictorial leaves them out. */
  readonly pilots?: boolean;
}

/** Boards shaped before, by all that they are shaped from: a plan is placed for its proof, its drawings and its models. */
const MOST_SHAPED = 500;
const shapedBefore = new WeakMap<Solids, Map<string, ShapedPart>>();

/** A board shaped now or before. The key isn't rounded: what comes out never depends on which plan came first. */
function shapedOnce(size: BlankSize, shape: readonly ShapeOperation[], solids: Solids): ShapedPart {
  const before = shapedBefore.get(solids) ?? new Map<string, ShapedPart>();
  shapedBefore.set(solids, before);
  const key = JSON.stringify([size, shape]);
  const known = before.get(key);
  if (known) return known;
  const made = shapeBoard(size, laterShapings({ size, shape }), solids, startOf({ size, shape }));
  // A watched shop is shaped again and again in one thread: old boards are let go.
  if (before.size >= MOST_SHAPED) before.clear();
  before.set(key, made);
  return made;
}

/** All copies of a plan as solids in the piece's frame, in the order of its parts and of their copies. */
export function placeParts(plan: Plan, solids: Solids, joints?: JointCuts): PlacedPart[] {
  const shaped = new Map<string, ShapedPart>();
  return plan.parts.flatMap((part) =>
    part.copies.map((copy) => {
      const bored = (joints?.cuts?.get(copy.id) ?? []).filter(
        (one) =>
          joints?.pilots === true || one.kind !== 'hole' || one.name === 'hole' || one.name === 'pocket',
      );
      const shape = [...copy.shape, ...bored];
      const key = JSON.stringify([copy.size, shape], rounded);
      const own = shaped.get(key) ?? shapedOnce(copy.size, shape, solids);
      shaped.set(key, own);
      return placePart(own, { copy: copy.id, part: part.key, frame: copy.frame, size: copy.size });
    }),
  );
}

/** Copies cut alike differ by noise only: a millionth of a millimetre. */
const rounded = (_: string, value: unknown): unknown =>
  typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value;

/**
 * A board shaped in its own frame. A blank without a size in some direction has no surface.
 * @param blank where it isn't the plain one of its size
 */
export function shapeBoard(
  size: BlankSize,
  shapings: readonly Shaping[],
  solids: Pick<Solids, 'shape'>,
  blank: Tool = blankTool(size),
): ShapedPart {
  const real = [size.length, size.width, size.thickness].every((side) => side > 0 && side < LONGEST);
  if (!real) return { vertices: [], triangles: [], faces: [], edges: [], volume: 0 };
  return features(solids.shape(blank, shapings), [blank, ...shapings.map((s) => s.tool)]);
}

/**
 * Sets a shaped board in place. A mirrored copy is reflected in its own frame, across the middle of its width; where that or
 * the frame itself turns the solid inside out, triangles and loops are turned back.
 */
export function placePart(
  own: ShapedPart,
  as: { copy: string; part: string; frame: Frame; size: BlankSize },
): PlacedPart {
  const { frame, size } = as;
  const { point: place, vector: turn } = placingOf(frame, size.width);
  const origin = place([0, 0, 0]);
  const flipped = dot(cross(frame.length, frame.width), frame.thickness) < 0 !== frame.mirrored;
  const vertices = own.vertices.map(place);
  // Facets of one surface share it.
  const rounds = new Map<Round, Round>();
  const placedRound = (round: Round): Round => {
    const placed = rounds.get(round) ?? { ...round, origin: place(round.origin), axis: turn(round.axis) };
    rounds.set(round, placed);
    return placed;
  };
  return {
    copy: as.copy,
    part: as.part,
    frame,
    vertices,
    triangles: flipped ? own.triangles.map(([a, b, c]) => [a, c, b] as const) : own.triangles,
    faces: own.faces.map((face) => {
      const normal = turn(face.normal);
      return {
        ...face,
        normal,
        offset: face.offset + dot(normal, origin),
        loops: flipped ? face.loops.map((loop) => [...loop].reverse()) : face.loops,
        ...(face.round === undefined ? {} : { round: placedRound(face.round) }),
      };
    }),
    edges: flipped ? turnedEdges(own.edges) : own.edges,
    bounds: boundsOf(vertices),
    volume: own.volume,
  };
}

const turned = new WeakMap<ShapedPart['edges'], ShapedPart['edges']>();

/** Edges seen from the other side. Copies placed alike share them, so that what is found out about them is found once. */
function turnedEdges(edges: ShapedPart['edges']): ShapedPart['edges'] {
  const had = turned.get(edges);
  if (had !== undefined) return had;
  const made = edges.map((e) => ({ ...e, left: e.right, right: e.left }));
  turned.set(edges, made);
  return made;
}

/** The box along the axes around points; an empty list gives an empty box at the origin. */
export function boundsOf(points: readonly Vec3[]): Bounds {
  if (points.length === 0) return { min: [0, 0, 0], max: [0, 0, 0] };
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const p of points) {
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k] as number, p[k] as number);
      max[k] = Math.max(max[k] as number, p[k] as number);
    }
  }
  return { min, max };
}
