/** A plan for one edition: parts placed, joints, hardware and steps looked up. */
import type { Diagnostic, Outcome } from '../diagnostics.ts';
import { hasErrors } from '../diagnostics.ts';
import { withOwn } from '../read/own-stock.ts';
import type { Edition, PlanSource, ShopSource } from '../read/types.ts';
import { resolvePlan } from '../resolve/resolve.ts';
import { styleForSheets } from '../units.ts';
import { withSpots } from './fittings.ts';
import { housedParts } from './housings.ts';
import { hardwareOf, jointsOf, type Names } from './joints.ts';
import { partsOf } from './parts.ts';
import { stepsOf } from './steps.ts';
import type { Part, Plan, Step } from './types.ts';

/**
 * Builds a plan for one edition. Every fault of the plan's own blocks is found in one run, each with its place and marked with
 * the edition; the value is undefined where there is an error. Never throws on what an author wrote.
 */
export function buildPlan(source: PlanSource, edition: Edition, shop: ShopSource): Outcome<Plan | undefined> {
  const resolved = resolvePlan(source, edition, shop);
  const own: Diagnostic[] = [];
  const names: Names = {
    source,
    edition,
    shop,
    stockList: shop.stockLists.find((list) => list.key === edition.stockList),
    report: (diagnostic) => void own.push({ ...diagnostic, edition: edition.key }),
  };
  const joints = jointsOf(names, resolved.value);
  const named = hardwareOf(names, resolved.value);
  const steps = stepsOf(names);
  const plan = resolved.value;
  const parts = plan ? housedParts(partsOf(plan, names.report), plan, names.report) : [];
  const hardware = plan ? withSpots(named, parts, edition.numbers, names.report) : named;
  const diagnostics = [...resolved.diagnostics, ...own];
  if (!plan || hasErrors(diagnostics)) return { value: undefined, diagnostics };
  const value: Plan = {
    slug: source.slug,
    file: source.file,
    front: source.front,
    edition: withSheets(edition, parts),
    ...(source.variant === undefined ? {} : { variant: source.variant.key }),
    stockList: withOwn(plan.stockList, shop.onHand ?? []),
    outline: plan.outline,
    sizes: plan.sizes,
    parts: withAssemblies(parts, steps),
    joints,
    hardware,
    steps,
    opening: source.opening,
    sections: source.sections,
    stepsOpening: source.stepsOpening,
    roundings: plan.roundings,
    evaluate: plan.evaluate,
  };
  return { value, diagnostics };
}

/** The edition prints the real thicknesses of the plan's sheets wherever they come up. */
function withSheets(edition: Edition, parts: readonly Part[]): Edition {
  const thick = parts.flatMap(({ stock }) => (stock.sheets === undefined ? [] : [stock.thickness]));
  const numbers = styleForSheets(edition.numbers, thick);
  return numbers === edition.numbers ? edition : { ...edition, numbers };
}

/** A part that a step adds to the assembly it builds belongs to that assembly, whether or not the part says so. */
function withAssemblies(parts: readonly Part[], steps: readonly Step[]): readonly Part[] {
  const home = new Map(
    steps.flatMap((step) =>
      step.assembly === undefined ? [] : step.adds.map((key) => [key, step.assembly as string] as const),
    ),
  );
  return parts.map((part) => {
    const assembly = part.assembly ?? home.get(part.key);
    return assembly === undefined ? part : { ...part, assembly };
  });
}
