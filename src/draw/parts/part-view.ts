/** One view of a part's sheet with its sizes, angles and notes, and what found no place there. */
import type { Copy, Vec3 } from '../../model/types.ts';
import { type Line, text } from '../../text.ts';
import { Obstacles, placeDimensions, type Side, type WantedDimension } from '../paper/dimensions.ts';
import { placeLeaders, type WantedLeader } from '../paper/leaders.ts';
import { line, type Mark, segmentsOf } from '../paper/marks.ts';
import type { Box } from '../paper/plane.ts';
import type { Point } from '../types.ts';
import { angleMarks } from '../views/angles.ts';
import type { BoardPictures, BoardSide, BoardView } from '../views/board-views.ts';
import type { Breaks } from '../views/broken.ts';
import { TOGETHER } from '../views/straight.ts';
import type { Feature, FeatureNote, FeatureSize, Saying } from './feature.ts';
import { faceMarks, rimMarks, signMarks, sizeInWords } from './part-words.ts';

/** What a view is made from. */
export interface ToAnnotate {
  /** The board as it lies on the sheet, and how its sides are said. */
  readonly copy: Copy;
  readonly say: Saying;
  readonly features: readonly Feature[];
  readonly pictures: BoardPictures;
}

/** A view, its marks, and what is to be said in words below all views. */
export interface Annotated {
  readonly view: BoardView;
  readonly marks: readonly Mark[];
  readonly left: readonly { readonly text: Line; readonly of: readonly string[] }[];
}

/** Letters for notes that are said in words, in order, shared by the views of a sheet: `a`, `b`. */
export function keyLetters(): () => string {
  let next = 0;
  return () => {
    const at = next++;
    const letter = 'abcdefghjkmnpqrstuvwxyz';
    return `${letter[at % letter.length]}${at < letter.length ? '' : Math.floor(at / letter.length)}`;
  };
}

/** One view annotated: sizes first, or notes first where that leaves less to be said in words. */
export function annotated(
  board: ToAnnotate,
  side: BoardSide,
  breaks: Breaks,
  keyLetter: () => string,
): Annotated {
  const view = board.pictures.view(side, breaks);
  const first = attempt(board, view, breaks, false);
  const other = first.homeless.length > 0 ? attempt(board, view, breaks, true) : first;
  const best = other.homeless.length < first.homeless.length ? other : first;
  return finished(board, view, breaks, best, keyLetter);
}

type Homeless =
  | { readonly kind: 'size'; readonly feature: FeatureSize }
  | { readonly kind: 'angle'; readonly feature: Extract<Feature, { kind: 'angle' }> }
  | { readonly kind: 'note'; readonly feature: FeatureNote };

interface Attempt {
  readonly obstacles: Obstacles;
  readonly marks: readonly Mark[];
  readonly homeless: readonly Homeless[];
}

function attempt(board: ToAnnotate, view: BoardView, breaks: Breaks, notesFirst: boolean): Attempt {
  const obstacles = new Obstacles();
  const own = board.features.filter((feature) => feature.kind !== 'words' && feature.on === view.side);
  const marks: Mark[] = own.flatMap((feature) =>
    feature.kind === 'note' ? crossesOf(view, feature, breaks.ratio) : [],
  );
  obstacles.lines.push(...view.edges, ...marks.flatMap(segmentsOf));
  const homeless: Homeless[] = [];
  const notes = (): void => {
    const wanted = own.flatMap((feature) =>
      feature.kind === 'note' ? [[leaderOf(view, feature, breaks.ratio), feature] as const] : [],
    );
    const placed = placeLeaders(
      wanted.map(([want]) => want),
      obstacles,
      notesFirst ? view.box : around(view.box),
    );
    marks.push(...placed.marks);
    for (const [want, feature] of wanted)
      if (placed.left.includes(want)) homeless.push({ kind: 'note', feature });
  };
  const sizes = (): void => {
    const wanted = own.flatMap((feature) =>
      feature.kind === 'size' ? [[wantedSize(board.copy, view, feature), feature] as const] : [],
    );
    const placed = placeDimensions(
      { edges: view.seen, box: view.box },
      wanted.map(([want]) => want),
      obstacles,
    );
    marks.push(...placed.marks);
    for (const [want, feature] of wanted)
      if (placed.left.includes(want)) homeless.push({ kind: 'size', feature });
    for (const feature of own) {
      if (feature.kind !== 'angle') continue;
      const angle = angleMarks(view, feature, obstacles, breaks.ratio);
      if (angle) marks.push(...angle);
      else homeless.push({ kind: 'angle', feature });
    }
  };
  if (notesFirst) {
    notes();
    // Those that fit nowhere inside the board may find a place outside once its sizes stand.
    const outside = homeless.splice(0).flatMap((one) => (one.kind === 'note' ? [one.feature] : []));
    sizes();
    const wanted = outside.map((feature) => [leaderOf(view, feature, breaks.ratio), feature] as const);
    const placed = placeLeaders(
      wanted.map(([want]) => want),
      obstacles,
      around(view.box),
    );
    marks.push(...placed.marks);
    for (const [want, feature] of wanted)
      if (placed.left.includes(want)) homeless.push({ kind: 'note', feature });
  } else {
    sizes();
    notes();
  }
  return { obstacles, marks, homeless };
}

/** What found no place in words; a note that can be keyed leaves its letter at what it belongs to. */
function finished(
  board: ToAnnotate,
  view: BoardView,
  breaks: Breaks,
  { obstacles, marks, homeless }: Attempt,
  keyLetter: () => string,
): Annotated {
  const all: Mark[] = [...view.marks, ...marks];
  const left = homeless.map((one) => {
    const { of } = one.feature;
    if (one.kind === 'size') return { text: sizeInWords(board.copy.size, one.feature, board.say), of };
    if (one.kind === 'angle')
      return {
        text: [
          ...one.feature.text,
          text(view.side === 'face' ? ' across the face' : ' through the thickness'),
          text(one.feature.corner[0] > 0 ? ' at the right end' : ' at the left end'),
        ],
        of,
      };
    const letter = keyLetter();
    const want = { ...leaderOf(view, one.feature, breaks.ratio), text: [text(letter)] };
    const { of: _, ...plain } = want;
    const placed = placeLeaders([plain], obstacles, around(view.box));
    all.push(...placed.marks);
    return { text: [text(placed.left.length > 0 ? '' : `${letter}: `), ...one.feature.text], of };
  });
  if (view.side === 'face') all.push(...signMarks(board.say.face, view, obstacles));
  if (view.side === 'back') all.push(...faceMarks(board.say.behind, view, obstacles));
  if (view.side === 'back') all.push(...rimMarks(board.say.side('high edge'), view, obstacles));
  return { view, marks: all, left };
}

const around = (box: Box): Box => ({
  left: box.left - 30,
  right: box.right + 40,
  top: box.top - 40,
  bottom: box.bottom + 40,
});

function wantedSize({ size }: Copy, view: BoardView, feature: FeatureSize): WantedDimension {
  const at = (value: number): Point =>
    view.at([0, 1, 2].map((axis) => (axis === feature.axis ? value : 0)) as unknown as Vec3);
  const [a, b] = [at(feature.from), at(feature.to)];
  const level = Math.abs(a[1] - b[1]) < 1e-6;
  const [p, q] = level ? [a[0], b[0]] : [a[1], b[1]];
  const whole = feature.of[0]?.startsWith('overall') === true;
  const nearStart = feature.beside !== undefined && feature.beside < size.length / 2;
  const sides: readonly Side[] = level
    ? whole || feature.toward === 'low'
      ? ['below', 'above']
      : ['above', 'below']
    : whole || nearStart
      ? ['left', 'right']
      : ['right', 'left'];
  const starts = feature.starts?.map((point) => view.at(point)[level ? 1 : 0]);
  return {
    from: Math.min(p, q),
    to: Math.max(p, q),
    text: feature.text,
    sides: view.side === 'end' && !level ? ['right', 'left'] : sides,
    must: whole,
    of: feature.of.join(', '),
    ...(feature.stays ? { stays: feature.stays } : {}),
    ...(starts ? { starts: (p <= q ? starts : starts.reverse()) as [number, number] } : {}),
  };
}

/** Half the length of a cross at a hole that is too small to be drawn, mm. */
const CROSS = 1.2;

/** Holes whose rims are too small to be seen at the scale are crosses: sizes and leaders never end in the blank. */
function crossesOf(view: BoardView, { at, round, of }: FeatureNote, ratio: number): Mark[] {
  if (round === undefined || round * ratio * 2 > TOGETHER || !of.every((name) => name.endsWith(' hole')))
    return [];
  return at.map(view.at).map(([x, y]) =>
    line(
      'centre',
      [
        [x - CROSS, y],
        [x + CROSS, y],
      ],
      [
        [x, y - CROSS],
        [x, y + CROSS],
      ],
    ),
  );
}

/** Places on a rim that a leader may point to, or the places themselves. */
function leaderOf(view: BoardView, feature: FeatureNote, ratio: number): WantedLeader {
  const radius = (feature.round ?? 0) * ratio;
  const of = feature.of.join(', ');
  const centres = feature.at.map(view.at);
  if (radius < 0.3) return { text: feature.text, tips: centres, of, end: feature.dot ? 'dot' : 'arrow' };
  const first = centres[0] as Point;
  const tips = [1, 2, 3, 4, 5, 6, 7, 8].map((i): Point => {
    const angle = ((2 * i - 1) * Math.PI) / 8;
    return [first[0] + radius * Math.cos(angle), first[1] + radius * Math.sin(angle)];
  });
  return { text: feature.text, tips, middle: first, of, end: 'arrow' };
}
