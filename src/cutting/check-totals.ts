/**
 * What a layout must add up to, of boards or of sheets: each part as often as the job asks for it, stocks within their limits, cost, count
 * and proof. Like the checks of single boards and sheets it knows nothing of how a layout was found.
 */

/** What may be lost to arithmetic, in the job's unit. */
export const SLACK = 1e-6;

/** True where two figures differ by arithmetic only. */
export const near = (a: number, b: number): boolean => Math.abs(a - b) <= SLACK * Math.max(1, Math.abs(b));

interface Job<Stock> {
  readonly items: readonly { readonly id: string; readonly quantity: number }[];
  readonly stocks: readonly Stock[];
}

interface Result<Pattern> {
  readonly patterns: readonly Pattern[];
  readonly cost: number;
  readonly bound: number;
  readonly status: 'proved best' | 'gap' | 'impossible';
  readonly unplaced: readonly string[];
}

/** What of a layout is different for boards and for sheets. */
interface Kind<Stock, Pattern> {
  readonly called: 'boards' | 'sheets';
  readonly items: 'pieces' | 'parts';
  /** How many boards or sheets the result says it takes. */
  readonly said: number;
  /** Ids of the items in a pattern, one a piece. */
  readonly itemsIn: (pattern: Pattern) => readonly string[];
  /** What is wrong with one board or sheet. */
  readonly faultsIn: (stock: Stock, pattern: Pattern) => readonly string[];
}

/** All that is wrong with a layout, in words; an empty list where it can be cut as it stands. */
export function checkTotals<
  Stock extends { readonly id: string; readonly price: number; readonly limit?: number },
  Pattern extends { readonly stock: string; readonly count: number },
>(job: Job<Stock>, result: Result<Pattern>, kind: Kind<Stock, Pattern>): string[] {
  const { called, items, said } = kind;
  const faults: string[] = [];
  const cut = new Map<string, number>();
  const used = new Map<string, number>();
  let cost = 0;
  let taken = 0;
  result.patterns.forEach((pattern, index) => {
    const place = `pattern ${index + 1}`;
    const stock = job.stocks.find((candidate) => candidate.id === pattern.stock);
    if (stock === undefined) {
      faults.push(`${place}: no stock ${pattern.stock}`);
      return;
    }
    if (!Number.isSafeInteger(pattern.count) || pattern.count < 1)
      faults.push(`${place}: count ${pattern.count}`);
    faults.push(...kind.faultsIn(stock, pattern).map((fault) => `${place}: ${fault}`));
    for (const id of kind.itemsIn(pattern)) cut.set(id, (cut.get(id) ?? 0) + pattern.count);
    cost += stock.price * pattern.count;
    taken += pattern.count;
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

  if (!near(result.cost, cost)) faults.push(`cost ${result.cost}, ${called} cost ${cost}`);
  if (said !== taken) faults.push(`${called} ${said}, patterns have ${taken}`);
  if (result.bound > result.cost + SLACK * Math.max(1, cost))
    faults.push(`bound ${result.bound} above the cost`);
  if ((result.status === 'impossible') !== result.unplaced.length > 0)
    faults.push(`status ${result.status} with ${result.unplaced.length} ${items} unplaced`);
  if (result.status === 'proved best' && !near(result.bound, result.cost))
    faults.push(`proved best with cost ${result.cost} above the bound ${result.bound}`);
  if (result.status === 'gap' && near(result.bound, result.cost)) faults.push('a gap of nothing');
  return faults;
}
