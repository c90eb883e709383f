/** Tools that cuts and joints ask for. Which tool makes which cut is common practice, no source. */
import type { CutList } from '../cutting/types.ts';
import type { JointPlace } from '../joinery/index.ts';
import type { Plan } from '../model/types.ts';

const american = (plan: Plan): boolean => plan.edition.language === 'en-US';

/** Tools for measuring and sawing the parts of the cut list. */
export function sawTools(plan: Plan, cutList: CutList): string[] {
  const tools = [
    'Tape measure, square and pencil',
    `${american(plan) ? 'Miter' : 'Mitre'} saw with a stop block, or a hand saw`,
  ];
  if (cutList.rows.some((row) => row.rip)) tools.push('Table saw, or a circular saw with a rip fence');
  return tools;
}

/** Tools for the joints of one step, or of the whole plan. */
export function jointTools(plan: Plan, places: readonly JointPlace[]): string[] {
  const kinds = new Set(places.map((place) => place.joint.by));
  const tools: string[] = [];
  const inch = plan.edition.numbers.system === 'inch';
  if (kinds.has('pocket screws')) {
    tools.push('Drill and driver', `Pocket-hole jig with its stepped bit, ${inch ? '3/8 in' : '9.5 mm'}`);
  }
  if (kinds.has('screws')) tools.push('Drill and driver', 'Pilot and countersink bits');
  if (kinds.has('nails')) tools.push('Hammer and nail set');
  if (kinds.has('glue')) tools.push('Clamps');
  return unique(tools);
}

/** Each tool once, in the order first named; letter case doesn't tell tools apart. */
export function unique(tools: readonly string[]): string[] {
  const seen = new Map<string, string>();
  for (const tool of tools) if (!seen.has(tool.toLowerCase())) seen.set(tool.toLowerCase(), tool);
  return [...seen.values()];
}
