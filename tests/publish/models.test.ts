/** The files for viewers and machines that a package holds, of the demo plans. */
import { NodeIO } from '@gltf-transform/core';
import { describe, expect, test } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import { modelFiles } from '../../src/publish/models/models.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';

const shop = await shopOf(demoFiles());
const solids = await loadSolids();

async function filesOf(slug: string, edition: string) {
  const plan = planOf(shop, slug, edition);
  const parts = placeParts(plan, solids, findJoinery(plan, shop.hardware));
  return modelFiles(plan, cutList(plan), parts, solids);
}

/** Values of a group code in a DXF text, by the entity they belong to. */
function entities(text: string): { kind: string; layer: string; values: Map<number, number> }[] {
  const lines = text.split('\r\n');
  const found: { kind: string; layer: string; values: Map<number, number> }[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const [code, value] = [Number(lines[i]), lines[i + 1]!];
    if (code === 0) found.push({ kind: value, layer: '', values: new Map() });
    else if (code === 8) found.at(-1)!.layer = value;
    else if (code >= 10 && code < 60) found.at(-1)?.values.set(code, Number(value));
  }
  return found;
}

describe('files for viewers and machines', () => {
  test('a bench has a model and no flat shapes, the coat rack has its board', async () => {
    expect((await filesOf('potting-bench', 'metric')).map((file) => file.name)).toEqual([
      'potting-bench-metric.glb',
    ]);
    expect((await filesOf('coat-rack', 'imperial')).map((file) => file.name)).toEqual([
      'coat-rack-imperial.glb',
      'coat-rack-imperial-part-A.dxf',
    ]);
  });

  test('the coat rack’s board: four round ends of 25 mm, its arch, five leaning holes, two bored screw holes', async () => {
    const file = (await filesOf('coat-rack', 'metric')).find(({ name }) => name.endsWith('.dxf'));
    const drawn = entities(new TextDecoder().decode(file!.content));
    const outline = drawn.filter((item) => item.layer === 'OUTLINE');
    const radii = outline.filter((item) => item.kind === 'ARC').map((item) => item.values.get(40)!);
    // the arch spans 810 - 2 x 25 = 760 and rises 32: r = (380² + 32²) / (2 x 32) = 2272.25
    expect(radii.map((r) => Number(r.toFixed(2))).sort((a, b) => a - b)).toEqual([25, 25, 25, 25, 2272.25]);
    expect(outline.filter((item) => item.kind === 'LINE')).toHaveLength(3);
    const holes = drawn.filter((item) => item.kind === 'CIRCLE').map((item) => item.values.get(40)!);
    // 5 mm through holes in the bottom of 12 mm counterbores
    expect(holes.filter((r) => r === 6)).toHaveLength(2);
    // The pegs lean 10 degrees: their rims are ellipses of 19 × 19 / cos 10°, drilled from the points in their middles, 150 apart.
    const pegs = drawn.filter((item) => item.layer === 'LEANING-HOLE' && item.kind === 'POINT');
    expect(pegs.map((item) => item.values.get(10)!).sort((a, b) => a - b)).toEqual(
      [105, 255, 405, 555, 705].map((x) => expect.closeTo(x, 2)),
    );
    for (const peg of pegs) expect(peg.values.get(20)).toBeCloseTo(45, 2);
    const extents =
      drawn.length > 0
        ? /EXTMAX\r\n 10\r\n([\d.]+)\r\n 20\r\n([\d.]+)/.exec(new TextDecoder().decode(file!.content))
        : null;
    expect([Number(extents?.[1]), Number(extents?.[2])]).toEqual([
      expect.closeTo(810, 2),
      expect.closeTo(145, 2),
    ]);
    expect(drawn[0]?.kind).toBe('SECTION');
  });

  test('the bench comes apart in an animation, as it is drawn; a single board has nothing to come apart', async () => {
    const read = async (slug: string) => {
      const file = (await filesOf(slug, 'metric')).find(({ name }) => name.endsWith('.glb'));
      return (await new NodeIO().readBinary(file!.content)).getRoot();
    };
    const bench = await read('potting-bench');
    const [animation] = bench.listAnimations();
    expect(animation?.getName()).toBe('apart');
    // 28 boards; one low rail stays where it is. Five hooks go with the pot shelf.
    expect(bench.listNodes()).toHaveLength(28 + 5);
    expect(animation!.listChannels()).toHaveLength(27 + 5);
    const hooks = bench.listNodes().filter((node) => node.getExtras().part === 'utility-hook');
    const shelf = bench.listNodes().find((node) => node.getExtras().part === 'cap')!;
    expect(hooks.map((node) => node.getExtras().apart)).toEqual(Array(5).fill(shelf.getExtras().apart));
    // 100 from its ends, 250 apart, in metres
    expect(hooks.map((node) => node.getTranslation()[0])).toEqual(
      [0.1, 0.35, 0.6, 0.85, 1.1].map((x) => expect.closeTo(x, 5)),
    );
    expect(hooks[0]?.getMesh()?.listPrimitives()[0]?.getMaterial()?.getName()).toMatch(/^metal/);
    for (const channel of animation!.listChannels()) {
      const node = channel.getTargetNode()!;
      const places = channel.getSampler()!.getOutput()!;
      const home = node.getTranslation();
      const { apart } = node.getExtras() as { apart: number[] };
      expect(places.getElement(0, [])).toEqual(home.map((x) => expect.closeTo(x, 6)));
      const last = places.getElement(places.getCount() - 1, []);
      expect(last).toEqual(home.map((x, k) => expect.closeTo(x + apart[k]!, 5)));
    }
    expect((await read('coat-rack')).listAnimations()).toEqual([]);
  });
});
