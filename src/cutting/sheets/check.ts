/**
 * An independent check of a sheet layout against its job: it walks each tree of cuts as a builder would make them and knows nothing
 * of how the layout was found. Run after every layout; what it finds is a bug of ours.
 */
import { checkTotals, near, SLACK } from '../check-totals.ts';
import type {
  SheetItem,
  SheetJob,
  SheetPattern,
  SheetPiece,
  SheetResult,
  SheetSplit,
  SheetStock,
} from './types.ts';

/** All that is wrong with a layout, in words; an empty list where it can be cut as it stands. */
export function checkSheets(job: SheetJob, result: SheetResult): string[] {
  return checkTotals<SheetStock, SheetPattern>(job, result, {
    called: 'sheets',
    items: 'parts',
    said: result.sheets,
    itemsIn: ({ root }) => leavesOf(root).flatMap((leaf) => (leaf.kind === 'part' ? leaf.item : [])),
    faultsIn: (stock, pattern) => checkSheet(job, stock, pattern),
  });
}

const leavesOf = (piece: SheetPiece): SheetPiece[] =>
  piece.kind === 'split' ? piece.pieces.flatMap(leavesOf) : [piece];

function checkSheet(job: SheetJob, stock: SheetStock, pattern: SheetPattern): string[] {
  const { root } = pattern;
  const lost = job.edgeTrim > 0 ? 2 * (job.edgeTrim + job.kerf) : 0;
  const faults: string[] = [];
  if (!near(root.x, 0) || !near(root.y, 0)) faults.push(`starts at ${root.x}, ${root.y}`);
  if (!near(root.length, stock.length - lost) || !near(root.width, stock.width - lost))
    faults.push(`is ${root.length} × ${root.width} inside its edges`);
  const items = new Map(job.items.map((item) => [item.id, item]));
  walk(job, items, root, 0, undefined, faults);
  if (job.liftable !== undefined && root.kind === 'split')
    for (const piece of root.pieces)
      if (
        piece.length * piece.width > job.liftable + SLACK &&
        leavesOf(piece).filter((leaf) => leaf.kind === 'part').length > 1
      )
        faults.push(`a first piece of ${piece.length} × ${piece.width} is too large to lift`);
  const leaves = leavesOf(root);
  if (!leaves.some((leaf) => leaf.kind === 'part')) faults.push('an empty sheet');
  const useful = leaves.filter(
    (leaf) => leaf.kind === 'offcut' && Math.min(leaf.length, leaf.width) >= (job.useful ?? 0) - SLACK,
  );
  const largest = Math.max(0, ...useful.map((leaf) => leaf.length * leaf.width));
  const said = pattern.offcut === undefined ? 0 : pattern.offcut.length * pattern.offcut.width;
  if (!near(said, largest)) faults.push(`offcut of ${said}, the largest is ${largest}`);
  return faults;
}

/** Walks down from a piece; `level` is that of the cuts that made it, `axis` their direction. */
function walk(
  job: SheetJob,
  items: ReadonlyMap<string, SheetItem>,
  piece: SheetPiece,
  level: number,
  axis: SheetSplit['cut'] | undefined,
  faults: string[],
): void {
  if (!(piece.length > 0 && piece.width > 0))
    faults.push(`a ${piece.kind} of ${piece.length} × ${piece.width}`);
  if (piece.kind === 'offcut') return;
  if (piece.kind === 'part') {
    const item = items.get(piece.item);
    if (item === undefined) return;
    if (piece.turned && !item.turnable) faults.push(`${item.id} is turned against its grain`);
    const [length, width] = piece.turned ? [item.width, item.length] : [item.length, item.width];
    if (!near(piece.length, length) || !near(piece.width, width))
      faults.push(`${item.id} is ${piece.length} × ${piece.width}, not ${length} × ${width}`);
    return;
  }
  // parallel cuts one inside the other are made one after the other: still one level
  const depth = axis === piece.cut ? level : level + 1;
  if (depth > (job.stages ?? 4)) faults.push(`cuts of ${depth} levels`);
  const rip = piece.cut === 'rip';
  let free = rip ? piece.y : piece.x;
  const end = free + (rip ? piece.width : piece.length);
  if (piece.pieces.length === 0) faults.push('a cut that leaves nothing');
  for (const child of piece.pieces) {
    const start = rip ? child.y : child.x;
    if (!near(start, free)) faults.push(`a piece starts at ${start}, not ${free}`);
    const across = rip
      ? [child.x, child.length, piece.x, piece.length]
      : [child.y, child.width, piece.y, piece.width];
    if (!near(across[0] as number, across[2] as number) || !near(across[1] as number, across[3] as number))
      faults.push(`a cut that doesn't run through: ${across[1]} of ${across[3]}`);
    free = start + (rip ? child.width : child.length) + job.kerf;
    walk(job, items, child, depth, piece.cut, faults);
  }
  // what follows the last piece is a kerf at most: all else would be an offcut of its own
  const over = end - (free - job.kerf);
  if (over < -SLACK * Math.max(1, end))
    faults.push(`pieces run ${-over} beyond the piece that they are cut from`);
  if (over > job.kerf + SLACK * Math.max(1, end)) faults.push(`${over} is lost after the last piece`);
}
