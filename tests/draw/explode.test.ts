/**
 * A piece taken apart. The check is the solid kernel's: a board is set at many places along its way and must share no space with those
 * that stood before it. The program itself asks about swept faces, not about places.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { explode, type Move } from '../../src/draw/apart/explode.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { boxTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { norm, scale, subtract, unit } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { boxSolid, randomFrom, straightBox } from '../geometry/scenes.ts';
import { collisions, forgotten } from './apart.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const ISO = viewFrame({ depth: 'front', side: 'right', height: 'above' });

const board = (id: string, min: Vec3, max: Vec3, ...shapings: Shaping[]): PlacedPart =>
  boxSolid(straightBox(id, min, max), solids, shapings);

const notch = (min: Vec3, max: Vec3): Shaping => ({ tool: boxTool(min, max), does: 'cut' });

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
    expect(collisions(parts, exploded, solids)).toEqual([]);
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
    expect(collisions(parts, exploded, solids)).toEqual([]);
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
    expect(collisions([side, shelf], exploded, solids)).toEqual([]);
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

  it('takes a notched board out from between two posts and under a rail: off its posts first, then out', () => {
    // Two posts at the ends, rails over and under; the board is notched round both posts at its front.
    const parts = [
      board('post.1', [0, 0, 0], [40, 40, 300]),
      board('post.2', [560, 0, 0], [600, 40, 300]),
      board('rail.1', [0, 40, 180], [40, 300, 200]),
      board('rail.2', [560, 40, 180], [600, 300, 200]),
      board('top.1', [0, 40, 240], [40, 300, 300]),
      board('top.2', [560, 40, 240], [600, 300, 300]),
      board('back.1', [0, 300, 0], [600, 320, 300]),
      board(
        'slat.1',
        [0, 0, 200],
        [600, 120, 220],
        notch([-1, -1, -1], [40, 40, 21]),
        notch([560, -1, -1], [601, 40, 21]),
      ),
    ];
    const order = [['post.1', 'post.2', 'rail.1', 'rail.2', 'top.1', 'top.2', 'back.1'], ['slat.1']];
    const exploded = explode(parts, order, ISO);
    const { held, way } = exploded.moves.get('slat.1') as Move;
    expect(held).toBe(false);
    // Up it meets the top rails, down the rails; in front are the posts, at both sides too until it is 40 mm back.
    const [off, out, ...more] = (way?.moves ?? []) as [Vec3, Vec3];
    expect(more).toEqual([]);
    expect(off[1]).toBe(norm(off));
    expect(off[1]).toBeGreaterThanOrEqual(40);
    expect(off[1]).toBeLessThan(45);
    expect(Math.abs(out[0])).toBe(norm(out));
    expect(way?.lines[0]?.onto).toMatch(/^post/);
    expect(collisions(parts, exploded, solids)).toEqual([]);
    expect(findOverlaps(exploded.parts, solids)).toEqual([]);
  });

  it('lifts a board off its hooks before it takes it away', () => {
    // Each hook is a neck (z 100 to 120) and before it a lip up to 140; the board hangs between lip and wall, its slots over the necks.
    const hook = (id: string, x: number): PlacedPart =>
      board(id, [x, 10, 100], [x + 20, 40, 140], notch([-1, 10, 20], [21, 31, 41]));
    const slot = (x: number): Shaping => notch([x, -1, -1], [x + 20, 21, 60]);
    const parts = [
      board('wall.1', [0, 40, 0], [400, 60, 300]),
      hook('hook.1', 80),
      hook('hook.2', 300),
      // A shelf on the wall, 30 mm over the board: it can be lifted off but not up and away.
      board('shelf.1', [0, -60, 230], [400, 40, 250]),
      board('panel.1', [0, 20, 60], [400, 40, 200], slot(80), slot(300)),
    ];
    expect(findOverlaps(parts, solids)).toEqual([]);
    const exploded = explode(parts, [['wall.1', 'hook.1', 'hook.2', 'shelf.1'], ['panel.1']], ISO);
    const { held, way } = exploded.moves.get('panel.1') as Move;
    expect(held).toBe(false);
    const [up, out, ...more] = (way?.moves ?? []) as [Vec3, Vec3];
    expect(more).toEqual([]);
    // 140 - 120 = 20 mm up.
    expect(up[2]).toBe(norm(up));
    expect(up[2]).toBeGreaterThanOrEqual(20);
    expect(up[2]).toBeLessThan(30);
    expect(out[1]).toBe(-norm(out));
    expect(collisions(parts, exploded, solids)).toEqual([]);
    expect(findOverlaps(exploded.parts, solids)).toEqual([]);
  });

  it('draws boards that leave side by side as a row, those that were freed first too', () => {
    const posts = [
      [0, 0],
      [560, 0],
      [0, 400],
      [560, 400],
    ].map(([x, y], i) =>
      board(`post.${i + 1}`, [x as number, y as number, 0], [(x as number) + 40, (y as number) + 40, 300]),
    );
    const rails = [0, 560].flatMap((x, i) => [
      board(`rail.${i + 1}`, [x, 40, 180], [x + 40, 400, 200]),
      board(`top.${i + 1}`, [x, 40, 240], [x + 40, 400, 300]),
    ]);
    const slats = [0, 1, 2, 3].map((i) => {
      const [from, to] = [i * 111, i * 111 + 107];
      const back = to - 400;
      return board(
        `slat.${i + 1}`,
        [0, from, 200],
        [600, to, 220],
        ...(i === 0 || i === 3
          ? [0, 560].map((x) =>
              notch([x - 1, i === 0 ? -1 : 107 - back, -1], [x + 41, i === 0 ? 40 : 108, 21]),
            )
          : []),
      );
    });
    const parts = [...posts, ...rails, ...slats];
    expect(findOverlaps(parts, solids)).toEqual([]);
    const order = [[...posts, ...rails].map(({ copy }) => copy), slats.map(({ copy }) => copy)];
    const exploded = explode(parts, order, ISO);
    expect(collisions(parts, exploded, solids)).toEqual([]);
    expect(findOverlaps(exploded.parts, solids)).toEqual([]);
    const moves = slats.map(({ copy }) => exploded.moves.get(copy) as Move);
    expect(moves.map(({ way }) => way?.moves.length)).toEqual([3, 1, 1, 3]);
    // All four have gone the same distance the same way.
    for (const { by } of moves) expect(norm(subtract(by, moves[1]?.by as Vec3))).toBeLessThan(1e-9);
  });

  /**
   * Blocks of cells grown into each other, as in a puzzle. What can leave is worked out on the cells, without a solid: the moves are
   * then whole cells, which is all that blocks of whole cells need.
   */
  it('takes puzzles of blocks apart as a search over their cells does, and never into each other', () => {
    const [SIDE, CELL, KINDS] = [4, 50, 7];
    // In the last four a block leaves by two moves, which is rare.
    const seeds = [1, 2, 3, 4, 67, 72, 155, 171];
    const counts = new Map<string, number>();
    for (const seed of seeds) {
      const random = randomFrom(seed);
      const owner = grownCells(SIDE, KINDS, random);
      const parts = Array.from({ length: KINDS }, (_, kind) => {
        const own = [...owner].filter(([, of]) => of === kind).map(([key]) => cellAt(key));
        const span = (k: 0 | 1 | 2, of: (...values: number[]) => number) => of(...own.map((cell) => cell[k]));
        const min: Vec3 = [span(0, Math.min), span(1, Math.min), span(2, Math.min)];
        const max: Vec3 = [span(0, Math.max) + 1, span(1, Math.max) + 1, span(2, Math.max) + 1];
        const cuts: Shaping[] = [];
        for (let x = min[0]; x < max[0]; x++)
          for (let y = min[1]; y < max[1]; y++)
            for (let z = min[2]; z < max[2]; z++) {
              if (owner.get(`${x} ${y} ${z}`) === kind) continue;
              // Past the blank's own sides, so that no skin is left there.
              const low = [x, y, z].map((v, k) => (v === min[k] ? -1 : (v - (min[k] as number)) * CELL));
              const high = [x, y, z].map(
                (v, k) => (v + 1 - (min[k] as number)) * CELL + (v + 1 === max[k] ? 1 : 0),
              );
              cuts.push(notch(low as unknown as Vec3, high as unknown as Vec3));
            }
        return board(`block${kind}.1`, scale(min, CELL), scale(max, CELL), ...cuts);
      });
      const order = parts.map(({ copy }) => [copy]);
      const exploded = explode(parts, order, ISO);
      expect(collisions(parts, exploded, solids, 12), `seed ${seed}`).toEqual([]);
      expect(findOverlaps(exploded.parts, solids), `seed ${seed}`).toEqual([]);
      expect(forgotten(parts, exploded), `seed ${seed}`).toEqual([]);
      const kindOf = (copy: string): number => parts.findIndex((part) => part.copy === copy);
      for (const { copy, copies, standing } of exploded.rounds.flat()) {
        const there = new Set([...copies, ...standing].map(kindOf));
        const move = exploded.moves.get(copy) as Move;
        // Of those that are together the last has to go, if it can.
        const last = Math.max(...there);
        const alone = copies.length === 1 && kindOf(copy) === last;
        const moves = move.way?.moves.length ?? 1;
        const found = move.held ? 'none' : !alone ? 'together' : moves > 1 ? 'bent' : 'straight';
        expect(found, `seed ${seed} ${copies}`).toBe(waysOfCells(owner, last, there));
        counts.set(found, (counts.get(found) ?? 0) + 1);
      }
    }
    console.log(`puzzles: ${[...counts].map(([way, count]) => `${count} ${way}`).join(', ')}`);
    expect([...counts.keys()].sort()).toEqual(['bent', 'straight', 'together']);
  });
});

type Cell = readonly [number, number, number];

const cellAt = (key: string): Cell => key.split(' ').map(Number) as unknown as Cell;

/** The steps to the six neighbours of a cell. */
const STEPS: readonly Cell[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
];

/** A cube of cells shared out among kinds: each grows from a cell of its own, a neighbour at a time. */
function grownCells(side: number, kinds: number, random: () => number): Map<string, number> {
  const owner = new Map<string, number>();
  const pick = (): string => Array.from({ length: 3 }, () => Math.floor(random() * side)).join(' ');
  for (let kind = 0; kind < kinds; kind++) {
    let key = pick();
    while (owner.has(key)) key = pick();
    owner.set(key, kind);
  }
  while (owner.size < side ** 3) {
    const key = pick();
    const kind = owner.get(key);
    if (kind === undefined) continue;
    const step = STEPS[Math.floor(random() * 6)] as Cell;
    const next = cellAt(key).map((v, k) => v + (step[k] as number));
    if (next.every((v) => v >= 0 && v < side) && !owner.has(next.join(' '))) owner.set(next.join(' '), kind);
  }
  return owner;
}

/** Whether a kind can leave those that stand in one move along an axis, in two, together with others or others from it, or not at all. */
function waysOfCells(
  owner: ReadonlyMap<string, number>,
  kind: number,
  standing: ReadonlySet<number>,
): 'straight' | 'bent' | 'together' | 'none' {
  const free = (kinds: ReadonlySet<number>, by: Cell): boolean =>
    [...owner].every(([key, own]) => {
      if (!kinds.has(own)) return true;
      const of = owner.get(moved(cellAt(key), by).join(' '));
      return of === undefined || kinds.has(of) || !standing.has(of);
    });
  const far = 8;
  const goes = (kinds: ReadonlySet<number>, from: Cell, step: Cell): number => {
    for (let i = 1; i <= far; i++) if (!free(kinds, moved(from, step, i))) return i - 1;
    return far;
  };
  const self = new Set([kind]);
  if (STEPS.some((step) => goes(self, [0, 0, 0], step) === far)) return 'straight';
  for (const first of STEPS)
    for (let i = 1; i <= goes(self, [0, 0, 0], first); i++)
      if (STEPS.some((step) => goes(self, moved([0, 0, 0], first, i), step) === far)) return 'bent';
  // Every set of kinds that has this one in it, or touches it.
  const all = [...standing];
  for (let bits = 1; bits < 2 ** all.length - 1; bits++) {
    const set = new Set(all.filter((_, i) => (bits >> i) % 2 === 1));
    const touches = [...owner].some(
      ([key, of]) =>
        set.has(of) && STEPS.some((step) => owner.get(moved(cellAt(key), step).join(' ')) === kind),
    );
    if ((set.has(kind) || touches) && STEPS.some((step) => goes(set, [0, 0, 0], step) === far))
      return 'together';
  }
  return 'none';
}

const moved = (cell: Cell, step: Cell, times = 1): Cell =>
  cell.map((v, k) => v + times * (step[k] as number)) as unknown as Cell;
