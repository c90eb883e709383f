/** Tools that cuts and joints ask for. Which tool makes which cut is common practice, no source. */
import type { CutList } from '../cutting/types.ts';
import type { JointPlace } from '../joinery/index.ts';
import type { EdgeWork } from '../model/shape.ts';
import { axisOfSide } from '../model/sides.ts';
import type { Plan } from '../model/types.ts';
import { printed, sizeText } from '../units.ts';

const american = (plan: Plan): boolean => plan.edition.language === 'en-US';

/** Tools for measuring and sawing the parts of the cut list. */
export function sawTools(plan: Plan, cutList: CutList): string[] {
  const tools = [
    'Tape measure, square and pencil',
    `${american(plan) ? 'Miter' : 'Mitre'} saw with a stop block, or a hand saw`,
  ];
  tools.push(...shapeTools(plan));
  if (cutList.rows.some((row) => row.rip) || hasEdgeBevel(plan))
    tools.push('Table saw, or a circular saw with a rip fence');
  if (plan.parts.some((part) => part.stock.sheets))
    tools.push('Circular saw and a straightedge to clamp on for the sheets, or a table saw that takes them');
  return tools;
}

/** True where a long edge is sawn out of square: a rip with the blade tilted. */
const hasEdgeBevel = (plan: Plan): boolean =>
  plan.parts.some((part) =>
    part.copies.some((copy) =>
      copy.shape.some(
        (one) => one.kind === 'saw' && !one.taper && axisOfSide(one.side) === 1 && one.saw.tilt > 0.05,
      ),
    ),
  );

/** Tools that shaping the parts asks for. */
function shapeTools(plan: Plan): string[] {
  const shapes = plan.parts.flatMap((part) => part.copies.flatMap((copy) => copy.shape));
  const tools: string[] = [];
  const has = (...kinds: readonly string[]): boolean =>
    shapes.some((one) => kinds.includes(one.kind) || ('name' in one && kinds.includes(one.name)));
  if (shapes.some((one) => one.kind === 'saw' && one.saw.mitre + one.saw.tilt > 0.05))
    tools.push('Sliding bevel or protractor');
  if (has('taper')) tools.push('Jack plane, or a taper jig for the table saw');
  if (
    has('housing', 'groove', 'rebate', 'slot') ||
    shapes.some((one) => one.kind === 'tongue' && one.name === 'tongue')
  )
    tools.push('Router with a straight bit, or a saw and chisels');
  if (has('notch')) tools.push('Hand saw and chisel');
  if (has('outline')) tools.push('Jigsaw or band saw');
  const edges = (name: EdgeWork['name']): EdgeWork[] =>
    shapes.filter((one): one is EdgeWork => one.kind === 'edge' && one.name === name);
  // Along a curve or into a notch a plane doesn't go, and inside corners ask for the bearing that the plan counts on.
  const bearing = (list: readonly EdgeWork[]): string => {
    const size = Math.min(...list.flatMap((one) => (one.follows ? [one.bearing ?? 0] : [])));
    if (size === Number.POSITIVE_INFINITY) return '';
    return ` and a bearing of ${sizeText(printed(size, plan.edition.numbers, 'drill'))}`;
  };
  const rounded = edges('round');
  if (rounded.length > 0)
    tools.push(
      `Router with a rounding-over bit${bearing(rounded)}, or ${bearing(rounded) ? 'a file' : 'a plane'} and sandpaper`,
    );
  const chamfered = edges('chamfer');
  if (chamfered.some((one) => one.edges.length > 0 || one.follows))
    tools.push(
      bearing(chamfered)
        ? `Router with a chamfer bit${bearing(chamfered)}, or a file`
        : 'Block plane, or a router with a chamfer bit',
    );
  if (chamfered.some((one) => one.holes)) tools.push('Countersink bit');
  if (plan.parts.some((part) => (part.banded ?? []).length > 0))
    tools.push('Household iron, and a chisel or trimmer for the edge banding');
  const bits = new Set(
    shapes.flatMap((one) =>
      one.kind === 'hole' && one.name === 'hole'
        ? [one.diameter, ...(one.counterbore ? [one.counterbore.diameter] : [])]
        : [],
    ),
  );
  const sizes = [...bits]
    .sort((a, b) => a - b)
    .map((size) => sizeText(printed(size, plan.edition.numbers, 'drill')));
  if (sizes.length === 1) tools.push(`Drill bit, ${sizes[0]}`);
  else if (sizes.length > 1) tools.push(`Drill bits, ${sizes.slice(0, -1).join(', ')} and ${sizes.at(-1)}`);
  return tools;
}

/** Tools for the joints of one step, or of the whole plan. */
export function jointTools(plan: Plan, places: readonly JointPlace[]): string[] {
  const kinds = new Set(places.map((place) => place.joint.by));
  const tools: string[] = [];
  const inch = plan.edition.numbers.system === 'inch';
  if (kinds.has('pocket screws')) {
    tools.push('Drill and driver', `Pocket-hole jig with its stepped bit, ${inch ? '3/8″' : '9.5\u00a0mm'}`);
  }
  if (kinds.has('screws')) tools.push('Drill and driver', 'Pilot and countersink bits');
  if (kinds.has('nails')) tools.push('Hammer and nail set');
  if (kinds.has('glue')) tools.push('Clamps');
  return unique(tools);
}

/**
 * Each tool once, in the order first named; letter case and the order of its alternatives don't tell tools apart, and a square named beside
 * a tape measure isn't named again by itself.
 */
export function unique(tools: readonly string[]): string[] {
  const seen = new Map<string, string>();
  for (const tool of tools) {
    const key = tool
      .toLowerCase()
      .split(/,? or /)
      .sort()
      .join(' or ');
    if (!seen.has(key)) seen.set(key, tool);
  }
  const within = (one: string): boolean =>
    [...seen.keys()].some(
      (other) => other !== one && !/\bor\b/.test(other) && other.split(/, | and /).includes(one),
    );
  return [...seen].flatMap(([key, tool]) => (within(key) ? [] : [tool]));
}
