/** Our drawings beside those of the exact reference: the views compared, what counts as a difference, plans as the reference makes them. */

import { viewCurves } from '../../src/draw/lines/hidden-lines.ts';
import { frameTowards, viewFrame } from '../../src/draw/lines/project.ts';
import { arcPoints } from '../../src/draw/paper/arcs.ts';
import type { ViewFrame } from '../../src/draw/types.ts';
import { blankToolOf, shapingsOf } from '../../src/geometry/shape.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import type { EdgeWork, Outline } from '../../src/model/shape.ts';
import type { Copy, Plan } from '../../src/model/types.ts';
import type { Exact, ExactSolid, Stroke } from '../support/exact.ts';
import type { ExactEdge } from '../support/exact-edges.ts';
import { compare, merged } from '../support/strokes.ts';

/** The views that are compared. */
export const VIEWS: Readonly<Record<string, ViewFrame>> = {
  front: viewFrame('front'),
  top: viewFrame('top'),
  right: viewFrame('right'),
  isometric: viewFrame({ depth: 'front', side: 'left', height: 'above' }),
  oblique: frameTowards([0.31, -0.85, 0.23]),
};

/** The bound on lengths, and how near a line must be to the other's, mm: straight lines, and curves, hidden to the facet tolerance. */
const BOUND = 1e-3;
export const NEAR = { straight: 0.02, curved: 0.06 };

/** A view as we draw it, arcs as fine chords. */
export function ourStrokes(parts: readonly PlacedPart[], frame: ViewFrame): Stroke[] {
  const { lines, arcs } = viewCurves(parts, frame);
  return [
    ...lines.map(({ a, b, hidden }) => ({ points: [a, b], hidden })),
    ...arcs.map((arc) => ({ points: arcPoints(arc, 0.002), hidden: arc.hidden })),
  ];
}

/** What is wrong in a view, in words; empty where the drawings agree. */
export function wrongs(
  exact: Exact,
  parts: readonly PlacedPart[],
  reference: readonly ExactSolid[],
  frame: ViewFrame,
  near: number,
  theirs: readonly Stroke[] = exact.project(reference, frame),
): { wrong: string[]; worst: number } {
  const ours = ourStrokes(parts, frame);
  const found = compare(merged(ours), merged(theirs), near);
  const wrong: string[] = [];
  let worst = 0;
  const whole = found.visible[1] + found.hidden[1];
  for (const kind of ['visible', 'hidden'] as const) {
    const [our, their] = found[kind];
    // Where facets stand in for curves, ends are off by about their sagitta at each crossing: held against all lines of the view.
    const off = Math.abs(our - their) / Math.max(near === NEAR.straight ? their : whole, 1);
    worst = Math.max(worst, off);
    if (off > BOUND) wrong.push(`${kind}: ${our.toFixed(2)} mm, reference ${their.toFixed(2)} mm`);
  }
  for (const kind of ['extra', 'missing'] as const) {
    worst = Math.max(worst, found[kind] / whole);
    if (found[kind] > BOUND * whole) wrong.push(`${kind}: ${found[kind].toFixed(2)} mm`, ...found.examples);
  }
  return { wrong, worst };
}

const bySaw = ({ follows: _, holes: __, ...rest }: EdgeWork): EdgeWork => rest;

/** The work along a copy's outline and holes as the reference makes it: from the lines and arcs of the operations themselves. */
function edgesOf({ shape, size }: Copy): ExactEdge[] {
  return shape.flatMap((one, i): ExactEdge[] => {
    if (one.kind !== 'edge') return [];
    const { name, bearing = 0 } = one;
    const on = (wide: 'face' | 'reverse') => ({
      name,
      size: one.size,
      z: wide === 'face' ? size.thickness : 0,
      up: wide === 'face',
    });
    const outline = shape.slice(0, i).findLast((before): before is Outline => before.kind === 'outline');
    const followed = (one.follows ?? []).map(({ wide, towards }): ExactEdge => {
      if (outline?.does !== 'keep' || towards) throw new Error('the reference follows whole outlines only');
      return { ...on(wide), bearing, start: outline.start, stretches: outline.stretches };
    });
    const rims = (one.holes ?? []).flatMap((side) =>
      shape.slice(0, i).flatMap((hole): ExactEdge[] => {
        if (hole.kind !== 'hole') return [];
        const [x, y] = hole.entry;
        const r = hole.diameter / 2;
        const half = (to: number) => ({
          to: [x + to * r, y] as const,
          arc: { centre: [x, y] as const, radius: r, counterclockwise: false },
        });
        const wide = side === 'reverse' ? 'reverse' : 'face';
        return [{ ...on(wide), bearing: r, start: [x + r, y], stretches: [half(-1), half(1)] }];
      }),
    );
    return [...followed, ...rims];
  });
}

/** A plan's copies as the reference makes them. */
export const referenceOf = (exact: Exact, plan: Plan): ExactSolid[] =>
  plan.parts.flatMap((part) =>
    part.copies.map((copy) => {
      const shape = copy.shape.map((one) => (one.kind === 'edge' ? bySaw(one) : one));
      const tools = shapingsOf({ ...copy, shape });
      return exact.solid(copy.size, tools, copy.frame, blankToolOf(copy), edgesOf(copy));
    }),
  );
