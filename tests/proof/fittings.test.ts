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

describe('the room of a fitting', () => {
  /** A plate 100 × 20 in the middle of a flap 1000 × 145, so thick, before a board 10 mm in front that is shaped as `more` says. */
  const inWood = (thickness: number, more = '', kind?: 'hinge') => {
    const parts = `flap: { stock: 1x6, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front + 100 mm } }
before: { stock: 1x6, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, back: flap.front - 10 mm }${more} }`;
    const plan = built({ parts, hardware: '- { item: hook, count: 1, on: flap.front }' }, metric);
    const outline = { length: 100, width: 20, thickness };
    const hardware = plan.hardware.map((use) => ({
      ...use,
      item: { ...use.item, outline, ...(kind ? { kind } : {}) },
    }));
    return findingsOf({ ...plan, hardware })
      .filter(({ id }) => id === 'hardware.in-wood')
      .map(line);
  };

  it('is free of other boards', () => {
    expect(inWood(10)).toEqual([]);
    expect(inWood(14)).toEqual([
      '22:3 hardware.in-wood: expected "hook" clear of other boards, found it in "before"',
    ]);
  });

  it('may be a notch or a housing of theirs', () => {
    const notch = (left: number, right: number) =>
      `, shape: [{ notch: { left: ${left} mm, right: ${right} mm, bottom: 50 mm, top: before.top } }]`;
    // The plate lies from 450 to 550 and from 62.5 to 82.5.
    expect(inWood(14, notch(440, 560))).toEqual([]);
    expect(inWood(14, notch(440, 530))).toHaveLength(1);
  });

  it('isn’t asked of hinges, which are let in', () => {
    expect(inWood(14, '', 'hinge')).toEqual([]);
  });
});
