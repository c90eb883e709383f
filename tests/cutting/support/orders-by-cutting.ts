/**
 * The best way to saw one sheet of very few parts, by trying every way of cutting: largest offcut, then fewest settings of fence and stop, then fewest cuts. Shares
 * nothing with the layout but the job; a cut eats its kerf between its two pieces.
 */
import type { SheetJob } from '../../../src/cutting/index.ts';

/** What a way of sawing comes to. */
export interface Sawn {
  /** Of the largest offcut with both sides useful; 0 where there is none. */
  readonly area: number;
  readonly settings: number;
  readonly cuts: number;
}

interface Outcome {
  readonly area: number;
  readonly set: readonly string[];
  readonly cuts: number;
}

/** The best of all; nothing where the parts don't fit the job's first sheet. For three parts or so. */
export function bestByCutting(job: SheetJob): Sawn | undefined {
  const parts = job.items.flatMap((item) => new Array<typeof item>(item.quantity).fill(item));
  const sums = (sides: readonly number[]): number[] => {
    const found = new Set<number>([0]);
    for (const side of sides) for (const sum of [...found]) found.add(sum + side + (sum > 0 ? job.kerf : 0));
    return [...found].filter((sum) => sum > 0).sort((a, b) => a - b);
  };
  const turned = parts.filter(({ turnable }) => turnable);
  const lengths = sums([...parts.map(({ length }) => length), ...turned.map(({ width }) => width)]);
  const widths = sums([...parts.map(({ width }) => width), ...turned.map(({ length }) => length)]);
  const useful = job.useful ?? 0;
  const same = (a: number, b: number): boolean => Math.abs(a - b) < 1e-9;
  const known = new Map<string, readonly Outcome[]>();

  /**
   * All ways to saw a set out of a piece; `axis` of the cuts that made it, 1 across and 2 along, and whether more cuts of that level may go
   * through it: only what is beyond the blade is cut on.
   */
  const ways = (
    set: number,
    l: number,
    w: number,
    levels: number,
    axis: 0 | 1 | 2,
    on: boolean,
  ): readonly Outcome[] => {
    if (l < -1e-9 || w < -1e-9) return [];
    if (set === 0) {
      const none = l < 1e-9 || w < 1e-9 || Math.min(l, w) < useful - 1e-9;
      return [{ area: none ? 0 : l * w, set: [], cuts: 0 }];
    }
    const key = `${set}|${l.toFixed(4)}|${w.toFixed(4)}|${levels}|${axis}|${on}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = new Map<string, Outcome>();
    const put = (one: Outcome): void => {
      const mark = one.set.join();
      const other = found.get(mark);
      if (
        other === undefined ||
        one.area > other.area + 1e-9 ||
        (same(one.area, other.area) && one.cuts < other.cuts)
      )
        found.set(mark, one);
    };
    const part = (set & (set - 1)) === 0 ? parts[Math.log2(set)] : undefined;
    if (part && same(part.length, l) && same(part.width, w)) put({ area: 0, set: [], cuts: 0 });
    if (part?.turnable && same(part.width, l) && same(part.length, w)) put({ area: 0, set: [], cuts: 0 });
    for (const cut of [1, 2] as const) {
      if (axis === cut && !on) continue;
      const left = axis === cut ? levels : levels - 1;
      if (left < 0) continue;
      const whole = cut === 1 ? l : w;
      for (const at of cut === 1 ? lengths : widths) {
        if (at > whole - 1e-9) break;
        const rest = whole - at - job.kerf;
        for (let first = set; first > 0; first = (first - 1) & set) {
          const two = set & ~first;
          if (two > 0 && rest <= 1e-9) continue;
          const near =
            cut === 1 ? ways(first, at, w, left, cut, false) : ways(first, l, at, left, cut, false);
          if (near.length === 0) continue;
          const far =
            rest <= 1e-9
              ? [{ area: 0, set: [], cuts: 0 }]
              : cut === 1
                ? ways(two, rest, w, left, cut, true)
                : ways(two, l, rest, left, cut, true);
          for (const a of near)
            for (const b of far)
              put({
                area: Math.max(a.area, b.area),
                set: [...new Set([`${cut}:${at.toFixed(3)}`, ...a.set, ...b.set])].sort(),
                cuts: a.cuts + b.cuts + 1,
              });
        }
      }
    }
    const list = [...found.values()];
    known.set(key, list);
    return list;
  };
  const [stock] = job.stocks;
  if (stock === undefined) return undefined;
  const all = ways((1 << parts.length) - 1, stock.length, stock.width, job.stages ?? 4, 0, true);
  const sawn = all.map(({ area, set, cuts }): Sawn => ({ area, settings: set.length, cuts }));
  sawn.sort((a, b) =>
    Math.abs(a.area - b.area) > 1e-6 ? b.area - a.area : a.settings - b.settings || a.cuts - b.cuts,
  );
  return sawn[0];
}
