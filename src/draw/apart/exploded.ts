/** The piece taken apart: boards moved along their way in, in wood tones, with a balloon for each letter of the cut list. */
import type { PlacedPart } from '../../geometry/types.ts';
import type { Viewpoint } from '../../read/types.ts';
import { text } from '../../text.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import { viewFrame } from '../lines/project.ts';
import { viewPicture } from '../lines/view.ts';
import { placeBalloons, type Surroundings, type WantedBalloon } from '../paper/balloons.ts';
import { boxOfMarks, type Mark, segmentsOf } from '../paper/marks.ts';
import { ratioFor, USUAL_VIEWPOINT, viewpointWords } from '../shading/pictorial.ts';
import { edgeMarks, onPaper, type PaperView, woodMarks } from '../shading/shade.ts';
import type { Point, Room, ViewPicture } from '../types.ts';
import { type Exploded, explode, movedPart, type Order, orderOfSteps } from './explode.ts';
import { type SeenWay, seenWays, wayMarks } from './ways.ts';

/** What is taken apart, and how it is seen. */
export interface Apart {
  readonly exploded: Exploded;
  /** What is fixed to the boards, moved with them. */
  readonly fittings: readonly PlacedPart[];
  readonly picture: ViewPicture;
  /** The lines along which the boards go in. */
  readonly ways: readonly SeenWay[];
}

/** Copies in the order of the steps that bring them. */
export const orderOfWork = (desk: Desk): Order => orderOfSteps(desk.plan, desk.input.parts);

/** What was taken apart for a desk already: the sheet and the phone show the same, and so do samples. */
const taken = new WeakMap<Desk, Map<string, Apart>>();

/** Takes some copies apart, once for all drawings of a desk that show them. */
export function takeApart(
  desk: Desk,
  copies: readonly string[],
  order: Order,
  from = USUAL_VIEWPOINT,
): Apart {
  const known = taken.get(desk) ?? new Map<string, Apart>();
  taken.set(desk, known);
  const key = JSON.stringify([copies, order, from]);
  const apart = known.get(key) ?? takenApart(desk, copies, order, from);
  known.set(key, apart);
  return apart;
}

function takenApart(desk: Desk, copies: readonly string[], order: Order, from: Viewpoint): Apart {
  const all = copies.flatMap((copy) => desk.parts.get(copy) ?? []);
  const parts = all.filter((part) => part.fitting === undefined);
  const frame = viewFrame(from);
  const exploded = explode(parts, order, frame);
  // Hardware goes with the board that it is fixed to.
  const fittings = all.flatMap((part): PlacedPart[] => {
    const move = part.fitting && exploded.moves.get(part.fitting.on);
    return move ? [movedPart(part, move.by)] : [];
  });
  const shown = [...exploded.parts, ...fittings];
  const picture = viewPicture(shown, frame, desk.input.solids, { hidden: false, arcs: true });
  return { exploded, fittings, picture, ways: seenWays(exploded, frame) };
}

/** The exploded view; undefined for a piece of one board, which has nothing to take apart. */
export function composeExploded(desk: Desk, place: Place): Composed | undefined {
  if (desk.all.length < 2) return undefined;
  const room: Room =
    place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 170 } : desk.sheetRoom({ letter: 202, a4: 220 });
  const apart = takeApart(desk, desk.withFittings(desk.all), orderOfWork(desk));
  const { title } = desk.plan.front;
  return {
    id: 'exploded',
    kind: 'exploded',
    title: `${title}: how it goes together`,
    caption: [
      text(['How it goes together. Letters are those of the cut list.', ...heldWords(desk, apart)].join(' ')),
    ],
    alt: altOf(desk, apart),
    marks: fitted(desk, apart, room),
    scale: 'not to scale',
  };
}

/** A picture that fills this share of its room is large enough; and so many sizes are tried. */
const [ENOUGH, SIZES] = [0.96, 8];

/** Composes a piece taken apart as large as its balloons let it be. */
export function fitted(desk: Desk, apart: Apart, room: Room): Mark[] {
  let ratio = ratioFor(apart.picture, { width: room.width - 6, height: room.height - 6 });
  let best: { view: PaperView; over: Mark[] } | undefined;
  let [fits, tooLarge] = [0, Number.POSITIVE_INFINITY];
  for (let size = 0; size < SIZES; size++) {
    const view = onPaper(apart.picture, ratio);
    const edges = edgeMarks(view);
    const over = overMarks(desk, apart, view, edges);
    const drawn = boxOfMarks([...edges, ...over]);
    const [width, height] = [drawn.right - drawn.left + 1, drawn.bottom - drawn.top + 1];
    const share = Math.max(width / room.width, height / room.height);
    if (share <= 1) fits = ratio;
    else tooLarge = ratio;
    if (share <= 1 || fits === 0) best = { view, over };
    // A size tried in vain is enough: balloons may then stand elsewhere and need more room.
    if (share <= 1 ? share > ENOUGH || tooLarge / fits < 1.02 : fits > 0) break;
    // Balloons keep their size: of what the room has left or lacks, all is the piece's.
    const next = Math.min(
      (ratio * (0.99 * room.width - width + view.width)) / view.width,
      (ratio * (0.99 * room.height - height + view.height)) / view.height,
    );
    const [least, most] = fits === 0 ? [0.8, 0.985] : [1.01, Math.min(1.15, (0.99 * tooLarge) / ratio)];
    ratio = Math.min(most * ratio, Math.max(least * ratio, next));
  }
  if (best === undefined) return [];
  const moved = new Map([...apart.exploded.parts, ...apart.fittings].map((part) => [part.copy, part]));
  return [...woodMarks(best.view, moved), ...best.over];
}

/** What lies over the boards: the ways, and balloons clear of all edges. */
function overMarks(desk: Desk, apart: Apart, view: PaperView, edges: readonly Mark[]): Mark[] {
  const ways = wayMarks(apart.ways, view);
  const surfaces = view.picture.faces.map((face) => face.loops.map((loop) => loop.map(view.point)));
  const around: Surroundings = {
    surfaces,
    edges: [...edges, ...ways].flatMap(segmentsOf),
    texts: [],
    lines: [],
  };
  return [...ways, ...placeBalloons(balloonsOf(desk, view, surfaces), around)];
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

/** What is said of boards for which no way in was found: `No way in was found for M …`; nothing where there are none. */
export function heldWords(desk: Desk, { exploded }: Apart): string[] {
  const held = [...exploded.moves.values()].filter((move) => move.held).map((move) => desk.letter(move.copy));
  const letters = [...new Set(held)].sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
  if (letters.length === 0) return [];
  const named =
    letters.length === 1 ? letters[0] : `${letters.slice(0, -1).join(', ')} and ${letters.at(-1)}`;
  return [
    `Other boards hold ${named}: no way in by one or two straight moves was found. Drawn clear of them, without a line; the steps say how.`,
  ];
}

function altOf(desk: Desk, apart: Apart): string {
  const { exploded } = apart;
  const out = [...exploded.moves.values()].filter((move) => move.way !== undefined && !move.held).length;
  const rows = desk.input.cutList.rows.map(
    (row) => `${row.letter}, ${row.name.toLowerCase()}, ${row.quantity}`,
  );
  return [
    `${desk.plan.front.title} taken apart, ${viewpointWords(USUAL_VIEWPOINT)}: ${out} of ${exploded.parts.length} boards are moved out along their way in.`,
    ...heldWords(desk, apart),
    `Together ${desk.overall(desk.all)}.`,
    `Letters with their counts: ${rows.join('; ')}.`,
  ].join(' ');
}
