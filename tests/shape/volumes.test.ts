/** Volumes and centres of gravity of shaped boards against closed formulas of solid geometry, worked in the comments; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { built, metric } from '../resolve/shop.ts';
import { postParts } from './post.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const post = (shape: string, more = ''): PlacedPart =>
  placeParts(built({ parts: postParts(shape, more) }, metric), solids)[0] as PlacedPart;

/** Centre of gravity: the signed tetrahedra of the surface, each at a quarter of the sum of its corners. */
function centre({ vertices, triangles }: PlacedPart): number[] {
  let volume = 0;
  const sum = [0, 0, 0];
  for (const [i, j, k] of triangles) {
    const [a, b, c] = [vertices[i]!, vertices[j]!, vertices[k]!];
    const six =
      a[0] * (b[1] * c[2] - b[2] * c[1]) -
      a[1] * (b[0] * c[2] - b[2] * c[0]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
    volume += six / 6;
    for (let axis = 0; axis < 3; axis++) sum[axis]! += ((six / 6) * (a[axis]! + b[axis]! + c[axis]!)) / 4;
  }
  return sum.map((value) => value / volume);
}

const WHOLE = 45 * 95 * 500;

describe('shaped boards', () => {
  it('a mitred end loses half a prism', () => {
    // the short side (right) is 95 tan 30 shorter: 95 * 95 tan 30 / 2 * 45
    const part = post('- { mitre: top, angle: 30 deg, long: left }');
    const lost = (95 * 95 * Math.tan(Math.PI / 6) * 45) / 2;
    expect(part.volume).toBeCloseTo(WHOLE - lost, 4);
    // what is lost has its middle a third of 95 from the right, and a third of its height from the top
    const h = 95 * Math.tan(Math.PI / 6);
    const [x, y, z] = centre(part);
    expect(x).toBeCloseTo((WHOLE * 47.5 - lost * (95 - 95 / 3)) / (WHOLE - lost), 6);
    expect(y).toBeCloseTo(22.5, 6);
    expect(z).toBeCloseTo((WHOLE * 250 - lost * (500 - h / 3)) / (WHOLE - lost), 6);
  });

  it('a bevelled end loses half a prism through the thickness', () => {
    const part = post('- { bevel: top, angle: 15 deg, long: back }');
    const lost = (45 * 45 * Math.tan(Math.PI / 12) * 95) / 2;
    expect(part.volume).toBeCloseTo(WHOLE - lost, 4);
    // the front is the short side: the middle moves back
    expect(centre(part)[1]).toBeCloseTo((WHOLE * 22.5 - lost * 15) / (WHOLE - lost), 6);
  });

  it('a bevelled edge keeps the wide face that is named', () => {
    const part = post('- { bevel: right, angle: 45 deg, long: front }');
    expect(part.volume).toBeCloseTo(WHOLE - (45 * 45 * 500) / 2, 4);
    const back = part.vertices.filter((p) => Math.abs(p[1] - 45) < 1e-6).map((p) => p[0]);
    expect(Math.max(...back)).toBeCloseTo(50, 6);
    expect(Math.max(...part.vertices.map((p) => p[0]))).toBeCloseTo(95, 6);
  });

  it('a compound end loses the block under the plane', () => {
    // heights off the four corners are 0, 95 tan m, 45 tan b / cos m and their sum: the mean times the section
    const [m, b] = [(10 * Math.PI) / 180, (20 * Math.PI) / 180];
    const part = post('- { compound: top, mitre: 10 deg, bevel: 20 deg, long: [left, back] }');
    const mean = (95 * Math.tan(m) + (45 * Math.tan(b)) / Math.cos(m)) / 2;
    expect(part.volume).toBeCloseTo(WHOLE - mean * 45 * 95, 4);
  });

  it('tapers on one, two and four sides', () => {
    // one side: a wedge 300 long, 0 to 30 thick, 45 deep
    expect(post('- { taper: right, end: bottom, from: 300 mm, by: 30 mm }').volume).toBeCloseTo(
      WHOLE - (300 * 30 * 45) / 2,
      4,
    );
    // opposite sides leave 35 of 95 at the end: 30 off each
    expect(post('- { taper: [left, right], end: bottom, from: 300 mm, leaves: 35 mm }').volume).toBeCloseTo(
      WHOLE - 300 * 30 * 45,
      4,
    );
    // four sides by 10: a frustum of sections 95 x 45 and 75 x 25, prismatoid: h/6 (A + 4 M + a), M = 85 x 35
    expect(post('- { taper: [left, right, front, back], end: bottom, by: 10 mm }').volume).toBeCloseTo(
      (500 / 6) * (95 * 45 + 4 * 85 * 35 + 75 * 25),
      3,
    );
  });

  it('notches, housings, grooves and rebates lose their boxes', () => {
    expect(post('- { notch: { left: left, right: 30 mm, bottom: floor, top: 100 mm } }').volume).toBeCloseTo(
      WHOLE - 30 * 100 * 45,
      4,
    );
    const part = post('- { housing: left, at: { bottom: 100 mm, top: 120 mm }, depth: 8 mm }');
    expect(part.volume).toBeCloseTo(WHOLE - 20 * 8 * 45, 4);
    expect(centre(part)[2]).toBeCloseTo((WHOLE * 250 - 20 * 8 * 45 * 110) / (WHOLE - 20 * 8 * 45), 6);
    expect(
      post('- { dado: left, at: { bottom: 100 mm, top: 120 mm, front: 10 mm }, depth: 8 mm }').volume,
    ).toBeCloseTo(WHOLE - 20 * 8 * 35, 4);
    expect(post('- { groove: front, at: { left: 20 mm, right: 26 mm }, depth: 10 mm }').volume).toBeCloseTo(
      WHOLE - 6 * 10 * 500,
      4,
    );
    expect(post('- { rebate: { back: 10 mm, right: 12 mm } }').volume).toBeCloseTo(WHOLE - 10 * 12 * 500, 4);
    expect(post('- { rabbet: { back: 10 mm, right: 12 mm }, at: { bottom: 200 mm } }').volume).toBeCloseTo(
      WHOLE - 10 * 12 * 300,
      4,
    );
  });

  // Facets lie inside a circle: an inscribed n-gon of radius r has the area n/2 r² sin(2π/n), within 0.05 mm of the circle.
  const within = (part: PlacedPart, exact: number, radius: number, length: number): void => {
    const play = Math.PI * (radius ** 2 - (radius - 0.05) ** 2) * length;
    expect(Math.abs(part.volume - exact)).toBeLessThanOrEqual(play);
  };

  it('holes lose their cylinders', () => {
    within(
      post('- { hole: front, at: { up: 100 mm }, diameter: 20 mm }'),
      WHOLE - Math.PI * 100 * 45,
      10,
      45,
    );
    within(
      post('- { hole: front, at: { up: 100 mm }, diameter: 20 mm, depth: 30 mm }'),
      WHOLE - Math.PI * 100 * 30,
      10,
      30,
    );
    within(
      post(
        '- { hole: left, at: { up: 100 mm }, diameter: 10 mm, counterbore: { diameter: 20 mm, depth: 12 mm } }',
      ),
      WHOLE - Math.PI * 25 * (95 - 12) - Math.PI * 100 * 12,
      10,
      95,
    );
    // 90 degrees: from 20 wide to 10 in 5 mm; frustum π h/3 (R² + R r + r²)
    within(
      post(
        '- { hole: front, at: { up: 100 mm }, diameter: 10 mm, countersink: { diameter: 20 mm, angle: 90 deg } }',
      ),
      WHOLE - Math.PI * 25 * 40 - ((Math.PI * 5) / 3) * (100 + 50 + 25),
      10,
      45,
    );
    // leaning by 30 degrees it is 1 / cos 30 longer
    within(
      post('- { hole: front, at: { up: 250 mm }, diameter: 10 mm, lean: { top: 30 deg } }'),
      WHOLE - (Math.PI * 25 * 45) / Math.cos(Math.PI / 6),
      5,
      60,
    );
    // leaning and countersunk: an elliptic cone from the face down to the hole, which goes on. Its apex lies where the radius is nought,
    // 12 / tan 45 below the middle; the plane cuts the cone of half angle 45 at far = 12 cos 20 from it in an ellipse with half axes
    // √(R/α) and √R, α = 1 − 2 sin² 20, R = 2 far² cos² 20 − far² + α (2 far cos 20 sin 20 / α)².
    const lean = (20 * Math.PI) / 180;
    const far = 12 * Math.cos(lean);
    const [sine, cosine] = [Math.sin(lean), Math.cos(lean)];
    const alpha = 1 - 2 * sine * sine;
    const R = 2 * far ** 2 * cosine ** 2 - far ** 2 + alpha * ((2 * far * cosine * sine) / alpha) ** 2;
    const cone = (Math.PI * (R / Math.sqrt(alpha)) * far) / 3;
    within(
      post(
        '- { hole: front, at: { up: 250 mm }, diameter: 10 mm, lean: { top: 20 deg }, countersink: { diameter: 24 mm, angle: 90 deg } }',
      ),
      WHOLE - (cone - (Math.PI * 5 ** 3) / 3) - Math.PI * 25 * (45 / cosine - 7),
      12,
      45,
    );
    // a row of three along the length
    within(
      post('- { hole: front, at: { up: 100 mm }, diameter: 20 mm, repeated: 3, along: up, spacing: 50 mm }'),
      WHOLE - 3 * Math.PI * 100 * 45,
      10,
      135,
    );
  });

  it('a slot loses its stadium', () => {
    const part = post(
      '- { slot: front, from: { up: 100 mm }, to: { up: 160 mm }, width: 12 mm, depth: 15 mm }',
    );
    within(part, WHOLE - (60 * 12 + Math.PI * 36) * 15, 6, 15);
    expect(centre(part)[0]).toBeCloseTo(47.5, 3);
  });

  it('rounded edges lose what lies outside the quarter circle', () => {
    // (1 - π/4) r² a length; faces of one rounding share a surface and meet without lines
    const part = post('- { round: front left, radius: 10 mm }');
    within(part, WHOLE - (1 - Math.PI / 4) * 100 * 500, 10, 500);
    expect(part.volume).toBeLessThan(WHOLE - (1 - Math.PI / 4) * 100 * 500 + 1);
    const facets = part.faces.filter((face) => face.round);
    expect(facets.length).toBeGreaterThan(3);
    // inner lines between facets and the two where the curve runs into the flat faces
    expect(part.edges.filter((edge) => edge.smooth)).toHaveLength(facets.length + 1);
    // a chamfer takes half of the square
    expect(post('- { chamfer: front left, width: 10 mm }').volume).toBeCloseTo(WHOLE - 50 * 500, 4);
    // four long edges
    expect(post('- { chamfer: long, width: 5 mm }').volume).toBeCloseTo(WHOLE - 4 * 12.5 * 500, 4);
  });

  it('a tongue keeps its middle', () => {
    expect(post('- { tongue: right, thickness: 15 mm, length: 10 mm }').volume).toBeCloseTo(
      WHOLE - 30 * 10 * 500,
      4,
    );
    expect(post('- { tongue: top, thickness: 15 mm, length: 30 mm }').volume).toBeCloseTo(
      WHOLE - 30 * 30 * 95,
      4,
    );
  });

  it('outlines and arcs keep what lies inside', () => {
    // a half circle of radius 47.5 on a rectangle 95 x 400
    const arch = `- outline:
    - start: { across: 0 mm, up: 0 mm }
    - line: { across: 95 mm, up: 0 mm }
    - line: { across: 95 mm, up: 400 mm }
    - arc: { across: 0 mm, up: 400 mm }
      radius: 47.5 mm
      bulges: top
    - line: { across: 0 mm, up: 0 mm }`;
    within(post(arch), (95 * 400 + (Math.PI * 47.5 ** 2) / 2) * 45, 47.5, 45);
    // the same by a point on the arc, and the other way round
    const back = `- outline:
    - start: { across: 0 mm, up: 0 mm }
    - line: { across: 0 mm, up: 400 mm }
    - arc: { across: 95 mm, up: 400 mm }
      through: { across: 47.5 mm, up: 447.5 mm }
    - line: { across: 95 mm, up: 0 mm }
    - line: { across: 0 mm, up: 0 mm }`;
    expect(post(back).volume).toBeCloseTo(post(arch).volume, 3);
    // a circular segment of chord c and rise h: r = (c² + 4 h²) / 8 h, area r² acos((r - h)/r) - (r - h) sqrt(2 r h - h²)
    const [c, h] = [95, 20];
    const r = (c * c + 4 * h * h) / (8 * h);
    const segment = r * r * Math.acos((r - h) / r) - (r - h) * Math.sqrt(2 * r * h - h * h);
    within(post('- { arc: top, rise: 20 mm, form: hollow }'), WHOLE - segment * 45, r, 45);
    within(post('- { arc: top, rise: 20 mm, form: crown }'), WHOLE - (95 * 20 - segment) * 45, r, 45);
    within(post('- { arc: bottom, rise: 20 mm }'), WHOLE - segment * 45, r, 45);
    const [c2, h2] = [300, 20];
    const r2 = (c2 * c2 + 4 * h2 * h2) / (8 * h2);
    const segment2 = r2 * r2 * Math.acos((r2 - h2) / r2) - (r2 - h2) * Math.sqrt(2 * r2 * h2 - h2 * h2);
    for (const side of ['left', 'right'])
      within(
        post(`- { arc: ${side}, rise: 20 mm, at: { bottom: 100 mm, top: 400 mm } }`),
        WHOLE - segment2 * 45,
        r2,
        45,
      );
    within(
      post('- { arc: right, rise: 20 mm, form: crown, at: { bottom: 100 mm, top: 400 mm } }'),
      WHOLE - (500 * 20 - segment2) * 45,
      r2,
      45,
    );
  });
});

describe('tongue-and-groove boards', () => {
  // The list's board covers 120 of its 130; tongue and groove are a third of the 20 thick, the groove 0.8 deeper than the tongue is long.
  const board = (rip: string): PlacedPart => {
    const parts = `board: { stock: 1x6 T&G, runs: up, wide face: front, length: 500 mm, at: { bottom: floor, left: left, front: front }${rip} }`;
    return placeParts(built({ parts }, metric), solids)[0] as PlacedPart;
  };
  const groove = (10.8 * 20) / 3;

  it('have both of them', () => {
    const whole = board('');
    expect(whole.volume / 500).toBeCloseTo(120 * 20 + (10 * 20) / 3 - groove, 3);
    expect([whole.bounds.min[0], whole.bounds.max[0]]).toEqual([0, 130]);
  });

  it('lose the tongue, and no more, where they are ripped', () => {
    const ripped = board(', rip: 80 mm');
    expect(ripped.volume / 500).toBeCloseTo(80 * 20 - groove, 3);
    expect(ripped.bounds.max[0]).toBeCloseTo(80, 9);
    // The groove is open to the left.
    const floor = ripped.faces.filter(({ normal }) => normal[0] < -0.99);
    expect(
      Math.max(...floor.flatMap(({ loops }) => loops.flat()).map((at) => ripped.vertices[at]![0])),
    ).toBeCloseTo(10.8, 4);
  });
});
