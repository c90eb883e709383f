/** Everything computed about a plan, gathered for publishing, and the files that come out. */
import type { CutList, CuttingLayouts, ShoppingList } from '../cutting/types.ts';
import type { Diagnostic } from '../diagnostics.ts';
import type { DrawingSet } from '../draw/types.ts';
import type { Instructions } from '../instructions/types.ts';
import type { Joinery } from '../joinery/types.ts';
import type { Plan } from '../model/types.ts';
import type { Edition, FrontMatter, Shop } from '../read/types.ts';

/** One plan in one edition, all phases done. */
export interface FinishedPlan {
  readonly plan: Plan;
  readonly joinery: Joinery;
  readonly cutList: CutList;
  readonly layouts: CuttingLayouts;
  readonly shopping: ShoppingList;
  readonly instructions: Instructions;
  readonly drawings: DrawingSet;
  readonly diagnostics: readonly Diagnostic[];
  /** The photo on its cover; a drawing stands there where absent. */
  readonly cover?: CoverPhoto;
}

/** A photo for a sheet: a JPEG, its size in pixels, and what it shows in words. */
export interface CoverPhoto {
  readonly content: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly alt: string;
}

/** A plan with all its editions, in the shop's order. */
export interface PlanBundle {
  readonly slug: string;
  readonly front: FrontMatter;
  readonly free: boolean;
  readonly editions: readonly { readonly edition: Edition; readonly finished: FinishedPlan }[];
}

export interface OutputFile {
  /** Relative to `dist/`: `site/plans/potting-bench/index.html`, `packages/potting-bench.zip`. */
  readonly path: string;
  readonly content: Uint8Array | string;
}

export interface Theme {
  readonly name: string;
  /** Colours, type and logo: the one file page and PDF share. */
  readonly tokens: ThemeTokens;
  readonly stylesheet: string;
  /** `plan.typ`: the file the compiler starts from. */
  readonly pdfTemplate: string;
  /** The theme's other .typ files by name, which `plan.typ` reads. */
  readonly pdfParts?: Readonly<Record<string, string>>;
}

export interface ThemeTokens {
  readonly light: Readonly<Record<string, string>>;
  readonly dark: Readonly<Record<string, string>>;
  readonly serif: string;
  readonly sans: string;
  /** SVG of the shop's mark, or nothing: the name is set in type. */
  readonly logo?: string;
}

export type { Shop };
