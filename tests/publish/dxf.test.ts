/**
 * Flat outlines and their DXF text, read back by a small reader of its own (group code and value pairs, as the DXF reference for release 12
 * describes them) and measured against closed formulas and the solid.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { flatOutline } from '../../src/draw/lines/template-outline.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { boxTool, drillTool, planeTool, prismTool, type Shaping } from '../../src/geometry/tools.ts';
import type { PlacedPart, Round } from '../../src/geometry/types.ts';
import { unit } from '../../src/geometry/vectors.ts';
import type { Vec3 } from '../../src/model/types.ts';
import { dxfOf } from '../../src/publish/models/dxf.ts';
import { boxSolid, type PlainBox, straightBox } from '../geometry/scenes.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

interface Entity {
  readonly type: string;
  readonly layer: string;
  readonly numbers: ReadonlyMap<number, number>;
  readonly points: readonly (readonly [number, number])[];
}

/** Pairs of lines; entities of the ENTITIES section, vertices gathered into their polyline. */
function readDxf(text: string): { entities: Entity[]; header: Map<string, string>; layers: string[] } {
  const lines = text.split('\r\n');
  expect(lines.pop()).toBe('');
  expect(lines.length % 2).toBe(0);
  const pairs = Array.from({ length: lines.length / 2 }, (_, i) => ({
    code: Number(lines[2 * i]),
    value: lines[2 * i + 1] as string,
  }));
  const entities: {
    type: string;
    layer: string;
    numbers: Map<number, number>;
    points: [number, number][];
  }[] = [];
  const header = new Map<string, string>();
  const layers: string[] = [];
  let [section, table, variable] = ['', '', ''];
  let vertex = false;
  for (const [i, { code, value }] of pairs.entries()) {
    if (code === 0 && value === 'SECTION') section = pairs[i + 1]?.value as string;
    else if (code === 0 && value === 'ENDSEC') section = '';
    else if (section === 'HEADER' && code === 9) variable = value;
    else if (section === 'HEADER') header.set(`${variable} ${code}`, value);
    else if (section === 'TABLES' && code === 0) table = value;
    else if (section === 'TABLES' && table === 'LAYER' && code === 2) layers.push(value);
    else if (section === 'ENTITIES' && code === 0) {
      vertex = value === 'VERTEX';
      if (!vertex && value !== 'SEQEND')
        entities.push({ type: value, layer: '', numbers: new Map(), points: [] });
    } else if (section === 'ENTITIES') {
      const last = entities[entities.length - 1];
      if (last === undefined || code === 2) continue;
      if (code === 8) last.layer = value;
      else if (vertex && code === 10) last.points.push([Number(value), Number.NaN]);
      else if (vertex && code === 20)
        (last.points[last.points.length - 1] as [number, number])[1] = Number(value);
      else if (!vertex) last.numbers.set(code, Number(value));
    }
  }
  expect(pairs[pairs.length - 1]).toEqual({ code: 0, value: 'EOF' });
  return { entities, header, layers };
}

const ofLayer = (entities: readonly Entity[], layer: string): Entity[] =>
  entities.filter((entity) => entity.layer === layer);

/** Ends of an entity, its length, and twice the area between it and the origin, walked as it is written. */
function measured({ type, numbers, points }: Entity) {
  const n = (code: number): number => numbers.get(code) as number;
  if (type === 'LINE') {
    const [a, b] = [
      [n(10), n(20)],
      [n(11), n(21)],
    ] as [[number, number], [number, number]];
    return { ends: [a, b], length: Math.hypot(b[0] - a[0], b[1] - a[1]), twice: a[0] * b[1] - b[0] * a[1] };
  }
  if (type === 'ARC') {
    const [from, to] = [(n(50) * Math.PI) / 180, (n(51) * Math.PI) / 180];
    const turn = to > from ? to - from : to - from + 2 * Math.PI;
    const at = (t: number): [number, number] => [n(10) + n(40) * Math.cos(t), n(20) + n(40) * Math.sin(t)];
    const [a, b] = [at(from), at(from + turn)];
    // Green's theorem over a circular arc.
    const twice = a[0] * b[1] - b[0] * a[1] + n(40) ** 2 * (turn - Math.sin(turn));
    return { ends: [a, b], length: n(40) * turn, twice };
  }
  let [length, twice] = [0, 0];
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]] as [[number, number], [number, number]];
    length += Math.hypot(b[0] - a[0], b[1] - a[1]);
    twice += a[0] * b[1] - b[0] * a[1];
  }
  return { ends: [points[0], points[points.length - 1]] as [number, number][], length, twice };
}

/** Length and area of entities that must close; each end meets exactly one other, whichever way the pieces are written. */
function closedShape(entities: readonly Entity[]): { length: number; area: number } {
  const left = entities.map(measured);
  let [length, area] = [0, 0];
  while (left.length > 0) {
    const first = left.shift() as (typeof left)[number];
    const start = first.ends[0] as readonly [number, number];
    let at = first.ends[1] as readonly [number, number];
    let twice = first.twice;
    length += first.length;
    const near = (p: readonly [number, number], q: readonly [number, number]) =>
      Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-3;
    while (!near(at, start)) {
      const i = left.findIndex(({ ends }) => ends.some((end) => near(end as [number, number], at)));
      if (i < 0) throw new Error(`open at ${at}`);
      const [next] = left.splice(i, 1) as [(typeof left)[number]];
      const forward = near(next.ends[0] as [number, number], at);
      at = next.ends[forward ? 1 : 0] as readonly [number, number];
      twice += forward ? next.twice : -next.twice;
      length += next.length;
    }
    area += Math.abs(twice) / 2;
  }
  return { length, area };
}

/** A coat rack's back, 600 × 140 × 19: its top an arc of radius 1000 about a point below, one end rounded, plain holes and a housing. */
function rack(): PlacedPart {
  const [length, width, thickness] = [600, 140, 19];
  const arch: Round = { origin: [300, width - 1000, 0], axis: [0, 0, 1], radius: 1000 };
  const end: Round = { origin: [length - 30, 30, 0], axis: [0, 0, 1], radius: 30 };
  const outline: Vec3[] = [[0, 0, 0]];
  const sides: { round?: Round }[] = [{}];
  for (let i = 0; i <= 12; i++) {
    const t = -Math.PI / 2 + ((Math.PI / 2) * i) / 12;
    outline.push([570 + 30 * Math.cos(t), 30 + 30 * Math.sin(t), 0]);
    sides.push(i < 12 ? { round: end } : {});
  }
  const half = Math.asin(300 / 1000);
  for (let i = 0; i <= 30; i++) {
    const t = half - (2 * half * i) / 30;
    outline.push([300 + 1000 * Math.sin(t), width - 1000 + 1000 * Math.cos(t), 0]);
    sides.push(i < 30 ? { round: arch } : {});
  }
  const shapings: Shaping[] = [
    { tool: prismTool(outline, [0, 0, thickness], { sides }), does: 'keep' },
    { tool: drillTool([100, 40, -1], [0, 0, 1], 5, 30), does: 'cut' },
    { tool: drillTool([500, 40, thickness + 1], [0, 0, -1], 12, 9), does: 'cut' },
    { tool: boxTool([250, -1, 13], [290, 60, 20]), does: 'cut' },
    { tool: boxTool([380, 60, -1], [420, 80, 20]), does: 'cut' },
  ];
  return boxSolid(straightBox('back.1', [0, 0, 0], [length, width, thickness]), solids, shapings);
}

/** Worked from the figures of `rack`: area under the arch, less the corner that is rounded off. */
function rackFigures() {
  const half = Math.asin(0.3);
  // The chord of the arch lies 1000·(1 - cos) below its top; the segment above it is r²/2 (2h - sin 2h).
  const low = 140 - 1000 * (1 - Math.cos(half));
  const area = 600 * low + (1000 ** 2 / 2) * (2 * half - Math.sin(2 * half)) - (1 - Math.PI / 4) * 30 ** 2;
  const around = 570 + (Math.PI / 2) * 30 + (low - 30) + 1000 * 2 * half + low;
  return { area, around, low };
}

describe('the flat outline of a wide face', () => {
  it('has the board’s edge as lines and arcs that close, and the area of the face', () => {
    const outline = flatOutline(rack());
    const { area } = rackFigures();
    expect(outline.closed).toBe(true);
    expect(outline.loops).toHaveLength(2);
    const [edge, cutOut] = outline.loops;
    // What isn't cut out of the lower edge to a depth belongs to the board: the outline is the whole board's.
    expect(edge?.area).toBeCloseTo(area, 1);
    expect(edge?.hole).toBe(false);
    expect(cutOut?.area).toBeCloseTo(40 * 20, 6);
    expect(cutOut?.hole).toBe(true);
    expect(edge?.pieces.flatMap((p) => (p.kind === 'arc' ? [p.radius] : [])).sort((a, b) => a - b)).toEqual([
      30, 1000,
    ]);
    expect(outline.holes).toEqual([
      {
        centre: [expect.closeTo(100, 6), expect.closeTo(40, 6)],
        radius: expect.closeTo(5, 9),
        through: true,
      },
      {
        centre: [expect.closeTo(500, 6), expect.closeTo(40, 6)],
        radius: expect.closeTo(12, 9),
        through: false,
      },
    ]);
    // The housing is open at the lower edge: two sides and its end.
    expect(outline.inner.map(({ of }) => of)).toEqual(['housing', 'housing', 'housing']);
    expect(outline.min).toEqual([expect.closeTo(0, 6), expect.closeTo(0, 6)]);
    expect(outline.max).toEqual([expect.closeTo(600, 6), expect.closeTo(140, 6)]);
    expect(outline.centres).toContainEqual([expect.closeTo(300, 6), expect.closeTo(-860, 6)]);
  });

  it('is turned over end for end on the reverse, where blind holes and housings of the face are not seen', () => {
    const outline = flatOutline(rack(), 'reverse');
    expect(outline.holes).toEqual([
      {
        centre: [expect.closeTo(500, 6), expect.closeTo(40, 6)],
        radius: expect.closeTo(5, 9),
        through: true,
      },
    ]);
    expect(outline.inner).toEqual([]);
    expect(outline.loops[0]?.area).toBeCloseTo(rackFigures().area, 1);
  });

  it('doesn’t depend on where in the piece the board stands', () => {
    const a = unit([1, 2, 0.5]);
    const b = unit([-2, 1, 0]);
    const box: PlainBox = {
      id: 'back.1',
      corner: [1000, -300, 40],
      axes: [a, b, [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]],
      size: [300, 90, 20],
    };
    const cut: Shaping = { tool: drillTool([60, 45, -1], [0, 0, 1], 20, 30), does: 'cut' };
    const there = flatOutline(boxSolid(box, solids, [cut]));
    const here = flatOutline(boxSolid(straightBox('back.1', [0, 0, 0], [300, 90, 20]), solids, [cut]));
    expect(there.max).toEqual(here.max.map((x) => expect.closeTo(x, 5)));
    expect(there.holes[0]?.centre).toEqual([expect.closeTo(60, 5), expect.closeTo(45, 5)]);
    expect(there.loops[0]?.area).toBeCloseTo(300 * 90, 3);
  });
});

describe('DXF of a flat part', () => {
  it.each([
    ['mm', 1],
    ['inch', 25.4],
  ] as const)('closes, and has the lengths and the area of the solid, in %s', (unitName, per) => {
    const part = rack();
    const text = dxfOf(flatOutline(part), {
      unit: unitName,
      title: 'Coat rack, back (A) – plan 4',
    }) as string;
    const { entities, header, layers } = readDxf(text);
    expect(header.get('$ACADVER 1')).toBe('AC1009');
    expect(new Set(entities.map((e) => e.layer)).size).toBe(5);
    for (const { layer } of entities) expect(layers).toContain(layer);
    const edge = closedShape(ofLayer(entities, 'OUTLINE'));
    const cutOut = closedShape(ofLayer(entities, 'CUT-OUT'));
    const { area, around } = rackFigures();
    expect(edge.area * per * per).toBeCloseTo(area, 1);
    expect(edge.length * per).toBeCloseTo(around, 2);
    expect(cutOut.area * per * per).toBeCloseTo(800, 1);
    const radii = (layer: string) => ofLayer(entities, layer).map((e) => (e.numbers.get(40) as number) * per);
    expect(radii('HOLE')).toEqual([expect.closeTo(5, 3)]);
    expect(radii('BLIND-HOLE')).toEqual([expect.closeTo(12, 3)]);
    // The solid: the face times its thickness, less hole, blind hole (8 deep) and housing (6 deep); facets are off by some 0.1 %.
    const holes = Math.PI * (25 * 19 + 144 * 8);
    const volume = (area - 800) * 19 - holes - 40 * 60 * 6;
    expect(Math.abs(part.volume / volume - 1)).toBeLessThan(2e-3);
    // ASCII, pairs, nothing but what release 12 knows.
    expect(/^[\x20-\x7e\r\n]*$/.test(text)).toBe(true);
    expect([...new Set(entities.map((e) => e.type))].sort()).toEqual(['ARC', 'CIRCLE', 'LINE']);
    expect(Number(header.get('$EXTMAX 10')) * per).toBeCloseTo(600, 3);
  });

  it('is the same text every time', () => {
    const write = () => dxfOf(flatOutline(rack()), { unit: 'mm', title: 'x' });
    expect(write()).toBe(write());
  });

  it('writes the rim of a tilted hole as a polyline on its ellipse', () => {
    const tilt = (10 * Math.PI) / 180;
    const board = boxSolid(straightBox('back.1', [0, 0, 0], [300, 90, 20]), solids, [
      {
        tool: drillTool([150, 45 - 5 * Math.tan(tilt), -5], [0, Math.sin(tilt), Math.cos(tilt)], 8, 60),
        does: 'cut',
      },
    ]);
    const outline = flatOutline(board);
    expect(outline.loops).toHaveLength(1);
    const { entities } = readDxf(dxfOf(outline, { unit: 'mm', title: 'x' }) as string);
    expect(closedShape(ofLayer(entities, 'OUTLINE')).area).toBeCloseTo(300 * 90, 3);
    const rims = entities.filter((e) => e.type === 'POLYLINE');
    // On the face z = 20 the hole's middle is at y = 45 + 20 tan 10°, its half axes 8 and 8 / cos 10°.
    for (const rim of rims) {
      expect(rim.layer).toBe('LEANING-HOLE');
      for (const [x, y] of rim.points)
        expect(
          Math.abs(((x - 150) / 8) ** 2 + ((y - 45 - 20 * Math.tan(tilt)) / (8 / Math.cos(tilt))) ** 2 - 1),
        ).toBeLessThan(1e-3);
    }
    // The drill starts in its middle.
    const [middle] = entities.filter((e) => e.type === 'POINT');
    expect(middle?.layer).toBe('LEANING-HOLE');
    expect(middle?.numbers.get(10)).toBeCloseTo(150, 3);
    expect(middle?.numbers.get(20)).toBeCloseTo(45 + 20 * Math.tan(tilt), 3);
    // Chords 0.01 mm off the ellipse of area π · 8 · 8 / cos 10°.
    expect(closedShape(rims).area).toBeCloseTo((Math.PI * 64) / Math.cos(tilt), 0);
  });

  it('is not written where the outline does not close', () => {
    const outline = flatOutline(rack());
    expect(dxfOf({ ...outline, closed: false }, { unit: 'mm', title: 'x' })).toBeUndefined();
  });

  it('follows the sawn edge of a tapered board', () => {
    // 400 × 100, tapered on one edge from 100 to 60 over its length: area 400 · 80, the slope √(400² + 40²).
    const normal = unit([40, 400, 0]);
    const board = boxSolid(straightBox('leg.1', [0, 0, 0], [400, 100, 20]), solids, [
      { tool: planeTool(normal, normal[1] * 100, [200, 80, 10], 900), does: 'cut' },
    ]);
    const { entities } = readDxf(dxfOf(flatOutline(board), { unit: 'mm', title: 'x' }) as string);
    const shape = closedShape(ofLayer(entities, 'OUTLINE'));
    expect(shape.area).toBeCloseTo(400 * 80, 2);
    expect(shape.length).toBeCloseTo(400 + 100 + 60 + Math.hypot(400, 40), 3);
    expect(shape.area * 20).toBeCloseTo(board.volume, 0);
  });
});
