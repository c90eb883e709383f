/**
 * A piece taken apart. The check is the solid kernel's: a board is set at many places along its way and must share no space with those
 * that stood before it. The program itself asks about swept faces, not about places.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { explode, movedPart } from '../../src/draw/explode.ts';
import { convexHull, convexOverlap } from '../../src/draw/flat.ts';
import { project, viewFrame } from '../../src/draw/project.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { boxTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, dot, norm, scale, subtract, unit } from '../../src/geometry/vectors.ts';
import type { Plan, Vec3 } from '../../src/model/types.ts';
import { boxSolid, straightBox } from '../geometry/scenes.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const ISO = viewFrame({ depth: 'front', side: 'right', height: 'above' });

const board = (id: string, min: Vec3, max: Vec3, ...shapings: Shaping[]): PlacedPart =>
  boxSolid(straightBox(id, min, max), solids, shapings);

const notch = (min: Vec3, max: Vec3): Shaping => ({ tool: boxTool(min, max), does: 'cut' });

/** Copies by step, in the plan's order. */
const orderOf = (plan: Plan): string[][] =>
  plan.steps.map((step) =>
    step.adds.flatMap((key) =>
      plan.parts.flatMap((part) => (part.key === key ? part.copies.map((copy) => copy.id) : [])),
    ),
  );

/** Copies that meet something on their way out which still stands when they leave, tried at forty places of each move. */
function collisions(parts: readonly PlacedPart[], exploded: ReturnType<typeof explode>): string[] {
  const standing = new Map(parts.map((part) => [part.copy, part]));
  const bad: string[] = [];
  for (const round of exploded.order) {
    for (const copy of round) {
      const part = standing.get(copy) as PlacedPart;
      const others = [...standing.values()].filter((other) => other !== part);
      let at: Vec3 = [0, 0, 0];
      const { way, held } = exploded.moves.get(copy) ?? { held: false };
      for (const move of held ? [] : (way?.moves ?? [])) {
        for (let i = 1; i <= 40; i++) {
          const here = movedPart(part, add(at, scale(move, i / 40)));
          const met = findOverlaps([here, ...others], solids).filter((pair) => pair.first === copy);
          if (met.length > 0) bad.push(`${copy} on ${met[0]?.second} at ${i}/40 of ${move}`);
        }
        at = add(at, move);
      }
    }
    for (const copy of round) standing.delete(copy);
  }
  return bad;
}

/** Which way a copy goes last, as it comes out; undefined for one that stays. */
const wayOut = ({ moves }: ReturnType<typeof explode>, copy: string): Vec3 | undefined => {
  const last = moves.get(copy)?.way?.moves.at(-1);
  return last && (unit(last).map((x) => x + 0) as unknown as Vec3);
};

describe('taking a piece apart', () => {
  it('draws a shelf out to the front from between sides, back and top', () => {
    const parts = [
      board('side.1', [0, 0, 0], [18, 300, 600]),
      board('side.2', [482, 0, 0], [500, 300, 600]),
      board('top.1', [0, 0, 600], [500, 300, 618]),
      board('bottom.1', [18, 0, 0], [482, 300, 18]),
      board('back.1', [0, 300, 0], [500, 306, 618]),
      board('shelf.1', [18, 0, 290], [482, 300, 308]),
    ];
    const order = [['side.1', 'side.2'], ['bottom.1'], ['top.1'], ['back.1'], ['shelf.1']];
    const exploded = explode(parts, order, ISO);
    const way = (copy: string) => wayOut(exploded, copy);
    expect(way('shelf.1')).toEqual([0, -1, 0]);
    expect(way('back.1')).toEqual([0, 1, 0]);
    expect(way('top.1')).toEqual([0, 0, 1]);
    expect([...exploded.moves.values()].some((move) => move.held)).toBe(false);
    expect(collisions(parts, exploded)).toEqual([]);
  });

  it('moves copies on both sides as mirror images', () => {
    const legs = [0, 1, 2, 3].map((i) => {
      const [x, y] = [i % 2 === 0 ? 0 : 560, i < 2 ? 0 : 360];
      return board(`leg.${i + 1}`, [x, y, 0], [x + 40, y + 40, 700]);
    });
    const parts = [
      ...legs,
      board('rail.1', [40, 10, 600], [560, 30, 690]),
      board('rail.2', [40, 370, 600], [560, 390, 690]),
      board('end.1', [10, 40, 600], [30, 360, 690]),
      board('end.2', [570, 40, 600], [590, 360, 690]),
      board('top.1', [-10, -10, 700], [610, 410, 720]),
    ];
    const order = [['rail.1', 'rail.2', 'end.1', 'end.2'], ['leg.1', 'leg.2', 'leg.3', 'leg.4'], ['top.1']];
    const exploded = explode(parts, order, ISO);
    const way = (copy: string): Vec3 => wayOut(exploded, copy) as Vec3;
    expect(way('top.1')).toEqual([0, 0, 1]);
    for (const [a, b, axis] of [
      ['leg.1', 'leg.2', 0],
      ['leg.3', 'leg.4', 0],
    ] as const) {
      const mirrored = way(a).map((x, k) => (k === axis && x !== 0 ? -x : x));
      expect(way(b)).toEqual(mirrored);
    }
    expect(collisions(parts, exploded)).toEqual([]);
  });

  it('draws a board out of its housing, not across it', () => {
    const side = boxSolid(
      {
        id: 'side.1',
        corner: [20, 0, 0],
        axes: [
          [0, 0, 1],
          [0, 1, 0],
          [-1, 0, 0],
        ],
        size: [400, 200, 20],
      },
      solids,
      [notch([190, -1, -1], [211, 201, 10])],
    );
    const shelf = board('shelf.1', [10, 0, 190], [300, 200, 211]);
    expect(findOverlaps([side, shelf], solids)).toEqual([]);
    const order = [['side.1'], ['shelf.1']];
    const exploded = explode([side, shelf], order, ISO);
    expect(wayOut(exploded, 'shelf.1')).toEqual([1, 0, 0]);
    expect(collisions([side, shelf], exploded)).toEqual([]);
  });

  it('says of boards that hold each other that they do, and draws them apart all the same', () => {
    // A bar through a closed mortise in a frame of one board, with a shoulder on both sides: it can't leave.
    const frame = board('frame.1', [0, 0, 0], [200, 20, 200], notch([80, -1, 80], [120, 21, 120]));
    const bar = board(
      'bar.1',
      [70, -60, 70],
      [130, 80, 130],
      notch([-1, 60, -1], [10, 80, 61]),
      notch([50, 60, -1], [61, 80, 61]),
      notch([-1, 60, -1], [61, 80, 10]),
      notch([-1, 60, 50], [61, 80, 61]),
    );
    expect(findOverlaps([frame, bar], solids)).toEqual([]);
    const { moves } = explode([frame, bar], [['frame.1'], ['bar.1']], ISO);
    const move = moves.get('bar.1');
    expect(move?.held).toBe(true);
    expect(norm(move?.by as Vec3)).toBeGreaterThan(10);
  });

  it.each([
    ['nest-box', 'imperial'],
    ['potting-bench', 'metric'],
  ])('takes %s apart without a collision on the way, boards clear of each other', async (slug, edition) => {
    const plan = planOf(await shopOf(demoFiles()), slug, edition);
    const parts = placeParts(plan, solids);
    const order = orderOf(plan);
    const start = performance.now();
    const exploded = explode(parts, order, ISO);
    console.log(`${slug}: ${parts.length} boards apart in ${(performance.now() - start).toFixed(0)} ms`);
    // What is said to be held really is: a few millimetres along any axis of the piece it meets something that stood before it.
    const held = new Set([...exploded.moves.values()].filter((move) => move.held).map((move) => move.copy));
    for (const part of parts.filter(({ copy }) => held.has(copy))) {
      const step = order.findIndex((copies) => copies.includes(part.copy));
      const before = parts.filter(
        ({ copy }) => copy !== part.copy && order.findIndex((copies) => copies.includes(copy)) <= step,
      );
      for (const [k, sign] of [0, 1, 2].flatMap((axis) => [1, -1].map((way) => [axis, way] as const))) {
        const way = [0, 0, 0].map((_, i) => (i === k ? sign : 0)) as unknown as Vec3;
        const blocked = Array.from({ length: 40 }, (_, i) => movedPart(part, scale(way, 40 * (i + 1)))).some(
          (here) => findOverlaps([here, ...before], solids).some((pair) => pair.first === part.copy),
        );
        expect(blocked, `${part.copy} along ${way}`).toBe(true);
      }
    }
    expect(collisions(parts, exploded).filter((bad) => !held.has(bad.split(' ')[0] as string))).toEqual([]);
    expect(findOverlaps(exploded.parts, solids)).toEqual([]);
    // All but one have moved, and each along the line that is drawn for it.
    const still = [...exploded.moves.values()].filter((move) => norm(move.by) < 1e-9);
    expect(still.length).toBeLessThan(Math.max(2, parts.length / 4));
    for (const { way } of exploded.moves.values()) {
      if (way === undefined) continue;
      way.moves.forEach((move, i) => {
        const drawn = subtract(way.line[i + 1] as Vec3, way.line[i] as Vec3);
        expect(dot(drawn, move)).toBeCloseTo(norm(drawn) * norm(move), 3);
      });
    }
    // In the picture no board lies over another, but for some of the most crowded.
    const hulls = exploded.parts.map((part) => convexHull(part.vertices.map((p) => project(p, ISO))));
    let over = 0;
    hulls.forEach((a, i) => {
      if (hulls.some((b, k) => k < i && convexOverlap(a, b, 0.1))) over++;
    });
    console.log(`${slug}: ${over} boards lie over another in the picture`);
    expect(over).toBeLessThan(parts.length / 4);
  });
});
