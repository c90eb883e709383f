/**
 * Wood left behind a housing, or between two that are cut into a board from both sides. Source: a third of the board is common practice,
 * no source.
 */
import type { Diagnostic } from '../diagnostics.ts';
import type { BoxCut, Side } from '../model/shape.ts';
import { axisOfSide, farCorner } from '../model/sides.ts';
import type { Copy } from '../model/types.ts';
import { print } from './support.ts';
import type { Rule } from './types.ts';

/** Share of the board that should be left. */
const LEAST = 1 / 3;
/** Play of the comparison, mm: a board of 18 mm may have two housings of 6. */
const PLAY = 0.1;

type Housing = BoxCut & { readonly side: Side; readonly depth: number };

const housingsOf = (copy: Copy): Housing[] =>
  copy.shape.filter(
    (one): one is Housing =>
      one.kind === 'box' && one.name === 'housing' && one.side !== undefined && one.depth !== undefined,
  );

/** True where two housings from opposite sides lie behind each other. */
const behind = (a: Housing, b: Housing): boolean =>
  a.side !== b.side &&
  axisOfSide(a.side) === axisOfSide(b.side) &&
  ([0, 1, 2] as const)
    .filter((axis) => axis !== axisOfSide(a.side))
    .every((axis) => Math.min(a.max[axis], b.max[axis]) - Math.max(a.min[axis], b.min[axis]) > PLAY);

export const web: Rule = ({ plan }) =>
  plan.parts.flatMap((part): Diagnostic[] => {
    const found: Diagnostic[] = [];
    const told = new Set<Housing['origin']>();
    const say = (one: Housing, left: number, whole: number, where: string, hint: string): void => {
      if (left >= whole * LEAST - PLAY || told.has(one.origin)) return;
      told.add(one.origin);
      found.push({
        id: 'housing.web',
        severity: 'warning',
        origin: one.origin,
        message: `expected a third of the ${print(plan, whole)} of "${part.key}" left ${where}, found ${print(plan, Math.max(0, left))}`,
        hint,
        parts: [part.key],
        source: 'common practice, no source',
      });
    };
    for (const copy of part.copies) {
      const all = housingsOf(copy);
      for (const [i, one] of all.entries()) {
        const whole = farCorner(copy.size)[axisOfSide(one.side)];
        const other = all.slice(i + 1).find((next) => behind(one, next));
        if (other) {
          const where = `between its housings in the ${one.face} and the ${other.face}`;
          say(
            other,
            whole - one.depth - other.depth,
            whole,
            where,
            'make them less deep, or set one off from the other',
          );
        }
        say(one, whole - one.depth, whole, `behind its housing in the ${one.face}`, 'make it less deep');
      }
    }
    return found;
  });
