/** Joints: where parts meet, what fastens them there, and in which step. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import type { Joint, Part, Plan, ShapeOperation, Vec3 } from '../model/types.ts';
import type { Face, HardwareItem } from '../read/types.ts';
import { directionOf, FACES_OF } from '../resolve/directions.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import { dot } from '../resolve/vectors.ts';
import { printed, sizeText } from '../units.ts';
import { contactsBetween, facingGap, gapBetween } from './contacts.ts';
import { boreJoints } from './cuts.ts';
import { chooseFastener, fastenerRanges, passes, USUAL_COUNT } from './fasteners.ts';
import { arrivals, joinedIn } from './steps.ts';
import { isPlain } from './surfaces.ts';
import type { Contact, FastenerCount, Joinery, JointPlace } from './types.ts';

/**
 * Finds where the plan's joints are, chooses their fasteners and counts them. A joint whose parts touch nowhere is an error
 * that names the gap; one that no fastener in the shop's hardware fits is an error that names what there is.
 */
export function findJoinery(plan: Plan, hardware: readonly HardwareItem[]): Joinery {
  const parts = new Map(plan.parts.map((part) => [part.key, part]));
  const when = arrivals(plan);
  const places: JointPlace[] = [];
  const bySteps = new Map<number, JointPlace[]>();
  const diagnostics: Diagnostic[] = [];
  const cuts = new Map<string, readonly ShapeOperation[]>();
  for (const joint of plan.joints) {
    const first = parts.get(joint.join);
    const second = parts.get(joint.to);
    if (!first || !second) continue; // named by the model already
    const contacts = contactsBetween(first.copies, second.copies, drivenAlong(joint, first));
    if (contacts.length === 0) {
      diagnostics.push(apart(plan, joint, first, second));
      continue;
    }
    const beside = headsBeside(joint, contacts);
    if (beside !== undefined) {
      diagnostics.push(besideFault(plan, joint, beside));
      continue;
    }
    const made: JointPlace[] = [];
    let missing: number | undefined;
    for (const contact of contacts) {
      const place = placeOf(plan, joint, first, contact, hardware);
      if (typeof place === 'number') missing = place;
      else made.push(place);
    }
    const bored = boreJoints(plan, made);
    made.splice(0, made.length, ...bored.places);
    for (const [id, holes] of bored.cuts) cuts.set(id, [...(cuts.get(id) ?? []), ...holes]);
    diagnostics.push(...bored.diagnostics);
    if (missing !== undefined) diagnostics.push(noFastener(plan, joint, missing, hardware));
    places.push(...made);
    const step = joinedIn(first, second, when);
    if (step !== undefined) bySteps.set(step, [...(bySteps.get(step) ?? []), ...made]);
  }
  return { places, fasteners: countFasteners(places), bySteps, cuts, diagnostics };
}

/** The way screws and nails go, where the author says from which face, and an end into its housing; pockets go askew and glue any way. */
const drivenAlong = ({ by, from }: Joint, first: Part): Vec3 | undefined =>
  by === 'housing'
    ? first.copies[0]?.frame.length
    : from !== undefined && (by === 'screws' || by === 'nails')
      ? axisOf(directionOf(from))
      : undefined;

/** Faces by the axis along which they look. */
const LOOKING = [FACES_OF.across, FACES_OF.deep, FACES_OF.up] as const;

/**
 * Where the heads of screws or nails are said to be in a face along which the two boards lie: no fastener from there reaches the second one.
 * Gives the face they could go in from, of the first contact's; nothing where all is well or one contact can be driven so.
 */
function headsBeside({ by, from }: Joint, contacts: readonly Contact[]): Face | undefined {
  if (from === undefined || (by !== 'screws' && by !== 'nails')) return undefined;
  const way = axisOf(directionOf(from));
  if (contacts.some(({ normal }) => Math.abs(dot(normal, way)) > 0.3)) return undefined;
  return headFace(contacts[0]?.normal ?? way);
}

/** The face that carries the heads: a contact's normal looks into the second board, and they are on the other side of the first. */
function headFace(normal: Vec3): Face {
  const axis = ([0, 1, 2] as const).reduce((a, b) => (Math.abs(normal[b]) > Math.abs(normal[a]) ? b : a));
  return LOOKING[axis][normal[axis] > 0 ? 0 : 1];
}

const besideFault = (plan: Plan, joint: Joint, face: Face): Diagnostic =>
  fault('joint.from', joint.origin, {
    expected: `a face of "${joint.join}" from which ${joint.by} reach "${joint.to}"`,
    found: `from: ${joint.from}, along which the two lie beside each other`,
    hint: `from: ${face}`,
    parts: [joint.join, joint.to],
    edition: plan.edition.key,
  });

/** A joint at one contact, or the thickness that no fastener fits. */
function placeOf(
  plan: Plan,
  joint: Joint,
  first: Part,
  contact: Contact,
  hardware: readonly HardwareItem[],
): JointPlace | number {
  const count = joint.count ?? USUAL_COUNT[joint.by];
  if (joint.by === 'glue' || joint.by === 'housing') return { joint, contact, count: 0 };
  if (joint.with) return { joint, contact, count, fastener: joint.with };
  const copy = first.copies.find((item) => item.id === contact.first);
  if (!copy) return { joint, contact, count };
  const thickness = joint.by === 'pocket screws' ? copy.size.thickness : passes(copy, contact);
  const fastener = chooseFastener(hardware, joint.by, thickness, plan.stockList.region);
  return fastener ? { joint, contact, count, fastener } : thickness;
}

/** Fasteners by item, in the order in which they first occur. */
export function countFasteners(places: readonly JointPlace[]): FastenerCount[] {
  const totals = new Map<string, FastenerCount>();
  for (const { fastener, count, joint } of places) {
    if (!fastener || count === 0) continue;
    const sofar = totals.get(fastener.key)?.count ?? 0;
    totals.set(fastener.key, { item: fastener, kind: joint.by, count: sofar + count });
  }
  return [...totals.values()];
}

function apart(plan: Plan, joint: Joint, first: Part, second: Part): Diagnostic {
  const gaps = first.copies.flatMap((a) => second.copies.map((b) => gapBetween(a.bounds, b.bounds)));
  const least = gaps.length === 0 ? 0 : Math.min(...gaps);
  const print = (length: number) => sizeText(printed(length, plan.edition.numbers));
  const facing = least > 0 ? undefined : facingGap(first.copies, second.copies);
  return fault('joint.apart', joint.origin, {
    expected: `${first.key} and ${second.key} to touch where they are joined`,
    found:
      least > 0
        ? `a gap of ${print(least)} between the nearest of them`
        : first.copies.concat(second.copies).every(isPlain)
          ? 'that they overlap or meet at an edge only'
          : facing === undefined
            ? 'no two faces that lie against each other'
            : `faces that look at each other and are ${print(Math.abs(facing))} ${facing > 0 ? 'apart' : 'in each other'}`,
    hint:
      joint.join === joint.to
        ? `its own copies don't meet: under "to" name the part that it meets`
        : `move a face so that they meet, for instance by writing the place of one as a face of the other (${second.key}.top, ${second.key}.back …)`,
    parts: [first.key, second.key],
    edition: plan.edition.key,
  });
}

/** True where screws or nails would go in along the board that carries their heads: nearly always its parts stand the wrong way round. */
function endwise(plan: Plan, { by, join }: Joint, thickness: number): boolean {
  const size = plan.parts.find(({ key }) => key === join)?.copies[0]?.size;
  return (by === 'screws' || by === 'nails') && size !== undefined && thickness > size.width + 1;
}

/** Where screws or nails through the second part would fit: the joint that is meant then. */
function otherWay(plan: Plan, joint: Joint, hardware: readonly HardwareItem[]): string | undefined {
  const { by, join, to } = joint;
  if (by !== 'screws' && by !== 'nails') return undefined;
  const [first, second] = [join, to].map((key) => plan.parts.find((part) => part.key === key));
  const [contact] = contactsBetween(
    second?.copies ?? [],
    first?.copies ?? [],
    first && drivenAlong(joint, first),
  );
  const copy = second?.copies.find(({ id }) => id === contact?.first);
  if (!contact || !copy) return undefined;
  if (!chooseFastener(hardware, by, passes(copy, contact), plan.stockList.region)) return undefined;
  return `they go through "${join}" first; to drive them through "${to}" write join: ${to}, to: ${join}, from: ${headFace(contact.normal)}`;
}

function noFastener(
  plan: Plan,
  joint: Joint,
  thickness: number,
  hardware: readonly HardwareItem[],
): Diagnostic {
  const print = (length: number) => sizeText(printed(length, plan.edition.numbers));
  const ranges = fastenerRanges(hardware, joint.by).map(([from, to]) => `${print(from)} to ${print(to)}`);
  return fault('joint.fastener', joint.origin, {
    expected: `${joint.by} in the shop's hardware that fit ${print(thickness)} of wood`,
    found: ranges.length === 0 ? `no ${joint.by} there` : `${joint.by} for ${ranges.join(', ')}`,
    hint: endwise(plan, joint, thickness)
      ? `they would run lengthwise through "${joint.join}", which carries the heads: write join: ${joint.to}, to: ${joint.join}, or by: pocket screws`
      : (otherWay(plan, joint, hardware) ??
        'name one with "with: <key>", or add one to a file in content/hardware'),
    parts: [joint.join, joint.to],
    edition: plan.edition.key,
  });
}

export { contactsBetween, gapBetween } from './contacts.ts';
export { arrivals, joinedIn } from './steps.ts';
export type { Contact, FastenerCount, FastenerPoint, Joinery, JointPlace } from './types.ts';
