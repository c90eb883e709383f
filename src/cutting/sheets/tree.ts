/** From the placements of a filled sheet to its tree of cuts, in the job's own sizes. */
import type { Filled } from './fill.ts';
import { SAME, sidesWithout, trimmedBy, type Yard } from './kinds.ts';
import type { SheetPiece, SheetSplit } from './types.ts';

/** A piece while its sheet is being cut. */
interface Plate {
  length: number;
  width: number;
  parent?: Plate;
  cut?: SheetSplit['cut'];
  pieces?: Plate[];
  kind?: number;
  turned?: boolean;
}

/** A tree without items: kinds stand for them until they are handed out. */
export type KindTree =
  | {
      readonly kind: 'part';
      readonly part: number;
      readonly turned: boolean;
      readonly length: number;
      readonly width: number;
    }
  | { readonly kind: 'offcut'; readonly length: number; readonly width: number }
  | {
      readonly kind: 'split';
      readonly cut: SheetSplit['cut'];
      readonly length: number;
      readonly width: number;
      readonly pieces: readonly KindTree[];
    };

/** The tree of cuts of a filled sheet. Pieces of one size lie together, the largest first, what is left over last. */
export function treeOf(yard: Yard, filled: Filled): KindTree {
  if (filled.tree !== undefined) return filled.tree;
  const { kerf } = yard.job;
  const { stock } = yard.sizes[filled.size] as Yard['sizes'][number];
  const lost = trimmedBy(yard.job);
  const root: Plate = { length: stock.length - lost, width: stock.width - lost };
  const free: (Plate | undefined)[] = [root];
  for (const placement of filled.placements) {
    const plate = free[placement.free] as Plate;
    const sides = sidesWithout(yard, placement);
    const [one, two] =
      placement.first === 'crosscut' ? (['crosscut', 'rip'] as const) : (['rip', 'crosscut'] as const);
    const strip = splitOff(plate, one, one === 'rip' ? sides.width : sides.length, kerf);
    const part = splitOff(strip.kept, two, two === 'rip' ? sides.width : sides.length, kerf);
    part.kept.kind = placement.kind;
    part.kept.turned = placement.turned;
    free.push(strip.rest, part.rest);
  }
  return settled(root);
}

/** Cuts a piece of a given extent off a plate: beside its earlier pieces where the cut is parallel to those that made it. */
function splitOff(
  plate: Plate,
  cut: SheetSplit['cut'],
  extent: number,
  kerf: number,
): { kept: Plate; rest?: Plate } {
  const whole = cut === 'rip' ? plate.width : plate.length;
  if (whole - extent <= SAME) return { kept: plate };
  const sized = (value: number, parent: Plate): Plate =>
    cut === 'rip'
      ? { length: plate.length, width: value, parent }
      : { length: value, width: plate.width, parent };
  const over = whole - extent - kerf;
  const parent = plate.parent;
  if (parent?.cut === cut && parent.pieces?.at(-1) === plate) {
    const kept = sized(extent, parent);
    const rest = over > SAME ? sized(over, parent) : undefined;
    parent.pieces.splice(-1, 1, kept, ...(rest ? [rest] : []));
    return { kept, ...(rest && { rest }) };
  }
  const kept = sized(extent, plate);
  const rest = over > SAME ? sized(over, plate) : undefined;
  plate.cut = cut;
  plate.pieces = [kept, ...(rest ? [rest] : [])];
  return { kept, ...(rest && { rest }) };
}

function settled(plate: Plate): KindTree {
  const { length, width } = plate;
  if (plate.pieces !== undefined && plate.cut !== undefined) {
    const { cut } = plate;
    return { kind: 'split', cut, length, width, pieces: inOrder(cut, plate.pieces.map(settled)) };
  }
  if (plate.kind !== undefined)
    return { kind: 'part', part: plate.kind, turned: plate.turned === true, length, width };
  return { kind: 'offcut', length, width };
}

/** Pieces side by side in the order in which they are cut: those of one size together, the largest first, offcuts last. */
export function inOrder(cut: SheetSplit['cut'], pieces: readonly KindTree[]): KindTree[] {
  const extent = (piece: KindTree): number => (cut === 'rip' ? piece.width : piece.length);
  return pieces
    .map((piece) => ({ piece, key: JSON.stringify(piece) }))
    .sort(
      (a, b) =>
        Number(a.piece.kind === 'offcut') - Number(b.piece.kind === 'offcut') ||
        extent(b.piece) - extent(a.piece) ||
        (a.key < b.key ? -1 : a.key > b.key ? 1 : 0),
    )
    .map(({ piece }) => piece);
}

/**
 * A tree without some of its parts: where they lay is left over. Pieces left over side by side become one.
 *
 * @param surplus how many of each kind are taken out at most; lowered by those that were
 */
export function without(tree: KindTree, surplus: number[], kerf: number): KindTree {
  const { length, width } = tree;
  if (tree.kind === 'offcut') return tree;
  if (tree.kind === 'part') {
    if ((surplus[tree.part] as number) <= 0) return tree;
    surplus[tree.part] = (surplus[tree.part] as number) - 1;
    return { kind: 'offcut', length, width };
  }
  const pieces = tree.pieces.map((piece) => without(piece, surplus, kerf));
  const kept = pieces.filter((piece) => piece.kind !== 'offcut');
  if (kept.length === 0) return { kind: 'offcut', length, width };
  if (kept.length === pieces.length) return { ...tree, pieces };
  const rip = tree.cut === 'rip';
  const taken = kept.reduce((sum, piece) => sum + (rip ? piece.width : piece.length) + kerf, 0);
  const over = (rip ? width : length) - taken;
  const offcut: KindTree[] =
    over > SAME ? [{ kind: 'offcut', ...(rip ? { length, width: over } : { length: over, width }) }] : [];
  return { ...tree, pieces: inOrder(tree.cut, [...kept, ...offcut]) };
}

/** A tree in its place on the sheet, its parts named by the items they are for. */
export function placed(
  tree: KindTree,
  x: number,
  y: number,
  kerf: number,
  next: (kind: number) => string,
): SheetPiece {
  const { length, width } = tree;
  const place = { x, y, length, width };
  if (tree.kind === 'offcut') return { kind: 'offcut', ...place };
  if (tree.kind === 'part') return { kind: 'part', item: next(tree.part), turned: tree.turned, ...place };
  let at = tree.cut === 'rip' ? y : x;
  const pieces = tree.pieces.map((piece) => {
    const one = tree.cut === 'rip' ? placed(piece, x, at, kerf, next) : placed(piece, at, y, kerf, next);
    at += (tree.cut === 'rip' ? piece.width : piece.length) + kerf;
    return one;
  });
  return { kind: 'split', cut: tree.cut, ...place, pieces };
}

/** The largest offcut whose sides are both `useful` or more. */
export function largestOffcut(
  tree: KindTree | SheetPiece,
  useful: number,
): { length: number; width: number } | undefined {
  if (tree.kind === 'part') return undefined;
  if (tree.kind === 'offcut')
    return Math.min(tree.length, tree.width) >= useful - SAME
      ? { length: tree.length, width: tree.width }
      : undefined;
  let best: { length: number; width: number } | undefined;
  for (const piece of tree.pieces) {
    const one = largestOffcut(piece, useful);
    if (one && (best === undefined || one.length * one.width > best.length * best.width + SAME)) best = one;
  }
  return best;
}

/** How many cuts a sheet takes, but for the trimming of its edges. */
export function cutsOf(tree: KindTree | SheetPiece, kerf: number): number {
  if (tree.kind !== 'split') return 0;
  const extent = (piece: KindTree | SheetPiece): number => (tree.cut === 'rip' ? piece.width : piece.length);
  const kept = tree.pieces.reduce((sum: number, piece) => sum + extent(piece) + kerf, -kerf);
  return tree.pieces.reduce(
    (sum: number, piece) => sum + cutsOf(piece, kerf),
    tree.pieces.length - (extent(tree) - kept > SAME ? 0 : 1),
  );
}

/** How often a fence or stop is set anew for a sheet: different widths of rips and different lengths of crosscuts. */
export function settingsOf(tree: KindTree | SheetPiece, kerf: number): number {
  const found = new Set<string>();
  gatherSettings(tree, kerf, found);
  return found.size;
}

function gatherSettings(tree: KindTree | SheetPiece, kerf: number, found: Set<string>): void {
  if (tree.kind !== 'split') return;
  const { cut } = tree;
  const extent = (piece: KindTree | SheetPiece): number => (cut === 'rip' ? piece.width : piece.length);
  const kept = tree.pieces.reduce((sum: number, piece) => sum + extent(piece) + kerf, -kerf);
  tree.pieces.forEach((piece, index) => {
    // the last piece needs a cut only where something is sawn off behind it
    if (index < tree.pieces.length - 1 || extent(tree) - kept > SAME)
      found.add(`${cut}${extent(piece).toFixed(3)}`);
    gatherSettings(piece, kerf, found);
  });
}
