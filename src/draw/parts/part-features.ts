/** What a part's sheet says of notches, housings, grooves and rebates; and all that it says of a board. Every number that is needed is said once. */
import type { BlankSize, ShapeOperation, Vec3 } from '../../model/types.ts';
import { type Run, text } from '../../text.ts';
import type { BoardSide } from '../views/board-views.ts';
import {
  type Feature,
  type FeatureNote,
  near,
  type Of,
  type Operation,
  once,
  SAME,
  type Saying,
  spanned,
} from './feature.ts';
import { holeFeatures, slotFeatures } from './part-holes.ts';
import { housingFeatures, isSetOut } from './part-housings.ts';
import { bowFeatures, edgeWords, outlineFeatures, tongueFeatures } from './part-outline.ts';
import { sawFeatures } from './part-saws.ts';

/** Operations that a part's sheet shows: what is milled into the stock when it is bought isn't made by the builder. */
export const madeByHand = (shapes: readonly ShapeOperation[]): Operation[] =>
  shapes.flatMap((shape, index) =>
    shape.kind === 'tongue' && shape.name === 'profile' ? [] : [{ index, shape }],
  );

/**
 * Sizes, notes, angles and words of a board's operations, those over all not among them.
 * @param outlines `listed` gives the corners of free outlines in a list, for boards that have more of them than sizes find places
 */
export function featuresOf(
  operations: readonly Operation[],
  size: BlankSize,
  say: Saying,
  outlines: 'drawn' | 'listed' = 'drawn',
): Feature[] {
  const pick = <K extends ShapeOperation['kind']>(kind: K): { index: number; shape: Of<K> }[] =>
    operations.flatMap(({ index, shape }) => (shape.kind === kind ? [{ index, shape: shape as Of<K> }] : []));
  return once([
    ...sawFeatures(pick('saw'), size, say),
    ...boxFeatures(
      pick('box').filter(({ shape }) => !isSetOut(shape)),
      size,
      say,
    ),
    ...pick('box').flatMap(({ index, shape }) =>
      isSetOut(shape) ? housingFeatures(index, shape, size, say) : [],
    ),
    ...holeFeatures(pick('hole'), size, say),
    ...slotFeatures(pick('slot'), size, say),
    ...bowFeatures(pick('outline'), size, say),
    ...pick('outline').flatMap(({ index, shape }) => outlineFeatures(index, shape, size, say, outlines)),
    ...pick('tongue').flatMap(({ index, shape }) => tongueFeatures(index, shape, size, say)),
    ...pick('edge').flatMap(({ index, shape }) => edgeWords(index, shape, say)),
  ]);
}

// ---------------------------------------------------------------- notches, housings, grooves, rebates

type BoxAt = { index: number; shape: Of<'box'> };

function boxFeatures(boxes: readonly BoxAt[], size: BlankSize, say: Saying): Feature[] {
  const deep = new Map<string, { at: BoxAt[]; depth: number }>();
  const features = boxes.flatMap(({ index, shape }): Feature[] => {
    const depth = depthToSay(shape, size);
    if (depth === undefined) return boxSizes(index, shape, size, say, true);
    const key = [shape.called, shape.min[2] < SAME, depth.toFixed(2)].join();
    const known = deep.get(key) ?? { at: [], depth };
    known.at.push({ index, shape });
    deep.set(key, known);
    return boxSizes(index, shape, size, say, false);
  });
  return [...features, ...[...deep.values()].map(({ at, depth }) => depthNote(at, depth, size, say))];
}

/** How far a box goes into a wide face where neither edge nor end shows its floor from rim to rim; else its depth is drawn there. */
function depthToSay({ min, max }: Of<'box'>, size: BlankSize): number | undefined {
  const reaches = (axis: 0 | 1 | 2, whole: number): boolean =>
    (min[axis] as number) < SAME && (max[axis] as number) > whole - SAME;
  if (reaches(0, size.length) || reaches(1, size.width) || reaches(2, size.thickness)) return undefined;
  if (min[2] < SAME) return max[2];
  return max[2] > size.thickness - SAME ? size.thickness - min[2] : undefined;
}

/** Extents along the own axes, `through` the thickness too; those from rim to rim need none. */
function boxSizes(index: number, cut: Of<'box'>, size: BlankSize, say: Saying, through: boolean): Feature[] {
  const name = `${index}`;
  const { min, max } = cut;
  const wide = min[2] < SAME && max[2] < size.thickness - SAME ? say.on : 'face';
  const acrossX = min[0] < SAME && max[0] > size.length - SAME;
  const acrossZ = min[2] < SAME && max[2] > size.thickness - SAME;
  const deep: BoardSide = acrossX ? 'end' : 'edge';
  const beside = (min[0] + max[0]) / 2;
  const what = `the ${cut.called}`;
  const features: Feature[] = [
    ...spanned(wide, 0, min[0], max[0], size, say, name, what),
    ...spanned(acrossX && !acrossZ ? 'end' : wide, 1, min[1], max[1], size, say, name, what),
    ...(through ? spanned(deep, 2, min[2], max[2], size, say, name, what) : []),
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

/** `2 housings 6 deep, from the back`, on a leader into the first. */
function depthNote(at: readonly BoxAt[], depth: number, size: BlankSize, say: Saying): FeatureNote {
  const { shape } = at[0] as BoxAt;
  const back = near(depth, shape.max[2]) && shape.max[2] < size.thickness - SAME;
  const head: Run = text(at.length > 1 ? `${at.length} ${plural(shape.called)} ` : `${shape.called} `);
  const between = (axis: 0 | 1, share: number): number =>
    shape.min[axis] + (shape.max[axis] - shape.min[axis]) * share;
  // The middle first; then places nearer to its ends.
  const places = [0.5, 0.25, 0.75, 0.1, 0.9].flatMap((u) =>
    [0.5, 0.25, 0.75].map((v): Vec3 => [between(0, u), between(1, v), back ? 0 : size.thickness]),
  );
  return {
    kind: 'note',
    on: back ? say.on : 'face',
    dot: true,
    at: places,
    text: [head, say.size(depth), text(' deep'), ...(back ? say.fromBehind() : [])],
    of: at.map(({ index }) => `${index} deep`),
  };
}

const plural = (word: string): string => `${word}${/(?:s|ch|sh|x)$/.test(word) ? 'es' : 's'}`;
