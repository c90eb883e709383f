/** Cutting layouts: each board to scale with its pieces, cuts in order, rips and what is left over. */
import type { BoardLayout, LayoutSection } from '../cutting/types.ts';
import { type Line, text } from '../text.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from './desk.ts';
import { labelsUnder, type UnderLabel } from './labels.ts';
import { LETTER_SIZE, type Lettering, NUMBER_SIZE, setLine, TEXT_SIZE, textAt } from './lettering.ts';
import { boxOfMarks, line, type Mark, moved } from './marks.ts';
import { type Box, boxesMeet, boxOf, type Segment } from './plane.ts';
import { layoutScales, type Scale } from './scale.ts';

/** A board this high or higher holds its letters inside, mm. */
const INSIDE = 5.2;
/** How far a cut runs past the board's edge, mm. */
const OVERSHOOT = 1.6;
/** Spacing of the hatch of an offcut, mm. */
const HATCH = 1.8;
/** Room for the board's name to its left, mm. */
const COLUMN = 25;
/** Between the blocks of two boards, mm. */
const BETWEEN = 4.6;
/** What a board's outline and a little paper take from the height of its lettering, mm. */
const TIGHT = 0.7;
/** An offcut as long as this is named, mm of wood. */
const WORTH_KEEPING = 150;

/** All layouts of the plan, as many boards a drawing as its room holds. */
export function composeLayouts(desk: Desk, place: Place): Composed[] {
  const { boards } = desk.input.layouts;
  if (boards.length === 0) return [];
  const room =
    place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 300 } : desk.sheetRoom({ letter: 165, a4: 180 });
  const longest = Math.max(...boards.map((board) => board.boardLength));
  const { scale, column } = scaleFor(desk, longest, room.width - 2);
  const blocks = boards.map((board) => boardBlock(desk, board, scale, column, room.width - 2));
  const sheets: { boards: BoardLayout[]; marks: Mark[]; height: number }[] = [];
  blocks.forEach((block, index) => {
    const box = boxOfMarks(block);
    const height = box.bottom - box.top;
    let sheet = sheets[sheets.length - 1];
    if (!sheet || sheet.height + BETWEEN + height > room.height - 1) {
      sheet = { boards: [], marks: [], height: -BETWEEN };
      sheets.push(sheet);
    }
    sheet.marks.push(...moved(block, 0, sheet.height + BETWEEN - box.top));
    sheet.height += BETWEEN + height;
    sheet.boards.push(boards[index] as BoardLayout);
  });
  const title = `${desk.plan.front.title}: cutting layouts`;
  return sheets.map((sheet, index): Composed => {
    const of = sheets.length > 1 ? `, ${index + 1} of ${sheets.length}` : '';
    return {
      id: `layout-${index + 1}`,
      kind: 'layout',
      title: `${title}${of}`,
      caption: [text(`Cutting layouts${of}. Cut in the order of the numbers; hatched pieces are left over.`)],
      alt: altOf(desk, sheet.boards, scale),
      marks: sheet.marks,
      scale: scale.label,
    };
  });
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
  const along = (at: number): number => column + (board.endTrim + at) * scale.ratio;
  const fills: Mark[] = [];
  const hatched: Mark[] = [];
  const inner: Mark[] = [];
  const cuts: Segment[] = [];
  const labels: UnderLabel[] = [];
  board.sections.forEach((section, index) => {
    const from = index === 0 ? column : along(section.start);
    const to = along(section.start + section.length);
    const piece = sectionMarks(desk, board, section, {
      from,
      to,
      origin: along(section.start),
      height,
      scale,
    });
    fills.push(...piece.fills);
    hatched.push(...piece.hatched);
    inner.push(...piece.inner);
    if (piece.label) labels.push(piece.label);
    if (right - to > 0.35)
      cuts.push([
        [to, -OVERSHOOT],
        [to, height],
      ]);
  });
  const last = board.sections[board.sections.length - 1];
  const end = last ? along(last.start + last.length) : column;
  if (right - end > 0.35) {
    const offcut = offcutMarks(desk, board, { left: end, right, top: 0, bottom: height });
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
  const numbers = cutNumbers(cuts.map(([[x]]) => x));
  const name = nameMarks(board, column, numbers.length > 0 ? boxOfMarks(numbers).top : 0);
  // Beside the board stands its name: labels may run under the board's left end, but not into that.
  const left = column > 0 ? Math.min(column, boxOfMarks(name).right + 2.2) : 0;
  const under = labelsUnder(labels, { left, right: roomRight, top: height });
  return [
    ...fills,
    ...hatched,
    ...inner,
    ...(cuts.length > 0 ? [line('stroke', ...cuts)] : []),
    frame,
    ...numbers,
    ...name,
    ...under,
  ];
}

/** `1×6`, `8 ft, 3 alike`: left of the board, or above it. */
function nameMarks(board: BoardLayout, column: number, above: number): Mark[] {
  const title = setLine([text(board.stock.label)], LETTER_SIZE, 600);
  const more = setLine([
    text(board.count > 1 ? `${board.lengthLabel}, ${board.count} alike` : board.lengthLabel),
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
  readonly height: number;
  readonly scale: Scale;
}

function sectionMarks(desk: Desk, board: BoardLayout, section: LayoutSection, spot: Spot) {
  const { from, to, origin, height, scale } = spot;
  const fills: Mark[] = [];
  const hatched: Mark[] = [];
  const inner: Mark[] = [];
  const rips: number[] = [];
  let edge = 0;
  const strips = [...section.strips].sort((a, b) => a.offset - b.offset);
  for (const strip of strips) {
    const top = edge;
    const bottom = Math.min(height, (strip.offset + strip.width) * scale.ratio);
    edge = bottom;
    const end = Math.min(to, origin + strip.length * scale.ratio);
    const short = to - end > 0.35;
    fills.push(rectangle({ left: from, right: short ? end : to, top, bottom }));
    if (short) {
      hatched.push(...hatch({ left: end, right: to, top, bottom }));
      inner.push(
        line('thin', [
          [end, top],
          [end, bottom],
        ]),
      );
    }
    if (height - bottom > 0.5) rips.push(bottom);
  }
  const waste = height - edge;
  if (waste > 0.5) hatched.push(...hatch({ left: from, right: to, top: edge, bottom: height }));
  if (rips.length > 0)
    inner.push(
      line(
        'thin',
        ...rips.map((y): [readonly [number, number], readonly [number, number]] => [
          [from, y],
          [to, y],
        ]),
      ),
    );
  const said = wordsOf(desk, board, section);
  const lettering = setLine(said);
  const free = rips.length === 0 ? height : 0;
  const fits =
    lettering.width + 2 <= to - from &&
    lettering.ascent + lettering.descent + TIGHT <= free &&
    free >= INSIDE;
  if (fits) inner.push(centred(lettering, (from + to) / 2, height / 2));
  return {
    fills,
    hatched,
    inner,
    label: fits ? undefined : { from, to, text: said, short: shortOf(section), same: JSON.stringify(said) },
  };
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

/** `F  48″`; where it is ripped, to what; several strips of one kind side by side as `2 × A`. */
function wordsOf(desk: Desk, board: BoardLayout, section: LayoutSection): Line {
  const kinds = new Map<string, { strip: LayoutSection['strips'][number]; count: number }>();
  for (const strip of section.strips) {
    const known = kinds.get(strip.letter);
    if (known) known.count++;
    else kinds.set(strip.letter, { strip, count: 1 });
  }
  return [...kinds.values()].flatMap(({ strip, count }, index): Line => {
    const ripped = strip.width < board.stock.width - 0.05;
    return [
      text(index > 0 ? ';  ' : ''),
      text(count > 1 ? `${count} × ` : ''),
      { kind: 'letter', letter: strip.letter },
      text('  '),
      desk.size(strip.length),
      ...(ripped ? [text(', rip to '), desk.size(strip.width)] : []),
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

/** A tinted rectangle. */
export const rectangle = (box: Box): Mark => ({
  kind: 'fill',
  fill: 'board',
  loops: [
    [
      [box.left, box.top],
      [box.right, box.top],
      [box.right, box.bottom],
      [box.left, box.bottom],
    ],
  ],
});

/** Lines at 45 degrees, cut at the box: no clip path, so that nothing in the file needs a name. */
export function hatch(box: Box): Mark[] {
  const { left, right, top, bottom } = box;
  const lines: Segment[] = [];
  const step = HATCH * Math.SQRT2;
  const first = Math.ceil((left + top) / step) * step;
  for (let sum = first; sum < right + bottom; sum += step) {
    // x + y = sum
    const x0 = Math.max(left, sum - bottom);
    const x1 = Math.min(right, sum - top);
    if (x1 - x0 > 0.1)
      lines.push([
        [x0, sum - x0],
        [x1, sum - x1],
      ]);
  }
  return lines.length === 0 ? [] : [line('hatch', ...lines)];
}

/** Numbers above the cuts; one that would touch the one before stands a row higher, or is left out. */
function cutNumbers(at: readonly number[]): Mark[] {
  const placed: Box[] = [];
  return at.flatMap((x, index): Mark[] => {
    const lettering = setLine([text(`${index + 1}`)], NUMBER_SIZE, 600);
    for (const row of [0, 1]) {
      const mark = textAt(lettering, [x, -OVERSHOOT - 0.7 - row * 2.9], { anchor: 'middle', quiet: true });
      const box = boxOf([
        [x - lettering.width / 2, mark.at[1] - lettering.ascent],
        [x + lettering.width / 2, mark.at[1]],
      ]);
      if (placed.some((other) => boxesMeet(box, other, 0.35))) continue;
      placed.push(box);
      return [mark];
    }
    return [];
  });
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
