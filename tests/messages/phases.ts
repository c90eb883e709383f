/** The phases a case can ask for: each takes the files of a shop and gives what it has to say. */
import { type Diagnostic, mergeEditions, sortDiagnostics } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { readShop } from '../../src/read/shop.ts';

export type Phase = (files: ReadonlyMap<string, string>) => Promise<readonly Diagnostic[]>;

export const PHASES: Readonly<Record<string, Phase>> = {
  /** Reading alone. */
  read: async (files) => (await readShop(files)).diagnostics,
  /** Reading, then every plan in every edition. */
  plan: async (files) => {
    const { value: shop, diagnostics } = await readShop(files);
    if (shop === undefined) return diagnostics;
    const built = shop.plans.flatMap((plan) =>
      shop.shop.editions.flatMap((edition) => buildPlan(plan, edition, shop).diagnostics),
    );
    return sortDiagnostics([...diagnostics, ...mergeEditions(built, shop.shop.editions.length)]);
  },
};
