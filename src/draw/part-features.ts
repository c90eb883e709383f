/** What a part's sheet says of saw cuts, notches and housings; and all that it says of a board. Every number that is needed is said once. */
import type { BlankSize, ShapeOperation } from '../model/types.ts';
import { text } from '../text.ts';
import type { BoardSide } from './board-views.ts';
import {
  type Feature,
  type FeatureAngle,
  type FeatureWords,
  type Of,
  type Operation,
  SAME,
  type Saying,
  spanned,
} from './feature.ts';
import { holeFeatures, slotFeatures } from './part-holes.ts';
import { edgeWords, outlineFeatures, tongueFeatures } from './part-outline.ts';

/** Operations that a part's sheet shows: what is milled into the stock when it is bought isn't made by the builder. */
export const madeByHand = (shapes: readonly ShapeOperation[]): Operation[] =>
  shapes.flatMap((shape, index) =>
    shape.kind === 'tongue' && shape.name === 'profile' ? [] : [{ index, shape }],
  );

/** Sizes, notes, angles and words of a board's operations, those over all not among them. */
export function featuresOf(operations: readonly Operation[], size: BlankSize, say: Saying): Feature[] {
  const pick = <K extends ShapeOperation['kind']>(kind: K): { index: number; shape: Of<K> }[] =>
    operations.flatMap(({ index, shape }) => (shape.kind === kind ? [{ index, shape: shape as Of<K> }] : []));
  return [
    ...pick('saw').flatMap(({ index, shape }) => sawFeatures(index, shape, size, say)),
    ...pick('box').flatMap(({ index, shape }) => boxFeatures(index, shape, size, say)),
    ...holeFeatures(pick('hole'), size, say),
    ...pick('slot').flatMap(({ index, shape }) => slotFeatures(index, shape, size, say)),
    ...pick('outline').flatMap(({ index, shape }) => outlineFeatures(index, shape, size, say)),
    ...pick('tongue').flatMap(({ index, shape }) => tongueFeatures(index, shape, size, say)),
    ...pick('edge').map(({ index, shape }) => edgeWords(index, shape, say)),
  ];
}

// ---------------------------------------------------------------- saw cuts

function sawFeatures(index: number, cut: Of<'saw'>, size: BlankSize, say: Saying): Feature[] {
  const atEnd = cut.side === 'start' || cut.side === 'end';
  const [nx, ny, nz] = cut.plane.normal;
  const features: Feature[] = [];
  const x = cut.side === 'start' ? 0 : size.length;
  if (atEnd && cut.saw.mitre > 0.01) {
    // The board is longest where the plane's normal points away from: the cut runs back from that corner.
    const y = ny > 0 ? 0 : size.width;
    const up = y === 0 ? 1 : -1;
    const lean = Math.tan((cut.saw.mitre * Math.PI) / 180) * (cut.side === 'end' ? -1 : 1);
    features.push({
      kind: 'angle',
      on: 'face',
      corner: [x, y, size.thickness],
      along: [0, up, 0],
      cut: [lean, up, 0],
      reach: size.width / Math.cos((cut.saw.mitre * Math.PI) / 180),
      text: [text(say.angle(cut.saw.mitre))],
      of: [`${index} mitre`],
    });
  }
  if (atEnd && cut.saw.tilt > 0.01) {
    const z = nz > 0 ? 0 : size.thickness;
    const up = z === 0 ? 1 : -1;
    const across = Math.hypot(nx, ny);
    const lean = (Math.abs(nz) / across) * (cut.side === 'end' ? -1 : 1);
    features.push({
      kind: 'angle',
      on: 'edge',
      corner: [x, 0, z],
      along: [0, 0, up],
      cut: [lean, 0, up],
      reach: size.thickness / Math.cos((cut.saw.tilt * Math.PI) / 180),
      text: [text(say.angle(cut.saw.tilt))],
      of: [`${index} tilt`],
    });
  }
  if (!atEnd && cut.taper) {
    const { length, leaves } = cut.taper;
    const narrow = nx > 0 ? size.length : 0;
    const [from, to] = narrow === 0 ? [0, length] : [size.length - length, size.length];
    const thick = cut.side === 'face' || cut.side === 'reverse';
    if (length < size.length - SAME)
      features.push({
        kind: 'size',
        on: thick ? 'edge' : 'face',
        axis: 0,
        from,
        to,
        text: [say.size(length)],
        of: [`${index} length`],
      });
    const whole = thick ? size.thickness : size.width;
    const low = cut.side === 'low edge' || cut.side === 'reverse';
    features.push({
      kind: 'size',
      on: thick ? 'edge' : 'face',
      axis: thick ? 2 : 1,
      from: low ? whole - leaves : 0,
      to: low ? whole : leaves,
      beside: narrow,
      text: [say.size(leaves)],
      of: [`${index} leaves ${narrow === 0 ? 'start' : 'end'}`],
    });
  } else if (!atEnd) {
    const thick = cut.side === 'face' || cut.side === 'reverse';
    if (cut.saw.mitre > 0.01) features.push(angleWords(index, 'mitre', cut, say));
    if (cut.saw.tilt > 0.01 && !thick) features.push(bevelAtEdge(index, cut, size, say));
  }
  return features;
}

const angleWords = (index: number, what: 'mitre' | 'tilt', cut: Of<'saw'>, say: Saying): FeatureWords => ({
  kind: 'words',
  text: [
    text(
      `${cut.side === 'low edge' ? 'Lower' : 'Upper'} edge ${what === 'mitre' ? 'out of parallel' : 'bevelled'} ${say.angle(cut.saw[what])}`,
    ),
  ],
  of: [`${index} ${what}`],
});

/** The bevel of a long edge, in the end view. */
function bevelAtEdge(index: number, cut: Of<'saw'>, size: BlankSize, say: Saying): FeatureAngle {
  const [, ny, nz] = cut.plane.normal;
  const y = cut.side === 'low edge' ? 0 : size.width;
  const z = nz > 0 ? 0 : size.thickness;
  const up = z === 0 ? 1 : -1;
  return {
    kind: 'angle',
    on: 'end',
    corner: [0, y, z],
    along: [0, 0, up],
    cut: [0, (Math.abs(nz) / Math.max(1e-9, Math.abs(ny))) * (y === 0 ? 1 : -1), up],
    reach: size.thickness / Math.cos((cut.saw.tilt * Math.PI) / 180),
    text: [text(say.angle(cut.saw.tilt))],
    of: [`${index} tilt`],
  };
}

// ---------------------------------------------------------------- notches, housings, grooves, rebates

function boxFeatures(index: number, cut: Of<'box'>, size: BlankSize, say: Saying): Feature[] {
  const name = `${index}`;
  const { min, max } = cut;
  const acrossX = min[0] < SAME && max[0] > size.length - SAME;
  const acrossZ = min[2] < SAME && max[2] > size.thickness - SAME;
  const deep: BoardSide = acrossX ? 'end' : 'edge';
  const beside = (min[0] + max[0]) / 2;
  const features: Feature[] = [
    ...spanned('face', 0, min[0], max[0], size, say, name),
    ...spanned(acrossX && !acrossZ ? 'end' : 'face', 1, min[1], max[1], size, say, name),
    ...spanned(deep, 2, min[2], max[2], size, say, name),
  ].map((one) => ({ ...one, beside }));
  if (!cut.square) {
    const slanted = cut.planes
      .map(({ normal }) => Math.max(...normal.map(Math.abs)))
      .filter((most) => most < 1 - 1e-6)
      .map((most) => say.angle((Math.acos(most) * 180) / Math.PI));
    features.push({
      kind: 'words',
      text: [text(`Sides of the ${cut.name} at ${[...new Set(slanted)].join(' and ')} to the board's`)],
      of: [`${index} slant`],
    });
  }
  return features;
}
