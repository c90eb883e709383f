import { describe, expect, it } from 'vitest';
import { frameOf, mirrored, moved, standOf } from '../../src/model/frames.ts';
import type { Frame, Vec3 } from '../../src/model/types.ts';
import type { Direction, Face, Mirror } from '../../src/read/types.ts';
import { DIRECTIONS, directionOf, FACES } from '../../src/resolve/directions.ts';
import { fc } from '../support/random.ts';

const add = (a: Vec3, b: Vec3, times: number): Vec3 => [
  a[0] + b[0] * times,
  a[1] + b[1] * times,
  a[2] + b[2] * times,
];
/** A point of a part's own frame in the piece. */
const point = (frame: Frame, [x, y, z]: Vec3): Vec3 =>
  add(add(add(frame.origin, frame.length, x), frame.width, y), frame.thickness, z);
const determinant = ({ length: [a, b, c], width: [d, e, f], thickness: [g, h, i] }: Frame): number =>
  a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);

const spans = { across: { low: 10, high: 40 }, deep: { low: 5, high: 12 }, up: { low: 100, high: 190 } };
const size = (direction: Direction): number => spans[direction].high - spans[direction].low;
const MIRRORS: readonly Mirror[] = ['left-right', 'front-back', 'bottom-top'];
const INDEX = { 'left-right': 0, 'front-back': 1, 'bottom-top': 2 } as const;

const lies = DIRECTIONS.flatMap((runs) =>
  FACES.filter((face) => directionOf(face) !== runs).map((face) => [runs, face] as const),
);

describe('frames', () => {
  it.each(lies)(
    'of a board that runs %s, its wide face to the %s, are right-handed and span its box',
    (runs, face) => {
      const frame = frameOf(standOf(spans, runs, face));
      expect(determinant(frame)).toBe(1);
      expect(frame.mirrored).toBe(false);
      const thick = directionOf(face);
      const wide = DIRECTIONS.find((one) => one !== runs && one !== thick) as Direction;
      const far = point(frame, [size(runs), size(wide), size(thick)]);
      for (const index of [0, 1, 2] as const) {
        const { low, high } = spans[DIRECTIONS[index] as Direction];
        expect([frame.origin[index], far[index]].sort((a, b) => a - b)).toEqual([low, high]);
      }
      // The wide face that was named is the one at z = thickness.
      const index = DIRECTIONS.indexOf(thick) as 0 | 1 | 2;
      expect(point(frame, [0, 0, size(thick)])[index]).toBe(
        ['left', 'front', 'bottom'].includes(face) ? spans[thick].low : spans[thick].high,
      );
    },
  );

  it('of copies stay right-handed, and reflect what is shaped in the board’s width', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...(lies as readonly (readonly [Direction, Face])[])),
        fc.array(fc.constantFrom(...MIRRORS, 'move' as const), { maxLength: 4 }),
        fc.tuple(
          fc.integer({ min: 0, max: 30 }),
          fc.integer({ min: 0, max: 30 }),
          fc.integer({ min: 0, max: 30 }),
        ),
        ([runs, face], rules, [x, y, z]) => {
          const first = standOf(spans, runs, face);
          const wide = DIRECTIONS.find((one) => one !== runs && one !== directionOf(face)) as Direction;
          let stand = first;
          // The same point of the piece, taken through the mirrors by hand: m becomes 500 − m, or moves 70 to the right.
          const expected = [...point(frameOf(first), [x, y, z])] as [number, number, number];
          for (const rule of rules) {
            if (rule === 'move') {
              stand = moved(stand, 'across', 70);
              expected[0] += 70;
            } else {
              stand = mirrored(stand, rule, 500);
              expected[INDEX[rule]] = 500 - expected[INDEX[rule]];
            }
          }
          const frame = frameOf(stand);
          expect(determinant(frame)).toBe(1);
          const turns = rules.filter((rule) => rule !== 'move').length;
          expect(frame.mirrored).toBe(turns % 2 === 1);
          expect(point(frame, [x, frame.mirrored ? size(wide) - y : y, z])).toEqual(expected);
        },
      ),
      { numRuns: 500 },
    );
  });
});
