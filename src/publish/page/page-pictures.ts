/** The pictures of the site as files: plates of finished pieces, sample drawings, photos, cards for links. */
import { createHash } from 'node:crypto';
import type { Drawing } from '../../draw/types.ts';
import type { Darkroom } from '../pictures/darkroom.ts';
import { inkRulesIn } from '../pictures/inks.ts';
import { type Box, fitted, type Raster, type Unreadable, viewBoxOf } from '../pictures/sharp.ts';
import type { OutputFile, PlanBundle, ThemeTokens } from '../types.ts';
import { type Content, el } from './html.ts';

/** One file of a picture: its name in the plan's folder, its pixels. */
export interface PictureFile {
  readonly name: string;
  readonly width: number;
  readonly height: number;
}

/** A picture in the forms a browser chooses from. The first source that fits is taken. */
export interface Picture {
  readonly sources: readonly {
    readonly type?: string;
    readonly media?: string;
    readonly files: readonly PictureFile[];
  }[];
  readonly fallback: PictureFile;
}

/** A picture and its files. */
export interface MadePicture {
  readonly picture: Picture;
  readonly files: readonly OutputFile[];
}

/** Eight characters that change with the content, so that a changed file has a new address. */
export const stamp = (content: Uint8Array | string): string =>
  createHash('sha256').update(content).digest('hex').slice(0, 8);

/** Drawings whose colours are for paper become pictures for light and dark pages. */
const DARK = 'screen and (prefers-color-scheme: dark)';

/** The widths of a plate, in pixels: a phone, the opening, the opening on a fine screen. */
export const PLATE_WIDTHS: readonly number[] = [400, 597, 1194];
/** The widths of a sample drawing. */
export const SAMPLE_WIDTHS: readonly number[] = [410, 820];

/**
 * Makes a drawing into a raster picture in both schemes. `base` is the first part of the files' names, `box` the part to show; the
 * whole drawing where absent.
 */
export async function drawnPicture(
  svg: string,
  settings: {
    folder: string;
    base: string;
    widths: readonly number[];
    tokens: ThemeTokens;
    room: Darkroom;
    box?: Box | undefined;
  },
): Promise<MadePicture | undefined> {
  const { tokens, widths, folder, base, box, room } = settings;
  if (room.vectors) return drawnVector(svg, settings);
  const shape = { widths, ...(box === undefined ? {} : { box }) };
  const [light, dark, [plain]] = await Promise.all([
    room.rasterDrawing(svg, { ...shape, rules: inkRulesIn(tokens.light), format: 'webp' }),
    room.rasterDrawing(svg, { ...shape, rules: inkRulesIn(tokens.dark), format: 'webp' }),
    room.rasterDrawing(svg, {
      ...shape,
      widths: widths.slice(1, 2),
      rules: inkRulesIn(tokens.light),
      format: 'png',
      ground: tokens.light.paper ?? '#ffffff',
    }),
  ]);
  if (plain === undefined) return undefined;
  const store = new Store(folder);
  const darkFiles = dark.map((raster) => store.add(`${base}-dark`, 'webp', raster));
  const lightFiles = light.map((raster) => store.add(base, 'webp', raster));
  const fallback = store.add(base, 'png', plain);
  return {
    picture: {
      sources: [
        { type: 'image/webp', media: DARK, files: darkFiles },
        { type: 'image/webp', files: lightFiles },
      ],
      fallback,
    },
    files: store.files,
  };
}

/** The drawing as it is, in both schemes: for a preview. */
function drawnVector(
  svg: string,
  settings: {
    folder: string;
    base: string;
    widths: readonly number[];
    tokens: ThemeTokens;
    box?: Box | undefined;
  },
): MadePicture | undefined {
  const { folder, base, tokens, widths } = settings;
  const box = settings.box ?? viewBoxOf(svg);
  const width = widths[1] ?? widths[0];
  if (box === undefined || width === undefined) return undefined;
  const store = new Store(folder);
  const add = (name: string, colours: ThemeTokens['light']): PictureFile => {
    const made = fitted(svg, box, width, inkRulesIn(colours));
    return store.add(name, 'svg', {
      width,
      height: made.height,
      content: new TextEncoder().encode(made.svg),
    });
  };
  const dark = { type: 'image/svg+xml', media: DARK, files: [add(`${base}-dark`, tokens.dark)] };
  return { picture: { sources: [dark], fallback: add(base, tokens.light) }, files: store.files };
}

/** Makes a photo into a picture; why not, where the file can't be read as one. */
export async function photoPicture(
  file: Uint8Array,
  settings: { folder: string; base: string; room: Darkroom },
): Promise<MadePicture | Unreadable> {
  const set = await settings.room.photoSet(file, [480, 960, 1440]);
  if ('unreadable' in set) return set;
  const store = new Store(settings.folder);
  const add = (list: readonly Raster[], ending: string) =>
    list.map((raster) => store.add(settings.base, ending, raster));
  const avif = add(set.avif, 'avif');
  const webp = add(set.webp, 'webp');
  const jpeg = add(set.jpeg, 'jpg');
  const fallback = jpeg[Math.min(1, jpeg.length - 1)];
  if (fallback === undefined) return { unreadable: 'broken' };
  return {
    picture: {
      sources: [
        { type: 'image/avif', files: avif },
        { type: 'image/webp', files: webp },
        { type: 'image/jpeg', files: jpeg },
      ],
      fallback,
    },
    files: store.files,
  };
}

/** The card that other sites show for a link to the plan. */
export async function linkCard(
  svg: string,
  settings: { folder: string; tokens: ThemeTokens; room: Darkroom; box?: Box | undefined },
): Promise<{ file: PictureFile; files: readonly OutputFile[] } | undefined> {
  const { folder, tokens, box } = settings;
  const { paper = '#ffffff', line = '#000000' } = tokens.light;
  const made = await settings.room.card(svg, { ground: paper, line, rules: inkRulesIn(tokens.light) }, box);
  if (made === undefined) return undefined;
  const store = new Store(folder);
  const file = store.add('card', 'png', made);
  return { file, files: store.files };
}

class Store {
  readonly files: OutputFile[] = [];
  readonly #folder: string;
  constructor(folder: string) {
    this.#folder = folder;
  }
  add(base: string, ending: string, raster: Raster): PictureFile {
    const name = `${base}-${raster.width}-${stamp(raster.content)}.${ending}`;
    this.files.push({ path: `${this.#folder}/${name}`, content: raster.content });
    return { name, width: raster.width, height: raster.height };
  }
}

/** The picture as HTML. `folder` is the way from the page to the picture's folder, `''` or ending in a slash. */
export function pictureNode(
  picture: Picture,
  settings: { folder: string; alt: string; sizes: string; eager?: boolean; className?: string },
): Content {
  const { folder, sizes } = settings;
  const set = (files: readonly PictureFile[]) =>
    files.map((file) => `${folder}${file.name} ${file.width}w`).join(', ');
  return el(
    'picture',
    {},
    picture.sources.map((source) =>
      el('source', { type: source.type, media: source.media, srcSet: set(source.files), sizes }),
    ),
    el('img', {
      className: settings.className,
      src: `${folder}${picture.fallback.name}`,
      width: picture.fallback.width,
      height: picture.fallback.height,
      alt: settings.alt,
      loading: settings.eager === true ? undefined : 'lazy',
      decoding: settings.eager === true ? undefined : 'async',
      fetchPriority: settings.eager === true ? 'high' : undefined,
    }),
  );
}

/** The drawing of the finished piece, from the first edition that has one. */
export function plateDrawing(bundle: PlanBundle): Drawing | undefined {
  for (const { finished } of bundle.editions) {
    const { drawings } = finished.drawings;
    const found =
      drawings.find((drawing) => drawing.id === 'plate') ??
      drawings.find((drawing) => drawing.id === 'pictorial') ??
      drawings.find((drawing) => drawing.kind === 'pictorial');
    if (found !== undefined) return found;
  }
  return undefined;
}
