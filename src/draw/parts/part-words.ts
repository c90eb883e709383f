/** What a part's sheet says on the board itself: its show face in words, and the way of the grain. */
import type { BlankSize } from '../../model/types.ts';
import { type Line, text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import type { Obstacles } from '../paper/dimensions.ts';
import { setLine, textAt } from '../paper/lettering.ts';
import { line, type Mark, segmentsOf, textQuad } from '../paper/marks.ts';
import type { Point } from '../types.ts';
import type { BoardView } from '../views/board-views.ts';
import type { FeatureSize, Saying } from './feature.ts';

const OVERALL_WORDS = ['long over all', 'wide over all', 'thick over all'] as const;
const FROM_WORDS = [
  ['from the left end', 'from the right end', 'along the length'],
  ['from the lower edge', 'from the upper edge', 'across the width'],
] as const;

/** A size without a place at the view, in words: `69 from the upper edge to the middle of the holes`. */
export function sizeInWords(size: BlankSize, feature: FeatureSize, say: Saying): Line {
  const { axis, from, to, of, on } = feature;
  const what = on === 'back' ? `${feature.what ?? 'it'} in the ${say.behind}` : feature.what;
  const whole = [size.length, size.width, size.thickness][axis] as number;
  const name = of[0] ?? '';
  if (name.startsWith('overall')) return [...feature.text, text(` ${OVERALL_WORDS[axis]}`)];
  const words =
    axis === 2
      ? [`from the ${say.behind}`, `from the ${say.face}`, 'through the thickness']
      : FROM_WORDS[axis];
  const [low, high] = [from < 0.05, to > whole - 0.05];
  if (!low && !high) return [...feature.text, text(` ${words[2]}${what === undefined ? '' : `, ${what}`}`)];
  const rim = low ? words[0] : words[1];
  // A middle of an arc may lie off the board.
  const outside = from < -0.05 || to > whole + 0.05;
  const said = outside ? rim.replace('from', 'beyond') : rim;
  return [...feature.text, text(` ${said}${what === undefined ? '' : ` to ${what}`}`)];
}

/** Length of the grain arrow, mm. */
const ARROW = 16;

/** What the wide face that the plan names is called. */
export function faceName(desk: Desk, key: string): string {
  const part = desk.partByKey.get(key);
  const shown = part === undefined || part.visible.length === 0 || part.visible.includes(part.wideFace);
  return shown ? 'show face' : 'inner face';
}

/** `show face`: which face a view looks at, inside the board where there is room, else above it. */
export function faceMarks(name: string, { box }: BoardView, obstacles: Obstacles): Mark[] {
  const face = setLine([text(name)]);
  for (const at of [...gridOf(box, face.width, face.ascent), ...beside(box, face.width)]) {
    const mark = textAt(face, at, { quiet: true });
    if (!obstacles.textIsClear(textQuad(mark))) continue;
    obstacles.texts.push(textQuad(mark));
    return [mark];
  }
  return [];
}

/** `upper edge` within the lower rim of the view of the face behind, where it lies then; nothing where there is no clear place. */
export function rimMarks(name: string, { box }: BoardView, obstacles: Obstacles): Mark[] {
  const rim = setLine([text(name)]);
  for (const share of [0.5, 0.3, 0.7, 0.15, 0.85]) {
    const left = box.left + (box.right - box.left) * share - rim.width / 2;
    const mark = textAt(rim, [left, box.bottom - rim.descent - 0.6], { quiet: true });
    const inside = left > box.left + 1 && left + rim.width < box.right - 1;
    if (!inside || box.bottom - box.top < 3 * rim.ascent || !obstacles.textIsClear(textQuad(mark))) continue;
    obstacles.texts.push(textQuad(mark));
    return [mark];
  }
  return [];
}

/** Between `grain` and the name of the face beside it, and from line to line where that stands under it, mm. */
const APART = 4;
const UNDER = 5;

/** `grain` with its arrow and the name of the face as one sign: in one line, else in two, inside the board; else each where there is room. */
export function signMarks(name: string, view: BoardView, obstacles: Obstacles): Mark[] {
  const [grain, face] = [setLine([text('grain')]), setLine([text(name)])];
  const first = ARROW + 2 + grain.width;
  const forms = [
    { at: [first + APART, 0] as Point, width: first + APART + face.width, height: grain.ascent },
    { at: [0, UNDER] as Point, width: Math.max(first, face.width), height: grain.ascent + UNDER },
  ];
  for (const form of forms)
    for (const [x, low] of gridOf(view.box, form.width, form.height)) {
      const y = low - form.at[1];
      const marks = grainAt([x, y], obstacles);
      const mark = textAt(face, [x + form.at[0], low], { quiet: true });
      if (marks === undefined || !obstacles.textIsClear(textQuad(mark))) continue;
      return taken([...marks, mark], obstacles);
    }
  return [...faceMarks(name, view, obstacles), ...grainMarks(view, obstacles)];
}

/** `grain` with its arrow, inside the board where there is room, else above it. */
function grainMarks({ box }: BoardView, obstacles: Obstacles): Mark[] {
  const word = setLine([text('grain')]);
  const width = word.width + ARROW + 2;
  for (const at of [...gridOf(box, width, word.ascent), ...beside(box, width)]) {
    const marks = grainAt(at, obstacles);
    if (marks !== undefined) return taken(marks, obstacles);
  }
  return [];
}

/** The arrow and its word from a place on; nothing where something stands there. */
function grainAt(at: Point, obstacles: Obstacles): Mark[] | undefined {
  const mark = textAt(setLine([text('grain')]), [at[0] + ARROW + 2, at[1]], { quiet: true });
  const shaft: readonly [Point, Point] = [
    [at[0], at[1] - 1.25],
    [at[0] + ARROW, at[1] - 1.25],
  ];
  if (!obstacles.textIsClear(textQuad(mark)) || !obstacles.lineIsClear(shaft)) return undefined;
  const quad = textQuad(textAt(setLine([text('x')]), at), 1);
  if (obstacles.lines.some((l) => near(l, shaft)) || !obstacles.textIsClear(quad)) return undefined;
  return [
    line('thin', shaft),
    { kind: 'arrow', tip: shaft[0], from: shaft[1] },
    { kind: 'arrow', tip: shaft[1], from: shaft[0] },
    mark,
  ];
}

/** Marks that what comes later keeps clear of. */
function taken(marks: Mark[], obstacles: Obstacles): Mark[] {
  for (const mark of marks) {
    if (mark.kind === 'text') obstacles.texts.push(textQuad(mark));
    else if (mark.kind === 'lines') obstacles.extensions.push(...segmentsOf(mark));
  }
  return marks;
}

const near = (a: readonly [Point, Point], b: readonly [Point, Point]): boolean => {
  const [left, right] = [Math.min(a[0][0], a[1][0]), Math.max(a[0][0], a[1][0])];
  const [top, bottom] = [Math.min(a[0][1], a[1][1]), Math.max(a[0][1], a[1][1])];
  return left < b[1][0] + 1 && right > b[0][0] - 1 && top < b[0][1] + 1.2 && bottom > b[0][1] - 1.2;
};

/** Places for words inside a board, from its middle outwards. */
function gridOf(box: BoardView['box'], width: number, height: number): Point[] {
  const [cx, cy] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  if (box.bottom - box.top < height + 2) return [];
  const spots: { at: Point; off: number }[] = [];
  for (let i = -12; i <= 12; i++)
    for (let j = -4; j <= 4; j++) {
      const x = cx + (i * (box.right - box.left)) / 26 - width / 2;
      const y = cy + (j * (box.bottom - box.top)) / 10 + height / 2;
      if (x < box.left + 1 || x + width > box.right - 1 || y - height < box.top + 0.8 || y > box.bottom - 0.8)
        continue;
      spots.push({ at: [x, y], off: Math.abs(i) + Math.abs(j) * 2 });
    }
  return spots.sort((a, b) => a.off - b.off).map(({ at }) => at);
}

/** Places above a board that is too narrow for words. */
const beside = (box: BoardView['box'], width: number): Point[] =>
  [0.5, 0.3, 0.7, 0.15, 0.85].flatMap((share) =>
    [3, 11, 19, 27, 35].map(
      (up): Point => [box.left + (box.right - box.left) * share - width / 2, box.top - up],
    ),
  );
