/**
 * Reads a part's sheet back: what is said of each thing, by its name, and from which end of the board a size is taken (its strokes stand
 * there). What is seen without figures, such as the side that a hole is in, is taken from the model; every number from the print.
 */
import { expect } from 'vitest';
import type { Drawing } from '../../src/draw/types.ts';
import type { BlankSize, Side } from '../../src/model/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { INCH } from '../../src/units.ts';
import { dimensionLines } from './clear.ts';
import { readSvg, type Xy } from './read-svg.ts';

/** A number as it is printed: `3 1/2″`, `3/4″`, `25`, `9.5`. */
export const LENGTH = String.raw`(?:\d+(?: \d+\/\d+)?|\d+\/\d+)″|\d+(?:\.\d+)?`;

/** Millimetres of a printed number. */
export function lengthFrom(text: string): number {
  const inch = /^(?:(\d+)(?=[ ″]) ?)?(?:(\d+)\/(\d+))?″$/.exec(text);
  return inch ? (Number(inch[1] ?? 0) + Number(inch[2] ?? 0) / Number(inch[3] ?? 1)) * INCH : Number(text);
}

interface Said {
  readonly text: string;
  /** Places on paper of a size's two ends along its line, in order, and whether the line is level. */
  readonly ends?: { readonly from: number; readonly to: number; readonly level: boolean };
}

const distance = (p: Xy, a: Xy, b: Xy): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
};

/** What is said of each thing, by its name; a name said twice is a fault. A text over several lines is one. */
export function saidOn(drawing: Drawing): Map<string, Said> {
  const drawn = readSvg(drawing.svg);
  const strokes = drawn.lines
    .filter((l) => l.role === 'k-v' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 3) < 0.02)
    .map((l): Xy => [(l.a[0] + l.b[0]) / 2, (l.a[1] + l.b[1]) / 2]);
  const measures = dimensionLines(drawn);
  const names = [...drawing.svg.matchAll(/<g class="k-tx"[^>]*?>/g)].map(
    ([tag]) => /data-of="([^"]*)"/.exec(tag)?.[1] ?? '',
  );
  const said = new Map<string, Said>();
  drawn.texts.forEach((text, i) => {
    const middle = text.corners.reduce<Xy>((sum, c) => [sum[0] + c[0] / 4, sum[1] + c[1] / 4], [0, 0]);
    const turned = Math.abs(text.corners[1][0] - text.corners[0][0]) < 0.01;
    const line = measures
      .filter((l) => Math.abs(turned ? l.a[0] - l.b[0] : l.a[1] - l.b[1]) < 0.01)
      .sort((p, q) => distance(middle, p.a, p.b) - distance(middle, q.a, q.b))[0];
    const ends =
      line === undefined || distance(middle, line.a, line.b) > 4.2
        ? undefined
        : strokes.filter((s) => distance(s, line.a, line.b) < 0.02).map((s) => (turned ? s[1] : s[0]));
    for (const name of (names[i] as string).split(', ').filter((n) => n !== '')) {
      const more = /^(.*) more \d+$/.exec(name)?.[1];
      if (more !== undefined) {
        const known = said.get(more) as Said;
        said.set(more, { ...known, text: `${known.text} ${text.text}`.replaceAll(/\s+/g, ' ') });
        continue;
      }
      expect(said.has(name), `${drawing.id} says ${name} twice`).toBe(false);
      said.set(name, {
        text: text.text,
        ...(ends ? { ends: { from: Math.min(...ends), to: Math.max(...ends), level: !turned } } : {}),
      });
    }
  });
  return said;
}

const AXES = ['length', 'width', 'thickness'] as const;
/** Words for the two ends of each own axis. */
const ENDS = [
  ['from the left end', 'from the right end'],
  ['from the lower edge', 'from the upper edge'],
] as const;

const SIDE_WORDS: Readonly<Record<Exclude<Side, 'face' | 'reverse'>, string>> = {
  'low edge': 'lower edge',
  'high edge': 'upper edge',
  start: 'left end',
  end: 'right end',
};

/** What a sheet calls the face that it draws and the one behind. */
export interface FaceNames {
  readonly shown: string;
  readonly behind: string;
}

/** What a sheet prints, as numbers; sizes and places are in mm, the board's own axes from the corner of its blank. */
export class Sheet {
  readonly said: Map<string, Said>;
  /** As printed, whole. */
  readonly size: readonly [number, number, number];
  /** Most that print rounds a size by: half a sixteenth of an inch, half a millimetre. */
  readonly half: number;
  readonly id: string;
  readonly faces: FaceNames;
  private readonly projection: Drawing['projection'];
  /** True where the face behind is drawn too, turned over along the length. */
  readonly second: boolean;
  /** Heights on paper of level lines, in which the rims of a second view are found. */
  private readonly levels: readonly number[];

  constructor(drawing: Drawing, edition: Edition, faces: FaceNames = { shown: 'show face', behind: 'back' }) {
    this.id = drawing.id;
    this.said = saidOn(drawing);
    this.faces = faces;
    this.projection = drawing.projection;
    const second = [...this.said.values()].find(({ text }) => text.startsWith('Second view: '));
    this.second = second !== undefined;
    if (second) expect(second.text).toContain(`the ${faces.behind}, the board turned over along its length`);
    this.levels = readSvg(drawing.svg)
      .lines.filter(({ role, a, b }) => role === 'k-v' && Math.abs(a[1] - b[1]) < 0.01)
      .map(({ a }) => a[1]);
    this.half = edition.numbers.system === 'inch' ? INCH / 32 : 0.5;
    this.size = AXES.map((name) => this.number(`overall ${name}`)) as unknown as [number, number, number];
  }

  has = (name: string): boolean => this.said.has(name);

  text(name: string): string {
    const found = this.said.get(name);
    expect(
      found,
      `${this.id}: nothing says ${name}; there are ${[...this.said.keys()].join('; ')}`,
    ).toBeTruthy();
    return (found as Said).text;
  }

  /** A side of the board as it lies on the sheet. */
  side(side: Side): string {
    return side === 'face' ? this.faces.shown : side === 'reverse' ? this.faces.behind : SIDE_WORDS[side];
  }

  /** What is cut or bored into the face behind is said to be, unless that face is drawn. */
  behind(name: string, is: boolean): void {
    const words = `from the ${this.faces.behind}`;
    expect(this.text(name).includes(words), `${this.id}: ${this.text(name)}`).toBe(is && !this.second);
  }

  /** The last number of a text that matches, or its first group; of what it is the place of the diameter may stand there too. */
  number(name: string, pattern?: RegExp): number {
    const last = new RegExp(`(${LENGTH})(?!.*(?:${LENGTH}))`);
    const said = this.text(name);
    const found = pattern
      ? pattern.exec(said)
      : last.exec(said.replaceAll(new RegExp(`Ø (?:${LENGTH})`, 'g'), ''));
    expect(found, `${this.id}: ${pattern ?? 'a number'} in "${said}"`).toBeTruthy();
    return lengthFrom((found as RegExpExecArray)[1] as string);
  }

  /** Degrees of a text. */
  angle(name: string): number {
    return Number(/([\d.]+)°/.exec(this.text(name))?.[1]);
  }

  /** The size of a blank as printed. */
  blank(): BlankSize {
    const [length, width, thickness] = this.size;
    return { length, width, thickness } as BlankSize;
  }

  /**
   * From which end of the board a size along an axis is taken: its strokes stand there, or its words say so. `unseen` where it is
   * drawn in a view without the size over all: then the eye sees it.
   */
  private end(name: string, axis: 0 | 1 | 2): 'low' | 'high' | 'between' | 'unseen' {
    const { shown, behind } = this.faces;
    const ends = axis === 2 ? [`from the ${behind}`, `from the ${shown}`] : ENDS[axis];
    const words = ends.map((word) =>
      [word, word.replace('from', 'beyond')].some((one) => this.text(name).includes(one)),
    );
    if (words[0]) return 'low';
    if (words[1]) return 'high';
    const own = this.said.get(name)?.ends;
    const overall = this.said.get(`overall ${AXES[axis]}`)?.ends;
    if (!own || !overall || own.level !== overall.level) return 'unseen';
    // Along the paper the board's length runs right, its width up, its thickness towards the view of its face.
    const [low, high] =
      axis === 0 || (axis === 2 && this.fromAbove())
        ? [overall.from, overall.to]
        : axis === 1
          ? this.rims(own, overall)
          : [overall.to, overall.from];
    const near = (a: number, b: number) => Math.abs(a - b) < 0.05;
    if (near(own.from, low) || near(own.to, low)) return 'low';
    return near(own.from, high) || near(own.to, high) ? 'high' : 'between';
  }

  /** True where the view of an edge is that of the upper one: in third-angle projection it then stands above the face. */
  private fromAbove(): boolean {
    const [edge, face] = ['overall thickness', 'overall width'].map((name) => this.said.get(name)?.ends);
    if (!edge || !face) return false;
    return edge.from < face.from === (this.projection === 'third angle');
  }

  /** The lower and the upper edge, of the view in which a size across the width stands: in a second view the upper edge is below. */
  private rims(own: { from: number; to: number }, overall: { from: number; to: number }): [number, number] {
    const within = ([top, bottom]: readonly [number, number]): boolean =>
      own.from > top - 0.05 && own.to < bottom + 0.05;
    if (within([overall.from, overall.to]) || !this.second) return [overall.to, overall.from];
    const height = overall.to - overall.from;
    // Of an edge and a line next to it only one is drawn where they would run together: the pair of lines that fits best is it.
    const off = (rim: number): number => Math.min(...this.levels.map((level) => Math.abs(level - rim)));
    const found = this.levels
      .flatMap((level) => [level, level - height])
      .map((top) => [top, top + height] as const)
      .filter((view) => within(view) && Math.max(...view.map(off)) < 0.72)
      .sort((a, b) => Math.max(...a.map(off)) - Math.max(...b.map(off)))[0];
    expect(found, `${this.id}: no edges of the second view`).toBeDefined();
    return found as [number, number];
  }

  /** A place along an axis. @param seen where it is about, for sizes whose end only the eye sees */
  place(name: string, axis: 0 | 1 | 2, seen: number): number {
    const value = this.number(name);
    const whole = this.size[axis];
    const end = this.end(name, axis);
    if (end === 'low') return value;
    if (end === 'high') return whole - value;
    expect(end, `${this.id}: ${name} is taken from nowhere`).toBe('unseen');
    return Math.abs(value - seen) <= Math.abs(whole - value - seen) ? value : whole - value;
  }

  /** A place, or the end of the board where it lies there and nothing says it. */
  placeOrRim(name: string, axis: 0 | 1 | 2, seen: number, whole: number): number {
    if (Math.abs(seen) < 0.05) return 0;
    if (Math.abs(seen - whole) < 0.05) return this.size[axis];
    if (seen > 0 && seen < whole) return this.place(name, axis, seen);
    // A middle of an arc off the board: so far beyond its end, as the size's lines or its words have it.
    const end = this.end(name, axis);
    expect(end, `${this.id}: ${name} off the board`).toBe(seen < 0 ? 'low' : 'high');
    return seen < 0 ? -this.number(name) : this.size[axis] + this.number(name);
  }

  /** Where something reaches along an axis: one size from a rim, or a place and a size. @param seen where it reaches about */
  span(name: string, axis: 0 | 1 | 2, seen: readonly [number, number], whole: number): [number, number] {
    const [low, high] = [seen[0] < 0.05, seen[1] > whole - 0.05];
    if (low && high) return [0, this.size[axis]];
    const long = this.number(`${name} span`);
    if (low) return [0, long];
    if (high) return [this.size[axis] - long, this.size[axis]];
    const middle = (seen[0] + seen[1]) / 2;
    const at = this.place(
      `${name} place`,
      axis,
      this.end(`${name} place`, axis) === 'low' ? seen[0] : seen[1],
    );
    // Measured from the nearer rim: its near end.
    return at < middle ? [at, at + long] : [at - long, at];
  }
}
