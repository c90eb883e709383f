/**
 * All orders of cuts in which the parts of one sheet can be sawn: sets of parts laid side by side, such sets laid side by side the other way,
 * and so on, each way once. Where a sheet holds few parts these can all be made and the one taken that is best to saw.
 */
import { isLiftable, levelsOf, partIn, type Sides, sideBySide } from './block-tree.ts';
import { SAME, sidesWithout, trimmedBy, type Yard } from './kinds.ts';
import type { KindTree } from './tree.ts';

/** Ways to lay parts side by side that are kept in mind at most, and combinations of two that are looked at. */
const MOST_WAYS = 6000;
const MOST_LOOKS = 60_000;
/** Parts beyond which it isn't begun. */
const MOST_PARTS = 9;

/** Parts side by side, or a single one. */
interface Way extends Sides {
  readonly cut: 'rip' | 'crosscut' | 'none';
  readonly kind: number;
  readonly turned: boolean;
  readonly pieces: readonly Way[];
  readonly levels: number;
  /** A text that is the same for what is the same but for the order of pieces. */
  readonly key: string;
}

/**
 * The trees of cuts of all layouts of some parts on a sheet, within the cap on levels; nothing where there are too many to make them all.
 * What is left over lies at the end of each row of pieces, and the length of a part is taken off first.
 *
 * @param counts parts by kind
 */
export function allTrees(yard: Yard, size: number, counts: readonly number[]): KindTree[] | undefined {
  const { stock } = yard.sizes[size] as Yard['sizes'][number];
  const lost = trimmedBy(yard.job);
  const sheet = { length: stock.length - lost, width: stock.width - lost };
  if (counts.reduce((sum, count) => sum + count, 0) > MOST_PARTS) return undefined;
  const ways = new Orders(yard, sheet, counts).all();
  return ways?.flatMap((way) => {
    const tree = laid(yard, way, sheet);
    return tree && levelsOf(tree) <= yard.stages && isLiftable(tree, yard.liftable) ? [tree] : [];
  });
}

/** A way in a piece that may be larger. */
function laid(yard: Yard, way: Way, room: Sides): KindTree | undefined {
  const { kerf } = yard.job;
  if (way.length > room.length + SAME || way.width > room.width + SAME) return undefined;
  if (way.cut === 'none') return partIn(kerf, way, { length: way.length, width: way.width }, room);
  const pieces: KindTree[] = [];
  for (const piece of way.pieces) {
    const own =
      way.cut === 'rip'
        ? { length: room.length, width: piece.width }
        : { length: piece.length, width: room.width };
    const tree = laid(yard, piece, own);
    if (tree === undefined) return undefined;
    pieces.push(tree);
  }
  return sideBySide(kerf, way.cut, pieces, room);
}

class Orders {
  readonly #yard: Yard;
  readonly #sheet: Sides;
  readonly #kinds: readonly number[];
  readonly #counts: readonly number[];
  /** What one part more of each kind adds to the number of a set. */
  readonly #strides: readonly number[];
  readonly #sets: number;
  /** By number of a set: its ways, each once. */
  readonly #ways: Map<string, Way>[] = [];
  #made = 0;
  #looks = 0;

  constructor(yard: Yard, sheet: Sides, counts: readonly number[]) {
    this.#yard = yard;
    this.#sheet = sheet;
    this.#kinds = counts.flatMap((count, kind) => (count > 0 ? [kind] : []));
    this.#counts = this.#kinds.map((kind) => counts[kind] as number);
    let sets = 1;
    this.#strides = this.#counts.map((count) => {
      const stride = sets;
      sets *= count + 1;
      return stride;
    });
    this.#sets = sets;
  }

  /** All ways of the whole set; nothing where there are too many. */
  all(): Way[] | undefined {
    for (let set = 1; set < this.#sets; set++) {
      const ways = new Map<string, Way>();
      this.#ways[set] = ways;
      const digits = this.#digits(set);
      if (digits.reduce((sum, digit) => sum + digit, 0) === 1)
        this.#parts(ways, this.#kinds[digits.indexOf(1)] as number);
      // two sets, of which the one holds of the first kind that there is
      else
        for (let one = 1; one < set; one++) {
          if (!this.#within(one, digits)) continue;
          const other = set - one;
          if (!this.#pairs(ways, one, other)) return undefined;
        }
    }
    return [...(this.#ways[this.#sets - 1] as Map<string, Way>).values()];
  }

  #digits(set: number): number[] {
    return this.#counts.map((count, n) => Math.floor(set / (this.#strides[n] as number)) % (count + 1));
  }

  #within(one: number, digits: readonly number[]): boolean {
    return this.#digits(one).every((digit, n) => digit <= (digits[n] as number));
  }

  #parts(ways: Map<string, Way>, kind: number): void {
    for (const turned of [false, true]) {
      if (turned && this.#yard.kinds[kind]?.turnable !== true) continue;
      const own = sidesWithout(this.#yard, { kind, turned });
      if (turned && Math.abs(own.length - own.width) <= SAME) continue;
      if (own.length > this.#sheet.length + SAME || own.width > this.#sheet.width + SAME) continue;
      const key = `${kind}${turned ? 't' : ''}`;
      ways.set(key, { cut: 'none', kind, turned, pieces: [], levels: 0, key, ...own });
    }
  }

  /** A piece of one set beside pieces of the other. False where there are too many. */
  #pairs(ways: Map<string, Way>, one: number, other: number): boolean {
    for (const first of (this.#ways[one] as Map<string, Way>).values())
      for (const rest of (this.#ways[other] as Map<string, Way>).values())
        for (const cut of ['rip', 'crosscut'] as const) {
          if (first.cut === cut) continue;
          if (++this.#looks > MOST_LOOKS) return false;
          const way = this.#beside(cut, first, rest);
          if (way === undefined || ways.has(way.key)) continue;
          ways.set(way.key, way);
          if (++this.#made > MOST_WAYS) return false;
        }
    return true;
  }

  #beside(cut: 'rip' | 'crosscut', first: Way, rest: Way): Way | undefined {
    const { kerf } = this.#yard.job;
    const along = Math.max(first.length, rest.length);
    const across = Math.max(first.width, rest.width);
    const length = cut === 'rip' ? along : first.length + kerf + rest.length;
    const width = cut === 'rip' ? first.width + kerf + rest.width : across;
    if (length > this.#sheet.length + SAME || width > this.#sheet.width + SAME) return undefined;
    const pieces = [first, ...(rest.cut === cut ? rest.pieces : [rest])];
    const levels = 1 + Math.max(...pieces.map((piece) => piece.levels));
    if (levels > this.#yard.stages) return undefined;
    pieces.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
    const key = `${cut === 'rip' ? 'r' : 'c'}(${pieces.map((piece) => piece.key).join(' ')})`;
    return { cut, kind: -1, turned: false, pieces, length, width, levels, key };
  }
}
