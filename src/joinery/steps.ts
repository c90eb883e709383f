/** When parts arrive, and so in which step a joint is made. */
import type { Part, Plan } from '../model/types.ts';

/** Step in which a part is added, and the one in which it reaches the piece (later, where its assembly is set then). */
export interface Arrival {
  readonly added: number;
  readonly inPlace: number;
}

/** Arrival of every part that a step adds; parts that no step adds are missing from the map. */
export function arrivals(plan: Plan): ReadonlyMap<string, Arrival> {
  const added = new Map<string, number>();
  const set = new Map<string, number>();
  for (const step of plan.steps) {
    for (const key of step.adds) added.set(key, step.index);
    for (const name of step.sets) set.set(name, step.index);
  }
  const result = new Map<string, Arrival>();
  for (const part of plan.parts) {
    const index = added.get(part.key);
    if (index === undefined) continue;
    const later = part.assembly === undefined ? undefined : set.get(part.assembly);
    result.set(part.key, { added: index, inPlace: Math.max(index, later ?? index) });
  }
  return result;
}

/**
 * The step in which two parts are joined: where the second of them arrives. Parts of one assembly are joined when it is
 * built, others when both have reached the piece.
 */
export function joinedIn(first: Part, second: Part, when: ReadonlyMap<string, Arrival>): number | undefined {
  const a = when.get(first.key);
  const b = when.get(second.key);
  if (!a || !b) return undefined;
  const together = first.assembly !== undefined && first.assembly === second.assembly;
  return together ? Math.max(a.added, b.added) : Math.max(a.inPlace, b.inPlace);
}
