/**
 * A piece taken apart: each board moves out the way it went in. `leaving.ts` finds the order and the ways, `set-out.ts` how far each
 * board goes in the picture.
 */
import type { PlacedPart } from '../../geometry/types.ts';
import type { Plan } from '../../model/types.ts';
import type { ViewFrame } from '../types.ts';
import { type Leaving, type Order, takenOut } from './leaving.ts';
import { movedPart } from './moving.ts';
import { type Move, setOut } from './set-out.ts';
import { touches } from './touching.ts';

export type { Order } from './leaving.ts';
export { movedPart } from './moving.ts';
export type { Move } from './set-out.ts';

/** A piece taken apart. `parts` in the order they came in, moved. */
export interface Exploded {
  readonly parts: readonly PlacedPart[];
  readonly moves: ReadonlyMap<string, Move>;
  /** How it came apart, first to last; what leaves at once is one round. */
  readonly rounds: readonly (readonly Departure[])[];
}

/** A board that comes out, or some together: their moves are those of `moves` for `copy`. */
export interface Departure {
  readonly copy: string;
  /** All copies that go, `copy` among them. */
  readonly copies: readonly string[];
  /** The copies that they leave behind. Others may have left before, or be apart from these anyway. */
  readonly standing: readonly string[];
}

/**
 * Takes a piece apart. `order` says in which order they go in; copies it doesn't name stand from the start. The view says which boards would cover each other; distances grow until they don't, within reason.
 */
export function explode(parts: readonly PlacedPart[], order: Order, frame: ViewFrame): Exploded {
  const contacts = touches(parts);
  const rounds = takenOut(parts, order, contacts);
  const moves = setOut(parts, rounds, contacts, frame);
  return {
    parts: parts.map((part) => movedPart(part, (moves.get(part.copy) as Move).by)),
    moves,
    rounds: departures(parts, rounds),
  };
}

/** The rounds of a piece one after the other, then those of the boards that left together. */
function departures(parts: readonly PlacedPart[], rounds: readonly (readonly Leaving[])[]): Departure[][] {
  const copyOf = (number: number): string => (parts[number] as PlacedPart).copy;
  const all: (readonly Leaving[])[] = [...rounds];
  for (const round of all) for (const each of round) all.push(...(each.inner ?? []));
  return all.map((round) =>
    round.map((each) => ({
      copy: copyOf(each.parts[0]),
      copies: each.parts.map(copyOf),
      standing: each.standing.map(copyOf),
    })),
  );
}

/** Copies in the order of the steps that bring them; an assembly as one in the step that sets it in. */
export function orderOfSteps(plan: Pick<Plan, 'steps'>, parts: readonly PlacedPart[]): Order {
  const built = new Map<string, readonly string[]>();
  return plan.steps.map((step) => {
    const own = parts.flatMap(({ part, copy }) => (step.adds.includes(part) ? [copy] : []));
    const set = step.sets.flatMap((name) => [built.get(name) ?? []]);
    if (step.assembly !== undefined)
      built.set(step.assembly, [...(built.get(step.assembly) ?? []), ...own, ...set.flat()]);
    return [...own, ...set];
  });
}
