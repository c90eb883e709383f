/** The GLB read back by the library's own reader, and measured against the solids: volume by the divergence theorem, extents, normals. */
import { type Document, NodeIO } from '@gltf-transform/core';
import { beforeAll, describe, expect, it } from 'vitest';
import { explode } from '../../src/draw/apart/explode.ts';
import { viewFrame } from '../../src/draw/lines/project.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placePart, placeParts, shapeBoard } from '../../src/geometry/place.ts';
import { boxTool, drillTool } from '../../src/geometry/tools.ts';
import type { PlacedPart } from '../../src/geometry/types.ts';
import { unit } from '../../src/geometry/vectors.ts';
import type { Frame, Vec3 } from '../../src/model/types.ts';
import { type GlbCopy, glbOf } from '../../src/publish/models/glb.ts';
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

  /** A GLB taken to pieces by hand: header and chunks as in section 4.4 of the specification (glTF 2.0, Khronos Group). */
  function chunksOf(bytes: Uint8Array): { json: Gltf; binary: DataView } {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    expect(view.getUint32(0, true)).toBe(0x46546c67);
    expect(view.getUint32(4, true)).toBe(2);
    expect(view.getUint32(8, true)).toBe(bytes.length);
    const length = view.getUint32(12, true);
    expect(view.getUint32(16, true)).toBe(0x4e4f534a);
    const rest = view.getUint32(20 + length, true);
    expect(view.getUint32(24 + length, true)).toBe(0x004e4942);
    // Chunks begin and end on four bytes, and there is nothing behind them (4.4.3).
    expect([length % 4, rest % 4, 28 + length + rest]).toEqual([0, 0, bytes.length]);
    const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + length))) as Gltf;
    return { json, binary: new DataView(bytes.buffer, bytes.byteOffset + 28 + length, rest) };
  }

  it('takes the piece apart by an animation that keeps to the specification', async () => {
    const parts = [false, true].map((mirrored, i) =>
      placePart(marked(), {
        copy: `leg.${i + 1}`,
        part: 'leg',
        frame: frameAt([0, 500 * i, 0], mirrored),
        size,
      }),
    );
    const film = [
      { at: 0, by: [0, 0, 0] },
      { at: 0.5, by: [0, 0, 0] },
      { at: 0.7, by: [0, 0, 45] },
      { at: 1.5, by: [300, -200, 45] },
    ] as const;
    const stays = placePart(marked(), {
      copy: 'top.1',
      part: 'top',
      frame: frameAt([0, 900, 0], false),
      size,
    });
    const bytes = await glbOf('Test', [
      ...parts.map((part) => copyOf(part, 120, { film })),
      copyOf(stays, 120),
    ]);
    const { json, binary } = chunksOf(bytes);
    expect(json.animations?.map((animation) => animation.name)).toEqual(['apart']);
    const { channels, samplers } = (json.animations as [Required<Gltf>['animations'][0]])[0];
    const read = (index: number, size: number): number[][] => {
      const accessor = json.accessors[index] as Gltf['accessors'][0];
      const part = json.bufferViews[accessor.bufferView] as Gltf['bufferViews'][0];
      expect(accessor.componentType).toBe(5126);
      const from = (part.byteOffset ?? 0) + (accessor.byteOffset ?? 0);
      // Aligned to its component, within its view (3.6.2.4).
      expect(from % 4).toBe(0);
      const step = part.byteStride ?? 4 * size;
      expect((accessor.byteOffset ?? 0) + step * (accessor.count - 1) + 4 * size).toBeLessThanOrEqual(
        part.byteLength,
      );
      return Array.from({ length: accessor.count }, (_, i) =>
        Array.from({ length: size }, (_, k) => binary.getFloat32(from + i * step + 4 * k, true)),
      );
    };
    // Each node is moved by one channel at most (3.11), and has no matrix (3.5.3); what stays has none.
    const moved = channels.map((channel) => channel.target.node);
    expect(moved.map((node) => json.nodes[node]?.name)).toEqual(['leg.1', 'leg.2']);
    expect(json.nodes.every((node) => node.matrix === undefined)).toBe(true);
    for (const { sampler, target } of channels) {
      expect(target.path).toBe('translation');
      const { input, output, interpolation } = samplers[sampler] as (typeof samplers)[0];
      expect(interpolation ?? 'LINEAR').toBe('LINEAR');
      const clock = json.accessors[input] as Gltf['accessors'][0];
      expect([clock.type, json.accessors[output]?.type]).toEqual(['SCALAR', 'VEC3']);
      // Times in seconds, from 0 on and growing, their least and greatest stated (3.11).
      const times = read(input, 1).map(([t]) => t as number);
      expect(times).toEqual([0, 0.5, 0.7, 1.5].map((t) => expect.closeTo(t, 6)));
      expect([clock.min, clock.max]).toEqual([[times[0]], [times.at(-1)]]);
      const places = read(output, 3);
      expect(places).toHaveLength(times.length);
      // Metres with y up: up 45 mm, then 300 to the right and 200 to the front, which is +z.
      const home = json.nodes[target.node]?.translation ?? [0, 0, 0];
      const by = places.map((place) => place.map((x, k) => x - (home[k] as number)));
      expect(by).toEqual(
        [
          [0, 0, 0],
          [0, 0, 0],
          [0, 0.045, 0],
          [0.3, 0.045, 0.2],
        ].map((row) => row.map((x) => expect.closeTo(x, 6))),
      );
    }
    // A reader that knows nothing of us finds the same.
    const model = await new NodeIO().readBinary(bytes);
    const [animation] = model.getRoot().listAnimations();
    expect(animation?.listChannels().map((channel) => channel.getTargetNode()?.getName())).toEqual([
      'leg.1',
      'leg.2',
    ]);
  });
});

/** What the test reads of the JSON of a model. */
interface Gltf {
  readonly nodes: readonly { name?: string; matrix?: number[]; translation?: number[] }[];
  readonly accessors: readonly {
    bufferView: number;
    byteOffset?: number;
    componentType: number;
    count: number;
    type: string;
    min?: number[];
    max?: number[];
  }[];
  readonly bufferViews: readonly { byteOffset?: number; byteLength: number; byteStride?: number }[];
  readonly animations?: readonly {
    name?: string;
    channels: readonly { sampler: number; target: { node: number; path: string } }[];
    samplers: readonly { input: number; output: number; interpolation?: string }[];
  }[];
}
