/** What several rules need: parts of copies, sizes in the edition's print. */
import type { Copy, Part, Plan } from '../model/types.ts';
import { printed, sizeText } from '../units.ts';

/** A length as the edition prints it. */
export const print = (plan: Plan, length: number): string => sizeText(printed(length, plan.edition.numbers));

/** Every copy with its part, in the plan's order. */
export const allCopies = (plan: Plan): { copy: Copy; part: Part }[] =>
  plan.parts.flatMap((part) => part.copies.map((copy) => ({ copy, part })));

/** The part of a copy's id. */
export const partOf = (plan: Plan, id: string): Part | undefined =>
  plan.parts.find((part) => part.copies.some((copy) => copy.id === id));
