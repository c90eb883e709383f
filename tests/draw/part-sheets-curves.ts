/** Works out curved outlines again from a part's sheet: hollows and crowns from rise and span, free outlines from corners and radii. */
import { expect } from 'vitest';
import { circleThrough } from '../../src/model/flat.ts';
import type { FlatPoint, FlatStretch, Outline, ShapeOperation } from '../../src/model/shape.ts';
import type { BlankSize, Vec3 } from '../../src/model/types.ts';
import { LENGTH, lengthFrom, type Sheet } from './part-sheets-read.ts';

type Of<K extends ShapeOperation['kind']> = Extract<ShapeOperation, { kind: K }>;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const sizesOf = ({ length, width, thickness }: BlankSize): Vec3 => [length, width, thickness];
const xyz = ['x', 'y', 'z'] as const;

/** A hollow or crown from its rise, its radius only a check: it follows from rise and span. */
export function bow(one: Of<'outline'>, i: number, own: BlankSize, sheet: Sheet): Of<'outline'> {
  const arc = one.arc as NonNullable<Outline['arc']>;
  const along: 0 | 1 = arc.side === 'start' || arc.side === 'end' ? 1 : 0;
  const at = one.stretches.findIndex((stretch) => stretch.arc);
  const from = at === 0 ? one.start : (one.stretches[at - 1] as FlatStretch).to;
  const { to } = one.stretches[at] as FlatStretch;
  const seen = [from[along], to[along]].sort((a, b) => a - b) as [number, number];
  const [low, high] = sheet.span(`${i} ${xyz[along]}`, along, seen, sizesOf(own)[along]);
  const words = sheet.text(`${i} arc`);
  expect(words).toContain(arc.form);
  const rise = sheet.number(`${i} arc`, new RegExp(`rise (${LENGTH})`));
  const said = sheet.number(`${i} arc`, new RegExp(`R (${LENGTH})`));
  const half = (high - low) / 2;
  const radius = (half * half) / (2 * rise) + rise / 2;
  // By how much a half step of the rise and of the half span turns the radius, and its own rounding.
  const slack = sheet.half * (1 + Math.abs(0.5 - (half * half) / (2 * rise * rise)) + (2 * half) / rise);
  expect(Math.abs(radius - said), `radius ${said} for rise ${rise} over ${2 * half}`).toBeLessThanOrEqual(
    slack,
  );
  // Every point of the cut scaled from the model's span and rise to the printed ones.
  const edge = sizesOf(own)[along === 0 ? 1 : 0];
  const far = arc.side === 'end' || arc.side === 'high edge';
  const moved = (p: FlatPoint): FlatPoint => {
    const u = low + ((p[along] - seen[0]) / (seen[1] - seen[0])) * (high - low);
    const out = far ? p[along === 0 ? 1 : 0] - edge : -p[along === 0 ? 1 : 0];
    const v = out < 0 ? (out / arc.rise) * rise : out;
    const across = far ? sheet.size[along === 0 ? 1 : 0] + v : -v;
    return along === 0 ? [u, across] : [across, u];
  };
  const begin = moved(one.start);
  let last = begin;
  const stretches = one.stretches.map((stretch): FlatStretch => {
    const next = moved(stretch.to);
    const before = last;
    last = next;
    if (!stretch.arc) return { to: next };
    const mid = midOf(one.start, one.stretches, at);
    const circle = circleThrough(before, moved(mid), next);
    return circle ? { to: next, arc: circle } : { to: next };
  });
  return { ...one, start: begin, stretches, arc: { ...arc, rise, span: high - low, radius } };
}

/** The point in the middle of an arc. */
function midOf(start: FlatPoint, stretches: readonly FlatStretch[], at: number): FlatPoint {
  const from = at === 0 ? start : (stretches[at - 1] as FlatStretch).to;
  const { to, arc } = stretches[at] as Required<FlatStretch>;
  const [cx, cy] = arc.centre;
  const [a, b] = [from, to].map(([x, y]) => Math.atan2(y - cy, x - cx)) as [number, number];
  let turn = arc.counterclockwise ? b - a : a - b;
  if (turn <= 1e-9) turn += 2 * Math.PI;
  const middle = a + (arc.counterclockwise ? turn : -turn) / 2;
  return [cx + arc.radius * Math.cos(middle), cy + arc.radius * Math.sin(middle)];
}

/** A free outline from the places of its corners, and the radii between them. */
export function outline(one: Of<'outline'>, i: number, own: BlankSize, sheet: Sheet): Of<'outline'> {
  const { stretches } = one;
  const count = stretches.length;
  const seenFrom = (k: number): FlatPoint =>
    k % count === 0 ? one.start : (stretches[(k % count) - 1] as FlatStretch).to;
  const listed = sheet.has(`${i} list`) ? sheet.text(`${i} list`) : undefined;
  const place = (name: string, seen: FlatPoint): FlatPoint => {
    if (listed !== undefined) {
      const mark = /(\d+)\s*$/.exec(sheet.text(`${i} ${name} mark`))?.[1];
      const at = new RegExp(
        `(?:: |; )${mark} at (${LENGTH})( beyond the left end)?, (${LENGTH})( beyond the lower edge)?`,
      ).exec(listed);
      expect(at, `${mark} in ${listed}`).toBeTruthy();
      const [, x, left, y, below] = at as RegExpExecArray;
      return [lengthFrom(x as string) * (left ? -1 : 1), lengthFrom(y as string) * (below ? -1 : 1)];
    }
    return ([0, 1] as const).map((axis) =>
      sheet.placeOrRim(`${i} ${name} ${xyz[axis]}`, axis, seen[axis], sizesOf(own)[axis]),
    ) as unknown as FlatPoint;
  };
  const radius = (k: number): number => sheet.number(`${i} radius ${k}`, new RegExp(`R (${LENGTH})`));
  // A corner that is only rounded is set out sharp: the drawing shows which, for both its straights go on into the arc.
  const sharp = stretches.map((stretch, k) =>
    sharpSeen(seenFrom(k), stretch, seenFrom(k + count - 1), {
      before: stretches[(k + count - 1) % count] as FlatStretch,
      after: stretches[(k + 1) % count] as FlatStretch,
    }),
  );
  const nodes = stretches.flatMap((_, k) => {
    const seen = sharp[k];
    if (seen) return [{ k, round: true, at: place(`s${k}`, seen) }];
    return sharp[(k + count - 1) % count] ? [] : [{ k, round: false, at: place(`p${k}`, seenFrom(k)) }];
  });
  // Where each stretch begins, and of a rounding its arc.
  const begins: FlatPoint[] = [];
  const rounds = new Map<number, NonNullable<FlatStretch['arc']>>();
  nodes.forEach(({ k, round, at }, n) => {
    if (!round) {
      begins[k] = at;
      return;
    }
    const [back, onward] = [nodes.at(n - 1), nodes[(n + 1) % nodes.length]] as [
      { at: FlatPoint },
      { at: FlatPoint },
    ];
    const made = rounding(back.at, at, onward.at, radius(k));
    begins[k] = made.from;
    begins[(k + 1) % count] = made.to;
    rounds.set(k, made.arc);
  });
  const made = stretches.map((stretch, k): FlatStretch => {
    const [from, to] = [begins[k], begins[(k + 1) % count]] as [FlatPoint, FlatPoint];
    if (!stretch.arc) return { to };
    const known = rounds.get(k);
    if (known) return { to, arc: known };
    const { counterclockwise, centre: seen } = stretch.arc;
    const centred = sheet.has(`${i} c${k} x`) || sheet.has(`${i} c${k} y`) || sheet.has(`${i} c${k} mark`);
    const centre = centred
      ? place(`c${k}`, seen)
      : centreFrom(from, to, radius(k), seen, [seenFrom(k), seenFrom(k + 1)]);
    return { to, arc: { centre, radius: radius(k), counterclockwise } };
  });
  return { ...one, start: begins[0] as FlatPoint, stretches: made };
}

/** Where two straights would meet behind a rounding, as the eye sees it; undefined for an arc that is none. */
function sharpSeen(
  from: FlatPoint,
  { to, arc }: FlatStretch,
  back: FlatPoint,
  { before, after }: { before: FlatStretch; after: FlatStretch },
): FlatPoint | undefined {
  if (!arc || before.arc || after.arc) return undefined;
  const a: FlatPoint = [from[0] - back[0], from[1] - back[1]];
  const b: FlatPoint = [after.to[0] - to[0], after.to[1] - to[1]];
  // The radius at each end is square to its straight, and both straights go on the same way round.
  const sign = arc.counterclockwise ? 1 : -1;
  const touches = (d: FlatPoint, p: FlatPoint): boolean => {
    const r: FlatPoint = [p[0] - arc.centre[0], p[1] - arc.centre[1]];
    const square = Math.abs(d[0] * r[0] + d[1] * r[1]) < 1e-3 * Math.hypot(...d) * arc.radius;
    return square && (r[0] * d[1] - r[1] * d[0]) * sign > 0;
  };
  if (!touches(a, from) || !touches(b, to)) return undefined;
  const cross = a[0] * b[1] - a[1] * b[0];
  const turn = Math.atan2(cross, a[0] * b[0] + a[1] * b[1]) * sign;
  if (turn <= 0 || turn > radians(170)) return undefined;
  const t = ((to[0] - from[0]) * b[1] - (to[1] - from[1]) * b[0]) / cross;
  return [from[0] + t * a[0], from[1] + t * a[1]];
}

/** The arc of a radius that touches both straights of a corner, and where it does. */
function rounding(back: FlatPoint, corner: FlatPoint, onward: FlatPoint, radius: number) {
  const way = (p: FlatPoint): FlatPoint => {
    const size = Math.hypot(p[0] - corner[0], p[1] - corner[1]);
    return [(p[0] - corner[0]) / size, (p[1] - corner[1]) / size];
  };
  const [a, b] = [way(back), way(onward)];
  const between = Math.acos(Math.max(-1, Math.min(1, a[0] * b[0] + a[1] * b[1])));
  const off = radius / Math.tan(between / 2);
  const bisector: FlatPoint = [a[0] + b[0], a[1] + b[1]];
  const reach = radius / Math.sin(between / 2) / Math.hypot(...bisector);
  const touch = (d: FlatPoint): FlatPoint => [corner[0] + d[0] * off, corner[1] + d[1] * off];
  const centre: FlatPoint = [corner[0] + bisector[0] * reach, corner[1] + bisector[1] * reach];
  const counterclockwise = a[0] * b[1] - a[1] * b[0] < 0;
  return { from: touch(a), to: touch(b), arc: { centre, radius, counterclockwise } };
}

/** The middle of an arc from its ends and radius: of the two there can be the one on the side where it is seen. */
function centreFrom(
  from: FlatPoint,
  to: FlatPoint,
  radius: number,
  seen: FlatPoint,
  ends: readonly [FlatPoint, FlatPoint],
): FlatPoint {
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const off = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  const side = (a: FlatPoint, b: FlatPoint, p: FlatPoint): number =>
    Math.sign((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]));
  const sign = side(ends[0], ends[1], seen);
  return [
    (from[0] + to[0]) / 2 - ((to[1] - from[1]) / chord) * off * sign,
    (from[1] + to[1]) / 2 + ((to[0] - from[0]) / chord) * off * sign,
  ];
}
