/**
 * The order of work as a film: when each copy comes out and along which way. Copies come out as `explode` takes them out, one kind after
 * the other; a copy that is out moves on with what it was fixed to. Run backwards it shows how the piece is put together.
 */
import type { Exploded } from '../../draw/apart/explode.ts';
import { add, dot, norm, scale, subtract, unit } from '../../geometry/vectors.ts';
import type { Vec3 } from '../../model/types.ts';

/** Where a copy is at a time: seconds from the start, and mm from its place in the piece. Straight and even between two. */
export interface Keyframe {
  readonly at: number;
  readonly by: Vec3;
}

/** Seconds: before the first group and after the last nothing moves; a group takes so long to come out. */
const [STILL, GROUP] = [0.5, 1];
/** Boards of a row that make room for another go out by so many times its length. */
const ROOM = 1.05;
/** No move of a way is shorter in time than this share of it. */
const LEAST_SHARE = 0.2;

/** The keyframes of each copy that moves, the first at 0, the last at the end of the film; the times of a copy are all different. */
export function clipOf(exploded: Exploded): Map<string, Keyframe[]> {
  const { moves } = exploded;
  const groups = groupsOf(exploded);
  const end = 2 * STILL + groups.length * GROUP;
  const starts = new Map(
    groups.flatMap((group, i) => group.map((copy) => [copy, STILL + i * GROUP] as const)),
  );
  const known = new Map<string, Keyframe[]>();
  const keysOf = (copy: string): Keyframe[] => {
    const found = known.get(copy);
    if (found) return found;
    const move = moves.get(copy);
    const start = starts.get(copy) ?? 0;
    const own = ownKeys(move?.way?.moves ?? [], start);
    const room = roomFor(copy, exploded, starts);
    if (room !== undefined) {
      const last = own[own.length - 1] as Keyframe;
      own.splice(
        -1,
        1,
        { at: last.at, by: add(last.by, room.by) },
        { at: room.until, by: add(last.by, room.by) },
      );
      own.push({ at: room.until + GROUP / 2, by: last.by });
    }
    // What it moves with was set out before it, so that this ends.
    const base = move?.with === undefined ? [] : keysOf(move.with);
    const times = [...new Set([0, ...base.map((key) => key.at), ...own.map((key) => key.at), end])];
    const keys = times
      .sort((a, b) => a - b)
      .map((at): Keyframe => ({ at, by: add(placeAt(own, at), placeAt(base, at)) }));
    known.set(copy, keys);
    return keys;
  };
  const all = [...moves.keys()].map((copy) => [copy, tidied(keysOf(copy))] as const);
  return new Map(all.filter(([, keys]) => keys.some((key) => norm(key.by) > 1e-6)));
}

/**
 * What comes out together: of those that can leave at once the copies of one part. Each of them has a free way while the others stand, but
 * two that are fixed to each other might not if both moved.
 */
export const groupsOf = ({ rounds, parts }: Pick<Exploded, 'rounds' | 'parts'>): string[][] => {
  const partOf = new Map(parts.map(({ copy, part }) => [copy, part]));
  return rounds.flatMap((round) => {
    const copies = round.map((each) => each.copy);
    return [...new Set(copies.map((copy) => partOf.get(copy)))].map((part) =>
      copies.filter((copy) => partOf.get(copy) === part),
    );
  });
};

/**
 * A board that goes back into its row at the end of its way needs the row's place beside it clear until then: those of the row that came
 * out before wait further out, and close up when it is there.
 */
function roomFor(
  copy: string,
  { parts, moves }: Exploded,
  starts: ReadonlyMap<string, number>,
): { by: Vec3; until: number } | undefined {
  const move = moves.get(copy);
  const [out, ...more] = move?.way?.moves ?? [];
  if (move === undefined || out === undefined || more.length > 0) return undefined;
  let room: { by: Vec3; until: number } | undefined;
  for (const late of moves.values()) {
    const along = late.way?.moves[1];
    if (late.way?.moves.length !== 3 || along === undefined) continue;
    if (norm(subtract(late.by, move.by)) > 1e-6 || norm(subtract(along, out)) > 1e-6) continue;
    const [start, own] = [starts.get(late.copy) ?? 0, starts.get(copy) ?? 0];
    const part = parts.find((each) => each.copy === late.copy);
    if (part === undefined || start <= own) continue;
    const direction = unit(out);
    const ends = part.vertices.map((p) => dot(p, direction));
    const length = Math.max(...ends) - Math.min(...ends);
    const until = Math.max(room?.until ?? 0, start + GROUP);
    room = { by: scale(direction, Math.max(norm(room?.by ?? [0, 0, 0]), ROOM * length)), until };
  }
  return room;
}

/** A copy's own way from its start on, each move with its share of the time. */
function ownKeys(moves: readonly Vec3[], start: number): Keyframe[] {
  const whole = moves.reduce((sum, move) => sum + norm(move), 0);
  const shares = moves.map((move) => Math.max(LEAST_SHARE, norm(move) / Math.max(whole, 1e-9)));
  const all = shares.reduce((sum, share) => sum + share, 0);
  const keys: Keyframe[] = moves.length === 0 ? [] : [{ at: start, by: [0, 0, 0] }];
  moves.forEach((move, i) => {
    const { at, by } = keys[i] as Keyframe;
    keys.push({
      // Whole tenths of a millisecond: single precision then keeps times apart.
      at:
        i === moves.length - 1
          ? start + GROUP
          : Math.round(1e4 * (at + (GROUP * (shares[i] as number)) / all)) / 1e4,
      by: add(by, move),
    });
  });
  return keys;
}

/** Where keyframes have a copy at a time. */
export function placeAt(keys: readonly Keyframe[], at: number): Vec3 {
  const next = keys.findIndex((key) => key.at >= at);
  const after = keys[next];
  if (after === undefined) return keys[keys.length - 1]?.by ?? [0, 0, 0];
  const before = keys[next - 1];
  if (before === undefined) return after.by;
  return add(before.by, scale(subtract(after.by, before.by), (at - before.at) / (after.at - before.at)));
}

/** Without keyframes on a straight and even run. */
const tidied = (keys: readonly Keyframe[]): Keyframe[] =>
  keys.filter((key, i) => {
    const around = [keys[i - 1], keys[i + 1]];
    const [before, after] = around;
    if (before === undefined || after === undefined) return true;
    return norm(subtract(placeAt([before, after], key.at), key.by)) > 1e-6;
  });
