/**
 * Blocks: parts laid side by side, such blocks laid side by side the other way, and so on, as through cuts can take them apart. Kept in
 * plain arrays, since there may be hundreds of thousands; a block is a place in them.
 */
import type { Lie } from './steps.ts';
import { Tally } from './tally.ts';
import type { Axis } from './worths.ts';

/** A single part, or the direction of the cuts between a block's pieces. */
export const PART = 0;
export const CROSSCUT = 1;
export const RIP = 2;

export const axisCode = (axis: Axis): number => (axis === 'rip' ? RIP : CROSSCUT);

/** Places at the start; doubled when they are used up. */
const START = 1 << 12;
const BUCKETS = 1 << 16;

/** A number for a kind, so irregular that sums of them differ (the last step of MurmurHash3, A. Appleby, public domain). */
function mixed(kind: number): number {
  let hash = Math.imul(kind, 0x9e3779b1);
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return hash ^ (hash >>> 16);
}

/** All blocks of one search. */
export class Blocks {
  count = 0;
  #room = START;
  /** Along the sheet, across it, in steps. */
  x = new Int32Array(START);
  y = new Int32Array(START);
  worth = new Float64Array(START);
  /** Of its parts, in steps². */
  area = new Float64Array(START);
  parts = new Int32Array(START);
  axis = new Uint8Array(START);
  /** The block to which a piece was added: one of the same axis, or the first piece; −1 where there is none. */
  before = new Int32Array(START);
  /** The piece added last; of a part −1 − its lie. */
  piece = new Int32Array(START);
  dead = new Uint8Array(START);
  readonly #kinds: number;
  readonly #tally: Tally;
  /** Parts by kind, one tally after the other. */
  #bits: Int32Array;
  #hash = new Int32Array(START);
  #next = new Int32Array(START);
  readonly #heads = new Int32Array(BUCKETS);
  readonly #marks: Int32Array;

  /** @param demands parts wanted, by kind; no block may hold more */
  constructor(demands: readonly number[]) {
    this.#kinds = demands.length;
    this.#tally = new Tally(demands);
    this.#bits = new Int32Array(START * this.#tally.words);
    this.#marks = Int32Array.from(demands, (_, kind) => mixed(kind + 1));
    this.forget();
  }

  /** How many parts of a kind a block holds. */
  held(block: number, kind: number): number {
    return this.#tally.count(this.#bits, block * this.#tally.words, kind);
  }

  /** How many of each kind a block holds. */
  counts(block: number): Int32Array {
    const counts = new Int32Array(this.#kinds);
    for (let kind = 0; kind < counts.length; kind++) counts[kind] = this.held(block, kind);
    return counts;
  }

  /** Starts a new family: blocks made so far are no longer compared with new ones. */
  forget(): void {
    this.#heads.fill(-1);
  }

  part(lie: Lie, index: number, worth: number): number {
    const block = this.#place();
    this.x[block] = lie.x;
    this.y[block] = lie.y;
    this.worth[block] = worth;
    this.area[block] = lie.x * lie.y;
    this.parts[block] = 1;
    this.axis[block] = PART;
    this.before[block] = -1;
    this.piece[block] = -1 - index;
    const { words, word, shift } = this.#tally;
    this.#bits.fill(0, block * words, (block + 1) * words);
    this.#bits[block * words + (word[lie.kind] as number)] = 1 << (shift[lie.kind] as number);
    this.#hash[block] = this.#marks[lie.kind] as number;
    return block;
  }

  /** An empty sheet, to which strips are added. */
  empty(axis: Axis, length: number): number {
    const block = this.#place();
    this.x[block] = axis === 'rip' ? length : 0;
    this.y[block] = axis === 'rip' ? 0 : length;
    this.worth[block] = 0;
    this.area[block] = 0;
    this.parts[block] = 0;
    this.axis[block] = axisCode(axis);
    this.before[block] = -1;
    this.piece[block] = -1;
    this.#hash[block] = 0;
    const { words } = this.#tally;
    this.#bits.fill(0, block * words, (block + 1) * words);
    return block;
  }

  /** True where two blocks together hold more of no kind than is needed. */
  within(one: number, other: number): boolean {
    const { words, bias, guard } = this.#tally;
    const bits = this.#bits;
    const a = one * words;
    const b = other * words;
    for (let n = 0; n < words; n++) {
      const sum = (bits[a + n] as number) + (bits[b + n] as number) + (bias[n] as number);
      if ((sum & (guard[n] as number)) !== 0) return false;
    }
    return true;
  }

  /**
   * A block with one piece more, of a given size. Nothing where one that holds the same parts in no more room is known; those that need
   * more room are dead from then on.
   */
  add(before: number, piece: number, axis: Axis, x: number, y: number): number | undefined {
    const { words } = this.#tally;
    const hash = ((this.#hash[before] as number) + (this.#hash[piece] as number)) | 0;
    const bucket = (hash ^ (hash >>> 15)) & (BUCKETS - 1);
    const a = before * words;
    const b = piece * words;
    for (let other = this.#heads[bucket] as number; other >= 0; other = this.#next[other] as number) {
      if (this.#hash[other] !== hash || this.dead[other] === 1) continue;
      const smaller = (this.x[other] as number) <= x && (this.y[other] as number) <= y;
      const larger = (this.x[other] as number) >= x && (this.y[other] as number) >= y;
      if ((!smaller && !larger) || !this.#sum(a, b, other * words)) continue;
      if (smaller) return undefined;
      this.dead[other] = 1;
    }
    const block = this.#place();
    this.x[block] = x;
    this.y[block] = y;
    this.worth[block] = (this.worth[before] as number) + (this.worth[piece] as number);
    this.area[block] = (this.area[before] as number) + (this.area[piece] as number);
    this.parts[block] = (this.parts[before] as number) + (this.parts[piece] as number);
    this.axis[block] = axisCode(axis);
    this.before[block] = before;
    this.piece[block] = piece;
    this.#hash[block] = hash;
    const bits = this.#bits;
    const c = block * words;
    for (let n = 0; n < words; n++) bits[c + n] = (bits[a + n] as number) + (bits[b + n] as number);
    this.#next[block] = this.#heads[bucket] as number;
    this.#heads[bucket] = block;
    return block;
  }

  /** A text that is the same for families of the same blocks. */
  mark(family: readonly number[]): string {
    let one = 0;
    let two = 0;
    for (const block of family) {
      const size =
        Math.imul(this.x[block] as number, 0x85ebca6b) ^ Math.imul(this.y[block] as number, 0xc2b2ae35);
      const mixed = Math.imul(size ^ (this.#hash[block] as number), 0x27d4eb2f);
      one = (one + mixed) | 0;
      two = (two + Math.imul(mixed ^ (mixed >>> 13), 0x165667b1)) | 0;
    }
    return `${family.length}:${one}:${two}`;
  }

  /** The pieces of a block, in the order in which they were added. */
  pieces(block: number): number[] {
    const list: number[] = [];
    let at = block;
    while (at >= 0 && this.axis[at] === this.axis[block]) {
      if (this.before[at] === -1) return list.reverse();
      list.push(this.piece[at] as number);
      at = this.before[at] as number;
    }
    if (at >= 0) list.push(at);
    return list.reverse();
  }

  #sum(a: number, b: number, c: number): boolean {
    const bits = this.#bits;
    for (let n = 0; n < this.#tally.words; n++)
      if ((((bits[a + n] as number) + (bits[b + n] as number)) | 0) !== bits[c + n]) return false;
    return true;
  }

  #place(): number {
    if (this.count === this.#room) this.#grow();
    this.dead[this.count] = 0;
    return this.count++;
  }

  #grow(): void {
    this.#room *= 2;
    const ints = (old: Int32Array): Int32Array<ArrayBuffer> => {
      const made = new Int32Array(this.#room);
      made.set(old);
      return made;
    };
    const doubles = (old: Float64Array): Float64Array<ArrayBuffer> => {
      const made = new Float64Array(this.#room);
      made.set(old);
      return made;
    };
    const bytes = (old: Uint8Array): Uint8Array<ArrayBuffer> => {
      const made = new Uint8Array(this.#room);
      made.set(old);
      return made;
    };
    this.x = ints(this.x);
    this.y = ints(this.y);
    this.parts = ints(this.parts);
    this.before = ints(this.before);
    this.piece = ints(this.piece);
    this.#hash = ints(this.#hash);
    this.#next = ints(this.#next);
    this.worth = doubles(this.worth);
    this.area = doubles(this.area);
    this.axis = bytes(this.axis);
    this.dead = bytes(this.dead);
    const bits = new Int32Array(this.#room * this.#tally.words);
    bits.set(this.#bits);
    this.#bits = bits;
  }
}
