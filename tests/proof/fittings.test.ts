/** Fittings against the wood behind them, worked by hand; mm, boards of the metric test list. */
import { describe, expect, it } from 'vitest';
import { inches, mm } from '../../src/units.ts';
import { built, inch, line, metric } from '../resolve/shop.ts';
import { findingsOf } from './findings.ts';

/** A flap of 18 with a fitting on it that needs so much wood; what the proof says of it. */
function found(needs: number, on: string, more = '', edition = metric) {
  const parts = `flap: { stock: 1x6, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front } }
${more}`;
  const plan = built({ parts, hardware: `- { item: hook, count: 1, on: ${on} }` }, edition);
  const wood = { inch: inches(needs / 25), mm: mm(needs) };
  const hardware = plan.hardware.map((use) => ({ ...use, item: { ...use.item, wood } }));
  return findingsOf({ ...plan, hardware })
    .filter(({ id }) => id === 'hardware.wood')
    .map(line);
}

describe('the wood behind a fitting', () => {
  const BLOCK =
    'block: { stock: 1x4, runs: across, wide face: front, length: 100 mm, at: { left: left, bottom: floor, front: flap.back } }';

  it('is as thick as the part across the face that it is on', () => {
    expect(found(18, 'flap.front')).toEqual([]);
    // The board is 145 wide and 1000 long: from its edge or end there is enough.
    expect(found(25, 'flap.top')).toEqual([]);
    expect(found(25, 'flap.left')).toEqual([]);
    expect(found(25, 'flap.front')).toEqual([
      '21:3 hardware.wood: expected 25 mm of wood behind "hook" on the front of "flap", found 18 mm',
    ]);
  });

  it('is that behind the wide face where no face is said', () => {
    expect(found(25, 'flap')).toHaveLength(1);
    expect(found(18, 'flap')).toEqual([]);
  });

  it('counts a block that lies against the back, and not one in front', () => {
    // 18 + 18
    expect(found(36, 'flap.front', BLOCK)).toEqual([]);
    expect(found(38, 'flap.front', BLOCK)).toHaveLength(1);
    expect(found(25, 'flap.back', BLOCK)).toHaveLength(1);
  });

  it('is said in the edition’s own sizes', () => {
    // 1 in in an inch plan, whose board is 3/4 in thick.
    expect(found(25, 'flap.front', '', inch)).toEqual([
      '21:3 hardware.wood: expected 1″ of wood behind "hook" on the front of "flap", found 3/4″',
    ]);
  });
});
