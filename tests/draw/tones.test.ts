/** Tones of curves: where one goes over into the next is worked by hand from the circle. */
import { beforeAll, expect, it } from 'vitest';
import { polygonArea } from '../../src/draw/lines/flat.ts';
import { joinedLoops } from '../../src/draw/lines/joined-loops.ts';
import { frameTowards, viewFrame } from '../../src/draw/lines/project.ts';
import { viewFaces } from '../../src/draw/lines/visible-faces.ts';
import { tonedPieces } from '../../src/draw/shading/tones.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { roundTool } from '../../src/geometry/outlines.ts';
import { drillTool, type Tool } from '../../src/geometry/tools.ts';
import { boxSolid, straightBox } from '../geometry/scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

it('a rounded upper edge is top where it looks up by more than 30 degrees, front below', () => {
  const r = 20;
  // The edge between the front and the top of a board 100 long, 40 deep, 60 high.
  const tool = roundTool([0, 0, 60], [100, 0, 60], [0, -1, 0], [0, 0, 1], r) as Tool;
  const board = boxSolid(straightBox('board.1', [0, 0, 0], [100, 40, 60]), solids, [{ tool, does: 'cut' }]);
  const frame = viewFrame('front');
  const pieces = viewFaces([board], frame, solids).flatMap((face) => tonedPieces(face, frame));
  const heights = (tone: number): number[] =>
    pieces.filter((one) => one.tone === tone).flatMap((one) => one.loops.flat().map(([, v]) => v));
  // The normal rises by 30 degrees half a radius above the middle of the circle, which lies r below the top: at 60 - 20 + 10.
  expect(Math.min(...heights(0))).toBeCloseTo(50, 1);
  expect(Math.max(...heights(1))).toBeCloseTo(50, 1);
  expect(Math.min(...heights(1))).toBeCloseTo(0, 6);
  // Nothing is lost or twice: the front of the board.
  expect(pieces.reduce((sum, one) => sum + polygonArea(one.loops), 0)).toBeCloseTo(6000, 6);
});

it('the pieces of a disc have three tones, which together fill what is seen of it', () => {
  const frame = frameTowards([0.5, -0.8, 0.6]);
  const disc = boxSolid(straightBox('disc.1', [0, 0, 0], [80, 80, 30]), solids, [
    { tool: drillTool([40, 40, -1], [0, 0, 1], 38, 40), does: 'keep' },
  ]);
  const faces = viewFaces([disc], frame, solids);
  const pieces = faces.flatMap((face) => tonedPieces(face, frame));
  expect(new Set(pieces.map((one) => one.tone))).toEqual(new Set([0, 1, 2]));
  const whole = faces.reduce((sum, face) => sum + polygonArea(face.loops), 0);
  expect(pieces.reduce((sum, one) => sum + polygonArea(one.loops), 0)).toBeCloseTo(whole, 6);
  // Joined, the wall of each tone is one shape of the same area.
  for (const tone of [1, 2]) {
    const shapes = pieces.filter((one) => one.tone === tone).map((one) => one.loops);
    const joined = joinedLoops(shapes);
    expect(joined).toHaveLength(1);
    expect(polygonArea(joined)).toBeCloseTo(
      shapes.reduce((sum, loops) => sum + polygonArea(loops), 0),
      6,
    );
  }
});
