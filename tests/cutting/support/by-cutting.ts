/**
 * The least cost of a small sheet job by trying every way of cutting: a piece is a part, or is cut in two at any place where a part or
 * a row of parts could end. Shares nothing with the layout but the job, and takes kerf as it is: a cut eats it between its two pieces.
 */
import type { SheetJob } from '../../../src/cutting/index.ts';

interface Part {
  readonly length: number;
  readonly width: number;
  readonly turnable: boolean;
}

/** Least cost for up to about five parts of one or two sheet sizes; nothing where a part fits no sheet. */
export function leastByCutting(job: SheetJob): number | undefined {
  const parts: Part[] = job.items.flatMap((item) => new Array<Part>(item.quantity).fill(item));
  const all = (1 << parts.length) - 1;
  const sums = (sides: readonly number[]): number[] => {
    const found = new Set<number>([0]);
    for (const side of sides) for (const sum of [...found]) found.add(sum + side + (sum > 0 ? job.kerf : 0));
    return [...found].filter((sum) => sum > 0).sort((a, b) => a - b);
  };
  const sides = (length: boolean): number[] =>
    parts
      .map((part) => (length ? part.length : part.width))
      .concat(parts.filter((p) => p.turnable).map((p) => (length ? p.width : p.length)));
  const cutsAcross = sums(sides(true));
  const cutsAlong = sums(sides(false));
  const known = new Map<string, boolean>();

  /** Can the parts of a set be cut from a piece, with so many levels of turned cuts after those that made it? */
  const holds = (set: number, length: number, width: number, levels: number, axis: 0 | 1 | 2): boolean => {
    if (length <= 0 || width <= 0) return set === 0;
    if (set === 0) return true;
    const area = parts.reduce((sum, p, i) => sum + ((set >> i) & 1) * p.length * p.width, 0);
    if (area > length * width + 1e-9) return false;
    const key = `${set}|${length.toFixed(4)}|${width.toFixed(4)}|${levels}|${axis}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    known.set(key, false);
    const result = tried(set, length, width, levels, axis);
    known.set(key, result);
    return result;
  };
  const tried = (set: number, length: number, width: number, levels: number, axis: 0 | 1 | 2): boolean => {
    if ((set & (set - 1)) === 0) {
      const part = parts[Math.log2(set)] as Part;
      const same = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;
      if (same(part.length, length) && same(part.width, width)) return true;
      if (part.turnable && same(part.width, length) && same(part.length, width)) return true;
    }
    for (const cut of [1, 2] as const) {
      const left = axis === cut ? levels : levels - 1;
      if (left < 0) continue;
      const whole = cut === 1 ? length : width;
      for (const at of cut === 1 ? cutsAcross : cutsAlong) {
        if (at >= whole - 1e-9) break;
        const rest = whole - at - job.kerf;
        for (let first = set; first > 0; first = (first - 1) & set) {
          const one = cut === 1 ? holds(first, at, width, left, cut) : holds(first, length, at, left, cut);
          if (!one) continue;
          const two = set & ~first;
          if (
            two === 0 ||
            (cut === 1 ? holds(two, rest, width, left, cut) : holds(two, length, rest, left, cut))
          )
            return true;
        }
      }
    }
    return false;
  };

  const lost = job.edgeTrim > 0 ? 2 * (job.edgeTrim + job.kerf) : 0;
  const best = new Array<number>(all + 1).fill(Infinity);
  best[0] = 0;
  for (let set = 1; set <= all; set++)
    for (let first = set; first > 0; first = (first - 1) & set)
      for (const stock of job.stocks) {
        const cost = stock.price + (best[set & ~first] as number);
        if (
          cost < (best[set] as number) - 1e-9 &&
          holds(first, stock.length - lost, stock.width - lost, job.stages ?? 4, 0)
        )
          best[set] = cost;
      }
  return Number.isFinite(best[all]) ? (best[all] as number) : undefined;
}
