/** What a part's sheet says of saw cuts: angles of ends and edges, and tapers. */
import type { BlankSize } from '../../model/types.ts';
import { text } from '../../text.ts';
import {
  type Feature,
  type FeatureAngle,
  type FeatureSize,
  type FeatureWords,
  lengthAlong,
  near,
  type Of,
  SAME,
  type Saying,
} from './feature.ts';

type Saw = { index: number; shape: Of<'saw'> };

const degrees = (tangent: number): number => (Math.atan(tangent) * 180) / Math.PI;

/** Sizes, angles and words of all saw cuts of a board. */
export function sawFeatures(cuts: readonly Saw[], size: BlankSize, say: Saying): Feature[] {
  const tapers = cuts.filter(({ shape }) => shape.taper !== undefined);
  const others = cuts.filter(({ shape }) => shape.taper === undefined);
  return [
    ...others.flatMap(({ index, shape }) =>
      shape.side === 'start' || shape.side === 'end'
        ? endAngles(index, shape, size, say)
        : edgeAngles(index, shape, size, say),
    ),
    ...taperFeatures(tapers, size, say),
    ...settingWords(others, say),
  ];
}

/** Out of square in the wide face and through the thickness, as a bevel gauge is set for marking them out on face and edge. */
function endAngles(index: number, { side, plane }: Of<'saw'>, size: BlankSize, say: Saying): FeatureAngle[] {
  const [nx, ny, nz] = plane.normal;
  const x = side === 'start' ? 0 : size.length;
  const back = side === 'end' ? -1 : 1;
  const features: FeatureAngle[] = [];
  const across = Math.abs(ny / nx);
  if (degrees(across) > 0.01) {
    // The board is longest where the plane's normal points away from: the cut runs back from that corner.
    const y = ny > 0 ? 0 : size.width;
    const up = y === 0 ? 1 : -1;
    features.push({
      kind: 'angle',
      on: 'face',
      corner: [x, y, size.thickness],
      along: [0, up, 0],
      cut: [across * back, up, 0],
      reach: size.width * Math.hypot(1, across),
      text: [text(say.angle(degrees(across)))],
      of: [`${index} across`],
    });
  }
  const through = Math.abs(nz / nx);
  if (degrees(through) > 0.01) {
    const z = nz > 0 ? 0 : size.thickness;
    const up = z === 0 ? 1 : -1;
    features.push({
      kind: 'angle',
      on: 'edge',
      corner: [x, 0, z],
      along: [0, 0, up],
      cut: [through * back, 0, up],
      reach: size.thickness * Math.hypot(1, through),
      text: [text(say.angle(degrees(through)))],
      of: [`${index} through`],
    });
  }
  return features;
}

/** Edges out of parallel in words, for they are hardly seen; bevels in the end view. */
function edgeAngles(index: number, cut: Of<'saw'>, size: BlankSize, say: Saying): Feature[] {
  const [nx, ny, nz] = cut.plane.normal;
  if (cut.side === 'face' || cut.side === 'reverse') {
    // A wide face out of parallel: the same, seen from the edge.
    return degrees(Math.abs(nx / nz)) > 0.01 ? [parallelWords(index, cut, Math.abs(nx / nz), say)] : [];
  }
  const features: Feature[] = [];
  if (degrees(Math.abs(nx / ny)) > 0.01) features.push(parallelWords(index, cut, Math.abs(nx / ny), say));
  const through = Math.abs(nz / ny);
  if (degrees(through) > 0.01) {
    const y = cut.side === 'low edge' ? 0 : size.width;
    const z = nz > 0 ? 0 : size.thickness;
    const up = z === 0 ? 1 : -1;
    features.push({
      kind: 'angle',
      on: 'end',
      corner: [0, y, z],
      along: [0, 0, up],
      cut: [0, through * (y === 0 ? 1 : -1), up],
      reach: size.thickness * Math.hypot(1, through),
      text: [text(say.angle(degrees(through)))],
      of: [`${index} through`],
    });
  }
  return features;
}

/** `Upper edge 2° out of parallel, full width at the left end`. */
function parallelWords(index: number, cut: Of<'saw'>, tangent: number, say: Saying): FeatureWords {
  const name = say.side(cut.side);
  const thick = cut.side === 'face' || cut.side === 'reverse';
  const full = cut.plane.normal[0] > 0 ? 'left' : 'right';
  return {
    kind: 'words',
    text: [
      text(
        `${name.charAt(0).toUpperCase()}${name.slice(1)} ${say.angle(degrees(tangent))} out of parallel, full ${thick ? 'thickness' : 'width'} at the ${full} end`,
      ),
    ],
    of: [`${index} along`],
  };
}

/** Where an end is out of square both ways the blade's tilt isn't the angle on the edge: said once, so that nobody takes it for it. */
function settingWords(cuts: readonly Saw[], say: Saying): FeatureWords[] {
  const differs = cuts.some(({ shape: { side, plane, saw } }) => {
    if (side !== 'start' && side !== 'end') return false;
    const [nx, , nz] = plane.normal;
    return say.angle(degrees(Math.abs(nz / nx))) !== say.angle(saw.tilt);
  });
  if (!differs) return [];
  const said = 'Angles are those to mark on face and edge; the settings of the saw are in the cut list';
  return [{ kind: 'words', text: [text(said)], of: ['settings'] }];
}

// ---------------------------------------------------------------- tapers

/** How far each taper runs, and what all of them leave at the narrow end; where both sides are tapered, where that lies. */
function taperFeatures(tapers: readonly Saw[], size: BlankSize, say: Saying): Feature[] {
  const features: Feature[] = [];
  for (const narrow of ['start', 'end'] as const) {
    const own = tapers.filter(({ shape }) => narrowEnd(shape) === narrow);
    features.push(...taperLengths(own, narrow, size, say));
    const alike: string[] = [];
    for (const axis of [1, 2] as const) {
      const pair = own.filter(({ shape }) => axisOf(shape) === axis);
      if (pair.length === 0) continue;
      const { sizes, middle } = leftAt(pair, axis, narrow, size, say);
      features.push(...sizes);
      if (middle) alike.push(axis === 1 ? 'width' : 'thickness');
    }
    if (alike.length > 0)
      features.push({
        kind: 'words',
        text: [text(`The narrow end is in the middle of the ${alike.join(' and the ')}`)],
        of: [`middle ${narrow}`],
      });
  }
  return features;
}

const narrowEnd = ({ plane }: Of<'saw'>): 'start' | 'end' => (plane.normal[0] > 0 ? 'end' : 'start');
const axisOf = ({ side }: Of<'saw'>): 1 | 2 => (side === 'low edge' || side === 'high edge' ? 1 : 2);
const isLow = ({ side }: Of<'saw'>): boolean => side === 'low edge' || side === 'reverse';

/** Tapers as long as another share its size, which stands at the face where one is seen there. */
function taperLengths(
  own: readonly Saw[],
  narrow: 'start' | 'end',
  size: BlankSize,
  say: Saying,
): FeatureSize[] {
  const sizes: FeatureSize[] = [];
  const ordered = [...own].sort((a, b) => axisOf(a.shape) - axisOf(b.shape));
  const several = ordered.some(
    ({ shape }) => !near(shape.taper?.length ?? 0, ordered[0]?.shape.taper?.length ?? 0),
  );
  for (const { index, shape } of ordered) {
    const length = shape.taper?.length ?? 0;
    if (length > size.length - SAME) continue;
    const [from, to] = narrow === 'start' ? [0, length] : [size.length - length, size.length];
    const known = sizes.findIndex((one) => near(one.from, from) && near(one.to, to));
    if (known >= 0) {
      const one = sizes[known] as FeatureSize;
      sizes[known] = { ...one, of: [...one.of, `${index} length`] };
      continue;
    }
    sizes.push({
      kind: 'size',
      on: axisOf(shape) === 2 ? 'edge' : 'face',
      axis: 0,
      from,
      to,
      text: [say.size(length)],
      of: [`${index} length`],
      what: `the taper of the ${say.side(shape.side)}`,
      ...(several ? { toward: isLow(shape) ? ('low' as const) : ('high' as const) } : {}),
    });
  }
  return sizes;
}

/** What is left of the width or thickness at the narrow end. `middle` where two equal tapers leave it there. */
function leftAt(
  pair: readonly Saw[],
  axis: 1 | 2,
  narrow: 'start' | 'end',
  size: BlankSize,
  say: Saying,
): { sizes: FeatureSize[]; middle: boolean } {
  const whole = lengthAlong(size, axis);
  const by = (low: boolean): number =>
    pair
      .filter(({ shape }) => isLow(shape) === low)
      .reduce((sum, { shape }) => sum + (shape.taper?.by ?? 0), 0);
  const [from, to] = [by(true), whole - by(false)];
  const beside = narrow === 'start' ? 0 : size.length;
  const on = axis === 2 ? 'edge' : 'face';
  const what = 'the narrow end of the taper';
  const left: FeatureSize = {
    kind: 'size',
    on,
    axis,
    from,
    to,
    beside,
    stays: true,
    text: [say.size(to - from)],
    of: pair.map(({ index }) => `${index} leaves`),
    what,
  };
  const both = from > SAME && to < whole - SAME;
  const middle = both && near(from, whole - to);
  if (!both || middle) return { sizes: [left], middle };
  const [a, b] = from <= whole - to ? [0, from] : [to, whole];
  const place: FeatureSize = {
    ...left,
    from: a,
    to: b,
    text: [say.size(b - a)],
    of: pair.map(({ index }) => `${index} place`),
  };
  return { sizes: [left, place], middle };
}

/** Blunter than this a corner counts as there, mm: facets of a crown lie a little inside it. */
const BLUNT = 0.3;

/** Where nothing of the board reaches an end of its blank its sizes are those of the blank. @param xs places along it where something is */
export function blankWords(xs: readonly number[], size: BlankSize): FeatureWords[] {
  const gone = Math.min(...xs) > BLUNT || Math.max(...xs) < size.length - BLUNT;
  const said = 'Sizes are set out on the blank: the corner that they are measured to is sawn away';
  return gone ? [{ kind: 'words', text: [text(said)], of: ['blank'] }] : [];
}
