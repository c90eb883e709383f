/** Room for a driver behind screws, measured by hand; mm, boards of the metric test list. The least room is common practice, no source. */
import { describe, expect, it } from 'vitest';
import { mm } from '../../src/units.ts';
import { built, hardware, inch, line, metric } from '../resolve/shop.ts';
import { findingsOf } from './findings.ts';

const screw = (joint: 'screws' | 'nails' | 'pocket screws') =>
  hardware('the-one', { length: mm(30), size: '4 mm', fits: { joint, from: mm(1), to: mm(100) } });

interface Case {
  /** Between the batten and the wall on the other side of the box, mm. */
  readonly clear: number;
  readonly steps?: readonly string[];
  readonly by?: 'screws' | 'nails';
  readonly wall?: string;
}

/** A narrow box: a post to the left, a batten screwed to it from inside, a wall so far to the right of the batten. */
function found(
  { clear, steps = ['post, wall', 'batten'], by = 'screws', wall = '' }: Case,
  edition = metric,
) {
  const plan = built(
    {
      parts: `post: { stock: 1x6, runs: up, wide face: right, length: 400 mm, at: { left: left, front: front, bottom: floor } }
batten: { stock: 1x4, runs: up, wide face: right, length: 200 mm, at: { left: post.right, front: front, bottom: floor + 100 mm } }
wall: { stock: 1x6, runs: up, wide face: right, length: 400 mm, at: { left: batten.right + ${clear} mm, front: front, bottom: floor }${wall} }`,
      joints: `- { join: batten, to: post, by: ${by}, count: 1, from: right }`,
      steps: `## Steps\n\n${steps.map((adds, i) => `### Step ${i + 1}\n\n\`\`\`step\nadds: [${adds}]\n\`\`\`\n`).join('\n')}`,
    },
    edition,
  );
  return findingsOf(plan, [screw(by)])
    .filter(({ id }) => id === 'joint.reach')
    .map(line);
}

describe('a screw from inside a narrow box', () => {
  it('needs 150 mm behind it', () => {
    expect(found({ clear: 151 })).toEqual([]);
    expect(found({ clear: 120 })).toEqual([
      '23:3 joint.reach: expected 150 mm or more for a driver behind the screws of "batten" to "post", found 120 mm to "wall"',
    ]);
    expect(found({ clear: 120, by: 'nails' })[0]).toContain('for a hammer behind the nails');
  });

  it('needs 6 in, 152.4 mm, in an inch plan', () => {
    expect(found({ clear: 153 }, inch)).toEqual([]);
    expect(found({ clear: 101.6 }, inch)[0]).toContain('expected 6″ or more for a driver');
    expect(found({ clear: 101.6 }, inch)[0]).toContain('found 4″ to "wall"');
  });

  it('is driven before the wall is there, in an earlier step or first in its own', () => {
    expect(found({ clear: 50, steps: ['post, batten', 'wall'] })).toEqual([]);
    expect(found({ clear: 50, steps: ['post', 'batten, wall'] })).toEqual([]);
  });

  it('is driven on the bench where both are built together', () => {
    // In the piece the wall is 44 behind the batten; on the bench it isn't there.
    const plan = built(
      {
        parts: `wall: { stock: 1x6, runs: up, wide face: right, length: 400 mm, at: { left: left + 80 mm, front: front, bottom: floor } }
post: { stock: 1x6, runs: up, wide face: right, length: 400 mm, at: { left: left, front: front, bottom: floor }, assembly: side }
batten: { stock: 1x4, runs: up, wide face: right, length: 200 mm, at: { left: post.right, front: front, bottom: floor + 100 mm }, assembly: side }`,
        joints: '- { join: batten, to: post, by: screws, count: 1, from: right }',
        steps:
          '## Steps\n\n### Wall\n\n```step\nadds: [wall]\n```\n\n### Side\n\n```step\nadds: [post, batten]\nassembly: side\n```\n\n### Set\n\n```step\nadds: [side]\n```\n',
      },
      metric,
    );
    expect(findingsOf(plan, [screw('screws')]).filter(({ id }) => id === 'joint.reach')).toEqual([]);
  });

  it('may be reached through a notch of the wall, not beside one', () => {
    // The screw goes in at half of the batten's 95 and in the middle of its height, 200.
    const notch = (back: number) =>
      `, shape: [{ notch: { front: wall.front, back: front + ${back} mm, bottom: 150 mm, top: 250 mm } }]`;
    expect(found({ clear: 50, wall: notch(60) })).toEqual([]);
    expect(found({ clear: 50, wall: notch(40) })).toHaveLength(1);
  });
});

describe('pocket screws', () => {
  it('are driven at 15 degrees past what stands square behind the rail', () => {
    // A rail of 18 between two posts, pockets behind: the driver leaves the rail's back 9 / tan 15° = 33.6 from its end and rises from there.
    const blocks = (back: number) => ({
      parts: `post: { stock: 1x6, runs: up, wide face: left, length: 400 mm, at: { left: left, front: front, bottom: floor }, copies: mirrored left-right }
shelf: { stock: 1x4, runs: across, wide face: front, length: 300 mm, at: { left: post.right, front: front + ${back} mm, bottom: floor } }
rail: { stock: 1x4, runs: across, wide face: front, between: post, at: { front: front, bottom: floor } }`,
      joints: '- { join: rail, to: post, by: pocket screws, count: 1, from: back }',
      steps:
        '## Steps\n\n### Stand\n\n```step\nadds: [post, shelf]\n```\n\n### Rail\n\n```step\nadds: [rail]\n```\n',
    });
    const reach = (back: number) =>
      findingsOf(built(blocks(back), metric), [screw('pocket screws')])
        .filter(({ id }) => id === 'joint.reach')
        .map(line);
    // A board 60 behind the rail's back is met after 60 / sin 15° = 231.8, one 10 behind it after 38.6.
    expect(reach(78)).toEqual([]);
    expect(reach(28)[0]).toMatch(/found (?:38|39) mm to "shelf"/);
  });
});
