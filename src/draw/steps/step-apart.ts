/** A step's new boards moved out along their way in, where one of them would not be seen in its place. */
import type { Viewpoint } from '../../read/types.ts';
import { type Apart, takeApart } from '../apart/exploded.ts';
import type { Desk } from '../desk.ts';
import { areaOfLoops } from '../paper/plane.ts';
import { ratioFor } from '../shading/pictorial.ts';
import type { StepScene } from './step.ts';

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
  const picture = desk.picture(copies, from);
  const ratio = ratioFor(picture, { width: 104, height: 124 });
  const letters = [...new Set(own.map((copy) => desk.letter(copy)))];
  const unseen = letters.some((letter) => {
    const areas = picture.faces.filter(
      (face) => own.includes(face.copy) && desk.letter(face.copy) === letter,
    );
    return areas.reduce((sum, face) => sum + areaOfLoops(face.loops), 0) * ratio * ratio < LEAST_SEEN;
  });
  return unseen ? takeApart(desk, copies, [own], from) : undefined;
}
