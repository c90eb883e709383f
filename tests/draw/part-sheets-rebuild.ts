/**
 * Works out the operations of a board again from its sheet: the same list with every number from the print. Which sides something is on,
 * which way it leans and whether it goes through is seen in the drawing or said in words, and checked where it is said.
 */
import { expect } from 'vitest';
import type { ShapeOperation, Side } from '../../src/model/shape.ts';
import type { BlankSize, Vec3 } from '../../src/model/types.ts';
import { blankOf } from '../../src/model/workpiece.ts';
import { type Convex, cutConvex } from '../../src/resolve/convex.ts';
import { bow, outline } from './part-sheets-curves.ts';
import { housing } from './part-sheets-housings.ts';
import { LENGTH, lengthFrom, type Sheet } from './part-sheets-read.ts';

type Of<K extends ShapeOperation['kind']> = Extract<ShapeOperation, { kind: K }>;
type Axis = 0 | 1 | 2;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const unit = (v: Vec3): Vec3 => v.map((x) => x / Math.hypot(...v)) as unknown as Vec3;
const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const sizesOf = ({ length, width, thickness }: BlankSize): Vec3 => [length, width, thickness];
const xyz = ['x', 'y', 'z'] as const;

/** The operation at a place of a board's list, from the sheet. */
export function rebuilt(
  list: readonly ShapeOperation[],
  i: number,
  own: BlankSize,
  sheet: Sheet,
): ShapeOperation {
  const one = list[i] as ShapeOperation;
  switch (one.kind) {
    case 'saw':
      return one.taper ? taper(one, list, i, own, sheet) : sawn(one, i, sheet);
    case 'box':
      return one.layout && !one.square
        ? housing(one, i, sizesOf(own), sawnHull(list, own, sheet), sheet)
        : box(one, list, i, own, sheet);
    case 'hole':
      return hole(one, i, own, sheet);
    case 'slot':
      return slot(one, i, own, sheet);
    case 'outline':
      return one.arc ? bow(one, i, own, sheet) : outline(one, i, own, sheet);
    case 'edge':
      return {
        ...one,
        size: sheet.number(`${i} size`, new RegExp(`(?:R |chamfered, )(${LENGTH})`)),
        ...(one.left ? { bearing: sheet.number(`${i} bearing`, new RegExp(`Ø (${LENGTH})`)) } : {}),
      };
    case 'tongue':
      return tongue(one, i, own, sheet);
  }
}

// ---------------------------------------------------------------- saw cuts

/** Its angles on two sides, and the corner of the blank that it goes through: the board is as long or wide as it is printed. */
function sawn(one: Of<'saw'>, i: number, sheet: Sheet): Of<'saw'> {
  const axis = ({ start: 0, end: 0, 'low edge': 1, 'high edge': 1, reverse: 2, face: 2 } as const)[one.side];
  const sign = ['end', 'high edge', 'face'].includes(one.side) ? 1 : -1;
  const tangent = (name: string): number =>
    sheet.has(`${i} ${name}`) ? Math.tan(radians(sheet.angle(`${i} ${name}`))) : 0;
  // Seen: to which side it leans.
  const lean = (k: Axis, value: number): number => Math.sign(one.plane.normal[k]) * value;
  const normal: [number, number, number] = [0, 0, 0];
  normal[axis] = sign;
  if (axis === 0) {
    normal[1] = lean(1, tangent('across'));
    normal[2] = lean(2, tangent('through'));
  } else {
    const along = tangent('along');
    if (along > 0) {
      const end = one.plane.normal[0] > 0 ? 'left' : 'right';
      expect(sheet.text(`${i} along`)).toContain(`at the ${end} end`);
    }
    normal[0] = lean(0, along);
    if (axis === 1) normal[2] = lean(2, tangent('through'));
  }
  const corner = normal.map((v, k) =>
    k === axis ? (sign > 0 ? sheet.size[k as Axis] : 0) : v > 0 ? 0 : sheet.size[k as Axis],
  ) as unknown as Vec3;
  const plane = unit(normal);
  return { ...one, plane: { normal: plane, offset: dot(plane, corner) } };
}

/** What the saw leaves of the blank, both as printed. */
function sawnHull(list: readonly ShapeOperation[], own: BlankSize, sheet: Sheet): Convex<Side> {
  let hull: Convex<Side> = blankOf(sheet.blank());
  list.forEach((one, i) => {
    if (one.kind === 'saw')
      hull = cutConvex(hull, (rebuilt(list, i, own, sheet) as Of<'saw'>).plane, one.side);
  });
  return hull;
}

const widthOf = ({ side }: Of<'saw'>): 1 | 2 => (side === 'low edge' || side === 'high edge' ? 1 : 2);
const lowSide = ({ side }: Of<'saw'>): boolean => side === 'low edge' || side === 'reverse';
const narrow = ({ plane }: Of<'saw'>): 'start' | 'end' => (plane.normal[0] > 0 ? 'end' : 'start');

function taper(
  one: Of<'saw'>,
  list: readonly ShapeOperation[],
  i: number,
  own: BlankSize,
  sheet: Sheet,
): Of<'saw'> {
  const axis = widthOf(one);
  const whole = sheet.size[axis];
  const pair = list.filter(
    (other): other is Of<'saw'> =>
      other.kind === 'saw' && !!other.taper && widthOf(other) === axis && narrow(other) === narrow(one),
  );
  const left = sheet.number(`${i} leaves`);
  const both = new Set(pair.map(lowSide)).size === 2;
  let by = whole - left;
  if (both) {
    // Where the narrow end lies: in the middle in words, or a place of one of its sides.
    const words = sheet.has(`middle ${narrow(one)}`) ? sheet.text(`middle ${narrow(one)}`) : '';
    if (words.includes(axis === 1 ? 'width' : 'thickness')) by = (whole - left) / 2;
    else {
      const sum = (low: boolean): number =>
        pair
          .filter((other) => lowSide(other) === low)
          .reduce((all, other) => all + (other.taper?.by ?? 0), 0);
      const fromLow = sum(true) <= sum(false);
      const at = sheet.place(`${i} place`, axis, fromLow ? sum(true) : sizesOf(own)[axis] - sum(false));
      const low = fromLow ? at : at - left;
      by = lowSide(one) ? low : whole - left - low;
    }
  }
  const length = sheet.has(`${i} length`) ? sheet.number(`${i} length`) : sheet.size[0];
  const far = narrow(one) === 'end';
  const start = far ? sheet.size[0] - length : length;
  const normal: [number, number, number] = [far ? by : -by, 0, 0];
  normal[axis] = lowSide(one) ? -length : length;
  const at: [number, number, number] = [start, 0, 0];
  at[axis] = lowSide(one) ? 0 : whole;
  const plane = unit(normal);
  return {
    ...one,
    plane: { normal: plane, offset: dot(plane, at) },
    taper: { ...(one.taper as NonNullable<typeof one.taper>), by, leaves: left, length },
  };
}

// ---------------------------------------------------------------- boxes

function box(
  one: Of<'box'>,
  list: readonly ShapeOperation[],
  i: number,
  own: BlankSize,
  sheet: Sheet,
): Of<'box'> {
  const whole = sizesOf(own);
  const spans = ([0, 1, 2] as const).map((axis): [number, number] => {
    const seen: [number, number] = [one.min[axis], one.max[axis]];
    if (axis === 2 && sheet.has(`${i} deep`)) {
      const words = sheet.text(`${i} deep`);
      const deep = sheet.number(`${i} deep`, new RegExp(`(${LENGTH}) deep`));
      const back = one.min[2] < 0.05;
      sheet.behind(`${i} deep`, back);
      // Those of the other face are counted in its own view.
      const alike = list.filter(
        (other, k) =>
          other.kind === 'box' &&
          other.min[2] < 0.05 === back &&
          sheet.has(`${k} deep`) &&
          sheet.text(`${k} deep`) === words,
      ).length;
      if (alike > 1) expect(words).toMatch(new RegExp(`(?:^|: )${alike} `));
      return back ? [0, deep] : [sheet.size[2] - deep, sheet.size[2]];
    }
    return sheet.span(`${i} ${xyz[axis]}`, axis, seen, whole[axis]);
  });
  const [min, max] = [0, 1].map((k) => spans.map((span) => span[k as 0 | 1]) as unknown as Vec3) as [
    Vec3,
    Vec3,
  ];
  // Sides that lie in the board keep their way; those of a box with slanted sides are seen.
  const planes = one.planes.map(({ normal, offset }) => {
    const axis = normal.findIndex((v) => Math.abs(v) > 1 - 1e-9);
    if (axis < 0) return { normal, offset };
    return { normal, offset: (normal[axis] as number) > 0 ? (max[axis] as number) : -(min[axis] as number) };
  });
  return { ...one, min, max, planes };
}

// ---------------------------------------------------------------- holes and slots

const AXES_OF: Readonly<Record<Side, readonly [Axis, Axis]>> = {
  face: [0, 1],
  reverse: [0, 1],
  'low edge': [0, 2],
  'high edge': [0, 2],
  start: [1, 2],
  end: [1, 2],
};
const sidesOn = (axis: Axis): readonly [Side, Side] =>
  (
    [
      ['start', 'end'],
      ['low edge', 'high edge'],
      ['reverse', 'face'],
    ] as const
  )[axis];

/** A place of a thing on its side, alone or in a row with equal spacings. */
function placeIn(i: number, axis: Axis, seen: number, own: BlankSize, sheet: Sheet): number {
  const name = `${i} ${xyz[axis]}`;
  const row = sheet.said.get(`${name} row`);
  if (!row) return sheet.placeOrRim(name, axis, seen, sizesOf(own)[axis]);
  const stepped = new RegExp(`(\\d+) × (${LENGTH}) = (${LENGTH})`).exec(row.text);
  const [, spaces, total] = (stepped
    ? ['', stepped[1], stepped[3]]
    : new RegExp(`(\\d+) equal = (${LENGTH})`).exec(row.text)) as unknown as [string, string, string];
  // A space said as a size is stepped off: then it comes to the sum beside it. Where print rounds it there is only the sum.
  if (stepped) expect(Number(spaces) * lengthFrom(stepped[2] as string)).toBeCloseTo(lengthFrom(total), 6);
  // All that share the row, which may be there on several lines, as in a grid.
  const members = [...sheet.said].flatMap(([other, said]) =>
    other.endsWith(` ${xyz[axis]} row`) && said.text === row.text ? [Number.parseInt(other, 10)] : [],
  );
  expect(members.length % (Number(spaces) + 1)).toBe(0);
  const step = lengthFrom(total) / Number(spaces);
  // One end of the row has its place said, and how many steps it is from there the eye counts.
  const known = members.find((k) => sheet.has(`${k} ${xyz[axis]}`));
  expect(known, `${sheet.id}: no place for the row of ${name}`).toBeDefined();
  const there = sheet.place(`${known} ${xyz[axis]}`, axis, seen);
  const steps = Math.round((seen - there) / step);
  expect(Math.abs(steps)).toBeLessThanOrEqual(Number(spaces));
  return there + steps * step;
}

function hole(one: Of<'hole'>, i: number, own: BlankSize, sheet: Sheet): Of<'hole'> {
  // How all pockets of a board are set may stand in words of its own.
  const words = [`${i} hole`, `${i} pocket`]
    .flatMap((name) => (sheet.has(name) ? [sheet.text(name)] : []))
    .join('; ');
  const first = (pattern: string): number =>
    lengthFrom((new RegExp(pattern).exec(words) as RegExpExecArray)[1] as string);
  const diameter = first(`Ø (${LENGTH})`);
  const depth = one.depth === undefined ? undefined : first(`Ø (?:${LENGTH}), (${LENGTH}) deep`);
  if (depth === undefined) expect(words).toContain('through');
  // A plain hole right through is the same from both faces.
  const plain = one.depth === undefined && !one.counterbore && !one.countersink && one.angle === 0;
  if (one.side === 'reverse' && !plain) sheet.behind(`${i} hole`, true);
  else if (one.side !== 'face' && one.side !== 'reverse')
    expect(words).toContain(`in the ${sheet.side(one.side)}`);
  const [u, v] = AXES_OF[one.side];
  const entry = [...one.entry] as [number, number, number];
  for (const axis of [u, v]) entry[axis] = placeIn(i, axis, one.entry[axis], own, sheet);
  const square = ([0, 1, 2] as const).find((axis) => axis !== u && axis !== v) as Axis;
  entry[square] = (one.entry[square] as number) < 0.05 ? 0 : sheet.size[square];
  const { counterbore, countersink } = one;
  return {
    ...one,
    diameter,
    entry,
    axis: holeAxis(one, words, square, sheet),
    ...(depth === undefined ? {} : { depth }),
    ...(counterbore
      ? {
          counterbore: {
            diameter: first(`counterbore Ø (${LENGTH})`),
            depth: first(`counterbore Ø (?:${LENGTH}), (${LENGTH}) deep`),
          },
        }
      : {}),
    ...(countersink
      ? {
          countersink: {
            diameter: first(`countersunk Ø (${LENGTH})`),
            angle: Number(/countersunk .*?, ([\d.]+)°/.exec(words)?.[1]),
          },
        }
      : {}),
    ...(one.beyond ? { beyond: { ...one.beyond, diameter: first(`then Ø (${LENGTH})`) } } : {}),
  };
}

/** The way of the drill from the angles and the sides they lean towards. */
function holeAxis(one: Of<'hole'>, words: string, square: Axis, sheet: Sheet): Vec3 {
  const out: [number, number, number] = [0, 0, 0];
  out[square] = one.axis[square] > 0 ? -1 : 1;
  if (one.name === 'pocket') {
    // A pocket runs along its face where the drawing shows it; its jig gives the angle to the face.
    const said = radians(90 - Number(/at ([\d.]+)° to the face/.exec(words)?.[1]));
    const flat = one.axis.map((v, k) => (k === square ? 0 : v)) as unknown as Vec3;
    const along = unit(flat);
    return unit(
      out.map((v, k) => -v * Math.cos(said) + (along[k] as number) * Math.sin(said)) as unknown as Vec3,
    );
  }
  for (const [, angle, side] of words.matchAll(/([\d.]+)° towards the ([a-z ]+?)(?= and|,|$)/g)) {
    const axis = ([0, 1, 2] as const).find((k) => sidesOn(k).some((s) => sheet.side(s) === side)) as Axis;
    const high = sheet.side(sidesOn(axis)[1]) === side;
    out[axis] = (high ? 1 : -1) * Math.tan(radians(Number(angle)));
  }
  return unit(out.map((v) => -v) as unknown as Vec3);
}

function slot(one: Of<'slot'>, i: number, own: BlankSize, sheet: Sheet): Of<'slot'> {
  const words = sheet.text(`${i} slot`);
  const width = sheet.number(`${i} slot`, new RegExp(`slots? (${LENGTH}) wide`));
  const depth =
    one.depth === undefined ? undefined : sheet.number(`${i} slot`, new RegExp(`wide, (${LENGTH}) deep`));
  if (depth === undefined) expect(words).toContain('through');
  if (one.side === 'reverse' && one.depth !== undefined) sheet.behind(`${i} slot`, true);
  else if (one.side !== 'face' && one.side !== 'reverse')
    expect(words).toContain(`in the ${sheet.side(one.side)}`);
  const [u, v] = AXES_OF[one.side];
  const square = ([0, 1, 2] as const).find((axis) => axis !== u && axis !== v) as Axis;
  const [from, to] = [[...one.from], [...one.to]] as [number[], number[]];
  for (const axis of [u, v]) {
    const name = `${i} ${xyz[axis]}`;
    const [a, b] = [one.from[axis], one.to[axis]];
    const single = sheet.has(`${name} place`) || (sheet.has(`${name} span`) && !sheet.has(name) && !one.row);
    if (Math.abs(a - b) < 0.05) {
      from[axis] = placeIn(i, axis, a, own, sheet);
      to[axis] = from[axis] as number;
    } else if (single) {
      const [low, high] = sheet.span(name, axis, [Math.min(a, b), Math.max(a, b)], sizesOf(own)[axis]);
      [from[axis], to[axis]] = a < b ? [low, high] : [high, low];
    } else {
      // One of several alike: its first end, and for all how far it is to the other.
      from[axis] = placeIn(i, axis, a, own, sheet);
      to[axis] = (from[axis] as number) + Math.sign(b - a) * sheet.number(`${name} span`);
    }
  }
  from[square] = to[square] = (one.from[square] as number) < 0.05 ? 0 : sheet.size[square];
  const ends = { from: from as unknown as Vec3, to: to as unknown as Vec3 };
  return { ...one, ...ends, width, ...(depth === undefined ? {} : { depth }) };
}

// ---------------------------------------------------------------- tongues

/** A tongue by its sizes; a milled profile is the stock's own and needs none. */
function tongue(one: Of<'tongue'>, i: number, own: BlankSize, sheet: Sheet): Of<'tongue'> {
  if (one.name === 'profile') return one;
  const told = one.tongue as NonNullable<typeof one.tongue>;
  const axis: 0 | 1 = told.side === 'start' || told.side === 'end' ? 0 : 1;
  const far = told.side === 'end' || told.side === 'high edge';
  const whole = sizesOf(own);
  const seen: [number, number] = far ? [whole[axis] - told.length, whole[axis]] : [0, told.length];
  const [low, high] = sheet.span(`${i} tongue ${xyz[axis]}`, axis, seen, whole[axis]);
  const [from, to] = sheet.span(`${i} tongue z`, 2, [told.from, told.from + told.thickness], whole[2]);
  return { ...one, tongue: { ...told, length: high - low, from, thickness: to - from } };
}
