/** One pictorial a step: what stands in thin grey, what the step adds in ink and tint, with balloons and the sizes of that step. */
import type { PlacedPart } from '../../geometry/types.ts';
import type { Bounds, Part } from '../../model/types.ts';
import type { Viewpoint } from '../../read/types.ts';
import { text } from '../../text.ts';
import type { Apart } from '../apart/exploded.ts';
import { wayMarks } from '../apart/ways.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import { BALLOON_RADIUS, placeBalloons, type WantedBalloon } from '../paper/balloons.ts';
import { boxOfMarks, type Mark, segmentsOf } from '../paper/marks.ts';
import { distanceToSegment } from '../paper/plane.ts';
import { ratioFor, viewpointWords } from '../shading/pictorial.ts';
import { onPaper, type PaperView, stepMarks } from '../shading/shade.ts';
import type { Room, ViewFace, ViewPicture } from '../types.ts';
import { type AxisSize, type Ground, placeAxisSizes } from '../views/axis-dimensions.ts';
import type { Axis } from '../views/principal.ts';
import { apartFor } from './step-apart.ts';
import { detailMarks } from './step-detail.ts';
import { fastenerMarks } from './step-fasteners.ts';
import { fittingMarks, fittingWords } from './step-fittings.ts';
import { keepClear, notesAround } from './step-notes.ts';
import { type StepScene, shown, viewpointOf } from './step-scenes.ts';
import { dashed, lettersIn, unseenAlone } from './step-unseen.ts';

/** Room of a step's drawing, mm. */
const ROOM: Room = { width: 122, height: 140 };
/** Rooms of its drawing on a sheet that two steps share, mm: the higher one where the other is too crowded. */
const HALVES: readonly Room[] = [
  { width: 104, height: 64 },
  { width: 104, height: 74 },
];
/** Paper for balloons and sizes to begin with, mm: less where every millimetre counts. */
const MARGIN: Room = { width: 18, height: 16 };
const HALF_MARGIN: Room = { width: 10, height: 6 };
/** A drawing that would be smaller than this share of what it is on a sheet of its own isn't made for half of one. */
const LEAST_HALF = 0.62;
/** Room of a sample on the page that sells the plan: half of a sheet's picture. */
const SAMPLE: Room = { width: 108, height: 110 };

/** The drawing of a step; undefined where it adds nothing that can be drawn. */
export function composeStep(
  desk: Desk,
  scene: StepScene,
  place: Place,
  use: 'plan' | 'half' | 'sample' = 'plan',
): Composed | undefined {
  const copies = shown(desk, scene);
  if (scene.added.length === 0 || copies.length === 0) return undefined;
  const rooms =
    use === 'sample'
      ? [SAMPLE]
      : use === 'half'
        ? HALVES
        : place === 'narrow'
          ? [{ width: NARROW_WIDTH - 1, height: 125 }]
          : [ROOM];
  const from = viewpointOf(desk, scene);
  const apart = apartFor(desk, scene, copies, from);
  const picture = apart?.picture ?? desk.picture(copies, from);
  const alone = unseenAlone(desk, desk.copiesOf(scene.step.adds), picture, partsOf(desk, scene, apart));
  const usual = ratioWithin(picture, ROOM, MARGIN);
  let marks: Mark[] | undefined;
  for (const room of rooms) {
    let tried: Mark[] = [];
    let ratio = ratioWithin(picture, room, use === 'half' ? HALF_MARGIN : MARGIN);
    // Balloons and sizes need paper around the piece: it is drawn smaller until all of it fits.
    for (let round = 0; round < 8; round++) {
      if (use === 'half' && ratio < LEAST_HALF * usual) break;
      tried = annotated(desk, scene, onPaper(picture, ratio), { use, room, place, apart, alone });
      const box = boxOfMarks(tried);
      const over = Math.max(
        (box.right - box.left + 1) / room.width,
        (box.bottom - box.top + 1) / room.height,
      );
      if (over <= 1) break;
      ratio *= Math.max(0.7, 0.985 / over);
    }
    if (use === 'half' && (ratio < LEAST_HALF * usual || crowded(tried))) continue;
    marks = tried;
    break;
  }
  if (marks === undefined) return undefined;
  const { step } = scene;
  const title = `${desk.plan.front.title}, step ${step.index}: ${step.title}`;
  return {
    id: `${{ plan: 'step', half: 'half-step', sample: 'sample' }[use]}-${step.index}`,
    kind: use === 'sample' ? 'plate' : 'step',
    title,
    caption: [text(`Step ${step.index}: ${step.title}.`)],
    alt: use === 'sample' ? `${title}, ${viewpointWords(from)}.` : altOf(desk, scene, from, alone),
    marks,
    scale: 'not to scale',
  };
}

/** The ratio at which a picture leaves paper for balloons and sizes around it. */
const ratioWithin = (picture: Parameters<typeof ratioFor>[0], room: Room, margin: Room): number =>
  ratioFor(picture, { width: room.width - margin.width, height: room.height - margin.height });

/** True where a balloon found no clear paper and lies over a thin line: then there is too much in the drawing for its size. */
function crowded(marks: readonly Mark[]): boolean {
  const balloons = marks.flatMap((mark) =>
    mark.kind === 'circle' && mark.radius === BALLOON_RADIUS ? [mark] : [],
  );
  const thin = marks.flatMap((mark) =>
    mark.kind === 'lines' && mark.role === 'thin' ? segmentsOf(mark) : [],
  );
  return balloons.some(({ centre, radius }) =>
    thin.some((line) => distanceToSegment(centre, line) < radius - 0.01),
  );
}

interface Annotation {
  readonly use: 'plan' | 'half' | 'sample';
  readonly room: Room;
  readonly place: Place;
  readonly apart: Apart | undefined;
  /** What can't be seen behind the rest. */
  readonly alone: ViewPicture | undefined;
}

const partsOf = (desk: Desk, scene: StepScene, apart: Apart | undefined): readonly PlacedPart[] =>
  apart?.exploded.parts ?? shown(desk, scene).flatMap((copy) => desk.parts.get(copy) ?? []);

function annotated(
  desk: Desk,
  scene: StepScene,
  view: PaperView,
  { use, room, place, apart, alone }: Annotation,
): Mark[] {
  const added = new Set([...scene.added, ...scene.fittings.added]);
  const shownCopies = new Set(shown(desk, scene));
  const ways = apart ? wayMarks(apart.ways, view) : [];
  const marks = [...stepMarks(view, added), ...dashed(alone, view), ...ways];
  // A sample on the page that sells the plan shows neither sizes nor screws.
  const fasteners =
    apart || use === 'sample' ? undefined : fastenerMarks(desk, scene.step.index, view, shownCopies);
  if (fasteners) marks.push(...fasteners.marks);
  const surfaces = view.picture.faces.map((face) => face.loops.map((loop) => loop.map(view.point)));
  const strong = {
    edges: marks.flatMap((mark) =>
      (mark.kind === 'lines' || mark.kind === 'arcs') && mark.role !== 'standing' ? segmentsOf(mark) : [],
    ),
    surfaces: surfaces.filter((_, i) => added.has(view.picture.faces[i]?.copy ?? '')),
  };
  const ground: Ground = { edges: marks.flatMap(segmentsOf), surfaces, strong, texts: [], lines: [] };
  const parts = partsOf(desk, scene, apart);
  const boxes = parts.map((part) => part.bounds);
  const wanted = use === 'sample' ? [] : apart ? movedSizes(desk, scene, parts) : sizesOf(desk, scene);
  // First what is marked out for hardware: a length over all has room in more places.
  const places = { boxes, ground, moved: apart !== undefined };
  const fixed = use === 'sample' ? { marks: [], notes: [] } : fittingMarks(desk, scene, view, places);
  const sizes = [...fixed.marks, ...placeAxisSizes(view, boxes, wanted, ground)];
  const names = notesAround(fixed.notes, sizes, ground, view);
  keepClear(ground, names);
  const balloons = placeBalloons(
    balloonsOf(desk, scene, [...view.picture.faces, ...(alone?.faces ?? [])], view),
    { ...ground },
  );
  const all = [...marks, ...sizes, ...names, ...balloons];
  if (use === 'sample') return all;
  const over = [...sizes, ...names, ...balloons];
  const notes = fasteners ? notesAround(fasteners.notes, over, ground, view) : [];
  const whole = [...all, ...notes];
  return place === 'narrow' ? whole : [...whole, ...detailMarks(desk, view, added, { marks: whole, room })];
}

/** Of boards drawn apart only their own length is true. */
function movedSizes(desk: Desk, scene: StepScene, parts: readonly PlacedPart[]): AxisSize[] {
  const main = mainCopy(desk, desk.copiesOf(scene.step.adds));
  const moved = main && parts.find((part) => part.copy === main.copy);
  if (!main || !moved || !main.straight || main.part.fit === 'measured') return [];
  const axis = ({ across: 0, deep: 1, up: 2 } as const)[main.part.runs];
  const { min, max } = moved.bounds;
  return [{ axis, from: min[axis], to: max[axis], text: [desk.size(max[axis] - min[axis])] }];
}

/** A balloon for each letter that arrives; where a built assembly is set in, for the letters it consists of. */
function balloonsOf(
  desk: Desk,
  scene: StepScene,
  faces: readonly ViewFace[],
  view: PaperView,
): WantedBalloon[] {
  const own = desk.copiesOf(scene.step.adds);
  const copies = own.length > 0 ? own : scene.added;
  const letters = [...new Set(copies.map((copy) => desk.letter(copy)))].filter((letter) => letter !== '');
  const order = desk.input.cutList.rows.map((row) => row.letter);
  letters.sort((a, b) => order.indexOf(a) - order.indexOf(b));
  return letters.map((letter) => {
    const members = copies.filter((copy) => desk.letter(copy) === letter);
    return {
      letter,
      count: members.length,
      surfaces: faces
        .filter(({ copy }) => members.includes(copy))
        .map(({ loops }) => loops.map((loop) => loop.map(view.point))),
    };
  });
}

/** Up to three sizes: how far the new boards stand over or above what is there, and how long the main one is. */
function sizesOf(desk: Desk, scene: StepScene): AxisSize[] {
  const own = desk.copiesOf(scene.step.adds);
  const main = mainCopy(desk, own);
  if (!main) return [];
  const { part, bounds } = main;
  const axis = ({ across: 0, deep: 1, up: 2 } as const)[part.runs];
  const length: AxisSize = {
    axis,
    from: bounds.min[axis],
    to: bounds.max[axis],
    text: [desk.size(bounds.max[axis] - bounds.min[axis])],
  };
  const setBacks = scene.standing.length > 0 ? offsetsOf(desk, scene, own, bounds) : [];
  return [...setBacks, ...(part.fit === 'measured' || !main.straight ? [] : [length])].slice(0, 3);
}

interface MainCopy {
  readonly copy: string;
  readonly part: Part;
  readonly bounds: Bounds;
  /** How far it reaches along the way it runs. */
  readonly size: number;
  /** False where it leans or slopes: how far it reaches is then not its length, and would be taken for it. */
  readonly straight: boolean;
}

/** The longest of the new boards; of equal ones the first. */
function mainCopy(desk: Desk, copies: readonly string[]): MainCopy | undefined {
  let best: MainCopy | undefined;
  for (const copy of copies) {
    const solid = desk.parts.get(copy);
    const part = solid && desk.partByKey.get(solid.part);
    if (!solid || !part) continue;
    const axis = ({ across: 0, deep: 1, up: 2 } as const)[part.runs];
    const size = solid.bounds.max[axis] - solid.bounds.min[axis];
    const straight = Math.abs(solid.frame.length[axis]) > 1 - 1e-6;
    if (!best || size > best.size + 0.01) best = { copy, part, bounds: solid.bounds, size, straight };
  }
  return best;
}

const lies = (desk: Desk, copy: string): boolean => {
  const part = desk.partByKey.get(desk.parts.get(copy)?.part ?? '');
  return part?.wideFace === 'top' || part?.wideFace === 'bottom';
};

/** Overhangs past what stands, in front and at the side, or the height above the floor of a board that rests on nothing yet. */
function offsetsOf(desk: Desk, scene: StepScene, own: readonly string[], main: Bounds): AxisSize[] {
  const there = desk.bounds(scene.standing);
  const flat = own.filter((copy) => lies(desk, copy));
  const under = desk.bounds([...scene.standing, ...own.filter((copy) => !flat.includes(copy))]);
  const fresh = desk.bounds(flat);
  const sized = (axis: Axis, from: number, to: number): AxisSize => ({
    axis,
    from,
    to,
    text: [desk.size(to - from)],
  });
  const overhangs = (flat.length > 0 ? ([1, 0] as const) : []).flatMap((axis): AxisSize[] => {
    const over = under.min[axis] - fresh.min[axis];
    return over > 3 && over < 120 ? [sized(axis, fresh.min[axis], under.min[axis])] : [];
  });
  if (overhangs.length > 0) return overhangs;
  const floor = there.min[2];
  const bottoms = own
    .flatMap((copy) => desk.parts.get(copy)?.bounds.min[2] ?? [])
    .filter((z) => z > floor + 3);
  const lowest = bottoms.length === 0 ? main.min[2] : Math.min(...bottoms);
  const rests = scene.standing.some(
    (copy) => Math.abs((desk.parts.get(copy)?.bounds.max[2] ?? NaN) - lowest) < 0.5,
  );
  // Level with the tops of legs, a board needs no height: the legs give it.
  const tops = own.map((copy) => desk.parts.get(copy)?.bounds.max[2] ?? Number.NaN);
  const level = scene.standing.some((copy) => {
    const solid = desk.parts.get(copy);
    const up = desk.partByKey.get(solid?.part ?? '')?.runs === 'up';
    return up && tops.some((top) => Math.abs(top - (solid?.bounds.max[2] ?? 0)) < 0.5);
  });
  return lowest > floor + 3 && !rests && !level ? [{ ...sized(2, floor, lowest), height: true }] : [];
}

function altOf(desk: Desk, scene: StepScene, from: Viewpoint, alone: ViewPicture | undefined): string {
  const { step } = scene;
  const named = desk.input.instructions.steps.find((s) => s.index === step.index)?.parts ?? [];
  const joins = named.map((p) => `${p.quantity} × ${p.letter}, ${p.name.toLowerCase()}`);
  const main = mainCopy(desk, desk.copiesOf(step.adds));
  const sets = step.sets.length > 0 ? `Set in: ${step.sets.join(', ')}.` : '';
  const board = main?.part.copies.find(({ id }) => id === main.copy);
  const length = !main
    ? ''
    : `The longest is ${desk.words(main.straight || !board ? main.size : board.size.length)} long.`;
  return [
    `Step ${step.index}, ${viewpointWords(from)}.`,
    scene.standing.length > 0 ? 'What stands already is in grey.' : '',
    joins.length > 0 ? `Added, tinted: ${joins.join('; ')}.` : '',
    sets,
    alone ? `Behind what stands, in dashed lines: ${lettersIn(desk, alone).join(', ')}.` : '',
    ...fittingWords(desk, scene),
    length,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
