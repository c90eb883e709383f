/**
 * Pictures as pixels: drawings of paid plans, listing and preview cards, photos. The only file that names sharp, which is loaded
 * when the first picture is made. Nothing of a source file but its pixels gets into a result: sharp drops all metadata.
 */
import { createRequire } from 'node:module';
import type { Sharp } from 'sharp';

/** A picture with its size in pixels. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly content: Uint8Array;
}

/** A rectangle in an SVG's own units. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

type SharpModule = typeof import('sharp');
let loading: Promise<SharpModule['default']> | undefined;

/**
 * The library, once, with the letters of drawings made known to it: the SVG renderer finds a family only after a text was set
 * from its file, and only if no drawing was rendered before.
 */
const library = (): Promise<SharpModule['default']> => {
  loading ??= (async () => {
    const { default: sharp } = await import('sharp');
    const resolve = createRequire(import.meta.url).resolve;
    for (const [file, face] of [
      ['600SemiBold/SourceSans3_600SemiBold.ttf', 'Source Sans 3 Semi-Bold'],
      ['500Medium/SourceSans3_500Medium.ttf', 'Source Sans 3 Medium'],
      ['400Regular/SourceSans3_400Regular.ttf', 'Source Sans 3'],
    ] as const) {
      const fontfile = resolve(`@expo-google-fonts/source-sans-3/${file}`);
      await sharp({ text: { text: 'A', font: face, fontfile } })
        .png()
        .toBuffer();
    }
    return sharp;
  })();
  return loading;
};

/** The box an SVG shows; nothing where it has no usable `viewBox`. */
export function viewBoxOf(svg: string): Box | undefined {
  const numbers = /<svg\b[^>]*?\bviewBox="([^"]*)"/
    .exec(svg)?.[1]
    ?.trim()
    .split(/[\s,]+/)
    .map(Number);
  const [x, y, width, height] = numbers ?? [];
  if (x === undefined || y === undefined || width === undefined || height === undefined) return undefined;
  if (![x, y, width, height].every(Number.isFinite) || width <= 0 || height <= 0) return undefined;
  return { x, y, width, height };
}

const cut3 = (value: number): number => Math.round(value * 1000) / 1000;

/** The same SVG showing `box`, `width` pixels wide, with `rules` as its stylesheet. */
export function fitted(svg: string, box: Box, width: number, rules: string): { svg: string; height: number } {
  const height = Math.max(1, Math.round((box.height / box.width) * width));
  const open = /<svg\b[^>]*>/.exec(svg)?.[0] ?? '<svg>';
  const bare = open.replaceAll(/\s(?:width|height|viewBox|preserveAspectRatio)="[^"]*"/g, '');
  const view = [box.x, box.y, box.width, box.height].map(cut3).join(' ');
  const root = bare.replace(
    /^<svg/,
    `<svg width="${width}" height="${height}" viewBox="${view}" preserveAspectRatio="none"`,
  );
  return { svg: svg.replace(open, `${root}<style>${rules}</style>`), height };
}

/** Pixels across the picture that the inked box is looked for in: 0.1 mm on a sheet's width. */
const SEARCH = 1600;

/**
 * The part of a drawing that carries ink, in its own units: a plate stands on its bench line with its lowest corner. `search` is the
 * number of pixels across that it is looked for in.
 */
export async function inkedBox(svg: string, search = SEARCH): Promise<Box | undefined> {
  const box = viewBoxOf(svg);
  if (box === undefined) return undefined;
  const sharp = await library();
  const { data, info } = await sharp(Buffer.from(fitted(svg, box, search, '').svg))
    .ensureAlpha()
    .extractChannel('alpha')
    .raw()
    .toBuffer({ resolveWithObject: true });
  let [left, top, right, bottom] = [info.width, info.height, -1, -1];
  for (let row = 0; row < info.height; row += 1)
    for (let column = 0; column < info.width; column += 1) {
      if ((data[row * info.width + column] ?? 0) < 8) continue;
      if (column < left) left = column;
      if (column > right) right = column;
      if (row < top) top = row;
      bottom = row;
    }
  if (right < left || bottom < top) return undefined;
  const unit = box.width / info.width;
  return {
    x: box.x + left * unit,
    y: box.y + top * unit,
    width: (right - left + 1) * unit,
    height: (bottom - top + 1) * unit,
  };
}

/** How a drawing is made into pixels. */
export interface RasterSettings {
  readonly widths: readonly number[];
  /** CSS rules with the colours of the scheme. */
  readonly rules: string;
  readonly format: 'webp' | 'png';
  /** The part to show; the whole drawing where absent. */
  readonly box?: Box;
  /** Colour behind; see-through where absent. */
  readonly ground?: string;
}

/** A drawing as pixels, once for each width in CSS pixels of the picture. Empty where the SVG has no size. */
export async function rasterDrawing(svg: string, settings: RasterSettings): Promise<Raster[]> {
  const box = settings.box ?? viewBoxOf(svg);
  if (box === undefined) return [];
  const sharp = await library();
  return Promise.all(
    settings.widths.map(async (width): Promise<Raster> => {
      const picture = fitted(svg, box, width, settings.rules);
      const pixels = sharp(Buffer.from(picture.svg));
      const grounded =
        settings.ground === undefined ? pixels : pixels.flatten({ background: settings.ground });
      return { width, height: picture.height, content: await encode(grounded, settings.format) };
    }),
  );
}

/**
 * Line drawings have few colours: forms without loss keep them small and their edges clean. A palette of 256 comes nearer to them than
 * colours a little changed one by one (PSNR of the demo plates 56 to 66 dB against 46 to 53), and is packed in less time: without
 * one, a plate with some hundreds of colours took a second.
 */
async function encode(pixels: Sharp, format: 'webp' | 'png'): Promise<Uint8Array> {
  if (format === 'png') return pixels.png({ palette: true, colours: 64, compressionLevel: 9 }).toBuffer();
  const sharp = await library();
  const few = pixels.png({ palette: true, colours: 256, quality: 100, dither: 0, compressionLevel: 0 });
  return sharp(await few.toBuffer())
    .webp({ lossless: true, quality: 40, effort: 4 })
    .toBuffer();
}

/** The card that other sites show for a link: 1200 × 630, the drawing on a plain ground, standing on a line. */
export async function card(
  svg: string,
  colours: { ground: string; line: string; rules: string },
  inked?: Box,
): Promise<Raster | undefined> {
  const box = inked ?? viewBoxOf(svg);
  if (box === undefined) return undefined;
  const sharp = await library();
  const scale = Math.min(900 / box.width, 500 / box.height);
  const width = Math.max(1, Math.round(box.width * scale));
  const [plate] = await rasterDrawing(svg, { widths: [width], rules: colours.rules, format: 'png', box });
  if (plate === undefined) return undefined;
  const bench = Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="3"><rect width="1000" height="3" fill="${colours.line}"/></svg>`,
  );
  const content = await sharp({
    create: { width: 1200, height: 630, channels: 3, background: colours.ground },
  })
    .composite([
      { input: Buffer.from(plate.content), left: Math.round((1200 - width) / 2), top: 570 - plate.height },
      { input: bench, left: 100, top: 569 },
    ])
    .png({ palette: true, colours: 64, compressionLevel: 9 })
    .toBuffer();
  return { width: 1200, height: 630, content };
}

/** A photo in the sizes and formats of a page. */
export interface PhotoSet {
  readonly avif: readonly Raster[];
  readonly webp: readonly Raster[];
  readonly jpeg: readonly Raster[];
}

/** Why a file can't be made into a photo. */
export interface Unreadable {
  readonly unreadable: 'empty' | 'heic' | 'no picture' | 'too large' | 'broken';
}

/** Most pixels of a photo: beyond any camera's picture, and what the memory of a small machine holds. */
export const MOST_PIXELS = 120_000_000;

/** What keeps a file from being a photo that its beginning tells already; nothing where it looks like one. */
async function wrongFromTheStart(file: Uint8Array): Promise<Unreadable | undefined> {
  const sharp = await library();
  if (file.length === 0) return { unreadable: 'empty' };
  if (isHeic(file)) return { unreadable: 'heic' };
  try {
    const { width = 0, height = 0 } = await sharp(file, { limitInputPixels: false }).metadata();
    return width * height > MOST_PIXELS ? { unreadable: 'too large' } : undefined;
  } catch {
    return { unreadable: 'no picture' };
  }
}

/** Why a file can't be made into a photo; nothing where it can. It is read to its end, and nothing is made of it. */
export async function whyUnreadable(file: Uint8Array): Promise<Unreadable | undefined> {
  const wrong = await wrongFromTheStart(file);
  if (wrong !== undefined) return wrong;
  const sharp = await library();
  try {
    await sharp(file, { failOn: 'error', limitInputPixels: MOST_PIXELS })
      .resize({ width: 16 })
      .raw()
      .toBuffer();
    return undefined;
  } catch {
    return { unreadable: 'broken' };
  }
}

/** A photo at several widths, turned upright, without camera data or place. Never enlarged; why not, where it can't be read. */
export async function photoSet(file: Uint8Array, widths: readonly number[]): Promise<PhotoSet | Unreadable> {
  const wrong = await wrongFromTheStart(file);
  if (wrong !== undefined) return wrong;
  const sharp = await library();
  try {
    const upright = await sharp(file, { failOn: 'error', limitInputPixels: MOST_PIXELS })
      .rotate()
      .flatten({ background: '#ffffff' })
      .raw()
      .toBuffer({ resolveWithObject: true });
    const { width, height, channels } = upright.info;
    const raw = { raw: { width, height, channels } } as const;
    const fits = [...new Set(widths.map((wanted) => Math.min(wanted, width)))];
    const set = { avif: [] as Raster[], webp: [] as Raster[], jpeg: [] as Raster[] };
    for (const wanted of fits) {
      const sized = () => sharp(upright.data, raw).resize({ width: wanted });
      const size = { width: wanted, height: Math.max(1, Math.round((height / width) * wanted)) };
      set.avif.push({ ...size, content: await sized().avif({ quality: 55, effort: 4 }).toBuffer() });
      set.webp.push({ ...size, content: await sized().webp({ quality: 78 }).toBuffer() });
      set.jpeg.push({ ...size, content: await sized().jpeg({ quality: 80, mozjpeg: true }).toBuffer() });
    }
    return set;
  } catch {
    return { unreadable: 'broken' };
  }
}

/**
 * A photo for a sheet, turned upright, without camera data or place: a JPEG at most `width` pixels wide, never enlarged, in plain order
 * of its lines, as old printers want it. Why not, where it can't be read.
 */
export async function coverPhoto(file: Uint8Array, width: number): Promise<Raster | Unreadable> {
  const wrong = await wrongFromTheStart(file);
  if (wrong !== undefined) return wrong;
  const sharp = await library();
  try {
    const { data, info } = await sharp(file, { failOn: 'error', limitInputPixels: MOST_PIXELS })
      .rotate()
      .resize({ width, withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 84, progressive: false })
      .toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, content: data };
  } catch {
    return { unreadable: 'broken' };
  }
}

/** The still pictures of phones: an ISO base media file (ISO/IEC 14496-12) of a brand that HEVC is used in (ISO/IEC 23008-12). */
function isHeic(file: Uint8Array): boolean {
  const word = (at: number): string => String.fromCharCode(...file.subarray(at, at + 4));
  return word(4) === 'ftyp' && ['heic', 'heix', 'heim', 'heis', 'hevc', 'mif1'].includes(word(8));
}
