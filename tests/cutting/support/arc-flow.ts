/**
 * Another model of the same task, to check layouts against: arc flow (Valério de Carvalho 1999). A board is a path from 0 along the
 * places where a piece can start; each arc is a piece, the last arc ends the board. It knows no patterns and no bounds of ours.
 * Whole boards only (no rips), sizes in whole numbers.
 */
import type { Column, Row, Solver } from '../../../src/cutting/highs.ts';
import type { BoardJob } from '../../../src/cutting/types.ts';

export interface ArcFlow {
  /** Pieces that no layout can place; where there are any, the rest isn't looked at. */
  readonly missing: number;
  readonly cost: number;
  readonly boards: number;
  /** Longest single offcut, a kerf taken off. */
  readonly offcut: number;
}

const LIMITS = { nodes: 1_000_000, pivots: 10_000_000, gap: 1e-6 };

export function arcFlow(job: BoardJob, solver: Solver): ArcFlow {
  const room = job.stocks.map(
    (stock) => stock.length - (job.endTrim > 0 ? job.endTrim + job.kerf : 0) + job.kerf,
  );
  const most = Math.max(...room);
  const places = new Set([0]);
  for (const from of places)
    for (const item of job.items)
      if (from + item.length + job.kerf <= most) places.add(from + item.length + job.kerf);
  const order = [...places].sort((a, b) => a - b);

  const rows: Row[] = [];
  const row = (one: Row): number => rows.push(one) - 1;
  const demand = job.items.map((item) => row({ lower: item.quantity, upper: item.quantity }));
  const flow = new Map(order.slice(1).map((place) => [place, row({ lower: 0, upper: 0 })]));
  const limit = job.stocks.map((stock) => row({ upper: stock.limit ?? 1e6 }));

  type Arc = Column & { price: number; ends?: { room: number } };
  const arcs: Arc[] = [];
  for (const from of order) {
    const out = flow.get(from);
    job.items.forEach((item, index) => {
      const to = flow.get(from + item.length + job.kerf);
      if (to === undefined) return;
      const ends = out === undefined ? [to] : [out, to];
      arcs.push({
        cost: 0,
        price: 0,
        rows: [demand[index] as number, ...ends],
        values: [1, ...(out === undefined ? [1] : [-1, 1])],
      });
    });
    if (out !== undefined)
      job.stocks.forEach((stock, index) => {
        const left = (room[index] as number) - from;
        if (left < 0) return;
        arcs.push({
          cost: 0,
          price: stock.price,
          ends: { room: left },
          rows: [out, limit[index] as number],
          values: [-1, 1],
        });
      });
  }
  const least = (columns: readonly Column[], more: readonly Row[] = []) => {
    const answer = solver.integer({ rows: [...rows, ...more], columns }, LIMITS);
    if (answer.status !== 'optimal') throw new Error(`arc flow: ${answer.status}`);
    return answer.objective as number;
  };

  const missing = least([
    ...arcs.map((arc) => ({ ...arc, cost: 0 })),
    ...demand.map((index) => ({ cost: 1, rows: [index], values: [1] })),
  ]);
  if (missing > 0.5) return { missing: Math.round(missing), cost: 0, boards: 0, offcut: 0 };
  const cost = least(arcs.map((arc) => ({ ...arc, cost: arc.price })));
  const costRow = rows.length;
  const priced = (arc: Arc, own: number): Column => ({
    cost: own,
    rows: [...arc.rows, costRow],
    values: [...arc.values, arc.price],
  });
  const boards = Math.round(
    least(
      arcs.map((arc) => priced(arc, arc.ends ? 1 : 0)),
      [{ upper: cost + 1e-6 }],
    ),
  );
  // one end of a board is chosen, and its offcut counted
  const countRow = costRow + 1;
  const chosenRow = costRow + 2;
  const more: Row[] = [{ upper: cost + 1e-6 }, { upper: boards }, { lower: 1, upper: 1 }];
  const columns = arcs.map((arc): Column => {
    const plain = priced(arc, 0);
    return arc.ends ? { ...plain, rows: [...plain.rows, countRow], values: [...plain.values, 1] } : plain;
  });
  arcs.forEach((arc, index) => {
    if (!arc.ends) return;
    const own = rows.length + more.push({ lower: 0 }) - 1;
    columns[index] = {
      ...(columns[index] as Column),
      rows: [...(columns[index] as Column).rows, own],
      values: [...(columns[index] as Column).values, 1],
    };
    columns.push({ cost: -arc.ends.room, upper: 1, rows: [chosenRow, own], values: [1, -1] });
  });
  const left = -least(columns, more);
  return { missing: 0, cost, boards, offcut: Math.max(0, left - job.kerf) };
}
