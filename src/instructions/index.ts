/** The words of a plan: prose with its values, what each step needs, tools and cautions. */
import type { CutList } from '../cutting/types.ts';
import { arrivals, countFasteners, type Joinery } from '../joinery/index.ts';
import type { Plan, Step } from '../model/types.ts';
import type { Shop } from '../read/types.ts';
import { cautionsOf } from './cautions.ts';
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
  const steps = plan.steps.map((step) => stepInstructions(step, input, reader));
  const sections = plan.sections.map(({ title, prose }) => ({ title, blocks: reader.blocks(prose) }));
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
    diagnostics: reader.diagnostics,
  };
}

function stepInstructions(
  step: Step,
  { plan, cutList, joinery }: { plan: Plan; cutList: CutList; joinery: Joinery },
  reader: ProseReader,
): StepInstructions {
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
    hardware: hardwareOf(step, plan),
    tools: unique([...jointTools(plan, places), ...step.tools]),
  };
}

/** Hardware goes in with the part it is fixed to; what is fixed to nothing named goes with the last step. */
function hardwareOf(step: Step, plan: Plan) {
  const when = arrivals(plan);
  const last = plan.steps.at(-1)?.index;
  return plan.hardware.filter((use) => {
    const part = use.on?.split('.')[0];
    const arrival = part === undefined ? undefined : when.get(part);
    return (arrival?.added ?? last) === step.index;
  });
}

export { type Caution, cautionsOf, weightText } from './cautions.ts';
export type * from './types.ts';
