/** A plan's variants as its pages and packages see them. */
import { capital } from '../instructions/words.ts';
import { variantWords } from '../model/naming.ts';
import type { PlanBundle } from './types.ts';

/** The plan once for each variant, with the editions of that one only; the plan itself where it has none. */
export function perVariant(bundle: PlanBundle): PlanBundle[] {
  const keys = [...new Set(bundle.editions.map(({ finished }) => finished.plan.variant))];
  return keys.map((key) => ({
    ...bundle,
    editions: bundle.editions.filter(({ finished }) => finished.plan.variant === key),
  }));
}

/** The editions, each once, however many variants come in them. */
export const editionsOnce = (bundle: PlanBundle): PlanBundle['editions'] =>
  perVariant(bundle)[0]?.editions ?? [];

/** The variants in words, `standard` and `long`; none where the plan has one size. */
export const variantNames = (bundle: PlanBundle): string[] => [
  ...new Set(
    bundle.editions.flatMap(({ finished: { plan } }) =>
      plan.variant === undefined ? [] : [variantWords(plan.variant)],
    ),
  ),
];

/** A variant's name as the first word of a line, `Long`; an empty list where the plan has none. */
export const variantNamed = (key: string | undefined): string[] =>
  key === undefined ? [] : [capital(variantWords(key))];

/** The same before more words: `Long, `; nothing where the plan has none. */
export const variantBefore = (key: string | undefined): string =>
  variantNamed(key)
    .map((words) => `${words}, `)
    .join('');
