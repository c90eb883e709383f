/**
 * What a drawing consists of before it is written: lines with their role, fills, dots and lettering, in millimetres of paper.
 * Line widths and text heights belong to the paper; they don't change with the scale of the view.
 */

import type { Point } from '../types.ts';
import type { Lettering } from './lettering.ts';
import { type PaperArc, paperArcPoints } from './paper-arcs.ts';
import { type Box, boxOf, joinBoxes, type Quad, type Segment, turned } from './plane.ts';

/** Light inks; a page recolours them by class. */
export const INK = {
  line: '#1f1c19',
  quiet: '#57514a',
  stand: '#8b857b',
  grain: '#b7966a',
  paper: '#fdfcf8',
} as const;

/** What a line means. Widths are of the series in ISO 128-2:2020. */
export type LineRole =
  | 'visible'
  | 'pictorial'
  | 'pictorial-small'
  | 'outline'
  | 'outline-small'
  | 'standing'
  | 'thin'
  | 'stroke'
  | 'hidden'
  | 'centre'
  | 'way-in'
  | 'hatch'
  | 'grain'
  | 'ring';

export interface LineStyle {
  readonly class: string;
  /** Millimetres of paper. */
  readonly width: number;
  readonly ink: string;
  /** Dash and gap lengths, mm. */
  readonly dash?: readonly number[];
  readonly opacity?: number;
}

/** Line styles by role: visible 0.5, thin 0.25, and so on; one list for all drawings. */
export const LINES: Readonly<Record<LineRole, LineStyle>> = {
  visible: { class: 'k-v', width: 0.5, ink: INK.line },
  pictorial: { class: 'k-p', width: 0.35, ink: INK.line },
  'pictorial-small': { class: 'k-p', width: 0.25, ink: INK.line },
  outline: { class: 'k-o', width: 0.7, ink: INK.line },
  'outline-small': { class: 'k-o', width: 0.5, ink: INK.line },
  standing: { class: 'k-g', width: 0.25, ink: INK.stand },
  thin: { class: 'k-t', width: 0.25, ink: INK.line },
  stroke: { class: 'k-v', width: 0.5, ink: INK.line },
  hidden: { class: 'k-h', width: 0.25, ink: INK.line, dash: [2.4, 0.9] },
  centre: { class: 'k-c', width: 0.25, ink: INK.line, dash: [6, 0.8, 1.2, 0.8] },
  'way-in': { class: 'k-way', width: 0.18, ink: INK.line, dash: [3, 0.9, 0.6, 0.9] },
  hatch: { class: 'k-hat', width: 0.18, ink: INK.stand },
  grain: { class: 'k-gr', width: 0.18, ink: INK.grain },
  ring: { class: 'k-gr', width: 0.13, ink: INK.line, opacity: 0.55 },
};

/** What a tint means. */
export type FillRole =
  | 'wood-top'
  | 'wood-front'
  | 'wood-side'
  | 'wood-end'
  | 'new-top'
  | 'new-front'
  | 'new-side'
  | 'new-end'
  | 'standing'
  | 'standing-end'
  | 'board'
  | 'paper';

export const FILLS: Readonly<Record<FillRole, { readonly class: string; readonly colour: string }>> = {
  'wood-top': { class: 'k-wt', colour: '#f5ead3' },
  'wood-front': { class: 'k-wf', colour: '#e8d6b2' },
  'wood-side': { class: 'k-ws', colour: '#d2b98a' },
  'wood-end': { class: 'k-we', colour: '#b7966a' },
  'new-top': { class: 'k-n1', colour: '#dde4f3' },
  'new-front': { class: 'k-n2', colour: '#c3cfe9' },
  'new-side': { class: 'k-n3', colour: '#a9b9de' },
  'new-end': { class: 'k-ne', colour: '#8398cd' },
  standing: { class: 'k-st', colour: '#ffffff' },
  'standing-end': { class: 'k-se', colour: '#e6e3dc' },
  board: { class: 'k-bf', colour: '#f5ead3' },
  paper: { class: 'k-pl', colour: '#fdfcf8' },
};

export type Mark =
  | { readonly kind: 'lines'; readonly role: LineRole; readonly lines: readonly (readonly Point[])[] }
  /** Pieces of circles and ellipses, written as such. */
  | { readonly kind: 'arcs'; readonly role: LineRole; readonly arcs: readonly PaperArc[] }
  | { readonly kind: 'fill'; readonly fill: FillRole; readonly loops: readonly (readonly Point[])[] }
  | {
      readonly kind: 'circle';
      readonly centre: Point;
      readonly radius: number;
      readonly role: LineRole;
      readonly open?: true;
    }
  | { readonly kind: 'dot'; readonly centre: Point }
  | { readonly kind: 'arrow'; readonly tip: Point; readonly from: Point }
  | {
      readonly kind: 'text';
      readonly lettering: Lettering;
      /** Left end of the base line. */
      readonly at: Point;
      /** Degrees, clockwise: −90 reads from the right. */
      readonly angle: number;
      readonly quiet?: boolean;
      /** What the text says the size of, for programs that read a drawing: `2 diameter`. */
      readonly of?: string;
    };

/** Dot of a leader that ends in a surface: 1.3 mm across. */
export const DOT_RADIUS = 0.65;
/** Arrow of a leader that ends on an outline, mm. */
export const ARROW = { length: 2.6, width: 0.84 } as const;

export const line = (role: LineRole, ...lines: (readonly Point[])[]): Mark => ({
  kind: 'lines',
  role,
  lines,
});

/** Corners of the box that a text covers, in its own turn. */
export function textQuad(mark: Extract<Mark, { kind: 'text' }>, clear = 0): Quad {
  const { width, ascent, descent } = mark.lettering;
  const corner = (x: number, y: number): Point => {
    const [dx, dy] = turned([x, y], mark.angle);
    return [mark.at[0] + dx, mark.at[1] + dy];
  };
  return [
    corner(-clear, -ascent - clear),
    corner(width + clear, -ascent - clear),
    corner(width + clear, descent + clear),
    corner(-clear, descent + clear),
  ];
}

/** The triangle of an arrow head. */
export function arrowHead(tip: Point, from: Point): readonly Point[] {
  const size = Math.hypot(tip[0] - from[0], tip[1] - from[1]) || 1;
  const [ux, uy] = [(tip[0] - from[0]) / size, (tip[1] - from[1]) / size];
  const base: Point = [tip[0] - ux * ARROW.length, tip[1] - uy * ARROW.length];
  const half = ARROW.width / 2;
  return [tip, [base[0] - uy * half, base[1] + ux * half], [base[0] + uy * half, base[1] - ux * half]];
}

/** The straight pieces of a mark's lines; of arcs chords near enough to keep clear of. */
export function segmentsOf(mark: Mark): Segment[] {
  if (mark.kind !== 'lines' && mark.kind !== 'arcs') return [];
  const lines = mark.kind === 'lines' ? mark.lines : mark.arcs.map((arc) => paperArcPoints(arc));
  return lines.flatMap((points) => points.slice(1).map((p, i): Segment => [points[i] as Point, p]));
}

/** Box of what a mark covers, its line width included. */
export function boxOfMark(mark: Mark): Box {
  const grown = (box: Box, by: number): Box => ({
    left: box.left - by,
    top: box.top - by,
    right: box.right + by,
    bottom: box.bottom + by,
  });
  switch (mark.kind) {
    case 'lines':
      return grown(boxOf(mark.lines.flat()), LINES[mark.role].width / 2);
    case 'arcs':
      return grown(boxOf(mark.arcs.flatMap((arc) => paperArcPoints(arc))), LINES[mark.role].width / 2);
    case 'fill':
      return boxOf(mark.loops.flat());
    case 'circle':
      return grown(boxOf([mark.centre]), mark.radius + LINES[mark.role].width / 2);
    case 'dot':
      return grown(boxOf([mark.centre]), DOT_RADIUS);
    case 'arrow':
      return boxOf(arrowHead(mark.tip, mark.from));
    case 'text':
      return boxOf(textQuad(mark));
  }
}

export const boxOfMarks = (marks: readonly Mark[]): Box => joinBoxes(marks.map(boxOfMark));

/** Marks moved on the paper. */
export function moved(marks: readonly Mark[], dx: number, dy: number): Mark[] {
  const shift = ([x, y]: Point): Point => [x + dx, y + dy];
  return marks.map((mark) => movedMark(mark, shift));
}

function movedMark(mark: Mark, shift: (p: Point) => Point): Mark {
  switch (mark.kind) {
    case 'lines':
      return { ...mark, lines: mark.lines.map((points) => points.map(shift)) };
    case 'arcs':
      return { ...mark, arcs: mark.arcs.map((arc) => ({ ...arc, centre: shift(arc.centre) })) };
    case 'fill':
      return { ...mark, loops: mark.loops.map((points) => points.map(shift)) };
    case 'circle':
    case 'dot':
      return { ...mark, centre: shift(mark.centre) };
    case 'arrow':
      return { ...mark, tip: shift(mark.tip), from: shift(mark.from) };
    case 'text':
      return { ...mark, at: shift(mark.at) };
  }
}
