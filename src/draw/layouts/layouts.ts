/** Cutting layouts: each board to scale with its pieces, cuts in order, rips and what is left over. */
import { lanesOf } from '../../cutting/cuts.ts';
import type { BoardLayout, LayoutSection } from '../../cutting/types.ts';
import { type Line, text } from '../../text.ts';
import type { Composed, Desk, Place } from '../desk.ts';
import { labelsUnder, SEMICOLON, type UnderLabel } from '../paper/labels.ts';
import { LETTER_SIZE, type Lettering, setLine, TEXT_SIZE, textAt } from '../paper/lettering.ts';
import { boxOfMark, boxOfMarks, line, type Mark } from '../paper/marks.ts';
import { type Box, boxesMeet } from '../paper/plane.ts';
import { layoutScales, type Scale } from '../paper/scale.ts';
import { type BoardPaper, cutMarks, cutsWithin, placeAlong } from './board-cuts.ts';
import { hatch, layoutRoom, pagesOf, rectangle } from './layout-pages.ts';

/** A board this high or higher holds its letters inside, mm. */
const INSIDE = 5.2;
/** Room for the board's name to its left, mm. */
const COLUMN = 25;
/** Between the blocks of two boards, mm: less where that saves a drawing. */
const BETWEEN = 4.6;
const CLOSE = 3.2;
/** What a board's outline and a little paper take from the height of its lettering, mm. */
const TIGHT = 0.7;
/** An offcut as long as this is named, mm of wood. */
const WORTH_KEEPING = 150;

/** All layouts of the plan, as many boards a drawing as its room holds. */
export function composeLayouts(desk: Desk, place: Place): Composed[] {
  const { boards } = desk.input.layouts;
  if (boards.length === 0) return [];
  const room = layoutRoom(desk, place);
  const longest = Math.max(...boards.map((board) => board.boardLength));
  const { scale, column } = scaleFor(desk, longest, room.width - 2);
  const blocks = boards.map((board) => ({
    of: board,
    marks: boardBlock(desk, board, scale, column, room.width - 2),
  }));
  const [usual, close] = [pagesOf(blocks, BETWEEN, room), pagesOf(blocks, CLOSE, room)];
  return (close.length < usual.length ? close : usual).map(
    ({ items, marks, of, index }): Composed => ({
      id: `layout-${index}`,
      kind: 'layout',
      title: `${desk.plan.front.title}: cutting layouts${of}`,
      caption: [text(`Cutting layouts${of}. Cut in the order of the numbers; hatched pieces are left over.`)],
      alt: altOf(desk, items, scale),
      marks,
      scale: scale.label,
    }),
  );
}

/** The largest scale at which the longest board fits; its name stands to the left where that costs no scale. */
function scaleFor(desk: Desk, longest: number, width: number): { scale: Scale; column: number } {
  const scales = layoutScales(desk.plan.edition.numbers);
  const largest = (room: number) =>
    scales.find((s) => longest * s.ratio <= room) ?? (scales[scales.length - 1] as Scale);
  const [beside, above] = [largest(width - COLUMN), largest(width)];
  return beside.ratio >= above.ratio ? { scale: beside, column: COLUMN } : { scale: above, column: 0 };
}

/** One board with its name, its left top corner at the origin or right of the name's column. */
function boardBlock(desk: Desk, board: BoardLayout, scale: Scale, column: number, roomRight: number): Mark[] {
  const height = Math.max(board.stock.width * scale.ratio, 1.2);
  const right = column + board.boardLength * scale.ratio;
  const paper: BoardPaper = { left: column, ratio: scale.ratio, height, kerf: desk.input.layouts.kerf };
  const cuts = cutMarks(board, paper);
  const fills: Mark[] = [];
  const hatched: Mark[] = [];
  const inner: Mark[] = [];
  const labels: UnderLabel[] = [];
  const rough = Math.min(height, (board.stock.rough ?? 0) * scale.ratio);
  if (rough > 0) hatched.push(...hatch({ left: column, right, top: 0, bottom: rough }));
  board.sections.forEach((section, index) => {
    const origin = placeAlong(board, paper, section.start);
    const before = board.sections[index - 1];
    // what the yard leaves on both sides of its cut
    const from = before ? placeAlong(board, paper, before.start + before.length) : origin;
    if (origin - from > 0.35)
      hatched.push(...hatch({ left: from, right: origin, top: rough, bottom: height }));
    const piece = sectionMarks(desk, board, section, {
      from: index === 0 ? column : origin,
      to: Math.min(right, origin + section.length * scale.ratio),
      origin,
      top: rough,
      height,
      scale,
      shown: cuts.shown,
      numbers: cuts.numbers.map((mark) => boxOfMark(mark)),
    });
    fills.push(...piece.fills);
    hatched.push(...piece.hatched);
    inner.push(...piece.inner);
    if (piece.label) labels.push(piece.label);
  });
  const last = board.sections[board.sections.length - 1];
  const end = last ? placeAlong(board, paper, last.start + last.length) : column;
  if (right - end > 0.35) {
    const offcut = offcutMarks(desk, board, { left: end, right, top: rough, bottom: height });
    hatched.push(...offcut.marks);
    if (offcut.label) labels.push(offcut.label);
  }
  const frame = line('visible', [
    [column, 0],
    [right, 0],
    [right, height],
    [column, height],
    [column, 0],
  ]);
  const name = nameMarks(board, column, cuts.numbers.length > 0 ? boxOfMarks(cuts.numbers).top : 0);
  // Beside the board stands its name: labels may run under the board's left end, but not into that.
  const left = column > 0 ? Math.min(column, boxOfMarks(name).right + 2.2) : 0;
  const under = labelsUnder(labels, { left, right: roomRight, top: height });
  return [
    ...fills,
    ...hatched,
    ...(cuts.thin.length > 0 ? [line('thin', ...cuts.thin)] : []),
    ...inner,
    ...(cuts.strokes.length > 0 ? [line('stroke', ...cuts.strokes)] : []),
    frame,
    ...cuts.numbers,
    ...name,
    ...under,
  ];
}

/** `1×6`, `8 ft, 3 alike`: left of the board, or above it. A rough edge is told here: it comes before all that is measured. */
function nameMarks(board: BoardLayout, column: number, above: number): Mark[] {
  const title = setLine([text(board.stock.label)], LETTER_SIZE, 600);
  const edges = board.cuts.filter((cut) => cut.kind === 'straighten').map((cut) => `${cut.number}`);
  const more = setLine([
    text(board.count > 1 ? `${board.lengthLabel}, ${board.count} alike` : board.lengthLabel),
    text(
      edges.length > 0
        ? `; ${edges.length > 1 ? 'cuts' : 'cut'} ${edges.join(' and ')}: make the rough edge straight`
        : '',
    ),
  ]);
  if (column > 0 && more.width <= column - 2)
    return [textAt(title, [0, 3.2]), textAt(more, [0, 7.9], { quiet: true })];
  const base = above - 2.2;
  return [textAt(title, [0, base]), textAt(more, [title.width + 2.5, base], { quiet: true })];
}

interface Spot {
  readonly from: number;
  readonly to: number;
  /** Where lengths count from: the first piece's tint begins a little before, at the trimmed end. */
  readonly origin: number;
  /** Lower side of what comes off a rough edge. */
  readonly top: number;
  readonly height: number;
  readonly scale: Scale;
  /** Numbers of the cuts that the drawing shows. */
  readonly shown: ReadonlySet<number>;
  /** Where the numbers of all cuts stand. */
  readonly numbers: readonly Box[];
}

function sectionMarks(desk: Desk, board: BoardLayout, section: LayoutSection, spot: Spot) {
  const { from, to, origin, top: first, height, scale } = spot;
  const fills: Mark[] = [];
  const hatched: Mark[] = [];
  const over = (box: Box): void => {
    if (box.right - box.left > 0.35 && box.bottom - box.top > 0.35) hatched.push(...hatch(box));
  };
  let edge = first;
  for (const lane of lanesOf(section)) {
    const top = edge;
    const bottom = Math.min(height, first + (lane.offset + lane.width) * scale.ratio);
    edge = bottom;
    let left = from;
    lane.strips.forEach((strip, index) => {
      const end = Math.min(to, origin + ((strip.from ?? 0) + strip.length) * scale.ratio);
      const last = index === lane.strips.length - 1;
      const right = last && to - end <= 0.35 ? to : end;
      const low = Math.min(bottom, top + strip.width * scale.ratio + 0.2);
      fills.push(rectangle({ left, right, top, bottom: low }));
      over({ left, right, top: low, bottom });
      left = right;
    });
    over({ left, right: to, top, bottom });
  }
  over({ left: from, right: to, top: edge, bottom: height });
  const inner: Mark[] = [];
  const said = wordsOf(desk, board, section, spot.shown);
  const lettering = setLine(said);
  // What is left over beside it is hatched, however little: words inside would run over that.
  const single = section.strips.length === 1 && hatched.length === 0;
  const high = lettering.ascent + lettering.descent + TIGHT <= height - first && height - first >= INSIDE;
  const middle = single && high ? clearMiddle(lettering.width, { ...spot, top: first }) : undefined;
  if (middle !== undefined) inner.push(centred(lettering, middle, (first + height) / 2));
  return {
    fills,
    hatched,
    inner,
    label:
      middle !== undefined
        ? undefined
        : { from, to, text: said, short: shortOf(section), same: JSON.stringify(said) },
  };
}

/**
 * Where the middle of a piece's words comes: that of the piece, or of what the number of a cut leaves of it (a board that loses a sliver
 * is ripped and still shows as one piece). Nothing where there is no room.
 */
function clearMiddle(width: number, { from, to, top, height, numbers }: Spot): number | undefined {
  const within = numbers.filter((box) => boxesMeet(box, { left: from, right: to, top, bottom: height }));
  const begin = Math.max(from, ...within.map((box) => box.right));
  return [from, begin].flatMap((left) => {
    const middle = (left + to) / 2;
    const clear = within.every(
      (box) => box.right + 1 <= middle - width / 2 || box.left - 1 >= middle + width / 2,
    );
    return width + 2 <= to - left && clear ? [middle] : [];
  })[0];
}

/** The letters of a section alone: `2 × A`. */
function shortOf(section: LayoutSection): Line {
  const counts = new Map<string, number>();
  for (const { letter } of section.strips) counts.set(letter, (counts.get(letter) ?? 0) + 1);
  return [...counts].flatMap(
    ([letter, count], index): Line => [
      ...(index > 0 ? [text(', ')] : []),
      ...(count > 1 ? [text(`${count} × `)] : []),
      { kind: 'letter', letter },
    ],
  );
}

/**
 * `F  48″`; where it is ripped, to what; several strips of one kind side by side as `2 × A`. Cuts that the drawing has no room to
 * number are named by what they make.
 */
function wordsOf(desk: Desk, board: BoardLayout, section: LayoutSection, shown: ReadonlySet<number>): Line {
  const kinds = new Map<string, { strip: LayoutSection['strips'][number]; count: number }>();
  for (const strip of section.strips) {
    const key = `${strip.letter}${strip.fromOffcut ? '*' : ''}`;
    const known = kinds.get(key);
    if (known) known.count++;
    else kinds.set(key, { strip, count: 1 });
  }
  return [...kinds.values()].flatMap(({ strip, count }, index): Line => {
    const ripped = strip.width < board.stock.width - (board.stock.rough ?? 0) - 0.05;
    const cuts = cutsWithin(board, section, desk.input.layouts.kerf).filter(
      ({ cut, letter }) => letter === strip.letter && !shown.has(cut.number),
    );
    return [
      ...(index > 0 ? [SEMICOLON] : []),
      text(count > 1 ? `${count} × ` : ''),
      { kind: 'letter', letter: strip.letter },
      text('  '),
      desk.size(strip.length),
      ...(ripped ? [text(', rip to '), desk.size(strip.width)] : []),
      ...(cuts.length > 0
        ? [text(` at ${cuts.length > 1 ? 'cuts' : 'cut'} ${cuts.map(({ cut }) => cut.number).join(', ')}`)]
        : []),
      ...(strip.fromOffcut ? [text(', from offcut')] : []),
    ];
  });
}

const centred = (lettering: Lettering, x: number, y: number): Mark =>
  textAt(lettering, [x, y + 0.33 * TEXT_SIZE], { anchor: 'middle' });

function offcutMarks(desk: Desk, board: BoardLayout, box: Box): { marks: Mark[]; label?: UnderLabel } {
  const said: Line = [desk.size(board.offcut), text(' over')];
  const lettering = setLine(said);
  const middle: [number, number] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  const inside =
    lettering.width + 5 <= box.right - box.left &&
    box.bottom - box.top >= INSIDE &&
    lettering.ascent + lettering.descent + TIGHT <= box.bottom - box.top;
  if (inside) {
    const patch: Box = {
      left: middle[0] - lettering.width / 2 - 1,
      right: middle[0] + lettering.width / 2 + 1,
      top: box.top,
      bottom: box.bottom,
    };
    return {
      marks: [
        ...hatch({ ...box, right: patch.left }),
        ...hatch({ ...box, left: patch.right }),
        centred(lettering, ...middle),
      ],
    };
  }
  const label: UnderLabel | undefined =
    board.offcut >= WORTH_KEEPING ? { from: box.left, to: box.right, text: said, same: '' } : undefined;
  return { marks: hatch(box), ...(label ? { label } : {}) };
}

function altOf(desk: Desk, boards: readonly BoardLayout[], scale: Scale): string {
  const told = boards.map((board) => {
    const pieces = board.sections
      .flatMap((section) => section.strips.map((strip) => `${strip.letter} ${desk.words(strip.length)}`))
      .join(', ');
    const alike = board.count > 1 ? `${board.count} boards` : 'one board';
    return `${board.stock.label}, ${board.lengthLabel}, ${alike}: ${pieces}; ${desk.words(board.offcut)} left over.`;
  });
  return `Boards to scale, ${scale.label}, with their pieces in the order of the cuts. ${told.join(' ')}`;
}
