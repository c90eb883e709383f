/**
 * A full-size template: the outline of a board's wide face at 1 : 1 with its holes and their middles, to be printed over several
 * sheets and stuck on the board. It stands upright where that takes fewer sheets, and leaves out what of a long board is straight.
 */

import type { CutListRow } from '../cutting/types.ts';
import type { Copy } from '../model/types.ts';
import { text } from '../text.ts';
import { printed, sizeText } from '../units.ts';
import type { Composed, Desk } from './desk.ts';
import { setLine, textAt } from './lettering.ts';
import { line, type Mark } from './marks.ts';
import { circleArc, type PaperArc } from './paper-arcs.ts';
import { copyOf } from './part-rows.ts';
import { inside, type Segment } from './plane.ts';
import { isSawnToShape, shapedOutline } from './shaped-outline.ts';
import { type FlatPiece, pointsOf, sweepOf } from './template-outline.ts';
import { windowsOf } from './template-windows.ts';
import type { Point } from './types.ts';

/** The part of a template on one sheet, Letter and A4 alike, mm. */
export const TILE = { width: 180, height: 220 } as const;

/** Paper around a template, in which its edge never touches the edge of a sheet, mm. */
const MARGIN = 6;

/** Sheets that a template of a size takes, across and down. */
export const tilesOf = (width: number, height: number): { columns: number; rows: number } => ({
  columns: Math.max(1, Math.ceil(width / TILE.width)),
  rows: Math.max(1, Math.ceil(height / TILE.height)),
});

/** Templates for the boards whose outline is drawn with lines and arcs. */
export function composeTemplates(desk: Desk): Composed[] {
  return desk.input.cutList.rows.flatMap((row) => {
    const copy = copyOf(desk, row);
    if (copy === undefined || !isSawnToShape(copy)) return [];
    const made = templateOf(desk, row, copy);
    return made === undefined ? [] : [made];
  });
}

function templateOf(desk: Desk, row: CutListRow, copy: Copy): Composed | undefined {
  const part = desk.parts.get(copy.id);
  if (!part || part.vertices.length === 0) return undefined;
  const whole = shapedOutline(part, copy);
  if (whole.loops.length === 0) return undefined;
  const width = copy.size.width;
  const places = windowsOf(whole, copy.size.length);
  const { flat, length } = places ?? { flat: whole, length: copy.size.length };
  const count = ({ columns, rows }: ReturnType<typeof tilesOf>): number => columns * rows;
  const upright =
    count(tilesOf(width + 2 * MARGIN, length + 2 * MARGIN)) <
    count(tilesOf(length + 2 * MARGIN, width + 2 * MARGIN));
  // Upright the board's length runs up the paper and its width to the left, turned by a quarter.
  const at = ([x, y]: Point): Point => (upright ? [-y, -x] : [x, -y]);
  const marks: Mark[] = [
    ...flat.loops
      .flatMap(({ pieces }) => pieces)
      .flatMap((piece) => pieceMarks(piece, at, upright, 'pictorial')),
    ...flat.rims.flatMap((piece) => pieceMarks(piece, at, upright, 'pictorial')),
    ...flat.inner.flatMap(({ piece }) => pieceMarks(piece, at, upright, 'hidden')),
  ];
  if (places) marks.push(line('thin', ...places.cuts.map(([a, b]): Segment => [at(a), at(b)])));
  const rounds = flat.holes.map(({ centre, radius }) => circleArc(at(centre), radius));
  if (rounds.length > 0) marks.push({ kind: 'arcs', role: 'pictorial', arcs: rounds });
  const crosses = flat.centres
    .filter(([x, y]) => x > 0 && x < length && y > 0 && y < width)
    .flatMap((p): Segment[] => {
      const [x, y] = at(p);
      return [
        [
          [x - 4, y],
          [x + 4, y],
        ],
        [
          [x, y - 4],
          [x, y + 4],
        ],
      ];
    });
  if (crosses.length > 0) marks.push(line('thin', ...crosses));
  const loops = flat.loops.map(({ pieces }) => pieces.flatMap((piece) => pointsOf(piece).map(at)));
  const more = places === undefined || places.places === 1 ? '' : `, ${places.places} places`;
  marks.push(...names(row, more, loops, crosses, upright));
  const name = row.name.toLowerCase();
  const say = (value: number): string => sizeText(printed(value, desk.plan.edition.numbers));
  return {
    id: `template-${row.letter}`,
    kind: 'template',
    title: `Template for part ${row.letter}, ${name}`,
    caption: [text(`Template for part ${row.letter}, ${name}, full size.`)],
    alt: places
      ? `Full-size outline of part ${row.letter}, ${name}, where it is not straight: ${places.shown === places.places ? places.shown : `${places.shown} of ${places.places}`} places, ${flat.holes.length} holes with their middles.`
      : `Full-size outline of part ${row.letter}, ${name}: ${say(length)} long and ${say(width)} wide, ${flat.holes.length} holes with their middles.`,
    marks,
    scale: desk.plan.edition.numbers.system === 'mm' ? '1 : 1' : 'full size',
    margin: MARGIN,
  };
}

function pieceMarks(
  piece: FlatPiece,
  at: (p: Point) => Point,
  upright: boolean,
  role: 'pictorial' | 'hidden',
): Mark[] {
  if (piece.kind !== 'arc') return [line(role, pointsOf(piece).map(at))];
  const sweep = sweepOf(piece);
  const start =
    Math.atan2(piece.from[1] - piece.centre[1], piece.from[0] - piece.centre[0]) +
    (upright ? Math.PI / 2 : 0);
  const [from, to] = sweep > 0 ? [start, start + sweep] : [start + sweep, start];
  const arc: PaperArc = {
    centre: at(piece.centre),
    radii: [piece.radius, piece.radius],
    rotation: 0,
    from,
    to,
  };
  return [{ kind: 'arcs', role, arcs: [arc] }];
}

/** Letter, name and the way of the grain inside the outline, where there is room for them. */
function names(
  row: CutListRow,
  more: string,
  loops: readonly (readonly Point[])[],
  crosses: readonly Segment[],
  upright: boolean,
): Mark[] {
  const said = setLine([{ kind: 'letter', letter: row.letter }, text(`  ${row.name}${more}`)]);
  const grain = setLine([text('grain')]);
  const all = loops.flat();
  const [left, right] = [Math.min(...all.map((p) => p[0])), Math.max(...all.map((p) => p[0]))];
  const [top, bottom] = [Math.min(...all.map((p) => p[1])), Math.max(...all.map((p) => p[1]))];
  const clear = (x: number, y: number, width: number, height: number): boolean =>
    [0, 0.25, 0.5, 0.75, 1].every((s) =>
      [0, 0.5, 1].every((t) => inside([x + width * s, y + height * t], loops)),
    ) && !crosses.some(([a]) => a[0] + 8 > x && a[0] < x + width && Math.abs(a[1] - y) < height + 6);
  const marks: Mark[] = [];
  const width = Math.max(said.width, grain.width + 24) + 4;
  for (let j = 1; j < 24 && marks.length === 0; j++)
    for (let i = 1; i < 24 && marks.length === 0; i++) {
      const [x, y] = [left + ((right - left) * i) / 24, top + ((bottom - top) * j) / 24];
      if (!clear(x, y, width, 18)) continue;
      const [ax, ay] = [x + 2, y + 14];
      const shaft: [Point, Point] = upright
        ? [
            [ax + 4, ay - 5],
            [ax + 4, ay + 4],
          ]
        : [
            [ax, ay - 1.3],
            [ax + 16, ay - 1.3],
          ];
      marks.push(
        textAt(said, [x + 2, y + 6]),
        line('thin', shaft),
        { kind: 'arrow', tip: shaft[0], from: shaft[1] },
        { kind: 'arrow', tip: shaft[1], from: shaft[0] },
        textAt(grain, [ax + (upright ? 7 : 18), ay], { quiet: true }),
      );
    }
  return marks;
}
