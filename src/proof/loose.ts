/** Boards that touch nothing, so that nothing can hold them, but for those whose joint says so already. Source: none needed. */
import type { Diagnostic } from '../diagnostics.ts';
import { contactsBetween, gapBetween } from '../joinery/index.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';

export const loose: Rule = ({ plan, joinery }) => {
  const copies = allCopies(plan);
  if (copies.length < 2) return [];
  const told = new Set(
    joinery.diagnostics.filter(({ id }) => id === 'joint.apart').flatMap(({ parts = [] }) => parts),
  );
  return plan.parts.flatMap((part): Diagnostic[] => {
    if (told.has(part.key)) return [];
    const alone = part.copies.find(
      (copy) =>
        contactsBetween(
          [copy],
          copies.map((other) => other.copy),
        ).length === 0,
    );
    if (!alone) return [];
    // a board of another part, if there is one: what holds it is none of its own row
    const rest = copies.filter((other) => other.copy.id !== alone.id);
    const strange = rest.filter((other) => other.part.key !== part.key);
    const others = strange.length > 0 ? strange : rest;
    const near = others.reduce((best, other) =>
      gapBetween(alone.bounds, other.copy.bounds) < gapBetween(alone.bounds, best.copy.bounds) ? other : best,
    );
    const gap = gapBetween(alone.bounds, near.copy.bounds);
    return [
      {
        id: 'place.loose',
        severity: 'warning',
        origin: part.origin,
        message: `expected ${part.key} to touch another part, found ${alone.id} on its own${gap > 0 ? `, ${print(plan, gap)} from ${near.part.key}` : ''}`,
        hint: `give one of its faces as a face of the part that holds it, for instance ${near.part.key}.top`,
        parts: [part.key],
      },
    ];
  });
};
