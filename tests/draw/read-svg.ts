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

function polylines(d: string): Xy[][] {
  return d
    .split('M')
    .slice(1)
    .map((part) => {
      const closed = part.endsWith('Z');
      const points = part
        .replace('Z', '')
        .split('L')
        .map((p): Xy => {
          const [x, y] = p.trim().split(/[ ,]+/).map(Number);
          if (!Number.isFinite(x) || !Number.isFinite(y)) throw new Error(`path with no numbers: ${d}`);
          return [x as number, y as number];
        });
      return closed ? [...points, points[0] as Xy] : points;
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
