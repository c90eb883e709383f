/**
 * Fasteners too near each other: spacings of EN 1995-1-1, Table 8.2 (as the LVL Handbook 2025, Table 5.1, prints it), worked by hand in the
 * comments. Bored holes: (4 + |cos α|) d along the grain and (3 + |sin α|) d across it, at least 4 d and 3 d; without: (5 + 5 |cos α|) d and
 * 5 d, at least 5 d both ways. Boards of the metric test list, mm; the screw is 4 thick.
 */
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';
import { type Blocks, built, hardware, line, metric } from '../resolve/shop.ts';
import { findingsOf } from './findings.ts';

const item = (joint: 'screws' | 'nails' | 'pocket screws', size?: string) =>
  hardware('the-one', {
    length: mm(30),
    ...(size === undefined ? {} : { size }),
    fits: { joint, from: mm(1), to: mm(100) },
  });

const crowded = (plan: Plan, one: ReturnType<typeof item>) =>
  findingsOf(plan, [one]).filter(({ id }) => id === 'joint.crowded');

/** An upright batten of 18 × 95 behind a board of 18 × 145 that runs across: they meet over 95 across and 140 up. */
const lapped = (by: string, count: number, more = ''): Blocks => ({
  parts: `board: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front } }
batten: { stock: 18x95, runs: up, wide face: front, length: 140 mm, at: { bottom: floor, left: left, front: board.back } }`,
  joints: `- { join: batten, to: board, by: ${by}, count: ${count}, from: back${more} }`,
});

describe('a row of screws in bored holes, along the grain of one board and across that of the other', () => {
  const said = (count: number, more = '') =>
    crowded(built(lapped('screws', count, more), metric), item('screws', '4 mm'));

  it('needs 4 diameters along the grain: 16 mm', () => {
    // Spread over 140: 140 / 8 = 17.5 apart, 140 / 10 = 14.
    expect(said(8)).toEqual([]);
    const [found, ...more] = said(10);
    expect(more).toEqual([]);
    expect(found && line(found)).toBe(
      '22:3 joint.crowded: expected screws of "batten" to "board" 16 mm or more apart along the grain of "batten", found 14 mm',
    );
    expect(found?.hint).toContain('"least spacing: 16 mm"');
  });

  it('says where the most is missing: across the grain of the board they need 12 mm only', () => {
    // 140 / 13 = 10.8: 0.67 of the batten's 16, 0.9 of the board's 12.
    expect(said(13).map(line)[0]).toContain('along the grain of "batten", found 11 mm');
  });

  it('is right with the least spacing that it names', () => {
    expect(said(10, ', least spacing: 16 mm')).toEqual([]);
  });

  it('needs 0.85 of 3 diameters both ways in sheets: 10.2 mm (8.3.1.3)', () => {
    const sheets = (count: number): Plan => {
      const plan = built(lapped('screws', count), metric);
      return {
        ...plan,
        parts: plan.parts.map((part) => ({ ...part, stock: { ...part.stock, sheets: [] } })),
      };
    };
    // 140 / 13 = 10.77; 140 / 15 = 9.33
    expect(crowded(sheets(13), item('screws', '4 mm'))).toEqual([]);
    expect(crowded(sheets(15), item('screws', '4 mm')).map(line)[0]).toContain(
      'screws of "batten" to "board" 10 mm or more apart in "batten", found 9 mm',
    );
  });
});

describe('nails', () => {
  it('need 5 diameters both ways: 20 mm of 4', () => {
    const said = (count: number) => crowded(built(lapped('nails', count), metric), item('nails', '4 mm'));
    // 140 / 6 = 23.3, 140 / 8 = 17.5
    expect(said(6)).toEqual([]);
    expect(said(8).map(line)[0]).toContain('nails of "batten" to "board" 20 mm or more apart');
  });

  it('of unknown wire count as 15 gauge, 1.83 mm: 9.15 mm', () => {
    const said = (count: number) => crowded(built(lapped('nails', count), metric), item('nails'));
    // 140 / 15 = 9.33, 140 / 18 = 7.78
    expect(said(15)).toEqual([]);
    expect(said(18)).toHaveLength(1);
  });
});

describe('screws of two joints in one board', () => {
  /** Two battens of 45, edge to edge, on the back of a board, one screw each: their middles are 45 apart, or as `apart` says. */
  const pair = (height: string): Blocks => ({
    parts: `board: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front } }
low: { stock: 18x45, rip: ${height}, runs: across, wide face: front, length: 300 mm, at: { bottom: floor, left: left, front: board.back } }
high: { stock: 18x45, rip: ${height}, runs: across, wide face: front, length: 300 mm, at: { bottom: low.top, left: left, front: board.back } }`,
    joints: `- { join: low, to: board, by: screws, count: 1, from: back }
- { join: high, to: board, by: screws, count: 1, from: back }`,
  });

  it('need 3 diameters across its grain: 12 mm', () => {
    expect(crowded(built(pair('13 mm'), metric), item('screws', '4 mm'))).toEqual([]);
    const [found] = crowded(built(pair('10 mm'), metric), item('screws', '4 mm'));
    expect(found && line(found)).toBe(
      '24:3 joint.crowded: expected screws of "high" to "board" and of "low" to "board" 12 mm or more apart across the grain of "board", found 10 mm',
    );
    expect(found?.hint).toContain('set back');
  });
});

describe('screws in pockets', () => {
  /** A rail between two stiles of a face frame; 4 diameters are 16 mm (common practice, no source). */
  const frame = (count: number): Plan =>
    built(
      {
        parts: `stile: { stock: 18x95, runs: up, wide face: front, length: 200 mm, at: { bottom: floor, left: left, front: front }, copies: mirrored left-right }
rail: { stock: 18x95, rip: 38 mm, runs: across, wide face: front, between: stile, at: { bottom: floor, front: front } }`,
        joints: `- { join: rail, to: stile, by: pocket screws, count: ${count}, from: back }`,
      },
      metric,
    );
  const said = (count: number) => crowded(frame(count), item('pocket screws', '4 mm'));

  it('may stand two in a rail of 38 mm, 19 mm apart, and not three', () => {
    expect(said(2)).toEqual([]);
    // 38 / 3 = 12.7
    expect(said(3).map(line)).toEqual([
      expect.stringContaining('expected pocket screws of "rail" to "stile" 16 mm or more apart'),
    ]);
  });
});
