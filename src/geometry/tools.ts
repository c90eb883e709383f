/**
 * Bodies that a board starts as or is cut with, as closed surfaces in doubles with exact planes: the blank, a notch, a drill, a
 * saw cut at an angle. All in the part's own frame, millimetres. The solid kernel works in single precision; the planes kept
 * here give its result back its exactness.
 */
import { facetsOfTurn } from '../model/flat.ts';
import type { Vec3 } from '../model/types.ts';
import type { Convex } from '../resolve/convex.ts';
import type { Round, SolidFace } from './types.ts';
import { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from './vectors.ts';

export type Role = SolidFace['role'];

/** One face of a tool: its plane, and the curved surface it stands for where it is a facet. */
export interface ToolFace {
  readonly normal: Vec3;
  readonly offset: number;
  readonly role: Role;
  readonly round?: Round;
}

/** A closed surface: `face` gives for each triangle its index in `faces`. */
export interface Tool {
  readonly vertices: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
  readonly face: readonly number[];
  readonly faces: readonly ToolFace[];
}

/** What is done to a blank: `cut` takes the tool away, `keep` keeps only what lies inside it. */
export interface Shaping {
  readonly tool: Tool;
  readonly does: 'cut' | 'keep';
}

/**
 * How far a facet may lie inside the true curve, mm. Facets only have to show where one thing hides another, so a coarse
 * value keeps drawings fast.
 */
export const SAGITTA = 0.03;

/**
 * A prism: a convex outline swept along a vector. The outline runs counter-clockwise seen from the side that `along` points
 * to. `sides` may name roles and curved surfaces for the faces that start at each outline point.
 */
export function prismTool(
  outline: readonly Vec3[],
  along: Vec3,
  roles: {
    readonly start?: Role;
    readonly end?: Role;
    readonly sides?: readonly { role?: Role; round?: Round }[];
  } = {},
): Tool {
  const n = outline.length;
  const vertices = [...outline, ...outline.map((p) => add(p, along))];
  const triangles: [number, number, number][] = [];
  const face: number[] = [];
  const faces: ToolFace[] = [];
  const first = outline[0] as Vec3;
  // The two ends are parallel by construction; one normal serves both. Newell's sum holds for any outline.
  let sum: Vec3 = [0, 0, 0];
  for (let i = 1; i + 1 < n; i++)
    sum = add(sum, cross(subtract(outline[i] as Vec3, first), subtract(outline[i + 1] as Vec3, first)));
  const normal = unit(sum);
  faces.push({ normal: scale(normal, -1), offset: -dot(normal, first), role: roles.start ?? 'cut' });
  faces.push({ normal, offset: dot(normal, add(first, along)), role: roles.end ?? 'cut' });
  for (let i = 1; i + 1 < n; i++) {
    triangles.push([0, i + 1, i], [n, n + i, n + i + 1]);
    face.push(0, 1);
  }
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const side = unit(cross(subtract(outline[j] as Vec3, outline[i] as Vec3), along));
    const said = roles.sides?.[i];
    face.push(faces.length, faces.length);
    faces.push({
      normal: side,
      offset: dot(side, outline[i] as Vec3),
      role: said?.role ?? 'cut',
      ...(said?.round === undefined ? {} : { round: said.round }),
    });
    triangles.push([i, j, n + j], [i, n + j, n + i]);
  }
  return { vertices, triangles, face, faces };
}

/** A rectangular body between two corners, along the part's own axes; its faces are cuts. */
export function boxTool(min: Vec3, max: Vec3): Tool {
  return prismTool(rectangle(min, max), [0, 0, max[2] - min[2]]);
}

const rectangle = (min: Vec3, max: Vec3): Vec3[] => [
  [min[0], min[1], min[2]],
  [max[0], min[1], min[2]],
  [max[0], max[1], min[2]],
  [min[0], max[1], min[2]],
];

/** A square-cut board: x along its length, y its width, z its thickness, from 0. Ends, edges and wide faces have their roles. */
export function blankTool(size: { length: number; width: number; thickness: number }): Tool {
  return boardTool([0, 0, 0], [size.length, size.width, size.thickness]);
}

/** A square-cut board between two corners, its faces with their roles. */
export function boardTool(min: Vec3, max: Vec3): Tool {
  return prismTool(rectangle(min, max), [0, 0, max[2] - min[2]], {
    start: 'wide',
    end: 'wide',
    sides: [{ role: 'edge' }, { role: 'end' }, { role: 'edge' }, { role: 'end' }],
  });
}

/** A convex body as a tool; `roleOf` gives the role of a face from its name. */
export function convexTool<T>(body: Convex<T>, roleOf: (name: T) => Role = () => 'cut'): Tool {
  const vertices: Vec3[] = [];
  const at = (p: Vec3): number => {
    const known = vertices.findIndex((q) => norm(subtract(p, q)) < 1e-6);
    return known >= 0 ? known : vertices.push(p) - 1;
  };
  const triangles: [number, number, number][] = [];
  const face: number[] = [];
  const faces = body.map(({ normal, offset, loop, name }, index): ToolFace => {
    const corners = [...new Set(loop.map(at))];
    for (let i = 1; i + 1 < corners.length; i++) {
      triangles.push([corners[0] as number, corners[i] as number, corners[i + 1] as number]);
      face.push(index);
    }
    return { normal, offset, role: roleOf(name) };
  });
  return { vertices, triangles, face, faces };
}

/** A drill: from `origin` along the unit vector `axis`, `length` deep. Facets lie inside the circle by at most `sagitta`. */
export function drillTool(
  origin: Vec3,
  axis: Vec3,
  radius: number,
  length: number,
  sagitta: number = SAGITTA,
): Tool {
  const count = facetCount(radius, sagitta);
  const { first, second } = acrossAxis(axis);
  const round: Round = { origin, axis, radius };
  const outline: Vec3[] = [];
  for (let i = 0; i < count; i++) {
    const angle = (2 * Math.PI * i) / count;
    outline.push(
      add(origin, add(scale(first, radius * Math.cos(angle)), scale(second, radius * Math.sin(angle)))),
    );
  }
  return prismTool(outline, scale(axis, length), { sides: outline.map(() => ({ round })) });
}

/** Facets of a full turn, a multiple of four, so that the chords stay within `sagitta` of the circle. */
export const facetCount = (radius: number, sagitta: number = SAGITTA): number =>
  facetsOfTurn(radius, sagitta);

/**
 * A saw cut: everything on the outer side of a plane (`normal · x > offset`) within `reach` of the point on the plane that is
 * nearest to `near`. `role` is that of the fresh face: `end` for a mitre, `cut` otherwise.
 */
export function planeTool(normal: Vec3, offset: number, near: Vec3, reach: number, role: Role = 'cut'): Tool {
  const { first, second } = acrossAxis(normal);
  const centre = add(near, scale(normal, offset - dot(normal, near)));
  const corner = (a: number, b: number): Vec3 =>
    add(centre, add(scale(first, a * reach), scale(second, b * reach)));
  return prismTool([corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)], scale(normal, reach), {
    start: role,
  });
}
