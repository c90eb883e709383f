/**
 * An independent check of a layout against its job: it knows nothing of how the layout was found and measures each board as a builder
 * would. Run after every layout; what it finds is a bug of ours.
 */
import { checkTotals, SLACK } from '../check-totals.ts';
import type { BoardJob, BoardPattern, BoardResult, BoardStock } from '../types.ts';

/** All that is wrong with a layout, in words; an empty list where it can be cut as it stands. */
export function checkBoards(job: BoardJob, result: BoardResult): string[] {
  return checkTotals<BoardStock, BoardPattern>(job, result, {
    called: 'boards',
    items: 'pieces',
    said: result.boards,
    itemsIn: ({ sections }) => sections.flatMap(({ strips }) => strips.map((strip) => strip.item)),
    faultsIn: (stock, pattern) => checkBoard(job, stock, pattern),
  });
}

/** One board: sections side by side along it, strips side by side across each, a kerf between neighbours. */
function checkBoard(job: BoardJob, stock: BoardStock, pattern: BoardPattern): string[] {
  const faults: string[] = [];
  const usable = stock.length - (job.endTrim > 0 ? job.endTrim + job.kerf : 0);
  let free = 0;
  let last = -job.kerf;
  if (pattern.sections.length === 0) faults.push('an empty board');
  pattern.sections.forEach((section, index) => {
    const place = `section ${index + 1}`;
    if (section.start < free - SLACK) faults.push(`${place} starts at ${section.start}, before ${free}`);
    last = section.start + section.length;
    free = last + job.kerf;
    if (last > usable + SLACK) faults.push(`${place} ends at ${last}, beyond ${usable}`);
    if (section.strips.length === 0) faults.push(`${place} is empty`);
    let edge = 0;
    for (const strip of section.strips) {
      const item = job.items.find((candidate) => candidate.id === strip.item);
      if (item === undefined) continue;
      const width = item.width ?? stock.width;
      if (Math.abs(strip.length - item.length) > SLACK) faults.push(`${item.id} is ${strip.length} long`);
      if (Math.abs(strip.width - width) > SLACK) faults.push(`${item.id} is ${strip.width} wide`);
      if (strip.length > section.length + SLACK) faults.push(`${item.id} is longer than ${place}`);
      if (strip.offset < edge - SLACK) faults.push(`${item.id} overlaps its neighbour in ${place}`);
      if (strip.offset + strip.width > stock.width + SLACK)
        faults.push(`${item.id} is off the board in ${place}`);
      edge = strip.offset + strip.width + job.kerf;
    }
  });
  if (Math.abs(pattern.offcut - Math.max(0, usable - last - job.kerf)) > SLACK)
    faults.push(`offcut ${pattern.offcut}, left over ${usable - last - job.kerf}`);
  return faults;
}
