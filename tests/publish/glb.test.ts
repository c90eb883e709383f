/** The GLB read back by the library's own reader, and measured against the solids: volume by the divergence theorem, extents, normals. */
import { type Document, NodeIO } from '@gltf-transform/core';
import { beforeAll, describe, expect, it } from 'vitest';
import { explode } from '../../src/draw/explode.ts';
import { viewFrame } from '../../src/draw/project.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placePart, placeParts, shapeBoard } from '../../src/geometry/place.ts';
import { boxTool, drillTool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { unit } from '../../src/geometry/vectors.ts';
import type { Frame, Vec3 } from '../../src/model/types.ts';
import { type GlbCopy, glbOf } from '../../src/publish/glb.ts';
import { mm } from '../../src/units.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

interface Read {
  readonly volume: number;
  readonly min: Vec3;
  readonly max: Vec3;
  /** Least cosine between a triangle's own normal and the one it is lit by. */
  readonly worst: number;
}

/** A node's triangles in the model's own space. Where its matrix reflects, glTF turns the winding back (section 3.7.4). */
function measure(model: Document, name: string): Read {
  const node = model
    .getRoot()
    .listNodes()
    .find((each) => each.getName() === name);
  if (node === undefined) throw new Error(`no node ${name}`);
  const m = node.getWorldMatrix() as unknown as number[];
  const at = (k: number): number => m[k] as number;
  const det =
    at(0) * (at(5) * at(10) - at(9) * at(6)) -
    at(4) * (at(1) * at(10) - at(9) * at(2)) +
    at(8) * (at(1) * at(6) - at(5) * at(2));
  const turned = ([x, y, z]: Vec3, w: 0 | 1): Vec3 => [
    at(0) * x + at(4) * y + at(8) * z + at(12) * w,
    at(1) * x + at(5) * y + at(9) * z + at(13) * w,
    at(2) * x + at(6) * y + at(10) * z + at(14) * w,
  ];
  let [volume, worst] = [0, 1];
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (const primitive of node.getMesh()?.listPrimitives() ?? []) {
    const [positions, normals] = ['POSITION', 'NORMAL'].map((key) => primitive.getAttribute(key));
    const indices = primitive.getIndices();
    if (!positions || !normals || !indices) throw new Error('attributes are missing');
    const read = (from: typeof positions, i: number, w: 0 | 1): Vec3 =>
      turned(from.getElement(i, []) as unknown as Vec3, w);
    for (let t = 0; t < indices.getCount(); t += 3) {
      const corner = [0, 1, 2].map((k) => indices.getScalar(t + k));
      const [a, b, c] = corner.map((i) => read(positions, i, 1)) as [Vec3, Vec3, Vec3];
      const cross: Vec3 = [
        (b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1]),
        (b[2] - a[2]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[2] - a[2]),
        (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]),
      ].map((x) => x * Math.sign(det)) as unknown as Vec3;
      volume += (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6;
      const lit = read(normals, corner[0] as number, 0);
      const size = Math.hypot(...cross);
      if (size > 1e-7)
        worst = Math.min(worst, (lit[0] * cross[0] + lit[1] * cross[1] + lit[2] * cross[2]) / size);
      for (const p of [a, b, c])
        p.forEach((x, k) => {
          min[k] = Math.min(min[k] as number, x);
          max[k] = Math.max(max[k] as number, x);
        });
    }
  }
  return { volume, min: min as unknown as Vec3, max: max as unknown as Vec3, worst };
}

const copyOf = (part: PlacedPart, width: number, more: Partial<GlbCopy> = {}): GlbCopy => ({
  part,
  width,
  name: 'Board',
  letter: 'A',
  species: 'pine',
  ...more,
});

const size = { length: mm(400), width: mm(120), thickness: mm(20) };

/** A board that tells left from right: a hole near one corner, a notch near another. */
const marked = () =>
  shapeBoard(
    size,
    [
      { tool: drillTool([60, 30, -1], [0, 0, 1], 12, 30), does: 'cut' },
      { tool: boxTool([350, 90, -1], [401, 121, 21]), does: 'cut' },
    ],
    solids,
  );

const frameAt = (origin: Vec3, mirrored: boolean): Frame => {
  const length = unit([1, 1, 0]);
  const width = unit([-1, 1, 0]);
  return { origin, length, width, thickness: [0, 0, 1], mirrored };
};

describe('the model as GLB', () => {
  it('has each copy where it stands, in metres with y up, as large as its solid, mirrored ones too', async () => {
    const own = marked();
    const parts = [
      placePart(own, { copy: 'board.1', part: 'board', frame: frameAt([100, 200, 300], false), size }),
      placePart(own, { copy: 'board.2', part: 'board', frame: frameAt([900, 200, 300], true), size }),
    ];
    const bytes = await glbOf(
      'Test',
      parts.map((part) => copyOf(part, 120)),
    );
    const model = await new NodeIO().readBinary(bytes);
    // Both are one form, reflected.
    expect(model.getRoot().listMeshes()).toHaveLength(1);
    for (const part of parts) {
      const read = measure(model, part.copy);
      expect(Math.abs((read.volume * 1e9) / part.volume - 1)).toBeLessThan(1e-6);
      const { min, max } = part.bounds;
      const wanted = [
        [min[0], min[2], -max[1]],
        [max[0], max[2], -min[1]],
      ].map((p) => p.map((x) => expect.closeTo(x / 1000, 6)));
      expect(read.min).toEqual(wanted[0]);
      expect(read.max).toEqual(wanted[1]);
      // Outward, and flat on each face: a hole's facets are lit as facets.
      expect(read.worst).toBeGreaterThan(0.9999);
    }
  });

  it('says of each node its letter, part, name, step and move apart', async () => {
    const part = placePart(marked(), { copy: 'leg.1', part: 'leg', frame: frameAt([0, 0, 0], false), size });
    const bytes = await glbOf('Test', [
      copyOf(part, 120, { letter: 'C', name: 'Leg', step: 3, apart: [100, -200, 300] }),
    ]);
    const model = await new NodeIO().readBinary(bytes);
    const [node] = model.getRoot().listNodes();
    expect(node?.getName()).toBe('leg.1');
    expect(node?.getExtras()).toEqual({
      letter: 'C',
      part: 'leg',
      name: 'Leg',
      step: 3,
      apart: [0.1, 0.3, 0.2],
    });
    expect(model.getRoot().listScenes()[0]?.getName()).toBe('Test');
  });

  it('tells end grain, sides and cuts by their materials, coloured as given', async () => {
    const part = placePart(marked(), { copy: 'leg.1', part: 'leg', frame: frameAt([0, 0, 0], false), size });
    const tones = new Map([['pine', { side: '#ffffff', end: '#808080', cut: '#000000' }]]);
    const model = await new NodeIO().readBinary(await glbOf('Test', [copyOf(part, 120)], tones));
    const materials = model.getRoot().listMaterials();
    expect(materials.map((each) => each.getName())).toEqual([
      'pine, along the grain',
      'pine, end grain',
      'pine, cut',
    ]);
    // sRGB 128 is 0.21586 in linear light (IEC 61966-2-1, worked: ((128/255 + 0.055)/1.055)^2.4).
    expect(materials.map((each) => each.getBaseColorFactor()[0])).toEqual([1, expect.closeTo(0.21586, 4), 0]);
  });

  it('is the same bytes every time, and small', async () => {
    const plan = planOf(await shopOf(demoFiles()), 'potting-bench', 'metric');
    const parts = placeParts(plan, solids);
    const order = plan.steps.map((step) =>
      plan.parts
        .filter((part) => step.adds.includes(part.key))
        .flatMap((part) => part.copies.map((copy) => copy.id)),
    );
    const frame = viewFrame({ depth: 'front', side: 'right', height: 'above' });
    const { moves } = explode(parts, order, frame);
    const copies = plan.parts.flatMap((part) =>
      part.copies.map((copy): GlbCopy => {
        const by = moves.get(copy.id)?.by;
        return {
          ...copyOf(parts.find((each) => each.copy === copy.id) as PlacedPart, copy.size.width),
          name: part.name,
          species: part.species,
          ...(by === undefined ? {} : { apart: by }),
        };
      }),
    );
    const [once, twice] = [await glbOf(plan.front.title, copies), await glbOf(plan.front.title, copies)];
    expect(Buffer.compare(Buffer.from(once), Buffer.from(twice))).toBe(0);
    const model = await new NodeIO().readBinary(once);
    for (const { part } of copies) {
      const read = measure(model, part.copy);
      expect(Math.abs((read.volume * 1e9) / part.volume - 1), part.copy).toBeLessThan(1e-5);
      expect(read.max[1] * 1000).toBeCloseTo(part.bounds.max[2], 2);
    }
    console.log(
      `${copies.length} copies, ${model.getRoot().listMeshes().length} meshes, ${once.length} bytes`,
    );
    expect(once.length).toBeLessThan(4000 * model.getRoot().listMeshes().length + 400 * copies.length);
  });

  it('says nothing of boards without a solid', async () => {
    const empty = {
      ...placePart(marked(), { copy: 'x.1', part: 'x', frame: frameAt([0, 0, 0], false), size }),
      triangles: [],
    };
    const model = await new NodeIO().readBinary(await glbOf('Test', [copyOf(empty, 120)]));
    expect(model.getRoot().listNodes()).toHaveLength(0);
  });
});
