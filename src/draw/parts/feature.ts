/** What a part's own sheet can say of a board, and how its numbers are said. `of` names the operation (by its place in the copy's list) and what of it a number is. */
import type { BlankSize, ShapeOperation, Side, Vec3 } from '../../model/types.ts';
import { type Line, type Run, text } from '../../text.ts';
import { type NumberStyle, printed, printedAngle, type Size, sizeText } from '../../units.ts';
import type { Angle } from '../views/angles.ts';
import type { BoardSide } from '../views/board-views.ts';

/** A size between two places along one of the board's own axes. */
export interface FeatureSize {
  readonly kind: 'size';
  readonly on: BoardSide;
  readonly axis: 0 | 1 | 2;
  readonly from: number;
  readonly to: number;
  /** Where along the board it belongs, so that it stands on that side. */
  readonly beside?: number;
  /** It must stand on that side: what lies at the other is something else. */
  readonly stays?: true;
  /** Of a size along the board: at which of its edges it belongs. */
  readonly toward?: 'low' | 'high';
  /** Places of what it goes from and to, in own axes, where these don't lie at the rim of the view: its lines begin there. */
  readonly starts?: readonly [Vec3, Vec3];
  /** What it is the size or place of, for words: `the middle of the hole`. */
  readonly what?: string;
  readonly text: Line;
  readonly of: readonly string[];
}

/** Words on a leader to places of the board; `round` gives the radius of the rim that it points to, `dot` ends it in a surface. */
export interface FeatureNote {
  readonly kind: 'note';
  readonly on: BoardSide;
  readonly at: readonly Vec3[];
  readonly round?: number;
  readonly dot?: true;
  readonly text: Line;
  readonly of: readonly string[];
}

/** An angle of the board, seen from a side. */
export interface FeatureAngle extends Angle {
  readonly kind: 'angle';
  readonly on: BoardSide;
}

/** Words below the views. */
export interface FeatureWords {
  readonly kind: 'words';
  readonly text: Line;
  readonly of: readonly string[];
}

const SIDE_WORDS: Readonly<Record<Exclude<Side, 'face' | 'reverse'>, string>> = {
  start: 'left end',
  end: 'right end',
  'low edge': 'lower edge',
  'high edge': 'upper edge',
};

export type Feature = FeatureSize | FeatureNote | FeatureAngle | FeatureWords;

export type Operation = { readonly index: number; readonly shape: ShapeOperation };
export type Of<K extends ShapeOperation['kind']> = Extract<ShapeOperation, { kind: K }>;

/** How numbers and sides are said. */
export class Saying {
  readonly numbers: NumberStyle;
  readonly size: (length: number) => Run;
  /** The wide face that is drawn, and the one behind it: `inner face`, `show face`. */
  readonly face: string;
  readonly behind: string;
  /** The view that shows what is set out in the face behind: its own, or that of the face, in dashes. */
  readonly on: BoardSide;

  constructor(
    numbers: NumberStyle,
    size: (length: number) => Run,
    face = 'show face',
    behind = 'back',
    on: 'face' | 'back' = 'face',
  ) {
    this.numbers = numbers;
    this.size = size;
    this.face = face;
    this.behind = behind;
    this.on = on;
  }

  /** A side of the board as it lies on the sheet: `upper edge`. */
  side(side: Side): string {
    return side === 'face' ? this.face : side === 'reverse' ? this.behind : SIDE_WORDS[side];
  }

  /** `, from the back`: for what is set out in the face behind, where it isn't drawn in a view of its own. */
  fromBehind(): Run[] {
    return this.on === 'face' ? [{ kind: 'text', text: `, from the ${this.behind}` }] : [];
  }

  /** A diameter: drills come finer than boards are measured. */
  diameter(value: number): Run[] {
    return [text('Ø '), { kind: 'size', size: printed(value, this.numbers, 'drill'), bare: true }];
  }

  /** A printed size within a text. */
  plain(size: Size): string {
    return sizeText(size, { unit: this.numbers.system === 'inch' });
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

/** The wide face in which an operation is set out and which alone it opens; undefined where both see it, or an edge or end has it. */
export function oneSided(one: ShapeOperation, thickness: number): 'face' | 'reverse' | undefined {
  const wide = (side: Side): 'face' | 'reverse' | undefined =>
    side === 'face' || side === 'reverse' ? side : undefined;
  switch (one.kind) {
    case 'box': {
      const [low, high] = [one.min[2] < SAME, one.max[2] > thickness - SAME];
      return low === high ? undefined : low ? 'reverse' : 'face';
    }
    case 'hole': {
      const plain = one.depth === undefined && !one.counterbore && !one.countersink && one.angle < 0.05;
      return plain ? undefined : wide(one.side);
    }
    case 'slot':
      return one.depth === undefined ? undefined : wide(one.side);
    default:
      return undefined;
  }
}

/** A place along an axis, measured from the nearer end of the board, outwards where it lies beyond that; nothing where it lies at an end. */
export function placed(
  on: BoardSide,
  axis: 0 | 1 | 2,
  at: number,
  size: BlankSize,
  say: Saying,
  of: readonly string[],
  what?: string,
): FeatureSize[] {
  const whole = lengthAlong(size, axis);
  if (near(at, 0) || near(at, whole)) return [];
  const rim = at <= whole / 2 + SAME ? 0 : whole;
  const [from, to] = at < rim ? [at, rim] : [rim, at];
  const about = what === undefined ? {} : { what };
  return [{ kind: 'size', on, axis, from, to, text: [say.size(to - from)], of, ...about }];
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
  what?: string,
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
    ...(what === undefined ? {} : { what }),
  };
  if (low || high) return [span];
  const nearer = from <= whole - to + SAME ? from : to;
  return [...placed(on, axis, nearer, size, say, [`${of} place`], what), span];
}

/**
 * Sizes between the same two places as one, which then stands for all; and widths of things alike in different places as `3 × 18` at the
 * first: a drawing says each once.
 */
export function once(features: readonly Feature[]): Feature[] {
  const made: Feature[] = [];
  const widths: { at: number; count: number; length: number }[] = [];
  for (const feature of features) {
    if (feature.kind !== 'size') {
      made.push(feature);
      continue;
    }
    const same = made.findIndex((known) => known.kind === 'size' && sameSize(known, feature));
    if (same >= 0) {
      made[same] = { ...(made[same] as FeatureSize), of: [...(made[same] as FeatureSize).of, ...feature.of] };
      continue;
    }
    const length = feature.to - feature.from;
    const width = isWidth(feature)
      ? widths.find((one) => near(one.length, length) && alike(made[one.at] as FeatureSize, feature))
      : undefined;
    if (width === undefined) {
      if (isWidth(feature)) widths.push({ at: made.length, count: 1, length });
      made.push(feature);
      continue;
    }
    const first = made[width.at] as FeatureSize;
    const [plain] = feature.text.slice(-1);
    width.count++;
    made[width.at] = {
      ...first,
      text: [{ kind: 'text', text: `${width.count} × ` }, ...(plain ? [plain] : [])],
      of: [...first.of, ...feature.of],
    };
  }
  return made;
}

const sameSize = (a: FeatureSize, b: FeatureSize): boolean =>
  a.on === b.on && a.axis === b.axis && near(a.from, b.from) && near(a.to, b.to);

/** How far one thing within the board goes: measured from no rim. */
const isWidth = ({ of, from, text: said }: FeatureSize): boolean =>
  from > SAME && said.length === 1 && of.every((name) => / span$/.test(name));

const alike = (a: FeatureSize, b: FeatureSize): boolean =>
  a.on === b.on && a.axis === b.axis && a.what !== undefined && a.what === b.what;
