/** Joints outside any step, and steps whose parts meet nothing that stands yet. Source: none needed. */
import type { Diagnostic } from '../diagnostics.ts';
import { arrivals, contactsBetween, joinedIn } from '../joinery/index.ts';
import type { Part } from '../model/types.ts';
import type { Rule } from './types.ts';

export const stepOrder: Rule = ({ plan }) => {
  const when = arrivals(plan);
  const findings: Diagnostic[] = [];
  const parts = new Map(plan.parts.map((part) => [part.key, part]));
  for (const step of plan.steps) {
    if (step.assembly !== undefined) continue;
    const standing = plan.parts.filter((part) => (when.get(part.key)?.inPlace ?? Infinity) < step.index);
    if (standing.length === 0) continue;
    const arriving = [
      ...step.adds.flatMap((key) => parts.get(key) ?? []),
      ...plan.parts.filter((part) => part.assembly !== undefined && step.sets.includes(part.assembly)),
    ];
    for (const part of step.adds.flatMap((key) => parts.get(key) ?? [])) {
      const others: Part[] = [...standing, ...arriving.filter((other) => other !== part)];
      const copies = others.flatMap((other) => other.copies);
      const floating = part.copies.filter(
        (copy) =>
          contactsBetween([copy], [...copies, ...part.copies]).length === 0 && copy.bounds.min[2] > 0.1,
      );
      if (floating.length === 0) continue;
      findings.push({
        id: 'step.floating',
        severity: 'warning',
        origin: step.origin,
        message: `expected what step ${step.index} adds to meet what stands by then, found ${part.key} with nothing to fix it to`,
        hint: 'add it in a later step, or add the part that holds it earlier',
        parts: [part.key],
      });
    }
  }
  for (const joint of plan.joints) {
    const first = parts.get(joint.join);
    const second = parts.get(joint.to);
    if (!first || !second || joinedIn(first, second, when) !== undefined) continue;
    if (plan.steps.length === 0) continue;
    findings.push({
      id: 'step.joint',
      severity: 'warning',
      origin: joint.origin,
      message: `expected the joint of ${joint.join} to ${joint.to} in a step, found no step that adds both`,
      hint: 'add both parts under adds: in the steps',
      parts: [joint.join, joint.to],
    });
  }
  return findings;
};
