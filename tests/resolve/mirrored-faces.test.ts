/** Faces of a mirrored copy in formulas: where they lie is worked out by hand beside each check. */
import { describe, expect, it } from 'vitest';
import { built, metric, part } from './shop.ts';

/** Sides 18 thick in a piece 1000 wide, 500 deep and 750 high, set in by 30 and mirrored; a panel let 6 into both. */
const parts = (copies: string, panel: string): string => `side:
  stock: 18x95
  runs: up
  wide face: left
  at: { bottom: floor, top: top, left: left + 30 mm, front: front + 20 mm }
  copies: ${copies}
panel:
  stock: 18x95
  runs: across
  wide face: front
  at: { bottom: floor, ${panel} }
`;

describe('a face of a mirrored copy', () => {
  it('is the other face on the other side of the middle', () => {
    const plan = built(
      {
        parts: parts(
          'mirrored left-right',
          'left: side.right - 6 mm, right: side.mirrored.left + 6 mm, front: side.front',
        ),
      },
      metric,
    );
    // The first side reaches from 30 to 48, its copy from 952 to 970: from 48 - 6 to 952 + 6.
    const { bounds } = part(plan, 'panel').copies[0] as {
      bounds: { min: readonly number[]; max: readonly number[] };
    };
    expect([bounds.min[0], bounds.max[0]]).toEqual([42, 958]);
    // The copy is where the model has it.
    const [, copy] = part(plan, 'side').copies;
    expect(copy?.bounds.min[0]).toBeCloseTo(952, 9);
  });

  it('of copies mirrored both ways lies along its own direction', () => {
    const plan = built(
      {
        parts: parts(
          'mirrored left-right and front-back',
          'left: side.mirrored.right - 200 mm, right: side.mirrored.right, back: side.mirrored.front',
        ),
      },
      metric,
    );
    const { bounds } = part(plan, 'panel').copies[0] as {
      bounds: { min: readonly number[]; max: readonly number[] };
    };
    // Right of the copy: 1000 - 30; front of the copy behind: 500 - (20 + 95) = 385, which is the panel's back.
    expect([bounds.min[0], bounds.max[0]]).toEqual([770, 970]);
    expect([bounds.min[1], bounds.max[1]]).toEqual([367, 385]);
  });
});
