/** Screws against the wood that they end in: how far each goes is worked by hand in the comments; mm, boards of the metric test list. */
import { describe, expect, it } from 'vitest';
import { mm } from '../../src/units.ts';
import { type Blocks, built, hardware, line, metric } from '../resolve/shop.ts';
import { findingsOf } from './findings.ts';

/** What the proof says of the joints, with one item of hardware so long. */
function found(blocks: Blocks, joint: 'screws' | 'nails' | 'pocket screws', length: number) {
  const plan = built(blocks, metric);
  const item = hardware('the-one', {
    length: mm(length),
    size: '4 mm',
    fits: { joint, from: mm(1), to: mm(100) },
  });
  return findingsOf(plan, [item])
    .filter(({ id }) => id.startsWith('joint.'))
    .map(line);
}

/** A batten of 18 against a board of 18, front against back, and more behind the board where `more` says so. */
const LAPPED = (by: string, more = ''): Blocks => ({
  parts: `board: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, front: front } }
batten: { stock: 18x95, runs: up, wide face: front, length: 140 mm, at: { bottom: floor, left: left, front: board.back } }
${more}`,
  joints: `- { join: batten, to: board, by: ${by}, from: back }`,
});

describe('screws through a batten into a board, 18 and 18 thick', () => {
  it('that end in the board are right', () => {
    // 30 - 18 = 12 in the board.
    expect(found(LAPPED('screws'), 'screws', 30)).toEqual([]);
    // 36 - 18 = 18: the point is level with the front.
    expect(found(LAPPED('screws'), 'screws', 36)).toEqual([]);
  });

  it('come out in front where they are longer than both', () => {
    // 40 - 36 = 4
    expect(found(LAPPED('screws'), 'screws', 40)).toEqual([
      '22:3 joint.through: expected screws that end in "board", found the-one, 40 mm long, with its point 4 mm out of the wood',
    ]);
    expect(found(LAPPED('nails'), 'nails', 45)).toEqual([
      '22:3 joint.through: expected nails that end in "board", found the-one, 45 mm long, with its point 9 mm out of the wood',
    ]);
  });

  it('may go on into a third board', () => {
    const cover =
      'cover: { stock: 18x145, runs: across, wide face: front, at: { left: left, right: right, bottom: floor, back: board.front } }';
    expect(found(LAPPED('screws', cover), 'screws', 50)).toEqual([]);
    // 60 - 3 * 18 = 6
    expect(found(LAPPED('screws', cover), 'screws', 60)).toHaveLength(1);
  });

  it('hold too little where they hardly reach it', () => {
    // 25 - 18 = 7, less than 10; 18 - 18 = 0
    expect(found(LAPPED('screws'), 'screws', 25)).toEqual([
      '22:3 joint.bite: expected screws that go 10 mm or more into "board", found the-one, 25 mm long, which goes in 7 mm',
    ]);
    expect(found(LAPPED('screws'), 'screws', 18)[0]).toContain('which does not reach it');
  });
});

describe('pocket screws from a rail into the face of a board', () => {
  const RAIL: Blocks = {
    parts: `side: { stock: 18x145, runs: up, wide face: left, at: { bottom: floor, top: top, left: left, front: front }, copies: mirrored left-right }
rail: { stock: 18x95, runs: across, wide face: front, between: side, at: { top: top, front: front + 40 mm } }`,
    joints: '- { join: rail, to: side, by: pocket screws, from: back }',
  };
  it('end in it by half their length at 15 degrees', () => {
    // The pocket's shoulder lies half a screw before the joint: 32 / 2 cos 15 = 15.5 of the side's 18.
    expect(found(RAIL, 'pocket screws', 32)).toEqual([]);
  });
  it('come through it where they are too long', () => {
    // In the middle of 18 a pocket is 9 / sin 15 = 34.77 long. Half of 38 before the joint: 19 cos 15 = 18.35, 0.35 out, a dimple.
    expect(found(RAIL, 'pocket screws', 38)).toEqual([]);
    // Half of 50: 25 cos 15 = 24.1, of which 6.1 stand out.
    expect(found(RAIL, 'pocket screws', 50)).toEqual([
      '22:3 joint.through: expected pocket screws that end in "side", found the-one, 50 mm long, with its point 6 mm out of the wood',
    ]);
  });
});
