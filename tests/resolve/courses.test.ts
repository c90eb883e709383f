import { describe, expect, it } from 'vitest';
import { coursesOf, fillSpan, type LayInput, MOST_COURSES } from '../../src/resolve/courses.ts';
import { fc } from '../support/random.ts';

const square: LayInput = { span: 100, cover: 20, gap: 0, tongue: 0, ends: 'last', ripped: false };

const laid = (more: Partial<LayInput>) => {
  const input = { ...square, ...more };
  const fill = fillSpan(input);
  if (!fill) throw new Error('not filled');
  return { ...coursesOf(input, fill), adjusted: fill.adjusted };
};
const covers = (more: Partial<LayInput>): readonly number[] =>
  laid(more).list.map((course) => Number(course.cover.toFixed(6)));

describe('square courses', () => {
  it('fit exactly without a rip', () => {
    // 5 × 20 = 100; and with gaps 4 × 20 + 3 × 4 = 92
    for (const ends of ['last', 'shared'] as const) {
      expect(covers({ ends })).toEqual([20, 20, 20, 20, 20]);
      expect(covers({ ends, span: 92, gap: 4 })).toEqual([20, 20, 20, 20]);
      expect(laid({ ends }).list.every((course) => course.rip === undefined)).toBe(true);
    }
  });

  it('end with one ripped course', () => {
    // 4 × 20 + 4 gaps of 2 = 88, and 10 are left
    const { list } = laid({ span: 98, gap: 2 });
    expect(list.map((course) => course.cover)).toEqual([20, 20, 20, 20, 10]);
    expect(list.map((course) => course.offset)).toEqual([0, 22, 44, 66, 88]);
    expect(list.map((course) => course.rip)).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      'last course',
    ]);
  });

  it('share what is left between both ends', () => {
    // 5 courses, 4 gaps of 2: (98 − 8 − 3 × 20) / 2 = 15
    const { list } = laid({ span: 98, gap: 2, ends: 'shared' });
    expect(list.map((course) => course.cover)).toEqual([15, 20, 20, 20, 15]);
    expect(list.map((course) => course.rip)).toEqual([
      'first course',
      undefined,
      undefined,
      undefined,
      'last course',
    ]);
    // Two courses halve the span: (30 − 2) / 2
    expect(covers({ span: 30, gap: 2, ends: 'shared' })).toEqual([14, 14]);
  });

  it('are one ripped board where the span is narrower than a board', () => {
    expect(laid({ span: 15 }).list).toEqual([{ cover: 15, cut: 15, offset: 0, rip: 'last course' }]);
    expect(covers({ span: 15, ends: 'shared' })).toEqual([15]);
  });

  it('open their gaps where less than a gap is left', () => {
    // 3 × 20 + 2 × 6 = 72; 74 leaves 2, less than a gap of 6: gaps become (74 − 60) / 2 = 7
    const { list, gap, adjusted } = laid({ span: 74, gap: 6 });
    expect(list.map((course) => course.cover)).toEqual([20, 20, 20]);
    expect(gap).toBe(7);
    expect(adjusted).toBe(true);
    // ends shared keeps the gap: 4 courses, (74 − 18 − 40) / 2 = 8
    expect(covers({ span: 74, gap: 6, ends: 'shared' })).toEqual([8, 20, 20, 8]);
    // One board and 2 beside it: two halves of (22 − 6) / 2
    expect(laid({ span: 22, gap: 6 })).toMatchObject({ ends: 'shared', adjusted: true });
    expect(covers({ span: 22, gap: 6 })).toEqual([8, 8]);
  });

  it('say that whole courses are ripped where the stock is wider', () => {
    expect(laid({ ripped: true, span: 90 }).list.map((course) => course.rip)).toEqual([
      'part',
      'part',
      'part',
      'part',
      'last course',
    ]);
  });

  it('are bounded in number, and need a span', () => {
    expect(fillSpan({ ...square, span: 20 * MOST_COURSES })?.covers).toHaveLength(MOST_COURSES);
    expect(fillSpan({ ...square, span: 20 * MOST_COURSES + 1 })).toBeUndefined();
    expect(fillSpan({ ...square, span: 0 })).toBeUndefined();
    expect(fillSpan({ ...square, cover: 0 })).toBeUndefined();
  });

  it('fill any span, with the fewest boards and no sliver at shared ends', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 3000, noNaN: true }),
        fc.double({ min: 20, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 19, noNaN: true }),
        fc.constantFrom('shared' as const, 'last' as const),
        (span, cover, gap, ends) => {
          const fill = fillSpan({ ...square, span, cover, gap, ends });
          if (!fill) throw new Error('not filled');
          const count = fill.covers.length;
          const total = fill.covers.reduce((sum, one) => sum + one, 0) + (count - 1) * fill.gap;
          expect(Math.abs(total - span)).toBeLessThan(0.02);
          expect(Math.max(...fill.covers)).toBeLessThanOrEqual(cover);
          expect(Math.min(...fill.covers)).toBeGreaterThan(0);
          expect(fill.gap).toBeGreaterThanOrEqual(gap);
          // One board fewer, at the stated gap, doesn't reach.
          if (!fill.adjusted) expect((count - 1) * (cover + gap) - gap).toBeLessThan(span);
          if (ends === 'shared') {
            expect(fill.covers[0]).toBe(fill.covers[count - 1]);
            if (count > 1) expect(fill.covers[0]).toBeGreaterThan((cover - gap) / 2 - 0.02);
          }
        },
      ),
      { numRuns: 2000 },
    );
  });
});

/** Boards of 120 cover with a tongue of 10, as check values T2.1 has them in use: 130 over all. */
describe('interlocking courses', () => {
  const board: Partial<LayInput> = { cover: 120, tongue: 10 };
  const cuts = (more: Partial<LayInput>) =>
    laid({ ...board, ...more }).list.map((course) => [course.cover, course.cut, course.rip]);

  it('trim the first tongue, and rip the last to what remains with its tongue on', () => {
    // 2 × 120 = 240; 70 of 310 remain; the last keeps the tongue that goes into the board before it: 80
    expect(cuts({ span: 310, firstTongue: 'trimmed' })).toEqual([
      [120, 120, 'tongue'],
      [120, 130, undefined],
      [70, 80, 'last course'],
    ]);
  });

  it('trim the last tongue where the first stands groove to the start', () => {
    expect(cuts({ span: 310 })).toEqual([
      [120, 130, undefined],
      [120, 130, undefined],
      [70, 70, 'last course'],
    ]);
  });

  it('trim one tongue and rip nothing where they fit exactly', () => {
    expect(cuts({ span: 360, firstTongue: 'trimmed' })).toEqual([
      [120, 120, 'tongue'],
      [120, 130, undefined],
      [120, 130, undefined],
    ]);
    expect(cuts({ span: 360 })).toEqual([
      [120, 130, undefined],
      [120, 130, undefined],
      [120, 120, 'tongue'],
    ]);
    expect(cuts({ span: 240, firstTongue: 'kept' })).toEqual([
      [120, 130, undefined],
      [120, 130, undefined],
    ]);
  });

  it('share their ends: the trimmed one is cut to its cover, the other keeps its tongue', () => {
    // (310 − 120) / 2 = 95
    expect(cuts({ span: 310, ends: 'shared', firstTongue: 'trimmed' })).toEqual([
      [95, 95, 'first course'],
      [120, 130, undefined],
      [95, 105, 'last course'],
    ]);
    expect(cuts({ span: 310, ends: 'shared' })).toEqual([
      [95, 105, 'first course'],
      [120, 130, undefined],
      [95, 95, 'last course'],
    ]);
  });
});
