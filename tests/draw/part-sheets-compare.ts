/**
 * Compares a board worked out again from its sheet with the model: each operation number by number, within what print rounds, and both as
 * solids: what one has and the other hasn't, over the surface, is how far they lie apart.
 */
import { expect } from 'vitest';
import type { Desk } from '../../src/draw/desk.ts';
import { lyingOf } from '../../src/draw/parts/part-lying.ts';
import type { PartSheet } from '../../src/draw/parts/part-rows.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { shapeBoard } from '../../src/geometry/place.ts';
import { laterShapings, startOf } from '../../src/geometry/shape.ts';
import { polygonOf } from '../../src/model/flat.ts';
import { placingOf } from '../../src/model/frames.ts';
import type { FlatPoint, ShapeOperation } from '../../src/model/shape.ts';
import type { BlankSize, Copy, Frame, Vec3 } from '../../src/model/types.ts';
import { Sheet } from './part-sheets-read.ts';
import { rebuilt } from './part-sheets-rebuild.ts';
import { solids } from './work.ts';

/**
 * A board's sheet against the board. Gives how many operations it compared.
 * @param drawing the sheet as it is written
 */
export function checkSheet(desk: Desk, part: PartSheet, drawing: Drawing): number {
  const lying = lyingOf(desk, part);
  const sheet = new Sheet(drawing, desk.plan.edition, lying);
  const { size, shape: shapes, frame } = lying.copy;
  const whole = [size.length, size.width, size.thickness];
  whole.forEach((length, axis) => {
    near(sheet, sheet.size[axis as 0 | 1 | 2], length, 'size over all');
  });
  const again = shapes.map((_, i) => rebuilt(shapes, i, size, sheet));
  shapes.forEach((one, i) => {
    same(sheet, one, again[i] as ShapeOperation, i);
  });
  const there = solidLying(desk, part.copy, frame);
  // As it is turned for the sheet it is the same board to the last hole, so that half a step of print below is for print alone.
  sameSolid(sheet, there, { size, shape: shapes }, TURNED);
  sameSolid(sheet, there, { size: sheet.blank(), shape: again }, sheet.half);
  return shapes.filter((one) => one.kind !== 'tongue' || one.name !== 'profile').length;
}

/**
 * The model's own solid of a board, moved from where it stands in the piece to where its sheet has it: nothing of the operations as they
 * are turned for the sheet is in it.
 */
function solidLying(desk: Desk, copy: Copy, lies: Frame): ReturnType<typeof shapeBoard> {
  const { size } = copy;
  expect(lies.mirrored).toBe(false);
  const [x, y, z] = [lies.length, lies.width, lies.thickness];
  // A turn and no mirror image: right-handed.
  const crossed =
    x[0] * (y[1] * z[2] - y[2] * z[1]) -
    x[1] * (y[0] * z[2] - y[2] * z[0]) +
    x[2] * (y[0] * z[1] - y[1] * z[0]);
  expect(crossed).toBeCloseTo(1, 6);
  const shape = desk.shapesOf(copy);
  const own = shapeBoard(size, laterShapings({ size, shape }), solids, startOf({ size, shape }));
  const stands = placingOf(copy.frame, size.width);
  const there = placingOf(lies, size.width);
  const vertices = own.vertices.map((v) => there.ownPoint(stands.point(v)));
  // Of a mirrored copy the own axes are left-handed, and its triangles look inwards.
  const triangles = copy.frame.mirrored
    ? own.triangles.map(([a, b, c]) => [a, c, b] as const)
    : own.triangles;
  return { ...own, vertices, triangles };
}

/** By a half step of print, or by `steps` of them where several printed sizes add up. */
function near(sheet: Sheet, value: number, expected: number, what: string, steps = 1): void {
  const off = Math.abs(value - expected);
  expect(off, `${sheet.id}, ${what}: ${value} for ${expected}`).toBeLessThanOrEqual(
    steps * sheet.half + 1e-6,
  );
}

/** A place from the far rim has the rounding of the board's own size too, and one in a row those of row and place. */
const PLACE = 3;

function same(sheet: Sheet, one: ShapeOperation, other: ShapeOperation, i: number): void {
  const at = (what: string): string => `${i} ${one.kind}, ${what}`;
  const points = (a: Vec3, b: Vec3, what: string): void => {
    a.forEach((v, axis) => {
      near(sheet, v, b[axis] as number, `${at(what)} along ${'xyz'[axis]}`, PLACE);
    });
  };
  switch (one.kind) {
    case 'saw': {
      const made = other as typeof one;
      const cosine = one.plane.normal.reduce((sum, v, k) => sum + v * (made.plane.normal[k] as number), 0);
      const apart = (Math.acos(Math.min(1, cosine)) * 180) / Math.PI;
      if (one.taper && made.taper) {
        near(sheet, made.taper.by, one.taper.by, at('what it takes'), 2);
        near(sheet, made.taper.length, one.taper.length, at('length'));
      } else {
        // Angles print to a tenth: a half of that each way.
        expect(apart, at('angle')).toBeLessThanOrEqual(0.05 * Math.SQRT2 + 1e-6);
        near(sheet, made.plane.offset, one.plane.offset, at('place'), PLACE);
      }
      return;
    }
    case 'box':
      points((other as typeof one).min, one.min, 'from');
      points((other as typeof one).max, one.max, 'to');
      return;
    case 'hole': {
      const made = other as typeof one;
      // A drill: half a 64th of an inch, half a tenth of a millimetre.
      const drill = (a: number | undefined, b: number | undefined, what: string): void => {
        near(sheet, a ?? 0, b ?? 0, at(what), 1 / 4);
      };
      drill(made.diameter, one.diameter, 'diameter');
      drill(made.counterbore?.diameter, one.counterbore?.diameter, 'counterbore');
      drill(made.countersink?.diameter, one.countersink?.diameter, 'countersink');
      drill(made.beyond?.diameter, one.beyond?.diameter, 'way of the screw');
      near(sheet, made.depth ?? 0, one.depth ?? 0, at('depth'));
      near(sheet, made.counterbore?.depth ?? 0, one.counterbore?.depth ?? 0, at('depth of the counterbore'));
      expect(made.countersink?.angle).toBe(one.countersink?.angle);
      one.axis.forEach((v, k) => {
        expect(Math.abs(v - (made.axis[k] as number)), at('way of the drill')).toBeLessThan(0.002);
      });
      points(made.entry, one.entry, 'place');
      return;
    }
    case 'slot': {
      const made = other as typeof one;
      near(sheet, made.width, one.width, at('width'));
      near(sheet, made.depth ?? 0, one.depth ?? 0, at('depth'));
      points(made.from, one.from, 'one end');
      points(made.to, one.to, 'other end');
      return;
    }
    case 'outline':
      expect(apartAt(one, other as typeof one), at('outline')).toBeLessThanOrEqual(MOVES * sheet.half);
      return;
    case 'edge':
      near(sheet, (other as typeof one).size, one.size, at('size'));
      near(sheet, (other as typeof one).bearing ?? 0, one.bearing ?? 0, at('bearing'));
      return;
    case 'tongue':
      near(sheet, (other as typeof one).tongue?.length ?? 0, one.tongue?.length ?? 0, at('length'));
      near(sheet, (other as typeof one).tongue?.thickness ?? 0, one.tongue?.thickness ?? 0, at('thickness'));
      near(sheet, (other as typeof one).tongue?.from ?? 0, one.tongue?.from ?? 0, at('place'), PLACE);
  }
}

/**
 * Half steps that an outline may lie off. An arc that turns through 100 degrees has its rise s = R - √(R² - a²) over half a chord a =
 * 0.766 R: a half step h of R moves it by 0.56 h, one at each end of the chord (each in two directions, so √2 h) by 1.19 · 1.41 h, and
 * the ends themselves move by up to 1.41 h: 3.7 h. Places from the far rim have two half steps, so twice that.
 */
const MOVES = 7.4;

/** How far two outlines lie apart: the farthest that a point of either is from the other. */
function apartAt(
  one: Extract<ShapeOperation, { kind: 'outline' }>,
  other: Extract<ShapeOperation, { kind: 'outline' }>,
): number {
  const [a, b] = [one, other].map((each) => polygonOf(each.start, each.stretches, 0.02).points) as [
    readonly FlatPoint[],
    readonly FlatPoint[],
  ];
  const far = (points: readonly FlatPoint[], loop: readonly FlatPoint[]): number =>
    Math.max(
      ...points.map((p) =>
        Math.min(...loop.map((q, k) => offSegment(p, q, loop[(k + 1) % loop.length] as FlatPoint))),
      ),
    );
  return Math.max(far(a, b), far(b, a));
}

function offSegment(p: FlatPoint, a: FlatPoint, b: FlatPoint): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / size));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

interface Shaped {
  readonly size: BlankSize;
  readonly shape: readonly ShapeOperation[];
}

/** The kernel's single precision, over the surface, mm: a board has some 100 000 mm², so that a hole of 10 mm³ tells. */
const TURNED = 1e-4;

/** Both as solids, in one corner: on average their surfaces lie no farther apart than is given, mm. */
function sameSolid(sheet: Sheet, a: ReturnType<typeof shapeBoard>, again: Shaped, most: number): void {
  const b = shapeBoard(again.size, laterShapings(again), solids, startOf(again));
  const bodies = [a, b];
  const shared = solids.overlaps(bodies, [[0, 1]])[0]?.volume ?? 0;
  const surface = a.triangles.reduce((sum, triangle) => {
    const [p, q, r] = triangle.map((v) => a.vertices[v] as Vec3) as [Vec3, Vec3, Vec3];
    const [u, v] = [q, r].map((to) => to.map((x, k) => x - (p[k] as number))) as [number[], number[]];
    const cross = [0, 1, 2].map((k) => {
      const [m, n] = [(k + 1) % 3, (k + 2) % 3] as [number, number];
      return (u[m] as number) * (v[n] as number) - (u[n] as number) * (v[m] as number);
    });
    return sum + Math.hypot(...cross) / 2;
  }, 0);
  const apart = (a.volume + b.volume - 2 * shared) / surface;
  expect(apart, `${sheet.id}: the solids lie ${apart} mm apart`).toBeLessThanOrEqual(most);
}
