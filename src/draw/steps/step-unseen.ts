/**
 * New boards of which nothing is seen, behind what stands: their outlines are dashed (ISO 128-2, hidden outlines), and their balloons point
 * at them all the same.
 */
import type { PlacedPart } from '../../geometry/types.ts';
import type { Desk } from '../desk.ts';
import { viewPicture } from '../lines/view.ts';
import { line, type Mark } from '../paper/marks.ts';
import { paperArc } from '../paper/paper-arcs.ts';
import { areaOfLoops, chain } from '../paper/plane.ts';
import { ratioFor } from '../shading/pictorial.ts';
import type { PaperView } from '../shading/shade.ts';
import type { ViewPicture } from '../types.ts';

/** Boards of a letter that show less of themselves than this, mm² at the size a step is drawn, can't be seen. */
const LEAST = 1.5;

/** Letters whose boards together show less than so many mm² of themselves, at the size a step is drawn. */
export function lettersUnseen(
  desk: Desk,
  copies: readonly string[],
  picture: ViewPicture,
  least = LEAST,
): string[] {
  const ratio = ratioFor(picture, { width: 104, height: 124 });
  const letters = [...new Set(copies.map((copy) => desk.letter(copy)))];
  return letters.filter((letter) => {
    const faces = picture.faces.filter(
      (face) => copies.includes(face.copy) && desk.letter(face.copy) === letter,
    );
    return faces.reduce((sum, face) => sum + areaOfLoops(face.loops), 0) * ratio * ratio < least;
  });
}

/** A picture of those boards alone that can't be seen in another; undefined where all can. */
export function unseenAlone(
  desk: Desk,
  copies: readonly string[],
  picture: ViewPicture,
  parts: readonly PlacedPart[],
): ViewPicture | undefined {
  const letters = lettersUnseen(desk, copies, picture);
  const unseen = parts.filter(({ copy }) => copies.includes(copy) && letters.includes(desk.letter(copy)));
  if (unseen.length === 0) return undefined;
  return viewPicture(unseen, picture.frame, desk.input.solids, { hidden: false, arcs: true });
}

/** The outlines of what can't be seen, dashed, in its place on the paper of a view. */
export function dashed(alone: ViewPicture | undefined, view: PaperView): Mark[] {
  if (alone === undefined) return [];
  const lines = alone.lines.map((l) => [view.point(l.a), view.point(l.b)] as const);
  const arcs = (alone.arcs ?? []).map((arc) => paperArc(arc, view.ratio, view.point(arc.centre)));
  return [
    ...(lines.length > 0 ? [line('hidden', ...chain(lines))] : []),
    ...(arcs.length > 0 ? [{ kind: 'arcs' as const, role: 'hidden' as const, arcs }] : []),
  ];
}

/** Letters of the boards of a picture, in its order. */
export const lettersIn = (desk: Desk, { faces }: ViewPicture): string[] => [
  ...new Set(faces.map(({ copy }) => desk.letter(copy))),
];
