/**
 * Courses: boards side by side that fill a span. How many there are, and how wide the ripped ones become.
 *
 * Boards of cover `w` with a clear gap `g` fill a span `S`. The count is the least `n` with n·w + (n−1)·g ≥ S; whole boards leave
 * `last = S − (n−1)·(w+g)` for the last one, so −g < last ≤ w.
 * ends last: the last is ripped to `last`. Where that is 0 or less, what is left over lies within a gap and no board fits
 *   there: one course fewer is laid and the gaps are opened evenly. (A single board with less than a gap beside it is laid as
 *   two halves.)
 * ends shared: first and last are ripped to (w + last)/2 each. That is more than (w − g)/2, half a board less half a gap, so
 *   that no sliver can come of it; one course more would only make both narrower by half a board.
 * Common practice, no source; the arithmetic is ours.
 */
import { type Length, mm } from '../units.ts';
import type { Course, Courses } from './types.ts';

/** Most courses in one part. */
export const MOST_COURSES = 200;
/** Differences below a hundredth of a millimetre are rounding faults, not wood. */
const SAME = 0.01;

/** What is known before the courses are counted; lengths in mm. */
export interface LayInput {
  readonly span: number;
  /** What a whole course covers. */
  readonly cover: number;
  readonly gap: number;
  /** Length of the tongue; 0 for square boards. */
  readonly tongue: number;
  readonly ends: 'shared' | 'last';
  /**
   * trimmed: tongues look to the start, and the first board's is cut off. kept: they look to the start, and the first one stays
   * on and stands out of the span. Absent: tongues look to the end, and the last board's is cut off.
   */
  readonly firstTongue?: 'trimmed' | 'kept';
  /** True where whole courses are ripped from wider stock. */
  readonly ripped: boolean;
}

/** The covers of the courses and the gap between them. */
export interface Fill {
  readonly covers: readonly number[];
  readonly gap: number;
  readonly ends: 'shared' | 'last';
  /** True where the gaps were opened or the ends shared because the rest of the span lay within a gap. */
  readonly adjusted: boolean;
}

/** Fills a span; undefined where it would take more than MOST_COURSES, or where span or board have no width. */
export function fillSpan({ span, cover, gap, ends }: LayInput): Fill | undefined {
  if (!(span > SAME) || !(cover > SAME) || !(gap >= 0)) return undefined;
  const count = Math.max(1, Math.ceil((span + gap - SAME) / (cover + gap)));
  if (count > MOST_COURSES) return undefined;
  if (count === 1) return { covers: [Math.min(span, cover)], gap, ends, adjusted: false };
  const last = span - (count - 1) * (cover + gap);
  if (Math.abs(last - cover) < SAME)
    return { covers: Array<number>(count).fill(cover), gap, ends, adjusted: false };
  const whole = (many: number): number[] => Array<number>(many).fill(cover);
  if (ends === 'last' && last > SAME)
    return { covers: [...whole(count - 1), last], gap, ends, adjusted: false };
  if (ends === 'last' && count > 2) {
    const opened = (span - (count - 1) * cover) / (count - 2);
    return { covers: whole(count - 1), gap: opened, ends, adjusted: true };
  }
  const end = (cover + last) / 2;
  return { covers: [end, ...whole(count - 2), end], gap, ends: 'shared', adjusted: ends === 'last' };
}

/** The courses with their places and cut widths, in order of laying. */
export function coursesOf(input: LayInput, fill: Fill): Omit<Courses, 'along' | 'reversed'> {
  const { cover, tongue, firstTongue } = input;
  const { covers } = fill;
  const step = (index: number): number =>
    covers.slice(0, index).reduce((sum, one) => sum + one + fill.gap, 0);
  const list = covers.map((one, index): Course => {
    const isFirst = index === 0;
    const isLast = index === covers.length - 1;
    const trimmed = tongue > 0 && (firstTongue === undefined ? isLast : firstTongue === 'trimmed' && isFirst);
    const narrowed = one < cover - SAME;
    const rip = narrowed
      ? isFirst && !isLast
        ? 'first course'
        : 'last course'
      : trimmed
        ? 'tongue'
        : input.ripped
          ? 'part'
          : undefined;
    return {
      cover: mm(one),
      cut: mm(one + (trimmed ? 0 : tongue)),
      offset: mm(step(index)),
      ...(rip === undefined ? {} : { rip }),
    };
  });
  return { list, gap: mm(fill.gap), full: mm(cover), ends: fill.ends };
}

/** Narrowest end course without a warning: 3/4 in, or 20 mm (common practice, no source). */
export const sliverLimit = (system: 'inch' | 'mm'): Length => mm(system === 'inch' ? 19.05 : 20);
