import { describe, expect, test } from 'vitest';
import { contactOf, contactsBetween, gapBetween } from '../../src/joinery/contacts.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import type { Joint, Plan } from '../../src/model/types.ts';
import { pocketScrew, testHardware, woodScrew } from '../support/hardware.ts';
import { boxPart, samplePlan, stock1x4, stock2x4 } from '../support/sample.ts';

const origin = { file: 'content/plans/sample/plan.md', line: 40, column: 3 };
const part = (key: string) => {
  const found = samplePlan.parts.find((item) => item.key === key);
  if (!found) throw new Error(key);
  return found;
};
const joined = (joint: Partial<Joint> & Pick<Joint, 'join' | 'to' | 'by'>, plan: Plan = samplePlan) =>
  findJoinery({ ...plan, joints: [{ origin, ...joint }] }, testHardware);

describe('contacts', () => {
  test('an apron meets the inner edges of its two legs, an apron’s end of wood each', () => {
    const found = contactsBetween(part('apron').copies.slice(0, 1), part('leg').copies);
    // apron.1 is 3/4 in thick and 3-1/2 in wide; its ends lie on leg.1 (x = 3-1/2 in) and leg.2 (x = 36-1/2 in)
    expect(found.map((contact) => contact.second)).toEqual(['leg.1', 'leg.2']);
    for (const contact of found) expect(contact.area).toBeCloseTo(0.75 * 3.5 * 25.4 ** 2, 6);
    expect(found[0]?.normal).toEqual([-1, 0, 0]);
    expect(found[0]?.bounds.min[0]).toBeCloseTo(3.5 * 25.4, 9);
    expect(found[1]?.normal).toEqual([1, 0, 0]);
  });

  test('boards that meet at an edge only do not touch', () => {
    const a = boxPart('a', stock1x4, 'across', 'top', [
      [
        [0, 0, 0],
        [10, 3.5, 0.75],
      ],
    ]);
    const b = boxPart('b', stock1x4, 'across', 'top', [
      [
        [0, 3.5, 0.75],
        [10, 7, 1.5],
      ],
    ]);
    expect(contactOf(a.copies[0]!, b.copies[0]!)).toBeUndefined();
    expect(gapBetween(a.copies[0]!.bounds, b.copies[0]!.bounds)).toBe(0);
  });

  test('the gap between boards set off in two directions is the straight distance (3, 4, 5)', () => {
    const a = boxPart('a', stock1x4, 'across', 'top', [
      [
        [0, 0, 0],
        [10, 3.5, 0.75],
      ],
    ]);
    const b = boxPart('b', stock1x4, 'across', 'top', [
      [
        [13, 7.5, 0],
        [20, 11, 0.75],
      ],
    ]);
    expect(gapBetween(a.copies[0]!.bounds, b.copies[0]!.bounds)).toBeCloseTo(5 * 25.4, 9);
  });
});

describe('joints', () => {
  test('two pocket screws at each of four apron ends make eight', () => {
    const joinery = joined({ join: 'apron', to: 'leg', by: 'pocket screws', count: 2, from: 'back' });
    expect(joinery.diagnostics).toEqual([]);
    expect(joinery.places).toHaveLength(4);
    expect(joinery.fasteners).toEqual([{ item: pocketScrew, kind: 'pocket screws', count: 8 }]);
  });

  test('a screw through a top board passes its thickness; the joint falls in the step of the board', () => {
    // boards 1 and 3 lie over two legs each, board 1 over y 0 to 5-1/2, board 3 over y 11 to 14-1/2
    const joinery = joined({ join: 'top-board', to: 'leg', by: 'screws', count: 1 });
    expect(joinery.places.map((place) => `${place.contact.first} ${place.contact.second}`)).toEqual([
      'top-board.1 leg.1',
      'top-board.1 leg.2',
      'top-board.3 leg.3',
      'top-board.3 leg.4',
    ]);
    expect(joinery.places.every((place) => place.fastener === woodScrew)).toBe(true);
    expect([...joinery.bySteps.keys()]).toEqual([2]);
  });

  test('glue needs no fastener', () => {
    const joinery = joined({ join: 'top-board', to: 'apron', by: 'glue' });
    expect(joinery.fasteners).toEqual([]);
    expect(joinery.places.length).toBeGreaterThan(0);
  });

  test('joined parts with a gap are an error that names the gap', () => {
    const away = boxPart('rail', stock2x4, 'across', 'front', [
      [
        [4, 0, 0],
        [36, 1.5, 3.5],
      ],
    ]);
    const joinery = joined(
      { join: 'rail', to: 'leg', by: 'screws' },
      { ...samplePlan, parts: [...samplePlan.parts, away] },
    );
    expect(joinery.diagnostics).toMatchObject([
      { id: 'joint.apart', origin, message: expect.stringContaining('a gap of 1/2″') },
    ]);
  });

  test('wood that no screw of the shop fits is an error that names what there is', () => {
    // from the leg up into the board a screw would pass 17-1/4 in of leg
    const joinery = joined({ join: 'leg', to: 'top-board', by: 'screws' });
    expect(joinery.diagnostics).toMatchObject([
      {
        id: 'joint.fastener',
        message: expect.stringMatching(/fit 17 1\/4″ of wood, found screws for 11\/16″ to 1″/),
        hint: 'they would run lengthwise through "leg", which carries the heads: write join: top-board, to: leg, or by: pocket screws',
      },
    ]);
  });

  test('parts of an assembly are joined when it is built, its other joints when it is set', () => {
    const parts = samplePlan.parts.map((item) =>
      item.key === 'leg' || item.key === 'apron' ? { ...item, assembly: 'frame' } : item,
    );
    const step = samplePlan.steps[0]!;
    const plan: Plan = {
      ...samplePlan,
      parts,
      steps: [
        { ...step, index: 1, adds: ['leg', 'apron'], assembly: 'frame' },
        { ...step, index: 2, adds: [], sets: ['frame'] },
        { ...step, index: 3, adds: ['top-board'] },
      ],
      joints: [
        { origin, join: 'apron', to: 'leg', by: 'pocket screws' },
        { origin, join: 'top-board', to: 'apron', by: 'screws' },
      ],
    };
    expect([...findJoinery(plan, testHardware).bySteps.keys()]).toEqual([1, 3]);
  });
});
