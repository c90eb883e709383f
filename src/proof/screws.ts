/**
 * Screws, nails and pocket screws against the wood that they end in: a point that comes out again behind it, and too little wood for a
 * hold. Their way is that of `joinery/cuts.ts`. Source: that a point must stay in the wood needs none; the least hold is common practice, no
 * source.
 */
import type { Diagnostic } from '../diagnostics.ts';
import type { FastenerPoint, JointPlace } from '../joinery/types.ts';
import type { Copy, Plan, Vec3 } from '../model/types.ts';
import { dot, subtract } from '../resolve/vectors.ts';
import { inches, mm } from '../units.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';

/** A point may come so near the far face that it shows as a dimple, mm. */
const PLAY = 0.5;
/** Least wood that a fastener bites into behind the joint: 3/8 in or 10 mm. */
const LEAST = { inch: inches(3 / 8), mm: mm(10) };

/** How far outside a board's blank a point lies, mm; below 0 inside. */
function outsideBy({ bounds, faces }: Copy, point: Vec3): number {
  if (faces) return Math.max(...faces.map(({ normal, offset }) => dot(normal, point) - offset));
  return Math.max(
    ...([0, 1, 2] as const).flatMap((axis) => [
      bounds.min[axis] - point[axis],
      point[axis] - bounds.max[axis],
    ]),
  );
}

/** How far the point of a fastener stands out of all wood, mm, and how deep it bites behind the joint. */
function measured({ at, axis, tip }: FastenerPoint, copies: readonly Copy[]) {
  if (tip === undefined) return undefined;
  const out = Math.min(...copies.map((copy) => outsideBy(copy, tip)));
  return { out, bite: dot(subtract(tip, at), axis) };
}

/** One finding a joint: what its worst fastener does. */
export const screws: Rule = ({ plan, joinery }) => {
  const copies = allCopies(plan).map(({ copy }) => copy);
  const told = new Set<JointPlace['joint']>();
  return joinery.places.flatMap((place): Diagnostic[] => {
    const { joint, fastener, points = [] } = place;
    if (told.has(joint) || fastener?.length === undefined) return [];
    const all = points.flatMap((point) => measured(point, copies) ?? []);
    if (all.length === 0) return [];
    const out = Math.max(...all.map((one) => one.out));
    const bite = Math.min(...all.map((one) => one.bite));
    const short = bite < LEAST[plan.edition.numbers.system] - 0.05;
    if (!short && out <= PLAY) return [];
    told.add(joint);
    return [short ? tooShort(plan, place, bite) : comesThrough(plan, place, out)];
  });
};

const named = (plan: Plan, { fastener }: JointPlace): string =>
  `${fastener?.key}, ${print(plan, fastener?.length ?? 0)} long`;

const comesThrough = (plan: Plan, place: JointPlace, out: number): Diagnostic => ({
  id: 'joint.through',
  severity: 'warning',
  origin: place.joint.origin,
  message: `expected ${place.joint.by} that end in "${place.joint.to}", found ${named(plan, place)}, with its point ${print(plan, out)} out of the wood`,
  hint: 'name a shorter one with "with: <key>", or drive it from the other part',
  parts: [place.joint.join, place.joint.to],
});

const tooShort = (plan: Plan, place: JointPlace, bite: number): Diagnostic => ({
  id: 'joint.bite',
  severity: 'warning',
  origin: place.joint.origin,
  message: `expected ${place.joint.by} that go ${print(plan, LEAST[plan.edition.numbers.system])} or more into "${place.joint.to}", found ${named(plan, place)}, which ${bite > 0 ? `goes in ${print(plan, bite)}` : 'does not reach it'}`,
  hint: 'name a longer one with "with: <key>", or drive it from the other part',
  parts: [place.joint.join, place.joint.to],
  source: 'common practice, no source',
});
