/** The demo shop's plans computed as `publish` computes them, up to their drawings. */
import { fileURLToPath } from 'node:url';
import { computeShop } from '../../src/build.ts';
import { realDisk } from '../../src/disk.ts';
import type { DrawInput } from '../../src/draw/index.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { noCache } from '../../src/shell/cache.ts';
import { localPool } from '../../src/shell/pool.ts';
import { perform } from '../../src/tasks.ts';

/** Every plan of a shop folder in every edition; the demo shop where none is named. */
export async function demoWorks(
  shop: string,
  plans: readonly string[] = [],
): Promise<{ name: string; work: DrawInput }[]> {
  const disk = realDisk();
  const progress = { say: () => {}, clear: () => {} };
  const computed = await computeShop({
    disk,
    shop,
    plans,
    cache: noCache,
    progress,
    pool: localPool(perform),
  });
  const solids = await loadSolids();
  return computed.plans.flatMap(({ slug, editions }) =>
    editions.map(({ edition, computed: finished }) => ({
      name: [slug, finished.plan.variant, edition.key].filter((word) => word !== undefined).join('-'),
      work: { ...finished, parts: placeParts(finished.plan, solids, finished.joinery), solids },
    })),
  );
}

/** The folder of this repository, from a test or from a bundle one folder below the root. */
export const repository = fileURLToPath(
  new URL(import.meta.url.includes('/tests/draw/') ? '../..' : '..', import.meta.url),
);
