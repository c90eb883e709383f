/** `open="lid" about="lid.back, top" by="95 deg"`: parts of a drawing turned about a line where two faces meet, as a lid or a door is. */
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { hingeLine } from '../geometry/fittings.ts';
import type { Plan, Vec3 } from '../model/types.ts';
import type { DrawingRequest } from './types.ts';

/** The direction that each face looks along, by the axes of the piece. */
const AXIS: Readonly<Record<string, 0 | 1 | 2>> = {
  left: 0,
  right: 0,
  front: 1,
  back: 1,
  bottom: 2,
  floor: 2,
  top: 2,
};

const HINT = 'open="lid" about="lid.back, lid.top" by="95 deg"';

/** How some parts of a drawing are turned; undefined after a report. `parts` are the keys that `open` names. */
export function readOpen(
  { attributes, origin }: { attributes: DrawingAttributes; origin: Origin },
  parts: readonly string[],
  plan: Plan,
  diagnostics: Diagnostic[],
): DrawingRequest['open'] {
  const wrong = (attribute: string, expected: string, found: string): undefined => {
    diagnostics.push(fault(`drawing.${attribute}`, origin, { expected, found, hint: HINT }));
    return undefined;
  };
  if (attributes.open === undefined || attributes.open === null) {
    const stray = (['about', 'by', 'mirrored'] as const).find((key) => attributes[key] !== undefined);
    return stray === undefined
      ? undefined
      : wrong(stray, `open="…" with the parts that turn, beside ${stray}`, 'none');
  }
  const line = lineOf(attributes.about ?? '', plan, origin, wrong);
  if (line === undefined || 'problem' in line) {
    if (line?.problem) diagnostics.push(line.problem);
    return undefined;
  }
  const turn = plan.evaluate(attributes.by ?? '', origin);
  if (attributes.by && turn.problem) {
    diagnostics.push(turn.problem);
    return undefined;
  }
  const angle = turn.quantity?.kind === 'angle' ? turn.quantity.value : undefined;
  if (angle === undefined || angle === 0 || Math.abs(angle) > 270)
    return wrong(
      'by',
      'an angle of 270 deg at most in by="…"',
      attributes.by ? `"${attributes.by}"` : 'none',
    );
  if (parts.length === 0) return undefined; // said where the names were read
  const { point, axis } = line;
  const mirror = mirrorOf(attributes.mirrored, plan, line);
  if (mirror === 'wrong')
    return wrong(
      'mirrored',
      'left-right, front-back or bottom-top in mirrored="…", across which the hinges lie opposite each other',
      `"${attributes.mirrored ?? ''}"`,
    );
  const turned = { point, axis, angle: angle * opening(plan, parts, line, mirror) };
  return { parts, ...turned, ...(mirror === undefined ? {} : { mirror }) };
}

type Mirror = NonNullable<NonNullable<DrawingRequest['open']>['mirror']>;

const MIRRORS: Readonly<Record<string, 0 | 1 | 2>> = { 'left-right': 0, 'front-back': 1, 'bottom-top': 2 };

/** The plane in which a pair of doors is mirrored; 'wrong' where it is none, or the hinge lies along the way it mirrors, or in it. */
function mirrorOf(
  said: string | null | undefined,
  { outline }: Plan,
  { point, axis }: Line,
): Mirror | 'wrong' | undefined {
  if (said === undefined) return undefined;
  const across = MIRRORS[said?.trim() ?? ''];
  if (across === undefined || across === axis) return 'wrong';
  const middle = [outline.width, outline.depth, outline.height][across] as number;
  return Math.abs(point[across] - middle / 2) < 1 ? 'wrong' : { axis: across, middle: middle / 2 };
}

type Line = { readonly point: Vec3; readonly axis: 0 | 1 | 2 };
type Wrong = (attribute: string, expected: string, found: string) => undefined;

/** The line that is turned about: that of a hinge of the plan, or where two faces meet. Undefined after a report. */
function lineOf(
  about: string,
  plan: Plan,
  origin: Origin,
  wrong: Wrong,
): Line | { readonly problem: Diagnostic } | undefined {
  const found = about === '' ? 'none' : `"${about}"`;
  const hinge = plan.hardware.find(({ item }) => item.key === about.trim());
  if (hinge !== undefined)
    return (
      hingeLine(plan, hinge) ??
      wrong(
        'about',
        'a hinge that is on a part, with its width and thickness in its file, or two faces',
        found,
      )
    );
  const faces = about.split(',').map((face) => face.trim());
  const [first, second] = faces.map((face) => AXIS[face.split('.').at(-1) ?? '']);
  if (faces.length !== 2 || first === undefined || second === undefined || first === second)
    return wrong(
      'about',
      'two faces that meet in the line of the hinge, with a comma between, or a hinge of the hardware, in about="…"',
      found,
    );
  const places = faces.map((face) => plan.evaluate(face, origin));
  for (const { problem } of places) if (problem) return { problem };
  const point: [number, number, number] = [0, 0, 0];
  point[first] = places[0]?.quantity?.value ?? 0;
  point[second] = places[1]?.quantity?.value ?? 0;
  const axis = ([0, 1, 2] as const).find((one) => one !== first && one !== second) as 0 | 1 | 2;
  return { point, axis };
}

/** True for what lies on the other side of a pair's middle than the hinge that is named. */
export function isBeyond(
  { min, max }: { readonly min: Vec3; readonly max: Vec3 },
  { point, mirror }: Pick<NonNullable<DrawingRequest['open']>, 'point' | 'mirror'>,
): boolean {
  if (mirror === undefined) return false;
  const off = (min[mirror.axis] + max[mirror.axis]) / 2 - mirror.middle;
  return off * (point[mirror.axis] - mirror.middle) < 0;
}

type DrawingAttributes = Readonly<Record<string, string | null | undefined>>;

/**
 * 1 or −1, so that a positive angle opens: about a level line the parts' middle rises at first, about an upright one it comes to the front.
 */
function opening(
  plan: Plan,
  parts: readonly string[],
  { point, axis }: Line,
  mirror: Mirror | undefined,
): 1 | -1 {
  const all = plan.parts
    .filter((part) => parts.includes(part.key))
    .flatMap((part) => part.copies.map((copy) => copy.bounds));
  const own = mirror ? all.filter((one) => !isBeyond(one, { point, mirror })) : all;
  const bounds = own.length > 0 ? own : all;
  const middle = ([0, 1, 2] as const).map((k) => {
    const [low, high] = [Math.min(...bounds.map((b) => b.min[k])), Math.max(...bounds.map((b) => b.max[k]))];
    return (low + high) / 2 - point[k];
  });
  // A point (u, v) in the plane across the axis sets out towards (−v, u) when it turns by a positive angle.
  const [u, v] = [middle[(axis + 1) % 3] as number, middle[(axis + 2) % 3] as number];
  const sets = [0, 0, 0];
  sets[(axis + 1) % 3] = -v;
  sets[(axis + 2) % 3] = u;
  return (axis === 2 ? -(sets[1] as number) : (sets[2] as number)) < 0 ? -1 : 1;
}
