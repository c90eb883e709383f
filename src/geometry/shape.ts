/** What a copy's blank goes through before it is a part: each shaping operation of the plan as a body of the kernel. */
import type { Copy } from '../model/types.ts';
import type { Shaping } from './tools.ts';

/**
 * The shapings of a copy, in order, in its own frame. Square-cut boards have none; each kind of `ShapeOperation` gets its line
 * here and its tool in a file of its own.
 */
export function shapingsOf(copy: Copy): readonly Shaping[] {
  return copy.shape.map((operation: never) => operation);
}
