/**
 * How many parts of each kind a block holds, several kinds packed into a word of 32 bits. Each kind has one bit more than its demand needs, so
 * that sums of two tallies never run over into the next kind, and whether a sum is more than is wanted shows in that bit: a few additions
 * for twenty kinds.
 */
export class Tally {
  /** Words of one tally. */
  readonly words: number;
  /** By kind: its word, and how far up its count lies in it. */
  readonly word: Uint16Array;
  readonly shift: Uint8Array;
  readonly #mask: Int32Array;
  /** By word: what lifts a count into its highest bit as soon as it is more than the demand, and these bits. */
  readonly bias: Int32Array;
  readonly guard: Int32Array;

  /** @param demands parts wanted, by kind: 0 to 65535 each */
  constructor(demands: readonly number[]) {
    this.word = new Uint16Array(demands.length);
    this.shift = new Uint8Array(demands.length);
    this.#mask = new Int32Array(demands.length);
    const bias = [0];
    const guard = [0];
    let used = 0;
    demands.forEach((demand, kind) => {
      const bits = 32 - Math.clz32(demand);
      if (used + bits + 1 > 32) {
        bias.push(0);
        guard.push(0);
        used = 0;
      }
      const last = bias.length - 1;
      this.word[kind] = last;
      this.shift[kind] = used;
      this.#mask[kind] = 2 ** (bits + 1) - 1;
      bias[last] = (bias[last] as number) | ((2 ** bits - 1 - demand) << used);
      guard[last] = (guard[last] as number) | (1 << (used + bits));
      used += bits + 1;
    });
    this.words = bias.length;
    this.bias = Int32Array.from(bias);
    this.guard = Int32Array.from(guard);
  }

  /** The count of a kind in the tally that starts at a place of `bits`. */
  count(bits: Int32Array, at: number, kind: number): number {
    const word = bits[at + (this.word[kind] as number)] as number;
    return (word >>> (this.shift[kind] as number)) & (this.#mask[kind] as number);
  }
}
