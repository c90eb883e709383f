/**
 * Hidden lines of boxes by brute force, for comparison: a ray towards the viewer from many points of every edge, tested
 * against the slabs of every box, with the changes between samples found by halving. Nothing of the program is used here
 * but vector arithmetic.
 */
import type { ViewFrame } from '../../src/draw/types.ts';
import { add, dot, scale, subtract } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import type { PlainBox } from '../geometry/scenes.ts';

interface Edge {
  readonly a: Vec3;
  readonly b: Vec3;
  /** In the view. */
  readonly p: readonly [number, number];
  readonly q: readonly [number, number];
  readonly length: number;
  /** Boxes whose extents in the view meet the edge's: no other can hide it. */
  readonly before: readonly PlainBox[];
  /** Edges on the same line of the view, this one left out. */
  readonly beside: { readonly edge: Edge; readonly earlier: boolean }[];
}

/** Visible and hidden length of a view, mm: what lies on one line counted once, hidden only where nothing is visible. */
export function rayLengths(
  boxes: readonly PlainBox[],
  frame: ViewFrame,
  step = 2,
): { visible: number; hidden: number } {
  const flat = (p: Vec3): readonly [number, number] => [dot(p, frame.right), dot(p, frame.up)];
  const corners = boxes.map((box) => boxEdges(box).flatMap(([a, b]) => [flat(a), flat(b)]));
  const edges = boxes.flatMap(boxEdges).map(([a, b]): Edge => {
    const [p, q] = [flat(a), flat(b)];
    const before = boxes.filter((_, i) =>
      [0, 1].every((k) => {
        const values = (corners[i] as (readonly [number, number])[]).map((c) => c[k] as number);
        const ends = [p[k] as number, q[k] as number];
        return Math.min(...values) < Math.max(...ends) + 1 && Math.max(...values) > Math.min(...ends) - 1;
      }),
    );
    return { a, b, p, q, length: Math.hypot(q[0] - p[0], q[1] - p[1]), before, beside: [] };
  });
  const long = edges.filter((edge) => edge.length > 1e-6);
  long.forEach((edge, i) => {
    long.forEach((other, k) => {
      if (k !== i && sameLine(edge, other)) edge.beside.push({ edge: other, earlier: k < i });
    });
  });

  const seen = (edge: Edge, p: Vec3): boolean => !edge.before.some((box) => blocks(box, p, frame.toViewer));
  const at = (edge: Edge, t: number): Vec3 => add(edge.a, scale(subtract(edge.b, edge.a), t));
  /** v, h, or nothing where another edge stands for this one. */
  const state = (edge: Edge, t: number): 'v' | 'h' | '' => {
    const own = seen(edge, at(edge, t));
    for (const { edge: other, earlier } of edge.beside) {
      const s = along(other, edge, t);
      if (s < -1e-9 || s > 1 + 1e-9) continue;
      const others = seen(other, at(other, s));
      if (others && (!own || earlier)) return '';
      if (!others && !own && earlier) return '';
    }
    return own ? 'v' : 'h';
  };
  const sums = { visible: 0, hidden: 0 };
  const count = (kind: 'v' | 'h' | '', length: number): void => {
    if (kind === 'v') sums.visible += length;
    if (kind === 'h') sums.hidden += length;
  };
  for (const edge of long) {
    const n = Math.max(2, Math.ceil(edge.length / step));
    let [t, kind] = [0.5 / n, state(edge, 0.5 / n)];
    let from = 0;
    for (let i = 1; i < n; i++) {
      const next = (i + 0.5) / n;
      const after = state(edge, next);
      if (after !== kind) {
        let [low, high] = [t, next];
        for (let k = 0; k < 24; k++) {
          const middle = (low + high) / 2;
          if (state(edge, middle) === kind) low = middle;
          else high = middle;
        }
        count(kind, (low - from) * edge.length);
        from = low;
      }
      [t, kind] = [next, after];
    }
    count(kind, (1 - from) * edge.length);
  }
  return sums;
}

function boxEdges(box: PlainBox): [Vec3, Vec3][] {
  const edges: [Vec3, Vec3][] = [];
  for (let axis = 0; axis < 3; axis++) {
    const [p, q] = [(axis + 1) % 3, (axis + 2) % 3];
    const along = scale(box.axes[axis] as Vec3, box.size[axis] as number);
    for (const i of [0, 1]) {
      for (const j of [0, 1]) {
        const a = add(
          add(box.corner, scale(box.axes[p] as Vec3, i * (box.size[p] as number))),
          scale(box.axes[q] as Vec3, j * (box.size[q] as number)),
        );
        edges.push([a, add(a, along)]);
      }
    }
  }
  return edges;
}

/** True where a ray from a point towards the viewer runs inside the box. Running along its surface is not inside. */
function blocks(box: PlainBox, p: Vec3, towards: Vec3): boolean {
  const from = subtract(p, box.corner);
  let [near, far] = [0, Infinity];
  for (let axis = 0; axis < 3; axis++) {
    const start = dot(from, box.axes[axis] as Vec3);
    const slope = dot(towards, box.axes[axis] as Vec3);
    const size = box.size[axis] as number;
    if (Math.abs(slope) < 1e-9) {
      if (start < 1e-7 || start > size - 1e-7) return false;
      continue;
    }
    const [t0, t1] = [-start / slope, (size - start) / slope];
    near = Math.max(near, Math.min(t0, t1));
    far = Math.min(far, Math.max(t0, t1));
  }
  return far - near > 1e-6;
}

const crossing = (u: readonly [number, number], v: readonly [number, number]): number =>
  u[0] * v[1] - u[1] * v[0];

/** Lines of a view that are less than a hundredth of a millimetre apart are one line: on paper nothing is thinner. */
function sameLine(one: Edge, two: Edge): boolean {
  const [a, b] = one.length >= two.length ? [one, two] : [two, one];
  const d: readonly [number, number] = [(a.q[0] - a.p[0]) / a.length, (a.q[1] - a.p[1]) / a.length];
  return [b.p, b.q].every((r) => Math.abs(crossing(d, [r[0] - a.p[0], r[1] - a.p[1]])) < 0.01);
}

/** Where on `other` the point `t` of `edge` falls. */
function along(other: Edge, edge: Edge, t: number): number {
  const [u, v] = [edge.p[0] + (edge.q[0] - edge.p[0]) * t, edge.p[1] + (edge.q[1] - edge.p[1]) * t];
  const [du, dv] = [other.q[0] - other.p[0], other.q[1] - other.p[1]];
  return ((u - other.p[0]) * du + (v - other.p[1]) * dv) / (other.length * other.length);
}
