import { beforeAll, describe, expect, it } from 'vitest';
import { loopLength } from '../../src/draw/lines/flat.ts';
import { viewLines } from '../../src/draw/lines/hidden-lines.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { viewPicture } from '../../src/draw/lines/view.ts';
import type { ViewFrame, ViewLine } from '../../src/draw/types.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { boxTool, drillTool, facetCount, planeTool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { dot } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { benchBoxes, boxSolid, type PlainBox, scatteredBoxes, straightBox } from '../geometry/scenes.ts';
import { samplePlan } from '../support/sample.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const isometric = viewFrame({ depth: 'front', side: 'left', height: 'above' });
const STRAIGHT = ['front', 'back', 'left', 'right', 'top', 'bottom'] as const;

const lengthOf = (lines: readonly ViewLine[]): number =>
  lines.reduce((sum, { a, b }) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);
const visible = (lines: readonly ViewLine[]) => lines.filter((line) => !line.hidden);
const hidden = (lines: readonly ViewLine[]) => lines.filter((line) => line.hidden);
const solidBox = (id: string, min: Vec3, max: Vec3): PlacedPart =>
  boxSolid(straightBox(id, min, max), solids);

/** Lines along v = height, as [from, to, hidden, copies], from left to right. */
const across = (lines: readonly ViewLine[], height: number) =>
  lines
    .filter((line) => Math.abs(line.a[1] - height) < 1e-6 && Math.abs(line.b[1] - height) < 1e-6)
    .map((line) => ({
      from: Math.min(line.a[0], line.b[0]),
      to: Math.max(line.a[0], line.b[0]),
      hidden: line.hidden,
      copies: line.copies.join(),
      outline: line.outline,
    }))
    .sort((a, b) => a.from - b.from);

describe('a single box', () => {
  // Six straight views of a box of 300 x 200 x 100: the rectangle of the two sides seen, each line once, nothing hidden.
  const sizes = {
    front: [300, 100],
    back: [300, 100],
    left: [200, 100],
    right: [200, 100],
    top: [300, 200],
    bottom: [300, 200],
  };
  it.each(STRAIGHT)('from the %s is one rectangle', (from) => {
    const lines = viewLines([solidBox('box.1', [10, 20, 30], [310, 220, 130])], viewFrame(from));
    const [width, height] = sizes[from] as [number, number];
    expect(lines).toHaveLength(4);
    expect(hidden(lines)).toHaveLength(0);
    expect(lengthOf(lines)).toBeCloseTo(2 * (width + height), 9);
    expect(lines.every((line) => line.outline)).toBe(true);
  });

  // A cube in an isometric view: all twelve edges are shortened to sqrt(2/3); the three that meet at the far corner are hidden;
  // six of the others make the hexagon of the outline (ISO 5456-3, 5.1).
  it('in an isometric view shows nine edges and hides three', () => {
    const edge = 100 * Math.sqrt(2 / 3);
    for (const depth of ['front', 'back'] as const) {
      for (const side of ['left', 'right'] as const) {
        for (const height of ['above', 'below'] as const) {
          const lines = viewLines(
            [solidBox('cube.1', [5, 5, 5], [105, 105, 105])],
            viewFrame({ depth, side, height }),
          );
          expect(visible(lines)).toHaveLength(9);
          expect(hidden(lines)).toHaveLength(3);
          expect(lengthOf(visible(lines))).toBeCloseTo(9 * edge, 9);
          expect(lengthOf(hidden(lines))).toBeCloseTo(3 * edge, 9);
          expect(lengthOf(lines.filter((line) => line.outline))).toBeCloseTo(6 * edge, 9);
        }
      }
    }
  });
});

describe('flush boards', () => {
  it('keep their joint line, once, for both', () => {
    const parts = [
      solidBox('left.1', [0, 0, 0], [100, 20, 50]),
      solidBox('right.1', [100, 0, 0], [250, 20, 50]),
    ];
    const lines = viewLines(parts, viewFrame('front'));
    const joint = lines.filter(
      (line) => Math.abs(line.a[0] - 100) < 1e-9 && Math.abs(line.b[0] - 100) < 1e-9,
    );
    expect(joint).toHaveLength(1);
    expect(joint[0]?.copies).toEqual(['left.1', 'right.1']);
    expect(joint[0]?.outline).toBe(false);
    expect(lengthOf(lines)).toBeCloseTo(2 * (250 + 50) + 50, 9);
    // The top line changes hands at the joint, so each piece names its own board.
    expect(across(lines, 50).map((line) => [line.from, line.to, line.copies])).toEqual([
      [0, 100, 'left.1'],
      [100, 250, 'right.1'],
    ]);
  });

  it('of different height share only what is on both', () => {
    const parts = [
      solidBox('low.1', [0, 0, 0], [100, 20, 30]),
      solidBox('high.1', [100, 0, 0], [250, 20, 50]),
    ];
    const joint = viewLines(parts, viewFrame('front')).filter(
      (line) => Math.abs(line.a[0] - 100) < 1e-9 && Math.abs(line.b[0] - 100) < 1e-9,
    );
    const found = joint.map((line) => [
      Math.min(line.a[1], line.b[1]),
      Math.max(line.a[1], line.b[1]),
      line.copies,
      line.outline,
    ]);
    expect(found.sort((a, b) => (a[0] as number) - (b[0] as number))).toEqual([
      [0, 30, ['low.1', 'high.1'], false],
      [30, 50, ['high.1'], true],
    ]);
  });

  it('are seen where they rest on each other, whichever is given first', () => {
    const lower = solidBox('lower.1', [0, 0, 0], [200, 100, 20]);
    const upper = solidBox('upper.1', [50, 30, 20], [150, 70, 60]);
    for (const parts of [
      [lower, upper],
      [upper, lower],
    ]) {
      const top = viewLines(parts, viewFrame('top'));
      expect(lengthOf(visible(top))).toBeCloseTo(2 * 300 + 2 * 140, 9);
      const lines = visible(viewLines(parts, isometric));
      // Three more visible edges of the upper box lie on the lower one's top: its two lower front edges are drawn.
      const ofUpper = lines.filter((line) => line.copies.includes('upper.1'));
      expect(lengthOf(ofUpper)).toBeCloseTo((3 * 100 + 3 * 40 + 3 * 40) * Math.sqrt(2 / 3), 9);
    }
  });
});

describe('a board behind another', () => {
  // Worked by hand: the front board leans 60 degrees in the plane of the view, from (0, -50), 40 wide. Its long sides are
  // x = t/2, z = -50 + t sqrt(3)/2 and, 40 to the left at right angles, x = -20 sqrt(3) + t/2, z = -30 + t sqrt(3)/2.
  // They cross z = 100 at x = 50 sqrt(3) = 86.6025 and x = -20 sqrt(3) + 130/sqrt(3) = 40.4145,
  // and z = 0 at x = 50/sqrt(3) = 28.8675 and x = -20 sqrt(3) + 30/sqrt(3) = -17.3205.
  const root = Math.sqrt(3);
  const leaning: PlainBox = {
    id: 'brace.1',
    corner: [0, 0, -50],
    axes: [
      [0.5, 0, root / 2],
      [-root / 2, 0, 0.5],
      [0, 1, 0],
    ],
    size: [300, 40, 20],
  };
  it('is cut exactly at the silhouette', () => {
    const parts = [boxSolid(leaning, solids), solidBox('rail.1', [-500, 50, 0], [500, 70, 100])];
    const lines = viewLines(parts, viewFrame('front'));
    const expected = [
      [100, -20 * root + 130 / root, 50 * root],
      [0, -20 * root + 30 / root, 50 / root],
    ] as const;
    for (const [height, from, to] of expected) {
      const found = across(lines, height);
      expect(found.map((line) => line.hidden)).toEqual([false, true, false]);
      const ends = found.flatMap((line) => [line.from, line.to]);
      [-500, from, from, to, to, 500].forEach((x, i) => {
        expect(Math.abs((ends[i] as number) - x), `end ${i} at ${height}`).toBeLessThan(0.02);
      });
    }
  });
});

describe('the outline', () => {
  const perimeter = (parts: readonly PlacedPart[], frame: ViewFrame): number =>
    solids
      .shadow(
        parts.map((part) => ({
          triangles: part.triangles,
          vertices: part.vertices.map(
            (p): Vec3 => [dot(p, frame.right), dot(p, frame.up), dot(p, frame.toViewer)],
          ),
        })),
      )
      .reduce((sum, loop) => sum + loopLength(loop), 0);

  // Reference: the kernel's own projection of the solids and union of the shadows, which has nothing in common with the
  // search for hidden lines.
  it('is as long as the edge of the shadow', () => {
    const scenes = [benchBoxes(), scatteredBoxes(41, 12, 400), scatteredBoxes(42, 30, 600)];
    for (const boxes of scenes) {
      const parts = boxes.map((box) => boxSolid(box, solids));
      for (const frame of [viewFrame('front'), viewFrame('top'), isometric]) {
        const outline = viewLines(parts, frame).filter((line) => line.outline);
        expect(outline.every((line) => !line.hidden)).toBe(true);
        expect(Math.abs(lengthOf(outline) / perimeter(parts, frame) - 1)).toBeLessThan(5e-4);
      }
    }
  });
});

describe('shaped boards', () => {
  const board = straightBox('board.1', [0, 0, 0], [200, 100, 20]);
  const count = facetCount(15);
  const around = 2 * count * 15 * Math.sin(Math.PI / count);

  it('show a through hole as its circle, and its sides as two hidden lines', () => {
    const part = boxSolid(board, solids, [{ tool: drillTool([60, 50, -1], [0, 0, 1], 15, 22), does: 'cut' }]);
    const top = viewLines([part], viewFrame('top'));
    expect(hidden(top)).toHaveLength(0);
    expect(lengthOf(top)).toBeCloseTo(600 + around, 6);
    const front = viewLines([part], viewFrame('front'));
    // Its top and bottom circles fall on the board's own outline; no facet of the wall shows.
    expect(lengthOf(visible(front))).toBeCloseTo(2 * (200 + 20), 9);
    expect(lengthOf(hidden(front))).toBeCloseTo(2 * 20, 6);
    expect(
      hidden(front)
        .map((line) => line.a[0])
        .sort((a, b) => a - b),
    ).toEqual([expect.closeTo(45, 3), expect.closeTo(75, 3)]);
  });

  it('draw no line where a slot runs from straight to round', () => {
    const slot = [
      { tool: boxTool([60, 35, -1], [140, 65, 21]), does: 'cut' },
      { tool: drillTool([60, 50, -1], [0, 0, 1], 15, 22), does: 'cut' },
      { tool: drillTool([140, 50, -1], [0, 0, 1], 15, 22), does: 'cut' },
    ] as const;
    const part = boxSolid(board, solids, slot);
    const top = viewLines([part], viewFrame('top'));
    expect(lengthOf(top)).toBeCloseTo(600 + 160 + around, 3);
    // From the front the slot's straight wall gives the two ends only, at 45 and 155; nothing at 60 or 140.
    const front = hidden(viewLines([part], viewFrame('front')));
    expect(front.map((line) => line.a[0]).sort((a, b) => a - b)).toEqual([
      expect.closeTo(45, 3),
      expect.closeTo(155, 3),
    ]);
  });

  it('draw equal housings that cross as one, and a notch with its own lines', () => {
    const crossed = boxSolid(board, solids, [
      { tool: boxTool([80, -1, 10], [120, 101, 21]), does: 'cut' },
      { tool: boxTool([-1, 40, 10], [201, 60, 21]), does: 'cut' },
    ]);
    // Worked by hand: outline 600; four sides of the housings, each broken by the other: 2 (100 - 20) + 2 (200 - 40).
    expect(lengthOf(viewLines([crossed], viewFrame('top')))).toBeCloseTo(600 + 160 + 320, 4);
    const notched = boxSolid(board, solids, [{ tool: boxTool([150, -1, -1], [201, 40, 21]), does: 'cut' }]);
    const lines = viewLines([notched], viewFrame('top'));
    expect(lengthOf(lines)).toBeCloseTo(600, 4);
    expect(lines).toHaveLength(6);
  });

  it('show a bevel as a face of its own', () => {
    // 45 degrees off the far upper edge: the cut runs from 10 below the top to 10 in from the end.
    const normal: Vec3 = [Math.SQRT1_2, 0, Math.SQRT1_2];
    const part = boxSolid(board, solids, [
      { tool: planeTool(normal, dot(normal, [190, 0, 20]), [200, 50, 20], 300), does: 'cut' },
    ]);
    const top = viewLines([part], viewFrame('top'));
    expect(lengthOf(top)).toBeCloseTo(600 + 100, 6);
    const front = viewLines([part], viewFrame('front'));
    expect(lengthOf(front)).toBeCloseTo(190 + 10 * Math.SQRT2 + 10 + 200 + 20, 6);
  });
});

describe('a picture of a plan', () => {
  it('holds lines, faces and extents, and leaves standing parts without faces and hidden lines', () => {
    const parts = placeParts(samplePlan, solids);
    const all = viewPicture(parts, isometric, solids);
    expect(all.min[0]).toBeLessThan(all.max[0]);
    expect(all.lines.some((line) => line.hidden)).toBe(true);
    const standing = new Set(parts.filter((part) => part.part !== 'top-board').map((part) => part.copy));
    const step = viewPicture(parts, isometric, solids, { standing });
    expect(new Set(step.faces.map((face) => face.copy))).toEqual(
      new Set(['top-board.1', 'top-board.2', 'top-board.3']),
    );
    expect(visible(step.lines)).toEqual(visible(all.lines));
    expect(hidden(step.lines).every((line) => line.copies.some((copy) => !standing.has(copy)))).toBe(true);
    const bare = viewPicture(parts, isometric, solids, { hidden: false, faces: false });
    expect(bare.faces).toEqual([]);
    const inOrder = (lines: readonly ViewLine[]) => lines.map((line) => JSON.stringify(line)).sort();
    expect(inOrder(bare.lines)).toEqual(inOrder(visible(all.lines)));
  });

  it('of nothing is empty', () => {
    expect(viewPicture([], isometric, solids)).toEqual({
      frame: isometric,
      lines: [],
      faces: [],
      min: [0, 0],
      max: [0, 0],
    });
  });

  it('is the same each time', () => {
    const parts = placeParts(samplePlan, solids);
    expect(viewPicture(parts, isometric, solids)).toEqual(
      viewPicture(placeParts(samplePlan, solids), isometric, solids),
    );
  });
});
