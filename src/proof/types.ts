/** A rule of the proof: one small file each, with its source. */
import type { CutList, CuttingLayouts } from '../cutting/types.ts';
import type { Diagnostic } from '../diagnostics.ts';
import type { Joinery } from '../joinery/types.ts';
import type { Bounds, Plan } from '../model/types.ts';

/**
 * Two boards in one place: volume in mm³. With `pieces` one board that its cuts leave in so many pieces; first and second are the same
 * then.
 */
export interface Overlap {
  readonly first: string;
  readonly second: string;
  readonly volume: number;
  readonly bounds: Bounds;
  readonly pieces?: number;
}

/** All that a rule may look at. */
export interface ProofInput {
  readonly plan: Plan;
  readonly joinery: Joinery;
  readonly cutList: CutList;
  readonly layouts: CuttingLayouts;
  readonly overlaps: readonly Overlap[];
}

export type Rule = (input: ProofInput) => Diagnostic[];
