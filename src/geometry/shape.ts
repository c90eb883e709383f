/** What a board's blank goes through before it is a part: each shaping operation as bodies of the kernel. */
import { type Facets, isHollow } from '../model/face-outline.ts';
import type {
  BoxCut,
  EdgeWork,
  FlatPoint,
  Hole,
  SawCut,
  ShapeOperation,
  Side,
  Tongue,
} from '../model/shape.ts';
import { axisOfSide, farCorner, isFar, planeOfSide, SIDES } from '../model/sides.ts';
import type { BlankSize, Copy, Vec3 } from '../model/types.ts';
import { blankOf } from '../model/workpiece.ts';
import { type Convex, convexBox, cutConvex } from '../resolve/convex.ts';
import { followingTools, rimTools, stopsOf } from './edge-tools.ts';
import { coneTool, outlineTool, roundTool, slotTool } from './outlines.ts';
import {
  boardTool,
  boxTool,
  convexTool,
  drillTool,
  planeTool,
  type Role,
  SAGITTA,
  type Shaping,
  type Tool,
} from './tools.ts';
import { add, dot, norm, scale, subtract, unit } from './vectors.ts';

/** How far tools reach beyond the board, mm. */
const BEYOND = 2;
const SIDE_NAMES = [0, 0, 0, 0, 0, 0];

/** The corners of the blank; of a tongue-and-groove board with its tongue. */
function blankCorners({ size, shape }: Shaped): readonly [Vec3, Vec3] {
  const [min, max] = [[0, 0, 0], [...farCorner(size)]] as [number[], number[]];
  for (const one of shape) {
    if (one.kind !== 'tongue' || !one.tongue?.out) continue;
    const axis = axisOfSide(one.tongue.side);
    if (isFar(one.tongue.side)) max[axis] = (max[axis] as number) + one.tongue.length;
    else min[axis] = (min[axis] as number) - one.tongue.length;
  }
  return [min as unknown as Vec3, max as unknown as Vec3];
}

type Shaped = Pick<Copy, 'size' | 'shape'>;

/** The blank before any operation. */
export const blankToolOf = (board: Shaped): Tool => boardTool(...blankCorners(board));

/**
 * What the kernel starts from: the blank after its saw cuts, whose planes and corners are exact here where the kernel works in single
 * precision. All operations only take wood away, so that their order doesn't matter.
 */
export function startOf(board: Shaped): Tool {
  const roles: readonly Role[] = SIDES.map((side) => (['end', 'edge', 'wide'] as const)[axisOfSide(side)]);
  let body = convexBox(...blankCorners(board), roles);
  for (const one of board.shape) if (one.kind === 'saw') body = cutConvex(body, one.plane, sawnRole(one));
  return convexTool(body, (role) => role);
}

const sawnRole = (one: SawCut): Role => (axisOfSide(one.side) === 0 && one.name !== 'taper' ? 'end' : 'cut');

/** All shapings of a board, in order, in its own frame. `sagitta` is how far facets lie off a curve, mm. */
export const shapingsOf = (board: Shaped, sagitta: number = SAGITTA): readonly Shaping[] =>
  shapings(board, sagitta, true);

/** The shapings that come after `startOf`. */
export const laterShapings = (board: Shaped, sagitta: number = SAGITTA): readonly Shaping[] =>
  shapings(board, sagitta, false);

function shapings({ size, shape }: Shaped, sagitta: number, saws: boolean): readonly Shaping[] {
  const made: Shaping[] = [];
  const reach = 2 * norm(farCorner(size)) + 100;
  const facets = facetsOf({ size, shape }, sagitta);
  let hull: Convex<Side> = blankOf(size);
  for (const [index, one] of shape.entries()) {
    if (one.kind !== 'saw') made.push(...shapingOf(one, size, hull, facets));
    if (one.kind === 'edge') {
      const before = shape.slice(0, index);
      made.push(...followingTools(one, size, hull, before, facets).map(cut));
      made.push(...rimTools(one, hull, before, facets).map(cut));
    }
    if (one.kind === 'saw') {
      const { normal, offset } = one.plane;
      hull = cutConvex(hull, one.plane, one.side);
      if (saws) made.push(cut(planeTool(normal, offset, scale(farCorner(size), 0.5), reach, sawnRole(one))));
    }
  }
  return made;
}

/**
 * How curves are cut into facets. Round an inside curve a worked edge is wider than the curve itself: the curve's facets are finer then,
 * so that the edge's lie as near; and they end where a bearing leaves the curve.
 */
function facetsOf({ size, shape }: Shaped, whole: number): Facets {
  const works = shape.filter((one): one is EdgeWork => one.kind === 'edge');
  const largest = (list: readonly EdgeWork[]): number => Math.max(0, ...list.map((one) => one.size));
  const along = largest(works.filter((one) => one.follows));
  const around = largest(works.filter((one) => one.holes));
  const sagitta = (one: ShapeOperation): number => {
    const radius = insideRadius(one);
    const wider = one.kind === 'outline' ? along : around;
    return wider === 0 || radius === undefined ? whole : (whole * radius) / (radius + wider);
  };
  const stops: FlatPoint[] = [];
  let hull: Convex<Side> = blankOf(size);
  for (const [index, one] of shape.entries()) {
    if (one.kind === 'saw') hull = cutConvex(hull, one.plane, one.side);
    else if (one.kind === 'edge' && one.follows)
      stops.push(...stopsOf(one, size, hull, shape.slice(0, index), { sagitta, stops: [] }));
  }
  return { sagitta, stops };
}

/** The smallest radius of the inside curves that an operation makes, mm. */
function insideRadius(one: ShapeOperation): number | undefined {
  if (one.kind === 'hole') return (one.counterbore?.diameter ?? one.diameter) / 2;
  if (one.kind === 'slot') return one.width / 2;
  if (one.kind !== 'outline') return undefined;
  const hollows = one.stretches.flatMap(({ arc }) => (arc && isHollow(arc, one.does) ? [arc.radius] : []));
  return hollows.length === 0 ? undefined : Math.min(...hollows);
}

function shapingOf(
  one: Exclude<ShapeOperation, SawCut>,
  size: BlankSize,
  hull: Convex<Side>,
  { sagitta: fineness, stops }: Facets,
): Shaping[] {
  const sagitta = fineness(one);
  const reach = 2 * norm(farCorner(size)) + 100;
  const middle = scale(farCorner(size), 0.5);
  switch (one.kind) {
    case 'box':
      return [cut(boxOf(one, size))];
    case 'hole':
      return holeTools(one, reach, sagitta).map(cut);
    case 'slot':
      return [cut(slotTool(one.from, one.to, one.axis, one.width / 2, one.depth ?? reach, sagitta))];
    case 'outline':
      return [{ tool: outlineTool(one, size, sagitta, stops), does: one.does === 'keep' ? 'keep' : 'cut' }];
    case 'edge':
      return edgeTools(one, hull, sagitta, middle, reach).map(cut);
    case 'tongue':
      return tongueTools(one, size).map(cut);
  }
}

const cut = (tool: Tool): Shaping => ({ tool, does: 'cut' });

function boxOf({ planes, square }: BoxCut, size: BlankSize): Tool {
  if (square) {
    const min = [-BEYOND, -BEYOND, -BEYOND];
    const max = farCorner(size).map((v) => v + BEYOND);
    for (const { normal, offset } of planes) {
      const axis = normal.findIndex((v) => Math.abs(v) > 0.5);
      if ((normal[axis] as number) > 0) max[axis] = Math.min(max[axis] as number, offset);
      else min[axis] = Math.max(min[axis] as number, -offset);
    }
    return boxTool(min as unknown as Vec3, max as unknown as Vec3);
  }
  const far = farCorner(size).map((v) => v + BEYOND) as unknown as Vec3;
  let body: Convex<number> = convexBox([-BEYOND, -BEYOND, -BEYOND], far, SIDE_NAMES);
  for (const plane of planes) body = cutConvex(body, plane, 0);
  return convexTool(body);
}

function holeTools(hole: Hole, reach: number, sagitta: number): Tool[] {
  const { entry, axis, diameter, depth, counterbore, countersink, beyond, angle } = hole;
  // A leaning drill starts so far out that its whole rim is out of the wood.
  const tilt = Math.tan((Math.min(80, angle) * Math.PI) / 180);
  const drill = (wide: number, from: number, deep: number): Tool => {
    const start = from > 0 ? from : -(BEYOND + (wide / 2) * tilt);
    return drillTool(add(entry, scale(axis, start)), axis, wide / 2, deep - start, sagitta);
  };
  const tools = [drill(diameter, 0, depth ?? reach)];
  if (beyond && depth !== undefined) tools.push(drill(beyond.diameter, depth - 0.5, depth + beyond.depth));
  if (counterbore) tools.push(drill(counterbore.diameter, 0, counterbore.depth));
  if (countersink) {
    const tangent = Math.tan((countersink.angle * Math.PI) / 360);
    const least = diameter / 2;
    const wide = countersink.diameter / 2;
    if (wide > least + 0.01) {
      const lean = (angle * Math.PI) / 180;
      tools.push(coneTool(entry, axis, wide, least, tangent, sagitta, lean));
    }
  }
  return tools;
}

/** The edges between the named sides of what the saw cuts have left, each with its tool. */
function edgeTools(work: EdgeWork, hull: Convex<Side>, sagitta: number, middle: Vec3, reach: number): Tool[] {
  const tools: Tool[] = [];
  for (const [one, other] of work.edges)
    for (const first of hull.filter((face) => face.name === one))
      for (const second of hull.filter((face) => face.name === other)) {
        const shared = first.loop.filter((p) => second.loop.some((q) => norm(subtract(p, q)) < 1e-6));
        const [a, b] = shared;
        if (!a || !b || norm(subtract(a, b)) < 0.01) continue;
        if (work.name === 'round') {
          const tool = roundTool(a, b, first.normal, second.normal, work.size, sagitta);
          if (tool) tools.push(tool);
          continue;
        }
        // A chamfer takes as much off both faces, whatever their angle.
        const normal = unit(add(first.normal, second.normal));
        const sine = Math.sqrt(Math.max(0, (1 - dot(first.normal, second.normal)) / 2));
        tools.push(planeTool(normal, dot(normal, a) - work.size * sine, middle, reach));
      }
  return tools;
}

function tongueTools({ tongue, groove }: Tongue, size: BlankSize): Tool[] {
  const tools: Tool[] = [];
  /** All along a side, between two depths from its plane (outward positive) and two heights. */
  const strip = (side: Side, from: number, to: number, low: number, high: number): Tool => {
    const [min, max] = [
      [-BEYOND, -BEYOND, low],
      [...farCorner(size).map((v) => v + BEYOND), 0].slice(0, 2).concat(high),
    ] as [number[], number[]];
    const axis = axisOfSide(side);
    const at = planeOfSide(side, size);
    const ends = isFar(side) ? [at + from, at + to] : [at - to, at - from];
    [min[axis], max[axis]] = ends as [number, number];
    return boxTool(min as unknown as Vec3, max as unknown as Vec3);
  };
  if (tongue) {
    const { side, length, from, thickness, out } = tongue;
    const [low, high] = out ? [0, length + BEYOND] : [-length, BEYOND];
    tools.push(strip(side, low, high, -BEYOND, from));
    tools.push(strip(side, low, high, from + thickness, size.thickness + BEYOND));
  }
  if (groove) {
    const { side, depth, from, thickness } = groove;
    tools.push(strip(side, -depth, BEYOND, from, from + thickness));
  }
  return tools;
}
