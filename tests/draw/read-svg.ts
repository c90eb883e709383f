/**
 * Reads a finished drawing back from its SVG, so that tests measure what is written and not what was meant. Text boxes are taken
 * from the font files' own widths.
 */
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { advancesOf } from './ttf.ts';

export type Xy = readonly [number, number];

export interface DrawnLine {
  readonly role: string;
  readonly width: number;
  readonly a: Xy;
  readonly b: Xy;
}

export interface DrawnText {
  /** As it is copied: unseen parts included. */
  readonly text: string;
  readonly corners: readonly [Xy, Xy, Xy, Xy];
  /** Heights of capitals, mm: of the text and of its fractions. */
  readonly heights: readonly number[];
}

export interface DrawnCircle {
  readonly role: string;
  readonly centre: Xy;
  readonly radius: number;
}

export interface Drawn {
  readonly lines: readonly DrawnLine[];
  readonly texts: readonly DrawnText[];
  readonly circles: readonly DrawnCircle[];
  readonly fills: readonly { readonly role: string; readonly loops: readonly (readonly Xy[])[] }[];
}

const fonts = join(
  dirname(createRequire(import.meta.url).resolve('@expo-google-fonts/source-sans-3/package.json')),
);
export const FONT_FILES: Readonly<Record<string, string>> = {
  '400': join(fonts, '400Regular/SourceSans3_400Regular.ttf'),
  '500': join(fonts, '500Medium/SourceSans3_500Medium.ttf'),
  '600': join(fonts, '600SemiBold/SourceSans3_600SemiBold.ttf'),
};

const known = new Map<string, Map<string, number>>();

function widthOf(text: string, size: number, weight: string): number {
  const table = known.get(weight) ?? new Map<string, number>();
  known.set(weight, table);
  const missing = [...new Set(text)].filter((c) => !table.has(c));
  if (missing.length > 0)
    for (const [c, width] of advancesOf(FONT_FILES[weight] as string, missing.join(''))) table.set(c, width);
  return [...text].reduce((sum, c) => sum + (table.get(c) ?? 0), 0) * (size / 1000);
}

const attributes = (tag: string): Map<string, string> =>
  new Map([...tag.matchAll(/([a-z:-]+)="([^"]*)"/gi)].map((m) => [m[1] as string, m[2] as string]));

const plain = (text: string): string =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');

/** Heights above and below the base line that a character covers, in ems: figures and capitals 0.66, tall letters 0.72 (font file). */
const rise = (text: string): number => (/[bdfhklt]/.test(text) ? 0.72 : /[A-Z0-9″]/.test(text) ? 0.68 : 0.5);
const fall = (text: string): number => (/[gjpqy,;]/.test(text) ? 0.21 : 0);

export function readSvg(svg: string): Drawn {
  const lines: DrawnLine[] = [];
  const circles: DrawnCircle[] = [];
  const fills: { role: string; loops: Xy[][] }[] = [];
  const body = svg.replace(/<g class="k-tx"[\s\S]*?<\/g>/g, '');
  for (const [tag] of body.matchAll(/<path [^>]*>/g)) {
    const a = attributes(tag);
    const loops = polylines(a.get('d') as string);
    const role = a.get('class') as string;
    if (a.get('fill') !== 'none') fills.push({ role, loops });
    else
      for (const points of loops)
        for (let i = 1; i < points.length; i++)
          lines.push({
            role,
            width: Number(a.get('stroke-width')),
            a: points[i - 1] as Xy,
            b: points[i] as Xy,
          });
  }
  for (const [tag] of body.matchAll(/<circle [^>]*>/g)) {
    const a = attributes(tag);
    circles.push({
      role: a.get('class') as string,
      centre: [Number(a.get('cx')), Number(a.get('cy'))],
      radius: Number(a.get('r')),
    });
  }
  return {
    lines,
    circles,
    fills,
    texts: [...svg.matchAll(/<g class="k-tx"[\s\S]*?<\/g>/g)].map(([g]) => readText(g)),
  };
}

/** Points of the paths of a drawing: straight pieces, and arcs of less than a turn as chords of about two degrees. */
function polylines(d: string): Xy[][] {
  return d
    .split('M')
    .slice(1)
    .map((part) => {
      const closed = part.endsWith('Z');
      const points: Xy[] = [];
      for (const [, command, list] of `L${part.replace('Z', '')}`.matchAll(/([LA])([^LA]*)/g)) {
        const numbers = (list as string).trim().split(/[ ,]+/).map(Number);
        if (numbers.some((n) => !Number.isFinite(n)) || numbers.length !== (command === 'A' ? 7 : 2))
          throw new Error(`path with no numbers: ${d}`);
        if (command === 'L') points.push([numbers[0] as number, numbers[1] as number]);
        else points.push(...arcPieces(points[points.length - 1] as Xy, numbers));
      }
      return closed ? [...points, points[0] as Xy] : points;
    });
}

/** From the end points of an SVG arc to points on it (SVG 1.1, appendix F.6.5). */
function arcPieces(from: Xy, numbers: readonly number[]): Xy[] {
  const [rx0, ry0, turn, large, sweep, x, y] = numbers as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const phi = (turn * Math.PI) / 180;
  const [cos, sin] = [Math.cos(phi), Math.sin(phi)];
  const [dx, dy] = [(from[0] - x) / 2, (from[1] - y) / 2];
  const [px, py] = [cos * dx + sin * dy, -sin * dx + cos * dy];
  const grow = Math.max(1, Math.sqrt((px / rx0) ** 2 + (py / ry0) ** 2));
  const [rx, ry] = [rx0 * grow, ry0 * grow];
  const inner =
    Math.max(0, (rx * ry) ** 2 - (rx * py) ** 2 - (ry * px) ** 2) / ((rx * py) ** 2 + (ry * px) ** 2);
  const k = (large === sweep ? -1 : 1) * Math.sqrt(inner);
  const [cx, cy] = [(k * rx * py) / ry, (-k * ry * px) / rx];
  const centre: Xy = [cos * cx - sin * cy + (from[0] + x) / 2, sin * cx + cos * cy + (from[1] + y) / 2];
  const start = Math.atan2((py - cy) / ry, (px - cx) / rx);
  let span = Math.atan2((-py - cy) / ry, (-px - cx) / rx) - start;
  if (sweep === 1 && span < 0) span += 2 * Math.PI;
  if (sweep === 0 && span > 0) span -= 2 * Math.PI;
  const count = Math.max(2, Math.ceil(Math.abs(span) / 0.035));
  return Array.from({ length: count }, (_, i): Xy => {
    const t = start + (span * (i + 1)) / count;
    const [u, v] = [rx * Math.cos(t), ry * Math.sin(t)];
    return [centre[0] + cos * u - sin * v, centre[1] + sin * u + cos * v];
  });
}

function readText(group: string): DrawnText {
  const [, x, y, , angle] = group.match(
    /translate\(([-\d.]+) ([-\d.]+)\)( rotate\(([-\d.]+)\))?/,
  ) as RegExpMatchArray;
  const turn = (Number(angle ?? 0) * Math.PI) / 180;
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  let text = '';
  const heights = new Set<number>();
  for (const [, open, content] of group.matchAll(/<(?:text|tspan) ([^>]*x="[^>]*)>([^<]*)</g)) {
    const a = attributes(open as string);
    const value = plain(content as string);
    text += value;
    if (a.get('fill-opacity') === '0') continue;
    const size = Number(a.get('font-size'));
    heights.add(Math.round(size * 0.66 * 1000) / 1000);
    const [px, py] = [Number(a.get('x')), Number(a.get('y'))];
    left = Math.min(left, px);
    right = Math.max(right, px + widthOf(value, size, a.get('font-weight') ?? '400'));
    top = Math.min(top, py - rise(value) * size);
    bottom = Math.max(bottom, py + fall(value) * size);
  }
  const corner = (u: number, v: number): Xy => [
    Number(x) + u * Math.cos(turn) - v * Math.sin(turn),
    Number(y) + u * Math.sin(turn) + v * Math.cos(turn),
  ];
  return {
    text,
    corners: [corner(left, top), corner(right, top), corner(right, bottom), corner(left, bottom)],
    heights: [...heights],
  };
}
