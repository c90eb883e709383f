/** placeholder */
import type { Grid } from './grid.ts';
import type { Solver } from './highs.ts';
import type { Better } from './improve.ts';
import type { Laid, Weights } from './laid.ts';
import type { Master, RowPlan } from './master.ts';

export function tidy(
  _grid: Grid,
  _plan: RowPlan,
  _weights: Weights,
  _master: Master,
  best: Better,
  _solver: Solver,
): Laid {
  return best.laid;
}
