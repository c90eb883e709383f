/**
 * In which order and which way boards come out of a piece. What goes in last comes out first; a board leaves in a direction in which
 * nothing that still stands is in its way, or, where there is none, by two moves: one that frees it, and another that takes it out.
 */
import type { PlacedPart, SolidFace } from '../geometry/types.ts';
import { dot, scale, subtract } from '../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../model/types.ts';
import { boundsOf } from './facets.ts';
import { extentOf, middleOf, middleOfAll, movedPart } from './moving.ts';
import { boxesShare, metOnWay, sweptBounds } from './sweep.ts';
import type { Touch } from './touching.ts';

/** How a board comes out. */
export interface Leaving {
  readonly part: number;
  /** The short move that frees it, mm, where it can't go straight. */
  readonly frees?: Vec3;
  /** Then it goes this way, as far as one likes; a unit vector. */
  readonly direction: Vec3;
  /** True where no way was found: boards hold it. The direction is that in which it meets the fewest. */
  readonly held: boolean;
  /** Contacts with what stood when it left, normals out of it. */
  readonly contacts: readonly Touch[];
  /** All that stood then, itself not. */
  readonly standing: readonly number[];
}

/** How far a way is looked along: longer than the piece, however boards are placed in the picture. */
const REACH = 3;
/** A freeing move is tried with so many lengths in a direction, and the search of a piece ends after so many tries. */
const LENGTHS = 8;
const TRIES = 6000;
/** A freed board moves on by this share of the piece where nothing is in its way: it needn't scrape along. */
const FREELY = 0.004;

/** Boards in the order in which they come out, first to leave first; those that leave together in one round. The last of all stays. */
export function takenOut(
  parts: readonly PlacedPart[],
  order: readonly (readonly string[])[],
  contacts: readonly Touch[],
): Leaving[][] {
  const number = new Map(parts.map((part, i) => [part.copy, i]));
  const standing = new Set(parts.map((_, i) => i));
  const rounds: Leaving[][] = [];
  const search = new Search(parts, standing, contacts);
  for (const step of [...order].reverse()) {
    const waiting = new Set(step.flatMap((copy) => number.get(copy) ?? []));
    while (waiting.size > 0 && standing.size > 1) {
      // All that can leave now leaves at once, so that copies on both sides go the same way.
      let round = [...waiting].flatMap((part) => search.straight(part) ?? []);
      if (round.length === 0) round = [...waiting].flatMap((part) => search.bent(part) ?? []);
      if (round.length === 0) round = search.leastHeld([...waiting]);
      round = round.slice(0, standing.size - 1);
      for (const each of round) {
        standing.delete(each.part);
        waiting.delete(each.part);
      }
      rounds.push(round);
    }
  }
  return rounds;
}

/** Ways out of what stands. */
class Search {
  private readonly parts: readonly PlacedPart[];
  private readonly standing: ReadonlySet<number>;
  private readonly contacts: readonly Touch[];
  private tries = 0;

  constructor(parts: readonly PlacedPart[], standing: ReadonlySet<number>, contacts: readonly Touch[]) {
    this.parts = parts;
    this.standing = standing;
    this.contacts = contacts;
  }

  /** The best straight way of a board. */
  straight(part: number): Leaving | undefined {
    const { self, own, others, reach, ranked, standing } = this.placeOf(part);
    for (const direction of ranked) {
      // What it rests on with a whole face needs no sweep to be in the way.
      if (isAgainst(own, direction)) continue;
      if (metOnWay(self, scale(direction, reach), others) === undefined)
        return { part, direction, held: false, contacts: own, standing };
    }
    return undefined;
  }

  /** A way of two moves: the one with the shortest first move, then the best direction. */
  bent(part: number): Leaving | undefined {
    const { self, own, others, reach, ranked, standing, size } = this.placeOf(part);
    let best: { frees: Vec3; direction: Vec3; length: number } | undefined;
    const goes = (from: PlacedPart, by: Vec3): boolean => {
      this.tries++;
      return metOnWay(from, by, others) === undefined;
    };
    for (const first of ranked) {
      if (isAgainst(own, first)) continue;
      for (const length of clearingLengths(self, first, others, FREELY * size)) {
        if (this.tries > TRIES || (best && length > best.length - 1)) break;
        // Where it meets something, it does so on any longer way.
        if (!goes(self, scale(first, length))) break;
        const freed = movedPart(self, scale(first, length));
        const direction = ranked.find((d) => Math.abs(dot(d, first)) < 0.9 && goes(freed, scale(d, reach)));
        if (direction === undefined) continue;
        best = { frees: scale(first, length), direction, length };
        const further = scale(first, length + FREELY * size);
        if (goes(self, further) && goes(movedPart(self, further), scale(direction, reach)))
          best = { ...best, frees: further };
        break;
      }
    }
    if (best === undefined) return undefined;
    const { frees, direction } = best;
    return { part, frees, direction, held: false, contacts: own, standing };
  }

  /** Of boards that others hold, the one that has the fewest others in its way, and where it has. */
  leastHeld(waiting: readonly number[]): Leaving[] {
    let best: { leaving: Leaving; met: number } | undefined;
    for (const part of waiting) {
      const { self, own, others, reach, ranked, standing } = this.placeOf(part);
      for (const direction of ranked) {
        const by = scale(direction, reach);
        const met = others.filter((other) => metOnWay(self, by, [other]) !== undefined).length;
        if (best === undefined || met < best.met)
          best = { leaving: { part, direction, held: true, contacts: own, standing }, met };
      }
    }
    return best === undefined ? [] : [best.leaving];
  }

  private placeOf(part: number) {
    const standing = [...this.standing].filter((i) => i !== part);
    const own = contactsOf(part, this.standing, this.contacts);
    const self = this.parts[part] as PlacedPart;
    const others = standing.map((i) => this.parts[i] as PlacedPart);
    const size = extentOf([self, ...others]);
    const ranked = rankedDirections(self, own, others);
    return { self, own, others, size, reach: size * REACH, ranked, standing };
  }
}

const isAgainst = (own: readonly Touch[], direction: Vec3): boolean =>
  own.some((touch) => dot(touch.normal, direction) > 1e-3);

/** Contacts of a board with those that stand, their normals pointing out of it. */
function contactsOf(part: number, standing: ReadonlySet<number>, contacts: readonly Touch[]): Touch[] {
  return contacts.flatMap((touch) => {
    if (touch.first === part && standing.has(touch.second)) return [touch];
    if (touch.second !== part || !standing.has(touch.first)) return [];
    return [{ ...touch, first: part, second: touch.first, normal: scale(touch.normal, -1) }];
  });
}

/**
 * How far a board has to go along a direction until one of its faces that look back is past the front of a face in its way: a tongue
 * is then past its groove, a notch past its post. The shortest first.
 */
function clearingLengths(part: PlacedPart, d: Vec3, others: readonly PlacedPart[], near: number): number[] {
  const backs = part.faces
    .filter((face) => face.round === undefined && dot(face.normal, d) < -0.5)
    .map((face) => reachOf(part, face, d).back);
  const way = sweptBounds(part.bounds, scale(d, extentOf([part])));
  const lengths: number[] = [];
  for (const other of others) {
    if (!boxesShare(grown(other.bounds, near), part.bounds)) continue;
    for (const face of other.faces) {
      if (face.round !== undefined || dot(face.normal, d) < 0.5) continue;
      const { front, bounds } = reachOf(other, face, d);
      if (!boxesShare(grown(bounds, 1), way)) continue;
      for (const back of backs) if (front - back > 0.1) lengths.push(front - back);
    }
  }
  lengths.sort((a, b) => a - b);
  return lengths
    .filter((length, i) => i === 0 || length - (lengths[i - 1] as number) > 0.1)
    .slice(0, LENGTHS);
}

const grown = ({ min, max }: Bounds, by: number): Bounds => ({
  min: [min[0] - by, min[1] - by, min[2] - by],
  max: [max[0] + by, max[1] + by, max[2] + by],
});

function reachOf(
  part: PlacedPart,
  face: SolidFace,
  d: Vec3,
): { back: number; front: number; bounds: Bounds } {
  const corners = face.loops.flat().map((v) => part.vertices[v] as Vec3);
  const along = corners.map((p) => dot(p, d));
  return { back: Math.min(...along), front: Math.max(...along), bounds: boundsOf(corners) };
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

/** How far a board has to go along a direction until it is past another; 0 where it is already. */
export function lengthPast(part: PlacedPart, other: PlacedPart, d: Vec3): number {
  let [back, front] = [Infinity, -Infinity];
  for (const p of part.vertices) back = Math.min(back, dot(p, d));
  for (const p of other.vertices) front = Math.max(front, dot(p, d));
  return Math.max(0, front - back);
}
