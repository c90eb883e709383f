/** Drawings: composed in paper millimetres for one place on one paper, then written as SVG. */
import type { Line } from '../text.ts';

export type DrawingKind = 'views' | 'pictorial' | 'step' | 'layout' | 'request';

/** The room a drawing is composed for: line widths and lettering keep their paper size whatever the room. */
export interface Room {
  readonly width: number;
  readonly height: number;
}

export interface Drawing {
  /** `views`, `pictorial`, `step-3`, `layout-1`, `request-2`. */
  readonly id: string;
  readonly kind: DrawingKind;
  readonly title: string;
  readonly caption: Line;
  /** What it shows and its main sizes, in words. */
  readonly alt: string;
  /** Paper size of the drawing, mm. */
  readonly width: number;
  readonly height: number;
  /** As stated under the view: `3/4″ = 1′-0″`, `1 : 10`, `not to scale`. */
  readonly scale: string;
  /** Projection drawn, for the title strip; absent for pictorials and layouts. */
  readonly projection?: 'third angle' | 'first angle';
  /** Standalone SVG: presentation attributes for print, classes `k-…` for the page to recolour. */
  readonly svg: string;
}

/** All drawings of a plan in an edition, composed for its paper; `narrow` holds those composed again for a phone (95 mm). */
export interface DrawingSet {
  readonly drawings: readonly Drawing[];
  readonly narrow: readonly Drawing[];
}
