/** A drawing's SVG made ready for a page: its ids made unique, its parts taken out, its size set by the page. */
import type { Drawing } from '../../draw/types.ts';
import { type Box, viewBoxOf } from '../pictures/sharp.ts';
import { type Child, type Content, el, rawSvg } from './html.ts';

const escapeAttribute = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;');

const cut2 = (value: number): number => Math.round(value * 100) / 100;

/** CSS pixels of a page to a millimetre of paper. At the least, lettering of 3.8 mm is 11 px high. */
const LEAST = 2.9;
const MOST = 4.4;

/**
 * Removes whole elements by class: `withoutGroups(svg, 'k-dim')`. The SVG is our own and well formed, so counting tags is
 * enough; a start tag without its end leaves the text as it is.
 */
export function withoutGroups(svg: string, name: string): string {
  const start = new RegExp(`<([a-zA-Z]+)\\b(?=[^>]*\\sclass="(?:[^"]*\\s)?${name}(?:\\s[^"]*)?")[^>]*>`);
  let rest = svg;
  for (let guard = 0; guard < 5000; guard += 1) {
    const found = start.exec(rest);
    if (found === null) return rest;
    const end = elementEnd(rest, found.index, found[1] as string, found[0]);
    if (end === undefined) return rest;
    rest = rest.slice(0, found.index) + rest.slice(end);
  }
  return rest;
}

function elementEnd(svg: string, at: number, tag: string, opening: string): number | undefined {
  if (opening.endsWith('/>')) return at + opening.length;
  const tags = new RegExp(`<(/?)${tag}\\b[^>]*>`, 'g');
  tags.lastIndex = at;
  let depth = 0;
  for (let found = tags.exec(svg); found !== null; found = tags.exec(svg)) {
    if (found[1] === '/') depth -= 1;
    else if (!found[0].endsWith('/>')) depth += 1;
    if (depth === 0) return found.index + found[0].length;
  }
  return undefined;
}

/** The room of a plate in the opening, px, and how many px of it stand for a millimetre of line width. */
const PLATE = { width: 597, height: 840, scale: 4.1 } as const;

/**
 * The lines of a plate as wide on the page as tokens.md gives them: a plate fills its column, whatever paper it was composed
 * for, so its lines are set again for that size. Only for drawings without lettering.
 */
export function plateLines(svg: string, box: Box | undefined): string {
  const shown = box ?? viewBoxOf(svg);
  if (shown === undefined) return svg;
  const pixels = Math.min(PLATE.width / shown.width, PLATE.height / shown.height);
  const factor = PLATE.scale / pixels;
  return svg.replaceAll(
    /(\sstroke-(?:width|dasharray)=")([\d.\s,]+)"/g,
    (_, name: string, widths: string) => {
      const scaled = widths.replaceAll(/\d*\.?\d+/g, (width) => `${cut2(Number(width) * factor)}`);
      return `${name}${scaled}"`;
    },
  );
}

/** The words set in a drawing, one for each text element. */
export const textsIn = (svg: string): string[] =>
  [...svg.matchAll(/<text\b[^>]*>([\s\S]*?)<\/text>/g)].map((found) =>
    (found[1] as string).replaceAll(/<[^>]*>/g, '').trim(),
  );

/** How a drawing is set into a page. */
export interface InlineSettings {
  /** Makes its ids unique in the page. */
  readonly prefix: string;
  /** The part to show; the whole where absent. */
  readonly box?: Box | undefined;
  /** Shrinks with its column, as a plate does, and may grow to fill it; else it keeps its lettering readable. */
  readonly fluid?: boolean;
}

/** The SVG as it goes into a page, named by its text alternative. */
export function pageSvg(drawing: Pick<Drawing, 'svg' | 'alt'>, settings: InlineSettings): string {
  const whole = viewBoxOf(drawing.svg);
  const box = settings.box ?? whole;
  const opening = /<svg\b[^>]*>/.exec(drawing.svg);
  if (opening === null || box === undefined) return '';
  const end = drawing.svg.lastIndexOf('</svg>');
  // The page says the alternative itself: a <title> would also pop up under the pointer.
  const inside = drawing.svg
    .slice(opening.index + opening[0].length, end < 0 ? undefined : end)
    .replaceAll(/<(title|desc|metadata)\b[^>]*>[\s\S]*?<\/\1>/g, '')
    .replaceAll(/<!--[\s\S]*?-->/g, '')
    .replaceAll(/\sid="([^"]+)"/g, ` id="${settings.prefix}-$1"`)
    .replaceAll(/url\(#([^)]+)\)/g, `url(#${settings.prefix}-$1)`)
    .replaceAll(/\s(?:xlink:)?href="#([^"]+)"/g, ` href="#${settings.prefix}-$1"`)
    .replaceAll(/>\s*\n\s*</g, '><')
    .trim();
  const view = [box.x, box.y, box.width, box.height].map(cut2).join(' ');
  const shown = (scale: number) => Math.round(box.width * scale);
  // Width and height are hints for the aspect, so that nothing jumps; the stylesheet sets the size.
  const size = `width="${shown(MOST)}" height="${Math.round(box.height * MOST)}"`;
  const least = settings.fluid === true ? '' : ` style="min-width:${shown(LEAST)}px"`;
  // What the drawing's elements inherit from their root stays.
  const inherited = [
    ...opening[0].matchAll(/\s(?:fill|stroke[a-z-]*|font-[a-z]+|text-anchor)="[^"]*"/g),
  ].join('');
  return `<svg class="kf" xmlns="http://www.w3.org/2000/svg" viewBox="${view}" ${size}${least}${inherited} role="img" aria-label="${escapeAttribute(drawing.alt)}">${inside}</svg>`;
}

/**
 * A drawing with its caption. One that carries sizes stands in a frame of its own that scrolls, so that its lettering stays
 * readable on a phone; where a narrow one was composed, a phone shows that instead.
 */
export function figure(
  drawing: Drawing,
  narrow: Drawing | undefined,
  settings: InlineSettings & { caption?: readonly Child[] },
): Content {
  const wide = pageSvg(drawing, settings);
  const frame = (svg: string, shown: string): Content =>
    settings.fluid === true
      ? el(`div${shown}`, {}, rawSvg(svg))
      : el(
          `div.scroll${shown}`,
          { tabIndex: 0, role: 'region', ariaLabel: `Drawing: ${drawing.title}` },
          rawSvg(svg),
        );
  const pictures =
    narrow === undefined
      ? [frame(wide, '')]
      : [
          frame(wide, '.for-wide'),
          frame(pageSvg(narrow, { ...settings, prefix: `${settings.prefix}-n` }), '.for-narrow'),
        ];
  const caption = settings.caption ?? [];
  return el('figure', {}, pictures, caption.length === 0 ? null : el('figcaption', {}, caption));
}
