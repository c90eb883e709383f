/** Screws that meet in the wood: where each runs is worked by hand in the comments; mm, boards of the metric test list. */
import { describe, expect, it } from 'vitest';
import { mm } from '../../src/units.ts';
import { type Blocks, built, hardware, line, metric } from '../resolve/shop.ts';
import { findingsOf } from './findings.ts';

const item = (key: string, joint: 'screws' | 'nails' | 'pocket screws', length: number) =>
  hardware(key, { length: mm(length), size: '4 mm', fits: { joint, from: mm(1), to: mm(100) } });

const meeting = (blocks: Blocks, ...items: ReturnType<typeof item>[]) =>
  findingsOf(built(blocks, metric), items)
    .filter(({ id }) => id === 'joint.meet')
    .map(line);

/** A post of 18 with a batten of 18 on its front and one on its back, at one height; both take two screws. */
const BOTH_SIDES = (more = ''): Blocks => ({
  parts: `post: { stock: 18x145, runs: up, wide face: front, length: 400 mm, at: { bottom: floor, left: left + 100 mm, front: front + 100 mm } }
front-batten: { stock: 18x95, runs: across, wide face: front, length: 400 mm, at: { bottom: floor, left: left, back: post.front } }
back-batten: { stock: 18x95, runs: across, wide face: front, length: 400 mm, at: { bottom: floor, left: left, front: post.back } }`,
  joints: `- { join: front-batten, to: post, by: screws, from: front }
- { join: back-batten, to: post, by: screws, from: back${more} }`,
});

describe('screws from both sides of a post of 18', () => {
  it('pass where their points stay apart', () => {
    // 27 - 18 = 9 from each side: point to point in the middle.
    expect(meeting(BOTH_SIDES(), item('the-one', 'screws', 27))).toEqual([]);
  });

  it('meet where both go in beyond the middle', () => {
    // 30 - 18 = 12 from each side, 6 too many.
    expect(meeting(BOTH_SIDES(), item('the-one', 'screws', 30))).toEqual([
      '24:3 joint.meet: expected fasteners that pass each other, found a screw of "back-batten" to "post" and a screw of "front-batten" to "post" that meet in the wood',
    ]);
  });

  it('pass again where one row is set back otherwise', () => {
    // The post is 145 wide: half a spacing is 145 / 4 = 36; 20 from the edges the others stand 16 beside.
    expect(meeting(BOTH_SIDES(', set back: 20 mm'), item('the-one', 'screws', 30))).toEqual([]);
    // 34 from the edges: 2.25 beside, less than a screw of 4.
    expect(meeting(BOTH_SIDES(', set back: 34 mm'), item('the-one', 'screws', 30))).toHaveLength(1);
    // 32 from the edges: 4.25 beside.
    expect(meeting(BOTH_SIDES(', set back: 32 mm'), item('the-one', 'screws', 30))).toEqual([]);
  });
});

/**
 * A rail 18 × 95 between two sides, pockets at its ends and in its upper edge, all from behind. A pocket's bore of 9.5 begins
 * 9 / tan 15° = 33.6 before the joint; the rim of the bit begins to cut 4.75 / tan 15° = 17.7 before that, at 51.3.
 */
const RAIL = (setBack: string): Blocks => ({
  parts: `side: { stock: 18x145, runs: up, wide face: left, length: 400 mm, at: { bottom: floor, left: left, front: front }, copies: mirrored left-right }
rail: { stock: 18x95, runs: across, wide face: front, between: side, at: { bottom: floor, front: front + 40 mm } }
lid: { stock: 18x145, runs: across, wide face: top, between: side, at: { bottom: rail.top, front: front } }`,
  joints: `- { join: rail, to: side, by: pocket screws, from: back }
- { join: rail, to: lid, by: pocket screws, count: 3, from: back, set back: ${setBack} }`,
});

describe('pockets at the end and in the edge of a rail', () => {
  const screw = item('the-one', 'pocket screws', 30);

  it('break into each other where the row begins over the others', () => {
    // The upper end pocket runs 23.75 below the edge: 20 from the end the two bores are at depths of 3.6 and 2.6.
    expect(meeting(RAIL('20 mm'), screw)).toEqual([
      '24:3 joint.meet: expected fasteners that pass each other, found a pocket hole of "rail" to "lid" and a pocket screw of "rail" to "side" that meet in the wood',
    ]);
  });

  it('stay apart where it begins beyond them', () => {
    // 51.3 and the two halves of a bore, 9.5, make 60.8.
    expect(meeting(RAIL('61 mm'), screw)).toEqual([]);
    expect(meeting(RAIL('48 mm'), screw)).toHaveLength(1);
  });
});
