/**
 * A sheet for each kind of board that has more than square ends: its wide face, an edge and an end as needed, with all that has to be
 * set out and bored, sawn or cut. What finds no clear place at the views is said in words below them, so that nothing is left out.
 */
import type { Copy } from '../../model/types.ts';
import { text } from '../../text.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import { boxOfMark, boxOfMarks, type Mark, moved } from '../paper/marks.ts';
import { type Box, boxesMeet } from '../paper/plane.ts';
import { type Scale, viewScales } from '../paper/scale.ts';
import type { Room } from '../types.ts';
import { type BoardArrangement, BoardPictures, type BoardSide } from '../views/board-views.ts';
import { type Breaks, breaksOf, unbroken } from '../views/broken.ts';
import { type Feature, type FeatureSize, type FeatureWords, type Operation, Saying } from './feature.ts';
import { altOf, LINE, lyingWords, wordsIn } from './part-below.ts';
import { featuresOf, madeByHand } from './part-features.ts';
import { type Lying, lyingOf } from './part-lying.ts';
import { pocketWords } from './part-pockets.ts';
import { type PartSheet, sheetTitle } from './part-rows.ts';
import { blankWords } from './part-saws.ts';
import { type Annotated, annotated, keyLetters } from './part-view.ts';

/** The most of the paper's height that one part takes, mm. */
const HEIGHT = 190;
/** What it takes where two share a sheet: half of it, less a title each and the space between, mm (themes/handbook/lists.typ). */
const HALF = { letter: 98.5, a4: 107.3 } as const;
/** Half a sheet isn't for a board that would lose more than this share of its scale there, or be less wide than this, mm. */
const LEAST_SHARE_OF_SCALE = 0.4;
const LEAST_WIDTH = 22;
/** A board's width is drawn no larger than this, mm: beyond it nothing becomes clearer. */
const WIDEST = 62;
/** Clear paper between a view's sizes and the next view, mm. */
const CLEAR = 4;

/**
 * A sheet of boards made alike; undefined where the board has no solid. `whole` is its drawing where it has the sheet to itself; then this
 * one is for half a sheet, and undefined where the whole one fits there or a smaller one wouldn't be clear.
 */
export function composePart(
  desk: Desk,
  sheet: PartSheet,
  place: Place,
  whole?: PartDrawing,
): PartDrawing | undefined {
  const half = HALF[desk.plan.edition.paper];
  if (whole !== undefined && whole.height <= half) return undefined;
  const part = desk.parts.get(sheet.copy.id);
  if (!part || part.vertices.length === 0) return undefined;
  const lying = lyingOf(desk, sheet);
  const { copy } = lying;
  const operations = madeByHand(copy.shape);
  const { size, frame } = copy;
  const pictures = new BoardPictures({ part, size, frame }, arrangementOf(operations), desk.input.solids);
  const room: Room =
    place === 'narrow'
      ? { width: NARROW_WIDTH - 1, height: HEIGHT }
      : {
          width: desk.sheetRoom({ letter: 0, a4: 0 }).width,
          height: whole === undefined ? HEIGHT : half,
        };
  const { numbers } = desk.plan.edition;
  const sayOn = (on: 'face' | 'back'): Saying =>
    new Saying(numbers, (length) => desk.size(length), lying.shown, lying.behind, on);
  const other = featuresOf(operations, size, sayOn('back')).some(isBehind) ? 'dashed' : 'none';
  const drawn = (outlines: 'drawn' | 'listed', on: 'face' | 'back'): Sheet | undefined => {
    const say = sayOn(on);
    const features = [
      ...featuresOf(operations, size, say, outlines),
      ...pocketWords(
        desk,
        operations,
        sheet.rows.map(({ row }) => row),
        say,
      ),
      ...blankWords(pictures.places(), size),
      ...profileWords(copy),
      ...overall(copy, say),
    ];
    const corners = features.flatMap(({ of }) => of.filter(isOutlineSize));
    if (corners.length > MOST_CORNERS && outlines === 'drawn') return undefined;
    const sides = sidesOf(operations, features);
    const made = largest(
      { desk, sheet, lying, other, copy, say, features, sides, pictures, beside: whole !== undefined },
      room,
    );
    const complete = made.over <= 0 && !made.homeless.some(isOutlineSize);
    return complete || outlines === 'listed' ? { ...made, features } : undefined;
  };
  const fitted = (on: 'face' | 'back'): Sheet => drawn('drawn', on) ?? (drawn('listed', on) as Sheet);
  const { marks, scale, features, homeless, over } = roomiest(
    fitted('face'),
    other === 'none' ? undefined : () => fitted('back'),
  );
  if (whole !== undefined) {
    const share = scale.ratio / whole.ratio;
    const clear =
      share > 1 - 1e-9 || (share > LEAST_SHARE_OF_SCALE - 1e-9 && size.width * scale.ratio >= LEAST_WIDTH);
    if (over > 0 || !clear || homeless.length > whole.homeless) return undefined;
  }
  const box = boxOfMarks(marks);
  return {
    id: whole === undefined ? sheet.id : `half-${sheet.id}`,
    height: box.bottom - box.top + 1,
    homeless: homeless.length,
    ratio: scale.ratio,
    kind: 'part',
    ...sheetTitle(desk, sheet),
    alt: altOf(desk, sheet, lying, features, scale),
    marks,
    scale: scale.label,
    projection: desk.plan.edition.projection,
  };
}

/** A sheet's drawing with its height on paper, mm, its scale, and how much found no place at the views. */
export type PartDrawing = Composed & {
  readonly height: number;
  readonly ratio: number;
  readonly homeless: number;
};

/** The smallest share of its scale that a board's drawing may lose to a view of the face behind. */
const LEAST_SHARE = 0.4;

/** With the face behind in a view of its own where there is room for it; else what is there stays in dashes. */
function roomiest(one: Sheet, withBack: (() => Sheet) | undefined): Sheet {
  const other = withBack?.();
  const fits = other && other.over <= 0 && other.scale.ratio > one.scale.ratio * LEAST_SHARE - 1e-9;
  return fits ? other : one;
}

interface Drawable {
  readonly desk: Desk;
  readonly sheet: PartSheet;
  readonly lying: Lying;
  /** Whether something with sizes of its own is in the face behind. */
  readonly other: 'none' | 'dashed';
  /** The board as it lies. */
  readonly copy: Copy;
  readonly say: Saying;
  readonly features: readonly Feature[];
  readonly sides: readonly BoardSide[];
  readonly pictures: BoardPictures;
  /** Whether the words may stand beside the views, where that makes it lower. */
  readonly beside: boolean;
}

/** What a sheet came to; `homeless` are the names of what found no place at the views and is said in words. */
interface Made {
  readonly marks: Mark[];
  readonly scale: Scale;
  readonly homeless: readonly string[];
  /** By how much it is larger than the room, mm of paper; 0 or less where it fits. */
  readonly over: number;
}

type Sheet = Made & { readonly features: readonly Feature[] };

/** A place of a corner of an outline, by name: `4 p3 x`. */
const isOutlineSize = (name: string): boolean => /^\d+ [psc]\d+ [xy]$/.test(name);
/** With more places of corners than this nobody finds the right size at the board: they are listed. */
const MOST_CORNERS = 24;

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

/** Of a board with a milled tongue: its width is that of what it covers. */
function profileWords({ shape }: Copy): FeatureWords[] {
  const tongue = shape.some((one) => one.kind === 'tongue' && one.tongue?.out === true);
  const said = 'Milled tongue and groove; the width leaves the tongue out';
  return tongue ? [{ kind: 'words', text: [text(said)], of: ['profile'] }] : [];
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

/** The face always; the edge for the thickness and all that has a depth; the end and the face behind where something is only seen there. */
function sidesOf(operations: readonly Operation[], features: readonly Feature[]): BoardSide[] {
  const end =
    features.some((feature) => feature.kind !== 'words' && feature.on === 'end') ||
    operations.some(
      ({ shape }) => shape.kind === 'edge' || (shape.kind === 'tongue' && shape.name === 'tongue'),
    );
  const back = features.some(isBehind);
  return ['face', 'edge', ...(end ? (['end'] as const) : []), ...(back ? (['back'] as const) : [])];
}

const isBehind = (feature: Feature): boolean => feature.kind !== 'words' && feature.on === 'back';

/** A board shorter than this on paper isn't drawn smaller still, mm. */
const TINIEST = 25;
/** A board less wide than this on paper is drawn interrupted, at a larger scale, mm. */
const NARROWEST = 15;

/** Words beside the views: clear paper between, and the least width of their column, mm. */
const GAP = 7;
const NARROWEST_WORDS = 44;

/** The largest scale at which all of it fits the room; boards that would be too narrow to read are interrupted and drawn larger. */
function largest(board: Drawable, room: Room): Made {
  const { size } = board.copy;
  const whole = fitting(board, room, (ratio) => unbroken(size.length, ratio));
  const readable = size.width * whole.scale.ratio >= NARROWEST;
  if (whole.over <= 0 && readable) return whole;
  const places = board.pictures.places();
  const broken = fitting(board, room, (ratio) => breaksOf(size.length, places, ratio));
  if (broken.over <= 0 && (whole.over > 0 || broken.scale.ratio > whole.scale.ratio)) return broken;
  return broken.over < whole.over ? broken : whole;
}

/** The largest scale that fits, or the one that comes nearest to it. */
function fitting(board: Drawable, room: Room, breaksAt: (ratio: number) => Breaks): Made {
  const { size } = board.copy;
  let best: Made | undefined;
  const scales = viewScales(board.desk.plan.edition.numbers);
  for (const [i, scale] of scales.entries()) {
    // Wider than this nothing becomes clearer, but for boards that aren't much longer than wide.
    if (size.width * scale.ratio > WIDEST && size.length > size.width * 2) continue;
    const breaks = breaksAt(scale.ratio);
    if (breaks.width + 14 > room.width && i < scales.length - 1) continue;
    const { marks, homeless } = sheetAt(board, breaks, scale, room);
    const box = boxOfMarks(marks);
    const over = Math.max(box.right - box.left - (room.width - 1), box.bottom - box.top - (room.height - 1));
    if (best === undefined || over < best.over) best = { marks, scale, homeless, over };
    if (over <= 0) return best;
    // Smaller than this nothing can be read, and words take the room.
    if (size.length * scale.ratio < TINIEST) break;
  }
  return best as Made;
}

/** Views with their sizes, placed by the projection method, and the words below. */
function sheetAt(
  board: Drawable,
  breaks: Breaks,
  scale: Scale,
  room: Room,
): { marks: Mark[]; homeless: string[] } {
  const third = board.desk.plan.edition.projection === 'third angle';
  const keys = keyLetters();
  const made = new Map(board.sides.map((side) => [side, annotated(board, side, breaks, keys)]));
  const face = made.get('face') as Annotated;
  const marks = [...face.marks];
  const leftover = [...made.values()].flatMap((view) => view.left);
  const way = (board.pictures.arrangement.edge === 'low') === third ? 'below' : 'above';
  const edge = made.get('edge');
  if (edge) {
    marks.push(...clearOf(edge, face, marks, way));
  }
  const back = made.get('back');
  if (back) marks.push(...clearOf(back, face, marks, way));
  const end = made.get('end');
  if (end) {
    const right = (board.pictures.arrangement.end === 'end') === third;
    marks.push(...clearOf(end, face, marks, right ? 'right' : 'left'));
  }
  const words = [...leftover, ...board.features.filter((feature) => feature.kind === 'words')].map(
    ({ text: said, of }) => ({ said, of: of.join(', ') }),
  );
  const lies = lyingWords(board.lying, back ? 'drawn' : board.other);
  const box = boxOfMarks(marks);
  const said = [...words, ...lies];
  const right = { left: box.right + GAP, width: room.width - 1 - (box.right - box.left) - GAP };
  const below = wordsIn(board.desk, board.sheet, said, scale, {
    left: box.left,
    top: box.bottom + 3,
    width: room.width - 4,
  });
  const fits = boxOfMarks([...marks, ...below]).bottom - box.top <= room.height - 1;
  marks.push(
    ...(board.beside && !fits && right.width >= NARROWEST_WORDS
      ? wordsIn(board.desk, board.sheet, said, scale, { ...right, top: face.view.box.top - LINE })
      : below),
  );
  return { marks, homeless: leftover.flatMap(({ of }) => of) };
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
