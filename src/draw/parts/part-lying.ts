/**
 * How a board lies on its sheet: with the wide face up that has most of the work in it, so that a builder sees what he marks out and cuts
 * there in full lines; what both wide faces are called, and how the board stands in the piece.
 */
import { placingOf } from '../../model/frames.ts';
import { farCorner } from '../../model/sides.ts';
import type { Copy, Face, Frame, Part, Vec3 } from '../../model/types.ts';
import { directionOf, FACES, isLow } from '../../resolve/directions.ts';
import { add, dot, scale } from '../../resolve/vectors.ts';
import type { Desk } from '../desk.ts';
import { oneSided } from './feature.ts';
import { flipped } from './part-flipped.ts';
import type { PartSheet } from './part-rows.ts';
import { faceName } from './part-words.ts';

/** A board as it lies on its sheet. Side words of the operations are those of the board on the sheet: `high edge` is the upper one there. */
export interface Lying {
  /** Frame, and operations with those of its joints, in the axes of the sheet: z points out of the face drawn. */
  readonly copy: Copy;
  /** Names of the face drawn and of the one behind it: `inner face`, `show face`. */
  readonly shown: string;
  readonly behind: string;
  /** In words: `Inner face drawn; in the piece it looks to the right, left end at the bottom, upper edge at the front`. */
  readonly place: string;
}

/**
 * The board of a sheet as it is drawn. Its face with more work set out in it lies up; where both have as much, the one that shows, and
 * where that says nothing, the wide face of the plan. It is turned over along its length, and then so that what is its top in the piece
 * isn't at the lower edge of the drawing.
 */
export function lyingOf(desk: Desk, sheet: PartSheet): Lying {
  const board = standing(desk, sheet.copy);
  const { face, behind } = faceNames(desk, sheet);
  const [up, down] = [workIn('face', board), workIn('reverse', board)];
  const turned = up === down ? behind === 'show face' && face !== 'show face' : down > up;
  const over = turned ? turnedBoard(board, [1, 2]) : board;
  const copy = faceAlong(over.frame.width) === 'bottom' ? turnedBoard(over, [0, 1]) : over;
  const [shown, other] = turned ? [behind, face] : [face, behind];
  return { copy, shown, behind: other, place: placeWords(sheet, copy.frame, shown) };
}

/** A copy with all that is made of it; a mirrored one in axes of its own hand, as it stands in the piece. */
function standing(desk: Desk, copy: Copy): Copy {
  const shape = desk.shapesOf(copy);
  if (!copy.frame.mirrored) return { ...copy, shape };
  const frame: Frame = { ...copy.frame, mirrored: false };
  return { ...copy, frame, shape: shape.map((one) => flipped(one, copy.size, [1])) };
}

/** A board turned by half a turn: two of its axes counted from their other ends. */
function turnedBoard(copy: Copy, axes: readonly [0 | 1 | 2, 0 | 1 | 2]): Copy {
  const { frame, size, shape } = copy;
  const far = farCorner(size);
  const ways = [frame.length, frame.width, frame.thickness] as const;
  const [length, width, thickness] = ways.map((way, i) =>
    axes.includes(i as 0 | 1 | 2) ? scale(way, -1) : way,
  ) as [Vec3, Vec3, Vec3];
  const origin = axes.reduce((at, i) => add(at, scale(ways[i], far[i])), frame.origin);
  return {
    ...copy,
    frame: { ...frame, origin, length, width, thickness },
    shape: shape.map((one) => flipped(one, size, axes)),
  };
}

/** How many things are cut or bored into one wide face alone, to be set out there. */
const workIn = (side: 'face' | 'reverse', { shape, size }: Copy): number =>
  shape.filter((one) => oneSided(one, size.thickness) === side).length;

// ---------------------------------------------------------------- names and place

/**
 * What the two wide faces are called: the one that shows by that, the other by where it lies: `underside`, `inner face` where it looks into
 * the piece, `outer face` where it looks out of it, else `back`.
 */
function faceNames(desk: Desk, { copy, rows }: PartSheet): { face: string; behind: string } {
  const face = faceName(desk, copy.part);
  const part = desk.partByKey.get(copy.part);
  if (part && shows(part, copy.frame)) return { face, behind: 'show face' };
  const names = new Set(rows.flatMap(({ copies }) => copies.map((one) => behindName(desk, one))));
  const [name] = names;
  return { face, behind: names.size === 1 && name !== undefined && name !== face ? name : 'back' };
}

/** True where the plan names the face behind as visible, and not the wide face. */
function shows({ visible, wideFace }: Part, { thickness }: Frame): boolean {
  const behind = faceAlong(scale(thickness, -1));
  return behind !== undefined && visible.includes(behind) && !visible.includes(wideFace);
}

function behindName(desk: Desk, { frame, size }: Copy): string {
  const looks = scale(frame.thickness, -1);
  const face = faceAlong(looks);
  if (face === 'bottom') return 'underside';
  const { outline } = desk.plan;
  const middle: Vec3 = [outline.width / 2, outline.depth / 2, outline.height / 2];
  const halves = [
    scale(frame.length, size.length / 2),
    scale(frame.width, size.width / 2),
    scale(frame.thickness, size.thickness / 2),
  ];
  const own = halves.reduce(add, frame.origin);
  // Well off the middle of the piece: of a board near it neither face is the inner one.
  const inward = dot(middle, looks) - dot(own, looks);
  if (inward > size.thickness * 2) return 'inner face';
  return inward < -size.thickness * 2 && face !== 'back' ? 'outer face' : 'back';
}

/** The face of the piece that a direction looks to, if it does so clearly. */
const faceAlong = (v: Vec3): Face | undefined =>
  FACES.find((face) => {
    const axis = ({ across: 0, deep: 1, up: 2 } as const)[directionOf(face)];
    return v[axis] * (isLow(face) ? -1 : 1) > 0.75;
  });

const LOOKS: Readonly<Record<Face, string>> = {
  left: 'looks to the left',
  right: 'looks to the right',
  front: 'looks to the front',
  back: 'looks to the back',
  bottom: 'looks down',
  top: 'looks up',
};
const LIES: Readonly<Record<Face, string>> = {
  left: 'on the left',
  right: 'on the right',
  front: 'at the front',
  back: 'at the back',
  bottom: 'at the bottom',
  top: 'at the top',
};

/** Where the drawn face, the left end and the upper edge of the board lie in the piece, as far as that is the same for all boards made so. */
function placeWords({ copy, rows }: PartSheet, lies: Frame, shown: string): string {
  const like = [copy, ...rows.flatMap((row) => (row.handed === 0 ? row.copies : []))];
  const first = placingOf(copy.frame, copy.size.width);
  // Of the other boards the same own side, which looks another way there.
  const same = (way: Vec3): Face | undefined => {
    const own = first.ownVector(way);
    const faces = new Set(like.map(({ frame, size }) => faceAlong(placingOf(frame, size.width).vector(own))));
    return faces.size === 1 ? [...faces][0] : undefined;
  };
  const [looks, left, upper] = [lies.thickness, scale(lies.length, -1), lies.width].map(same);
  // `left end at the bottom` after a first clause, else a clause of its own: `its left end lies at the bottom`.
  const [its, be] = looks ? ['', ''] : ['its ', ' lies'];
  const said = [
    ...(looks ? [`it ${LOOKS[looks]}`] : []),
    ...(left ? [`${its}left end${be} ${LIES[left]}`] : []),
    ...(upper ? [`${its}upper edge${left ? '' : be} ${LIES[upper]}`] : []),
  ].join(', ');
  const name = `${shown.charAt(0).toUpperCase()}${shown.slice(1)} drawn`;
  return said === '' ? name : `${name}; in the piece ${said}`;
}
