/** Pocket holes on a part's sheet: how drill and collar are set is said once for all that are bored so, with the other boards that share it. */
import type { CutListRow } from '../../cutting/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import type { FeatureWords, Of, Operation, Saying } from './feature.ts';

type Pocket = Of<'hole'>;

const isPocket = ({ shape }: Operation): boolean => shape.kind === 'hole' && shape.name === 'pocket';

/** What is set at drill, collar and jig, as a text that is equal where nothing has to be set again. */
const settingOf = ({ diameter, depth, beyond, angle }: Pocket): string =>
  [diameter, depth ?? 0, beyond?.diameter ?? 0, angle].map((value) => value.toFixed(2)).join();

/** True where all pockets of a board are bored with one setting. */
export function setOnce(operations: readonly Operation[]): boolean {
  const settings = operations.filter(isPocket).map(({ shape }) => settingOf(shape as Pocket));
  return new Set(settings).size === 1;
}

/** `Ø 9.5, 21 deep, then Ø 4, at 15° to the face`: a pocket runs along its face, and its jig gives the angle to that. */
export function settingWords({ diameter, depth, beyond, angle }: Pocket, say: Saying): Run[] {
  return [
    ...say.diameter(diameter),
    ...(depth === undefined ? [text(' through')] : [text(', '), say.size(depth), text(' deep')]),
    ...(beyond ? [text(', then '), ...say.diameter(beyond.diameter)] : []),
    text(`, at ${say.angle(90 - angle)} to the face`),
  ];
}

/** `4 pocket holes`, for a board whose words below the views say how they are set. */
export const pocketCount = (count: number): Run => text(count > 1 ? `${count} pocket holes` : 'pocket hole');

/** `Pocket holes: Ø 9.5, 21 deep, then Ø 4, at 15° to the face; set alike for F, G and L`. */
export function pocketWords(
  desk: Desk,
  operations: readonly Operation[],
  own: readonly CutListRow[],
  say: Saying,
): FeatureWords[] {
  const pockets = operations.filter(isPocket);
  const [first] = pockets;
  if (!first || !setOnce(pockets)) return [];
  const setting = settingOf(first.shape as Pocket);
  const others = new Set(
    desk.input.cutList.rows
      .filter((row) => !own.includes(row) && boresSo(desk, row, setting))
      .map(({ letter }) => letter),
  );
  return [
    {
      kind: 'words',
      text: [
        text('Pocket holes: '),
        ...settingWords(first.shape as Pocket, say),
        ...(others.size > 0 ? [text('; set alike for '), ...listed([...others])] : []),
      ],
      of: pockets.map(({ index }) => `${index} pocket`),
    },
  ];
}

const boresSo = (desk: Desk, { part, copies }: CutListRow, setting: string): boolean =>
  (desk.partByKey.get(part)?.copies ?? []).some(
    (copy) =>
      copies.includes(copy.id) &&
      desk
        .shapesOf(copy)
        .some((shape) => shape.kind === 'hole' && shape.name === 'pocket' && settingOf(shape) === setting),
  );

const listed = (letters: readonly string[]): Line =>
  letters.flatMap(
    (letter, i): Line => [
      text(i === 0 ? '' : i === letters.length - 1 ? ' and ' : ', '),
      { kind: 'letter', letter },
    ],
  );
