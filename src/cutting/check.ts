/**
 * An independent check of a layout against its job: it knows nothing of how the layout was found and measures each board as a builder
 * would. Run after every layout; what it finds is a bug of ours.
 */
import type { BoardJob, BoardPattern, BoardResult, BoardStock } from './types.ts';

/** What may be lost to arithmetic, in the job's unit. */
const SLACK = 1e-6;

/** All that is wrong with a layout, in words; an empty list where it can be cut as it stands. */
export function checkBoards(job: BoardJob, result: BoardResult): string[] {
  const faults: string[] = [];
  const cut = new Map<string, number>();
  let cost = 0;
  let boards = 0;
  const used = new Map<string, number>();
  result.patterns.forEach((pattern, index) => {
    const place = `pattern ${index + 1}`;
    const stock = job.stocks.find((candidate) => candidate.id === pattern.stock);
    if (stock === undefined) {
      faults.push(`${place}: no stock ${pattern.stock}`);
      return;
    }
    if (!Number.isSafeInteger(pattern.count) || pattern.count < 1)
      faults.push(`${place}: count ${pattern.count}`);
    faults.push(...checkBoard(job, stock, pattern).map((fault) => `${place}: ${fault}`));
    for (const section of pattern.sections)
      for (const strip of section.strips) cut.set(strip.item, (cut.get(strip.item) ?? 0) + pattern.count);
    cost += stock.price * pattern.count;
    boards += pattern.count;
    used.set(stock.id, (used.get(stock.id) ?? 0) + pattern.count);
  });

  for (const id of result.unplaced) cut.set(id, (cut.get(id) ?? 0) + 1);
  for (const item of job.items) {
    const times = cut.get(item.id) ?? 0;
    if (times !== item.quantity)
      faults.push(`item ${item.id}: ${times} laid out or listed, ${item.quantity} needed`);
    cut.delete(item.id);
  }
  for (const id of cut.keys()) faults.push(`item ${id} is not in the job`);
  for (const stock of job.stocks)
    if ((used.get(stock.id) ?? 0) > (stock.limit ?? Infinity))
      faults.push(`stock ${stock.id}: more than its limit`);

  const near = (a: number, b: number): boolean => Math.abs(a - b) <= SLACK * Math.max(1, Math.abs(b));
  if (!near(result.cost, cost)) faults.push(`cost ${result.cost}, boards cost ${cost}`);
  if (result.boards !== boards) faults.push(`boards ${result.boards}, patterns have ${boards}`);
  if (result.bound > result.cost + SLACK * Math.max(1, cost))
    faults.push(`bound ${result.bound} above the cost`);
  if ((result.status === 'impossible') !== result.unplaced.length > 0)
    faults.push(`status ${result.status} with ${result.unplaced.length} pieces unplaced`);
  if (result.status === 'proved best' && !near(result.bound, result.cost))
    faults.push(`proved best with cost ${result.cost} above the bound ${result.bound}`);
  if (result.status === 'gap' && near(result.bound, result.cost)) faults.push('a gap of nothing');
  return faults;
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
