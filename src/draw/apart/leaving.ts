/**
 * In which order and which way boards come out of a piece. What goes in last comes out first. A board leaves in a direction in which
 * nothing that still stands is in its way; where there is none, by two moves, one that frees it and another that takes it out; and where
 * there are none either, boards that were joined before leave it together, and come apart by themselves.
 */
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { dot, scale } from '../../geometry/vectors.ts';
import type { Bounds, Vec3 } from '../../model/types.ts';
import { boundsOf } from '../lines/facets.ts';
import { extentOf, movedPart } from './moving.ts';
import { directionsOf, rankedDirections } from './ranking.ts';
import { allOnWay, boxesShare, metOnWay, sweptBounds } from './sweep.ts';
import { unitsFree } from './together.ts';
import type { Touch } from './touching.ts';

/** How a board comes out, or several together. */
export interface Leaving {
  /** One board, or those that go together: first the one that stays where it is when they come apart. */
  readonly parts: readonly [number, ...number[]];
  /** How those that go together come apart when they are out. */
  readonly inner?: readonly (readonly Leaving[])[];
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
/** A freeing move is tried with so many lengths in a direction. */
const LENGTHS = 8;
/** So many ways are tried for a piece beyond the straight ones of single boards; what has none by then is held. */
const TRIES = 4000;
/** Directions in which boards are tried together. */
const DIRECTIONS = 16;
/** A freed board moves on by this share of the piece where nothing is in its way: it needn't scrape along. */
const FREELY = 0.004;

/**
 * What goes in, step by step, by copy; in brackets what was built before and goes in as one. A list of several assemblies built alike is
 * as good as one list for each.
 */
export type Order = readonly (readonly (string | readonly string[])[])[];

/** A piece whose boards come out, and how many ways may still be tried. */
interface Piece {
  readonly parts: readonly PlacedPart[];
  readonly contacts: readonly Touch[];
  tries: number;
}

interface StepOfWork {
  readonly singles: readonly number[];
  readonly units: readonly (readonly number[])[];
}

/** Boards in the order in which they come out, first to leave first; those that leave at once in one round. The last of all stays. */
export function takenOut(
  parts: readonly PlacedPart[],
  order: Order,
  contacts: readonly Touch[],
): Leaving[][] {
  const number = new Map(parts.map((part, i) => [part.copy, i]));
  const steps = order.map(
    (step): StepOfWork => ({
      singles: step.flatMap((each) => (typeof each === 'string' ? (number.get(each) ?? []) : [])),
      units: step.flatMap((each) =>
        typeof each === 'string'
          ? []
          : connected(
              each.flatMap((copy) => number.get(copy) ?? []),
              contacts,
            ),
      ),
    }),
  );
  return roundsOf({ parts, contacts, tries: TRIES }, new Set(parts.map((_, i) => i)), steps);
}

/** Boards in groups that hang together. */
function connected(members: readonly number[], contacts: readonly Touch[]): number[][] {
  const left = new Set(members);
  const groups: number[][] = [];
  for (const start of members) {
    if (!left.delete(start)) continue;
    const group = [start];
    for (const each of group)
      for (const { first, second } of contacts) {
        const other = first === each ? second : first;
        if ((first === each || second === each) && left.delete(other)) group.push(other);
      }
    groups.push(group.sort((a, b) => a - b));
  }
  return groups;
}

/** How some boards come apart, those of the last step first. */
function roundsOf(piece: Piece, standing: Set<number>, steps: readonly StepOfWork[]): Leaving[][] {
  const rounds: Leaving[][] = [];
  const search = new Search(piece, standing);
  for (let step = steps.length - 1; step >= 0; step--) {
    const { singles, units } = steps[step] as StepOfWork;
    const waiting = new Set(singles.filter((part) => standing.has(part)));
    const whole = (unit: readonly number[]): boolean =>
      unit.length > 1 && unit.length < standing.size && unit.every((part) => standing.has(part));
    while (standing.size > 1 && (waiting.size > 0 || units.some(whole))) {
      // All that can leave now leaves at once, so that copies on both sides go the same way.
      let round = [
        ...[...waiting].flatMap((part) => search.straight(part) ?? []),
        ...units.filter(whole).flatMap((unit) => search.unit(unit) ?? []),
      ];
      if (round.length === 0) round = [...waiting].flatMap((part) => search.bent(part) ?? []);
      if (round.length === 0) round = search.together(waiting);
      if (round.length === 0) round = search.leastHeld([...waiting]);
      round = allButOne(round, standing.size);
      // An assembly that can't be set in as one comes apart where it is.
      if (round.length === 0) break;
      rounds.push(round.map((each) => apart(each, piece, steps.slice(0, step + 1))));
      for (const part of round.flatMap((each) => each.parts)) {
        standing.delete(part);
        waiting.delete(part);
      }
    }
  }
  return rounds;
}

/** As many of those that could leave as leave something behind. */
function allButOne(round: readonly Leaving[], standing: number): Leaving[] {
  let left = standing;
  return round.filter(({ parts }) => {
    if (left - parts.length < 1) return false;
    left -= parts.length;
    return true;
  });
}

/** Boards that leave together, and how they then come apart. */
function apart(leaving: Leaving, piece: Piece, steps: readonly StepOfWork[]): Leaving {
  if (leaving.parts.length === 1) return leaving;
  const inner = roundsOf(piece, new Set(leaving.parts), steps);
  const gone = new Set(inner.flat().flatMap((one) => one.parts));
  const [stays] = leaving.parts.filter((part) => !gone.has(part)) as [number];
  return { ...leaving, inner, parts: [stays, ...leaving.parts.filter((part) => part !== stays)] };
}

/** Ways out of what stands. */
class Search {
  private readonly piece: Piece;
  private readonly parts: readonly PlacedPart[];
  private readonly contacts: readonly Touch[];
  private readonly standing: ReadonlySet<number>;

  constructor(piece: Piece, standing: ReadonlySet<number>) {
    this.piece = piece;
    this.parts = piece.parts;
    this.contacts = piece.contacts;
    this.standing = standing;
  }

  /** The best straight way of a board. */
  straight(part: number): Leaving | undefined {
    const { self, own, others, reach, ranked, standing } = this.placeOf(part);
    for (const direction of ranked) {
      // What it rests on with a whole face needs no sweep to be in the way.
      if (isAgainst(own, direction)) continue;
      if (metOnWay(self, scale(direction, reach), others) === undefined)
        return { parts: [part], direction, held: false, contacts: own, standing };
    }
    return undefined;
  }

  /** A way of two moves: the one with the shortest first move, then the best direction. */
  bent(part: number): Leaving | undefined {
    const { self, own, others, reach, ranked, standing, size } = this.placeOf(part);
    let best: { frees: Vec3; direction: Vec3; length: number } | undefined;
    const goes = (from: PlacedPart, by: Vec3): boolean => {
      this.piece.tries--;
      return metOnWay(from, by, others) === undefined;
    };
    for (const first of ranked) {
      if (isAgainst(own, first)) continue;
      for (const length of clearingLengths(self, first, others, FREELY * size)) {
        if (this.piece.tries < 0 || (best && length > best.length - 1)) break;
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
    return { parts: [part], frees, direction, held: false, contacts: own, standing };
  }

  /** Of boards that others hold, the one that has the fewest others in its way, and where it has. */
  leastHeld(waiting: readonly number[]): Leaving[] {
    let best: { leaving: Leaving; met: number } | undefined;
    for (const part of waiting) {
      const { self, own, others, reach, ranked, standing } = this.placeOf(part);
      for (const direction of ranked) {
        if (best !== undefined && this.piece.tries-- < 0) break;
        const met = allOnWay(self, scale(direction, reach), others).size;
        if (best === undefined || met < best.met)
          best = { leaving: { parts: [part], direction, held: true, contacts: own, standing }, met };
      }
    }
    return best === undefined ? [] : [best.leaving];
  }

  /** The best straight way of an assembly. */
  unit(members: readonly number[]): Leaving | undefined {
    const [first] = members as [number, ...number[]];
    const standing = [...this.standing].filter((i) => !members.includes(i));
    const own = contactsOf(members, this.standing, this.contacts);
    const group = members.map((i) => this.parts[i] as PlacedPart);
    const others = standing.map((i) => this.parts[i] as PlacedPart);
    const reach = extentOf([...group, ...others]) * REACH;
    const direction = rankedDirections(group, own, others).find(
      (d) =>
        !isAgainst(own, d) && group.every((part) => metOnWay(part, scale(d, reach), others) === undefined),
    );
    if (direction === undefined) return undefined;
    const parts: Leaving['parts'] = [first, ...members.slice(1)];
    return { parts, direction, held: false, contacts: own, standing };
  }

  /** Boards that leave the waiting ones together, such as a frame that was glued up before. */
  together(waiting: ReadonlySet<number>): Leaving[] {
    if (waiting.size === 0) return [];
    const all = [...this.standing];
    const directions = new Map<string, Vec3>();
    for (const part of waiting)
      for (const d of directionsOf(
        this.parts[part] as PlacedPart,
        contactsOf([part], this.standing, this.contacts),
      ))
        directions.set(d.map((x) => x.toFixed(6)).join(' '), d);
    const search = { parts: this.parts, contacts: this.contacts, standing: all, tries: this.piece.tries };
    const found = unitsFree(search, [...directions.values()].slice(0, DIRECTIONS), (members) => ({
      own: contactsOf(members, this.standing, this.contacts),
      waiting,
    }));
    this.piece.tries = search.tries;
    return found.map(
      ({ members, direction }): Leaving => ({
        parts: members,
        direction,
        held: false,
        contacts: contactsOf(members, this.standing, this.contacts),
        standing: all.filter((i) => !members.includes(i)),
      }),
    );
  }

  private placeOf(part: number) {
    const standing = [...this.standing].filter((i) => i !== part);
    const own = contactsOf([part], this.standing, this.contacts);
    const self = this.parts[part] as PlacedPart;
    const others = standing.map((i) => this.parts[i] as PlacedPart);
    const size = extentOf([self, ...others]);
    const ranked = rankedDirections([self], own, others);
    return { self, own, others, size, reach: size * REACH, ranked, standing };
  }
}

const isAgainst = (own: readonly Touch[], direction: Vec3): boolean =>
  own.some((touch) => dot(touch.normal, direction) > 1e-3);

/** Contacts of boards with the others that stand, normals pointing out of them. */
function contactsOf(
  members: readonly number[],
  standing: ReadonlySet<number>,
  contacts: readonly Touch[],
): Touch[] {
  const own = new Set(members);
  return contacts.flatMap((touch) => {
    const { first, second } = touch;
    if (own.has(first) === own.has(second)) return [];
    if (own.has(first)) return standing.has(second) ? [touch] : [];
    return standing.has(first)
      ? [{ ...touch, first: second, second: first, normal: scale(touch.normal, -1) }]
      : [];
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
