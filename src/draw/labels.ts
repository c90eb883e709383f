/** Labels under a row of pieces, spread so that none touches another; equal neighbours share one. */
import type { Line } from '../text.ts';
import { type Lettering, setLine, textAt } from './lettering.ts';
import { line, type Mark } from './marks.ts';
import type { Segment } from './plane.ts';

/** What stands under a piece that runs from `from` to `to`. */
export interface UnderLabel {
  readonly from: number;
  readonly to: number;
  readonly text: Line;
  /** Neighbours with the same mark may be told together; empty: never. */
  readonly same: string;
  /** The label for several alike. */
  readonly repeat?: (count: number) => Line;
}

interface Spread {
  readonly from: number;
  readonly to: number;
  readonly lettering: Lettering;
  readonly shared: boolean;
  x: number;
}

/** Clear paper between two labels, and between the board and its labels, mm. */
const APART = 2.2;
const DROP = 1.5;
const ROW = 5.4;

/** Marks of the labels below `top`. A label that can't stand under its piece is led there by a thin line. */
export function labelsUnder(
  labels: readonly UnderLabel[],
  room: { readonly left: number; readonly right: number; readonly top: number },
): Mark[] {
  const items = grouped(labels);
  if (items.length === 0) return [];
  const needed = items.reduce((sum, item) => sum + item.lettering.width + APART, -APART);
  // More words than the row holds: every second label goes a row lower.
  const rows =
    needed <= room.right - room.left ? 1 : Math.min(4, Math.ceil(needed / (room.right - room.left)));
  for (let row = 0; row < rows; row++)
    spread(
      items.filter((_, index) => index % rows === row),
      room,
    );
  const texts: Mark[] = [];
  const lines: Segment[] = [];
  const rise = Math.max(...items.map((item) => item.lettering.ascent));
  items.forEach((item, index) => {
    const row = index % rows;
    const middle = (item.from + item.to) / 2;
    const centre = item.x + item.lettering.width / 2;
    const off = Math.abs(centre - middle) > (item.to - item.from) / 2 - 0.5;
    const lead = off || rows > 1;
    const top = room.top + (items.some((i) => leads(i, rows)) ? DROP + 2.2 : DROP) + row * ROW;
    texts.push(textAt(item.lettering, [item.x, top + rise]));
    if (item.shared)
      lines.push([
        [item.from + 0.6, room.top + 1.1],
        [item.to - 0.6, room.top + 1.1],
      ]);
    if (lead)
      lines.push([
        [middle, room.top + (item.shared ? 1.1 : 0.5)],
        [
          clamp(middle, item.x + 1, item.x + item.lettering.width - 1),
          top + rise - item.lettering.ascent - 0.7,
        ],
      ]);
  });
  return [...(lines.length > 0 ? [line('thin', ...lines)] : []), ...texts];
}

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

const leads = (item: Spread, rows: number): boolean =>
  rows > 1 ||
  item.shared ||
  Math.abs(item.x + item.lettering.width / 2 - (item.from + item.to) / 2) > (item.to - item.from) / 2 - 0.5;

/** Equal neighbours that are too narrow for their words become one label. */
function grouped(labels: readonly UnderLabel[]): Spread[] {
  const result: Spread[] = [];
  for (let i = 0; i < labels.length; i++) {
    const first = labels[i] as UnderLabel;
    let last = i;
    while (first.same !== '' && labels[last + 1]?.same === first.same && first.repeat) last++;
    const single = setLine(first.text);
    const tight = single.width + APART > first.to - first.from;
    if (last > i && tight && first.repeat) {
      const to = (labels[last] as UnderLabel).to;
      result.push({
        from: first.from,
        to,
        lettering: setLine(first.repeat(last - i + 1)),
        shared: true,
        x: 0,
      });
      i = last;
    } else result.push({ from: first.from, to: first.to, lettering: single, shared: false, x: 0 });
  }
  return result;
}

/** Moves labels off each other along the row, as little as it takes: neighbours that meet become a block about their middles. */
function spread(items: readonly Spread[], room: { left: number; right: number }): void {
  interface Cluster {
    members: Spread[];
    width: number;
    /** Where its left end would like to be, and how many ask for it. */
    wish: number;
  }
  const clusters: Cluster[] = [];
  const held = (c: Cluster): number => clamp(c.wish, room.left, Math.max(room.left, room.right - c.width));
  for (const item of items) {
    const width = item.lettering.width;
    clusters.push({ members: [item], width, wish: (item.from + item.to) / 2 - width / 2 });
    for (;;) {
      const b = clusters[clusters.length - 1] as Cluster;
      const a = clusters[clusters.length - 2];
      if (!a || held(a) + a.width + APART <= held(b)) break;
      clusters.pop();
      clusters.pop();
      const [n, m] = [a.members.length, b.members.length];
      const wish = (a.wish * n + (b.wish - a.width - APART) * m) / (n + m);
      clusters.push({ members: [...a.members, ...b.members], width: a.width + APART + b.width, wish });
    }
  }
  for (const cluster of clusters) {
    let x = held(cluster);
    for (const item of cluster.members) {
      item.x = x;
      x += item.lettering.width + APART;
    }
  }
}
