/** What each step's drawing shows, by copy, and where it is seen from. */
import { keyOfUse } from '../../geometry/fittings.ts';
import type { Step } from '../../model/types.ts';
import type { Viewpoint } from '../../read/types.ts';
import type { Desk } from '../desk.ts';
import { USUAL_VIEWPOINT } from '../shading/pictorial.ts';

/** Steps shown as samples are taken from these places in the work. */
const SAMPLES = [0.25, 0.6, 0.85];

/** Ids of fittings in a scene. */
export interface StepFittings {
  readonly standing: readonly string[];
  readonly added: readonly string[];
}

/** What a step's drawing shows, by copy. */
export interface StepScene {
  readonly step: Step;
  readonly standing: readonly string[];
  readonly added: readonly string[];
  /** Hardware on these boards. */
  readonly fittings: StepFittings;
}

/** The step that each use of hardware is listed in, by its key. */
export function stepsOfUses(desk: Desk): ReadonlyMap<string, number> {
  return new Map(
    desk.input.instructions.steps.flatMap((step) =>
      step.hardware.map((use) => [keyOfUse(use), step.index] as const),
    ),
  );
}

/**
 * The fittings on the boards of a scene: those of the steps before stand; new are those that the step lists, and those that come with new
 * boards.
 */
function fittingsOf(desk: Desk, scene: Omit<StepScene, 'fittings'>): StepFittings {
  const listed = stepsOfUses(desk);
  const boards = new Set([...scene.standing, ...scene.added]);
  const fresh = new Set(scene.added);
  const standing: string[] = [];
  const added: string[] = [];
  for (const { copy, fitting } of desk.fittings) {
    const step = fitting && listed.get(fitting.use);
    if (fitting === undefined || step === undefined || step > scene.step.index || !boards.has(fitting.on))
      continue;
    (step === scene.step.index || fresh.has(fitting.on) ? added : standing).push(copy);
  }
  return { standing, added };
}

/**
 * What stands and what is added in each step. A step that builds an assembly shows that assembly alone; its parts join the piece in
 * the step that sets it, or at once where no step does.
 */
export function stepScenes(desk: Desk): StepScene[] {
  return boardScenes(desk).map((scene) => ({ ...scene, fittings: fittingsOf(desk, scene) }));
}

function boardScenes(desk: Desk): Omit<StepScene, 'fittings'>[] {
  const { steps } = desk.plan;
  const everSet = new Set(steps.flatMap((step) => step.sets));
  const assemblies = new Map<string, string[]>();
  let piece: string[] = [];
  return steps.map((step) => {
    const own = desk.copiesOf(step.adds);
    const set = step.sets.flatMap((name) => assemblies.get(name) ?? []);
    if (step.assembly !== undefined && everSet.has(step.assembly)) {
      const before = assemblies.get(step.assembly) ?? [];
      assemblies.set(step.assembly, [...before, ...own, ...set]);
      return { step, standing: before, added: [...set, ...own] };
    }
    // The first assemblies that are set up are what the new boards join: they count as standing.
    const first = piece.length === 0 && own.length > 0;
    const scene = { step, standing: first ? set : piece, added: first ? own : [...set, ...own] };
    piece = [...new Set([...piece, ...set, ...own])];
    return scene;
  });
}

const CORNERS: readonly Viewpoint[] = [
  USUAL_VIEWPOINT,
  { depth: 'front', side: 'left', height: 'above' },
  { depth: 'back', side: 'right', height: 'above' },
  { depth: 'back', side: 'left', height: 'above' },
];

/** The viewpoint the plan names, or the corner from which the most of the added kinds of boards can be seen. */
export function viewpointOf(desk: Desk, scene: StepScene): Viewpoint {
  if (scene.step.from) return scene.step.from;
  const wanted = new Set(scene.added.map((copy) => desk.letter(copy)));
  let best: { from: Viewpoint; seen: number } | undefined;
  for (const from of CORNERS) {
    const faces = desk
      .picture(shown(desk, scene), from)
      .faces.filter((face) => scene.added.includes(face.copy));
    const seen = new Set(faces.map((face) => desk.letter(face.copy))).size;
    if (!best || seen > best.seen) best = { from, seen };
    if (seen === wanted.size) break;
  }
  return best?.from ?? USUAL_VIEWPOINT;
}

/** Copies in the order of the parts, so that equal scenes are one picture, then the hardware on them. */
export function shown(desk: Desk, scene: StepScene): string[] {
  const all = new Set([...scene.standing, ...scene.added]);
  const { standing, added } = scene.fittings;
  return [...desk.all.filter((copy) => all.has(copy)), ...standing, ...added];
}

/** Scenes that make samples: from three places in the work, those with the most kinds of boards to look at. */
export function sampleScenes(scenes: readonly StepScene[]): StepScene[] {
  const able = scenes.filter((scene) => scene.added.length > 0);
  const at = (share: number): StepScene | undefined =>
    able[Math.min(able.length - 1, Math.floor(able.length * share))];
  return [...new Set(SAMPLES.map(at))].flatMap((scene) => scene ?? []);
}
