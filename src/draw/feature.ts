/** What a part's own sheet can say of a board, and how its numbers are said. `of` names the operation (by its place in the copy's list) and what of it a number is. */
import type { BlankSize, ShapeOperation, Vec3 } from '../model/types.ts';
import { type Line, type Run, text } from '../text.ts';
import { type NumberStyle, printed, printedAngle } from '../units.ts';
import type { BoardSide } from './board-views.ts';

/** A size between two places along one of the board's own axes. */
export interface FeatureSize {
  readonly kind: 'size';
  readonly on: BoardSide;
  readonly axis: 0 | 1 | 2;
  readonly from: number;
  readonly to: number;
  /** Where along the board it belongs, so that it stands on that side. */
  readonly beside?: number;
  readonly text: Line;
  readonly of: readonly string[];
}

/** Words on a leader to places of the board; `round` gives the radius of the rim that it points to. */
export interface FeatureNote {
  readonly kind: 'note';
  readonly on: BoardSide;
  readonly at: readonly Vec3[];
  readonly round?: number;
  readonly text: Line;
  readonly of: readonly string[];
}

/** The angle between a straight across the board's end and its cut: at a corner of the board, towards `along`, turned to `cut`. */
export interface FeatureAngle {
  readonly kind: 'angle';
  readonly on: BoardSide;
  readonly corner: Vec3;
  readonly along: Vec3;
  readonly cut: Vec3;
  /** How far the cut runs, mm. */
  readonly reach: number;
  readonly text: Line;
  readonly of: readonly string[];
}

/** Words below the views. */
export interface FeatureWords {
  readonly kind: 'words';
  readonly text: Line;
  readonly of: readonly string[];
}

export type Feature = FeatureSize | FeatureNote | FeatureAngle | FeatureWords;

export type Operation = { readonly index: number; readonly shape: ShapeOperation };
export type Of<K extends ShapeOperation['kind']> = Extract<ShapeOperation, { kind: K }>;

/** How numbers are said. */
export class Saying {
  readonly numbers: NumberStyle;
  readonly size: (length: number) => Run;

  constructor(numbers: NumberStyle, size: (length: number) => Run) {
    this.numbers = numbers;
    this.size = size;
  }

  /** A diameter: drills come finer than boards are measured. */
  diameter(value: number): Run[] {
    return [text('Ø '), { kind: 'size', size: printed(value, this.numbers, 'drill'), bare: true }];
  }

  angle(degrees: number): string {
    return printedAngle(degrees);
  }
}

/** Places nearer than this are one, mm. */
export const SAME = 0.05;
export const near = (a: number, b: number): boolean => Math.abs(a - b) < SAME;

export const lengthAlong = (size: BlankSize, axis: 0 | 1 | 2): number =>
  axis === 0 ? size.length : axis === 1 ? size.width : size.thickness;

/** A place along an axis, measured from the nearer end of the board; nothing where it lies at an end. */
export function placed(
  on: BoardSide,
  axis: 0 | 1 | 2,
  at: number,
  size: BlankSize,
  say: Saying,
  of: readonly string[],
): FeatureSize[] {
  const whole = lengthAlong(size, axis);
  if (near(at, 0) || near(at, whole)) return [];
  const [from, to] = at <= whole / 2 + SAME ? [0, at] : [at, whole];
  return [{ kind: 'size', on, axis, from, to, text: [say.size(to - from)], of }];
}

/** Where something reaches along an axis: at an end one size, within two: where it begins and how far it goes. */
export function spanned(
  on: BoardSide,
  axis: 0 | 1 | 2,
  from: number,
  to: number,
  size: BlankSize,
  say: Saying,
  name: string,
): FeatureSize[] {
  const whole = lengthAlong(size, axis);
  const [low, high] = [near(from, 0) || from < 0, near(to, whole) || to > whole];
  if (low && high) return [];
  const of = `${name} ${'xyz'[axis]}`;
  const span: FeatureSize = {
    kind: 'size',
    on,
    axis,
    from: low ? 0 : from,
    to: high ? whole : to,
    text: [say.size((high ? whole : to) - (low ? 0 : from))],
    of: [`${of} span`],
  };
  if (low || high) return [span];
  const nearer = from <= whole - to + SAME ? from : to;
  return [...placed(on, axis, nearer, size, say, [`${of} place`]), span];
}
