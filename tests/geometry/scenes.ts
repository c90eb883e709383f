/** Boards for tests of solids and views: placed boxes, random ones that don't touch, and a bench of 38 boards that all do. */
import type { Solids } from '../../src/geometry/manifold.ts';
import { placePart, shapeBoard } from '../../src/geometry/place.ts';
import { boxTool, drillTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, cross, dot, scale, subtract, unit } from '../../src/geometry/vectors.ts';
import type { Frame, Vec3 } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';

/** A box in space: a corner, three unit vectors at right angles, and the size along each, mm. */
export interface PlainBox {
  readonly id: string;
  readonly corner: Vec3;
  readonly axes: readonly [Vec3, Vec3, Vec3];
  readonly size: Vec3;
}

export const AXES: readonly [Vec3, Vec3, Vec3] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** A box along the piece's axes. */
export const straightBox = (id: string, min: Vec3, max: Vec3): PlainBox => ({
  id,
  corner: min,
  axes: AXES,
  size: subtract(max, min),
});

/** A box as a solid: its first axis is the board's length, then width and thickness. */
export function boxSolid(box: PlainBox, solids: Solids, shapings: readonly Shaping[] = []): PlacedPart {
  const [length, width, thickness] = box.axes;
  const frame: Frame = { origin: box.corner, length, width, thickness, mirrored: false };
  const size = { length: mm(box.size[0]), width: mm(box.size[1]), thickness: mm(box.size[2]) };
  const shaped = shapeBoard(size, shapings, solids);
  return placePart(shaped, { copy: box.id, part: box.id.split('.')[0] as string, frame, size });
}

/** Random numbers from a seed (mulberry32, public domain): 0 up to 1. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Turns a vector about a unit axis (Rodrigues). */
export const turned = (v: Vec3, axis: Vec3, angle: number): Vec3 =>
  add(
    add(scale(v, Math.cos(angle)), scale(cross(axis, v), Math.sin(angle))),
    scale(axis, dot(axis, v) * (1 - Math.cos(angle))),
  );

/** Four legs 520 × 38 × 38 that lean 7 degrees outward both ways, their middles 210 up, as they are before their ends are cut level. */
export function splayedLegs(): PlainBox[] {
  const lean = (7 * Math.PI) / 180;
  return (
    [
      [1, -1, -1],
      [2, 1, -1],
      [3, -1, 1],
      [4, 1, 1],
    ] as const
  ).map(([i, x, y]): PlainBox => {
    const axis = unit([-y, x, 0]);
    const axes = [AXES[2], AXES[0], AXES[1]].map((a) => turned(a as Vec3, axis, -lean)) as unknown as [
      Vec3,
      Vec3,
      Vec3,
    ];
    const middle: Vec3 = [x * 120, y * 90, 210];
    const corner = subtract(middle, add(add(scale(axes[0], 260), scale(axes[1], 19)), scale(axes[2], 19)));
    return { id: `leg.${i}`, corner, axes, size: [520, 38, 38] };
  });
}

/**
 * Random boxes that stay clear of each other by half a millimetre: about a third along the axes, a quarter turned by steps of
 * 15 degrees about an axis, the rest turned freely.
 */
export function scatteredBoxes(seed: number, count: number, room: number): PlainBox[] {
  const random = randomFrom(seed);
  const boxes: PlainBox[] = [];
  for (let tries = 0; boxes.length < count && tries < count * 400; tries++) {
    const kind = random();
    const axis: Vec3 =
      kind < 0.6
        ? (AXES[Math.floor(random() * 3)] as Vec3)
        : unit([random() - 0.5, random() - 0.5, random() - 0.5]);
    const angle =
      kind < 0.35 ? 0 : kind < 0.6 ? (Math.floor(random() * 24) * Math.PI) / 12 : random() * 2 * Math.PI;
    const side = () => room * (0.03 + 0.25 * random() ** 2);
    const box: PlainBox = {
      id: `box.${boxes.length + 1}`,
      corner: [random() * room, random() * room, random() * room],
      axes: AXES.map((a) => turned(a, axis, angle)) as unknown as [Vec3, Vec3, Vec3],
      size: [side(), side(), side()],
    };
    if (boxes.every((other) => clear(box, other, 0.5))) boxes.push(box);
  }
  return boxes;
}

const middleOf = (box: PlainBox): Vec3 =>
  box.axes.reduce((p, axis, i) => add(p, scale(axis, (box.size[i] as number) / 2)), box.corner);

/** Separating axis test of two boxes (the fifteen axes of their sides and the products of their sides). */
export function clear(a: PlainBox, b: PlainBox, gap: number): boolean {
  const between = subtract(middleOf(b), middleOf(a));
  const axes = [...a.axes, ...b.axes];
  for (const p of a.axes) for (const q of b.axes) axes.push(cross(p, q));
  return axes.some((axis) => {
    if (dot(axis, axis) < 1e-6) return false;
    const n = unit(axis);
    const reach = (box: PlainBox): number =>
      box.axes.reduce((sum, e, i) => sum + (Math.abs(dot(e, n)) * (box.size[i] as number)) / 2, 0);
    return Math.abs(dot(between, n)) > reach(a) + reach(b) + gap;
  });
}

/** A bench of 38 boards, every one flush with others or touching them: sizes invented for the test, mm. */
export function benchBoxes(): PlainBox[] {
  const boxes: PlainBox[] = [];
  /** `runs` is the axis of the board's length; its thickness is its smallest side. */
  const board = (name: string, min: Vec3, max: Vec3, runs: 0 | 1 | 2): void => {
    const size = subtract(max, min);
    const [p, q] = [0, 1, 2].filter((k) => k !== runs) as [number, number];
    const [width, thickness] = (size[p] as number) >= (size[q] as number) ? [p, q] : [q, p];
    const order = [runs, width, thickness];
    boxes.push({
      id: `${name}.${boxes.length + 1}`,
      corner: min,
      axes: order.map((k) => AXES[k] as Vec3) as unknown as [Vec3, Vec3, Vec3],
      size: order.map((k) => size[k] as number) as unknown as Vec3,
    });
  };
  for (const x of [25, 1085]) for (const y of [25, 445]) board('leg', [x, y, 0], [x + 90, y + 45, 881], 2);
  for (const y of [25, 471]) board('apron', [115, y, 791], [1085, y + 19, 881], 0);
  for (const x of [25, 1156]) board('end', [x, 70, 791], [x + 19, 445, 881], 1);
  for (const y of [25, 471]) board('rail', [115, y, 155], [1085, y + 19, 200], 0);
  for (const x of [25, 1156]) board('end-rail', [x, 70, 155], [x + 19, 445, 200], 1);
  for (const x of [400, 780]) board('bearer', [x, 44, 791], [x + 45, 471, 881], 1);
  for (let i = 0; i < 6; i++) board('top', [0, i * 90, 881], [1200, i * 90 + 90, 900], 0);
  for (let i = 0; i < 4; i++) board('shelf', [44, 70 + i * 93.75, 200], [1156, 163.75 + i * 93.75, 219], 0);
  for (let i = 0; i < 12; i++) board('back', [25 + i * 95, 490, 600], [120 + i * 95, 509, 881], 2);
  for (const z of [640, 780]) board('cleat', [115, 471, z - 40], [1085, 490, z - 20], 0);
  return boxes;
}

/** The bench with two pocket holes and a dado in each board. */
export function drilledBench(solids: Solids): PlacedPart[] {
  return benchBoxes().map((box) => boxSolid(box, solids, pocketsAndDado(box.size)));
}

/** Two pocket holes of 9.5 mm at 15 degrees near one end, and a dado across the middle of the other wide face. */
export function pocketsAndDado([length, width, thickness]: Vec3): Shaping[] {
  const slope = (15 * Math.PI) / 180;
  const holes = [0.25, 0.75].map((part): Shaping => {
    const end: Vec3 = [12, part * width, thickness / 2];
    const axis: Vec3 = [Math.cos(slope), 0, Math.sin(slope)];
    return { tool: drillTool(end, axis, 4.75, 60 + thickness * 3), does: 'cut' };
  });
  const dado = boxTool([length / 2 - 9, -1, -1], [length / 2 + 9, width + 1, thickness / 3]);
  return [...holes, { tool: dado, does: 'cut' }];
}
