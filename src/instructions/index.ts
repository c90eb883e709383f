/** The words of a plan: prose with its values, what each step needs, tools and cautions. */
import type { CutList } from '../cutting/types.ts';
import { arrivals, countFasteners, type Joinery, type JointPlace } from '../joinery/index.ts';
import type { HardwareUse, Part, Plan, Step } from '../model/types.ts';
import type { Shop } from '../read/types.ts';
import { cautionsOf } from './cautions.ts';
import { pictureOf } from './picture.ts';
import { ProseReader } from './prose.ts';
import { jointTools, sawTools, unique } from './tools.ts';
import type { Instructions, StepInstructions } from './types.ts';

/** Writes the instructions of a plan for its edition. Faults in directives are in `diagnostics`, each with its place. */
export function writeInstructions(input: {
  plan: Plan;
  cutList: CutList;
  joinery: Joinery;
  shop: Shop;
}): Instructions {
  const { plan, cutList, joinery, shop } = input;
  const reader = new ProseReader({ plan, cutList, joinery });
  const opening = reader.blocks(plan.opening);
  const stepsOpening = reader.blocks(plan.stepsOpening);
  const written = plan.steps.map((step) => stepInstructions(step, input, reader));
  const sections = plan.sections.map(({ title, prose }) => ({ title, blocks: reader.blocks(prose) }));
  const taken = hardwareBySteps(plan, joinery, reader.named);
  const steps = written.map((step) => ({ ...step, hardware: taken.get(step.index) ?? [] }));
  const picture = pictureOf(plan, reader.requests);
  return {
    opening,
    stepsOpening,
    steps,
    sections,
    tools: unique([
      ...sawTools(plan, cutList),
      ...jointTools(plan, joinery.places),
      ...plan.steps.flatMap((step) => step.tools),
      ...plan.front.tools,
    ]),
    cautions: [...shop.safety, ...cautionsOf(plan, cutList).map((caution) => caution.message)],
    requests: reader.requests,
    ...(picture.value === undefined ? {} : { picture: picture.value }),
    diagnostics: [...reader.diagnostics, ...picture.diagnostics],
  };
}

const isGlued = ({ joint }: JointPlace): boolean => joint.by === 'glue';

function stepInstructions(
  step: Step,
  { plan, cutList, joinery }: { plan: Plan; cutList: CutList; joinery: Joinery },
  reader: ProseReader,
): Omit<StepInstructions, 'hardware'> {
  const places = joinery.bySteps.get(step.index) ?? [];
  return {
    index: step.index,
    title: step.title,
    blocks: reader.blocks(step.prose, step.index),
    parts: step.adds.flatMap((key) =>
      cutList.rows
        .filter((row) => row.part === key)
        .map(({ letter, name, quantity }) => ({ letter, name, quantity })),
    ),
    sets: step.sets,
    fasteners: countFasteners(places),
    tools: unique([...jointTools(plan, places), ...step.tools]),
  };
}

/**
 * Hardware goes in with the first step whose words name it. What no step names goes with the part it is fixed to, glue with the first step
 * that glues, edge banding with the first part that is banded, and what is fixed to nothing with the last step, unless a section after
 * the steps names it: a finish belongs there.
 */
function hardwareBySteps(
  plan: Plan,
  joinery: Joinery,
  named: ReadonlyMap<string, ReadonlySet<number | undefined>>,
): ReadonlyMap<number, readonly HardwareUse[]> {
  const when = arrivals(plan);
  const last = plan.steps.at(-1)?.index;
  const firstOf = (fits: (part: Part) => boolean): readonly number[] =>
    plan.parts.flatMap((part) => (fits(part) ? [when.get(part.key)?.added ?? []] : [])).flat();
  const glued = [
    ...[...joinery.bySteps].flatMap(([step, places]) => (places.some(isGlued) ? [step] : [])),
    ...firstOf((part) => part.panel !== undefined),
  ];
  const banded = firstOf((part) => (part.banded ?? []).length > 0);
  const first = ({ item }: HardwareUse): number | undefined => {
    const steps = item.fits?.joint === 'glue' ? glued : item.bands ? banded : [];
    return steps.length === 0 ? undefined : Math.min(...steps);
  };
  const found = new Map<number, HardwareUse[]>();
  for (const use of plan.hardware) {
    const mentions = [...(named.get(use.item.key) ?? [])];
    const steps = mentions.filter((step) => step !== undefined).sort((a, b) => a - b);
    const part = use.on?.split('.')[0];
    const index =
      steps[0] ??
      (part === undefined ? undefined : when.get(part)?.added) ??
      (mentions.length > 0 ? undefined : (first(use) ?? last));
    if (index !== undefined) found.set(index, [...(found.get(index) ?? []), use]);
  }
  return found;
}

export { type Caution, cautionsOf, weightText } from './cautions.ts';
export type * from './types.ts';
