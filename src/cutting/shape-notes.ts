/** What is done to a part, in words and sizes, for the cut list. Faces are those of the part's first copy. */
import type { BoxCut, EdgeWork, Hole, SawCut, ShapeOperation } from '../model/shape.ts';
import { axisOfSide, faceOfSide, farCorner } from '../model/sides.ts';
import type { BlankSize, Copy, Face, Part } from '../model/types.ts';
import { type Line, type Run, text } from '../text.ts';
import { type Fineness, lengthOf, type NumberStyle, printed, printedAngle } from '../units.ts';
import { housingNotes } from './housing-notes.ts';

interface Words {
  readonly part: Part;
  readonly size: BlankSize;
  readonly style: NumberStyle;
  /** `miter` where the edition writes American English. */
  readonly mitre: string;
}

/** Saw settings in words, for the board lying flat on the table; empty where the cut is square. */
export function sawText({ saw }: Pick<SawCut, 'saw'>, mitre = 'mitre'): string {
  const gauge = saw.mitre > 0.05 ? [`${mitre} gauge ${printedAngle(saw.mitre)}`] : [];
  const blade = saw.tilt > 0.05 ? [`blade ${printedAngle(saw.tilt)}`] : [];
  return [...gauge, ...blade].join(', ');
}

const listed = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** Notes of a copy, one for each operation or row of equal ones. */
export function shapeNotes(part: Part, copy: Copy, style: NumberStyle, american: boolean): Line[] {
  const words: Words = { part, size: copy.size, style, mitre: american ? 'miter' : 'mitre' };
  const notes: Line[] = [];
  const fits = copy.shape.filter((one): one is SawCut => one.kind === 'saw' && one.name === 'fit');
  if (fits.length > 0) notes.push(...fitNotes(fits, words));
  const seen = new Set<ShapeOperation['origin']>();
  for (const one of copy.shape) {
    if (one.kind === 'saw' && one.name === 'fit') continue;
    if (one.kind === 'tongue' && one.name === 'profile') continue;
    // An operation of several cuts (a taper of two sides, a row of holes) is one note.
    if (seen.has(one.origin)) continue;
    seen.add(one.origin);
    if (one.kind === 'box' && one.name === 'notch') {
      const alike = copy.shape.filter((other): other is BoxCut => isNotchLike(other, one));
      for (const other of alike) seen.add(other.origin);
      notes.push(notchNote(alike, words));
      continue;
    }
    const all = copy.shape.filter((other) => other.origin === one.origin);
    if (one.kind === 'box' && one.joint) {
      notes.push(...housingNotes(part, copy.size, all, style));
      continue;
    }
    const note = noteOf(one, all, words);
    if (note.length > 0) notes.push(note);
  }
  return notes;
}

const size = (length: number, { style }: Words, as?: Fineness): Run => ({
  kind: 'size',
  size: printed(length, style, as),
});

/** Ends and edges cut by a lean, a slope, a brace or leaning neighbours: both ends in one note where they are set alike. */
function fitNotes(fits: readonly SawCut[], words: Words): Line[] {
  const groups = new Map<string, SawCut[]>();
  for (const one of fits) {
    const set = sawText(one, words.mitre);
    if (set === '') continue;
    const key = `${set} ${axisOfSide(one.side) === 0 ? 'end' : 'edge'}`;
    const group = groups.get(key);
    if (group) group.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()].map((group): Line => {
    const [first, second] = group as [SawCut, SawCut?];
    const kind = axisOfSide(first.side) === 0 ? 'end' : 'edge';
    const which = second ? `both ${kind}s` : `the ${first.face} ${kind}`;
    const parallel =
      second && first.plane.normal.every((v, i) => Math.abs(v + (second.plane.normal[i] as number)) < 1e-6);
    const how = second
      ? parallel
        ? ', parallel'
        : ', leaning towards each other'
      : kind === 'end'
        ? longWords(first)
        : `, full width at the ${listed(first.long)}`;
    const { mitre, tilt } = first.saw;
    // A cut that is a plain mitre or a plain bevel is called so.
    if (tilt <= 0.05) return [text(`${words.mitre} ${which} ${printedAngle(mitre)}${how}`)];
    if (mitre <= 0.05) return [text(`bevel ${which} ${printedAngle(tilt)}${how}`)];
    return [text(`cut ${which}: ${sawText(first, words.mitre)}${how}`)];
  });
}

const longWords = ({ long }: SawCut): string =>
  long.length === 0 ? '' : `, long side at the ${listed(long)}`;

function noteOf(one: ShapeOperation, all: readonly ShapeOperation[], words: Words): Line {
  switch (one.kind) {
    case 'saw':
      return one.taper ? taperNote(all as readonly SawCut[], words) : cutNote(one, words);
    case 'box':
      return boxNote(one, all as readonly BoxCut[], words);
    case 'hole':
      return holeNote(one, words);
    case 'slot': {
      const long = Math.hypot(...one.from.map((v, i) => v - (one.to[i] as number))) + one.width;
      const many = one.row ? `${one.row.count} slots ` : 'slot ';
      return [
        text(many),
        size(one.width, words),
        text(' wide, '),
        size(long, words),
        text(` long, in the ${one.face}`),
        ...depth(one.depth, words),
      ];
    }
    case 'outline':
      if (!one.arc) return [text('saw to the outline')];
      return [
        text(`${one.arc.form} the ${one.arc.face} ${axisOfSide(one.arc.side) === 0 ? 'end' : 'edge'} by `),
        size(one.arc.rise, words),
        text(' over '),
        size(one.arc.span, words),
        text(', radius '),
        size(one.arc.radius, words),
      ];
    case 'edge':
      return [
        text(
          `${one.name} ${isCorners(one) && one.edges.length === 4 ? 'all four corners' : edgeWords(one)} `,
        ),
        size(one.size, words),
        // Where it matters for the shape: inside corners keep the radius of the bearing.
        ...(one.left ? [text(', with a bearing of '), size(one.bearing ?? 0, words)] : []),
      ];
    case 'tongue': {
      if (!one.tongue) return [];
      return [
        text(`tongue on the ${faceOfSide(words.part, one.tongue.side)}, `),
        size(one.tongue.thickness, words),
        text(' thick, '),
        size(one.tongue.length, words),
        text(' long'),
      ];
    }
  }
}

/** True where all the edges worked go through the thickness, as the corners of a tabletop do. */
const isCorners = ({ edges, follows, holes }: EdgeWork): boolean =>
  edges.length > 0 &&
  !follows &&
  !holes &&
  edges.every((pair) => pair.every((side) => axisOfSide(side) !== 2));

function edgeWords(work: EdgeWork): string {
  const { said } = work;
  if (said.includes('all')) return 'all edges';
  const named = said.map((one) =>
    one === 'long'
      ? 'the long edges'
      : one.endsWith(' holes')
        ? `the rims of the holes in the ${one.slice(0, -' holes'.length)}`
        : one.includes(' ')
          ? `the ${one} ${isCorners(work) ? 'corner' : 'edge'}`
          : `the edges of the ${one}`,
  );
  return listed(named);
}

const depth = (deep: number | undefined, words: Words): Run[] =>
  deep === undefined ? [] : [text(', '), size(deep, words), text(' deep')];

/** `bevel the top end 18°, long side at the back`; the saw settings beside it where they aren't the same figures. */
function cutNote(one: SawCut, { mitre }: Words): Line {
  const kind = axisOfSide(one.side) === 0 ? 'end' : 'edge';
  const angle = one.name === 'mitre' ? one.saw.mitre : one.saw.tilt;
  const how = one.name === 'compound' ? `: ${sawText(one, mitre)}` : ` ${printedAngle(angle)}`;
  // spelt as the edition spells it, whichever way the plan does
  const verb = one.name === 'compound' ? 'compound cut at' : one.name === 'mitre' ? mitre : one.called;
  const long = kind === 'end' ? longWords(one) : `, full width at the ${listed(one.long)}`;
  return [text(`${verb} the ${one.face} ${kind}${how}${long}`)];
}

function taperNote(all: readonly SawCut[], words: Words): Line {
  const [first] = all;
  if (!first?.taper) return [];
  const { end, length } = first.taper;
  const sides = listed(all.map((one) => one.face));
  const whole = length >= words.size.length - 0.5;
  const left = [...new Map(all.map((one) => [axisOfSide(one.side), one.taper?.leaves ?? 0])).values()];
  const sizes = left.flatMap((value, i): Run[] =>
    i === 0 ? [size(value, words)] : [text(' × '), size(value, words)],
  );
  const angles = [...new Set(all.map((one) => printedAngle(one.saw.mitre)))].join(', ');
  return [
    text(`taper the ${sides} ${all.length > 1 ? 'sides' : 'side'} `),
    ...(whole ? [text('over the whole length')] : [text('over the last '), size(length, words)]),
    text(' to '),
    ...sizes,
    text(` at the ${end} (${angles})`),
  ];
}

const OWN = ['length', 'width', 'thickness'] as const;

/** A cut with flat sides; of a row how many, where the first is, and how far it is from one to the next. */
function boxNote(one: BoxCut, all: readonly BoxCut[], words: Words): Line {
  const far = farCorner(words.size);
  const extent = (axis: 0 | 1 | 2): number => (one.max[axis] as number) - (one.min[axis] as number);
  if (one.name === 'rebate') {
    // along an edge of a wide face: what goes into that face is its depth, as of a housing
    const wide = (one.taken ?? []).filter(([face]) => axisFaces(words.part, 2).includes(face));
    const edge = (one.taken ?? []).find((entry) => !wide.includes(entry));
    const [into] = wide;
    if (into && wide.length === 1 && edge)
      return [
        text(`${one.called} in the ${into[0]} along the ${edge[0]}: `),
        size(edge[1], words),
        text(' wide, '),
        size(into[1], words),
        text(' deep'),
        ...stopped(one),
      ];
    const taken = (one.taken ?? []).flatMap(([face, amount], i): Run[] => [
      text(`${i === 0 ? '' : ', '}`),
      size(amount, words),
      text(` off the ${face}`),
    ]);
    return [text(`${one.called} `), ...taken, ...stopped(one)];
  }
  const along = ([0, 1, 2] as const).filter(
    (axis) => one.side !== undefined && axis !== axisOfSide(one.side) && extent(axis) < far[axis] - 0.05,
  );
  const [second] = all.slice(1);
  const step = second?.min.map((value, i) => value - (one.min[i] as number)) ?? [];
  const row = ([0, 1, 2] as const).find((i) => Math.abs(step[i] ?? 0) > 0.05);
  const [axis] = row === undefined ? [...along].sort((a, b) => extent(a) - extent(b)) : [row];
  // of a row the one that is nearest to an end is the first
  const place = (box: BoxCut): Run[] =>
    axis === undefined ? [] : fromNearest(words, axis, box.min[axis] as number, box.max[axis] as number);
  const atEnd = row === undefined ? one : firstOf(all, row, farCorner(words.size)[row]);
  return [
    text(
      row === undefined
        ? `${one.called} in the ${one.face}: `
        : `${all.length} ${one.called}s in the ${one.face}: `,
    ),
    ...(one.width === undefined ? [] : [size(one.width, words), text(' wide, ')]),
    size(one.depth ?? 0, words),
    text(' deep'),
    ...(row === undefined
      ? place(one)
      : [
          text(', the first'),
          ...place(atEnd).map((run, i) => (i === 0 && run.kind === 'text' ? text(run.text.slice(1)) : run)),
          text(', '),
          size(Math.abs(step[row] as number), words),
          text(' from one to the next'),
        ]),
    ...stopped(one),
  ];
}

/** Of a row of cuts the one that lies nearest to an end of the board along an own axis. */
function firstOf(all: readonly BoxCut[], axis: 0 | 1 | 2, whole: number): BoxCut {
  const gap = ({ min, max }: BoxCut): number => Math.min(min[axis] as number, whole - (max[axis] as number));
  return all.reduce((a, b) => (gap(b) < gap(a) - 0.05 ? b : a));
}

/** True for a notch of the same size, whatever corner it is cut from. */
function isNotchLike(other: ShapeOperation, one: BoxCut): boolean {
  if (other.kind !== 'box' || other.name !== 'notch') return false;
  return ([0, 1, 2] as const).every(
    (axis) => Math.abs(other.max[axis] - other.min[axis] - (one.max[axis] - one.min[axis])) < 0.05,
  );
}

/** Notches of one size in one note, each by the faces it is open to. */
function notchNote(alike: readonly BoxCut[], words: Words): Line {
  const [one] = alike as readonly [BoxCut];
  const far = farCorner(words.size);
  const axes = ([0, 1, 2] as const).filter((axis) => one.max[axis] - one.min[axis] < far[axis] - 0.05);
  const sizes = axes.flatMap((axis, i): Run[] => [
    text(i === 0 ? '' : ' × '),
    size(one.max[axis] - one.min[axis], words),
    text(` of the ${OWN[axis]}`),
  ]);
  const said = alike.flatMap(({ open }) => {
    const at = open.filter((face) => axes.some((axis) => axisFaces(words.part, axis).includes(face)));
    return at.length > 0 ? [at.join(' ')] : [];
  });
  const places = [...new Set(said)]; // of a row all look the same way
  const many = alike.length > 1 ? `${alike.length} notches ` : 'notch ';
  return [text(many), ...sizes, ...(places.length > 0 ? [text(`, at the ${listed(places)}`)] : [])];
}

const stopped = ({ stopped: faces }: BoxCut): Run[] =>
  faces.length === 0 ? [] : [text(`, stopped before the ${listed(faces)}`)];

const axisFaces = (part: Part, axis: 0 | 1 | 2): readonly Face[] => {
  const sides = (
    [
      ['start', 'end'],
      ['low edge', 'high edge'],
      ['reverse', 'face'],
    ] as const
  )[axis];
  return sides.map((side) => faceOfSide(part, side));
};

/** `, 3″ from the bottom`: from the nearer side along an own axis. */
function fromNearest(words: Words, axis: 0 | 1 | 2, low: number, high: number): Run[] {
  const whole = farCorner(words.size)[axis];
  const [near, far] = axisFaces(words.part, axis) as [Face, Face];
  const gap = Math.min(low, whole - high);
  if (gap < 0.05) return [text(`, flush with the ${low <= whole - high ? near : far}`)];
  return low <= whole - high
    ? [text(', '), size(low, words), text(` from the ${near}`)]
    : [text(', '), size(whole - high, words), text(` from the ${far}`)];
}

/** `, 9 1/2″ apart`; where that is rounded and stepping it off would end beside the mark, `, evenly over 47 9/16″`. */
function apart({ count, spacing }: NonNullable<Hole['row']>, words: Words): Line {
  const all = spacing * (count - 1);
  const said = (length: number): number => lengthOf(printed(length, words.style));
  return Math.abs(said(spacing) * (count - 1) - said(all)) < 1e-6
    ? [text(', '), size(spacing, words), text(' apart')]
    : [text(', evenly over '), size(all, words)];
}

function holeNote(one: Hole, words: Words): Line {
  const many = one.row ? `${one.row.count} holes ` : 'hole ';
  const across = axisOfSide(one.side);
  const at = ([0, 1, 2] as const)
    .filter((axis) => axis !== across)
    .flatMap((axis): Run[] => {
      const value = one.entry[axis];
      const middle = Math.abs(value - farCorner(words.size)[axis] / 2) < 0.05;
      return middle && (axis !== 0 || one.row === undefined) ? [] : fromNearest(words, axis, value, value);
    });
  return [
    text(many),
    size(one.diameter, words, 'drill'),
    text(` in the ${one.face}`),
    ...(one.depth === undefined ? [text(', through')] : depth(one.depth, words)),
    ...at,
    ...(one.row ? apart(one.row, words) : []),
    ...(one.angle > 0.05 ? [text(`, leaning ${printedAngle(one.angle)} to the ${listed(one.leans)}`)] : []),
    ...(one.counterbore
      ? [
          text(', counterbored '),
          size(one.counterbore.diameter, words, 'drill'),
          text(' to '),
          size(one.counterbore.depth, words),
        ]
      : []),
    ...(one.countersink ? [text(', countersunk to '), size(one.countersink.diameter, words, 'drill')] : []),
  ];
}
