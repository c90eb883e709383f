/**
 * What reading a shop's folder gives: plans, stock lists, hardware and the shop itself, checked for form, with the place of
 * every value. Formulas are still text here; `resolve/` gives them values.
 */
import type { Root, RootContent } from 'mdast';
import type { Origin } from '../diagnostics.ts';
import type { Length, NumberStyle } from '../units.ts';
import type { JointKind, JointSource } from './joint-types.ts';
import type { BraceSource, GlueUpSource, LeanSource, PlaceSource, ShapeSource } from './shape-types.ts';
import type { OwnPiece, StockList } from './stock-types.ts';

export type { JointKind, JointSource } from './joint-types.ts';

/** A value as the author wrote it, with its place. `origin` is the first character of the text itself. */
export interface Written {
  readonly text: string;
  readonly origin: Origin;
  /**
   * Only where the text isn't one unbroken stretch of a line (folded over lines, or with escapes in its quotes): from the
   * offset `at` on, the text stands at `origin`. In order. `read/written.ts` has the way from an offset to its place.
   */
  readonly pieces?: readonly { readonly at: number; readonly origin: Origin }[];
}

/** A checked value with its place. */
export interface Placed<T> {
  readonly value: T;
  readonly origin: Origin;
}

/** Direction in the piece as seen from its front: across = left to right, deep = front to back, up = floor to top. */
export type Direction = 'across' | 'deep' | 'up';
export type Face = 'left' | 'right' | 'front' | 'back' | 'bottom' | 'top';
/** A mirror: copies to the other side of the outline's middle. */
export type Mirror = 'left-right' | 'front-back' | 'bottom-top';

// ---------------------------------------------------------------- plan

export interface Revision {
  /** A, B, C … or what the author writes. */
  readonly revision: string;
  /** ISO 8601 date. The newest one dates the published files. */
  readonly date: string;
  readonly note: string;
}

export interface Photo {
  readonly file: string;
  readonly alt: string;
  /** Place of the file's name in the plan. */
  readonly origin?: Origin;
}

/** Front matter of a plan, checked. */
export interface FrontMatter {
  readonly title: string;
  /** Plan number in the catalogue and title strip. */
  readonly number: number;
  readonly summary: string;
  /** Kind of piece, a word of the shop's own: garden, storage, seating. */
  readonly kind: string;
  /** Price by ISO 4217 currency code; empty for a free plan. */
  readonly price: Readonly<Record<string, number>>;
  readonly skill: string;
  readonly time: string;
  /** Oldest last as printed; the first is the one in force. */
  readonly revisions: readonly Revision[];
  readonly photos: readonly Photo[];
  /** What stands for the piece on cover, catalogue and page: the name of a drawing asked for, or a photo's file. The whole piece where absent. */
  readonly picture?: Written;
  /** Licence text for this plan; the shop's where absent. */
  readonly licence?: string;
  /** Tools beyond those the joints and cuts ask for. */
  readonly tools: readonly string[];
  /** Default species key for all parts; the stock list's default where absent. */
  readonly species?: Written;
  /** Link to the checkout; overrides the shop file's. */
  readonly checkout?: string;
}

export interface SizeSource {
  readonly name: string;
  readonly nameOrigin: Origin;
  readonly formula: Written;
}

/** The piece in other sizes. Without sizes it is the plan as written. */
export interface VariantSource {
  /** Small letters, digits and hyphens: `long`. */
  readonly key: string;
  readonly origin: Origin;
  /** What stands in the place of the plan's sizes of these names; the outline's are `outline.width` and so on. */
  readonly sizes: readonly SizeSource[];
}

/** How a part is copied. Rules apply in order, each to all copies so far. */
export type CopySource =
  | { readonly kind: 'mirrored'; readonly across: Mirror; readonly origin: Origin }
  | {
      readonly kind: 'repeated';
      /** Copies in all, the first included: a count, may be a formula. */
      readonly count: Written;
      readonly along: Direction;
      /** From one copy's face to the same face of the next … */
      readonly spacing?: Written;
      /** … or: the far face of the last copy lies here and the rest are spaced evenly. */
      readonly to?: Written;
      readonly origin: Origin;
    };

/** Courses of boards side by side that fill a span. */
export interface LaySource {
  /** Direction of laying, from the face named first to the one named second. */
  readonly along: Direction;
  readonly reversed: boolean;
  readonly from: Written;
  readonly to: Written;
  /** Clear gap between courses; absent for interlocking profiles. */
  readonly gap?: Written;
  /** shared: first and last ripped alike; last: only the last is ripped. */
  readonly ends: 'shared' | 'last';
  /** Interlocking profiles: trimmed = the first board's tongue is cut off (its tongue faces the start); absent = kept/no tongue. */
  readonly firstTongue?: 'trimmed' | 'kept';
  readonly origin: Origin;
}

export interface PartSource {
  readonly key: string;
  readonly origin: Origin;
  /** Printed name; from the key where absent: `top-board` prints as `Top board`. */
  readonly name?: string;
  /** Nominal name in the edition's stock list; a pair names one for each edition. */
  readonly stock: Written;
  readonly species?: Written;
  readonly runs: Placed<Direction>;
  /** Where the wide face looks; for square sections and where omitted, a rule decides. */
  readonly wideFace?: Placed<Face>;
  /** Faces given by the author. */
  readonly at: Readonly<Partial<Record<Face, Written>>>;
  /** Keys of the parts it fits between, along its length. One key: between that part and its mirrored copy. */
  readonly between?: readonly Written[];
  readonly length?: Written;
  /** Finished width where narrower than the stock: ripped. */
  readonly rip?: Written;
  readonly copies: readonly CopySource[];
  readonly lay?: LaySource;
  /** Out of upright or out of level. */
  readonly lean?: LeanSource;
  /** Between two points; its faces in that plane follow. */
  readonly brace?: BraceSource;
  /** A panel of several boards. */
  readonly glueUp?: GlueUpSource;
  /** Shaping operations in the order they are made; none where absent. */
  readonly shape?: readonly ShapeSource[];
  /** Name of the assembly it is built into before that goes in. */
  readonly assembly?: Written;
  /** `measured`: the size is taken from the workpiece; the computed one is a guide. */
  readonly fit?: 'measured';
  /** Only of a part from a sheet: its grain may run either way. */
  readonly turn?: true;
  /** Whether it has a full-size template; where absent its shape says so. `whole` shows what is straight too. */
  readonly template?: 'yes' | 'no' | 'whole';
  /** `from: offcut`: cut from what the other parts of its stock leave; the place of that word. */
  readonly fromOffcut?: Origin;
  /** Edges of a part from a sheet that are covered with banding. */
  readonly banded?: readonly { readonly value: Face; readonly origin: Origin }[];
  /** Faces that show; free words of the author's for the cut list. */
  readonly visible?: readonly Face[];
  readonly note?: string;
}

export interface HardwareSource {
  readonly item: Written;
  readonly count: Written;
  /** What it is fixed to: `lid.back` or a part's key. */
  readonly on?: Written;
  /** Where the middle of each lies, in the piece; what is left out is spread along the face, or in its middle. */
  readonly at?: PlaceSource;
  /** How far the outermost lie from the ends of the face. */
  readonly setBack?: Written;
  /** Where its length goes. */
  readonly runs?: Placed<Direction>;
  /** Of a hinge: the face where its knuckle lies. */
  readonly knuckle?: Placed<Face>;
  readonly note?: string;
  readonly origin: Origin;
}

export interface StepSource {
  /** 1-based, in order of the headings. */
  readonly index: number;
  readonly title: string;
  readonly origin: Origin;
  readonly blockOrigin: Origin;
  /** Keys of parts, or names of assemblies built before. */
  readonly adds: readonly Written[];
  readonly assembly?: Written;
  /** Viewpoint words: any of front/back, left/right, above/below. */
  readonly from?: Placed<Viewpoint>;
  readonly tools: readonly string[];
  /** The step's prose, without its block. */
  readonly prose: readonly RootContent[];
}

/** Where a pictorial is seen from. */
export interface Viewpoint {
  readonly depth: 'front' | 'back';
  readonly side: 'left' | 'right';
  readonly height: 'above' | 'below';
  /** Degrees from straight before the front or back round to the side; absent: the isometric corner, 45. */
  readonly turned?: number;
  /** Degrees above or below level; absent: the isometric corner, 35.26. */
  readonly raised?: number;
}

/** Prose under a level-two heading other than Steps. */
export interface SectionSource {
  readonly title: string;
  readonly prose: readonly RootContent[];
  readonly origin: Origin;
}

/** A plan file, read. Every list is in the file's order. */
export interface PlanSource {
  readonly slug: string;
  /** Path relative to the shop folder: `content/plans/potting-bench/plan.md`. */
  readonly file: string;
  readonly front: FrontMatter;
  readonly frontOrigin: Origin;
  readonly outline: { readonly width: Written; readonly depth: Written; readonly height: Written };
  readonly sizes: readonly SizeSource[];
  /** Empty where the plan has one size only. */
  readonly variants: readonly VariantSource[];
  /** Which of them this is, once one is taken (`inVariants`). */
  readonly variant?: VariantSource;
  readonly parts: readonly PartSource[];
  readonly joints: readonly JointSource[];
  readonly hardware: readonly HardwareSource[];
  /** Prose before the first level-two heading. */
  readonly opening: readonly RootContent[];
  readonly sections: readonly SectionSource[];
  /** Prose under `## Steps` before its first step. */
  readonly stepsOpening: readonly RootContent[];
  readonly steps: readonly StepSource[];
  readonly tree: Root;
}

// ---------------------------------------------------------------- shop, stock, hardware, editions

export interface Shop {
  readonly name: string;
  readonly address: string;
  readonly email?: string;
  readonly url: string;
  /** ISO 4217; the currency a page shows first. */
  readonly currency: string;
  readonly strapline: string;
  readonly about: string;
  readonly licence: string;
  readonly safety: readonly string[];
  /** Checkout link by plan slug. */
  readonly checkout: Readonly<Record<string, string>>;
  readonly theme: string;
  readonly editions: readonly Edition[];
}

export interface Edition {
  /** `imperial`, `metric`, or the shop's own. */
  readonly key: string;
  /** Printed: `Imperial`. */
  readonly name: string;
  readonly numbers: NumberStyle;
  /** Which side of a pair `a | b` it takes. */
  readonly side: 'left' | 'right';
  /** File name of its stock list without ending. */
  readonly stockList: string;
  readonly paper: 'letter' | 'a4';
  readonly projection: 'third angle' | 'first angle';
  /** Saw kerf for layouts. */
  readonly kerf: Length;
  /** Longest board that is bought: what the vehicle holds. No limit where absent. */
  readonly longestBoard?: Length;
  /** Most levels of cuts in a layout of sheets; what a track or table saw follows easily where absent. */
  readonly cutLevels?: number;
  /** Of a sheet: the largest piece that the first cuts may leave, mm², unless it is one part. No limit where absent. */
  readonly largestPiece?: number;
  /** Language tag for the PDF: en-US, en-GB. */
  readonly language: string;
  /** Key of the sheet its labels are printed on (`label-sheets.ts`), or `none`; the usual one of its paper where absent. */
  readonly labels?: string;
}

/**
 * How a fitting is drawn, mm: a block of its length, width and thickness (how far it stands out); a hinge with its width opened flat, the
 * thickness of a leaf and that of its knuckle; or round, `length` being how far it stands out.
 */
export type FittingOutline =
  | { readonly length: number; readonly width: number; readonly thickness: number; readonly knuckle?: number }
  | { readonly length: number; readonly diameter: number };

export interface HardwareItem {
  readonly key: string;
  /** `Pocket screw, coarse thread`. */
  readonly name: string;
  /** Length, where the item has one; of a pair the inch one. */
  readonly length?: Length;
  /** Where the trade sells it in two lengths, `2 in | 50 mm`: the one each number system prints. */
  readonly lengths?: { readonly inch: Length; readonly mm: Length };
  /** Size in words where it isn't a length: `no. 8`; of a pair the inch one. */
  readonly size?: string;
  /** Where the words differ by system, `1 pint | 500 ml`. */
  readonly sizes?: { readonly inch: string; readonly mm: string };
  /** Joints it serves, and the thickness of the first part it is right for. */
  readonly fits?: { readonly joint: JointKind; readonly from: Length; readonly to: Length };
  /** What it does, where a check of the proof or its drawing asks for it: a hinge, a stay that holds a lid open, a hook, a peg of wood. */
  readonly kind?: 'hinge' | 'stay' | 'hook' | 'peg';
  /** Its outline, where it is drawn: the one of the edition's number system, once that is known. */
  readonly outline?: FittingOutline;
  readonly outlines?: { readonly inch: FittingOutline; readonly mm: FittingOutline };
  /** The least wood that its screws need behind it, in each number system. */
  readonly wood?: { readonly inch: Length; readonly mm: Length };
  /** Pieces in a package. */
  readonly package: number;
  /** Price of a package by currency. */
  readonly price: Readonly<Record<string, number>>;
  /** Editions or regions it is sold in; all where empty. */
  readonly regions: readonly string[];
  readonly link?: string;
  /** Of glue and finish: m² that a package covers, of a finish in one coat. */
  readonly covers?: number;
  /** Of edge banding: mm of edge that a package covers, by the side of a pair. */
  readonly bands?: { readonly left: Length; readonly right: Length };
  readonly outdoors: boolean;
  readonly origin: Origin;
}

/** A whole shop folder, read. */
export interface ShopSource {
  readonly shop: Shop;
  readonly stockLists: readonly StockList[];
  readonly hardware: readonly HardwareItem[];
  /** What the maker has already; nothing where absent. */
  readonly onHand?: readonly OwnPiece[];
  readonly plans: readonly PlanSource[];
}

export type {
  Defects,
  OwnPiece,
  SheetSize,
  Species,
  StockItem,
  StockLength,
  StockList,
} from './stock-types.ts';
