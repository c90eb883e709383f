/**
 * The words of a plan with their values filled in, and what each step needs. A small tree of our own, so that the page
 * (HTML) and the PDF (Typst) set the same words and sizes each in their own way.
 */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import type { FastenerCount } from '../joinery/types.ts';
import type { HardwareUse, Vec3, Viewpoint } from '../model/types.ts';
import type { Run } from '../text.ts';

export type Inline =
  | Run
  | { readonly kind: 'strong' | 'emphasis'; readonly children: readonly Inline[] }
  | { readonly kind: 'link'; readonly href: string; readonly children: readonly Inline[] }
  | { readonly kind: 'code'; readonly text: string }
  | { readonly kind: 'break' };

export type Block =
  | { readonly kind: 'paragraph'; readonly children: readonly Inline[] }
  | { readonly kind: 'heading'; readonly depth: number; readonly children: readonly Inline[] }
  | { readonly kind: 'list'; readonly ordered: boolean; readonly items: readonly (readonly Block[])[] }
  | { readonly kind: 'quote'; readonly children: readonly Block[] }
  | {
      readonly kind: 'table';
      readonly align: readonly ('left' | 'right' | 'center' | null)[];
      readonly head: readonly (readonly Inline[])[];
      readonly rows: readonly (readonly (readonly Inline[])[])[];
    }
  | { readonly kind: 'code'; readonly text: string }
  /** A drawing asked for with `::drawing`; `drawing` is its id in the drawing set. */
  | { readonly kind: 'drawing'; readonly drawing: string }
  | { readonly kind: 'rule' };

/** A drawing the author asks for: `::drawing[Caption]{from="front" show="overall"}`. */
export interface DrawingRequest {
  /** `request-1` … */
  readonly id: string;
  /** What the author calls it, so that the front matter can name it. */
  readonly name?: string;
  readonly caption: string;
  /** A straight view (`front`, `top` …) or a pictorial (`front left above`). */
  readonly from: 'front' | 'back' | 'left' | 'right' | 'top' | 'bottom' | Viewpoint;
  /** Keys of parts or assemblies; all where empty. */
  readonly show: readonly string[];
  /** Dimensions: overall only, all that the view gets by itself, or none. */
  readonly sizes: 'overall' | 'all' | 'none';
  /** Cut by a plane across the way one looks, mm along that direction of the piece; all before it is taken away. */
  readonly section?: { readonly at: number };
  /** Enlarged: where these parts meet, or the whole of a single one. */
  readonly detail?: readonly string[];
  /** Taken apart, with the letters of the cut list. */
  readonly apart?: true;
  /** Parts, by key, turned by an angle in degrees about a line through a point of the piece, along one of its axes: a lid that stands open. */
  readonly open?: {
    readonly parts: readonly string[];
    readonly point: Vec3;
    readonly axis: 0 | 1 | 2;
    readonly angle: number;
    /** Of a pair of doors: what lies beyond this plane, across an axis of the piece, opens as the mirror image. */
    readonly mirror?: { readonly axis: 0 | 1 | 2; readonly middle: number };
  };
  readonly origin: Origin;
}

export interface StepInstructions {
  readonly index: number;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** Parts that arrive, by cut-list letter. */
  readonly parts: readonly { readonly letter: string; readonly name: string; readonly quantity: number }[];
  /** Assemblies set into the piece. */
  readonly sets: readonly string[];
  readonly fasteners: readonly FastenerCount[];
  readonly hardware: readonly HardwareUse[];
  readonly tools: readonly string[];
}

export interface Instructions {
  /** Prose before the first level-two heading: public, also on a paid plan's page. */
  readonly opening: readonly Block[];
  readonly sections: readonly { readonly title: string; readonly blocks: readonly Block[] }[];
  readonly stepsOpening: readonly Block[];
  readonly steps: readonly StepInstructions[];
  /** All tools, from the steps, the joints and the cuts. */
  readonly tools: readonly string[];
  /** Cautions for the safety section, in the shop's words and the program's. */
  readonly cautions: readonly string[];
  readonly requests: readonly DrawingRequest[];
  /** The drawing that stands for the piece on cover, catalogue and page, where the front matter names one. */
  readonly picture?: DrawingRequest;
  readonly diagnostics: readonly Diagnostic[];
}
