/**
 * Our hidden lines against exact surfaces projected by a boundary representation kernel (Open CASCADE's HLRBRep, in
 * tests/support/exact.ts): lengths within 0.1 % per view (the project's own bound), and every line where the other has one. Duplicates are
 * merged on both sides; no scene has parts that are in each other.
 */
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { viewCurves } from '../../src/draw/lines/hidden-lines.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import type { ViewFrame } from '../../src/draw/types.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { drillTool, planeTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { add, dot, scale, unit } from '../../src/geometry/vectors.ts';
import type { BlankSize, Vec3 } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';
import {
  benchBoxes,
  boxSolid,
  type PlainBox,
  pocketsAndDado,
  scatteredBoxes,
  splayedLegs,
  straightBox,
} from '../geometry/scenes.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';
import { type Exact, type ExactSolid, loadExact, type Stroke } from '../support/exact.ts';
import { type Chord, lengthOf, merged } from '../support/strokes.ts';
import { NEAR, ourStrokes, referenceOf, VIEWS, wrongs } from './exact-views.ts';

let solids: Solids;
let exact: Exact;
beforeAll(async () => {
  [solids, exact] = [await loadSolids(), await loadExact()];
}, 120_000);

let made: ExactSolid[] = [];
afterEach(() => {
  exact.free(made);
  made = [];
});

interface Board {
  readonly box: PlainBox;
  readonly shapings: readonly Shaping[];
}

const sizeOf = ({ size }: PlainBox): BlankSize => ({
  length: mm(size[0]),
  width: mm(size[1]),
  thickness: mm(size[2]),
});

function bothOf(boards: readonly Board[]): { parts: PlacedPart[]; reference: ExactSolid[] } {
  const parts = boards.map(({ box, shapings }) => boxSolid(box, solids, shapings));
  const reference = boards.map(({ box, shapings }, i) =>
    exact.solid(sizeOf(box), shapings, (parts[i] as PlacedPart).frame),
  );
  made.push(...reference);
  return { parts, reference };
}

const raw = (strokes: readonly Stroke[]): Chord[] =>
  strokes.flatMap(({ points, hidden }) =>
    points.slice(1).map((b, i) => ({ a: points[i] as readonly [number, number], b, hidden })),
  );

describe('hidden lines against an exact projection', () => {
  const SCENES = 200;
  const FIRST_SEED = 7100;
  it(`agree on ${SCENES} random assemblies in five views each, seeds from ${FIRST_SEED}`, () => {
    let worst = 0;
    for (let i = 0; i < SCENES; i++) {
      const seed = FIRST_SEED + i;
      const { parts, reference } = bothOf(
        scatteredBoxes(seed, 6 + (i % 10), 400).map((box) => ({ box, shapings: [] })),
      );
      for (const [view, frame] of Object.entries(VIEWS)) {
        const found = wrongs(exact, parts, reference, frame, NEAR.straight);
        worst = Math.max(worst, found.worst);
        expect(found.wrong, `seed ${seed}, ${view}`).toEqual([]);
      }
      exact.free(made);
      made = [];
    }
    console.log(
      `seeds ${FIRST_SEED} to ${FIRST_SEED + SCENES - 1}: worst difference ${(worst * 100).toFixed(5)} %`,
    );
  }, 180_000);

  it.each(Object.keys(VIEWS))('agree on a bench of boards that are all flush or touching, %s', (view) => {
    const { parts, reference } = bothOf(benchBoxes().map((box) => ({ box, shapings: [] })));
    expect(wrongs(exact, parts, reference, VIEWS[view] as ViewFrame, NEAR.straight).wrong).toEqual([]);
  });

  it.each(Object.keys(VIEWS))(
    'agree on boards with round holes, straight, tilted and stopped, %s',
    (view) => {
      const { parts, reference } = bothOf(drilledBoards());
      expect(wrongs(exact, parts, reference, VIEWS[view] as ViewFrame, NEAR.curved).wrong).toEqual([]);
    },
  );

  it.each(Object.keys(VIEWS))('agree on splayed and tapered legs under a round seat, %s', (view) => {
    const { parts, reference } = bothOf(stool());
    expect(wrongs(exact, parts, reference, VIEWS[view] as ViewFrame, NEAR.curved).wrong).toEqual([]);
  });

  it.each(['front', 'isometric'])(
    'agree on the bench with pocket holes and dadoes, %s',
    (view) => {
      const { parts, reference } = bothOf(
        benchBoxes().map((box) => ({ box, shapings: pocketsAndDado(box.size) })),
      );
      expect(wrongs(exact, parts, reference, VIEWS[view] as ViewFrame, NEAR.curved).wrong).toEqual([]);
    },
    120_000,
  );
});

describe('demo plans against an exact projection', () => {
  const slugs = [...demoFiles().keys()].flatMap((path) => {
    const found = /^content\/plans\/([^/]+)\/plan\.md$/.exec(path);
    return found ? [found[1] as string] : [];
  });
  it('are found', () => {
    expect(slugs.length).toBeGreaterThan(1);
  });

  it.each(slugs.flatMap((slug) => ['imperial', 'metric'].map((edition) => [slug, edition] as const)))(
    'agree: %s, %s',
    async (slug, edition) => {
      const plan = planOf(await shopOf(demoFiles()), slug, edition);
      const parts = placeParts(plan, solids);
      const reference = referenceOf(exact, plan);
      made.push(...reference);
      expect(parts.length).toBeGreaterThan(0);
      for (const [i, part] of parts.entries())
        expect(Math.abs(part.volume / (reference[i] as ExactSolid).volume - 1), part.copy).toBeLessThan(2e-3);
      for (const [view, frame] of Object.entries(VIEWS))
        expect(wrongs(exact, parts, reference, frame, NEAR.curved).wrong, view).toEqual([]);
    },
    180_000,
  );
});

describe('the lines of a view', () => {
  it('draw each line once, where the reference draws every edge of every solid', () => {
    const { parts, reference } = bothOf(benchBoxes().map((box) => ({ box, shapings: [] })));
    for (const frame of Object.values(VIEWS)) {
      const ours = ourStrokes(parts, frame);
      const theirs = exact.project(reference, frame);
      for (const hidden of [false, true])
        expect(lengthOf(raw(ours), hidden)).toBeCloseTo(lengthOf(merged(ours), hidden), 3);
      // Else the test above would say nothing.
      expect(lengthOf(raw(theirs), true)).toBeGreaterThan(1.2 * lengthOf(merged(theirs), true));
    }
  });

  it('keep the joint line of flush boards, once, with both names', () => {
    const parts = [
      boxSolid(straightBox('board.1', [0, 0, 0], [300, 90, 20]), solids),
      boxSolid(straightBox('board.2', [0, 90, 0], [300, 180, 20]), solids),
    ];
    const { lines } = viewCurves(parts, viewFrame('top'));
    const joint = lines.filter(({ a, b }) => a[1] === b[1] && Math.abs(a[1] - 90) < 1e-9);
    expect(joint).toEqual([
      expect.objectContaining({ hidden: false, outline: false, copies: ['board.1', 'board.2'] }),
    ]);
    expect(Math.abs((joint[0]?.a[0] ?? 0) - (joint[0]?.b[0] ?? 0))).toBeCloseTo(300, 9);
  });

  it('end at the silhouette of what hides them, straight or round, within a ten-thousandth of a millimetre', () => {
    const rod: PlainBox = straightBox('rod.1', [-200, 100, 50], [200, 110, 60]);
    const post: Board = {
      box: straightBox('post.1', [-40, -40, 0], [40, 40, 200]),
      shapings: [{ tool: drillTool([40, 40, -1], [0, 0, 1], 30, 202), does: 'keep' }],
    };
    const board: Board = { box: straightBox('board.1', [-30, -40, 0], [30, 40, 200]), shapings: [] };
    // In front of the rod stands something from -30 to 30: seen from the front the rod's lines stop there.
    for (const what of [board, post]) {
      const parts = [boxSolid(rod, solids), boxSolid(what.box, solids, what.shapings)];
      const frame = viewFrame('front');
      const ends = viewCurves(parts, frame)
        .lines.filter(({ copies, a, b }) => copies[0] === 'rod.1' && a[1] === b[1])
        .flatMap(({ a, b }) => [a[0], b[0]])
        .filter((u) => Math.abs(u) < 199);
      // Top and bottom, visible and hidden, both sides: eight ends.
      expect(ends).toHaveLength(8);
      for (const u of ends) expect(Math.abs(Math.abs(u) - 30)).toBeLessThan(1e-4);
    }
  });
});

/** Boards with holes of every direction, one in front of the other without touching. */
function drilledBoards(): Board[] {
  const hole = (origin: Vec3, axis: Vec3, radius: number, length: number): Shaping => ({
    tool: drillTool(origin, unit(axis), radius, length),
    does: 'cut',
  });
  return [
    {
      box: straightBox('front.1', [0, 0, 0], [300, 180, 20]),
      shapings: [
        hole([60, 60, -1], [0, 0, 1], 25, 30),
        hole([150, 90, 21], [0, 0, -1], 12.5, 13),
        hole([240, 60, -14], [0.3, 0.1, 1], 10, 60),
        hole([-1, 150, 10], [1, 0, 0], 4, 60),
      ],
    },
    {
      box: straightBox('upright.1', [40, 60, 30], [80, 100, 200]),
      shapings: [hole([-1, 20, 100], [1, 0, 0], 15, 60)],
    },
    { box: straightBox('slat.1', [-20, 120, 60], [320, 160, 72]), shapings: [] },
  ];
}

/** Four legs that lean outward both ways and taper, cut level at floor and seat; a round drilled seat on top, rails between. */
function stool(): Board[] {
  const boards: Board[] = [];
  for (const box of splayedLegs()) {
    const { axes, corner } = box;
    const level = (sign: number, z: number): Shaping => {
      const normal = axes.map((a) => a[2] * sign) as unknown as Vec3;
      return { tool: planeTool(normal, sign * (z - corner[2]), [260, 19, 19], 900, 'end'), does: 'cut' };
    };
    const taper = (across: Vec3): Shaping => {
      const normal = unit(add(scale(across, 520), [-12, 0, 0]));
      return {
        tool: planeTool(normal, dot(normal, add([520, 0, 0], scale(across, 38))), [260, 19, 19], 900),
        does: 'cut',
      };
    };
    boards.push({ box, shapings: [level(-1, 0), level(1, 420), taper([0, 1, 0]), taper([0, 0, 1])] });
  }
  boards.push({ box: straightBox('rail.1', [-60, -109, 300], [60, -90, 360]), shapings: [] });
  boards.push({
    box: straightBox('seat.1', [-195, -195, 420], [195, 195, 448]),
    shapings: [
      { tool: drillTool([195, 195, -1], [0, 0, 1], 190, 30), does: 'keep' },
      { tool: drillTool([255, 255, 29], [0, 0, -1], 12, 31), does: 'cut' },
      { tool: drillTool([135, 195, 29], unit([0.2, 0.1, -1]), 12, 60), does: 'cut' },
    ],
  });
  return boards;
}
