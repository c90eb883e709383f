/**
 * Screws and nails that meet in the wood: two fasteners in one place, a fastener through a pocket where the other's head has to go, two
 * pockets that break into each other. Their ways are those of `joinery/cuts.ts`. Source: none needed, two screws can't be in one place.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { POCKET_ANGLE, screwDiameter } from '../joinery/cuts.ts';
import { placingOf } from '../model/frames.ts';
import type { Joint, Plan, Vec3 } from '../model/types.ts';
import { add, dot, scale, subtract } from '../resolve/vectors.ts';
import { allCopies } from './support.ts';
import type { ProofInput, Rule } from './types.ts';

/** A straight bore or the body of a fastener, in the piece. */
interface Rod {
  readonly joint: Joint;
  readonly kind: 'fastener' | 'pocket';
  /** What can't meet it, since it is of one piece with it: a pocket and the screw in it. */
  readonly row: unknown;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
}

/** Fasteners that touch by less than this pass each other in the soft wood, mm. */
const PLAY = 0.5;
/** More rods than any piece of furniture has: beyond it nothing is compared. */
const MOST = 4000;

export const meeting: Rule = ({ plan, joinery }) => {
  const rods = [...fasteners(joinery.places), ...pockets(plan, joinery)].slice(0, MOST);
  // In the order of their lower ends along one axis, so that only near ones are compared.
  const low = ({ from, to, radius }: Rod): number => Math.min(from[0], to[0]) - radius;
  const high = ({ from, to, radius }: Rod): number => Math.max(from[0], to[0]) + radius;
  const sorted = [...rods].sort((a, b) => low(a) - low(b));
  const found: { one: Rod; other: Rod }[] = [];
  sorted.forEach((one, i) => {
    for (let k = i + 1; k < sorted.length; k++) {
      const other = sorted[k] as Rod;
      if (low(other) > high(one)) break;
      if (one.row !== other.row && distance(one, other) < one.radius + other.radius - PLAY)
        found.push({ one, other });
    }
  });
  const order = new Map(plan.joints.map((joint, index) => [joint, index]));
  const told = new Set<string>();
  return found
    .map(({ one, other }) =>
      (order.get(one.joint) ?? 0) <= (order.get(other.joint) ?? 0)
        ? { one, other }
        : { one: other, other: one },
    )
    .sort((a, b) => (order.get(a.other.joint) ?? 0) - (order.get(b.other.joint) ?? 0))
    .flatMap((pair) => {
      const key = `${order.get(pair.one.joint)} ${order.get(pair.other.joint)}`;
      if (told.has(key)) return [];
      told.add(key);
      return [said(pair.one, pair.other)];
    });
};

const fasteners = (places: ProofInput['joinery']['places']): Rod[] =>
  places.flatMap((place) =>
    (place.points ?? []).flatMap((point): Rod[] => {
      const { fastener, joint } = place;
      if (point.tip === undefined || fastener?.length === undefined) return [];
      const radius = screwDiameter(fastener.size) / 2;
      return [
        {
          joint,
          kind: 'fastener',
          row: place,
          from: add(point.tip, scale(point.axis, -fastener.length)),
          // A rod reaches its radius beyond its ends, the point of a screw does not.
          to: add(point.tip, scale(point.axis, -radius)),
          radius,
        },
      ];
    }),
  );

/** The wide bores of pockets. One belongs to the place whose screws begin in it. */
function pockets(plan: Plan, { cuts, places }: ProofInput['joinery']): Rod[] {
  return allCopies(plan).flatMap(({ copy }) => {
    const { point, vector } = placingOf(copy.frame, copy.size.width);
    return (cuts?.get(copy.id) ?? []).flatMap((hole): Rod[] => {
      if (hole.kind !== 'hole' || hole.name !== 'pocket' || hole.depth === undefined) return [];
      const joint = plan.joints.find(({ origin }) => origin === hole.origin);
      if (joint === undefined) return [];
      const from = point(hole.entry);
      const axis = vector(hole.axis);
      const own = places.find(
        (place) =>
          place.joint === joint &&
          place.contact.first === copy.id &&
          (place.points ?? []).some(({ at }) => {
            const way = subtract(at, from);
            const along = dot(way, axis);
            return dot(way, way) - along * along < 0.01 && dot(axis, place.points?.[0]?.axis ?? axis) > 0.999;
          }),
      );
      return [
        {
          joint,
          kind: 'pocket',
          row: own,
          // The bit begins to cut before its axis has reached the face.
          from: add(from, scale(axis, -hole.diameter / 2 / Math.tan(POCKET_ANGLE))),
          to: add(from, scale(axis, hole.depth)),
          radius: hole.diameter / 2,
        },
      ];
    });
  });
}

/** Least distance of two straight stretches, mm. Both are bounded: the nearest points lie inside, or at an end of one. */
function distance(a: Rod, b: Rod): number {
  const u = subtract(a.to, a.from);
  const v = subtract(b.to, b.from);
  const w = subtract(a.from, b.from);
  const [uu, uv, vv, uw, vw] = [dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)];
  const held = (t: number): number => Math.min(1, Math.max(0, t));
  const cross = uu * vv - uv * uv;
  const between = (s: number, t: number): number => {
    const d = subtract(add(w, scale(u, s)), scale(v, t));
    return Math.hypot(...d);
  };
  const onB = (s: number): number => (vv > 0 ? held((vw + uv * s) / vv) : 0);
  const onA = (t: number): number => (uu > 0 ? held((uv * t - uw) / uu) : 0);
  const s = cross > 1e-9 * uu * vv ? held((uv * vw - vv * uw) / cross) : 0;
  const t = onB(s);
  return Math.min(
    between(onA(t), t),
    ...[0, 1].flatMap((end) => [between(end, onB(end)), between(onA(end), end)]),
  );
}

const WORDS: Readonly<Record<string, string>> = {
  nails: 'a nail',
  screws: 'a screw',
  'pocket screws': 'a pocket screw',
};

const wordFor = ({ kind, joint }: Rod): string =>
  kind === 'pocket' ? 'a pocket hole' : (WORDS[joint.by] ?? 'a fastener');

function said(one: Rod, other: Rod): Diagnostic {
  const same = one.joint === other.joint;
  const joined = ({ joint }: Rod): string => `"${joint.join}" to "${joint.to}"`;
  const pair = [wordFor(one), wordFor(other)];
  return {
    id: 'joint.meet',
    severity: 'warning',
    origin: other.joint.origin,
    message: same
      ? `expected fasteners of ${joined(one)} that pass each other, found ${pair.join(' and ')} that meet in the wood`
      : `expected fasteners that pass each other, found ${pair[1]} of ${joined(other)} and ${pair[0]} of ${joined(one)} that meet in the wood`,
    hint: 'write another count, move the row with "set back: 3 in | 75 mm", or drive or bore one of them from another face with "from"',
    parts: [...new Set([one.joint.join, one.joint.to, other.joint.join, other.joint.to])],
  };
}
