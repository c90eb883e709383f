/** A pattern laid on paper at full size: its lines, crosses to centre on, what is bored, angles, folds, name and grain. */
import { type Line, text } from '../../text.ts';
import { type FlatPiece, pointsOf, sweepOf } from '../lines/template-outline.ts';
import { Obstacles } from '../paper/dimensions.ts';
import { type Lettering, setLine, textAt } from '../paper/lettering.ts';
import { boxOfMarks, type LineRole, line, type Mark, segmentsOf, textQuad } from '../paper/marks.ts';
import type { PaperArc } from '../paper/paper-arcs.ts';
import { add, type Box, boxOf, inside, type Segment, times, unit } from '../paper/plane.ts';
import type { Point } from '../types.ts';
import type { Pattern, PatternNote } from './template-pattern.ts';

/** What is laid on paper. */
export interface Laid {
  readonly pattern: Pattern;
  /** Where the board goes on beyond what is shown. */
  readonly cuts: readonly Segment[];
  /** The board's length runs up the paper. */
  readonly upright: boolean;
  readonly named: Line;
  /** What its wide face is called, and how wide that is. */
  readonly face: string;
  readonly width: number;
}

/** Arms of a cross beyond the rim of its hole, mm. */
const ARM = 4;
/** Two places this near are one, mm. */
const SAME = 0.05;

/** Marks of a template in paper millimetres. */
export function templateMarks({ pattern, cuts, upright, named, face, width }: Laid): Mark[] {
  const { outline, bores, folds } = pattern;
  // Upright the board's length runs up the paper and its width to the left, turned by a quarter.
  const at = ([x, y]: Point): Point => (upright ? [-y, -x] : [x, -y]);
  const turn = upright ? Math.PI / 2 : 0;
  const pieceMarks = (piece: FlatPiece, role: LineRole): Mark => pieceMark(piece, at, turn, role);
  const marks: Mark[] = [
    ...outline.loops
      .flatMap(({ pieces }) => pieces)
      .filter((piece) => !folds.some((fold) => liesOn(piece, fold)))
      .map((piece) => pieceMarks(piece, 'pictorial')),
    ...outline.rims.map((piece) => pieceMarks(piece, 'pictorial')),
    ...outline.inner.map(({ piece }) => pieceMarks(piece, 'hidden')),
    ...bores.flatMap((bore) => bore.pieces.map((piece) => pieceMarks(piece, 'pictorial'))),
  ];
  const rounds = bores.flatMap(({ ellipses }) =>
    ellipses.map(
      ({ centre, radii, rotation }): PaperArc => ({
        centre: at(centre),
        radii: [radii[0], radii[1]],
        rotation: rotation + turn,
        from: 0,
        to: 2 * Math.PI,
      }),
    ),
  );
  if (rounds.length > 0) marks.push({ kind: 'arcs', role: 'pictorial', arcs: rounds });
  if (cuts.length > 0) marks.push(line('thin', ...cuts.map(([a, b]): Segment => [at(a), at(b)])));
  if (folds.length > 0) marks.push(line('centre', ...folds.map(([a, b]): Segment => [at(a), at(b)])));
  const crosses = crossesOf(pattern, at);
  if (crosses.length > 0) marks.push(line('thin', ...crosses));

  const obstacles = new Obstacles();
  obstacles.lines.push(...marks.flatMap(segmentsOf));
  const loops = outline.loops.map(({ pieces }) => pieces.flatMap((piece) => pointsOf(piece).map(at)));
  const notes = (along: boolean): void => {
    for (const note of pattern.notes)
      if ((note.along === true) === along) marks.push(...noteText(note, at, upright, loops, obstacles));
  };
  notes(true);
  for (const { centres, ellipses, pieces, text: said } of bores) {
    const around = Math.max(0, ...ellipses.map(({ radii }) => radii[0]), ...pieces.map(radiusOf));
    marks.push(...textNear(said, at(centres[centres.length - 1] as Point), around, loops, obstacles));
  }
  notes(false);
  marks.push(...foldText(pattern, at, upright, obstacles));
  // An edge folded out lies beyond the wide face, which alone carries the name.
  const wide = boxOf([at([outline.min[0], 0]), at([outline.max[0], width])]);
  marks.push(...names(named, face, loops, wide, upright, obstacles));
  return marks;
}

function pieceMark(piece: FlatPiece, at: (p: Point) => Point, turn: number, role: LineRole): Mark {
  if (piece.kind !== 'arc') return line(role, pointsOf(piece).map(at));
  const sweep = sweepOf(piece);
  const start = Math.atan2(piece.from[1] - piece.centre[1], piece.from[0] - piece.centre[0]) + turn;
  const [from, to] = sweep > 0 ? [start, start + sweep] : [start + sweep, start];
  const arc: PaperArc = {
    centre: at(piece.centre),
    radii: [piece.radius, piece.radius],
    rotation: 0,
    from,
    to,
  };
  return { kind: 'arcs', role, arcs: [arc] };
}

/** True for a straight piece along a fold: the fold's own line stands there. */
const liesOn = (piece: FlatPiece, [a]: Segment): boolean =>
  piece.kind === 'line' && Math.abs(piece.from[1] - a[1]) < SAME && Math.abs(piece.to[1] - a[1]) < SAME;

/** Crosses over the middles of holes, past their rims, and over those of curves, each once. */
function crossesOf({ outline, bores, across }: Pattern, at: (p: Point) => Point): Segment[] {
  const found: { at: Point; reach: number }[] = bores.flatMap(({ centres, ellipses, pieces }) => {
    const widest = Math.max(0, ...ellipses.map(({ radii }) => radii[0]), ...pieces.map(radiusOf));
    return centres.map((p) => ({ at: p, reach: widest + ARM }));
  });
  for (const p of outline.centres) {
    const within = p[0] > outline.min[0] && p[0] < outline.max[0] && p[1] > across[0] && p[1] < across[1];
    if (within && !found.some((one) => Math.hypot(one.at[0] - p[0], one.at[1] - p[1]) < SAME))
      found.push({ at: p, reach: ARM });
  }
  return found.flatMap(({ at: p, reach }): Segment[] => {
    const [x, y] = at(p);
    return [
      [
        [x - reach, y],
        [x + reach, y],
      ],
      [
        [x, y - reach],
        [x, y + reach],
      ],
    ];
  });
}

const radiusOf = (piece: FlatPiece): number => (piece.kind === 'arc' ? piece.radius : 0);

/** Words near a place, at least `around` from it: inside the outline where there is room, else wherever it is clear. */
function textNear(
  said: Line,
  middle: Point,
  around: number,
  loops: readonly (readonly Point[])[],
  obstacles: Obstacles,
): Mark[] {
  const lettering = setLine(said);
  let spare: Mark | undefined;
  for (let off = 1; off < 60; off += 1.5)
    for (const base of besides(middle, lettering, around + off)) {
      const mark = textAt(lettering, base);
      const quad = textQuad(mark, 0.3);
      if (!obstacles.textIsClear(quad)) continue;
      if (quad.every((corner) => inside(corner, loops))) {
        obstacles.texts.push(textQuad(mark));
        return [mark];
      }
      spare ??= mark;
    }
  if (spare?.kind !== 'text') return [];
  obstacles.texts.push(textQuad(spare));
  return [spare];
}

/** Base lines right and left of a place, above and below it, at a distance. */
function besides([x, y]: Point, { width, ascent }: Lettering, off: number): Point[] {
  return [
    [x + off, y - 1.2],
    [x + off, y + ascent + 1.2],
    [x - off - width, y - 1.2],
    [x - off - width, y + ascent + 1.2],
    [x + 1.2, y - off],
    [x - width / 2, y - off],
    [x + 1.2, y + off + ascent],
    [x - width / 2, y + off + ascent],
  ];
}

/** An angle inside the line that it belongs to; other words near their place, or along a line. */
function noteText(
  { at: place, towards, text: said, along }: PatternNote,
  at: (p: Point) => Point,
  upright: boolean,
  loops: readonly (readonly Point[])[],
  obstacles: Obstacles,
): Mark[] {
  if (towards === undefined) return textNear(said, at(place), 0, loops, obstacles);
  const lettering = setLine(said);
  if (along) return alongText(lettering, at(place), upright, obstacles);
  const way = unit(upright ? [-towards[1], -towards[0]] : [towards[0], -towards[1]]);
  for (let off = 3; off < 25; off += 1) {
    const [x, y] = add(at(place), times(way, off + (lettering.width / 2) * Math.abs(way[0])));
    const mark = textAt(lettering, [x - lettering.width / 2, y + lettering.ascent / 2]);
    if (!obstacles.textIsClear(textQuad(mark, 0.3))) continue;
    obstacles.texts.push(textQuad(mark));
    return [mark];
  }
  return [];
}

/** Words beside a line across the board, read from the bottom or the right; lengthways where there is no room for them. */
function alongText(lettering: Lettering, [x, y]: Point, upright: boolean, obstacles: Obstacles): Mark[] {
  const half = lettering.width / 2;
  const { ascent } = lettering;
  const shifts = [0, 10, -10, 20, -20, 30, -30, 45, -45, 60, -60];
  const beside = (shift: number): Mark =>
    upright
      ? textAt(lettering, [x - half + shift, y - 1.5])
      : textAt(lettering, [x + ascent + 1.5, y + half + shift], { angle: -90 });
  const lengthways = (shift: number): Mark =>
    upright ? textAt(lettering, [x + shift, y - 3], { angle: -90 }) : textAt(lettering, [x + 3, y + shift]);
  for (const mark of [...shifts.map(beside), ...shifts.map(lengthways)]) {
    if (mark.kind !== 'text' || !obstacles.textIsClear(textQuad(mark, 0.3))) continue;
    obstacles.texts.push(textQuad(mark));
    return [mark];
  }
  return [];
}

/** `fold here` along a fold, on the side of the edge. */
function foldText(
  { folds, across, outline }: Pattern,
  at: (p: Point) => Point,
  upright: boolean,
  obstacles: Obstacles,
): Mark[] {
  const [fold] = folds;
  if (!fold) return [];
  const lettering = setLine([text('edge: fold the paper here')]);
  const low = across[0] < -SAME;
  const level = fold[0][1];
  const [from, to] = [Math.min(fold[0][0], fold[1][0]), Math.max(fold[0][0], fold[1][0])];
  for (const depth of [1.5, 3, 5, 8])
    for (let i = 1; i < 40; i++) {
      const x = from + ((to - from) * i) / 40;
      const y = level + (low ? -depth : depth);
      // Along the board: upright the words run up the paper.
      const [px, py] = at([x, y]);
      const mark = upright
        ? textAt(lettering, [px + (low ? lettering.ascent : 0), py], { angle: -90, quiet: true })
        : textAt(lettering, [px, py + (low ? lettering.ascent : 0)], { quiet: true });
      const quad = textQuad(mark, 0.3);
      const box = boxOf(quad);
      const rim = boxOf([at([outline.min[0], across[0]]), at([outline.max[0], across[1]])]);
      const within =
        box.left > rim.left && box.right < rim.right && box.top > rim.top && box.bottom < rim.bottom;
      if (!within || !obstacles.textIsClear(quad)) continue;
      obstacles.texts.push(textQuad(mark));
      return [mark];
    }
  return [];
}

/** Letter and name, the face and the way of the grain inside the outline, where there is room for them. */
function names(
  named: Line,
  face: string,
  loops: readonly (readonly Point[])[],
  box: Box,
  upright: boolean,
  obstacles: Obstacles,
): Mark[] {
  const made = (x: number, y: number): Mark[] => {
    const [ax, ay] = [x, y + 14];
    const shaft: Segment = upright
      ? [
          [ax + 4, ay - 5],
          [ax + 4, ay + 4],
        ]
      : [
          [ax, ay - 1.3],
          [ax + 16, ay - 1.3],
        ];
    return [
      textAt(setLine(named), [x, y + 6]),
      line('thin', shaft),
      { kind: 'arrow', tip: shaft[0], from: shaft[1] },
      { kind: 'arrow', tip: shaft[1], from: shaft[0] },
      textAt(setLine([text(`grain; ${face}`)]), [ax + (upright ? 7 : 18), ay], { quiet: true }),
    ];
  };
  for (let j = 1; j < 36; j++)
    for (let i = 1; i < 36; i++) {
      const marks = made(
        box.left + ((box.right - box.left) * i) / 36,
        box.top + ((box.bottom - box.top) * j) / 36,
      );
      const bare = boxOfMarks(marks);
      const around: Box = {
        left: bare.left - 2,
        right: bare.right + 2,
        top: bare.top - 2,
        bottom: bare.bottom + 2,
      };
      const corners: Point[] = [
        [around.left, around.top],
        [around.right, around.top],
        [around.right, around.bottom],
        [around.left, around.bottom],
      ];
      const fits =
        corners.every((corner) => inside(corner, loops)) &&
        around.left > box.left &&
        around.right < box.right &&
        around.top > box.top &&
        around.bottom < box.bottom &&
        obstacles.textIsClear([corners[0], corners[1], corners[2], corners[3]] as [
          Point,
          Point,
          Point,
          Point,
        ]);
      if (fits) return marks;
    }
  // No room inside: the name stands beside it.
  const whole = boxOf(loops.flat());
  return [textAt(setLine([...named, text(`; ${face}`)]), [whole.left, whole.bottom + 7])];
}
