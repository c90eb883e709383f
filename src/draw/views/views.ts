/** The piece from front, top and side at one scale, placed by the edition's projection method, with its principal sizes. */
import type { Part } from '../../model/types.ts';
import { type Line, text } from '../../text.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import { Obstacles, placeDimensions, type Side, type WantedDimension } from '../paper/dimensions.ts';
import { setLine, textAt } from '../paper/lettering.ts';
import { boxOfMark, boxOfMarks, line, type Mark, moved, segmentsOf } from '../paper/marks.ts';
import { placeNotes, type WantedNote } from '../paper/notes.ts';
import { type Box, boxesMeet } from '../paper/plane.ts';
import { type Scale, viewScales } from '../paper/scale.ts';
import { equalSpaces } from '../paper/spaces.ts';
import type { Room } from '../types.ts';
import { centreMarks } from './holes.ts';
import { leanMarks } from './lean-angles.ts';
import { type PrincipalSize, principalSizes } from './principal.ts';
import { edgesOf, type StraightView, sizeInView, straightMarks, straightView } from './straight.ts';

/** Clear paper around the views, and between what belongs to one and what to another, mm. */
const BETWEEN = 7;
const CLEAR = 3;

type Name = 'front' | 'top' | 'side';

interface Block {
  readonly name: Name;
  readonly view: StraightView;
  readonly marks: readonly Mark[];
}

/** The three views of the whole piece. */
export function composeViews(desk: Desk, place: Place): Composed {
  const room: Room =
    place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 330 } : desk.sheetRoom({ letter: 202, a4: 220 });
  const sizes = principalSizes(
    desk.plan,
    new Map(desk.input.parts.map((part) => [part.copy, desk.measured(part)])),
    desk.bounds(desk.all),
  );
  const { edition } = desk.plan;
  const scales = viewScales(edition.numbers);
  let made: { marks: Mark[]; scale: Scale } | undefined;
  search: for (const scale of scales) {
    if (tooLarge(desk, scale, room, place)) continue;
    for (const close of [false, true]) {
      const blocks = blocksAt(desk, scale.ratio, sizes, { close, place });
      const marks = sheetOf(desk, blocks, scale, place);
      made = { marks, scale };
      const box = boxOfMarks(marks);
      if (box.right - box.left <= room.width - 1 && box.bottom - box.top <= room.height - 1) break search;
    }
  }
  const { marks, scale } = made ?? lastResort(desk, sizes, scales[scales.length - 1] as Scale, place);
  const side = edition.projection === 'third angle' ? 'right side' : 'left side';
  return {
    id: 'views',
    kind: 'views',
    title: `${desk.plan.front.title}: front, top and ${side}`,
    caption: [text(`Front, top and ${side}, ${edition.projection}.`)],
    alt: altOf(desk, sizes, scale, side),
    marks,
    scale: scale.label,
    projection: edition.projection,
  };
}

function lastResort(desk: Desk, sizes: readonly PrincipalSize[], scale: Scale, place: Place) {
  const blocks = blocksAt(desk, scale.ratio, sizes, { close: true, place });
  return { marks: sheetOf(desk, blocks, scale, place), scale };
}

/** True where the bare outlines can't fit; saves composing scales that are far too large. */
function tooLarge(desk: Desk, scale: Scale, room: Room, place: Place): boolean {
  const { min, max } = desk.bounds(desk.all);
  const [w, d, h] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]].map((v) => v * scale.ratio) as [
    number,
    number,
    number,
  ];
  return place === 'narrow'
    ? Math.max(w, d) > room.width || d + 2 * h > room.height
    : w + d > room.width || d + h > room.height;
}

const sideFrom = (desk: Desk): 'right' | 'left' =>
  desk.plan.edition.projection === 'third angle' ? 'right' : 'left';

/** How views are dimensioned: `close` puts the lowest height between the views, which saves width. */
interface Arrangement {
  readonly close: boolean;
  readonly place: Place;
}

function blocksAt(
  desk: Desk,
  ratio: number,
  sizes: readonly PrincipalSize[],
  arrangement: Arrangement,
): Block[] {
  const third = desk.plan.edition.projection === 'third angle';
  const all = desk.withFittings(desk.all);
  // From above only the feet of what stands are dashed: everything under the top would hide the drawing, not explain it.
  const uprights = new Set(
    desk.plan.parts
      .filter((part) => part.runs === 'up')
      .flatMap((part) => part.copies.map((copy) => copy.id)),
  );
  const view = (name: Name): StraightView =>
    straightView(
      desk.picture(all, name === 'side' ? sideFrom(desk) : name),
      ratio,
      name === 'top' ? uprights : undefined,
    );
  const front = dimensioned(
    desk,
    'front',
    view('front'),
    sizes,
    { across: ['below', 'above'], up: ['left', 'right'] },
    [0, 2],
    arrangement,
  );
  const side = dimensioned(
    desk,
    'side',
    view('side'),
    [...sizes.filter((s) => s.axis === 1), ...front.left.filter((s) => s.axis === 2)],
    { across: ['below', 'above'], up: ['right', 'left'] },
    [1, 2],
    arrangement,
  );
  const top = dimensioned(
    desk,
    'top',
    view('top'),
    [...front.left.filter((s) => s.axis === 0), ...side.left.filter((s) => s.axis === 1)],
    { across: third ? ['above'] : ['below'], up: ['left'] },
    [0, 1],
    arrangement,
  );
  return [front.block, top.block, side.block];
}

function dimensioned(
  desk: Desk,
  name: Name,
  view: StraightView,
  sizes: readonly PrincipalSize[],
  sides: { readonly across: readonly Side[]; readonly up: readonly Side[] },
  axes: readonly number[],
  arrangement: Arrangement,
): { block: Block; left: readonly PrincipalSize[] } {
  const obstacles = new Obstacles();
  obstacles.lines.push(...edgesOf(view));
  const centres = centreMarks(view, desk.input.parts, 'seen end on');
  const marks: Mark[] = [...straightMarks(view), ...centres];
  obstacles.lines.push(...centres.flatMap(segmentsOf));
  if (name !== 'top') {
    const { left, right, bottom } = view.box;
    // The floor runs on past the view; texts keep off it everywhere.
    obstacles.extensions.push([
      [left - 200, bottom],
      [right + 200, bottom],
    ]);
  }
  const byWanted = new Map<WantedDimension, PrincipalSize>();
  const heights = sizes.filter((size) => size.axis === 2);
  const lowest = Math.min(...heights.map((size) => size.to - size.from));
  for (const size of sizes) {
    if (!axes.includes(size.axis)) continue;
    const spot = sizeInView(view.picture.frame, view.ratio, size);
    if (!spot) continue;
    byWanted.set(
      {
        from: spot.from,
        to: spot.to,
        text: sizeLine(desk, size),
        sides: sidesFor(
          size,
          sides[spot.direction],
          name === 'front' &&
            arrangement.close &&
            heights.length > 2 &&
            size.axis === 2 &&
            size.to - size.from === lowest,
        ),
        must: size.kind === 'overall',
        outside: arrangement.close && name === 'side' ? 'after' : 'before',
      },
      size,
    );
  }
  const placed = placeDimensions(
    { edges: edgesOf(view, false), box: view.box, floor: name !== 'top' },
    [...byWanted.keys()],
    obstacles,
  );
  marks.push(...placed.marks);
  if (name !== 'top') marks.push(...leanMarks(desk, view, obstacles));
  if (name !== 'side')
    marks.push(
      ...placeNotes(
        { edges: edgesOf(view), box: view.box },
        courseNotes(desk, view, name === 'top' ? ['top', 'bottom'] : ['front', 'back']),
        obstacles,
        name === 'top' && arrangement.place === 'sheet' ? 'right' : 'above',
      ),
    );
  return { block: { name, view, marks }, left: placed.left.map((w) => byWanted.get(w) as PrincipalSize) };
}

/** The lowest height moves between the views where width is short; the depth of a top stands above it. */
const sidesFor = (size: PrincipalSize, usual: readonly Side[], between: boolean): readonly Side[] =>
  between ? ['right', 'left'] : size.kind === 'depth' ? ['above', 'below'] : usual;

/** `39″`, or for equal spaces what they come to. */
function sizeLine(desk: Desk, size: PrincipalSize): Line {
  const length = size.to - size.from;
  return size.spaces === undefined
    ? [desk.size(length)]
    : equalSpaces(size.spaces, length, (value) => desk.size(value));
}

/** What is said of boards laid in courses: their width and gap, and the ripped ones. */
function courseNotes(desk: Desk, view: StraightView, faces: readonly string[]): WantedNote[] {
  const map = ([u, v]: readonly [number, number]): readonly [number, number] => [
    u * view.ratio,
    -v * view.ratio,
  ];
  const facesOf = (copies: readonly string[]) =>
    view.picture.faces
      .filter((face) => copies.includes(face.copy))
      .map((face) => face.loops.map((loop) => loop.map(map)));
  return desk.plan.parts.flatMap((part: Part): WantedNote[] => {
    const { courses } = part;
    if (!courses || courses.count < 2 || !faces.includes(part.wideFace)) return [];
    const courseOf = (pick: (course: number) => boolean): string[] =>
      part.copies.filter((copy) => copy.course !== undefined && pick(copy.course)).map((copy) => copy.id);
    const differ = (a: number, b: number) => Math.abs(a - b) > 0.05;
    const said: Line =
      courses.gap > 0.05
        ? [text('boards '), desk.size(courses.full), text(', gaps '), desk.size(courses.gap)]
        : [text('boards cover '), desk.size(courses.full)];
    const middle = courseOf((c) => c !== 1 && c !== courses.count);
    const notes: WantedNote[] = [
      { text: said, faces: facesOf(middle.length > 0 ? middle : courseOf((c) => c === 1)) },
    ];
    if (differ(courses.last, courses.full)) {
      const both = courses.ends === 'shared' && !differ(courses.first, courses.last);
      notes.push({
        text: [text(both ? 'first and last ' : 'last board '), desk.size(courses.last)],
        faces: facesOf(courseOf((c) => c === courses.count || (both && c === 1))),
      });
    }
    return notes.filter((note) => note.faces.length > 0);
  });
}

/** Places the views by the projection method and adds the floor line and the scale. */
function sheetOf(desk: Desk, blocks: readonly Block[], scale: Scale, place: Place): Mark[] {
  const [front, top, side] = blocks as [Block, Block, Block];
  const marks: Mark[] = [];
  const third = desk.plan.edition.projection === 'third angle';
  if (place === 'narrow') marks.push(...stacked(desk, third ? [top, front, side] : [front, side, top]));
  else {
    const frontMarks = [...front.marks];
    const sideMarks = clearOf(side.marks, frontMarks, 'right', side.view.box.left - front.view.box.right);
    const sideX = sideMarks.shift;
    const floor = front.view.box.bottom;
    frontMarks.push(
      line('thin', [
        [front.view.box.left - 3, floor],
        [side.view.box.right + sideX + 1.5, floor],
      ]),
    );
    const pair = [...frontMarks, ...sideMarks.marks];
    const placedTop = third
      ? clearOf(top.marks, pair, 'above', front.view.box.top - top.view.box.bottom)
      : clearOf(top.marks, pair, 'below', top.view.box.top - front.view.box.bottom);
    marks.push(...pair, ...placedTop.marks);
  }
  return [...marks, ...footer(desk, scale, boxOfMarks(marks), front.view.box.left, place)];
}

/**
 * Moves marks off to one side of others until all of them are clear, the views at least two thirds of a first dimension apart.
 * `apart` is how far the two outlines stand from each other before the move.
 */
function clearOf(
  marks: readonly Mark[],
  others: readonly Mark[],
  way: 'right' | 'above' | 'below',
  apart: number,
): { marks: Mark[]; shift: number } {
  const [boxes, fixed] = [marks.map(boxOfMark), others.map(boxOfMark)];
  let shift = 12 - apart;
  for (const a of boxes)
    for (const b of fixed) {
      const beside: Box =
        way === 'right'
          ? { ...b, left: a.left - 1, right: a.right + 1 }
          : { ...b, top: a.top - 1, bottom: a.bottom + 1 };
      if (!boxesMeet(a, beside, CLEAR)) continue;
      const need = way === 'right' ? b.right - a.left : way === 'above' ? a.bottom - b.top : b.bottom - a.top;
      shift = Math.max(shift, need + CLEAR);
    }
  const [dx, dy] = way === 'right' ? [shift, 0] : way === 'above' ? [0, -shift] : [0, shift];
  return { marks: moved(marks, dx, dy), shift };
}

const VIEW_NAMES: Record<Name, string> = { front: 'Front', top: 'Top', side: 'Side' };

/** For a phone: the views under one another, each with its name, all on one left edge. */
function stacked(desk: Desk, blocks: readonly Block[]): Mark[] {
  let y = 0;
  const left = Math.min(...blocks.map((block) => boxOfMarks(block.marks).left - block.view.box.left));
  return blocks.flatMap((block) => {
    const { box } = block.view;
    const floor: Mark[] =
      block.name === 'top'
        ? []
        : [
            line('thin', [
              [box.left - 3, box.bottom],
              [box.right + 3, box.bottom],
            ]),
          ];
    const own = [...block.marks, ...floor];
    const whole = boxOfMarks(own);
    const name =
      block.name === 'side'
        ? sideFrom(desk) === 'right'
          ? 'Right side'
          : 'Left side'
        : VIEW_NAMES[block.name];
    const title = textAt(setLine([text(name)], undefined, 600), [box.left + left, whole.top - 4]);
    const all = [title, ...own];
    const placed = moved(all, -box.left, y - boxOfMarks(all).top);
    y = boxOfMarks(placed).bottom + BETWEEN;
    return placed;
  });
}

/** The scale below the views. The sign of the projection method stands once on the sheet, in its title strip. */
function footer(desk: Desk, scale: Scale, above: Box, at: number, place: Place): Mark[] {
  const { edition } = desk.plan;
  const metric = edition.numbers.system === 'mm';
  const said = setLine([text('Scale '), ...scale.line, text(metric ? '. Sizes in millimetres.' : '')]);
  const left = place === 'narrow' ? above.left : at;
  const base = above.bottom + 5 + said.ascent;
  const words = textAt(said, [left, base], { quiet: true });
  return [words];
}

function altOf(desk: Desk, sizes: readonly PrincipalSize[], scale: Scale, side: string): string {
  const levels = sizes.filter((size) => size.kind === 'level').map((size) => desk.words(size.to - size.from));
  const clear = sizes.find((size) => size.kind === 'clear' && size.axis === 0);
  return [
    `${desk.plan.front.title} from the front, from above and from the ${side}, ${desk.plan.edition.projection}, scale ${scale.label}.`,
    `Over all ${desk.overall(desk.all)}.`,
    levels.length > 0 ? `Levels above the floor: ${levels.join(', ')}.` : '',
    clear ? `Clear width between the legs ${desk.words(clear.to - clear.from)}.` : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
