/** Hardware in a step's drawing: what the step fixes and what is there already, where it is marked out, and what it is called. */
import { keyOfUse } from '../../geometry/fittings.ts';
import { dot } from '../../geometry/vectors.ts';
import type { Bounds, FittingSpot, HardwareUse, Vec3 } from '../../model/types.ts';
import { type Line, text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import { DOT_RADIUS, type Mark } from '../paper/marks.ts';
import { boxOf, distanceToSegment, inside, sidesOf } from '../paper/plane.ts';
import { equalSpaces } from '../paper/spaces.ts';
import type { PaperView } from '../shading/shade.ts';
import type { Point } from '../types.ts';
import { type AxisSize, type Ground, placeAxisSizes } from '../views/axis-dimensions.ts';
import type { Axis } from '../views/principal.ts';
import type { StepNote } from './step-notes.ts';
import { type StepScene, stepsOfUses } from './step-scenes.ts';

/** A row along an axis of the piece within this, as its cosine. */
const ALONG_AXIS = 1 - 1e-6;

/** The uses that a step lists and whose fittings are in its drawing. */
function newUses(desk: Desk, scene: StepScene): HardwareUse[] {
  const keys = new Set(scene.fittings.added.map((copy) => desk.parts.get(copy)?.fitting?.use));
  const listed = stepsOfUses(desk);
  return desk.plan.hardware.filter((use) => {
    const key = keyOfUse(use);
    return keys.has(key) && listed.get(key) === scene.step.index;
  });
}

/** The axis of the piece that a vector runs along, and whether it runs with it. */
function axisOf(way: Vec3): { readonly axis: Axis; readonly sign: 1 | -1 } | undefined {
  const axis = ([0, 1, 2] as const).find((k) => Math.abs(way[k]) > ALONG_AXIS);
  return axis === undefined ? undefined : { axis, sign: way[axis] < 0 ? -1 : 1 };
}

/**
 * A box through the middle of each fitting of a use, along each axis that its places are measured along: of the fitting, or of its whole
 * board, whose far edge may have the room that there is none for at the fitting.
 */
function middlesOf(desk: Desk, use: HardwareUse, of: 'fitting' | 'board'): Bounds[] {
  return (use.spots ?? []).flatMap((spot, index) => {
    const bodies = desk.fittings.filter(
      ({ fitting }) => fitting?.use === keyOfUse(use) && fitting.spot === index,
    );
    if (bodies.length === 0) return [];
    const { min, max } = desk.bounds(of === 'board' ? [spot.copy] : bodies.map(({ copy }) => copy));
    return [spot.row, spot.rise].flatMap((way): Bounds[] => {
      const axis = axisOf(way.along)?.axis;
      if (axis === undefined) return [];
      const flat = (end: Vec3): Vec3 =>
        end.map((v, k) => (k === axis ? spot.at[axis] : v)) as unknown as Vec3;
      return [{ min: flat(min), max: flat(max) }];
    });
  });
}

/** A size of a row, and how a note says it where the drawing has no place for it: `9 1/2″ from the end`. */
interface Sized extends AxisSize {
  readonly words: Line;
}

/**
 * Where the fittings of a use are marked out: from the end of the face to the middle of the first, from there to the last, and how high on
 * the face where the plan says so. Of a part's copies the first is measured.
 */
function sizesOfUse(desk: Desk, use: HardwareUse): Sized[] {
  const [first] = use.spots ?? [];
  if (first === undefined) return [];
  const row = (use.spots ?? []).filter(({ copy }) => copy === first.copy);
  const last = row.at(-1) as FittingSpot;
  const on = ({ along }: FittingSpot['row'], { at }: FittingSpot): number => dot(along, at);
  const size = (way: FittingSpot['row'], from: number, to: number, said: Line, words: Line): Sized[] => {
    const found = axisOf(way.along);
    if (found === undefined || Math.abs(to - from) < 0.5) return [];
    const ends = [from * found.sign, to * found.sign];
    return [{ axis: found.axis, from: Math.min(...ends), to: Math.max(...ends), text: said, words }];
  };
  const nearer = (way: FittingSpot['row'], said: string): Sized[] => {
    const at = on(way, first);
    const end = at - way.low <= way.high - at + 1e-6 ? way.low : way.high;
    const length = desk.size(Math.abs(at - end));
    return size(way, end, at, [length], [length, text(said)]);
  };
  const spaces = row.length - 1;
  const [begins, ends] = [on(first.row, first), on(first.row, last)];
  const whole = desk.size(Math.abs(ends - begins));
  return [
    ...nearer(first.row, ' from the end'),
    ...(spaces < 1
      ? []
      : size(
          first.row,
          begins,
          ends,
          spaces === 1 ? [whole] : equalSpaces(spaces, ends - begins, (value) => desk.size(value)),
          [desk.size(Math.abs(ends - begins) / spaces), text(' apart')],
        )),
    ...(first.fixed.across ? nearer(first.rise, ' from the edge') : []),
  ];
}

/**
 * The sizes of a step's new fittings, and what they are called, for leaders, with the sizes that have no clear place. `ground` takes what is
 * placed, for what comes after. Of boards that are `moved` apart nothing can be measured.
 */
export function fittingMarks(
  desk: Desk,
  scene: StepScene,
  view: PaperView,
  { boxes, ground, moved }: { boxes: readonly Bounds[]; ground: Ground; moved: boolean },
): { readonly marks: readonly Mark[]; readonly notes: readonly StepNote[] } {
  const marks: Mark[] = [];
  const notes = newUses(desk, scene).flatMap((use): StepNote[] => {
    const tips = tipsOf(desk, scene, view, use);
    const [tip] = tips;
    // What is covered, as a stay under its lid, would have sizes that lead to nothing.
    if (tip === undefined) return [];
    const unsaid = sizesOfUse(desk, use).filter((size) => {
      if (moved) return true;
      for (const of of ['fitting', 'board'] as const) {
        const placed = placeAxisSizes(view, [...middlesOf(desk, use, of), ...boxes], [size], ground);
        marks.push(...placed);
        if (placed.length > 0) return false;
      }
      return true;
    });
    const said: Line = [text(calledOf(use)), ...unsaid.flatMap(({ words }) => [text(', '), ...words])];
    return [
      {
        text: said,
        short: [text(calledOf(use))],
        tips: tips.map(({ at }) => at),
        end: tip.clear > DOT_RADIUS * 2 ? 'dot' : 'arrow',
      },
    ];
  });
  return { marks, notes };
}

/** `2 × butt hinge` */
function calledOf({ item, count }: HardwareUse): string {
  const name = (item.name.split(',')[0] ?? '').trim();
  return `${count} × ${name.charAt(0).toLowerCase()}${name.slice(1)}`;
}

/** For the words that stand for a step's drawing: what is fixed in it. */
export const fittingWords = (desk: Desk, scene: StepScene): string[] => {
  const said = newUses(desk, scene).map(calledOf);
  return said.length === 0 ? [] : [`Fixed: ${said.join(', ')}.`];
};

/** Where the fittings of a use are seen, the widest places first, and how far it is from there to the edge of the face. */
function tipsOf(
  desk: Desk,
  scene: StepScene,
  view: PaperView,
  use: HardwareUse,
): { readonly at: Point; readonly clear: number }[] {
  const shown = new Set(scene.fittings.added);
  const key = keyOfUse(use);
  return view.picture.faces
    .flatMap((face) => {
      if (!shown.has(face.copy) || desk.parts.get(face.copy)?.fitting?.use !== key) return [];
      const loops = face.loops.map((loop) => loop.map(view.point));
      const box = boxOf(loops.flat());
      const at: Point = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
      if (!inside(at, loops)) return [];
      return [{ at, clear: Math.min(...sidesOf(loops).map((side) => distanceToSegment(at, side))) }];
    })
    .sort((a, b) => Math.round(b.clear * 10) - Math.round(a.clear * 10))
    .slice(0, 12);
}
