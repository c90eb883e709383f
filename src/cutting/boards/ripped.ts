/**
 * How much length of ripped sections a job needs at least. Strips side by side fill whole sections, never a third of one; the linear
 * programme over all boards doesn't know that, so it is worked out beforehand and asked for.
 */

import type { Solver } from '../highs.ts';
import type { Grid } from './grid.ts';
import { fillingsWorth } from './knapsack.ts';

/** Most ways to rip a section that are looked through. */
const MOST = 2000;
const LIMITS = { nodes: 500, pivots: 3000 };

/** The least length of all ripped sections together, in grid steps; 0 where boards have different widths or nothing is ripped. */
export function leastRipped(grid: Grid, solver: Solver): number {
  const [width, other] = grid.widths;
  if (width === undefined || other !== undefined || width.strips.length === 0) return 0;
  const demand = width.strips.map(({ piece }) => grid.pieces[piece]?.demand ?? 0);
  const size = width.strips.map(({ piece }) => grid.pieces[piece]?.size ?? 0);
  const listed = fillingsWorth(
    width.strips.map(({ across }, index) => ({ size: across, worth: 1, bound: demand[index] as number })),
    width.across,
    0,
    MOST,
    false,
  );
  if (!listed.complete) return 0;
  const answer = solver.integer(
    {
      rows: demand.map((lower) => ({ lower })),
      columns: listed.fillings.map((filling) => ({
        cost: Math.max(...filling.map(([index]) => size[index] as number)),
        rows: filling.map(([index]) => index),
        values: filling.map(([, count]) => count),
      })),
    },
    { ...LIMITS, gap: 0.999 },
  );
  return Math.max(0, Math.ceil(answer.bound - 1e-6));
}
