/**
 * Timing of solids and views: the quickest of repeated runs in one process, after warming up, which a busy machine spoils least; and the
 * same scenes projected by the exact reference in the same run, turn by turn: as its own library gives the edges out, and with our short way
 * of reading their points (tests/support/exact.ts) beside it. The bounds hold the first.
 */
import { viewCurves } from '../../src/draw/lines/hidden-lines.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { viewFaces } from '../../src/draw/lines/visible-faces.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import type { Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { BlankSize } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';
import { benchBoxes, boxSolid, type PlainBox, pocketsAndDado, scatteredBoxes } from '../geometry/scenes.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';
import { type Exact, loadExact } from '../support/exact.ts';

const VIEWS = {
  front: 'front',
  top: 'top',
  right: 'right',
  isometric: { depth: 'front', side: 'left', height: 'above' },
} as const;

/** A row of the table; `more` says what the time is held against. */
export interface BenchRow {
  readonly name: string;
  readonly ms: number;
  readonly more?: string;
}

interface Scene {
  readonly name: string;
  readonly boxes: readonly PlainBox[];
  readonly shapings: (box: PlainBox) => readonly Shaping[];
  /** At most this share of the reference's time, over all views. */
  readonly bound: number;
}

const SCENES: readonly Scene[] = [
  { name: '150 boxes', boxes: scatteredBoxes(7, 150, 1500), shapings: () => [], bound: 1 / 40 },
  {
    name: 'bench with pocket holes',
    boxes: benchBoxes(),
    shapings: (box) => pocketsAndDado(box.size),
    bound: 1 / 10,
  },
];

/** Most that shading a view of a demo plan with its pocket holes may take, ms, on a machine that isn't busy. */
const SHADED = 50;

/** Times lines and faces on scattered boxes, the drilled bench and the demo plans; lines against the reference as well. */
export async function benchHiddenLines(repeats = 15): Promise<BenchRow[]> {
  const [solids, exact] = [await loadSolids(), await loadExact()];
  return [
    ...SCENES.flatMap((scene) => sceneRows(scene, solids, exact, repeats)),
    ...(await demoRows(solids, repeats)),
  ];
}

function sceneRows(scene: Scene, solids: Solids, exact: Exact, repeats: number): BenchRow[] {
  const { name, boxes, shapings, bound } = scene;
  const build = () => boxes.map((box) => boxSolid(box, solids, shapings(box)));
  const rows: BenchRow[] = [{ name: `${name}: solids`, ms: quickest(repeats, build) }];
  const parts = build();
  const reference = boxes.map((box, i) =>
    exact.solid(sizeOf(box), shapings(box), (parts[i] as PlacedPart).frame),
  );
  let [ours, theirs] = [0, 0];
  for (const [view, from] of Object.entries(VIEWS)) {
    const frame = viewFrame(from);
    const [lines, read, projected] = allQuickest(repeats, [
      () => viewCurves(anew(parts), frame),
      () => exact.project(reference, frame),
      () => exact.projectOnly(reference, frame),
    ]) as [number, number, number];
    ours += lines;
    theirs += projected;
    rows.push({
      name: `${name}: lines, ${view}`,
      ms: lines,
      more: `reference ${projected.toFixed(0)} ms, 1/${(projected / lines).toFixed(0)} (its points read by hand: ${read.toFixed(0)} ms)`,
    });
    rows.push({
      name: `${name}: faces, ${view}`,
      ms: quickest(repeats, () => viewFaces(anew(parts), frame, solids)),
    });
  }
  exact.free(reference);
  const share = ours / theirs;
  const verdict = share <= bound ? 'within' : 'OVER';
  rows.push({
    name: `${name}: lines, all views`,
    ms: ours,
    more: `1/${(1 / share).toFixed(0)} of the reference, ${verdict} 1/${(1 / bound).toFixed(0)}`,
  });
  return rows;
}

const sizeOf = ({ size }: PlainBox): BlankSize => ({
  length: mm(size[0]),
  width: mm(size[1]),
  thickness: mm(size[2]),
});

/** Shaded faces of the demo plans, bored for their joints. */
async function demoRows(solids: Solids, repeats: number): Promise<BenchRow[]> {
  const shop = await shopOf(demoFiles());
  return shop.plans.flatMap(({ slug }) => {
    const plan = planOf(shop, slug, 'metric');
    const { cuts } = findJoinery(plan, shop.hardware);
    const parts = placeParts(plan, solids, { cuts: cuts ?? new Map() });
    return Object.entries(VIEWS).map(([view, from]): BenchRow => {
      const frame = viewFrame(from);
      const ms = quickest(repeats, () => viewFaces(anew(parts), frame, solids));
      return {
        name: `${slug}: faces, ${view}`,
        ms,
        more: `${parts.length} boards, ${ms <= SHADED ? 'within' : 'OVER'} ${SHADED} ms`,
      };
    });
  });
}

/** The same parts as others: what is kept of them from picture to picture isn't there yet. */
const anew = (parts: readonly PlacedPart[]): PlacedPart[] => parts.map((part) => ({ ...part }));

const quickest = (repeats: number, work: () => unknown): number => allQuickest(repeats, [work])[0] as number;

/** The quickest runs of several works done turn by turn. */
function allQuickest(repeats: number, works: readonly (() => unknown)[]): number[] {
  const least = works.map(() => Infinity);
  for (let i = 0; i < repeats + 3; i++) {
    works.forEach((work, k) => {
      const start = performance.now();
      work();
      if (i >= 3) least[k] = Math.min(least[k] as number, performance.now() - start);
    });
  }
  return least;
}
