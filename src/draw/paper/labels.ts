/** Labels under a row of pieces, spread so that none touches another; equal neighbours share one. */
import { type Line, type Run, text } from '../../text.ts';
import { type Lettering, setLine, textAt } from './lettering.ts';
import { line, type Mark } from './marks.ts';
import type { Segment } from './plane.ts';

/** What stands under a piece that runs from `from` to `to`. */
export interface UnderLabel {
  readonly from: number;
  readonly to: number;
  readonly text: Line;
  /** The letter alone, for a row with more words than it holds: the words then follow in a list. Absent: only listed. */
  readonly short?: Line;
  /** Equal neighbours with the same mark may be told together; empty: never. */
  readonly same: string;
}

interface Spread {
  readonly from: number;
  readonly to: number;
  readonly lettering: Lettering;
  readonly shared: boolean;
  readonly optional: boolean;
  x: number;
}

interface RowRoom {
  readonly left: number;
  readonly right: number;
  /** Lower edge of the board. */
  readonly top: number;
}

/** Clear paper between two labels, and between the board and its labels, mm. */
const APART = 2.2;
const DROP = 1.5;
const LEADER = 2.2;
/** An optional label further than this from the middle of its piece is left out, mm. */
const STRAY = 12;
/** From one line of the list to the next, and between its entries, mm. */
const LINE = 5.4;
const ENTRY = 4;

/** Marks of the labels below a board. A label that can't stand under its piece is led there by a thin line. */
export function labelsUnder(labels: readonly UnderLabel[], room: RowRoom): Mark[] {
  if (labels.length === 0) return [];
  const full = withoutStrays(
    grouped(labels, (label) => label.text),
    room,
  );
  if (widthOf(full) <= room.right - room.left) return rowMarks(full, room).marks;
  const lettered = labels.filter((label) => label.short !== undefined);
  const short = (label: UnderLabel): Line => label.short ?? [];
  const single = lettered.map((label) => spreadOf(label, short(label)));
  const fits = widthOf(single) <= room.right - room.left;
  const row = rowMarks(fits ? single : grouped(lettered, short), room);
  return [...row.marks, ...listMarks(labels, { ...room, top: row.bottom })];
}

/** Leaves out what is only worth a word near its place, such as a short offcut, where the row pushes it far off. */
function withoutStrays(items: Spread[], room: RowRoom): Spread[] {
  spread(items, room);
  const strays = (item: Spread): boolean =>
    item.optional && Math.abs(item.x + item.lettering.width / 2 - (item.from + item.to) / 2) > STRAY;
  return items.filter((item) => !strays(item));
}

const spreadOf = (label: UnderLabel, said: Line): Spread => ({
  from: label.from,
  to: label.to,
  lettering: setLine(said),
  shared: false,
  optional: label.short === undefined,
  x: 0,
});

const widthOf = (items: readonly Spread[]): number =>
  items.reduce((sum, item) => sum + item.lettering.width + APART, -APART);

const clamp = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));

/** Equal neighbours that are too narrow for their words become one label: `4 × D  445`. */
function grouped(labels: readonly UnderLabel[], words: (label: UnderLabel) => Line): Spread[] {
  const result: Spread[] = [];
  for (let i = 0; i < labels.length; i++) {
    const first = labels[i] as UnderLabel;
    let last = i;
    while (first.same !== '' && labels[last + 1]?.same === first.same) last++;
    const single = spreadOf(first, words(first));
    const tight = single.lettering.width + APART > first.to - first.from;
    if (last > i && tight) {
      const many = setLine([text(`${last - i + 1} × `), ...words(first)]);
      result.push({
        from: first.from,
        to: (labels[last] as UnderLabel).to,
        lettering: many,
        shared: true,
        optional: false,
        x: 0,
      });
      i = last;
    } else result.push(single);
  }
  return result;
}

function rowMarks(items: readonly Spread[], room: RowRoom): { marks: Mark[]; bottom: number } {
  if (items.length === 0) return { marks: [], bottom: room.top };
  spread(items, room);
  const leads = (item: Spread): boolean =>
    item.shared ||
    Math.abs(item.x + item.lettering.width / 2 - (item.from + item.to) / 2) > (item.to - item.from) / 2 - 0.5;
  const rise = Math.max(...items.map((item) => item.lettering.ascent));
  const fall = Math.max(...items.map((item) => item.lettering.descent));
  const base = room.top + DROP + (items.some(leads) ? LEADER : 0) + rise;
  const lines = items.filter(leads).flatMap((item): Segment[] => {
    const middle = (item.from + item.to) / 2;
    const from = room.top + (item.shared ? 1.1 : 0.5);
    const { width, ascent } = item.lettering;
    const inset = Math.min(1, width / 2);
    const foot: Segment = [
      [middle, from],
      [clamp(middle, item.x + inset, item.x + width - inset), base - ascent - 0.7],
    ];
    const bracket: Segment = [
      [item.from + 0.6, from],
      [item.to - 0.6, from],
    ];
    return item.shared ? [bracket, foot] : [foot];
  });
  const texts = items.map((item) => textAt(item.lettering, [item.x, base]));
  return { marks: [...(lines.length > 0 ? [line('thin', ...lines)] : []), ...texts], bottom: base + fall };
}

/** What the letters stand for: each kind once, in the order of the pieces. */
function listMarks(labels: readonly UnderLabel[], room: RowRoom): Mark[] {
  const kinds = new Map<string, { said: Line; count: number }>();
  for (const label of labels) {
    const key = JSON.stringify(label.text);
    const known = kinds.get(key);
    if (known) known.count++;
    else kinds.set(key, { said: label.text, count: 1 });
  }
  let [x, base] = [room.left, room.top + LINE - 0.6];
  return [...kinds.values()].flatMap(({ said, count }) => {
    const whole = count > 1 ? [text(`${count} × `), ...said] : said;
    // What no line holds goes on in the next, after a semicolon.
    const pieces = setLine(whole).width <= room.right - room.left ? [whole] : brokenUp(whole);
    return pieces.map((piece) => {
      const lettering = setLine(piece);
      if (x > room.left && x + lettering.width > room.right) [x, base] = [room.left, base + LINE];
      const mark = textAt(lettering, [x, base]);
      x += lettering.width + ENTRY;
      return mark;
    });
  });
}

/** What stands between the strips of a section. */
export const SEMICOLON = text(';  ');

/** A line of words in pieces, each but the last with its semicolon. */
function brokenUp(words: Line): Line[] {
  const pieces: Run[][] = [[]];
  for (const run of words) {
    if (run === SEMICOLON) {
      pieces.at(-1)?.push(text(';'));
      pieces.push([]);
    } else pieces.at(-1)?.push(run);
  }
  return pieces;
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
