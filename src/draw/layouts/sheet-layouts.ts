/** Cutting layouts of sheets: to scale with the grain from left to right, pieces lettered, cuts numbered, what is left over hatched. */
import { sheetCalled } from '../../cutting/saw-list.ts';
import type { SheetCut, SheetOffcut, SheetPart, SheetPiece } from '../../cutting/sheets/types.ts';
import type { SheetLayout } from '../../cutting/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import type { Composed, Desk, Place } from '../desk.ts';
import { LETTER_SIZE, type Lettering, NUMBER_SIZE, setLine, TEXT_SIZE, textAt } from '../paper/lettering.ts';
import { boxOfMark, boxOfMarks, line, type Mark, segmentsOf } from '../paper/marks.ts';
import { type Box, boxesMeet, type Segment } from '../paper/plane.ts';
import { layoutScales, type Scale } from '../paper/scale.ts';
import type { Point } from '../types.ts';
import { hatch, layoutRoom, pagesOf, rectangle } from './layout-pages.ts';

/** Between the blocks of two sheets, mm of paper. */
const BETWEEN = 7;
/** Clear paper around lettering in a piece, mm. */
const CLEAR = 0.8;

/** Between two drawings of layouts on a sheet, mm (themes/handbook/lists.typ). */
const APART = 6;

/** All sheets of the plan, as many a drawing as its room holds; they follow the `boards`, the first below the last of them. */
export function composeSheets(desk: Desk, place: Place, boards: readonly Composed[]): Composed[] {
  const sheets = desk.input.layouts.sheets ?? [];
  if (sheets.length === 0) return [];
  const room = layoutRoom(desk, place);
  const longest = Math.max(...sheets.map((sheet) => sheet.sheetLength));
  const widest = Math.max(...sheets.map((sheet) => sheet.sheetWidth));
  const scales = layoutScales(desk.plan.edition.numbers);
  const fits = (one: Scale): boolean =>
    longest * one.ratio <= room.width - 2 &&
    widest * one.ratio <= room.height * 0.62 &&
    // with the letters that stand beside the sheet
    sheets.every((sheet) => {
      const { left, right } = boxOfMarks(sheetBlock(desk, sheet, one, place));
      return right - left <= room.width - 1;
    });
  const scale = scales.find(fits) ?? (scales.at(-1) as Scale);
  const blocks = sheets.map((sheet) => ({ of: sheet, marks: sheetBlock(desk, sheet, scale, place) }));
  const left = Math.min(...blocks.map(({ marks }) => boxOfMarks(marks).left));
  // Drawings stand under each other on the paper: a speck of it gives all of them the same left edge.
  const edge: Mark = {
    ...rectangle({ left, right: left + 0.1, top: 0, bottom: 0.1 }),
    fill: 'paper',
  } as Mark;
  const last = place === 'sheet' && boards.length > 0 ? boxOfMarks(boards.at(-1)?.marks ?? []) : undefined;
  const taken = last === undefined ? 0 : last.bottom - last.top + 1 + APART;
  return pagesOf(blocks, BETWEEN, room, [edge], taken).map(
    ({ items, marks, of, index }): Composed => ({
      id: `layout-${boards.length + index}`,
      kind: 'layout',
      title: `${desk.plan.front.title}: sheet layouts${of}`,
      caption: [
        text(
          `Sheet layouts${of}. The grain runs from left to right. Cut in the order of the numbers: thick lines are crosscuts, thin lines rips; hatched pieces are left over.`,
        ),
      ],
      alt: altOf(desk, items, scale),
      marks,
      scale: scale.label,
    }),
  );
}

const leavesOf = (piece: SheetPiece): (SheetPart | SheetOffcut)[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leavesOf) : [piece];

/** One sheet with its name above, its left top corner at the origin. The table of its cuts says their settings. */
function sheetBlock(desk: Desk, sheet: SheetLayout, scale: Scale, place: Place): Mark[] {
  const size = sheetCalled(desk.input.layouts.sheets ?? [], sheet);
  const off = sheet.edgeTrim > 0 ? sheet.edgeTrim + desk.input.layouts.kerf : 0;
  const right = sheet.sheetLength * scale.ratio;
  const bottom = sheet.sheetWidth * scale.ratio;
  const boxOfPiece = (piece: SheetPiece): Box => ({
    left: (off + piece.x) * scale.ratio,
    right: (off + piece.x + piece.length) * scale.ratio,
    // widths count from the lower edge
    top: bottom - (off + piece.y + piece.width) * scale.ratio,
    bottom: bottom - (off + piece.y) * scale.ratio,
  });
  const fills: Mark[] = [];
  const hatched: Mark[] = [];
  const words: Mark[] = [];
  const taken: Box[] = [];
  const narrow: { letter: string; box: Box }[] = [];
  for (const leaf of leavesOf(sheet.root)) {
    const box = boxOfPiece(leaf);
    if (leaf.kind === 'part') fills.push(rectangle(box));
    const said = leaf.kind === 'part' ? partWords(desk, leaf, box) : offcutWords(desk, leaf, box);
    words.push(...said);
    const own = said.length === 0 ? undefined : grown(boxOfMarks(said), CLEAR);
    if (own) taken.push(own);
    else if (leaf.kind === 'part') narrow.push({ letter: leaf.item, box });
    if (leaf.kind === 'offcut') hatched.push(...hatchAround(box, own));
  }
  const leaders: Segment[] = [];
  words.push(...lettersBeside(narrow, right, taken, leaders));
  const cuts = sheet.cuts.filter((cut) => cut.kind !== 'trim');
  const ends = cuts.map((cut) => cutLine(cut, scale, bottom));
  const crosscuts = ends.filter((_, index) => cuts[index]?.kind === 'crosscut');
  const rips = ends.filter((_, index) => cuts[index]?.kind === 'rip');
  const lettered = taken.length;
  const sheetBox = { left: 0, right, top: 0, bottom };
  const frame = line('visible', [
    [0, 0],
    [right, 0],
    [right, bottom],
    [0, bottom],
    [0, 0],
  ]);
  const numbers = cuts.flatMap((cut, index) =>
    numberOn(cut, ends[index] as [Point, Point], sheetBox, { taken, leaders }),
  );
  // Lines stop short of the numbers that stand on them.
  const clear = (segments: readonly Segment[]): Segment[] => outsideBoxes(segments, taken.slice(lettered));
  const title = setLine([text(sheet.stock.label)], LETTER_SIZE, 600);
  // A square sheet doesn't show by its shape which way its grain runs. On a page the caption says it.
  const grain = place === 'narrow' || sheet.stock.grain === 'none' ? '' : ', grain from left to right';
  const more = setLine([text(`${size}${sheet.count > 1 ? ` × ${sheet.count}` : ''}${grain}`)]);
  return [
    ...fills,
    ...hatched.map((mark) => (mark.kind === 'lines' ? { ...mark, lines: clear(segmentsOf(mark)) } : mark)),
    ...(rips.length > 0 ? [line('thin', ...clear(rips))] : []),
    ...(crosscuts.length > 0 ? [line('stroke', ...clear(crosscuts))] : []),
    frame,
    ...numbers,
    ...words,
    textAt(title, [0, -2.6]),
    textAt(more, [title.width + 2.5, -2.6], { quiet: true }),
  ];
}

const grown = (box: Box, by: number): Box => ({
  left: box.left - by,
  right: box.right + by,
  top: box.top - by,
  bottom: box.bottom + by,
});

/** The hatch of an offcut, clear of its lettering. */
function hatchAround(box: Box, words: Box | undefined): Mark[] {
  if (words === undefined) return hatch(box);
  return [
    { ...box, right: words.left },
    { ...box, left: words.right },
    { left: words.left, right: words.right, top: box.top, bottom: words.top },
    { left: words.left, right: words.right, top: words.bottom, bottom: box.bottom },
  ].flatMap((one) => (one.right - one.left > 0.3 && one.bottom - one.top > 0.3 ? hatch(one) : []));
}

/** A cut on the paper, from where the blade comes in. */
function cutLine(cut: SheetCut, scale: Scale, bottom: number): [Point, Point] {
  const x = cut.x * scale.ratio;
  const y = bottom - cut.y * scale.ratio;
  const reach = cut.reach * scale.ratio;
  return cut.kind === 'rip'
    ? [
        [x, y],
        [x + reach, y],
      ]
    : [
        [x, y],
        [x, y - reach],
      ];
}

/** What of segments lies outside all of some boxes; crumbs are left out. */
function outsideBoxes(segments: readonly Segment[], boxes: readonly Box[]): Segment[] {
  let left = [...segments];
  for (const box of boxes)
    left = left.flatMap((segment): Segment[] => {
      const [a, b] = segment;
      let [enters, leaves] = [0, 1];
      for (const [k, low, high] of [
        [0, box.left, box.right],
        [1, box.top, box.bottom],
      ] as const) {
        const run = b[k] - a[k];
        if (Math.abs(run) < 1e-9) {
          if (a[k] <= low || a[k] >= high) return [segment];
          continue;
        }
        const [s, t] = [(low - a[k]) / run, (high - a[k]) / run];
        enters = Math.max(enters, Math.min(s, t));
        leaves = Math.min(leaves, Math.max(s, t));
      }
      if (leaves <= enters) return [segment];
      const at = (t: number): Point => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      const pieces: Segment[] = [
        [a, at(enters)],
        [at(leaves), b],
      ];
      return pieces.filter(([p, q]) => Math.hypot(q[0] - p[0], q[1] - p[1]) > 0.05);
    });
  return left;
}

/** How far a letter beside the sheet stands from it, and the least between the base lines of two, mm. */
const [ASIDE, PITCH] = [3.2, 4.4];
/** How far its leader reaches into the part, mm. */
const REACH = 1.4;

/** Letters of parts too narrow to hold one, beside the sheet at the edge that is nearer, each with a leader that ends in its part. */
function lettersBeside(
  narrow: readonly { letter: string; box: Box }[],
  right: number,
  taken: Box[],
  leaders: Segment[],
): Mark[] {
  return ([-1, 1] as const).flatMap((side) => {
    let last = -Infinity;
    return narrow
      .filter(({ box }) => (box.left <= right - box.right ? -1 : 1) === side)
      .sort((a, b) => a.box.top + a.box.bottom - b.box.top - b.box.bottom)
      .flatMap(({ letter, box }): Mark[] => {
        const lettering = setLine([{ kind: 'letter', letter }]);
        const y = (box.top + box.bottom) / 2;
        const base = Math.max(y + lettering.ascent / 2, last + PITCH);
        last = base;
        const edge = side < 0 ? 0 : right;
        const tip: Point = [side < 0 ? box.left + REACH : box.right - REACH, y];
        const foot: Point = [edge + side * ASIDE, base - lettering.ascent / 2];
        // Over the words of another part no leader goes; the table of cuts has the letter.
        if (outsideBoxes([[foot, tip]], taken).length !== 1) return [];
        taken.push(grown({ left: tip[0], right: tip[0], top: y, bottom: y }, 0.7));
        leaders.push([foot, tip]);
        const start = foot[0] + side * 0.8;
        return [
          line('thin', [foot, tip]),
          { kind: 'dot', centre: tip },
          textAt(lettering, [side < 0 ? start - lettering.width : start, base]),
        ];
      });
  });
}

/** Letter and size of a part where there is room for them: under each other in two lines or three, in one line, or the letter alone. */
function partWords(desk: Desk, part: SheetPart, box: Box): Mark[] {
  const [length, width] = part.turned ? [part.width, part.length] : [part.length, part.width];
  const letter: Run = { kind: 'letter', letter: part.item };
  const size: Line = [desk.size(length), text(' × '), desk.size(width)];
  const both = setLine([letter, text('  '), ...size]);
  const alone = setLine([letter]);
  const under = setLine(size);
  const middle: Point = [(box.left + box.right) / 2, (box.top + box.bottom) / 2];
  const room = { width: box.right - box.left - 2 * CLEAR, height: box.bottom - box.top - 2 * CLEAR };
  const holds = (lettering: Lettering): boolean =>
    lettering.width <= room.width && lettering.ascent + lettering.descent <= room.height;
  const stacked = LETTER_SIZE + under.ascent + under.descent + 1;
  if (Math.max(alone.width, under.width) <= room.width && stacked <= room.height)
    return [
      textAt(alone, [middle[0], middle[1] - 0.6], { anchor: 'middle' }),
      textAt(under, [middle[0], middle[1] + under.ascent + 1], { anchor: 'middle' }),
    ];
  const [upper, lower] = [setLine([desk.size(length), text(' ×')]), setLine([desk.size(width)])];
  const pitch = upper.descent + Math.max(upper.ascent, lower.ascent) + 0.6;
  if (Math.max(alone.width, upper.width, lower.width) <= room.width && stacked + pitch <= room.height)
    return [alone, upper, lower].map((lettering, index) =>
      textAt(
        lettering,
        [
          middle[0],
          middle[1] - 0.6 - pitch / 2 + (index === 0 ? 0 : under.ascent + 1.6 + (index - 1) * pitch),
        ],
        { anchor: 'middle' },
      ),
    );
  const one = [both, alone].find(holds);
  if (one !== undefined)
    return [textAt(one, [middle[0], middle[1] + 0.33 * TEXT_SIZE], { anchor: 'middle' })];
  return [];
}

function offcutWords(desk: Desk, offcut: SheetOffcut, box: Box): Mark[] {
  const said = setLine([desk.size(offcut.length), text(' × '), desk.size(offcut.width), text(' over')]);
  if (said.width + 5 > box.right - box.left || said.ascent + said.descent + 2 > box.bottom - box.top)
    return [];
  return [
    textAt(said, [(box.left + box.right) / 2, (box.top + box.bottom) / 2 + 0.33 * TEXT_SIZE], {
      anchor: 'middle',
    }),
  ];
}

/**
 * A cut's number on its line, near where it begins, clear of all lettering with its leaders and of the edge of the sheet; none where there
 * is no room: the table of cuts has it.
 */
function numberOn(
  cut: SheetCut,
  [from, to]: [Point, Point],
  sheet: Box,
  { taken, leaders }: { readonly taken: Box[]; readonly leaders: readonly Segment[] },
): Mark[] {
  const lettering = setLine([text(`${cut.number}`)], NUMBER_SIZE, 600);
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const own = cut.kind === 'rip' ? lettering.width : lettering.ascent + lettering.descent;
  const first = own / 2 + 1;
  for (const at of [first, first + 4, long / 4, long / 2, (3 * long) / 4, long - first]) {
    if (at < first - 1e-9 || at > long - first + 1e-9) continue;
    const share = at / long;
    const x = from[0] + (to[0] - from[0]) * share;
    const y = from[1] + (to[1] - from[1]) * share;
    const mark = textAt(lettering, [x, y + lettering.ascent / 2], { anchor: 'middle', quiet: true });
    const patch = grown(boxOfMark(mark), 0.35);
    if (taken.some((box) => boxesMeet(box, patch, 0.2))) continue;
    if (leaders.some((leader) => outsideBoxes([leader], [patch])[0] !== leader)) continue;
    // The edge of the sheet is drawn whole.
    if (patch.left < sheet.left || patch.right > sheet.right) continue;
    if (patch.top < sheet.top || patch.bottom > sheet.bottom) continue;
    taken.push(patch);
    return [mark];
  }
  return [];
}

function altOf(desk: Desk, sheets: readonly SheetLayout[], scale: Scale): string {
  const told = sheets.map((sheet) => {
    const counts = new Map<string, { part: SheetPart; count: number }>();
    for (const leaf of leavesOf(sheet.root)) {
      if (leaf.kind !== 'part') continue;
      const known = counts.get(leaf.item);
      if (known) known.count++;
      else counts.set(leaf.item, { part: leaf, count: 1 });
    }
    const pieces = [...counts.values()].map(({ part, count }) => {
      const [length, width] = part.turned ? [part.width, part.length] : [part.length, part.width];
      return `${count > 1 ? `${count} of ` : ''}${part.item} ${desk.words(length)} by ${desk.words(width)}`;
    });
    const alike = sheet.count > 1 ? `${sheet.count} sheets` : 'one sheet';
    const over = sheet.offcut
      ? `; ${desk.words(sheet.offcut.length)} by ${desk.words(sheet.offcut.width)} left over`
      : '';
    return `${sheet.stock.label}, ${sheet.sizeLabel}, ${alike}, ${sheet.cuts.length} cuts: ${pieces.join(', ')}${over}.`;
  });
  return `Sheets to scale, ${scale.label}, with their parts. ${told.join(' ')}`;
}
