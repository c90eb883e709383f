/** The plans of the demo shop computed in every edition, without their drawings; once for all tests of a file. */
import { computeShop } from '../../src/build.ts';
import { realDisk } from '../../src/disk.ts';
import type { ComputedPlan } from '../../src/figures.ts';
import { noCache } from '../../src/shell/cache.ts';
import { localPool } from '../../src/shell/pool.ts';
import { perform } from '../../src/tasks.ts';
import { demoShop } from './run.ts';

let computed: Promise<{ readonly name: string; readonly computed: ComputedPlan }[]> | undefined;

/** Each plan in each edition; `name` says which. */
export function computedDemo(): Promise<{ readonly name: string; readonly computed: ComputedPlan }[]> {
  computed ??= computeShop({
    disk: realDisk(),
    shop: demoShop(),
    plans: [],
    cache: noCache,
    progress: { say: () => {}, clear: () => {} },
    pool: localPool(perform),
  }).then(({ plans }) =>
    plans.flatMap(({ slug, editions }) =>
      editions.map(({ edition, computed: one }) => ({ name: `${slug} ${edition.key}`, computed: one })),
    ),
  );
  return computed;
}
