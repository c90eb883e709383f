/**
 * A sheet for each kind of board that has more than square ends: its wide face, an edge and an end as needed, with all that has to be
 * set out and bored, sawn or cut. What finds no clear place at the views is said in words below them, so that nothing is left out.
 */
import type { Copy } from '../model/types.ts';
import { type Line, text } from '../text.ts';
import { angleMarks } from './angles.ts';
import { type BoardArrangement, BoardPictures, type BoardSide, type BoardView } from './board-views.ts';
import { type Breaks, breaksOf, unbroken } from './broken.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from './desk.ts';
import { Obstacles, placeDimensions, type Side, type WantedDimension } from './dimensions.ts';
import { type Feature, type FeatureSize, type Operation, Saying } from './feature.ts';
import { placeLeaders, type WantedLeader } from './leaders.ts';
import { boxOfMark, boxOfMarks, type Mark, moved } from './marks.ts';
import { altOf, wordsBelow } from './part-below.ts';
import { featuresOf, madeByHand } from './part-features.ts';
import { type PartSheet, sheetTitle } from './part-rows.ts';
import { grainMarks, sizeInWords } from './part-words.ts';
import { type Box, boxesMeet } from './plane.ts';
import { type Scale, viewScales } from './scale.ts';
import type { Point, Room } from './types.ts';

/** The most of the paper's height that one part takes, so that small ones share a sheet, mm. */
const HEIGHT = 190;
/** A board's width is drawn no larger than this, mm: beyond it nothing becomes clearer. */
const WIDEST = 62;
/** Clear paper between a view's sizes and the next view, mm. */
const CLEAR = 4;

/** A sheet of boards made alike; undefined where the board has no solid. */
export function composePart(desk: Desk, sheet: PartSheet, place: Place): Composed | undefined {
  const { copy } = sheet;
  const part = desk.parts.get(copy.id);
  if (!part || part.vertices.length === 0) return undefined;
  const operations = madeByHand(desk.shapesOf(copy));
  const say = new Saying(desk.plan.edition.numbers, (length) => desk.size(length));
  const features = [...featuresOf(operations, copy.size, say), ...overall(copy, say)];
  const arrangement = arrangementOf(operations);
  const pictures = new BoardPictures({ part, size: copy.size }, arrangement, desk.input.solids);
  const sides = sidesOf(operations, features);
  const room: Room =
    place === 'narrow'
      ? { width: NARROW_WIDTH - 1, height: HEIGHT }
      : { width: desk.sheetRoom({ letter: 0, a4: 0 }).width, height: HEIGHT };
  const board: Drawable = { desk, sheet, copy, features, sides, pictures, say };
  const { marks, scale } = largest(board, room);
  return {
    id: sheet.id,
    kind: 'part',
    ...sheetTitle(desk, sheet),
    alt: altOf(desk, sheet, features, scale),
    marks,
    scale: scale.label,
    projection: desk.plan.edition.projection,
  };
}

interface Drawable {
  readonly desk: Desk;
  readonly sheet: PartSheet;
  readonly copy: Copy;
  readonly features: readonly Feature[];
  readonly sides: readonly BoardSide[];
  readonly pictures: BoardPictures;
  readonly say: Saying;
}

/** Length, width and thickness, each once. */
function overall({ size }: Copy, say: Saying): FeatureSize[] {
  const of = (name: string) => [`overall ${name}`];
  const whole = (on: BoardSide, axis: 0 | 1 | 2, to: number, name: string): FeatureSize => ({
    kind: 'size',
    on,
    axis,
    from: 0,
    to,
    text: [say.size(to)],
    of: of(name),
  });
  return [
    whole('face', 0, size.length, 'length'),
    whole('face', 1, size.width, 'width'),
    whole('edge', 2, size.thickness, 'thickness'),
  ];
}

/** The edge and the end in which more is done are the ones looked at. */
function arrangementOf(operations: readonly Operation[]): BoardArrangement {
  const count = (side: string): number =>
    operations.filter(({ shape }) => shape.kind !== 'saw' && 'side' in shape && shape.side === side).length;
  return {
    edge: count('high edge') > count('low edge') ? 'high' : 'low',
    end: count('start') > count('end') ? 'start' : 'end',
  };
}

/** The face always; the edge for the thickness and all that has a depth; the end where something is only seen there. */
function sidesOf(operations: readonly Operation[], features: readonly Feature[]): BoardSide[] {
  const end =
    features.some((feature) => feature.kind !== 'words' && feature.on === 'end') ||
    operations.some(
      ({ shape }) => shape.kind === 'edge' || (shape.kind === 'tongue' && shape.name === 'tongue'),
    );
  return end ? ['face', 'edge', 'end'] : ['face', 'edge'];
}

/** A board less wide than this on paper is drawn interrupted, at a larger scale, mm. */
const NARROWEST = 15;

/** The largest scale at which all of it fits the room; boards that would be too narrow to read are interrupted and drawn larger. */
function largest(board: Drawable, room: Room): { marks: Mark[]; scale: Scale } {
  const { size } = board.copy;
  const whole = fitting(board, room, (ratio) => unbroken(size.length, ratio));
  const readable = size.width * (whole?.scale.ratio ?? 0) >= NARROWEST;
  if (whole && readable) return whole;
  const places = board.pictures.places();
  const broken = fitting(board, room, (ratio) => breaksOf(size.length, places, ratio));
  if (broken && (!whole || broken.scale.ratio > whole.scale.ratio)) return broken;
  if (whole) return whole;
  const scales = viewScales(board.desk.plan.edition.numbers);
  const last = scales[scales.length - 1] as Scale;
  return { marks: sheetAt(board, unbroken(size.length, last.ratio), last, room), scale: last };
}

function fitting(
  board: Drawable,
  room: Room,
  breaksAt: (ratio: number) => Breaks,
): { marks: Mark[]; scale: Scale } | undefined {
  const { size } = board.copy;
  for (const scale of viewScales(board.desk.plan.edition.numbers)) {
    // Wider than this nothing becomes clearer, but for boards that aren't much longer than wide.
    if (size.width * scale.ratio > WIDEST && size.length > size.width * 2) continue;
    const breaks = breaksAt(scale.ratio);
    if (breaks.width + 14 > room.width) continue;
    const marks = sheetAt(board, breaks, scale, room);
    const box = boxOfMarks(marks);
    if (box.right - box.left <= room.width - 1 && box.bottom - box.top <= room.height - 1)
      return { marks, scale };
  }
  return undefined;
}

/** Views with their sizes, placed by the projection method, and the words below. */
function sheetAt(board: Drawable, breaks: Breaks, scale: Scale, room: Room): Mark[] {
  const third = board.desk.plan.edition.projection === 'third angle';
  const made = new Map(board.sides.map((side) => [side, annotated(board, side, breaks)]));
  const face = made.get('face') as Annotated;
  const marks = [...face.marks];
  const leftover = [...made.values()].flatMap((view) => view.left);
  const edge = made.get('edge');
  if (edge) {
    const below = (board.pictures.arrangement.edge === 'low') === third;
    marks.push(...clearOf(edge, face, marks, below ? 'below' : 'above'));
  }
  const end = made.get('end');
  if (end) {
    const right = (board.pictures.arrangement.end === 'end') === third;
    marks.push(...clearOf(end, face, marks, right ? 'right' : 'left'));
  }
  const words = [...leftover, ...board.features.filter((feature) => feature.kind === 'words')].map(
    ({ text: said, of }) => ({ said, of: of.join(', ') }),
  );
  const box = boxOfMarks(marks);
  marks.push(...wordsBelow(board.desk, board.sheet, words, scale, box, room));
  return marks;
}

interface Annotated {
  readonly view: BoardView;
  readonly marks: readonly Mark[];
  /** What found no place. */
  readonly left: readonly { readonly text: Line; readonly of: readonly string[] }[];
}

/** One view with its sizes, angles and notes. */
function annotated(board: Drawable, side: BoardSide, breaks: Breaks): Annotated {
  const view = board.pictures.view(side, breaks);
  const obstacles = new Obstacles();
  obstacles.lines.push(...view.edges);
  const own = board.features.filter((feature) => feature.kind !== 'words' && feature.on === side);
  const marks: Mark[] = [...view.marks];
  const left: { text: Line; of: readonly string[] }[] = [];
  const byWanted = new Map<WantedDimension, FeatureSize>();
  for (const feature of own)
    if (feature.kind === 'size') byWanted.set(wantedSize(board, view, feature), feature);
  const placed = placeDimensions({ edges: view.seen, box: view.box }, [...byWanted.keys()], obstacles);
  marks.push(...placed.marks);
  for (const want of placed.left) {
    const feature = byWanted.get(want) as FeatureSize;
    left.push({ text: sizeInWords(board.copy.size, feature), of: feature.of });
  }
  for (const feature of own) {
    if (feature.kind !== 'angle') continue;
    const angle = angleMarks(view, feature, obstacles, breaks.ratio);
    if (angle) marks.push(...angle);
    else
      left.push({
        text: [
          ...feature.text,
          text(feature.of[0]?.endsWith('mitre') ? ' across the face' : ' through the thickness'),
        ],
        of: feature.of,
      });
  }
  const around: Box = {
    left: view.box.left - 30,
    right: view.box.right + 40,
    top: view.box.top - 40,
    bottom: view.box.bottom + 40,
  };
  const byLeader = new Map<WantedLeader, Feature>();
  for (const feature of own)
    if (feature.kind === 'note') byLeader.set(leaderOf(view, feature, breaks.ratio), feature);
  const notes = placeLeaders([...byLeader.keys()], obstacles, around);
  marks.push(...notes.marks);
  for (const want of notes.left) left.push({ text: want.text, of: byLeader.get(want)?.of ?? [] });
  if (side === 'face') marks.push(...grainMarks(board.desk, board.copy.part, view, obstacles));
  return { view, marks, left };
}

function wantedSize(board: Drawable, view: BoardView, feature: FeatureSize): WantedDimension {
  const at = (value: number): Point =>
    view.at(
      [0, 1, 2].map((axis) => (axis === feature.axis ? value : 0)) as unknown as [number, number, number],
    );
  const [a, b] = [at(feature.from), at(feature.to)];
  const level = Math.abs(a[1] - b[1]) < 1e-6;
  const [p, q] = level ? [a[0], b[0]] : [a[1], b[1]];
  const whole = feature.of[0]?.startsWith('overall') === true;
  const length = board.copy.size.length;
  const nearStart = feature.beside !== undefined && feature.beside < length / 2;
  const sides: readonly Side[] = level
    ? whole
      ? ['below', 'above']
      : ['above', 'below']
    : whole || nearStart
      ? ['left', 'right']
      : ['right', 'left'];
  return {
    from: Math.min(p, q),
    to: Math.max(p, q),
    text: feature.text,
    sides: view.side === 'end' && !level ? ['right', 'left'] : sides,
    must: whole,
    of: feature.of.join(', '),
  };
}

/** Places on a rim that a leader may point to, or the place itself. */
function leaderOf(view: BoardView, feature: Extract<Feature, { kind: 'note' }>, ratio: number): WantedLeader {
  const radius = (feature.round ?? 0) * ratio;
  const of = feature.of.join(', ');
  const centres = feature.at.map(view.at);
  if (radius < 0.3) return { text: feature.text, tips: centres, of, end: 'arrow' };
  const first = centres[0] as Point;
  const tips = [1, 2, 3, 4, 5, 6, 7, 8].map((i): Point => {
    const angle = ((2 * i - 1) * Math.PI) / 8;
    return [first[0] + radius * Math.cos(angle), first[1] + radius * Math.sin(angle)];
  });
  return { text: feature.text, tips, middle: first, of, end: 'arrow' };
}

/** Moves a view off the face, in line with it, until all of its marks are clear. */
function clearOf(
  view: Annotated,
  face: Annotated,
  others: readonly Mark[],
  way: 'below' | 'above' | 'right' | 'left',
): Mark[] {
  const [own, base] = [view.view.box, face.view.box];
  const boxes = view.marks.map(boxOfMark);
  const fixed = others.map(boxOfMark);
  const start =
    way === 'below'
      ? base.bottom - own.top
      : way === 'above'
        ? own.bottom - base.top
        : way === 'right'
          ? base.right - own.left
          : own.right - base.left;
  let shift = start + 10;
  for (const a of boxes)
    for (const b of fixed) {
      const beside: Box =
        way === 'below' || way === 'above'
          ? { ...b, top: a.top - 1, bottom: a.bottom + 1 }
          : { ...b, left: a.left - 1, right: a.right + 1 };
      if (!boxesMeet(a, beside, CLEAR)) continue;
      const need =
        way === 'below'
          ? b.bottom - a.top
          : way === 'above'
            ? a.bottom - b.top
            : way === 'right'
              ? b.right - a.left
              : a.right - b.left;
      shift = Math.max(shift, need + CLEAR);
    }
  return moved(
    view.marks,
    way === 'right' ? shift : way === 'left' ? -shift : 0,
    way === 'below' ? shift : way === 'above' ? -shift : 0,
  );
}
