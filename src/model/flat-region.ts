/** Flat regions bounded by straight sides that remember what they stand for: what two have in common, what one leaves of another. mm. */
import type { FlatPoint } from './shape.ts';

/** A straight side, the inside on its left; `of` is what it is a piece of. */
export interface FlatSide<W> {
  readonly from: FlatPoint;
  readonly to: FlatPoint;
  readonly of: W;
}

/** Closed loops of sides: outer ones counter-clockwise, holes clockwise. */
export type FlatRegion<W> = readonly (readonly FlatSide<W>[])[];

/** Points this near, mm, are one, and points this near a side lie on it. */
const ON = 1e-6;

/** What lies in both regions. Where their borders run together the first one's side is kept. */
export const common = <W>(a: FlatRegion<W>, b: FlatRegion<W>): FlatRegion<W> => joined(a, b, false);

/** What the second region leaves of the first. */
export const without = <W>(a: FlatRegion<W>, b: FlatRegion<W>): FlatRegion<W> => joined(a, turned(b), true);

/** The same border with its other side inside. */
const turned = <W>(region: FlatRegion<W>): FlatRegion<W> =>
  region.map((loop) => [...loop].reverse().map(({ from, to, of }) => ({ from: to, to: from, of })));

function joined<W>(a: FlatRegion<W>, b: FlatRegion<W>, outside: boolean): FlatRegion<W> {
  const snap = snapper();
  const [first, second] = [a, b].map((region) =>
    region.flat().map(({ from, to, of }) => ({ from: snap(from), to: snap(to), of })),
  ) as [FlatSide<W>[], FlatSide<W>[]];
  const cuts = [first, second].map((sides) => sides.map((): FlatPoint[] => [])) as [
    FlatPoint[][],
    FlatPoint[][],
  ];
  first.forEach((p, i) => {
    second.forEach((q, k) => {
      for (const at of meetings(p, q)) {
        const point = snap(at);
        cuts[0][i]?.push(point);
        cuts[1][k]?.push(point);
      }
    });
  });
  const kept: FlatSide<W>[] = [];
  first.forEach((side, i) => {
    for (const piece of split(side, cuts[0][i] as FlatPoint[])) {
      const where = placeIn(piece, second);
      if (where === 'along' || where === (outside ? 'out' : 'in')) kept.push(piece);
    }
  });
  second.forEach((side, k) => {
    for (const piece of split(side, cuts[1][k] as FlatPoint[]))
      if (placeIn(piece, first) === 'in') kept.push(piece);
  });
  return chained(kept);
}

/** Gives one point for all that are nearer than a hair. */
function snapper(): (p: FlatPoint) => FlatPoint {
  const cells = new Map<string, FlatPoint>();
  const cell = 1e-3;
  return (p) => {
    const near = (v: number): number[] => {
      const at = Math.floor(v / cell);
      const rest = v / cell - at;
      return rest < 0.01 ? [at, at - 1] : rest > 0.99 ? [at, at + 1] : [at];
    };
    for (const x of near(p[0]))
      for (const y of near(p[1])) {
        const known = cells.get(`${x} ${y}`);
        if (known && Math.hypot(known[0] - p[0], known[1] - p[1]) < ON) return known;
      }
    cells.set(`${Math.floor(p[0] / cell)} ${Math.floor(p[1] / cell)}`, p);
    return p;
  };
}

/** Where two sides touch or cross: their ends that lie on the other, or the one point in which they cross. */
function meetings<W>(p: FlatSide<W>, q: FlatSide<W>): FlatPoint[] {
  if (Math.max(p.from[0], p.to[0]) < Math.min(q.from[0], q.to[0]) - ON) return [];
  if (Math.max(q.from[0], q.to[0]) < Math.min(p.from[0], p.to[0]) - ON) return [];
  if (Math.max(p.from[1], p.to[1]) < Math.min(q.from[1], q.to[1]) - ON) return [];
  if (Math.max(q.from[1], q.to[1]) < Math.min(p.from[1], p.to[1]) - ON) return [];
  const ends = [
    ...[q.from, q.to].filter((end) => isOn(end, p)),
    ...[p.from, p.to].filter((end) => isOn(end, q)),
  ];
  if (ends.length > 0) return ends;
  const [ax, ay] = [p.to[0] - p.from[0], p.to[1] - p.from[1]];
  const [bx, by] = [q.to[0] - q.from[0], q.to[1] - q.from[1]];
  const det = ax * by - ay * bx;
  if (Math.abs(det) < 1e-12) return [];
  const [cx, cy] = [q.from[0] - p.from[0], q.from[1] - p.from[1]];
  const [s, t] = [(cx * by - cy * bx) / det, (cx * ay - cy * ax) / det];
  return s > 0 && s < 1 && t > 0 && t < 1 ? [[p.from[0] + s * ax, p.from[1] + s * ay]] : [];
}

function isOn<W>(point: FlatPoint, { from, to }: Pick<FlatSide<W>, 'from' | 'to'>): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(dx, dy);
  const [x, y] = [point[0] - from[0], point[1] - from[1]];
  if (Math.abs(x * dy - y * dx) > ON * length) return false;
  const along = (x * dx + y * dy) / length;
  return along > -ON && along < length + ON;
}

/** A side in pieces between the points on it. */
function split<W>(side: FlatSide<W>, points: readonly FlatPoint[]): FlatSide<W>[] {
  const [dx, dy] = [side.to[0] - side.from[0], side.to[1] - side.from[1]];
  const along = (p: FlatPoint): number => (p[0] - side.from[0]) * dx + (p[1] - side.from[1]) * dy;
  const stops = [side.from, ...points, side.to].sort((p, q) => along(p) - along(q));
  const pieces: FlatSide<W>[] = [];
  let from = side.from;
  for (const to of stops) {
    if (to === from) continue;
    pieces.push({ from, to, of: side.of });
    from = to;
  }
  return pieces;
}

/** Where the middle of a side lies to a border: inside or outside, or on it, along it or against it. */
function placeIn<W>(side: FlatSide<W>, border: readonly FlatSide<W>[]): 'in' | 'out' | 'along' | 'against' {
  const middle: FlatPoint = [(side.from[0] + side.to[0]) / 2, (side.from[1] + side.to[1]) / 2];
  let inside = false;
  for (const { from, to } of border) {
    if (isOn(middle, { from, to })) {
      const forward =
        (to[0] - from[0]) * (side.to[0] - side.from[0]) + (to[1] - from[1]) * (side.to[1] - side.from[1]);
      return forward > 0 ? 'along' : 'against';
    }
    if (from[1] > middle[1] === to[1] > middle[1]) continue;
    const x = from[0] + ((middle[1] - from[1]) * (to[0] - from[0])) / (to[1] - from[1]);
    if (x > middle[0]) inside = !inside;
  }
  return inside ? 'in' : 'out';
}

/** Sets pieces end to end into loops; where several go on from a point, the one that keeps two loops apart. */
function chained<W>(pieces: readonly FlatSide<W>[]): FlatRegion<W> {
  const starting = new Map<FlatPoint, FlatSide<W>[]>();
  for (const piece of pieces) {
    const list = starting.get(piece.from);
    if (list) list.push(piece);
    else starting.set(piece.from, [piece]);
  }
  const used = new Set<FlatSide<W>>();
  const loops: FlatSide<W>[][] = [];
  for (const first of pieces) {
    if (used.has(first)) continue;
    const loop: FlatSide<W>[] = [];
    let at: FlatSide<W> | undefined = first;
    while (at && !used.has(at)) {
      used.add(at);
      loop.push(at);
      if (at.to === first.from) break;
      at = nextOf(
        at,
        (starting.get(at.to) ?? []).filter((one) => !used.has(one)),
      );
    }
    // What doesn't close is rounding: a hair along a border that two regions share.
    if (loop.at(-1)?.to === first.from && loop.length > 2) loops.push(straightened(loop));
  }
  return loops;
}

function nextOf<W>(before: FlatSide<W>, after: readonly FlatSide<W>[]): FlatSide<W> | undefined {
  const back = Math.atan2(before.from[1] - before.to[1], before.from[0] - before.to[0]);
  const turn = ({ from, to }: FlatSide<W>): number => {
    const angle = back - Math.atan2(to[1] - from[1], to[0] - from[0]);
    return ((angle % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  };
  return [...after].sort((p, q) => turn(p) - turn(q))[0];
}

/** Pieces of one side that lie end to end are one again. */
function straightened<W>(loop: readonly FlatSide<W>[]): FlatSide<W>[] {
  const out: FlatSide<W>[] = [];
  const goesOn = (p: FlatSide<W>, q: FlatSide<W>): boolean => {
    const [ax, ay] = [p.to[0] - p.from[0], p.to[1] - p.from[1]];
    const [bx, by] = [q.to[0] - q.from[0], q.to[1] - q.from[1]];
    return (
      p.of === q.of && Math.abs(ax * by - ay * bx) < 1e-9 * Math.hypot(ax, ay) * Math.hypot(bx, by) + 1e-12
    );
  };
  for (const side of loop) {
    const last = out.at(-1);
    if (last && goesOn(last, side)) out[out.length - 1] = { ...last, to: side.to };
    else out.push(side);
  }
  const [first, last] = [out[0], out.at(-1)];
  if (first && last && first !== last && goesOn(last, first)) {
    out[0] = { ...first, from: last.from };
    out.pop();
  }
  return out;
}
