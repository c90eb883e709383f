/**
 * One sheet filled by a greedy rule: parts in a given order, each into the free rectangle that a rule likes best, with two through
 * cuts that leave two free rectangles. Thousands of these with different orders and rules make the search.
 */
import { SAME, type Yard } from './kinds.ts';
import type { KindTree } from './tree.ts';

/** A part put into a free rectangle, by the rectangle's number in the order in which they came to be. */
export interface Placement {
  readonly kind: number;
  readonly free: number;
  readonly turned: boolean;
  /** The first of its two cuts: a crosscut takes its length off, a rip its width. */
  readonly first: 'rip' | 'crosscut';
}

/** A filled sheet. */
export interface Filled {
  readonly size: number;
  readonly placements: readonly Placement[];
  /** Its cuts, where it was not filled by placing parts one after the other. */
  readonly tree?: KindTree;
  /** Parts in it, by kind. */
  readonly counts: Int32Array;
  /** Area of its parts, with kerf. */
  readonly area: number;
}

/** How a greedy filling chooses. */
export interface Rule {
  /** What makes a rectangle the best for a part: the least side left over, the least area, or the least longer side. */
  readonly fit: 'side' | 'area' | 'long';
  /** Which cut comes first: the one that leaves the larger free rectangle, the smaller, or always the same. */
  readonly split: 'larger' | 'smaller' | 'rip' | 'crosscut';
}

/** Free rectangles: length, width, level of the last cut, its direction (0 none, 1 crosscut, 2 rip). */
export interface Free {
  readonly length: number;
  readonly width: number;
  readonly level: number;
  readonly axis: 0 | 1 | 2;
}

/** The levels that a part's two cuts take in a rectangle. */
export function levelsOf(
  free: Free,
  length: number,
  width: number,
  first: 'rip' | 'crosscut',
): { first: number; second: number } {
  const axis = first === 'crosscut' ? 1 : 2;
  const whole = isWhole(free, length, width, first);
  const one = whole ? free.level : free.axis === axis ? Math.max(1, free.level) : free.level + 1;
  const done = first === 'crosscut' ? free.width - width <= SAME : free.length - length <= SAME;
  // where the first cut falls away the second may still run on from the last one
  const runsOn = whole && free.axis !== 0 && free.axis !== axis;
  const two = done ? one : runsOn ? Math.max(1, free.level) : one + 1;
  return { first: one, second: two };
}

/** The two rectangles that a placement leaves; nothing for one of no use. The first is beside the part's strip, the second in it. */
export function leftBy(
  free: Free,
  length: number,
  width: number,
  first: 'rip' | 'crosscut',
): { beside?: Free; within?: Free } {
  const levels = levelsOf(free, length, width, first);
  const l = free.length - length;
  const w = free.width - width;
  const across = first === 'crosscut';
  const beside: Free | undefined =
    (across ? l : w) <= SAME
      ? undefined
      : across
        ? { length: l, width: free.width, level: levels.first, axis: 1 }
        : { length: free.length, width: w, level: levels.first, axis: 2 };
  const within: Free | undefined =
    (across ? w : l) <= SAME
      ? undefined
      : across
        ? { length, width: w, level: levels.second, axis: 2 }
        : { length: l, width, level: levels.second, axis: 1 };
  return { ...(beside && { beside }), ...(within && { within }) };
}

/**
 * Which of the rectangles that a placement leaves must stay empty: where the first level of cuts leaves a piece that two hands can't
 * lift, it may hold one part only. `within`: the rest of the part's own strip; `both`: all of the rectangle.
 */
export function closedBy(
  yard: Yard,
  free: Free,
  length: number,
  width: number,
  first: 'rip' | 'crosscut',
): 'within' | 'both' | undefined {
  if (yard.liftable === Infinity || free.level > 1) return undefined;
  const levels = levelsOf(free, length, width, first);
  if (levels.second <= 1) return undefined;
  const { kerf } = yard.job;
  // a strip of the first level, or a piece of the first level that is cut across now
  const strip = levels.first === 1 && !(free.level === 1 && isWhole(free, length, width, first));
  const l = strip && first === 'crosscut' ? length : free.length;
  const w = strip && first === 'rip' ? width : free.width;
  if ((l - kerf) * (w - kerf) <= yard.liftable + SAME) return undefined;
  return strip ? 'within' : 'both';
}

const isWhole = (free: Free, length: number, width: number, first: 'rip' | 'crosscut'): boolean =>
  first === 'crosscut' ? free.length - length <= SAME : free.width - width <= SAME;

/** Counts how much work was done, so that a search stops at the same step on every machine. */
export interface Meter {
  looks: number;
}

/**
 * Fills a sheet with as many of the parts as go in.
 *
 * @param order kinds, each as often as it is wanted; those that stay out are simply not placed
 */
export function fill(yard: Yard, size: number, order: readonly number[], rule: Rule, meter: Meter): Filled {
  const sheet = yard.sizes[size] as Yard['sizes'][number];
  const free: (Free | undefined)[] = [{ length: sheet.length, width: sheet.width, level: 0, axis: 0 }];
  const open: number[] = [0];
  const placements: Placement[] = [];
  const counts = new Int32Array(yard.kinds.length);
  let area = 0;
  // a kind that found no place finds none later either: rectangles only get smaller
  const refused = new Uint8Array(yard.kinds.length);
  for (const kind of order) {
    if (refused[kind] === 1) continue;
    const best = bestPlace(yard, kind, free, open, rule, meter);
    if (best === undefined) {
      refused[kind] = 1;
      continue;
    }
    placements.push(best);
    counts[kind] = (counts[kind] as number) + 1;
    const { length, width } = sidesOf(yard, best);
    area += length * width;
    const from = free[best.free] as Free;
    open.splice(open.indexOf(best.free), 1);
    const left = leftBy(from, length, width, best.first);
    const closed = closedBy(yard, from, length, width, best.first);
    const beside = closed === 'both' ? undefined : left.beside;
    const within = closed === undefined ? left.within : undefined;
    free.push(beside, within);
    if (beside) open.push(free.length - 2);
    if (within) open.push(free.length - 1);
  }
  return { size, placements, counts, area };
}

/** A placement's length and width as it lies, with kerf. */
export function sidesOf(
  yard: Yard,
  placement: Pick<Placement, 'kind' | 'turned'>,
): { length: number; width: number } {
  const { length, width } = yard.kinds[placement.kind] as Yard['kinds'][number];
  return placement.turned ? { length: width, width: length } : { length, width };
}

function bestPlace(
  yard: Yard,
  kind: number,
  free: readonly (Free | undefined)[],
  open: readonly number[],
  rule: Rule,
  meter: Meter,
): Placement | undefined {
  const { length, width, turnable } = yard.kinds[kind] as Yard['kinds'][number];
  let best: Placement | undefined;
  let least = Infinity;
  const ways = turnable && Math.abs(length - width) > SAME ? 2 : 1;
  for (const index of open) {
    const rectangle = free[index] as Free;
    for (let way = 0; way < ways; way++) {
      meter.looks++;
      const a = way === 0 ? length : width;
      const b = way === 0 ? width : length;
      const l = rectangle.length - a;
      const w = rectangle.width - b;
      if (l < -SAME || w < -SAME) continue;
      const score =
        rule.fit === 'side'
          ? Math.min(l, w)
          : rule.fit === 'area'
            ? rectangle.length * rectangle.width - a * b
            : Math.max(l, w);
      if (score >= least) continue;
      const first = firstCut(yard, rectangle, a, b, rule);
      if (first === undefined) continue;
      least = score;
      best = { kind, free: index, turned: way === 1, first };
    }
  }
  return best;
}

/** The first cut that the rule wants, or the other where the cap on levels forbids it; nothing where both are forbidden. */
function firstCut(
  yard: Yard,
  free: Free,
  length: number,
  width: number,
  rule: Rule,
): 'rip' | 'crosscut' | undefined {
  const l = free.length - length;
  const w = free.width - width;
  // a crosscut first leaves l × the whole width beside it; a rip first leaves the whole length × w
  const crosscutLarger = l * free.width >= w * free.length;
  const wanted =
    rule.split === 'rip' || rule.split === 'crosscut'
      ? rule.split
      : (rule.split === 'larger') === crosscutLarger
        ? 'crosscut'
        : 'rip';
  const other = wanted === 'rip' ? 'crosscut' : 'rip';
  for (const first of [wanted, other] as const) {
    const levels = levelsOf(free, length, width, first);
    if (levels.second <= yard.stages) return first;
  }
  return undefined;
}
