/** Files for machines and viewers: the finished piece in 3D, which an animation takes apart, and the flat shape of each board that is sawn to an outline. */
import type { CutList } from '../../cutting/types.ts';
import { explode, orderOfSteps } from '../../draw/apart/explode.ts';
import { viewFrame } from '../../draw/lines/project.ts';
import { isSawnToShape, shapedOutline } from '../../draw/lines/shaped-outline.ts';
import { USUAL_VIEWPOINT } from '../../draw/shading/pictorial.ts';
import { keyOfUse, placeFittings } from '../../geometry/fittings.ts';
import type { Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import { arrivals } from '../../joinery/index.ts';
import { baseName, planTitle } from '../../model/naming.ts';
import type { Plan } from '../../model/types.ts';
import { clipOf } from './clip.ts';
import { dxfOf } from './dxf.ts';
import { type GlbCopy, glbOf, type WoodTones } from './glb.ts';

/** What hardware is made of in the model, and its grey. */
const METAL = 'metal';
const TONES: ReadonlyMap<string, WoodTones> = new Map([
  [METAL, { side: '#c9c9c9', end: '#c9c9c9', cut: '#c9c9c9' }],
]);

/** A file of a package. */
export interface ModelFile {
  readonly name: string;
  readonly content: Uint8Array;
}

/** `<slug>-<edition>.glb`, and `<slug>-<edition>-part-A.dxf` for each board with an outline of its own that closes. */
export async function modelFiles(
  plan: Plan,
  cutList: CutList,
  parts: readonly PlacedPart[],
  solids: Pick<Solids, 'shape'>,
): Promise<ModelFile[]> {
  const base = baseName(plan);
  const when = arrivals(plan);
  const copies = new Map(
    plan.parts.flatMap((part) => part.copies.map((copy) => [copy.id, { part, copy }] as const)),
  );
  const exploded = explode(parts, orderOfSteps(plan, parts), viewFrame(USUAL_VIEWPOINT));
  const films = clipOf(exploded);
  const model = parts.flatMap((solid): GlbCopy[] => {
    const found = copies.get(solid.copy);
    if (!found) return [];
    const step = when.get(found.part.key)?.inPlace;
    const apart = exploded.moves.get(solid.copy)?.by;
    const film = films.get(solid.copy);
    return [
      {
        part: solid,
        width: found.copy.size.width,
        name: found.part.name,
        letter: cutList.letters[solid.copy] ?? '',
        species: found.part.species,
        ...(step === undefined ? {} : { step }),
        ...(apart === undefined ? {} : { apart }),
        ...(film === undefined ? {} : { film }),
      },
    ];
  });
  // Hardware goes with the board that it is fixed to.
  const hosts = new Map(model.map((copy) => [copy.part.copy, copy]));
  const fittings = placeFittings(plan, solids).flatMap((solid): GlbCopy[] => {
    const host = hosts.get(solid.fitting?.on ?? '');
    const use = plan.hardware.find((one) => keyOfUse(one) === solid.fitting?.use);
    if (!host || !use) return [];
    const species = solid.fitting?.wooden ? host.species : METAL;
    return [
      { ...host, part: { ...solid, part: use.item.key }, width: 0, name: use.item.name, letter: '', species },
    ];
  });
  const flat = cutList.rows.flatMap((row): ModelFile[] => {
    const id = row.copies[0] ?? '';
    const solid = parts.find((part) => part.copy === id);
    const copy = copies.get(id)?.copy;
    if (!solid || !copy || !isSawnToShape(copy)) return [];
    const unit = plan.edition.numbers.system;
    const text = dxfOf(shapedOutline(solid, copy, solids), {
      unit,
      title: `${planTitle(plan)}, part ${row.letter}, ${row.name}`,
    });
    return text === undefined
      ? []
      : [{ name: `${base}-part-${row.letter}.dxf`, content: new TextEncoder().encode(text) }];
  });
  return [
    { name: `${base}.glb`, content: await glbOf(planTitle(plan), [...model, ...fittings], TONES) },
    ...flat,
  ];
}
