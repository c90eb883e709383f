/** Hardware that the trade sells in two sizes: each edition says and drives its own. Sizes are those written in content/hardware. */
import { describe, expect, it } from 'vitest';
import { hardwareIn } from '../../src/read/hardware.ts';
import type { HardwareItem } from '../../src/read/types.ts';
import { mm } from '../../src/units.ts';
import { demoWorks, repository } from '../draw/demo-work.ts';

const item: HardwareItem = {
  key: 'peg',
  name: 'Peg',
  length: mm(88.9),
  lengths: { inch: mm(88.9), mm: mm(90) },
  size: '1 pint',
  sizes: { inch: '1 pint', mm: '0.5 l' },
  package: 5,
  price: {},
  regions: [],
  outdoors: false,
  origin: { file: 'content/hardware/fittings.yaml', line: 1, column: 1 },
};

describe('hardware sold in two sizes', () => {
  it('has the one of the number system, and what has one size keeps it', () => {
    expect(hardwareIn([item], 'mm')[0]).toMatchObject({ length: 90, size: '0.5 l' });
    expect(hardwareIn([item], 'inch')[0]).toMatchObject({ length: 88.9, size: '1 pint' });
    const { lengths: _, sizes: __, ...single } = item;
    expect(hardwareIn([single], 'mm')).toEqual([single]);
  });

  it('is what an edition lists: the rack’s pegs, 3-1/2 in or 90 mm, and its wall screws, 3 in or 80 mm', async () => {
    const works = await demoWorks(repository, ['coat-rack']);
    const listed = works.map(({ work }) =>
      work.plan.hardware.map(({ item: { key, length, size } }) => [key, length ?? size]),
    );
    const inches = (value: number) => expect.closeTo(value * 25.4, 9);
    expect(listed[0]).toContainEqual(['oak-peg', inches(3.5)]);
    expect(listed[0]).toContainEqual(['wall-screw', inches(3)]);
    expect(listed[0]).toContainEqual(['interior-oil', '1 pint']);
    expect(listed[1]).toContainEqual(['oak-peg', 90]);
    expect(listed[1]).toContainEqual(['wall-screw', 80]);
    expect(listed[1]).toContainEqual(['interior-oil', '0.5 l']);
  });
});
