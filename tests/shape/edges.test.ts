/**
 * Edges worked along curves and round holes. Volumes against Pappus's second theorem (a turned section sweeps its area times the way of its
 * centre of gravity); the way of the bearing against a disc that is rolled round the shape, point by point.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { volumeOf } from '../../src/geometry/features.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { piecesOf } from '../../src/geometry/pieces.ts';
import { placeParts, shapeBoard } from '../../src/geometry/place.ts';
import { laterShapings, startOf } from '../../src/geometry/shape.ts';
import { SAGITTA } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import type { EdgeWork, Side } from '../../src/model/shape.ts';
import { outwardOf } from '../../src/model/sides.ts';
import type { Copy, Vec3 } from '../../src/model/types.ts';
import { built, metric } from '../resolve/shop.ts';
import { postParts } from './post.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

function post(shape: string): { part: PlacedPart; copy: Copy } {
  const plan = built({ parts: postParts(shape) }, metric);
  return { part: placeParts(plan, solids)[0] as PlacedPart, copy: plan.parts[0]!.copies[0]! };
}

/** Closed, in one piece, and as large as its surface says. */
function sound(part: PlacedPart): void {
  expect(piecesOf(part)).toBe(1);
  expect(volumeOf(part.vertices, part.triangles)).toBeCloseTo(part.volume, 3);
  const sides = new Set(part.triangles.flatMap(([a, b, c]) => [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]));
  for (const side of sides) expect(sides.has(side.split(' ').reverse().join(' '))).toBe(true);
  for (const { loops, normal, offset } of part.faces)
    for (const v of loops.flat()) {
      const p = part.vertices[v]!;
      expect(Math.abs(normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2] - offset)).toBeLessThan(0.012);
    }
}

/** What a rounding of radius r takes off a square corner: a square less its quarter circle; and its centre of gravity from the corner's faces. */
const spandrel = (r: number) => {
  const area = (1 - Math.PI / 4) * r * r;
  // From the middle of the circle: (r² · r/2 − π r²/4 · 4 r/3π) / area; from the faces r less that.
  return { area, in: r - (r ** 3 / 2 - r ** 3 / 3) / area };
};
/** What a chamfer takes off: half a square, its centre of gravity a third in. */
const triangle = (w: number) => ({ area: (w * w) / 2, in: w / 3 });

const DISC = `- outline:
    - start: { across: 0 mm, up: 247.5 mm }
    - arc: { across: 95 mm, up: 247.5 mm }
      through: { across: 47.5 mm, up: 200 mm }
    - arc: { across: 0 mm, up: 247.5 mm }
      through: { across: 47.5 mm, up: 295 mm }`;

const corner = (r: number, across: string, up: string, bulges: string): string =>
  `    - arc: { across: ${across}, up: ${up} }\n      radius: ${r} mm\n      bulges: ${bulges}`;
/** The whole 95 × 500 with corners of radius r. */
const roundedBoard = (r: number): string => `- outline:
    - start: { across: ${r} mm, up: 0 mm }
    - line: { across: ${95 - r} mm, up: 0 mm }
${corner(r, '95 mm', `${r} mm`, 'right')}
    - line: { across: 95 mm, up: ${500 - r} mm }
${corner(r, `${95 - r} mm`, '500 mm', 'right')}
    - line: { across: ${r} mm, up: 500 mm }
${corner(r, '0 mm', `${500 - r} mm`, 'left')}
    - line: { across: 0 mm, up: ${r} mm }
${corner(r, `${r} mm`, '0 mm', 'left')}`;

/** Facets lie within 0.05 mm of the surface: so far off is the volume at most, for each mm² of it. With finer ones it comes to the formula. */
function within({ part, copy }: ReturnType<typeof post>, exact: number, surface: number): void {
  sound(part);
  expect(Math.abs(part.volume - exact)).toBeLessThan(SAGITTA * surface);
  const fine = shapeBoard(copy.size, laterShapings(copy, 0.002), solids, startOf(copy));
  expect(Math.abs(fine.volume - exact)).toBeLessThan(0.002 * surface);
}

describe('worked edges along curves', () => {
  it('a rounded disc loses a ring (Pappus)', () => {
    const [R, r, t] = [47.5, 10, 45];
    const made = post(`${DISC}\n- { round: front, radius: ${r} mm }`);
    const off = spandrel(r);
    const exact = Math.PI * R * R * t - 2 * Math.PI * (R - off.in) * off.area;
    // The wall, and the quarter round.
    within(made, exact, 2 * Math.PI * R * t + 2 * Math.PI * R * ((Math.PI * r) / 2));
  });

  it('a chamfered disc loses a ring of triangles, on both faces', () => {
    const [R, w, t] = [47.5, 8, 45];
    const made = post(`${DISC}\n- { chamfer: [front, back], width: ${w} mm }`);
    const off = triangle(w);
    const exact = Math.PI * R * R * t - 2 * 2 * Math.PI * (R - off.in) * off.area;
    within(made, exact, 2 * Math.PI * R * t);
  });

  it.each([
    ['round', 6, 20],
    ['chamfer', 6, 20],
    // As large as the corners: a rounding ends in a ball there, a chamfer in a point.
    ['round', 12, 12],
    ['chamfer', 12, 12],
  ] as const)(
    'a board with rounded corners loses its straights and four quarter rings: %s %d in %d',
    (name, size, R) => {
      const key = name === 'round' ? 'radius' : 'width';
      const made = post(`${roundedBoard(R)}\n- { ${name}: front, ${key}: ${size} mm }`);
      const off = name === 'round' ? spandrel(size) : triangle(size);
      const whole = (95 * 500 - (4 - Math.PI) * R * R) * 45;
      const straight = 2 * (95 + 500 - 4 * R);
      const exact = whole - off.area * (straight + 2 * Math.PI * (R - off.in));
      within(made, exact, 2 * Math.PI * R * 45 + (straight + 2 * Math.PI * R) * 2 * size);
    },
  );

  it('corners rounded through the thickness are followed by a later rounding of the face', () => {
    const [R, r] = [20, 5];
    const uprights = '- { round: [left top, right top, left bottom, right bottom], radius: 20 mm }';
    const made = post(`${uprights}\n- { round: [front, back], radius: ${r} mm }`);
    const off = spandrel(r);
    const straight = 2 * (95 + 500 - 4 * R);
    const exact =
      (95 * 500 - (4 - Math.PI) * R * R) * 45 - 2 * off.area * (straight + 2 * Math.PI * (R - off.in));
    within(made, exact, 2 * Math.PI * R * 45 + (straight + 2 * Math.PI * R) * 4 * r);
  });

  it('rims of holes lose rings outside of them, where the holes open', () => {
    const hole = '- { hole: front, at: { up: 100 mm }, diameter: 20 mm }';
    for (const [name, size] of [
      ['round', 6],
      ['chamfer', 4],
    ] as const) {
      const made = post(
        `${hole}\n- { ${name}: [front holes, back holes], ${name === 'round' ? 'radius' : 'width'}: ${size} mm }`,
      );
      const off = name === 'round' ? spandrel(size) : triangle(size);
      const exact = 45 * 95 * 500 - Math.PI * 100 * 45 - 2 * 2 * Math.PI * (10 + off.in) * off.area;
      within(made, exact, 2 * Math.PI * 10 * 45 + 2 * 2 * Math.PI * 13 * 2 * size);
    }
  });

  it('a slot loses two straights and a ring', () => {
    const made = post(
      '- { slot: front, from: { up: 100 mm }, to: { up: 160 mm }, width: 16 mm, depth: 15 mm }\n- { round: front holes, radius: 5 mm }',
    );
    const off = spandrel(5);
    const exact =
      45 * 95 * 500 - (60 * 16 + Math.PI * 64) * 15 - off.area * (2 * 60 + 2 * Math.PI * (8 + off.in));
    within(made, exact, (2 * 60 + 2 * Math.PI * 8) * 20);
  });

  it('only the rim of the counterbore is worked at its face, of the hole at the other', () => {
    const made = post(
      '- { hole: front, at: { up: 100 mm }, diameter: 10 mm, counterbore: { diameter: 20 mm, depth: 12 mm } }\n' +
        '- { chamfer: [front holes, back holes], width: 3 mm }',
    );
    const exact =
      45 * 95 * 500 -
      Math.PI * 25 * 33 -
      Math.PI * 100 * 12 -
      (2 * Math.PI * (10 + 1) + 2 * Math.PI * (5 + 1)) * 4.5;
    within(made, exact, 2 * Math.PI * 10 * 45);
  });
});

// ---------------------------------------------------------------- the bearing

const NOTCHED = `- { notch: { left: left, right: 30 mm, bottom: floor, top: 120 mm } }
- { notch: { left: 60 mm, right: right, bottom: 300 mm, top: 360 mm } }
- arc: left
  rise: 12 mm
  at: { bottom: 200 mm, top: 420 mm }`;
const STEPPED = `- outline:
    - start: { across: 30 mm, up: 0 mm }
    - line: { across: 80 mm, up: 0 mm }
    - line: { across: 80 mm, up: 120 mm }
    - arc: { across: 90 mm, up: 200 mm }
      radius: 90 mm
      bulges: left
    - line: { across: 90 mm, up: 300 mm }
    - arc: { across: 60 mm, up: 420 mm }
      radius: 140 mm
      bulges: right
    - line: { across: 60 mm, up: 500 mm }
    - line: { across: 10 mm, up: 500 mm }
    - line: { across: 10 mm, up: 300 mm }
    - arc: { across: 30 mm, up: 180 mm }
      radius: 90 mm
      bulges: right
    - line: { across: 30 mm, up: 0 mm }`;

describe('the bearing', () => {
  it.each([
    ['round: front, radius: 6 mm', NOTCHED],
    ['chamfer: back, width: 5 mm, bearing: 20 mm', NOTCHED],
    ['round: [front top, front left], radius: 6 mm', NOTCHED],
    ['round: front, radius: 7 mm', STEPPED],
    ['chamfer: front right, width: 7 mm, bearing: 9 mm', STEPPED],
    ['round: [front, back], radius: 4 mm', `${NOTCHED}\n- { chamfer: [right top], width: 15 mm }`],
  ])(
    'reaches what a disc rolled round the shape reaches: %s',
    (work, shape) => {
      const { part, copy } = post(`${shape}\n- { ${work} }`);
      sound(part);
      const edge = copy.shape.at(-1) as EdgeWork;
      const walls = wallsOf(copy, edge);
      const inside = (p: Xy): boolean =>
        walls.filter(
          ({ a, b }) =>
            a[1] > p[1] !== b[1] > p[1] && a[0] + ((p[1] - a[1]) * (b[0] - a[0])) / (b[1] - a[1]) > p[0],
        ).length %
          2 ===
        1;
      const [bearing, size] = [(edge.bearing ?? 0) / 2, edge.size];
      expect(bearing).toBeGreaterThan(0);
      // Where the middle of the bearing may be: as far from the wood as its radius, and touching it where it is guided.
      const centres = middles(walls, bearing, (out) =>
        edge.follows!.some(
          ({ towards }) => towards === undefined || towards.some((side) => looks(side, out)),
        ),
      );
      // In the profile: how far a point lies outside of the wood that is left, from q mm beyond the bearing and so far down.
      const outside = (q: number, down: number): number =>
        edge.name === 'chamfer'
          ? (size - q - down) / Math.SQRT2
          : Math.hypot(Math.max(0, size - q), size - down) - size;
      let [checked, cut] = [0, 0];
      const wrong: string[] = [];
      const random = generator(5);
      const contains = insideOf(part);
      for (let i = 0; i < 12_000; i++) {
        const p: Vec3 = [random() * 500, random() * 95, random() * size];
        if (!inside([p[0], p[1]])) continue;
        const near = Math.min(...centres.map((c) => Math.hypot(c[0] - p[0], c[1] - p[1])));
        const off = outside(near - bearing, p[2]);
        // Facets, and the steps between the middles, say nothing nearer than this.
        if (Math.abs(off) < 0.1) continue;
        for (const { wide } of edge.follows!) {
          const at: Vec3 = [p[0], p[1], wide === 'face' ? 45 - p[2] : p[2]];
          checked++;
          if (off > 0) cut++;
          if (contains(at) !== off < 0) wrong.push(`${at}, ${off} outside`);
        }
      }
      expect(wrong).toEqual([]);
      expect(checked).toBeGreaterThan(1500);
      expect(cut).toBeGreaterThan(200);
    },
    120_000,
  );
});

type Xy = readonly [number, number];

/** A side of the cross-section, the wood on its left; the next one begins where it ends. */
interface SectionWall {
  readonly a: Xy;
  readonly b: Xy;
  readonly out: Xy;
}

/** The cross-section that everything but the last work leaves, its arcs in facets of 0.01 mm. */
function wallsOf({ size, shape }: Copy, edge: EdgeWork): SectionWall[] {
  const plain = { size, shape: shape.filter((one) => one !== edge) };
  const part = shapeBoard(size, laterShapings(plain, 0.01), solids, startOf(plain));
  const top = part.faces.filter((face) => face.normal[2] > 0.999 && face.offset > 44.99);
  return top.flatMap(({ loops }) =>
    loops.flatMap((loop) =>
      loop.map((v, i): SectionWall => {
        const [a, b] = [v, loop[(i + 1) % loop.length]!].map((k): Xy => {
          const [x, y] = part.vertices[k]!;
          return [x, y];
        }) as [Xy, Xy];
        const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
        return { a, b, out: [(b[1] - a[1]) / long, (a[0] - b[0]) / long] };
      }),
    ),
  );
}

/** Where the middle of a bearing can be while it touches a wall on which it is guided: nowhere nearer to the wood than its radius. */
function middles(walls: readonly SectionWall[], radius: number, guided: (out: Xy) => boolean): Xy[] {
  const tried: Xy[] = [];
  walls.forEach(({ a, b, out }) => {
    if (!guided(out)) return;
    const count = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.6));
    for (let k = 0; k <= count; k++) {
      const [x, y] = [a[0] + ((b[0] - a[0]) * k) / count, a[1] + ((b[1] - a[1]) * k) / count];
      tried.push([x + out[0] * radius, y + out[1] * radius]);
    }
    // Round an outside corner it swings from one wall to the next.
    const next = walls.find((other) => other.a[0] === b[0] && other.a[1] === b[1]);
    if (!next || !guided(next.out) || out[0] * next.out[1] - out[1] * next.out[0] < 0) return;
    const turn = Math.acos(Math.min(1, out[0] * next.out[0] + out[1] * next.out[1]));
    const swings = Math.ceil((turn * radius) / 0.6);
    for (let k = 1; k < swings; k++) {
      const angle = Math.atan2(out[1], out[0]) + (turn * k) / swings;
      tried.push([b[0] + radius * Math.cos(angle), b[1] + radius * Math.sin(angle)]);
    }
  });
  const free = ([x, y]: Xy): boolean =>
    walls.every(({ a, b }) => {
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
      const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) > radius - 1e-3;
    });
  return tried.filter(free);
}

/** The rule of two faces: what looks to the second. */
const looks = (side: Side, out: Xy): boolean => {
  const [x, y] = outwardOf(side);
  return x * out[0] + y * out[1] > Math.SQRT1_2 - 1e-3;
};

/** Whether own points of a part lie in it: how often a line along the thickness meets its surface beyond them. */
function insideOf({ frame, vertices, triangles }: PlacedPart): (own: Vec3) => boolean {
  const along = (axis: Vec3, p: Vec3): number =>
    axis.reduce((sum, v, k) => sum + v * (p[k]! - frame.origin[k]!), 0);
  const own = vertices.map(
    (p) => [along(frame.length, p), along(frame.width, p), along(frame.thickness, p)] as const,
  );
  return ([x, y, z]) => {
    let crossings = 0;
    for (const t of triangles) {
      const [a, b, c] = [own[t[0]]!, own[t[1]]!, own[t[2]]!];
      if (Math.min(a[0], b[0], c[0]) > x || Math.max(a[0], b[0], c[0]) < x) continue;
      const det = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
      const u = ((x - a[0]) * (c[1] - a[1]) - (y - a[1]) * (c[0] - a[0])) / det;
      const v = ((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / det;
      if (!(u > 0 && v > 0 && u + v < 1)) continue;
      if (a[2] + u * (b[2] - a[2]) + v * (c[2] - a[2]) > z) crossings++;
    }
    return crossings % 2 === 1;
  };
}
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}
