/** Parts that stand outside the outline, or an outline that nothing reaches: the overall sizes on the page would be wrong. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Face } from '../model/types.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';

/** Play before a face counts as outside, mm. */
const PLAY = 0.1;

export const outside: Rule = ({ plan }) => {
  const limits: readonly { face: Face; axis: 0 | 1 | 2; at: number; far: boolean }[] = [
    { face: 'left', axis: 0, at: 0, far: false },
    { face: 'right', axis: 0, at: plan.outline.width, far: true },
    { face: 'front', axis: 1, at: 0, far: false },
    { face: 'back', axis: 1, at: plan.outline.depth, far: true },
    { face: 'bottom', axis: 2, at: 0, far: false },
    { face: 'top', axis: 2, at: plan.outline.height, far: true },
  ];
  const copies = allCopies(plan);
  const first = plan.parts[0];
  if (!first) return [];
  const findings: Diagnostic[] = [];
  for (const { face, axis, at, far } of limits) {
    const beyond = copies.map(({ copy, part }) => ({
      part,
      by: far ? copy.bounds.max[axis] - at : at - copy.bounds.min[axis],
    }));
    const worst = beyond.reduce((a, b) => (b.by > a.by ? b : a));
    if (worst.by > PLAY) {
      findings.push({
        id: 'outline.outside',
        severity: 'warning',
        origin: worst.part.origin,
        message: `expected all parts inside the outline, found ${worst.part.key} ${print(plan, worst.by)} beyond its ${face}`,
        hint: 'change the outline in the sizes block, or the part',
        parts: [worst.part.key],
      });
    } else if (worst.by < -PLAY) {
      findings.push({
        id: 'outline.short',
        severity: 'warning',
        origin: worst.part.origin,
        message: `expected a part at the ${face} of the outline, found the nearest, ${worst.part.key}, ${print(plan, -worst.by)} short of it`,
        hint: 'change the outline in the sizes block, or the part; the overall size is printed on the page',
        parts: [worst.part.key],
      });
    }
  }
  return findings;
};
