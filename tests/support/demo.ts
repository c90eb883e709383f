/** The demo shop of this repository, read and built: whole plans for tests of all phases. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { hasErrors } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Plan } from '../../src/model/types.ts';
import { hardwareIn } from '../../src/read/hardware.ts';
import { readShop } from '../../src/read/shop.ts';
import type { ShopSource } from '../../src/read/types.ts';
import { inVariants } from '../../src/read/variants.ts';

// Two folders below the root, or one where it is bundled into a program of its own.
const root = ['../../', '../']
  .map((up) => new URL(up, import.meta.url))
  .find((folder) => existsSync(new URL('content/', folder))) as URL;

/** Text files of the demo shop by path, photos as empty text. */
export function demoFiles(): Map<string, string> {
  const files = new Map<string, string>();
  const walk = (folder: string): void => {
    for (const name of readdirSync(new URL(folder, root)).sort()) {
      const path = `${folder}/${name}`;
      if (statSync(new URL(path, root)).isDirectory()) walk(path);
      else files.set(path, /\.(md|yaml)$/.test(name) ? readFileSync(new URL(path, root), 'utf8') : '');
    }
  };
  walk('content');
  return files;
}

/** A shop read from files; throws with the first message where it has an error. */
export async function shopOf(files: ReadonlyMap<string, string>): Promise<ShopSource> {
  const { value, diagnostics } = await readShop(files);
  if (!value || hasErrors(diagnostics)) throw new Error(JSON.stringify(diagnostics[0]));
  return value;
}

/** A plan of a shop in an edition, as written or in one of its variants; throws with the first message where it has an error. */
export function planOf(shop: ShopSource, slug: string, edition: string, variant?: string): Plan {
  const written = shop.plans.find((plan) => plan.slug === slug);
  const source =
    variant === undefined
      ? written
      : written && inVariants(written).find((one) => one.variant?.key === variant);
  const found = shop.shop.editions.find((item) => item.key === edition);
  if (!source || !found) throw new Error(`no ${slug} or ${edition}`);
  // as the edition's trade sells it, which is what `publish` builds with
  const hardware = hardwareIn(shop.hardware, found.numbers.system);
  const { value, diagnostics } = buildPlan(source, found, { ...shop, hardware });
  if (!value || hasErrors(diagnostics)) throw new Error(JSON.stringify(diagnostics[0]));
  return value;
}
