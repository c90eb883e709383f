/**
 * Hinges, hooks and other fittings as plain solids where they are fixed, for drawings alone: a hinge is two leaves and a knuckle, a hook
 * an angle, a round fitting a bar, all others a block. They are bought, so no list and no check of boards knows them.
 */
import type { Copy, FittingSpot, HardwareUse, Plan, Vec3 } from '../model/types.ts';
import type { FittingOutline } from '../read/types.ts';
import { features } from './features.ts';
import type { Solids } from './manifold.ts';
import { placePart } from './place.ts';
import { boxTool, drillTool, planeTool, type Shaping, type Tool } from './tools.ts';
import type { PlacedPart } from './types.ts';
import { acrossAxis, add, cross, dot, scale } from './vectors.ts';

/** How far from the face of a hinge's board the other one may be, and how far behind its face it is looked for, mm. */
const [REACH, LEVEL] = [15, 4];
/** Leaves let in wholly can't be seen: below this gap none are drawn, mm. */
const LEAST_GAP = 0.4;
/** How far from the edge of a face another board is looked for, mm. */
const INSIDE = 3;

/** A use of hardware as a key: its place in the plan. */
export const keyOfUse = ({ origin }: HardwareUse): string => `${origin.line}:${origin.column}`;

/** Tells fittings of metal by their ids, which have spaces; those of boards and of wooden pegs have none. */
export const isMetal = (copy: string): boolean => copy.includes(' ');

/** All fittings of a plan that have an outline, a `PlacedPart` for each piece of each, in the order of the uses. */
export function placeFittings(plan: Plan, solids: Pick<Solids, 'shape'>): PlacedPart[] {
  const copies = plan.parts.flatMap((part) => part.copies);
  return plan.hardware.flatMap((use) =>
    (use.spots ?? []).flatMap((spot, index) => {
      const { outline } = use.item;
      if (outline === undefined) return [];
      return piecesOf(use, outline, spot, copies).map((piece, k) => {
        const own = features(solids.shape(piece.tool, piece.cuts ?? []), [
          piece.tool,
          ...(piece.cuts ?? []).map((one) => one.tool),
        ]);
        const wooden = use.item.kind === 'peg';
        const id = [use.item.key, keyOfUse(use), `${index + 1}.${k + 1}`].join(wooden ? '/' : ' ');
        const frame = { ...piece.frame, mirrored: false };
        const size = { length: 0, width: 0, thickness: 0 } as Copy['size'];
        return {
          ...placePart(own, { copy: id, part: '', frame, size }),
          fitting: {
            use: keyOfUse(use),
            spot: index,
            on: piece.on,
            ...(wooden ? { wooden: true as const } : {}),
          },
        };
      });
    }),
  );
}

/** The box around a piece of a fitting, in a frame of its own, and the copy that it goes with. */
export interface FittingBox {
  readonly frame: Piece['frame'];
  readonly min: Vec3;
  readonly max: Vec3;
  readonly on: string;
}

/** Boxes around the pieces of a use, without the kernel. */
export function fittingBoxes(plan: Plan, { item, spots = [], ...use }: HardwareUse): FittingBox[] {
  const { outline } = item;
  if (outline === undefined) return [];
  const copies = plan.parts.flatMap((part) => part.copies);
  return spots.flatMap((spot) =>
    piecesOf({ ...use, item }, outline, spot, copies).map(({ tool, frame, on }) => {
      const end = (of: (...values: number[]) => number): Vec3 =>
        [0, 1, 2].map((k) => of(...tool.vertices.map((v) => v[k] as number))) as unknown as Vec3;
      return { frame, on, min: end(Math.min), max: end(Math.max) };
    }),
  );
}

/** A piece of a fitting in a frame of its own: x along, y across, z out of the face. */
interface Piece {
  readonly tool: Tool;
  readonly cuts?: readonly Shaping[];
  readonly frame: {
    readonly origin: Vec3;
    readonly length: Vec3;
    readonly width: Vec3;
    readonly thickness: Vec3;
  };
  /** The board that it goes with. */
  readonly on: string;
}

function piecesOf(
  use: HardwareUse,
  outline: FittingOutline,
  spot: FittingSpot,
  copies: readonly Copy[],
): Piece[] {
  if ('diameter' in outline) return [bar(outline, spot)];
  if (use.item.kind === 'hinge') return hinge(outline, spot, copies).pieces;
  const { length, width, thickness } = outline;
  if (use.item.kind === 'hook') return [hook(outline, spot)];
  const frame = frameAt(spot.at, spot.along, spot.face);
  const tool = boxTool([-length / 2, -width / 2, 0], [length / 2, width / 2, thickness]);
  return [{ tool, frame, on: spot.copy }];
}

const frameAt = (origin: Vec3, along: Vec3, out: Vec3): Piece['frame'] => ({
  origin,
  length: along,
  width: cross(out, along),
  thickness: out,
});

/** A round bar from the face, the way its hole goes, cut level with the face. */
function bar({ length, diameter }: Extract<FittingOutline, { diameter: number }>, spot: FittingSpot): Piece {
  const { first } = acrossAxis(spot.face);
  const frame = frameAt(spot.at, first, spot.face);
  const own: Vec3 = [dot(spot.out, frame.length), dot(spot.out, frame.width), dot(spot.out, frame.thickness)];
  const straight = own[2] > 1 - 1e-9;
  const begin = straight ? 0 : diameter;
  const tool = drillTool(scale(own, -begin), own, diameter / 2, length + begin);
  const cuts: Shaping[] = straight
    ? []
    : [{ does: 'cut', tool: planeTool([0, 0, -1], 0, [0, 0, 0], diameter * 4) }];
  return { tool, cuts, frame, on: spot.copy };
}

/** A square hook: a shank out of the face, its end bent up. `length` is how far it stands out, `width` how high its bend, `thickness` its bar. */
function hook(
  { length, width, thickness }: { length: number; width: number; thickness: number },
  spot: FittingSpot,
): Piece {
  // Its bend looks up; on a face that looks up or down along it.
  const up: Vec3 = Math.abs(spot.face[2]) > 0.7 ? spot.rise.along : [0, 0, 1];
  const side = cross(up, spot.face);
  // x out of the face, y up, z aside
  const frame = { origin: spot.at, length: spot.face, width: up, thickness: scale(side, -1) };
  const [half, bar] = [thickness / 2, Math.min(thickness, length / 2, width / 2)];
  const tool = boxTool([0, -half, -half], [length, width - half, half]);
  const cut = boxTool([-1, bar - half, -half - 1], [length - bar, width, half + 1]);
  return { tool, cuts: [{ does: 'cut', tool: cut }], frame, on: spot.copy };
}

type HingeOutline = Extract<FittingOutline, { width: number }>;

/** A hinge's board towards its knuckle: y runs there from the middle of the leaf, z out of the face. */
function lying(outline: HingeOutline, spot: FittingSpot, knuckle: Vec3) {
  const { face, rise } = spot;
  const frame = frameAt(spot.at, cross(knuckle, face), face);
  const here = dot(rise.along, spot.at);
  const [edge, low] =
    dot(rise.along, knuckle) > 0 ? [rise.high - here, rise.low - here] : [here - rise.low, here - rise.high];
  const [half, radius] = [outline.length / 2, (outline.knuckle ?? 3 * outline.thickness) / 2];
  return {
    edge,
    low,
    radius,
    at: (y: number, z: number): Vec3 => add(spot.at, add(scale(knuckle, y), scale(face, z))),
    leaf: (from: number, to: number, back: number, front: number, on: string): Piece[] =>
      to - from < 0.5 || front - back < 0.05
        ? []
        : [{ tool: boxTool([-half, from, back], [half, to, front]), frame, on }],
    pin: (y: number, z: number, on: string): Piece => ({
      tool: drillTool([-half, y, z], [1, 0, 0], radius, 2 * half),
      frame,
      on,
    }),
  };
}

/**
 * A hinge. Where another board faces the leaf's, as the strip behind a lid, it is shut: its leaves lie in the gap and the knuckle before it;
 * else it lies flat, over the line in which the two boards meet.
 */
function hinge(
  outline: HingeOutline,
  spot: FittingSpot,
  copies: readonly Copy[],
): { readonly pieces: Piece[]; readonly middle: Vec3 } {
  const others = copies.filter(({ id }) => id !== spot.copy);
  const shut = lying(outline, spot, spot.knuckle);
  const opposite = nearest(others, shut.at(shut.edge - INSIDE, 0), spot.face);
  if (opposite !== undefined) {
    const { edge, low, radius, at, leaf, pin } = shut;
    const { gap, id } = opposite;
    const thick = gap < LEAST_GAP ? 0 : Math.min(outline.thickness, gap / 2);
    const from = Math.max(low, edge + radius - outline.width / 2);
    const pieces = [
      ...leaf(from, edge, 0, thick, spot.copy),
      ...leaf(from, edge, gap - thick, gap, id),
      pin(edge + radius, gap / 2, id),
    ];
    return { pieces, middle: at(edge + radius, gap / 2) };
  }
  const ways = spot.fixed.knuckle ? [spot.knuckle] : [spot.knuckle, scale(spot.knuckle, -1)];
  const tried = ways.map((way) => {
    const flat = lying(outline, spot, way);
    return { flat, next: others.find((copy) => holds(copy, flat.at(flat.edge + INSIDE, -LEVEL))) };
  });
  const { flat, next } = tried.find((one) => one.next !== undefined) ?? { flat: shut, next: undefined };
  const { edge, low, radius, at, leaf, pin } = flat;
  const { thickness, width } = outline;
  // Leaves end where they touch the knuckle.
  const chord = Math.sqrt(Math.max(0, radius ** 2 - Math.max(0, radius - thickness) ** 2));
  const pieces = [
    ...leaf(Math.max(low, edge - width / 2), edge - chord, 0, thickness, spot.copy),
    ...(next ? leaf(edge + chord, edge + width / 2, 0, thickness, next.id) : []),
    pin(edge, radius, next?.id ?? spot.copy),
  ];
  return { pieces, middle: at(edge, radius) };
}

/** The line that a hinge turns about: a point of its pin, and the axis of the piece along it. Nothing of one that is askew or not drawn. */
export function hingeLine(
  plan: Plan,
  { item, spots }: HardwareUse,
): { readonly point: Vec3; readonly axis: 0 | 1 | 2 } | undefined {
  const [spot] = spots ?? [];
  const { outline, kind } = item;
  if (spot === undefined || kind !== 'hinge' || outline === undefined || 'diameter' in outline)
    return undefined;
  const axis = ([0, 1, 2] as const).find((k) => Math.abs(spot.row.along[k]) > 1 - 1e-6);
  if (axis === undefined) return undefined;
  const copies = plan.parts.flatMap((part) => part.copies);
  return { point: hinge(outline, spot, copies).middle, axis };
}

/** The planes of a board's blank, outward. */
function planesOf({ bounds, faces }: Copy): readonly { readonly normal: Vec3; readonly offset: number }[] {
  if (faces) return faces;
  return ([0, 1, 2] as const).flatMap((axis) => {
    const normal = [0, 0, 0].map((_, k) => (k === axis ? 1 : 0)) as unknown as Vec3;
    return [
      { normal, offset: bounds.max[axis] },
      { normal: scale(normal, -1), offset: -bounds.min[axis] },
    ];
  });
}

const holds = (copy: Copy, point: Vec3): boolean =>
  planesOf(copy).every(({ normal, offset }) => dot(normal, point) < offset);

/** The board that a ray meets first, within reach, and how far that is, mm. */
function nearest(
  copies: readonly Copy[],
  from: Vec3,
  way: Vec3,
): { readonly id: string; readonly gap: number } | undefined {
  let best: { id: string; gap: number } | undefined;
  for (const copy of copies) {
    let [enter, leave] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const { normal, offset } of planesOf(copy)) {
      const speed = dot(normal, way);
      const short = offset - dot(normal, from);
      if (Math.abs(speed) < 1e-9) {
        if (short < 0) enter = Number.POSITIVE_INFINITY;
      } else if (speed < 0) enter = Math.max(enter, short / speed);
      else leave = Math.min(leave, short / speed);
    }
    if (enter > leave || enter < -0.1 || enter > REACH) continue;
    if (best === undefined || enter < best.gap) best = { id: copy.id, gap: Math.max(0, enter) };
  }
  return best;
}
