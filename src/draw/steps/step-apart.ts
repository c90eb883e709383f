/** A step's new boards moved out along their way in, where one of them would not be seen in its place. */
import { norm } from '../../geometry/vectors.ts';
import type { Viewpoint } from '../../read/types.ts';
import { type Apart, takeApart } from '../apart/exploded.ts';
import type { Desk } from '../desk.ts';
import type { StepScene } from './step-scenes.ts';
import { lettersUnseen } from './step-unseen.ts';

/** A letter whose boards show less of themselves than this, mm² at the size a step is drawn, isn't seen. */
const LEAST_SEEN = 9;

/** What was taken apart for a scene: it is drawn on a whole sheet, on half of one and for a phone. */
const apartBefore = new WeakMap<StepScene, { readonly apart: Apart | undefined }>();

/** Moves the new boards out along their way in where one of them would not be seen in its place. An assembly built before stays one body. */
export function apartFor(
  desk: Desk,
  scene: StepScene,
  copies: readonly string[],
  from: Viewpoint,
): Apart | undefined {
  const before = apartBefore.get(scene);
  if (before) return before.apart;
  const apart = takenApart(desk, scene, copies, from);
  apartBefore.set(scene, { apart });
  return apart;
}

function takenApart(
  desk: Desk,
  scene: StepScene,
  copies: readonly string[],
  from: Viewpoint,
): Apart | undefined {
  const own = desk.copiesOf(scene.step.adds);
  if (own.length === 0 || scene.standing.length === 0 || scene.added.length > 14) return undefined;
  const inPlace = lettersUnseen(desk, own, desk.picture(copies, from), LEAST_SEEN);
  if (inPlace.length === 0) return undefined;
  const apart = takeApart(desk, copies, [own], from);
  // Where boards that stand would have to make way, or the new ones aren't seen behind them either, all stay in their places.
  const stirred = scene.standing.some((copy) => {
    const move = apart.exploded.moves.get(copy);
    return move !== undefined && norm(move.by) > 0.01;
  });
  if (stirred) return undefined;
  return lettersUnseen(desk, own, apart.picture).length < inPlace.length ? apart : undefined;
}
