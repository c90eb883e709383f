/** Rows of housings and notches, and corners: where they lie, what they take and how the cut list says them, worked by hand in the comments; mm. */
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids, type Solids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import { lineText } from '../../src/text.ts';
import { built, metric } from '../resolve/shop.ts';
import { postParts } from './post.ts';

let solids: Solids;
beforeAll(async () => {
  solids = await loadSolids();
});

const of = (shape: string, more = '') => {
  const plan = built({ parts: postParts(shape, more) }, metric);
  return {
    volume: placeParts(plan, solids)[0]?.volume,
    boxes: plan.parts[0]?.copies[0]?.shape.flatMap((one) => (one.kind === 'box' ? [one] : [])) ?? [],
    notes: cutList(plan).rows[0]?.notes.map(lineText),
  };
};

const WHOLE = 45 * 95 * 500;

describe('a row of cuts', () => {
  // three housings 20 high and 15 deep across a post 95 wide: 60 to 80, 180 to 200, 300 to 320 from the floor
  it('of housings, each of the first one moved on', () => {
    const { boxes, volume, notes } = of(
      '- { housing: front, at: { bottom: 60 mm, top: 80 mm }, depth: 15 mm, repeated: 3, along: up, spacing: 120 mm }',
    );
    expect(boxes.map(({ min, max }) => [min[0], max[0]])).toEqual([
      [60, 80],
      [180, 200],
      [300, 320],
    ]);
    expect(volume).toBeCloseTo(WHOLE - 3 * 20 * 15 * 95, 4);
    expect(notes).toEqual([
      '3 housings in the front: 20 mm wide, 15 mm deep, the first 60 mm from the bottom, 120 mm from one to the next',
    ]);
  });

  // downwards from 400: 400 to 420 and 250 to 270; the upper one is 500 - 420 = 80 from the top, so it is nearest to an end
  it('the other way, by a spacing below nothing', () => {
    const { boxes, notes } = of(
      '- { dado: front, at: { bottom: 400 mm, top: 420 mm }, depth: 15 mm, repeated: 2, along: up, spacing: -150 mm }',
    );
    expect(boxes.map(({ min }) => min[0])).toEqual([400, 250]);
    expect(notes).toEqual([
      '2 dados in the front: 20 mm wide, 15 mm deep, the first 80 mm from the top, 150 mm from one to the next',
    ]);
  });

  // four notches 30 high, 25 in from the right, through the thickness of 45; three with the last one 400 + 30 under the top of 500
  it('of notches, and their count may be a formula', () => {
    const { boxes, volume, notes } = of(
      '- { notch: { bottom: 100 mm, top: 130 mm, left: 70 mm }, repeated: 2 + 2, along: up, spacing: 100 mm }',
    );
    expect(boxes).toHaveLength(4);
    expect(volume).toBeCloseTo(WHOLE - 4 * 30 * 25 * 45, 4);
    expect(notes).toEqual(['4 notches 30 mm of the length × 25 mm of the width, at the right']);
  });

  it('corners are said as corners in the cut list', () => {
    const notes = (shape: string) => of(shape).notes;
    expect(notes('- { round: [left top, right top, left bottom, right bottom], radius: 20 mm }')).toEqual([
      'round all four corners 20 mm',
    ]);
    expect(notes('- { chamfer: left top, width: 10 mm }')).toEqual(['chamfer the left top corner 10 mm']);
    expect(notes('- { chamfer: front top, width: 10 mm }')).toEqual(['chamfer the front top edge 10 mm']);
  });

  it('a row of one is the cut itself', () => {
    const { notes } = of(
      '- { housing: front, at: { bottom: 60 mm, top: 80 mm }, depth: 15 mm, repeated: 1, along: up, spacing: 10 mm }',
    );
    expect(notes).toEqual(['housing in the front: 20 mm wide, 15 mm deep, 60 mm from the bottom']);
  });
});
