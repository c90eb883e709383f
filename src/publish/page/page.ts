/** A plan's page: the whole plan where it is free, what sells it where it is paid. */
import { freePage } from './page-free.ts';
import { makeSamples, paidPage, type Samples } from './page-paid.ts';
import type { MadePage, PlanMatter } from './page-parts.ts';

/** The pictures that only a plan's page shows, which need no sheets. */
export const pagePictures = async (of: Pick<PlanMatter, 'bundle' | 'site'>): Promise<Samples> =>
  of.bundle.free ? { samples: [], files: [] } : makeSamples(of);

/** The page of a plan, and the pictures that only it shows. */
export const planPage = async (matter: PlanMatter, samples: Samples): Promise<MadePage> =>
  matter.bundle.free ? freePage(matter) : paidPage(matter, samples);
