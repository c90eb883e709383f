/** The piece taken apart: boards moved along their way in, in wood tones, with a balloon for each letter of the cut list. */
import type { Viewpoint } from '../read/types.ts';
import { text } from '../text.ts';
import { placeBalloons, type Surroundings, type WantedBalloon } from './balloons.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from './desk.ts';
import { type Exploded, explode } from './explode.ts';
import { boxOfMarks, type Mark, segmentsOf } from './marks.ts';
import { ratioFor, USUAL_VIEWPOINT, viewpointWords } from './pictorial.ts';
import { viewFrame } from './project.ts';
import { onPaper, type PaperView, woodMarks } from './shade.ts';
import type { Point, Room, ViewPicture } from './types.ts';
import { viewPicture } from './view.ts';
import { type SeenWay, seenWays, wayMarks } from './ways.ts';

/** What is taken apart, and how it is seen. */
export interface Apart {
  readonly exploded: Exploded;
  readonly picture: ViewPicture;
  /** The lines along which the boards go in. */
  readonly ways: readonly SeenWay[];
}

/** Copies in the order of the steps that bring them: what goes in last comes out first. */
export const orderOfWork = (desk: Desk): string[][] =>
  desk.plan.steps.map((step) => desk.copiesOf(step.adds));

/** What was taken apart for a desk already: the sheet and the phone show the same, and so do samples. */
const taken = new WeakMap<Desk, Map<string, Apart>>();

/** Takes some copies apart, once for all drawings of a desk that show them. */
export function takeApart(
  desk: Desk,
  copies: readonly string[],
  order: readonly (readonly string[])[],
  from = USUAL_VIEWPOINT,
): Apart {
  const known = taken.get(desk) ?? new Map<string, Apart>();
  taken.set(desk, known);
  const key = JSON.stringify([copies, order, from]);
  const apart = known.get(key) ?? takenApart(desk, copies, order, from);
  known.set(key, apart);
  return apart;
}

function takenApart(
  desk: Desk,
  copies: readonly string[],
  order: readonly (readonly string[])[],
  from: Viewpoint,
): Apart {
  const parts = copies.flatMap((copy) => desk.parts.get(copy) ?? []);
  const frame = viewFrame(from);
  const exploded = explode(parts, order, frame);
  const picture = viewPicture(exploded.parts, frame, desk.input.solids, { hidden: false, arcs: true });
  return { exploded, picture, ways: seenWays(exploded, frame) };
}

/** The exploded view; undefined for a piece of one board, which has nothing to take apart. */
export function composeExploded(desk: Desk, place: Place): Composed | undefined {
  if (desk.all.length < 2) return undefined;
  const room: Room =
    place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 170 } : desk.sheetRoom({ letter: 202, a4: 220 });
  const apart = takeApart(desk, desk.all, orderOfWork(desk));
  const { title } = desk.plan.front;
  return {
    id: 'exploded',
    kind: 'exploded',
    title: `${title}: how it goes together`,
    caption: [text('How it goes together. Letters are those of the cut list.')],
    alt: altOf(desk, apart),
    marks: fitted(desk, apart, room),
    scale: 'not to scale',
  };
}

/** Composes a piece taken apart as large as its balloons let it be. */
export function fitted(desk: Desk, apart: Apart, room: Room): Mark[] {
  let ratio = ratioFor(apart.picture, { width: room.width - 6, height: room.height - 6 });
  let marks: Mark[] = [];
  for (let round = 0; round < 8; round++) {
    marks = explodedMarks(desk, apart, onPaper(apart.picture, ratio));
    const box = boxOfMarks(marks);
    const over = Math.max((box.right - box.left + 1) / room.width, (box.bottom - box.top + 1) / room.height);
    if (over <= 1) break;
    ratio *= Math.max(0.8, 0.985 / over);
  }
  return marks;
}

function explodedMarks(desk: Desk, apart: Apart, view: PaperView): Mark[] {
  const moved = new Map(apart.exploded.parts.map((part) => [part.copy, part]));
  const ways = wayMarks(apart.ways, view);
  const wood = woodMarks(view, moved);
  const surfaces = view.picture.faces.map((face) => face.loops.map((loop) => loop.map(view.point)));
  const edges = wood.flatMap((mark) =>
    (mark.kind === 'lines' || mark.kind === 'arcs') && mark.role !== 'grain' && mark.role !== 'ring'
      ? segmentsOf(mark)
      : [],
  );
  const around: Surroundings = {
    surfaces,
    edges: [...edges, ...ways.flatMap(segmentsOf)],
    texts: [],
    lines: [],
  };
  return [...wood, ...ways, ...placeBalloons(balloonsOf(desk, view, surfaces), around)];
}

/** A balloon for each row of the cut list that is in the picture, its count beside it. */
function balloonsOf(
  desk: Desk,
  view: PaperView,
  surfaces: readonly (readonly (readonly Point[])[])[],
): WantedBalloon[] {
  const shown = new Set(view.picture.faces.map((face) => face.copy));
  return desk.input.cutList.rows.flatMap((row): WantedBalloon[] => {
    const members = row.copies.filter((copy) => shown.has(copy));
    if (members.length === 0) return [];
    return [
      {
        letter: row.letter,
        count: members.length,
        surfaces: surfaces.filter((_, i) => members.includes(view.picture.faces[i]?.copy ?? '')),
      },
    ];
  });
}

function altOf(desk: Desk, { exploded }: Apart): string {
  const apart = [...exploded.moves.values()].filter((move) => move.way !== undefined).length;
  const rows = desk.input.cutList.rows.map(
    (row) => `${row.letter}, ${row.name.toLowerCase()}, ${row.quantity}`,
  );
  return [
    `${desk.plan.front.title} taken apart, ${viewpointWords(USUAL_VIEWPOINT)}: ${apart} of ${exploded.parts.length} boards are moved out along their way in.`,
    `Together ${desk.overall(desk.all)}.`,
    `Letters with their counts: ${rows.join('; ')}.`,
  ].join(' ');
}
