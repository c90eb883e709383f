/** Cut list, cutting layouts, shopping list. */
import type { Face, Rip } from '../model/types.ts';
import type { HardwareItem, StockItem } from '../read/types.ts';
import type { Line } from '../text.ts';
import type { Length } from '../units.ts';
import type { SheetCut, SheetPiece } from './sheets/types.ts';

/** A row of the cut list: boards that are cut alike. */
export interface CutListRow {
  /** A, B, C … without I and O; then AA, AB … */
  readonly letter: string;
  readonly part: string;
  /** `Top board`, `Last top board`. */
  readonly name: string;
  readonly quantity: number;
  readonly thickness: Length;
  readonly width: Length;
  readonly length: Length;
  readonly stock: StockItem;
  readonly species: string;
  readonly rip?: Rip;
  readonly fit?: 'measured';
  /** Only of a part from a sheet: its grain may run either way. */
  readonly turn?: true;
  /** `from: offcut`: cut from what the other parts of its stock leave. */
  readonly fromOffcut?: true;
  /** Ids of its copies. */
  readonly copies: readonly string[];
  /** What is done to it, then the author's own note. */
  readonly notes: readonly Line[];
  /** Cuts out of square: the end or edge, and the saw settings for the board lying flat; degrees. */
  readonly saw?: readonly {
    readonly face: Face;
    readonly cut: 'end' | 'edge';
    readonly mitre: number;
    readonly tilt: number;
  }[];
  /** True where it is the mirror image of the row before it. */
  readonly mirrored?: boolean;
  /** Boards of a glued-up panel: how many make one, and the panel's finished size. The row's length is rough. */
  readonly panel?: { readonly boards: number; readonly width: Length; readonly length: Length };
}

/** All rows, and what they amount to. */
export interface CutList {
  readonly rows: readonly CutListRow[];
  /** Letter by copy id. */
  readonly letters: Readonly<Record<string, string>>;
  /** Board feet of the parts as bought by nominal size where the list is North American, else m³. */
  readonly volume: { readonly value: number; readonly unit: 'board feet' | 'm³' };
  /** kg, where the species' density is known. */
  readonly weight?: number;
}

// ---- the layout solver's own plain data: also the library entry `kerfleaf/cutting`

/** Lengths and widths in one unit of the caller's choice; the solver works on integers of `resolution` of it. */
export interface BoardJob {
  readonly items: readonly BoardItem[];
  readonly stocks: readonly BoardStock[];
  readonly kerf: number;
  /** Cut off one end of each board before the first piece. */
  readonly endTrim: number;
  /** Grid of the integer model, e.g. 0.1 mm; sizes are rounded up to it, boards down. */
  readonly resolution: number;
}

/** Pieces of one size that are needed. */
export interface BoardItem {
  readonly id: string;
  readonly length: number;
  /** Absent or equal to the board's: as wide as the board. Narrower: ripped. */
  readonly width?: number;
  readonly quantity: number;
}

/** Boards of one size that can be had. */
export interface BoardStock {
  readonly id: string;
  readonly length: number;
  readonly width: number;
  readonly price: number;
  /** Boards on hand or for sale; no limit where absent. */
  readonly limit?: number;
}

/** A piece in a pattern: a crosscut of the board, ripped into strips side by side. */
export interface BoardSection {
  /** From the board's trimmed end. */
  readonly start: number;
  readonly length: number;
  /** Strips from one edge to the other. A single strip as wide as the board: no rip. */
  readonly strips: readonly {
    readonly item: string;
    readonly offset: number;
    readonly width: number;
    /** Its own length; shorter than the section's where it is crosscut again. */
    readonly length: number;
  }[];
}

/** Boards that are cut alike. */
export interface BoardPattern {
  readonly stock: string;
  readonly count: number;
  readonly sections: readonly BoardSection[];
  /** Length left at the end, kerf taken off. */
  readonly offcut: number;
}

/** A layout of a whole job, and how good it is. */
export interface BoardResult {
  readonly patterns: readonly BoardPattern[];
  readonly cost: number;
  readonly boards: number;
  /** Lower bound on the cost. */
  readonly bound: number;
  readonly status: 'proved best' | 'gap' | 'impossible';
  /** (cost − bound) / bound; 0 where proved. */
  readonly gap: number;
  /** Items that found no board, one id a piece, where the status is impossible. */
  readonly unplaced: readonly string[];
}

// ---- layouts of a plan

/** Boards of a plan that are cut alike. */
export interface BoardLayout {
  readonly stock: StockItem;
  readonly species: string;
  readonly boardLength: Length;
  /** `8 ft`. */
  readonly lengthLabel: string;
  readonly count: number;
  readonly sections: readonly LayoutSection[];
  /** In the order in which they are made. */
  readonly cuts: readonly BoardCut[];
  readonly offcut: Length;
  readonly endTrim: Length;
  readonly price: number;
  /** True for boards that are on hand and not bought. */
  readonly own?: true;
}

/** One cut of a board's numbered sequence. Places are in mm from the corner of the untrimmed end and the edge at the fence. */
export interface BoardCut {
  /** From 1. */
  readonly number: number;
  /**
   * straighten: a rough edge is made straight; trim: a rough end is cut square; crosscut: to a length, at the stop block; rip: to a
   * width, at the fence.
   */
  readonly kind: 'straighten' | 'trim' | 'crosscut' | 'rip';
  /** `board`, or the number of the cut and the side that left the piece: `3` is what was between stop or fence and blade, `3r` the rest. */
  readonly piece: string;
  /** From the stop or fence to the near side of the kerf; of a straightened edge or a trimmed end what comes off, without the kerf. */
  readonly setting: Length;
  /** What lies against the stop or fence: an end, or an edge of the piece. */
  readonly against: 'end' | 'edge' | 'sawn edge' | 'straight edge' | 'groove edge' | 'tongue edge';
  /** Near side of the kerf where the cut begins, along the board and across it, and how far it runs. */
  readonly x: Length;
  readonly y: Length;
  readonly reach: Length;
  /** What is between stop or fence and blade. */
  readonly leaves: CutSide;
  /** What is beyond the blade. */
  readonly rest: CutSide;
  /** True where the yard makes the cut, so that the board fits the vehicle. */
  readonly yard?: true;
}

/** What lies on one side of a cut: a finished part with its letter, work for further cuts, an offcut, or waste. */
export interface CutSide {
  readonly kind: 'part' | 'work' | 'offcut' | 'waste';
  readonly letter?: string;
}

/** A crosscut of such a board, with its strips from edge to edge. */
export interface LayoutSection {
  readonly start: Length;
  readonly length: Length;
  readonly strips: readonly {
    readonly letter: string;
    /** Key of the part that it is a copy of. */
    readonly copyOf: string;
    readonly offset: Length;
    readonly width: Length;
    readonly length: Length;
    /** Where it begins along the section, behind a shorter strip; 0 where absent. */
    readonly from?: Length;
    /** True where it is cut from what the other parts leave. */
    readonly fromOffcut?: true;
  }[];
}

/** Boards that are bought beside those of the layouts, for what knots and checks cost. */
export interface ExtraBoards {
  readonly stock: StockItem;
  readonly species: string;
  readonly boardLength: Length;
  readonly lengthLabel: string;
  readonly count: number;
  readonly price: number;
}

/** Sheets of a plan that are cut alike. */
export interface SheetLayout {
  readonly stock: StockItem;
  readonly species: string;
  /** Of the whole sheet, along its grain and across it. */
  readonly sheetLength: Length;
  readonly sheetWidth: Length;
  /** `4 × 8 ft`. */
  readonly sizeLabel: string;
  readonly count: number;
  readonly price: number;
  /** True for pieces that are on hand and not bought. */
  readonly own?: true;
  /** Cut off each edge, and a kerf with it; 0 where the edges are good. */
  readonly edgeTrim: Length;
  /** The sheet inside its trimmed edges, as a tree of through cuts; items are letters of the cut list. */
  readonly root: SheetPiece;
  /** Numbered, with fence settings; places from the untrimmed corner. */
  readonly cuts: readonly SheetCut[];
  /** The largest piece left over that is worth keeping. */
  readonly offcut?: { readonly length: Length; readonly width: Length };
  /** Key of the part that each letter is a copy of. */
  readonly copyOf: Readonly<Record<string, string>>;
}

/** The layouts of a plan, in the order of its cut list. */
export interface CuttingLayouts {
  readonly boards: readonly BoardLayout[];
  /** None where absent. */
  readonly sheets?: readonly SheetLayout[];
  /** None where absent. */
  readonly extra?: readonly ExtraBoards[];
  readonly kerf: Length;
  readonly proofs: readonly {
    readonly stock: string;
    readonly species: string;
    readonly status: BoardResult['status'];
    readonly gap: number;
    readonly cost: number;
    readonly bound: number;
    /** Only of sheets, where the bound holds for layouts of at most so many levels of cuts and for no others. */
    readonly levels?: number;
  }[];
  /** Stop-block settings: equal lengths together, longest first. */
  readonly stops: readonly StopSetting[];
}

/** One setting of the stop block, and all that is cut with it. */
export interface StopSetting {
  readonly length: Length;
  /** `stock` as printed: `2×4`. */
  readonly pieces: readonly { readonly letter: string; readonly quantity: number; readonly stock: string }[];
}

/** One thing to buy. */
export interface ShoppingRow {
  readonly kind: 'board' | 'hardware';
  readonly name: string;
  readonly size: Line;
  /** `8 ft` for boards; `box of 100` for hardware. */
  readonly unit: string;
  readonly quantity: number;
  /** Of boards those that are in the layouts. */
  readonly needed: number;
  /** Boards more than the layouts need, for knots and checks; none where absent. */
  readonly extra?: number;
  readonly each?: number;
  readonly cost?: number;
  readonly stock?: StockItem;
  readonly species?: string;
  readonly item?: HardwareItem;
}

/** What to buy for a plan in a region, and what it costs there. */
export interface ShoppingList {
  readonly region: string;
  readonly currency: string;
  readonly rows: readonly ShoppingRow[];
  readonly lumberCost: number;
  readonly hardwareCost: number;
  readonly total: number;
  /** True where a price is missing, so the total is a least value. */
  readonly partial: boolean;
}
