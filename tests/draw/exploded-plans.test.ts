/**
 * Every demo plan taken apart, in both editions, and every step of it: checked with the solid kernel, at places along the ways and where
 * the boards end. The program itself asks about swept faces and boxes.
 */
import { describe, expect, it } from 'vitest';
import { type Exploded, explode, movedPart, orderOfSteps } from '../../src/draw/apart/explode.ts';
import { composeExploded } from '../../src/draw/apart/exploded.ts';
import { Desk } from '../../src/draw/desk.ts';
import { convexHull, convexOverlap } from '../../src/draw/lines/flat.ts';
import { project, viewFrame } from '../../src/draw/lines/project.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { boxTool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, dot, norm, scale, subtract } from '../../src/geometry/vectors.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { boxSolid, straightBox } from '../geometry/scenes.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';
import { imperial } from '../support/sample.ts';
import { collisions, forgotten } from './apart.ts';
import { nestBox } from './plans.ts';
import { workOf } from './work.ts';

const solids = await loadSolids();
const shop = await shopOf(demoFiles());
const ISO = viewFrame({ depth: 'front', side: 'right', height: 'above' });

const editions = shop.plans.flatMap(({ slug }) => shop.shop.editions.map(({ key }) => [slug, key] as const));

function takenApart(slug: string, edition: string) {
  const plan = planOf(shop, slug, edition);
  const parts = placeParts(plan, solids, findJoinery(plan, shop.hardware));
  const order = orderOfSteps(plan, parts);
  return { parts, order, exploded: explode(parts, order, ISO) };
}

/** Pairs of boards of which one lies over the other in the picture, but for those that keep their places side by side. */
function covered({ parts, moves }: Exploded): string[] {
  const hulls = parts.map((part) => convexHull(part.vertices.map((p) => project(p, ISO))));
  const by = (part: PlacedPart): Vec3 => moves.get(part.copy)?.by as Vec3;
  return parts.flatMap((a, i) =>
    parts.slice(0, i).flatMap((b, k) => {
      const row = a.part === b.part && norm(subtract(by(a), by(b))) < 1e-6;
      const [p, q] = [hulls[i], hulls[k]] as const;
      return !row && p && q && convexOverlap(p, q, 0.1) ? [`${a.copy} over ${b.copy}`] : [];
    }),
  );
}

describe.each(editions)('%s, %s, taken apart', (slug, edition) => {
  const { parts, order, exploded } = takenApart(slug, edition);

  it('has no board in another, and none over another in the picture', () => {
    expect(exploded.parts).toHaveLength(parts.length);
    expect(findOverlaps(exploded.parts, solids)).toEqual([]);
    expect(covered(exploded)).toEqual([]);
  });

  it('has a way for every board, free of what stands when it leaves', () => {
    expect([...exploded.moves.values()].filter((move) => move.held)).toEqual([]);
    expect(collisions(parts, exploded, solids, 24)).toEqual([]);
    // Everything has come apart, each copy by one way.
    expect(forgotten(parts, exploded)).toEqual([]);
    const out = exploded.rounds.flat().map((each) => each.copy);
    expect(new Set(out).size).toBe(out.length);
    expect(out.length).toBe(Math.max(0, parts.length - 1));
  });

  it('draws each way from a point where both boards meet, along the moves', () => {
    for (const { way } of exploded.moves.values())
      for (const { onto, copy, corners } of way?.lines ?? []) {
        way?.moves.forEach((move, i) => {
          const drawn = subtract(corners[i + 1] as Vec3, corners[i] as Vec3);
          expect(dot(drawn, move)).toBeCloseTo(norm(drawn) * norm(move), 3);
        });
        // A small cube about either end, taken back into the piece, shares space with both boards: the ends lie on their faces.
        const home = (end: Vec3, name: string) => subtract(end, exploded.moves.get(name)?.by as Vec3);
        const [start, end] = [home(corners[0] as Vec3, onto), home(corners.at(-1) as Vec3, copy)];
        expect(norm(subtract(start, end))).toBeLessThan(1e-6);
        const cube = boxSolid(straightBox('cube.1', add(end, [-2, -2, -2]), add(end, [2, 2, 2])), solids);
        for (const name of [copy, onto]) {
          const met = findOverlaps([cube, parts.find((part) => part.copy === name) as PlacedPart], solids);
          expect(met, `${copy} onto ${onto}: ${end} is not on ${name}`).toHaveLength(1);
        }
      }
  });

  it('has no board in another in any step that is drawn apart', () => {
    const standing: string[] = [];
    for (const added of order) {
      standing.push(...added.flat());
      const shown = parts.filter(({ copy }) => standing.includes(copy));
      const step = explode(shown, [added], ISO);
      expect(findOverlaps(step.parts, solids)).toEqual([]);
      expect(collisions(shown, step, solids, 12)).toEqual([]);
    }
  });
});

describe('the bench', () => {
  it('has its end slats drawn beside the others, off their legs and out', () => {
    const { exploded } = takenApart('potting-bench', 'metric');
    const moves = [1, 2, 3, 4].map((i) => exploded.moves.get(`slat.${i}`));
    expect(moves.map((move) => move?.way?.moves.length)).toEqual([3, 1, 1, 3]);
    for (const move of moves)
      expect(norm(subtract(move?.by as Vec3, moves[1]?.by as Vec3))).toBeLessThan(1e-6);
    // The legs are 45 mm square, the notches as deep: the front slat goes at least so far back, the back one forward.
    const off = [moves[0]?.way?.moves[0], moves[3]?.way?.moves[0]] as Vec3[];
    expect(off.map((by) => by[1] >= 45)).toEqual([true, false]);
    expect(off[1]?.[1]).toBeLessThanOrEqual(-45);
    expect(moves[0]?.way?.lines[0]?.onto).toMatch(/^front-leg/);
    expect(moves[3]?.way?.lines[0]?.onto).toMatch(/^back-leg/);
    // Halfway out without the first move, the front slat would be in a leg: the bend is needed.
    const { parts } = takenApart('potting-bench', 'metric');
    const slat = parts.find(({ copy }) => copy === 'slat.1') as PlacedPart;
    const legs = parts.filter(({ part }) => part === 'front-leg');
    const straight = movedPart(slat, scale(moves[0]?.way?.moves[1] as Vec3, 0.5));
    expect(findOverlaps([straight, ...legs], solids)).not.toEqual([]);
  });
});

describe('boards that hold each other', () => {
  it('are drawn apart without a line, and the caption says that no way in was found', () => {
    // The bar of a dumb-bell through a frame: its heads are wider than the hole on both sides.
    const hole = { tool: boxTool([80, -1, 80], [120, 21, 120]), does: 'cut' as const };
    const frame = boxSolid(straightBox('back.1', [0, 0, 0], [200, 20, 200]), solids, [hole]);
    const around = [
      boxTool([-1, 60, -1], [10, 80, 61]),
      boxTool([50, 60, -1], [61, 80, 61]),
      boxTool([-1, 60, -1], [61, 80, 10]),
      boxTool([-1, 60, 50], [61, 80, 61]),
    ].map((tool) => ({ tool, does: 'cut' as const }));
    const bar = boxSolid(straightBox('front.1', [70, -60, 70], [130, 80, 130]), solids, around);
    const work = workOf(nestBox(imperial));
    const composed = composeExploded(new Desk({ ...work, parts: [frame, bar] }), 'sheet');
    const said = 'Other boards hold C: no way in by one or two straight moves was found.';
    expect(work.cutList.letters['front.1']).toBe('C');
    expect(lineText(composed?.caption ?? [])).toContain(said);
    expect(composed?.alt).toContain(said);
    expect(composed?.alt).toContain('0 of 2 boards are moved out along their way in.');
    const ways = composed?.marks.filter((mark) => mark.kind === 'lines' && mark.role === 'way-in');
    expect(ways).toEqual([]);
  });
});
