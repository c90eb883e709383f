/**
 * Boards that leave together. In a direction each board has others that it would run into; with those, and those that they would run into,
 * it can leave. The smallest such groups are looked for (Wilson and Latombe, 'Geometric reasoning about mechanical assembly', 1994,
 * call this a blocking graph).
 */
import type { PlacedPart } from '../../geometry/types.ts';
import { dot, scale } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';
import { extentOf } from './moving.ts';
import { worthOf } from './ranking.ts';
import { allOnWay } from './sweep.ts';
import type { Touch } from './touching.ts';

/** Longer than any piece is, however it lies. */
const REACH = 3;

/** Boards that can leave the others together, and where to. */
export interface Unit {
  readonly members: readonly [number, ...number[]];
  readonly direction: Vec3;
}

interface Found extends Unit {
  readonly mixed: boolean;
  readonly worth: number;
}

/** What is searched: boards that stand and their contacts; `tries` counts down with the ways that are tried, and ends the search at 0. */
export interface Standing {
  readonly parts: readonly PlacedPart[];
  readonly contacts: readonly Touch[];
  readonly standing: readonly number[];
  tries: number;
}

/**
 * Groups that can leave at once, none with a board of another: those that part the waiting boards from others come first, then the small
 * ones. `about` tells a group's contacts with the others, and which boards wait to leave.
 */
export function unitsFree(
  piece: Standing,
  directions: readonly Vec3[],
  about: (members: readonly number[]) => { own: readonly Touch[]; waiting: ReadonlySet<number> },
): Unit[] {
  const { parts, standing } = piece;
  const found = new Map<string, Found>();
  for (const direction of directions) {
    const runsInto = obstacles(piece, direction);
    for (const i of standing) {
      const members = withAll(i, standing.length, runsInto);
      if (piece.tries < 0) return [];
      if (members.length === standing.length) continue;
      const { own, waiting } = about(members);
      const inside = members.filter((k) => waiting.has(k)).length;
      // It has to part from a board that waits, or be one.
      if (inside === 0 && !own.some((touch) => waiting.has(touch.second))) continue;
      const group = members.map((k) => parts[k] as PlacedPart);
      const others = standing.filter((k) => !members.includes(k)).map((k) => parts[k] as PlacedPart);
      const worth = worthOf(group, own, others)(direction);
      const key = members.join(' ');
      const known = found.get(key);
      if (known === undefined || worth > known.worth + 1e-9)
        found.set(key, { members, direction, mixed: inside > 0 && inside < members.length, worth });
    }
  }
  const ranked = [...found.values()].sort(
    (a, b) =>
      Number(a.mixed) - Number(b.mixed) ||
      a.members.length - b.members.length ||
      b.worth - a.worth ||
      a.members[0] - b.members[0],
  );
  const [best] = ranked;
  if (best === undefined) return [];
  // Groups like the best one leave with it: a piece then opens to both sides.
  const taken: Found[] = [];
  for (const each of ranked) {
    if (each.mixed !== best.mixed || each.members.length !== best.members.length) break;
    const free = taken.every((other) => !other.members.some((k) => each.members.includes(k)));
    const left = standing.length - (taken.length + 1) * best.members.length;
    if (free && left > 0) taken.push(each);
  }
  return taken;
}

/** What each board runs into in a direction: what it lies against is known; other boards are looked for only when they are asked for. */
interface Obstacles {
  readonly against: (board: number) => readonly number[];
  readonly onWay: (board: number) => readonly number[];
}

function obstacles(piece: Standing, direction: Vec3): Obstacles {
  const { parts, contacts, standing } = piece;
  const by = scale(direction, REACH * extentOf(standing.map((i) => parts[i] as PlacedPart)));
  const there = new Set(standing);
  const touched = new Map<number, number[]>();
  for (const { first, second, normal } of contacts) {
    const along = dot(normal, direction);
    if (Math.abs(along) < 1e-3 || !there.has(first) || !there.has(second)) continue;
    const [from, to] = along > 0 ? [first, second] : [second, first];
    touched.set(from, [...(touched.get(from) ?? []), to]);
  }
  const met = new Map<number, readonly number[]>();
  return {
    against: (board) => touched.get(board) ?? [],
    onWay: (board) => {
      const known = met.get(board);
      if (known) return known;
      piece.tries--;
      const others = standing.filter((k) => k !== board);
      const hit = allOnWay(
        parts[board] as PlacedPart,
        by,
        others.map((k) => parts[k] as PlacedPart),
      );
      const result = others.filter((k) => hit.has(parts[k] as PlacedPart));
      met.set(board, result);
      return result;
    },
  };
}

/** A board, all that it runs into, all that they run into, and so on; in the order of their numbers. */
function withAll(first: number, most: number, { against, onWay }: Obstacles): readonly [number, ...number[]] {
  const all = new Set([first]);
  // Contacts first: they often hold everything together, and then no way needs a look.
  for (const each of all) for (const next of against(each)) all.add(next);
  for (const each of all) {
    if (all.size === most) break;
    for (const next of [...against(each), ...onWay(each)]) all.add(next);
  }
  return [...all].sort((a, b) => a - b) as [number, ...number[]];
}
