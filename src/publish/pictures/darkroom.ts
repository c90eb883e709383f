/**
 * Where drawings and photos become pictures: `darkroom` makes the pixels of a published site and can keep them between runs;
 * `previewRoom` leaves drawings as they are, for pages that only their author sees.
 */
import { createHash } from 'node:crypto';
import {
  type Box,
  card,
  coverPhoto,
  inkedBox,
  photoSet,
  type Raster,
  type RasterSettings,
  rasterDrawing,
  whyUnreadable,
} from './sharp.ts';

/** A store of pictures made before. Keys are long texts; a store may hash them. */
export interface KeptPictures {
  readonly get: (key: string) => Uint8Array | undefined;
  readonly put: (key: string, content: Uint8Array) => void;
}

/** What makes pictures, as the functions of `sharp.ts` of the same names describe. */
export interface Darkroom {
  /** True where drawings stay vectors. Never for a site that is published: vectors can be measured. */
  readonly vectors: boolean;
  readonly rasterDrawing: (svg: string, settings: RasterSettings) => Promise<Raster[]>;
  readonly inkedBox: (svg: string) => Promise<Box | undefined>;
  readonly card: typeof card;
  readonly photoSet: typeof photoSet;
  readonly coverPhoto: typeof coverPhoto;
  readonly whyUnreadable: typeof whyUnreadable;
}

const NOTHING_KEPT: KeptPictures = { get: () => undefined, put: () => {} };

/** Makes the pixels of a site; with a store, those of unchanged drawings and photos are taken from it. */
export function darkroom(kept: KeptPictures = NOTHING_KEPT): Darkroom {
  return {
    vectors: false,
    rasterDrawing: (svg, settings) =>
      keep(kept, ['drawing', svg, settings], () => rasterDrawing(svg, settings)),
    inkedBox: (svg) => keep(kept, ['box', svg], () => inkedBox(svg)),
    card: (svg, colours, box) => keep(kept, ['card', svg, colours, box], () => card(svg, colours, box)),
    photoSet: (file, widths) => keep(kept, ['photo', file, widths], () => photoSet(file, widths)),
    coverPhoto: (file, width) => keep(kept, ['cover', file, width], () => coverPhoto(file, width)),
    whyUnreadable: (file) => keep(kept, ['photo check', file], () => whyUnreadable(file)),
  };
}

/** Pixels across that are enough to see where the ink of a drawing is, in a preview. */
const COARSE = 400;

/** Drawings stay SVG and links get no card, so that an edit is seen at once; photos are as they will be. */
export function previewRoom(kept: KeptPictures = NOTHING_KEPT): Darkroom {
  return {
    ...darkroom(kept),
    vectors: true,
    inkedBox: (svg) => keep(kept, ['coarse box', svg], () => inkedBox(svg, COARSE)),
    card: async () => undefined,
  };
}

/** A result kept as JSON; bytes in it as base64. A result of nothing is kept too. */
async function keep<T>(kept: KeptPictures, inputs: readonly unknown[], make: () => Promise<T>): Promise<T> {
  if (kept === NOTHING_KEPT) return make();
  // A photo by the hash of its bytes: as text it would be megabytes, and slower to write than to look at.
  const key = JSON.stringify(inputs.map((one) => (one instanceof Uint8Array ? digestOf(one) : one)));
  const stored = kept.get(key);
  if (stored !== undefined) return JSON.parse(new TextDecoder().decode(stored), bytesIn).value as T;
  const value = await make();
  kept.put(key, new TextEncoder().encode(JSON.stringify({ value }, bytesOut)));
  return value;
}

const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('base64');

/** Node's own buffers turn themselves to JSON before a replacer sees them; plain arrays of bytes don't. */
function bytesOut(_: string, value: unknown): unknown {
  if (value instanceof Uint8Array) return { bytes: Buffer.from(value).toString('base64') };
  const buffer = value as { type?: unknown; data?: unknown } | null;
  if (typeof buffer === 'object' && buffer?.type === 'Buffer' && Array.isArray(buffer.data))
    return { bytes: Buffer.from(buffer.data).toString('base64') };
  return value;
}

function bytesIn(_: string, value: unknown): unknown {
  const bytes = (value as { bytes?: unknown } | null)?.bytes;
  return typeof bytes === 'string' ? new Uint8Array(Buffer.from(bytes, 'base64')) : value;
}
