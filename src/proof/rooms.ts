/**
 * Closed rooms in a piece: what lies between its boards and no air gets out of, worked out on the boards' blanks. A grid through all their
 * faces is filled with boards, and what can't be reached from outside over its free cells is closed. Holes and hollows are looked at apart.
 */
import type { Plan, Vec3 } from '../model/types.ts';
import { allCopies } from './support.ts';

/** A room: its volume in mm³ and its extents. */
export interface ClosedRoom {
  readonly volume: number;
  readonly min: Vec3;
  readonly max: Vec3;
}

/** Faces nearer to each other than this are one: a hinge's gap is no vent, mm. */
const TIGHT = 3;
/** A piece with more cells is not looked at. */
const MOST_CELLS = 2_000_000;
/** Free paper around the piece, so that outside is one room, mm. */
const AROUND = 100;

/** Places of faces along an axis, in order, near ones made one. */
function places(values: readonly number[]): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  const kept = sorted.filter((value, index) => index === 0 || value - (sorted[index - 1] as number) >= 1e-6);
  const apart: number[] = [];
  for (const value of kept)
    if (apart.length === 0 || value - (apart.at(-1) as number) >= TIGHT) apart.push(value);
  return apart;
}

/** Closed rooms, largest first; none where the piece has too many boards to look through. */
export function closedRooms(plan: Plan): ClosedRoom[] {
  const bounds = allCopies(plan).map(({ copy }) => copy.bounds);
  if (bounds.length === 0) return [];
  const axes = ([0, 1, 2] as const).map((axis) => {
    const inner = places(bounds.flatMap(({ min, max }) => [min[axis], max[axis]]));
    return [(inner[0] as number) - AROUND, ...inner, (inner.at(-1) as number) + AROUND];
  }) as [number[], number[], number[]];
  const [nx, ny, nz] = axes.map((list) => list.length - 1) as [number, number, number];
  if (nx * ny * nz > MOST_CELLS) return [];
  /** 0 free, 1 wood, 2 seen. */
  const cells = new Uint8Array(nx * ny * nz);
  const at = (i: number, j: number, k: number): number => (k * ny + j) * nx + i;
  // The cell that begins at a face, which may have been made one with another just before it.
  const from = (axis: 0 | 1 | 2, value: number): number => {
    const list = axes[axis];
    let low = 0;
    let high = list.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((list[middle] as number) <= value + 1e-6) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  for (const { min, max } of bounds) {
    const [i0, j0, k0] = [from(0, min[0]), from(1, min[1]), from(2, min[2])];
    const [i1, j1, k1] = [from(0, max[0]), from(1, max[1]), from(2, max[2])];
    for (let k = k0; k < k1; k++)
      for (let j = j0; j < j1; j++) cells.fill(1, at(i0, j, k), at(i0, j, k) + i1 - i0);
  }
  const rooms: ClosedRoom[] = [];
  for (let start = 0; start < cells.length; start++) {
    if (cells[start] !== 0) continue;
    const room = flooded(cells, axes, start);
    // The first free cell is the corner of what lies around the piece.
    if (start > 0) rooms.push(room);
  }
  return rooms.sort((a, b) => b.volume - a.volume);
}

/** Marks all free cells that hang together with one, and measures them. */
function flooded(
  cells: Uint8Array,
  axes: readonly [number[], number[], number[]],
  start: number,
): ClosedRoom {
  const [xs, ys, zs] = axes;
  const [nx, ny, nz] = [xs.length - 1, ys.length - 1, zs.length - 1];
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  let volume = 0;
  const waiting = [start];
  cells[start] = 2;
  for (let cell = waiting.pop(); cell !== undefined; cell = waiting.pop()) {
    const [i, j, k] = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    const low = [xs[i], ys[j], zs[k]] as [number, number, number];
    const high = [xs[i + 1], ys[j + 1], zs[k + 1]] as [number, number, number];
    volume += (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2]);
    for (const axis of [0, 1, 2] as const) {
      min[axis] = Math.min(min[axis], low[axis]);
      max[axis] = Math.max(max[axis], high[axis]);
    }
    const next = (allowed: boolean, step: number): void => {
      if (!allowed || cells[cell + step] !== 0) return;
      cells[cell + step] = 2;
      waiting.push(cell + step);
    };
    next(i > 0, -1);
    next(i < nx - 1, 1);
    next(j > 0, -nx);
    next(j < ny - 1, nx);
    next(k > 0, -nx * ny);
    next(k < nz - 1, nx * ny);
  }
  return { volume, min, max };
}
