/**
 * A piece taken apart: each board moves out the way it went in. `leaving.ts` finds the order and the ways, `set-out.ts` how far each
 * board goes in the picture.
 */
import type { PlacedPart } from '../geometry/types.ts';
import { takenOut } from './leaving.ts';
import { movedPart } from './moving.ts';
import { type Move, setOut } from './set-out.ts';
import { touches } from './touching.ts';
import type { ViewFrame } from './types.ts';

export { movedPart } from './moving.ts';
export type { Move, Way } from './set-out.ts';

/** A piece taken apart. `parts` in the order they came in, moved. */
export interface Exploded {
  readonly parts: readonly PlacedPart[];
  readonly moves: ReadonlyMap<string, Move>;
  /** Copies in the order in which they come out; those that leave together in one group. What stays is in none. */
  readonly order: readonly (readonly string[])[];
}

/**
 * Takes a piece apart. `order` names the copies in the order in which they go in, step by step; copies it doesn't name stand from
 * the start. The view says which boards would cover each other; distances grow until they don't, within reason.
 */
export function explode(
  parts: readonly PlacedPart[],
  order: readonly (readonly string[])[],
  frame: ViewFrame,
): Exploded {
  const contacts = touches(parts);
  const rounds = takenOut(parts, order, contacts);
  const moves = setOut(parts, rounds.flat(), contacts, frame);
  return {
    parts: parts.map((part) => movedPart(part, (moves.get(part.copy) as Move).by)),
    moves,
    order: rounds.map((round) => round.map((each) => (parts[each.part] as PlacedPart).copy)),
  };
}
