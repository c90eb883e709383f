import { describe, expect, it } from 'vitest';
import { frameTowards, ISOMETRIC_SCALE, project, viewFrame } from '../../src/draw/lines/project.ts';
import { cross, dot, norm } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';

const STRAIGHT = ['front', 'back', 'left', 'right', 'top', 'bottom'] as const;
const CORNERS = (['front', 'back'] as const).flatMap((depth) =>
  (['left', 'right'] as const).flatMap((side) =>
    (['above', 'below'] as const).map((height) => ({ depth, side, height })),
  ),
);

describe('view frames', () => {
  it('are orthonormal and right-handed', () => {
    for (const frame of [
      ...STRAIGHT.map(viewFrame),
      ...CORNERS.map(viewFrame),
      frameTowards([3, -1, 2]),
      frameTowards([0, 0, -2]),
    ]) {
      for (const axis of [frame.right, frame.up, frame.toViewer]) expect(norm(axis)).toBeCloseTo(1, 12);
      const third = cross(frame.right, frame.up);
      third.forEach((value, k) => {
        expect(value).toBeCloseTo(frame.toViewer[k] as number, 12);
      });
    }
  });

  // A piece 3 wide (x), 2 deep (y), 1 high (z): where its left front bottom corner falls, and what points right and up.
  it.each([
    ['front', [1, 0, 0], [0, 0, 1]],
    ['back', [-1, 0, 0], [0, 0, 1]],
    // Seen from the left its front is to the right; from the right, to the left.
    ['left', [0, -1, 0], [0, 0, 1]],
    ['right', [0, 1, 0], [0, 0, 1]],
    ['top', [1, 0, 0], [0, 1, 0]],
    ['bottom', [1, 0, 0], [0, -1, 0]],
  ] as const)('from the %s', (from, right, up) => {
    expect(viewFrame(from).right).toEqual(right);
    expect(viewFrame(from).up).toEqual(up);
  });

  // ISO 5456-3, isometric axonometry: the three axes 120 degrees apart, one upright, all shortened alike (to 0.816).
  it('of corners are isometric', () => {
    for (const corner of CORNERS) {
      const frame = viewFrame(corner);
      const axes = (
        [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ] as Vec3[]
      ).map((axis) => project(axis, frame));
      for (const axis of axes) expect(Math.hypot(...axis) * ISOMETRIC_SCALE).toBeCloseTo(1, 12);
      expect(axes[2]?.[0]).toBeCloseTo(0, 12);
      expect(axes[2]?.[1]).toBeGreaterThan(0);
      for (const [i, k] of [
        [0, 1],
        [1, 2],
        [2, 0],
      ] as const) {
        const [p, q] = [axes[i] as readonly [number, number], axes[k] as readonly [number, number]];
        // Axes that point away from the viewer fall on the far side: 60 degrees instead of 120.
        expect(Math.abs(p[0] * q[0] + p[1] * q[1]) / (Math.hypot(...p) * Math.hypot(...q))).toBeCloseTo(
          0.5,
          12,
        );
      }
      const corners: Record<string, Vec3> = {
        front: [0, -1, 0],
        back: [0, 1, 0],
        left: [-1, 0, 0],
        right: [1, 0, 0],
        above: [0, 0, 1],
        below: [0, 0, -1],
      };
      for (const word of Object.values(corner))
        expect(dot(frame.toViewer, corners[word] as Vec3)).toBeGreaterThan(0.5);
    }
  });
});

describe('directions by angles', () => {
  const close = (a: ReturnType<typeof viewFrame>, b: ReturnType<typeof viewFrame>) => {
    for (const key of ['right', 'up', 'toViewer'] as const)
      for (const axis of [0, 1, 2] as const) expect(a[key][axis]).toBeCloseTo(b[key][axis], 9);
  };
  const from = (depth: 'front' | 'back', side: 'left' | 'right', turned: number, raised: number) =>
    viewFrame({ depth, side, height: 'above', turned, raised });

  it('come to the views where they meet them', () => {
    close(from('front', 'right', 0, 0), viewFrame('front'));
    close(from('front', 'right', 90, 0), viewFrame('right'));
    close(from('back', 'left', 0, 0), viewFrame('back'));
    close(from('front', 'right', 0, 90), viewFrame('top'));
    // the isometric corner: 45 degrees round, asin(1/√3) = 35.264 degrees up
    const corner = { depth: 'front', side: 'left', height: 'above' } as const;
    close(from('front', 'left', 45, (Math.asin(1 / Math.sqrt(3)) * 180) / Math.PI), viewFrame(corner));
  });
});
