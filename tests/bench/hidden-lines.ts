/** Timing of solids and views: median of repeated runs in one process, after warming up. */
import { viewLines } from '../../src/draw/hidden-lines.ts';
import { viewFrame } from '../../src/draw/project.ts';
import { viewFaces } from '../../src/draw/visible-faces.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { benchBoxes, boxSolid, drilledBench, scatteredBoxes } from '../geometry/scenes.ts';

const VIEWS = {
  front: 'front',
  top: 'top',
  right: 'right',
  isometric: { depth: 'front', side: 'left', height: 'above' },
} as const;

/** Times each stage on 150 scattered boxes, a bench of 38 plain boards, and the same bench drilled and grooved. */
export async function benchHiddenLines(repeats = 9): Promise<{ name: string; ms: number }[]> {
  const solids = await loadSolids();
  const boxes = scatteredBoxes(7, 150, 1500);
  const scenes = {
    '150 boxes': () => boxes.map((box) => boxSolid(box, solids)),
    'bench of 38 boards': () => benchBoxes().map((box) => boxSolid(box, solids)),
    'bench with pocket holes': () => drilledBench(solids),
  };
  const rows: { name: string; ms: number }[] = [];
  for (const [scene, build] of Object.entries(scenes)) {
    rows.push({ name: `${scene}: solids`, ms: median(repeats, build) });
    const parts = build();
    for (const [view, from] of Object.entries(VIEWS)) {
      const frame = viewFrame(from);
      rows.push({ name: `${scene}: lines, ${view}`, ms: median(repeats, () => viewLines(parts, frame)) });
      rows.push({
        name: `${scene}: faces, ${view}`,
        ms: median(repeats, () => viewFaces(parts, frame, solids)),
      });
    }
  }
  return rows;
}

function median(repeats: number, work: () => unknown): number {
  const times: number[] = [];
  for (let i = 0; i < repeats + 3; i++) {
    const start = performance.now();
    work();
    if (i >= 3) times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[Math.floor(times.length / 2)] as number;
}
