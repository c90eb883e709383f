import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/draw/paper/marks.ts';
import { clearSpot } from '../../src/draw/steps/step-detail.ts';
import type { Point } from '../../src/draw/types.ts';

/** A balloon as the drawings have them, 4 mm in radius here. */
const balloon = (centre: Point): Mark => ({ kind: 'circle', centre, radius: 4, role: 'thin' });
const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

describe('the circle round a hole that is shown enlarged', () => {
  const hole: Point = [20, 20];

  it('stands about the hole where nothing is in the way', () => {
    expect(clearSpot([hole], 5, [balloon([30, 20])])).toEqual(hole);
  });

  it('gives way to a balloon, with the hole still inside it', () => {
    const near: Point = [27, 20];
    const at = clearSpot([hole], 5, [balloon(near)]) as Point;
    expect(apart(at, near)).toBeGreaterThan(9.5);
    expect(apart(at, hole)).toBeLessThanOrEqual(3 + 1e-9);
    expect(at).not.toEqual(hole);
  });

  it('takes the next hole where balloons stand all round the first', () => {
    const all = [0, 1, 2, 3].map((k) =>
      balloon([20 + 8 * Math.cos((k * Math.PI) / 2), 20 + 8 * Math.sin((k * Math.PI) / 2)]),
    );
    expect(clearSpot([hole, [60, 20]], 5, all)).toEqual([60, 20]);
    expect(clearSpot([hole], 5, all)).toBeUndefined();
  });
});
