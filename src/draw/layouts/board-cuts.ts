/** The cuts of a board on its layout: lines, and the numbers that say their order. */
import { lanesOf, trimmedOff } from '../../cutting/cuts.ts';
import type { BoardCut, BoardLayout, LayoutSection } from '../../cutting/types.ts';
import { text } from '../../text.ts';
import { type Lettering, NUMBER_SIZE, setLine, textAt } from '../paper/lettering.ts';
import { boxOfMark, type Mark } from '../paper/marks.ts';
import { type Box, boxesMeet, boxOf, type Segment } from '../paper/plane.ts';

/** How far a cut runs past the board's edge, mm. */
const OVERSHOOT = 1.6;
/** A line nearer than this to the board's outline or to another line isn't drawn, mm of paper. */
const APART = 0.35;
/** Clear paper around a number in a strip, from the middle of the board's outline and of a cut's line, mm. */
const CLEAR = { outline: 0.3, cut: 0.18 };

/** Where the board lies on the paper: its left top corner is at (`left`, 0). */
export interface BoardPaper {
  readonly left: number;
  readonly ratio: number;
  readonly height: number;
  readonly kerf: number;
}

/** Lines of the cuts, and the numbers that found room. */
export interface CutMarks {
  /** Through the whole board. */
  readonly strokes: readonly Segment[];
  /** Rips, and crosscuts of strips. */
  readonly thin: readonly Segment[];
  readonly numbers: readonly Mark[];
  /** Numbers of the cuts that the drawing shows; the words of the pieces say the others. */
  readonly shown: ReadonlySet<number>;
}

/** Where a place along the board is on the paper: `at` counts from its trimmed end. */
export const placeAlong = (board: BoardLayout, { left, ratio, kerf }: BoardPaper, at: number): number =>
  left + (trimmedOff(board, kerf) + at) * ratio;

/** True for a crosscut through the board as it is then, and not through a strip of it. */
const isThrough = (board: BoardLayout, cut: BoardCut): boolean =>
  cut.kind === 'crosscut' &&
  cut.y + cut.reach > board.stock.width - 0.05 &&
  cut.y <= (board.stock.rough ?? 0);

/** The rips of a section and the crosscuts of its strips, each with the letter of the strip that it makes. */
export function cutsWithin(
  board: BoardLayout,
  section: LayoutSection,
  kerf: number,
): { readonly cut: BoardCut; readonly letter: string }[] {
  const from = trimmedOff(board, kerf) + section.start;
  const near = (a: number, b: number): boolean => Math.abs(a - b) < 0.01;
  return board.cuts.flatMap((cut) => {
    const outside = cut.kind === 'trim' || cut.kind === 'straighten' || isThrough(board, cut);
    if (outside || cut.x < from - 0.01 || cut.x > from + section.length + 0.01) return [];
    for (const lane of lanesOf(section)) {
      const top = (board.stock.rough ?? 0) + lane.offset;
      for (const strip of lane.strips) {
        const start = from + (strip.from ?? 0);
        const made =
          cut.kind === 'rip'
            ? near(cut.x, start) && (near(cut.y, top + strip.width) || near(cut.y, top + lane.width))
            : near(cut.y, top) && near(cut.x, start + strip.length);
        if (made) return [{ cut, letter: strip.letter }];
      }
    }
    return [];
  });
}

/** Draws the cuts of a board. */
export function cutMarks(board: BoardLayout, paper: BoardPaper): CutMarks {
  const { left, ratio, height } = paper;
  const right = left + board.boardLength * ratio;
  const strokes: Segment[] = [];
  const thin: Segment[] = [];
  const above: { x: number; number: number; yard: boolean }[] = [];
  const within: BoardCut[] = [];
  for (const cut of board.cuts) {
    const x = left + cut.x * ratio;
    const y = cut.y * ratio;
    if (cut.kind === 'trim') {
      // the board's own end is drawn where it is cut off, another where it lies
      const at = cut.x - cut.setting < 0.01 ? left : Math.min(x, right);
      above.push({ x: at, number: cut.number, yard: false });
      strokes.push([
        [at, -OVERSHOOT],
        [at, at > left + APART ? height : 0],
      ]);
    } else if (isThrough(board, cut)) {
      above.push({ x: Math.min(x, right), number: cut.number, yard: cut.yard ?? false });
      strokes.push([
        [Math.min(x, right), -OVERSHOOT],
        [Math.min(x, right), right - x > APART ? height : 0],
      ]);
    } else {
      within.push(cut);
      const end = (cut.kind === 'crosscut' ? y : x) + cut.reach * ratio;
      const seen = cut.kind === 'crosscut' ? right - x > APART : height - y > 0.5 && y > APART;
      if (seen)
        thin.push(
          cut.kind === 'crosscut'
            ? [
                [x, y],
                [x, Math.min(height, end)],
              ]
            : [
                [x, y],
                [Math.min(right, end), y],
              ],
        );
    }
  }
  const top = numbersAbove(above);
  const inner = numbersWithin(within, paper, [...strokes, ...thin]);
  return {
    strokes,
    thin,
    numbers: [...top.marks, ...inner.marks],
    shown: new Set([...top.shown, ...inner.shown]),
  };
}

interface Numbered {
  readonly marks: readonly Mark[];
  readonly shown: readonly number[];
}

/** Numbers above the board; one that would touch the one before stands a row higher, or is left out. */
function numbersAbove(cuts: readonly { x: number; number: number; yard: boolean }[]): Numbered {
  const placed: Box[] = [];
  const shown: number[] = [];
  const sorted = [...cuts].sort((a, b) => a.x - b.x || a.number - b.number);
  const marks = sorted.flatMap(({ x, number, yard }): Mark[] => {
    const plain = setLine([text(`${number}`)], NUMBER_SIZE, 600);
    const wordings: Lettering[] = yard
      ? [setLine([text(`${number} in the yard`)], NUMBER_SIZE, 600), plain]
      : [plain];
    for (const lettering of wordings)
      for (const row of [0, 1]) {
        const mark = textAt(lettering, [x, -OVERSHOOT - 0.66 - lettering.descent - row * 2.9], {
          anchor: 'middle',
          quiet: true,
        });
        const box = boxOfMark(mark);
        if (placed.some((other) => boxesMeet(box, other, APART))) continue;
        placed.push(box);
        shown.push(number);
        return [mark];
      }
    return [];
  });
  return { marks, shown };
}

/** Numbers in the strips: over the line of a rip at its beginning, left of the line of a crosscut. */
function numbersWithin(
  cuts: readonly BoardCut[],
  { left, ratio, height }: BoardPaper,
  lines: readonly Segment[],
): Numbered {
  const placed: Box[] = lines.map((segment) => boxOf(segment));
  const shown: number[] = [];
  const marks = cuts.flatMap((cut): Mark[] => {
    const lettering = setLine([text(`${cut.number}`)], NUMBER_SIZE, 600);
    const x = left + cut.x * ratio;
    const y = Math.min(height, cut.y * ratio);
    const rip = cut.kind !== 'crosscut';
    const strip: Box = rip
      ? { left: x, right: x + cut.reach * ratio, top: y - cut.setting * ratio, bottom: y }
      : { left: x - cut.setting * ratio, right: x, top: y, bottom: Math.min(height, y + cut.reach * ratio) };
    // A sliver beside the strip may be thinner than the line of the outline.
    const top = Math.max(strip.top + CLEAR.cut, CLEAR.outline);
    const bottom = Math.min(strip.bottom - CLEAR.cut, height - CLEAR.outline);
    const at = rip ? x + lettering.width / 2 + 1 : x - lettering.width / 2 - 1;
    const mark = textAt(lettering, [at, (top + bottom + lettering.ascent) / 2], {
      anchor: 'middle',
      quiet: true,
    });
    const box = boxOfMark(mark);
    const fits =
      lettering.ascent <= bottom - top &&
      box.left >= strip.left + CLEAR.outline &&
      box.right <= strip.right - CLEAR.outline &&
      !placed.some((other) => boxesMeet(box, other, CLEAR.cut));
    if (!fits) return [];
    placed.push(box);
    shown.push(cut.number);
    return [mark];
  });
  return { marks, shown };
}
