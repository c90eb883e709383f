/**
 * Which sizes a set of views carries: overall, then where the levels, legs and overhangs are. Each size is said once, and no chain of
 * sizes closes on itself.
 */
import type { Bounds, Copy, Part, Plan } from '../../model/types.ts';
import { type NumberStyle, printed, sizeText } from '../../units.ts';

export type Axis = 0 | 1 | 2;

/** A size along one of the piece's axes, in mm of the piece; the first in a list matters most. */
export interface PrincipalSize {
  readonly axis: Axis;
  readonly from: number;
  readonly to: number;
  readonly kind: 'overall' | 'level' | 'overhang' | 'clear' | 'depth';
  /** Equal spaces between copies of a part: printed `3 × 8 = 24″`. */
  readonly spaces?: number;
}

/** Two places nearer than this are one, mm. */
const SAME = 0.3;

interface Placed {
  readonly copy: Copy;
  readonly part: Part;
  readonly bounds: Bounds;
}

/** The sizes of a plan's views, overall ones first, without repeats and without closed chains. */
export function principalSizes(
  plan: Plan,
  bounds: ReadonlyMap<string, Bounds>,
  whole: Bounds,
): readonly PrincipalSize[] {
  const copies: Placed[] = plan.parts.flatMap((part) =>
    part.copies.flatMap((copy) => {
      const own = bounds.get(copy.id);
      return own ? [{ copy, part, bounds: own }] : [];
    }),
  );
  const overall = ([0, 1, 2] as const).map(
    (axis): PrincipalSize => ({ axis, from: whole.min[axis], to: whole.max[axis], kind: 'overall' }),
  );
  const flat = copies.filter(({ part }) => part.wideFace === 'top' || part.wideFace === 'bottom');
  return unrepeated(
    [
      ...overall,
      ...levels(flat, whole).slice(0, 3),
      ...supports(copies, whole),
      ...depths(flat, whole),
      ...seats(copies, flat, whole),
      ...heights(copies, flat, whole),
      ...spacings(plan, bounds),
    ].filter((size, _, all) => !saidByDepth(size, all)),
    plan.edition.numbers,
  );
}

/** Where the depth of the top is given, the clear depth between the legs under it adds little. */
const saidByDepth = (size: PrincipalSize, all: readonly PrincipalSize[]): boolean =>
  size.kind === 'clear' && size.axis === 1 && all.some((other) => other.kind === 'depth' && other.axis === 1);

/** Tops of what lies flat, from the floor, the largest area first. */
function levels(flat: readonly Placed[], whole: Bounds): PrincipalSize[] {
  return groups(flat, whole).map((g) => ({ axis: 2, from: whole.min[2], to: g.top, kind: 'level' }));
}

interface Level {
  readonly top: number;
  readonly area: number;
  readonly members: readonly Placed[];
}

/** What lies flat, by the height of its top. */
function groups(flat: readonly Placed[], whole: Bounds): Level[] {
  const found: { top: number; area: number; members: Placed[] }[] = [];
  for (const item of flat) {
    const { min, max } = item.bounds;
    const area = (max[0] - min[0]) * (max[1] - min[1]);
    const group = found.find((g) => Math.abs(g.top - max[2]) < SAME);
    if (group) {
      group.area += area;
      group.members.push(item);
    } else found.push({ top: max[2], area, members: [item] });
  }
  return found
    .filter((g) => g.top < whole.max[2] - SAME && g.top > whole.min[2] + SAME)
    .sort((a, b) => b.area - a.area || a.top - b.top);
}

/** Set-backs of the legs from the outline and the clear widths between them. */
function supports(copies: readonly Placed[], whole: Bounds): PrincipalSize[] {
  const upright = copies.filter(({ part }) => part.runs === 'up');
  const standing = upright.filter(({ bounds }) => bounds.min[2] < whole.min[2] + 1);
  const legs = standing.length > 1 ? standing : upright;
  if (legs.length === 0) return [];
  return ([0, 1] as const).flatMap((axis): PrincipalSize[] => {
    const [low, high] = [whole.min[axis], whole.max[axis]];
    const from = Math.min(...legs.map(({ bounds }) => bounds.min[axis]));
    const to = Math.max(...legs.map(({ bounds }) => bounds.max[axis]));
    const sizes: PrincipalSize[] = [];
    for (const [a, b] of clearWidths(legs, axis).slice(0, 2))
      sizes.push({ axis, from: a, to: b, kind: 'clear' });
    if (from > low + SAME) sizes.push({ axis, from: low, to: from, kind: 'overhang' });
    if (to < high - SAME && Math.abs(high - to - (from - low)) > SAME)
      sizes.push({ axis, from: to, to: high, kind: 'overhang' });
    return sizes;
  });
}

/** Free spaces between legs along an axis, widest first. Legs are slender: panels leave no space to measure. */
function clearWidths(legs: readonly Placed[], axis: 0 | 1): [number, number][] {
  const spans = legs
    .map(({ bounds }): [number, number] => [bounds.min[axis], bounds.max[axis]])
    .sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const free: [number, number][] = [];
  let end = spans[0]?.[1] ?? 0;
  for (const [from, to] of spans) {
    if (from > end + SAME) free.push([end, from]);
    end = Math.max(end, to);
  }
  return free.sort((a, b) => b[1] - b[0] - (a[1] - a[0]));
}

/** Depths of levels that reach over less than the whole depth. */
function depths(flat: readonly Placed[], whole: Bounds): PrincipalSize[] {
  return groups(flat, whole)
    .slice(0, 1)
    .flatMap((group): PrincipalSize[] => {
      const from = Math.min(...group.members.map(({ bounds }) => bounds.min[1]));
      const to = Math.max(...group.members.map(({ bounds }) => bounds.max[1]));
      const full = to - from > whole.max[1] - whole.min[1] - SAME;
      return full ? [] : [{ axis: 1, from, to, kind: 'depth' }];
    });
}

/** Over splayed legs the top is smaller than the feet stand apart: its own width and depth. */
function seats(copies: readonly Placed[], flat: readonly Placed[], whole: Bounds): PrincipalSize[] {
  const splayed = copies.some(
    ({ copy, part }) => part.runs === 'up' && Math.max(...copy.frame.length.map(Math.abs)) < 1 - 1e-6,
  );
  const top = flat.filter(({ bounds }) => bounds.max[2] > whole.max[2] - SAME);
  if (!splayed || top.length === 0) return [];
  return ([0, 1] as const).flatMap((axis): PrincipalSize[] => {
    const from = Math.min(...top.map(({ bounds }) => bounds.min[axis]));
    const to = Math.max(...top.map(({ bounds }) => bounds.max[axis]));
    return to - from > whole.max[axis] - whole.min[axis] - SAME ? [] : [{ axis, from, to, kind: 'depth' }];
  });
}

/** Tops of what stands upright and carries nothing flat, the highest first, and where a box hangs above the floor. */
function heights(copies: readonly Placed[], flat: readonly Placed[], whole: Bounds): PrincipalSize[] {
  const tops = copies
    .filter(({ part }) => part.runs === 'up')
    .map(({ bounds }) => bounds.max[2])
    .filter(
      (top) => top < whole.max[2] - SAME && !flat.some(({ bounds }) => Math.abs(bounds.min[2] - top) < SAME),
    )
    .sort((a, b) => b - a);
  const upright = copies.filter(({ part }) => part.runs === 'up');
  const hangs = upright.filter(({ bounds }) => bounds.min[2] < whole.min[2] + 1).length < 2;
  const bottoms = (hangs ? upright : [])
    .map(({ bounds }) => bounds.min[2])
    .filter((bottom) => bottom > whole.min[2] + SAME)
    .sort((a, b) => a - b);
  return [...new Set([...tops.slice(0, 2), ...bottoms.slice(0, 1)])].map((to) => ({
    axis: 2,
    from: whole.min[2],
    to,
    kind: 'level',
  }));
}

/** Copies of a part at equal spaces, three or more and apart from one another. */
function spacings(plan: Plan, bounds: ReadonlyMap<string, Bounds>): PrincipalSize[] {
  return plan.parts.flatMap((part): PrincipalSize[] => {
    if (part.courses) return [];
    const boxes = part.copies.flatMap((copy) => bounds.get(copy.id) ?? []);
    // A drawing of some of the parts has none of the others.
    if (boxes.length < 3) return [];
    return ([0, 1, 2] as const).flatMap((axis): PrincipalSize[] => {
      const starts = boxes.map((b) => b.min[axis]).sort((a, b) => a - b);
      const pitch = (starts[1] as number) - (starts[0] as number);
      const first = boxes[0] as Bounds;
      const apart = pitch > first.max[axis] - first.min[axis] + 2;
      const even = starts.every((s, i) => Math.abs(s - (starts[0] as number) - i * pitch) < 0.05);
      if (!apart || !even) return [];
      return [
        {
          axis,
          from: starts[0] as number,
          to: starts[starts.length - 1] as number,
          kind: 'clear',
          spaces: starts.length - 1,
        },
      ];
    });
  });
}

/** Leaves out what would repeat a printed size along its axis, and what would close a chain of sizes. */
function unrepeated(sizes: readonly PrincipalSize[], style: NumberStyle): PrincipalSize[] {
  const said = new Set<string>();
  const chains = [new Map<number, number>(), new Map<number, number>(), new Map<number, number>()];
  const root = (chain: Map<number, number>, at: number): number => {
    const above = chain.get(at);
    return above === undefined || above === at ? at : root(chain, above);
  };
  return sizes.filter((size) => {
    const length = size.to - size.from;
    if (length < SAME) return false;
    const key = `${size.axis} ${sizeText(printed(length, style))}`;
    const chain = chains[size.axis] as Map<number, number>;
    const [a, b] = [size.from, size.to].map((v) => root(chain, Math.round(v * 5))) as [number, number];
    if (said.has(key) || a === b) return false;
    said.add(key);
    chain.set(a, b);
    return true;
  });
}
