/** Names in formulas: the author's sizes first, then the outline's faces and sizes, then the parts. */
import type { Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Direction, Face, SizeSource } from '../read/types.ts';
import { type Context, formulaOf } from './context.ts';
import { directionOf, FACES, isLow, mirrorDirection, oppositeOf } from './directions.ts';
import { quantityOf } from './evaluate.ts';
import type { PartFacts } from './facts.ts';
import { layOf } from './lay.ts';
import { either, nameHint, nearest } from './names.ts';
import { countOf, faceOf, outlineSize, sizeOf } from './placement.ts';
import { isPosed, poseOf } from './pose.ts';
import { sawSettings } from './saw.ts';
import type { Quantity } from './types.ts';
import { dot as along } from './vectors.ts';

/** Faces of the outline by the names that formulas use. */
const OUTLINE_FACES: readonly string[] = ['left', 'right', 'front', 'back', 'floor', 'top'];
const OUTLINE_SIZES: readonly (readonly [string, Direction])[] = [
  ['outline.width', 'across'],
  ['outline.depth', 'deep'],
  ['outline.height', 'up'],
];
const PART_NAMES: readonly string[] = ['thickness', 'width', 'length', 'count', ...FACES];
/** Saw settings of the cut ends of a part that leans, slopes or is a brace. */
const SAW_NAMES: readonly string[] = ['mitre', 'miter', 'tilt'];
/** Before a face: that of the mirrored copy. */
const MIRRORED = 'mirrored.';
const LAID_NAMES: readonly string[] = ['courses', 'first', 'last', 'gap'];
/** What people write for a name of ours. */
const OTHER_WORDS: Readonly<Record<string, string>> = {
  height: 'length, or top - bottom',
  depth: 'width, or back - front',
  thick: 'thickness',
  wide: 'width',
  long: 'length',
  floor: 'bottom',
  x: 'left',
  y: 'front',
  z: 'bottom',
};

const length = (value: number | undefined): Quantity | undefined =>
  value === undefined ? undefined : { kind: 'length', value };
const number = (value: number | undefined): Quantity | undefined =>
  value === undefined ? undefined : { kind: 'number', value };

/** The value of an author's size. */
export function sizeValue(context: Context, size: SizeSource, origin: Origin): Quantity | undefined {
  return context.graph.value(size.name, origin, () => {
    const formula = formulaOf(context, size.formula);
    return formula && quantityOf(formula, size.formula, context.scope);
  });
}

/** The value of a name in a formula; undefined after a report, here or where the name is defined. */
export function lookUp(
  context: Context,
  sizes: ReadonlyMap<string, SizeSource>,
  name: string,
  origin: Origin,
): Quantity | undefined {
  const size = sizes.get(name);
  if (size) return sizeValue(context, size, origin);
  if (OUTLINE_FACES.includes(name)) {
    const face = (name === 'floor' ? 'bottom' : name) as Face;
    return isLow(face) ? length(0) : length(outlineSize(context, directionOf(face), origin));
  }
  const outline = OUTLINE_SIZES.find(([key]) => key === name);
  if (outline) return length(outlineSize(context, outline[1], origin));
  if (name === 'pi') return number(Math.PI);
  const dot = name.indexOf('.');
  const facts = dot < 0 ? undefined : context.parts.get(name.slice(0, dot));
  if (facts) return partValue(context, facts, name.slice(dot + 1), origin);
  context.report(
    fault('name.unknown', origin, {
      expected:
        dot < 0
          ? 'the name of a size, or of a part and what you want of it'
          : 'the name of a part before the point',
      found: `"${name}"`,
      ...unknownHint(context, sizes, name),
    }),
  );
  return undefined;
}

function unknownHint(
  context: Context,
  sizes: ReadonlyMap<string, SizeSource>,
  name: string,
): { readonly hint?: string } {
  if (name === 'bottom') return { hint: 'write floor' };
  if (/^(?:middle|centre|center)$/u.test(name))
    return { hint: 'write outline.width / 2, outline.depth / 2 or outline.height / 2' };
  if (context.parts.has(name)) return { hint: `write ${name}.top, ${name}.width or another of its sizes` };
  const minus = name.indexOf('-');
  if (minus > 0 && (sizes.has(name.slice(0, minus)) || /^[0-9.]+$/u.test(name.slice(minus + 1))))
    return {
      hint: `to subtract, write white space on both sides: ${name.slice(0, minus)} - ${name.slice(minus + 1)}`,
    };
  const dot = name.indexOf('.');
  if (dot >= 0) {
    const near = nearest(name.slice(0, dot), [...context.parts.keys(), 'outline']);
    return near.length === 0
      ? {}
      : { hint: `did you mean ${either(near.map((one) => one + name.slice(dot)))}?` };
  }
  return nameHint(name, [
    ...sizes.keys(),
    ...OUTLINE_FACES,
    'outline.width',
    'outline.depth',
    'outline.height',
  ]);
}

function partValue(context: Context, facts: PartFacts, what: string, origin: Origin): Quantity | undefined {
  const { key, lay, runs } = facts.source;
  if ((FACES as readonly string[]).includes(what))
    return length(faceOf(context, facts, what as Face, origin));
  if (what.startsWith(MIRRORED)) return mirroredFace(context, facts, what.slice(MIRRORED.length), origin);
  if (what === 'thickness') return length(sizeOf(context, facts, facts.thickAlong, origin));
  if (what === 'width') return length(sizeOf(context, facts, facts.widthAlong, origin));
  if (what === 'length') {
    const given = sizeOf(context, facts, runs.value, origin);
    return length(given);
  }
  if (what === 'count') return number(boardsIn(context, facts, origin));
  if (lay && LAID_NAMES.includes(what)) {
    const courses = layOf(context, facts, origin);
    if (!courses) return undefined;
    if (what === 'courses') return number(courses.list.length);
    if (what === 'gap') return length(courses.gap);
    return length(courses.list.at(what === 'first' ? 0 : -1)?.cover);
  }
  if (SAW_NAMES.includes(what) && isPosed(context, facts)) return settingOf(context, facts, what, origin);
  const known = [...PART_NAMES, ...(lay ? LAID_NAMES : [])];
  const other = OTHER_WORDS[what];
  const laid = LAID_NAMES.includes(what);
  // The fault lies after the point.
  const place = { ...origin, column: origin.column + [...key].length + 1 };
  context.report(
    fault('name.unknown', place, {
      expected: `one of ${either(known)} after "${key}."`,
      found: `"${what}"`,
      ...(laid
        ? { hint: `only a part with "lay" has ${what}` }
        : SAW_NAMES.includes(what)
          ? { hint: `only a part with lean, slope or brace has ${what}` }
          : other
            ? { hint: `write ${other}` }
            : nameHint(what, known)),
      parts: [key],
    }),
  );
  return undefined;
}

/** `side.mirrored.left`: a face of the copy that lies on the other side of the outline's middle, along the face's own direction. */
function mirroredFace(
  context: Context,
  facts: PartFacts,
  name: string,
  origin: Origin,
): Quantity | undefined {
  const { key, copies } = facts.source;
  const mirrors = copies.flatMap((rule) => (rule.kind === 'mirrored' ? [mirrorDirection(rule.across)] : []));
  const known = FACES.filter((face) => mirrors.includes(directionOf(face)));
  const face = known.find((one) => one === name);
  if (face) {
    const direction = directionOf(face);
    const size = outlineSize(context, direction, origin);
    const other = faceOf(context, facts, oppositeOf(face), origin);
    return size === undefined || other === undefined ? undefined : length(size - other);
  }
  const plain = mirrors.length === 0;
  const before = plain ? `${key}.` : `${key}.${MIRRORED}`;
  const isFace = (FACES as readonly string[]).includes(name);
  const alike = nearest(name, known);
  const hint = plain
    ? isFace
      ? { hint: `write ${key}.${name}, or give "${key}" mirrored copies` }
      : {}
    : alike.length > 0
      ? { hint: `did you mean ${either(alike)}?` }
      : {};
  context.report(
    fault(
      'name.unknown',
      { ...origin, column: origin.column + [...before].length },
      {
        expected: plain
          ? `a face of the first "${key}", which has no mirrored copies`
          : `${either(known)} after "${before}", along which "${key}" is mirrored`,
        found: `"${plain ? MIRRORED : ''}${name}"`,
        ...hint,
        parts: [key],
      },
    ),
  );
  return undefined;
}

/** The saw setting of a posed part's first cut end, or of its cut edge; 0 where it has none. */
function settingOf(context: Context, facts: PartFacts, what: string, origin: Origin): Quantity | undefined {
  const pose = poseOf(context, facts, origin);
  if (!pose) return undefined;
  const isEnd = (face: Face) => directionOf(face) === facts.source.runs.value;
  const cut = pose.cuts.find((one) => isEnd(one.face)) ?? pose.cuts[0];
  if (!cut) return { kind: 'angle', value: 0 };
  const { normal } = cut.plane;
  const own = [pose.length, pose.width, pose.thickness].map((axis) => along(normal, axis));
  const settings = sawSettings(own as [number, number, number], isEnd(cut.face) ? 'end' : 'edge');
  return { kind: 'angle', value: what === 'tilt' ? settings.tilt : settings.mitre };
}

/** Boards of a part in all: copies times courses. */
export function boardsIn(context: Context, facts: PartFacts, origin: Origin): number | undefined {
  let boards: number | undefined = facts.source.lay ? layOf(context, facts, origin)?.list.length : 1;
  for (let index = 0; index < facts.source.copies.length && boards !== undefined; index++) {
    const count = countOf(context, facts, index, origin);
    boards = count === undefined ? undefined : boards * count;
  }
  return boards;
}
