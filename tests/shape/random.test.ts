/**
 * Random operations on a board, alone and together: each run gives messages with a place, or a closed solid that is no larger than its
 * blank, whose faces lie on their planes. What is cut twice or in pieces is said, never drawn.
 */

import { beforeAll, describe, expect, it } from 'vitest';
import { volumeOf } from '../../src/geometry/features.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { findBroken } from '../../src/geometry/pieces.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { metric, planText, shop, sourceOf } from '../resolve/shop.ts';
import { fc } from '../support/random.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const FACES = ['left', 'right', 'front', 'back', 'bottom', 'top'];
const face = fc.constantFrom(...FACES);
const length = (most: number) => fc.integer({ min: 1, max: most * 2 }).map((n) => `${n / 2} mm`);
const angle = fc.integer({ min: 1, max: 60 }).map((n) => `${n} deg`);
const at = fc.record({ across: length(110), up: length(520), deep: length(50) }, { requiredKeys: [] }).map(
  (place) =>
    `{ ${Object.entries(place)
      .map(([key, value]) => `${key}: ${value}`)
      .join(', ')} }`,
);
const box = fc
  .record(
    {
      left: length(100),
      right: length(110),
      bottom: length(500),
      top: length(520),
      front: length(40),
      back: length(50),
    },
    { requiredKeys: [] },
  )
  .map(
    (place) =>
      `{ ${Object.entries(place)
        .map(([key, value]) => `${key}: ${value}`)
        .join(', ')} }`,
  );

const operation = fc.oneof(
  fc.tuple(face, angle, face).map(([f, a, l]) => `{ mitre: ${f}, angle: ${a}, long: ${l} }`),
  fc.tuple(face, angle, face).map(([f, a, l]) => `{ bevel: ${f}, angle: ${a}, long: ${l} }`),
  fc
    .tuple(face, angle, angle, face, face)
    .map(([f, a, b, l, m]) => `{ compound: ${f}, mitre: ${a}, bevel: ${b}, long: [${l}, ${m}] }`),
  fc
    .tuple(face, face, length(520), length(60))
    .map(([f, e, from, by]) => `{ taper: ${f}, end: ${e}, from: ${from}, by: ${by} }`),
  box.map((b) => `{ notch: ${b} }`),
  fc.tuple(face, box, length(50)).map(([f, b, d]) => `{ housing: ${f}, at: ${b}, depth: ${d} }`),
  fc
    .tuple(face, length(40), face, length(40))
    .map(([f, a, g, b]) =>
      f === g ? `{ groove: ${f}, at: {}, depth: ${a} }` : `{ rebate: { ${f}: ${a}, ${g}: ${b} } }`,
    ),
  fc
    .tuple(face, at, length(40), fc.option(length(60)))
    .map(([f, p, d, deep]) => `{ hole: ${f}, at: ${p}, diameter: ${d}${deep ? `, depth: ${deep}` : ''} }`),
  fc
    .tuple(face, at, length(10), face, angle)
    .map(([f, p, d, l, a]) => `{ hole: ${f}, at: ${p}, diameter: ${d}, lean: { ${l}: ${a} } }`),
  fc
    .tuple(face, at, length(12), length(24))
    .map(([f, p, d, c]) => `{ hole: ${f}, at: ${p}, diameter: ${d}, countersink: { diameter: ${c} } }`),
  fc
    .tuple(face, at, at, length(20))
    .map(([f, p, q, w]) => `{ slot: ${f}, from: ${p}, to: ${q}, width: ${w} }`),
  fc
    .tuple(face, length(120), fc.constantFrom('hollow', 'crown'))
    .map(([f, r, form]) => `{ arc: ${f}, rise: ${r}, form: ${form} }`),
  fc
    .tuple(face, face, length(20))
    .map(([f, g, r]) => `{ round: ${f === g ? f : `${f} ${g}`}, radius: ${r} }`),
  fc
    .tuple(fc.constantFrom('all', 'long', 'front'), length(20))
    .map(([e, w]) => `{ chamfer: ${e}, width: ${w} }`),
  fc
    .tuple(face, length(40), length(40))
    .map(([f, t, l]) => `{ tongue: ${f}, thickness: ${t}, length: ${l} }`),
);

const lean = fc.oneof(
  fc.constant('at: { bottom: floor, top: 500 mm, left: left, front: front }'),
  fc
    .tuple(angle, angle)
    .map(
      ([a, b]) =>
        `lean: { left: ${a}, front: ${b} }\n  at: { bottom: floor, top: 500 mm, left: left, front: front }`,
    ),
);

describe('random operations', () => {
  it('give messages or sound solids', () => {
    let built = 0;
    fc.assert(
      fc.property(lean, fc.array(operation, { minLength: 1, maxLength: 4 }), (place, operations) => {
        const parts = `post:
  stock: 45x95
  runs: up
  wide face: front
  ${place}
  copies: mirrored left-right
  shape:
${operations.map((one) => `    - ${one}`).join('\n')}`;
        const { value, diagnostics } = buildPlan(sourceOf(planText({ parts })), metric, shop);
        for (const { origin } of diagnostics) expect(origin.line).toBeGreaterThan(0);
        if (!value) {
          expect(diagnostics.length).toBeGreaterThan(0);
          return;
        }
        const placed = placeParts(value, solids);
        if (findBroken(placed).length > 0) return;
        built++;
        for (const [i, part] of placed.entries()) {
          const { size } = value.parts[0]!.copies[i]!;
          expect(part.volume).toBeGreaterThan(0);
          expect(part.volume).toBeLessThan(size.length * size.width * size.thickness + 1e-3);
          expect(volumeOf(part.vertices, part.triangles)).toBeCloseTo(part.volume, 3);
          const sides = new Set(
            part.triangles.flatMap(([a, b, c]) => [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]),
          );
          for (const side of sides) expect(sides.has(side.split(' ').reverse().join(' '))).toBe(true);
          for (const { loops, normal, offset } of part.faces)
            for (const v of loops.flat()) {
              const p = part.vertices[v]!;
              expect(Math.abs(normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2] - offset)).toBeLessThan(
                0.02,
              );
            }
        }
        // The mirrored copy has the same volume as the first.
        expect(placed[1]!.volume).toBeCloseTo(placed[0]!.volume, 3);
      }),
      { numRuns: 600 },
    );
    expect(built).toBeGreaterThan(60);
  }, 120_000);
});
