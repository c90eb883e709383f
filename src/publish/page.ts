/** A plan's page: the whole plan where it is free, what sells it where it is paid. */
import { freePage } from './page-free.ts';
import { paidPage } from './page-paid.ts';
import type { MadePage, PlanMatter } from './page-parts.ts';

/** The page of a plan, and the pictures that only it shows. */
export const planPage = (matter: PlanMatter): Promise<MadePage> =>
  matter.bundle.free ? freePage(matter) : paidPage(matter);
