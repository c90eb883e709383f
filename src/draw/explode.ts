/**
 * A piece taken apart: each board moves straight out, the way it went in. What goes in last comes out first; a board leaves in a
 * direction in which nothing that still stands is in its way, and moves until it stands clear of the others in the picture.
 */
import type { Solids } from '../geometry/manifold.ts';
import type { PlacedPart } from '../geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../geometry/vectors.ts';
import type { Vec3 } from '../model/types.ts';
import { convexHull, convexOverlap } from './flat.ts';
import { project } from './project.ts';
import { boxesShare, metOnWay } from './sweep.ts';
import { type Touch, touches } from './touching.ts';
import type { Point, ViewFrame } from './types.ts';

/** How a copy leaves. */
export interface Move {
  readonly copy: string;
  /** From its place in the piece to where it is drawn, mm. */
  readonly by: Vec3;
  /** The way it goes in last: the copy it comes to, and the line from a point of its own to the point it meets there, both as drawn. */
  readonly way?: {
    readonly onto: string;
    readonly direction: Vec3;
    readonly distance: number;
    readonly from: Vec3;
    readonly to: Vec3;
  };
  /** True where nothing but force would get it out straight: boards that hold each other. It is drawn apart all the same. */
  readonly held: boolean;
}

/** A piece taken apart. `parts` in the order they came in, moved. */
export interface Exploded {
  readonly parts: readonly PlacedPart[];
  readonly moves: ReadonlyMap<string, Move>;
}

interface Leaving {
  readonly part: number;
  readonly direction: Vec3;
  readonly held: boolean;
  /** Contacts with what stood when it left. */
  readonly contacts: readonly Touch[];
}

/** Paper between boards, as a share of the piece's longest way across; and the furthest a board moves. */
const GAP = 0.06;
const FURTHEST = 1.5;

/**
 * Takes a piece apart. `order` names the copies in the order in which they go in, step by step; copies it doesn't name stand from
 * the start. The view says which boards would cover each other; distances grow until they don't, within reason.
 */
export function explode(
  parts: readonly PlacedPart[],
  order: readonly (readonly string[])[],
  frame: ViewFrame,
  solids: Pick<Solids, 'overlaps'>,
): Exploded {
  const size = extentOf(parts);
  const contacts = touches(parts);
  const leaving = takenOut(parts, order, contacts, solids);
  const moves = new Map<string, Move>();
  const placed: Placed[] = [];
  const rows = new Map<string, number>();
  const gone = new Set(leaving.map((each) => each.part));
  parts.forEach((part, i) => {
    if (gone.has(i)) return;
    moves.set(part.copy, { copy: part.copy, by: [0, 0, 0], held: false });
    placed.push(placedAt(part, [0, 0, 0], frame));
  });
  // What came out last stands nearest: the others keep clear of it.
  for (const each of [...leaving].reverse()) {
    const part = parts[each.part] as PlacedPart;
    const onto = strongest(each, parts, moves);
    const base = onto === undefined ? ([0, 0, 0] as Vec3) : (moves.get(onto.copy)?.by as Vec3);
    if (placed.length === 0) {
      moves.set(part.copy, { copy: part.copy, by: base, held: false });
      placed.push(placedAt(part, base, frame));
      continue;
    }
    // Boards of one kind that go the same way stay a row: none stops short of the one before.
    const row = `${part.part} ${each.direction.map((x) => x.toFixed(6)).join(' ')}`;
    const distance = distanceFor(part, base, each.direction, placed, size, frame, rows.get(row));
    rows.set(row, distance);
    const by = add(base, scale(each.direction, distance));
    const to = add(onto?.middle ?? middleOf(part), base);
    moves.set(part.copy, {
      copy: part.copy,
      by,
      held: each.held,
      ...(onto === undefined
        ? {}
        : {
            way: {
              onto: onto.copy,
              direction: each.direction,
              distance,
              from: add(to, scale(each.direction, distance)),
              to,
            },
          }),
    });
    placed.push(placedAt(part, by, frame));
  }
  return { parts: parts.map((part) => movedPart(part, (moves.get(part.copy) as Move).by)), moves };
}

/** A part moved without turning. */
export function movedPart(part: PlacedPart, by: Vec3): PlacedPart {
  if (norm(by) === 0) return part;
  const at = (p: Vec3): Vec3 => add(p, by);
  return {
    ...part,
    frame: { ...part.frame, origin: at(part.frame.origin) },
    vertices: part.vertices.map(at),
    faces: part.faces.map((face) => ({
      ...face,
      offset: face.offset + dot(face.normal, by),
      ...(face.round === undefined ? {} : { round: { ...face.round, origin: at(face.round.origin) } }),
    })),
    bounds: { min: at(part.bounds.min), max: at(part.bounds.max) },
  };
}

/** In which order and direction the boards come out, first to leave first. The last one of all stays. */
function takenOut(
  parts: readonly PlacedPart[],
  order: readonly (readonly string[])[],
  contacts: readonly Touch[],
  solids: Pick<Solids, 'overlaps'>,
): Leaving[] {
  const number = new Map(parts.map((part, i) => [part.copy, i]));
  const standing = new Set(parts.map((_, i) => i));
  const left: Leaving[] = [];
  for (const step of [...order].reverse()) {
    const waiting = new Set(step.flatMap((copy) => number.get(copy) ?? []));
    while (waiting.size > 0 && standing.size > 1) {
      // All that can leave now leaves at once, so that copies on both sides go the same way.
      let round: Leaving[] = [];
      for (const part of waiting) {
        const free = freeDirection(parts, part, standing, contacts, solids);
        if (free !== undefined) round.push(free);
      }
      if (round.length === 0) {
        const [first] = [...waiting] as [number];
        round = [heldOne(parts, first, standing, contacts)];
      }
      for (const each of round) {
        if (standing.size === 1) break;
        left.push(each);
        standing.delete(each.part);
        waiting.delete(each.part);
      }
    }
  }
  return left;
}

const AXES: readonly Vec3[] = [
  [0, 0, 1],
  [1, 0, 0],
  [-1, 0, 0],
  [0, -1, 0],
  [0, 1, 0],
  [0, 0, -1],
];

/** Directions a board may leave in: away from what it touches, along its own axes, along the piece's; each once. */
function directionsOf(part: PlacedPart, own: readonly Touch[]): Vec3[] {
  const { length, width, thickness } = part.frame;
  const all = [
    ...AXES,
    ...own.map((touch) => scale(touch.normal, -1)),
    ...[length, width, thickness].flatMap((axis) => [axis, scale(axis, -1)]),
  ];
  return all.filter((d, i) => all.findIndex((e) => dot(d, e) > 1 - 1e-6) === i);
}

/** Contacts of a board with those that stand, their normals pointing out of it. */
function contactsOf(part: number, standing: ReadonlySet<number>, contacts: readonly Touch[]): Touch[] {
  return contacts.flatMap((touch) => {
    if (touch.first === part && standing.has(touch.second)) return [touch];
    if (touch.second !== part || !standing.has(touch.first)) return [];
    return [{ ...touch, first: part, second: touch.first, normal: scale(touch.normal, -1) }];
  });
}

function freeDirection(
  parts: readonly PlacedPart[],
  part: number,
  standing: ReadonlySet<number>,
  contacts: readonly Touch[],
  solids: Pick<Solids, 'overlaps'>,
): Leaving | undefined {
  const own = contactsOf(part, standing, contacts);
  const self = parts[part] as PlacedPart;
  const others = [...standing].filter((i) => i !== part).map((i) => parts[i] as PlacedPart);
  const reach = extentOf([self, ...others]) * FURTHEST * 2;
  const ranked = rankedDirections(self, own, others);
  for (const direction of ranked) {
    // What it rests on with a whole face needs no solids to be in the way.
    if (own.some((touch) => dot(touch.normal, direction) > 1e-3)) continue;
    if (metOnWay(self, scale(direction, reach), others, solids) !== undefined) continue;
    return { part, direction, held: false, contacts: own };
  }
  return undefined;
}

/** A board that others hold: it goes where it has least to pass. */
function heldOne(
  parts: readonly PlacedPart[],
  part: number,
  standing: ReadonlySet<number>,
  contacts: readonly Touch[],
): Leaving {
  const own = contactsOf(part, standing, contacts);
  const others = [...standing].filter((i) => i !== part).map((i) => parts[i] as PlacedPart);
  const direction = rankedDirections(parts[part] as PlacedPart, own, others)[0] as Vec3;
  return { part, direction, held: true, contacts: own };
}

/**
 * Directions, best first: straight off the largest contact, outward from the middle of what stands, upward rather than downward,
 * and the shorter way past the others.
 */
function rankedDirections(
  part: PlacedPart,
  own: readonly Touch[],
  others: readonly PlacedPart[],
): readonly Vec3[] {
  const area = own.reduce((sum, touch) => sum + touch.area, 0);
  const size = extentOf([part, ...others]);
  const outward = subtract(middleOf(part), middleOfAll([part, ...others]));
  const worth = (d: Vec3): number => {
    const off =
      area === 0
        ? 0
        : own.reduce((sum, touch) => sum + touch.area * Math.max(0, -dot(touch.normal, d)), 0) / area;
    const past = Math.max(0, ...others.map((other) => lengthPast(part, other, d)));
    return off + (1.2 * dot(outward, d)) / size - (0.8 * past) / size - (d[2] < -0.5 ? 0.3 : 0);
  };
  return directionsOf(part, own)
    .map((d, i) => ({ d, i, worth: worth(d) }))
    .sort((a, b) => b.worth - a.worth || a.i - b.i)
    .map(({ d }) => d);
}

/** How far a board has to go along a direction until it is past another that lies beside its way; 0 where it is none. */
function lengthPast(part: PlacedPart, other: PlacedPart, d: Vec3): number {
  const back = Math.min(...part.vertices.map((p) => dot(p, d)));
  const front = Math.max(...other.vertices.map((p) => dot(p, d)));
  return Math.max(0, front - back);
}

interface Placed {
  readonly bounds: PlacedPart['bounds'];
  readonly hull: readonly Point[];
}

function placedAt(part: PlacedPart, by: Vec3, frame: ViewFrame): Placed {
  const shift = project(by, frame);
  const hull = hullOf(part, frame).map(([u, v]): Point => [u + shift[0], v + shift[1]]);
  return { bounds: { min: add(part.bounds.min, by), max: add(part.bounds.max, by) }, hull };
}

const hulls = new WeakMap<PlacedPart, { frame: ViewFrame; hull: readonly Point[] }>();

function hullOf(part: PlacedPart, frame: ViewFrame): readonly Point[] {
  const known = hulls.get(part);
  if (known?.frame === frame) return known.hull;
  const hull = convexHull(part.vertices.map((p) => project(p, frame)));
  hulls.set(part, { frame, hull });
  return hull;
}

/** How far a board moves along its way: until it is clear of all that is drawn already, or else at least out of their space. */
function distanceFor(
  part: PlacedPart,
  base: Vec3,
  direction: Vec3,
  placed: readonly Placed[],
  size: number,
  frame: ViewFrame,
  least?: number,
): number {
  const gap = GAP * size;
  let apart: number | undefined;
  for (let distance = least ?? gap; distance <= FURTHEST * size; distance += gap / 4) {
    const here = placedAt(part, add(base, scale(direction, distance)), frame);
    if (placed.some((other) => boxesShare(here.bounds, other.bounds))) continue;
    apart ??= distance;
    if (placed.every((other) => !convexOverlap(here.hull, other.hull, -gap / 4))) return distance;
  }
  return apart ?? least ?? gap;
}

/**
 * The contact that a board is drawn to go onto: one straight on its way if there is any, and of those one with a board that has moved
 * least, so that the boards of a row stay together; then the largest.
 */
function strongest(
  { contacts, direction }: Leaving,
  parts: readonly PlacedPart[],
  moves: ReadonlyMap<string, Move>,
): { copy: string; middle: Vec3 } | undefined {
  const found = contacts.flatMap((touch) => {
    const { copy } = parts[touch.second] as PlacedPart;
    const move = moves.get(copy);
    if (move === undefined) return [];
    const straight = dot(touch.normal, direction) < -0.5;
    return [{ copy, middle: touch.middle, straight, moved: norm(move.by), area: touch.area }];
  });
  // Sizes that differ by less than a thousandth are one: sums of sizes end in noise.
  const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-3 * Math.max(a, b);
  return found.reduce<(typeof found)[number] | undefined>((best, next) => {
    if (best === undefined) return next;
    if (best.straight !== next.straight) return next.straight ? next : best;
    if (!near(best.moved, next.moved)) return next.moved < best.moved ? next : best;
    return !near(best.area, next.area) && next.area > best.area ? next : best;
  }, undefined);
}

const middleOf = ({ bounds: { min, max } }: PlacedPart): Vec3 => scale(add(min, max), 0.5);

function spanOf(parts: readonly PlacedPart[]): { min: Vec3; max: Vec3 } {
  const at = (k: 0 | 1 | 2, side: 'min' | 'max'): number =>
    Math[side](...parts.map((part) => part.bounds[side][k]));
  return {
    min: [at(0, 'min'), at(1, 'min'), at(2, 'min')],
    max: [at(0, 'max'), at(1, 'max'), at(2, 'max')],
  };
}

function middleOfAll(parts: readonly PlacedPart[]): Vec3 {
  const { min, max } = spanOf(parts);
  return scale(add(min, max), 0.5);
}

/** The longest way across the piece along its axes, mm. */
function extentOf(parts: readonly PlacedPart[]): number {
  if (parts.length === 0) return 0;
  const { min, max } = spanOf(parts);
  return Math.max(...subtract(max, min));
}
