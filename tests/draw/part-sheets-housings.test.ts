/** Sheets of boards that joints by housing cut: made again from the numbers printed on them, within the rounding of print. */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { lyingOf } from '../../src/draw/parts/part-lying.ts';
import { type PartSheet, partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart } from '../../src/draw/parts/part-sheet.ts';
import type { Drawing } from '../../src/draw/types.ts';
import type { BoxCut } from '../../src/model/shape.ts';
import { type Blocks, built, inch, metric, part } from '../resolve/shop.ts';
import { crossings, overlaps } from './clear.ts';
import { checkSheet } from './part-sheets-compare.ts';
import { Sheet } from './part-sheets-read.ts';
import { rebuilt } from './part-sheets-rebuild.ts';
import { readSvg } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const LEG = (lean: string): string => `leg:
  stock: 2x4
  rip: 1-1/2 in | 45 mm
  runs: up
  wide face: front
  lean: ${lean}
  at: { bottom: floor, top: floor + (16 in | 400 mm), left: left + 2 in | left + 50 mm, front: front + 2 in | front + 50 mm }
  copies: mirrored left-right and front-back
`;
const RAILS = (more: string): string => `rail:
  stock: 1x4
  rip: 2 in | 50 mm
  runs: across
  wide face: front
  between: leg
  ${more}
  at: { top: leg.top - (2 in | 50 mm), front: leg.front + (13 in | 330 mm) * tan(6 deg) + (3/8 in | 10 mm) }
  copies: mirrored front-back
`;
const JOINT = '- { join: rail, to: leg, by: housing, depth: 3/8 in | 9 mm }';

/** Name, blocks, the part whose sheet it is, how many operations it has, and whether its lines are out of parallel. */
const CASES: readonly (readonly [string, Blocks, string, number, boolean])[] = [
  [
    'shelves in a side, stopped',
    {
      parts: `side: { stock: 1x6, runs: up, wide face: left, at: { bottom: floor, top: top, left: left, front: front }, copies: mirrored left-right }
shelf: { stock: 1x4, runs: across, wide face: top, between: side, at: { bottom: 8 in | 200 mm, front: front }, copies: { repeated: 2, along: up, spacing: 10 in | 250 mm } }`,
      joints:
        '- { join: shelf, to: side, by: housing, depth: 1/4 in | 6 mm, stopped: { front: 1/2 in | 12 mm } }',
    },
    'side',
    2,
    false,
  ],
  [
    'a rail along a leg that leans both ways',
    { parts: LEG('{ left: 8 deg, front: 6 deg }') + RAILS('lean: { front: 6 deg }'), joints: JOINT },
    'leg',
    3,
    false,
  ],
  [
    'an upright rail in a leg that leans both ways',
    { parts: LEG('{ left: 8 deg, front: 6 deg }') + RAILS(''), joints: JOINT },
    'leg',
    3,
    true,
  ],
];

/** Angles print to a tenth of a degree; what isn't said is within a knife line, or within a degree and a half over so little depth. */
function anglesOf(desk: Desk, sheet: PartSheet, drawing: Drawing): void {
  const lying = lyingOf(desk, sheet);
  const { copy } = lying;
  const shapes = copy.shape;
  const read = new Sheet(drawing, desk.plan.edition, lying);
  shapes.forEach((one, i) => {
    if (one.kind !== 'box' || !one.layout || one.square) return;
    const again = rebuilt(shapes, i, copy.size, read) as BoxCut;
    one.layout.walls.forEach((wall, k) => {
      const [a, b] = [one.planes[k]!.normal, again.planes[k]!.normal];
      const apart = (Math.acos(Math.min(1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])) * 180) / Math.PI;
      const exact = wall.turn !== 0 && wall.undercut !== 0;
      expect(apart, `${drawing.id}, wall at the ${wall.face}`).toBeLessThan(exact ? 0.1 : 1.5);
    });
  });
}

describe('a board with housings can be made from its sheet', () => {
  for (const edition of [inch, metric])
    it.each(CASES)(
      `%s, ${edition.key}`,
      (_, blocks, key, operations, turned) => {
        const plan = built(blocks, edition);
        const cut = part(plan, key).copies[0]?.shape.find((one): one is BoxCut => one.kind === 'box');
        expect(cut?.layout?.walls.some(({ turn }) => turn !== 0)).toBe(turned);
        const desk = new Desk(workOf(plan));
        const sheet = partSheets(desk).find(({ copy }) => copy.part === key);
        if (!sheet) throw new Error('no sheet');
        for (const place of ['sheet', 'narrow'] as const) {
          const composed = composePart(desk, sheet, place);
          if (!composed) throw new Error(sheet.id);
          const drawing = desk.finish(composed, place);
          expect(checkSheet(desk, sheet, drawing)).toBe(operations);
          anglesOf(desk, sheet, drawing);
          const drawn = readSvg(drawing.svg);
          expect(overlaps(drawn)).toEqual([]);
          expect(crossings(drawn)).toEqual([]);
        }
      },
      60_000,
    );
});
