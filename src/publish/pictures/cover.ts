/** The photo on a plan's cover: the one that stands at the head of its page. */
import type { FrontMatter, Photo } from '../../read/types.ts';
import type { CoverPhoto, PlanBundle } from '../types.ts';
import type { Darkroom } from './darkroom.ts';

/** Pixels across a cover: 250 to the inch on a sheet's width of 184 mm. */
const COVER_WIDTH = 1800;

/**
 * The photo that stands for a piece: what the front matter names, else the first; nothing where it names a drawing, or there is no photo.
 */
export function headPhoto({ photos, picture }: Pick<FrontMatter, 'photos' | 'picture'>): Photo | undefined {
  if (picture === undefined) return photos[0];
  return photos.find(({ file }) => file === picture.text);
}

/** A plan with the photo of its cover, where it has one that can be read. `bytesOf` gives a photo's file. */
export async function withCover(
  bundle: PlanBundle,
  bytesOf: (photo: Photo) => Uint8Array | undefined,
  room: Pick<Darkroom, 'coverPhoto'>,
): Promise<PlanBundle> {
  const photo = headPhoto(bundle.front);
  const file = photo === undefined ? undefined : bytesOf(photo);
  if (photo === undefined || file === undefined) return bundle;
  const made = await room.coverPhoto(file, COVER_WIDTH);
  // What is wrong with a photo has been said when the plan was read.
  if ('unreadable' in made) return bundle;
  const cover: CoverPhoto = { ...made, alt: photo.alt };
  return {
    ...bundle,
    editions: bundle.editions.map((one) => ({ ...one, finished: { ...one.finished, cover } })),
  };
}
