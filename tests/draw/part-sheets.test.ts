/**
 * Part sheets: the operations of each board are worked out again from the numbers printed on its sheet alone, and compared with the
 * model within the rounding of print. Which end a size is taken from is read off the drawing: its strokes stand at that end.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import type { Copy, Plan, ShapeOperation } from '../../src/model/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { INCH } from '../../src/units.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { crossings, overlaps } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { readSvg, type Xy } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

/** Boards with every shape that a sheet has sizes for. Invented. */
const PARTS = `post:
  stock: 2x4
  runs: up
  wide face: front
  length: 24 in | 600 mm
  at: { bottom: floor, left: left, front: front }
  copies: mirrored left-right
  shape:
    - { mitre: top, angle: 30 deg, long: left }
    - { hole: front, at: { up: 4 in | 100 mm }, diameter: 3/4 in | 20 mm }
    - { hole: front, at: { up: 8 in | 200 mm }, diameter: 1/2 in | 12 mm, depth: 1 in | 25 mm, repeated: 4, along: up, spacing: 2 in | 50 mm }
    - { notch: { left: left, right: left + 1 in | left + 25 mm, bottom: floor, top: 2 in | 50 mm } }

rail:
  stock: 1x4
  runs: across
  wide face: front
  length: 40 in | 1000 mm
  at: { top: 20 in | 500 mm, front: front, left: left }
  shape:
    - { housing: front, at: { left: left + 8 in | left + 200 mm, right: left + 8.75 in | left + 219 mm }, depth: 1/4 in | 6 mm }
    - { groove: back, at: { bottom: rail.bottom + 0.5 in | rail.bottom + 12 mm, top: rail.bottom + 0.75 in | rail.bottom + 18 mm }, depth: 1/4 in | 6 mm }

panel:
  stock: 1x6
  runs: across
  wide face: top
  length: 20 in | 500 mm
  at: { bottom: 26 in | 650 mm, left: left, front: front }
  shape:
    - { bevel: right, angle: 10 deg, long: top }
    - { hole: top, at: { across: left + 2 in | left + 50 mm, deep: front + 2 in | front + 50 mm }, diameter: 3/8 in | 10 mm, counterbore: { diameter: 3/4 in | 20 mm, depth: 1/4 in | 6 mm }, repeated: 3, along: across, spacing: 4 in | 100 mm }

leg:
  stock: 2x4
  runs: up
  wide face: front
  length: 16 in | 400 mm
  at: { bottom: floor, left: left + 8 in | left + 200 mm, back: back }
  shape:
    - { taper: [right], end: bottom, from: 10 in | 250 mm, leaves: 2 in | 50 mm }
    - { hole: left, at: { up: 14 in | 350 mm }, diameter: 3/8 in | 10 mm, depth: 1 in | 25 mm, lean: { top: 10 deg } }

shelf:
  stock: 1x4
  runs: across
  wide face: top
  length: 30 in | 800 mm
  at: { bottom: 30 in | 750 mm, left: left, front: front }
  shape:
    - { rebate: { back: 3/8 in | 10 mm, bottom: 1/4 in | 6 mm } }
    - { notch: { left: left + 10 in | left + 250 mm, right: left + 12 in | left + 300 mm, front: front, back: front + 1 in | front + 25 mm } }
    - { chamfer: front top, width: 1/8 in | 3 mm }
`;

/** A number as it is printed: `3 1/2″`, `Ø 3/4″`, `25`; millimetres. */
const LENGTH = String.raw`(?:\d+(?: \d+\/\d+)?|\d+\/\d+)″|\d+(?:\.\d+)?`;
function lengthFrom(text: string): number {
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

/** What is said of each thing, by its name; a name said twice is a fault. */
function saidOn(drawing: Drawing): Map<string, Said> {
  const drawn = readSvg(drawing.svg);
  const strokes = drawn.lines
    .filter((l) => l.role === 'k-v' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 3) < 0.02)
    .map((l): Xy => [(l.a[0] + l.b[0]) / 2, (l.a[1] + l.b[1]) / 2]);
  const names = [...drawing.svg.matchAll(/<g class="k-tx"[^>]*?>/g)].map(
    ([tag]) => /data-of="([^"]*)"/.exec(tag)?.[1] ?? '',
  );
  const said = new Map<string, Said>();
  drawn.texts.forEach((text, i) => {
    const middle = text.corners.reduce<Xy>((sum, c) => [sum[0] + c[0] / 4, sum[1] + c[1] / 4], [0, 0]);
    const turned = Math.abs(text.corners[1][0] - text.corners[0][0]) < 0.01;
    const line = drawn.lines
      .filter((l) => l.role === 'k-t' && Math.abs(turned ? l.a[0] - l.b[0] : l.a[1] - l.b[1]) < 0.01)
      .filter((l) => strokes.filter((s) => distance(s, l.a, l.b) < 0.02).length >= 2)
      .sort((p, q) => distance(middle, p.a, p.b) - distance(middle, q.a, q.b))[0];
    const ends =
      line === undefined || distance(middle, line.a, line.b) > 4.2
        ? undefined
        : strokes.filter((s) => distance(s, line.a, line.b) < 0.02).map((s) => (turned ? s[1] : s[0]));
    for (const name of (names[i] as string).split(', ').filter((n) => n !== '')) {
      expect(said.has(name), `${drawing.id} says ${name} twice`).toBe(false);
      said.set(name, {
        text: text.text,
        ...(ends ? { ends: { from: Math.min(...ends), to: Math.max(...ends), level: !turned } } : {}),
      });
    }
  });
  return said;
}

/** Works out the operations of a board again from its sheet. */
class Rebuilt {
  private readonly said: Map<string, Said>;
  private readonly size: Copy['size'];
  readonly half: number;

  constructor(drawing: Drawing, size: Copy['size'], edition: Edition) {
    this.said = saidOn(drawing);
    this.size = size;
    // Print is to a sixteenth or a millimetre; a place from the other end has the board's own rounding too.
    this.half = edition.numbers.system === 'inch' ? INCH / 32 : 0.5;
  }

  has = (name: string): boolean => this.said.has(name);

  text(name: string): string {
    const found = this.said.get(name);
    expect(found, `nothing says ${name}; there are ${[...this.said.keys()].join('; ')}`).toBeTruthy();
    return (found as Said).text;
  }

  number = (name: string): number => {
    const found = new RegExp(`(${LENGTH})(?!.*(?:${LENGTH}))`).exec(this.text(name));
    return lengthFrom(found?.[1] as string);
  };

  whole = (axis: 0 | 1 | 2): number =>
    [this.size.length, this.size.width, this.size.thickness][axis] as number;

  /** A place along an axis: from which end it is taken, its strokes tell. */
  place(name: string, axis: 0 | 1 | 2): number[] {
    const value = this.number(name);
    const own = this.said.get(name)?.ends;
    const overall = this.said.get(`overall ${['length', 'width', 'thickness'][axis]}`)?.ends;
    const both = [value, this.whole(axis) - value];
    if (!own || !overall || own.level !== overall.level) return both;
    // Along the paper the board's length runs right, its width up.
    const [low, high] = axis === 0 ? [overall.from, overall.to] : [overall.to, overall.from];
    const near = (a: number, b: number) => Math.abs(a - b) < 0.05;
    if (near(own.from, low) || near(own.to, low)) return [both[0] as number];
    if (near(own.from, high) || near(own.to, high)) return [both[1] as number];
    return both;
  }

  near(value: number, expected: number, what: string, by = this.half): void {
    expect(Math.abs(value - expected), `${what}: ${value} for ${expected}`).toBeLessThanOrEqual(by + 1e-6);
  }

  oneOf(values: readonly number[], expected: number, what: string): void {
    const off = Math.min(...values.map((value) => Math.abs(value - expected)));
    expect(off, `${what}: ${values} for ${expected}`).toBeLessThanOrEqual(2 * this.half);
  }

  /** Where something reaches along an axis. */
  span(name: string, axis: 0 | 1 | 2, min: number, max: number): void {
    const whole = this.whole(axis);
    if (min < 0.05 && max > whole - 0.05) return;
    const long = this.number(`${name} span`);
    this.near(long, max - min, `${name} span`);
    if (this.has(`${name} place`)) {
      const at = this.place(`${name} place`, axis);
      expect(Math.min(...at.flatMap((v) => [Math.abs(v - min), Math.abs(v - max)]))).toBeLessThanOrEqual(
        2 * this.half,
      );
    } else {
      const ends = this.place(`${name} span`, axis);
      this.oneOf(ends, min < 0.05 ? max : min, `${name} end`);
    }
  }
}

function compare(op: ShapeOperation, i: number, sheet: Rebuilt): void {
  if (op.kind === 'hole') {
    const words = sheet.text(`${i} hole`);
    const [, diameter] = new RegExp(`Ø (${LENGTH})`).exec(words) as RegExpExecArray;
    sheet.near(lengthFrom(diameter as string), op.diameter, 'diameter', sheet.half / 4);
    const depth = new RegExp(`Ø (?:${LENGTH}), (${LENGTH}) deep`).exec(words)?.[1];
    if (op.depth === undefined) expect(words).toContain('through');
    else sheet.near(lengthFrom(depth as string), op.depth, 'depth');
    if (op.counterbore) {
      const bore = new RegExp(`counterbore Ø (${LENGTH}), (${LENGTH}) deep`).exec(words) as RegExpExecArray;
      sheet.near(lengthFrom(bore[1] as string), op.counterbore.diameter, 'counterbore');
      sheet.near(lengthFrom(bore[2] as string), op.counterbore.depth, 'depth of the counterbore');
    }
    if (op.angle > 0.01) {
      // A pocket's angle is said to the face, others out of square to it.
      const said = Number(/([\d.]+)°/.exec(words)?.[1]);
      expect(op.name === 'pocket' ? 90 - said : said).toBeCloseTo(op.angle, 1);
      expect(words).toContain(op.leans.join(' and '));
    }
    const axes = {
      face: [0, 1],
      reverse: [0, 1],
      'low edge': [0, 2],
      'high edge': [0, 2],
      start: [1, 2],
      end: [1, 2],
    } as const;
    for (const axis of axes[op.side]) {
      const name = `${i} ${'xyz'[axis]}`;
      if (sheet.has(`${name} row`)) {
        const [, spaces, pitch, total] = new RegExp(`(\\d+) × (${LENGTH}) = (${LENGTH})`).exec(
          sheet.text(`${name} row`),
        ) as RegExpExecArray;
        const row = op.row as NonNullable<typeof op.row>;
        expect(Number(spaces)).toBe(row.count - 1);
        sheet.near(lengthFrom(pitch as string), row.spacing, 'pitch');
        sheet.near(lengthFrom(total as string), row.spacing * (row.count - 1), 'row');
        // One end of the row has its place said.
        const first = i - row.index;
        const end = sheet.has(`${first} ${'xyz'[axis]}`) ? 0 : row.count - 1;
        const at = sheet.place(`${first + end} ${'xyz'[axis]}`, axis);
        const step = op.axis.length > 0 ? row.spacing : 0;
        const candidates = at.flatMap((v) => [v + (row.index - end) * step, v - (row.index - end) * step]);
        sheet.oneOf(candidates, op.entry[axis] as number, `${name} in its row`);
      } else {
        const value = op.entry[axis] as number;
        if (value < 0.05 || value > sheet.whole(axis) - 0.05) continue;
        sheet.oneOf(sheet.place(name, axis), value, name);
      }
    }
  } else if (op.kind === 'box') {
    for (const axis of [0, 1, 2] as const)
      sheet.span(`${i} ${'xyz'[axis]}`, axis, op.min[axis] as number, op.max[axis] as number);
  } else if (op.kind === 'saw') {
    const angle = (name: string): number => Number(/([\d.]+)°/.exec(sheet.text(`${i} ${name}`))?.[1]);
    if (op.taper) {
      const name = [`${i} leaves start`, `${i} leaves end`].find(sheet.has) as string;
      sheet.near(sheet.number(name), op.taper.leaves, 'leaves');
      if (op.taper.length < sheet.whole(0) - 0.05)
        sheet.near(sheet.number(`${i} length`), op.taper.length, 'taper');
    } else {
      if (op.saw.mitre > 0.01) expect(angle('mitre')).toBeCloseTo(op.saw.mitre, 1);
      if (op.saw.tilt > 0.01) expect(angle('tilt')).toBeCloseTo(op.saw.tilt, 1);
    }
  } else if (op.kind === 'slot') {
    const [, width] = new RegExp(`slot (${LENGTH}) wide`).exec(sheet.text(`${i} slot`)) as RegExpExecArray;
    sheet.near(lengthFrom(width as string), op.width, 'slot');
  } else if (op.kind === 'edge') sheet.near(sheet.number(`${i} size`), op.size, 'edge');
  else if (op.kind === 'outline' && op.arc) {
    const [, rise, radius] = new RegExp(`rise (${LENGTH}).*R (${LENGTH})`).exec(
      sheet.text(`${i} arc`),
    ) as RegExpExecArray;
    sheet.near(lengthFrom(rise as string), op.arc.rise, 'rise');
    sheet.near(lengthFrom(radius as string), op.arc.radius, 'radius');
  }
}

function checkSheets(
  plan: Plan,
  shapes: (copy: Copy) => readonly ShapeOperation[],
  drawings: readonly Drawing[],
  rows: ReturnType<typeof workOf>['cutList']['rows'],
): number {
  let count = 0;
  for (const drawing of drawings.filter((d) => d.kind === 'part')) {
    const row = rows.find((r) => `part-${r.letter}` === drawing.id);
    const copies =
      plan.parts.find((p) => p.key === row?.part)?.copies.filter((c) => row?.copies.includes(c.id)) ?? [];
    const copy = copies.find((c) => !c.frame.mirrored) ?? copies[0];
    if (!copy) throw new Error(drawing.id);
    const sheet = new Rebuilt(drawing, copy.size, plan.edition);
    for (const [name, size] of [
      ['length', copy.size.length],
      ['width', copy.size.width],
      ['thickness', copy.size.thickness],
    ] as const)
      sheet.near(sheet.number(`overall ${name}`), size, name);
    shapes(copy).forEach((op, i) => {
      if (op.kind === 'tongue') return;
      compare(op, i, sheet);
      count++;
    });
  }
  return count;
}

describe('a part can be made from its sheet', () => {
  for (const edition of [inch, metric])
    it(`with every kind of cut, ${edition.key}`, () => {
      const plan = built({ parts: PARTS }, edition);
      const work = workOf(plan);
      const set = drawPlan(work);
      // By hand: 1 mitre, 5 holes and a notch; 2; 1 and 3; 2; 3.
      expect(checkSheets(plan, (copy) => copy.shape, set.drawings, work.cutList.rows)).toBe(18);
      checkSheets(plan, (copy) => copy.shape, set.narrow, work.cutList.rows);
      for (const drawing of [...set.drawings, ...set.narrow].filter((d) => d.kind === 'part')) {
        const drawn = readSvg(drawing.svg);
        expect(overlaps(drawn), drawing.id).toEqual([]);
        expect(crossings(drawn), drawing.id).toEqual([]);
      }
    }, 60_000);

  it('in the demo plans', async () => {
    for (const { name, work } of await demoWorks(repository)) {
      const set = drawPlan(work);
      const sheets = set.drawings.filter((d) => d.kind === 'part');
      const count = checkSheets(
        work.plan,
        (copy) => new Desk(work).shapesOf(copy),
        set.drawings,
        work.cutList.rows,
      );
      expect(count, name).toBeGreaterThanOrEqual(sheets.length);
    }
  }, 60_000);

  it('with a free outline: the coat rack’s arch follows from the numbers printed, in both editions', async () => {
    for (const { name, work } of await demoWorks(repository, ['coat-rack'])) {
      const sheet = drawPlan(work).drawings.find((d) => d.id === 'part-A');
      const said = readSvg(sheet?.svg ?? '').texts.map((one) => one.text.trim());
      const number = (text: string): number => {
        const [whole = '0', fraction] = text
          .replace('″', '')
          .trim()
          .split(/ (?=\d+\/)/);
        const [top, bottom] = (fraction ?? (whole.includes('/') ? whole : '0/1')).split('/').map(Number);
        return (whole.includes('/') ? 0 : Number(whole)) + (top as number) / (bottom as number);
      };
      const radiusOf = (pattern: RegExp): number => {
        const found = said.flatMap((text) => pattern.exec(text)?.[1] ?? []);
        expect(found, `${name}: ${pattern} in ${said.join(' | ')}`).toHaveLength(1);
        return number(found[0] as string);
      };
      const inches = work.plan.edition.numbers.system === 'inch';
      const unit = inches ? INCH : 1;
      // Four ends rounded alike, the arch on one radius: with length and width over all they leave one shape. Its rise is then
      // R - sqrt(R^2 - (L/2 - r)^2), which the plan gives as 1-1/4 in or 32 mm; print rounds R by 1/32 in or 1/2 mm at most.
      const end = radiusOf(/^4 × R ?(.+)$/u);
      const arch = radiusOf(/^R ?(.+)$/u);
      const length = inches ? 32 : 810;
      expect(said, name).toContain(inches ? '32″' : '810');
      const half = length / 2 - end;
      const rise = arch - Math.sqrt(arch ** 2 - half ** 2);
      expect(end * unit, name).toBeCloseTo(inches ? INCH : 25, 6);
      expect(Math.abs(rise - (inches ? 1.25 : 32)), name).toBeLessThan(inches ? 0.002 : 0.02);
    }
  }, 60_000);
});
