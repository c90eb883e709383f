/**
 * Screws and nails that no driver and no hammer can reach: from where one goes in, straight back along its way, stands a board that an earlier
 * step has set there. Boards of the same step are taken as set afterwards. Source: common practice, no source: a small drill driver
 * with a short bit is some 150 mm or 6 in long.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { arrivals, joinedIn } from '../joinery/index.ts';
import type { FastenerPoint, JointPlace } from '../joinery/types.ts';
import type { Copy, Part, Plan, Vec3 } from '../model/types.ts';
import { add, dot, scale } from '../resolve/vectors.ts';
import { inches, mm } from '../units.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';
import { woodOf } from './wood.ts';

/** Least clear way behind a fastener. */
const LEAST = { inch: inches(6), mm: mm(150) };
/** A way is followed in steps so long, mm; what is thinner than one isn't in the way. */
const STEP = 1;

interface Board {
  readonly copy: Copy;
  readonly part: Part;
}

/** Where a line enters the blank of a board and where it leaves it, mm along it; nothing where it passes by. */
function within(copy: Copy, from: Vec3, way: Vec3): readonly [number, number] | undefined {
  let [enter, leave] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const { normal, offset } of woodOf(copy).planes) {
    const speed = dot(normal, way);
    const short = offset - dot(normal, from);
    if (Math.abs(speed) < 1e-9) {
      // Along a face it passes by.
      if (short < 0.01) return undefined;
    } else if (speed < 0) enter = Math.max(enter, short / speed);
    else leave = Math.min(leave, short / speed);
  }
  return enter < leave ? [enter, leave] : undefined;
}

/** What stands when a joint is made: boards of earlier steps in the piece, or of the assembly while that is built on its own. */
function standing(plan: Plan, first: Part, second: Part): ((part: Part) => boolean) | undefined {
  const when = arrivals(plan);
  const step = joinedIn(first, second, when);
  if (step === undefined) return undefined;
  const together = first.assembly !== undefined && first.assembly === second.assembly;
  return (part) => {
    const own = when.get(part.key);
    if (own === undefined) return false;
    const built =
      part.assembly !== undefined && (part.assembly === first.assembly || part.assembly === second.assembly);
    return built ? own.added < step : !together && own.inPlace < step;
  };
}

/** The nearest board straight behind a fastener, and how far it is from where that goes in, mm. */
function behind(
  { at, axis }: FastenerPoint,
  first: Copy,
  boards: readonly Board[],
  least: number,
): { readonly part: Part; readonly clear: number } | undefined {
  const way = scale(axis, -1);
  const mouth = within(first, at, way)?.[1];
  if (mouth === undefined) return undefined;
  const start = add(at, scale(way, mouth));
  let best: { part: Part; clear: number } | undefined;
  for (const { copy, part } of boards) {
    const span = within(copy, start, way);
    if (span === undefined || span[1] < STEP || span[0] > (best?.clear ?? least)) continue;
    const wood = woodOf(copy);
    const end = Math.min(span[1], best?.clear ?? least);
    for (let along = Math.max(span[0], 0) + STEP / 2; along < end; along += STEP)
      if (wood.at(add(start, scale(way, along)))) {
        best = { part, clear: along - STEP / 2 };
        break;
      }
  }
  return best;
}

/** One finding a joint: where the least room is. */
export const driver: Rule = ({ plan, joinery }) => {
  const least = LEAST[plan.edition.numbers.system];
  const boards = allCopies(plan);
  const byId = new Map(boards.map((board) => [board.copy.id, board]));
  const worst = new Map<JointPlace['joint'], { readonly part: Part; readonly clear: number }>();
  for (const { joint, contact, points = [] } of joinery.places) {
    const [first, second] = [byId.get(contact.first), byId.get(contact.second)];
    const stands = first && second && standing(plan, first.part, second.part);
    if (!first || !second || !stands) continue;
    const others = boards.filter(
      ({ copy, part }) => copy !== first.copy && copy !== second.copy && stands(part),
    );
    for (const point of points) {
      const found = behind(point, first.copy, others, least);
      if (found && found.clear < least - 0.1 && found.clear < (worst.get(joint)?.clear ?? least))
        worst.set(joint, found);
    }
  }
  return [...worst].map(
    ([joint, { part, clear }]): Diagnostic => ({
      id: 'joint.reach',
      severity: 'warning',
      origin: joint.origin,
      message: `expected ${print(plan, least)} or more for ${joint.by === 'nails' ? 'a hammer' : 'a driver'} behind the ${joint.by} of "${joint.join}" to "${joint.to}", found ${print(plan, clear)} to "${part.key}"`,
      hint:
        part.key === joint.join || part.key === joint.to
          ? `make the joint in an earlier step, before another "${part.key}" stands there, or drive them from another face with "from"`
          : `add "${part.key}" in a later step, or drive them from another face with "from"`,
      parts: [joint.join, joint.to, part.key],
      source: 'common practice, no source',
    }),
  );
};
