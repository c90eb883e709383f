/** The phases a case can ask for: each takes the files of a shop and gives what it has to say. */
import { type Diagnostic, mergeEditions, sortDiagnostics } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { readShop } from '../../src/read/shop.ts';
import { inVariants, ofVariant } from '../../src/read/variants.ts';

export type Phase = (files: ReadonlyMap<string, string>) => Promise<readonly Diagnostic[]>;

export const PHASES: Readonly<Record<string, Phase>> = {
  /** Reading alone. */
  read: async (files) => (await readShop(files)).diagnostics,
  /** Reading, then every plan in every edition and variant. */
  plan: async (files) => {
    const { value: shop, diagnostics } = await readShop(files);
    if (shop === undefined) return diagnostics;
    const built = shop.plans.flatMap((plan) =>
      inVariants(plan).flatMap((one) =>
        shop.shop.editions.flatMap((edition) => ofVariant(one, buildPlan(one, edition, shop).diagnostics)),
      ),
    );
    const variants = (file: string) => shop.plans.find((plan) => plan.file === file)?.variants.length ?? 1;
    return sortDiagnostics([...diagnostics, ...mergeEditions(built, shop.shop.editions.length, variants)]);
  },
};
