/** Chests with a lid, from plans as they are written; rooms and areas are worked by hand in the comments; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { Plan } from '../../src/model/types.ts';
import { closedRooms } from '../../src/proof/rooms.ts';
import { ventsOf } from '../../src/proof/vents.ts';
import type { ShopSource } from '../../src/read/types.ts';
import { demoFiles, planOf, shopOf } from '../support/demo.ts';
import { findingsOf } from './findings.ts';

interface Chest {
  /** Outside, mm. */
  readonly width?: number;
  readonly height?: number;
  /** Lines of the `shape` of front, ends and back. */
  readonly front?: string;
  readonly end?: string;
  readonly back?: string;
  /** Between lid and walls. */
  readonly gap?: number;
  readonly hardware: string;
  readonly more?: string;
}

/** A chest of 18 mm plywood 400 deep, its bottom 20 above the floor between the walls, its lid on top of these. */
function chest({
  width = 900,
  height = 418,
  front = '',
  end = '',
  back = '',
  gap = 0,
  hardware,
  more = '',
}: Chest): string {
  const shaped = (lines: string): string => (lines === '' ? '' : `  shape:\n${lines}`);
  return `---
title: Chest
number: 77
summary: A box.
kind: storage
skill: Any
time: A day
revisions: [{ revision: A, date: 2026-01-09, note: First print. }]
---

\`\`\`sizes
outline: { width: ${width} mm, depth: 400 mm, height: ${height} mm }
\`\`\`

\`\`\`parts
end:
  stock: ply-3/4
  runs: up
  wide face: left
  at: { bottom: floor, top: top - lid.thickness - ${gap} mm, left: left, front: front, back: back }
  copies: mirrored left-right
${shaped(end)}
front-wall:
  stock: ply-3/4
  runs: across
  wide face: front
  between: end
  at: { bottom: floor, top: end.top, front: front }
${shaped(front)}
back-wall:
  stock: ply-3/4
  runs: across
  wide face: front
  between: end
  at: { bottom: floor, top: end.top, back: back }
${shaped(back)}
base: { stock: ply-3/4, runs: across, wide face: top, between: end, at: { bottom: floor + 20 mm, front: front-wall.back, back: back-wall.front } }
lid: { stock: ply-3/4, runs: across, wide face: top, at: { top: top, left: left, right: right, front: front, back: back } }
${more}
\`\`\`

\`\`\`hardware
${hardware}
\`\`\`

## Steps

### Build

\`\`\`step
adds: [end, front-wall, back-wall, base, lid${/^(\w[\w-]*):/gmu.exec(more)?.[1] ? `, ${/^(\w[\w-]*):/mu.exec(more)?.[1]}` : ''}]
\`\`\`
`;
}

const HINGES = '- { item: lid-hinge, count: 2, on: lid.back }';
const STAY = `${HINGES}\n- { item: lid-stay, count: 1, on: end.right }`;
const hole = (across: number, up: number, diameter: number): string =>
  `    - { hole: front, at: { across: ${across} mm, up: ${up} mm }, diameter: ${diameter} mm }\n`;

let files: Map<string, string>;
beforeAll(() => {
  files = demoFiles();
});
async function planFor(made: Chest, edition = 'metric'): Promise<Plan> {
  const shop: ShopSource = await shopOf(new Map([...files, ['content/plans/chest/plan.md', chest(made)]]));
  return planOf(shop, 'chest', edition);
}
/** What the rule says of a chest. */
const ofLids = (plan: Plan): string[] =>
  findingsOf(plan)
    .filter(({ id }) => id.startsWith('lid.'))
    .map(({ id, message }) => `${id}: ${message}`);
const found = async (made: Chest, edition?: string): Promise<string[]> =>
  ofLids(await planFor(made, edition));

describe('a closed room', () => {
  it('is what lies between walls, bottom and lid', async () => {
    const [room, ...others] = closedRooms(await planFor({ hardware: HINGES }));
    // 900 - 36 by 400 - 36 by 418 - 18 - 38: 864 × 364 × 362
    expect(others).toEqual([]);
    expect(room?.volume).toBeCloseTo(864 * 364 * 362, 3);
    expect([room?.min, room?.max]).toEqual([
      [18, 18, 38],
      [882, 382, 400],
    ]);
  });

  it('is two where a board parts it, and one where that stops short of the lid', async () => {
    const part = (top: string): string =>
      `divider: { stock: ply-3/4, runs: up, wide face: left, at: { bottom: base.top, top: ${top}, left: 441 mm, front: front-wall.back, back: back-wall.front } }`;
    const two = closedRooms(await planFor({ hardware: HINGES, more: part('lid.bottom') }));
    // (864 - 18) / 2 = 423 each
    expect(two.map(({ volume }) => Math.round(volume))).toEqual([423 * 364 * 362, 423 * 364 * 362]);
    expect(closedRooms(await planFor({ hardware: HINGES, more: part('lid.bottom - 20 mm') }))).toHaveLength(
      1,
    );
  });

  it('is none where a gap runs round the lid, unless that is as narrow as the gap of a hinge', async () => {
    expect(closedRooms(await planFor({ hardware: HINGES, gap: 4 }))).toEqual([]);
    expect(closedRooms(await planFor({ hardware: HINGES, gap: 2 }))).toHaveLength(1);
  });
});

describe('a lid over a room that a child can get into', () => {
  it('wants a stay and air', async () => {
    // The lid weighs 0.9 × 0.4 × 0.018 × 680 = 4.4 kg; the room has 113.8 litres.
    expect(await found({ hardware: HINGES })).toEqual([
      'lid.stay: expected a stay that holds "Lid" (about 4 kg) wherever it is let go, since a child can get under it, found hinges alone',
      'lid.air: expected 1300 mm² or more of openings into the 114 litres behind "Lid", 150 mm or more apart, found 0 mm²',
    ]);
    expect(await found({ hardware: STAY })).toHaveLength(1);
  });

  it('has air through two holes of 30 mm far enough apart', async () => {
    // 2 π 15² = 1414; EN 71-1 wants two of 650, at least 150 apart.
    const two = (apart: number): string => hole(300, 300, 30) + hole(300 + apart, 300, 30);
    expect(await found({ hardware: STAY, front: two(200) })).toEqual([]);
    expect(await found({ hardware: STAY, front: two(100) })).toHaveLength(1);
    // One alone, 707 mm², lies nowhere apart from another.
    expect((await found({ hardware: STAY, front: hole(300, 300, 30) }))[0]).toContain('found 0 mm²');
    // Two of 28: 2 π 14² = 1232
    const small = hole(300, 300, 28) + hole(600, 300, 28);
    expect((await found({ hardware: STAY, front: small }))[0]).toContain('found 1232 mm²');
  });

  it('has air through hollows in the edge under the lid', async () => {
    const arc = (left: number): string =>
      `    - { arc: top, rise: 20 mm, at: { left: ${left} mm, right: ${left + 120} mm } }\n`;
    const plan = await planFor({ hardware: STAY, front: arc(150) + arc(600) });
    // Two thirds of chord times rise; the segment itself of r = (120² + 4 · 20²) / 160 = 100: 100² acos 0.8 - 80 · 60 = 1635.
    for (const { area } of ventsOf(plan)) expect(Math.abs(area / 1635 - 1)).toBeLessThan(0.03);
    expect(await found({ hardware: STAY, front: arc(150) + arc(600) })).toEqual([]);
  });

  it('has none through holes that something covers', async () => {
    const two = hole(300, 300, 30) + hole(600, 300, 30);
    const cover =
      'panel: { stock: ply-1/4, runs: across, wide face: front, length: 864 mm, at: { left: 18 mm, bottom: 200 mm, top: 380 mm, front: front-wall.back } }';
    expect(await found({ hardware: STAY, front: two, more: cover })).toHaveLength(1);
    // Against the wall of the room a hole in the back is shut; one in each end stays open.
    expect(await found({ hardware: STAY, back: two })).toHaveLength(1);
    const ends = '    - { hole: left, at: { deep: 200 mm, up: 300 mm }, diameter: 30 mm }\n';
    expect(await found({ hardware: STAY, end: ends })).toEqual([]);
    // At the floor, below the bottom, they lead into no room that is closed.
    expect(await found({ hardware: STAY, front: hole(300, 10, 15) + hole(600, 10, 15) })).toHaveLength(1);
  });

  it('is said in the sizes of the edition', async () => {
    const [, air] = await found({ hardware: HINGES }, 'imperial');
    expect(air).toContain(
      'expected 2.0 sq in or more of openings into the 4.0 cu ft behind "Lid", 6″ or more apart',
    );
  });
});

describe('no warning', () => {
  it('for a box too small: 30 litres, or 150 in each direction', async () => {
    // 864 × 364 × 132: 41 litres, but 132 high
    expect(await found({ hardware: HINGES, height: 188 })).toEqual([]);
    // 264 × 364 × 282: 27 litres
    expect(await found({ hardware: HINGES, width: 300, height: 338 })).toEqual([]);
    // 264 × 364 × 332: 31.9 litres
    expect(await found({ hardware: HINGES, width: 300, height: 388 })).toHaveLength(2);
  });

  it('for a chest without hinges, or with a gap all round', async () => {
    expect(await found({ hardware: '- { item: wood-glue, count: 1 }' })).toEqual([]);
    expect(await found({ hardware: HINGES, gap: 6 })).toEqual([]);
  });

  it('for a stay where a door opens, which only wants air', async () => {
    const door = '- { item: lid-hinge, count: 2, on: front-wall.front }';
    expect((await found({ hardware: door })).map((one) => one.slice(0, 8))).toEqual(['lid.air:']);
  });

  it('for the window seat of the demo shop', async () => {
    const shop = await shopOf(files);
    for (const variant of ['standard', 'long'])
      for (const edition of ['imperial', 'metric']) {
        const plan = planOf(shop, 'window-seat', edition, variant);
        expect(closedRooms(plan).length).toBeGreaterThan(0);
        expect(ofLids(plan)).toEqual([]);
      }
  });
});
