/**
 * A plan whose formulas have values: what `resolve/` gives to `model/`.
 * Lengths are millimetres; x runs across, y deep, z up, from the outline's left front corner on the floor.
 */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import type {
  Direction,
  Edition,
  Face,
  Mirror,
  PartSource,
  PlanSource,
  StockItem,
  StockList,
} from '../read/types.ts';
import type { Length } from '../units.ts';
import type { Panel, PlaceValues, Pose, ResolvedShape } from './pose-types.ts';

export type QuantityKind = 'length' | 'angle' | 'number' | 'area' | 'volume';

/** A computed value: lengths in mm, angles in degrees, areas in mm², volumes in mm³. */
export interface Quantity {
  readonly kind: QuantityKind;
  readonly value: number;
}

/** A size the edition rounded because the plan gave no pair for it. */
export interface Rounding {
  /** First character of the literal. */
  readonly origin: Origin;
  /** As written: `3/4 in`. */
  readonly written: string;
  readonly exact: Length;
  readonly rounded: Length;
}

/** What evaluating a formula for an inline directive gives: a value and what was rounded for it, or the fault. */
export interface Evaluated {
  readonly quantity?: Quantity;
  readonly problem?: Diagnostic;
  readonly roundings?: readonly Rounding[];
}

/** Where a part begins and ends along one direction of the piece. */
export interface Span {
  readonly low: number;
  readonly high: number;
}

/** A rule for copies, with numbers: mirrored about the outline's middle, or moved `count − 1` times by `step`. */
export type CopyRule =
  | { readonly kind: 'mirrored'; readonly across: Mirror }
  | {
      readonly kind: 'repeated';
      readonly along: Direction;
      /** Copies in all, the first included. */
      readonly count: number;
      /** From a copy to the next; negative towards left, front or floor. */
      readonly step: number;
    };

/** One course of a laid part. */
export interface Course {
  /** What the course covers of the span. */
  readonly cover: Length;
  /** Width of the board to cut, its tongue included where it stays. */
  readonly cut: Length;
  readonly rip?: 'part' | 'first course' | 'last course' | 'tongue';
  /** From where laying starts to this course's nearer edge. */
  readonly offset: Length;
}

/** How courses fill a span. */
export interface Courses {
  readonly along: Direction;
  /** True where laying starts at the right, the back or the top. */
  readonly reversed: boolean;
  readonly list: readonly Course[];
  /** Clear gap between courses as laid. */
  readonly gap: Length;
  /** What a whole course covers. */
  readonly full: Length;
  readonly ends: 'shared' | 'last';
}

/** An end of a part that goes into a housing: so much of its length, by which joint (its index), in which part. */
export interface HousedEnd {
  /** Left, front or bottom is low; of all copies that end of the first. */
  readonly end: 'low' | 'high';
  readonly joint: number;
  readonly depth: number;
  readonly to: string;
}

/** A part with its first copy placed; of a laid part, the whole field of its courses. */
export interface ResolvedPart {
  readonly source: PartSource;
  readonly stock: StockItem;
  readonly species: string;
  readonly runs: Direction;
  readonly wideFace: Face;
  /** Direction in which the width lies. */
  readonly widthAlong: Direction;
  readonly spans: Readonly<Record<Direction, Span>>;
  /** Width of a board as it stands, where it isn't laid: what a tongue-and-groove board covers. */
  readonly width: Length;
  /** Width of the board to cut, the tongue included where it stays. */
  readonly cutWidth: Length;
  /** True where the board is ripped to its width. */
  readonly ripped: boolean;
  readonly copies: readonly CopyRule[];
  readonly courses?: Courses;
  /** Where it isn't a plain box along the axes. */
  readonly pose?: Pose;
  /** Operations in the order they are made; places in the piece, those of the first copy. */
  readonly shape: readonly ResolvedShape[];
  readonly panel?: Panel;
  /** Ends that go into housings; none where empty. */
  readonly housed: readonly HousedEnd[];
  /** Boards in all: copies times courses. */
  readonly count: number;
}

/** Coordinates in the piece, and how far the outermost lie from the ends of the face; mm. What the plan leaves out is absent. */
export interface HardwarePlace {
  readonly at: PlaceValues;
  readonly setBack?: number;
}

export interface ResolvedPlan {
  readonly source: PlanSource;
  readonly edition: Edition;
  readonly stockList: StockList;
  readonly outline: { readonly width: Length; readonly depth: Length; readonly height: Length };
  /** In the file's order. */
  readonly sizes: readonly { readonly name: string; readonly quantity: Quantity; readonly origin: Origin }[];
  readonly parts: readonly ResolvedPart[];
  /** Fasteners per place, by index of the joint; absent where the plan gives none. */
  readonly jointCounts: readonly (number | undefined)[];
  /** How far the outermost fasteners lie from the ends, mm, by index of the joint; absent where the plan says nothing. */
  readonly jointSetBacks: readonly (number | undefined)[];
  /** Least distance from one fastener to the next, mm, by index of the joint; absent where the plan says nothing. */
  readonly jointSpacings: readonly (number | undefined)[];
  /** Of housings: how far before a face of the second part each stops, by index of the joint. */
  readonly jointStops: readonly PlaceValues[];
  /** By index of the hardware entry. */
  readonly hardwareCounts: readonly number[];
  /** Where each use of hardware lies, as far as the plan says it. */
  readonly hardwarePlaces: readonly HardwarePlace[];
  readonly roundings: readonly Rounding[];
  readonly evaluate: (formula: string, origin: Origin) => Evaluated;
}
