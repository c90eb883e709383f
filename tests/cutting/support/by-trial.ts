/**
 * All layouts of a few pieces, tried one after the other: every way to put pieces into sections side by side, and every way to put
 * sections on boards. Plain arithmetic on the sizes themselves, for jobs of up to seven pieces.
 */
import type { BoardJob } from '../../../src/cutting/types.ts';

/** Every way to split a list into groups, as lists of groups. */
function* splits<T>(list: readonly T[]): Generator<T[][]> {
  const [first, ...rest] = list;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const split of splits(rest)) {
    for (let index = 0; index < split.length; index++)
      yield split.map((group, at) => (at === index ? [first, ...group] : group));
    yield [[first], ...split];
  }
}

export interface Trial {
  readonly cost: number;
  readonly boards: number;
  readonly offcut: number;
}

/** The best layout in the order cost, boards, longest offcut. One width of board, no limits; nothing where a piece fits none. */
export function byTrial(job: BoardJob): Trial | undefined {
  const width = job.stocks[0]?.width ?? 0;
  const near = 1e-9;
  const pieces = job.items.flatMap((item) =>
    Array.from({ length: item.quantity }, () => ({ length: item.length, width: item.width ?? width })),
  );
  let best: Trial | undefined;
  for (const sections of splits(pieces)) {
    const across = sections.map(
      (group) => group.reduce((sum, piece) => sum + piece.width, 0) + (group.length - 1) * job.kerf,
    );
    if (across.some((sum) => sum > width + near)) continue;
    const lengths = sections.map((group) => Math.max(...group.map((piece) => piece.length)));
    for (const boards of splits(lengths)) {
      let cost = 0;
      let offcut = 0;
      for (const group of boards) {
        const used = group.reduce((sum, length) => sum + length, 0) + (group.length - 1) * job.kerf;
        const choices = job.stocks
          .map((stock) => ({
            price: stock.price,
            left: stock.length - (job.endTrim > 0 ? job.endTrim + job.kerf : 0) - used,
          }))
          .filter(({ left }) => left >= -near)
          .sort((a, b) => a.price - b.price || b.left - a.left);
        const choice = choices[0];
        if (choice === undefined) {
          cost = Number.POSITIVE_INFINITY;
          break;
        }
        cost += choice.price;
        offcut = Math.max(offcut, choice.left - job.kerf);
      }
      if (!Number.isFinite(cost)) continue;
      const better =
        best === undefined ||
        cost < best.cost - near ||
        (cost < best.cost + near &&
          (boards.length < best.boards || (boards.length === best.boards && offcut > best.offcut + near)));
      if (better) best = { cost, boards: boards.length, offcut };
    }
  }
  return best;
}
