/** What the cut list says of housings that joints cut, and of the ends that go into them. */
import type { BoxCut, HousingWall, ShapeOperation } from '../model/shape.ts';
import { axisOfSide, faceOfSide, farCorner, isFar, SIDES, sideOf } from '../model/sides.ts';
import type { BlankSize, Face, Part, Plan } from '../model/types.ts';
import { reach } from '../resolve/convex.ts';
import { type Line, type Run, text } from '../text.ts';
import { mm, type NumberStyle, printed, printedAngle } from '../units.ts';

interface Words {
  readonly part: Part;
  readonly blank: BlankSize;
  readonly size: (length: number) => Run;
}

type Housing = BoxCut & { readonly layout: NonNullable<BoxCut['layout']> };

const isHousing = (one: ShapeOperation): one is Housing => one.kind === 'box' && one.layout !== undefined;
const OWN = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

/** Notes of what one joint cuts into a board: its housings of one face and size in one note, each with its place. */
export function housingNotes(
  part: Part,
  blank: BlankSize,
  all: readonly ShapeOperation[],
  style: NumberStyle,
): Line[] {
  const words: Words = { part, blank, size: (length) => ({ kind: 'size', size: printed(length, style) }) };
  const groups = new Map<string, Housing[]>();
  for (const one of all.filter(isHousing)) {
    const run = runWords(one, words);
    const key = JSON.stringify([one.face, one.width, run, wallWords(one)]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].map((group) => {
    const [one] = group as [Housing, ...Housing[]];
    const many = group.length > 1 ? `${group.length} housings` : 'housing';
    return [
      text(`${many} in the ${one.face} for the ${small(one.joint?.part ?? '')}: `),
      ...(one.width === undefined ? [] : [words.size(one.width), text(' wide, ')]),
      words.size(one.depth ?? 0),
      text(' deep'),
      ...placesOf(group, words),
      ...runWords(one, words),
      ...wallWords(one),
    ];
  });
}

/** A name inside a sentence; a capital that stands for itself stays: `T-brace`. */
const small = (name: string): string =>
  /^\p{Lu}\p{Ll}/u.test(name) ? `${name[0]?.toLowerCase()}${name.slice(1)}` : name;

/** True where its lines on the face run out of parallel to the board: no size along the board says where they are. */
const isTurned = ({ layout }: Housing): boolean => layout.walls.some(({ turn }) => turn !== 0);

/** Where an opening begins and ends along an own axis. */
const spanOf = ({ layout }: Housing, axis: 0 | 1 | 2) => reach(layout.opening, OWN[axis]);

/**
 * How a housing runs: nothing where it is open at both ends, `stopped 1/2″ before the front` where little is left, else how long it is
 * from its open end; one that is shut in along the board by its length and its place.
 */
function runWords(one: Housing, { part, blank, size }: Words): Run[] {
  const { run } = one.layout;
  if (isTurned(one)) return [];
  const whole = farCorner(blank)[run];
  const { low, high } = spanOf(one, run);
  const [first, second] = one.stopped;
  if (first === undefined) return [];
  const before = (face: Face): number => (isFar(sideOf(part, face)) ? whole - high : low);
  if (second === undefined && before(first) > whole / 2) {
    const open = faceOfSide(part, isFar(sideOf(part, first)) ? startOf(run) : endOf(run));
    return [text(', '), size(whole - before(first)), text(` long from the ${open}`)];
  }
  if (second !== undefined && run === 0) {
    const near = before(first) <= before(second) ? first : second;
    return [text(', '), size(high - low), text(' long, '), size(before(near)), text(` from the ${near}`)];
  }
  return one.stopped.flatMap((face, i): Run[] => [
    text(i === 0 ? ', stopped ' : ' and '),
    size(before(face)),
    text(` before the ${face}`),
  ]);
}

const startOf = (axis: 0 | 1 | 2) => SIDES[axis * 2] as (typeof SIDES)[number];
const endOf = (axis: 0 | 1 | 2) => SIDES[axis * 2 + 1] as (typeof SIDES)[number];

/** `, bottom wall undercut 8°`; of walls out of parallel that their lines are on the part's sheet. */
function wallWords(one: Housing): Run[] {
  const slanted = one.layout.walls.filter(({ undercut }) => undercut !== 0);
  return [
    ...slanted.map((wall) => text(`, ${wallText(wall)}`)),
    ...(isTurned(one) ? [text(', out of parallel: set out as on its sheet')] : []),
  ];
}

/** `bottom wall undercut 8°`. */
const wallText = ({ face, undercut }: HousingWall): string =>
  `${face} wall ${undercut > 0 ? 'undercut' : 'sloped in'} ${printedAngle(Math.abs(undercut))}`;

/** Where housings of one kind lie across their run, all from the side that the first of them is nearer to. */
function placesOf(group: readonly Housing[], { part, blank, size }: Words): Run[] {
  const [one] = group as [Housing, ...Housing[]];
  const { run } = one.layout;
  const axis = ([0, 1, 2] as const).find((each) => each !== run && one.side && each !== axisOfSide(one.side));
  if (axis === undefined || isTurned(one)) return [];
  const whole = farCorner(blank)[axis];
  const first = spanOf(one, axis);
  if (first.low < 0.05 && first.high > whole - 0.05) return [];
  const low = first.low <= whole - first.high;
  const at = group
    .map((each) => spanOf(each, axis))
    .map((span) => (low ? span.low : whole - span.high))
    .sort((a, b) => a - b);
  const from = faceOfSide(part, low ? startOf(axis) : endOf(axis));
  if (at.length === 1 && (at[0] ?? 0) < 0.05) return [text(`, flush with the ${from}`)];
  const said = at.flatMap((value, i): Run[] => [
    text(i === 0 ? ', ' : i === at.length - 1 ? ' and ' : ', '),
    size(value),
  ]);
  return [...said, text(` from the ${from}`)];
}

/** How much of the length goes into housings: `both ends go 6 mm into the side`. */
export function housedNotes({ housed = [] }: Part, plan: Plan): Line[] {
  const depths = [...new Set(housed.map(({ depth }) => depth))];
  return depths.map((depth): Line => {
    const ends = housed.filter((one) => one.depth === depth);
    const faces = [...new Set(ends.map(({ face }) => face))];
    const into = [
      ...new Set(ends.map((one) => plan.parts.find(({ key }) => key === one.into)?.name ?? one.into)),
    ];
    return [
      text(faces.length > 1 ? 'both ends go ' : `the ${faces[0]} end goes `),
      { kind: 'size', size: printed(mm(depth), plan.edition.numbers) },
      text(` into the ${into.map((name) => name.toLowerCase()).join(' and the ')}`),
    ];
  });
}
