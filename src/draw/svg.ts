/**
 * Writes marks as SVG: the only file that names the SVG libraries. Each line and tint carries a class, so that a page can recolour
 * it, and the same in presentation attributes with the light inks, so that it prints without a stylesheet.
 */
import type { Svg } from '@svgdotjs/svg.js';
import {
  arrowHead,
  boxOfMarks,
  DOT_RADIUS,
  FILLS,
  INK,
  LINES,
  type LineRole,
  type Mark,
  moved,
} from './paper/marks.ts';
import { type PaperArc, paperArcPoint } from './paper/paper-arcs.ts';
import type { Point } from './types.ts';

type Library = {
  readonly SVG: typeof import('@svgdotjs/svg.js').SVG;
  readonly registerWindow: typeof import('@svgdotjs/svg.js').registerWindow;
  readonly createSVGWindow: typeof import('svgdom').createSVGWindow;
};

let library: Library | undefined;

/** Loads the SVG libraries; needed once before the first drawing is written. */
export async function loadSvg(): Promise<void> {
  if (library) return;
  const [{ SVG, registerWindow }, svgdom] = await Promise.all([import('@svgdotjs/svg.js'), import('svgdom')]);
  library = { SVG, registerWindow, createSVGWindow: svgdom.createSVGWindow };
}

/** A number cut to three decimals, without a trailing zero and never `-0`. */
export const decimals = (value: number): string => `${Math.round(value * 1000) / 1000 + 0}`;

const at = ([x, y]: Point): string => `${decimals(x)} ${decimals(y)}`;

const open = (points: readonly Point[]): string => {
  const first = points[0] as Point;
  const last = points[points.length - 1] as Point;
  return points.length > 3 && at(first) === at(last)
    ? `M${points.slice(0, -1).map(at).join('L')}Z`
    : `M${points.map(at).join('L')}`;
};

const closed = (points: readonly Point[]): string => `M${points.map(at).join('L')}Z`;

/** An arc as SVG's own: at most half a turn a command, since one of a whole turn has no direction. */
function arcPath(arc: PaperArc): string {
  const turn = arc.to - arc.from;
  const count = turn > Math.PI * 0.999 ? 2 : 1;
  const whole = turn > 2 * Math.PI - 1e-6;
  const shape = `${decimals(arc.radii[0])} ${decimals(arc.radii[1])} ${decimals((-arc.rotation * 180) / Math.PI)} 0 0`;
  const steps = Array.from(
    { length: count },
    (_, i) => `A${shape} ${at(paperArcPoint(arc, arc.from + (turn * (i + 1)) / count))}`,
  );
  return `M${at(paperArcPoint(arc, arc.from))}${steps.join('')}${whole ? 'Z' : ''}`;
}

/** What goes around the marks of a drawing. */
export interface Sheet {
  readonly marks: readonly Mark[];
  /** Clear paper around what is drawn, mm. */
  readonly margin: number;
  /** Unique in the page that takes the SVG in; ids inside are made from it. */
  readonly id: string;
  readonly title: string;
  readonly description: string;
}

/** A sheet as standalone SVG with its paper size in mm. Throws where `loadSvg` was not awaited, a fault of ours. */
export function writeSvg(sheet: Sheet): { svg: string; width: number; height: number } {
  if (!library) throw new Error('writeSvg before loadSvg');
  const ink = boxOfMarks(sheet.marks);
  const marks = moved(sheet.marks, sheet.margin - ink.left, sheet.margin - ink.top);
  const width = Math.ceil((ink.right - ink.left + 2 * sheet.margin) * 10) / 10;
  const height = Math.ceil((ink.bottom - ink.top + 2 * sheet.margin) * 10) / 10;
  const window = library.createSVGWindow();
  library.registerWindow(window as never, window.document as never);
  const root = library.SVG(window.document.documentElement) as unknown as Svg;
  root.attr({ version: null, 'xmlns:xlink': null });
  root.attr({
    viewBox: `0 0 ${decimals(width)} ${decimals(height)}`,
    width: `${decimals(width)}mm`,
    height: `${decimals(height)}mm`,
    class: 'kf',
    role: 'img',
    'aria-labelledby': `${sheet.id}-t ${sheet.id}-d`,
  });
  root.element('title').attr('id', `${sheet.id}-t`).words(sheet.title);
  root.element('desc').attr('id', `${sheet.id}-d`).words(sheet.description);
  for (const group of grouped(marks)) write(root, group);
  return { svg: root.svg(), width, height };
}

/** Neighbouring lines of one role become one path. */
function grouped(marks: readonly Mark[]): Mark[] {
  const result: Mark[] = [];
  for (const mark of marks) {
    const last = result[result.length - 1];
    if (mark.kind === 'lines' && last?.kind === 'lines' && last.role === mark.role)
      result[result.length - 1] = { ...last, lines: [...last.lines, ...mark.lines] };
    else if (mark.kind === 'arcs' && last?.kind === 'arcs' && last.role === mark.role)
      result[result.length - 1] = { ...last, arcs: [...last.arcs, ...mark.arcs] };
    else result.push(mark);
  }
  return result;
}

const stroke = (role: LineRole): Record<string, string> => {
  const style = LINES[role];
  return {
    stroke: style.ink,
    'stroke-width': decimals(style.width),
    ...(style.opacity === undefined ? {} : { 'stroke-opacity': `${style.opacity}` }),
    ...(style.dash ? { 'stroke-dasharray': style.dash.map(decimals).join(' ') } : {}),
  };
};

/** Thin lines and dashes end square; the edges of the piece meet round. */
const ends = (role: LineRole): Record<string, string> =>
  ['thin', 'hidden', 'centre', 'way-in', 'hatch', 'stroke', 'ring'].includes(role)
    ? {}
    : { 'stroke-linecap': 'round', 'stroke-linejoin': 'round' };

function write(root: Svg, mark: Mark): void {
  switch (mark.kind) {
    case 'lines':
      root.element('path').attr({
        class: LINES[mark.role].class,
        d: mark.lines.map(open).join(''),
        fill: 'none',
        ...stroke(mark.role),
        ...ends(mark.role),
      });
      return;
    case 'arcs':
      root.element('path').attr({
        class: LINES[mark.role].class,
        d: mark.arcs.map(arcPath).join(''),
        fill: 'none',
        ...stroke(mark.role),
        ...ends(mark.role),
      });
      return;
    case 'fill':
      root.element('path').attr({
        class: FILLS[mark.fill].class,
        d: mark.loops.map(closed).join(''),
        fill: FILLS[mark.fill].colour,
        'fill-rule': 'evenodd',
      });
      return;
    case 'circle':
      root.element('circle').attr({
        class: LINES[mark.role].class,
        cx: decimals(mark.centre[0]),
        cy: decimals(mark.centre[1]),
        r: decimals(mark.radius),
        fill: mark.open ? 'none' : INK.paper,
        ...(mark.open ? { style: 'fill:none' } : {}),
        ...stroke(mark.role),
      });
      return;
    case 'dot':
      root.element('circle').attr({
        class: 'k-ar',
        cx: decimals(mark.centre[0]),
        cy: decimals(mark.centre[1]),
        r: decimals(DOT_RADIUS),
        fill: INK.line,
      });
      return;
    case 'arrow':
      root.element('path').attr({ class: 'k-ar', d: closed(arrowHead(mark.tip, mark.from)), fill: INK.line });
      return;
    case 'text':
      writeText(root, mark);
  }
}

/** One text element a line, so that it is copied and read aloud as one; parts of a fraction stand at their own places. */
function writeText(root: Svg, mark: Extract<Mark, { kind: 'text' }>): void {
  const colour = mark.quiet ? INK.quiet : INK.line;
  const group = root.group().attr({
    class: 'k-tx',
    transform: `translate(${at(mark.at)})${mark.angle === 0 ? '' : ` rotate(${decimals(mark.angle)})`}`,
    fill: colour,
    'font-family': "'Source Sans 3'",
    ...(mark.of === undefined ? {} : { 'data-of': mark.of }),
  });
  const { glyphs, bars } = mark.lettering;
  const only = glyphs.length === 1 ? glyphs[0] : undefined;
  const text = group.element('text').attr({ 'xml:space': 'preserve' });
  for (const piece of glyphs) {
    const span = only ? text : text.element('tspan');
    span.attr({
      x: decimals(piece.x),
      y: decimals(piece.y),
      'font-size': decimals(piece.size),
      ...(piece.weight === 400 ? {} : { 'font-weight': `${piece.weight}` }),
      ...(piece.unseen ? { 'fill-opacity': '0' } : {}),
    });
    span.words(piece.text);
  }
  for (const bar of bars)
    group.element('path').attr({
      class: 'k-tx-b',
      d: `M${decimals(bar.from)} ${decimals(bar.y)}H${decimals(bar.to)}`,
      fill: 'none',
      stroke: colour,
      'stroke-width': decimals(bar.thickness),
    });
}
