/** Stock lists: what a yard sells, in real sizes, and what is there already. */
import type { Origin } from '../diagnostics.ts';
import type { Length } from '../units.ts';

export interface StockLength {
  readonly length: Length;
  /** As sold, in words: `8 ft`, `2400 mm`. */
  readonly label: string;
  /** Price by species key. A species without a price isn't sold in this length. */
  readonly prices: Readonly<Record<string, number>>;
  /** Only of boards on hand: how many there are. */
  readonly own?: number;
}

export interface StockItem {
  /** Nominal name: `2x4`, `45x95`. */
  readonly key: string;
  /** As printed: `2×4`. */
  readonly label: string;
  /** Names in other lists that mean this one: `1x4`. */
  readonly stands_for: readonly string[];
  readonly thickness: Length;
  /** Overall width; of a tongue-and-groove board the tongue included. */
  readonly width: Length;
  readonly profile: 'square' | 'tongue-and-groove';
  /** Width a course covers; equals `width` for square boards. */
  readonly cover: Length;
  /** Length of the tongue; 0 for square boards. */
  readonly tongue: Length;
  readonly lengths: readonly StockLength[];
  /** Only of boards with a rough or waney edge: what comes off it to make it straight. `cover` is without it, `width` with it. */
  readonly rough?: Length;
  /** What knots and checks cost; that of its species where absent. */
  readonly defects?: Defects;
  /** Only of sheets: the sizes sold. `lengths` is empty then, `width` and `cover` the longest side of any. */
  readonly sheets?: readonly SheetSize[];
  /** Only of sheets: along which side the grain of the face runs; none where it has none. */
  readonly grain?: 'long' | 'across' | 'none';
  readonly origin: Origin;
}

/** A size in which a sheet is sold. */
export interface SheetSize {
  /** Along the grain, mm; along the longer side where there is none. */
  readonly length: Length;
  readonly width: Length;
  /** As sold, in words: `4 × 8 ft`, `1220 × 2440 mm`. */
  readonly label: string;
  /** Price by species key. */
  readonly prices: Readonly<Record<string, number>>;
  /** Only of pieces on hand: how many there are. */
  readonly own?: number;
}

/** A board or a piece of a sheet that is there already. */
export interface OwnPiece {
  /** Nominal name, of any stock list. */
  readonly stock: string;
  /** Real sections of the boards, or of sheets the thickness, that some list sells by this very name; none where it stands for another. */
  readonly sections?: readonly { readonly thickness: Length; readonly width: Length }[];
  /** Key of its species; where absent the only one that a sheet is sold in, or the list's default. */
  readonly species?: string;
  /** Of a sheet along the grain. */
  readonly length: Length;
  /** Only of a sheet. */
  readonly width?: Length;
  /** As written: `60 in`. */
  readonly label: string;
  readonly count: number;
  readonly origin: Origin;
}

export interface Species {
  readonly key: string;
  readonly name: string;
  /** kg/m³ at 12 % moisture, with its source in the file. */
  readonly density?: number;
  /** What knots and checks cost in boards of this species. */
  readonly defects?: Defects;
}

/** Lost to knots and checks: a share of the length bought (0.1 for `10 %`), or so much of each board, mm. */
export type Defects = { readonly share: number } | { readonly length: Length };

export interface StockList {
  readonly key: string;
  readonly file: string;
  /** `North American softwood`. */
  readonly name: string;
  /** Where it is sold: `United States`. */
  readonly region: string;
  readonly currency: string;
  readonly species: readonly Species[];
  readonly defaultSpecies: string;
  /** Cut off a fresh end before measuring. */
  readonly endTrim: Length;
  /** Cut off each edge of a sheet; none where absent. */
  readonly sheetTrim?: Length;
  /** True where the yard cuts boards that are too long for the vehicle. */
  readonly yardCuts?: true;
  readonly items: readonly StockItem[];
  /** Names of items left out because of their faults, said in the list: a plan that names one has no fault of its own. */
  readonly faulty?: readonly string[];
}
