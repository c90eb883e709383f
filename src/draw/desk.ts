/** What all drawings of one plan share: its parts by copy, its number style, and views already projected. */
import type { CutList, CuttingLayouts } from '../cutting/types.ts';
import { placeFittings } from '../geometry/fittings.ts';
import type { Solids } from '../geometry/manifold.ts';
import type { PlacedPart } from '../geometry/types.ts';
import type { Instructions } from '../instructions/types.ts';
import type { Joinery } from '../joinery/types.ts';
import { baseName } from '../model/naming.ts';
import type { Bounds, Copy, Part, Plan, ShapeOperation, Vec3 } from '../model/types.ts';
import type { Line, Run } from '../text.ts';
import { printed, sizeText } from '../units.ts';
import { type ViewFrom, viewFrame } from './lines/project.ts';
import { viewPicture } from './lines/view.ts';
import type { Mark } from './paper/marks.ts';
import { writeSvg } from './svg.ts';
import type { Drawing, DrawingKind, Room, ViewPicture } from './types.ts';

/** All that a plan's drawings are made from. */
export interface DrawInput {
  readonly plan: Plan;
  readonly cutList: CutList;
  readonly layouts: CuttingLayouts;
  readonly joinery: Joinery;
  readonly instructions: Instructions;
  readonly parts: readonly PlacedPart[];
  /** Hardware as it is fixed; made from the plan where absent. */
  readonly fittings?: readonly PlacedPart[];
  /** The solid kernel, loaded: visible faces are cut with it. */
  readonly solids: Pick<Solids, 'overlaps' | 'shape' | 'uncovered' | 'united'>;
  /**
   * What the plan's page shows of it: the `whole` plan, which needs each drawing again for a phone, `samples` without sizes, or `none` of
   * this edition. What another kind of page would need is left out; absent, all is drawn.
   */
  readonly page?: 'whole' | 'samples' | 'none';
  /** Without what only the sheets show. */
  readonly pageOnly?: true;
}

/** Where a drawing goes: on the sheet, or composed again for a phone. */
export type Place = 'sheet' | 'narrow';

/** Width of a phone's drawing, mm. */
export const NARROW_WIDTH = 95;

/** A drawing composed, before it is written. */
export interface Composed {
  readonly id: string;
  readonly kind: DrawingKind;
  readonly title: string;
  readonly caption: Line;
  readonly alt: string;
  readonly marks: readonly Mark[];
  readonly scale: string;
  readonly projection?: 'third angle' | 'first angle';
  /** Clear paper around it, mm; half a millimetre where nothing is said. */
  readonly margin?: number;
}

/** The drawing table of a plan. */
export class Desk {
  readonly input: DrawInput;
  readonly plan: Plan;
  readonly parts: ReadonlyMap<string, PlacedPart>;
  readonly partByKey: ReadonlyMap<string, Part>;
  readonly fittings: readonly PlacedPart[];
  private readonly pictures = new Map<string, ViewPicture>();

  constructor(input: DrawInput) {
    this.input = input;
    this.plan = input.plan;
    this.fittings = input.fittings ?? placeFittings(input.plan, input.solids);
    this.parts = new Map([...input.parts, ...this.fittings].map((part) => [part.copy, part]));
    this.partByKey = new Map(input.plan.parts.map((part) => [part.key, part]));
  }

  /** Ids of all copies, in the order of the parts. */
  get all(): readonly string[] {
    return this.input.parts.map((part) => part.copy);
  }

  /** What is fixed to some boards, by its ids, and these boards before it. */
  withFittings(copies: readonly string[]): string[] {
    const boards = new Set(copies);
    return [
      ...copies,
      ...this.fittings.flatMap((one) => (boards.has(one.fitting?.on ?? '') ? [one.copy] : [])),
    ];
  }

  /** Copies of the parts with these keys. */
  copiesOf(keys: readonly string[]): string[] {
    const wanted = new Set(keys);
    return this.input.parts.filter((part) => wanted.has(part.part)).map((part) => part.copy);
  }

  /** What is done to a board: its own shape, then the pockets that its joints ask for. Holes of screws are bored on the piece. */
  shapesOf(copy: Copy): readonly ShapeOperation[] {
    const bored = this.input.joinery.cuts?.get(copy.id) ?? [];
    return [
      ...copy.shape,
      ...bored.filter((one) => one.kind !== 'hole' || one.name === 'hole' || one.name === 'pocket'),
    ];
  }

  /** A view of some copies, projected once and kept. */
  picture(copies: readonly string[], from: ViewFrom): ViewPicture {
    const key = JSON.stringify([from, copies]);
    const known = this.pictures.get(key);
    if (known) return known;
    const parts = copies.flatMap((copy) => this.parts.get(copy) ?? []);
    const straight = typeof from === 'string';
    const picture = viewPicture(parts, viewFrame(from), this.input.solids, {
      hidden: straight,
      arcs: true,
      // Behind boards a fitting is left out: dashes are for wood.
      ...(straight ? { standing: new Set(this.fittings.map((one) => one.copy)) } : {}),
    });
    this.pictures.set(key, picture);
    return picture;
  }

  bounds(copies: readonly string[]): Bounds {
    const list = copies.flatMap((copy) => this.parts.get(copy)?.bounds ?? []);
    const pick = (end: 'min' | 'max', of: (...values: number[]) => number): Vec3 => [
      of(...list.map((b) => b[end][0])),
      of(...list.map((b) => b[end][1])),
      of(...list.map((b) => b[end][2])),
    ];
    return list.length === 0
      ? { min: [0, 0, 0], max: [0, 0, 0] }
      : { min: pick('min', Math.min), max: pick('max', Math.max) };
  }

  /** Extents for sizes: of a board that leans, where its foot stands, since its box says nothing that can be measured. */
  measured(part: PlacedPart): Bounds {
    const { bounds, frame, vertices } = part;
    if (Math.max(...frame.length.map(Math.abs)) > 1 - 1e-6) return bounds;
    const feet = vertices.filter((v) => v[2] < bounds.min[2] + 1);
    const at = (axis: 0 | 1, of: (...values: number[]) => number): number => of(...feet.map((v) => v[axis]));
    return {
      min: [at(0, Math.min), at(1, Math.min), bounds.min[2]],
      max: [at(0, Math.max), at(1, Math.max), bounds.max[2]],
    };
  }

  letter(copy: string): string {
    return this.input.cutList.letters[copy] ?? '';
  }

  /** A size as a sheet prints it: inches with their mark, millimetres bare. */
  size(length: number): Run {
    const style = this.plan.edition.numbers;
    return { kind: 'size', size: printed(length, style), ...(style.system === 'mm' ? { bare: true } : {}) };
  }

  /** A size in words, with its unit. */
  words(length: number): string {
    return sizeText(printed(length, this.plan.edition.numbers));
  }

  /** `48″ wide, 22″ deep and 36″ high` of some copies. */
  overall(copies: readonly string[]): string {
    const { min, max } = this.bounds(copies);
    const [w, d, h] = [max[0] - min[0], max[1] - min[1], max[2] - min[2]];
    return `${this.words(w)} wide, ${this.words(d)} deep and ${this.words(h)} high`;
  }

  /** The room on the edition's paper for a drawing over the full width, mm. */
  sheetRoom(height: { letter: number; a4: number }): Room {
    return this.plan.edition.paper === 'letter'
      ? { width: 183.9, height: height.letter }
      : { width: 178, height: height.a4 };
  }

  finish(composed: Composed, place: Place): Drawing {
    const { plan } = this;
    const id = `${baseName(plan)}-${composed.id}${place === 'narrow' ? '-narrow' : ''}`;
    const { svg, width, height } = writeSvg({
      marks: composed.marks,
      margin: composed.margin ?? 0.5,
      id: id.replace(/[^A-Za-z0-9_-]/g, '-'),
      title: composed.title,
      description: composed.alt,
    });
    return {
      id: composed.id,
      kind: composed.kind,
      title: composed.title,
      caption: composed.caption,
      alt: composed.alt,
      width,
      height,
      scale: composed.scale,
      ...(composed.projection ? { projection: composed.projection } : {}),
      svg,
    };
  }
}
