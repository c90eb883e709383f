/** Random jobs of cabinets, for tests and times. */
import type { SheetJob } from '../../../src/cutting/sheets/types.ts';
import { randomFrom } from './random.ts';

/** Parts of cabinets on sheets of 1220 × 2440 mm, with half sheets: about so many, a third of which may turn. */
export function cabinets(number: number, parts: number): SheetJob {
  const random = randomFrom(number);
  const items: SheetJob['items'][number][] = [];
  for (let left = parts; left > 0; ) {
    const quantity = Math.min(left, random(1, 6));
    left -= quantity;
    const [length, width] = [random(25, 90) * 10, random(10, 60) * 10];
    items.push({ id: `part ${items.length}`, length, width, quantity, turnable: random(0, 2) === 0 });
  }
  return {
    items,
    stocks: [
      { id: 'whole', length: 2440, width: 1220, price: 62 },
      { id: 'half', length: 1220, width: 1220, price: 36 },
    ],
    kerf: 3,
    edgeTrim: 5,
    stages: 4,
    useful: 150,
  };
}
