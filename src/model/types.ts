/**
 * A plan for one edition with every size and place known: what the later phases work on.
 * Lengths are millimetres; x runs across (left to right), y deep (front to back), z up (floor to top), from the outline's
 * left front corner on the floor.
 */
import type { RootContent } from 'mdast';
import type { Origin } from '../diagnostics.ts';
import type {
  Direction,
  Edition,
  Face,
  FrontMatter,
  HardwareItem,
  JointKind,
  Placed,
  StockItem,
  StockList,
  Viewpoint,
} from '../read/types.ts';
import type { Evaluated, HardwarePlace, Quantity, QuantityKind, Rounding } from '../resolve/types.ts';
import type { Length, Size } from '../units.ts';
import type { ShapeOperation, Side } from './shape.ts';

export type Vec3 = readonly [x: number, y: number, z: number];

/**
 * A copy's own frame in the piece: x along its length, y along its width, z along its thickness, from one corner of its blank.
 * Unit vectors, right-handed (length × width = thickness); z points out of the wide face that the plan names. A mirrored copy has
 * `mirrored` set: its shape is that of the first copy reflected in its own frame, y counted from the other edge. For a square-cut
 * part that changes nothing.
 */
export interface Frame {
  readonly origin: Vec3;
  readonly length: Vec3;
  readonly width: Vec3;
  readonly thickness: Vec3;
  readonly mirrored: boolean;
}

/** Thickness, width, length of a rectangular blank, in millimetres. */
export interface BlankSize {
  readonly thickness: Length;
  readonly width: Length;
  readonly length: Length;
}

/** Extents along the piece's axes. */
export interface Bounds {
  readonly min: Vec3;
  readonly max: Vec3;
}

/** What is done along the board's length before it is crosscut or after: cut list and layout read it. */
export interface Rip {
  /** Finished width, the tongue included where it stays. */
  readonly width: Length;
  readonly reason: 'part' | 'first course' | 'last course' | 'tongue';
}

/** One board of a part, where it stands. */
export interface Copy {
  /** `leg.1`: key and number from 1, in the order of the copies. */
  readonly id: string;
  readonly part: string;
  readonly frame: Frame;
  /** The solid as drawn: of tongue-and-groove boards what a course covers. */
  readonly size: BlankSize;
  readonly bounds: Bounds;
  /** What is cut from stock: of tongue-and-groove boards the tongue included. */
  readonly cut: BlankSize;
  readonly rip?: Rip;
  /** Number of the course, from 1, where the part is laid. */
  readonly course?: number;
  /** Operations in the order they are made, in its own frame; all copies of a part share those of its `shape`, housings are each copy's own. */
  readonly shape: readonly ShapeOperation[];
  /**
   * Of a board that leans or is cut by a saw out of square: the faces of its blank after those cuts, in the piece. A convex body:
   * holes, notches and curves are not in it. Absent for a plain box along the axes.
   */
  readonly faces?: readonly BodyFace[];
}

/** A plane face: unit normal, outward, its distance along it, and its corners counter-clockwise from outside; mm. */
export interface BodyFace {
  readonly side: Side;
  readonly normal: Vec3;
  readonly offset: number;
  readonly loop: readonly Vec3[];
}

/** A panel glued up from boards, before it is trimmed to its part's size. */
export interface GluedPanel {
  readonly boards: 'equal' | 'as they come';
  /** Of each board as glued. */
  readonly widths: readonly Length[];
  /** Left on its length, and on the width of its last board. */
  readonly allowance: Length;
}

/** An end that goes into a housing, as a face of the first copy: so much of its length, into which part. */
export interface Housed {
  readonly face: Face;
  readonly depth: number;
  readonly into: string;
}

/** A part: one kind of board, with all its copies. */
export interface Part {
  readonly key: string;
  readonly name: string;
  readonly origin: Origin;
  readonly stock: StockItem;
  /** Species key in the stock list. */
  readonly species: string;
  readonly runs: Direction;
  readonly wideFace: Face;
  readonly copies: readonly Copy[];
  readonly assembly?: string;
  readonly fit?: 'measured';
  /** Only of a part from a sheet: its grain may run either way. */
  readonly turn?: true;
  /** Cut from what the other parts of its stock leave; the place where the plan says so. */
  readonly fromOffcut?: Origin;
  /** What the author says of its full-size template; where absent its shape decides. */
  readonly template?: 'yes' | 'no' | 'whole';
  /** Edges that are covered with banding, as on the first copy. */
  readonly banded?: readonly Face[];
  readonly visible: readonly Face[];
  readonly note?: string;
  readonly panel?: GluedPanel;
  /** Ends that go into housings; their depth is part of its length. */
  readonly housed?: readonly Housed[];
  /** Courses: how the span was filled. `full`, `first` and `last` are what a course covers, a tongue not counted. */
  readonly courses?: {
    readonly count: number;
    readonly gap: Length;
    readonly full: Length;
    readonly first: Length;
    readonly last: Length;
    readonly ends: 'shared' | 'last';
  };
}

export interface Joint {
  readonly join: string;
  readonly to: string;
  readonly by: JointKind;
  readonly count?: number;
  readonly from?: Face;
  /** How far the outermost fasteners lie from the ends of where the parts meet, mm; half a spacing, 50 at most, where absent. */
  readonly setBack?: number;
  /** Least distance from one fastener to the next, mm: where there is no room for it, fewer than `count` go in. */
  readonly leastSpacing?: number;
  readonly with?: HardwareItem;
  readonly origin: Origin;
}

/** Where one piece of hardware is fixed, in the piece. All vectors are unit vectors. */
export interface FittingSpot {
  /** The board, and the middle of the fitting on its face. */
  readonly copy: string;
  readonly at: Vec3;
  /** Out of the face, and the way a round fitting goes: out of its hole where it has one. */
  readonly face: Vec3;
  readonly out: Vec3;
  /** The way its length goes on the face. */
  readonly along: Vec3;
  /** Of a hinge: from its leaf to its knuckle, across the row. */
  readonly knuckle: Vec3;
  /** The face along the row of its kind and across it: from `low` to `high` along a vector. */
  readonly row: { readonly along: Vec3; readonly low: number; readonly high: number };
  readonly rise: { readonly along: Vec3; readonly low: number; readonly high: number };
  /** Its number in the row on this board, from 0, and how many there are. */
  readonly number: number;
  readonly count: number;
  /** What the plan says itself. */
  readonly fixed: { readonly along: boolean; readonly across: boolean; readonly knuckle: boolean };
}

export interface HardwareUse {
  readonly item: HardwareItem;
  readonly count: number;
  readonly on?: string;
  /** What the plan says of where it lies. */
  readonly place?: HardwarePlace & {
    readonly runs?: Direction;
    readonly knuckle?: Face;
    readonly origin: Origin;
  };
  /** Where each is; absent where it is on no part. */
  readonly spots?: readonly FittingSpot[];
  readonly note?: string;
  readonly origin: Origin;
}

export interface Step {
  readonly index: number;
  readonly title: string;
  readonly origin: Origin;
  /** Keys of the parts that arrive in this step, in the author's order. */
  readonly adds: readonly string[];
  /** Names of assemblies, built in earlier steps, that this step sets into the piece. */
  readonly sets: readonly string[];
  /** Assembly that this step builds on its own; its drawing shows that assembly alone. */
  readonly assembly?: string;
  readonly from?: Viewpoint;
  readonly tools: readonly string[];
  readonly prose: readonly RootContent[];
}

/**
 * Gives the value of a formula in the finished plan, for inline directives. Never throws; a fault has its place. What had to be
 * rounded for it comes along: the plan's own `roundings` hold those of its blocks only.
 */
export type Evaluate = (formula: string, origin: Origin) => Evaluated;

export interface Plan {
  readonly slug: string;
  readonly file: string;
  readonly front: FrontMatter;
  readonly edition: Edition;
  /** Key of the variant this is, where the plan has some. */
  readonly variant?: string;
  readonly stockList: StockList;
  readonly outline: { readonly width: Length; readonly depth: Length; readonly height: Length };
  /** The author's named sizes, in the file's order. */
  readonly sizes: readonly { readonly name: string; readonly quantity: Quantity; readonly origin: Origin }[];
  readonly parts: readonly Part[];
  readonly joints: readonly Joint[];
  readonly hardware: readonly HardwareUse[];
  readonly steps: readonly Step[];
  readonly opening: readonly RootContent[];
  readonly sections: readonly {
    readonly title: string;
    readonly prose: readonly RootContent[];
    readonly origin: Origin;
  }[];
  readonly stepsOpening: readonly RootContent[];
  readonly roundings: readonly Rounding[];
  readonly evaluate: Evaluate;
}

export type { ShapeOperation, Side } from './shape.ts';
export type { Direction, Evaluated, Face, Placed, Quantity, QuantityKind, Rounding, Size, Viewpoint };
