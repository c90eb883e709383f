/** Photos that can't be read, and what is said of them. */
import { type Diagnostic, fault } from '../../diagnostics.ts';
import type { FrontMatter, Photo } from '../../read/types.ts';
import type { Darkroom } from './darkroom.ts';
import { MOST_PIXELS, type Unreadable } from './sharp.ts';

const WHAT: Readonly<Record<Unreadable['unreadable'], readonly [found: string, hint: string]>> = {
  empty: ['an empty file', 'Copy the picture into the folder of the plan again.'],
  heic: [
    'a HEIC photo as phones keep them, which browsers do not show',
    'Save it as JPEG: most programs that show pictures can, and phones when they send one.',
  ],
  'no picture': ['a file that is no picture', 'Save the photo as JPEG, PNG, WebP, AVIF or TIFF.'],
  'too large': [
    `a picture of more than ${MOST_PIXELS / 1e6} million pixels`,
    'Save it smaller: a page shows 1440 pixels across.',
  ],
  broken: [
    'a picture that ends or breaks off in the middle',
    'Copy it again from the camera, or open it in a program that shows pictures and save it anew.',
  ],
};

/** A photo that a plan names and nobody can look at. The place is that of its name in the plan. */
export function unreadablePhoto(
  photo: Photo,
  slug: string,
  { unreadable }: Unreadable,
  bytes: number,
): Diagnostic {
  const [found, hint] = WHAT[unreadable];
  const origin = photo.origin ?? { file: `content/plans/${slug}/plan.md`, line: 1, column: 1 };
  const size = bytes === 0 ? '' : `, ${bytes} bytes`;
  return fault('photo.unreadable', origin, {
    expected: 'a photo that can be read',
    found: `"${photo.file}"${size}: ${found}`,
    hint,
  });
}

/** What is wrong with the photos of some plans. `bytesOf` gives a photo's file; nothing where it isn't there, which reading has said. */
export async function photoFaults(
  plans: readonly { readonly slug: string; readonly front: FrontMatter }[],
  bytesOf: (slug: string, photo: Photo) => Uint8Array | undefined,
  room: Pick<Darkroom, 'whyUnreadable'>,
): Promise<Diagnostic[]> {
  const found: Diagnostic[] = [];
  // One after the other: a large photo takes much memory while it is looked at.
  for (const { slug, front } of plans)
    for (const photo of front.photos) {
      const file = bytesOf(slug, photo);
      const wrong = file === undefined ? undefined : await room.whyUnreadable(file);
      if (file !== undefined && wrong !== undefined)
        found.push(unreadablePhoto(photo, slug, wrong, file.length));
    }
  return found;
}
