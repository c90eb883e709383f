/**
 * Sheet layouts as plain data: rectangles out of plywood and other sheets by through cuts only. Also part of `kerfleaf/cutting`.
 *
 * Length always means the direction of the sheet's grain, width the direction across it. A rip runs along the length and
 * splits the width; a crosscut runs across and splits the length.
 */

/** What is to be cut. Sizes in one unit of the caller's choice. */
export interface SheetJob {
  readonly items: readonly SheetItem[];
  readonly stocks: readonly SheetStock[];
  readonly kerf: number;
  /** Cut off each of the four edges of a sheet before the first part, with one kerf more. 0: the sheet's own edges are good. */
  readonly edgeTrim: number;
  /**
   * Most levels of cuts, each turned by a right angle from the one before; parallel cuts of one piece are one level. 2 or more, 4
   * where absent. A cut that only takes a part to its width counts as a level too.
   */
  readonly stages?: number;
  /**
   * Greatest area of a piece that two hands can lift: no piece that the first level of cuts leaves is larger, unless it holds one
   * part only. No such rule where absent.
   */
  readonly liftable?: number;
  /** Least side of an offcut that is worth keeping; 0 where absent. */
  readonly useful?: number;
}

/** Parts of one size that are needed. */
export interface SheetItem {
  readonly id: string;
  /** Along the grain. */
  readonly length: number;
  readonly width: number;
  readonly quantity: number;
  /** True where its grain may run either way. A part is never turned over: its best face stays that of the sheet. */
  readonly turnable: boolean;
}

/** Sheets of one size that can be had: whole, half or quarter ones. */
export interface SheetStock {
  readonly id: string;
  /** Along the grain. */
  readonly length: number;
  readonly width: number;
  readonly price: number;
  /** Sheets on hand or for sale; no limit where absent. */
  readonly limit?: number;
}

/** A rectangle of a sheet, from the corner at which its trimmed length and width start. */
export interface SheetPlace {
  readonly x: number;
  readonly y: number;
  /** Along the sheet's grain. */
  readonly length: number;
  readonly width: number;
}

/** A finished part, what is left over, or a piece that is cut into others side by side. */
export type SheetPiece = SheetPart | SheetOffcut | SheetSplit;

/** A part as it lies. */
export interface SheetPart extends SheetPlace {
  readonly kind: 'part';
  readonly item: string;
  /** True where its length lies across the sheet's grain. */
  readonly turned: boolean;
}

/** Left over: kept or thrown away. */
export interface SheetOffcut extends SheetPlace {
  readonly kind: 'offcut';
}

/** A piece with parallel cuts right through it; its pieces lie in order from the start, a kerf between neighbours. */
export interface SheetSplit extends SheetPlace {
  readonly kind: 'split';
  readonly cut: 'rip' | 'crosscut';
  readonly pieces: readonly SheetPiece[];
}

/** Sheets that are cut alike. */
export interface SheetPattern {
  readonly stock: string;
  readonly count: number;
  /** The sheet inside its trimmed edges. */
  readonly root: SheetPiece;
  /** The largest offcut with sides that are useful; nothing where none is. */
  readonly offcut?: { readonly length: number; readonly width: number };
}

/** A layout of a whole job, and how good it is. */
export interface SheetResult {
  readonly patterns: readonly SheetPattern[];
  readonly cost: number;
  readonly sheets: number;
  /** Lower bound on the cost. */
  readonly bound: number;
  /**
   * What the bound holds for: layouts by any cuts whatever, or only those of at most as many levels of cuts as the job allows, with
   * first pieces that can be lifted where it says so.
   */
  readonly boundFor: 'any cuts' | 'levels';
  readonly status: 'proved best' | 'gap' | 'impossible';
  /** (cost − bound) / bound; 0 where proved. */
  readonly gap: number;
  /** Items that found no sheet, one id a piece, where the status is impossible. */
  readonly unplaced: readonly string[];
}

/** One cut of a sheet's numbered sequence. */
export interface SheetCut {
  /** From 1. */
  readonly number: number;
  readonly kind: 'trim' | 'rip' | 'crosscut';
  /** `sheet`, or the number of the cut and the side that left the piece: `3` is what was between fence and blade in cut 3, `3r` the rest. */
  readonly piece: string;
  /** From the fence to the near side of the kerf: what is kept between them. */
  readonly setting: number;
  /** The edge of the piece that lies against the fence, as the layout is drawn. */
  readonly from: 'left' | 'right' | 'lower' | 'upper';
  /** Where the kerf starts and how far the cut runs, in the sheet's own coordinates (from its untrimmed corner). */
  readonly x: number;
  readonly y: number;
  readonly reach: number;
  /** What is between fence and blade: an item's id where it is a finished part. */
  readonly leaves: { readonly kind: 'part' | 'offcut' | 'split' | 'waste'; readonly item?: string };
  /** What is beyond the blade, where no further cut of the same level goes through it. */
  readonly rest?: { readonly kind: 'part' | 'offcut' | 'split'; readonly item?: string };
  /** Finished parts that come out of what is between fence and blade, by item, in the order of their first cut; itself where it is one. */
  readonly parts: readonly { readonly item: string; readonly count: number }[];
}
