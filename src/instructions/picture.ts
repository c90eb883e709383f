/** Which drawing stands for the piece on its cover, in the catalogue and at the head of its page: `picture:` in the front matter. */
import { type Diagnostic, fault, type Outcome } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import { nearest } from '../read/nearest.ts';
import type { DrawingRequest } from './types.ts';

/**
 * The drawing that the front matter names; nothing where it names none, or a photo. A drawing's sizes are left off there, so a page that
 * sells the plan may show it. Says where a name stands for nothing, for two drawings, or for one that doesn't show the piece as it is.
 */
export function pictureOf(
  plan: Plan,
  requests: readonly DrawingRequest[],
): Outcome<DrawingRequest | undefined> {
  const diagnostics = namedTwice(requests);
  const { picture, photos } = plan.front;
  if (picture === undefined || photos.some(({ file }) => file === picture.text))
    return { value: undefined, diagnostics };
  const found = requests.find(({ name }) => name === picture.text);
  if (found === undefined) {
    const known = [
      ...requests.flatMap(({ name }) => (name === undefined ? [] : [name])),
      ...photos.map(({ file }) => file),
    ];
    const near = nearest(picture.text, known);
    diagnostics.push(
      fault('front.picture-unknown', picture.origin, {
        expected: 'the name of a drawing of this plan, or the file of one of its photos',
        found: `"${picture.text}"`,
        hint:
          near !== undefined
            ? `did you mean ${near}?`
            : known.length > 0
              ? `the names are ${known.join(', ')}`
              : nameHint(picture.text),
      }),
    );
    return { value: undefined, diagnostics };
  }
  const wrong = notThePiece(found);
  if (wrong === undefined) return { value: found, diagnostics };
  diagnostics.push(
    fault('front.picture-view', picture.origin, {
      expected: 'a drawing that shows the piece from a corner, as it stands or with something open',
      found: `"${picture.text}", which is ${wrong} (line ${found.origin.line})`,
      hint: 'name another, such as ::drawing[The lid open]{name="open-lid" from="front right above" open="lid" about="lid.back, lid.top" by="95 deg"}',
    }),
  );
  return { value: undefined, diagnostics };
}

/** Why a drawing can't stand for the piece; nothing where it can. */
const notThePiece = ({ from, section, detail, apart }: DrawingRequest): string | undefined =>
  section !== undefined
    ? 'a section'
    : detail !== undefined
      ? 'a detail'
      : apart === true
        ? 'taken apart'
        : typeof from === 'string'
          ? 'a straight view'
          : undefined;

/** How to name a drawing as the front matter does. */
function nameHint(written: string): string {
  const name = nameLike(written);
  const first = name === written ? '' : `write picture: ${name}, and `;
  return `${first}give a drawing that name: ::drawing[…]{name="${name}" from="front right above"}`;
}

/** A name that a drawing may have, made of what was written. */
const nameLike = (written: string): string =>
  written
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^[^a-z]+|-+$/g, '') || 'open-lid';

function namedTwice(requests: readonly DrawingRequest[]): Diagnostic[] {
  const lines = new Map<string, number>();
  return requests.flatMap(({ name, origin }) => {
    if (name === undefined) return [];
    const first = lines.get(name);
    if (first === undefined) {
      lines.set(name, origin.line);
      return [];
    }
    return [
      fault('drawing.name-twice', origin, {
        expected: 'another name for each drawing',
        found: `name="${name}" again, which stands in line ${first} already`,
      }),
    ];
  });
}
