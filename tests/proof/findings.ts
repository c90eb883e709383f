/** The proof of a plan without layouts and solids: what its rules say of the plan and its joints alone. */
import { cutList } from '../../src/cutting/cut-list.ts';
import type { Diagnostic } from '../../src/diagnostics.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Plan } from '../../src/model/types.ts';
import { proofPlan } from '../../src/proof/index.ts';
import type { HardwareItem } from '../../src/read/types.ts';

/** All findings, with joints fastened from some hardware. */
export function findingsOf(plan: Plan, hardware: readonly HardwareItem[] = []): Diagnostic[] {
  const layouts = { boards: [], kerf: plan.edition.kerf, proofs: [], stops: [] };
  return proofPlan({
    plan,
    joinery: findJoinery(plan, hardware),
    cutList: cutList(plan),
    layouts,
    overlaps: [],
  });
}
