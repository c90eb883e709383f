/** The cuts of boards one by one, in words: what stop and fence are set to, and what comes off. */
import type { BoardCut, BoardLayout, CuttingLayouts } from '../../cutting/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import { type NumberStyle, printed } from '../../units.ts';

/** A cut, or several at one setting that follow each other. */
export interface BoardCutWords {
  /** `2`, `2, 3`, `2–5`. */
  readonly numbers: string;
  readonly said: Line;
}

/** The cuts of boards that are cut alike. */
export interface BoardCutList {
  readonly board: BoardLayout;
  readonly cuts: readonly BoardCutWords[];
}

/** The cuts of a plan's boards, in the order of the layouts. */
export const boardCutLists = (layouts: CuttingLayouts, style: NumberStyle): BoardCutList[] =>
  layouts.boards.map((board) => ({
    board,
    cuts: runsOf(board.cuts).map((run) => ({
      numbers: numbersOf(run),
      said: wordsOf(
        run,
        style,
        board.cuts.find((cut) => cut.yard),
      ),
    })),
  }));

/** Cuts at one setting that follow each other, off the same stretch or off pieces that lie alike. */
function runsOf(cuts: readonly BoardCut[]): BoardCut[][] {
  const runs: BoardCut[][] = [];
  for (const cut of cuts) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const goesOn =
      last !== undefined &&
      last.kind === cut.kind &&
      !last.yard &&
      !cut.yard &&
      cut.kind !== 'trim' &&
      (cut.piece === `${last.number}r` || cut.against === last.against) &&
      Math.abs(cut.setting - last.setting) < 1e-6;
    if (run && goesOn) run.push(cut);
    else runs.push([cut]);
  }
  return runs;
}

function numbersOf(run: readonly BoardCut[]): string {
  const [first, last] = [run[0]?.number ?? 0, run.at(-1)?.number ?? 0];
  return first === last ? `${first}` : last === first + 1 ? `${first}, ${last}` : `${first}–${last}`;
}

/**
 * `48″ (N) × 2`, `rip to 4″ (P), groove edge`, `square the end`. What the yard cuts to length is finished by squaring its end, so
 * that cut names the part. A later cut of the yard is measured from the one before it.
 */
function wordsOf(run: readonly BoardCut[], style: NumberStyle, yard: BoardCut | undefined): Line {
  const [first] = run as [BoardCut];
  const setting: Run = { kind: 'size', size: printed(first.setting, style) };
  const counts = new Map<string, number>();
  for (const cut of run)
    for (const { letter } of [cut.leaves, cut.rest])
      if (letter !== undefined) counts.set(letter, (counts.get(letter) ?? 0) + 1);
  const parts = [...counts].flatMap(([letter, count], index): Run[] => [
    text(index > 0 ? ', ' : ' '),
    { kind: 'letter', letter },
    ...(count > 1 ? [text(` × ${count}`)] : []),
  ]);
  if (first.kind === 'trim') return [text('square the end'), ...parts];
  if (first.kind === 'straighten')
    return [text('make the rough edge straight, '), setting, text(' off'), ...parts];
  const edge = first.against.endsWith('edge') && !['edge', 'sawn edge'].includes(first.against);
  return [
    ...(first.yard
      ? [text(first === yard ? 'in the yard at ' : 'in the yard, ')]
      : first.kind === 'rip'
        ? [text('rip to ')]
        : []),
    setting,
    ...(first.yard && first !== yard ? [text(' further')] : []),
    ...parts,
    ...(edge ? [text(`, ${first.against}`)] : []),
  ];
}
