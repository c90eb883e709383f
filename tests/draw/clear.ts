/** Measures a finished drawing: what lies over a text, and which dimension lines cross. Written apart from the code that places them. */
import type { Drawn, DrawnLine, DrawnText, Xy } from './read-svg.ts';

/** Shares a point: a text's box and a line with its width, by clipping the line to the box in the text's own turn. */
function lineOverText(text: DrawnText, l: DrawnLine): boolean {
  const [p, q, , s] = text.corners;
  const ux: Xy = [q[0] - p[0], q[1] - p[1]];
  const uy: Xy = [s[0] - p[0], s[1] - p[1]];
  const [w, h] = [Math.hypot(...ux), Math.hypot(...uy)];
  const local = (c: Xy): Xy => [
    ((c[0] - p[0]) * ux[0] + (c[1] - p[1]) * ux[1]) / w,
    ((c[0] - p[0]) * uy[0] + (c[1] - p[1]) * uy[1]) / h,
  ];
  const [a, b] = [local(l.a), local(l.b)];
  const grow = l.width / 2;
  let [from, to] = [0, 1];
  for (const [start, end, low, high] of [
    [a[0], b[0], -grow, w + grow],
    [a[1], b[1], -grow, h + grow],
  ] as const) {
    const d = end - start;
    if (Math.abs(d) < 1e-12) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const [t0, t1] = [(low - start) / d, (high - start) / d];
    from = Math.max(from, Math.min(t0, t1));
    to = Math.min(to, Math.max(t0, t1));
  }
  return to - from > 1e-6;
}

function textsMeet(a: DrawnText, b: DrawnText): boolean {
  const axes = [a, b].flatMap(({ corners: [p, q, , s] }): Xy[] => [
    [q[0] - p[0], q[1] - p[1]],
    [s[0] - p[0], s[1] - p[1]],
  ]);
  return axes.every((axis) => {
    const span = (t: DrawnText) => t.corners.map((c) => c[0] * axis[0] + c[1] * axis[1]);
    const [one, two] = [span(a), span(b)];
    return Math.max(...one) > Math.min(...two) + 1e-9 && Math.max(...two) > Math.min(...one) + 1e-9;
  });
}

/** Everything that lies over a text, in words. Hatching that is cut clear of a text doesn't touch it and isn't excused. */
export function overlaps(drawn: Drawn): string[] {
  const found: string[] = [];
  drawn.texts.forEach((text, i) => {
    for (const l of drawn.lines)
      if (lineOverText(text, l)) found.push(`${l.role} ${l.a} – ${l.b} over "${text.text}"`);
    for (const other of drawn.texts.slice(i + 1))
      if (textsMeet(text, other)) found.push(`"${text.text}" over "${other.text}"`);
    for (const circle of drawn.circles) {
      const middle = text.corners.reduce<Xy>((sum, c) => [sum[0] + c[0] / 4, sum[1] + c[1] / 4], [0, 0]);
      const inside = Math.hypot(circle.centre[0] - middle[0], circle.centre[1] - middle[1]) < circle.radius;
      const corners = text.corners.filter(
        (c) => Math.hypot(c[0] - circle.centre[0], c[1] - circle.centre[1]) < circle.radius,
      ).length;
      // A letter stands wholly inside its balloon; nothing else touches a circle.
      if (inside ? corners < 4 : corners > 0) found.push(`circle at ${circle.centre} over "${text.text}"`);
    }
  });
  drawn.circles.forEach((a, i) => {
    if (a.role !== 'k-t') return;
    for (const b of drawn.circles.slice(i + 1))
      if (
        b.role === 'k-t' &&
        Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) < a.radius + b.radius
      )
        found.push(`balloons at ${a.centre} and ${b.centre}`);
    for (const l of drawn.lines) {
      const d = distance(a.centre, l);
      const own = l.role === 'k-t' && d > a.radius - 0.01;
      if (d < a.radius && !own) found.push(`${l.role} through the balloon at ${a.centre}`);
    }
  });
  return found;
}

function distance(p: Xy, { a, b }: DrawnLine): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / size));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** Lines with an oblique stroke through each of two places: the dimension lines of a drawing. */
export function dimensionLines(drawn: Drawn): DrawnLine[] {
  const strokes = drawn.lines.filter(
    (l) => l.role === 'k-v' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 3) < 0.02,
  );
  return drawn.lines.filter((l) => {
    if (l.role !== 'k-t') return false;
    const on = strokes.filter((s) => distance([(s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2], l) < 0.02);
    // An extension line meets the stroke of one dimension at its end, and of others lined up with it; its own line meets two
    // that lie apart along it.
    return on.length >= 2 && !isExtension(l, on, drawn);
  });
}

/** An extension line runs 2 mm past its outermost stroke. */
function isExtension(l: DrawnLine, strokes: readonly DrawnLine[], _drawn: Drawn): boolean {
  const middles = strokes.map((s): Xy => [(s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2]);
  return [l.a, l.b].some(
    (end) =>
      middles.every((m) => Math.hypot(m[0] - end[0], m[1] - end[1]) > 1.9) &&
      middles.some((m) => Math.abs(Math.hypot(m[0] - end[0], m[1] - end[1]) - 2) < 0.02),
  );
}

/** Pairs of dimension lines that cross. */
export function crossings(drawn: Drawn): string[] {
  const found: string[] = [];
  const lines = dimensionLines(drawn);
  const side = (a: Xy, b: Xy, p: Xy) => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
  lines.forEach((a, i) => {
    for (const b of lines.slice(i + 1)) {
      const [s1, s2] = [side(a.a, a.b, b.a), side(a.a, a.b, b.b)];
      const [s3, s4] = [side(b.a, b.b, a.a), side(b.a, b.b, a.b)];
      if (s1 * s2 < -1e-9 && s3 * s4 < -1e-9) found.push(`${a.a} – ${a.b} crosses ${b.a} – ${b.b}`);
    }
  });
  return found;
}
