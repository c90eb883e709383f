/** How a computed plan is called: in file names, in titles. One plan is there once in each edition of each variant. */
import type { Plan } from './types.ts';

type Named = Pick<Plan, 'slug' | 'variant'>;

/** `window-seat`, or `window-seat-long` for a variant: the name of its package. */
export const variantSlug = ({ slug, variant }: Named): string =>
  variant === undefined ? slug : `${slug}-${variant}`;

/** `potting-bench-imperial`, `window-seat-long-metric`: what its files begin with. */
export const baseName = (plan: Named & Pick<Plan, 'edition'>): string =>
  `${variantSlug(plan)}-${plan.edition.key}`;

/** A variant's key as words: `extra long`. */
export const variantWords = (key: string): string => key.replaceAll('-', ' ');

/** `Potting bench`; of a variant `Window seat with lift-up lid, long`. */
export const planTitle = ({ front, variant }: Pick<Plan, 'front' | 'variant'>): string =>
  variant === undefined ? front.title : `${front.title}, ${variantWords(variant)}`;
